"""Small words of the order of work: lists, capitals, openings by their names."""

from __future__ import annotations

from collections.abc import Sequence

from drafting.garment import Garment


def and_(words: Sequence[str]) -> str:
    """Return words as a list.

    >>> and_(["bust", "waist", "elbow"])
    'bust, waist and elbow'
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def capital(words: str) -> str:
    """Return words with a capital at their start."""
    return words[:1].upper() + words[1:]


def opening_words(name: str) -> str:
    """Return the name of an opening as it is spoken.

    >>> opening_words("wrist-left"), opening_words("neck")
    ('left wrist', 'neck')
    """
    first, _, side = name.rpartition("-")
    return f"{side} {first.replace('-', ' ')}" if first and side in ("left", "right") else name.replace("-", " ")


def interfaced(garment: Garment) -> tuple[str, ...]:
    """Return the titles of the pieces that are cut in interfacing too."""
    return tuple(str(piece.title).lower() for piece in garment.pieces if piece.interfaced)
