"""How much cloth to buy: in the ticket's width what the cutting plan takes, in a shop's the first good lay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafting.cloth import Cloth
from drafting.finishing.cutpiece import CutPiece
from drafting.garment import Brief, Garment
from drafting.garment.model import INTERFACING
from drafting.lay.parts import Part
from drafting.lay.plan import QUICK, lay_batches, share_out
from drafting.lay.spread import Lay
from drafting.lay.widths import SAME_WIDTH, list_shop_widths
from drafting.record import dataclass
from drafting.units import Unit


@dataclass(frozen=True, slots=True)
class ClothToBuy:
    """What is bought of one cloth: for each width (mm), how much at most (mm); None where a piece is too wide for it.

    The first width is the one that the cloth has. ``kind`` is the cloth's name in the ticket, or ``INTERFACING``.
    """

    kind: str
    cloth: Cloth
    lengths: tuple[tuple[float, float | None], ...]


def list_cloth_to_buy(
    garment: Garment, cut: Sequence[CutPiece], brief: Brief, lays: Sequence[Lay], unit: Unit
) -> tuple[ClothToBuy, ...]:
    """Return what is bought of each cloth, interfacing last.

    In the cloth's own width it is what its lay of ``lays`` takes. In a shop's widths it is at most so much, for a
    longer search may find less: the few layings that are tried there take hundredths of a second, and are tried again
    for a plan in that width.
    """
    own = {lay.kind: None if lay.too_wide else lay.buy for lay in lays}
    return tuple(
        ClothToBuy(
            kind,
            cloth,
            (
                (cloth.width, own[kind]),
                *(() if kind == INTERFACING else _in_shop(garment, parts, cloth, kind, own[kind], unit)),
            ),
        )
        for kind, cloth, parts in share_out(garment, cut, brief, unit)
    )


def _in_shop(
    garment: Garment, parts: Sequence[Part], cloth: Cloth, kind: str, own: float | None, unit: Unit
) -> tuple[tuple[float, float | None], ...]:
    """For each width the shortest lay found in it or in a narrower one: what lies on that lies on the wider, too.

    For a width narrower than the cloth's own it isn't told to be less than in that.
    """
    found: dict[float, float | None] = {}
    least: float | None = None
    for width in sorted((cloth.width, *_other_widths(cloth.width, unit))):
        here = (
            own if width == cloth.width else _length(garment, parts, replace(cloth, width=width, flaws=()), kind, unit)
        )
        if here is not None and own is not None and width < cloth.width:
            here = max(here, own)
        least = here if least is None or here is None else min(least, here)
        found[width] = least
    return tuple((width, found[width]) for width in _other_widths(cloth.width, unit))


def _other_widths(width: float, unit: Unit) -> Iterator[float]:
    yield from (each for each in list_shop_widths(unit) if abs(each - width) >= SAME_WIDTH)


def _length(garment: Garment, parts: Sequence[Part], cloth: Cloth, kind: str, unit: Unit) -> float | None:
    lay = lay_batches([(garment, parts)], cloth, kind, unit, how=QUICK)
    return None if lay.too_wide else lay.buy
