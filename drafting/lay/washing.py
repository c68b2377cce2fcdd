"""What is said of the wash: which cloths are washed before they are cut, and what of them that takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafting.cloth import Cloth
from drafting.finishing.labels import name_cloth
from drafting.lay.spread import Lay
from drafting.units import Unit, show_length, show_share

WASHING = "Before you cut, wash and dry the cloth as the garment will be."
"""What comes before any laying."""

UNWASHED = "Cut the cloth as it is bought, unwashed: the pattern is larger by what the wash takes."
"""What is said instead of cloth that the pattern allows for."""


def tell_washing(cloths: Iterable[tuple[str, Cloth]]) -> str:
    """Return what is done to cloths before they are cut, each with its name in the ticket.

    One that no pattern is larger for is washed.
    """
    found = dict(cloths)
    unwashed = [name for name, cloth in found.items() if cloth.growth != (1.0, 1.0)]
    if not unwashed:
        return WASHING
    if len(unwashed) == len(found):
        return UNWASHED
    washed = [name for name in found if name not in unwashed]
    return f"{_list_cloths(unwashed)}: {UNWASHED} {_list_cloths(washed)}: {WASHING}"


def _list_cloths(names: Iterable[str]) -> str:
    *first, last = map(name_cloth, names)
    told = f"{', '.join(first)} and {last}" if first else last
    return f"{told[0].upper()}{told[1:]}"


def tell_loss(lay: Lay, unit: Unit) -> Iterator[str]:
    """Yield what a cloth that is washed first loses by it."""
    ways = (("length", lay.cloth.shrink_along), ("width", lay.cloth.shrink_across))
    lost = [f"{show_share(share)} in {way}" for way, share in ways if share > 0.0]
    if lost and not lay.cloth.cut_unwashed:
        left = show_length(lay.width, unit)
        share = " and ".join(lost)
        yield f"What it loses in the wash, {share}, is bought too; {left} of its width can be used then."
