"""One thing broken at a time in the seams: the right finding appears, with the right number."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drafting.garment import Section, Side, Use
from drafting.geometry import Path, Point, root
from drafting.proof import Severity, prove
from drafting.saying import render
from tests.proof.box_top import HALF, LEFTWARDS, SIDE, TOP, UP, box_top, brief, quarter, with_line, with_seam
from tests.proof.reading import codes, grave, one


def test_a_ply_too_long():
    """Ease stated 3 mm off what the plies measure is an error of 3 mm at that section."""
    top = box_top()
    first, second = top.seam("side-left").sections
    broken = with_seam(top, "side-left", first, Section(second.plies, (0.0, 3.0)))
    found = one(prove(broken, brief()), "seams.length")
    assert found.place == "side-left, section 2"
    assert found.value == pytest.approx(-3.0)
    assert found.limit == 0.5
    assert found.severity is Severity.ERROR


def test_small_differences_add_up():
    """Sections each within the tolerance can be off as a whole; then the whole seam is named."""
    top = box_top()
    sections = [Section(s.plies, (0.0, 0.4)) for s in top.seam("side-left").sections]
    found = one(prove(with_seam(top, "side-left", *sections), brief()), "seams.length")
    assert found.place == "side-left"
    assert found.value == pytest.approx(-0.8)


def test_stated_ease_is_no_fault():
    """A cap that is longer than its armhole by what the seam states is sound."""
    top = box_top()
    longer = root(
        lambda k: _cap(k).length - top.piece("sleeve-left").line("cap-front").path.length - 4.0, 0.5, 0.9, within=1e-7
    )
    eased = with_line(top, "sleeve-left", "cap-front", path=_cap(longer[0]))
    first, second = eased.seam("armhole-left").sections
    eased = with_seam(eased, "armhole-left", Section(first.plies, (0.0, 4.0)), second)
    assert "seams.length" not in codes(prove(eased, brief()))


def _cap(hold: float) -> Path:
    old = box_top().piece("sleeve-left").line("cap-front").path
    a, d = old.start, old.end
    return Path.cubic(a, a + Point(hold * (d.x - a.x), 0.0), d - Point(0.45 * (d.x - a.x), 0.0), d)


def test_an_unknown_line_stops_the_rest():
    """A seam that sews a line that isn't there is named with what is near; nothing else can be proved."""
    top = box_top()
    bad = Section(((Use("front", "sholder-left"),), (Use("back", "shoulder-left", True),)), (0.0, 0.0))
    proof = prove(with_seam(top, "shoulder-left", bad), brief())
    found = one(proof, "names.unknown")
    assert "left shoulder" in render(found.remedy, "cm")
    assert not proof.passed
    assert proof.surface is None


@pytest.mark.parametrize("degrees", [-8.0, 3.0, 8.0])
def test_a_neckline_that_turns_at_the_shoulder(degrees: float):
    """The angle between the tangents, once front and back are laid together, is judged by five degrees."""
    leave = (-UP).turned(math.radians(degrees))
    path = Path.cubic(Point(100, TOP), Point(100, TOP) + leave * 70, Point(55, TOP - 130), Point(0, TOP - 130))
    top = with_line(box_top(), "front", "neckline-left", path=path)
    proof = prove(top, brief())
    row = next(row for row in proof.joins if row.after == "front.neckline-left")
    assert abs(math.degrees(row.angle)) == pytest.approx(abs(degrees))
    if abs(degrees) > 5:
        found = one(proof, "joins.smooth")
        assert abs(found.value or 0.0) == pytest.approx(math.radians(8.0))
        assert "left shoulder" in render(found.sentence, "cm")
    else:
        assert "joins.smooth" not in codes(proof)


def test_joins_are_measured_with_the_pieces_laid_together():
    """A shoulder that slopes on the front alone leaves the armhole smooth if the back makes up for it.

    Checked against the pieces themselves: the back is turned about the shoulder until the two seams lie on each
    other, and the angle between the armholes is taken there.
    """
    top = box_top()
    front = Path.straight(Point(200.0, TOP - 30.0), Point(100.0, TOP))
    armhole = quarter(Point(HALF, SIDE), LEFTWARDS, Point(200.0, TOP - 30.0), UP)
    top = with_line(with_line(top, "front", "shoulder-left", path=front), "front", "armhole-left", path=armhole)
    proof = prove(top, brief())
    row = next(r for r in proof.joins if (r.before, r.after) == ("front.armhole-left", "back.armhole-left"))
    back = top.piece("back")
    onto = front.reversed().tangent(0.0).angle - back.line("shoulder-left").path.tangent(0.0).angle
    after = back.line("armhole-left").path.tangent(0.0).turned(onto)
    before = armhole.tangent(armhole.length)
    assert abs(row.angle) == pytest.approx(abs(math.atan2(before.cross(after), before.dot(after))), abs=1e-9)
    assert abs(math.degrees(row.angle)) == pytest.approx(math.degrees(math.atan2(30, 100)), abs=1e-6)


