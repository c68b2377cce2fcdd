"""A sample of the heaviest tickets keeps its bounds; many more are drawn by ``python -m tests.bench.heavy``."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.cli.running import ROOT

SAMPLE = ("1", "2014")
"""How many, and the seed of the first: a dress with many changes, printed."""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are held to bounds in another way there")
def test_a_sample_of_the_heaviest_tickets_keeps_the_bounds() -> None:
    """Each in a process of its own, within 10 s of CPU and 300 MB; the status says so."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.bench.heavy", *SAMPLE],
        cwd=ROOT,
        timeout=120,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout
    assert "1 tickets" in done.stdout
