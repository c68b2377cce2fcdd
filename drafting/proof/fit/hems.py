"""The lower edge of a knit body against the body at its height: a turned hem must not catch on the hip.

A hem that is no wider than the hip rides up on it, and the back above folds; a band may draw it in, for a band clings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.cloth import Fit, Kind
from drafting.garment import Brief, Fate, Garment, Line, Piece, Role, hanging_pieces
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.heights import body_pieces, is_skirt, lower_end
from drafting.trade import TradeValue

TURNED_EASE = TradeValue(20.0, "mm", "from memory", "2 to 5 cm")
"""Round the body at its height at least, that a turned hem has in a knit which isn't close."""

CLEAR_OF_HIP = TradeValue(50.0, "mm", "from memory")
"""From the hip's fullest at least, that a turned hem lies which is smaller: it holds there as it stretches."""

FREE = "too tight there, it rides up: let it flare, ask for more ease, or draw the hem in with a band"
CLEAR = "so near it rides up: let the garment end higher or lower, or draw the hem in with a band"


def hem_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The width of a knit body's lower edge, and how far from the hip's fullest one lies that is smaller."""
    trunk = [piece for piece in body_pieces(garment) if piece.name not in hanging_pieces(garment)]
    lines = [line for piece in trunk for line in piece.lines(role=Role.HEM)]
    if brief.cloth.kind is Kind.WOVEN or not lines or any(is_skirt(piece) for piece in trunk):
        return
    y = max(lower_end(piece) for piece in trunk if piece.lines(role=Role.HEM))
    body, own = girth_at(brief, y), math.fsum(line.path.length for line in lines)
    if body is None:
        return
    turned = all(line.fate is Fate.HEMMED for line in lines) and not _is_vented(trunk)
    clings = brief.fit is Fit.CLOSE and own < body
    yield _width(body, own, TURNED_EASE if turned and not clings else None)
    if turned and clings:
        yield _clear(brief, y)


def girth_at(brief: Brief, y: float) -> float | None:
    """Return the body's girth (mm) at a height from the waist down (y, mm; 0 at the nape); None above the waist.

    Between waist and hip it grows evenly; a garment that reaches below the hip must go over it.
    """
    waist, fall = -brief.body["back_neck_point_to_waist"], brief.body["waist_to_hip"]
    if y >= waist:
        return None
    share = min(1.0, (waist - y) / fall)
    return brief.body["waist_girth"] + share * (brief.body["hip_girth"] - brief.body["waist_girth"])


def _is_vented(trunk: list[Piece]) -> bool:
    def is_open(line: Line) -> bool:
        return line.fate is Fate.HEMMED and line.role in (Role.SIDE, Role.CENTRE, Role.STYLE)

    return any(is_open(line) for piece in trunk for line in piece.ring)


def _width(body: float, own: float, least: float | None) -> FitRow:
    title = "hem, beside the body at its height"
    return FitRow("hem_width", "hem", title, body, own, least=least, severity=Severity.WARNING, remedy=FREE)


def _clear(brief: Brief, y: float) -> FitRow:
    hip = -brief.body["back_neck_point_to_waist"] - brief.body["waist_to_hip"]
    title = "hem, above or below the hip's fullest"
    return FitRow(
        "hem_clear",
        "hem",
        title,
        0.0,
        abs(y - hip),
        least=CLEAR_OF_HIP,
        severity=Severity.WARNING,
        remedy=CLEAR,
        of_body=False,
    )
