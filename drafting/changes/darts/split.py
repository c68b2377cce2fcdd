"""Splitting a dart in two about its point, and joining two into one."""

from __future__ import annotations

from drafting.errors import CannotDraft
from drafting.garment import Brief, Fact, Garment, Stage, change, option, side_option
from drafting.garment.darts import Dart, dart_of, intake
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.dart_work import change_each_dart, find_darts
from drafting.redraw.split_darts import Splitting, join_into, split_in_two
from drafting.saying import Name, say
from drafting.work.kinds import DART


@dataclass(frozen=True, slots=True)
class SplitDartOptions:
    """Options of the change that splits a dart."""

    dart: str = option('Which dart, by its name without a side: "bust", "waist-front".', "text", "bust")
    to: str = option(
        'Where the second dart opens: an edge, and how far along it from 0 to 1, as "armhole 0.5".',
        "text",
        "armhole 0.5",
    )
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
    return change_each_dart(
        garment, o.dart, o.side, lambda g, one: split_in_two(g, one, Splitting(o.to, o.share, o.set_back)), "to"
    )


@change(
    "join-darts",
    "Two darts of a piece joined: one is closed, and the other takes in as much more.",
    Stage.SHAPE,
    mends=(Mend("darts-near", 'to have one again: change = "{change}", dart = "{dart}", take = "{take}"'),),
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
    garment = join_into(garment, one, targets[0])
    says = say(
        "the {title} closed into the {dart} dart: what that takes in at its mouth now",
        title=one.title,
        dart=Name(o.dart),
    )
    taken = intake(dart_of(garment.piece(one.piece), targets[0].name))
    return garment.with_(facts=(Fact(f"{targets[0].seam}_intake", taken, "mm", "choice", says),))
