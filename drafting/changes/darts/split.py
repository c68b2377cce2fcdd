"""Splitting a dart in two about its point, and joining two into one."""

from __future__ import annotations

from drafting.errors import CannotDraft
from drafting.garment import Brief, Fact, Garment, Side, Stage, change, option, side_option
from drafting.garment.darts import dart_of, darts_of, intake
from drafting.record import dataclass
from drafting.redraw.dart_turned import levels_kept
from drafting.redraw.dart_work import Found, corner_place, each, find, healed, place_for, put
from drafting.redraw.mouths import mouth_edges
from drafting.redraw.swing import gathered_into, shared_out, untrued
from drafting.saying import Name, say
from drafting.trade import TradeValue
from drafting.work.kinds import DART, dart_seam


@dataclass(frozen=True, slots=True)
class SplitDartOptions:
    """Options of the change that splits a dart."""

    dart: str = option('Which dart, by its name without a side: "bust", "waist-front".', "text", "bust")
    to: str = option('Where the second dart opens: a line and a share of it, as "armhole 0.5".', "text", "armhole 0.5")
    share: float = option("How much of the dart's suppression the second one takes.", "ratio", 0.5, low=0.05, high=0.95)
    set_back: float | None = option(
        "How far the second point stops short of the marked point; by default as far as the first.",
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
    "A dart split in two: a share of its suppression opened at another place on the outline.",
    Stage.SHAPE,
    kinds=(DART,),
)
def split_dart(garment: Garment, brief: Brief, o: SplitDartOptions) -> Garment:
    """Split the dart on each side asked for."""
    return each(garment, o.dart, o.side, lambda g, one: _split(g, one, o))


def _split(garment: Garment, one: Found, o: SplitDartOptions) -> Garment:
    before = garment
    flat, place = untrued(one.piece, one.dart, place_for(garment, one, o.to))
    garment, corner = corner_place(put(garment, flat), flat.name, place)
    old = garment.piece(flat.name)
    name = _second(garment, one.dart.name)
    new = shared_out(old, one.dart.name, name, corner, o.share, _set_back(one, o.set_back))
    seam = garment.seam(one.dart.seam)
    garment = put(garment, new, seams=(dart_seam(old.name, name, say("{title}, second part", title=seam.title)),))
    garment = levels_kept(before, garment, one)
    says = say(
        "{share:.0%} of the {title} turned to {to}: what it takes in at its mouth there",
        share=o.share,
        title=one.title,
        to=o.to,
    )
    return garment.with_(facts=(Fact(f"dart-{name}_intake", intake(dart_of(new, name)), "mm", "choice", says),))


POINTS_APART = TradeValue(10.0, "mm", "derived", "by drawing")
"""By which the points of two darts of one apex lie apart, at least: else their legs would meet."""


def _set_back(one: Found, asked: float | None) -> float | None:
    """How far short of the apex the second dart stops, where the first runs up to it."""
    if one.dart.set_back >= POINTS_APART:
        return asked
    return max(one.dart.set_back if asked is None else asked, POINTS_APART)


def _second(garment: Garment, name: str) -> str:
    """A name for the second dart: "bust-left" gives "bust-2-left"; the next number where that is taken."""
    parts = name.split("-")
    side = [parts.pop()] if parts[-1] in (Side.LEFT, Side.RIGHT) else []
    taken = {dart.name for piece in garment.pieces for dart in darts_of(piece)}
    number = 2
    while "-".join([*parts, str(number), *side]) in taken:
        number += 1
    return "-".join([*parts, str(number), *side])


@change(
    "join-darts", "Two darts of a piece joined: one is closed, and its suppression added to the other's.", Stage.SHAPE
)
def join_darts(garment: Garment, brief: Brief, o: JoinDartsOptions) -> Garment:
    """Join the darts on each side asked for."""
    return each(garment, o.take, o.side, lambda g, one: _join(g, one, o))


def _join(garment: Garment, one: Found, o: JoinDartsOptions) -> Garment:
    targets = [t for t in find(garment, o.dart, o.side) if t.piece.name == one.piece.name and t.side is one.side]
    if not targets:
        raise CannotDraft(
            "dart", say("the {title} lies on another piece than {dart!r}", title=one.title, dart=Name(o.dart))
        )
    old, target = one.piece, targets[0].dart
    before, after = mouth_edges(old, one.dart)
    new = gathered_into(old, one.dart.name, target.name)
    garment = put(garment, new, gone=(one.dart.seam,))
    garment = healed(garment, old.name, before.name, after.name)
    says = say(
        "the {title} closed into the {dart} dart: what that takes in at its mouth now",
        title=one.title,
        dart=Name(o.dart),
    )
    taken = intake(dart_of(new, target.name))
    return garment.with_(facts=(Fact(f"{target.seam}_intake", taken, "mm", "choice", says),))