def test_a_pointed_round_neck():
    """A neckline that meets the centre 10 degrees off a right angle is a fault; a V is not."""
    for degrees, fault in ((10.0, True), (3.0, False), (50.0, False)):  # the last is steep: a V
        top = box_top()
        for side in (Side.LEFT, Side.RIGHT):
            arrive = LEFTWARDS.turned(math.radians(degrees))
            half = Path.cubic(
                Point(100, TOP), Point(100, TOP - 60), Point(0, TOP - 130) - arrive * 40, Point(0, TOP - 130)
            )
            path = half if side is Side.LEFT else half.mirrored().reversed()
            top = with_line(top, "front", f"neckline-{side}", path=path)
        proof = prove(top, brief())
        assert ("joins.centre" in codes(proof)) is fault
        if fault:
            assert abs(one(proof, "joins.centre").value or 0.0) == pytest.approx(math.radians(10.0))


def test_a_flat_v_is_meant():
    """A V runs straight to its point, and is no fault however flat it is."""
    knee = Point(60, TOP - 110)
    half = Path.cubic(Point(100, TOP), knee, knee.to(Point(0, TOP - 120), 0.6), Point(0, TOP - 120))
    top = with_line(box_top(), "front", "neckline-left", path=half)
    top = with_line(top, "front", "neckline-right", path=half.mirrored().reversed())
    assert "joins.centre" not in codes(prove(top, brief()))


def test_a_seam_left_out():
    """Without its side seam the garment has a wrong count and an opening too many or too few."""
    proof = prove(box_top().without(seams=["shoulder-left"]), brief())
    assert {"puzzle.missing", "puzzle.unmeant"} & codes(proof)
    assert not proof.passed


@pytest.mark.parametrize("name", [seam.name for seam in box_top().seams])
def test_no_seam_can_be_left_out(name: str):
    """Whichever seam is left out, the proof fails, even where the openings stay four, as at the ends of a band."""
    proof = prove(box_top().without(seams=[name]), brief())
    assert not proof.passed
    if name == "cuff-left-end":
        assert one(proof, "puzzle.unsewn", "cuff-left.end-b").limit == 1


def test_a_neck_sewn_shut():
    """An opening that is meant but sewn shut is named."""
    top = box_top()
    shut = Section(((Use("front", "hem-left"),), (Use("front", "hem-right"),)), (0.0, 0.0))
    more = replace(top.seam("shoulder-left"), name="hem", sections=(shut,))
    back = replace(
        more,
        name="hem-back",
        sections=(Section(((Use("back", "hem-left"),), (Use("back", "hem-right"),)), (0.0, 0.0)),),
    )
    proof = prove(top.with_(seams=[more, back]), brief())
    assert any(f.code.startswith("puzzle.") for f in grave(proof))


def test_a_piece_that_isnt_sewn_on():
    """A piece that no seam joins is named, and the parts are counted."""
    top = box_top().without(seams=["cuff-left"])
    found = one(prove(top, brief()), "puzzle.apart", "cuff-left")
    assert "seam that joins it" in str(found.remedy)
    assert found.value == 2


def test_a_sleeve_sewn_in_inside_out():
    """A ply that runs the wrong way joins right side to wrong side."""
    top = box_top()
    section = top.seam("cuff-left").sections[0]
    turned = Section((section.plies[0], tuple(use.reversed for use in section.plies[1])), section.ease)
    assert one(prove(with_seam(top, "cuff-left", turned), brief()), "puzzle.turned").place == "cuff-left"


def test_a_line_sewn_twice():
    """A line that two seams claim is named."""
    top = box_top()
    again = replace(top.seam("shoulder-left"), name="shoulder-again")
    assert "front.shoulder-left" in one(prove(top.with_(seams=[again]), brief()), "puzzle.twice", "front").place


def test_a_left_edge_sewn_to_a_right_one():
    """A shoulder seam takes lines of one side of the wearer."""
    top = box_top()
    crossed = Section(((Use("front", "shoulder-left"),), (Use("back", "shoulder-right"),)), (0.0, 0.0))
    assert one(prove(with_seam(top, "shoulder-left", crossed), brief()), "handed.seam").place == "shoulder-left"
