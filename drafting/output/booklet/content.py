"""What a booklet says and shows, before it is set on paper or on a screen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from drafting.cautions import CAUTIONS
from drafting.finishing import CutPiece, letters_on_paper
from drafting.finishing.growth import list_prints
from drafting.flat import FlatKind, FlatView, mark_flat
from drafting.garment import Brief, Garment
from drafting.garment.deeds import Handling
from drafting.lay import plan_lays
from drafting.lay.buying import list_cloth_to_buy
from drafting.output.booklet.laid import draw_small_lay
from drafting.output.booklet.sections import BookletSection, tell_cloth, tell_stays, tell_stretch
from drafting.output.booklet.small import SmallPiece, draw_small_pieces
from drafting.output.booklet.widths import tell_widths
from drafting.output.layers import WorkDone, list_done, picture_step
from drafting.output.painted import PaintedPicture
from drafting.output.pictures.drawing import PrintInfo
from drafting.output.pictures.key import KeyEntry, list_key
from drafting.output.pictures.shapes import StepPicture
from drafting.output.pictures.step import FramedView, frame_view
from drafting.record import dataclass
from drafting.saying import Words
from drafting.work.hemming import before_words, list_needs
from drafting.work.order import Task
from drafting.work.sewing import WorkStep, steps_of_work

ROOMS: Final = {1: (72.0, 52.0), 2: (47.0, 48.0), 3: (47.0, 40.0), 4: (47.0, 40.0)}
"""Room for each picture of a step at least (mm: across, up), by how many there are."""

MOVED: Final = frozenset(
    (Handling.PULLED_THROUGH, Handling.ROLLED_UP, Handling.SLIPPED_ROUND, Handling.SLIPPED_OVER, Handling.PUT_IN)
)
"""Ways of handling that move the whole of the garment."""

MOVING_ROOM: Final = 72.0, 52.0
"""Room for one that shows how the whole of the garment is moved."""

WHOLE_ROOM: Final = 54.0, 44.0
"""Room for one that shows whole pieces."""

LEAST_ROOM: Final = 30.5, 32.0
"""Room for each where there are more."""

AS_WORN: Final = "As it is worn: from the front, from its right side, from behind, and from three quarters"
"""What stands below the picture of the garment worn."""

LEGEND: Final = (
    "Layers are drawn stepped, from below up, so that they can be counted. Edges that are still to be sewn are drawn "
    "with their allowance. Letters are those of the paper pieces; some stand beside their piece, with a line to a dot "
    "on it. Bands, and what else goes right round, are drawn open, lying flat. Only the pieces that a step works on "
    "are drawn, and cut off where the picture ends. The small flat shows, bold, where on the garment the step is, and "
    "dotted where another layer covers that."
)


@dataclass(frozen=True, slots=True, eq=False)
class RoomedView:
    """What a picture is of, and the room (mm: across, up) that it has at least."""

    framed: FramedView
    least: tuple[float, float]


@dataclass(frozen=True, slots=True)
class BookletStep:
    """One step: its number and title, what meets, what is done, and where on the garment it is.

    ``views`` are what its pictures are of; ``pictures`` are these, once the page is planned, as large as it
    has room for.
    """

    number: int
    title: str
    meets: tuple[str, ...]
    sentences: tuple[str, ...]
    views: tuple[RoomedView, ...]
    where: tuple[FlatView, ...] = ()
    pictures: tuple[StepPicture, ...] = ()


@dataclass(frozen=True, slots=True)
class Booklet:
    """All of it: ``lines`` tell of the garment beside the flat, ``before`` stands before the pieces and the steps.

    ``key`` tells what the steps' pictures are drawn with; ``worn`` shows the garment worn, where it was draped.
    """

    title: str
    wearer: str
    mark: str
    warning: str
    flat: tuple[FlatView, ...]
    lines: tuple[str, ...]
    before: tuple[BookletSection, ...]
    pieces: tuple[SmallPiece, ...]
    key: tuple[KeyEntry, ...]
    steps: tuple[BookletStep, ...]
    after: tuple[BookletSection, ...]
    worn: PaintedPicture | None = None


def write_booklet(
    info: PrintInfo,
    garment: Garment,
    order: Sequence[Task],
    cut: Sequence[CutPiece],
    depths: Mapping[str, float],
    brief: Brief,
    measured: Sequence[BookletSection] = (),
    warned: Sequence[tuple[Words, tuple[str, ...]]] = (),
) -> Booklet:
    """Return the booklet of a garment.

    ``order`` is that of its work, ``depths`` are those of its hems (mm); ``measured`` are the garment's own figures,
    ``warned`` what is to be read first, by its heading.
    """
    letters = letters_on_paper(cut)
    steps = steps_of_work(order, garment, info.unit, letters, depths)
    done, told = list_done(steps), tell_widths(garment, steps, cut, info.unit)
    proved = (BookletSection(str(title), body) for title, body in info.sections)
    written = tuple(
        _write_step(garment, step, letters, depths, info.flat, done[step.number], told.get(step.number, ""))
        for step in steps
    )
    return Booklet(
        info.title,
        info.wearer,
        info.mark,
        info.warning,
        tuple(info.flat),
        tuple(info.lines),
        (
            *(BookletSection(str(title), body, wide=True) for title, body in warned),
            *_before(garment, cut, brief, info, told.get(0, "")),
        ),
        draw_small_pieces(list_prints(cut, brief)),
        list_key(each.framed.view for step in written for each in step.views),
        written,
        (*measured, *proved),
    )


def _before(
    garment: Garment, cut: Sequence[CutPiece], brief: Brief, info: PrintInfo, width: str
) -> Iterator[BookletSection]:
    """What is bought, tested and read before anything is cut."""
    lays = plan_lays(garment, cut, brief, info.unit)
    to_buy = list_cloth_to_buy(garment, cut, brief, lays, info.unit)
    yield tell_cloth(to_buy, info.unit, draw_small_lay(lays, info.unit))
    needs = (f"{each[:1].upper()}{each[1:]}" for each in list_needs(garment, info.unit))
    yield BookletSection("Thread, needle and notions", tuple(needs), listed=True)
    yield from tell_stays(garment, cut, info.unit)
    yield BookletSection("Before you sew", tuple(filter(None, (*before_words(garment, info.unit), width))))
    yield BookletSection("Cautions", (CAUTIONS,))
    yield from tell_stretch(brief, {piece.cloth for piece in cut}, info.unit)


def _write_step(
    garment: Garment,
    step: WorkStep,
    letters: Mapping[str, str],
    depths: Mapping[str, float],
    flat: Sequence[FlatView],
    done: WorkDone,
    width: str,
) -> BookletStep:
    views = picture_step(garment, step, letters, depths, done)
    room = ROOMS.get(len(views), LEAST_ROOM)
    moved = not MOVED.isdisjoint(step.said.handled)
    rooms = (MOVING_ROOM if view.arrows and moved else WHOLE_ROOM if view.whole else room for view in views)
    about = (replace(view, about=step.said.title) for view in views)
    roomed = tuple(RoomedView(frame_view(view), least) for view, least in zip(about, rooms, strict=True))
    where = tuple(_point_out(garment, step, flat))
    return BookletStep(
        step.number, step.said.title, tuple(filter(None, (*step.meets, width))), step.said.sentences, roomed, where
    )


def _point_out(garment: Garment, step: WorkStep, flat: Sequence[FlatView]) -> Iterator[FlatView]:
    """The views of the flat in which a step's seams or edges are seen, drawn bold."""
    for view in mark_flat(flat, garment, (), step.seams, step.edges):
        if any(shape.kind is FlatKind.MARKED for shape in view.shapes):
            yield view
