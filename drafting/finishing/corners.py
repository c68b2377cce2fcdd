"""Corners of the cut line: how the allowances of two edges meet.

The seam sewn earlier lies pressed flat when the later one is sewn across its end. So the earlier allowance is ended by
the reflection, in its own stitch line, of the later seam's cut line: folded back, its end lies exactly on
that cut line (common practice: "mirrored" or "flush" corner). A hem is ended so whatever meets it; of a seam, what
would stand out as a spur, where a hollow edge such as an armhole rises beside it, is trimmed off level.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from drafting.finishing.allowance import HEM_FIRST, NetEdge
from drafting.finishing.trim import PathHit, Trim, cut_between, direction_at, find_hits
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

FARTHEST_CORNER = TradeValue(2.0, "times", "from memory")
"""The larger allowance, that a cut corner reaches from its net corner at most."""

MOST_SPUR = TradeValue(3.0, "mm", "from memory")
"""By which the end of a seam's allowance may stand out beyond the cut line across it, drawn straight on."""

PLAIN_STEP = TradeValue(math.sin(math.radians(20.0)), "share", "from memory")
"""As the sine of the turn below which two unequal allowances meet in a plain step: 20 degrees."""

ROUNDS = 12
"""Newton steps allowed for two curved cut lines to be brought together."""


@dataclass(frozen=True, slots=True)
class CornerEdge:
    """One edge seen from a corner; ``away`` and ``out`` are unit vectors, away from the corner and outwards.

    ``fold`` is how far out its allowance is folded back onto itself (mm), as a button stand is; 0 where it isn't.
    """

    cut: Path
    away: Point
    out: Point
    allowance: float
    at_end: bool
    straight: bool
    fold: float = 0.0

    @property
    def foot(self) -> Point:
        """Where the cut line, before it is trimmed, ends at the corner."""
        return self.cut.end if self.at_end else self.cut.start


@dataclass(frozen=True, slots=True)
class Corner:
    """How two edges meet: where the one before ends and the one after begins, and what lies between.

    ``fold`` is where an edge turned along its stitch line folds on the neighbour's cut line, if there is one.
    """

    before: Trim
    after: Trim
    between: Path | None = None
    fold: Point | None = None


def find_corner(before: NetEdge, after: NetEdge, cut_before: Path, cut_after: Path) -> Corner:
    """Return the corner between two edges that follow each other, given their untrimmed cut lines."""
    forth, on = before.path.tangent(before.path.length), after.path.tangent(0.0)
    a = CornerEdge(cut_before, -forth, forth.right, before.allowance, True, before.path.is_straight, before.fold)
    b = CornerEdge(cut_after, on, on.right, after.allowance, False, after.path.is_straight, after.fold)
    at = after.path.start
    if before.axis != after.axis and (found := _cut_on_fold(b, a, at) if before.axis else _cut_on_fold(a, b, at)):
        return found
    if (a.fold > 0.0) is not (b.fold > 0.0) and abs(forth.cross(on)) < PLAIN_STEP:
        return _end_stand(a, b)
    if _is_as_late(before, after) or forth.cross(on) < PLAIN_STEP:
        return _mitre_corner(a, b, at)
    earlier_first = before.order < after.order
    early, late = (a, b) if earlier_first else (b, a)
    turned = (before if earlier_first else after).order == HEM_FIRST
    stand = _fold_corner(early, late, at) if early.fold else None
    return stand or _reflect_corner(early, late, at, turned=turned) or _mitre_corner(a, b, at)


def _is_as_late(before: NetEdge, after: NetEdge) -> bool:
    """Whether neither of two edges is sewn earlier than the other."""
    return before.order == after.order or before.axis or after.axis


def _cut_on_fold(edge: CornerEdge, fold: CornerEdge, at: Point) -> Corner | None:
    """The corner at the cloth's fold where a cut line, as that of a V, would run past it: cut off on the fold."""
    if (edge.foot - at).dot(fold.out) <= TOLERANCE.joint:
        return None
    found = _nearest_hit(find_hits(edge.cut, at, fold.away), edge.foot)
    if found is None:
        return None
    trims = Trim(found.point, found), Trim(found.point)
    return Corner(*(trims if edge.at_end else trims[::-1]))


# one seam earlier than the other


def _reflect_corner(early: CornerEdge, late: CornerEdge, at: Point, *, turned: bool) -> Corner | None:
    """The early allowance ended by the late cut line, reflected in the early stitch line; None if it can't be."""
    forth = -early.away
    fold = _reach_line(late, at, forth)
    inner = _reach_line(late, at - early.out * early.allowance, forth)
    inner = inner if inner is None or turned else _trim_spur(early, late, at, inner)
    if fold is None or inner is None or (fold.point - at).dot(forth) < -TOLERANCE.joint:
        return None
    end = _trim_early(early, _mirror_point(inner.point, at, forth), fold.point, at)
    if end is None:
        return None
    if _is_too_far(early, late, at, (end.point, fold.point)):
        if (
            early.away.dot(late.away) < -TOLERANCE.tangent
        ):  # so wide a corner lies flush, if short, when it is simply mitred
            return None
        points = [early.foot, end.point, fold.point, late.foot]
        return _corner_through(early, late, _blunt_corner(early, late, at, points))
    between = _facing(late, fold, inner, at, forth, end.point)
    first, second = (end, fold) if early.at_end else (fold, end)
    return Corner(first, second, between, fold.point)


