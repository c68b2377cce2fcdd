"""Cubics along the true parallel of smooth pieces of a path.

Each cubic starts and ends on the true parallel, in its direction; its two handle lengths are fitted to the
parallel by least squares of the distance square to it, and pieces that still stray are halved. Points of the
plane are complex numbers here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import accumulate, chain, pairwise
from operator import itemgetter

import numpy as np
import numpy.typing as npt

from drafting.geometry.handles import Ends, Plane, across, along, lengthen_handles, size_of
from drafting.geometry.measure import Array, Coefficients, Table, direction, is_straight
from drafting.geometry.shape import line, quadratic_roots
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

Piece = tuple[int, float, float]
"""A segment of a path between two parameters."""
Part = tuple[int, int, int, float, float]
"""Part of a piece: which path, the piece's number there, its segment, and two parameters."""
Places = npt.NDArray[np.intp]

_U: Array = np.arange(1, 10) / 10.0
_HELD = 2.0**-20
_ALLOWED = 0.6 * TOLERANCE.offset  # the rest is left for what lies between the samples
_DEEPEST = 10
_STEPS = 4
_HOPELESS = 4.0  # strays this many times too far after two steps: halve it rather than go on
_SLOW = TOLERANCE.same_point


@dataclass(frozen=True, slots=True)
class Asked:
    """What a parallel is asked of: spans of a path's pieces, and how far to the right (mm)."""

    table: Table
    spans: tuple[tuple[Piece, ...], ...]
    d: float


def parallels(asked: Sequence[Asked]) -> list[list[Array] | None]:
    """Return for each path asked of the segments (n, 4, 2) of its spans' parallels; None if they can't be followed.

    Many are fitted in hardly more time than one.
    """
    curved = [
        (which, n, *part)
        for which, each in enumerate(asked)
        for n, piece in enumerate(chain.from_iterable(each.spans))
        if not is_straight(each.table.coefs[piece[0]])
        for part in _at_inflections(each.table.coefs[piece[0]], piece)
    ]
    fitted = _fit_parallels(asked, curved) if curved else {}
    return [_collect_parallels(each, fitted.get(which, {})) for which, each in enumerate(asked)]


def _collect_parallels(asked: Asked, fitted: Mapping[int, Array]) -> list[Array] | None:
    """Return the parallels of one path's spans, the curved pieces fitted, if all of them could be."""
    made: list[Array] = []
    n = 0
    for span in asked.spans:
        parts = []
        for piece in span:
            if n not in fitted and not is_straight(asked.table.coefs[piece[0]]):
                return None
            parts.append(fitted[n] if n in fitted else _shift_straight(asked.table, piece, asked.d))
            n += 1
        for a, b in pairwise(parts):
            a[-1, 3] = b[0, 0] = 0.5 * (a[-1, 3] + b[0, 0])  # tangents that differ by less than a corner
        made.append(np.concatenate(parts))
    return made


def _shift_straight(table: Table, piece: Piece, d: float) -> Array:
    i, t, u = piece
    shift = direction(table.coefs[i], 0.0).right * d
    a, b = table.point(i, t) + shift, table.point(i, u) + shift
    return np.array((line(a.x, a.y, b.x, b.y),))


def _fit_parallels(asked: Sequence[Asked], parts: Sequence[Part]) -> dict[int, dict[int, Array]]:
    """Return the fitted parallels by path and piece; those that can't be followed are left out."""
    coefs = [k for each in asked for k in each.table.coefs]
    first = list(accumulate((len(each.table.coefs) for each in asked), initial=0))
    owner = np.array([(which, n, first[which] + i) for which, n, i, _, _ in parts])
    low, high = np.array([part[3:] for part in parts]).T
    far = np.array([each.d for each in asked])
    found: dict[tuple[int, int], list[tuple[float, Plane]]] = {}
    for _ in range(_DEEPEST + 1):
        control, stray = _fit_handles(coefs, owner[:, 2], low, high, far[owner[:, 0]])
        good = stray <= _ALLOWED
        for (which, n, _), t, z in zip(owner[good].tolist(), low[good].tolist(), control[good], strict=True):
            found.setdefault((which, n), []).append((t, z))
        bad = ~good
        if not bad.any():
            break
        middle = 0.5 * (low[bad] + high[bad])
        low, high = np.concatenate((low[bad], middle)), np.concatenate((middle, high[bad]))
        owner = np.tile(owner[bad], (2, 1))
    else:
        for which, n, _ in owner.tolist():  # halved once more by now
            found.pop((which, n), None)
    out: dict[int, dict[int, Array]] = {}
    for (which, n), pieces in found.items():
        z = np.array([control for _, control in sorted(pieces, key=itemgetter(0))])
        out.setdefault(which, {})[n] = np.stack((z.real, z.imag), axis=2)
    return out


