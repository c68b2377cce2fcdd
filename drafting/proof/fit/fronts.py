"""A front without bust darts against the body: how long it is over the bust, where a darted one takes length up."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.cloth import Kind
from drafting.garment import Brief, BustPoint, Face, Garment, Role, Side, hanging_pieces
from drafting.garment.departures import sum_departures
from drafting.geometry import Point
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.proof.lengths import waist_height
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

SHORT_OVER_BUST = TradeValue(20.0, "mm", "common practice", "1 to 2 cm are eased into a knit's side, or it stretches")
"""By which a knit front without darts may be shorter over the bust than the body, unwarned."""


def front_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The length of a knit front without a marked bust point, from the side neck point over the bust to the waist."""
    hanging = hanging_pieces(garment)
    trunk = [piece for piece in garment.pieces if piece.face is Face.FRONT and piece.name not in hanging]
    half = next((fact.value for fact in garment.facts if fact.name == "neck_half_width"), None)
    if brief.cloth.kind is Kind.WOVEN or half is None or any(piece.of_kind(BustPoint) for piece in trunk):
        return
    for side in (Side.LEFT, Side.RIGHT):
        lines = [line.path for piece in trunk for line in piece.lines(role=Role.SHOULDER, side=side, face=Face.FRONT)]
        if lines:
            ends = sorted((p for path in lines for p in (path.start, path.end)), key=lambda p: abs(p.x))
            yield from _row(garment, brief, side, _side_neck(ends[0], ends[-1], half))


def _side_neck(neck: Point, end: Point, half: float) -> Point:
    """The side neck point, up along the shoulder from where the neckline was opened to; an upright one's own end."""
    if abs(end.x) - abs(neck.x) < TOLERANCE.joint:
        return neck
    slope = (neck.y - end.y) / (abs(end.x) - abs(neck.x))
    return Point(half, neck.y + (abs(neck.x) - half) * slope)


def _row(garment: Garment, brief: Brief, side: Side, neck: Point) -> Iterator[FitRow]:
    body, sign = brief.body, 1.0 if side is Side.LEFT else -1.0
    bust = Point(body["bust_point_width"] / 2.0, body["bust_point_height"] - body["back_neck_point_height"])
    waist = waist_height(garment, Face.FRONT, sign * bust.x)
    if waist is None:
        return
    asked, own = body["side_neck_point_to_waist_over_bust"], neck.distance(bust) + bust.y - waist
    meant = sum_departures(garment, "waist", Face.FRONT.value)
    yield FitRow(
        "front_over_bust",
        f"front-{side}",
        say("{side} front, side neck point over the bust to the waist", side=side),
        asked,
        own,
        min(meant, 0.0),
        -SHORT_OVER_BUST,
        severity=Severity.NOTE,
        remedy="its sides can't take so much ease: take a design with bust darts",
    )
