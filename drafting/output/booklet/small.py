"""Small drawings of a booklet: each piece as it is laid on the cloth, and the bar that a cloth is stretched along."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.finishing import CutPiece
from drafting.finishing.labels import name_cloth, tell_again
from drafting.garment.model import MAIN_CLOTH
from drafting.geometry import are_inside, distances_to
from drafting.output.layers.view import Points
from drafting.output.pictures.flat import thin_courses
from drafting.output.pictures.shapes import ClothArea, Course, Inked, Lettering, StepPicture
from drafting.record import dataclass

SMALL: Final = 34.0, 36.0
"""Room for a piece drawn small: across and up (mm)."""

ENLARGED: Final = 2.6
"""By which a small piece may be larger than the scale at which the largest finds room."""

LEAST_LETTER: Final = 8.0
"""Of a piece's letter (points), in however narrow a strip."""

SCALES: Final = "They are not drawn to one scale: small pieces are drawn larger. The arrow is the grain."
"""What is told of the pieces drawn small."""

_RIM: Final = 1.5
"""Round a drawing (mm)."""

_ROOMY: Final = 4.0
"""Room about a letter (mm) that is enough."""

_STEP: Final = 0.7
"""Between places that are looked at (mm)."""

_ASIDE, _FURTHER = 3.0, 5.0
"""From a letter to the arrow beside it, and to one further along in a narrow piece, at least (mm)."""

_HALVES: Final = 6.0, 4.5, 3.5, 2.5, 1.8, 1.2
"""Half the length of an arrow (mm), from the longest that is tried."""

_HEAD: Final = 1.6
"""Of an arrow (mm)."""


@dataclass(frozen=True, slots=True)
class SmallPiece:
    """A piece of the pattern, drawn small: its letter, what it is, how it is cut, of which cloth."""

    letter: str
    title: str
    how: str
    picture: StepPicture


def draw_small_pieces(cut: Sequence[CutPiece]) -> tuple[SmallPiece, ...]:
    """Return each piece drawn small, those that are small less than the others, with its grain and its fold."""
    outlines = [piece.cut_path.flatten() for piece in cut]
    scales = [_fit(points) for points in outlines]
    least = min(scales, default=1.0)
    return tuple(
        SmallPiece(piece.code, piece.title, _how(piece), _draw(piece, points, min(scale, least * ENLARGED)))
        for piece, points, scale in zip(cut, outlines, scales, strict=True)
    )


def _how(piece: CutPiece) -> str:
    """How it is cut, its cloth, where it is not the main one, and what it is cut from once more."""
    of = "" if piece.cloth == MAIN_CLOTH else f", {name_cloth(piece.cloth)}"
    return f"{piece.how}{of}{f'; and {tell_again(piece.again)}' if piece.again else ''}"


def _fit(points: Points) -> float:
    across = np.ptp(points, axis=0)
    return float(min((SMALL[0] - 2 * _RIM) / across[0], (SMALL[1] - 2 * _RIM) / across[1]))


def _draw(piece: CutPiece, points: Points, scale: float) -> StepPicture:
    low = points.min(axis=0)

    def place(some: Points) -> Points:
        return np.asarray((some - low) * scale + _RIM)

    width, height = (np.ptp(points, axis=0) * scale + 2 * _RIM).tolist()
    outline = thin_courses([place(points)])[0]
    drawn: list[Inked] = [ClothArea(outline, 1.0)]
    for mark in piece.marks:
        if mark.kind == "on-fold":
            drawn.append(Course(place(mark.path.flatten()), 0.9, 0.35, (3.0, 1.0)))
    return StepPicture("", width, height, (*drawn, *_name(piece, outline)))


