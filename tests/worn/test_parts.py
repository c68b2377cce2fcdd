"""The parts of a drape, each on something small enough to be reckoned by hand; no loop is compiled here."""

from __future__ import annotations

import math
import struct
import zlib

import numpy as np
import pytest

from drafting.garment import Face, Garment
from drafting.seal import SEAL_ROOM, SEAL_WITHIN, read_seal, seal_file
from drafting.worn import cloth, distance
from drafting.worn.cloth import make_cloth, run_cloth, set_pace, stand_grids, stiffness_of
from drafting.worn.distance import DistanceGrid, make_grid
from drafting.worn.landmarks import cut_edges, measure_hull
from drafting.worn.mesh import CannotWear, mesh_garment
from drafting.worn.picture import paint_triangles, write_png
from drafting.worn.placing import sort_pieces
from drafting.worn.scenes import colour_shares
from drafting.worn.shape import Floats
from drafting.worn.solver import Standing
from drafting.worn.soundness import distances_from_body, edges_of, is_pierced, share_crossed
from tests.garment.small import darted, seam, sheet, tube
from tests.garments import JERSEY

CLOTHS = {"main": JERSEY}


@pytest.fixture(autouse=True)
def _slowly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Loops run as they are written: on so little, compiling them would take longer."""
    for module in (cloth, distance):
        monkeypatch.setattr(module, "compile_loop", lambda loop, *_: loop)


def nothing() -> Standing:
    """A body that nothing meets."""
    return stand_grids([DistanceGrid(np.full(3, 9000.0), 6.0, np.full((2, 2, 2), 50.0, dtype=np.float32))])


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


def test_a_sheet_that_hangs_is_as_long_as_its_weight_makes_it() -> None:
    """The closed form: a strip of length L, of weight g an area and stiffness k, grows by g L2 / (2 k)."""
    strip = sheet("strip", width=40.0, height=200.0)
    mesh = mesh_garment(Garment((strip,)), (strip,), 40.0)
    at = np.concatenate([mesh.flat, np.zeros((len(mesh.flat), 1))], axis=1)
    made = make_cloth(mesh, at, CLOTHS, {}, closed=True, inert=cloth.INERT)
    made.points.w[mesh.flat[:, 1] > 199.0] = 0.0
    heavy = 60.0
    run_cloth(made, nothing(), set_pace(1 / 2400, gravity=heavy, damping=40.0), 800)
    weight = cloth.WEIGHT[JERSEY.kind] * cloth.GRAVITY * heavy
    longer = weight * 0.2**2 / (2.0 * stiffness_of(JERSEY)[1])
    assert -made.x[mesh.flat[:, 1] < 1.0, 1].mean() == pytest.approx(longer, rel=0.05)


def test_a_tube_on_a_cylinder_is_stretched_by_their_girths() -> None:
    """The closed form: its points lie on a circle of so much more than the cylinder's radius; none slides off."""
    garment = Garment((sheet("round", width=600.0, height=60.0),), (seam("s", ("round.right", "-round.left")),))
    mesh = mesh_garment(garment, garment.pieces, 50.0)
    angle = mesh.flat[:, 0] / 600.0 * 2.0 * math.pi
    at = np.stack([110.0 * np.sin(angle), mesh.flat[:, 1], 110.0 * np.cos(angle)], axis=1)
    made = make_cloth(mesh, at, CLOTHS, {}, closed=True)
    run_cloth(made, stand_grids([cylinder(100.0)]), set_pace(1 / 1200, gravity=0.0, damping=20.0), 150)
    radius = np.hypot(made.x[:, 0], made.x[:, 2]) * 1000.0
    assert radius == pytest.approx(np.full(len(radius), 101.0), abs=0.5)


def cylinder(radius: float) -> DistanceGrid:
    """Distances from an upright cylinder, as a grid holds them."""
    start, cell = np.array([-130.0, -30.0, -130.0]), 10.0
    x, _, z = np.meshgrid(*(start[k] + cell * np.arange(n) for k, n in enumerate((27, 13, 27))), indexing="ij")
    return DistanceGrid(start, cell, (np.hypot(x, z) - radius).astype(np.float32))


def box(size: float) -> tuple[Floats, np.ndarray[tuple[int, int], np.dtype[np.int64]]]:
    """A box about 0, its triangles turned outwards."""
    points = np.array([[x, y, z] for x in (-size, size) for y in (-size, size) for z in (-size, size)])
    faces = [[0, 1, 3, 2], [4, 6, 7, 5], [0, 4, 5, 1], [2, 3, 7, 6], [0, 2, 6, 4], [1, 5, 7, 3]]
    return points, np.array([t for a, b, c, d in faces for t in ((a, b, c), (a, c, d))])


def test_distances_from_a_box_are_those_reckoned() -> None:
    """Below 0 within; from a face, an edge and a corner; and as the loop reads them between the grid's corners."""
    points, faces = box(30.0)
    grid = make_grid(points, faces, np.full(3, -48.0), np.full(3, 48.0), 12.0)
    asked = np.array([[0.0, 0.0, 0.0], [36.0, 0.0, 0.0], [24.0, 0.0, 0.0], [36.0, 36.0, 0.0], [36.0, 36.0, 36.0]])
    found = distances_from_body(stand_grids([grid]), asked)
    assert found[1:] == pytest.approx([6.0, -6.0, math.hypot(6.0, 6.0), math.sqrt(108.0)], abs=0.01)
    assert found[0] < -20.0


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


def test_cloth_through_itself_is_counted() -> None:
    """Two strips crossed, and one that only touches its neighbour."""
    flat = np.array([[0.0, 0.0, 0.0], [0.02, 0.0, 0.0], [0.0, 0.02, 0.0], [0.02, 0.02, 0.0]])
    upright = np.array([[0.005, 0.005, -0.01], [0.005, 0.005, 0.01], [0.012, 0.004, 0.01]])
    points = np.concatenate([flat, upright])
    neighbours = np.array([[0, 1, 2], [1, 3, 2]])
    assert share_crossed(points, neighbours) == 0.0
    assert share_crossed(points, np.concatenate([neighbours, [[4, 5, 6]]])) > 0.3


def test_nearer_triangles_are_painted_over_farther_ones() -> None:
    """Whichever comes first."""
    placed = np.array([[0.0, 0.0, z] for z in (1.0, 2.0)] + [[20.0, 0.0, z] for z in (1.0, 2.0)]
                      + [[0.0, 20.0, z] for z in (1.0, 2.0)])  # fmt: skip
    colours = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]] * 3)
    for order in ([[0, 2, 4], [1, 3, 5]], [[1, 3, 5], [0, 2, 4]]):
        dots, depth = np.zeros((12, 12, 3)), np.full((12, 12), -np.inf)
        paint_triangles(placed, np.array(order), colours, np.ones(6), dots, depth)
        assert dots[4, 4].tolist() == [0.0, 255.0, 0.0]


def test_the_scale_is_told_apart_in_grey() -> None:
    """Each share is darker than the one before (luminance by ITU-R BT.709)."""
    grey = (colour_shares(np.linspace(0.0, 1.0, 21)) * np.array([0.2126, 0.7152, 0.0722])).sum(axis=1)
    assert (np.diff(grey) < -0.015).all()


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
