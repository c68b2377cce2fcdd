"""The waist darts of a bodice against the body: what the front's take in beside the back's, and each by itself.

    figure                                 usual                                       source
    the front's share of a half's darts    a quarter to a little over a half           from memory
    over a belly                           any less, or none                           common practice
    the front, where the back has two      1.5 to 2.5 cm at least                      from memory
    intake of one                          3 to 3.5 cm; beyond, two beside each other  common practice

Not judged where a seam of the design, gathers or the bust dart has taken one of them up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drafting.garment import Brief, Face, Garment, Piece, Role, Side
from drafting.garment.darts import Dart, darts_of, intake, mouth_edges
from drafting.garment.features import Gathers
from drafting.garment.surface import hanging_pieces
from drafting.proof.finding import Severity
from drafting.proof.fit.darts import hold_intake
from drafting.proof.fit.row import FitRow
from drafting.redraw.dart_points import (
    FRONT_OF_WAIST_DARTS,
    LEAST_DART,
    SHAPED_FRONT,
    flat_at_waist,
    points_at_bust,
)
from drafting.redraw.heights import is_skirt
from drafting.saying import mm, say
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE

FRONT_SHARE_OFF = TradeValue(0.03, "share", "derived", "1 mm of a pair of darts of 35 mm")
"""By which a share may pass what is usual."""

MOST_IN_WAIST_DART = TradeValue(37.0, "mm", "common practice", "3 to 3.5 cm, and what a tape misses")
"""That a waist dart of a bodice takes in at most, unwarned."""


_TOO_DEEP = "give the waist more ease, or let a panel seam take it up: a deep dart pokes out at its point"


def waist_dart_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """What each waist dart of a bodice takes in, and the front's share on each side of the wearer."""
    hanging = hanging_pieces(garment)
    trunk = tuple(p for p in garment.pieces if p.face and p.name not in hanging and not is_skirt(p))
    found = [(piece, dart) for piece in trunk for dart in darts_of(piece) if _is_at_waist(piece, dart)]
    for piece, dart in found:
        yield hold_intake("waist_dart_intake", f"{piece.name}.{dart.seam}", dart, MOST_IN_WAIST_DART, _TOO_DEEP)
    if found and not any(_is_worked(garment, piece) for piece in trunk):
        for side in (Side.LEFT, Side.RIGHT):
            taken = [(piece.face, intake(dart)) for piece, dart in found if dart.side is side]
            yield from _share(taken, side, brief)
            yield from _before_second(taken, side, brief)


def _is_at_waist(piece: Piece, dart: Dart) -> bool:
    """Whether a dart takes the waist in: within its piece, or open in the lower edge below its own point."""
    if points_at_bust(piece, dart):
        return False
    return dart.inside or all(line.role in (Role.WAIST, Role.HEM) for line in mouth_edges(piece, dart))


def _is_worked(garment: Garment, piece: Piece) -> bool:
    """Whether a seam of the design, gathers, or a bust dart turned to the waist does the work of a waist dart."""
    styled = any(seam.kind == STYLE and any(use.piece == piece.name for use in seam.uses()) for seam in garment.seams)
    low = (Role.WAIST, Role.HEM)
    turned = any(
        not dart.inside and points_at_bust(piece, dart) and mouth_edges(piece, dart)[0].role in low
        for dart in darts_of(piece)
    )
    return styled or turned or any(piece.line(each.line).role in low for each in piece.of_kind(Gathers))


def _share(taken: Sequence[tuple[Face | None, float]], side: Side, brief: Brief) -> Iterator[FitRow]:
    """The front's share of what a half's darts take in; a belly needs the room, and a small share is no dart."""
    whole = math.fsum(each for _, each in taken)
    if whole <= 0.0:
        return
    least, most = FRONT_OF_WAIST_DARTS
    usual = (least + most) / 2.0
    worth = _is_flat(brief) and least * whole >= LEAST_DART
    yield FitRow(
        "waist_darts_front",
        str(side),
        say("{side} waist darts, the front's share of what they take in", side=side),
        usual,
        math.fsum(each for face, each in taken if face is Face.FRONT) / whole,
        least=least - usual - FRONT_SHARE_OFF if worth else None,
        most=most - usual + FRONT_SHARE_OFF,
        measure="share",
        of_body=False,
        severity=Severity.WARNING,
        remedy="let the back take in more than the front, but under a full bust: its waist is the hollower",
    )


def _before_second(taken: Sequence[tuple[Face | None, float]], side: Side, brief: Brief) -> Iterator[FitRow]:
    """What a flat front takes in where the back has two darts."""
    if not _is_flat(brief) or sum(face is Face.BACK for face, _ in taken) < 2:
        return
    least, most = SHAPED_FRONT
    yield FitRow(
        "waist_dart_before_second",
        str(side),
        say("{side} front waist dart, beside two in the back", side=side),
        least,
        math.fsum(each for face, each in taken if face is Face.FRONT),
        least=0.0,
        of_body=False,
        severity=Severity.WARNING,
        remedy=say(
            "let the front take in {least} to {most} before the back gets a second dart", least=mm(least), most=mm(most)
        ),
    )


def _is_flat(brief: Brief) -> bool:
    """Whether the body has no belly to leave room for."""
    return flat_at_waist(brief.body) == 1.0
