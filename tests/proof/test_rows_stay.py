"""What the proof measures doesn't hang on where a piece lies on the table."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.garment import Garment, Piece
from drafting.garment.carry import AffineMotion, move_piece
from drafting.geometry import Affine, Point
from drafting.proof import prove
from tests.proof.box_top import box_top, brief


def laid(piece: Piece, map_: Affine) -> Piece:
    """The piece laid elsewhere."""
    return move_piece(piece, AffineMotion(map_))


def turned(garment: Garment, name: str, angle: float, x: float, y: float) -> Garment:
    """The garment with one piece turned and moved."""
    return garment.with_(pieces=[laid(garment.piece(name), Affine.turn(angle, Point(x, y)))])


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    st.sampled_from(["front", "back", "sleeve-left", "cuff-right", "neck-band"]),
    st.floats(-math.pi, math.pi),
    st.floats(-900.0, 900.0),
    st.floats(-900.0, 900.0),
)
def test_turning_a_piece_changes_no_row(name: str, angle: float, x: float, y: float):
    """Seams, joins, ease and openings are the same however a piece is turned; only its handedness needs it upright."""
    one = prove(box_top(), brief())
    two = prove(turned(box_top(), name, angle, x, y), brief())
    for a, b in zip(one.seams, two.seams, strict=True):
        assert a.lengths == pytest.approx(b.lengths, abs=1e-6)
    for a, b in zip(one.joins, two.joins, strict=True):
        assert (a.before, a.after) == (b.before, b.after)
        assert a.angle == pytest.approx(b.angle, abs=1e-7)
    for a, b in zip(one.eases, two.eases, strict=True):
        assert a.finished == pytest.approx(b.finished, abs=1e-6)
    for a, b in zip(one.openings, two.openings, strict=True):
        assert a.reach == pytest.approx(b.reach, abs=1e-6)
    assert {f.code for f in two.findings} <= {
        "body.estimated",
        "handed.piece",
        "fit.shoulder_slope",
        "fit.armhole_narrowest",
        "fit.neck_hollow",
    }
