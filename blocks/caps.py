"""The cap of a set-in sleeve, solved for the armhole it meets, whether it is set in knits or in wovens.

Frame: the underarm line is y = 0, the crown lies above it, the front on -x. Any two of armhole length, width at the
underarm and cap height fix the third (derived).
"""

from __future__ import annotations

import math

from drafting.garment import Solve
from drafting.geometry import Point, root
from drafting.record import dataclass
from drafting.redraw.shapes import Curve
from drafting.redraw.sleeves import LOWEST_CAP
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

FRONT_HOLLOW = TradeValue(0.62, "share", "common practice")
"""Of the half width, the reach of the cap's front curve at the underarm: the front is hollowed more."""

FRONT_CROWN = TradeValue(0.46, "share", "common practice")
"""Of the half width, the reach of the cap's front curve at the crown."""

BACK_HOLLOW = TradeValue(0.50, "share", "common practice")
"""Of the half width, the reach of the cap's back curve at the underarm."""

BACK_CROWN = TradeValue(0.54, "share", "common practice")
"""Of the half width, the reach of the cap's back curve at the crown: the back is fuller there."""

_TAPER_TRIALS = 8  # far more than the two or three that it takes


@dataclass(frozen=True, slots=True)
class SolvedCap:
    """The solved cap: height, half widths at the underarm (mm), and its two curves, drawn front on -x."""

    height: float
    front_width: float
    back_width: float
    front: Curve
    back: Curve
    solve: Solve


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


def solve_cap(front: float, back: float, width: float, taper: float, highest: float) -> tuple[float, int]:
    """Return the cap height at which a sleeve ``width`` mm wide has halves of those lengths (mm), and the trials.

    Held between the lowest and the ``highest`` cap allowed (mm): there the width gives way instead.
    """

    def spare(height: float) -> float:
        return (
            width_for(front, height, taper, FRONT_HOLLOW, FRONT_CROWN)
            + width_for(back, height, taper, BACK_HOLLOW, BACK_CROWN)
            - width
        )

    lowest = LOWEST_CAP * (front + back)
    if spare(highest) >= 0.0:
        return highest, 1
    if spare(lowest) <= 0.0:
        return lowest, 2
    return root(spare, lowest, highest, within=TOLERANCE.same_point)


def draw_cap(front: float, back: float, wrist: float, width: float, length: float, highest: float) -> SolvedCap:
    """Draw the cap, square to the underarm seam, whose taper depends a little on the cap's height and width."""
    height, calls, one, two = 0.9 * highest, 0, width / 2.0, width / 2.0
    taper = math.inf
    for _ in range(_TAPER_TRIALS):
        wanted = math.atan2((one + two - wrist) / 2.0, max(length - height, 30.0))
        if abs(wanted - taper) < TOLERANCE.tangent:
            break
        taper = wanted
        height, more = solve_cap(front, back, width, taper, highest)
        calls += more
        one = width_for(front, height, taper, FRONT_HOLLOW, FRONT_CROWN)
        two = width_for(back, height, taper, BACK_HOLLOW, BACK_CROWN)
    a = half_cap(one, height, taper, FRONT_HOLLOW, FRONT_CROWN)
    b = half_cap(two, height, taper, BACK_HOLLOW, BACK_CROWN)
    return SolvedCap(height, one, two, a, b, Solve("cap", front + back, a.length + b.length, calls))
