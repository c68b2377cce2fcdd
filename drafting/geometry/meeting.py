"""Where two paths meet.

Straight lines are met exactly, and by a cubic equation; two curves by halving both until their tangents can
no longer be parallel, so that they meet once at most, and Newton's method from there.
"""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from drafting.geometry.crossing import Crossing, gap_to_hull, nearest_on, unit_roots
from drafting.geometry.measure import Array, Coefficients, Table, acceleration, is_straight, place, velocity
from drafting.geometry.point import Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

Places = npt.NDArray[np.int_]
_NEAR = TOLERANCE.crossing
_EXACT = TOLERANCE.crossing / 1000.0
_SHALLOW = TOLERANCE.joint * 100.0  # mm: nearer than this, a touch and a crossing at a grazing angle are one
_REACH = 1.0  # mm: how far from where two curves seem to touch the touch may lie
_SMALL = TOLERANCE.arc_length  # mm: arcs this short are straight to well below the crossing tolerance
_FIRST, _SECOND = [0, 0, 1, 1], [0, 1, 0, 1]  # which half of each arc, in the four pairs of halves
_CORNERS = np.array(list(zip(_FIRST, _SECOND, strict=True)), dtype=np.float64)
_CROWD = 400  # unresolved pairs of arcs; more means that the curves lie on one another


@dataclass(frozen=True, slots=True)
class SegmentHit:
    """A meeting of segment ``i`` at ``t`` with segment ``j`` at ``u`` ; ``sure`` if they cross there."""

    i: int
    t: float
    j: int
    u: float
    sure: bool


def crossings(a: Table, b: Table) -> tuple[Crossing, ...]:
    """Return where two paths cross or touch, in order along the first; of a shared stretch, its ends."""
    hits: list[SegmentHit] = []
    curved: list[tuple[int, int]] = []
    boxes_b = [_box(control) for control in b.control]
    for i, control in enumerate(a.control):
        box = _box(control)
        for j, other in enumerate(boxes_b):
            if box[0] > other[2] or other[0] > box[2] or box[1] > other[3] or other[1] > box[3]:
                continue
            if is_straight(a.coefs[i]):
                found = _line_and_any(a.coefs[i], b.coefs[j])
                hits += (SegmentHit(i, t, j, u, sure) for t, u, sure in found)
            elif is_straight(b.coefs[j]):
                found = _line_and_any(b.coefs[j], a.coefs[i])
                hits += (SegmentHit(i, t, j, u, sure) for u, t, sure in found)
            else:
                curved.append((i, j))
                hits += (SegmentHit(i, t, j, u, False) for t, u in _ends_on(a, i, b, j))
    if curved:
        hits += _curves(a, b, curved)
    return _distinct(a, b, hits)


def _box(control: list[list[float]]) -> tuple[float, float, float, float]:
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = control
    return (
        min(x0, x1, x2, x3) - _NEAR,
        min(y0, y1, y2, y3) - _NEAR,
        max(x0, x1, x2, x3) + _NEAR,
        max(y0, y1, y2, y3) + _NEAR,
    )


def _distinct(a: Table, b: Table, hits: list[SegmentHit]) -> tuple[Crossing, ...]:
    """Return one crossing for each place, in order; crossings go before touches at a grazing angle."""
    ring_a, ring_b = _is_ring(a), _is_ring(b)
    kept: list[Crossing] = []
    for hit in sorted(hits, key=lambda hit: not hit.sure):
        s, t = a.length_at(hit.i, hit.t), b.length_at(hit.j, hit.u)
        s = 0.0 if ring_a and a.total - s <= _NEAR else s
        t = 0.0 if ring_b and b.total - t <= _NEAR else t
        gap = 10.0 * _NEAR if hit.sure else _SHALLOW
        if not any(abs(c.s - s) <= gap and abs(c.t - t) <= gap for c in kept):
            kept.append(Crossing(s, t, a.point(hit.i, hit.t)))
    return tuple(sorted(kept, key=lambda c: c.s))


def _is_ring(table: Table) -> bool:
    (x0, y0), (x1, y1) = table.control[0][0], table.control[-1][3]
    return math.hypot(x1 - x0, y1 - y0) <= _NEAR


