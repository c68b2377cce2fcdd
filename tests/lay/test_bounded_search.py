"""The search for a lay is bounded by work that is counted, can be ended at any moment, and never ends without a lay."""

from __future__ import annotations

from dataclasses import replace

import pytest

import drafting.lay.search as search
from drafting.cloth import Stripe
from drafting.lay import Lay, plan_lays
from drafting.lay.pack import Effort
from drafting.lay.words import describe_spreads
from tests.lay.laying import lays, made


@pytest.fixture
def efforts(monkeypatch: pytest.MonkeyPatch) -> list[Effort]:
    """The effort that each search in this test takes."""
    found: list[Effort] = []

    class Counted(Effort):
        def may_go_on(self) -> bool:
            found.extend([] if self in found else [self])
            return super().may_go_on()

    monkeypatch.setattr(search, "Effort", Counted)
    return found


def everything(lay: Lay) -> tuple[object, ...]:
    """What a lay is, to compare."""
    firsts = [each.first for each in lay.stripes]
    return lay.length, firsts, tuple((each.part.name, each.turned, each.ring.tobytes()) for each in lay.laid)


def test_the_work_does_not_grow_with_the_stripe(efforts: list[Effort]) -> None:
    """From 10 cm to 2 m: it was 3, then 20 times as much."""
    taken = []
    for repeat in (100.0, 300.0, 640.0, 2000.0):
        efforts.clear()
        assert not lays(made("knit-top"), Stripe(repeat))[0].too_wide
        taken.append(efforts[0].used)
    assert max(taken) < 1.5 * taken[0]


def test_what_is_sought_for_a_catalogue_design_is_not_cut_short(efforts: list[Effort]) -> None:
    """The widest of designs with most parts, on a narrow cloth with a stripe, keeps within the bound."""
    lays(made("diagonal-overlay-dress"), Stripe(300.0), 900.0)
    assert max(each.used for each in efforts) < search.EFFORT


def test_a_bound_ends_the_search_with_a_whole_lay(efforts: list[Effort], monkeypatch: pytest.MonkeyPatch) -> None:
    """One laying for each place of the stripe, whatever it costs, and the same one each time."""
    whole = lays(made("knit-top"), Stripe(100.0))[0]
    full = efforts[0].used
    efforts.clear()
    monkeypatch.setattr(search, "EFFORT", 1)
    short = [lays(made("knit-top"), Stripe(100.0))[0] for _ in range(2)]
    assert efforts[0].used < full / 5
    assert everything(short[0]) == everything(short[1])
    assert len(short[0].laid) == len(whole.laid)
    assert short[0].length >= whole.length
    assert not short[0].stopped


def test_a_search_that_is_ended_gives_the_best_so_far_and_says_so() -> None:
    """Ended after twenty layings, told of each how far it is."""
    what, shares = made("knit-top"), list[float]()

    def told(share: float) -> bool:
        shares.append(share)
        return len(shares) < 20

    cloth = replace(what.brief.cloth, stripe=Stripe(100.0))
    brief = replace(what.brief, cloth=cloth)
    main = plan_lays(what.garment, what.cut, brief, told=told)[0]
    assert main.stopped
    assert len(main.laid) == len(lays(what)[0].laid)
    assert "The search was stopped" in " ".join(describe_spreads(main, "cm")[0].lines)
    assert shares[:20] == sorted(shares[:20])
    assert not lays(what)[0].stopped


@pytest.mark.parametrize("repeat", [90.0, 640.0, 2000.0])
def test_a_part_tied_to_a_wide_stripe_lies_on_it(repeat: float) -> None:
    """The fronts and backs of the tee: their hems lie a whole number of repeats from the first stripe."""
    lay = lays(made("basic-tee"), Stripe(repeat))[0]
    heights = {
        each.part.name: float((each.ring - each.part.ring)[0, 1]) + lay.stripes[0].shifts[each.part.key]
        for each in lay.laid
        if each.part.name in ("front", "back")
    }
    assert heights
    for at in heights.values():
        off = (lay.stripes[0].first - at) % repeat
        assert min(off, repeat - off) < 0.01
