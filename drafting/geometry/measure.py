"""Where a length along a path lies on its segments, and what is there: the measuring table of a path.

A cubic's speed is the size of a quadratic, so it is smooth except near the (complex) zeros of that quadratic.
Each segment is cut into panels that keep clear of those zeros, which makes an eight-point Gauss-Legendre rule
good to better than a ten-thousandth of the length error allowed, loops and cusps included.
"""

from __future__ import annotations

import cmath
import math
from bisect import bisect_left, bisect_right
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from drafting.errors import NoAnswer
from drafting.geometry.point import Point
from drafting.geometry.solve import newton
from drafting.tolerance import TOLERANCE

Array = npt.NDArray[np.float64]
Coefficients = tuple[float, float, float, float, float, float, float, float]
Control = list[list[float]]

Nodes = tuple[tuple[float, float], ...]
"""Places from 0 to 1 and their weights, by which a mean is taken."""


def _rule(*half: tuple[float, float]) -> Nodes:
    """A Gauss-Legendre rule, given the half of its table above 0, as numpy.polynomial.legendre.leggauss gives it."""
    return tuple(((1.0 + s * x) / 2.0, w / 2.0) for s in (-1.0, 1.0) for x, w in half[:: int(s)])


# written out: leggauss takes 5 ms to load
EIGHT = _rule(
    (0.18343464249564978, 0.36268378337836166),
    (0.525532409916329, 0.3137066458778869),
    (0.7966664774136267, 0.22238103445337443),
    (0.9602898564975362, 0.10122853629037706),
)
TWELVE = _rule(
    (0.1252334085114689, 0.2491470458134028),
    (0.3678314989981802, 0.2334925365383548),
    (0.5873179542866175, 0.2031674267230659),
    (0.7699026741943047, 0.1600783285433462),
    (0.9041172563704749, 0.1069393259953184),
    (0.9815606342467192, 0.0471753363865118),
)
_NODE_AT, _NODE_WEIGHT = np.array(EIGHT).T
CLEARANCE = 2.2  # sum of the distances from a zero to a panel's ends, in panel widths
NARROWEST = 2.0**-12
_SAME = TOLERANCE.same_point
_EXACT = TOLERANCE.same_point / 1000.0


def coefficients(p: Control) -> Coefficients:
    """Return (ax, ay, bx, by, cx, cy, x0, y0) of ((a t + b) t + c) t + p0 for four control points."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = p
    bx, by = 3.0 * (x2 - 2.0 * x1 + x0), 3.0 * (y2 - 2.0 * y1 + y0)
    ax, ay = x3 - 3.0 * (x2 - x1) - x0, y3 - 3.0 * (y2 - y1) - y0
    if abs(ax) + abs(ay) + abs(bx) + abs(by) < _SAME:  # handles at the thirds: a straight line
        return (0.0, 0.0, 0.0, 0.0, x3 - x0, y3 - y0, x0, y0)
    return (ax, ay, bx, by, 3.0 * (x1 - x0), 3.0 * (y1 - y0), x0, y0)


def arc(k: Coefficients, a: float, b: float, nodes: Nodes = EIGHT) -> float:
    """Return the length (mm) of the cubic between two parameters, as the mean of its speed at some nodes.

    Eight serve for what lies in one panel; twelve, to about a micrometre, for the whole of a plain curve.
    """
    ax, ay, bx, by, cx, cy = 3.0 * k[0], 3.0 * k[1], 2.0 * k[2], 2.0 * k[3], k[4], k[5]
    h = b - a
    total = 0.0
    for x, w in nodes:
        t = a + h * x
        vx, vy = (ax * t + bx) * t + cx, (ay * t + by) * t + cy
        total += w * math.sqrt(vx * vx + vy * vy)
    return total * h


def speed_zeros(k: Coefficients) -> list[complex]:
    """Return the complex parameters where the cubic's speed vanishes, one of each conjugate pair."""
    a, b, c = 3.0 * complex(k[0], k[1]), complex(k[2], k[3]), complex(k[4], k[5])
    size = abs(b) + abs(c)
    if abs(a) <= _EXACT * size:
        return [] if abs(b) <= _EXACT * size else [-c / (2.0 * b)]
    d = cmath.sqrt(b * b - a * c)
    q = -(b + d) if abs(b + d) >= abs(b - d) else -(b - d)
    return [q / a, c / q] if q != 0 else [0j]


