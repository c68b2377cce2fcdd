"""The letters of an earlier draft are kept for pieces of the same names."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from drafting.finishing import CutPiece, keep_codes
from drafting.geometry import Point

PLAIN = CutPiece("", "", "", (), (), (), (), 1, 0, False, "", (), "main", Point(0.0, 1.0), ())
NAMES = st.lists(st.sampled_from(["front", "back", "sleeve", "cuff", "band", "hem"]), unique=True)


def cut(names: list[str]) -> list[CutPiece]:
    """Pieces of these names, lettered in their order."""
    return [replace(PLAIN, name=name, code="ABCDEF"[at]) for at, name in enumerate(names)]


@given(NAMES, NAMES)
def test_no_letter_stands_for_two_pieces_old_or_new(old: list[str], new: list[str]) -> None:
    """What was there keeps its letter; what is new has one that no paper bears."""
    earlier = {piece.name: piece.code for piece in cut(old)}
    kept = {piece.name: piece.code for piece in keep_codes(cut(new), earlier)}
    assert list(kept) == new
    assert len(set(kept.values())) == len(new)
    for name, code in kept.items():
        assert code == earlier[name] if name in earlier else code not in earlier.values()


def test_what_is_no_code_counts_for_nothing() -> None:
    """A proof may have been written by anyone."""
    earlier = {"front": "\x1b[31m", "back": "B", "sleeve": "B", "cuff": "lower", "band": ""}
    kept = {piece.name: piece.code for piece in keep_codes(cut(["front", "back", "sleeve", "cuff", "band"]), earlier)}
    assert kept == {"front": "A", "back": "B", "sleeve": "C", "cuff": "D", "band": "E"}
