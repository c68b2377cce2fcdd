"""Lines, pieces and seams: found by meaning, replaced with their lineage, and what the garment aims at."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.errors import DraftingError
from drafting.garment import (
    Aim,
    Fact,
    Garment,
    Girth,
    Line,
    Role,
    Side,
    Solve,
    UnknownLine,
    UnknownPiece,
    Use,
    drop_aims,
    shift_aim,
    substitute,
)
from drafting.geometry import Path, Point
from tests.garment.small import run, seam, sheet, tube


def test_a_part_still_answers_to_the_old_name() -> None:
    """And so does a part of a part."""
    line = sheet("a").line("low")
    one, two = (line.part(word, path) for word, path in zip("ab", line.path.split(120.0), strict=True))
    third = two.part("x", two.path.split(50.0)[0])
    assert (one.name, third.name) == ("low/a", "low/b/x")
    assert all(each.answers_to("low") for each in (line, one, two, third))
    assert third.answers_to("low/b")
    assert not third.answers_to("low/a")


def test_lines_are_found_by_name_role_side_and_face() -> None:
    """In ring order; no line is found for what isn't there."""
    piece = sheet("a", parts={"top": 3})
    assert [line.name for line in piece.lines("top")] == ["top/a", "top/b", "top/c"]
    assert piece.lines(role=Role.NECKLINE) == ()
    assert len(piece.lines(role=Role.SIDE, side=Side.NONE)) == 6


def test_neighbours_go_round_the_ring() -> None:
    """After the last comes the first."""
    piece = sheet("a")
    assert piece.after("left").name == "low"
    assert piece.before("low").name == "left"
    assert piece.outline.closed
    assert piece.outline.area == pytest.approx(300.0 * 200.0)


def test_unknown_names_come_with_near_ones() -> None:
    """For a line and for a piece; both are errors of the engine and key errors."""
    with pytest.raises(UnknownLine) as line:
        tube().piece("front").line("lo")
    assert line.value.close == ("low",)
    with pytest.raises(UnknownPiece) as piece:
        tube().piece("fornt")
    assert piece.value.close == ("front",)
    with pytest.raises(DraftingError, match="no seam"):
        tube().seam("middle")


def test_substitute_follows_the_ring_and_turns_round_where_a_run_goes_against_it() -> None:
    """The successors are given in ring order."""
    seams = [seam("s", ("a.top", "-b.top"), ("-a.low", "b.low"))]
    new = {
        ("a", "top"): run("a.top/1 a.top/2"),
        ("b", "top"): run("b.top/1 b.top/2"),
        ("a", "low"): run("a.l"),
    }
    (changed,) = substitute(seams, new)
    assert changed.sections[0].plies == (run("a.top/1 a.top/2"), run("-b.top/2 -b.top/1"))
    assert changed.sections[1].plies == (run("-a.l"), run("b.low"))
    assert changed.ease == seams[0].ease


def test_a_line_sewn_in_parts_glues_like_the_whole() -> None:
    """Parting a line and substituting its parts changes no length."""
    garment = tube()
    front = garment.piece("front")
    old = front.line("right")
    parts = [old.part(word, path) for word, path in zip("ab", old.path.split(70.0), strict=True)]
    ring = tuple(new for line in front.ring for new in (parts if line is old else [line]))
    seams = substitute(garment.seams, {("front", "right"): tuple(Use("front", p.name) for p in parts)})
    changed = replace(garment.with_(pieces=[replace(front, ring=ring)]), seams=seams)
    run_before, run_after = garment.seam("left").plies[0], changed.seam("left").plies[0]
    assert changed.run_length(run_after) == pytest.approx(garment.run_length(run_before))


def test_with_replaces_by_name_and_keeps_the_order() -> None:
    """A piece of the same name takes the old one's place; new ones come last."""
    garment = tube().with_(pieces=[sheet("back", 500.0), sheet("new")])
    assert [piece.name for piece in garment.pieces] == ["front", "back", "new"]
    assert garment.piece("back").line("low").path.length == pytest.approx(500.0)
    assert garment.without(pieces=["new"], seams=["left"]).seams == tube().seams[1:]


def test_paths_follow_the_run() -> None:
    """Against the ring, a use is walked backwards."""
    garment = tube()
    assert garment.path(Use("front", "low")).start == Point(0.0, 0.0)
    assert garment.path(Use("front", "low", True)).end == Point(0.0, 0.0)
    assert Use("a", "b").reversed.reversed == Use("a", "b")


def test_the_latest_fact_counts() -> None:
    """Facts are added, never overwritten."""
    garment = Garment().with_(facts=[Fact("x", 1.0, "mm", "rule"), Fact("x", 2.0, "mm", "choice")])
    assert garment.fact("x") == 2.0
    with pytest.raises(DraftingError, match="no fact"):
        garment.fact("y")


def test_a_solve_says_what_is_left() -> None:
    """Reached less target."""
    assert Solve("cap", 400.0, 400.25, 5).residual == pytest.approx(0.25)


def test_aims_are_shifted_and_dropped_by_measure() -> None:
    """Others stay; shifting back and forth is nothing."""
    garment = Garment(aims=(Aim(Girth("bust"), "bust", 900.0, 40.0), Aim(Girth("hip"), "hip", 950.0, 0.0)))
    moved = shift_aim(garment, Girth("bust"), 12.0)
    assert [aim.ease for aim in moved.aims] == [52.0, 0.0]
    assert shift_aim(moved, Girth("bust"), -12.0) == garment
    assert shift_aim(garment, Girth("neck"), 5.0) == garment
    assert [aim.measure for aim in drop_aims(garment, [Girth("bust")]).aims] == [Girth("hip")]


def test_sides_have_another_side() -> None:
    """Left and right; a piece of neither keeps none."""
    assert (Side.LEFT.other, Side.RIGHT.other, Side.NONE.other) == (Side.RIGHT, Side.LEFT, Side.NONE)


def test_a_seam_adds_up_its_sections() -> None:
    """Plies run on over the sections, and so does the ease."""
    two = seam("s", ("a.x", "b.x"), ("a.y", "b.y"))
    eased = replace(two, sections=tuple(replace(section, ease=(0.0, 3.0)) for section in two.sections))
    assert eased.plies == (run("a.x a.y"), run("b.x b.y"))
    assert eased.ease == (0.0, 6.0)
    assert [use.line for use in eased.uses()] == ["x", "x", "y", "y"]


def test_lines_are_values() -> None:
    """Equal paths and meanings are equal lines."""
    path = Path.straight(Point(0.0, 0.0), Point(1.0, 0.0))
    assert Line("a", path, Role.HEM) == Line("a", Path.straight(Point(0.0, 0.0), Point(1.0, 0.0)), Role.HEM)


def test_only_a_function_of_a_module_is_remembered_by_its_name() -> None:
    """Two lambdas, or two closures of one function, would share what the first found."""
    garment = Garment()

    def count(garment: Garment) -> int:
        return len(garment.pieces)

    for work in (count, lambda garment: 1):
        with pytest.raises(TypeError, match="function of a module"):
            garment.find_once(work)
