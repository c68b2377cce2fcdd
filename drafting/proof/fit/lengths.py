"""Lengths of the front against the body's: over the bust, and down the centre."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drafting.garment import Brief, Face, Garment, Side
from drafting.garment.departures import sum_departures
from drafting.garment.surface import hanging_pieces
from drafting.mending import situation
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow, note_hair
from drafting.proof.lengths import OVER_BUST, has_bust_darts, take_over_bust, waist_height
from drafting.saying import say
from drafting.trade import TradeValue

SHORT = TradeValue(10.0, "mm", "common practice")
"""By which a front with bust darts may be shorter over the bust than the body, unwarned: what two tapings differ by."""

SHORT_OVER_BUST = TradeValue(20.0, "mm", "common practice", "a knit gives 1 to 2 cm in its length")
"""By which a knit front without darts may be shorter over the bust than the body, unwarned."""

LONG_OVER_BUST = TradeValue(
    20.0, "mm", "from memory", "two tapings differ by 1 cm; more hangs in folds above the waist"
)
"""By which a knit front without darts may be longer over the bust than the body, unwarned."""

TOO_LONG = Retake(
    ("side_neck_point_to_waist_over_bust",),
    "{again}; if it is right, pin out on the toile what hangs in folds",
)
"""What to do about a knit front that is longer than the body's."""

UNDER_LAYER = (
    "look on the toile whether the hem rises in front; no bust dart can lie under the layer over the front, so "
    "a cloth that stretches more along helps, or a design without the layer"
)
"""What to do about a knit front that is shorter than the body's, and has a second layer over it."""

CENTRE_OFF = TradeValue(20.0, "mm", "from memory", "two tapings differ by 1 cm, and the neck's depth is a rule's")
"""By which a centre front that was measured may be longer or shorter than the body's, unwarned."""

BALANCE_OFF = TradeValue(10.0, "mm", "common practice")
"""By which a front with bust darts may be longer or shorter against its back than the body's, unwarned: more, and it
swings out at the hem in front or behind."""


def length_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The front of each side from the neck over the bust to the waist, and the centre front from the neck base."""
    meant = sum_departures(garment, "waist", Face.FRONT.value)
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_over_bust(garment, brief, side)
        if taken is not None:
            yield note_hair(_row_over_bust(garment, brief, side, taken, meant))
            if has_bust_darts(garment, brief):
                yield from _balance(garment, brief, side, taken, meant)
    base, waist = garment.neck_base, waist_height(garment, Face.FRONT, 0.0)
    if base is not None and waist is not None:
        title = "centre front, neck base to waist"
        # A front with bust darts follows it as far as its neck has a fair depth, and is told of that by itself.
        measured = "front_neck_point_to_waist" in brief.body.given and not has_bust_darts(garment, brief)
        yield note_hair(FitRow(
            "centre_front", "front", title, brief.body["front_neck_point_to_waist"], base.front - waist, meant,
            -CENTRE_OFF if measured else None, CENTRE_OFF if measured else None, severity=Severity.WARNING,
            remedy=Retake(
                ("front_neck_point_to_waist",),
                "{again}; if it is right, look on the toile whether the front rises at its centre or hangs in "
                "folds there",
            ),
        ))  # fmt: skip


def _row_over_bust(garment: Garment, brief: Brief, side: Side, taken: float, meant: float) -> FitRow:
    title, own = say("{side} front, {way}", side=side, way=OVER_BUST), brief.body["side_neck_point_to_waist_over_bust"]
    if has_bust_darts(garment, brief):
        return FitRow(
            "front_over_bust", f"front-{side}", title, own, taken, meant, -SHORT, severity=Severity.WARNING,
            remedy=Retake(
                ("side_neck_point_to_waist_over_bust",),
                "{again}; if it is right, the front rises at the waist and the hem: look at it on the toile",
            ),
        )  # fmt: skip
    row = FitRow(
        "front_over_bust", f"front-{side}", title, own, taken, min(meant, 0.0), -SHORT_OVER_BUST,
        LONG_OVER_BUST + max(meant, 0.0), severity=Severity.WARNING,
        remedy="look on the toile whether the hem rises in front",
        wanted=situation("front-short", "take a design with bust darts"),
    )  # fmt: skip
    if row.beyond > 0.0:
        return replace(row, remedy=TOO_LONG, wanted=None)
    return replace(row, remedy=UNDER_LAYER, wanted=None) if _lies_under(garment) else row


def _lies_under(garment: Garment) -> bool:
    """Whether a layer hangs over the front: its seam can't be parted by a dart beneath."""
    hanging = hanging_pieces(garment)
    return any(piece.name in hanging and piece.face is Face.FRONT for piece in garment.pieces)


def _balance(garment: Garment, brief: Brief, side: Side, front: float, meant: float) -> Iterator[FitRow]:
    """The front over the bust against the back from the nape, both to the waist: what a change means is its own."""
    body, waist = brief.body, waist_height(garment, Face.BACK, 0.0)
    # A length that was only estimated is drawn longer for a cup.
    off = BALANCE_OFF if "side_neck_point_to_waist_over_bust" in body.given else None
    if waist is not None:
        yield FitRow(
            "balance",
            f"front-{side}",
            say("{side} side, front over the bust longer than the back", side=side),
            body["side_neck_point_to_waist_over_bust"] - body["back_neck_point_to_waist"],
            front + waist,
            meant - sum_departures(garment, "waist", Face.BACK.value),
            -BALANCE_OFF,
            off,
            severity=Severity.NOTE,
            remedy="look on the toile whether the side seams hang straight",
        )
