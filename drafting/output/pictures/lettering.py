"""Words in a picture of a step: notches beside their strokes, letters on their pieces, none over what is drawn.

A piece of which too little is seen for its letter has it beside, with a line that ends in a dot on the piece.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.geometry import Array, are_inside, distances_between, distances_to, following
from drafting.geometry.polygon import Places
from drafting.output.layers.view import ClothLayer, NotchShown, Points
from drafting.output.pdf.ink import POINT
from drafting.output.pictures.shapes import ClothArea, Course, Inked, Lettering
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

LETTER_WIDE, LETTER_HIGH = 1.35, 2.5
"""How wide and high a letter of a notch's words is (mm of paper)."""

NOTCH_SIZE: Final = 7.0
"""Of a notch's words (points)."""

_AWAY: Final = 0.5, 1.0, 1.6
"""From a notch's stroke to its words (mm), as is tried along all of it: near enough to be its own."""

_APART: Final = 3.0, 4.5, 6.5, 9.0
"""From the stroke's outer end to words that find no room there, and have a thin line to it."""

_TURNS: Final = tuple(math.radians(angle) for angle in (0, 30, -30, 60, -60, 90, -90, 125, -125, 150, -150, 180))
"""From the way out of the piece, as is tried."""

_COS, _SIN = (np.array([turned(angle) for angle in _TURNS]) for turned in (math.cos, math.sin))

_ALONG: Final = np.array([0.0, 0.5, 1.0])
"""Shares of a stroke from which words are tried, from its outer end."""

_NEAR: Final = len(_ALONG) * len(_AWAY) * len(_TURNS)
"""How many places are tried beside a stroke; those after them need a line."""

_FAR: Final = np.array([
    *(i * 1.0 + k * 0.5 + j * 1.5 for j in range(len(_ALONG)) for i in range(len(_AWAY)) for k in range(len(_TURNS))),
    *(6.0 + i * 1.5 + k * 0.5 for i in range(len(_APART)) for k in range(len(_TURNS))),
])  # fmt: skip
"""How bad each place is for being far from the best."""

_BETWEEN_NUMBERS: Final = 1.4
"""Between words on one line at least, so that 4 beside 4 isn't read as 44 (mm)."""

_SAME: Final = 6.0
"""Between two strokes of one number from which both bear it (mm of paper)."""

LEADER: Final = 0.18
"""Of the pen that draws a line from words to what they name (mm)."""

_STEP: Final = 0.4
"""Between the points by which lines are kept clear of words (mm)."""

_GRID: Final = 26
"""Places across a picture at which room for a letter is looked for."""

HALF_LETTER: Final = 0.5
"""Of the size of a letter, from its middle, that is kept free of others."""

ROOMY: Final = 1.7
"""From a letter's middle to the nearest line, at least, where it stands on its piece (mm)."""

_BESIDE: Final = 4.0, 16.0
"""From a piece's dot to its letter beside it: at least, and at most (mm)."""

BESIDE_SIZE: Final = 8.0
"""Of a letter that stands beside its piece (points)."""

_DOT: Final = 0.5
"""Half the width of such a dot (mm)."""

_THIN_DOT: Final = 0.2
"""Of it, what must lie on a strip along an edge (mm)."""


Bools = np.ndarray[tuple[int], np.dtype[np.bool_]]


@dataclass(frozen=True, slots=True, eq=False)
class PicturePlaces:
    """Where words may stand: the picture's size, points of its strokes, and points of its edges (mm of paper)."""

    room: tuple[float, float]
    strokes: Points
    edges: Points


def sample_courses(courses: Sequence[Points]) -> Points:
    """Return points of courses, closely spaced."""
    found = [np.zeros((0, 2))]
    for course in courses:
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
        at = np.linspace(0.0, along[-1], max(2, int(along[-1] / _STEP) + 2))
        found.append(np.stack([np.interp(at, along, course[:, k]) for k in (0, 1)], axis=1))
    return np.concatenate(found)


