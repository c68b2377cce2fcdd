"""What the tests of tickets share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

Write = Callable[..., Path]


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Write a ticket and return its file."""

    def to(text: str, name: str = "alto.toml") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return to
