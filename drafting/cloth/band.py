"""Bands: how long a band is cut to lie flat on the curve it is sewn to, within what its cloth gives."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Final, Literal

from drafting.cloth.cloth import greatest_reduction
from drafting.errors import InputError, Problem
from drafting.record import dataclass
from drafting.saying import Words, mm, say, show_share
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

BandKind = Literal["neck", "armhole", "hem", "cuff", "straight", "mitred"]

BAND_STRETCHES: Final = trade_row((0.0, 0.25, 0.50, 1.00), "share", "from memory")
"""Of stretch at which the shares of bands are told; between them they run straight."""

_RIB: Final = "a rib of 100 % for a cuff or neckline is cut to 2/3 to 3/4 (a sewing guide)"
_STRAIGHT: Final = "straight seams need no reduction, curvature does (a sewing guide)"
LEAST_BAND_SHARES: Final[Mapping[BandKind, tuple[float, ...]]] = {
    "neck": trade_row((1.0, 0.90, 0.85, 0.75), "share", "from memory", _RIB),
    "armhole": trade_row((1.0, 0.90, 0.85, 0.75), "share", "from memory", "0.85 is usual; as a neck's"),
    "hem": trade_row((1.0, 0.90, 0.85, 0.80), "share", "from memory"),
    "cuff": trade_row((1.0, 0.85, 0.80, 0.75), "share", "from memory", _RIB),
    "straight": trade_row((1.0, 0.97, 0.97, 0.95), "share", "from memory", _STRAIGHT),
    "mitred": trade_row((1.0, 0.85, 0.75, 0.65), "share", "from memory"),
}
"""Of the opening to which a band is cut at least, at those stretches."""

MOST_BAND_SHARES: Final[Mapping[BandKind, tuple[float, ...]]] = {
    "neck": trade_row((1.0, 0.95, 0.85, 0.80), "share", "from memory", _RIB),
    "armhole": trade_row((1.0, 1.0, 0.90, 0.85), "share", "from memory"),
    "hem": trade_row((1.0, 0.90, 0.90, 0.90), "share", "from memory"),
    "cuff": trade_row((1.0, 0.85, 0.85, 0.85), "share", "from memory", _RIB),
    "straight": trade_row((1.0, 1.0, 1.0, 1.0), "share", "from memory", _STRAIGHT),
    "mitred": trade_row((1.0, 1.0, 1.0, 1.0), "share", "from memory"),
}
"""Of the opening to which a band is cut at most, at those stretches. A stretch between the corners of a mitred band is
as long as lies flat; one that curves takes in more than a neckline as a whole does."""

FLAT_SHARE: Final = TradeValue(0.95, "share", "derived", "from the curve it lies on")
"""Of the length that lies flat, to which a band may be shorter before it puckers the edge."""
NARROWEST_BAND: Final = TradeValue(8.0, "mm", "from memory")
"""Of width at least of a band: a narrower one can't be sewn."""
GAPE: Final = TradeValue(0.12, "share", "from memory")
"""Of the opening by which a band's free edge may be longer than what lies flat, before it shows."""
LONGEST_ROUND: Final = TradeValue(0.88, "share", "from memory", "0.80 to 0.88 of its armhole, 0.85 is usual")
"""Of its edge to which a band is lengthened at most, to go round what it is worn on: a longer one stands off."""
ROUND_GAPE: Final = TradeValue(0.07, "share", "from memory")
"""Of the opening by which such a band's free edge is longer than what lies flat at most."""
GOOD_RECOVERY: Final = TradeValue(0.90, "share", "common practice", "elastane for recovery")
"""Of recovery from which a knit keeps its shape in wear."""
DRAWING_IN: Final = ("hem", "cuff")
"""Bands that are meant to draw in their edge, so they need not lie flat on it."""


Amiss = tuple[Words, Words]
"""What is amiss, and what would mend it."""


