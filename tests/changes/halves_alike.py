"""Comparing two drafts of one body, line by line."""

from __future__ import annotations

import pytest

from drafting.garment import Garment, Line, Role, Side

WITHIN = 1e-6


def body_lines(garment: Garment, side: Side | None = None) -> dict[tuple[str, str], Line]:
    """The lines of front and back, of one side or of both."""
    return {
        (piece.name, line.name): line
        for piece in garment.pieces
        if piece.name in ("front", "back")
        for line in piece.ring
        if side is None or line.side is side
    }


def assert_side_untouched(before: Garment, after: Garment, side: Side) -> None:
    """The lines of one side are the very same as before."""
    old, new = body_lines(before, side), body_lines(after, side)
    assert old.keys() == new.keys()
    for key, line in old.items():
        assert line.path.same_as(new[key].path, WITHIN), key


def assert_alike(one: Garment, two: Garment) -> None:
    """Both have the same pieces, lines, levels and aims."""
    a, b = body_lines(one), body_lines(two)
    assert a.keys() == b.keys()
    for key, line in a.items():
        assert line.path.same_as(b[key].path, WITHIN), key
    for name in ("front", "back"):
        first = {level.name: level.path for level in one.piece(name).levels}
        second = {level.name: level.path for level in two.piece(name).levels}
        assert first.keys() == second.keys()
        assert all(first[each].same_as(second[each], WITHIN) for each in first)
    easy, other = ({aim.measure: aim.ease for aim in g.aims} for g in (one, two))
    assert easy == pytest.approx(other, abs=WITHIN)


def path_length(garment: Garment, piece: str, role: Role, side: Side) -> float:
    """The length of a piece's lines of one role and side."""
    return sum(line.path.length for line in garment.piece(piece).lines(role=role, side=side))
