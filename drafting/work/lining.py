"""What is cut once more, as a lining, in the order of work: how it is made up, and when it is put in."""

from __future__ import annotations

from collections.abc import Iterator

from drafting.garment import Garment, Instruction
from drafting.garment.model import INTERFACING
from drafting.saying import without_sides
from drafting.work.telling import and_, capital


def lining_words(garment: Garment) -> Iterator[Instruction]:
    """Yield a step for each cloth that pieces are cut from once more, but interfacing (common practice)."""
    layers: dict[str, list[str]] = {}
    for piece in garment.pieces:
        for kind in (kind for kind in piece.again if kind != INTERFACING):
            layers.setdefault(kind, []).append(str(without_sides(piece.title)).lower())
    opens = bool(garment.closures)
    for kind, titles in layers.items():
        yield Instruction(
            f"{capital(kind)} of {and_(tuple(dict.fromkeys(titles)))}",
            (
                "What is cut by its piece's own paper can be basted onto the wrong side of that piece now, edges "
                "level, and both sewn as one in every step.",
                "What has a paper of its own, or is to hang loose, is made up by itself as the garment is"
                f"{', open where the garment opens' * opens}.",
                "Put that in, wrong sides together, before the step in which the garment's edges are faced, bound or "
                "banded, and catch it in there.",
                "Hem it by itself, shorter than the garment.",
                *(("Fell it to the tapes of a closure by hand.",) if opens else ()),
            ),
        )
