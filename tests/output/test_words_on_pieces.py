"""Labels: readable, inside their piece, off every line and off each other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from shapely import MultiPoint, Polygon, STRtree, box
from shapely.affinity import rotate, translate
from shapely.affinity import scale as scaled

from drafting.finishing.cutpiece import CutPiece, Mark, Notch
from drafting.geometry import Point
from drafting.job import run
from drafting.output import PrintInfo, draw_sheet, remarks, text_width
from drafting.output.pages.cover import list_piece
from drafting.output.pages.page_map import place_letter
from drafting.output.pdf.ink import POINT, PieceInk, Text, sample_strokes
from drafting.output.pictures import symbols
from drafting.output.pictures.names import tell_joined
from drafting.output.pictures.words import blocks
from drafting.paper import PaperPlan, paper_named, plan_sheet
from drafting.sides import speak_point
from tests.laws.jobs import job_from, job_of
from tests.output.pieces import MARK, band, body, sleeve, top

SHEATH = """
builds_on = "sheath-dress"
unit = "cm"
[wearer.body]
stature = 166
bust_girth = 92
waist_girth = 71
hip_girth = 98
back_neck_point_to_waist = 40.5
[cloth]
kind = "woven"
stretch_across = "2 %"
"""

INFO = PrintInfo("Concert top", "Alto", MARK)


def outline(text: Text) -> Polygon:
    """The box that the letters fill: from the base line up to the capitals' height."""
    flat = box(0, 0, text_width(text.text, text.size), text.size * 0.72 * POINT)
    return translate(rotate(flat, text.angle, origin=(0, 0), use_radians=True), text.x, text.y)


def ring(ink: PieceInk) -> Polygon:
    return Polygon(sample_strokes([s.segments for s in ink.strokes if s.style.kind in ("cut", "fold-edge")], 2.0))


def check(pieces: tuple[CutPiece, ...], plan: PaperPlan) -> None:
    for ink in draw_sheet(plan_sheet(pieces, plan), INFO).pieces:
        boxes = [outline(text) for text in ink.texts]
        whole = ring(ink).buffer(0.01)
        assert all(whole.contains(shape) for shape in boxes), ink.name
        assert all(text.size >= 6.0 for text in ink.texts)
        points = sample_strokes([*(s.segments for s in ink.strokes), *(f.rings for f in ink.fills)], 0.5)
        for shape in boxes:
            x0, y0, x1, y1 = shape.bounds
            near = points[(points > (x0, y0)).all(axis=1) & (points < (x1, y1)).all(axis=1)]
            assert not any(shape.contains(point) for point in map(_point, near)), ink.name
        tree = STRtree(boxes)
        pairs = tree.query(boxes, predicate="intersects")
        assert all(a == b for a, b in pairs.T), ink.name


def _point(at: np.ndarray):
    from shapely import Point

    return Point(at)


@pytest.mark.parametrize("name", ["A4", "US Letter", "A3", "130 x 180 mm"])
def test_words_keep_clear(name: str) -> None:
    """No label crosses the cut line, another line, a notch or another label, on any paper."""
    check(top(), PaperPlan(paper_named(name)))


@pytest.mark.parametrize("height", [26.0, 34.0, 50.0, 80.0])
def test_words_shrink_and_turn_on_narrow_bands(height: float) -> None:
    """A band's words shrink to six points and lie along it before they are left out."""
    check((band("neck-band", "Neck band", "F", 450.0, height),), PaperPlan())


def test_title_tells_code_title_and_how_to_cut() -> None:
    """The block carries code and title, how to cut, the labels, the wearer and the draft mark."""
    drawing = draw_sheet(plan_sheet((sleeve(),), PaperPlan()), INFO)
    told = [text.text for text in drawing.pieces[0].texts if text.kind in ("title", "label")]
    assert told[0] == "C  Sleeve"
    assert told[1:] == ["cut 2, one mirrored", "seam allowance 10 mm included", "Alto", f"draft mark {MARK}"]


