"""A dart turned to another place of its piece, and what that asks of the levels and of the centre."""

from __future__ import annotations

from drafting.errors import CannotDraft
from drafting.garment import Garment, Role, shift_aim
from drafting.garment.darts import Dart, mouth_edges
from drafting.garment.places import Place
from drafting.redraw.centre import part_at_centre
from drafting.redraw.dart_work import corner_place, find, healed, put, read_place
from drafting.redraw.heights import level_total
from drafting.redraw.swing import open_at, undo_truing
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

MOST_BENT = TradeValue(4.0, "mm", "from memory")
"""By which truing the mouths of a dart may change a girth, on both sides of a side seam."""


def keep_levels(before: Garment, after: Garment, one: Dart) -> Garment:
    """Let the aims follow where truing a dart's mouth bent an edge at a level by a little; refuse where by more."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) > MOST_BENT:
            level = measure.removeprefix("girth:").replace("-", " ")
            raise CannotDraft(
                "to",
                say(
                    "the mouth of the {title} would lie so near the {level} line that truing its edge "
                    "changes the {level} by {by}",
                    title=one.title,
                    level=level,
                    by=mm(abs(by)),
                ),
                short_by=abs(by) - MOST_BENT,
                help="turn it to a place farther from there",
            )
        if abs(by) > TOLERANCE.same_point:
            after = shift_aim(after, measure, by)
    return after


def with_centre(garment: Garment, one: Dart, told: str) -> tuple[Garment, Dart]:
    """Return the garment with a seam at the centre of a dart's piece where a place on the centre is told."""
    piece = garment.piece(one.piece)
    if read_place(told)[0] != Role.CENTRE or not piece.face or piece.lines(role=Role.CENTRE):
        return garment, one
    garment = part_at_centre(garment, piece)
    return garment, find(garment, one.name, "both")[0]


def turned(garment: Garment, one: Dart, place: Place, set_back: float | None = None) -> Garment:
    """Return the garment with a dart turned to a place of its piece; the line it leaves is whole again."""
    flat, place = undo_truing(garment.piece(one.piece), one, place)
    garment, corner = corner_place(put(garment, flat), flat.name, place)
    old = garment.piece(flat.name)
    before, after = mouth_edges(old, one)
    garment = put(garment, open_at(old, one.name, corner, set_back))
    return healed(garment, old.name, before.name, after.name)
