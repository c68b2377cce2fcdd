"""A layer that hangs from the surface: it takes a third ply, and leaves girths and the surface as they are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.garment import Face, Fate, Garment, Level, Line, Piece, Role, Section, Side, Use
from drafting.proof import prove
from tests.proof.box_top import TOP, box_top, brief, straight
from tests.proof.reading import codes, grave, one


def overlaid(width: float = 100.0) -> Garment:
    """The box top with a panel that hangs from its left shoulder."""
    top = box_top()
    corners = [(100.0 + width, TOP), (100.0, TOP), (100.0, 200.0), (100.0 + width, 200.0)]
    sides = [straight(*a, *b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    ring = (
        Line("caught", sides[0], Role.SHOULDER, Side.LEFT, Face.FRONT),
        *(
            Line(name, path, Role.STYLE, Side.LEFT, Face.FRONT, Fate.HEMMED, "overlay")
            for name, path in zip(("inner", "lower", "outer"), sides[1:], strict=True)
        ),
    )
    bust = Level("bust", straight(100.0, 350.0, 100.0 + width, 350.0))
    panel = Piece("overlay", "Overlay", ring, Side.NONE, Face.FRONT, features=(bust,))
    front, back = top.seam("shoulder-left").sections[0].plies
    section = Section((front, back, (Use("overlay", "caught"),)), (0.0, 0.0, 0.0))
    return top.with_(pieces=[panel], seams=[replace(top.seam("shoulder-left"), sections=(section,), hangs=(2,))])


UNFIT = {"fit.armhole_width", "fit.armhole_length", "fit.armhole_depth"}
"""What this sketch of a top, whose shoulders nearly reach its sides and whose armholes are deep, lacks on a body."""


def test_an_overlay_is_no_fault():
    """Three plies in one seam is ordinary; the surface and its openings are those of the top beneath."""
    proof = prove(overlaid(), brief())
    assert [found for found in grave(proof) if found.code not in UNFIT] == []
    assert proof.surface is not None
    assert (proof.surface.euler, proof.surface.components) == (-2, 1)
    assert {row.opening for row in proof.openings} == {"neck", "wrist-left", "wrist-right", "hem"}


def test_its_levels_are_no_part_of_the_girth():
    """The bust of the garment is that of the surface; what hangs over it adds nothing."""
    row = next(row for row in prove(overlaid(), brief()).eases if row.measure == "girth:bust")
    assert row.finished == pytest.approx(960.0)


def test_a_third_ply_is_measured():
    """An overlay 5 mm too wide for its shoulder is off by 5 mm in the third ply."""
    proof = prove(overlaid(105.0), brief())
    found = one(proof, "seams.length")
    assert found.value == pytest.approx(5.0)
    assert codes(proof) - UNFIT == {"seams.length"}
