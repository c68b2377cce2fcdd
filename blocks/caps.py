"""The cap of a set-in sleeve, solved for the armhole it meets, whether it is set in knits or in wovens.

Frame: the underarm line is y = 0, the crown lies above it, the front on -x. Any two of the cap's length, its width at
the underarm and its height fix the third (derived), but for what its curves give: a cap drawn flatter takes a wider
sleeve at one height. Height, width and cap ease are found together. What gives way for an arm that is thick for its
armhole, in this order: the height within its kind; the curves, down to the flattest; the width, a little narrower, and
the height, a little below its kind, both at once; and then the height with the ease, in proportion, so that the ease
lies at its most only where there is hardly a cap left. A woven's cap, which is eased in, has its most ease before it is
much lower than its kind. For a thin arm: the height within its kind; the width, a little
wider, with the ease, down to the least; the height above its kind, a tee's but a little before its width once more;
and at last the width, as far as it takes.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any, Final

from drafting.cloth import Fit, Kind, ease_for
from drafting.garment import Aim, Brief, Fact, Girth, Side, Solve, option
from drafting.garment.features import SleeveCap
from drafting.geometry import Point, root
from drafting.record import dataclass
from drafting.redraw.shapes import Curve
from drafting.redraw.sleeves import LOWEST_CAP
from drafting.saying import say, show_share
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

FRONT_HOLLOW = TradeValue(0.62, "share", "common practice")
"""Of the half width, the reach of the cap's front curve at the underarm: the front is hollowed more."""

FRONT_CROWN = TradeValue(0.46, "share", "common practice")
"""Of the half width, the reach of the cap's front curve at the crown."""

BACK_HOLLOW = TradeValue(0.50, "share", "common practice")
"""Of the half width, the reach of the cap's back curve at the underarm."""

BACK_CROWN = TradeValue(0.54, "share", "common practice")
"""Of the half width, the reach of the cap's back curve at the crown: the back is fuller there."""

FLATTEST = TradeValue(0.72, "share", "derived", "by drawing: bent round the underarm with a radius of 4 cm")
"""Of those reaches in the flattest cap, which takes the widest sleeve at its height."""

BY_RULE: Final = "rule"

BELOW_KIND = TradeValue(0.02, "share", "from memory", "a fitted cap 0.30 of the armhole at least")
"""Of the armhole by which a cap becomes lower than its kind, while the sleeve becomes a little narrower for it."""

BELOW_EASED = TradeValue(0.01, "share", "from memory", "a fitted cap 0.31 to 0.34 of the armhole")
"""The same of a cap that is eased in first, as far as it may be: a woven's."""

TIGHTER_BELOW = TradeValue(0.02, "share", "from memory", "a fitted cap 0.30 of the armhole at least")
"""The same of such a cap, while its sleeve becomes as narrow as any."""

MOST_WIDER = TradeValue(30.0, "mm", "from memory", "a tee's sleeve 5 to 8 cm wider than the arm")
"""By which a sleeve becomes wider than asked before its cap is drawn higher than its kind is."""

HIGHEST_CAP = TradeValue(0.36, "share", "from memory")
"""Of the armhole that any cap is high at most: in a higher one the arm can't be lifted."""

TOP_TEE, MOST_ROOMIER = (
    TradeValue(0.30, "share", "from memory", "a fifth to a quarter: with more than 0.30 the arm lifts with a fold"),
    TradeValue(58.0, "mm", "from memory", "a tee's sleeve 5 to 8 cm wider than the arm, a roomy one 10"),
)
"""Of the armhole that a tee's cap is high at most, until its sleeve is so much wider than asked: only an arm that is
thinner yet for its armhole has a higher one."""

CAP_KINDS: Final[Mapping[str, tuple[float, ...]]] = {
    "fitted": trade_row((0.32, HIGHEST_CAP), "share", "from memory", "about a third"),
    "shirt": trade_row((0.23, 0.27), "share", "published", 'Baldt, Clothing for Women (1916), "To Draft Shirt"'),
    "tee": trade_row((0.20, 0.25), "share", "from memory", "a fifth to a quarter"),
}
"""Of the armhole that a cap of each kind is high: at least, and at most."""


