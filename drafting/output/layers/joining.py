"""How the plies of a seam are laid for sewing, and how they lie once it is sewn and opened out.

Points that are clipped into, corners with a band and facings that are opened out are shown enlarged.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from drafting.garment import Face, Garment, Seam, balance_marks
from drafting.garment.deeds import Handling
from drafting.garment.named_marks import CORNER, V_POINT
from drafting.geometry import are_inside
from drafting.output.layers.bending import show_opened
from drafting.output.layers.bound import draw_turned_over
from drafting.output.layers.edges import SEWN
from drafting.output.layers.laying import NEAR, draw_plies, find_strip_width, lay_plies, turn_over
from drafting.output.layers.notches import beyond_end
from drafting.output.layers.outlines import clip_half, find_corners
from drafting.output.layers.ply import NOTHING_DONE, RAW, RAW_BESIDE_STRIP, PliesDrawn, PlyLaid, WorkDone
from drafting.output.layers.pressing import press_edges
from drafting.output.layers.understitching import understitch
from drafting.output.layers.unfold import (
    courses_of,
    is_opened_out,
    move_aside,
    unfold_run,
)
from drafting.output.layers.view import Points, StepView
from drafting.trade import TradeValue
from drafting.work.meeting import Letters
from drafting.work.telling import capital

SHORT_OF = TradeValue(1.0, "mm", "common practice")
"""From the stitching that a clip into the allowance ends: a thread."""

LONGEST_CLIP = 30.0
"""From a point as far as the raw edge is looked for (mm)."""


def draw_joining(
    garment: Garment,
    seam: Seam,
    letters: Letters,
    done: WorkDone = NOTHING_DONE,
    pressed: Handling | None = None,
) -> Iterator[StepView]:
    """Yield the pictures of a seam: as it is laid, and as it is once sewn, or ``pressed``, where that is known.

    ``done`` is what was sewn before.
    """
    if len([run for run in seam.plies if run]) < 2:
        return
    base = PlyLaid(seam.plies[0], unfold_run(garment, seam.plies[0]))
    laid = list(lay_plies(garment, seam, base, over=True))

    def view(plies: Sequence[PlyLaid], title: str, raw: float = 0.0) -> StepView:
        return draw_plies(PliesDrawn(garment, seam, letters, plies, done, raw), title)

    if seam.kind.lay.under_wrong:
        as_laid = view([turn_over(ply) for ply in laid], "As it is laid", RAW)
        yield as_laid
        yield from _enlarge_points(garment, seam, letters, done, as_laid)
        yield draw_turned_over(seam, letters)
        yield _show_above(view(laid, TURNED_OVER), len(base.laid))
        return
    apart = any(ply.apart for ply in laid)
    if apart and len(seam.sections) > 1 and len(seam.plies) > 2:
        yield from _draw_sections(garment, seam, letters, done)
        return
    raw = RAW_BESIDE_STRIP if any(ply.strip for ply in laid) and not seam.binds else RAW
    as_laid = view(laid, "Side by side: what meets" if apart else "As it is laid", 0.0 if apart else raw)
    as_laid = show_opened(as_laid, [letters.get(name, "") for name in _find_opened(laid)])
    enlarged = tuple(_enlarge_points(garment, seam, letters, done, as_laid))
    strips = tuple(_enlarge_mitres(as_laid)) if clips_before(garment, seam) else ()
    yield from (*enlarged, as_laid, *strips) if clips_before(garment, seam) else (as_laid, *enlarged)
    yield from _enlarge_facing(garment, seam, letters, done)
    if seam.kind.within:
        return  # it is turned in a step of its own
    if seam.kind.lay.turned and not apart:
        inside = [turn_over(ply) for ply in laid]
        understitched = tuple(understitch(garment, seam, inside[0]))
        yield replace(view(inside, "Turned to the inside"), stitched=understitched)
        return
    if len(base.laid) > 1 and any(set(ply.laid) & set(base.laid) for ply in laid[1:]):
        turned = view([turn_over(ply) for ply in laid], "Turned right side out")
        yield replace(turned, stitched=())  # a tube, which lies double
        return
    opened = list(lay_plies(garment, seam, base, over=False))
    if pressed is None or seam.hangs:  # what hangs is seen from above
        yield view(opened, SEWN)
        return
    below = [turn_over(ply) for ply in opened]
    yield press_edges(PliesDrawn(garment, seam, letters, below, done, 0.0), view(below, SEWN), pressed)


def _find_opened(laid: Sequence[PlyLaid]) -> tuple[str, ...]:
    """The piece whose edge is much bent along the one that it is sewn to, where two lie on each other alone."""
    alone = len(laid) == 2 and all(len(ply.laid) == 1 for ply in laid)
    return tuple(ply.run[0].piece for ply in laid if alone and ply.bent)


def _show_above(over: StepView, beneath: int) -> StepView:
    """A picture of what is turned over the layers beneath, so many of them; its stitching lies within the edge."""
    focus = np.concatenate([layer.points for layer in over.layers[beneath:]])
    return replace(over, stitched=(), focus=focus, whole=True)


def _draw_sections(garment: Garment, seam: Seam, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield the pictures of each section of a seam, front and back told apart."""
    for section in seam.sections:
        face = garment.line(next(run[0] for run in section.plies if run)).face
        for each in draw_joining(garment, replace(seam, sections=(section,)), letters, done):
            yield replace(each, title=f"{each.title}, {face}") if face is not Face.NONE and not each.close else each


