"""The flat is in true proportion, shows what the garment has, and lies as it is worn."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from typing import Any

import numpy as np
import pytest
import shapely

from drafting.body import make_body
from drafting.cloth import Fit
from drafting.flat import FlatKind, find_lines, find_piece
from drafting.flat.laying import lay_face
from drafting.garment import Brief, Face, Role, Side, Use
from drafting.output import PrintInfo, flat_svg
from drafting.output.pictures.flat import SEEN, place_views, thin_courses
from drafting.proof import prove
from tests.blocks_woven.people import POPLIN
from tests.body.people import people as women
from tests.flat.drawn import flats, flats_of, shown_girth, width_at
from tests.laws.jobs import WEARER, catalogue, job_from, job_of, with_changes

SHOWN = (
    ("tank-top", []), ("knit-top", []), ("princess-top", []), ("waist-seam-dress", []),
    ("sheath-dress", [("move-dart", {"to": "shoulder 0.5"})]), ("sheath-dress", [("move-dart", {"to": "side 0.3"})]),
    ("sheath-dress", [("full-bust", {"by": 20.0})]),
)  # fmt: skip


@pytest.mark.parametrize(("design", "changes"), SHOWN)
def test_its_widths_are_the_garments(design: str, changes: list[tuple[str, dict[str, Any]]]) -> None:
    """Front and back together measure at bust, waist and hip what the proof finds finished, within 2 %."""
    job = with_changes(job_of(design), changes)
    garment, _ = flats(job)
    finished = {row.measure: row.finished for row in prove(garment, job.brief).eases}
    for level in ("bust", "waist", "hip"):
        if f"girth:{level}" in finished:
            assert shown_girth(garment, level) == pytest.approx(finished[f"girth:{level}"], rel=0.02), level


@pytest.mark.parametrize("body", ["slim", "full"])
def test_widths_are_true_of_any_body(body: str) -> None:
    """Of the surveys' slimmest waist and of its fullest bust, in a darted dress."""
    people = sorted(
        women("bodies_1988_women"), key=lambda each: each["waist_girth"] if body == "slim" else -each["bust_girth"]
    )
    brief = Brief(make_body(body, people[0]), POPLIN, Fit.CLOSE)
    job = with_changes(job_of("sheath-dress"), [], brief)
    garment, _ = flats(job)
    finished = {row.measure: row.finished for row in prove(garment, brief).eases}
    for level in ("bust", "waist", "hip"):
        assert shown_girth(garment, level) == pytest.approx(finished[f"girth:{level}"], rel=0.02), level


@pytest.mark.parametrize("design", sorted(catalogue().designs))
def test_every_design_is_drawn_within_its_own_length(design: str) -> None:
    """From the shoulder to the hem it is as long as the pieces are, within 2 %, and stands on a body."""
    garment, views = flats_of(design)
    for view in views:
        cloth = np.concatenate([s.points for s in view.shapes if s.kind is not FlatKind.BODY])
        trunk = [p.outline.bounds for p in garment.pieces if p.face is view.face]
        assert np.isfinite(cloth).all()
        assert -cloth[:, 1].min() >= -min(box[1] for box in trunk) * 0.98
        assert cloth[:, 1].max() == pytest.approx(max(box[3] for box in trunk), abs=25.0)
        assert any(s.kind is FlatKind.BODY for s in view.shapes)


def test_darts_are_drawn_shut() -> None:
    """Both legs of a dart lie on one line."""
    _, (front, _) = flats_of("sheath-dress")
    darts = [s.points for s in front.shapes if s.kind is FlatKind.DART]
    assert len(darts) >= 8
    ends = np.array([points[[0, -1]] for points in darts])
    for points in ends.reshape(-1, 2):
        near = np.hypot(*(ends.reshape(-1, 2) - points).T) < 1.0
        assert near.sum() >= 2


def test_a_shaped_centre_back_is_drawn_shut_and_straight() -> None:
    """Taken in at the waist, its halves meet down the middle all the same, where a zip holds them."""
    shaped = f'builds_on = "sheath-dress"\nunit = "cm"\n{WEARER}[blocks.bodice]\ncentre_back = 1.5\n'
    garment, (_, back) = flats(job_from(shaped))
    beside = [s.points[:, 0].mean() for s in back.shapes if s.kind is FlatKind.STITCHES and len(s.points) > 2]
    assert min(beside) < -1.0 < 1.0 < max(beside)  # both edges are stitched, not one alone
    lay = lay_face(garment, Face.BACK)
    for piece in lay.base:
        for line in piece.lines(role=Role.CENTRE):
            assert np.abs(lay.course(piece, line)[:, 0]).max() < 0.5


