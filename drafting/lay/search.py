"""The search for the shortest lay of some parts on one cloth, in a single layer."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from drafting.cloth import Cloth
from drafting.geometry.cells import quarter_turn
from drafting.lay.matched import LaidStripe
from drafting.lay.pack import (
    LEAST_LAYINGS,
    ClothStrip,
    Effort,
    PartPlace,
    Tie,
    Way,
    has_room,
    pack_shortest,
    take_cells,
    top_of,
    way,
)
from drafting.lay.parts import Part
from drafting.lay.spread import LaidPart
from drafting.lay.widths import usable_width
from drafting.proof.checks.cutting import SELVEDGES
from drafting.record import dataclass
from drafting.trade import TradeValue

GAP = TradeValue(3.0, "mm", "derived", "by drawing")
"""Between parts laid on cloth, for the blade."""

CELL = TradeValue(6.0, "mm", "from memory")
"""About, of a cell in which a place for a part is sought."""

OFFSETS = 6
"""How many places of a stripe across are tried for the cut end."""

TRIES = 2000
"""How many orders of laying are tried, over the number of parts: a tenth of a second. Four times as many spare a tenth
of a metre in one of ten."""

EFFORT = 200_000_000
"""Rows set against rows at most in the search for one lay, a second or two: a third more than any of the catalogue's
takes, in any stripe."""

Told = Callable[[float], bool]
"""Told the share of a search that is done; says whether to go on."""


@dataclass(frozen=True, slots=True)
class SearchDepth:
    """How long a lay is searched: how many orders are tried, over the number of parts, on cells of about so many mm.

    ``narrower``: narrower cloth is searched, too. ``below``: none is wanted but one that is shorter (mm),
    ``whole``: nor one without a part for which the cloth isn't wide enough. ``effort``: how much
    of the most that a search may cost.
    """

    tries: int = TRIES
    cell: float = float(CELL)
    narrower: bool = False
    below: float = math.inf
    whole: bool = False
    effort: float = 1.0


@dataclass(frozen=True, slots=True)
class FoundLay:
    """The shortest lay found: its parts, those for which the cloth isn't wide enough, and how long it is (mm).

    Nothing is laid where none was as short as was wanted.
    ``first`` is how far the first stripe across lies from the cut end. ``stopped``: the search was ended early.
    ``used`` is what it cost, in rows set against rows.
    """

    laid: tuple[LaidPart, ...]
    too_wide: tuple[Part, ...]
    length: float
    first: float = 0.0
    stopped: bool = False
    used: int = 0


def search_lay(
    parts: Sequence[Part], stripes: Sequence[LaidStripe], cloth: Cloth, told: Told, how: SearchDepth
) -> FoundLay:
    """Return the shortest lay found of some parts on a cloth; nothing is laid where none is as short as is wanted."""
    best = FoundLay((), tuple(parts), how.below)
    strip = mark_off_strip(cloth, stripes, how.cell)
    across, _ = _find_repeats(stripes)
    firsts = [across * k / OFFSETS for k in range(OFFSETS)] if across else [0.0]
    tries = how.tries // len(firsts)
    effort = Effort(EFFORT * how.effort, len(firsts) * (LEAST_LAYINGS + tries // len(parts)), told)
    for first in firsts:
        ways = list_ways(parts, stripes, strip, first, cloth.one_way)
        fits = [all(has_room(each, strip) for each in some) for some in ways]
        fitting = [part for part, fit in zip(parts, fits, strict=True) if fit]
        unfit = tuple(part for part, fit in zip(parts, fits, strict=True) if not fit)
        if not fitting or len(unfit) > len(best.too_wide) or (unfit and how.whole):
            continue
        if len(unfit) < len(best.too_wide):
            best = FoundLay((), unfit, how.below)
        chosen = [some for some, fit in zip(ways, fits, strict=True) if fit]
        spots = pack_shortest(chosen, strip, tries // len(fitting), effort, best.length)
        if spots:
            laid = tuple(place_part(part, spot, strip) for part, spot in zip(fitting, spots, strict=True))
            best = FoundLay(laid, unfit, top_of(spots, strip), first)
    return replace(best, length=best.length if best.laid else 0.0, stopped=effort.stopped, used=effort.used)


def _take_flaws(cloth: Cloth, strip: ClothStrip, repeats: tuple[float, float]) -> int:
    """The cells that flaws take, and the blade beside them.

    The lay is begun up to a repeat further along or across the cloth, for its stripes: a flaw lies so much lower then.
    """
    taken, near = 0, GAP / 2.0
    for flaw in map(cloth.shrink_flaw, cloth.flaws):
        x, y = flaw.left - SELVEDGES / 2.0, flaw.end
        low = (x - near - repeats[0], y - near - repeats[1])
        taken |= take_cells(strip, low, (x + flaw.width + near, y + flaw.length + near))
    return taken


def list_ways(
    parts: Sequence[Part], stripes: Sequence[LaidStripe], strip: ClothStrip, first: float, one_way: bool
) -> list[list[Way]]:
    """Return the ways in which each part may lie, the first stripe across lying ``first`` mm from the cut end."""
    turns = (0,) if one_way else (0, 2)
    return [
        [way(quarter_turn(part.ring, turn), strip, GAP, tie, turn > 0) for turn in turns]
        for part, tie in zip(parts, _tie_parts(parts, stripes, first), strict=True)
    ]


def _tie_parts(parts: Sequence[Part], stripes: Sequence[LaidStripe], first: float) -> list[Tie]:
    """How each part is tied to the stripes, the first of those across lying ``first`` mm from the cut end."""
    ties: list[list[float | None]] = [[None, None] for _ in parts]
    for each in stripes:
        for part, tie in zip(parts, ties, strict=True):
            if part.tied and each.shifts:
                tie[each.is_across] = each.shifts[part.key] + (first if each.is_across else 0.0)
    return [(x, y) for x, y in ties]


MOST_COLUMNS = 250
"""Of cells across a cloth, in which a place for a part is sought."""


def mark_off_strip(cloth: Cloth, stripes: Sequence[LaidStripe], about: float, most: int = MOST_COLUMNS) -> ClothStrip:
    """Return a cloth as a strip of cells of about so many mm, ``most`` across, those taken that flaws lie on.

    A whole number of them makes its width, or a repeat of the stripe along and across.
    """
    across, along = _find_repeats(stripes)
    width = usable_width(cloth) - along
    columns = max(1, int(width / max(about, width / most)))
    cell = width / columns
    x, y = (max(1, round(repeat / cell)) for repeat in (along, across))
    tied = (along / x or cell, across / y or cell)
    strip = ClothStrip(int(width / tied[0]) if along else columns, tied, (x, y))
    return replace(strip, taken=_take_flaws(cloth, strip, (along, across)))


def _find_repeats(stripes: Sequence[LaidStripe]) -> tuple[float, float]:
    """The repeats of the stripe across and of that along (mm), 0 where there is none."""
    across = next((each.stripe.repeat for each in stripes if each.is_across), 0.0)
    return across, next((each.stripe.repeat for each in stripes if not each.is_across), 0.0)


def place_part(part: Part, spot: PartPlace, strip: ClothStrip) -> LaidPart:
    """Return a part as it lies on the cloth."""
    corner = (spot.column * strip.cell[0], spot.row * strip.cell[1])
    return LaidPart(part, spot.way.turned, spot.way.ring + corner)