def cap_option(rule: str) -> Any:
    """Declare an option that says what kind of cap a sleeve has; ``rule`` tells what it is by rule."""
    told = (
        "How high the cap is: fitted about a third of the armhole, shirt a quarter, tee a fifth to a quarter; by rule "
    )
    return option(f"{told}{rule}.", "choice", BY_RULE, choices=(BY_RULE, *CAP_KINDS))


LEAST_TAPERED = TradeValue(30.0, "mm", "from memory")
"""Of underarm seam at least, over which a sleeve comes in to its lower edge as far as the cap is concerned."""

_TAPER_TRIALS = 8  # far more than the two or three that it takes


@dataclass(frozen=True, slots=True)
class CapWanted:
    """What a cap is solved for (mm): the armhole's front and back, the sleeve's widths and length, the heights.

    ``eases`` are the least, usual and most by which the cap is longer than its armhole, ``front_share`` of which the
    front has; where ``eased_first`` its ease is at its most before the cap is lower than its kind by more than a
    little; ``narrowest`` is how narrow the sleeve may become for its cap's sake, ``tightest`` a woven's before its cap
    is much lower than its kind; ``low`` and ``high`` are what its kind may be high, ``wider`` by how much the sleeve
    becomes wider before its cap is higher, ``top`` what it is at most while its sleeve becomes roomier, ``highest``
    what any cap may be.
    """

    front: float
    back: float
    front_share: float
    eases: tuple[float, float, float]
    width: float
    narrowest: float
    wrist: float
    length: float
    low: float
    high: float
    top: float
    highest: float
    eased_first: bool = False
    wider: float = MOST_WIDER
    tightest: float = math.inf

    @property
    def lowest(self) -> float:
        """Below it there is no cap to set in."""
        return min(LOWEST_CAP * (self.front + self.back), self.low)


@dataclass(frozen=True, slots=True)
class CapTrial:
    """A height (mm), a flatness (of the roundest's reaches), an ease and a width (mm) that a cap is tried with."""

    height: float
    flat: float
    ease: float
    width: float

    def to(self, other: CapTrial, t: float) -> CapTrial:
        """What lies at the share ``t`` of the way to another."""
        pairs = ((self.height, other.height), (self.flat, other.flat), (self.ease, other.ease))
        height, flat, ease = (a + (b - a) * t for a, b in pairs)
        return CapTrial(height, flat, ease, self.width + (other.width - self.width) * t)


@dataclass(frozen=True, slots=True)
class SolvedCap:
    """The solved cap: height, ease, half widths at the underarm (mm), and its two curves, drawn front on -x."""

    height: float
    ease: float
    front_width: float
    back_width: float
    front: Curve
    back: Curve
    solve: Solve

    @property
    def width(self) -> float:
        """Of the whole sleeve at the underarm."""
        return self.front_width + self.back_width


def cap_kind(brief: Brief, asked: str) -> str:
    """Return the kind of cap asked for, or by rule: fitted, but a shirt's in a relaxed woven and a tee's in a knit."""
    if asked != BY_RULE:
        return asked
    if brief.cloth.kind is Kind.WOVEN:
        return "shirt" if brief.fit is Fit.RELAXED else "fitted"
    return "tee"


def cap_heights(kind: str, armhole: float, room: float, inset: float = 0.0) -> tuple[float, float, float, float]:
    """Return how high (mm) a cap is at least, at most and at its top by its kind, and any at most, with that ``room``.

    An armhole that lies ``inset`` in from the shoulder point has a cap so much higher: what a shoulder loses is added
    to the cap, and the underarm seam stays as long (common practice).
    """
    low, high = CAP_KINDS[kind]
    shares = (low, high, TOP_TEE if kind == "tee" else HIGHEST_CAP, HIGHEST_CAP)
    least, most, top, highest = (min(share * (armhole - inset) + inset, room) for share in shares)
    return least, most, top, highest


