"""The order in which seams are usually sewn: when a seam of its kind is sewn, among those that are free.

Common practice: darts and the seams within front and back first, while they lie flat; then a centre seam and what
closes it; shoulders and the neck's finish; sides; sleeves, armhole finishes; the waist; cuffs and bands at the ends.
Sleeves set in flat come before the sides by what they cross, not by this rank.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from drafting.garment import Garment, Role, Seam, is_centre

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
