"""Splitting a dart in two about its point, and joining two into one."""

from __future__ import annotations

import itertools

from drafting.errors import CannotDraft
from drafting.garment import Brief, Fact, Garment, Piece, Stage, change, option, side_option
from drafting.garment.darts import Dart, dart_name, dart_of, darts_of, intake, mouth_edges
from drafting.garment.lines import DartName
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.dart_points import grade_set_back, points_at_bust, regrade_set_back
from drafting.redraw.dart_work import (
    change_each_dart,
    corner_place,
    find_darts,
    heal_line,
    keep_levels,
    place_for,
    put_piece,
)
from drafting.redraw.swing import draw_point_to, gather_into, share_out, undo_truing
from drafting.saying import Name, say
from drafting.trade import TradeValue
from drafting.work.kinds import DART, sew_dart


@dataclass(frozen=True, slots=True)
class SplitDartOptions:
    """Options of the change that splits a dart."""

    dart: str = option('Which dart, by its name without a side: "bust", "waist-front".', "text", "bust")
    to: str = option('Where the second dart opens: a line and a share of it, as "armhole 0.5".', "text", "armhole 0.5")
    share: float = option("How much of what the dart takes in the second one takes.", "ratio", 0.5, low=0.05, high=0.95)
    set_back: float | None = option(
        "How far the second point stops short of the marked point; by default as far as the first, at a bust point "
        "by what it takes in.",
        "length", None, low=0.0, high=80.0,
    )  # fmt: skip
    side: str = side_option("Which side's dart is split.")


@dataclass(frozen=True, slots=True)
class JoinDartsOptions:
    """Options of the change that joins two darts."""

    dart: str = option("The dart that stays, and takes up the other: its name without a side.", "text", "waist-front")
    take: str = option("The dart that is closed into it.", "text", "bust")
    side: str = side_option("On which side.")


@change(
    "split-dart",
    "A dart split in two: a part of what it takes in opened at another place on the outline.",
    Stage.SHAPE,
    kinds=(DART,),
    mends=(
        Mend("toile-dart-deep", "share = how much of it the second dart takes"),
        Mend("bust-dart-full", 'add the change "{change}", with dart = "{dart}", to = "shoulder 0.5"'),
    ),
)
def split_dart(garment: Garment, brief: Brief, o: SplitDartOptions) -> Garment:
    """Split the dart on each side asked for."""
    return change_each_dart(garment, o.dart, o.side, lambda g, one: _split_one(g, one, o), "to")


def _split_one(garment: Garment, one: Dart, o: SplitDartOptions) -> Garment:
    before = garment
    flat, place = undo_truing(garment.piece(one.piece), one, place_for(garment, one, o.to))
    garment, corner = corner_place(put_piece(garment, flat), flat.name, place)
    old = garment.piece(flat.name)
    called = _name_second(garment, one)
    new = share_out(old, one.name, called, corner, o.share, _set_back(one, o.set_back))
    new = _grade_points(old, new, one, called, o.set_back)
    second = dart_of(new, called.name)
    title = say("{title}, second part", title=garment.seam(one.seam).title)
    garment = put_piece(garment, new, seams=(sew_dart(second, title),))
    garment = keep_levels(before, garment, one)
    says = say(
        "{share:.0%} of the {title} turned to {to}: what it takes in at its mouth there",
        share=o.share,
        title=one.title,
        to=o.to,
    )
    return garment.with_(facts=(Fact(f"{second.seam}_intake", intake(second), "mm", "choice", says),))


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


@change(
    "join-darts",
    "Two darts of a piece joined: one is closed, and the other takes in as much more.",
    Stage.SHAPE,
)
def join_darts(garment: Garment, brief: Brief, o: JoinDartsOptions) -> Garment:
    """Join the darts on each side asked for."""
    return change_each_dart(garment, o.take, o.side, lambda g, one: _join(g, one, o))


def _join(garment: Garment, one: Dart, o: JoinDartsOptions) -> Garment:
    targets = [t for t in find_darts(garment, o.dart, o.side) if t.piece == one.piece and t.side is one.side]
    if not targets:
        raise CannotDraft(
            "dart", say("the {title} lies on another piece than “{dart}”", title=one.title, dart=Name(o.dart))
        )
    old, target = garment.piece(one.piece), targets[0]
    before, after = mouth_edges(old, one)
    new = gather_into(old, one.name, target.name)
    new = draw_point_to(new, target.name, grade_set_back(old, target, intake(dart_of(new, target.name))))
    garment = put_piece(garment, new, gone=(one.seam,))
    garment = heal_line(garment, old.name, before.name, after.name)
    says = say(
        "the {title} closed into the {dart} dart: what that takes in at its mouth now",
        title=one.title,
        dart=Name(o.dart),
    )
    taken = intake(dart_of(new, target.name))
    return garment.with_(facts=(Fact(f"{target.seam}_intake", taken, "mm", "choice", says),))