def _name(piece: CutPiece, outline: Points) -> Iterator[Course | Lettering]:
    """The letter near the middle, where there is room, and beside it the grain's arrow."""
    places, depths = _list_places(outline)
    room = min(_ROOMY, float(depths.max()))
    middle = (outline.min(axis=0) + outline.max(axis=0)) / 2.0
    at = _nearest(places[depths >= 0.9 * room], middle)
    along = np.array([piece.grain.unit.x, piece.grain.unit.y])
    inner = places[depths >= 0.5 * room]
    aside = np.abs((inner[:, 0] - at[0]) * along[1] - (inner[:, 1] - at[1]) * along[0])
    further = np.hypot(inner[:, 0] - at[0], inner[:, 1] - at[1])
    free = inner[aside >= _ASIDE] if (aside >= _ASIDE).any() else inner[further >= _FURTHER]
    beside = _nearest(free, at) if len(free) else at
    half = _reach(outline, beside, along)
    if not (aside >= _ASIDE).any():
        half = min(half, _FURTHER / 2.0)
    yield Lettering(piece.code, float(at[0]), float(at[1]), min(10.0, max(LEAST_LETTER, room * 2.4)))
    yield from _arrow(beside, along, half)


def _list_places(outline: Points) -> tuple[Points, Points]:
    """Places inside an outline, and how far each is from it (mm)."""
    low, top = outline.min(axis=0), outline.max(axis=0)
    x, y = (np.arange(low[k] + _STEP, top[k], _STEP) for k in (0, 1))
    grid = np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)
    grid = grid[are_inside(grid, outline)]
    return grid, distances_to(grid, outline, np.roll(outline, -1, axis=0))


def _nearest(places: Points, to: Points) -> Points:
    """The place nearest to another: of two as near, the lower left one."""
    return np.asarray(min(places.tolist(), key=lambda place: (round(math.dist(place, to), 3), *place)))


def _reach(outline: Points, at: Points, along: Points) -> float:
    """Half the length of an arrow that stays inside (mm)."""
    tried = [half for half in _HALVES if are_inside(np.stack([at - along * half, at + along * half]), outline).all()]
    return tried[0] if tried else _HALVES[-1]


def _arrow(middle: Points, along: Points, half: float) -> Iterator[Course]:
    """The grain: a line with a head at each end."""
    across = np.array([-along[1], along[0]])
    yield Course(np.stack([middle - along * half, middle + along * half]), 0.25)
    for end in (1.0, -1.0):
        tip = middle + along * half * end
        barbs = [tip - along * end * _HEAD + across * side * _HEAD * 0.5 for side in (1.0, -1.0)]
        yield Course(np.stack([barbs[0], tip, barbs[1]]), 0.25)


_TALL, _APART, _TICK = 7.0, 14.0, 2.0


def draw_stretch_bar(cloths: Sequence[tuple[str, float, str, float, str]]) -> StepPicture:
    """Return a bar in true size for each cloth: its name, the fold held and how far it must reach (mm, in words)."""
    left, wide = 6.0, max(end for _, _, _, end, _ in cloths)
    high = _APART * len(cloths)
    drawn: list[Inked] = []
    for i, (name, held, held_words, end, end_words) in enumerate(cloths):
        foot = high - _APART * (i + 1) + 5.0
        drawn += _bar(left, foot, held, end)
        middle = foot + _TALL / 2.0
        drawn.append(Lettering(name, left + held / 2.0, middle, 7.5))
        places = ((left, "0"), (left + held, held_words), (left + end, end_words))
        drawn += [Lettering(words, at, foot - 3.0, 7.0) for at, words in places]
    return StepPicture("True size on paper printed at 100 %", left + wide + 12.0, high, tuple(drawn))


def _bar(left: float, foot: float, held: float, end: float) -> Iterator[ClothArea | Course]:
    """What is held, light; what it must stretch by, grey; a tick at each end and each tenth of what is held."""
    for start, stop, grey in ((0.0, held, 1.0), (held, end, 0.85)):
        box = [(left + start, foot), (left + stop, foot), (left + stop, foot + _TALL), (left + start, foot + _TALL)]
        yield ClothArea(np.array(box), grey)
    for k in range(math.floor(end / held * 10.0) + 1):
        x = left + held * k / 10.0
        yield Course(np.array([(x, foot + _TALL), (x, foot + _TALL - _TICK)]), 0.2)
    for at in (0.0, held, end):
        yield Course(np.array([(left + at, foot - 1.0), (left + at, foot + _TALL + 1.5)]), 0.5)
