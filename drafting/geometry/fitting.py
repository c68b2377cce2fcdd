"""Curves made to pass through points, or from one direction into another."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from drafting.errors import GeometryError
from drafting.geometry.measure import Array
from drafting.geometry.path import Path
from drafting.geometry.point import Point, turn
from drafting.tolerance import TOLERANCE

Plane = npt.NDArray[np.complex128]
_FIT_STEPS = 8
_FIT_DAMPING = 2.0**-10


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
        raise GeometryError("a curve needs two points to pass through")
    h: Array = np.hypot(*(p[1:] - p[:-1]).T)
    if h.min() <= TOLERANCE.same_point:
        raise GeometryError("two points of a curve that follow each other are the same point")
    path = _spline(p, h, start, end)
    for _ in range(2):
        h = np.diff(np.array(path.table.starts))
        path = _spline(p, h, start, end)
    return path


def _spline(p: Array, h: Array, start: Point | None, end: Point | None) -> Path:
    """Return the spline whose knots are ``h`` apart, in cubics."""
    n = len(p)
    slopes = (p[1:] - p[:-1]) / h[:, None]
    matrix, right = np.zeros((n, n)), np.zeros((n, 2))
    i = np.arange(1, n - 1)
    matrix[i, i - 1], matrix[i, i], matrix[i, i + 1] = h[1:], 2.0 * (h[1:] + h[:-1]), h[:-1]
    right[1:-1] = 3.0 * (h[1:, None] * slopes[:-1] + h[:-1, None] * slopes[1:])
    if start is None:
        matrix[0, :2], right[0] = 1.0, 2.0 * slopes[0]  # the first span is a parabola
    else:
        matrix[0, 0], right[0] = 1.0, tuple(start.unit)
    if end is None:
        matrix[-1, -2:], right[-1] = 1.0, 2.0 * slopes[-1]
    else:
        matrix[-1, -1], right[-1] = 1.0, tuple(end.unit)
    if n == 2 and start is None and end is None:
        velocity: Array = np.repeat(slopes, 2, axis=0)
    else:
        velocity = np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)
    handles = velocity[:-1] * h[:, None] / 3.0, velocity[1:] * h[:, None] / 3.0
    return Path(np.stack((p[:-1], p[:-1] + handles[0], p[1:] - handles[1], p[1:]), axis=1))


def fit_cubics(points: Array, tangents: Array | None = None, tol: float = TOLERANCE.offset) -> Path:
    """Return cubics, smooth at their joints, that pass within ``tol`` mm of sample points of shape (m, 2).

    ``tangents``, shape (m, 2), are the directions at the points; without them they are taken from the points'
    neighbours. Each cubic keeps its ends and end directions, its handles are fitted by least squares, and
    one that strays is cut at its worst point (after Schneider 1990, "An algorithm for automatically fitting
    digitized curves"). A GeometryError for fewer than two points or points that repeat.
    """
    xy = np.asarray(points, dtype=np.float64)
    z = xy[:, 0] + 1j * xy[:, 1]
    if len(z) < 2 or np.abs(np.diff(z)).min() <= TOLERANCE.same_point:
        raise GeometryError("a fit needs two or more points, none of which repeats the one before")
    given = None if tangents is None else np.asarray(tangents, dtype=np.float64)
    heading = _headings(z) if given is None else given[:, 0] + 1j * given[:, 1]
    done: list[Plane] = []
    waiting = [(0, len(z) - 1)]
    while waiting:
        a, b = waiting.pop()
        control, worst = _fit_one(z[a : b + 1], heading[a], heading[b], tol)
        if 0 < worst < b - a:
            waiting += [(a + worst, b), (a, a + worst)]  # the first part is taken up next
        else:
            done.append(control)
    c = np.array(done)
    return Path(np.stack((c.real, c.imag), axis=2))


def _headings(z: Plane) -> Plane:
    """Return the unit directions at sample points, of the parabola through each and its neighbours."""
    h, slope = np.abs(np.diff(z)), np.diff(z) / np.abs(np.diff(z))
    if len(z) == 2:
        return np.repeat(slope, 2)
    inner = (slope[:-1] * h[1:] + slope[1:] * h[:-1]) / (h[1:] + h[:-1])
    heading = np.concatenate(([2.0 * slope[0] - inner[0]], inner, [2.0 * slope[-1] - inner[-1]]))
    unit: Plane = heading / np.abs(heading)
    return unit


def _fit_one(z: Plane, leaves: complex, arrives: complex, tol: float) -> tuple[Plane, int]:
    """Return one cubic's control points (4,) and the sample to cut it at, 0 where it stays within ``tol``.

    Each step changes the handles by least squares of the distance square to the curve, then moves the samples'
    parameters along it.
    """
    run = np.concatenate(([0.0], np.abs(np.diff(z)).cumsum()))
    u, handles = run / run[-1], np.full(2, run[-1] / 3.0)
    leaves, arrives = leaves / abs(leaves), arrives / abs(arrives)
    for step in range(_FIT_STEPS + 1):
        v = 1.0 - u
        control = np.array((z[0], z[0] + leaves * handles[0], z[-1] - arrives * handles[1], z[-1]))
        stray = control @ np.array((v * v * v, 3.0 * u * v * v, 3.0 * u * u * v, u * u * u)) - z
        gap = np.abs(stray)
        if gap.max() <= tol or step == _FIT_STEPS:
            break
        legs = 3.0 * np.diff(control)
        speed = legs[0] * v * v + 2.0 * legs[1] * u * v + legs[2] * u * u
        pace = np.maximum(np.abs(speed), TOLERANCE.same_point)
        heading = speed.conj() / pace
        square = np.array((leaves * 3.0 * u * v * v, -arrives * 3.0 * u * u * v)) * heading
        normal = square.imag @ square.imag.T + np.eye(2) * _FIT_DAMPING
        change = np.linalg.solve(normal, square.imag @ (stray * heading).imag)
        handles = np.maximum(handles - change, run[-1] / 64.0)
        u = np.clip(u - (stray * heading).real / pace, 0.0, 1.0)
    return control, 0 if len(z) == 2 or gap.max() <= tol else int(gap[1:-1].argmax()) + 1
