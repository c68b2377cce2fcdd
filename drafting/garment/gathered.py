"""Edges that are gathered before anything is sewn to them."""

from __future__ import annotations

from collections.abc import Iterable

from drafting.garment.model import Garment
from drafting.garment.seam import Use
from drafting.sides import Face


def gathered(garment: Garment, run: Iterable[Use]) -> float:
    """Return by how much (mm) the lines of a run are to be gathered before anything is sewn to them.

    What is drafted onto such an edge is drafted for its length less this. Told by the facts "gathered LINE FACE".
    """
    lines = [garment.line(use) for use in run]
    told = {fact.name: fact.value for fact in garment.facts if fact.name.startswith("gathered ")}
    return sum(
        by
        for name, by in told.items()
        if any(line.answers_to(name.split()[1]) and line.face is Face(name.split()[2]) for line in lines)
    )
