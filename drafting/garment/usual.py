"""What is usual in making up: when a seam of its kind is sewn, among those that are free, and by which stitch.

Common practice: darts and the seams within front and back first, while they lie flat; then a centre seam and what
closes it; shoulders and the neck's finish; sides; sleeves, armhole finishes; the waist; cuffs and bands at the ends.
Sleeves set in flat come before the sides by what they cross, not by this rank.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from types import MappingProxyType

from drafting.cloth import Cloth, Kind
from drafting.garment.model import Garment, Role, Seam

LOCKSTITCH = "301"
"""ISO 4915: the lockstitch, usual in wovens."""

OVERLOCK = "514"
"""ISO 4915: the four-thread overedge stitch, usual in knits."""

_KINDS: Mapping[str, int] = MappingProxyType(
    {
        "dart": 0, "style": 1, "centre": 2, "closure": 3, "button-closure": 3, "shoulder": 4, "neck": 5, "side": 6,
        "armhole": 7, "band": 8, "waist": 9, "waistband": 10, "cuff": 11, "hem-band": 12,
    }
)  # fmt: skip
_FINISHES: Mapping[Role, int] = MappingProxyType({Role.NECKLINE: 5, Role.ARMHOLE: 8, Role.WAIST: 10, Role.WRIST: 11})
_FINISH_KINDS = frozenset({"neck", "band", "binding", "facing", "waistband"})
_READYING = frozenset({"end", "mitre"})
_MIDDLE = 6


def usual_turns(garment: Garment, needs: Mapping[str, tuple[str, ...]]) -> Mapping[str, int]:
    """Return each seam's usual turn, lower first; ``needs`` gives the seams that each must wait for.

    What makes a band or facing ready (the seam of its ends, its mitres) has its turn.
    """
    turns = {seam.name: _turn(garment, seam) for seam in garment.seams}
    for seam in garment.seams:
        if seam.kind in _READYING:
            readied = [turns[name] for name, before in needs.items() if seam.name in before]
            turns[seam.name] = min(readied, default=_MIDDLE)
    return turns


def _turn(garment: Garment, seam: Seam) -> int:
    """The turn of a seam by its kind; of what finishes an edge, by what edge it is."""
    run = seam.plies[0]
    if seam.kind in _FINISH_KINDS and run:
        turn = _FINISHES.get(garment.line(run[0]).role)
        if turn is not None:
            return turn
    return _KINDS["centre"] if is_centre(garment, seam) else _KINDS.get(seam.kind, _MIDDLE)


def is_centre(garment: Garment, seam: Seam) -> bool:
    """Tell whether a seam joins two pieces along the centre of the front or the back."""
    return seam.kind == "style" and all(garment.line(use).role is Role.CENTRE for use in seam.uses())


def stitch_for(cloth: Cloth) -> str:
    """Return the ISO 4915 number of the stitch that joins two edges of a cloth (common practice)."""
    return LOCKSTITCH if cloth.kind is Kind.WOVEN else OVERLOCK


def usual_stitch(garment: Garment) -> str:
    """Return the ISO 4915 number of the stitch that most of the garment's long seams have; 514 where there are none."""
    plain = Counter(seam.stitch for seam in garment.seams if seam.kind in ("shoulder", "side", "armhole"))
    counts = plain or Counter(seam.stitch for seam in garment.seams)
    return counts.most_common(1)[0][0] if counts else OVERLOCK
