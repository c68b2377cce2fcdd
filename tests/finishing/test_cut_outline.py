"""The cut outline against the net one: allowances, corners, hems; shapely is the outside reckoning."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from drafting.errors import GeometryError
from drafting.finishing import FinishPlan, finish
from drafting.finishing.allowance import HEM_FIRST, NetEdge, cut_lines
from drafting.finishing.corners import FARTHEST_CORNER
from drafting.finishing.finish import cut_outline
from drafting.finishing.parallels import Parallels
from drafting.garment import Face, Fate, Garment
from drafting.geometry import Path, Point, hook
from tests.finishing.flat import by_name, cut_polygon, edge, flap, folded, net_polygon, polygon
from tests.finishing.made import Shape, body, ring, tunic

WHOLE = FinishPlan(on_fold=False)
SHAPES = [
    Shape(),
    Shape(v=True, tilt=-15.0),
    Shape(hem_rise=60.0, drop=70.0),
    Shape(hem=215.0, chest=270.0, depth=160.0),
]


def fan(angle: float, size: float, first: NetEdge, last: NetEdge) -> list[NetEdge]:
    """A ring with an angle (radians) at the origin between two edges of that length, and an arc of chords opposite."""
    n = max(2, math.ceil(angle / (math.pi / 3)))
    rim = [Point(size * math.cos(angle * i / n), size * math.sin(angle * i / n)) for i in range(n + 1)]
    chords = [NetEdge(f"rim-{i}", "rim", Path.straight(rim[i], rim[i + 1]), order=9, allowance=5.0) for i in range(n)]
    return [first, last, *chords]


def corner_at(angle: float, a: float, b: float, orders: tuple[int, int], size: float = 400.0) -> list[NetEdge]:
    """A ring whose edges "a" and "b", with those allowances and orders of sewing, meet at the origin."""
    far = Point(size * math.cos(angle), size * math.sin(angle))
    origin = Point(0.0, 0.0)
    return fan(
        angle,
        size,
        NetEdge("a", "a", Path.straight(far, origin), order=orders[0], allowance=a),
        NetEdge("b", "b", Path.straight(origin, Point(size, 0.0)), order=orders[1], allowance=b),
    )


ALLOWANCES = st.sampled_from([0.0, 6.0, 9.525, 15.0, 30.0])
ORDERS = st.sampled_from([(0, 1), (1, 0), (1, 1), (HEM_FIRST, 3), (3, HEM_FIRST)])


@settings(max_examples=120, deadline=None, derandomize=True)
@given(st.floats(4.0, 330.0), ALLOWANCES, ALLOWANCES, ORDERS)
def test_any_corner_gives_a_simple_outline_outside_the_stitch_line(
    degrees: float, a: float, b: float, orders: tuple[int, int]
) -> None:
    """Closed, anticlockwise, simple, and nowhere inside the net outline, whatever the angle."""
    edges = corner_at(math.radians(degrees), a, b, orders)
    outline, _ = cut_outline(edges, Parallels())
    path = Path.join(*(e.path for e in outline))
    cut, net = polygon([path]), net_polygon(e.path for e in edges)
    assert path.closed
    assert path.area > 0.0
    assert cut.is_valid
    assert net.difference(cut).area < 1e-6


@settings(max_examples=120, deadline=None, derandomize=True)
@given(st.floats(3.0, 179.0), ALLOWANCES, ALLOWANCES, ORDERS)
def test_no_corner_makes_a_spike(degrees: float, a: float, b: float, orders: tuple[int, int]) -> None:
    """What stands out beyond the net corner keeps within the limit (its square end's corners just beyond)."""
    edges = corner_at(math.radians(degrees), a, b, orders)
    outline, _ = cut_outline(edges, Parallels())
    cut = polygon(e.path for e in outline)
    bisector = Point.polar(math.radians(degrees) / 2.0)
    out = [Point(x, y) for x, y in cut.exterior.coords if Point(x, y).dot(bisector) < 0.0 and math.hypot(x, y) < 200.0]
    most = FARTHEST_CORNER * max(a, b)
    assert all(p.length <= math.hypot(most, max(a, b)) + 0.01 for p in out)
    assert all(-p.dot(bisector) <= most + 0.01 for p in out)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(st.floats(32.0, 170.0), ALLOWANCES, ALLOWANCES, st.booleans())
def test_the_earlier_allowance_folds_back_flush(degrees: float, a: float, b: float, a_first: bool) -> None:
    """Folded over its own stitch line it lies within the piece's cut outline, to 0.1 mm."""
    edges = corner_at(math.radians(degrees), a, b, (0, 1) if a_first else (1, 0))
    outline, _ = cut_outline(edges, Parallels())
    cut = polygon(e.path for e in outline)
    early = edges[0 if a_first else 1].path
    near = shapely.Point(0.0, 0.0).buffer(150.0)
    over = folded(flap(cut, early.start, early.end), early.start, early.end).intersection(near)
    assert over.difference(cut.buffer(0.1)).area < 0.01


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.floats(62.0, 118.0), st.sampled_from([6.0, 9.525, 25.0]), st.booleans())
def test_the_folded_end_lies_on_the_later_cut_line(degrees: float, depth: float, first: bool) -> None:
    """At ordinary angles the earlier allowance is not merely inside: its end is that cut line."""
    edges = corner_at(
        math.radians(degrees), depth if first else 9.525, 9.525 if first else depth, (0, 1) if first else (1, 0)
    )
    _, corners = cut_outline(edges, Parallels())
    early, late = (edges[0], edges[1]) if first else (edges[1], edges[0])
    end = corners[0].before.point if first else corners[0].after.point
    u = (early.path.end - early.path.start).unit
    over = end - u.right * (2.0 * end.dot(u.right))
    side = (late.path.end - late.path.start).unit
    assert (over - late.path.start).dot(side.right) == pytest.approx(late.allowance, abs=1e-6)