def _enlarge_facing(garment: Garment, seam: Seam, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield the place where a seam runs on over a facing that is opened out, enlarged, its plies as they lie there."""
    base = PlyLaid(seam.plies[0], unfold_run(garment, seam.plies[0]))
    for use in base.run[1:]:
        if is_opened_out(garment, use):
            (course,) = courses_of(garment, (use,), base.laid)
            at = course[:1]
            plies = [replace(ply, bent=True) for ply in lay_plies(garment, seam, base, over=True, near=at)]
            view = draw_plies(PliesDrawn(garment, seam, letters, plies, done, RAW), "On over the facing, enlarged")
            inside = view.layers[0].points.mean(axis=0) - at[0]
            on = (course[-1] - at[0]) / np.hypot(*(course[-1] - at[0]))
            inward = inside - on * (inside * on).sum()
            inward /= np.hypot(*inward)
            layers = tuple(replace(each, points=_shut_seam(each.points, at[0], inward)) for each in view.layers)
            yield replace(view, layers=layers, notches=(), focus=at, close=True)


def _shut_seam(points: Points, at: Points, inward: Points) -> Points:
    """An outline whose edge runs from a point inwards as it lies sewn to another: straight, where both would gape."""
    along = ((points - at) * inward).sum(axis=1)
    beside = ((points - at) * (-inward[1], inward[0])).sum(axis=1)
    edge = (along > 0.0) & (along < NEAR) & (np.abs(beside) < GAPES)
    return np.asarray(np.where(edge[:, None], at + along[:, None] * inward, points))


GAPES = 16.0
"""From a straight line as far as such an edge may bend (mm)."""

TURNED_OVER = "Turned over the edge, right sides up"
"""What a picture shows of a layer that is sewn on beneath and turned over the edge to above."""


def _enlarge_points(
    garment: Garment, seam: Seam, letters: Letters, done: WorkDone, as_laid: StepView
) -> Iterator[StepView]:
    """Yield the places of a picture where an edge is clipped into, each enlarged once, its plies as they lie there.

    The clip is drawn where it is to be made; where it was made in a step before, the edge beyond it is finished.
    """
    base = PlyLaid(seam.plies[0], unfold_run(garment, seam.plies[0]))
    over, alone = seam.kind.lay.under_wrong, clips_before(garment, seam)
    points = {notch.number: notch for notch in as_laid.notches if notch.name in (V_POINT, CORNER)}
    for number, shown in points.items():
        at = np.array([(shown.x, shown.y)])
        near = at * (-1.0, 1.0) if over else at
        plies = [base] if alone else list(lay_plies(garment, seam, base, over=True, near=near))
        turned = [turn_over(ply) for ply in plies] if over else plies
        drawn = PliesDrawn(garment, seam, letters, turned, done, RAW)
        view = draw_plies(drawn, "")
        alike = (notch for notch in view.notches if notch.number == number)
        here = tuple(sorted(alike, key=lambda notch: math.dist((notch.x, notch.y), at[0]))[:1])  # left and right may be
        out, end = np.array(here[0].out), at
        if alone:
            stayed = tuple(move_aside(course, -STAYED_OFF * drawn.find_inward(base.run[0])) for course in view.stitched)
            every = np.concatenate(stayed)
            end = every[[np.hypot(*(every - at).T).argmin()]]
            view = replace(view, stitched=stayed, stops=())
        clip = clip_into(end, out, [layer.points for layer in view.layers if not layer.shift])
        clips = () if _is_clipped(garment, seam, number, done) else (clip,)
        how = "stay-stitched, clipped" if alone else "enlarged"
        title = f"{capital(shown.name)}, notch {number}, {how}"
        yield replace(view, title=title, notches=here, focus=at, clips=clips, close=True)


STAYED_OFF = 1.0
"""From the stitching line, in the allowance, that a corner is stay-stitched as drawn (mm)."""


def _enlarge_mitres(as_laid: StepView) -> Iterator[StepView]:
    """Yield the first corner of an edge with its strip laid on, enlarged: the mitre comes to it."""
    corner = next((each for course in as_laid.stitched for each in find_corners(course)), None)
    if corner is None or not as_laid.seams:
        return
    before, at, after = corner
    one, two = (np.asarray((each - at) / np.hypot(*(each - at))) for each in (before, after))
    within = (one + two) / np.hypot(*(one + two))
    end = 2.0 * (within * one).sum() * one - within  # where the mitre lies, the strip turned over along the seam
    strips = [layer for layer in as_laid.layers if layer.strip]
    halves = {id(layer): _keep_side(_keep_side(layer.points, at, within, one), at, end, one) for layer in strips}
    layers = tuple(replace(layer, points=halves.get(id(layer), layer.points)) for layer in as_laid.layers)
    here = tuple(notch for notch in as_laid.notches if notch.name)
    first = np.stack([at + one * LONGEST_SIDE, at])
    yield replace(as_laid, title=MITRE_ON, layers=layers, stitched=(first,), seams=(), notches=here,
                  stops=(at[None],), focus=at[None], close=True)  # fmt: skip


def _keep_side(points: Points, at: Points, along: Points, side: Points) -> Points:
    """What of an outline lies on that side of a line through a point."""
    across = np.array([-along[1], along[0]])
    return clip_half(points, at, -across * np.sign((across * side).sum()))


LONGEST_SIDE = 60.0
"""Of the stitching along a corner's first side that is drawn (mm)."""

MITRE_ON = "First side sewn, the next lifted"
"""What a picture shows of a band that is laid on at a corner, round which its closed mitre can't lie flat."""


def clip_into(at: Points, out: Points, raw: Sequence[Points]) -> Points:
    """Return the clip from the raw edge of the lowest pieces towards a point, ``out`` from it, a thread short of it."""
    along = at + out * np.linspace(SHORT_OF, LONGEST_CLIP, 79)[:, None]
    beyond = ~np.any([are_inside(along, ring) for ring in raw], axis=0)
    return along[[0, int(np.argmax(beyond)) if beyond.any() else -1]]


def clips_before(garment: Garment, seam: Seam) -> bool:
    """Return whether an edge is clipped by itself, so that it opens out: a strip is sewn to it, which isn't."""
    return all(bool(find_strip_width(garment, run)) for run in seam.plies[1:] if run)


def _is_clipped(garment: Garment, seam: Seam, number: int, done: WorkDone) -> bool:
    """Whether the edge of the lowest ply beyond a seam's end is sewn already, so that a notch there is clipped into."""
    for mark in garment.find_once(balance_marks):
        for use, s in mark.at if (mark.seam, mark.number) == (seam.name, number) else ():
            beyond = beyond_end(garment, use, s, alike=False)
            if beyond is not None and (use.piece, beyond[0].name) in done.edges:
                return True
    return False


def draw_turned(garment: Garment, seam: Seam, letters: Letters, done: WorkDone = NOTHING_DONE) -> Iterator[StepView]:
    """Yield the picture of a seam's layers turned to the inside, the wrong side of the garment up."""
    base = PlyLaid(seam.plies[0], unfold_run(garment, seam.plies[0]))
    laid = [turn_over(ply) for ply in lay_plies(garment, seam, base, over=True)]
    view = draw_plies(PliesDrawn(garment, seam, letters, laid, done, 0.0), "Turned to the inside")
    yield replace(view, stitched=tuple(understitch(garment, seam, laid[0])))
