"""Running the command line in this process and in one of its own."""

from __future__ import annotations

import contextlib
import signal
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from drafting.cli import main

ROOT = Path(__file__).parents[2]
PLAIN = (ROOT / "output_examples" / "soprano.toml").read_text(encoding="utf-8")
"""A ticket that is quickly made: the plain top of the choir's soprano."""

DEMO = (ROOT / "output_examples" / "choir" / "alto.toml").read_text(encoding="utf-8")


@dataclass(frozen=True)
class Ran:
    """How a command ended, and what it said."""

    status: int
    out: str
    err: str


def run(capsys: pytest.CaptureFixture[str], *words: str) -> Ran:
    """Run a command in this process."""
    capsys.readouterr()
    status = main(list(words))
    said = capsys.readouterr()
    assert "Traceback" not in said.out + said.err
    return Ran(status, said.out, said.err)


def run_alone(*words: str, cwd: Path, timeout: float = 60.0) -> Ran:
    """Run a command in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "drafting", *words],
        cwd=cwd,
        timeout=timeout,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return Ran(done.returncode, done.stdout, done.stderr)


@contextlib.contextmanager
def started(*words: str, cwd: Path) -> Iterator[subprocess.Popen[bytes]]:
    """Start Python on a process of its own that heeds an interruption, and see that it has ended afterwards.

    A shell that runs the tests in the background has them ignore interruptions, and what they start would too.
    """
    before = signal.signal(signal.SIGINT, signal.SIG_DFL)
    try:
        process = subprocess.Popen([sys.executable, *words], cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    finally:
        signal.signal(signal.SIGINT, before)
    with process:
        try:
            yield process
        finally:
            process.kill()
