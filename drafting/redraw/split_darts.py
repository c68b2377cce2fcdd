"""Splitting a dart in two about its point, and closing one dart into another of the same point.

A bust dart that takes in more than one should is two by rule: half of it opens in the shoulder, where it meets the dart
of the back's (common practice). What alters the fit works on the one dart, and shares it again.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from typing import Final

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import Fact, Garment, Piece, Role, sides_of
from drafting.garment.darts import Dart, dart_name, dart_of, darts_of, intake, mouth_edges
from drafting.garment.lines import DartName
from drafting.garment.ruled import list_ruled
from drafting.garment.told import Ruled
from drafting.record import dataclass
from drafting.redraw.dart_points import (
    MOST_IN_BUST_DART,
    SHOULDER_DART_PLACE,
    grade_set_back,
    points_at_bust,
    regrade_set_back,
)
from drafting.redraw.dart_work import corner_place, heal_line, keep_levels, place_for, put_piece
from drafting.redraw.swing import draw_point_to, gather_into, share_out, undo_truing
from drafting.saying import Words, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import sew_dart

SECOND_OPENS = f"shoulder {SHOULDER_DART_PLACE:g}"
"""Where a full bust's second dart opens by rule."""

BY_RULE = "rule"
"""What the fact of a dart says that was split by rule."""


@dataclass(frozen=True, slots=True)
class Splitting:
    """How a dart is split: where the second opens, what share of it that takes, and how far it stops short (mm)."""

    to: str
    share: float = 0.5
    set_back: float | None = None
    source: str = "choice"


def split_in_two(garment: Garment, one: Dart, how: Splitting) -> Garment:
    """Return the garment with a part of what a dart takes in opened at another place of its piece's outline.

    CannotDraft or GeometryError where the second can't be drawn there.
    """
    before = garment
    flat, place = undo_truing(garment.piece(one.piece), one, place_for(garment, one, how.to))
    garment, corner = corner_place(put_piece(garment, flat), flat.name, place)
    old = garment.piece(flat.name)
    called = _name_second(garment, one)
    new = share_out(old, one.name, called, corner, how.share, _set_back(one, how.set_back))
    new = _grade_points(old, new, one, called, how.set_back)
    second = dart_of(new, called.name)
    garment = put_piece(garment, new, seams=(sew_dart(second, second.title),))
    garment = keep_levels(before, garment, one)
    says = say(
        "{share:.0%} of the {title} turned to {to}: what it takes in at its mouth there",
        share=how.share,
        title=one.title,
        to=how.to,
    )
    told = Ruled(SPLIT_OFF, second.seam)
    return garment.with_(facts=(Fact(_intake_fact(second), intake(second), "mm", how.source, says, told),))


def _grade_points(old: Piece, new: Piece, one: Dart, called: DartName, asked: float | None) -> Piece:
    """The piece with the points of both darts as far from a bust point as what each takes in wants."""
    if not points_at_bust(old, one):
        return new
    for name in (one.name, *(() if asked is not None else (called.name,))):
        new = draw_point_to(new, name, regrade_set_back(one.set_back, intake(one), intake(dart_of(new, name))))
    return new


POINTS_APART = TradeValue(10.0, "mm", "derived", "by drawing")
"""By which the points of two darts of one apex lie apart, at least: else their legs would meet."""


def _set_back(one: Dart, asked: float | None) -> float | None:
    """How far short of the apex the second dart stops, where the first runs up to it."""
    if one.set_back >= POINTS_APART:
        return asked
    return max(one.set_back if asked is None else asked, POINTS_APART)


def _name_second(garment: Garment, one: Dart) -> DartName:
    """A name for the second dart: "bust-left" gives "bust-2-left"; the next number where that is taken."""
    taken = {dart.stem for piece in garment.pieces for dart in darts_of(piece) if dart.side is one.side}
    stem = next(stem for number in itertools.count(2) if (stem := f"{one.stem}-{number}") not in taken)
    return dart_name(stem, one.side)


def join_into(garment: Garment, one: Dart, target: Dart) -> Garment:
    """Return the garment with a dart closed, and another of its piece and point taking in as much more.

    GeometryError where the two don't turn about one point.
    """
    old = garment.piece(one.piece)
    before, after = mouth_edges(old, one)
    new = gather_into(old, one.name, target.name)
    new = draw_point_to(new, target.name, grade_set_back(old, target, intake(dart_of(new, target.name))))
    garment = put_piece(garment, new, gone=(one.seam,))
    return heal_line(garment, old.name, before.name, after.name)


def split_full_darts(garment: Garment, which: str = "both") -> Garment:
    """Return the garment with each bust dart from its side that takes in more than one should shared with a second.

    Of the sides ``which`` only. It stays one where the second can't be drawn, and a note says so.
    """
    full = [(piece, dart) for piece in garment.pieces for dart in darts_of(piece) if _is_full(piece, dart)]
    for _, dart in full:
        if dart.side not in sides_of(which):
            continue
        try:
            garment = split_in_two(garment, dart, Splitting(SECOND_OPENS, source=BY_RULE))
        except DraftingError as error:
            garment = garment.with_(notes=(_tell_one(dart, error),))
    return garment


def _tell_one(dart: Dart, error: DraftingError) -> Words:
    """What is said of a full dart that stays one, and why."""
    why = error.reason if isinstance(error, CannotDraft) else error.words
    says = "the {title} stays one: its second can't be drawn from the shoulder, as {why}"
    return say(says, title=dart.title, why=why)


def _is_full(piece: Piece, dart: Dart) -> bool:
    if not points_at_bust(piece, dart) or dart.inside or mouth_edges(piece, dart)[0].role is not Role.SIDE:
        return False
    return intake(dart) > MOST_IN_BUST_DART + TOLERANCE.sewn_length


def work_on_whole_darts(garment: Garment, work: Callable[[Garment], Garment], which: str) -> Garment:
    """Return what is made of the garment with every dart whole that was split by rule; full ones are split again.

    The darts of the sides ``which`` only, which the work is asked for: the other side's stay as they lie.
    """
    for piece in garment.pieces:
        for dart in darts_of(piece):
            if dart.side in sides_of(which) and (first := first_by_rule(garment, piece, dart)) is not None:
                garment = join_into(garment, dart, dart_of(garment.piece(piece.name), first.name))
    return split_full_darts(work(garment), which)


def first_by_rule(garment: Garment, piece: Piece, second: Dart) -> Dart | None:
    """Return the dart that a second one was split off from by rule; None of one that wasn't."""
    if not any(fact.source == BY_RULE for fact in list_ruled(garment, SPLIT_OFF, second.seam)):
        return None
    for one in darts_of(piece):
        if one.side is second.side and second.stem.startswith(f"{one.stem}-"):
            return one
    return None


SPLIT_OFF: Final = "split_off"
"""Of which a fact tells what a dart takes in that was split off from another, at its seam's name."""


def _intake_fact(dart: Dart) -> str:
    return f"{dart.seam}_intake"