def _at_inflections(k: Coefficients, piece: Piece) -> list[Piece]:
    """Return a piece cut where it changes the side it bends to; one cubic seldom fits both sides."""
    ax, ay, bx, by, cx, cy = k[:6]
    ab, ca, cb = ax * by - ay * bx, cx * ay - cy * ax, cx * by - cy * bx
    i, low, high = piece
    margin = (high - low) / 16.0
    inside = [t for t in quadratic_roots(-3.0 * ab, 3.0 * ca, cb) if low + margin < t < high - margin]
    return [(i, t, u) for t, u in pairwise((low, *inside, high))]


def _fit_handles(coefs: Sequence[Coefficients], of: Places, low: Array, high: Array, d: Array) -> tuple[Plane, Array]:
    """Return control points (m, 4) along the parallels of cubics between parameters, and how far each strays (mm)."""
    every = np.array(coefs)[of]
    k = every[:, 0::2] + 1j * every[:, 1::2]
    z0, d0, h0 = _end(coefs, k, of, low, d)
    z3, d3, h3 = _end(coefs, k, of, high, d)
    ends, width = Ends(z0, d0, z3, d3), high - low
    first, last = h0 * width / 3.0, h3 * width / 3.0
    chord = size_of(z3 - z0) / 3.0
    first, last = np.where(first > 0.0, first, chord), np.where(last > 0.0, last, chord)
    t = low[:, None] + width[:, None] * _U
    bare, lead, trail = ends.spread(_U)
    for step in range(_STEPS + 1):
        q = bare + first[:, None] * lead + last[:, None] * trail
        z, heading, pace, bend = _frame(k, t, d)
        gap = q - z
        ahead = along(heading, gap)
        aside = across(heading, gap) - 0.5 * bend * ahead * ahead  # from the parallel as an arc
        stray = np.abs(aside).max(axis=1)
        hopeless = stray > (_ALLOWED * _HOPELESS if step > 1 else math.inf)
        if step == _STEPS or (step and (hopeless | (stray <= _ALLOWED)).all()):
            break
        longer = lengthen_handles(across(heading, lead), across(heading, trail), -aside, _HELD)
        first, last = np.maximum(first + longer[0], 0.0), np.maximum(last + longer[1], 0.0)
        reach = 0.25 * width[:, None]
        t = t + np.clip(ahead / np.maximum(pace, _SLOW), -reach, reach)
        t = np.clip(t, low[:, None], high[:, None])
    return ends.control(first, last), stray


def _frame(k: Plane, t: Array, far: Array) -> tuple[Plane, Plane, Array, Array]:
    """Return the parallel's points, directions, speeds and curvatures at parameters (m, n)."""
    a, b, c, z0 = (k[:, n : n + 1] for n in range(4))
    d = far[:, None]
    v = (3.0 * a * t + 2.0 * b) * t + c
    speed = np.maximum(size_of(v), _SLOW)
    heading = v / speed
    bend = across(v, 6.0 * a * t + 2.0 * b) / (speed * speed)
    pace = speed + d * bend
    return ((a * t + b) * t + c) * t + z0 - 1j * d * heading, heading, pace, bend / np.maximum(pace, _SLOW)


def _end(coefs: Sequence[Coefficients], k: Plane, of: Places, t: Array, d: Array) -> tuple[Plane, Plane, Array]:
    """Return the same at one parameter each; where a handle has no length, its limit."""
    points, headings, paces, _ = _frame(k, t[:, None], d)
    z, heading, pace = points[:, 0], headings[:, 0], paces[:, 0]
    for n in np.flatnonzero(size_of(heading) < 0.5):
        u = direction(coefs[of[n]], float(t[n]))
        z[n] += -1j * d[n] * (complex(u.x, u.y) - heading[n])
        heading[n], pace[n] = complex(u.x, u.y), 0.0
    return z, heading, pace
