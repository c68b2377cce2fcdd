"""The parts of a drape, each on something small enough to be reckoned by hand; no loop is compiled here."""

from __future__ import annotations

import importlib.util
import math
import struct
import zlib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from blocks.band import draft_hem_band
from blocks.cuff import draft_shaped_cuffs
from blocks.sleeve import draft_set_in_sleeve
from drafting.body import Body
from drafting.changes.fit.bust import MOST_EASED, fit_full_bust
from drafting.cli.wear_words import ask_for_more
from drafting.garment import Face, Garment
from drafting.proof.words.fitting import fitting_sheet
from drafting.saying import render
from drafting.seal import SEAL_ROOM, SEAL_WITHIN, read_seal, seal_file
from drafting.sides import Side
from drafting.worn import distance, layers
from drafting.worn.answers import answer_folds
from drafting.worn.cloth import make_cloth, stand_grids
from drafting.worn.comparing import compare_rows, tell_changes
from drafting.worn.distance import DistanceGrid, join_rod, make_grid, part_shapes
from drafting.worn.dressing import thin_arms
from drafting.worn.figures import LevelWorn, WornFigures
from drafting.worn.form import clip_mesh
from drafting.worn.landmarks import cut_edges, measure_hull
from drafting.worn.layers import find_order
from drafting.worn.letters import TALL, measure_words, write_words
from drafting.worn.mesh import CannotWear, mesh_garment
from drafting.worn.picture import paint_triangles, write_png
from drafting.worn.piercing import is_pierced
from drafting.worn.places import DrawnCloth, Places
from drafting.worn.placing import keep_aside, place_added, sort_pieces
from drafting.worn.pressing import Pressed
from drafting.worn.scenes import BANDS
from drafting.worn.shape import Floats
from drafting.worn.solver import Points, order_layers
from drafting.worn.soundness import CREASED, distances_from_body, edges_of, share_crossed
from drafting.worn.telling import name_drape
from tests.cli.running import run
from tests.garment.small import darted, seam, sheet, tube
from tests.garments import BODY, JERSEY, RIB, brief, build, singer
from tests.laws.jobs import job_of

CLOTHS = {"main": JERSEY}


@pytest.fixture(autouse=True)
def _slowly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Loops run as they are written: on so little, compiling them would take longer."""
    for module in (distance, layers):
        monkeypatch.setattr(module, "compile_loop", lambda loop, *_: loop)


def test_points_of_a_seam_lie_at_the_same_shares() -> None:
    """However long its plies are: each point of one is sewn to one of the other, and the ends to the ends."""
    short, long = sheet("short", height=100.0), sheet("long", height=150.0)
    mesh = mesh_garment(Garment((short, long), (seam("s", ("short.right", "-long.left")),)), (short, long), 25.0)
    flat = mesh.flat
    assert len(mesh.sewn) == 7
    for a, b in mesh.sewn.tolist():
        assert flat[b][1] == pytest.approx(1.5 * flat[a][1])
        assert (flat[a][0], flat[b][0]) == (300.0, 0.0)


def test_triangles_cover_a_piece_and_no_more() -> None:
    """Their areas add up to the piece's, a dart left out of it, and all are turned as the ring is."""
    for garment in (tube(), darted()):
        for piece in garment.pieces:
            each = mesh_garment(garment, (piece,), 20.0).pieces[0]
            a, b, c = (each.flat[each.triangles[:, i]] for i in range(3))
            double = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0]
            assert (double > 0.0).all()
            assert double.sum() / 2.0 == pytest.approx(piece.outline.area, rel=1e-6)


def test_a_closed_tube_has_two_edges() -> None:
    """Sewn, the points of both sides are one; what lies on one triangle alone is the neck and the hem."""
    garment = tube()
    mesh = mesh_garment(garment, garment.pieces, 50.0)
    made = make_cloth(mesh, np.zeros((len(mesh.flat), 3)), CLOTHS, {}, closed=True)
    open_edges = edges_of(made.sheet.triangles)
    assert len(made.x) == len(mesh.flat) - len(mesh.sewn)
    assert len(open_edges) == 2 * 2 * 6


