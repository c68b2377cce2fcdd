"""A broad or a narrow back: the back slashed from the shoulder and spread between armhole and centre, or closed.

What lies outside the slash moves out along the shoulder dart's mouth. The dart takes that up: it opens by as much and
grows longer in the same proportion, so that its angle stays and the folded shoulder is as straight and as long as it
was. Once the dart is as long as it may be, or where there is none, the rest is eased onto the front, as much as can be;
beyond that the slash ends in the armhole. The underarm and the side seam stay (common practice in pattern alteration).
"""

from __future__ import annotations

import math
from dataclasses import replace

from drafting.cloth import Kind
from drafting.errors import CannotDraft
from drafting.garment import Brief, Face, Fact, Garment, Piece, Role, Side, Stage, change, option, side_option, sides_of
from drafting.garment.armholes import take_armhole
from drafting.garment.darts import Dart, dart_of
from drafting.geometry import Path
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.fit_half import (
    arm_frame,
    dart_on,
    leg_paths,
    outer_shoulder,
    refuse_unless_body,
    restate_ease,
)
from drafting.redraw.halves import LEAST_CHANGED_SCYE, Half, find_half, with_armhole
from drafting.redraw.heights import keep_aims
from drafting.redraw.inner import meet_legs, without_wedge
from drafting.saying import mm, say
from drafting.trade import TradeValue, trade_table
from drafting.work.kinds import SHOULDER

LONGEST_SHOULDER_DART = TradeValue(140.0, "mm", "from memory", "70 to 90, on a round back 140")
"""Of length at most of a back shoulder dart: it reaches to the shoulder blade."""

LEAST_SHOULDER_DART = TradeValue(5.0, "mm", "common practice", "less is eased")
"""That a back shoulder dart still takes in."""

MOST_SHOULDER_EASE = trade_table(
    {Kind.WOVEN: 15.0, Kind.KNIT: 8.0}, "mm", "from memory", "to about a tenth of the seam in wovens"
)
"""Of a back shoulder that may be eased onto the front."""

LEAST_BROADENED_SCYE = TradeValue(12.0, "mm", "derived", "by drawing")
"""From the across back out to the side seam that leave an armhole to draw where a back is made broader."""

BROADENED = TradeValue(6.0, "mm", "from memory")
"""By which each side of a broad back is made wider where no one says."""
LEAST_BROADENED = TradeValue(1.0, "mm", "from memory")
"""By which it is made wider at least where the rule is too much."""

ACROSS_UNFELT = TradeValue(1.0, "mm", "from memory", "less than a tape shows across a back")
"""By which a fair armhole may miss the across back that was asked for."""


Eases = tuple[float, float]
"""What (mm) of a back shoulder is eased onto the front, and what more can be."""


@dataclass(frozen=True, slots=True)
class BroadBackOptions:
    """Options of the broad back."""

    by: float | None = option(
        say(
            "How much wider each side of the back becomes;"
            " by rule {usual}, or as much as leaves a fair armhole.",
            usual=mm(6),
        ),
        "length", None, low=0.0, high=30.0,
    )  # fmt: skip
    side: str = side_option("Which side of the back.")


@dataclass(frozen=True, slots=True)
class NarrowBackOptions:
    """Options of the narrow back."""

    by: float = option("How much narrower each side of the back becomes.", "length", 4.0, low=0.0, high=30.0)
    side: str = side_option("Which side of the back.")


@change(
    "broad-back",
    "A back made wider between the armholes; the shoulder's dart or its ease takes up what is let in.",
    Stage.FIT,
    mends=(Mend("toile-back-broader", "slit upright beside the armhole: by = the gap on each side"),),
)
def fit_broad_back(garment: Garment, brief: Brief, o: BroadBackOptions) -> Garment:
    """Widen the back between the armholes."""
    return _spread_back(garment, brief, o.by, o.side)


