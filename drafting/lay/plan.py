"""The lay of a garment: for each cloth, where its parts lie in a single layer, right side up, and how much to buy."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from drafting.cloth import Cloth, Stripe
from drafting.finishing.cutpiece import CutPiece
from drafting.garment import Brief, Garment
from drafting.garment.model import INTERFACING, MAIN_CLOTH
from drafting.geometry.cells import quarter_turn
from drafting.lay.interfacing import find_interfacing
from drafting.lay.matched import LaidStripe, list_matched, match_batches
from drafting.lay.pack import (
    LEAST_LAYINGS,
    ClothStrip,
    Effort,
    PartPlace,
    Tie,
    has_room,
    pack_shortest,
    take_cells,
    top_of,
    way,
)
from drafting.lay.parts import Part, parts_of
from drafting.lay.spread import ClothSpread, LaidPart, Lay
from drafting.lay.stripes import place_against_stripe
from drafting.proof.checks.cutting import SELVEDGES
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_table
from drafting.units import Unit

GAP = TradeValue(3.0, "mm", "derived", "by drawing")
"""Between parts laid on cloth, for the blade."""

CELL = TradeValue(6.0, "mm", "from memory")
"""About, of a cell in which a place for a part is sought."""

SQUARED = TradeValue(50.0, "mm", "common practice", "about 5 cm")
"""To buy beyond what is laid, for squaring the ends."""

BOUGHT_BY = trade_table({"cm": 100.0, "mm": 100.0, "in": 114.3}, "mm", "common practice")
"""By which cloth is bought: tenths of a metre, eighths of a yard."""

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


def plan_lays(
    garment: Garment, cut: Sequence[CutPiece], brief: Brief, unit: Unit = "cm", told: Told = lambda _: True
) -> tuple[Lay, ...]:
    """Return the lay of each cloth that is cut, the main cloth first.

    The same pieces and cloths always give the same lay, unless ``told`` ends the search before; then each is the best
    found so far.
    """
    shares = share_out(garment, cut, brief, unit)
    return tuple(lay_batches([(garment, parts)], cloth, kind, unit, told) for kind, cloth, parts in shares)


PlacedStripes = tuple[tuple[Stripe, float], ...]
"""Stripes, and how far a piece is moved against each (mm)."""


def place_stripes(garment: Garment, cut: Sequence[CutPiece], brief: Brief) -> Mapping[str, PlacedStripes]:
    """Return, of each net piece of a striped cloth whose stripes are matched, these and its shifts against them."""
    found: dict[str, PlacedStripes] = {}
    for _, cloth, parts in share_out(garment, cut, brief):
        for stripe in list_matched(cloth):
            for name, shift in place_against_stripe(garment, parts, stripe).moved.items():
                found[name] = (*found.get(name, ()), (stripe, shift))
    return found


def share_out(
    garment: Garment, cut: Sequence[CutPiece], brief: Brief, unit: Unit = "cm", owner: str = ""
) -> Iterator[tuple[str, Cloth, Sequence[Part]]]:
    """Yield the parts of each cloth that is cut, the main cloth's first, interfacing last: its kind, cloth, parts."""
    parts = parts_of(garment, cut, owner)
    for kind, cloth in {MAIN_CLOTH: brief.cloth, **brief.cloths}.items():
        of_kind = [part for part in parts if part.piece.cloth == kind]
        if of_kind:
            yield kind, cloth, of_kind
    stiffened = [_grow_part(part, brief) for part in parts if part.piece.interfaced]
    if stiffened:
        yield INTERFACING, find_interfacing(brief, unit), stiffened


def _grow_part(part: Part, brief: Brief) -> Part:
    """A part as large as the pattern that it is cut by, which is drawn for the cloth that it stiffens."""
    growth = {MAIN_CLOTH: brief.cloth, **brief.cloths}[part.piece.cloth].growth
    return replace(part, ring=part.ring * growth)