def box(size: float) -> tuple[Floats, np.ndarray[tuple[int, int], np.dtype[np.int64]]]:
    """A box about 0, its triangles turned outwards."""
    points = np.array([[x, y, z] for x in (-size, size) for y in (-size, size) for z in (-size, size)])
    faces = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]]
    return points, np.array([t for a, b, c, d in faces for t in ((a, b, c), (a, c, d))])


def test_distances_from_a_box_are_those_reckoned() -> None:
    """Below 0 within; from a face, an edge and a corner; and as the loop reads them between the grid's corners.

    With a rod; and where another lies 12 mm deep in it, ended short of the middle between them, up to a height.
    """
    points, faces = box(30.0)
    grid = make_grid(points, faces, np.full(3, -48.0), np.full(3, 48.0), 12.0)
    asked = np.array([[0.0, 0.0, 0.0], [36.0, 0.0, 0.0], [24.0, 0.0, 0.0], [36.0, 36.0, 0.0], [36.0, 36.0, 36.0]])
    found = distances_from_body(stand_grids([grid]), asked)
    assert found[1:] == pytest.approx([6.0, -6.0, math.hypot(6.0, 6.0), math.sqrt(108.0)], abs=0.01)
    assert found[0] < -20.0
    with_rod = join_rod(grid, np.zeros(3), np.array([0.0, 36.0, 0.0]), 6.0)
    found = distances_from_body(
        stand_grids([with_rod]), np.array([[0.0, 36.0, 0.0], [12.0, 36.0, 0.0], [0.0, 48.0, 0.0]])
    )
    assert found == pytest.approx([-6.0, 6.0, 6.0], abs=0.01)
    beside = DistanceGrid(grid.start + np.array([48.0, 0.0, 0.0]), grid.cell, grid.values)
    parted = part_shapes(grid, beside, 5.0, 0.0)
    asked = np.array([[24.0, -24.0, 0.0], [24.0, 0.0, 0.0], [24.0, 24.0, 0.0], [-36.0, 0.0, 0.0]])
    found = distances_from_body(stand_grids([parted]), asked)
    assert found == pytest.approx([5.0, 5.0, -6.0, 6.0], abs=0.01)


def test_a_tape_spans_a_hollow() -> None:
    """Round a box it is four sides; a point pushed in changes nothing."""
    points, faces = box(50.0)
    pairs = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    cut = cut_edges(points, pairs, np.zeros(3), np.array([0.0, 1.0, 0.0]))[:, [0, 2]]
    assert measure_hull(cut) == pytest.approx(400.0)
    assert measure_hull(np.concatenate([cut, [[0.0, 20.0]]])) == pytest.approx(400.0)