@pytest.mark.parametrize(("order", "least", "most"), [(0, 8.0, 13.0), (HEM_FIRST, 20.0, 30.0)])
def test_a_seam_has_no_spur_beside_a_hollow_armhole(order: int, least: float, most: float) -> None:
    """At the underarm the side's allowance ends level with the armhole's; a hem's follows the edge all the way."""
    under, over = Point(0.0, 0.0), Point(-50.0, 120.0)
    hole = Path.cubic(under, Point(-12.0, 0.0), Point(-45.0, 30.0), over)
    ring = [Point(-50.0, 120.0), Point(-200.0, 120.0), Point(-200.0, -300.0), Point(0.0, -300.0)]
    rest = [NetEdge(f"rest-{i}", "rest", Path.straight(*ends), order=9) for i, ends in enumerate(pairwise(ring))]
    side = NetEdge("side", "side", Path.straight(ring[-1], under), order=order, allowance=15.0)
    outline, _ = cut_outline([side, NetEdge("hole", "hole", hole, order=3, allowance=10.0), *rest], Parallels())
    spur = max(y for e in outline for x, y in e.path.flatten(0.1).tolist() if x > 1.0)
    assert least < spur <= most


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("bound", [False, True])
def test_cut_lines_keep_their_allowance_from_the_stitch_line(shape: Shape, bound: bool) -> None:
    """Every point of a cut edge, off its corners, is as far from the piece's own line as the allowance says."""
    garment = tunic(shape, neck="bound" if bound else "band")
    for piece in finish(garment, WHOLE):
        net = garment.piece(piece.stands_for[0])
        for e in piece.outline:
            if not e.line or e.name != e.line:
                continue
            stitch = net.line(e.line).path
            for s in np.linspace(0.0, e.path.length, 21):
                at, distance = stitch.nearest(e.path.at(float(s)))
                if 1e-6 < at < stitch.length - 1e-6:
                    assert distance == pytest.approx(e.allowance, abs=0.03)