def panel_breaks(k: Coefficients) -> list[float]:
    """Return the parameters, from 0 to 1, between which the eight-point rule may be used."""
    zeros = speed_zeros(k)
    cuts = [0.0]
    cuts += sorted(z.real for z in zeros if NARROWEST < z.real < 1.0 - NARROWEST and abs(z.imag) < 1.0 / 8.0)
    cuts.append(1.0)
    breaks = [0.0]
    for a, b in pairwise(cuts):
        _refine(a, b, zeros, breaks)
    return breaks


def _refine(a: float, b: float, zeros: list[complex], breaks: list[float]) -> None:
    """Halve the panel until each zero keeps its distance; a zero exactly on an end does no harm."""
    width = b - a
    if width > NARROWEST:
        for z in zeros:
            za, zb = abs(z - a), abs(z - b)
            if za + zb < CLEARANCE * width and za > _EXACT and zb > _EXACT:
                middle = 0.5 * (a + b)
                _refine(a, middle, zeros, breaks)
                _refine(middle, b, zeros, breaks)
                return
    breaks.append(b)


class Table:
    """A path's cumulative lengths, by segment and by panel; made once per path when first needed."""

    __slots__ = ("_arrays", "at", "coefs", "control", "ends", "owner", "starts", "total")

    def __init__(self, control: list[Control]) -> None:
        self.control = control
        self.coefs = [coefficients(p) for p in control]
        self.ends: list[float] = [0.0]  # length at each panel's end
        self.at: list[tuple[float, float]] = []  # each panel's parameters
        self.owner: list[int] = []  # each panel's segment
        self.starts: list[float] = [0.0]  # length at each segment's start, and the whole
        self._arrays: tuple[Array, ...] | None = None
        total = 0.0
        for i, k in enumerate(self.coefs):
            if is_straight(k):
                total += math.hypot(k[4], k[5])
                self._add(i, 0.0, 1.0, total)
            else:
                breaks = panel_breaks(k)
                for a, b in pairwise(breaks):
                    total += arc(k, a, b)
                    self._add(i, a, b, total)
            self.starts.append(total)
        self.total = total

    def _add(self, segment: int, a: float, b: float, end: float) -> None:
        self.owner.append(segment)
        self.at.append((a, b))
        self.ends.append(end)

    def check(self, s: float) -> float:
        """Return ``s`` clamped to the path; a GeometryError beyond the error allowed in a length."""
        if 0.0 <= s <= self.total:
            return s
        if -TOLERANCE.arc_length <= s <= self.total + TOLERANCE.arc_length:
            return 0.0 if s < 0.0 else self.total
        raise NoAnswer(f"{s:.3f} isn't on a path {self.total:.3f} long")

    def locate(self, s: float) -> tuple[int, float]:
        """Return the segment and parameter at ``s`` mm from the start; at a joint, the following segment."""
        s = self.check(s)
        ends = self.ends
        p = bisect_right(ends, s) - 1
        if p >= len(self.at):
            return len(self.coefs) - 1, 1.0
        a, b = self.at[p]
        i = self.owner[p]
        rest, size = s - ends[p], ends[p + 1] - ends[p]
        k = self.coefs[i]
        t = a + (b - a) * rest / size
        if is_straight(k):
            return i, t

        def run(u: float) -> tuple[float, float]:
            return arc(k, a, u) - rest, math.hypot(*velocity(k, u))

        return i, newton(run, a, b, start=t, enough=_EXACT)

    def after(self, s: float) -> tuple[int, float]:
        """Return the place at ``s``, where a joint nearer than one point is taken as the next one's start."""
        s = self.check(s)
        i = bisect_right(self.starts, s + _SAME) - 1
        if i >= len(self.coefs):
            return len(self.coefs) - 1, 1.0
        return (i, 0.0) if s - self.starts[i] <= _SAME else self.locate(s)

    def before(self, s: float) -> tuple[int, float]:
        """Return the place at ``s``, where a joint nearer than one point is taken as the end that arrives."""
        s = self.check(s)
        i = bisect_left(self.starts, s - _SAME) - 1
        if i < 0:
            return 0, 0.0
        return (i, 1.0) if self.starts[i + 1] - s <= _SAME else self.locate(s)

    def length_at(self, segment: int, t: float) -> float:
        """Return the length (mm) from the path's start to a parameter of a segment."""
        k = self.coefs[segment]
        if t <= 0.0:
            return self.starts[segment]
        if t >= 1.0:
            return self.starts[segment + 1]
        p = bisect_left(self.owner, segment)
        while self.at[p][1] < t:
            p += 1
        a, _ = self.at[p]
        return self.ends[p] + (math.hypot(k[4], k[5]) * t if is_straight(k) else arc(k, a, t))

    def point(self, segment: int, t: float) -> Point:
        """Return the point at a parameter of a segment."""
        if t == 1.0:
            x, y = self.control[segment][3]
            return Point(x, y)
        return Point(*place(self.coefs[segment], t))

    def arrays(self) -> tuple[Array, ...]:
        """Return (panel ends, panel a, panel b, coefficients per panel (p, 8)) as arrays."""
        if self._arrays is None:
            at = np.array(self.at)
            coefs = np.array(self.coefs)[self.owner]
            self._arrays = (np.array(self.ends), at[:, 0], at[:, 1], coefs)
        return self._arrays

    def locate_all(self, ss: Array) -> tuple[Array, Array]:
        """Return the coefficients (m, 8) and parameters (m,) at many lengths at once."""
        ends, low, high, coefs = self.arrays()
        s = np.asarray(ss, dtype=np.float64)
        if s.size and not (s.min() >= -TOLERANCE.arc_length and s.max() <= self.total + TOLERANCE.arc_length):
            lengths = f"{s.min():.3f} to {s.max():.3f}"
            raise NoAnswer(f"lengths from {lengths} on {self.total:.3f} of path")
        s = np.clip(s, 0.0, self.total)
        p = np.minimum(np.searchsorted(ends, s, side="right") - 1, len(low) - 1)
        a, b, k = low[p], high[p], coefs[p]
        rest, size = s - ends[p], ends[p + 1] - ends[p]
        t = a + (b - a) * np.divide(rest, size, out=np.zeros_like(rest), where=size > 0.0)
        for _ in range(20):
            u = a[:, None] + (t - a)[:, None] * _NODE_AT
            miss = (_speed(k[:, :, None], u) * _NODE_WEIGHT).sum(axis=1) * (t - a) - rest
            if not miss.size or np.abs(miss).max() < _EXACT:
                break
            v = _speed(k, t)
            t = np.clip(t - np.divide(miss, v, out=np.zeros_like(v), where=v > 0.0), a, b)
        return k, t