def test_mark_is_added_where_finishing_left_it_out() -> None:
    """Every piece carries the draft mark."""
    piece = replace(sleeve(), labels=())
    drawing = draw_sheet(plan_sheet((piece,), PaperPlan()), INFO)
    assert any(MARK in text.text for text in drawing.pieces[0].texts)


def test_a_piece_too_small_for_words_shows_its_code() -> None:
    """Where nothing else fits, the code alone stands in the piece, and the drawing tells which pieces these are."""
    tiny = replace(
        band("loop", "Loop", "H", 26.0, 14.0), marks=(), notches=(), how="cut 1, single layer, right side up"
    )
    drawing = draw_sheet(plan_sheet((tiny,), PaperPlan()), INFO)
    assert drawing.crowded == ("loop",)
    assert any(text.text.startswith("H") for text in drawing.pieces[0].texts)


def test_a_piece_too_small_for_its_label_still_tells_how_often_to_cut_it() -> None:
    """And that it is cut in interfacing: who cuts it out looks at the piece, not at the list."""
    small = replace(
        band("facing", "Facing", "H", 160.0, 45.0), again=("interfacing",), labels=("allowances included: " * 4,) * 6
    )
    drawing = draw_sheet(plan_sheet((small,), PaperPlan()), INFO)
    assert drawing.crowded == ("facing",)
    assert f"{small.how}, and in interfacing" in " ".join(text.text for text in drawing.pieces[0].texts)
    assert f"{small.how}, and in interfacing" in list_piece(small, False, INFO)


def test_every_page_that_shows_a_piece_has_its_letter() -> None:
    """Its title begins there, or its letter alone stands there, if that finds room."""
    plan = plan_sheet(top(), PaperPlan())
    for ink, (piece, _) in zip(draw_sheet(plan, INFO).pieces, plan.placed_pieces(), strict=True):
        heads = [text for text in ink.texts if text.text.split()[0] == piece.code]
        for tile in plan.tiling.tiles:
            page = box(*plan.tiling.box(tile))
            if ring(ink).intersection(page).buffer(-20.0).area > 2_000.0:
                assert any(page.contains(_point((text.x, text.y))) for text in heads), (piece.code, tile.name)


def test_every_point_has_its_name_and_no_grain_arrow_lies_over_a_dart() -> None:
    """Of a sheath, whose waist has three darts with two points each, four marked points in each."""
    plan = run(job_from(SHEATH)).sheet
    assert plan is not None
    drawing = draw_sheet(plan, INFO)
    assert not drawing.lost
    for ink, (piece, _) in zip(drawing.pieces, plan.placed_pieces(), strict=True):
        said = " ".join(text.text for text in ink.texts if text.kind in ("drill", "notch"))
        assert all(any(words in said for words in speak_point(name, "1.2 cm")) for name, _ in piece.drills)
        assert "its point" not in said.replace("1.2 cm before its point", "")  # the mark stands short of that
        darts = [mark.path for mark in piece.marks if "dart" in mark.name]
        (grain,) = (mark.path for mark in piece.marks if mark.kind == "grain")
        assert not [dart for dart in darts if dart.crossings(grain)]
    assert sum(len(piece.drills) for piece in plan.pieces) > 12


@pytest.mark.parametrize("scale", [0.05, 0.1, 0.3])
def test_a_letter_on_the_page_map_stands_inside_its_piece(scale: float) -> None:
    """And off the pages' names; on a band that is narrower than any letter it keeps as much within as it can."""
    for ink, piece in zip(draw_sheet(plan_sheet(top(), PaperPlan()), INFO).pieces, top(), strict=True):
        x0, y0, x1, y1 = (side * scale for side in ink.box)
        names = [(x0, y0, x1, (y0 + y1) / 2.0)]
        x, y, size = place_letter(ink, piece.code, scale, names)
        letter = outline(Text(piece.code, x, y, size))
        shape = scaled(ring(ink), scale, scale, origin=(0, 0))
        inside = letter.intersection(shape).area / letter.area
        assert inside > 0.99 or min(x1 - x0, y1 - y0) < 4.0
        assert inside > 0.6