def test_a_line_through_a_triangle_pierces_it() -> None:
    """And one beside it, or that ends before it, doesn't."""
    triangle = np.array([[[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [0.0, 10.0, 0.0]]])
    through, beside = np.array([2.0, 2.0, 5.0]), np.array([9.0, 9.0, 5.0])
    down = np.array([0.0, 0.0, -10.0])
    assert is_pierced(triangle, through, through + down)
    assert not is_pierced(triangle, beside, beside + down)
    assert not is_pierced(triangle, through, through + down / 4.0)


def test_what_can_not_be_draped_yet_is_named() -> None:
    """A piece that is neither of the trunk, nor a sleeve, nor a band."""
    with pytest.raises(CannotWear, match="Odd"):
        sort_pieces(Garment((sheet("odd"), sheet("front", face=Face.FRONT))))


def test_an_arm_is_within_its_cuff_from_the_first() -> None:
    """As it is within the sleeve that the cuff is sewn to; to what is put round the trunk there is no arm yet."""
    garment = build(brief(), BODY, ((draft_set_in_sleeve, {}),), ((draft_shaped_cuffs, {}),), ((draft_hem_band, {}),))
    laid = sort_pieces(garment)
    mesh = mesh_garment(garment, laid.pieces, 40.0)
    thin = thin_arms(mesh, laid)
    thinner = {each.piece.name: thin[start] for each, start in zip(mesh.pieces, mesh.starts, strict=True)}
    assert thinner["cuff-left"] == thinner["cuff-right"] == thinner["sleeve-left"] < thinner["front"]
    assert thinner["hem-band"] == thinner["front"]


def test_a_band_in_two_lengths_is_put_where_it_is_sewn() -> None:
    """Below the edge that both lengths are sewn to, though their ends are joined first."""
    above, one, two = sheet("above", 200.0, 100.0), sheet("one", 100.0, 40.0), sheet("two", 100.0, 40.0)
    seams = seam("ends", ("one.right", "-two.left")), seam("hem", ("above.low", "-one.top -two.top"))
    mesh = mesh_garment(Garment((above, one, two), seams), (above, one, two), 20.0)
    count = mesh.starts[1]
    at = np.concatenate([mesh.flat, np.zeros((len(mesh.flat), 1))], axis=1)
    asked = at + np.array([0.0, -40.0, 0.0])
    asked[mesh.starts[2] :, 0] += 100.0
    down = np.tile([0.0, -1.0, 0.0], (count, 1))
    found = place_added(mesh, (one, two), at, down)
    assert found[count:, 1:] == pytest.approx(asked[count:, 1:], abs=11.0)
    assert found[count:, 0] == pytest.approx(asked[count:, 0], abs=11.0)
    core = np.array([[10.0, 0.0, -90.0], [10.0, 0.0, 90.0]])
    edge, beyond = np.array([10.0, 20.0, 0.0]), np.array([12.0, -15.0, 5.0])
    assert keep_aside(edge, beyond, core)[1] == pytest.approx(16.0), "it doesn't cross the arm's middle"
    assert keep_aside(edge, edge + 5.0, core) == pytest.approx(edge + 5.0)


def test_cloth_through_itself_is_counted() -> None:
    """Two strips crossed, and one that only touches its neighbour."""
    flat = np.array([[0.0, 0.0, 0.0], [0.02, 0.0, 0.0], [0.0, 0.02, 0.0], [0.02, 0.02, 0.0]])
    upright = np.array([[0.005, 0.005, -0.01], [0.005, 0.005, 0.01], [0.012, 0.004, 0.01]])
    points = np.concatenate([flat, upright])
    neighbours = np.array([[0, 1, 2], [1, 3, 2]])
    far = np.array([[0.0, 0.0], [0.0, 10.0], [float(CREASED) + 11.0, 0.0]])
    assert share_crossed(points, neighbours, far) == 0.0
    crossed = np.concatenate([neighbours, [[4, 5, 6]]])
    assert share_crossed(points, crossed, far) > 0.3
    assert share_crossed(points, crossed, far / 2.0) == 0.0, "a fold sharper than the mesh"


def test_a_layer_that_slipped_beneath_another_is_brought_out() -> None:
    """Two sheets sewn along an edge, the outer of which lies nearer to the body, a plane; then they are left alone."""
    across, up = (each.ravel() for each in np.meshgrid(np.arange(4) / 100.0, np.arange(3) / 100.0))
    under = np.stack([across, up, np.full(12, 0.012)], axis=1)
    over = (under - under.mean(axis=0)) * 0.8 + under.mean(axis=0) - np.array([0.0, 0.0, 0.004])
    x = np.concatenate([under, over])
    cells = np.array([[0], [1], [2], [4], [5], [6]])
    triangles = np.concatenate([cells + np.array([0, 1, 4]), cells + np.array([1, 5, 4])])
    outer = np.where(triangles % 4 == 0, triangles, triangles + 12)
    heights = np.tile(np.arange(-2.0, 4.0) * 10.0, (12, 12, 1)).astype(np.float32)
    body = stand_grids([DistanceGrid(np.array([-30.0, -30.0, -20.0]), 10.0, heights)])
    points = Points(x, *(np.zeros_like(x), np.ones(24), *np.zeros((4, 24))))
    for _ in range(60):
        before = x.copy()
        order_layers(points, before, find_order(x, outer, triangles, body, 0.003), 0.3, 0.001)
        assert x == pytest.approx(before), "what is pushed out isn't flung out"
    free = np.setdiff1d(outer, triangles)
    assert (x[free, 2] - x[free - 12, 2]).min() > 0.002
    ordered = find_order(x, outer, triangles, body, 0.003)
    assert set(free) <= set(ordered.rows[:, 0])
    still = x.copy()
    order_layers(points, still - 0.001, ordered._replace(between=0.002), 0.3, 0.001)
    assert x == pytest.approx(still)


def test_nearer_triangles_are_painted_over_farther_ones() -> None:
    """Whichever comes first."""
    placed = np.array([[0.0, 0.0, z] for z in (1.0, 2.0)] + [[20.0, 0.0, z] for z in (1.0, 2.0)]
                      + [[0.0, 20.0, z] for z in (1.0, 2.0)])  # fmt: skip
    colours = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]] * 3)
    for order in ([[0, 2, 4], [1, 3, 5]], [[1, 3, 5], [0, 2, 4]]):
        dots, depth = np.zeros((12, 12, 3)), np.full((12, 12), -np.inf)
        plain = np.tile([-1.0, np.nan, np.nan], (6, 1))
        paint_triangles(placed, np.array(order), colours, np.ones(6), plain, np.zeros((1, 3)), dots, depth)
        assert dots[4, 4].tolist() == [0.0, 255.0, 0.0]