def test_the_wearers_left_is_at_the_viewers_right_in_front() -> None:
    """An overlay from the right shoulder hangs at the viewer's left in front, at the right behind."""
    _, (front, back) = flats_of("diagonal-overlay-top")
    top = {view.face: [s.points for s in view.shapes if s.kind is FlatKind.CLOTH][-1] for view in (front, back)}
    assert top[Face.FRONT][:, 0].mean() < 0.0 < top[Face.BACK][:, 0].mean()


@pytest.mark.parametrize(
    ("design", "changes", "kind"),
    [
        ("basic-tee", [], FlatKind.STITCHES),
        ("sheath-dress", [], FlatKind.OPENING),
        ("half-circle-dress", [], FlatKind.SEAM),
        ("fitted-bodice", [("sleeve-fullness", {"cap": 100.0})], FlatKind.GATHERS),
    ],
)
def test_what_the_garment_has_is_shown(design: str, changes: list[tuple[str, dict[str, Any]]], kind: FlatKind) -> None:
    """Stitches of a hem, a zip, a waist seam, a puffed cap."""
    _, views = flats(with_changes(job_of(design), changes))
    assert any(s.kind is kind for view in views for s in view.shapes)


@pytest.mark.parametrize(
    ("design", "option", "shown"),
    [("diagonal-overlay-top", "topstitched", True), ("diagonal-overlay-top", "turned", False)],
)
def test_stitching_is_drawn_where_it_shows(design: str, option: str, shown: bool) -> None:
    """Along the covered neck that is topstitched, not along one that is turned."""
    text = f'builds_on = "{design}"\nunit = "cm"\n[blocks.overlay]\ncovered_neck = "{option}"\n{WEARER}'
    _, (front, _) = flats(job_from(text))
    (neck, *_) = find_lines(front, [Use("overlay-front", "neckline")])
    beside = [s.points for s in front.shapes if s.kind is FlatKind.STITCHES and len(s.points) == len(neck.points)]
    near = [np.hypot(*(points - neck.points).T).max() < 8.0 for points in beside]
    assert any(near) == shown


def test_a_hem_that_is_sewn_blind_does_not_show() -> None:
    """A woven's; a knit's does."""
    for design, shown in (("fitted-bodice", False), ("basic-tee", True)):
        _, (front, _) = flats_of(design)
        low = min(float(s.points[:, 1].min()) for s in front.shapes if s.kind is FlatKind.CLOTH)
        stitched = [s.points for s in front.shapes if s.kind is FlatKind.STITCHES]
        assert any(np.abs(points[:, 1] - low).max() < 60.0 for points in stitched) == shown


def test_an_eased_cap_is_not_drawn_gathered() -> None:
    """The most that a woven cap is eased by, 3.8 cm, is no puff."""
    _, views = flats(job_of("fitted-bodice"))
    assert not any(s.kind is FlatKind.GATHERS for view in views for s in view.shapes)


def test_both_views_fit_their_room_at_one_scale() -> None:
    """Side by side, none over the other, no larger than asked."""
    _, views = flats_of("basic-tee")
    picture = place_views(views, 80.0, 60.0)
    boxes = [np.concatenate([points for _, points in placed.shapes()]) for placed in picture.views]
    assert boxes[0][:, 0].max() < boxes[1][:, 0].min()
    assert picture.width <= 80.0 + SEEN
    assert picture.height <= 60.0 + SEEN
    assert all(box.min() >= -SEEN for box in boxes)
    assert len({placed.scale for placed in picture.views}) == 1


def test_a_course_is_thinned_no_further_than_the_eye_sees() -> None:
    """A circle keeps its shape, a straight line its ends only."""
    turns = np.linspace(0.0, np.pi, 400)
    curve = np.stack([np.cos(turns), np.sin(turns)], axis=1) * 20.0
    straight = np.stack([np.linspace(0, 9, 50), np.zeros(50)], axis=1)
    thin, ends = thin_courses([curve, straight])
    assert len(thin) < 40
    assert shapely.LineString(curve).hausdorff_distance(shapely.LineString(thin)) <= SEEN
    assert len(ends) == 2


def test_the_drawing_is_sound_xml_with_the_makers_words_escaped() -> None:
    """Whatever a title holds."""
    _, views = flats_of("basic-tee")
    drawn = flat_svg(PrintInfo("<b>Top</b> & co", "Alto", "ABC", flat=views))
    root = ET.fromstring(drawn)
    assert [group.get("class") for group in root if group.tag.endswith("g")] == ["flat front", "flat back"]
    title = next(child for child in root if child.tag.endswith("title"))
    assert title.text == "<b>Top</b> & co, Alto, draft mark ABC"


