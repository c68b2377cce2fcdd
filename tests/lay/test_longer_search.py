"""The longer search for a lay, by a general library: shorter, and as sound as the lay that it shortens."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from drafting.cloth import Flaw, Stripe
from drafting.lay import Lay, longer
from drafting.lay.longer import shorten_lays
from tests.lay.laying import lays, made


def test_a_longer_search_shortens_a_lay_and_keeps_what_holds_of_it() -> None:
    """Every part once, as it was or upside down where it may; on the cloth, apart from the others (by shapely)."""
    what = lays(made("sheath-dress"))
    found = shorten_lays(what, 2, "cm")
    assert sum(lay.length for lay in found) <= sum(lay.length for lay in what)
    for before, lay in zip(what, found, strict=True):
        if lay == before:
            continue  # on a busy machine nothing shorter is found in its second
        assert [each.part for each in lay.laid] == [each.part for each in before.laid]
        assert not (lay.one_way and any(each.turned for each in lay.laid))
        shapes = [shapely.Polygon(each.ring) for each in lay.laid]
        assert all(one.distance(two) >= 2.9 for i, one in enumerate(shapes) for two in shapes[:i])
        assert all(shape.bounds[0] >= 0.0 and shape.bounds[2] <= lay.width for shape in shapes)
        assert min(shape.bounds[1] for shape in shapes) == pytest.approx(0.0, abs=1e-9)
        assert max(shape.bounds[3] for shape in shapes) == pytest.approx(lay.length, abs=7.0)
        for each in lay.laid:
            assert shapely.Polygon(each.ring).area == pytest.approx(shapely.Polygon(each.part.ring).area)


def test_what_the_library_finds_shorter_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    """Told where each part lies, side by side and one above the other as it says; bought is what that takes."""
    (main,) = lays(made("basic-tee"))[:1]
    laid = tuple(replace(each, ring=each.ring + np.array([0.0, 100.0])) for each in main.laid)
    (spread,) = main.spreads
    lower = replace(main, spreads=(replace(spread, laid=laid, length=main.length + 100.0),))
    spots = [(each.turned, tuple((each.ring - each.part.ring)[0].tolist())) for each in main.laid]
    monkeypatch.setattr(longer, "_search", lambda *_: spots)
    (found,) = shorten_lays([lower], 1, "cm")
    assert found.length == pytest.approx(max(float(each.ring[:, 1].max()) for each in main.laid), abs=7.0)
    assert found.length < lower.length
    assert found.buy <= lower.buy


@pytest.mark.parametrize("why", ["striped", "folded", "flaws", "unwashed", "no library"])
def test_what_the_library_does_not_know_is_searched_by_our_own(why: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """It knows no stripe, no fold, no flaw, and no cloth that is laid larger than it is worn; and it may be missing."""
    monkeypatch.setattr(longer, "_search", lambda *_: pytest.fail("searched by the library"))
    searched: list[Lay] = []
    monkeypatch.setattr(longer, "push_lay", lambda lay, *_: searched.append(lay) or lay)
    if why == "no library":
        monkeypatch.setattr(longer, "LIBRARY", "no_such_library_here")
    (main,) = lays(made("basic-tee"), Stripe(40.0) if why == "striped" else None)[:1]
    kinds = {
        "folded": replace(main, spreads=(replace(main.spreads[0], folded=True),)),
        "flaws": replace(main, cloth=replace(main.cloth, flaws=(Flaw("hole", 10.0, 10.0, 10.0, 10.0),))),
        "unwashed": replace(main, cloth=replace(main.cloth, cut_unwashed=True)),
    }
    asked = kinds.get(why, main)
    assert shorten_lays([asked], 5, "cm") == (asked,)
    assert searched == [asked]


def test_the_seconds_are_kept_to_however_many_cloths_there_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """The longest lays are searched where there are more than seconds."""
    asked: list[tuple[float, int]] = []
    monkeypatch.setattr(longer, "_search", lambda lay, seconds, _: asked.append((lay.length, seconds)) or [])
    what = lays(made("sheath-dress"))
    shorten_lays(what, 1, "cm")
    assert asked == [(max(lay.length for lay in what), 1)]


def test_it_can_be_ended_at_any_moment() -> None:
    """At the first look: the lay is the one that was, or the best by then."""
    (main, *_) = lays(made("basic-tee"))
    (found,) = shorten_lays((main,), 30, "cm", lambda _: False)
    assert found.length <= main.length
