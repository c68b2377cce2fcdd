"""The jobs that are measured: a soprano's plain top, and the overlay top for her."""

from __future__ import annotations

import re
from pathlib import Path

from drafting.job import Result, run
from drafting.ticket import find_catalogue, read_job

PLAIN, OVERLAY = "plain top", "overlay top"


def tickets(folder: Path) -> dict[str, Path]:
    """Write the tickets that are measured into a folder and return them by name."""
    plain = find_catalogue().demos["soprano"].read_text(encoding="utf-8")
    overlay = re.sub(r'(?m)^builds_on = ".*"', 'builds_on = "diagonal-overlay-top"', plain)
    assert overlay != plain
    return {PLAIN: _written(folder / "plain.toml", plain), OVERLAY: _written(folder / "overlay.toml", overlay)}


def one_changed(ticket: Path, step: int) -> Path:
    """Write a ticket that differs in one measurement, the bust girth, and return it."""
    text = ticket.read_text(encoding="utf-8")
    changed = re.sub(r"(?m)^bust_girth = .*", f"bust_girth = {90 + step * 0.3:.1f}", text)
    assert changed != text
    return _written(ticket.with_name(f"{ticket.stem}-{step}.toml"), changed)


def result_of(ticket: Path) -> Result:
    """Run a ticket's job to the pieces on their pages."""
    return run(read_job(ticket, find_catalogue()))


def _written(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path
