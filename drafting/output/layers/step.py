"""The pictures of one step of the work, whichever step it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from drafting.garment import Garment, Seam, Side, find_piece_laid
from drafting.garment.deeds import Handling
from drafting.output.layers.bound import draw_bound
from drafting.output.layers.closing import draw_facing_ends, draw_zip
from drafting.output.layers.edges import (
    draw_applied,
    draw_darts,
    draw_edges,
    draw_made_ready,
    draw_stay_stitching,
    draw_stays,
)
from drafting.output.layers.elastic import draw_elastic
from drafting.output.layers.enlarged import enlarge_laid
from drafting.output.layers.fastening import draw_hooks, draw_zip_strips
from drafting.output.layers.joining import draw_joining, draw_turned
from drafting.output.layers.mitres import draw_mitre
from drafting.output.layers.passing import draw_pulled_through, draw_rolled_up, draw_slipped_over, draw_slipped_round
from drafting.output.layers.ply import NOTHING_DONE, WorkDone
from drafting.output.layers.pockets import draw_pressed_under
from drafting.output.layers.pressing import PRESSED
from drafting.output.layers.rings import close_ring, draw_ends_joined
from drafting.output.layers.sleeves import draw_put_in
from drafting.output.layers.stands import draw_buttons, draw_stand_over, draw_stands, fold_stands_over
from drafting.output.layers.turned import draw_hem
from drafting.output.layers.view import StepView
from drafting.work.fastening import part_at_openings
from drafting.work.hemming import find_stay_stitched
from drafting.work.meeting import Letters, mark_numbers
from drafting.work.sewing import WorkStep


def picture_step(
    garment: Garment, step: WorkStep, letters: Letters, depths: Mapping[str, float], done: WorkDone = NOTHING_DONE
) -> tuple[StepView, ...]:
    """Return a step's pictures: what lies on what, then what is seen; none where there is nothing to lay.

    ``depths`` are those of hems (mm), by their openings; ``done`` is what was sewn before it.
    """
    return tuple(_draw_step(garment, step, letters, depths, done))


def _draw_step(
    garment: Garment, step: WorkStep, letters: Letters, depths: Mapping[str, float], done: WorkDone
) -> Iterator[StepView]:
    yield from _draw_handled(garment, step, letters, depths, done)
    if Handling.STAND_MADE in step.said.handled:
        return
    if step.edges:
        yield from draw_hem(garment, step.edges, letters, depths, done)
    elif step.seams and _sews_darts(step):
        yield from draw_darts(garment, step.seams, letters)
    elif step.seams:
        if step.seams[0].kind.closes and not step.seams[0].kind.lapped and len(step.seams) == 2:
            yield from draw_zip(garment, step.seams, letters, done)
            return
        yield from _draw_sewn(garment, step, letters, done)
    elif step.ends:
        yield from draw_facing_ends(garment, step.ends, step.turned, letters)
    elif step.turned:
        for seam in dict.fromkeys((step.turned[0], step.turned[-1])):
            yield from draw_turned(garment, seam, letters, done)
    elif step.ready and find_piece_laid(garment, step.ready[0]):
        yield from draw_pressed_under(garment, step.ready[0], letters)
    elif step.ready:
        yield from draw_made_ready(garment, step.ready, letters)
    elif step.taped:
        yield from draw_stays(garment, letters)


def _draw_sewn(garment: Garment, step: WorkStep, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """The pictures of the seams of a step that lays plies on each other."""
    pressed = next((each for each in step.said.handled if each in PRESSED), None)
    whole = _find_shown(garment, step.seams)
    shown, *others = part_at_openings(garment, whole)
    views = tuple(draw_joining(garment, shown, letters, done, pressed))
    if Handling.PUT_IN not in step.said.handled:  # it is shown by itself
        beside = (each for view in views[:1] for each in enlarge_laid(garment, shown, letters, done, view))
        views = (*views[:1], *beside, *views[1:])
    closed = close_ring(garment, shown, letters, done) if views else None
    views = (*views[:-1], closed) if closed else views
    if Handling.ELASTIC_CAUGHT in step.said.handled and views:
        views = (*views[:-1], draw_elastic(garment, shown, letters, done), views[-1])
    if others:
        views = tuple(_name_side(view, garment, shown) for view in views)
    other = _find_other(garment, step.seams, whole)
    if other is not None and views:
        laid = next(view for view in draw_joining(garment, other, letters, done, pressed) if not view.close)
        both = (*(_name_side(view, garment, shown) for view in views[:-1]), _name_side(laid, garment, other))
        views = (*both, views[-1])
    if Handling.STAND_OVER in step.said.handled:
        views = tuple(fold_stands_over(garment, shown, view) for view in views)
    yield from views or _draw_single(garment, step, letters)
    yield from draw_bound(shown, letters) if shown.binds else ()


def _draw_handled(
    garment: Garment, step: WorkStep, letters: Letters, depths: Mapping[str, float], done: WorkDone
) -> Iterator[StepView]:
    """The pictures of how cloth is handled beyond how plies lie."""
    for handling in step.said.handled:
        match handling:
            case Handling.STAY_STITCHED:
                yield from draw_stay_stitching(garment, find_stay_stitched(garment), letters)
            case Handling.PULLED_THROUGH:
                yield from draw_pulled_through(garment, step.turned, letters)
            case Handling.PUT_IN:
                yield from draw_put_in(garment, _find_shown(garment, step.seams), letters, done)
            case Handling.ROLLED_UP:
                yield from draw_rolled_up(garment, step.seams[0], letters)
            case Handling.SLIPPED_ROUND:
                yield from draw_slipped_round(garment, step.seams[0], letters, done)
            case Handling.SLIPPED_OVER:
                yield from draw_slipped_over(garment, step.seams[0], letters, done)
            case Handling.RING_MADE:
                yield from draw_ends_joined(garment, step.ready, letters)
            case Handling.STAND_MADE:
                yield from draw_stands(garment, step.seams[0], letters)
            case Handling.STAND_OVER:
                yield from draw_stand_over(garment, step.seams[0], letters)
            case Handling.MITRED:
                yield from draw_mitre(garment, step.edges, letters, depths)
            case _:
                yield from _draw_fastened(garment, handling, letters, done)


def _draw_fastened(garment: Garment, handling: Handling, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """The pictures of what keeps an opening shut; none of what is shown with the plies."""
    match handling:
        case Handling.STRIP_BEHIND:
            yield from draw_zip_strips(garment, letters, done)
        case Handling.HOOKED:
            yield from draw_hooks(garment, letters, done)
        case Handling.BUTTONED:
            yield from draw_buttons(garment, letters)


def _find_shown(garment: Garment, seams: Sequence[Seam]) -> Seam:
    """The seam that is drawn of those of a step: where left and right differ, the one with more to be matched."""
    alike = [seam for seam in seams if seam.of_both == seams[0].of_both]
    return max(alike, key=lambda seam: (len({use.piece for use in seam.uses()}), len(mark_numbers(garment, seam))))


def _find_other(garment: Garment, seams: Sequence[Seam], shown: Seam) -> Seam | None:
    """The seam of the other side, where what meets there has another shape, not the mirror image; else None."""
    alike = (seam for seam in seams if seam.of_both == shown.of_both)
    mine = _measure_pieces(garment, shown)
    return next((seam for seam in alike if _measure_pieces(garment, seam) != mine), None)


def _measure_pieces(garment: Garment, seam: Seam) -> list[tuple[int, int]]:
    """How wide and high the pieces of a seam are (mm), whichever they are."""
    bounds = (garment.piece(name).outline.bounds for name in {use.piece for use in seam.uses()})
    return sorted((round(right - left), round(top - low)) for left, low, right, top in bounds)


def _name_side(view: StepView, garment: Garment, seam: Seam) -> StepView:
    """A picture with the side that it is of in its title."""
    side = garment.line(seam.plies[0][0]).side
    return view if view.close or side is Side.NONE else replace(view, title=f"{view.title}, {side}")


def _draw_single(garment: Garment, step: WorkStep, letters: Letters) -> Iterator[StepView]:
    """The pictures of edges of one ply: sewn down on the face of a piece, or worked by themselves."""
    found = tuple(draw_applied(garment, step.seams[0], letters))
    yield from found or draw_edges(garment, step.seams, letters)


def _sews_darts(step: WorkStep) -> bool:
    """Whether a step sews edges of a piece to each other, one seam after the other, as darts are."""
    return step.seams[0].kind.together and all(
        len(seam.plies) > 1 and len({use.piece for use in seam.uses()}) == 1 for seam in step.seams
    )
