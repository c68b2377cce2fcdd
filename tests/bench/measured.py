"""What is measured, and how: medians of many runs, those that are compared taken in turn.

A busy machine slows all of them alike, so the ratios hold where the times don't. Children write and use compiled
code, as an installed command does; each is started once, unmeasured, beforehand.
"""

from __future__ import annotations

import dataclasses
import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import median
from typing import Any

from drafting.job import run
from drafting.record import dataclass
from drafting.ticket import find_catalogue, read_job
from tests.bench.jobs import one_changed, result_of

BARE = "import numpy, pydantic, click, reportlab"
USED = f"{BARE}\nfrom pydantic import BaseModel\nfrom reportlab.pdfgen import canvas"
"""The four packages by name alone, and with the parts that a program would load of them (they load lazily)."""

BYTES_LIMIT, PAGES_LIMIT = 1.6, 1.41

TIME_LIMITS = {"plain top": (1.5, 0.13), "overlay top": (1.7, 0.20)}
"""What ``make`` and a redraft may take at most, over the imports as used."""

RECORD_LIMIT, RECORDS = 0.15, 50
"""Where our records take more of the standard library's time than that, they aren't worth their code."""

Making = Callable[..., Any]


@dataclass(frozen=True, slots=True)
class Times:
    """Median seconds: a bare Python, both readings of the imports, the whole ``make`` and a redraft in process."""

    python: float
    bare: float
    used: float
    make: float
    redraft: float


@dataclass(frozen=True, slots=True)
class Sizes:
    """Bytes of both files, pages with ink on them, and pages over the area of the cut pieces in tiles."""

    pattern: int
    sheet: int
    pages: int
    thrift: float

    @property
    def bytes_ratio(self) -> float:
        """Bytes of the pattern on tiles over those of the sheet on one page."""
        return self.pattern / self.sheet


def times(ticket: Path, folder: Path, rounds: int) -> Times:
    """Return the median times of ``rounds`` rounds."""
    calls = {
        "python": [sys.executable, "-c", "pass"],
        "bare": [sys.executable, "-c", BARE],
        "used": [sys.executable, "-c", USED],
        "make": [*command(), "make", str(ticket), "--out", str(folder / "made")],
    }
    for call in calls.values():
        _seconds(call)
    taken: dict[str, list[float]] = {name: [] for name in calls}
    for _ in range(rounds):
        for name, call in calls.items():
            taken[name].append(_seconds(call))
    return Times(**{name: median(each) for name, each in taken.items()}, redraft=redraft(ticket, 2 * rounds))


def command() -> list[str]:
    """Return the installed command, or what stands for it where the scripts aren't beside Python."""
    script = Path(sys.executable).with_name("blockwright")
    return [str(script)] if script.exists() else [sys.executable, "-m", "drafting"]


def _seconds(call: Sequence[str]) -> float:
    settings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    begun = time.perf_counter()
    subprocess.run(call, check=True, env=settings, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


def redraft(ticket: Path, rounds: int) -> float:
    """Return the median seconds from one changed measurement to garment, proof and cut pieces."""
    catalogue = find_catalogue()
    jobs = [read_job(one_changed(ticket, step), catalogue) for step in range(rounds + 1)]
    run(jobs.pop(), lay=False)
    taken = []
    for job in jobs:
        begun = time.perf_counter()
        result = run(job, lay=False)
        taken.append(time.perf_counter() - begun)
        assert result.cut
    return median(taken)


def sizes(ticket: Path, folder: Path) -> Sizes:
    """Return the sizes of what the command makes of a ticket."""
    _seconds([*command(), "make", str(ticket), "--out", str(folder)])
    plan = result_of(ticket).sheet
    assert plan is not None
    pattern, sheet = ((folder / name).stat().st_size for name in ("pattern.pdf", "sheet.pdf"))
    return Sizes(pattern, sheet, plan.pages, plan.thrift)


def records(rounds: int) -> float:
    """Return the time in which ``drafting.record`` makes a record, over the standard library's."""
    made: dict[Making, list[float]] = {dataclass: [], dataclasses.dataclass: []}
    for _ in range(rounds):
        for make, taken in made.items():
            begun = time.perf_counter()
            for _ in range(RECORDS):
                fields = {"__annotations__": {"a": "float", "b": "str", "c": "tuple"}, "__module__": __name__, "c": ()}
                make(frozen=True, slots=True)(type("Made", (), fields))
            taken.append(time.perf_counter() - begun)
    ours, theirs = (min(taken) for taken in made.values())
    return ours / theirs