def pick_eases(by_rule: Sequence[float], asked: float | None) -> tuple[float, float, float]:
    """Return the least, usual and most ease (mm) of a cap: by rule, or what was asked for, which doesn't give way."""
    least, usual, most = by_rule if asked is None else (asked, asked, asked)
    return float(least), float(usual), float(most)


def half_cap(width: float, height: float, taper: float, hollow: float, crown: float) -> Curve:
    """Draw half of a cap from the underarm at (-width, 0) to the crown at (0, height).

    It leaves square to the underarm seam, which comes in by ``taper`` (rad), and is level at the crown.
    """
    start, top = Point(-width, 0.0), Point(0.0, height)
    return Curve.leaving(start, Point.polar(taper), hollow * width, top, Point(1.0, 0.0), crown * width)


def width_for(length: float, height: float, taper: float, hollow: float, crown: float) -> float:
    """Return the half width whose half cap of that height measures ``length``; 0 where even the height is longer."""

    def spare(width: float) -> float:
        return half_cap(width, height, taper, hollow, crown).length - length

    if spare(1.0) >= 0.0:
        return 0.0
    return root(spare, 1.0, length, within=TOLERANCE.same_point / 10.0)[0]


def _lengths(wanted: CapWanted, ease: float) -> tuple[float, float]:
    """How long the cap's front and back are with so much ease together."""
    return wanted.front + wanted.front_share * ease, wanted.back + (1.0 - wanted.front_share) * ease


def _half_widths(wanted: CapWanted, trial: CapTrial, taper: float) -> tuple[float, float]:
    """The half widths of a cap tried."""
    (front, back), high, flat = _lengths(wanted, trial.ease), trial.height, trial.flat
    return (
        width_for(front, high, taper, flat * FRONT_HOLLOW, flat * FRONT_CROWN),
        width_for(back, high, taper, flat * BACK_HOLLOW, flat * BACK_CROWN),
    )


def list_trials(wanted: CapWanted) -> tuple[CapTrial, ...]:
    """Return what gives way, corner by corner: from a thick arm in a short armhole to a thin one in a long armhole.

    From each to the next the cap becomes narrower beside the width that it is tried with.
    """
    least, usual, most = wanted.eases
    width, narrowest = wanted.width, wanted.narrowest
    below, fuller = (BELOW_EASED, most) if wanted.eased_first else (BELOW_KIND, usual)
    armhole = wanted.front + wanted.back
    lower = max(wanted.low - below * armhole, wanted.lowest)
    tighter = max(wanted.low - TIGHTER_BELOW * armhole, wanted.lowest)
    wider = width + wanted.wider
    roomier = width + (MOST_ROOMIER if wanted.top < wanted.highest else wanted.wider)
    tightest = min(wanted.tightest, narrowest)
    thick = (CapTrial(tighter, FLATTEST, most, tightest),) if tightest < narrowest else ()
    return (
        CapTrial(wanted.lowest, FLATTEST, most, tightest),
        *thick,
        CapTrial(lower, FLATTEST, fuller, narrowest),
        CapTrial(wanted.low, FLATTEST, usual, width),
        CapTrial(wanted.low, 1.0, usual, width),
        CapTrial(wanted.high, 1.0, usual, width),
        CapTrial(wanted.high, 1.0, least, wider),
        CapTrial(wanted.top, 1.0, least, wider),
        CapTrial(wanted.top, 1.0, least, roomier),
        CapTrial(wanted.highest, 1.0, least, roomier),
    )


def solve_cap(wanted: CapWanted, taper: float) -> tuple[CapTrial, int]:
    """Return the cap, of those that give way in their order, that is as wide as it is tried with; and the trials.

    Where none is, it is the first, which is too narrow, or the last, too wide.
    """
    trials = list_trials(wanted)

    def spare(trial: CapTrial) -> float:
        return sum(_half_widths(wanted, trial, taper)) - trial.width

    low, high, calls = 0, len(trials), 0  # the first that is too narrow lies after low, at high at the latest
    while low < high:
        middle = (low + high) // 2
        calls += 1
        low, high = (middle + 1, high) if spare(trials[middle]) >= 0.0 else (low, middle)
    if low in (0, len(trials)):
        return trials[min(low, len(trials) - 1)], calls
    a, b = trials[low - 1], trials[low]
    t, more = root(lambda t: spare(a.to(b, t)), 0.0, 1.0, within=_SAME_SHARE)
    return a.to(b, t), calls + more


