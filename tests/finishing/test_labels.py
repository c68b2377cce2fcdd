"""The words on a piece."""

from __future__ import annotations

from dataclasses import replace

from drafting.finishing import FinishPlan, finish
from drafting.finishing.allowance import NetEdge
from drafting.finishing.labels import allowance_label, how_to_cut
from drafting.garment import Side
from drafting.geometry import Path, Point
from drafting.text import letters_of
from drafting.work.kinds import CENTRE, SIDE, STYLE
from tests.finishing.flat import by_name
from tests.finishing.made import Shape, tunic


def test_allowances_are_told_in_the_tickets_unit() -> None:
    """One allowance all round is one figure; the hem is told apart; inches are fractions.

    A sleeve's seam is its underarm's, though it takes the side seams' allowance.
    """
    pieces = by_name(finish(tunic(), FinishPlan(unit="in", hem_depth=25.4)))
    assert "allowances included: 3/8 in; hem 1 in" in pieces["front"].labels
    pieces = by_name(finish(tunic(), FinishPlan({"side": 15.0}, unit="mm")))
    assert pieces["sleeve"].labels[0] == "allowances included: cuffs, armholes 10 mm; underarm seam 15 mm"


def test_a_centre_seam_is_no_style_line() -> None:
    """It has a style line's allowance, and its own name beside it."""
    path = Path.straight(Point(0.0, 0.0), Point(0.0, 500.0))
    edges = [
        NetEdge(kind.label, kind.label, path, kind=kind, allowance=depth)
        for kind, depth in ((CENTRE, 15.0), (STYLE, 15.0), (SIDE, 10.0))
    ]
    assert (
        allowance_label(edges, FinishPlan())
        == "allowances included: centre seam, style lines 1.5 cm; side seams 1.0 cm"
    )


def test_bound_edges_are_told() -> None:
    """A bound neck says that nothing is added there."""
    front = by_name(finish(tunic(neck="bound"), FinishPlan()))["front"]
    assert front.labels[0] == "allowances included: 1.0 cm; hem 2.5 cm; edges to be bound cut on the line"


def test_cloth_and_draft_mark_stand_on_every_piece() -> None:
    """Which cloth, and the mark of the draft."""
    for piece in finish(tunic(), FinishPlan(mark="K7Q2")):
        cloth = "rib cloth" if piece.name == "neck-band" else "main cloth"
        assert cloth in piece.labels
        assert piece.labels[-1] == "draft mark K7Q2"


def test_codes_follow_the_printed_pieces() -> None:
    """A, B, C in the order of the pieces, none left out for a piece that is printed with its pair."""
    assert [piece.code for piece in finish(tunic(), FinishPlan())] == ["A", "B", "C", "D", "E"]
    assert [letters_of(i) for i in (0, 25, 26, 27, 701, 702)] == ["A", "Z", "AA", "AB", "ZZ", "AAA"]


def test_lopsided_pieces_say_which_side_is_up_and_whose_they_are() -> None:
    """A piece that isn't its own mirror image is cut right side up; one that is a side's alone says whose."""
    garment = tunic(Shape(tilt=-10.0))
    apart = replace(garment, pieces=tuple(replace(p, cloth=p.name) for p in garment.pieces))
    pieces = by_name(finish(apart, FinishPlan()))
    assert pieces["front"].how.endswith("right side up")
    assert "wearer's left" in pieces["sleeve-left"].labels
    assert "wearer's right" in pieces["sleeve-right"].labels
    assert not any("wearer" in label for label in by_name(finish(garment, FinishPlan()))["sleeve"].labels)


def test_how_to_cut_says_how_many_and_which_way() -> None:
    """Every case has its sentence."""
    assert how_to_cut(1, 0, False, False, False) == "cut 1, single layer, right side up"
    assert how_to_cut(4, 2, False, False, False) == "cut 4, two mirrored"
    assert how_to_cut(2, 0, True, False, True) == "cut 2 on the fold"
    assert how_to_cut(1, 0, True, True, True) == "cut 1 on the crosswise fold"


def test_darts_that_differ_are_told_by_their_side() -> None:
    """Alike they are told once; unlike, each by the wearer's side."""
    from drafting.finishing.darts import Bridged, DartFold, dart_words
    from drafting.garment.darts import dart_name, draw_dart
    from drafting.geometry import Point

    def told(left: float, right: float) -> tuple[str, ...]:
        sides = ((Side.LEFT, 1.0, left), (Side.RIGHT, -1.0, right))
        folds = {
            i: DartFold(draw_dart(dart_name("bust", side), *(Point(x * at, y) for at, y in corners), side), True)
            for i, (side, x, wide) in enumerate(sides)
            for corners in [((200.0, 0.0), (100.0, 0.0), (200.0, wide))]
        }
        return dart_words(tunic().piece("front"), Bridged((), folds), "mm")

    assert told(60.0, 60.0) == ("bust dart: takes in 60 mm, pressed down",)
    assert told(70.0, 60.0) == (
        "bust dart: wearer's left takes in 70 mm, pressed down; wearer's right takes in 60 mm, pressed down",
    )
