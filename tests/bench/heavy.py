"""Heavy tickets, each in a process of its own that is held to bounds: ``python -m tests.bench.heavy [count] [seed]``.

Tickets are drawn by a seeded generator: every numeric option at its ends, many changes, the largest figures, tiny
pages, wide cloth and stripes. Each must end with status 0, 1 or 2 within ``SECONDS`` of CPU and ``MEGABYTES`` of
memory. Printed are those that don't, with the seed that draws them again, and the heaviest of the rest.
"""

from __future__ import annotations

import contextlib
import io
import os
import resource
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from tests.bench.heavy_tickets import HeavyTicket, draw_ticket

SECONDS, MEGABYTES = 10.0, 300.0
"""What the heaviest ticket may take: CPU time, and memory at its peak."""

CUT_OFF = 6
"""A process is ended at so many times that."""

SHOWN = 12

COMMANDS = ("lay", "make", "prove", "summary")
LOADED = ("drafting.job", "drafting.output.pages.lay_page", *(f"drafting.cli.{name}" for name in COMMANDS))
"""Loaded once, before the processes part."""


@dataclass(frozen=True)
class Taken:
    """What a ticket took, and how its command ended: an exit status, or the signal that ended it, below 0."""

    ticket: HeavyTicket
    status: int
    seconds: float
    megabytes: float
    said: str

    @property
    def kept(self) -> bool:
        """Whether it kept the bounds, and ended as a ticket may."""
        return self.status in (0, 1, 2) and self.seconds <= SECONDS and self.megabytes <= MEGABYTES

    def show(self) -> str:
        """One line of it."""
        said = " ".join(self.said.split())[:150] if self.status else ""
        took = f"{self.seconds:6.1f} s {self.megabytes:5.0f} MB, status {self.status}"
        return f"{self.ticket.seed:6} {took}: {self.ticket.words}: {said}"


def take(ticket: HeavyTicket, folder: Path) -> Taken:
    """Run a ticket's command in a process of its own; what it prints to its error stream is kept, the end of it."""
    (folder / "heavy.toml").write_text(ticket.text, encoding="utf-8")
    told = folder / "said"
    number = os.fork()
    if not number:
        os._exit(_run_held(ticket, folder, told))
    _, ended, used = os.wait4(number, 0)
    status = -os.WTERMSIG(ended) if os.WIFSIGNALED(ended) else os.WEXITSTATUS(ended)
    said = told.read_text("utf-8") if told.exists() else ""
    return Taken(ticket, status, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024.0, said)


def _run_held(ticket: HeavyTicket, folder: Path, told: Path) -> int:
    from drafting.cli import main

    os.chdir(folder)
    resource.setrlimit(resource.RLIMIT_CPU, (int(SECONDS) * CUT_OFF, int(SECONDS) * CUT_OFF + 1))
    resource.setrlimit(resource.RLIMIT_AS, (int(MEGABYTES) * CUT_OFF << 20,) * 2)
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = main(ticket.command)
    told.write_text(err.getvalue()[-2000:] or out.getvalue()[:300], "utf-8")
    return status


def _each(count: int, first: int, take_one: Callable[[HeavyTicket], Taken]) -> Iterator[Taken]:
    begun = time.monotonic()
    for number in range(count):
        yield take_one(draw_ticket(first + number))
        if number % 20 == 19 and sys.stderr.isatty():
            sys.stderr.write(f"\r{number + 1} of {count}, {time.monotonic() - begun:.0f} s")


def main(count: int, first: int) -> int:
    """Take so many tickets from a seed on, or until interrupted, and print; 1 where one broke a bound."""
    for module in LOADED:
        import_module(module)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    taken: list[Taken] = []
    with tempfile.TemporaryDirectory() as name, contextlib.suppress(KeyboardInterrupt):
        for each in _each(count, first, lambda ticket: take(ticket, Path(tempfile.mkdtemp(dir=name)))):
            taken.append(each)
            if not each.kept:
                print("BROKE", each.show(), flush=True)
    broke = [each for each in taken if not each.kept]
    statuses = sorted(Counter(each.status for each in taken).items())
    ends = ", ".join(f"{count} of status {status}" for status, count in statuses)
    print(f"{len(taken)} tickets ({ends}), {len(broke)} beyond {SECONDS:g} s or {MEGABYTES:g} MB; the heaviest:")
    for each in sorted(taken, key=lambda each: -each.seconds)[:SHOWN]:
        print(each.show())
    print("largest in memory:")
    for each in sorted(taken, key=lambda each: -each.megabytes)[: SHOWN // 2]:
        print(each.show())
    return 1 if broke else 0


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:]]
    sys.exit(main(*(numbers + [200, 1][len(numbers) :])[:2]))
