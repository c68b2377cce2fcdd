"""Stripes that meet at the seams: on the stitching line, from the hem up, and from the sleeve to the front armhole.

What must meet is told by handbooks of garment making: side seams, centre seams, and the sleeve at the front armhole;
matched at the seam line, not the cutting line; an eased cap can't be matched all the way.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.cloth import Stripe
from drafting.garment import Role
from drafting.geometry import Point
from drafting.lay import Lay, place_stripes
from drafting.lay.search import SearchDepth
from drafting.lay.words import describe_spreads
from tests.lay.laying import Made, lays, made, moved


def _apart(one: float, two: float, repeat: float) -> float:
    return abs((one - two + repeat / 2.0) % repeat - repeat / 2.0)


def _on_cloth(lay: Lay, name: str, at: Point) -> tuple[float, float]:
    (each,) = (each for each in lay.laid if each.part.name == name)
    dx, dy = moved(each)
    return at.x + dx, at.y + dy


def _hem_corner(what: Made, name: str, side: str) -> Point:
    """The lower end of a side edge of a net piece."""
    lines = what.garment.piece(name).lines(role=Role.SIDE)
    ends = [p for line in lines if line.side == side for p in (line.path.start, line.path.end)]
    return min(ends, key=lambda p: p.y)


@pytest.mark.parametrize("repeat", [4.5, 20.0, 37.0, 400.0])
@pytest.mark.parametrize("design", ["basic-tee", "diagonal-overlay-top", "half-circle-dress"])
def test_a_stripe_across_meets_at_both_side_seams(design: str, repeat: float) -> None:
    """The hem ends of front and back lie at one place of the stripe, to a thousandth of a millimetre."""
    what = made(design)
    lay = lays(what, Stripe(repeat))[0]
    for side in ("left", "right"):
        if design == "half-circle-dress":
            continue
        at = [_on_cloth(lay, name, _hem_corner(what, name, side))[1] for name in ("front", "back")]
        assert _apart(*at, repeat) < 1e-3
    assert not any(each.turned for each in lay.laid)
    sides = [match for match in lay.stripes[0].matches if match.seam.startswith("side")]
    assert sides
    assert all(match.off < 1e-6 for match in sides)


@settings(max_examples=15, deadline=None, derandomize=True)
@given(st.floats(4.0, 600.0), st.sampled_from(["soprano", "alto", "tenor", "bass"]))
def test_the_sleeve_meets_the_front_armhole(repeat: float, voice: str) -> None:
    """At the single notch, on the stitching line, by the notches as they are printed on the cut pieces."""
    what = made("basic-tee", voice)
    lay = lays(what, Stripe(repeat))[0]
    sleeve, front = (next(piece for piece in what.cut if name in piece.stands_for) for name in ("sleeve-left", "front"))
    notches = [
        [n.on_stitch for n in piece.notches if n.seam == "armhole-left" and n.count == 1] for piece in (sleeve, front)
    ]
    heights = [
        [_on_cloth(lay, name, at)[1] for at in found]
        for name, found in zip(("sleeve-left", "front"), notches, strict=True)
    ]
    assert all(heights)
    assert min(_apart(s, f, repeat) for s in heights[0] for f in heights[1]) < 1e-3
    (match,) = (m for m in lay.stripes[0].matches if m.seam == "armhole-left" and m.at == "front notch")
    assert match.off < 1e-6
    assert match.near is not None
    assert 5.0 < min(match.near) < max(match.near) < 100.0
    back = [m for m in lay.stripes[0].matches if m.seam == "armhole-left" and m.at == "back notch"]
    assert all(m.off <= repeat / 2.0 + 1e-9 for m in back)


def test_the_overlay_meets_what_it_lies_on() -> None:
    """The layers of the seam in the round that are seen meet all along; so does what they hide."""
    lay = lays(made("diagonal-overlay-top"), Stripe(30.0))[0]
    round_ = [match for match in lay.stripes[0].matches if match.seam == "diagonal"]
    assert ["Front shoulder piece and Front overlay" in str(match.title) for match in round_].count(True) == 1
    assert len(round_) == 2
    assert max(match.most for match in round_) < 0.5
    assert _apart(lay.stripes[0].shifts["/front"], lay.stripes[0].shifts["/overlay-front"], 30.0) < 0.5


@pytest.mark.parametrize("design", ["basic-tee", "princess-top", "diagonal-overlay-top"])
def test_a_stripe_along_runs_down_every_centre(design: str) -> None:
    """The wearer's centre of front and back lies on the same line of the stripe, left and right alike."""
    repeat = 25.0
    what = made(design)
    lay = lays(what, Stripe(repeat, "along"))[0]
    centres = [moved(each)[0] for each in lay.laid if each.part.upright and what.garment.piece(each.part.name).face]
    assert len(centres) >= 2
    assert all(_apart(x, 0.0, repeat) < 1e-3 for x in centres)
    sleeves = [each for each in lay.laid if each.part.name.startswith("sleeve")]
    for each in sleeves:
        caps = what.garment.piece(each.part.name).lines(role=Role.CAP)
        top = max((p for line in caps for p in (line.path.start, line.path.end)), key=lambda p: p.y)
        assert _apart(top.x + moved(each)[0], 0.0, repeat) < 1e-3


