"""Symmetry, discovered: a piece that mirrors onto itself, and pieces that are each other's image.

Nothing is believed of a name: lines, fates, allowances, notches, levels, zones, grain and the order of sewing must all
agree: within a piece to a thousandth of a millimetre (marks to a fiftieth), between two pieces to a fiftieth.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

import numpy as np

from drafting.finishing.allowance import ON_FOLD, NetEdge
from drafting.garment import Applied, Fate, Feature, Level, PathFeature, Piece, PointFeature, SeamKind, Slit, Zone
from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

T = TypeVar("T")

EXACT = TOLERANCE.arc_length
"""How nearly (mm) the image of a line must lie on its counterpart."""

MARKED = TOLERANCE.offset
"""How nearly (mm) the image of a mark must."""

ALIKE = TOLERANCE.offset
"""How nearly (mm) a line of one piece must lie on another's, for one print to serve both: what was solved for each
side by itself may differ in what no scissors follow. A piece mirrors onto itself to EXACT."""


@dataclass(frozen=True, slots=True)
class Axis:
    """A line in which a piece mirrors onto itself: a point on it and its direction, along the grain or across."""

    at: Point
    along: Point
    crosswise: bool = False


@dataclass(frozen=True, slots=True)
class RingImage:
    """A map of one piece onto another: ``partner[i]`` is the edge that edge i falls on."""

    affine: Affine
    partner: tuple[int, ...]


def image_of(
    piece: Piece, edges: Sequence[NetEdge], other: Piece, others: Sequence[NetEdge], flipped: bool
) -> RingImage | None:
    """Return how a piece falls exactly on another, turned over if ``flipped``; None if it doesn't.

    Pieces may lie anywhere and be turned; the grain must fall on the grain, with its direction.
    """
    found = _images(edges, others, flipped, ALIKE)
    return next((image for image in found if _features_agree(piece, edges, other, others, image, near=ALIKE)), None)


def axis_of(piece: Piece, edges: Sequence[NetEdge]) -> Axis | None:
    """Return a line in which a piece mirrors onto itself: along the grain, or else across it; None if there is none."""
    across = None
    for image in _images(edges, edges, True):
        axis = _axis(image.affine, edges, piece.grain)
        if axis is None or not _features_agree(piece, edges, piece, edges, image, either_grain=True):
            continue
        if not axis.crosswise:
            return axis
        across = axis
    return across


def _axis(affine: Affine, edges: Sequence[NetEdge], grain: Point) -> Axis | None:
    """The line that a reflection leaves in place; None for a glide, or where the line is askew to the grain."""
    p = edges[0].path.start
    q = affine.apply(p)
    angle = math.atan2(affine.yx, affine.xx) / 2.0
    along = Point(math.cos(angle), math.sin(angle))
    if abs((q - p).dot(along)) > EXACT:
        return None
    across = abs(grain.cross(along)) > abs(grain.dot(along))
    return Axis(p.to(q, 0.5), along, across) if min(abs(grain.cross(along)), abs(grain.dot(along))) < EXACT else None


# the outline


def _images(
    edges: Sequence[NetEdge], others: Sequence[NetEdge], flipped: bool, near: float = EXACT
) -> Iterator[RingImage]:
    """Every way that one ring falls on the other, edge for edge."""
    n = len(edges)
    if n != len(others):
        return
    keys, other_keys = [_key(edge) for edge in edges], [_key(edge) for edge in others]
    for k in range(n):
        partner = tuple((k - i) % n if flipped else (k + i) % n for i in range(n))
        if all(_near_key(keys[i], other_keys[partner[i]], near) for i in range(n)):
            affine = _carry(edges, others, partner, flipped, near)
            if affine and all(_falls_on(affine, edges[i], others[partner[i]], flipped, near) for i in range(n)):
                yield RingImage(affine, partner)


_Key = tuple[float, Fate, SeamKind | None, float, bool]


def _key(edge: NetEdge) -> _Key:
    return edge.path.length, edge.fate, edge.kind, edge.allowance, edge.axis


def _near_key(a: _Key, b: _Key, near: float) -> bool:
    as_long = abs(a[0] - b[0]) <= 2.0 * near and abs(a[3] - b[3]) <= EXACT
    return as_long and (a[1], a[2], a[4]) == (b[1], b[2], b[4])


def _carry(
    edges: Sequence[NetEdge], others: Sequence[NetEdge], partner: tuple[int, ...], flipped: bool, near: float
) -> Affine | None:
    """The one map, if any, that carries the first corner, and the corner farthest from it, where they belong."""
    starts = [edge.path.start for edge in edges]
    far = max(range(len(starts)), key=lambda i: starts[i].distance(starts[0]))
    p, q = starts[0], starts[far]
    u, v = (others[partner[i]].path.end if flipped else others[partner[i]].path.start for i in (0, far))
    before, after = q - p, v - u
    if before.length <= TOLERANCE.same_point or abs(before.length - after.length) > 2.0 * near:
        return None
    if flipped:
        angle = before.angle + after.angle
        c, s = math.cos(angle), math.sin(angle)
        return Affine(c, s, u.x - c * p.x - s * p.y, s, -c, u.y - s * p.x + c * p.y)
    angle = after.angle - before.angle
    c, s = math.cos(angle), math.sin(angle)
    return Affine(c, -s, u.x - c * p.x + s * p.y, s, c, u.y - s * p.x - c * p.y)


def _falls_on(affine: Affine, edge: NetEdge, other: NetEdge, flipped: bool, near: float) -> bool:
    image = affine.apply_all(edge.path.segments)
    wanted = other.path.segments
    if flipped:
        wanted = wanted[::-1, ::-1]
    if image.shape == wanted.shape and float(np.abs(image - wanted).max()) <= near:
        return True
    return Path.of(image).same_as(Path.of(wanted), near)


# what lies within


def _features_agree(
    piece: Piece,
    edges: Sequence[NetEdge],
    other: Piece,
    others: Sequence[NetEdge],
    image: RingImage,
    either_grain: bool = False,
    near: float = EXACT,
) -> bool:
    """Whether grain, marks, order of sewing, lines, points and zones fall on their counterparts."""
    affine = image.affine
    grain = affine.apply(piece.grain) - affine.apply(Point(0.0, 0.0))
    if not (grain.near(other.grain, EXACT) or (either_grain and (-grain).near(other.grain, EXACT))):
        return False
    paths, other_paths = _paths(piece), _paths(other)
    return (
        all(_ticks_agree(edge, others[j], affine.flips) for edge, j in zip(edges, image.partner, strict=True))
        and _orders_agree(edges, others, image.partner)
        and _fall_together(paths, other_paths, lambda a, b: a[0] == b[0] and _same_ends(affine, a[1], b[1]))
        and _fall_together(
            _points(piece), _points(other), lambda a, b: a[0] == b[0] and affine.apply(a[1]).near(b[1], MARKED)
        )
        and _fall_together(
            _zones(piece, edges), _zones(other, others), lambda a, b: _zone_agrees(a, b, image.partner, affine.flips)
        )
    )


def _fall_together(a: Sequence[T], b: Sequence[T], same: Callable[[T, T], bool]) -> bool:
    """Whether each thing of one list has its counterpart in the other."""
    return len(a) == len(b) and all(any(same(x, y) for y in b) for x in a)


def _paths(piece: Piece) -> list[tuple[type[Feature], Path]]:
    slits: list[tuple[type[Feature], Path]] = [(Slit, line.path) for slit in piece.slits for line in slit]
    applied: list[tuple[type[Feature], Path]] = [(Applied, each.path) for each in piece.of_kind(Applied)]
    others = [(type(each), each.path) for each in piece.of_kind(PathFeature) if not isinstance(each, Level)]
    return slits + applied + others + [(Level, path) for path in _whole_levels(piece.levels)]


def _whole_levels(levels: Sequence[Level]) -> list[Path]:
    """The levels as straight lines between their ends, those joined that run on from each other.

    A level that a cut parted may be one again on one side and two on the other.
    """
    ends: list[tuple[str, Point, Point]] = []
    for level in levels:
        name, start, end = level.name, level.path.start, level.path.end
        for other in [each for each in ends if each[0] == name]:
            if other[2].near(start, MARKED) or other[1].near(end, MARKED):
                ends.remove(other)
                start, end = (other[1], end) if other[2].near(start, MARKED) else (start, other[2])
        ends.append((name, start, end))
    return [Path.straight(start, end) for _, start, end in ends]


def _points(piece: Piece) -> list[tuple[type[Feature], Point]]:
    return [(type(feature), feature.at) for feature in piece.of_kind(PointFeature)]


def _same_ends(affine: Affine, a: Path, b: Path) -> bool:
    p, q = affine.apply(a.start), affine.apply(a.end)
    there = p.near(b.start, MARKED) and q.near(b.end, MARKED)
    back = p.near(b.end, MARKED) and q.near(b.start, MARKED)
    return (there or back) and abs(a.length - b.length) <= MARKED


def _ticks_agree(a: NetEdge, b: NetEdge, flipped: bool) -> bool:
    if len(a.ticks) != len(b.ticks):
        return False
    length = b.path.length
    wanted = sorted((length - tick.s if flipped else tick.s, tick.count) for tick in a.ticks)
    found = sorted((tick.s, tick.count) for tick in b.ticks)
    return all(abs(s - t) <= MARKED and m == n for (s, m), (t, n) in zip(wanted, found, strict=True))


def _orders_agree(edges: Sequence[NetEdge], others: Sequence[NetEdge], partner: tuple[int, ...]) -> bool:
    """Whether, at each corner, the earlier of two edges falls on the earlier."""
    for i, edge in enumerate(edges):
        here = edge.order - edges[i - 1].order
        there = others[partner[i]].order - others[partner[i - 1]].order
        if _sign(here) != _sign(there):
            return False
    return True


def _sign(number: int) -> int:
    return (number > 0) - (number < 0)


def _zones(piece: Piece, edges: Sequence[NetEdge]) -> list[tuple[int, Zone]]:
    place = {edge.line: i for i, edge in enumerate(edges)}
    return [(place[zone.line], zone) for zone in piece.zones if zone.line in place]


def _zone_agrees(a: tuple[int, Zone], b: tuple[int, Zone], partner: tuple[int, ...], flipped: bool) -> bool:
    start, end = (1.0 - a[1].end, 1.0 - a[1].start) if flipped else (a[1].start, a[1].end)
    ends = max(abs(start - b[1].start), abs(end - b[1].end), abs(a[1].width - b[1].width))
    return partner[a[0]] == b[0] and ends <= EXACT


# halves


def halve_ring(edges: Sequence[NetEdge], axis: Axis) -> tuple[NetEdge, ...]:
    """Return the half of a ring on the right of its axis drawn upwards, closed by an edge along the axis.

    The ring must mirror onto itself in the axis.
    """
    up = axis.along if (axis.along.y, axis.along.x) > (0.0, 0.0) else -axis.along
    kept = [part for edge in edges for part in _keep_right_part(edge, axis.at, up)]
    first = next(i for i in range(len(kept)) if not kept[i].path.start.near(kept[i - 1].path.end, TOLERANCE.joint))
    ring = kept[first:] + kept[:first]
    closing = Path.straight(ring[-1].path.end, ring[0].path.start)
    return (*ring, NetEdge(ON_FOLD, "", closing, Fate.RAW, axis=True))


def _keep_right_part(edge: NetEdge, at: Point, up: Point) -> list[NetEdge]:
    """What of an edge lies on the right of the axis: all, nothing, or one half."""
    start, end = ((p - at).cross(up) for p in (edge.path.start, edge.path.end))
    if start * end < 0.0 and min(abs(start), abs(end)) > MARKED:
        middle = edge.path.length / 2.0
        return [edge.part(middle, edge.path.length)] if end > 0.0 else [edge.part(0.0, middle)]
    return [edge] if max(start, end) > MARKED else []


def is_on_side(point: Point, axis: Axis) -> bool:
    """Tell whether a point lies on the half that is kept, or on the axis."""
    up = axis.along if (axis.along.y, axis.along.x) > (0.0, 0.0) else -axis.along
    return (point - axis.at).cross(up) >= -MARKED
