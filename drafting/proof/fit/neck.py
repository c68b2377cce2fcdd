"""The close round neck against the neck base: its seam, and how much deeper than half its width the front is.

A neckline that is cut wider or lower than the neck base is a design's own: only that it is round is judged, where it
runs level at the centre and so is no V.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drafting.garment import Brief, Face, Garment, Line, Piece, Role, Side
from drafting.garment.darts import darts_of, mouth_edges
from drafting.garment.surface import hanging_pieces
from drafting.geometry import Path, turn
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.neckline_lines import NECK_DEPTHS
from drafting.redraw.shapes import DEEP, NECK_HOLLOW, share_of_hollow
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

NECK_SEAM = trade_row((0.0, 20.0), "mm", "derived", "a high round neck measures 0 to 2 cm more than the neck base")
"""By which a close neck's seam is longer than the neck base girth."""

CUT_FROM = TradeValue(30.0, "mm", "from memory")
"""More than the neck base from which a neckline is a design's own."""


def neck_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How hollow a deep neckline is; the seam of a close neck, and its depth in front."""
    hanging = hanging_pieces(garment)
    worn = [piece for piece in garment.pieces if piece.face and piece.name not in hanging]
    for piece in worn:
        yield from _hollow_rows(piece)
    seam = math.fsum(line.path.length for piece in worn for line in piece.lines(role=Role.NECKLINE))
    base = brief.body["neck_base_girth"]
    if not base - CUT_FROM <= seam <= base + CUT_FROM:
        return
    least, most = _to_the_line(NECK_SEAM)
    yield FitRow("neck_seam", "neck", "neck seam", base, seam, least=least, most=most, severity=Severity.NOTE)
    fronts = [piece for piece in worn if piece.face is Face.FRONT and piece.lines(role=Role.NECKLINE)]
    if len(fronts) == 1:
        width, depth = _take_front(fronts[0])
        title = "neck in front, its depth against half its width"
        low, high = _to_the_line(NECK_DEPTHS)
        yield FitRow(
            "neck_depth",
            fronts[0].name,
            title,
            width,
            depth,
            least=low,
            most=high,
            severity=Severity.NOTE,
            of_body=False,
        )


def _hollow_rows(piece: Piece) -> Iterator[FitRow]:
    """How far each half of a round neckline lies within its chord, darts folded shut, as a share of that."""
    for side in (Side.LEFT, Side.RIGHT):
        lines = piece.lines(role=Role.NECKLINE, side=side)
        path = _fold_darts(piece, lines[0]) if len(lines) == 1 else None
        if path is None or not _is_deep_and_round(path):
            continue
        across, down = (abs(path.end.x - path.start.x), abs(path.end.y - path.start.y))
        chord = path.end - path.start
        _, low, _, high = path.turned(-chord.angle, path.start).bounds
        yield FitRow(
            "neck_hollow",
            f"{piece.name}.{lines[0].name}",
            say("{side} {face} neckline, how hollow", side=side, face=piece.face),
            NECK_HOLLOW * share_of_hollow(across, down),
            max(high - path.start.y, path.start.y - low) / chord.length,
            least=0.0,
            measure="share",
            severity=Severity.WARNING,
            remedy="raise the neckline, or open it more: so deep and narrow it looks like a V",
            of_body=False,
        )


def _is_deep_and_round(path: Path) -> bool:
    """Whether half a neckline, run either way, meets its centre level and is no shallow one."""
    outer, centre = sorted((path.start, path.end), key=lambda end: -abs(end.x))
    at = path.tangent(0.0 if centre is path.start else path.length)
    return abs(at.y) < TOLERANCE.smooth_join and outer.y - centre.y > DEEP * abs(outer.x - centre.x)


def _take_front(front: Piece) -> tuple[float, float]:
    """Half the neck's width, and its depth below the higher side neck point, its darts folded shut."""
    bounds = [_fold_darts(front, line).bounds for line in front.lines(role=Role.NECKLINE)]
    left, low = (min(each[i] for each in bounds) for i in (0, 1))
    right, high = (max(each[i] for each in bounds) for i in (2, 3))
    return (right - left) / 2.0, high - low


def _fold_darts(front: Piece, line: Line) -> Path:
    """A part of the neckline as it lies with the darts between it and the centre folded shut, the outermost first."""
    path, middle = line.path, abs(line.path.at(line.path.length / 2.0).x)
    mouths = [
        (*sorted((dart.mouth_a, dart.mouth_b), key=lambda end: abs(end.x)), dart.apex)
        for dart in darts_of(front)
        if not dart.inside
        and dart.side is line.side
        and {edge.role for edge in mouth_edges(front, dart)} == {Role.NECKLINE}
    ]
    for inner, outer, apex in sorted(mouths, key=lambda each: -abs(each[0].x)):
        if abs(inner.x) < middle:
            path = path.turned(turn(outer - apex, inner - apex), apex)
    return path


def _to_the_line(bounds: Sequence[float]) -> tuple[float, float]:
    """Bounds of which a figure that lies right on one isn't beyond."""
    return bounds[0] - TOLERANCE.sewn_length, bounds[1] + TOLERANCE.sewn_length
