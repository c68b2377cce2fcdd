"""Parts of a lay pushed together by our own search: shorter, and as sound as the lay that it goes on from."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.cloth import Cloth, Flaw, Stripe
from drafting.lay import Lay
from drafting.lay.folded import plan_folded_lays
from drafting.lay.places import find_flaws
from drafting.lay.plan import QUICK, plan_lays
from drafting.lay.shorter import PushTime, push_lay
from drafting.lay.spread import ClothSpread, Layers
from tests.lay.laying import made

FLAWS = (Flaw("hole", 700.0, 300.0, 40.0, 60.0), Flaw("stain", 100.0, 20.0, 50.0, 50.0))
KNIT = made("diagonal-overlay-top").brief.cloth


def _lay(cloth: Cloth, design: str = "diagonal-overlay-top") -> Lay:
    """The main cloth's lay of a few layings."""
    what = made(design)
    return plan_lays(what.garment, what.cut, replace(what.brief, cloth=cloth), how=QUICK)[0]


def _push(lay: Lay, moves: int) -> Lay:
    """A lay of which so many parts are moved: its clock ticks at each."""
    ticks = itertools.count()
    return push_lay(lay, "cm", PushTime(moves, lambda _: True, lambda: float(next(ticks))))


def _everything(lay: Lay) -> tuple[object, ...]:
    return lay.length, lay.stripes, [(each.part.name, each.turned, each.ring.tobytes()) for each in lay.laid]


def _judge(spread: ClothSpread, one_way: bool) -> None:
    """Apart by the blade, on the cloth, off the flaws, each cut out as its pattern is (by shapely)."""
    shapes = [shapely.Polygon(each.ring) for each in spread.laid]
    assert all(one.distance(two) >= 2.9 for i, one in enumerate(shapes) for two in shapes[:i])
    for each, shape in zip(spread.laid, shapes, strict=True):
        left, low, right, high = shape.bounds
        assert min(left, low) >= -1e-9
        assert right <= spread.width + 1e-9
        assert high <= spread.length + 1e-6
        assert each.layers is not Layers.ON_FOLD or abs(left) < 1e-9
        assert not (one_way and each.turned)
        assert each.layers is Layers.ON_FOLD or shape.area == pytest.approx(shapely.Polygon(each.part.ring).area)
        for x, y, end, top in find_flaws(spread):
            assert not shape.intersects(shapely.box(x - spread.left, y, end - spread.left, top))


@settings(max_examples=5, deadline=None, derandomize=True)
@given(st.floats(20.0, 300.0), st.sampled_from(["across", "along", "check"]), st.booleans(), st.booleans())
def test_any_lay_pushed_together_keeps_its_laws(repeat: float, direction: str, flawed: bool, shades: bool) -> None:
    """No longer, every part once, on its place of the stripes; where it is shorter, less is bought or as much."""
    cloth = replace(KNIT, stripe=Stripe(repeat, direction), flaws=FLAWS if flawed else (), shades=shades)
    before = _lay(cloth)
    lay = _push(before, 60)
    assert lay.length <= before.length
    assert (lay.buy, lay.needs) <= (before.buy, before.needs)
    assert lay.buy + lay.spared == pytest.approx(before.buy)
    assert [each.part for each in lay.laid] == [each.part for each in before.laid]
    _judge(lay.spreads[0], lay.one_way)
    for tied in lay.stripes:
        for each in (each for each in lay.laid if each.part.tied):
            at = (each.ring - each.part.ring * (-1.0 if each.turned else 1.0))[0, int(tied.is_across)]
            off = (at - tied.shifts[each.part.key] - tied.first) % tied.stripe.repeat
            assert min(off, tied.stripe.repeat - off) < 1e-6


def test_it_finds_a_shorter_lay_free_striped_flawed_and_folded() -> None:
    """Of a few layings: 2 % at least after 160 moves; folded, the rest that is opened out moves up."""
    for cloth in (KNIT, replace(KNIT, stripe=Stripe(50.0)), replace(KNIT, flaws=FLAWS)):
        before = _lay(cloth)
        assert _push(before, 160).length < 0.98 * before.length
    what = made("diagonal-overlay-top")
    for cloth in (KNIT, replace(KNIT, flaws=FLAWS, cut_unwashed=True)):
        folded = plan_folded_lays(what.garment, what.cut, replace(what.brief, cloth=cloth))[0]
        lay = _push(folded, 120)
        assert lay.length <= folded.length
        assert len(lay.spreads) == 2
        assert lay.spreads[1].begins >= lay.spreads[0].length + 2.9
        assert sorted(each.part.key for each in lay.laid) == sorted(each.part.key for each in folded.laid)
        for spread in lay.spreads:
            _judge(spread, lay.one_way)


def test_as_many_moves_give_the_same_lay_and_none_the_one_before() -> None:
    """It is the same on every machine, and ended at any moment it gives the best by then."""
    before = _lay(replace(KNIT, stripe=Stripe(60.0)))
    one, two = (_push(before, 240) for _ in range(2))
    assert _everything(one) == _everything(two)
    assert one.length < before.length
    assert push_lay(before, "cm", PushTime(1000.0, lambda _: False, iter([0.0, *[30.0] * 9]).__next__)) == before
