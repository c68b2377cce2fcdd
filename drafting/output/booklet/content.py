"""What a booklet says and shows, before it is set on paper or on a screen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from drafting.cautions import CAUTIONS
from drafting.finishing import CutPiece, letters_on_paper
from drafting.flat import FlatKind, FlatView, mark_flat
from drafting.garment import Garment
from drafting.output.layers import StepView, picture_step
from drafting.output.layers.view import ClothLayer
from drafting.output.pictures.drawing import PrintInfo
from drafting.output.pictures.step import StepPicture, set_picture
from drafting.record import dataclass
from drafting.work.hemming import before_words
from drafting.work.order import Task
from drafting.work.sewing import WorkStep, steps_of_work

CLOTH: Final = "How much cloth to buy, and how the pieces lie on it: blockwright lay, with the same ticket."

ROOM: Final = 56.0, 46.0
"""Room for one picture of a step (mm), where there are few."""

LESS_ROOM: Final = 36.0, 34.0
"""Room for each (mm), where there are many."""

MANY: Final = 3
"""Pictures of a step from which each has less room."""

SMALL: Final = 34.0
"""Room for a piece drawn small, each way (mm)."""

LEGEND: Final = (
    "In the pictures the right side of the cloth is light and its wrong side grey. Layers are drawn stepped, so that "
    "they can be counted. The broken line is what you sew in this step. Short strokes are notches, with their numbers. "
    "Letters are those of the paper pieces. Edges that dotted lines join are sewn to each other."
)


@dataclass(frozen=True, slots=True)
class BookletStep:
    """One step: its number and title, what meets, what is done, its pictures, and where on the garment it is."""

    number: int
    title: str
    meets: tuple[str, ...]
    sentences: tuple[str, ...]
    pictures: tuple[StepPicture, ...]
    where: tuple[FlatView, ...] = ()


@dataclass(frozen=True, slots=True)
class SmallPiece:
    """A piece of the pattern, drawn small: its letter, what it is, how it is cut."""

    letter: str
    title: str
    how: str
    picture: StepPicture


@dataclass(frozen=True, slots=True)
class Booklet:
    """All of it. ``sections`` are a heading and its paragraphs each; those before the steps, and those after them."""

    title: str
    wearer: str
    mark: str
    warning: str
    flat: tuple[FlatView, ...]
    before: tuple[tuple[str, tuple[str, ...]], ...]
    pieces: tuple[SmallPiece, ...]
    steps: tuple[BookletStep, ...]
    after: tuple[tuple[str, tuple[str, ...]], ...]


def write_booklet(
    info: PrintInfo,
    garment: Garment,
    order: Sequence[Task],
    cut: Sequence[CutPiece],
    depths: Mapping[str, float],
) -> Booklet:
    """Return the booklet of a garment: ``order`` is that of its work, ``depths`` are those of its hems (mm)."""
    letters = letters_on_paper(cut)
    steps = steps_of_work(order, garment, info.unit, letters)
    before = tuple(before_words(garment, info.unit)) if order else ()
    measured = tuple((str(title), body) for title, body in info.sections)
    return Booklet(
        info.title,
        info.wearer,
        info.mark,
        info.warning,
        tuple(info.flat),
        tuple(
            each
            for each in (("This garment", (*info.lines, CLOTH)), ("Before you sew", before), ("Cautions", (CAUTIONS,)))
            if each[1]
        ),
        tuple(_draw_small(piece) for piece in cut),
        tuple(_write_step(garment, step, letters, depths, info.flat) for step in steps),
        measured,
    )


def _write_step(
    garment: Garment,
    step: WorkStep,
    letters: Mapping[str, str],
    depths: Mapping[str, float],
    flat: Sequence[FlatView],
) -> BookletStep:
    views = picture_step(garment, step, letters, depths)
    room = LESS_ROOM if len(views) >= MANY else ROOM
    pictures = tuple(set_picture(view, *room) for view in views)
    where = tuple(_point_out(garment, step, flat))
    return BookletStep(step.number, step.said.title, step.meets, step.said.sentences, pictures, where)


def _point_out(garment: Garment, step: WorkStep, flat: Sequence[FlatView]) -> Iterator[FlatView]:
    """The views of the flat in which a step's seams or edges are seen, drawn bold."""
    for view in mark_flat(flat, garment, (), step.seams, step.edges):
        if any(shape.kind is FlatKind.MARKED for shape in view.shapes):
            yield view


def _draw_small(piece: CutPiece) -> SmallPiece:
    """A piece as it is cut, small."""
    view = StepView("", (ClothLayer(piece.cut_path.flatten(), piece.code),), focus=piece.cut_path.flatten())
    return SmallPiece(piece.code, piece.title, piece.how, set_picture(view, SMALL, SMALL))