def _speed(k: Array, t: Array) -> Array:
    vx = (3.0 * k[:, 0] * t + 2.0 * k[:, 2]) * t + k[:, 4]
    vy = (3.0 * k[:, 1] * t + 2.0 * k[:, 3]) * t + k[:, 5]
    speed: Array = np.sqrt(vx * vx + vy * vy)
    return speed


def is_straight(k: Coefficients) -> bool:
    """Tell whether the cubic is a straight line at constant speed."""
    return k[0] == 0.0 and k[1] == 0.0 and k[2] == 0.0 and k[3] == 0.0


def place(k: Coefficients, t: float) -> tuple[float, float]:
    """Return the coordinates at a parameter."""
    ax, ay, bx, by, cx, cy, x0, y0 = k
    return ((ax * t + bx) * t + cx) * t + x0, ((ay * t + by) * t + cy) * t + y0


def velocity(k: Coefficients, t: float) -> tuple[float, float]:
    """Return the slopes of both coordinates at a parameter."""
    return (3.0 * k[0] * t + 2.0 * k[2]) * t + k[4], (3.0 * k[1] * t + 2.0 * k[3]) * t + k[5]


def acceleration(k: Coefficients, t: float) -> tuple[float, float]:
    """Return how the slopes change at a parameter."""
    return 6.0 * k[0] * t + 2.0 * k[2], 6.0 * k[1] * t + 2.0 * k[3]


def direction(k: Coefficients, t: float) -> Point:
    """Return the unit tangent; where a handle has no length, its limit from within the segment."""
    vx, vy = velocity(k, t)
    size = math.hypot(vx, vy)
    if size < _SAME:
        sign = -1.0 if t == 1.0 else 1.0
        ax, ay = acceleration(k, t)
        vx, vy = sign * ax, sign * ay
        size = math.hypot(vx, vy)
    if size < _SAME:
        vx, vy = 6.0 * k[0], 6.0 * k[1]
        size = math.hypot(vx, vy)
    if size < _SAME:
        raise NoAnswer("a path without length has no direction")
    return Point(vx / size, vy / size)


def bend(k: Coefficients, t: float) -> float:
    """Return the curvature (1/mm, left positive); just inside the segment where a handle has no length."""
    for u in (t, t + NARROWEST if t < 0.5 else t - NARROWEST):
        vx, vy = velocity(k, u)
        size = math.hypot(vx, vy)
        if size > _SAME:
            ax, ay = acceleration(k, u)
            return (vx * ay - vy * ax) / size**3
    return 0.0
