"""Bands and bindings that go right round: their ends sewn to a ring, and how that lies on the garment once it is sewn.

The garment is drawn as it lies on a table, right side out: the back behind the front, its wrong side seen where it
stands out; of a sleeve, one half.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Face, Fate, Garment, Run, Seam, Use
from drafting.geometry import Affine, Point
from drafting.output.layers.edges import SEWN
from drafting.output.layers.joining import clip_into, draw_joining
from drafting.output.layers.laying import is_ring, lay_plies
from drafting.output.layers.notches import show_notches
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.ply import PliesDrawn, PlyLaid, WorkDone
from drafting.output.layers.unfold import courses_of, fit_points, move_laid, sample_shares, unfold_run
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.work.meeting import Letters

STRIP_LONG: Final = 3.0
"""Times the length of the seam at its ends, that a strip folded in two is drawn at most."""

ON_FOLD: Final = 0.1
"""From a fold as far as a point counts as on it (mm)."""

SNIPPED: Final = "Its mitre: ends right sides together, sewn over the fold"
FOLDED: Final = "Folded lengthwise, right side up: the mitre"
"""What the pictures of a band's mitre show."""


def draw_ends_joined(garment: Garment, ends: Sequence[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a strip unfolded, its ends on each other, stitched; the first of them, if there are several.

    A mitre is then seen as it is once the strip is folded lengthwise.
    """
    for seam in ends[:1]:
        laid, *_, sewn = (_tone_strips(view) for view in draw_joining(garment, seam, letters) if not view.close)
        fold = _find_fold(garment, seam.plies[0][0])
        if fold is None:
            layers = _shorten_strip(laid, laid.stitched)
            yield replace(laid, title=RING_SEWN, layers=layers, focus=_extent(layers))
            continue
        mitred = seam.kind.mitred  # sewn from stitching line to stitching line, so that the corner opens
        (net,) = courses_of(garment, seam.plies[0][:1], unfold_run(garment, seam.plies[0]))
        end = (_unfold(net if mitred else laid.stitched[0], fold),)
        whole = (replace(layer, points=_unfold(layer.points, fold, closed=True)) for layer in laid.layers)
        layers = _shorten_strip(replace(laid, layers=tuple(whole)), end)
        joins = (_lie_along(fold, layers),)
        shown = replace(laid, title=RING_SEWN, layers=layers, stitched=end, folds=joins, focus=_extent(layers))
        if not mitred:
            yield shown
            continue
        yield replace(shown, title=SNIPPED, clips=(_snip(end[0], layers),), stops=(end[0][:1], end[0][-1:]))
        yield _point_down(replace(sewn, title=FOLDED, layers=_shorten_strip(sewn, (net,)), stitched=(net,)))


def _tone_strips(view: StepView) -> StepView:
    """A picture of strips alone, toned as they are on a garment."""
    return replace(view, layers=tuple(replace(layer, strip=True) for layer in view.layers))


RING_SEWN: Final = "Its ends sewn, to make a ring"
"""What the picture of a strip's ends shows."""


def _find_fold(garment: Garment, end: Use) -> Points | None:
    """The two ends of the fold of a strip, beside one of its ends; None where it is sewn on single."""
    piece = garment.piece(end.piece)
    for line in (piece.before(end.line), piece.after(end.line)):
        if line.fate is Fate.FOLDED:
            return np.array([(at.x, at.y) for at in (line.path.start, line.path.end)])
    return None


def _unfold(points: Points, fold: Points, *, closed: bool = False) -> Points:
    """A course that ends at a fold, or an outline along it, with its mirror image beyond that."""
    x, y = ((fold[1] - fold[0]) / np.hypot(*(fold[1] - fold[0]))).tolist()
    off = ((points - fold[0]) * (-y, x)).sum(axis=1)
    if closed:
        beyond = -math.copysign(1.0, float(off[np.abs(off).argmax()]))  # what is stepped aside may run over the fold
        points = clip_half(points, fold[0], np.array([-y, x]) * beyond)
        off = ((points - fold[0]) * (-y, x)).sum(axis=1)
        on = (np.abs(off) < ON_FOLD) & (np.abs(np.roll(off, -1)) < ON_FOLD)
        last = int(np.argmax(on * np.hypot(*(np.roll(points, -1, axis=0) - points).T)))
        points, off = (np.roll(each, -last - 1, axis=0) for each in (points, off))
    elif abs(off[0]) < abs(off[-1]):
        points, off = points[::-1], off[::-1]
    return np.concatenate([points, (points - 2.0 * off[:, None] * np.array([-y, x]))[::-1][1:]])


def _lie_along(fold: Points, layers: Sequence[ClothLayer]) -> Points:
    """A fold as far as the strip is drawn."""
    way = (fold[1] - fold[0]) / np.hypot(*(fold[1] - fold[0]))
    along = ((_extent(layers) - fold[0]) * way).sum(axis=1)
    return np.stack([fold[0] + way * along.min(), fold[0] + way * along.max()])


def _snip(end: Points, layers: Sequence[ClothLayer]) -> Points:
    """The snip at the fold, from where a mitre's stitching turns to the raw edge, short of that by a thread."""
    at = end[len(end) // 2]
    strip = _extent(layers)
    out = at - (strip.min(axis=0) + strip.max(axis=0)) / 2.0
    across = end[-1] - end[0]
    out -= across * (out * across).sum() / (across * across).sum()
    out /= np.hypot(*out)
    return clip_into(at[None], out, [layers[0].points])


def _point_down(view: StepView) -> StepView:
    """A mitre turned so that it points down, as it does at a V."""
    sewn, fold = view.stitched[0][0], view.stitched[0][-1]
    inside = _extent(view.layers).mean(axis=0)
    if np.hypot(*(sewn - inside)) < np.hypot(*(fold - inside)):
        sewn, fold = fold, sewn
    turned = Affine.turn(-math.pi / 2.0 - math.atan2(*(sewn - fold)[::-1].tolist()), Point(*sewn.tolist()))
    layers = tuple(replace(layer, points=turned.apply_all(layer.points)) for layer in view.layers)
    stitched = tuple(turned.apply_all(course) for course in view.stitched)
    return replace(view, layers=layers, stitched=stitched, focus=_extent(layers), notches=())


def _extent(layers: Sequence[ClothLayer]) -> Points:
    return np.concatenate([layer.points for layer in layers])


def _shorten_strip(laid: StepView, sewn: Sequence[Points]) -> tuple[ClothLayer, ...]:
    """The layers of a strip, each drawn shorter where it is long: the ends are what is sewn."""
    end = np.concatenate(sewn)
    middle, across = end.mean(axis=0), np.ptp(end, axis=0)
    out = []
    for layer in laid.layers:
        way = layer.points.mean(axis=0) - middle
        at = middle + way / np.hypot(*way) * np.hypot(*across) * STRIP_LONG
        out.append(replace(layer, points=clip_half(layer.points, at, way)))
    return tuple(out)


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
    stitched, mitres = tuple(drawn[-1].stitched()), tuple(mitre for each in drawn for mitre in each.mitres())
    return StepView(f"{SEWN}, as a ring", layers, stitched, notches=notches, focus=focus, seams=mitres)


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
    base_layers, *bands = ([*drawn.layers(ply, 0)] for ply in drawn.plies)
    layers = (*base_layers, *(replace(layer, strip=True) for band in bands for layer in band))  # a strip, if a wide one
    halves = tuple(replace(layer, points=clip_half(layer.points, middle, way)) for layer in layers)
    half = course[((course - middle) * way).sum(axis=1) <= 0.0]
    stitched = np.concatenate([half, middle[None]])
    return StepView(f"{SEWN}, as a ring, folded flat", halves, (stitched,), focus=stitched)
