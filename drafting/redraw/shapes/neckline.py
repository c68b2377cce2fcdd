"""Necklines: half of one, from the shoulder to the centre, in the shapes the trade names."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from drafting.errors import GeometryError
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.shapes.curve import Curve
from drafting.sides import Face
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

BACK_RISE = TradeValue(
    1.0 / 3.0,
    "share",
    "published",
    "Baldt, Clothing for Women (1916), \"To Draft Shirt\"; Rosenfeld, The Practical Designer for Women's and Misses' "
    "Underwear (1918), the first foundation lines",
)
"""Of the neck's half width by which the side neck point lies over the back neck point: drafts of 1916 and 1918 raise it
3/4 to 1 in over a half width of 2 1/2 to 3 in."""

FRONT_DEPTH = TradeValue(5.0, "mm", "derived", "ANSUR 1988; drafts of 1916 have neck/6, 58 mm (Baldt)")
"""By which the front neck is deeper than the half width: it comes to 70 mm for the mean woman of 1988, whose front neck
point lies 67 mm below the side neck point."""

SHORTEST_SHOULDER = TradeValue(25.0, "mm", "from memory")
"""Of shoulder that must remain between neckline and armhole, to carry a seam and a band."""

LOWEST_NECKLINE = TradeValue(60.0, "mm", "from memory")
"""Below the underarm beyond which no neckline reaches."""

NECKLINE_RADIUS = TradeValue(12.0, "mm", "derived", "from the allowance of 1 cm")
"""Of radius that a neckline keeps at its ends: more than its allowance, which lies within the curve."""

TIGHTEST = TradeValue(10.1, "mm", "derived", "from the allowance of 1 cm")
"""Of radius below which a neckline can't be given an allowance and cut."""

NECKLINE_REACHES = {
    "round": trade_row((0.58, 0.56), "share", "from memory"),
    "scoop": trade_row((0.72, 0.66), "share", "from memory"),
    "boat": trade_row((0.50, 0.78), "share", "from memory"),
}
"""Of the depth that a neckline runs square to the shoulder, and of the half width that it runs level at the centre."""

STRAIGHT_REACHES = trade_row((0.3, 0.35), "share", "from memory")
"""Of the way down that a V or a square neckline bends over: at the shoulder, and below."""

LEAST_HOLD = TradeValue(0.2, "share", "derived", "by drawing: with less a round neckline comes to a point")
"""Of the half width over which a neckline runs level towards the centre, at least."""

NECK_HOLLOW = TradeValue(0.18, "share", "from memory", "18 to 25 % of a round neck; with less it looks like a V")
"""Of its chord by which half a round neckline is hollow at least that is as deep as its half width, or deeper."""

HOLLOWS_WANTED = {
    "round": TradeValue(0.40, "share", "derived", "by drawing: the curve is half as hollow"),
    "scoop": TradeValue(0.30, "share", "derived", "by drawing: fuller, it is nearly two thirds as hollow"),
    "boat": TradeValue(0.36, "share", "derived", "by drawing"),
}
"""Of its chord from which the start's direction comes to the centre's level, at least, square to the chord, if a
neckline is as deep as its half width."""

DEEP = TradeValue(0.5, "share", "from memory", "as most round necks in front")
"""Of a neckline's half width from which it is deep: a shallower one is no V however flat its curve."""

MOST_INTO_SQUARE = TradeValue(math.radians(30.0), "rad", "from memory", "with more its sides no longer run down")
"""Off upright, by which a square neckline starts inwards at most where it can help it."""

MOST_ASKEW = TradeValue(math.radians(2.4), "rad", "from memory", "of both together, 5 degrees show once sewn")
"""By which a deep neckline leaves a steep shoulder less than square where the other face can't run on in it."""

Array = npt.NDArray[np.float64]

_T = np.linspace(0.0, 1.0, 33)[:, None]
_U = 1.0 - _T
_SHARES = np.geomspace(0.4, 2.5, 29)
"""Shares of a neckline's reaches that are tried where it bends too tightly."""


@dataclass(frozen=True, slots=True)
class Neckline:
    """A neckline's shape, a key of ``SHAPES`` or "square", and where its centre point and its shoulder point lie."""

    shape: str
    shoulder: Point
    centre: Point


def neck_points(half_width: float, face: Face) -> tuple[Point, Point]:
    """Return the side neck point and the centre of the neck base on a face, for the half width of the close neck.

    The back neck point is (0, 0) on both faces; the half lies on +x.
    """
    side = Point(half_width, half_width * BACK_RISE)
    depth = half_width + FRONT_DEPTH
    return side, Point(0.0, 0.0 if face is Face.BACK else side.y - depth)


def _square_to(slope: float) -> Point:
    """The direction down and square to a shoulder that falls away at ``slope``: front and back run on smoothly."""
    return Point(-1.0, 0.0).turned(-slope).left


def share_of_hollow(across: float, down: float) -> float:
    """Return how hollow half a neckline is, against one as deep as it is wide: shallower, as arcs of circles are."""
    return min(math.tan(math.atan2(down, across) / 2.0) / math.tan(math.pi / 8.0), 1.0)