def name_notches(notches: Sequence[tuple[NotchShown, Points]], places: PicturePlaces) -> Iterator[Lettering | Course]:
    """Yield each notch's number and name beside its stroke and off all others, or farther off with a line to it.

    ``notches`` stand with their strokes, from the outer end, shape (2, 2). One number is written once where its strokes
    are near each other.
    """
    told: list[tuple[str, Points]] = []
    boxes: list[tuple[float, float, float, float]] = []
    strokes = {i: _spread_over(stroke) for i, (_, stroke) in enumerate(notches)}
    for i, (notch, stroke) in enumerate(notches):
        at = stroke.mean(axis=0)
        words = f"{notch.number or ''} {notch.name}".strip()
        own = str(notch.number or notch.name)
        again = any(number == own and np.hypot(*(at - other)) < _SAME for number, other in told)
        if again or not _holds(places.room, stroke, (0.0, 0.0)).any():
            continue
        told.append((own, at))
        half = LETTER_WIDE * len(words) / 2.0 + 0.2, LETTER_HIGH / 2.0 + 0.2
        tried = _list_places(stroke, notch.out, half)
        held = _holds(places.room, tried, half)
        if held.any():
            others = [strokes[k] for k, (each, _) in enumerate(notches) if str(each.number or each.name) != own]
            doubt = np.where(np.arange(len(tried)) < _NEAR, _doubt(tried, half, strokes[i], others), 0.0)
            bad = _cost(tried, half, places, boxes) + _FAR + doubt
            best = int(np.argmin(np.where(held, bad, np.inf)))
            x, y = tried[best].tolist()
            boxes.append((x, y, *half))
            yield Lettering(words, x, y, NOTCH_SIZE)
            if best >= _NEAR:
                yield Course(np.stack([stroke[0], np.clip(stroke[0], tried[best] - half, tried[best] + half)]), LEADER)


def _spread_over(stroke: Points) -> Points:
    """A few points of a stroke."""
    return np.asarray(stroke[0] + (stroke[1] - stroke[0]) * np.linspace(0.0, 1.0, 5)[:, None])


def _list_places(stroke: Points, out: tuple[float, float], half: tuple[float, float]) -> Points:
    """Middles of words about a stroke that are tried, in the order of ``_FAR``."""
    way = np.stack([_COS * out[0] - _SIN * out[1], _SIN * out[0] + _COS * out[1]], axis=1)
    reach = (half / np.maximum(np.abs(way), TOLERANCE.same_point)).min(axis=1)
    near, far = (way * (np.array(off)[:, None] + reach)[..., None] for off in (_AWAY, _APART))
    starts = stroke[0] + (stroke[1] - stroke[0]) * _ALONG[:, None]
    beside = (starts[:, None, None, :] + near).reshape(-1, 2)
    return np.concatenate([beside, (stroke[0] + far).reshape(-1, 2)]).round(2)


def _cost(
    tried: Points,
    half: tuple[float, float],
    places: PicturePlaces,
    boxes: Sequence[tuple[float, float, float, float]],
) -> Array:
    """How bad places are for words: other words and strokes weigh most, edges less."""
    taken = np.array(boxes).reshape(-1, 4)
    off = np.abs(tried[:, None] - taken[:, :2]) < half + taken[:, 2:] + (_BETWEEN_NUMBERS, 0.0)
    over = np.count_nonzero(off[..., 0] & off[..., 1], axis=1)
    strokes, edges = (_count(points, tried, half) for points in (places.strokes, places.edges))
    return np.asarray(60.0 * over + 8.0 * strokes + 2.0 * edges)


def _doubt(tried: Points, half: tuple[float, float], own: Points, others: Sequence[Points]) -> Array:
    """How bad it is that words may be taken for those of another notch, to which they are as near."""
    if not others:
        return np.zeros(len(tried))
    mine, theirs = (_away(tried, half, points) for points in (own, np.concatenate(others)))
    return np.where(theirs < mine + 1.0, 30.0, 0.0)


def _away(tried: Points, half: tuple[float, float], points: Points) -> Array:
    """How far words at each place are from the nearest of some points (mm)."""
    off = np.maximum(np.abs(points - tried[:, None]) - half, 0.0)
    return np.asarray(np.hypot(off[..., 0], off[..., 1]).min(axis=1))