@pytest.mark.parametrize("shape", SHAPES)
def test_whole_pieces_are_simple_and_hold_their_net_outline(shape: Shape) -> None:
    """The cut outline is one simple ring round the net one, for every piece of a garment."""
    garment = tunic(shape)
    for piece in finish(garment, WHOLE):
        cut = cut_polygon(piece)
        net = net_polygon(line.path for line in garment.piece(piece.stands_for[0]).ring)
        assert piece.cut_path.closed
        assert piece.area > 0.0
        assert cut.is_valid
        assert net.difference(cut.buffer(1e-3)).area < 1e-3


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    st.builds(
        Shape,
        chest=st.floats(200.0, 300.0),
        hem=st.floats(190.0, 330.0),
        neck=st.floats(75.0, 110.0),
        depth=st.floats(80.0, 130.0),
        back_depth=st.floats(20.0, 40.0),
        shoulder=st.floats(165.0, 185.0),
        drop=st.floats(20.0, 45.0),
        v=st.booleans(),
        hem_rise=st.sampled_from([0.0, 20.0, 60.0]),
        tilt=st.sampled_from([0.0, -8.0, 5.0]),
    ),
    st.dictionaries(
        st.sampled_from(["side", "armhole", "shoulder", "end", "cuff"]), st.sampled_from([0.0, 6.0, 15.0, 20.0])
    ),
    st.sampled_from([0.0, 10.0, 25.0, 50.0]),
    st.booleans(),
)
def test_any_tunic_gets_simple_outlines(
    shape: Shape, allowances: dict[str, float], hem_depth: float, on_fold: bool
) -> None:
    """Whatever the shape, the allowances and the print, scissors can follow each outline, notches on it."""
    plan = FinishPlan(allowances, hem_depth=hem_depth, on_fold=on_fold, allowance=6.0)
    try:
        pieces = finish(tunic(shape), plan)
    except GeometryError:  # a neckline bent too tightly for its allowance
        reject()
    for piece in pieces:
        cut = cut_polygon(piece)
        assert cut.is_valid
        assert piece.area > 0.0
        assert all(piece.cut_path.nearest(notch.at)[1] < 0.1 for notch in piece.notches)


def test_equal_allowances_round_a_convex_piece_are_a_mitred_buffer() -> None:
    """Where all edges are of one seam the cut outline is shapely's buffer with mitred corners."""
    curve = hook(Point(300.0, 0.0), Point(0.6, 0.8), Point(0.0, 260.0), Point(-1.0, -0.1))
    sides = (
        Path.straight(Point(0.0, 0.0), Point(300.0, 0.0)),
        curve,
        Path.straight(Point(0.0, 260.0), Point(0.0, 0.0)),
    )
    edges = [NetEdge(f"e{i}", f"e{i}", path, order=1, allowance=10.0) for i, path in enumerate(sides)]
    outline, _ = cut_outline(edges, Parallels())
    cut, net = polygon(e.path for e in outline), net_polygon(sides)
    buffered = net.buffer(10.0, join_style="mitre", mitre_limit=5.0)
    assert cut.symmetric_difference(buffered).area / cut.length < 0.02


@pytest.mark.parametrize("shape", [shape for shape in SHAPES if not shape.hem_rise])
@pytest.mark.parametrize("hem_depth", [15.0, 25.0, 50.0])
def test_a_straight_hem_folds_up_flush_at_the_sides(shape: Shape, hem_depth: float) -> None:
    """The whole hem, folded about its line, lies inside the piece's own cut outline to 0.1 mm and fills it."""
    garment = Garment((body(shape, Face.FRONT),))
    front = by_name(finish(garment, FinishPlan(on_fold=False, hem_depth=hem_depth)))["front"]
    net = garment.piece("front")
    a, b = net.line("hem-right").path.start, net.line("hem-left").path.end
    cut = cut_polygon(front)
    hem = flap(cut, a, b)
    over = folded(hem, a, b)
    assert over.difference(cut.buffer(0.1)).area < 0.01
    strip = cut.difference(hem).intersection(shapely.box(-1000.0, 0.0, 1000.0, hem_depth))
    assert strip.difference(over.buffer(0.1)).area < 0.01