def _line_and_any(line: Coefficients, k: Coefficients) -> list[tuple[float, float, bool]]:
    """Return (parameter on the line, on the segment, sure) of each meeting of a line with a segment."""
    cx, cy, x0, y0 = line[4:]
    size = math.hypot(cx, cy)
    if size <= _NEAR:
        return []
    ux, uy = cx / size, cy / size
    a, b, c, d = (ux * k[n + 1] - uy * k[n] for n in (0, 2, 4, 6))
    d -= ux * y0 - uy * x0
    if is_straight(k) and abs(d) <= _NEAR and abs(c + d) <= _NEAR:
        return _shared_ends(line, k)
    found = []
    for u in unit_roots(a, b, c, d):
        x, y = place(k, u)
        along = (x - x0) * ux + (y - y0) * uy
        if -_NEAR <= along <= size + _NEAR:
            found.append((min(1.0, max(0.0, along / size)), u, True))
        elif -_SHALLOW <= along <= size + _SHALLOW:
            t = 0.0 if along < 0.0 else 1.0
            end = Point(x0 + t * cx, y0 + t * cy)
            near, gap = nearest_on(k, end)
            if gap <= _NEAR:
                found.append((t, near, False))
    return found


def _shared_ends(line: Coefficients, k: Coefficients) -> list[tuple[float, float, bool]]:
    """Return the ends of the stretch that two lines, one along the other, have in common."""
    cx, cy, x0, y0 = line[4:]
    square = cx * cx + cy * cy
    size = math.sqrt(square)
    t0 = ((k[6] - x0) * cx + (k[7] - y0) * cy) / square
    t1 = ((k[6] + k[4] - x0) * cx + (k[7] + k[5] - y0) * cy) / square
    if abs(t1 - t0) * size <= _NEAR:
        return []
    low, high = max(0.0, min(t0, t1)), min(1.0, max(t0, t1))
    if (low - high) * size > _NEAR:
        return []
    return [(t, min(1.0, max(0.0, (t - t0) / (t1 - t0))), False) for t in (low, high)]


def _ends_on(a: Table, i: int, b: Table, j: int) -> list[tuple[float, float]]:
    """Return the parameters where an end of one curve lies on the other."""
    found = []
    for t in (0.0, 1.0):
        end = a.point(i, t)
        if gap_to_hull(b.control[j], end) <= _NEAR and (near := nearest_on(b.coefs[j], end))[1] <= _NEAR:
            found.append((t, near[0]))
        end = b.point(j, t)
        if gap_to_hull(a.control[i], end) <= _NEAR and (near := nearest_on(a.coefs[i], end))[1] <= _NEAR:
            found.append((near[0], t))
    return found


def _curves(a: Table, b: Table, pairs: list[tuple[int, int]]) -> list[SegmentHit]:
    """Return the meetings of pairs of curved segments; pairs of arcs are arrays of shape (m, 2, 4, 2)."""
    index = np.array(pairs)
    arcs = np.array([(a.control[i], b.control[j]) for i, j in pairs])
    where, sizes = np.zeros((len(pairs), 2)), np.full(len(pairs), math.inf)
    width = 1.0
    hits: list[SegmentHit] = []
    touches: list[SegmentHit] = []
    while 0 < len(index) <= _CROWD:
        guess, ready = _guesses(arcs)
        small = sizes < _SMALL
        kept = np.ones(len(index), dtype=bool)
        for n in np.flatnonzero(ready | small):
            (i, j), middle = index[n].tolist(), (where[n] + width / 2.0).tolist()
            start = (where[n] + width * guess[n]).tolist()
            solved = _newton(a.coefs[i], b.coefs[j], *start) if ready[n] else None
            if solved and all(abs(x - m) <= width for x, m in zip(solved, middle, strict=True)):
                hits.append(SegmentHit(i, solved[0], j, solved[1], True))
                kept[n] = False
            elif small[n]:
                touches.append(SegmentHit(i, middle[0], j, middle[1], False))
                kept[n] = False
        width /= 2.0
        index, where, arcs, sizes = _halve_arcs(index[kept], where[kept], arcs[kept], width)
    return hits + [touch for hit in touches if (touch := _touch(a, b, hit)) is not None]


def _halve_arcs(index: Places, where: Array, arcs: Array, width: float) -> tuple[Places, Array, Array, Array]:
    """Return the pairs of half arcs whose boxes meet: their segments, parameters, points and sizes (mm)."""
    p0, p1, p2, p3 = (arcs[:, :, i] for i in range(4))
    q0, q1, q2 = 0.5 * (p0 + p1), 0.5 * (p1 + p2), 0.5 * (p2 + p3)  # de Casteljau
    r0, r1 = 0.5 * (q0 + q1), 0.5 * (q1 + q2)
    middle = 0.5 * (r0 + r1)
    halves = np.stack((p0, q0, r0, middle, middle, r1, q2, p3), axis=2).reshape(-1, 2, 2, 4, 2)
    arcs = np.stack((halves[:, 0, _FIRST], halves[:, 1, _SECOND]), axis=2).reshape(-1, 2, 4, 2)
    low, high = arcs.min(axis=2), arcs.max(axis=2)
    keep = (low <= high[:, ::-1] + _NEAR).all(axis=(1, 2))
    where = (where[:, None] + width * _CORNERS).reshape(-1, 2)
    return (
        index.repeat(4, axis=0)[keep],
        where[keep],
        arcs[keep],
        (high - low)[keep].max(axis=(1, 2), initial=0.0),
    )


