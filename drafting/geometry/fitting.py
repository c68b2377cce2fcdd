"""Curves made to pass through points, or from one direction into another."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from drafting.errors import NoAnswer
from drafting.geometry.handles import Ends, Plane, along, lengthen_handles, size_of
from drafting.geometry.measure import Array
from drafting.geometry.path import Path
from drafting.geometry.point import Point, turn
from drafting.tolerance import TOLERANCE

_FIT_STEPS = 6
_HELD = 2.0**-30
_SLOWEST = TOLERANCE.same_point  # mm2: the least square of a speed that is divided by


def hook(p0: Point, t0: Point, p1: Point, t1: Point, tension: float = 1.0) -> Path:
    """Return one cubic from ``p0``, leaving in direction ``t0``, to ``p1``, arriving in direction ``t1``.

    The handles are ``tension`` times the length that makes the nearest cubic to a circular arc where the turn
    is an arc (4/3 tan(angle/4) of the radius), and end no farther than where the two tangents cross.
    """
    u, v = t0.unit, t1.unit
    chord = p1 - p0
    handle = tension * chord.length / (3.0 * math.cos(turn(u, v) / 4.0) ** 2)
    first = last = handle
    across = u.cross(v)
    if abs(across) > TOLERANCE.tangent * TOLERANCE.tangent:
        along, back = chord.cross(v) / across, u.cross(chord) / across
        if along > 0.0 and back > 0.0:
            least = handle / 64.0  # a handle of no length would lose its direction
            first, last = min(handle, max(along, least)), min(handle, max(back, least))
    return Path.cubic(p0, p0 + u * first, p1 - v * last, p1)


def curve_through(points: Sequence[Point], start: Point | None = None, end: Point | None = None) -> Path:
    """Return a curve through two or more points with continuous curvature, as cubics.

    A cubic spline on the length along the curve (chords at first, then the lengths of the curve itself,
    twice). ``start`` and ``end`` are directions to leave and arrive in; an end without one bends as the curve
    beside it.
    A GeometryError if two points that follow each other are the same.
    """
    p = np.array([(q.x, q.y) for q in points])
    if len(p) < 2:
        raise NoAnswer("a curve needs two points to pass through")
    h: Array = np.hypot(*(p[1:] - p[:-1]).T)
    if h.min() <= TOLERANCE.same_point:
        raise NoAnswer("two points of a curve that follow each other are the same point")
    path = _spline(p, h, start, end)
    for _ in range(2):
        h = np.diff(np.array(path.table.starts))
        path = _spline(p, h, start, end)
    return path


def _spline(p: Array, h: Array, start: Point | None, end: Point | None) -> Path:
    """Return the spline whose knots are ``h`` apart, in cubics."""
    n = len(p)
    slopes = (p[1:] - p[:-1]) / h[:, None]
    before, on, after, right = np.zeros(n), np.ones(n), np.zeros(n), np.empty((n, 2))
    before[1:-1], on[1:-1], after[1:-1] = h[1:], 2.0 * (h[1:] + h[:-1]), h[:-1]
    right[1:-1] = 3.0 * (h[1:, None] * slopes[:-1] + h[:-1, None] * slopes[1:])
    if start is None:
        after[0], right[0] = 1.0, 2.0 * slopes[0]  # the first span is a parabola
    else:
        right[0] = tuple(start.unit)
    if end is None:
        before[-1], right[-1] = 1.0, 2.0 * slopes[-1]
    else:
        right[-1] = tuple(end.unit)
    if n == 2 and start is None and end is None:
        velocity: Array = np.repeat(slopes, 2, axis=0)
    else:
        velocity = _solve_in_row(before, on, after, right)
    handles = velocity[:-1] * h[:, None] / 3.0, velocity[1:] * h[:, None] / 3.0
    return Path(np.stack((p[:-1], p[:-1] + handles[0], p[1:] - handles[1], p[1:]), axis=1))


def _solve_in_row(before: Array, on: Array, after: Array, right: Array) -> Array:
    """Solve equations each of which ties an unknown, of shape (2,), to the ones before and after it (Thomas)."""
    on, right = on.copy(), right.copy()
    for i in range(1, len(on)):
        share = before[i] / on[i - 1]
        on[i] -= share * after[i - 1]
        right[i] -= share * right[i - 1]
    right[-1] /= on[-1]
    for i in range(len(on) - 2, -1, -1):
        right[i] = (right[i] - after[i] * right[i + 1]) / on[i]
    return right


def fit_cubic(points: Array, leaves: Point, arrives: Point) -> tuple[Path, float]:
    """Return the one cubic with given ends and end directions nearest to sample points, and how far it strays (mm).

    ``points`` has shape (m, 2); the cubic runs from the first to the last. By turns its two handles are fitted by
    least squares and each sample's place on it is found again, six times (after Schneider 1990, "An algorithm for
    automatically fitting digitized curves"). A GeometryError for fewer than two points, or if they are all one point.
    """
    z = points[:, 0] + 1j * points[:, 1]
    run = np.concatenate(([0.0], size_of(np.diff(z)).cumsum()))
    size = float(run[-1])
    if size <= TOLERANCE.same_point:
        raise NoAnswer("a fit needs two or more points, apart from each other")
    u, (out, home) = run / size, (complex(*way.unit) for way in (leaves, arrives))
    ends = Ends(z[:1], np.array((out,)), z[-1:], np.array((home,)))
    first = last = np.array((size / 3.0,))
    least = size / 64.0  # a handle of no length would lose its direction
    for _ in range(_FIT_STEPS):
        bare, lead, trail = ends.spread(u)
        longer = lengthen_handles(lead, trail, z - bare - first * lead - last * trail, _HELD)
        first, last = np.maximum(first + longer[0], least), np.maximum(last + longer[1], least)
        control = ends.control(first, last)
        stray, speed = _along(control[0], u, z)
        u = np.clip(u - along(speed, stray) / np.maximum(along(speed, speed), _SLOWEST), 0.0, 1.0)
    return Path(np.stack((control.real, control.imag), axis=2)), float(size_of(stray).max())


def _along(control: Plane, u: Array, z: Plane) -> tuple[Plane, Plane]:
    """How far a cubic's places at some parameters lie from where they should, and its velocity there."""
    v = 1.0 - u
    c0, c1, c2, c3 = control
    stray = c0 * (v * v * v) + c1 * (3.0 * u * v * v) + c2 * (3.0 * u * u * v) + c3 * (u * u * u) - z
    legs = 3.0 * np.diff(control)
    return stray, legs[0] * v * v + 2.0 * legs[1] * u * v + legs[2] * u * u