def test_a_stripe_is_painted_where_a_whole_number_of_repeats_lies() -> None:
    """Paler than a dark cloth, darker than a pale one; the rest has the cloth's own colour."""
    placed = np.array([[0.0, 0.0, 1.0], [40.0, 0.0, 1.0], [0.0, 40.0, 1.0]])
    marks = np.array([[-1.0, 0.5, np.nan], [-1.0, 0.5, np.nan], [-1.0, 2.5, np.nan]])
    for grey, paler in ((0.2, True), (0.9, False)):
        dots, depth = np.zeros((44, 44, 3)), np.full((44, 44), -np.inf)
        colours = np.full((3, 3), grey)
        paint_triangles(placed, np.array([[0, 1, 2]]), colours, np.ones(3), marks, np.zeros((1, 3)), dots, depth)
        told = dots[:, 1, 0] / 255.0
        assert [told[j] for j in (2, 20, 38)] == pytest.approx([grey] * 3)
        assert [bool(told[j] > grey + 0.1) for j in (10, 30)] == [paler] * 2
        assert [bool(told[j] < grey - 0.1) for j in (10, 30)] == [not paler] * 2


def test_only_what_is_beyond_its_error_is_told_to_differ() -> None:
    """A bust that is less stretched and a hem in front that hangs lower are told; what lies within isn't."""
    bust, hip = LevelWorn("bust", 0.06, 0.1, 0.05, 0.3, -2.0), LevelWorn("hip", 0.02, 0.05, 0.0, 0.3, 4.0)
    before = WornFigures((bust, hip), 860.0, 840.0)
    after = WornFigures((replace(bust, mean=0.03, height=1.0), replace(hip, mean=0.025)), 845.0, 842.0)
    rows = {level: cells for level, *cells in compare_rows(before, after, "cm")}
    assert rows["Bust"][2:] == ["3 % less", "alike"]
    assert rows["Hip"][2:] == ["alike", "alike"]
    told = " ".join(render(words, "cm") for words in tell_changes(before, after))
    assert "1.5 cm lower in front" in told
    assert "behind" not in told.partition("differ")[0]
    assert "stretched most at" not in told
    assert "more level" in told
    assert "makes no difference" in " ".join(render(words, "cm") for words in tell_changes(before, before))
    after = replace(after, levels=(replace(bust, highest=0.05), hip))
    told = " ".join(render(words, "cm") for words in tell_changes(before, after))
    assert "most at the bust, it is by 10 % before and 5 % after" in told


