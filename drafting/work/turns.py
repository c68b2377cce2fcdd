"""The order in which seams are usually sewn: when a seam of its kind is sewn, among those that are free.

Common practice: darts and the seams within front and back first, while they lie flat; then a centre seam and what
closes it; shoulders and the neck's finish; sides; sleeves, armhole finishes; the waist; cuffs and bands at the ends.
Sleeves set in flat come before the sides by what they cross, not by this rank. Each kind states its turn.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from drafting.garment import Garment, Role, Seam, is_centre
from drafting.garment.seam import MIDDLE_TURN

_FINISHES: Mapping[Role, int] = MappingProxyType({Role.NECKLINE: 5, Role.ARMHOLE: 8, Role.WAIST: 10, Role.WRIST: 11})
_CENTRE = 2


def usual_turns(garment: Garment, needs: Mapping[str, tuple[str, ...]]) -> Mapping[str, int]:
    """Return each seam's usual turn, lower first; ``needs`` gives the seams that each must wait for.

    What makes a band or facing ready (the seam of its ends, its mitres) has its turn.
    """
    turns = {seam.name: _turn_of(garment, seam) for seam in garment.seams}
    for seam in garment.seams:
        if seam.kind.readies:
            readied = [turns[name] for name, before in needs.items() if seam.name in before]
            turns[seam.name] = min(readied, default=MIDDLE_TURN)
    return turns


def _turn_of(garment: Garment, seam: Seam) -> int:
    """The turn of a seam by its kind; of what finishes an edge, by what edge it is."""
    run = seam.plies[0]
    if seam.kind.by_edge and run:
        turn = _FINISHES.get(garment.line(run[0]).role)
        if turn is not None:
            return turn
    return _CENTRE if is_centre(garment, seam) else seam.kind.turn
