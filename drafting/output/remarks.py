"""What is worth knowing of a drawing: labels that found no room, and characters that no font has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafting.output.pdf.text import missing_characters
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.paper import SheetPlan

_SHOWN = 12


def remarks(plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> tuple[str, ...]:
    """Return a sentence for each thing that a maker should know of the drawing; none if all is as it should be."""
    return tuple(_remarks(plan, info.tidy(), drawing))


def _remarks(plan: SheetPlan, info: PrintInfo, drawing: Drawing) -> Iterator[str]:
    codes = {piece.name: f"{piece.code} {piece.title}" for piece in plan.pieces}
    if drawing.crowded:
        crowded = _list_some(codes[name] for name in drawing.crowded)
        yield f"Too small for the whole label, so it carries less: {crowded}. The piece list tells the rest."
    sides = _list_some(f"{lost.words} on {codes[lost.piece]}" for lost in drawing.lost if lost.kind == "side")
    if sides:
        yield f"Without room to say whose side is whose: {sides}. Cut printed side up, on the cloth's right side."
    words = _list_some(f"{lost.words} on {codes[lost.piece]}" for lost in drawing.lost if lost.kind != "side")
    if words:
        yield f"Drawn, but without room for a name: {words}. The list of lines tells what each kind means."
    lacking = missing_characters(_words(plan, info))
    if lacking:
        yield (
            f"No font here has {_list_some(f'{c} (U+{ord(c):04X})' for c in lacking)}: printed as a box with the "
            "character's code. Install a font that has it, and the extra that sets it: blockwright[scripts]."
        )


def _words(plan: SheetPlan, info: PrintInfo) -> Iterator[str]:
    yield from (info.title, info.wearer, *info.lines)
    for piece in plan.pieces:
        yield from (piece.title, piece.how, *piece.labels)


def _list_some(words: Iterable[str]) -> str:
    all_of = list(dict.fromkeys(words))
    more = f" and {len(all_of) - _SHOWN} more" if len(all_of) > _SHOWN else ""
    return ", ".join(all_of[:_SHOWN]) + more