def test_matching_costs_cloth_but_no_more_than_a_repeat_a_row() -> None:
    """Stripes take more cloth, as every envelope warns; a stripe too fine to be matched takes none."""
    what = made("basic-tee")
    plain, wide, fine = (lays(what, stripe)[0] for stripe in (None, Stripe(180.0), Stripe(2.0)))
    assert plain.length < wide.length <= plain.length + 4 * 180.0
    assert fine.length == plain.length
    assert fine.stripes == ()
    assert fine.one_way


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    st.sampled_from(["basic-tee", "diagonal-overlay-top", "princess-top"]),
    st.floats(500.0, 1800.0),
    st.floats(4.0, 700.0),
    st.sampled_from(["across", "along", "check"]),
)
def test_any_width_and_stripe_are_laid_or_told(design: str, width: float, repeat: float, direction: str) -> None:
    """Every part lies on the cloth, apart from the others and on its place of the stripe, or is told as too wide."""
    what = made(design)
    lay = lays(what, Stripe(repeat, direction), width, SearchDepth(tries=0))[0]
    main = [piece for piece in what.cut if piece.cloth == "main"]
    assert len(lay.laid) + len(lay.too_wide) == sum(piece.quantity for piece in main)
    shapes = [shapely.Polygon(each.ring) for each in lay.laid]
    assert all(shape.bounds[0] >= 0.0 and shape.bounds[2] <= lay.width for shape in shapes)
    assert all(one.distance(two) >= 2.9 for i, one in enumerate(shapes) for two in shapes[:i])
    assert len(lay.stripes) == (2 if direction == "check" else 1)
    for each, tied in ((each, tied) for each in lay.laid for tied in lay.stripes if each.part.upright):
        assert _apart(moved(each)[tied.is_across], tied.shifts[each.part.key] + tied.first, repeat) < 1e-6
    if direction != "across" and shapes:  # the whole plan can be slid on to the cloth's stripes
        assert max(shape.bounds[2] for shape in shapes) <= lay.width - repeat + 1e-6


def test_a_stripe_shrinks_with_the_cloth() -> None:
    """A tenth lost in length: the repeat that is matched is a tenth shorter, and that is told."""
    what = made("basic-tee")
    cloth = replace(what.brief.cloth, shrink_along=0.1)
    lay = lays(replace(what, brief=replace(what.brief, cloth=cloth)), Stripe(40.0))[0]
    assert lay.stripes[0].stripe.repeat == pytest.approx(36.0)
    assert "every 3.6 cm after the wash" in " ".join(describe_spreads(lay, "cm")[0].lines)


def test_a_check_is_matched_both_ways() -> None:
    """Across at the side seams, from the hem up; along down the centres: each by its own repeat, both are told."""
    what = made("basic-tee")
    lay = lays(what, Stripe(40.0, "check", repeat_along=60.0))[0]
    across, along = lay.stripes
    assert (across.stripe, along.stripe) == (Stripe(40.0), Stripe(60.0, "along"))
    for side in ("left", "right"):
        at = [_on_cloth(lay, name, _hem_corner(what, name, side))[1] for name in ("front", "back")]
        assert _apart(*at, 40.0) < 1e-3
    centres = [_on_cloth(lay, name, Point(0.0, 0.0))[0] for name in ("front", "back")]
    assert _apart(*centres, 60.0) < 1e-6
    words = " ".join(describe_spreads(lay, "cm")[0].lines)
    assert "Stripes across, every 4.0 cm" in words
    assert "Stripes along the cloth, every 6.0 cm" in words
    placed = place_stripes(what.garment, what.cut, replace(what.brief, cloth=lay.cloth))
    assert [stripe.direction for stripe, _ in placed["front"]] == ["across", "along"]