@dataclass(frozen=True, slots=True)
class BandRule:
    """How long a band is cut, stitch line to stitch line, and why (mm).

    ``ratio`` is length / opening; ``lying_flat`` the length whose folded edge lies flat on the curve;
    ``least_by_stretch`` the shortest that still stretches to the opening; ``widest_flat`` the width at which
    a band of this length lies flat; ``draws_in`` tells a hem band or cuff, which need not. ``reasons`` say
    where the length comes from, ``findings`` what is amiss with it, and the mend.
    """

    length: float
    ratio: float
    lying_flat: float
    least_by_stretch: float
    widest_flat: float
    reasons: tuple[str, ...]
    findings: tuple[Amiss, ...] = ()
    draws_in: bool = False

    @property
    def least(self) -> float:
        """The shortest length that satisfies both the curve and the cloth."""
        flat = 0.0 if self.draws_in else FLAT_SHARE * self.lying_flat
        return max(flat, self.least_by_stretch)

    @property
    def can_be_sewn(self) -> bool:
        """Whether the band stretches to the edge it is sewn to."""
        return self.length >= self.least_by_stretch - TOLERANCE.sewn_length


def band_length(
    opening_length: float,
    turning: float,
    width: float,
    stretch: float,
    *,
    recovery: float = 0.95,
    kind: BandKind = "neck",
    given: float | None = None,
    around: float = 0.0,
) -> BandRule:
    """Return how long to cut a band for an opening.

    ``opening_length`` (mm) along the seam; ``turning`` (rad) the total turn of the opening towards the band,
    about 2 pi for a round neck, 0 for a straight edge; ``width`` (mm) finished; ``stretch`` the share the
    band's cloth gives lengthwise of the band. Derived: a band of width w inside a curve that turns by theta
    has its free edge at L - theta w; the cut length must be at least 0.95 of that, and must stretch to L.
    Within those the usual shares by stretch hold; it is longer to go ``around`` (mm) unstretched what it is worn on,
    as far as its free edge doesn't stand away. ``given``, a share of the opening, is respected and judged.
    InputError for lengths that can't be.

    >>> round(band_length(450.0, 6.2832, 15.0, 0.5).lying_flat / 450.0, 2)
    0.79
    """
    _check(opening_length, turning, width, stretch, given)
    flat = max(0.0, opening_length - turning * width)
    by_stretch = opening_length * (1.0 - greatest_reduction(stretch))
    if given is not None:
        length = given * opening_length
        reasons: tuple[str, ...] = (f"the share asked for, {show_share(given)}",)
    else:
        length, reasons = _default(opening_length, flat, by_stretch, stretch, kind)
        if (longer := min(around, flat + ROUND_GAPE * opening_length, LONGEST_ROUND * opening_length)) > length:
            reasons = (*reasons, f"lengthened to {show_share(longer / opening_length)}, to go round what it is worn on")
            length = longer
    widest = (opening_length - length) / turning if turning > TOLERANCE.tangent else float("inf")
    rule = BandRule(length, length / opening_length, flat, by_stretch, widest, reasons, draws_in=kind in DRAWING_IN)
    return replace(rule, findings=_findings(rule, opening_length, width, turning, recovery))


def _default(
    opening: float, flat: float, by_stretch: float, stretch: float, kind: BandKind
) -> tuple[float, tuple[str, ...]]:
    lows, highs = LEAST_BAND_SHARES[kind], MOST_BAND_SHARES[kind]
    low, high = _share_between(stretch, lows) * opening, _share_between(stretch, highs) * opening
    usual = f"{show_share(low / opening)} to {show_share(high / opening)} at {show_share(stretch)} stretch"
    reasons = [f"{kind}: {usual} (from memory)"]
    # A band that draws in is as short as usual; one that lies on a curve is as near to lying flat as usual.
    draws_in = kind in DRAWING_IN
    wanted = (low + high) / 2 if draws_in else min(max(flat, low), high)
    least = by_stretch if draws_in else max(FLAT_SHARE * flat, by_stretch)
    if wanted < least:
        which = "lies flat" if least > by_stretch else "stretches to the edge"
        reasons.append(f"lengthened to {show_share(least / opening)}, the least that {which}")
        wanted = least
    return min(wanted, opening), tuple(reasons)