def _fold_corner(early: CornerEdge, late: CornerEdge, at: Point) -> Corner | None:
    """The end of a button stand: as the other edge runs as far as its fold, and turned back there onto what it covers.

    Closed, the stand lies on the other edge's mirror image; folded back, it lies on itself and on the piece inside it.
    """
    forth = -early.away
    depths = (0.0, early.fold, early.allowance - 2.0 * early.fold)
    mid, out, past = (_reach_line(late, at - early.out * depth, forth) for depth in depths)
    if mid is None or out is None or past is None or (mid.point - at).dot(forth) < -TOLERANCE.joint:
        return None
    axis = at + early.out * early.fold
    stand = _late_line(late, mid, out).reflected(at, at + forth)
    back = stand.reflected(axis, axis + forth).reversed()
    parts = [stand, back]
    if depths[2] > TOLERANCE.joint:
        parts.append(_late_line(late, mid, past).reflected(axis, axis + forth))
    path = Path.join(*parts)
    end = _trim_early(early, path.end, mid.point, at)
    if end is None:
        return None
    first, second = (end, mid) if early.at_end else (mid, end)
    path = path.reversed() if early.at_end else path
    return Corner(first, second, path.with_ends(first.point, second.point), mid.point)


def _end_stand(a: CornerEdge, b: CornerEdge) -> Corner:
    """The end of a button stand where a seam runs on beyond it: it has the seam's allowance there."""
    stand, seam = (a, b) if a.fold else (b, a)
    end = stand.foot - stand.away * seam.allowance
    inner = _reach_line(seam, end, stand.out) if seam.allowance else None
    inner = inner or Trim(seam.foot)
    first, second = (Trim(end), inner) if stand is a else (inner, Trim(end))
    return Corner(first, second, Path.straight(first.point, second.point))


def _trim_spur(early: CornerEdge, late: CornerEdge, at: Point, inner: Trim) -> Trim:
    """The inner point, or, where the late cut line rises to it, the one on that line drawn straight on."""
    forth, start = -early.away, at - early.out * early.allowance
    slope = forth.cross(late.away)
    if abs(slope) <= TOLERANCE.tangent:
        return inner
    level = late.foot + late.away * (forth.cross(start - late.foot) / slope)
    return Trim(level) if (inner.point - level).dot(forth) > MOST_SPUR else inner


def _trim_early(early: CornerEdge, wanted: Point, fold: Point, at: Point) -> Trim | None:
    """Where the early cut line ends: straight on from its foot, or cut off on the line from the fold."""
    if (wanted - at).dot(early.away) <= TOLERANCE.same_point:
        return Trim(wanted)
    if wanted.near(fold, TOLERANCE.joint):
        return Trim(early.foot)
    found = _nearest_hit(find_hits(early.cut, wanted, fold - wanted), wanted)
    return Trim(found.point, found) if found else None


def _facing(late: CornerEdge, fold: Trim, inner: Trim, at: Point, forth: Point, end: Point) -> Path | None:
    """The reflection of the late cut line between fold and inner point, run along the outline."""
    if end.near(fold.point, TOLERANCE.joint):
        return None
    ends = (fold.point, end) if late.at_end else (end, fold.point)
    if late.straight or inner.hit is None:
        return Path.straight(*ends)
    path = _late_line(late, fold, inner).reflected(at, at + forth)
    return (path if late.at_end else path.reversed()).with_ends(*ends)


def _late_line(late: CornerEdge, fold: Trim, inner: Trim) -> Path:
    """The late cut line from the fold inwards, run away from the corner."""
    body = cut_between(late.cut, inner.hit, fold.hit) if late.at_end else cut_between(late.cut, fold.hit, inner.hit)
    if body is None:
        return Path.straight(fold.point, inner.point)
    path = Path.of(body[::-1, ::-1] if late.at_end else body)
    straight_on = not path.start.near(fold.point, TOLERANCE.joint)
    return Path.join(Path.straight(fold.point, path.start), path) if straight_on else path


def _reach_line(arm: CornerEdge, at: Point, along: Point) -> Trim | None:
    """Where an arm's cut line, drawn straight on beyond its foot, meets an endless straight line."""
    foot = arm.foot
    slope = along.cross(arm.away)
    if abs(slope) > TOLERANCE.tangent:
        beyond = along.cross(foot - at) / slope
        if beyond >= -TOLERANCE.same_point:
            return Trim(foot - arm.away * beyond)
    found = _nearest_hit(find_hits(arm.cut, at, along), foot)
    return Trim(found.point, found) if found else None