def _count(points: Points, tried: Points, half: tuple[float, float]) -> Places:
    """How many of some points lie under words at each of the places that are tried."""
    near = points[_are_between(points, tried.min(axis=0) - half, tried.max(axis=0) + half)]
    under = np.abs(near[:, 0] - tried[:, :1]) < half[0]
    under &= np.abs(near[:, 1] - tried[:, 1:]) < half[1]
    return np.asarray(np.count_nonzero(under, axis=1))


def _holds(room: tuple[float, float], middles: Points, half: tuple[float, float]) -> Bools:
    """Whether words about each of some middles lie within the picture."""
    return _are_between(middles, np.array(half), np.array(room) - half)


def _are_between(points: Points, low: Iterable[float], high: Iterable[float]) -> Bools:
    (x, y), (left, bottom), (right, top) = points.T, low, high
    return np.asarray((x >= left) & (x <= right) & (y >= bottom) & (y <= top))


def name_layers(
    layers: Sequence[ClothLayer], outlines: Sequence[Points], places: PicturePlaces, words: Sequence[Lettering]
) -> Iterator[Inked]:
    """Yield each piece's letter: where most of it is seen, or beside it with a line to a dot on it.

    The other of a pair, which has the same letter, has it too where there is room.
    """
    layers, again = _tell_pairs_apart(layers)
    grid = _spread_grid(places.room)
    free = _find_free(grid, outlines, places, words)
    taken = np.zeros((0, 2))
    top = _find_top(grid, layers, outlines)
    for letter in dict.fromkeys(layer.letter for layer in layers if layer.letter):
        clear = np.where(top == letter, free, 0.0)
        at = int(np.argmax(clear))
        if clear[at] >= ROOMY:
            taken = np.concatenate([taken, grid[at : at + 1]])
            x, y = grid[at].tolist()
            size = min(11.0, max(6.0, float(clear[at]) * 3.0))
            free = _keep_off(free, grid, grid[at], size)
            yield Lettering(again.get(letter, letter), x, y, size)
            continue
        if letter in again:
            continue
        dots = _peeping(layers, outlines, letter)
        dots = dots[_holds(places.room, dots, (_DOT, _DOT))]
        thin = any(layer.strip for layer in layers if layer.letter == letter)
        for off in (_THIN_DOT if thin else _DOT) * np.array([(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)]):
            dots = dots[_find_top(dots + off, layers, outlines) == letter]
        if len(dots) and len(places.strokes):
            off_strokes = np.minimum(distances_between(dots, places.strokes), ROOMY)
            dots = dots[off_strokes >= off_strokes.max()]
        spot = _place_beside(dots, grid, free, taken)
        if spot is not None:
            dot, beside = spot
            taken = np.concatenate([taken, beside[None]])
            free = _keep_off(free, grid, beside, BESIDE_SIZE)
            yield from _point_at(letter, dot, beside)


def _keep_off(free: Array, grid: Points, at: Points, size: float) -> Array:
    """How far each place is from all that was kept clear of, and from a letter of a size (points) at a place."""
    return np.asarray(np.minimum(free, np.hypot(*(grid - at).T) - size * POINT * HALF_LETTER))


def _tell_pairs_apart(layers: Sequence[ClothLayer]) -> tuple[list[ClothLayer], dict[str, str]]:
    """The layers, each further piece of a letter under a name of its own; and the letters of those."""
    again, found, seen = dict[str, str](), list[ClothLayer](), set[str]()
    for i, layer in enumerate(layers):
        if layer.letter and layer.letter in seen and not layer.strip:
            again[f"{layer.letter} {i}"] = layer.letter
            found.append(replace(layer, letter=f"{layer.letter} {i}"))
        else:
            found.append(layer)
        seen.add(layer.letter)
    return found, again


def _spread_grid(room: tuple[float, float]) -> Points:
    x, y = (np.linspace(0.0, side, _GRID + 2)[1:-1] for side in room)
    return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


