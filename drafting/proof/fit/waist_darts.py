"""The waist darts of a bodice against the body: what the front's take in beside the back's, and each by itself.

    figure                                 usual                                       source
    the front's share of a half's darts    a quarter to a little over a half           from memory
    over a belly                           any less, or none                           common practice
    the front, where the back has two      1.5 to 2.5 cm at least                      from memory
    intake of one in the back              3 to 3.5 cm; beyond, two beside each other  common practice
    intake of the front's one              2.5 to 3 cm; graver from 3.7 on, or from 5  from memory
                                           where it runs from a waist seam up
    of one that is the bust dart too       5 cm                                        from memory

Not judged where a seam of the design, gathers or the bust dart has taken one of them up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafting.garment import Brief, Face, Garment, Piece, Role, Side
from drafting.garment.darts import Dart, darts_of, intake, mouth_edges
from drafting.garment.features import Gathers
from drafting.garment.surface import hanging_pieces
from drafting.proof.finding import Severity
from drafting.proof.fit.darts import hold_intake, opens_at_waist
from drafting.proof.fit.row import FitRow
from drafting.redraw.dart_points import (
    FRONT_OF_WAIST_DARTS,
    LEAST_DART,
    SHAPED_FRONT,
    flat_at_waist,
    points_at_bust,
)
from drafting.redraw.heights import is_skirt
from drafting.saying import Words, mm, say
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE

FRONT_SHARE_OFF = TradeValue(0.03, "share", "derived", "1 mm of a pair of darts of 35 mm")
"""By which a share may pass what is usual."""

MOST_IN_WAIST_DART = TradeValue(37.0, "mm", "common practice", "3 to 3.5 cm, and what a tape misses")
"""That a waist dart of a bodice takes in at most, unwarned."""

USUAL_IN_FRONT = TradeValue(31.0, "mm", "from memory", "2.5 to 3 cm, and what a tape misses")
"""That the one waist dart of a half front takes in at most, unsaid."""

MOST_FROM_SEAM = TradeValue(50.0, "mm", "from memory", "it tapers to one point only, and that lies under the bust")
"""That a waist dart of a front takes in at most, unwarned, which ends at a waist seam or an edge there."""

_TOO_DEEP = "give the waist more ease, or let a panel seam take it up: a deep dart pokes out at its point"
_BOTH_DEEP = "split it in two, or let a panel seam take it up: it takes the bust and the waist in at once"


def waist_dart_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """What each waist dart of a bodice takes in, and the front's share on each side of the wearer."""
    hanging = hanging_pieces(garment)
    trunk = tuple(p for p in garment.pieces if p.face and p.name not in hanging and not is_skirt(p))
    for piece in trunk:
        yield from (_intake(piece, dart) for dart in darts_of(piece) if opens_at_waist(piece, dart))
    found = [(piece, dart) for piece in trunk for dart in darts_of(piece) if _is_at_waist(piece, dart)]
    if found and not any(_is_worked(garment, piece) for piece in trunk):
        for side in (Side.LEFT, Side.RIGHT):
            taken = [(piece.face, intake(dart)) for piece, dart in found if dart.side is side]
            yield from _share(taken, side, brief)
            yield from _before_second(taken, side, brief)


def _is_at_waist(piece: Piece, dart: Dart) -> bool:
    """Whether a dart takes the waist in: within its piece, or open in the lower edge below its own point."""
    return opens_at_waist(piece, dart) and not points_at_bust(piece, dart)


def _intake(piece: Piece, dart: Dart) -> FitRow:
    """What a dart takes in; a front's has less room, and more where it has but one point."""
    place, bust = f"{piece.name}.{dart.seam}", points_at_bust(piece, dart)
    if bust and not any(other.side is dart.side and other.name != dart.name for other in _at_bust(piece)):
        return hold_intake("waist_dart_intake", place, dart, MOST_FROM_SEAM, _BOTH_DEEP)
    if piece.face is not Face.FRONT:
        return hold_intake("waist_dart_intake", place, dart, MOST_IN_WAIST_DART, _TOO_DEEP)
    row = hold_intake("waist_dart_intake", place, dart, USUAL_IN_FRONT, _TOO_DEEP if dart.inside else _mend_from_seam())
    unwarned = MOST_IN_WAIST_DART if dart.inside else MOST_FROM_SEAM
    return row if row.garment > unwarned else replace(row, severity=Severity.NOTE)


def _mend_from_seam() -> Words:
    return say(
        "give the waist more ease, or let a panel seam take it up; one that ends at the waist, as here, can be "
        "pressed flat up to {most}, one within its piece up to {least}",
        most=mm(MOST_FROM_SEAM),
        least=mm(MOST_IN_WAIST_DART),
    )


def _at_bust(piece: Piece) -> list[Dart]:
    return [dart for dart in darts_of(piece) if points_at_bust(piece, dart)]


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
