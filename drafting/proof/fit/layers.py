"""A layer that hangs over a shoulder: how far it rounds outside the body's shoulder point, and how it follows it.

The shoulder beneath has its own slope held against the body's; the layer's is held against that.

A layer whose edge passes below the shoulder point is too short over the shoulder: worn, it rides up and in.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.garment import Brief, Garment, Line, Piece, Role, Side, hanging_pieces
from drafting.garment.departures import sum_departures
from drafting.geometry import Path, Point
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.record import dataclass
from drafting.saying import say
from drafting.trade import TradeValue, trade_row

LEAST_OUTSIDE, MOST_OUTSIDE = trade_row((5.0, 10.0), "mm", "from memory")
"""Outside the shoulder point, at least and at most, that an overlay or a cape rounds."""

MOST_BEYOND = TradeValue(15.0, "mm", "derived", "as far as it rounds, and aslant")
"""Beyond the shoulder point at most that its edge lies on the way there from the V."""

LAYER_SLOPE_OFF = TradeValue(math.radians(5.0), "rad", "from memory")
"""By which a layer may be flatter or steeper than the shoulder beneath asks, unwarned."""

HEM_DIPS = trade_row((10.0, 20.0), "mm", "from memory", "a hem falls to the side in one sweep")
"""By which a layer's hem may hang lower than its caught end, in a note beyond the first, warned beyond the second."""

MOVED = "ask for less of what moves the shoulder, or let it come before the layer, which is drafted for it"
UNMOVED = Retake(("shoulder_slope",), "{again}; if it is right, look on the toile how the layer lies over the shoulder")


@dataclass(frozen=True, slots=True)
class LayerTaken:
    """A layer over a shoulder on one face: its edge, the shoulder point, and its neck's ends."""

    edge: Path
    neck: Point
    point: Point
    v: Point

    @property
    def outside(self) -> float:
        """How far outside the shoulder point the edge passes (mm); less than 0 where it passes inside."""
        s, off = self.edge.nearest(self.point)
        across = self.edge.at(s) - self.v
        return math.copysign(off, across.length - (self.point - self.v).length)

    @property
    def beyond(self) -> float:
        """How far from the shoulder point the edge lies on the straight way there from the V (mm)."""
        way = self.point - self.v
        found = self.edge.crossings(Path.straight(self.v, self.v + way * 2.0))
        return max((cross.t for cross in found), default=0.0) - way.length

    @property
    def slope(self) -> float:
        """How steep it is from the neck to where it passes the shoulder point (rad)."""
        end = self.edge.at(self.edge.nearest(self.point)[0])
        return math.atan2(self.neck.y - end.y, abs(end.x - self.neck.x))


def layer_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The layers that hang over a shoulder, each on its face: how far outside the point, how long, how steep."""
    hanging = hanging_pieces(garment)
    for piece in garment.pieces if hanging else ():
        if piece.name in hanging and (taken := take_layer(garment, brief, piece)) is not None:
            yield from _rows(garment, piece, taken)


def take_layer(garment: Garment, brief: Brief, layer: Piece) -> LayerTaken | None:
    """Return the figures of a layer over a shoulder; None where it covers none, or nothing of that lies beneath."""
    hanging = hanging_pieces(garment)
    edges, necks = layer.lines(role=Role.SHOULDER), layer.lines(role=Role.NECKLINE)
    if len(edges) != 1 or len(necks) != 1:
        return None
    side = edges[0].side
    beneath = [
        line.path
        for piece in garment.pieces
        if piece.name not in hanging
        for line in piece.lines(role=Role.SHOULDER, side=side, face=layer.face)
    ]
    return _take(garment, brief, edges[0], necks[0], beneath) if beneath else None


def _take(garment: Garment, brief: Brief, edge: Line, neckline: Line, beneath: list[Path]) -> LayerTaken:
    ends = sorted((p for path in beneath for p in (path.start, path.end)), key=lambda p: abs(p.x))
    neck, end = ends[0], ends[-1]
    along = (end - neck).unit
    half = garment.neck_base.half_width if garment.neck_base else abs(neck.x)
    bone = brief.body["shoulder_length"] - (abs(neck.x) - half) / abs(along.x)
    point = neck + along * max(bone, neck.distance(end))
    v = max((neckline.path.start, neckline.path.end), key=neck.distance)
    return LayerTaken(edge.path, neck, point, v)


def _rows(garment: Garment, piece: Piece, taken: LayerTaken) -> Iterator[FitRow]:
    face, side = piece.face, piece.lines(role=Role.SHOULDER)[0].side
    remedy = _remedy(garment, side)
    title = say("{face} overlay edge, beyond the shoulder point", face=face)
    yield FitRow(
        "layer_outside",
        piece.name,
        title,
        0.0,
        taken.outside,
        0.0,
        LEAST_OUTSIDE,
        MOST_OUTSIDE,
        remedy=remedy,
        of_body=False,
    )
    way, title = (taken.point - taken.v).length, say("{face} overlay edge, from the V over the shoulder", face=face)
    own = way + taken.beyond
    yield FitRow("layer_length", piece.name, title, way, own, 0.0, LEAST_OUTSIDE, MOST_BEYOND, remedy=remedy)
    yield _slope_row(garment, piece, side, taken)
    yield from _hem_rows(piece)


def _hem_rows(piece: Piece) -> Iterator[FitRow]:
    """By how much the hem dips below the end at which it is caught in the side seam, to rise to that again."""
    hems, caught = piece.lines(role=Role.HEM), piece.lines(role=Role.SIDE)
    if len(hems) != 1 or not caught:
        return
    end = min(line.path.bounds[1] for line in caught)
    dips, (noted, most) = end - hems[0].path.bounds[1], HEM_DIPS
    title = say("{face} overlay hem, below its caught end", face=piece.face)
    severity = Severity.WARNING if dips > most else Severity.NOTE
    remedy = "catch another length of the side seam, or make the overlay shorter: caught, front_length or back_length"
    yield FitRow(
        "layer_hem",
        piece.name,
        title,
        0.0,
        max(dips, 0.0),
        0.0,
        0.0,
        noted,
        severity=severity,
        remedy=remedy,
        of_body=False,
    )


def _remedy(garment: Garment, side: Side) -> str | Retake:
    """Where a change moved the shoulder beneath, that it comes first; else the slope is what the layer was drawn by."""
    moved = any(sum_departures(garment, what, side.value) for what in ("shoulder_slope", "shoulder_length"))
    return MOVED if moved else UNMOVED


def _slope_row(garment: Garment, piece: Piece, side: Side, taken: LayerTaken) -> FitRow:
    """As steep as the shoulder beneath lies on that face, less what it lifts off that to round outside its point."""
    lift = math.atan2((LEAST_OUTSIDE + MOST_OUTSIDE) / 2.0, taken.neck.distance(taken.point))
    title = say("{face} overlay over the {side} shoulder, slope", face=piece.face, side=side)
    beneath = taken.point - taken.neck
    return FitRow(
        "layer_slope",
        piece.name,
        title,
        math.atan2(-beneath.y, abs(beneath.x)),
        taken.slope,
        -lift,
        -LAYER_SLOPE_OFF,
        LAYER_SLOPE_OFF,
        "rad",
        Severity.WARNING,
        _remedy(garment, side),
        of_body=False,
    )
