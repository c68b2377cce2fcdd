"""Kinds of seam by their names, as the installed blocks and changes bring them."""

from __future__ import annotations

from functools import cache

from drafting.garment import SeamKind
from drafting.ticket import find_catalogue


def kind(name: str) -> SeamKind:
    """Return the installed kind of that name."""
    return _kinds()[name]


@cache
def _kinds() -> dict[str, SeamKind]:
    return {each.name: each for each in find_catalogue().kinds()}