_SAME_SHARE = TOLERANCE.same_point / 1000.0  # of at most some 100 mm: the width within a tenth of the same point


def draw_cap(wanted: CapWanted) -> SolvedCap:
    """Draw the cap, square to the underarm seam, whose taper depends a little on the cap's height and width."""
    trial, calls = CapTrial(0.9 * wanted.high, 1.0, wanted.eases[1], wanted.width), 0
    one, two = wanted.width / 2.0, wanted.width / 2.0
    taper = math.inf
    for _ in range(_TAPER_TRIALS):
        down = max(wanted.length - trial.height, LEAST_TAPERED)
        next_taper = math.atan2((one + two - wanted.wrist) / 2.0, down)
        if abs(next_taper - taper) < TOLERANCE.tangent:
            break
        taper = next_taper
        trial, more = solve_cap(wanted, taper)
        calls += more
        one, two = _half_widths(wanted, trial, taper)
    a = half_cap(one, trial.height, taper, trial.flat * FRONT_HOLLOW, trial.flat * FRONT_CROWN)
    b = half_cap(two, trial.height, taper, trial.flat * BACK_HOLLOW, trial.flat * BACK_CROWN)
    solve = Solve("cap", math.fsum(_lengths(wanted, trial.ease)), a.length + b.length, calls)
    return SolvedCap(trial.height, trial.ease, one, two, a, b, solve)


def cap_facts(kind: str, armhole: float, cap: SolvedCap, wanted: CapWanted, side: Side) -> tuple[Fact, ...]:
    """Tell the cap's height, and what gave way where height, width and armhole can't all be as asked."""
    low, high = CAP_KINDS[kind]
    share = cap.height / armhole
    told = say("a {kind} cap, {share} of the armhole", kind=kind, share=show_share(share))
    found = [Fact(f"cap_height_{side}", cap.height, "mm", "solve", told)]
    if share < low - TOLERANCE.tangent and cap.height < wanted.low:
        why = say("below a {kind} cap's: the armhole is small for this arm", kind=kind)
        found.append(Fact(f"cap_given_way_{side}", cap.height - low * armhole, "mm", "rule", why))
    if share > high + TOLERANCE.tangent and cap.height > wanted.high + TOLERANCE.arc_length:
        why = say("above a {kind} cap's: else the sleeve were far too wide for this arm", kind=kind)
        found.append(Fact(f"cap_given_way_{side}", cap.height - high * armhole, "mm", "rule", why))
    wider, eased = cap.width - wanted.width, cap.ease - wanted.eases[1]
    if abs(eased) > TOLERANCE.arc_length:
        says = "for the cap to be as high as it is" if eased > 0.0 else "for the sleeve to be no wider than it is"
        found.append(Fact(f"cap_ease_given_way_{side}", eased, "mm", "rule", says))
    if abs(wider) > TOLERANCE.arc_length:
        says = "a {kind} cap may be no higher" if wider > 0.0 else "for a {kind} cap to be as high as it is"
        found.append(Fact(f"upper_arm_given_way_{side}", wider, "mm", "rule", say(says, kind=kind)))
    return tuple(found)


def aim_arm(brief: Brief, width: float, asked: float | None, side: Side) -> Aim:
    """Return what a sleeve measures at the upper arm; an ease that is ``asked`` (mm) is meant."""
    arm, title = brief.body["upper_arm_girth"], say("upper arm, {side}", side=side)
    fit = ease_for(brief.fit, brief.cloth, brief.body).upper_arm
    return Aim(Girth(f"upper-arm-{side}"), title, arm, width - arm, side, 0.0 if asked is None else asked - fit)


def mark_cap(kind: str) -> SleeveCap:
    """Return what a sleeve says of its cap, for the proof to hold it to."""
    low, high = CAP_KINDS[kind]
    return SleeveCap(kind, low, high)
