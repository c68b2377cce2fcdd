"""What is worth knowing of a drawing: labels that found no room, and characters that no font has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafting.output.pdf.text import missing_characters
from drafting.output.pictures.drawing import Drawing, PrintInfo
from drafting.output.pictures.names import LostName
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
    words = _list_some(
        f"{lost.words} on {codes[lost.piece]}{_tell_page(lost, plan)}" for lost in drawing.lost if lost.kind != "side"
    )
    if words:
        yield f"Drawn, but without room for a name: {words}. The key shows each kind of line."
    lacking = missing_characters(_words(plan, info))
    if lacking:
        yield (
            f"No font here has {_list_some(f'{c} (U+{ord(c):04X})' for c in lacking)}: printed as a box with the "
            "character's code. Install a font that has it, and the extra that sets it: blockwright[scripts]."
        )


def _tell_page(lost: LostName, plan: SheetPlan) -> str:
    """On which of several pages a mark begins that has no name: " (page B3)"."""
    if lost.at is None or len(plan.tiling.tiles) == 1:
        return ""
    x, y = lost.at
    boxes = ((tile, plan.tiling.box(tile)) for tile in plan.tiling.tiles)
    name = next((tile.name for tile, (x0, y0, x1, y1) in boxes if x0 <= x <= x1 and y0 <= y <= y1), "")
    return f" (page {name})" if name else ""


def _words(plan: SheetPlan, info: PrintInfo) -> Iterator[str]:
    yield from (info.title, info.wearer, *info.lines)
    for piece in plan.pieces:
        yield from (piece.title, piece.how, *piece.labels)


def _list_some(words: Iterable[str]) -> str:
    all_of = list(dict.fromkeys(words))
    more = f" and {len(all_of) - _SHOWN} more" if len(all_of) > _SHOWN else ""
    return ", ".join(all_of[:_SHOWN]) + more