@change(
    "narrow-back",
    "A back made narrower between the armholes; the shoulder's dart gives up what is taken out.",
    Stage.FIT,
    mends=(Mend("toile-back-narrower", "pinch beside the armhole: by = twice the depth, on each side"),),
)
def fit_narrow_back(garment: Garment, brief: Brief, o: NarrowBackOptions) -> Garment:
    """Narrow the back between the armholes."""
    return _spread_back(garment, brief, -o.by, o.side)


def _spread_back(garment: Garment, brief: Brief, by: float | None, which: str) -> Garment:
    refuse_unless_body(garment)
    if by == 0.0:
        return garment
    for side in sides_of(which):
        half = find_half(garment, side, Face.BACK)
        ease = _shoulder_ease(garment, half)
        eases = ease, max(MOST_SHOULDER_EASE[brief.cloth.kind] - ease, 0.0)
        drawn = _by_rule(half, eases, _beyond_arm(garment, brief, side)) if by is None else spread_half(half, by, eases)
        changed = garment.with_(pieces=(drawn.piece,))
        changed = keep_aims(garment, restate_ease(changed, [drawn.piece.name], SHOULDER, side))
        garment = changed.with_(facts=_facts(changed, drawn, drawn.half_across.x - half.half_across.x, by is None))
    return garment


def _beyond_arm(garment: Garment, brief: Brief, side: Side) -> float:
    """By how much an armhole is wider than the arm is thick: so far a back may go out on that side (mm)."""
    taken = take_armhole(garment, side)
    return math.inf if taken is None else taken.width - brief.body["upper_arm_girth"] / math.pi


def _by_rule(half: Half, eases: Eases, spare: float) -> Half:
    """A half back let out by the usual, its armhole as far out as a fair one comes; CannotDraft where that is nothing.

    The armhole of a close back is nearly straight already, and goes out by less than its shoulder does. Nor does it go
    out farther than leaves the arm its room.
    """
    if spare < LEAST_BROADENED:
        raise CannotDraft(
            "by", say("the {side} armhole is no wider than the arm is thick", side=half.side),
            short_by=LEAST_BROADENED - spare, help="give the bust more ease, or leave this change out",
        )  # fmt: skip
    drawn = _let_out(half, min(BROADENED, spare), eases)
    gained = drawn.half_across.x - half.half_across.x
    if gained < LEAST_BROADENED:
        raise CannotDraft(
            "by", say("no fair armhole passes farther out on the {side} back", side=half.side),
            short_by=LEAST_BROADENED - gained, help="give the bust more ease, or leave this change out",
        )  # fmt: skip
    return drawn


def spread_half(half: Half, by: float, eases: Eases) -> Half:
    """Return the half back with its outer shoulder and across width ``by`` mm farther out, the armhole drawn to them.

    A back made narrower gives up its shoulder's dart, then its ease; beyond that the shoulder stays.
    """
    drawn = _let_out(half, by, eases)
    missed = drawn.half_across.x - arm_frame(half).across - by
    if abs(missed) > ACROSS_UNFELT:
        raise CannotDraft(
            "by", say("no fair armhole passes the {side} across back so changed", side=half.side),
            short_by=abs(missed), help="change it by less",
        )  # fmt: skip
    return replace(drawn, piece=_part_at_dart(drawn))


def _part_at_dart(half: Half) -> Piece:
    """The back with its levels parted at the shoulder's dart, which may have grown down to them."""
    dart = dart_on(half, Role.SHOULDER)
    if dart is None:
        return half.piece
    grown = dart_of(half.piece, dart.name)
    return meet_legs(without_wedge(half.piece, grown), grown)


