"""The proof of darts: what is wrong with one is found and named."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.garment import Face, Garment, Piece, Side, Slit
from drafting.garment.carry import with_only
from drafting.garment.darts import dart_name, dart_of, draw_inner_dart
from drafting.geometry import Path, Point
from drafting.proof import prove
from drafting.proof.checks.darts import check_darts
from drafting.proof.fit.darts import dart_rows
from drafting.proof.fit.waist_darts import waist_dart_rows
from drafting.redraw.swing import draw_point_to
from tests.darts.toile import APEX, cut_in, front, plain, sewn, with_dart, with_slits
from tests.garments import brief

WAIST = dart_name("waist-front", Side.LEFT)


def codes(piece: Piece) -> set[str]:
    return {finding.code for finding in check_darts(Garment((piece,)), brief())}


def test_sound_darts_are_passed():
    """Darts at edges and within the piece, trued and set back, give no finding."""
    assert codes(front("bust", "waist")) == set()
    assert codes(with_slits(plain(Face.FRONT))) == set()


def _with_legs(piece: Piece, point: Point, shift: float = 0.0) -> Piece:
    """The left waist dart with another point, its second leg's mouth moved along."""
    dart = dart_of(piece, "waist-front-left")
    mouth = dart.mouth_b + Point(shift, 0.0)
    new = {ln.name: ln for ln in dart.with_corners(dart.mouth_a, point, mouth).lines}
    after = piece.after(dart.lines[-1].name)
    new[after.name] = replace(after, path=after.path.with_ends(mouth, after.path.end))
    return replace(piece, ring=tuple(new.get(line.name, line) for line in piece.ring))


def test_unequal_legs_and_the_step_at_the_mouth_are_found():
    """A thousandth of a millimetre is too much between the legs; folded, the mouth has a step."""
    piece = front("waist")
    found = check_darts(Garment((_with_legs(piece, piece.line("dart-waist-front-left-a").path.end, 0.002),)), brief())
    assert {finding.code for finding in found} == {"darts.legs", "darts.mouth"}
    assert {finding.place for finding in found} == {"front.dart-waist-front-left"}


def test_an_untrued_mouth_is_found():
    """A dart cut into a straight edge and left so makes a notch in the sewn edge."""
    raw = cut_in(plain(Face.FRONT), WAIST, "waist-left", 95.0, Point(95.0, -300.0), 30.0)
    assert codes(raw) == {"darts.notch"}


@pytest.mark.parametrize(
    ("darts", "width", "told"),
    [("bust", 30.0, None), ("bust", 40.0, "note"), ("bust", 54.0, "warning"), ("", 40.0, None), ("", 54.0, "warning")],
)
def test_a_front_waist_dart_is_held_by_what_it_is(darts: str, width: float, told: str | None) -> None:
    """More than 3 cm is noted, 5 cm from a waist seam warned of; the one dart that is the bust's too has 5 cm."""
    piece = with_dart(front(darts), "waist-front", "waist", 0.41, width)
    rows = [row for row in waist_dart_rows(Garment((piece,)), brief()) if row.name == "waist_dart_intake"]
    assert {row.severity if row.beyond else None for row in rows} == {told}


@pytest.mark.parametrize(("voice", "told"), [("tenor", True), ("soprano", False)])
def test_a_man_is_told_what_a_dart_in_his_side_is_for(voice: str, told: bool) -> None:
    """One of 2.8 cm, which a woman's front has without a word."""
    rows = [row for row in dart_rows(Garment((front("bust"),)), brief(voice)) if row.name == "dart_on_man"]
    assert [(row.severity, row.beyond > 0.0) for row in rows] == ([("note", True)] * 2 if told else [])


def test_a_blunt_dart_is_warned_of():
    """More than 40 degrees at the point (limit from memory)."""
    blunt = cut_in(plain(Face.FRONT), WAIST, "waist-left", 95.0, Point(95.0, -370.0), 40.0)
    assert "darts.blunt" in codes(blunt)


@pytest.mark.parametrize(("back", "found"), [(5.0, {"darts.point"}), (25.0, set()), (62.0, {"darts.point"})])
def test_a_dart_stops_short_of_the_bust_point_but_not_by_far(back: float, found: set[str]):
    """The point ends 2 to 3 cm from the bust point by common practice; 1 to 6 cm is let pass."""
    piece = draw_point_to(front("waist"), "waist-front-left", back)
    assert codes(piece) == found
    assert APEX.distance(piece.line("dart-waist-front-left-a").path.end) == pytest.approx(back)


def test_a_dart_within_must_lie_within():
    """A slit that runs over the edge, or the wrong way round, is found."""
    piece = plain(Face.FRONT)
    over = draw_inner_dart(WAIST, Point(95, -290), Point(107, -340), Point(95, -440), Point(83, -340)).lines
    assert codes(with_only(piece, Slit, (Slit(over),))) == {"darts.within"}
    inside = draw_inner_dart(WAIST, Point(95, -290), Point(107, -340), Point(95, -400), Point(83, -340)).lines
    names = [line.name for line in inside]
    paths = [line.path.reversed() for line in reversed(inside)]
    turned = tuple(replace(line, name=n, path=p) for line, n, p in zip(inside, names, paths, strict=True))
    assert codes(with_only(piece, Slit, (Slit(turned),))) == {"darts.within"}


def test_the_proof_of_a_garment_holds_its_darts():
    """The whole proof speaks of darts, of a piece with a slit too, and raises nothing."""
    sound = prove(sewn(with_slits(plain(Face.FRONT)), plain(Face.BACK), ("waist-front",)), brief())
    assert not [f for f in sound.findings if f.code.startswith(("darts", "puzzle", "names", "seams"))]
    assert any(row.seam == "dart-waist-front-left" and row.section == 2 for row in sound.seams)
    broken = sewn(with_slits(plain(Face.FRONT)), plain(Face.BACK)).piece("front")
    bad = replace(broken.slits[0][1], path=Path.straight(broken.slits[0][1].path.start, Point(95.0, -450.0)))
    piece = with_only(broken, Slit, map(Slit, ((broken.slits[0][0], bad, *broken.slits[0][2:]), broken.slits[1])))
    assert "darts.legs" in {f.code for f in prove(sewn(piece, plain(Face.BACK), ("waist-front",)), brief()).findings}
