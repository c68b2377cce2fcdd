"""The cap of a set-in sleeve, solved for the armhole it meets, whether it is set in knits or in wovens.

Frame: the underarm line is y = 0, the crown lies above it, the front on -x. Any two of armhole length, width at the
underarm and cap height fix the third (derived), but for what the cap's curves give: a cap drawn flatter takes a wider
sleeve at one height. What gives way, in this order: the height within what its kind may be; the curves, down to the
flattest; the height below its kind; and the width upwards, where the highest cap of the kind has too short a way round;
by so much at most, then the cap is higher than its kind.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
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

MOST_WIDER = TradeValue(60.0, "mm", "from memory", "a tee's sleeve 5 to 8 cm wider than the arm")
"""By which a sleeve becomes wider than asked before its cap is drawn higher than its kind is."""

HIGHEST_CAP = TradeValue(0.36, "share", "from memory")
"""Of the armhole that any cap is high at most: in a higher one the arm can't be lifted."""

CAP_KINDS: Final[Mapping[str, tuple[float, ...]]] = {
    "fitted": trade_row((0.32, HIGHEST_CAP), "share", "from memory", "about a third"),
    "shirt": trade_row((0.23, 0.27), "share", "published", 'Baldt 1916, "To Draft Shirt": a quarter'),
    "tee": trade_row((0.20, 0.25), "share", "from memory", "a fifth to a quarter"),
}
"""Of the armhole that a cap of each kind is high: at least, and at most."""


def cap_option(rule: str) -> Any:
    """Declare an option that says what kind of cap a sleeve has; ``rule`` tells what it is by rule."""
    told = (
        "How high the cap is: fitted about a third of the armhole, shirt a quarter, tee a fifth to a quarter; by rule "
    )
    return option(f"{told}{rule}.", "choice", BY_RULE, choices=(BY_RULE, *CAP_KINDS))


_TAPER_TRIALS = 8  # far more than the two or three that it takes


@dataclass(frozen=True, slots=True)
class CapWanted:
    """What a cap is solved for (mm): the front's and the back's length, the sleeve's widths and length, the heights.

    ``low`` and ``high`` are what its kind may be high, ``highest`` is what any cap may be.
    """

    front: float
    back: float
    width: float
    wrist: float
    length: float
    low: float
    high: float
    highest: float

    @property
    def lowest(self) -> float:
        """Below it there is no cap to set in."""
        return LOWEST_CAP * (self.front + self.back)


@dataclass(frozen=True, slots=True)
class SolvedCap:
    """The solved cap: height, half widths at the underarm (mm), and its two curves, drawn front on -x."""

    height: float
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
    """Return the kind of cap asked for, or by rule: fitted, but a shirt's in a relaxed woven and a tee's in a knit.

    A close knit has a fitted sleeve too.
    """
    if asked != BY_RULE:
        return asked
    if brief.cloth.kind is Kind.WOVEN:
        return "shirt" if brief.fit is Fit.RELAXED else "fitted"
    return "fitted" if brief.fit is Fit.CLOSE else "tee"


def cap_heights(kind: str, armhole: float, room: float) -> tuple[float, float, float]:
    """Return how high (mm) a cap is at least and at most by its kind, and any at most; ``room`` is there for one."""
    low, high = CAP_KINDS[kind]
    return min(low * armhole, room), min(high * armhole, room), min(HIGHEST_CAP * armhole, room)


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


def _half_widths(wanted: CapWanted, height: float, taper: float, flat: float) -> tuple[float, float]:
    """The half widths of a cap of that height, its curves' reaches ``flat`` times the roundest's."""
    return (
        width_for(wanted.front, height, taper, flat * FRONT_HOLLOW, flat * FRONT_CROWN),
        width_for(wanted.back, height, taper, flat * BACK_HOLLOW, flat * BACK_CROWN),
    )