def _find_free(grid: Points, outlines: Sequence[Points], places: PicturePlaces, words: Sequence[Lettering]) -> Array:
    """How far each place is from all edges, strokes and words, and from the frame (mm)."""
    free = np.minimum(grid, np.array(places.room) - grid).min(axis=1)
    starts, ends = (np.concatenate(each) for each in (outlines, [following(points) for points in outlines]))
    near = _reach_in(starts, ends, places.room)
    if near.any():
        free = np.minimum(free, distances_to(grid, starts[near], ends[near]))
    near = _reach_in(places.strokes, places.strokes, places.room)
    if near.any():
        free = np.minimum(free, distances_between(grid, places.strokes[near]))
    for each in words:
        half = np.array([LETTER_WIDE * len(each.words) / 2.0, LETTER_HIGH / 2.0])
        off = np.maximum(np.abs(grid - (each.x, each.y)) - half, 0.0)
        free = np.minimum(free, np.hypot(off[:, 0], off[:, 1]))
    return np.asarray(free)


def _reach_in(starts: Points, ends: Points, room: tuple[float, float]) -> Bools:
    """Whether chords come into the picture: from any place in it those beyond its frame are farther than the frame."""
    low, high = np.minimum(starts, ends), np.maximum(starts, ends)
    return np.asarray((high[:, 0] > 0.0) & (high[:, 1] > 0.0) & (low[:, 0] < room[0]) & (low[:, 1] < room[1]))


def _find_top(
    points: Points, layers: Sequence[ClothLayer], outlines: Sequence[Points]
) -> np.ndarray[tuple[int], np.dtype[np.str_]]:
    """The letter of the layer that is seen at each point, since no other lies over it there; "" where there is none."""
    top, left = np.full(len(points), len(layers)), np.arange(len(points))
    for i in reversed(range(len(layers))):
        near = left[_are_between(points[left], outlines[i].min(axis=0), outlines[i].max(axis=0))]
        top[near[are_inside(points[near], outlines[i])]] = i
        left = left[top[left] == len(layers)]
    return np.asarray(np.array([*(layer.letter for layer in layers), ""])[top])


def _peeping(layers: Sequence[ClothLayer], outlines: Sequence[Points], letter: str) -> Points:
    """Places close to the edges of a letter's layers: where a layer peeps out, some of it is seen there."""
    found = [np.zeros((0, 2))]
    for layer, outline in zip(layers, outlines, strict=True):
        if layer.letter == letter:
            edge = sample_courses([np.concatenate([outline, outline[:1]])])
            step = np.gradient(edge, axis=0)
            long = np.maximum(np.hypot(step[:, 0], step[:, 1]), TOLERANCE.same_point)[:, None]
            left = np.stack([-step[:, 1], step[:, 0]], axis=1) / long
            found += [edge + left * off for off in (0.3, -0.3, 0.6, -0.6, 1.0, -1.0)]
    return np.concatenate(found)


def _place_beside(dots: Points, grid: Points, free: Array, taken: Points) -> tuple[Points, Points] | None:
    """A dot, and where its letter stands beside it with the shortest line; None if there is no room."""
    roomy = grid[free >= ROOMY]
    if len(taken) and len(roomy):
        roomy = roomy[distances_between(roomy, taken) >= 2.0 * ROOMY]
    if not len(dots) or not len(roomy):
        return None
    far = np.hypot(*(dots[:, None, :] - roomy[None, :, :]).transpose(2, 0, 1)).round(2)
    far = np.where(far < _BESIDE[0], np.inf, far)
    dot, beside = np.unravel_index(int(np.argmin(far)), far.shape)
    return (dots[dot], roomy[beside]) if far[dot, beside] <= _BESIDE[1] else None


def _point_at(letter: str, dot: Points, beside: Points) -> Iterator[Inked]:
    way = (beside - dot) / np.hypot(*(beside - dot))
    yield Course(np.stack([dot, beside - way * ROOMY]), LEADER)
    around = np.linspace(0.0, 2.0 * math.pi, 9)[:-1]
    yield ClothArea(dot + _DOT * np.stack([np.cos(around), np.sin(around)], axis=1), 0.0)
    x, y = beside.tolist()
    yield Lettering(letter, x, y, BESIDE_SIZE)