def lay_batches(
    batches: Sequence[tuple[Garment, Sequence[Part]]],
    cloth: Cloth,
    kind: str,
    unit: Unit,
    told: Told = lambda _: True,
    tries: int = TRIES,
    cell: float = CELL,
) -> Lay:
    """Return the lay of parts on one cloth, a batch of them for each garment.

    The fewer ``tries`` and the larger the ``cell`` (mm), the sooner it is found, and the longer it may be.
    """
    stripes = [match_batches(batches, stripe) for stripe in list_matched(cloth)]
    parts = [part for _, some in batches for part in some]
    width = cloth.width * cloth.washed[0] - SELVEDGES
    across = next((each.stripe.repeat for each in stripes if each.is_across), 0.0)
    along = next((each.stripe.repeat for each in stripes if not each.is_across), 0.0)
    strip = _strip(width - along, (along, across), cell)
    strip = replace(strip, taken=_take_flaws(cloth, strip, (along, across)))
    firsts = [across * k / OFFSETS for k in range(OFFSETS)] if across else [0.0]
    tries = tries // len(firsts)
    effort = Effort(EFFORT, len(firsts) * (LEAST_LAYINGS + tries // len(parts)), told)
    tried = [
        (*_pack_parts(parts, strip, _tie_parts(parts, stripes, first), cloth.one_way, tries, effort), first)
        for first in firsts
    ]
    spots, fits, first = min(tried, key=lambda each: (len(each[1]) - sum(each[1]), top_of(each[0], strip)))
    laying = [part for part, fit in zip(parts, fits, strict=True) if fit]
    laid = tuple(_place_part(part, spot, strip) for part, spot in zip(laying, spots, strict=True))
    length = top_of(spots, strip)
    too_wide = tuple(part for part, fit in zip(parts, fits, strict=True) if not fit)
    grown = cloth.growth
    return Lay(
        cloth, kind, (replace(ClothSpread(width, SELVEDGES / 2.0, laid, length).grown(*grown), flaws=cloth.flaws),),
        too_wide, need_cloth(length, cloth, across), to_buy(length, cloth, unit, across),
        tuple(_begin_stripe(each, first).grown(grown[each.is_across]) for each in stripes), effort.stopped,
    )  # fmt: skip


def _begin_stripe(stripe: LaidStripe, first: float) -> LaidStripe:
    """A stripe of which the first across lies so far from the cut end (mm)."""
    return replace(stripe, first=first) if stripe.is_across else stripe


def _tie_parts(parts: Sequence[Part], stripes: Sequence[LaidStripe], first: float) -> list[Tie]:
    """How each part is tied to the stripes, the first of those across lying ``first`` mm from the cut end."""
    ties: list[list[float | None]] = [[None, None] for _ in parts]
    for each in stripes:
        for part, tie in zip(parts, ties, strict=True):
            if part.tied and each.shifts:
                tie[each.is_across] = each.shifts[part.key] + (first if each.is_across else 0.0)
    return [(x, y) for x, y in ties]


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


def _pack_parts(
    parts: Sequence[Part],
    strip: ClothStrip,
    ties: Sequence[Tie],
    one_way: bool,
    tries: int,
    effort: Effort,
) -> tuple[tuple[PartPlace, ...], list[bool]]:
    """Return where the parts lie for which the strip has room, and which parts these are."""
    turns = (0,) if one_way else (0, 2)
    every = [
        [way(quarter_turn(part.ring, turn), strip, GAP, tie, turn > 0) for turn in turns]
        for part, tie in zip(parts, ties, strict=True)
    ]
    fits = [all(has_room(each, strip) for each in ways) for ways in every]
    ways = [each for each, fit in zip(every, fits, strict=True) if fit]
    return (pack_shortest(ways, strip, tries // len(ways), effort) if ways else ()), fits


def to_buy(length: float, cloth: Cloth, unit: Unit, begun: float = 0.0) -> float:
    """Return how much cloth to buy (mm) for a length laid.

    Added is what the wash takes, what it takes to square the ends, and what may go before the stripe that the lay is
    begun at (``begun``); it is rounded up to what is sold.
    """
    needed = need_cloth(length, cloth, begun)
    return math.ceil(needed / BOUGHT_BY[unit] - TOLERANCE.same_point) * BOUGHT_BY[unit]


def need_cloth(length: float, cloth: Cloth, begun: float = 0.0) -> float:
    """Return how much cloth a length laid takes before the wash (mm), its ends squared and the stripe found."""
    return (length + SQUARED + begun) / cloth.washed[1] if length else 0.0


def _strip(width: float, repeats: tuple[float, float], about: float) -> ClothStrip:
    """A strip of cells of which a whole number makes its width, or a repeat (mm) of the stripe along and across."""
    columns = max(1, int(width / max(about, width / 250.0)))
    cell = width / columns
    x, y = (max(1, round(repeat / cell)) for repeat in repeats)
    tied = (repeats[0] / x or cell, repeats[1] / y or cell)
    return ClothStrip(int(width / tied[0]) if repeats[0] else columns, tied, (x, y))


def _place_part(part: Part, spot: PartPlace, strip: ClothStrip) -> LaidPart:
    corner = (spot.column * strip.cell[0], spot.row * strip.cell[1])
    return LaidPart(part, spot.way.turned, spot.way.ring + corner)