def test_a_waistband_stands_above_the_skirt() -> None:
    """As high as it is finished, though it is sewn to no opening of a bodice; in one stretch over the darts."""
    text = 'unit = "cm"\n[blocks.skirt]\nblock = "skirt"\n[blocks.waistband]\nblock = "waistband"\n'
    closed = '[[changes]]\nchange = "closure"\nplace = "back"\n'
    garment, (front, _) = flats(job_from(text + WEARER + closed))
    top = max(line.path.bounds[3] for piece in garment.pieces if piece.face is Face.FRONT for line in piece.ring)
    cloth = np.concatenate([s.points for s in front.shapes if s.kind is FlatKind.CLOTH])
    high = max(line.path.length for line in garment.piece("waistband").lines(role=Role.END))
    assert len(find_piece(front, "waistband")) == 1
    assert cloth[:, 1].max() == pytest.approx(top + high, abs=3.0)


def test_the_mirror_image_of_a_garment_is_drawn_as_its_mirror_image() -> None:
    """A hem band hangs below the hem then too."""
    _, (plain, _) = flats_of("knit-top")
    _, (mirrored, _) = flats(with_changes(job_of("knit-top"), [("mirror", {})]))
    assert mirrored.bounds == pytest.approx(plain.bounds, abs=2.0)
    assert width_at(mirrored, plain.bounds[1] + 200.0) == pytest.approx(
        width_at(plain, plain.bounds[1] + 200.0), abs=2.0
    )


def test_a_circle_skirt_hangs_from_a_level_waist() -> None:
    """As wide at the waist as it is cut there, and far narrower at the hem than it lies on the table."""
    text = 'unit = "cm"\n[blocks.skirt]\nblock = "circle-skirt"\n[blocks.waistband]\nblock = "waistband"\n'
    closed = '[[changes]]\nchange = "closure"\nplace = "back"\n'
    garment, (front, _) = flats(job_from(text + WEARER + closed))
    piece = next(each for each in garment.pieces if each.face is Face.FRONT)
    waist = piece.lines(role=Role.WAIST)
    edge = np.concatenate([s.points for s in find_lines(front, [Use(piece.name, line.name) for line in waist])])
    assert np.ptp(edge[:, 0]) == pytest.approx(sum(line.path.length for line in waist), rel=0.02)
    left, _, right, _ = piece.outline.bounds
    assert np.ptp(find_piece(front, piece.name)[0].points[:, 0]) < (right - left) * 0.9


def test_a_vent_is_barred_where_its_seam_ends() -> None:
    """At both sides, in front and behind, from the edge inwards, as high as the vent."""
    garment, views = flats_of("sheath-dress")
    high = [line.path.bounds[3] for piece in garment.pieces for line in piece.ring if line.name.endswith("/vent")]
    for view in views:
        bars = [s.points for s in view.shapes if s.kind is FlatKind.OPENING and len(s.points) == 2 and not s.uses]
        assert sorted(np.sign(points[0, 0]) for points in bars) == [-1.0, 1.0]
        for points in bars:
            assert abs(points[1, 0]) < abs(points[0, 0])
            assert points[0, 1] == pytest.approx(high[0], abs=2.0)


@pytest.mark.parametrize("design", ["sheath-dress", "fitted-bodice"])
def test_a_shut_dart_leaves_no_corner_in_the_side(design: str) -> None:
    """Where its mouth is, the side turns by no more than it bends there anyway."""
    garment, _ = flats_of(design)
    lay = lay_face(garment, Face.FRONT)
    (piece,) = lay.base
    legs = [lay.course(piece, line) for line in piece.ring if "bust" in line.name and line.side is Side.LEFT]
    mouth = max((end for leg in legs for end in leg[[0, -1]]), key=lambda end: float(end[0]))
    sides = [lay.course(piece, line) for line in piece.lines(role=Role.SIDE) if line.side is Side.LEFT]
    side = np.concatenate(sides)
    side = side[np.argsort(side[:, 1])]
    below, before, after, above = np.interp(mouth[1] + np.array([-16.0, -4.0, 4.0, 16.0]), side[:, 1], side[:, 0])
    turn = np.degrees(np.arctan2(above - after, 12.0) - np.arctan2(before - below, 12.0))
    assert abs(turn) < 8.0
