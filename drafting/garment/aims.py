"""What a garment is to measure once it is made: how each measure is taken, and the body and ease it is to have."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from drafting.garment.features import Level
from drafting.record import dataclass
from drafting.saying import Words
from drafting.sides import Side, swap_sides

if TYPE_CHECKING:
    from drafting.garment.model import Garment


@dataclass(frozen=True, slots=True)
class Girth:
    """Right round the garment: the levels of one name that are girths, over all pieces (or those of one side)."""

    name: str

    def __str__(self) -> str:
        return f"girth:{self.name}"


@dataclass(frozen=True, slots=True)
class Width:
    """Across the garment: the levels of one name that aren't girths."""

    name: str

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class LineLength:
    """The lines that answer to a name, lines sewn to each other counted once."""

    name: str

    def __str__(self) -> str:
        return f"line:{self.name}"


Measure = Girth | Width | LineLength
"""How a measure of the finished garment is taken. Its text is what a file of the proof calls it."""


def measure_of(level: Level) -> Girth | Width:
    """Return the measure that a level is a part of."""
    return Girth(level.name) if level.girth else Width(level.name)


@dataclass(frozen=True, slots=True)
class Aim:
    """A measure the finished garment is to have: body plus ease (mm), checked on the pieces by the proof.

    ``side`` where it has one. ``meant`` is how much of the ease isn't its fit's: what the ticket or a change asks for
    beyond that (mm), or a rule takes of it. ``ruled`` is how much of the ease a rule gave (mm) for the sake of another
    measure, less than 0 what it took: its fit doesn't ask for that, nor is it meant.
    """

    measure: Measure
    title: Words
    body: float
    ease: float
    side: Side = Side.NONE
    meant: float = 0.0
    ruled: float = 0.0


def mirror_measure(measure: Measure) -> Measure:
    """Return the measure on the wearer's other side."""
    return replace(measure, name=swap_sides(measure.name))


def shift_aim(garment: Garment, measure: Measure, by: float) -> Garment:
    """Return the garment with the ease of the aims for ``measure`` larger by ``by`` mm, as a change means it to be.

    Unchanged if there is none.
    """
    return replace(
        garment,
        aims=tuple(
            replace(aim, ease=aim.ease + by, meant=aim.meant + by) if aim.measure == measure else aim
            for aim in garment.aims
        ),
    )


def drop_aims(garment: Garment, measures: Iterable[Measure]) -> Garment:
    """Return the garment without the aims for these measures, as when the piece that shows one is gone."""
    gone = set(measures)
    return replace(garment, aims=tuple(aim for aim in garment.aims if aim.measure not in gone))
