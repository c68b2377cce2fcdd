"""What is said of the wash: which cloths are washed before they are cut, and what of them that takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafting.cloth import Cloth
from drafting.lay.spread import Lay
from drafting.units import Unit, show_length, show_share

WASHING = "Before you cut, wash and dry the cloth as the garment will be."
"""What comes before any laying."""

UNWASHED = "Cut the cloth as it is bought, unwashed: the pattern is larger by what the wash takes."
"""What is said instead of cloth that the pattern allows for."""


def tell_washing(cloths: Iterable[Cloth]) -> str:
    """Return what is done to some cloths before they are cut; one that no pattern is larger for is washed."""
    found = list(dict.fromkeys(cloths))
    unwashed = [cloth for cloth in found if cloth.growth != (1.0, 1.0)]
    if not unwashed:
        return WASHING
    if len(unwashed) == len(found):
        return UNWASHED
    return f"{', '.join(dict.fromkeys(cloth.name for cloth in unwashed))}: {UNWASHED} All else: {WASHING}"


def tell_loss(lay: Lay, unit: Unit) -> Iterator[str]:
    """Yield what a cloth that is washed first loses by it."""
    ways = (("length", lay.cloth.shrink_along), ("width", lay.cloth.shrink_across))
    lost = [f"{show_share(share)} in {way}" for way, share in ways if share > 0.0]
    if lost and not lay.cloth.cut_unwashed:
        left = show_length(lay.width, unit)
        share = " and ".join(lost)
        yield f"What it loses in the wash, {share}, is bought too; {left} of its width can be used then."
