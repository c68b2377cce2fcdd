"""From placed cut pieces to ink: the one drawing that every output shows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from typing import Final

import numpy as np

from drafting.finishing.cutpiece import CutPiece, Mark, letters_on_paper
from drafting.finishing.labels import name_mark, tell_again
from drafting.flat import FlatView
from drafting.geometry import Point
from drafting.output.pdf.ink import POINT, STYLES, Fill, Floats, PieceInk, Stroke, Text, sample_strokes
from drafting.output.pdf.text import ASCENT, text_width
from drafting.output.pictures import symbols
from drafting.output.pictures.names import LostName, set_names
from drafting.output.pictures.room import Room
from drafting.output.pictures.words import SIZES, blocks, box_points, set_block
from drafting.paper import Placement, SheetPlan, Tiling
from drafting.record import dataclass
from drafting.saying import Words
from drafting.text import clean_line
from drafting.units import Unit

CELL: Final = 2.0
"""Cells in which room for words is sought (mm)."""

LONGEST: Final = 4000
"""Letters of a line of the start page; longer ones hold something amiss."""


@dataclass(frozen=True, slots=True)
class PrintInfo:
    """What is printed besides the pieces.

    The pattern's title, the wearer, the draft's mark, further lines for page 1, sections of a heading and lines (the
    proof, the order of work), the unit that lengths are written in, what must be read before all, "" if nothing, and
    the garment seen from each face. ``called`` gives the names of levels that have another on this wearer.
    """

    title: str
    wearer: str
    mark: str
    lines: tuple[str, ...] = ()
    sections: tuple[tuple[Words, tuple[str, ...]], ...] = ()
    unit: Unit = "cm"
    warning: str = ""
    flat: tuple[FlatView, ...] = ()
    called: Mapping[str, str] = field(default_factory=dict)

    def name_draft(self) -> str:
        """Return title, wearer and mark in one line."""
        return ", ".join(part for part in (self.title, self.wearer, name_mark(self.mark)) if part)

    def tidy(self) -> PrintInfo:
        """Return the same with every text as one clean line of bearable length."""
        lines = tuple(clean_line(line, LONGEST) for line in self.lines)
        sections = tuple(
            (heading, tuple(clean_line(line, LONGEST) for line in body)) for heading, body in self.sections
        )
        title, wearer, mark = clean_line(self.title, 80), clean_line(self.wearer, 60), clean_line(self.mark, 24)
        warning = clean_line(self.warning, LONGEST)
        return PrintInfo(title, wearer, mark, lines, sections, self.unit, warning, self.flat, self.called)


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """All ink on the sheet, piece by piece.

    ``crowded`` names pieces whose title block found no room and shows the code alone.
    """

    width: float
    height: float
    pieces: tuple[PieceInk, ...]
    crowded: tuple[str, ...] = ()
    lost: tuple[LostName, ...] = field(default=())


def draw_sheet(plan: SheetPlan, info: PrintInfo, cut: Sequence[CutPiece] = ()) -> Drawing:
    """Return the drawing of a sheet; ``cut`` are all pieces of the garment, where the sheet holds only some of them.

    Every label lies inside its piece, off all lines and all other labels.
    """
    info = info.tidy()
    inks: list[PieceInk] = []
    crowded: list[str] = []
    lost: list[LostName] = []
    letters = letters_on_paper(cut or plan.pieces)
    for piece, placement in plan.placed_pieces():
        inks.append(_piece_ink(piece, placement, plan, info, crowded, lost, letters))
    return Drawing(plan.sheet.width, plan.sheet.height, tuple(inks), tuple(crowded), tuple(lost))


def _piece_ink(
    piece: CutPiece,
    placement: Placement,
    plan: SheetPlan,
    info: PrintInfo,
    crowded: list[str],
    lost: list[LostName],
    letters: Mapping[str, str],
) -> PieceInk:
    """Return a piece's ink on the sheet.

    Words are set there, so that they read upright or upwards on the page.
    """
    place = placement.affine
    outline = np.concatenate([edge.path.segments for edge in piece.outline])
    strokes, fills = _signs(piece, outline)
    ink = PieceInk(piece.name, clean_line(piece.title), tuple(strokes), tuple(fills), ()).placed(place)
    room = Room.inside(
        place.apply_all(outline), [*(s.segments for s in ink.strokes), *(f.rings for f in ink.fills)], CELL
    )
    joins = _list_joins(plan.tiling)
    room.shun_lines(*joins)
    texts = _title(room, piece, joins, info, crowded)
    texts += set_names(room, _call_levels(piece, info.called), place, lost, letters, info.unit)
    texts += _letter_tiles(room, clean_line(piece.code, 8), texts[0], plan.tiling)
    return replace(ink, texts=tuple(texts))


def _call_levels(piece: CutPiece, called: Mapping[str, str]) -> CutPiece:
    """A piece whose levels are named as they are called on this wearer."""
    if not called:
        return piece
    marks = (
        replace(mark, name=called.get(mark.name, mark.name)) if mark.kind == "level" else mark for mark in piece.marks
    )
    return replace(piece, marks=tuple(marks))


def _signs(piece: CutPiece, outline: Floats) -> tuple[list[Stroke], list[Fill]]:
    strokes: list[Stroke] = []
    fills: list[Fill] = []
    for mark in piece.marks:
        more, filled = _draw_sign(mark, outline)
        strokes += more
        fills += filled
    for notch in piece.notches:
        more, filled = symbols.notch(notch, piece.side_by_fold(notch))
        strokes += more
        fills += filled
    strokes += [symbols.drill(name, at) for name, at in piece.drills]
    folds = [mark for mark in piece.marks if mark.kind == "on-fold"]
    for edge in piece.outline:
        kind = "fold-edge" if any(_same_ends(edge.path.segments, fold.path.segments) for fold in folds) else "cut"
        strokes.append(Stroke(STYLES[kind], edge.path.segments, edge.name))
    return strokes, fills


def _draw_sign(mark: Mark, outline: Floats) -> tuple[list[Stroke], list[Fill]]:
    if mark.kind == "grain":
        return symbols.grain(mark)
    if mark.kind == "stretch":
        return symbols.stretch(mark)
    if mark.kind == "on-fold":
        return symbols.on_fold(mark, _inward_of(mark, outline))
    if mark.kind == "side":
        return [], []
    if mark.kind == "adjust":
        return symbols.adjust(mark), []
    if mark.kind == "zone":
        return symbols.zone(mark), []
    if mark.kind == "buttonhole":
        return symbols.buttonhole(mark), []
    return [Stroke(STYLES.get(mark.kind, STYLES["leader"]), mark.path.segments, mark.name)], []


def _same_ends(a: Floats, b: Floats) -> bool:
    """Tell whether two lines have the same two ends, to a tenth of a mm, whichever way they run."""
    (p, q), (r, s) = (a[0, 0].tolist(), a[-1, 3].tolist()), (b[0, 0].tolist(), b[-1, 3].tolist())
    return (math.dist(p, r) < 0.1 and math.dist(q, s) < 0.1) or (math.dist(p, s) < 0.1 and math.dist(q, r) < 0.1)


def _inward_of(mark: Mark, outline: Floats) -> Point:
    """Return the unit vector from a fold edge to the inside: towards the middle of the outline."""
    a, b = mark.path.start, mark.path.end
    left = (b - a).unit.left
    x, y = outline[:, 0].mean(axis=0).tolist()
    return left if left.dot(Point(x, y) - a) > 0 else -left


def _list_joins(tiling: Tiling) -> tuple[list[float], list[float]]:
    """Where pages are joined: x of upright lines and y of level ones."""
    return [c * tiling.width for c in range(1, tiling.cols)], [r * tiling.height for r in range(1, tiling.rows)]


def _title(
    room: Room, piece: CutPiece, joins: tuple[list[float], list[float]], info: PrintInfo, crowded: list[str]
) -> list[Text]:
    """Return the title block; where it finds no room how often to cut the piece, or its code alone."""
    rest = [clean_line(line) for line in (piece.how, *piece.labels)]
    if info.mark and not any(info.mark in line for line in rest):
        rest.append(name_mark(info.mark))
    if info.wearer:
        rest.insert(max(len(rest) - 1, 0), info.wearer)
    code = clean_line(piece.code, 8)
    head = f"{code}  {clean_line(piece.title)}"
    xs, ys = joins
    found = set_block(room, blocks(head, [line for line in rest if line]), xs, ys)
    if found is not None:
        return found
    crowded.append(piece.name)
    count = clean_line(f"{piece.how}, and {tell_again(piece.again)}" if piece.again else piece.how)
    for words, more in ((head, (count,)), (code, (count,)), (head, ()), (code, ())):
        found = set_block(room, blocks(words, more), xs, ys)
        if found is not None:
            return found
    row, col = (
        np.argwhere(room.free).mean(axis=0).tolist()
        if room.free.any()
        else (room.free.shape[0] / 2, room.free.shape[1] / 2)
    )
    x, y = room.x + col * room.cell, room.y + row * room.cell
    return [Text(code, x, y, SIZES[-1], 0.0, "title")]


LETTER_SIZES: Final = ((16.0, 1.0), (12.0, 1.0), (9.0, 1.0), (7.0, 0.4))
"""Of a piece's letter on a page that shows some of the piece without its title (points), and the room about it (mm)."""


def _letter_tiles(room: Room, code: str, title: Text, tiling: Tiling) -> Iterator[Text]:
    """Yield a piece's letter for each page on which it has room, but for the one that the title begins on."""
    for tile in tiling.tiles:
        x0, y0, x1, y1 = tiling.box(tile)
        if x0 <= title.x < x1 and y0 <= title.y < y1:
            continue
        part = room.part(x0, y0, x1, y1)
        for size, about in LETTER_SIZES:
            corner = part.best(text_width(code, size) + 2.0 * about, size * ASCENT * POINT + 2.0 * about)
            if corner is not None:
                yield Text(code, corner[0] + about, corner[1] + about, size, 0.0, "letter")
                break


def ink_points(ink: PieceInk, step: float) -> Floats:
    """Return points on all of a piece's ink but its hatching, no further apart than ``step`` mm."""
    strokes = [s.segments for s in ink.strokes if len(s.segments) and s.style.kind != "hatch"]
    return np.concatenate([sample_strokes(strokes, step), *(box_points(t, step) for t in ink.texts)])
