"""A picture of a step on paper or screen: cloth as areas, right side light and wrong side toned, and lines over it.

What is drawn is cut off at the frame by the page that shows it; nothing here is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.geometry import are_inside, distances_to
from drafting.output.layers import ClothLayer, NotchShown, StepView
from drafting.output.layers.view import Points
from drafting.output.pictures.flat import thin_courses
from drafting.record import dataclass

FAN: Final = 2.2
"""By which each layer stands back from the one below it (mm of paper)."""

LIGHT, TONED, STRIP_LIGHT, STRIP_TONED, TAPE = 1.0, 0.8, 0.94, 0.68, 0.45
"""Greys (1 is white) of a right side and a wrong side, of a piece and of a strip, and of a stay."""

ROUND_ABOUT: Final = 0.45
"""Of a seam's own extent that is shown to each side of it."""

LEAST_ROUND: Final = 70.0
"""Of a piece that is shown to each side of a seam at least (mm)."""

CLOSE_ROUND: Final = 26.0
"""Of a piece that is shown round a point that is enlarged (mm)."""

LEAST_RIM, LETTER_WIDE = 2.0, 1.35
"""From the frame to the middle of words at least, and how wide a letter of them is (mm of paper)."""

EDGE: Final = 0.22
"""Of the pen that draws an edge (mm)."""

_GRID: Final = 22
"""Places across a picture at which room for a letter is looked for."""


@dataclass(frozen=True, slots=True, eq=False)
class ClothArea:
    """An area of cloth: its outline, its grey, and by how much (mm of paper) its raw edge stands beyond the outline."""

    points: Points
    grey: float
    raw: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """A drawn line: its pen's width (mm), grey and dashes (mm)."""

    points: Points
    width: float
    grey: float = 0.0
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Lettering:
    """Words about a point, of a size in points."""

    words: str
    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True, eq=False)
class StepPicture:
    """What is drawn, in order, in a frame from (0, 0) to ``width`` and ``height`` (mm of paper)."""

    title: str
    width: float
    height: float
    drawn: tuple[ClothArea | Course | Lettering, ...]


def set_picture(view: StepView, wide: float, high: float) -> StepPicture:
    """Return a view drawn as large as a frame lets it be, no more of it than the surroundings of its focus."""
    low, top = _frame_of(view)
    across = top - low
    scale = min(wide / across[0], high / across[1])
    width, height = (across * scale).tolist()
    return StepPicture(view.title, width, height, tuple(_draw(view, low, scale, (width, height))))


def _frame_of(view: StepView) -> tuple[Points, Points]:
    """The lower left and the upper right corner of what is shown."""
    every = np.concatenate([layer.points for layer in view.layers])
    focus = every if view.focus is None else view.focus
    low, top = focus.min(axis=0), focus.max(axis=0)
    if view.close:
        return low - CLOSE_ROUND, top + CLOSE_ROUND
    margin = max(LEAST_ROUND, ROUND_ABOUT * float((top - low).max()))
    return np.maximum(low - margin, every.min(axis=0) - 14.0), np.minimum(top + margin, every.max(axis=0) + 14.0)


def _draw(
    view: StepView, low: Points, scale: float, room: tuple[float, float]
) -> Iterator[ClothArea | Course | Lettering]:
    fan = np.array(view.fan) * FAN

    def place(points: Points, shift: int = 0) -> Points:
        return (points - low) * scale + fan * shift

    outlines = thin_courses([place(layer.points, layer.shift) for layer in view.layers])
    for layer, points in zip(view.layers, outlines, strict=True):
        yield ClothArea(points, _grey(layer), layer.raw * scale)
    top = max((layer.shift for layer in view.layers), default=0)
    yield from (Course(place(course), 0.15, 0.3, (0.6, 0.9)) for course in view.joins)
    stitched = thin_courses([place(course, top) for course in view.stitched])
    yield from (Course(course, 0.55, 0.0, (1.8, 0.9)) for course in stitched)
    yield from (Course(place(clip, top), 0.5) for clip in view.clips)
    yield from _draw_notches([(n, place(np.array([(n.x, n.y)]), n.shift)[0]) for n in view.notches], room)
    yield from _name_layers(view.layers, outlines, room)


def _grey(layer: ClothLayer) -> float:
    if layer.hatched:
        return TAPE
    return (STRIP_LIGHT, STRIP_TONED)[layer.wrong] if layer.strip else (LIGHT, TONED)[layer.wrong]


def _draw_notches(
    notches: Sequence[tuple[NotchShown, Points]], room: tuple[float, float]
) -> Iterator[Course | Lettering]:
    """Each notch that lies in the frame, its number told once, outside the piece."""
    told = set()
    for notch, at in notches:
        x, y = at.tolist()
        if not (0.0 < x < room[0] and 0.0 < y < room[1]):
            continue
        yield from _ticks(notch, at)
        if notch.number not in told:
            told.add(notch.number)
            out = notch.out[0] * 3.6, notch.out[1] * 3.6
            words = f"{notch.number} {notch.name}".strip()
            half = max(LEAST_RIM, LETTER_WIDE * len(words) / 2.0)
            at_x = x + out[0] + (half - LETTER_WIDE) * np.sign(out[0])
            yield Lettering(words, _within(at_x, room[0], half), _within(y + out[1], room[1], LEAST_RIM), 7.0)


def _within(at: float, wide: float, rim: float) -> float:
    return min(max(at, rim), max(wide - rim, wide / 2.0))


def _ticks(notch: NotchShown, at: Points) -> Iterator[Course]:
    """A notch as one short line across the edge, or two."""
    out, along = np.array(notch.out), np.array([-notch.out[1], notch.out[0]])
    for i in range(notch.count):
        middle = at + along * (i - (notch.count - 1) / 2.0) * 1.1
        yield Course(np.stack([middle - out * 1.5, middle + out * 1.5]), 0.35)


def _name_layers(
    layers: Sequence[ClothLayer], outlines: Sequence[Points], room: tuple[float, float]
) -> Iterator[Lettering]:
    """Each piece's letter, once, where most of it is seen."""
    x, y = (np.linspace(0.0, side, _GRID + 2)[1:-1] for side in room)
    grid = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    inside = [are_inside(grid, points) for points in outlines]
    off = np.minimum.reduce([distances_to(grid, points, np.roll(points, -1, axis=0)) for points in outlines])
    rim = np.minimum(np.minimum(grid[:, 0], room[0] - grid[:, 0]), np.minimum(grid[:, 1], room[1] - grid[:, 1]))
    free = np.minimum(off, rim)
    best: dict[str, tuple[float, int]] = {}
    for i, layer in enumerate(layers):
        seen = inside[i] & ~np.logical_or.reduce([np.zeros(len(grid), dtype=np.bool_), *inside[i + 1 :]])
        if layer.letter and seen.any():
            at = int(np.argmax(np.where(seen, free, -1.0)))
            if free[at] > best.get(layer.letter, (0.0, 0))[0]:
                best[layer.letter] = (float(free[at]), at)
    for letter, (clear, at) in best.items():
        yield Lettering(letter, float(grid[at, 0]), float(grid[at, 1]), min(11.0, max(6.0, clear * 3.0)))
