"""Small drawings of a booklet: each piece as it is laid on the cloth, and the bar that a cloth is stretched along."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from drafting.finishing import CutPiece
from drafting.geometry import deepest_inside
from drafting.output.layers.view import Points
from drafting.output.pictures.flat import thin_courses
from drafting.output.pictures.step import ClothArea, Course, Lettering, StepPicture
from drafting.record import dataclass

SMALL: Final = 34.0, 36.0
"""Room for a piece drawn small: across and up (mm)."""

ENLARGED: Final = 2.6
"""By which a small piece may be larger than the scale at which the largest finds room."""

_RIM: Final = 1.5
"""Round a drawing (mm)."""

_NEAR: Final = 0.5
"""To so many mm the place of a letter is sought."""

_ROOMY, _LONG = 3.0, 12.0
"""Room about a letter (mm) that holds an arrow too; a piece as wide as the second holds it beside."""

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
    """How it is cut, its contrast cloth and its interfacing told."""
    of = " of the contrast cloth" if piece.cloth == "contrast" else ""
    return f"{piece.how}{of}{'; and in interfacing' if piece.interfaced else ''}"


def _fit(points: Points) -> float:
    across = np.ptp(points, axis=0)
    return float(min((SMALL[0] - 2 * _RIM) / across[0], (SMALL[1] - 2 * _RIM) / across[1]))


def _draw(piece: CutPiece, points: Points, scale: float) -> StepPicture:
    low = points.min(axis=0)

    def place(some: Points) -> Points:
        return np.asarray((some - low) * scale + _RIM)

    width, height = (np.ptp(points, axis=0) * scale + 2 * _RIM).tolist()
    outline = thin_courses([place(points)])[0]
    drawn: list[ClothArea | Course | Lettering] = [ClothArea(outline, 1.0)]
    for mark in piece.marks:
        if mark.kind == "on-fold":
            drawn.append(Course(place(mark.path.flatten()), 0.9, 0.35, (3.0, 1.0)))
    return StepPicture("", width, height, (*drawn, *_name(piece, outline)))


def _name(piece: CutPiece, outline: Points) -> Iterator[Course | Lettering]:
    """The letter where there is most room, and beside it the grain's arrow: in a narrow piece, further along."""
    (x, y), room = deepest_inside(outline, _NEAR)
    if room < _ROOMY:  # a band is as deep at its end as in its middle
        x, y = ((outline.min(axis=0) + outline.max(axis=0)) / 2.0).tolist()
    along = np.array([piece.grain.unit.x, piece.grain.unit.y])
    across = np.array([along[1], -along[0]])
    extent = [float(np.ptp(outline[:, 0] * way[0] + outline[:, 1] * way[1])) for way in (across, along)]
    half = min(6.0, 0.3 * extent[1])
    if room > _ROOMY or extent[0] > _LONG:
        beside = across * (3.2 if extent[0] > _LONG else 0.5 * room)
    else:
        beside = along * (half + 2.5)
    yield Lettering(piece.code, x - beside[0], y - beside[1], min(10.0, max(6.0, room * 2.0)))
    yield from _arrow(np.array([x, y]) + (beside if room > _ROOMY or extent[0] > _LONG else 0.0), along, half)


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
    drawn: list[ClothArea | Course | Lettering] = []
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