def _steepest_start(shape: str, shoulder: Point, centre: Point) -> float:
    """Off upright (rad), how far inwards a round neckline starts at most: one that starts farther in is nearly a V."""
    across, down = shoulder.x - centre.x, shoulder.y - centre.y
    wanted = HOLLOWS_WANTED.get(shape, HOLLOWS_WANTED["round"])
    within = wanted * share_of_hollow(across, down) * (across * across + down * down) / down
    return max(math.atan2(across - within, down), 0.0)


def lean_wanted(neckline: Neckline, slope: float) -> float:
    """By how much (rad) a neckline turns out from square to its shoulder, so that no round one comes out as a V.

    Less than 0 where it could turn in by that instead.
    """
    way = neckline.shoulder - neckline.centre
    most = {"v": math.atan2(way.x, way.y), "square": MOST_INTO_SQUARE}.get(neckline.shape)
    return slope - (_steepest_start(neckline.shape, neckline.shoulder, neckline.centre) if most is None else most)


def share_lean(front: float, back: float) -> float:
    """By how much (rad) the front turns out, and the back in, for what each wants: they run on over the shoulder.

    What one wants the other gives, as far as it can; beyond that both go without, by the same.
    """
    if front + back > 0.0:
        return (front - back) / 2.0
    return max(front, 0.0) - max(back, 0.0)


def slopes_to_run_on(lines: Mapping[Face, Neckline], slopes: Mapping[Face, float]) -> Mapping[Face, float]:
    """Return the slopes (rad) to which both necklines of a shoulder are drawn square: one gives way to the other."""
    out = share_lean(*(lean_wanted(lines[face], slopes[face]) for face in (Face.FRONT, Face.BACK)))
    return {Face.FRONT: slopes[Face.FRONT] - out, Face.BACK: slopes[Face.BACK] + out}


def _round_curve(
    shoulder: Point, centre: Point, slope: float, shape: str, reaches: tuple[float, float] | None = None
) -> Curve:
    """Square to the shoulder for a share of the depth, square to the centre for a share of the width, as in the shape.

    On a steep shoulder the curve starts inwards: a long reach or hold would then carry it so far in that it had to
    bend back, so both give way, and the start turns out by a little. On a shallow neckline a short reach would turn it
    too sharply to be sewn.
    """
    across, down = shoulder.x - centre.x, shoulder.y - centre.y
    reach, hold = reaches or NECKLINE_REACHES[shape]
    out = _square_to(slope - min(max(slope - _steepest_start(shape, shoulder, centre), 0.0), MOST_ASKEW))
    level = across + down * out.x / -out.y  # from the centre to below where the start's direction ends
    held = min(hold * across, max(0.92 * level, LEAST_HOLD * across))
    aside = abs((centre + Point(held, 0.0) - shoulder).cross(out))
    gentle = math.sqrt(NECKLINE_RADIUS * aside / 1.5)  # the reach at which the curve starts with that radius
    way = max(reach * down, min(gentle, 0.95 * down / -out.y))
    way = min(way, 0.36 * across / max(-out.x, TOLERANCE.tangent))
    made = Curve.leaving(shoulder, out, way, centre, Point(-1.0, 0.0), held)
    return made if tightest_radius(made.path) >= TIGHTEST else _ease_curve(made)


def tightest_radius(path: Path) -> float:
    """Return the least radius (mm) with which half a neckline, run from shoulder to centre, bends to its outer side.

    Infinite where it doesn't bend that way at all. A seam allowance wider than this has no edge to be cut along.
    """
    return float(_radii(*(path.segments[:, i] for i in range(4))).min())


def _radii(a: Array, b: Array, c: Array, d: Array) -> Array:
    """The least radius to the outer side of each of several curves, their points given as (n, 2)."""
    one, two, three = (leg[:, None] for leg in (b - a, c - b, d - c))
    v = one * _U * _U + 2.0 * two * _U * _T + three * _T * _T
    w = 2.0 * ((two - one) * _U + (three - two) * _T)
    cross = v[..., 1] * w[..., 0] - v[..., 0] * w[..., 1]
    speed = np.maximum(np.hypot(v[..., 0], v[..., 1]), TOLERANCE.same_point)
    bend = (cross / (3.0 * speed**3)).max(axis=1)
    radii: Array = np.where(bend > 0.0, 1.0 / np.where(bend > 0.0, bend, 1.0), math.inf)
    return radii


