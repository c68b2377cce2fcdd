"""Bands and bindings that go right round: their ends sewn to a ring, and how that lies on the garment once it is sewn.

The garment is drawn as it lies on a table, right side out: the back behind the front, its wrong side seen where it
stands out; of a sleeve, one half.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Face, Garment, Run, Seam
from drafting.geometry import Affine
from drafting.output.layers.edges import SEWN
from drafting.output.layers.joining import draw_joining, is_ring, lay_plies
from drafting.output.layers.notches import show_notches
from drafting.output.layers.ply import PliesDrawn, PlyLaid, WorkDone, clip_half
from drafting.output.layers.unfold import courses_of, fit_points, move_laid, sample_shares, unfold_run
from drafting.output.layers.view import ClothLayer, StepView
from drafting.work.meeting import Letters

STRIP_LONG: Final = 3.0
"""Times the length of the seam at its ends, that a strip folded in two is drawn at most."""


def draw_ends_joined(garment: Garment, ends: Sequence[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a strip folded in two across, its ends on each other, stitched; the first of them, if there are several."""
    for seam in ends[:1]:
        laid = next(view for view in draw_joining(garment, seam, letters) if not view.close)
        title = "Its mitre, sewn" if seam.kind.mitred else "Its ends sewn, to make a ring"
        layers = _shorten_strip(laid)
        yield replace(laid, title=title, layers=layers, focus=np.concatenate([layer.points for layer in layers]))


def _shorten_strip(laid: StepView) -> tuple[ClothLayer, ...]:
    """The layers of a strip that is folded in two across, drawn shorter where it is long: the ends are what is sewn."""
    end = np.concatenate(laid.stitched)
    middle, across = end.mean(axis=0), np.ptp(end, axis=0)
    way = np.concatenate([layer.points for layer in laid.layers]).mean(axis=0) - middle
    at = middle + way / np.hypot(*way) * np.hypot(*across) * STRIP_LONG
    return tuple(replace(layer, points=clip_half(layer.points, at, way)) for layer in laid.layers)


def close_ring(garment: Garment, seam: Seam, letters: Letters, done: WorkDone) -> StepView | None:
    """Return the picture of a strip once it is sewn on right round; None where it isn't one, or doesn't go round."""
    run = seam.plies[0]
    if seam.kind.lay.turned or not is_ring(garment, run, done):
        return None
    base, *others = lay_plies(garment, seam, PlyLaid(run, unfold_run(garment, run)), over=False)
    if len({use.piece for use in run}) == 1:
        return _fold_tube(PliesDrawn(garment, seam, letters, (base, *others), done, 0.0))
    front = [use for use in run if garment.line(use).face is Face.FRONT]
    first = next((i for i, use in enumerate(run) if use in front and run[i - 1] not in front), 0)
    turned = (*run[first:], *run[:first])
    if not all(ply.strip for ply in others) or {garment.line(use).face for use in run} != {Face.FRONT, Face.BACK}:
        return None
    if any(use not in front for use in turned[: len(front)]):
        return None  # it goes to and fro between front and back
    parts = lay_behind(garment, turned[: len(front)], turned[len(front) :])
    drawn = [PliesDrawn(garment, seam, letters, (part, *others), done, 0.0) for part in parts]
    layers = tuple(layer for each in drawn for ply in each.plies for layer in each.layers(ply, 0))
    notches = tuple(show_notches(garment, seam, parts[-1], 0))
    focus = np.concatenate(list(courses_of(garment, parts[-1].run, parts[-1].laid)))
    return StepView(f"{SEWN}, as a ring", layers, tuple(drawn[-1].stitched()), notches=notches, focus=focus)


def lay_behind(garment: Garment, front: Run, back: Run) -> tuple[PlyLaid, PlyLaid]:
    """The back turned over behind the front, where it is joined to it at either end."""
    before, behind = (PlyLaid(run, unfold_run(garment, run)) for run in (front, back))
    goal, points = (
        np.stack([courses[0][0], courses[-1][-1]])
        for courses in (list(courses_of(garment, ply.run, ply.laid)) for ply in (before, behind))
    )
    lies, _ = fit_points(points * (-1.0, 1.0), goal[::-1])
    return replace(behind, laid=move_laid(move_laid(behind.laid, Affine.mirror()), lies), wrong=True), before


def _fold_tube(drawn: PliesDrawn) -> StepView:
    """One half of a piece that is joined to itself, as a sleeve, cut off at the middle of its edge."""
    base = drawn.plies[0]
    middle = sample_shares(drawn.garment, base.run, base.laid, (0.5,))[0]
    course = np.concatenate(list(courses_of(drawn.garment, base.run, base.laid)))
    way = course[-1] - course[0]
    layers = (layer for ply in drawn.plies for layer in drawn.layers(ply, 0))
    halves = tuple(replace(layer, points=clip_half(layer.points, middle, way)) for layer in layers)
    half = course[((course - middle) * way).sum(axis=1) <= 0.0]
    stitched = np.concatenate([half, middle[None]])
    return StepView(f"{SEWN}, as a ring, folded flat", halves, (stitched,), focus=stitched)
