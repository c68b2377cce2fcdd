"""The lay of a garment: for each cloth, where its parts lie in a single layer, right side up, and how much to buy."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final, NamedTuple

import numpy as np

from drafting.cloth import Cloth, Stripe
from drafting.finishing.cutpiece import CutPiece
from drafting.finishing.growth import cloth_as_cut, letter_again
from drafting.garment import Brief, Garment
from drafting.garment.model import INTERFACING, MAIN_CLOTH, STAY
from drafting.geometry import signed_area
from drafting.lay.interfacing import find_interfacing
from drafting.lay.matched import LaidStripe, list_matched, match_batches
from drafting.lay.parts import Part, parts_of
from drafting.lay.search import EFFORT, FoundLay, SearchDepth, Told, search_lay
from drafting.lay.spread import ClothSpread, Lay
from drafting.lay.stays import list_stay_strips
from drafting.lay.stripes import place_against_stripe
from drafting.lay.widths import FINER, list_rungs, list_shop_widths, usable_width
from drafting.proof.checks.cutting import SELVEDGES
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_table
from drafting.units import Unit

SQUARED = TradeValue(50.0, "mm", "common practice", "about 5 cm")
"""To buy beyond what is laid, for squaring the ends."""

BOUGHT_BY = trade_table({"cm": 100.0, "mm": 100.0, "in": 114.3}, "mm", "common practice")
"""By which cloth is bought: tenths of a metre, eighths of a yard."""


FIRST = SearchDepth()
"""As the booklet's lays are searched for."""

COARSE: Final = TradeValue(10.0, "mm", "from memory")
"""About, of a cell in which a place for a part is sought quickly: half as fine as in a plan, three times as fast."""

QUICK = SearchDepth(0, float(COARSE))
"""As it is sought what other widths take; every plan looks at what this finds, too, so that no more is told there."""


def plan_lays(
    garment: Garment,
    cut: Sequence[CutPiece],
    brief: Brief,
    unit: Unit = "cm",
    told: Told = lambda _: True,
    how: SearchDepth = FIRST,
) -> tuple[Lay, ...]:
    """Return the lay of each cloth that is cut, the main cloth first.

    The same pieces and cloths always give the same lay, unless ``told`` ends the search before; then each is the best
    found so far.
    """
    shares = share_out(garment, cut, brief, unit)
    return tuple(lay_batches([(garment, parts)], cloth, kind, unit, told, how) for kind, cloth, parts in shares)


PlacedStripes = tuple[tuple[Stripe, float], ...]
"""Stripes, and how far a piece is moved against each (mm)."""


def place_stripes(garment: Garment, cut: Sequence[CutPiece], brief: Brief) -> Mapping[str, PlacedStripes]:
    """Return, of each net piece of a striped cloth whose stripes are matched, these and its shifts against them."""
    found: dict[str, PlacedStripes] = {}
    for kind, cloth, parts in share_out(garment, cut, brief):
        for stripe in list_matched(cloth):
            own = [part for part in parts if part.piece.cloth == kind]
            for name, shift in place_against_stripe(garment, own, stripe).moved.items():
                found[name] = (*found.get(name, ()), (stripe, shift))
    return found


def share_out(
    garment: Garment, cut: Sequence[CutPiece], brief: Brief, unit: Unit = "cm", owner: str = ""
) -> Iterator[tuple[str, Cloth, Sequence[Part]]]:
    """Yield the parts of each cloth that is cut, the main cloth's first, interfacing last: its kind, cloth, parts.

    Of those are what is cut from it once more: it lies unseen beneath, so no stripe ties it.
    """
    parts, letters = parts_of(garment, cut, owner), letter_again(cut, brief)
    others = {name: cloth for name, cloth in brief.cloths.items() if name != INTERFACING}
    for kind, cloth in {MAIN_CLOTH: brief.cloth, **others, INTERFACING: find_interfacing(brief, unit)}.items():
        own = [part for part in parts if part.piece.cloth == kind]
        again = _cut_again([part for part in parts if kind in part.piece.again], kind, brief, letters)
        strips = list_stay_strips(garment, cut, owner) if kind == STAY else ()
        of = cloth_as_cut(kind, cloth) if own or again else replace(cloth, cut_unwashed=False)  # strips have no print
        if all_of := [*own, *again, *strips]:
            yield kind, of if own or again else replace(of, stripe=None), all_of


def _cut_again(parts: Sequence[Part], kind: str, brief: Brief, letters: Mapping[tuple[str, str], str]) -> list[Part]:
    """Parts cut once more, by the prints for that cloth: as large as they are worn, but for what stiffens them.

    Interfacing is put on before the wash: it is as large as the piece is drawn.
    """
    prints = {part.piece.name: part.piece for part in parts}
    prints = {name: replace(piece, code=letters[name, kind]) for name, piece in prints.items()}
    stiffens = kind == INTERFACING
    return [
        replace(
            part,
            piece=prints[part.piece.name],
            ring=part.ring * np.array(brief.cloth_named(part.piece.cloth).growth) if stiffens else part.ring,
            tied=False,
        )
        for part in parts
    ]


Batches = Sequence[tuple[Garment, Sequence[Part]]]
"""The parts of some garments, those of each by themselves."""


