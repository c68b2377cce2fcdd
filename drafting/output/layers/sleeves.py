"""A sleeve put into its armhole in the round: the garment wrong side out, the sleeve within, right sides together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Face, Garment, Seam
from drafting.geometry import Affine, Point
from drafting.output.layers.laying import SHARES
from drafting.output.layers.notches import show_notches
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.ply import PliesDrawn, PlyLaid, WorkDone
from drafting.output.layers.rings import lay_behind
from drafting.output.layers.unfold import courses_of, fit_points, move_laid, sample_shares, unfold_run
from drafting.output.layers.view import Points, StepView
from drafting.work.meeting import Letters

IN_FROM, IN_BY, SHOWN = 70.0, 55.0, 250.0
"""From an armhole to where the arrow into it begins, its length, and as far as the sleeve is shown (mm)."""


def draw_put_in(garment: Garment, seam: Seam, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield a sleeve in its armhole, seen from the front: half of it, dotted where the front covers it."""
    front = [each for each in seam.sections if garment.line(each.plies[0][0]).face is Face.FRONT]
    back = [each for each in seam.sections if each not in front]
    if not (front and back):
        return
    runs = [tuple(use for each in part for use in each.plies[0]) for part in (front, back)]
    behind, before = (_mirror(ply) for ply in lay_behind(garment, *runs))
    caps = tuple(use for each in front for use in each.plies[-1])
    own = unfold_run(garment, caps)
    goal = sample_shares(garment, before.run, before.laid, SHARES)
    points = sample_shares(garment, caps, own, SHARES)
    lies, _ = fit_points(points, goal)
    sleeve = PlyLaid(caps, move_laid(own, lies), bent=True)
    drawn = PliesDrawn(garment, replace(seam, sections=tuple(front)), letters, (before, sleeve), done, 0.0)
    high = int(goal[[0, -1], 1].argmax()) * (len(goal) - 1)
    way = float(np.sign(points[high, 0] - points.mean(axis=0)[0]))
    laid = tuple(drawn.layers(sleeve, 0))
    within = [replace(layer, points=_halve(layer.points, lies, goal[high], way)) for layer in laid]
    halves = tuple(layer.points for layer in within)
    layers = (*drawn.layers(behind, 0), *within, *drawn.layers(before, 0))
    middle = goal.mean(axis=0)
    away = middle - halves[0].mean(axis=0)
    away = away / np.hypot(*away)
    arrow = np.stack([middle + away * IN_FROM, middle + away * (IN_FROM - IN_BY)])
    yield StepView(
        PUT_IN,
        layers,
        tuple(courses_of(garment, before.run, before.laid)),
        notches=tuple(show_notches(garment, seam, before, 0)),
        focus=np.concatenate([goal, arrow, halves[0][np.hypot(*(halves[0] - middle).T) < SHOWN]]),
        arrows=(arrow,),
        hidden=halves,
    )


PUT_IN: Final = "The sleeve within, the garment wrong side out"
"""What the picture of a sleeve in its armhole shows."""


def _mirror(ply: PlyLaid) -> PlyLaid:
    return replace(ply, laid=move_laid(ply.laid, Affine.mirror()), wrong=not ply.wrong)


def _halve(outline: Points, lies: Affine, top: Points, way: float) -> Points:
    """The front half of a sleeve, folded from the top of its cap down."""
    start, end = (lies.apply(Point(x, 0.0)) for x in (0.0, way))
    return clip_half(outline, top, np.array([end.x - start.x, end.y - start.y]))
