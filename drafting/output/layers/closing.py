"""A zip between two edges, and the ends of a facing that are turned under beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Garment, Run, Seam, Section, Use
from drafting.geometry import Affine, Array
from drafting.output.layers.faced import HELD_BACK, ZIP_CLEAR, hold_back
from drafting.output.layers.notches import show_notches
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.ply import PliesDrawn, PlyLaid, WorkDone
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
from drafting.work.meeting import Letters

ZIP_FOLD, ZIP_TAPE, ZIP_STITCHED = 19.0, 12.0, 6.0
"""From the fold beside a zip: of what is folded under, of the zip's tape, and to its stitching, as drawn (mm)."""

ABOVE_ZIP: Final = 12.0
"""From an edge without a seam beyond it down to the top stop of a zip, as drawn: a hook has room there (mm)."""

UPPER, UPPER_END = 0.15, 60.0
"""Of a zip, the upper end by which its edges are laid for that to be enlarged, and how near the edges are (mm) by which
the facings are."""

SHARES: Final = np.linspace(0.0, 1.0, 9)
"""Of an edge at which it is laid beside the other."""


def draw_zip(garment: Garment, seams: Sequence[Seam], letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield the pictures of a zip between two edges: its tapes on the wrong side; then, enlarged, how it is stitched.

    Above and below it the edges meet where they are sewn to each other already.
    """
    one, two = (seam.plies[0] for seam in seams)
    laid, beside = lay_edges(garment, one, two)
    before, after = (_beyond(garment, one, two, done, at_end) for at_end in (False, True))
    sections = (*before, Section((one, two), (0.0, 0.0)), *after)
    closed = replace(seams[0], sections=sections)
    runs = closed.plies
    for title, seen, wrong in (("The zip, dark, on the wrong side", Affine.mirror(), True), ("", Affine(), False)):
        places = (move_laid(laid, seen), move_laid(beside, seen))
        plies = [PlyLaid(run, at, wrong) for run, at in zip(runs, places, strict=True)]
        drawn = PliesDrawn(garment, closed, letters, plies, done, 0.0)
        layers = [layer for ply in plies for layer in drawn.layers(ply, 0)]
        courses = join_courses(list(courses_of(garment, one, plies[0].laid)))
        notches = tuple(
            notch for seam, ply in zip(seams, plies, strict=True) for notch in show_notches(garment, seam, ply, 0)
        )
        if wrong:
            zipped = courses if before else [_leave_off(courses[0], ABOVE_ZIP), *courses[1:]]
            for wide, hatched, along in ((ZIP_FOLD, False, courses), (ZIP_TAPE, True, zipped)):
                strips = (ribbon_along(course, way * wide) for course in along for way in (1.0, -1.0))
                layers += [ClothLayer(strip, "", hatched=hatched, zipped=hatched, strip=True) for strip in strips]
            yield StepView(title, tuple(layers), notches=notches, focus=np.concatenate(courses))
            yield from _hold_facing_back(garment, seams, letters, done, layers, courses[0])
            continue
        for at_end, place in ((False, "Upper"), (True, "Lower")):
            crossed = bool(after if at_end else before)
            yield _enlarge_end(
                layers, courses[-1 if at_end else 0], at_end, crossed, f"{place} end, right side, enlarged"
            )


FOLDED_BACK: Final = np.array([(2.0, 0.0), (ZIP_TAPE, 0.0), (ZIP_TAPE + 7.0, 9.0), (9.0, 9.0)])
"""The upper end of a zip's tape as it is folded back, as drawn: off the teeth, and down from its fold (mm)."""

HELD: Final = "Upper end, wrong side: the facing's ends held back, enlarged"
"""What the picture of a zip's upper end beneath a facing shows."""


def _hold_facing_back(
    garment: Garment,
    seams: Sequence[Seam],
    letters: Letters,
    done: WorkDone,
    layers: Sequence[ClothLayer],
    teeth: Points,
) -> Iterator[StepView]:
    """Yield the upper end of a zip, where facings are turned in already, their ends out of the way."""
    one, two = lay_edges(garment, seams[0].plies[0], seams[1].plies[0], SHARES * UPPER)
    held = tuple(hold_back(garment, {**one, **two}, letters, done, teeth, UPPER_END))
    if not held:
        return
    down = (teeth[1] - teeth[0]) / np.hypot(*(teeth[1] - teeth[0]))
    aside = np.array([-down[1], down[0]])
    flaps = tuple(
        _lay_tape(np.asarray(teeth[0] + x * way * aside + (y + ABOVE_ZIP) * down))
        for way in (1.0, -1.0)
        for x, y in (np.split(FOLDED_BACK, 2, axis=1),)
    )
    focus = np.stack([teeth[0] + aside * HELD_BACK, teeth[0] - aside * HELD_BACK, teeth[0] + down * HELD_BACK])
    yield StepView(HELD, (*layers, *flaps, *held), focus=focus, close=True)


def _lay_tape(points: Points) -> ClothLayer:
    """The tape of a zip."""
    return ClothLayer(points, "", hatched=True, zipped=True, strip=True)


def lay_edges(garment: Garment, one: Run, two: Run, shares: Array = SHARES) -> tuple[Laid, Laid]:
    """Return where the pieces of two edges lie beside each other, right side up, as they meet at ``shares`` of them."""
    laid, own = unfold_run(garment, one), unfold_run(garment, two)
    lies, _ = fit_points(sample_shares(garment, two, own, shares), sample_shares(garment, one, laid, shares))
    return laid, move_laid(own, lies)


def _leave_off(course: Points, first: float) -> Points:
    """A course without so much of its beginning (mm)."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
    at = np.concatenate([[first], along[along > first]])
    return np.stack([np.interp(at, along, course[:, i]) for i in (0, 1)], axis=1)


def _beyond(garment: Garment, one: Run, two: Run, done: WorkDone, at_end: bool) -> tuple[Section, ...]:
    """What is sewn already of the seam that goes on beyond an end of an opening."""
    uses = [_next_use(garment, run[-1 if at_end else 0], at_end) for run in (one, two)]
    if any((use.piece, use.line) not in done.edges for use in uses):
        return ()
    sections = (section for seam in garment.seams for section in seam.sections)
    plies = ((section.plies[0], run) for section in sections for run in section.plies[1:])
    joined = any(_holds(a, uses[i]) and _holds(b, uses[1 - i]) for a, b in plies for i in (0, 1))
    return (Section(((uses[0],), (uses[1],)), (0.0, 0.0)),) if joined else ()


def _holds(run: Run, use: Use) -> bool:
    return use in run or use.reversed in run


def _next_use(garment: Garment, use: Use, at_end: bool) -> Use:
    """The line beyond the end, or the start, of a use, run through in the same direction."""
    piece = garment.piece(use.piece)
    line = (piece.after if at_end != use.against else piece.before)(use.line)
    return Use(use.piece, line.name, use.against)


def _enlarge_end(layers: Sequence[ClothLayer], course: Points, at_end: bool, crossed: bool, title: str) -> StepView:
    """One end of a zip: a line of stitching beside either fold, joined across where a seam goes on beyond the zip."""
    sides = [move_aside(course, way * ZIP_STITCHED) for way in (1.0, -1.0)]
    one, two = sides if at_end else [side[::-1] for side in sides]
    stitched = (np.concatenate([one, two[::-1]]),) if crossed else (one, two)
    return StepView(title, tuple(layers), stitched, focus=course[[-1 if at_end else 0]], close=True)


def draw_facing_ends(garment: Garment, ends: Run, turned: Sequence[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each facing's end, seen from inside: folded under beside the zip's teeth, and sewn by hand.

    A facing is drawn from its right side, the mirror image of what it faces: so it lies on that, wrong side up.
    """
    drawn = set[str]()
    for use in ends:
        letter, faced = letters.get(use.piece, use.piece), _faced_by(turned, use.piece)
        if not faced or letter in drawn:
            continue
        drawn.add(letter)
        (end,) = courses_of(garment, (use,), {use.piece: Affine()})
        facing = outline_of(garment, use.piece, Affine())
        under = Affine.mirror().apply_all(np.concatenate([ln.path.flatten()[:-1] for ln in garment.piece(faced).ring]))
        (x, y), inward = (end[-1] - end[0]).tolist(), facing.mean(axis=0) - end.mean(axis=0)
        beside = np.array([-y, x]) / np.hypot(x, y)
        clear = beside * np.sign((beside * inward).sum()) * ZIP_CLEAR
        folded = clip_half(facing, end.mean(axis=0) + clear, -clear)
        layers = (ClothLayer(under, letters.get(faced, ""), wrong=True), *_tapes(garment, faced))
        yield StepView("Seen from inside", (*layers, ClothLayer(folded, letter)), (end + clear,), focus=end)


def _faced_by(turned: Sequence[Seam], facing: str) -> str:
    """What a facing is sewn to."""
    sections = (section for seam in turned for section in seam.sections)
    faced = (s.plies[0][0].piece for s in sections if any(use.piece == facing for use in s.plies[-1]))
    return next(faced, "")


def _tapes(garment: Garment, piece: str) -> Iterator[ClothLayer]:
    """The tapes of the zips at a piece's edges, seen from inside."""
    for seam in garment.seams:
        if seam.kind.closes and not seam.kind.lapped:
            for use in (use for use in seam.plies[0] if use.piece == piece):
                course = Affine.mirror().apply_all(garment.line(use).path.flatten())
                for way in (1.0, -1.0):
                    top = _leave_off(course if course[0, 1] > course[-1, 1] else course[::-1], ABOVE_ZIP)
                    yield _lay_tape(ribbon_along(top, way * ZIP_TAPE))
