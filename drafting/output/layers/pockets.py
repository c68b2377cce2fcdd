"""A pocket made ready to be sewn on: its corners folded in, its edges pressed under, seen from the wrong side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

import numpy as np

from drafting.garment import Fate, Garment, Seam, find_piece_laid
from drafting.geometry import Affine
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.ply import RAW, raw_edges, raw_outline
from drafting.output.layers.unfold import courses_of, outline_of, ribbon_along
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.record import dataclass
from drafting.work.meeting import Letters

SHARP: Final = 0.5
"""Cosine of the turn at a corner below which it is folded in by itself: others are drawn round."""

ARROW_FROM, ARROW_TO = 40.0, 20.0
"""From a corner out to where the arrow begins that tells how it is folded in, and in to its head (mm)."""


@dataclass(frozen=True, slots=True, eq=False)
class SharpCorner:
    """A corner between two edges, and the unit vectors along them, away from it."""

    at: Points
    one: Points
    two: Points

    @property
    def inward(self) -> Points:
        """The way in between both edges, as long as both together."""
        return np.asarray(self.one + self.two)

    @property
    def flap(self) -> Points:
        """The raw corner, between the ends of the slanting fold that goes through the corner of the stitching."""
        return np.stack([self.at + RAW * each for each in (self.two - self.one, -self.inward, self.one - self.two)])


def draw_pressed_under(garment: Garment, seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield a pocket with its square corners folded in, if it has any; then with its edges pressed under."""
    name = find_piece_laid(garment, seam)
    lies, letter = Affine.mirror(), letters.get(name, "")
    hem = tuple(_turn_hem(garment, name, lies))
    edges = _join_smooth(list(courses_of(garment, seam.plies[0], {name: lies})))
    corners = [_find_corner(one, two) for one, two in pairwise(edges)]
    if corners:
        yield _fold_in(garment, name, letter, hem, corners)
    pocket = ClothLayer(outline_of(garment, name, lies), letter, wrong=True)
    strips = (ClothLayer(strip, "", strip=True) for strip in _lay_strips(edges, corners, pocket.points.mean(axis=0)))
    yield StepView("Edges pressed under, wrong side up", (pocket, *hem, *strips), focus=pocket.points)


def _turn_hem(garment: Garment, name: str, lies: Affine) -> Iterator[ClothLayer]:
    """What is turned already at the opening."""
    for line in garment.piece(name).ring:
        if line.fate is Fate.HEMMED and line.turned:
            yield ClothLayer(ribbon_along(lies.apply_all(line.path.flatten()), -line.turned), "", strip=True)


def _join_smooth(courses: Sequence[Points]) -> list[Points]:
    """Courses that follow each other, made one where they turn little."""
    out = [courses[0]]
    for course in courses[1:]:
        corner = _find_corner(out[-1], course)
        if float((corner.one * corner.two).sum()) > -SHARP:
            out.append(course)
        else:
            out[-1] = np.concatenate([out[-1], course[1:]])
    return out


def _find_corner(one: Points, two: Points) -> SharpCorner:
    back, on = one[-2] - one[-1], two[1] - two[0]
    return SharpCorner(two[0], back / np.hypot(*back), on / np.hypot(*on))


def _fold_in(
    garment: Garment, name: str, letter: str, hem: tuple[ClothLayer, ...], corners: Sequence[SharpCorner]
) -> StepView:
    """The pocket with its raw edges, each corner folded in over the corner of the stitching."""
    turned = frozenset((name, line.name) for line in garment.piece(name).ring if line.fate is Fate.HEMMED)
    whole = raw_outline(garment, name, Affine.mirror(), raw_edges(garment, name, turned))
    left = whole
    for corner in corners:
        left = clip_half(left, corner.at, -corner.inward)
    folded = (np.stack([c.flap[0], c.at + RAW * c.inward, c.flap[2]]) for c in corners)
    flaps = (ClothLayer(flap, "", strip=True) for flap in folded)
    ways = (corner.inward / np.hypot(*corner.inward) for corner in corners)
    arrows = tuple(
        np.stack([c.at - way * ARROW_FROM, c.at + way * ARROW_TO]) for c, way in zip(corners, ways, strict=True)
    )
    layers = (ClothLayer(left, letter, wrong=True), *hem, *flaps)
    joins = tuple(corner.flap for corner in corners)
    return StepView("Each corner folded in, wrong side up", layers, folds=joins, arrows=arrows, focus=whole)


def _lay_strips(edges: Sequence[Points], corners: Sequence[SharpCorner], inside: Points) -> Iterator[Points]:
    """What is pressed under along each edge, mitred at the corners."""
    for i, edge in enumerate(edges):
        x, y = edge[1] - edge[0]
        left = float(((inside - edge[0]) * (-y, x)).sum()) > 0.0
        strip = ribbon_along(edge, RAW if left else -RAW)
        for corner, mine in ((corners[i - 1] if i else None, True), (corners[i] if i < len(corners) else None, False)):
            if corner is not None:
                aside = np.array([-corner.inward[1], corner.inward[0]])
                own = corner.two if mine else corner.one
                strip = clip_half(strip, corner.at, -aside * np.sign((aside * own).sum()))
        yield strip
