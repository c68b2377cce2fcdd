"""Bands and bindings round the edges of a flat, as high as they are when finished."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from types import MappingProxyType

import numpy as np

from drafting.flat.shapes import FlatKind, FlatShape, Points, join_points, sample_path
from drafting.garment import Fate, Garment, Line, Piece, Role, Seam, Use
from drafting.garment.laying import Striped
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

Lies = Callable[[Use, Points], Points]
"""What takes points of a line of a piece to where they lie in the flat."""

FINEST_DRAWN = TradeValue(6.0, "mm", "derived", "by drawing")
"""Of a repeat that is drawn: a finer one is grey on a flat."""

SHARPEST_DRAWN = TradeValue(0.15, "share", "derived", "by drawing")
"""Of 1 + cos of a turn at least, for a corner to be drawn as one point."""

TRUE_PARALLEL = TradeValue(0.98, "share", "derived", "by drawing")
"""Of a parallel's distance that each point of it keeps from its course: one that keeps less lies past a corner."""

_LEVEL = (Role.HEM, Role.WAIST)
EDGES_MEET = TradeValue(4.0, "mm", "derived", "by drawing")
"""Of a gap between edges that is none: the eye sees no less on a flat."""


def draw_bands(
    garment: Garment,
    names: frozenset[str],
    lies: Lies,
    roles: frozenset[Role] = frozenset(Role),
    striped: Striped = MappingProxyType({}),
) -> Iterator[FlatShape]:
    """Yield the bands sewn to edges of these pieces that are one of these, each edge in one stretch."""
    for seam in garment.seams:
        band = find_band(garment, seam)
        if band is not None:
            for stretch in _stretches(garment, seam, names, lies):
                if garment.line(stretch[0]).role in roles:
                    yield from _band(garment, stretch, band, lies, striped)


@dataclass(frozen=True, slots=True)
class BandShown:
    """The band of a seam: its pieces, how high it is (mm), and how long its outer edge is to what it is sewn to."""

    pieces: tuple[Piece, ...]
    high: float
    ratio: float

    @property
    def edges(self) -> tuple[Use, ...]:
        """The outer, finished edges."""
        return tuple(Use(piece.name, line.name) for piece in self.pieces for line in piece.lines(role=Role.EDGE))


def find_band(garment: Garment, seam: Seam) -> BandShown | None:
    """Return the band that a seam sews to an edge, None where it sews none or a cuff."""
    uses = tuple(seam.uses())
    names = dict.fromkeys(use.piece for use in uses if _is_band(garment.piece(use.piece)))
    if not names or any(garment.line(use).role is Role.WRIST for use in uses):
        return None
    pieces = tuple(garment.piece(name) for name in names)
    edge = sum(line.path.length for piece in pieces for line in piece.lines(role=Role.EDGE))
    box = [line.path.bounds for piece in pieces for line in piece.ring]
    sewn = sum(garment.line(use).path.length for use in uses if use.piece not in names)
    return BandShown(pieces, max(b[3] for b in box) - min(b[1] for b in box), edge / max(sewn, 1.0))


def _is_band(piece: Piece) -> bool:
    """Whether a piece is a strip folded along its outer edge: a facing's edge is raw."""
    return not piece.face and any(line.fate is Fate.FOLDED for line in piece.lines(role=Role.EDGE))


def _stretches(garment: Garment, seam: Seam, names: frozenset[str], lies: Lies) -> Iterator[list[Use]]:
    """The edges of a seam that lie on these pieces, with the cloth to their left, those that meet in one list."""
    left = [Use(u.piece, u.line) for section in seam.sections for u in section.plies[0] if u.piece in names]
    while left:
        found = [left.pop(0)]
        while (after := next((u for u in left if _follows(garment, found[-1], u, lies)), None)) is not None:
            found.append(after)
            left.remove(after)
        while (before := next((u for u in left if _follows(garment, u, found[0], lies)), None)) is not None:
            found.insert(0, before)
            left.remove(before)
        yield found


