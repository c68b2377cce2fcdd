"""Truing: one fair curve drawn over the parts of an edge that were moved, as a cutter draws it with a curved rule.

Lines across a piece that was cut open or drawn again are bridged across the gaps, or spanned again from edge to edge.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import partial
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from drafting.errors import GeometryError
from drafting.garment import Piece
from drafting.geometry import Affine, Path, Point, curve_through, fit_cubic, root
from drafting.geometry.handles import multiply, size_of
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

Plane = npt.NDArray[np.complex128]
Array = npt.NDArray[np.float64]

TRUED_STRAY = TradeValue(3.0, "mm", "common practice")
"""By which the curve over an opened edge may stray from the middles of its parts: how smoothly it runs counts for more
than where its parts came to lie."""

TRUED_STRAY_SHARE = TradeValue(0.02, "share", "common practice")
"""Of a long edge by which that curve may stray."""

_TILT = TOLERANCE.smooth_join / 2.5
TRUED_HANDLES = trade_row((0.6, 1.6), "times", "from memory")
"""Its own, that a curve's handles may be drawn in or out to give it a length."""


@dataclass(frozen=True, slots=True)
class MovedPart:
    """A stretch of a path, from ``low`` to ``high`` (mm along it), and the rigid motion it was moved by."""

    low: float
    high: float
    move: Affine


def fair_over_parts(path: Path, parts: Sequence[MovedPart]) -> Path:
    """Return a fair curve over the moved parts of an edge that was cut open, in order.

    It runs through both ends, in their directions, and near the parts' middles.
    """
    last = len(parts) - 1
    held = [(p, p.low + share * (p.high - p.low)) for i, p in enumerate(parts) for share in _shares(i == 0, i == last)]
    at = np.array([s for _, s in held])
    m = np.array([(p.move.xx, p.move.xy, p.move.dx, p.move.yx, p.move.yy, p.move.dy) for p, _ in held])
    (x, y), (u, v) = path.points(at).T, path.tangents(at).T
    points = np.stack((m[:, 0] * x + m[:, 1] * y + m[:, 2], m[:, 3] * x + m[:, 4] * y + m[:, 5]), axis=1)
    tangents = np.stack((m[:, 0] * u + m[:, 1] * v, m[:, 3] * u + m[:, 4] * v), axis=1)
    return _end_exactly(_fit_fair(points, tangents), path, parts)


def bend_edge(path: Path, parts: Sequence[MovedPart]) -> Path:
    """Return an edge that was bent at pivots as one fair curve, its ends and their directions as they were moved.

    The turns at the pivots are spread evenly between the first and the last of them, which leaves the length as it
    was but for what the handles there are then drawn out or in by; what lies beyond moves rigidly. Where it is bent
    too sharply to be fair and keep its length, as at one pivot alone, it keeps its corners.
    """
    places, turns = _turns(parts)
    joints = path.table.starts
    i = max(k for k, s in enumerate(joints) if k == 0 or s <= places[0])
    j = min(k for k, s in enumerate(joints) if k == len(joints) - 1 or s >= places[-1])
    first, last = parts[0].move, parts[-1].move
    middle = Path.of(path.segments[i:j])
    ends = first.apply(middle.start), last.apply(middle.end)
    try:
        drawn = with_length(redirect_path(middle, ends, [at - joints[i] for at in places], turns), middle.length)
    except GeometryError:
        return Path.join(*(path.between(p.low, p.high).transformed(p.move) for p in parts))
    before, after = first.apply_all(path.segments[:i]), last.apply_all(path.segments[j:])
    return Path.of(np.concatenate((before, drawn.segments, after)))


def _turns(parts: Sequence[MovedPart]) -> tuple[list[float], Array]:
    """Between which places an edge turns, and by how much (rad): from its first pivot to its last.

    At one pivot alone, from the middle of the part before it to the middle of the part after it.
    """
    turns = np.unwrap([math.atan2(p.move.yx, p.move.xx) for p in parts])
    if len(parts) == 2:
        return [(p.low + p.high) / 2.0 for p in parts], turns
    steps = (turns[1:] + turns[:-1]) / 2.0  # at each pivot half of its turn is made
    spread = steps[-1] - steps[0]
    share = (steps - steps[0]) / spread if spread else np.linspace(0.0, 1.0, len(steps))
    return [p.high for p in parts[:-1]], turns[0] + share * (turns[-1] - turns[0])


def redirect_path(
    path: Path, ends: tuple[Point, Point], places: Sequence[float], turns: Sequence[float] | Array
) -> Path:
    """Return a path drawn between new ends with its directions turned (rad) as given at places along it (mm).

    Between the places the turn changes evenly; before the first and after the last it stays. The path keeps its
    segments: one cubic stays one cubic, and stays as fair.
    """
    joints = np.array(path.table.starts)
    at = np.array([complex(*ends[0]), complex(*ends[1])])
    if len(joints) > 2:
        at = _roll_out(path, at, joints, places, turns)
    spin = np.exp(1j * np.interp(joints, places, turns))
    s = _plane(path.segments)
    grown = size_of(np.diff(at)) / size_of(s[:, 3] - s[:, 0])
    out, back = multiply(s[:, 1] - s[:, 0], spin[:-1]) * grown, multiply(s[:, 3] - s[:, 2], spin[1:]) * grown
    return _path(np.stack((at[:-1], at[:-1] + out, at[1:] - back, at[1:]), axis=1))


def _plane(points: Array) -> Plane:
    """Points, shape (..., 2), as complex numbers."""
    plane: Plane = points[..., 0] + 1j * points[..., 1]
    return plane


