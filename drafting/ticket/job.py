"""The job: all that a ticket asks for, in inside units, with every step found and its options read."""

from __future__ import annotations

import re
from typing import Any

from drafting.finishing import FinishPlan
from drafting.garment.step import Block, Brief, Step
from drafting.mending import Advice, Advisor, advise_nothing
from drafting.paper import PaperPlan, WidePaper
from drafting.proof import Check
from drafting.record import dataclass
from drafting.ticket.cloths import CutFrom
from drafting.ticket.grain import GrainAsked
from drafting.ticket.wearer import BodySources
from drafting.units import Unit


@dataclass(frozen=True, slots=True)
class Planned:
    """One step to take: its label in the ticket, the block or change, its options, and where the ticket asks for it.

    ``left_out_as`` is the name by which the ticket may leave it out, "" where it states it itself. ``said`` are the
    options that a ticket gives, not a design of the catalogue: the name and place of each.
    """

    label: str
    step: Step[Any]
    options: object
    where: str
    left_out_as: str = ""
    said: tuple[tuple[str, str], ...] = ()

    @property
    def is_block(self) -> bool:
        """Whether it is a block; else it is a change."""
        return isinstance(self.step, Block)

    @property
    def place(self) -> str:
        """Where its table stands: "alto.toml: changes[2]"."""
        return self.where.removesuffix(".block").removesuffix(".change")

    @property
    def named(self) -> str:
        """Where it stands, and what it is: "alto.toml: changes[2] (flare)"."""
        return f"{self.place} ({self.step.name})"

    @property
    def cause(self) -> str:
        """As ``named``, with what leaves it out where it is inherited."""
        return f"{self.named}, which is left out by {self.leaving}" if self.left_out_as else self.named

    @property
    def leaving(self) -> str:
        """What to write to be without it: 'leave_out = ["sleeve-length"]', or which table to take out."""
        return f'leave_out = ["{self.left_out_as}"]' if self.left_out_as else f"take {self.table} out"

    @property
    def table(self) -> str:
        """Its table, as it is written in a ticket: "[blocks.cuffs]", or "[[changes]] number 2 (move-dart)"."""
        if self.is_block:
            return f"[blocks.{self.label}]"
        number = re.search(r"\[(\d+)\]$", self.place)
        return f"[[changes]]{f' number {number[1]}' if number else ''} ({self.step.name})"


@dataclass(frozen=True, slots=True)
class Job:
    """A ticket, read whole.

    ``steps`` stand in the order in which they are taken. ``mark`` is the draft mark: a short code that depends on
    what the ticket says, and on nothing else. ``unit`` is the one that lengths are shown in. ``checks`` are those that
    installed packages add to the proof; ``advisor`` knows which of the installed changes mend what. ``sources`` tells
    which file each measurement stands in. ``said`` are all keys that a ticket gives, not a design of the catalogue, by
    their path (seams, side), each with its place. ``copy_shop`` is the wide paper that the sheet is laid out for,
    ``projector`` which of a projector's lines and ground is light, "none" where no page is made for one.
    ``cut_from`` tells what is cut from which cloth that isn't the main one, ``grain`` how pieces lie on it;
    ``known_blocks`` are the blocks that are installed, and what any file that it builds on calls one.
    """

    title: str
    wearer: str
    unit: Unit
    brief: Brief
    steps: tuple[Planned, ...]
    finish: FinishPlan
    paper: PaperPlan
    mark: str
    checks: tuple[Check, ...] = ()
    advisor: Advisor = advise_nothing
    sources: BodySources = BodySources()
    said: tuple[tuple[tuple[str, ...], str], ...] = ()
    copy_shop: WidePaper | None = None
    projector: str = "none"
    cut_from: tuple[CutFrom, ...] = ()
    grain: tuple[GrainAsked, ...] = ()
    known_blocks: tuple[str, ...] = ()

    def advise(self, situation: str) -> tuple[Advice, ...]:
        """Return what mends a situation: what is to be asked less of only where the ticket takes it."""
        taken = {planned.step.name for planned in self.steps if not planned.is_block}
        return tuple(each for each in self.advisor(situation) if not each.mend.by_less or each.change in taken)
