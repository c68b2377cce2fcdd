"""Edges that are turned up, taped or folded shut: each piece alone, its wrong side up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import numpy as np

from drafting.garment import Garment, Run, Seam, Use
from drafting.geometry import Affine
from drafting.output.layers.unfold import courses_of, outline_of, ribbon_along
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.work.meeting import Letters

WIDE = 30.0
"""Of a turned edge that is shown where its depth isn't known (mm)."""


def draw_hem(garment: Garment, edges: Run, letters: Letters, depths: Mapping[str, float]) -> Iterator[StepView]:
    """Yield a picture of each piece, wrong side up, its edge turned onto it and stitched."""
    for name in _one_each(garment, (use.piece for use in edges), letters):
        mine = tuple(use for use in edges if use.piece == name)
        lies = Affine.mirror()
        strips, stitched = [], []
        for use, course in zip(mine, courses_of(garment, mine, {name: lies}), strict=True):
            depth = depths.get(garment.line(use).opening, WIDE) or WIDE
            inward = -1.0 if use.against else 1.0
            strips.append(ClothLayer(ribbon_along(course, -depth * inward), "", strip=True))
            ring = ribbon_along(course, -(depth - 2.0) * inward)
            stitched.append(ring[len(course) :][::-1])
        piece = ClothLayer(outline_of(garment, name, lies), letters.get(name, ""), wrong=True)
        focus = np.concatenate(stitched)
        yield StepView("Turned to the wrong side", (piece, *strips), tuple(stitched), focus=focus)


def draw_stays(garment: Garment, letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece that is taped, wrong side up, its stays hatched."""
    taped = [piece.name for piece in garment.pieces if any(zone.taped for zone in piece.zones)]
    for name in _one_each(garment, taped, letters):
        lies = Affine.mirror()
        strips = []
        for zone in garment.piece(name).zones:
            if zone.taped:
                path = garment.piece(name).line(zone.line).path
                part = path.between(zone.start * path.length, zone.end * path.length)
                course = lies.apply_all(part.flatten())
                strips.append(ClothLayer(ribbon_along(course, -zone.width), "", hatched=True, strip=True))
        piece = ClothLayer(outline_of(garment, name, lies), letters.get(name, ""), wrong=True)
        focus = np.concatenate([piece.points])
        yield StepView("Where stays lie", (piece, *strips), focus=focus)


def draw_darts(garment: Garment, seams: Iterable[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece whose darts are sewn, wrong side up, their legs emphasised and what meets."""
    runs: dict[str, list[Seam]] = {}
    for seam in seams:
        runs.setdefault(seam.plies[0][0].piece, []).append(seam)
    for name in _one_each(garment, runs, letters):
        lies = Affine.mirror()
        legs, joins = [], []
        for seam in runs[name]:
            one, two = (list(_open_courses(garment, run, lies)) for run in seam.plies[:2])
            legs += [*one, *two]
            joins += [np.stack([a[i], b[j]]) for a, b in zip(one, two, strict=True) for i, j in _spread(a, b)]
        ring = np.concatenate([line.path.flatten()[:-1] for line in garment.piece(name).ring])
        piece = ClothLayer(lies.apply_all(ring), letters.get(name, ""), wrong=True)
        yield StepView("Legs that meet", (piece,), tuple(legs), tuple(joins), focus=piece.points)


def _open_courses(garment: Garment, run: Run, lies: Affine) -> Iterator[Points]:
    """The courses of a run as its piece was cut, its darts open."""
    for use in run:
        points = lies.apply_all(garment.line(use).path.flatten())
        yield points[::-1] if use.against else points


def _spread(a: Points, b: Points) -> Iterator[tuple[int, int]]:
    """Places along two legs that meet: a few, evenly spread."""
    for share in (0.0, 0.35, 0.7):
        yield round(share * (len(a) - 1)), round(share * (len(b) - 1))


def _one_each(garment: Garment, names: Iterable[str], letters: Letters) -> Iterator[str]:
    """One piece for each letter: the other of a pair is its mirror image."""
    seen: dict[str, str] = {}
    for name in dict.fromkeys(names):
        seen.setdefault(letters.get(name, name), name)
    yield from seen.values()


def draw_edges(garment: Garment, seams: Iterable[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece, wrong side up, whose edge is worked by itself, as beside a zip."""
    runs: dict[str, list[Use]] = {}
    for seam in seams:
        for use in seam.uses():
            runs.setdefault(use.piece, []).append(use)
    for name in _one_each(garment, runs, letters):
        lies = Affine.mirror()
        stitched = tuple(courses_of(garment, tuple(runs[name]), {name: lies}))
        piece = ClothLayer(outline_of(garment, name, lies), letters.get(name, ""), wrong=True)
        yield StepView("The edge that is worked", (piece,), stitched, focus=np.concatenate(stitched))


def draw_alone(garment: Garment, names: Iterable[str], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece alone, wrong side up."""
    for name in _one_each(garment, names, letters):
        points = outline_of(garment, name, Affine.mirror())
        yield StepView("Wrong side up", (ClothLayer(points, letters.get(name, ""), wrong=True),), focus=points)