def test_a_fold_is_answered_as_the_fitting_sheet_answers_it() -> None:
    """Cloth drawn over the bust points much more than beside them: a full bust; little more, and nothing is told."""
    bust = LevelWorn("bust", 0.07, 0.2, 0.05, 0.3, -2.0)
    sheet = fitting_sheet(build(brief(), BODY), brief(), job_of("basic-tee").advise).folds
    told = [render(words, "cm") for words in answer_folds(WornFigures((bust,), 860.0, 840.0), sheet)]
    assert len(told) == 1
    said = "by 20 % of the 30 % that it has, and by 7 % on average"
    assert told[0].startswith(f"Bust: the cloth is stretched most in one place, {said}")
    assert 'full bust, change = "full-bust"' in told[0]
    more = ask_for_more(sheet, {"full-bust": 20.0}, "cm")
    (again,) = (render(words, "cm") for words in answer_folds(WornFigures((bust,), 860.0, 840.0), more))
    assert "full bust by more than the 2.0 cm that the ticket has now" in again
    assert f"up to {MOST_EASED / 10.0:.0f} cm wider" in fit_full_bust.sentence
    for little in (replace(bust, highest=0.14), replace(bust, mean=0.02, highest=0.16)):
        assert not list(answer_folds(WornFigures((little,), 860.0, 840.0), sheet))
    # Where the proof warns of the same, less is enough: 18 % of 30 % is hard by itself.
    hard = WornFigures((replace(bust, highest=0.18),), 860.0, 840.0)
    warned = [replace(fold, warned=fold.situation == "toile-bust-fuller") for fold in sheet]
    assert [len(list(answer_folds(hard, folds))) for folds in (sheet, warned)] == [0, 1]


def test_each_fold_that_figures_tell_has_its_row_and_its_change() -> None:
    """Drawn across arm, waist and hip; one shoulder, one side of the hem, an edge that gapes; little is none."""
    sleeves = ((draft_set_in_sleeve, {}),)
    advise = job_of("basic-tee").advise
    sheet = fitting_sheet(build(brief(), BODY, sleeves), brief(), advise).folds
    arms = {Side.LEFT: DrawnCloth(0.19, 0.3), Side.RIGHT: DrawnCloth(0.06, 0.3)}
    hems = {Side.LEFT: 860.0, Side.RIGHT: 840.0}
    places = Places(DrawnCloth(0.2, 0.3), arms, {Side.LEFT: 2.0, Side.RIGHT: 11.0}, hems, dict.fromkeys(hems, -600.0))
    levels = [LevelWorn(name, 0.2, 0.22, 0.21, 0.3, 0.0) for name in ("waist", "hip")]
    edges = Pressed("neck", 0.1, 40.0), Pressed("armhole", 0.1, 40.0)
    figures = WornFigures(tuple(levels), 860.0, 850.0, edges, places)
    told = [render(words, "cm") for words in answer_folds(figures, sheet)]
    asked = {
        "Waist": "more ease", "Hip": "more ease", "Upper arm": '"full-upper-arm"',
        "One shoulder": '"low-shoulder"', "Hem": '"high-hip"', "Front neckline": "neckline",
        "Front armhole": "full bust",
    }  # fmt: skip
    assert [words.partition(":")[0] for words in told] == list(asked)
    assert all(answer in words for answer, words in zip(asked.values(), told, strict=True))
    assert "in the left sleeve" in told[2]
    assert "right shoulder stands 0.9 cm farther" in told[3]
    assert "2.0 cm higher on the left" in told[4]
    calmer = Places(
        DrawnCloth(0.16, 0.3), {Side.LEFT: DrawnCloth(0.16, 0.3)}, {Side.LEFT: 5.0, Side.RIGHT: 9.0}, hems, hems
    )
    loose = tuple(replace(level, by_girth=0.1) for level in levels)
    assert not list(answer_folds(WornFigures(loose, 860.0, 850.0, (), calmer), sheet))
    after = [render(words, "cm") for words in tell_changes(figures, replace(figures, places=calmer))]
    assert "The cloth round the left upper arm is stretched by 19 % before and 16 % after." in after
    assert "One shoulder's end stands farther off the body than the other: by 0.9 cm before and 0.4 cm after." in after