def _let_out(half: Half, by: float, eases: Eases) -> Half:
    """The half spread, its armhole drawn as near to the across width wanted as a fair one comes."""
    old = arm_frame(half)
    room = old.underarm.x - old.across - by
    if room < min(LEAST_BROADENED_SCYE, old.underarm.x - old.across):
        raise CannotDraft(
            "by", say("the {side} across back would lie only {room} from the side seam", side=half.side, room=mm(room)),
            short_by=LEAST_BROADENED_SCYE - room, help="widen it by less, or give the bust more ease",
        )  # fmt: skip
    moved = _open_shoulder(half, by, eases)
    return with_armhole(moved, replace(arm_frame(moved), across=old.across + by).at_level(old.level))


def _open_shoulder(half: Half, by: float, eases: Eases) -> Half:
    """The half with its shoulder slashed and spread: the dart takes it up, and ease what the dart can't.

    The shoulder's end goes out only as far as the side seam leaves an armhole and its ease can be worked in: beyond
    that the slash ends in the armhole, and only the width across is let out (common practice on a wide shoulder over a
    narrow chest).
    """
    lines, dart = half.lines(Role.SHOULDER), dart_on(half, Role.SHOULDER)
    outer = half.on_plus_x(outer_shoulder(half).path)
    along = (outer.start - outer.end).unit
    spare = (half.path(Role.ARMHOLE).start.x - LEAST_CHANGED_SCYE - outer.start.x) / along.x
    by = min(by, max(spare, 0.0))
    if dart is None and len(lines) > 1:
        raise CannotDraft(
            f"shoulder-{half.side}", say("the {side} back shoulder is broken up with no dart between", side=half.side),
            help="make this change before the one that did that",
        )  # fmt: skip
    if dart is None:
        return half.with_paths(
            {lines[0].name: Path.straight(outer.start + along * min(max(by, -eases[0]), eases[1]), outer.end)}
        )
    low, high = _room(dart)
    taken = min(max(by, low), high)
    grown = 1.0 + taken / dart.mouth_a.distance(dart.mouth_b)
    first, point = (dart.mouth_b + (p - dart.mouth_b) * grown for p in (dart.mouth_a, dart.point))
    tip = outer.start + (first - dart.mouth_a) + along * min(max(by - taken, -eases[0]), eases[1])
    paths = leg_paths(dart, first, point, dart.mouth_b)
    return half.with_paths({lines[0].name: Path.straight(tip, first), **paths})


def _room(dart: Dart) -> tuple[float, float]:
    """How much less (below 0) and how much more (mm) a dart may take in, by its intake and by its length."""
    length, width = dart.mouth_a.distance(dart.point), dart.mouth_a.distance(dart.mouth_b)
    return min(LEAST_SHOULDER_DART - width, 0.0), max(width * (LONGEST_SHOULDER_DART / length - 1.0), 0.0)


def _shoulder_ease(garment: Garment, half: Half) -> float:
    names = {line.name for line in half.lines(Role.SHOULDER)}
    for seam in garment.seams:
        if seam.kind == SHOULDER and any(u.piece == half.piece.name and u.line in names for u in seam.uses()):
            lengths = [garment.run_length(run) for run in seam.plies]
            own = next(i for i, run in enumerate(seam.plies) if any(u.piece == half.piece.name for u in run))
            return lengths[own] - min(length for i, length in enumerate(lengths) if i != own)
    return 0.0


def _facts(garment: Garment, half: Half, by: float, ruled: bool) -> tuple[Fact, ...]:
    side, dart = half.side, dart_on(half, Role.SHOULDER)
    taken = 0.0 if dart is None else dart.mouth_a.distance(dart.mouth_b)
    return (
        Fact(
            f"back_spread_{side}",
            by,
            "mm",
            "rule" if ruled else "choice",
            say("the {side} back wider between centre and armhole", side=side),
        ),
        Fact(f"shoulder_dart_{side}", taken, "mm", "solve", "what the back shoulder's dart takes in now"),
        Fact(
            f"shoulder_ease_{side}",
            _shoulder_ease(garment, half),
            "mm",
            "solve",
            "eased onto the front, the dart closed",
        ),
    )