def test_a_curved_hem_ends_on_the_reflection_of_the_side() -> None:
    """The hem of a shirt tail, folded about its tangent at the side seam, ends on the side's cut line."""
    garment = Garment((body(Shape(hem_rise=60.0), Face.FRONT),))
    front = by_name(finish(garment, WHOLE))["front"]
    hem, side = garment.piece("front").line("hem-left").path, garment.piece("front").line("side-left").path
    along = hem.tangent(hem.length)
    end = edge(front, "hem-left").path.end - hem.end
    over = end - along.right * (2.0 * end.dot(along.right))
    out = (side.end - side.start).unit.right
    assert over.dot(out) == pytest.approx(WHOLE.allowance, abs=0.1)


def test_a_hem_too_curved_to_turn_is_made_narrower_and_says_so() -> None:
    """A round hem of 120 mm radius takes 6 mm, not 25 (common practice): the depth is cut, and the piece says so."""
    disc = [
        hook(
            Point.polar(a, 120.0),
            Point.polar(a).left,
            Point.polar(a + math.pi / 2, 120.0),
            Point.polar(a + math.pi / 2).left,
        )
        for a in (0.0, math.pi / 2, math.pi, 3 * math.pi / 2)
    ]
    piece = ring("frill", *((f"hem-{i}", path, Fate.HEMMED) for i, path in enumerate(disc)))
    (cut,) = finish(Garment((piece,)), FinishPlan(on_fold=False))
    assert {round(e.allowance, 1) for e in cut.outline} == {6.0}
    assert "curved hem: turn only 0.6 cm" in cut.labels


def test_bound_edges_have_no_allowance_and_the_shoulder_ends_flush_with_them() -> None:
    """At a bound neck the cut line is the stitch line, and the shoulder's allowance folds onto it."""
    garment = tunic(Shape(), neck="bound")
    front = by_name(finish(garment, WHOLE))["front"]
    neckline = garment.piece("front").line("neckline-left").path
    assert edge(front, "neckline-left").path.same_as(neckline, 1e-6)
    tip = edge(front, "shoulder-left").path.end
    assert neckline.start.distance(tip) < 2.0 * WHOLE.allowance


def test_a_mirrored_curve_gets_the_mirrored_parallel() -> None:
    """The parallel taken over from the other side is the one that would have been made."""
    curve = hook(Point(10.0, 0.0), Point(0.2, 1.0), Point(150.0, 80.0), Point(1.0, 0.1))
    other = curve.mirrored(0.0).reversed().moved(Point(3.0, 7.0))
    edges = [NetEdge("a", "a", curve, allowance=9.525), NetEdge("b", "b", other, allowance=9.525)]
    taken = cut_lines(edges, Parallels())[1]
    assert taken.same_as(other.offset(9.525), 0.02)
    assert taken.start.near(other.offset(9.525).start, 1e-9)


def test_the_plan_sets_allowances_by_seam_kind() -> None:
    """A kind that the plan names gets its own allowance; the others get the usual one."""
    front = by_name(finish(tunic(), FinishPlan({"side": 15.0}, on_fold=False)))["front"]
    assert edge(front, "side-left").allowance == 15.0
    assert edge(front, "armhole-left").allowance == 10.0


def test_a_curve_too_tight_for_its_allowance_is_refused_by_name() -> None:
    """A hollow of 5 mm radius can't have an allowance of 1 cm; the piece and the edge are named."""
    hollow = hook(Point(5.0, 100.0), Point(0.0, -1.0), Point(-5.0, 100.0), Point(0.0, 1.0))
    corners = [Point(-5.0, 100.0), Point(-60.0, 100.0), Point(-60.0, 0.0), Point(60.0, 0.0), Point(60.0, 100.0)]
    sides = [Path.straight(a, b) for a, b in zip(corners, [*corners[1:], Point(5.0, 100.0)], strict=True)]
    piece = ring("tab", ("hollow", hollow, Fate.SEWN), *((f"s{i}", side, Fate.SEWN) for i, side in enumerate(sides)))
    with pytest.raises(GeometryError, match="the hollow bends too tightly"):
        finish(Garment((piece,)), WHOLE)