def test_a_whole_band_is_painted_in_its_own_grey_throughout() -> None:
    """No dot of it falls into the band below by rounding."""
    placed = np.array([[0.3, 0.1, 1.0], [39.7, 0.9, 1.0], [0.7, 39.3, 1.0]])
    dots, depth = np.zeros((44, 44, 3)), np.full((44, 44), -np.inf)
    flats, marks = np.array([[0.0] * 3] * 6 + [[1.0] * 3]), np.tile([6.0, np.nan, np.nan], (3, 1))
    paint_triangles(placed, np.array([[0, 1, 2]]), np.ones((3, 3)), np.ones(3), marks, flats, dots, depth)
    assert (dots[depth > 0.0] == 255.0).all()


def test_the_scale_is_told_apart_in_grey() -> None:
    """Each band is darker than the one before by a tenth of all, and none has a colour to be confused."""
    assert all(len(set(band)) == 1 for band in BANDS)
    assert (np.diff([band[0] for band in BANDS]) < -0.1).all()


def test_what_is_cut_off_a_mesh_leaves_it_closed() -> None:
    """Half of a box has half of its volume, and no edge that belongs to one triangle alone in its place."""
    points, faces = box(50.0)
    for at, share in ((0.0, 0.5), (25.0, 0.75)):
        cut, left = clip_mesh(points, faces, np.array([0.0, at, 0.0]), np.array([0.0, 1.0, 0.0]))
        assert cut[left][:, :, 1].max() <= at
        a, b, c = (cut[left[:, k]] for k in range(3))
        assert (a * np.cross(b, c)).sum() / 6.0 == pytest.approx(share * 100.0**3)


def test_words_have_ink() -> None:
    """As wide as they are measured, and none beyond."""
    dots = np.full((TALL, 120, 3), 255, dtype=np.uint8)
    write_words(dots, "20 %", 0, 4)
    inked = np.nonzero((dots < 128).any(axis=(0, 2)))[0]
    assert (dots[:, :4] == 255).all()
    assert 4 <= inked.min() < inked.max() < 4 + measure_words("20 %")


def test_a_sealed_picture_is_a_sound_png() -> None:
    """Its chunks have their check sums (ISO/IEC 15948) though the seal was put in last, and the seal is read again."""
    dots = np.arange(5 * 4 * 3, dtype=np.uint8).reshape(5, 4, 3)
    data = seal_file(write_png(dots), "wear", "ABCDEF")
    at, chunks = 8, {}
    while at < len(data):
        size = struct.unpack(">I", data[at : at + 4])[0]
        kind, held = data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        assert struct.unpack(">I", data[at + 8 + size : at + 12 + size])[0] == zlib.crc32(kind + held)
        chunks[kind] = held
        at += 12 + size
    rows = zlib.decompress(chunks[b"IDAT"])
    assert [rows[i * 13 + 1 : i * 13 + 13] for i in range(5)] == [row.tobytes() for row in dots]
    seal = read_seal(data[:SEAL_WITHIN])
    assert seal is not None
    assert (seal.command, seal.draft, seal.size, SEAL_ROOM.encode() in data) == ("wear", "ABCDEF", len(data), False)


def test_without_its_packages_it_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """In one sentence, before anything is drafted."""
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None)
    ran = run(capsys, "wear", "--demo", "--out", str(tmp_path / "out"))
    assert ran.status == 2
    assert "numba" in ran.err
    assert "blockwright[worn]" in ran.err


def test_a_garment_that_hangs_otherwise_has_another_name() -> None:
    """By its wearer, its pieces and its cloth: nothing that is kept of another is told of it."""
    soprano, cloths = singer("soprano"), {"main": JERSEY}
    garment = build(brief(), BODY)
    larger = Body(soprano.name, {**soprano.values, "upper_arm_girth": 300.0}, rules=soprano.rules)
    sleeved = build(brief(), BODY, ((draft_set_in_sleeve, {}),))
    names = [name_drape(garment, soprano, cloths), name_drape(garment, larger, cloths),
             name_drape(sleeved, soprano, cloths), name_drape(garment, soprano, {"main": RIB})]  # fmt: skip
    assert len(set(names)) == 4
    assert name_drape(garment, soprano, cloths) == names[0]