def test_words_read_upright_on_the_page() -> None:
    """However a piece is turned on the sheet, its words read level, or upwards, never upside down."""
    for ink in draw_sheet(plan_sheet(top(), PaperPlan()), INFO).pieces:
        for text in ink.texts:
            assert -1.58 < text.angle < 1.6


def test_kinds_differ_without_colour() -> None:
    """Lines that mean different things differ in width, dashes or grey (facts of marking: common practice)."""
    drawing = draw_sheet(plan_sheet((body("front", "Front", "A", 90.0, back=False),), PaperPlan()), INFO)
    styles = {stroke.style.kind: stroke.style for stroke in drawing.pieces[0].strokes}
    looks = [
        (styles[kind].width, styles[kind].dash) for kind in ("cut", "stitch", "fold-edge", "level", "adjust", "grain")
    ]
    assert len(set(looks)) == len(looks)
    assert styles["cut"].dash == ()
    assert styles["stitch"].dash != ()


def test_front_has_one_wedge_and_back_two() -> None:
    """Single notch front, double notch back (common practice; Univ. of Arkansas workbook, ch. 8)."""
    pieces = (body("front", "Front", "A", 90.0, back=False), body("back", "Back", "B", 20.0, back=True))
    drawing = draw_sheet(plan_sheet(pieces, PaperPlan()), INFO)
    wedges = [[len(fill.rings) for fill in ink.fills if fill.style.kind == "notch"] for ink in drawing.pieces]
    assert wedges == [[3, 3], [6, 6]]


def sided(height: float) -> CutPiece:
    """A lopsided band whose left half is told from its right."""
    piece = band("strip", "Strip", "S", 300.0, height)
    edges = {edge.name: edge.path for edge in piece.outline}
    marks = [Mark("side", f"wearer's {side}", edges[f"end-{side}"]) for side in ("left", "right")]
    return replace(piece, marks=(*piece.marks, *marks))


@pytest.mark.parametrize("height", [300.0, 120.0, 50.0])
def test_whose_side_is_whose_is_written_beside_its_edge(height: float) -> None:
    """In words, on the half that they speak of; nothing is drawn that nobody could read."""
    drawing = draw_sheet(plan_sheet((sided(height),), PaperPlan(paper_named("60 x 60 cm"))), INFO)
    (ink,) = drawing.pieces
    middle = (ink.box[0] + ink.box[2]) / 2 if ink.box[2] - ink.box[0] > ink.box[3] - ink.box[1] else None
    found = {text.text: text for text in ink.texts if text.kind == "side"}
    assert set(found) == {"wearer's left", "wearer's right"}
    assert not drawing.lost
    assert not [stroke for stroke in ink.strokes if stroke.style.kind == "leader"]
    if middle is not None:
        assert found["wearer's left"].x < middle < found["wearer's right"].x


def test_a_side_without_room_for_its_words_is_told() -> None:
    """On a piece as small as a thumb nail the words are lost, and the drawing says so."""
    piece = sided(14.0)
    tiny = replace(piece, outline=band("strip", "Strip", "S", 14.0, 14.0).outline, notches=())
    tiny = replace(tiny, marks=tuple(mark for mark in piece.marks if mark.kind == "side"))
    plan = plan_sheet((tiny,), PaperPlan())
    drawing = draw_sheet(plan, INFO)
    assert [lost.words for lost in drawing.lost] == ["wearer's left", "wearer's right"]
    assert any(
        "whose side is whose" in note and "wearer's left on S Strip" in note for note in remarks(plan, INFO, drawing)
    )


