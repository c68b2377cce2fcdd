"""What keeps an opening shut, once its edges are sewn: stands, buttons, the strip behind a zip, hook and eye."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Garment, Run, Seam
from drafting.garment.closure import buttonholes, buttons
from drafting.geometry import Affine, Array
from drafting.output.layers.closing import SHARES, ZIP_TAPE, draw_zip, lay_edges
from drafting.output.layers.faced import face_inside
from drafting.output.layers.ply import WorkDone
from drafting.output.layers.unfold import (
    Laid,
    courses_of,
    fit_points,
    join_courses,
    move_aside,
    move_laid,
    outline_of,
    ribbon_along,
    sample_shares,
    unfold_run,
)
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.redraw.closing import find_finished_after, find_stands
from drafting.work.fastening import find_hooked
from drafting.work.meeting import Letters

STRIP_OVER: Final = 18.0
"""From the teeth of a zip to the folded edge of the strip behind it, as drawn (mm)."""

FACING_SEEN: Final = 5.0
"""How far in from its fold, in widths of the stand, a facing beneath a stand is shown."""

UPPER, UPPER_END = 0.15, 60.0
"""Of a zip, the upper end by which its edges are laid for that to be enlarged, and how near the edges are (mm) by which
the facings are."""

BESIDE_EDGE: Final = 2.0
"""From the edge of a strip to the stitching that holds it (mm)."""

HOOK_BELOW, HOOK_LONG, HOOK_WIDE = 6.0, 15.0, 2.2
"""From the edge down to a hook and its eye, their length, and half the hook's width, as drawn (mm)."""

EYE_WIDER, BEAK, BEAK_LONG = 1.7, 0.4, 8.0
"""By which an eye is wider than its hook, and the hook's bent-back end narrower; how long that is (mm)."""

HOOK_REACH, EYE_REACH = -2.0, 0.5
"""From where the edges meet back to the bow of each (mm): the hook's passes through the eye's."""

BELOW_HOOK: Final = HOOK_BELOW + 2.0 * EYE_WIDER * HOOK_WIDE
"""From the edge down to the strip behind a zip, below hook and eye (mm)."""


def list_zips(garment: Garment) -> Iterator[tuple[Seam, Seam]]:
    """Yield the two edges of each zip."""
    for closure in garment.closures:
        one, two = (garment.seam(name) for name in closure.seams)
        if not one.kind.lapped:
            yield one, two