def lay_batches(
    batches: Batches, cloth: Cloth, kind: str, unit: Unit, told: Told = lambda _: True, how: SearchDepth = FIRST
) -> Lay:
    """Return the lay of parts on one cloth, a batch of them for each garment.

    What lies on a narrower cloth lies on a wider one, too: asked for the ``narrower``, it is the shortest of the lays
    sought in all widths up to the cloth's own, so that a wider cloth never needs more length.
    """
    return lay_on_rungs(gather_parts(batches, cloth, kind, unit, told), cloth, how)


class OnOneCloth(NamedTuple):
    """What is laid on one cloth, of whatever width: the parts, how they lie against its stripes, and what is told."""

    batches: Batches
    stripes: Sequence[LaidStripe]
    kind: str
    unit: Unit
    told: Told

    @property
    def parts(self) -> list[Part]:
        """The parts of all batches."""
        return [part for _, some in self.batches for part in some]


def gather_parts(batches: Batches, cloth: Cloth, kind: str, unit: Unit, told: Told = lambda _: True) -> OnOneCloth:
    """Return the parts of some garments as they are laid on a cloth."""
    return OnOneCloth(batches, [match_batches(batches, stripe) for stripe in list_matched(cloth)], kind, unit, told)


EFFORT_ON_RUNGS = 10 * EFFORT
"""Rows set against rows beyond which no further rung is tried: a guard, far from any garment of the catalogue."""


def lay_on_rungs(to_lay: OnOneCloth, cloth: Cloth, how: SearchDepth) -> Lay:
    """Return the lay in the cloth's width, down to a rung, or, if so asked, the shortest of this and those in narrower.

    The last is that in which the parts would cover more than there is, or one of them has no room: up to this one,
    which lies between two rungs, finer ones are tried. What is sought on a rung is the same for every cloth, or goes on
    for longer where less is wanted: so what is found is never longer on a wider cloth, unless there is so much to lay
    that not all rungs can be tried. Nothing is laid where no lay is as short as is wanted.
    """
    area = math.fsum(abs(signed_area(part.ring)) for part in to_lay.parts)
    best: Lay | None = None
    fits, used = cloth.width, 0
    for finer in FINER:
        for width in list_rungs(fits, to_lay.unit, finer):
            of = replace(cloth, width=width)
            short = best.length / cloth.growth[1] if best and best.laid else how.below
            enough = not how.narrower or area >= short * usable_width(of) or used > EFFORT_ON_RUNGS
            if best and (best.stopped or enough):
                return best
            found = _search(to_lay, of, replace(how, below=short, whole=True))
            lay, used = tell_lay(to_lay, of, found), used + found.used
            if lay.too_wide:
                break
            fits = width
            if best is None:
                best = _lay_quickly(to_lay, cloth, _take_narrower(lay, cloth, None), how)
            else:
                best = _take_narrower(lay, cloth, best) if lay.laid else replace(best, stopped=lay.stopped)
    return tell_lay(to_lay, cloth, _search(to_lay, cloth, how)) if best is None else best


def _lay_quickly(to_lay: OnOneCloth, cloth: Cloth, best: Lay, how: SearchDepth) -> Lay:
    """A lay, or the shorter one that a quick search finds in a shop's widths up to the cloth's own.

    Whoever buys in one of these is told what that search found there: so no plan takes more. What goes by orders of
    laying is now and then shorter on coarser cells.
    """
    for width in list_shop_widths(to_lay.unit) if how.tries else ():
        if width <= cloth.width + TOLERANCE.same_point and not best.stopped:
            of = replace(cloth, width=width)
            short = best.length / cloth.growth[1] if best.laid else how.below
            lay = tell_lay(to_lay, of, _search(to_lay, of, replace(QUICK, below=short, whole=True)))
            best = replace(
                _take_narrower(lay, cloth, None) if lay.laid and not lay.too_wide else best, stopped=lay.stopped
            )
    return best


def _take_narrower(lay: Lay, cloth: Cloth, before: Lay | None) -> Lay:
    """The lay of a cloth's rung as it lies on the cloth, which had a longer one before."""
    (spread,) = lay.spreads
    width = usable_width(cloth) * cloth.growth[0]
    spared = before.buy + before.spared - lay.buy if before and before.laid else 0.0
    return replace(lay, cloth=cloth, spreads=(replace(spread, width=width),), spared=spared)


def _search(to_lay: OnOneCloth, cloth: Cloth, how: SearchDepth) -> FoundLay:
    return search_lay(to_lay.parts, to_lay.stripes, cloth, to_lay.told, how)


def tell_lay(to_lay: OnOneCloth, cloth: Cloth, found: FoundLay) -> Lay:
    """Return what was found as a lay of the cloth, with what is needed and bought of it."""
    stripes, unit = to_lay.stripes, to_lay.unit
    begun = next((each.stripe.repeat for each in stripes if each.is_across), 0.0)
    spread = ClothSpread(usable_width(cloth), SELVEDGES / 2.0, found.laid, found.length).grown(*cloth.growth)
    return Lay(
        cloth, to_lay.kind, (replace(spread, flaws=cloth.flaws),), found.too_wide,
        need_cloth(found.length, cloth, begun), to_buy(found.length, cloth, unit, begun),
        tuple(_begin_stripe(each, found.first).grown(cloth.growth[each.is_across]) for each in stripes), found.stopped,
    )  # fmt: skip


def _begin_stripe(stripe: LaidStripe, first: float) -> LaidStripe:
    """A stripe of which the first across lies so far from the cut end (mm)."""
    return replace(stripe, first=first) if stripe.is_across else stripe


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
