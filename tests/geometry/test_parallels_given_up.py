"""A parallel that no cubic follows near enough, however finely it is cut, is refused in words."""

from __future__ import annotations

import pytest
from path_strategies import circle

from drafting.errors import GeometryError
from drafting.geometry import parallels


def test_what_cannot_be_followed_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if nothing were near enough: cut to the last, it is given up, alone and beside others."""
    monkeypatch.setattr(parallels, "_ALLOWED", -1.0)
    with pytest.raises(GeometryError, match="parallel"):
        circle(50.0).offset(7.0)