@pytest.mark.parametrize("height", [40.0, 50.0, 80.0])
def test_lay_on_the_fold_is_written_on_narrow_bands(height: float) -> None:
    """Along the fold, inside the sign or beyond it, where there is room."""
    piece = band("neck-band", "Neck band", "F", 300.0, height)
    fold = next(edge for edge in piece.outline if edge.name == "end-left")
    folded = replace(piece, on_fold=True, marks=(*piece.marks, Mark("on-fold", "on-fold", fold.path)))
    drawing = draw_sheet(plan_sheet((folded,), PaperPlan()), INFO)
    assert any("on the fold" in text.text for text in drawing.pieces[0].texts if text.kind == "on-fold")
    check((folded,), PaperPlan())


def test_no_line_of_a_label_begins_or_ends_with_the_dot_between() -> None:
    """Parts of a label set side by side are parted by a dot only where they share a line."""
    said = ("cut 1, single layer, right side up", "allowances included: 1.0 cm", "rib cloth", "Soprano")
    for way in blocks("F  Neck band", said):
        for words, _ in way.lines:
            assert words.strip("\u00b7 ") == words.strip()
        for part in said:
            assert part in " ".join(words for words, _ in way.lines)


def test_a_notch_on_the_fold_lies_on_the_piece() -> None:
    """Half of it, which the cloth's other layer makes whole: nothing is printed or cut beyond the fold."""
    pieces = [piece for piece in run(job_of("knit-top"), lay=False).cut if piece.on_fold]
    found = [(piece, each, side) for piece in pieces for each in piece.notches if (side := piece.side_by_fold(each))]
    assert {each.count for _, each, _ in found} == {1, 2}
    for piece, each, side in found:
        strokes, (fill,) = symbols.notch(each, side)
        whole = Polygon(piece.cut_path.flatten()).buffer(0.05)
        assert len(fill.rings) == 3, "one wedge, or half of one"
        assert whole.covers(MultiPoint(sample_strokes([fill.rings, *(s.segments for s in strokes)], 0.5)))
        assert sum(len(f.rings) for f in symbols.notch(each)[1]) == 3 * each.count


LETTERED = 1000.0
"""mm2: a page that shows as much of a piece has its letter, or its title."""


def test_words_keep_off_the_joins_of_pages_where_there_is_room() -> None:
    """A name cut by two pages is hard to read; and every page that shows much of a piece has its letter.

    In the point of the V, too, the stay-stitching is named, in a word if need be.
    """
    result = run(job_of("knit-top"), lay=False)
    plan = plan_sheet(result.cut, PaperPlan())
    tiling, cut, texts = plan.tiling, 0, 0
    codes = {piece.name: piece.code for piece in result.cut}
    drawing = draw_sheet(plan, INFO)
    assert not drawing.lost
    for ink in drawing.pieces:
        for text in ink.texts:
            x0, y0, x1, y1 = outline(text).bounds
            pages = {(x // tiling.width, y // tiling.height) for x in (x0, x1) for y in (y0, y1)}
            texts, cut = texts + 1, cut + (len(pages) > 1)
        whole = ring(ink)
        for tile in tiling.tiles:
            part = whole.intersection(box(*tiling.box(tile)))
            here = [text for text in ink.texts if part.covers(outline(text).centroid)]
            assert part.area < LETTERED or any(text.text.split()[0] == codes[ink.name] for text in here)
    assert texts > 50
    assert cut <= texts * 0.02


def test_a_notch_that_joins_several_pieces_lists_them() -> None:
    """As one says it: "A, B and C"."""
    at = Point(0.0, 0.0)
    letters = {"front": "A", "back": "B", "yoke": "C", "band": "D"}
    told = [
        tell_joined(Notch(at, at, 1, at, "", 1, joins), "D", letters)
        for joins in ((), ("front",), ("back", "front"), ("yoke", "band", "front", "back"))
    ]
    assert told == ["", "A", "A and B", "A, B and C"]
