"""Figures of a garment that are held against the body, and by how much changes mean them to differ from it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from drafting.garment.features import Level
from drafting.garment.model import Departure, Garment
from drafting.garment.shoulders import take_shoulder
from drafting.garment.sleeves import take_sleeve
from drafting.garment.surface import hanging_pieces
from drafting.sides import Face, Side

LEVELS = ("waist", "hip")
SHOULDERS = ("shoulder_slope", "shoulder_length")
CAPS = ("cap_height", "cap_ease")
FIGURES = (*LEVELS, *SHOULDERS, *CAPS)
"""The figures that a change may say it moves: levels, shoulders' slopes and lengths, and of a cap its height (a share
of its armhole) and its ease."""

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


def declare_departures(before: Garment, after: Garment, moves: Collection[str]) -> Garment:
    """Return a changed garment that says by how much the change altered these figures, as it means to."""
    was, now = (_figures(garment, moves) for garment in (before, after))
    moved = {place: now[place] - was[place] for place in was if place in now}
    meant_now = (Departure(*place, by) for place, by in moved.items() if by != 0.0)
    return replace(after, departures=(*after.departures, *meant_now))


def sum_departures(garment: Garment, figure: str, place: str) -> float:
    """Return by how much (mm, rad) all changes together mean a figure to be more than the body's."""
    return sum(each.by for each in garment.departures if (each.figure, each.place) == (figure, place))


def _figures(garment: Garment, wanted: Collection[str]) -> dict[tuple[str, str], float]:
    """The figures of these names: of a level how far below the nape it lies, in the middle between its ends."""
    found = [*_levels(garment)] if not set(wanted).isdisjoint(LEVELS) else []
    found += _shoulders(garment) if not set(wanted).isdisjoint(SHOULDERS) else []
    found += _caps(garment) if not set(wanted).isdisjoint(CAPS) else []
    return {place: figure for place, figure in found if place[0] in wanted}


def _caps(garment: Garment) -> Iterator[tuple[tuple[str, str], float]]:
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_sleeve(garment, side)
        if taken is not None:
            yield ("cap_height", side.value), taken.share
            yield ("cap_ease", side.value), taken.ease


def _levels(garment: Garment) -> Iterator[tuple[tuple[str, str], float]]:
    for (name, face), span in level_heights(garment).items():
        yield (name, face.value), -sum(span) / 2.0


def _shoulders(garment: Garment) -> Iterator[tuple[tuple[str, str], float]]:
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_shoulder(garment, side)
        if taken is not None:
            yield ("shoulder_slope", side.value), taken.slope
            yield ("shoulder_length", side.value), taken.length or 0.0
