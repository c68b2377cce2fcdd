"""Cloth that lies on the table already: how much there is of it, its flaws, whether it shades, its colour."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely

from drafting.cloth import Cloth, Flaw, Stripe
from drafting.errors import InputError
from drafting.lay import Lay, plan_lays
from drafting.lay.words import describe_spreads
from tests.laws.jobs import job_from
from tests.lay.laying import made

HOLE = Flaw("hole", 500.0, 300.0, 20.0, 20.0)
CORNER = Flaw("cut away", 0.0, 0.0, 600.0, 200.0)
JERSEY = made("basic-tee").brief.cloth


def _lay(cloth: Cloth) -> Lay:
    what = made("basic-tee")
    return plan_lays(what.garment, what.cut, replace(what.brief, cloth=cloth))[0]


@pytest.mark.parametrize("stripe", [None, Stripe(40.0), Stripe(40.0, "along")])
def test_nothing_lies_on_a_flaw_wherever_the_stripe_begins(stripe: Stripe | None) -> None:
    """Judged by shapely: where the cloth is begun up to a repeat later for its stripe, a flaw lies so much lower."""
    lay = _lay(replace(JERSEY, flaws=(HOLE, CORNER), stripe=stripe))
    repeat = stripe.repeat if stripe else 0.0
    down, left = (repeat, 0.0) if stripe and stripe.direction == "across" else (0.0, repeat)
    for flaw in lay.cloth.flaws:
        x, y = flaw.left - lay.spreads[0].edge, flaw.end
        for step in (0.0, 0.5, 1.0):
            low = (x - step * left, y - step * down)
            moved = shapely.box(*low, low[0] + flaw.width, low[1] + flaw.length)
            assert all(not shapely.Polygon(each.ring).intersects(moved) for each in lay.laid)
    assert not lay.too_wide
    assert lay.length >= _lay(replace(JERSEY, stripe=stripe)).length


def test_a_flaw_beyond_the_lay_changes_nothing() -> None:
    """What lies where nothing is cut costs no cloth."""
    far = replace(JERSEY, flaws=(Flaw("stain", 300.0, 5000.0, 50.0, 50.0),))
    assert _lay(far).length == _lay(JERSEY).length


def test_what_lies_beyond_all_pieces_is_told_so() -> None:
    """A flaw that the plan can't show isn't said to be crossed out."""
    far = _lay(replace(JERSEY, flaws=(HOLE, Flaw("stain", 300.0, 5000.0, 50.0, 50.0))))
    words = " ".join(describe_spreads(far, "cm")[0].lines)
    assert "flaws (hole), crossed out" in words
    assert "Farther from the cut end than any piece: stain" in words


def test_what_there_is_of_a_cloth_is_told_to_be_enough_or_too_little() -> None:
    """To the millimetre of the length that a plan takes, squared ends and the wash among it."""
    lay = _lay(JERSEY)
    assert lay.length < lay.needs <= lay.buy
    enough, short = (_lay(replace(JERSEY, length=lay.needs + more)) for more in (0.0, -20.0))
    assert "that is enough" in " ".join(describe_spreads(enough, "cm")[0].lines)
    assert (enough.short, short.short) == (0.0, pytest.approx(20.0))
    assert "2.0 cm too little" in " ".join(describe_spreads(short, "cm")[0].lines)
    striped = _lay(replace(JERSEY, stripe=Stripe(40.0), length=lay.needs - 300.0))
    assert "a longer search (--time)" in " ".join(describe_spreads(striped, "cm")[0].lines)


def test_a_knit_that_does_not_shade_may_lie_upside_down_unless_it_is_striped() -> None:
    """The maker's word on shading counts; a nap or a stripe keeps all one way."""
    turning = _lay(replace(JERSEY, shades=False))
    assert not turning.one_way
    assert turning.length <= _lay(JERSEY).length
    for cloth in (replace(JERSEY, shades=False, nap=True), replace(JERSEY, shades=False, stripe=Stripe(40.0))):
        assert cloth.one_way
    assert "this cloth may look lighter" in " ".join(
        describe_spreads(_lay(replace(JERSEY, shades=True)), "cm")[0].lines
    )


TICKET = """
builds_on = "basic-tee"
[wearer]
averages = "women"
[wearer.body]
stature = 168
bust_girth = 96
waist_girth = 80
hip_girth = 104
back_neck_point_to_waist = 42
[cloth]
stretch_across = "40 %"
"""


def test_a_ticket_tells_flaws_length_shading_and_colour() -> None:
    """As a table for each flaw; a size that isn't told is 2 cm."""
    said = 'length = "1.4 m"\nshades = false\ncolour = "navy"\n[cloth.flaws.hole]\nleft = 40\nend = 30\n'
    asked = job_from(TICKET + said)
    cloth = asked.brief.cloth
    assert (cloth.length, cloth.shades, cloth.colour) == (1400.0, False, "navy")
    assert cloth.flaws == (Flaw("hole", 400.0, 300.0, 20.0, 20.0),)


@pytest.mark.parametrize(("said", "where"), [
    ('flaws = "hole"', "cloth.flaws"),
    ("[cloth.flaws]\nhole = 3", "cloth.flaws.hole"),
    ("[cloth.flaws.hole]\nleft = 3", "cloth.flaws.hole.end"),
    ("[cloth.flaws.hole]\nleft = 3\nend = 3\ndepth = 2", "cloth.flaws.hole.depth"),
    ("[cloth.flaws.hole]\nleft = 160\nend = 3", "cloth.flaws.hole.left"),
    ("length = 200\n[cloth.flaws.hole]\nleft = 16\nend = 300", "cloth.flaws.hole.end"),
    ('[cloth.flaws.""]\nleft = 3\nend = 3', "cloth.flaws"),
    ("[cloth.stripe]\nrepeat = 3\nrepeat_along = 4", "cloth.stripe.repeat_along"),
    ('colour = "navi"', "cloth.colour"),
])  # fmt: skip
def test_what_a_flaw_or_a_colour_cannot_be_is_refused_where_it_stands(said: str, where: str) -> None:
    """A slip names its key."""
    with pytest.raises(InputError) as refused:
        job_from(TICKET + said + "\n")
    assert any(problem.where.endswith(where) for problem in refused.value.problems)
