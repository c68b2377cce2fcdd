"""Figures of a garment that are held against the body, and by how much changes mean them to differ from it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace
from functools import partial

from drafting.garment.armholes import take_armhole
from drafting.garment.features import Level
from drafting.garment.lines import Role
from drafting.garment.model import Garment
from drafting.garment.over_bust import find_marked_bust
from drafting.garment.shoulders import take_shoulder
from drafting.garment.sleeves import take_sleeve
from drafting.garment.surface import hanging_pieces
from drafting.garment.told import Departure
from drafting.record import dataclass
from drafting.sides import Face, Side

LevelPlace = tuple[str, Face]
"""A level's name, and the face that it lies on."""


def level_heights(garment: Garment) -> Mapping[LevelPlace, tuple[float, float]]:
    """Return the least and greatest height (y, mm; 0 at the nape) of each girth's level on each face.

    A level round a body that grows wider downwards lies on the pieces as an arc. A second layer that hangs counts for
    nothing, nor does a skirt sewn on: a circle's hip lies round its middle.
    """
    heights: dict[LevelPlace, list[float]] = {}
    for face, level in _trunk_levels(garment):
        _, low, _, high = level.path.bounds
        heights.setdefault((level.name, face), []).extend((low, high))
    return {place: (min(found), max(found)) for place, found in heights.items()}


def _trunk_levels(garment: Garment) -> Iterator[tuple[Face, Level]]:
    hanging = hanging_pieces(garment)
    for piece in garment.pieces:
        if piece.face and piece.name not in hanging and not any(line.answers_to("waist") for line in piece.ring):
            yield from ((piece.face, level) for level in piece.levels if level.girth)


Taken = Iterator[tuple[str, float]]
"""Of a figure: each place at which a garment has it (a side, a face, a piece), and how much it is there."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure of a garment that a change may say it moves: its name, and what takes it (mm, rad or a share)."""

    name: str
    take: Callable[[Garment], Taken]


def declare_departures(before: Garment, after: Garment, moves: Collection[str | Figure]) -> Garment:
    """Return a changed garment that says by how much the change altered these figures, as it means to."""
    meant: list[Departure] = []
    for figure in _list_figures(moves):
        was, now = dict(figure.take(before)), dict(figure.take(after))
        moved = {place: now[place] - was[place] for place in was if place in now}
        meant += (Departure(figure.name, place, by) for place, by in moved.items() if by != 0.0)
    return replace(after, departures=(*after.departures, *meant))


def _list_figures(moves: Collection[str | Figure]) -> Iterator[Figure]:
    yield from (figure for figure in FIGURES if figure.name in moves)
    yield from (figure for figure in moves if isinstance(figure, Figure))


def sum_departures(garment: Garment, figure: str, place: str) -> float:
    """Return by how much (mm, rad) all changes together mean a figure to be more than the body's."""
    return sum(each.by for each in garment.departures if (each.figure, each.place) == (figure, place))


def _take_level(name: str, garment: Garment) -> Taken:
    """How far below the back neck point a level lies, in the middle between its ends."""
    for (level, face), span in level_heights(garment).items():
        if level == name:
            yield face.value, -sum(span) / 2.0


def _take_bust(garment: Garment) -> Taken:
    """How far below the back neck point the bust's level lies: in front on each side at its bust point.

    Where none is marked, it counts where it is lowest: a dart that takes in more turns up its ends.
    """
    for (level, face), (low, _) in level_heights(garment).items():
        if level == "bust" and face is Face.FRONT:
            for side in (Side.LEFT, Side.RIGHT):
                at = find_marked_bust(garment, side)
                yield f"{face}-{side}", -(low if at is None else at.y)
        elif level == "bust":
            yield face.value, -low


def _take_shoulders(figure: str, garment: Garment) -> Taken:
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_shoulder(garment, side)
        if taken is not None:
            yield side.value, {"slope": taken.slope, "ahead": taken.ahead, "length": taken.length or 0.0}[figure]


def _take_across(garment: Garment) -> Taken:
    """How far out from the centre each armhole lies at the level at which the width across is taken."""
    hanging = hanging_pieces(garment)
    for piece in garment.pieces:
        ends = [
            end.x
            for level in piece.levels
            if level.name == f"across-{piece.face}" and piece.name not in hanging
            for end in (level.path.start, level.path.end)
        ]
        for line in piece.lines(role=Role.ARMHOLE) if ends else ():
            yield f"{piece.face}-{line.side}", max(ends) if line.path.start.x > 0.0 else -min(ends)


def _take_caps(figure: str, garment: Garment) -> Taken:
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_sleeve(garment, side)
        if taken is not None:
            yield side.value, taken.share if figure == "height" else taken.ease


def _take_depths(garment: Garment) -> Taken:
    """How far below the back neck point each armhole lies."""
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_armhole(garment, side)
        if taken is not None:
            yield side.value, taken.depth


def _take_seams(figure: str, garment: Garment) -> Taken:
    """By how much each armhole's back is longer than its front, or its front more hollow: as its shoulder parts it."""
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_armhole(garment, side)
        if taken is not None:
            yield side.value, taken.back - taken.front if figure == "back" else taken.hollower or 0.0


FIGURES = (
    Figure("bust", _take_bust),
    Figure("waist", partial(_take_level, "waist")),
    Figure("hip", partial(_take_level, "hip")),
    Figure("shoulder_slope", partial(_take_shoulders, "slope")),
    Figure("shoulder_ahead", partial(_take_shoulders, "ahead")),
    Figure("shoulder_length", partial(_take_shoulders, "length")),
    Figure("across", _take_across),
    Figure("armhole_depth", _take_depths),
    Figure("armhole_back", partial(_take_seams, "back")),
    Figure("armhole_hollow", partial(_take_seams, "hollow")),
    Figure("cap_height", partial(_take_caps, "height")),
    Figure("cap_ease", partial(_take_caps, "ease")),
)
"""The figures that a change may name: levels, shoulders' slopes and lengths, how far out armholes lie, how deep, and
how front and back share them, and of a cap its height (a share of its armhole) and its ease. Another it brings as a
value."""