def _follows(garment: Garment, one: Use, two: Use, lies: Lies) -> bool:
    """Whether one edge begins where another ends, darts between them shut."""
    end = lies(one, sample_path(garment.path(one))[-1:])
    return bool(np.hypot(*(lies(two, sample_path(garment.path(two))[:1]) - end).T).max() < EDGES_MEET)


def _band(garment: Garment, uses: list[Use], band: BandShown, lies: Lies, striped: Striped) -> Iterator[FlatShape]:
    lines: list[Line] = [garment.line(use) for use in uses]
    course = _once(join_points([lies(use, sample_path(garment.path(use))) for use in uses]))
    if lines[0].fate is Fate.BOUND:
        inner = move_aside(course, -band.high)
        yield FlatShape(FlatKind.CLOTH, np.concatenate([course, inner[::-1]]), band.pieces[0].name)
        yield from (FlatShape(FlatKind.STRIPE, move_aside(course, off - band.high)) for off in _stripes(band, striped))
        yield FlatShape(FlatKind.EDGE, course, uses=band.edges)
        yield FlatShape(FlatKind.SEAM, inner)
        return
    outer = move_aside(course, band.high)
    if lines[0].role in _LEVEL:
        middle = outer[:, 0].mean()
        worn = min((1.0 + band.ratio) / 2.0, 1.0)  # it is stretched as it is worn
        outer[:, 0] = middle + (outer[:, 0] - middle) * worn
    yield FlatShape(FlatKind.CLOTH, np.concatenate([course, outer[::-1]]), band.pieces[0].name)
    for off in _stripes(band, striped):
        stripe = move_aside(course, off)
        if lines[0].role in _LEVEL:
            stripe[:, 0] = middle + (stripe[:, 0] - middle) * (1.0 + (worn - 1.0) * off / band.high)
        yield FlatShape(FlatKind.STRIPE, stripe)
    yield FlatShape(FlatKind.EDGE, np.concatenate([course[:1], outer, course[-1:]]), uses=band.edges)
    yield FlatShape(FlatKind.SEAM, course)


def _stripes(band: BandShown, striped: Striped) -> Iterator[float]:
    """How far from its seam each stripe runs along a band (mm): of one cut across the cloth, as bands mostly are."""
    piece = band.pieces[0]
    placed = () if piece.laid else striped.get(piece.name, ())
    stripe, shift = next((each for each in placed if each[0].direction == "across"), (None, 0.0))
    sewn = [line for line in piece.ring if line.role is Role.BAND]
    if stripe is None or stripe.repeat < FINEST_DRAWN or not sewn:
        return
    seam = sewn[0].path.start.y
    low, high = piece.outline.bounds[1], piece.outline.bounds[3]
    for number in range(math.ceil((low + shift) / stripe.repeat), math.floor((high + shift) / stripe.repeat) + 1):
        off = abs(number * stripe.repeat - shift - seam)
        if 0.0 < off < band.high:
            yield off


def _once(course: Points) -> Points:
    """A course without the points in which two of its lines meet a second time."""
    steps = np.hypot(*np.diff(course, axis=0).T)
    return np.asarray(course[np.concatenate([[True], steps > TOLERANCE.sewn_length])])


def move_aside(course: Points, by: float) -> Points:
    """Return a course moved to its right (mm), away from the cloth to the left of it, corners kept sharp."""
    units = np.diff(course, axis=0)
    units = units / np.hypot(*units.T)[:, None]
    normals = np.stack([units[:, 1], -units[:, 0]], axis=1)
    before, after = np.concatenate([normals[:1], normals]), np.concatenate([normals, normals[-1:]])
    middle = before + after
    size = np.maximum((middle**2).sum(axis=1) / 2.0, SHARPEST_DRAWN)
    moved = course + middle / size[:, None] * by
    near = np.sqrt(((moved[:, None] - course[None]) ** 2).sum(axis=2).min(axis=1))
    return np.asarray(moved[near > abs(by) * TRUE_PARALLEL])
