"""The people of the surveys, read from the data beside the tests."""

from __future__ import annotations

import csv
import math
import os
from functools import cache
from pathlib import Path

from drafting.body import measurements
from drafting.body.survey import Rules

DATA = Path(__file__).parents[1] / "data"
NEEDED = ("bust_girth", "waist_girth", "hip_girth", "back_neck_point_to_waist")
GROUPS: dict[str, Rules] = {
    "bodies_1988_women": "women",
    "bodies_1988_men": "men",
    "bodies_2012_women": "women",
    "bodies_2012_men": "men",
    "size_table_women_derived": "women",
}


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of one file as they stand."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


@cache
def people(name: str) -> tuple[dict[str, float], ...]:
    """Return the people of one file, in mm, rad and kg."""
    known = measurements()
    scale = {"mm": 10.0, "rad": math.radians(1.0), "kg": 1.0}
    return tuple(
        {each: float(row[each]) * scale[known[each].unit] for each in known if each in row} for row in rows(name)
    )


def thinned(every: int) -> int:
    """Return how far apart the bodies of a sample lie: three times as far in the suite as where it is run by name.

    ``BLOCKWRIGHT_PEOPLE`` set, as DEVELOPERS.md tells, takes the samples whole, for which the shares were found.
    """
    return every if is_whole() else 3 * every


def at_most(share: float, count: int) -> int:
    """Return how many of a sample a share comes to at most; in a thin one with what chance adds, sqrt(n p)."""
    expected = share * count
    return math.ceil(expected if is_whole() else expected + math.sqrt(expected))


def is_whole() -> bool:
    """Whether samples of the surveys are taken whole."""
    return "BLOCKWRIGHT_PEOPLE" in os.environ


def some(person: dict[str, float], *names: str) -> dict[str, float]:
    """Return only these measurements of a person."""
    return {name: person[name] for name in names}