def solve_cap(wanted: CapWanted, taper: float) -> tuple[float, float, int]:
    """Return the height (mm) and the flatness (a share of the roundest's reaches) of a cap, and the trials."""

    def spare(height: float, flat: float) -> float:
        return sum(_half_widths(wanted, height, taper, flat)) - wanted.width

    if spare(wanted.high, 1.0) >= 0.0:
        return _raise_cap(wanted, lambda h: spare(h, 1.0) - MOST_WIDER)
    if spare(wanted.low, 1.0) >= 0.0:
        height, calls = root(lambda h: spare(h, 1.0), wanted.low, wanted.high, within=TOLERANCE.same_point)
        return height, 1.0, calls + 2
    if spare(wanted.low, FLATTEST) >= 0.0:
        flat, calls = root(lambda f: spare(wanted.low, f), FLATTEST, 1.0, within=_SAME_FLATNESS)
        return wanted.low, flat, calls + 3
    if wanted.low <= wanted.lowest or spare(wanted.lowest, FLATTEST) <= 0.0:
        return min(wanted.low, wanted.lowest), FLATTEST, 4
    height, calls = root(lambda h: spare(h, FLATTEST), wanted.lowest, wanted.low, within=TOLERANCE.same_point)
    return height, FLATTEST, calls + 4


def _raise_cap(wanted: CapWanted, spare: Callable[[float], float]) -> tuple[float, float, int]:
    """The roundest cap, as high as its kind may be, or higher where the sleeve would be far too wide for the arm."""
    if spare(wanted.high) <= 0.0:
        return wanted.high, 1.0, 2
    if spare(wanted.highest) >= 0.0:
        return wanted.highest, 1.0, 3
    height, calls = root(spare, wanted.high, wanted.highest, within=TOLERANCE.same_point)
    return height, 1.0, calls + 3


_SAME_FLATNESS = TOLERANCE.same_point / 1000.0  # of some 200 mm: the width within a thousandth of the same point


def draw_cap(wanted: CapWanted) -> SolvedCap:
    """Draw the cap, square to the underarm seam, whose taper depends a little on the cap's height and width."""
    height, flat, calls, one, two = 0.9 * wanted.high, 1.0, 0, wanted.width / 2.0, wanted.width / 2.0
    taper = math.inf
    for _ in range(_TAPER_TRIALS):
        next_taper = math.atan2((one + two - wanted.wrist) / 2.0, max(wanted.length - height, 30.0))
        if abs(next_taper - taper) < TOLERANCE.tangent:
            break
        taper = next_taper
        height, flat, more = solve_cap(wanted, taper)
        calls += more
        one, two = _half_widths(wanted, height, taper, flat)
    a = half_cap(one, height, taper, flat * FRONT_HOLLOW, flat * FRONT_CROWN)
    b = half_cap(two, height, taper, flat * BACK_HOLLOW, flat * BACK_CROWN)
    return SolvedCap(height, one, two, a, b, Solve("cap", wanted.front + wanted.back, a.length + b.length, calls))


def cap_facts(kind: str, armhole: float, cap: SolvedCap, width: float, side: Side) -> tuple[Fact, ...]:
    """Tell the cap's height, and what gave way where height, width and armhole can't all be as asked."""
    low, high = CAP_KINDS[kind]
    share = cap.height / armhole
    told = say("a {kind} cap, {share} of the armhole", kind=kind, share=show_share(share))
    found = [Fact(f"cap_height_{side}", cap.height, "mm", "solve", told)]
    wider = cap.width - width
    if share < low - TOLERANCE.tangent:
        why = say("below a {kind} cap's: the armhole is small for this arm, and the sleeve keeps its width", kind=kind)
        found.append(Fact(f"cap_given_way_{side}", cap.height - low * armhole, "mm", "rule", why))
    if share > high + TOLERANCE.tangent:
        why = say("above a {kind} cap's: else the sleeve were far too wide for this arm", kind=kind)
        found.append(Fact(f"cap_given_way_{side}", cap.height - high * armhole, "mm", "rule", why))
    if abs(wider) > TOLERANCE.arc_length:
        says = "a {kind} cap may be no higher" if wider > 0.0 else "a {kind} cap may be no lower"
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
