"""Sleeves as they hang from the shoulders, each with its cuff: a tube laid flat, half its girth wide."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import numpy as np

from drafting.flat.shapes import FlatKind, FlatShape, Points, sample_path
from drafting.garment import Garment, Piece, Role, Side, Use
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.trade import TradeValue

SHORT_AT, LONG_AT = (
    TradeValue(math.radians(40.0), "rad", "from memory"),
    TradeValue(math.radians(20.0), "rad", "from memory"),
)
"""The angle from upright at which a short and a long sleeve hang."""
SHORT_FROM, LONG_FROM = TradeValue(100.0, "mm", "from memory"), TradeValue(350.0, "mm", "from memory")
"""The underarm seam of a short sleeve and of a long one."""


@dataclass(frozen=True, slots=True)
class HungSleeve:
    """A sleeve's own figures (mm): its crown above the underarm, the seam below it, and half its girth at its ends."""

    cap: float
    below: float
    top: float
    end: float

    @property
    def angle(self) -> float:
        """From upright (rad)."""
        share = (self.below - SHORT_FROM) / (LONG_FROM - SHORT_FROM)
        return float(SHORT_AT + (LONG_AT - SHORT_AT) * min(max(share, 0.0), 1.0))


def find_sleeve(garment: Garment, side: Side) -> tuple[HungSleeve, frozenset[str]] | None:
    """Return a side's sleeve and the names of its pieces; None where there is none."""
    pieces = tuple(piece for piece in garment.pieces if piece.side is side and any(piece.lines(role=Role.CAP)))
    if not pieces:
        return None
    caps = [line.path.bounds for piece in pieces for line in piece.lines(role=Role.CAP)]
    ends = [line.path for piece in pieces for line in piece.lines(role=Role.WRIST)]
    if not ends:
        return None
    low, high = min(box[1] for box in caps), max(box[3] for box in caps)
    top = sum(box[2] - box[0] for box in caps) / 2.0
    hem = sum((path.bounds[1] + path.bounds[3]) / 2.0 for path in ends) / len(ends)
    sleeve = HungSleeve(high - low, max(low - hem, 1.0), top, sum(path.length for path in ends) / 2.0)
    return sleeve, frozenset(piece.name for piece in pieces)


def hang_sleeve(garment: Garment, side: Side, armhole: Points, hems: Mapping[str, float]) -> Iterator[FlatShape]:
    """Yield a sleeve, and its cuff, as they hang from an armhole's course in the flat."""
    found = find_sleeve(garment, side)
    if found is None:
        return
    sleeve, names = found
    shoulder, under = armhole[np.argmax(armhole[:, 1])], armhole[np.argmin(armhole[:, 1])]
    way = 1.0 if under[0] > 0.0 else -1.0
    turned = sleeve.angle
    down, inwards = (
        np.array([way * math.sin(turned), -math.cos(turned)]),
        np.array([-way * math.cos(turned), -math.sin(turned)]),
    )
    outer = shoulder + down * (sleeve.cap + sleeve.below)
    inner = outer + inwards * sleeve.end
    crown = _round_crown(shoulder, outer, down, way, sleeve)
    yield from _tube(np.concatenate([crown, [inner, under]]), np.concatenate([crown, [inner]]), [inner, under])
    depth = hems.get(f"wrist-{side}", 0.0)
    if depth:
        yield FlatShape(FlatKind.STITCHES, np.array([outer, inner]) - down * depth)
    for cuff in _find_cuffs(garment, names):
        yield from _cuff(cuff, outer, inner, down)


def _round_crown(shoulder: Points, outer: Points, down: Points, way: float, sleeve: HungSleeve) -> Points:
    """The outer edge: out from the shoulder, round, and down."""
    out = np.array([way, -0.35]) / math.hypot(1.0, 0.35)
    rounded = sleeve.cap * 0.35
    turn = (shoulder, shoulder + out * rounded, outer - down * (sleeve.below + rounded), outer)
    return sample_path(Path.cubic(*(Point(float(x), float(y)) for x, y in turn)))


def _tube(area: Points, edge: Points, inner: list[Points]) -> Iterator[FlatShape]:
    yield FlatShape(FlatKind.CLOTH, area)
    yield FlatShape(FlatKind.EDGE, edge)
    yield FlatShape(FlatKind.EDGE, np.array(inner))


def _find_cuffs(garment: Garment, sleeve: frozenset[str]) -> Iterator[Piece]:
    """The cuffs or bands sewn to the wrist of a sleeve."""
    for seam in garment.seams:
        uses: list[Use] = list(seam.uses())
        if any(use.piece in sleeve and garment.line(use).role is Role.WRIST for use in uses):
            names = dict.fromkeys(use.piece for use in uses if garment.line(use).role is Role.BAND)
            yield from (garment.piece(name) for name in names)


def _cuff(cuff: Piece, outer: Points, inner: Points, down: Points) -> Iterator[FlatShape]:
    edge = sum(line.path.length for line in cuff.lines(role=Role.EDGE)) / 2.0
    high = max(line.path.length for line in cuff.lines(role=Role.END))
    middle, across = (outer + inner) / 2.0, (inner - outer) / max(float(np.hypot(*(inner - outer))), 1.0)
    edge = (edge + float(np.hypot(*(inner - outer)))) / 2.0  # it is stretched as it is worn
    low = middle + down * high
    ring = np.array([outer, low - across * edge / 2.0, low + across * edge / 2.0, inner])
    yield FlatShape(FlatKind.CLOTH, ring)
    yield FlatShape(FlatKind.EDGE, ring)
    yield FlatShape(FlatKind.SEAM, ring[[0, 3]])
