"""What fullness that was let into a piece does to the rest of the garment: the ease of its seams, and the aims."""

from __future__ import annotations

from dataclasses import replace

from drafting.garment import Garment, Piece, Run, Seam, Section, Use, shift_aim
from drafting.garment.spreading import level_growth
from drafting.tolerance import TOLERANCE


def let_into(garment: Garment, old: Piece, new: Piece) -> Garment:
    """Return the garment with a piece spread: its seams state the ease that was let in, its aims what levels gained."""
    grown = {
        Use(old.name, one.name): two.path.length - one.path.length for one, two in zip(old.ring, new.ring, strict=True)
    }
    changed = {use: by for use, by in grown.items() if abs(by) > TOLERANCE.same_point}
    seams = [
        _eased(seam, changed) for seam in garment.seams if any(Use(u.piece, u.line) in changed for u in seam.uses())
    ]
    garment = garment.with_(pieces=[new], seams=seams)
    for measure, by in level_growth(old, new).items():
        garment = shift_aim(garment, measure, by)
    return garment


def _eased(seam: Seam, grown: dict[Use, float]) -> Seam:
    def section(old: Section) -> Section:
        gains = [_gain(run, grown) for run in old.plies]
        return replace(old, ease=tuple(e + g - gains[0] for e, g in zip(old.ease, gains, strict=True)))

    return replace(seam, sections=tuple(section(one) for one in seam.sections))


def _gain(run: Run, grown: dict[Use, float]) -> float:
    return sum(grown.get(Use(use.piece, use.line), 0.0) for use in run)