def usual_shares(kind: BandKind, opening: float, turning: float, width: float, stretch: float) -> tuple[float, float]:
    """Return of its opening how long a band is usually cut, at least and at most (shares).

    Beside the shares by stretch, as for ``band_length``: it may be as short as what lies flat, must not be shorter than
    its curve and its cloth allow, and one for an armhole may be longer to go round the arm.
    """
    low, high = (_share_between(stretch, shares[kind]) for shares in (LEAST_BAND_SHARES, MOST_BAND_SHARES))
    flat = max(0.0, opening - turning * width) / opening
    least = max(FLAT_SHARE * flat, 1.0 - greatest_reduction(stretch))
    round_arm = min(flat + ROUND_GAPE, float(LONGEST_ROUND)) if kind == "armhole" else 0.0
    return min(low, max(flat, least)), max(high, least, round_arm)


def _share_between(stretch: float, shares: tuple[float, ...]) -> float:
    """Return the share at a stretch, straight between the tabled ones, the last beyond them."""
    for i in range(len(BAND_STRETCHES) - 1):
        start, end = BAND_STRETCHES[i], BAND_STRETCHES[i + 1]
        if stretch <= end:
            return shares[i] + (shares[i + 1] - shares[i]) * (stretch - start) / (end - start)
    return shares[-1]


def _findings(rule: BandRule, opening: float, width: float, turning: float, recovery: float) -> tuple[Amiss, ...]:
    curved, near = turning > TOLERANCE.tangent and not rule.draws_in, TOLERANCE.sewn_length
    found: list[Amiss] = []
    if rule.length > opening + near:
        by = rule.length - opening
        found.append((say("the band is {by} longer than its edge and will stand in waves", by=mm(by)), "shorten it"))
    if not rule.can_be_sewn:
        by = rule.least_by_stretch - rule.length
        found.append((say("the band is {by} too short to stretch to its edge", by=mm(by)), "lengthen it"))
    if curved and rule.length < FLAT_SHARE * rule.lying_flat - near:
        by = FLAT_SHARE * rule.lying_flat - rule.length
        says = say("the band is {by} shorter than what lies flat and will pucker its edge", by=mm(by))
        found.append((says, "lengthen it"))
    if curved and rule.length > rule.lying_flat + GAPE * opening:
        by = rule.length - rule.lying_flat
        template = "at {width} wide its free edge is {by} too long to lie flat and may stand away"
        found.append((say(template, width=mm(width), by=mm(by)), _flatter(rule)))
    if recovery < GOOD_RECOVERY:
        returns = f"its cloth comes back only {show_share(recovery)}, so the edge stretches out in wear"
        found.append((returns, "take a rib with elastane"))
    return tuple(found)


def _flatter(rule: BandRule) -> Words:
    """What lets a band's free edge lie flat."""
    if rule.widest_flat < NARROWEST_BAND:
        return "no band lies flat there in this cloth: take a stretchier cloth for it"
    return say("make it at most {most} wide, or take a stretchier cloth", most=mm(rule.widest_flat))


def _check(opening: float, turning: float, width: float, stretch: float, given: float | None) -> None:
    problems = [
        Problem(f"band.{name}", f"{value:g}", allowed)
        for name, value, low, high, allowed in (
            ("opening_length", opening, TOLERANCE.sewn_length, 1e5, "a length above 0"),
            ("turning", turning, -100.0, 100.0, "a turn in radians"),
            ("width", width, 0.0, 2000.0, "0 to 2000 mm"),
            ("stretch", stretch, 0.0, 3.0, "0 to 300 %"),
            ("ratio", 1.0 if given is None else given, 0.2, 1.5, "20 to 150 % of the edge"),
        )
        if not low <= value <= high
    ]
    if problems:
        raise InputError(problems)
