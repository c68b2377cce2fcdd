"""The job: all that a ticket asks for, in inside units, with every step found and its options read."""

from __future__ import annotations

from typing import Any

from drafting.finishing import FinishPlan
from drafting.garment.step import Brief, Step
from drafting.paper import PaperPlan
from drafting.record import dataclass
from drafting.units import Unit


@dataclass(frozen=True, slots=True)
class Planned:
    """One step to take: its label in the ticket, the block or change, its options, and where the ticket asks for it."""

    label: str
    step: Step[Any]
    options: object
    where: str


@dataclass(frozen=True, slots=True)
class Job:
    """A ticket, read whole.

    ``steps`` stand in the order in which they are taken. ``mark`` is the draft mark: a short code that depends on
    what the ticket says, and on nothing else. ``unit`` is the one that lengths are shown in.
    """

    title: str
    wearer: str
    unit: Unit
    brief: Brief
    steps: tuple[Planned, ...]
    finish: FinishPlan
    paper: PaperPlan
    mark: str