def _nearest_hit(found: Sequence[PathHit], to: Point) -> PathHit | None:
    return min(found, key=lambda hit: hit.point.distance(to), default=None)


def _mirror_point(point: Point, at: Point, along: Point) -> Point:
    """Return a point reflected in the line through ``at`` along a unit vector."""
    v = point - at
    return at + along * (2.0 * v.dot(along)) - v


# neither earlier


def _mitre_corner(a: CornerEdge, b: CornerEdge, at: Point) -> Corner:
    """Both cut lines drawn on until they meet; cut back if they cross; blunted if too far; a step if parallel."""
    forth = -a.away
    turn, onward = forth.cross(b.away), forth.dot(b.away) > 0.0
    if a.foot.near(b.foot, TOLERANCE.joint) or (onward and abs(turn) <= TOLERANCE.tangent):
        return _run_on(a, b)
    if turn < 0.0:
        return _cut_at_crossing(a, b) or _step(a, b)
    if onward and turn < PLAIN_STEP and a.allowance != b.allowance:
        return _step(a, b)
    gap = b.foot - a.foot
    far = 2.0 * _limit(a, b)
    on, off = (gap.cross(b.away) / turn, gap.cross(forth) / turn) if turn > TOLERANCE.tangent else (far, -far)
    if on < -TOLERANCE.same_point or off > TOLERANCE.same_point:
        return _cut_at_crossing(a, b) or _step(a, b)
    apex = a.foot + forth * on
    if not _is_too_far(a, b, at, (apex,)):
        return Corner(Trim(apex), Trim(apex))
    on, off = min(on, far), max(off, -far)
    points = [a.foot, a.foot + forth * on, b.foot + b.away * off, b.foot]
    return _corner_through(a, b, _blunt_corner(a, b, at, points))


def _run_on(a: CornerEdge, b: CornerEdge) -> Corner:
    """Two edges that run on smoothly: one point, or a step where the allowance changes."""
    if not a.foot.near(b.foot, TOLERANCE.offset):
        return _step(a, b)
    middle = a.foot.to(b.foot, 0.5)
    return Corner(Trim(middle), Trim(middle))


def _cut_at_crossing(a: CornerEdge, b: CornerEdge) -> Corner | None:
    """Two cut lines that cross, each cut off where they do (Newton's method, tangent by tangent)."""
    point, along = b.foot, b.away
    for _ in range(ROUNDS):
        on_a = _nearest_hit(find_hits(a.cut, point, along), point)
        on_b = _nearest_hit(find_hits(b.cut, on_a.point, direction_at(a.cut, on_a)), on_a.point) if on_a else None
        if on_a is None or on_b is None:
            return None
        if on_a.point.near(on_b.point, TOLERANCE.crossing):
            return Corner(Trim(on_b.point, on_a), Trim(on_b.point, on_b))
        point, along = on_b.point, direction_at(b.cut, on_b)
    return None


def _step(a: CornerEdge, b: CornerEdge) -> Corner:
    return Corner(Trim(a.foot), Trim(b.foot), Path.straight(a.foot, b.foot))


# kept within the limit


def _limit(a: CornerEdge, b: CornerEdge) -> float:
    return FARTHEST_CORNER * max(a.allowance, b.allowance)


def _is_too_far(a: CornerEdge, b: CornerEdge, at: Point, points: Sequence[Point]) -> bool:
    """Whether a point of a corner stands out farther than the limit (one that is cut off inwards never does)."""
    limit = _limit(a, b) + TOLERANCE.joint
    return any(p.distance(at) > limit and (p - at).dot(a.away + b.away) < 0.0 for p in points)


def _blunt_corner(a: CornerEdge, b: CornerEdge, at: Point, points: list[Point]) -> list[Point]:
    """Cut a corner's outline square off, across its middle, where it stands out farther than the limit."""
    return _clip_run(points, at, -(a.away + b.away).unit, _limit(a, b))


def _clip_run(points: list[Point], at: Point, along: Point, limit: float) -> list[Point]:
    """Return the part of a run of points that reaches no farther than ``limit`` along a direction."""
    reach = [(p - at).dot(along) - limit for p in points]
    kept = [points[0]]
    for p, q, u, v in zip(points, points[1:], reach, reach[1:], strict=False):
        if (u > 0.0) != (v > 0.0):
            kept.append(p.to(q, u / (u - v)))
        if v <= 0.0:
            kept.append(q)
    return kept


def _corner_through(first: CornerEdge, second: CornerEdge, points: list[Point]) -> Corner:
    """The corner whose outline is drawn through points, the feet of both arms among them."""
    if not first.at_end:
        points = points[::-1]
    inner = points[1:-1]
    if not inner:
        return Corner(Trim(points[0]), Trim(points[-1]), Path.straight(points[0], points[-1]))
    between = Path.polyline(inner) if len(inner) > 1 and not inner[0].near(inner[-1]) else None
    last = inner[-1] if between else inner[0]
    return Corner(Trim(inner[0]), Trim(last), between)
