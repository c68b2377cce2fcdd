"""The lay of a garment: for each cloth, where its parts lie in a single layer, right side up, and how much to buy."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import field

from drafting.cloth import Cloth, Kind, Stripe
from drafting.finishing.cutpiece import CutPiece
from drafting.garment import Brief, Garment
from drafting.geometry.cells import Floats, turned
from drafting.lay.pack import Spot, Strip, shortest, top_of, way
from drafting.lay.parts import Part, parts_of
from drafting.lay.stripes import Match, shifts
from drafting.proof.cutting import SELVEDGES
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.units import Unit

GAP = 3.0
"""mm between parts, for the blade (by drawing)."""

CELL = 6.0
"""mm, about: the side of a cell of the search."""

SQUARED = 50.0
"""mm to buy beyond what is laid, for squaring the ends (common practice: about 5 cm)."""

STEPS = {"cm": 100.0, "mm": 100.0, "in": 114.3}
"""mm by which cloth is bought: tenths of a metre, eighths of a yard (common practice)."""

FINEST = 4.0
"""mm: a stripe of a finer repeat isn't matched (by drawing)."""

TRIES = 4000
"""How many orders of laying are tried, over the number of parts."""


@dataclass(frozen=True, slots=True)
class Laid:
    """A part on the cloth; ``turned``: it lies upside down.

    ``ring`` is its cut outline there (mm): x from what can be used of the cloth's left edge, y from its cut end.
    """

    part: Part
    turned: bool
    ring: Floats = field(compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Lay:
    """The lay of one cloth, right side up in a single layer.

    ``width`` is what can be used of it after the wash, between the selvedges, which take ``edge`` mm at each side;
    ``length`` what the parts take of it; ``buy`` what to buy (mm). ``too_wide`` are parts for which the cloth isn't
    wide enough. ``one_way``: all parts lie the same way up. ``shifts`` tell how far each net piece is moved against
    the stripe, and ``matches`` how the stripes meet; empty without a stripe.
    """

    cloth: Cloth
    kind: str
    width: float
    edge: float
    laid: tuple[Laid, ...]
    too_wide: tuple[Part, ...]
    length: float
    buy: float
    one_way: bool
    shifts: Mapping[str, float] = field(default_factory=dict)
    matches: tuple[Match, ...] = ()

    @property
    def used(self) -> float:
        """The share of the cloth laid on that parts cover."""
        area = sum(abs(_area(each.ring)) for each in self.laid)
        return area / (self.width * self.length) if self.length else 0.0


def plan_lays(garment: Garment, cut: Sequence[CutPiece], brief: Brief, unit: Unit = "cm") -> tuple[Lay, ...]:
    """Return the lay of each cloth that is cut, the main cloth first.

    The same pieces and cloths always give the same lay.
    """
    parts = parts_of(garment, cut)
    cloths = {"main": brief.cloth, "trim": brief.trim}
    kinds = [kind for kind in cloths if any(part.piece.cloth == kind for part in parts)]
    return tuple(
        _lay(garment, [part for part in parts if part.piece.cloth == kind], cloths[kind], kind, unit) for kind in kinds
    )


def _lay(garment: Garment, parts: Sequence[Part], cloth: Cloth, kind: str, unit: Unit) -> Lay:
    stripe = cloth.stripe if cloth.stripe and cloth.stripe.repeat >= FINEST else None
    moved, matches = shifts(garment, parts, stripe) if stripe else ({}, ())
    width = cloth.width * (1.0 - max(0.0, cloth.shrink_across)) - SELVEDGES
    strip = _strip(width, stripe)
    one_way = cloth.kind is Kind.KNIT or cloth.nap or cloth.stripe is not None
    turns = (0,) if one_way else (0, 2)
    every = [
        [way(turned(part.ring, turn), strip, GAP, moved.get(part.name) if part.upright else None, turn > 0)
         for turn in turns]
        for part in parts
    ]  # fmt: skip
    fits = [all(way.columns <= strip.columns for way in ways) for ways in every]
    ways = [each for each, fit in zip(every, fits, strict=True) if fit]
    spots = shortest(ways, strip, TRIES // max(1, len(ways))) if ways else ()
    laying = [part for part, fit in zip(parts, fits, strict=True) if fit]
    laid = tuple(_placed(part, spot, strip) for part, spot in zip(laying, spots, strict=True))
    length = top_of(spots, strip)
    too_wide = tuple(part for part, fit in zip(parts, fits, strict=True) if not fit)
    buy = to_buy(length, cloth, unit)
    return Lay(cloth, kind, width, SELVEDGES / 2.0, laid, too_wide, length, buy, one_way, moved, matches)


def to_buy(length: float, cloth: Cloth, unit: Unit) -> float:
    """Return how much cloth to buy (mm) for a length laid.

    Added is what the wash takes and what it takes to square the ends; it is rounded up to what is sold.
    """
    needed = (length + SQUARED) / (1.0 - max(0.0, cloth.shrink_along)) if length else 0.0
    return math.ceil(needed / STEPS[unit] - TOLERANCE.same_point) * STEPS[unit]


def _strip(width: float, stripe: Stripe | None) -> Strip:
    """A strip of cells of which a whole number makes its width, or a repeat of the stripe."""
    columns = max(1, int(width / max(CELL, width / 250.0)))
    cell = width / columns
    if stripe is None:
        return Strip(columns, (cell, cell))
    period = max(1, round(stripe.repeat / cell))
    tied = stripe.repeat / period
    if stripe.direction == "along":
        return Strip(int(width / tied), (tied, cell), axis=0, period=period)
    return Strip(columns, (cell, tied), axis=1, period=period)


def _placed(part: Part, spot: Spot, strip: Strip) -> Laid:
    corner = (spot.column * strip.cell[0], spot.row * strip.cell[1])
    return Laid(part, spot.way.turned, spot.way.ring + corner)


def _area(ring: Floats) -> float:
    x, y = ring.T
    return float((x[:-1] * y[1:] - x[1:] * y[:-1]).sum()) / 2.0
