"""Runs of ``make`` that are ended: each in a process of its own, on a slow disk, from a draft that is ready."""

from __future__ import annotations

import io
import os
import signal
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from drafting.job import Result, run
from drafting.ticket import find_catalogue, read_job
from tests.folder.disk import WRITING


class SlowDisk:
    """Stands for ``os`` beneath the writing of files: each call that changes something takes ``pause`` seconds longer.

    At the rename of number ``kill_at`` (0: at none) the process kills itself. As the first of those calls comes,
    ``begun`` is called.
    """

    def __init__(self, pause: float, kill_at: int, begun: Callable[[], object]) -> None:
        self._pause, self._kill_at, self._begun = pause, kill_at, begun
        self._calls = self._renames = 0

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name)
        return self._slow(name, real) if name in WRITING else real

    def _slow(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **more: Any) -> Any:
            if not self._calls:
                self._begun()
            self._calls += 1
            self._renames += name == "replace"
            if name == "replace" and self._renames == self._kill_at:
                os.kill(os.getpid(), signal.SIGKILL)
            time.sleep(self._pause)
            return real(*args, **more)

        return call


@dataclass(frozen=True)
class Run:
    """A run in a process of its own; a byte can be read from ``begun`` once it writes."""

    process: int
    begun: int

    def wait_begun(self) -> None:
        """Wait until it writes, or has ended."""
        os.read(self.begun, 1)

    def send(self, sign: int) -> None:
        """Send it a signal."""
        os.kill(self.process, sign)

    def end(self) -> int:
        """Wait for its end, and return its status, or less than 0 the signal that killed it."""
        _, status = os.waitpid(self.process, 0)
        os.close(self.begun)
        return os.waitstatus_to_exitcode(status)


def draft_of(ticket: Path) -> Result:
    """Draft a ticket's job."""
    return run(read_job(ticket, find_catalogue()))


def start_make(drafts: dict[str, Result], ticket: Path, out: Path, pause: float = 0.0, kill_at: int = 0) -> Run:
    """Start to make a ticket's pattern in a process of its own, that heeds interruptions, from its draft."""
    reading, writing = os.pipe()
    process = os.fork()
    if process:
        os.close(writing)
        return Run(process, reading)
    status = 3
    try:
        signal.signal(signal.SIGINT, signal.default_int_handler)
        os.dup2(os.open(os.devnull, os.O_RDWR), 1)
        os.dup2(1, 2)
        disk = SlowDisk(pause, kill_at, lambda: os.write(writing, b"."))
        status = _make(drafts, disk, ticket, out)
    except SystemExit as ended:
        status = int(str(ended.code))
    finally:
        os._exit(status)


def _make(drafts: dict[str, Result], disk: SlowDisk, ticket: Path, out: Path) -> int:
    from drafting.cli import main, make
    from drafting.folder import journal

    sys.stdout = sys.stderr = io.StringIO()
    vars(journal)["os"] = disk
    vars(make)["run_ticket"] = lambda asked, **_: drafts[asked.stem]
    return main(["make", str(ticket), "--out", str(out)])