def draw_zip_strips(garment: Garment, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield the strip behind each zip, sewn to one tape alone, seen from inside; its upper end enlarged."""
    for seams in list_zips(garment):
        for title, close in (("The strip over the back of the zip, seen from inside", False), (STRIP_END, True)):
            zipped, course = _seen_inside(garment, seams, letters, done, close)
            if garment.line(seams[0].plies[0][0]).opening in find_hooked(garment):
                zipped = replace(zipped, fittings=tuple(_draw_hook(course)) if close else ())
                course = _leave_top(course, BELOW_HOOK)
            outer, folded = move_aside(course, ZIP_TAPE), move_aside(course, -STRIP_OVER)
            strip = ClothLayer(np.concatenate([outer, folded[::-1]]), "", strip=True)
            stitched = (move_aside(course, ZIP_TAPE - BESIDE_EDGE),)
            yield replace(zipped, title=title, layers=(*zipped.layers, strip), stitched=stitched)


STRIP_END: Final = "Upper end, seen from inside, enlarged"
"""What the second picture of a strip behind a zip shows."""


def draw_hooks(garment: Garment, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield hook and eye above each zip that ends at an edge without a fastening, seen from inside, enlarged."""
    hooked = find_hooked(garment)
    for seams in list_zips(garment):
        if garment.line(seams[0].plies[0][0]).opening in hooked:
            zipped, course = _seen_inside(garment, seams, letters, done, close=True)
            fittings = tuple(_draw_hook(course))
            yield replace(zipped, title="Eye, left, and hook, right, seen from inside, enlarged", fittings=fittings)


def _seen_inside(
    garment: Garment, seams: Sequence[Seam], letters: Letters, done: WorkDone, close: bool
) -> tuple[StepView, Points]:
    """The picture of a zip from inside, with the facings turned in, and the course of its teeth, from the top down.

    ``close``: of its upper end, where the edges and the facings beside it lie just as they do there.
    """
    view = next(draw_zip(garment, seams, letters, done))
    assert view.focus is not None
    shares, near = (SHARES * UPPER, UPPER_END) if close else (SHARES, np.inf)
    one, two = lay_edges(garment, seams[0].plies[0], seams[1].plies[0], shares)
    facings = face_inside(garment, {**one, **two}, letters, done, view.focus, near)
    focus = view.focus[:1] if close else view.focus
    return replace(view, layers=(*view.layers, *facings), notches=(), focus=focus, close=close), view.focus


def _leave_top(course: Points, off: float) -> Points:
    """A course without so much of its upper end (mm)."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
    at = np.concatenate([[off], along[along > off]])
    return np.stack([np.interp(at, along, course[:, k]) for k in (0, 1)], axis=1)


def _draw_hook(course: Points) -> Iterator[Points]:
    """An eye to the left of a course's top, seen from inside, and a narrower hook to its right, with their rings."""
    along = course[1] - course[0]
    along = along / np.hypot(*along)
    aside = np.array([-along[1], along[0]])
    top = course[0] + along * HOOK_BELOW
    eye = HOOK_WIDE * EYE_WIDER
    for way, reach, wide in ((1.0, HOOK_REACH, HOOK_WIDE), (-1.0, EYE_REACH, eye)):
        out = aside * way
        yield _draw_bow(top, along, out, (reach, HOOK_LONG), wide)
        yield from (top + out * HOOK_LONG + along * end * wide + _ring(HOOK_WIDE * 0.6) for end in (-1.0, 1.0))
    yield _draw_bow(top, along, aside, (HOOK_REACH, BEAK_LONG), HOOK_WIDE * BEAK)


def _draw_bow(top: Points, along: Points, out: Points, ends: tuple[float, float], wide: float) -> Points:
    """A wire from one end round a bow to the other: out so far where it is round, and where it ends (mm)."""
    (reach, back), turns = ends, np.linspace(-np.pi / 2.0, np.pi / 2.0, 13)[:, None]
    bow = top + out * (reach + wide * (1.0 - np.cos(turns))) + along * wide * np.sin(turns)
    return np.concatenate([(top + out * back - along * wide)[None], bow, (top + out * back + along * wide)[None]])


RING_POINTS: Final = 33
"""Of a ring as it is drawn."""


def _ring(radius: float) -> Array:
    turns = np.linspace(0.0, 2.0 * np.pi, RING_POINTS)
    return np.stack([np.cos(turns), np.sin(turns)], axis=1) * radius


def draw_stands(garment: Garment, seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield how the edge of a buttoned opening becomes a stand: an end stitched, then turned out.

    It is the upper end, or the lower one where what is sewn to the upper end later closes that.
    """
    at = -1 if find_finished_after(garment, seam.plies[0]) else 0
    yield _draw_stand(garment, seam, letters, at, inside=False)
    yield _draw_stand(garment, seam, letters, at, inside=True)


def draw_stand_over(garment: Garment, facing: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield the upper end of a stand folded over the end of a facing, and the stitching that begins at the fold."""
    for seam in find_stands(garment, facing)[:1]:
        view = _draw_stand(garment, seam, letters, 0, inside=False)
        first = seam.plies[0][0].piece
        under = next(s.plies for s in facing.sections if s.plies[0][0].piece == first)
        strip = outline_of(garment, under[-1][0].piece, Affine.mirror())
        faced = ClothLayer(strip, letters.get(under[-1][0].piece, ""), wrong=True, shift=1)
        *pieces, stand = view.layers
        assert view.focus is not None
        end, edge = view.focus
        seen = np.stack([edge, edge + (end - edge) * FACING_SEEN])
        stitched = (*view.stitched, *courses_of(garment, under[0], unfold_run(garment, seam.plies[0])))
        yield replace(
            view, title=STAND_OVER, layers=(*pieces, faced, replace(stand, shift=2)), stitched=stitched, focus=seen
        )


def _draw_stand(garment: Garment, seam: Seam, letters: Letters, at: int, *, inside: bool) -> StepView:
    """One end of a stand, the first or the last of its edge, folded right sides together or turned to the inside."""
    run, lies = seam.plies[0], Affine.mirror() if inside else Affine()
    laid = move_laid(unfold_run(garment, run), lies)
    (course, *_) = join_courses(list(courses_of(garment, run, laid)))
    out = _away(garment, run, laid, course) * seam.fold
    pieces = (_lay_flat(garment, name, way, letters, inside) for name, way in laid.items())
    beyond, edge = ribbon_along(course, out), move_aside(course, out)
    back = move_aside(course, out - np.sign(out) * ((seam.allowance or 0.0) - seam.fold))
    turned = np.concatenate([edge, back[::-1]])
    stand = ClothLayer(turned, "", wrong=not inside, strip=True, shift=0 if inside else 1)
    end = np.stack([course[at], edge[at]])
    held = back + (edge - back) * (BESIDE_EDGE / (seam.allowance or 1.0)) if inside else end
    x, y = (-np.sign(out) * _find_left(course)).tolist()
    layers = (*pieces, ClothLayer(beyond, "", wrong=inside), stand)
    title = STAND_TURNED if inside else STAND_LAID
    sewn = () if inside and at else (held,)  # its long edge is sewn down with what closes its upper end
    return StepView(title, layers, sewn, focus=end, close=True, fan=(x, y))


def _lay_flat(garment: Garment, name: str, lies: Affine, letters: Letters, wrong: bool) -> ClothLayer:
    return ClothLayer(outline_of(garment, name, lies), letters.get(name, ""), wrong)


STAND_LAID, STAND_TURNED = (
    "One stand, folded right sides together, enlarged",
    "Turned out, wrong side up, enlarged",
)
"""What pictures of a stand show."""

STAND_OVER = "One stand, folded over the facing's end, enlarged"


def _find_left(course: Points) -> Points:
    """The unit vector to the left of a course where it begins."""
    x, y = (course[1] - course[0]) / np.hypot(*(course[1] - course[0]))
    return np.array([-y, x])


def _away(garment: Garment, run: Run, laid: Laid, course: Points) -> float:
    """1 where a run's piece lies to the right of its course, so that its allowance lies to the left; else -1."""
    inside = outline_of(garment, run[0].piece, laid[run[0].piece]).mean(axis=0) - course[0]
    return -1.0 if float((inside * _find_left(course)).sum()) > 0.0 else 1.0


def draw_buttons(garment: Garment, letters: Letters) -> Iterator[StepView]:
    """Yield each buttoned opening shut, right side up: the edges lapped line on line, buttonholes over buttons."""
    for closure in garment.closures:
        seams = [garment.seam(name) for name in closure.seams]
        if closure.button:
            holed = {piece.name for piece in garment.pieces if buttonholes(piece.drills)}
            seams.sort(key=lambda seam: seam.plies[0][0].piece in holed)
            shut = _lap(garment, seams, closure.button, letters)
            buttons_alone = tuple(each for each in shut.fittings if len(each) == RING_POINTS)
            yield replace(shut, fittings=buttons_alone)  # so small that a buttonhole through each is a blot
            if shut.focus is not None:
                yield replace(shut, title="Upper end, enlarged", focus=shut.focus[:1], close=True)


def _lap(garment: Garment, seams: Sequence[Seam], button: float, letters: Letters) -> StepView:
    under, upper = (seam.plies[0] for seam in seams)
    laid, own = unfold_run(garment, under), unfold_run(garment, upper)
    lies, _ = fit_points(sample_shares(garment, upper, own, SHARES), sample_shares(garment, under, laid, SHARES))
    layers, fittings = list[ClothLayer](), list[Points]()
    for run, at, seam in ((under, laid, seams[0]), (upper, move_laid(own, lies), seams[1])):
        (course, *_) = join_courses(list(courses_of(garment, run, at)))
        out = _away(garment, run, at, course) * seam.fold
        layers += [_lay_flat(garment, name, way, letters, wrong=False) for name, way in at.items()]
        layers.append(ClothLayer(ribbon_along(course, out), "", strip=True))
        for name, way in at.items():
            drills = garment.piece(name).drills
            fittings += [way.apply_all(path.flatten()) for path in buttonholes(drills).values()]
            spots = (way.apply(spot) for spot in buttons(drills).values())
            fittings += [_ring(button / 2.0) + np.array([(spot.x, spot.y)]) for spot in spots]
    return StepView("Shut, right side up", tuple(layers), fittings=tuple(fittings), focus=course)