def _ease_curve(curve: Curve) -> Curve:
    """The curve with its reaches changed by the least that leaves it ``NECKLINE_RADIUS``, or the gentlest there is."""
    a, b, c, d = (np.array([(p.x, p.y)]) for p in (curve.a, curve.b, curve.c, curve.d))
    ways, holds = (grid.reshape(-1, 1) for grid in np.meshgrid(_SHARES, _SHARES))
    ones, twos = a + (b - a) * ways, d + (c - d) * holds
    # No handle runs past the centre's level or past the shoulder point: the curve would leave its own frame.
    kept = (ones[:, 1] >= d[0, 1]) & (ones[:, 0] >= d[0, 0]) & (twos[:, 0] <= a[0, 0])
    ones, twos, ways, holds = ones[kept], twos[kept], ways[kept], holds[kept]
    radii = _radii(a, ones, twos, d)
    # What is changed as much by one handle as by the other is the same, whatever the last figure of a logarithm is.
    changed = np.round(np.abs(np.log(ways[:, 0])) + np.abs(np.log(holds[:, 0])), 9)
    enough = radii >= NECKLINE_RADIUS
    i = int(np.argmin(np.where(enough, changed, math.inf))) if enough.any() else int(np.argmax(radii))
    return Curve(curve.a, Point(*ones[i].tolist()), Point(*twos[i].tolist()), curve.d)


def round_half(shoulder: Point, centre: Point, slope: float) -> Curve:
    """Draw half of a round neckline from the shoulder to the centre.

    It leaves square to the shoulder, so that front and back run on smoothly, and meets the centre square.
    """
    return _round_curve(shoulder, centre, slope, "round")


def draw_round_necks(lines: Mapping[Face, Neckline], slopes: Mapping[Face, float]) -> Mapping[Face, Curve]:
    """Draw half of both round necklines of a shoulder, each from it to its centre: they run on over the shoulder."""
    by = slopes_to_run_on(lines, slopes)
    return {face: round_half(line.shoulder, line.centre, by[face]) for face, line in lines.items()}


def scoop_half(shoulder: Point, centre: Point, slope: float) -> Curve:
    """Draw half of a scoop: it runs farther down than a round neckline and is fuller below."""
    return _round_curve(shoulder, centre, slope, "scoop")


def boat_half(shoulder: Point, centre: Point, slope: float) -> Curve:
    """Draw half of a boat neckline: level for most of its width, turning up to the shoulder only near it."""
    return _round_curve(shoulder, centre, slope, "boat")


def v_half(shoulder: Point, centre: Point, slope: float) -> Curve:
    """Draw half of a V neckline: square to the shoulder at the top, soon straight, to a point at the centre."""
    out = _square_to(slope)
    way = shoulder.distance(centre)
    knee = shoulder + out * (STRAIGHT_REACHES[0] * way)
    return Curve(shoulder, knee, centre + (knee - centre).unit * (STRAIGHT_REACHES[1] * way), centre)


def square_half(shoulder: Point, centre: Point, slope: float) -> tuple[Curve, Path]:
    """Draw half of a square neckline: down from the shoulder, square to it and soon upright, and level to the centre.

    The two meet in a right angle, level with the centre point.
    """
    down = shoulder.y - centre.y
    knee = shoulder + _square_to(slope) * (STRAIGHT_REACHES[0] * down)
    corner = Point(knee.x, centre.y)
    return Curve(shoulder, knee, corner + Point(0.0, STRAIGHT_REACHES[1] * down), corner), Path.straight(corner, centre)


SHAPES: Mapping[str, Callable[[Point, Point, float], Curve]] = MappingProxyType(
    {"round": round_half, "scoop": scoop_half, "v": v_half, "boat": boat_half}
)
"""The shapes that are one curve from the shoulder to the centre."""


def like_half(old: Path, shoulder: Point, centre: Point, slope: float) -> Curve:
    """Draw half of a neckline of the shape that ``old`` has, between other ends.

    ``old`` is one curve from shoulder to centre, square to the shoulder. Where it is one of ``SHAPES`` it is drawn as
    that, else its reaches keep their shares of depth and width. GeometryError if it is of several.
    """
    if len(old.segments) != 1:
        raise GeometryError("a neckline of several curves can't be drawn again alike")
    at = old.tangent(0.0)
    start = math.atan2(-at.x, -at.y)
    for draw in SHAPES.values():
        # Where the start was turned out from square, as far as that may be, the slope was steeper than it by as much.
        if any(draw(old.start, old.end, own).path.same_as(old, TOLERANCE.joint) for own in (start, start + MOST_ASKEW)):
            return draw(shoulder, centre, slope)
    a, b, c, d = (Point(float(x), float(y)) for x, y in old.segments[0])
    reach, hold = a.distance(b) / (a.y - d.y), c.distance(d) / (a.x - d.x)
    return _round_curve(shoulder, centre, slope, "round", (reach, hold))


def neckline_parts(neckline: Neckline, slope: float) -> tuple[tuple[str, Path], ...]:
    """Draw half of a neckline as the lines it is made of, from the shoulder to the centre, each with its name.

    A curve is one line without a name; a square neckline is two, "down" and "across", for it has a corner.
    """
    if neckline.shape == "square":
        down, across = square_half(neckline.shoulder, neckline.centre, slope)
        return ("down", down.path), ("across", across)
    return (("", SHAPES[neckline.shape](neckline.shoulder, neckline.centre, slope).path),)


def draw_neckline(neckline: Neckline, slope: float) -> Path:
    """Draw half of a neckline from the shoulder to the centre as one path."""
    return Path.join(*(path for _, path in neckline_parts(neckline, slope)))
