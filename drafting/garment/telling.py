"""What the words of a step are made of: the garment at work, the seams told in one step, and what is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field

from drafting.garment.model import Garment
from drafting.garment.seam import Seam
from drafting.record import dataclass
from drafting.saying import Words
from drafting.units import Unit


@dataclass(frozen=True, slots=True)
class Group:
    """Seams that are told in one step, under one title, and the seams that make the first of them ready."""

    seams: tuple[Seam, ...]
    said: Words
    ready: tuple[Seam, ...] = ()

    @property
    def title(self) -> str:
        """The title in words: no length stands in it."""
        return str(self.said)


@dataclass(frozen=True, slots=True)
class Telling:
    """A garment being sewn, told in the maker's ``unit``; ``before`` gives the seams that each seam comes after.

    ``full`` gives, for each form that was told in full, the title it was told under.
    """

    garment: Garment
    unit: Unit
    before: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    full: Mapping[str, Words] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Told:
    """The step or steps of a group; ``form`` names what it is, so that the next of its form is told by the first."""

    steps: tuple[str, ...]
    form: str = ""
