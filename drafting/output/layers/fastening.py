"""What keeps a zip shut and off the skin: hook and eye, and the strip behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Garment, Seam
from drafting.geometry import Array
from drafting.output.layers.closing import SHARES, UPPER, UPPER_END, ZIP_TAPE, draw_zip, lay_edges
from drafting.output.layers.faced import face_inside
from drafting.output.layers.ply import WorkDone
from drafting.output.layers.unfold import move_aside
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.work.fastening import find_hooked
from drafting.work.meeting import Letters

STRIP_OVER: Final = 18.0
"""From the teeth of a zip to the folded edge of the strip behind it, as drawn (mm)."""

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


HOOKED_SHOWN: Final = "Seen from inside, enlarged: the eye, in the picture at the left, and the hook"
"""What the picture of hook and eye shows: from inside, what is left there is the wearer's right at the back."""


def draw_hooks(garment: Garment, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield hook and eye above each zip that ends at an edge without a fastening, seen from inside, enlarged."""
    hooked = find_hooked(garment)
    for seams in list_zips(garment):
        if garment.line(seams[0].plies[0][0]).opening in hooked:
            zipped, course = _seen_inside(garment, seams, letters, done, close=True)
            fittings = tuple(_draw_hook(course))
            low = course[0, 1] - UPPER_END
            layers = tuple(layer for layer in zipped.layers if layer.points[:, 1].max() > low)
            yield replace(zipped, title=HOOKED_SHOWN, layers=layers, fittings=fittings)


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
        yield from (top + out * HOOK_LONG + along * end * wide + draw_ring(HOOK_WIDE * 0.6) for end in (-1.0, 1.0))
    yield _draw_bow(top, along, aside, (HOOK_REACH, BEAK_LONG), HOOK_WIDE * BEAK)


def _draw_bow(top: Points, along: Points, out: Points, ends: tuple[float, float], wide: float) -> Points:
    """A wire from one end round a bow to the other: out so far where it is round, and where it ends (mm)."""
    (reach, back), turns = ends, np.linspace(-np.pi / 2.0, np.pi / 2.0, 13)[:, None]
    bow = top + out * (reach + wide * (1.0 - np.cos(turns))) + along * wide * np.sin(turns)
    return np.concatenate([(top + out * back - along * wide)[None], bow, (top + out * back + along * wide)[None]])


RING_POINTS: Final = 33
"""Of a ring as it is drawn."""


def draw_ring(radius: float) -> Array:
    """Return a ring about (0, 0)."""
    turns = np.linspace(0.0, 2.0 * np.pi, RING_POINTS)
    return np.stack([np.cos(turns), np.sin(turns)], axis=1) * radius
