"""Which stitch is usual, by its ISO 4915 number (common practice)."""

from __future__ import annotations

from collections import Counter

from drafting.cloth import Cloth, Kind
from drafting.garment.model import Garment
from drafting.garment.seam import LOCKSTITCH, OVERLOCK


def stitch_for(cloth: Cloth) -> str:
    """Return the ISO 4915 number of the stitch that joins two edges of a cloth (common practice)."""
    return LOCKSTITCH if cloth.kind is Kind.WOVEN else OVERLOCK


def usual_stitch(garment: Garment) -> str:
    """Return the ISO 4915 number of the stitch that most of the garment's long seams have; 514 where there are none."""
    plain = Counter(seam.stitch for seam in garment.seams if seam.kind.long)
    counts = plain or Counter(seam.stitch for seam in garment.seams)
    return counts.most_common(1)[0][0] if counts else OVERLOCK