def _guesses(arcs: Array) -> tuple[Array, npt.NDArray[np.bool_]]:
    """Return where the chords of each pair cross, as shares (m, 2), and if Newton's method may start there.

    It may if no direction of one arc is parallel to one of the other, so that they meet once at most, and if
    the chords cross within themselves or not far outside.
    """
    legs = arcs[:, :, 1:] - arcs[:, :, :-1]
    first, second = legs[:, 0, :, None], legs[:, 1, None]
    cross = (first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]).reshape(-1, 9)
    once = (cross.min(axis=1) > 0.0) | (cross.max(axis=1) < 0.0)
    chord, gap = arcs[:, :, 3] - arcs[:, :, 0], arcs[:, 1, 0] - arcs[:, 0, 0]
    across = np.where(once, cross.sum(axis=1), 1.0)  # the sum of the legs is the chord
    share = (gap[:, None, 0] * chord[:, ::-1, 1] - gap[:, None, 1] * chord[:, ::-1, 0]) / across[:, None]
    return share, once & (np.abs(share - 0.5).max(axis=1) < 1.0)


def _newton(a: Coefficients, b: Coefficients, t: float, u: float) -> tuple[float, float] | None:
    """Return the parameters in [0, 1] at which two curves meet, from a guess; None if they don't near it."""
    for _ in range(12):
        (ax, ay), (bx, by) = place(a, t), place(b, u)
        dx, dy = bx - ax, by - ay
        (vx, vy), (wx, wy) = velocity(a, t), velocity(b, u)
        across = vx * wy - vy * wx
        if across == 0.0:
            return None
        dt, du = (dx * wy - dy * wx) / across, (dx * vy - dy * vx) / across
        t, u = t + dt, u + du
        if not (-1.0 < t < 2.0 and -1.0 < u < 2.0):
            return None
        if math.hypot(vx, vy) * abs(dt) < _EXACT and math.hypot(wx, wy) * abs(du) < _EXACT:
            slack_t, slack_u = _NEAR / max(math.hypot(vx, vy), _NEAR), _NEAR / max(math.hypot(wx, wy), _NEAR)
            if -slack_t <= t <= 1.0 + slack_t and -slack_u <= u <= 1.0 + slack_u:
                return min(1.0, max(0.0, t)), min(1.0, max(0.0, u))
            return None
    return None


def _touch(a: Table, b: Table, hit: SegmentHit) -> SegmentHit | None:
    """Return the place near a hit where two curves are nearest, if that is within the crossing tolerance.

    There they run parallel and square to the gap between them; Newton's method on both conditions.
    """
    ka, kb = a.coefs[hit.i], b.coefs[hit.j]
    t, u = hit.t, hit.u
    for _ in range(8):
        p, v, acc = _motion(ka, t)
        q, w, bcc = _motion(kb, u)
        gap, straight = q - p, (v.conjugate() * w).imag
        along = (gap * v.conjugate()).real
        ft, fu = (gap * acc.conjugate()).real - abs(v) ** 2, (w * v.conjugate()).real
        gt, gu = (acc.conjugate() * w).imag, (v.conjugate() * bcc).imag
        det = ft * gu - fu * gt
        if det == 0.0:
            break
        dt, du = (along * gu - straight * fu) / det, (straight * ft - along * gt) / det
        t, u = min(1.0, max(0.0, t - dt)), min(1.0, max(0.0, u - du))
    p, v, _ = _motion(ka, t)
    q, _, _ = _motion(kb, u)
    if abs(q - p) > _NEAR or abs(t - hit.t) * abs(v) > _REACH:
        return None
    return SegmentHit(hit.i, t, hit.j, u, False)


def _motion(k: Coefficients, t: float) -> tuple[complex, complex, complex]:
    """Return place, velocity and acceleration at a parameter, as complex numbers."""
    return complex(*place(k, t)), complex(*velocity(k, t)), complex(*acceleration(k, t))
