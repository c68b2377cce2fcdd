"""The examples in docstrings are true."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
SHOWN = sorted(
    ".".join(file.relative_to(ROOT).with_suffix("").parts)
    for folder in ("drafting", "blocks")
    for file in (ROOT / folder).rglob("*.py")
    if ">>> " in file.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", SHOWN)
def test_what_a_docstring_shows_is_so(name: str) -> None:
    """Each example gives what is written beneath it."""
    tried = doctest.testmod(importlib.import_module(name))
    assert tried.attempted
    assert not tried.failed