def _path(control: Plane) -> Path:
    return Path.of(np.stack((control.real, control.imag), axis=2))


def _roll_out(path: Path, ends: Plane, joints: Array, places: Sequence[float], turns: Sequence[float] | Array) -> Plane:
    """Where the joints of a path come to lie when its directions are turned, as complex numbers."""
    s = np.unique(np.concatenate((np.linspace(0.0, path.length, 65), joints)))
    ways = multiply(_plane(path.tangents(s)), np.exp(1j * np.interp(s, places, turns)))
    run = np.concatenate(([0.0], np.cumsum((ways[1:] + ways[:-1]) * np.diff(s) / 2.0))) + ends[0]
    run = run + (ends[1] - run[-1]) * (s / path.length)
    found: Plane = run[np.searchsorted(s, joints)]
    return found


def _fit_fair(points: Array, tangents: Array) -> Path:
    """One cubic if it comes near enough, for it is fair by construction; else a spline of continuous curvature."""
    leaves, arrives = (Point(*tangents[i].tolist()) for i in (0, -1))
    path, gap = fit_cubic(points, leaves, arrives)
    if gap <= max(TRUED_STRAY, TRUED_STRAY_SHARE * path.start.distance(path.end)):
        return path
    return curve_through([Point(x, y) for x, y in points.tolist()], leaves, arrives)


def _end_exactly(made: Path, path: Path, parts: Sequence[MovedPart]) -> Path:
    """Set the ends exactly where the parts' ends were moved to, so that the ring stays closed to the last figure."""
    segments = made.segments.copy()
    segments[0, 0] = tuple(parts[0].move.apply(path.start))
    segments[-1, 3] = tuple(parts[-1].move.apply(path.end))
    return Path.of(segments)


def _shares(first: bool, last: bool) -> tuple[float, ...]:
    """Where along a part the curve is held: the outer halves at the ends, else the middle alone."""
    if first:
        return (0.0, 0.25, 0.5)
    return (0.5, 0.75, 1.0) if last else (0.5,)


def with_length(path: Path, length: float) -> Path:
    """Return the curve with its handles drawn out or in until it is ``length`` mm long; its ends stay.

    Directions at the ends stay too, but where the curve is so nearly straight that its handles alone don't lengthen
    it: then both ends are tilted alike, by less than would show where it runs on across a seam.
    GeometryError where that would bend it too much.
    """
    if abs(path.length - length) <= TOLERANCE.same_point * TOLERANCE.joint:
        return path

    def full(fullness: float) -> Path:
        return _draw_handles(path, fullness, 0.0)

    def tilted(angle: float) -> Path:
        return _draw_handles(path, 1.0, angle)

    trials = ((full, TRUED_HANDLES[0], TRUED_HANDLES[1]), (tilted, 0.0, _TILT), (tilted, -_TILT, 0.0))
    for draw, low, high in trials:
        if (draw(low).length - length) * (draw(high).length - length) <= 0.0:
            within = TOLERANCE.same_point * TOLERANCE.same_point
            return draw(root(partial(_length_off, draw, length), low, high, within=within)[0])
    raise GeometryError("an edge can't be bent so sharply and keep its length; spread it in more slashes")


def _length_off(draw: Callable[[float], Path], length: float, x: float) -> float:
    return draw(x).length - length


def _draw_handles(path: Path, fullness: float, tilt: float) -> Path:
    """The path with its handles ``fullness`` times as long, those at its ends turned outwards by ``tilt`` (rad)."""
    s = _plane(path.segments)
    out, back = (s[:, 1] - s[:, 0]) * fullness, (s[:, 3] - s[:, 2]) * fullness
    out[:1] = multiply(out[:1], np.exp((1j * tilt,)))
    back[-1:] = multiply(back[-1:], np.exp((-1j * tilt,)))
    return _path(np.stack((s[:, 0], s[:, 0] + out, s[:, 3] - back, s[:, 3]), axis=1))


def bridge_parts(path: Path, parts: Sequence[MovedPart]) -> Path:
    """Return the moved stretches of a level, with straight lines across what opened between them."""
    moved = [path.between(part.low, part.high).transformed(part.move) for part in parts]
    out = [moved[0]]
    for one, two in pairwise(moved):
        if one.end.distance(two.start) > TOLERANCE.joint:
            out.append(Path.straight(one.end, two.start))
        out.append(two)
    return Path.join(*out)


@dataclass(frozen=True, slots=True)
class Respanning:
    """The motion of what lies within a piece whose lines were drawn again: the same share across it, edge to edge."""

    old: Piece
    new: Piece

    def path(self, path: Path) -> Path:
        """Return a line across the piece, straight again between the same shares of the same lines."""
        return Path.straight(self._again(path.start), self._again(path.end))

    def point(self, at: Point) -> Point:
        """Return where a point goes, by the level line across the piece that it lies on."""
        found = [line.path.at(s) for line in self.old.ring for s in line.path.cross_level(at.y)]
        if not found:
            return at + self._again(at) - self.old.outline.at(self.old.outline.nearest(at)[0])
        left, right = min(found, key=lambda p: p.x), max(found, key=lambda p: p.x)
        share = (at.x - left.x) / max(right.x - left.x, TOLERANCE.joint)
        return self._again(left).to(self._again(right), share)

    def _again(self, point: Point) -> Point:
        (s, _), line = min(((ln.path.nearest(point), ln) for ln in self.old.ring), key=lambda found: found[0][1])
        path = self.new.line(line.name).path
        return path.at(s / line.path.length * path.length)
