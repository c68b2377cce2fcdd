"""A tee draped from its ticket's figures to its picture, coarsely; cloth that closed forms tell of; what is refused.

Here alone loops are compiled, once for all of these tests.
"""

from __future__ import annotations

import json
import math
import struct
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import trimesh

from blocks.sleeve import draft_set_in_sleeve
from drafting.cli.worn_picture import find_picture
from drafting.cloth import Stripe
from drafting.garment import Closure, Face, Garment, Role
from drafting.garment.carry import with_features
from drafting.garment.closure import button
from drafting.geometry import Point
from drafting.saying import render
from drafting.seal import SEAL_WITHIN, read_seal, seal_file
from drafting.worn import Worn, cloth, dress_body
from drafting.worn.cloth import make_cloth, run_cloth, set_pace, stand_grids, stiffness_of
from drafting.worn.distance import DistanceGrid
from drafting.worn.doubtful import WITHIN_FORM, find_doubtful, measure_within
from drafting.worn.fastenings import find_fastenings, tell_closed
from drafting.worn.figures import MEAN_OFF, take_figures, take_strains
from drafting.worn.form import make_form
from drafting.worn.gaping import find_gapes
from drafting.worn.mesh import mesh_garment
from drafting.worn.model import write_glb
from drafting.worn.placing import place_pieces
from drafting.worn.pressing import press_at
from drafting.worn.scenes import BANDS, Draped, band_strain, colour_cloth, frame_views, name_views, paint_beside
from drafting.worn.smoothing import smooth_over
from drafting.worn.solver import Standing
from drafting.worn.soundness import find_voids
from drafting.worn.telling import worn_document
from drafting.worn.yielding import press_form
from tests.cli.running import PLAIN, run
from tests.garment.small import seam, sheet
from tests.garments import BODY, JERSEY, brief, build, singer

COARSE = 24.0
LONGER = """
[[changes]]
change = "lengthen"
by = 3
"""


@cache
def worn() -> Worn:
    """The soprano in a plain tee of jersey."""
    sleeves = ((draft_set_in_sleeve, {"of_arm": 0.38}),)
    return dress_body(build(brief(), BODY, sleeves), singer("soprano"), {"main": JERSEY}, step=COARSE)


def test_the_body_has_the_wearers_girths() -> None:
    """Each within 5 mm, which is as near as two tapings of one person are."""
    taken = {each.name: each.off for each in worn().fitted.taken}
    assert {name for name, off in taken.items() if name.endswith("girth") and abs(off) > 5.0} == set()
    assert not worn().fitted.missed


def test_a_tee_is_draped_and_not_void() -> None:
    """Its seams shut, its arms in their armholes, at rest, about as far down as it was drafted."""
    assert find_voids(worn()) == ()
    figures = take_figures(worn(), singer("soprano"), {"main": JERSEY})
    assert [level.name for level in figures.levels] == ["bust", "waist", "hip"]
    for level in figures.levels:
        assert level.mean - max(level.by_girth, 0.0) == pytest.approx(0.0, abs=0.04)
        assert abs(level.height) < 60.0
    assert abs(figures.hem_front - figures.hem_back) < 60.0
    assert all(0.0 < each.mean < 1.0 for each in (*figures.levels_pressed, *figures.edges))
    assert [each.name for each in figures.edges] == ["neck", "armhole"]
    neck, armhole = figures.edges
    assert armhole.off == 0.0 < neck.off < 40.0
    assert [part.name for part in figures.sleeves] == ["sleeve cap", "upper arm"]
    figures = replace(figures, hem_front=850.0, hem_back=850.0)
    gaping = replace(figures, edges=(replace(neck, off=45.0), armhole))
    assert any("gapes" in words for words in worn_document(worn(), gaping, "cm", "")["lengths"])
    for longer, told in ((15.0, 3), (25.0, 4)):
        bust, waist, hip = (replace(level, height=0.0) for level in figures.levels)
        shown = replace(figures, levels=(bust, waist, replace(hip, height=longer)))
        assert len(worn_document(worn(), shown, "cm", "")["lengths"]) == told
    for height, said in ((25.0, "rides up"), (-25.0, "lie up to 2.5 cm below"), (15.0, "")):
        shown = replace(figures, levels=tuple(replace(level, height=height) for level in figures.levels[:2]))
        document = worn_document(worn(), shown, "cm", "")
        assert bool(said) is (len(document["lengths"]) > 3)
        assert said in " ".join(document["lengths"])


def test_map_and_table_tell_the_same() -> None:
    """The most stretched of a level is so on the map, and black only beyond what it may be off by."""
    smooth = smooth_over(worn().mesh, take_strains(worn())[0])
    shown = band_strain(worn(), {"main": replace(JERSEY, stretch_across=0.01)})
    black = np.nonzero(shown >= len(BANDS) - 1)[0]
    assert set(black) <= set(worn().mesh.triangles[smooth > 0.01 + MEAN_OFF].ravel())
    assert take_figures(worn(), singer("soprano"), {"main": JERSEY}).levels[0].highest <= smooth.max()


def moved(across: float, up: float) -> Worn:
    """The tee so far away (m) from where it hangs."""
    held = worn().cloth
    return replace(worn(), cloth=replace(held, points=held.points._replace(x=held.x + np.array([across, up, 0.0]))))


def test_a_girth_is_taken_below_the_arms() -> None:
    """However far up the garment has slid: there a tape would go round what the arms grow out of."""
    found = [take_figures(moved(0.0, up), singer("soprano"), {"main": JERSEY}).levels[0] for up in (0.0, 0.08)]
    assert found[1].by_girth == pytest.approx(found[0].by_girth, abs=0.02)


def test_a_sleeve_is_rolled_shut_at_its_narrow_edge_too() -> None:
    """Before it is sewn: rolled as wide as at the underarm, its edge would be drawn shut beside the arm."""
    found = worn()
    at = place_pieces(found.mesh, found.laid, found.posed)
    for each, start in zip(found.mesh.pieces, found.mesh.starts, strict=True):
        if each.piece in found.laid.sleeves:
            (_, edge) = each.places[each.piece.lines(role=Role.WRIST)[0].name]
            narrower = np.ptp(each.flat[:, 0]) - np.ptp(each.flat[edge, 0])
            gap = math.dist(at[start + edge[0]], at[start + edge[-1]])
            assert gap < 0.5 * narrower


def test_no_cloth_is_drawn_beyond_its_stretch_beside_the_neck() -> None:
    """The form's neck base is the wearer's: nothing is hatched, its pressure told; none lies deep within the form."""
    aside = moved(0.03, 0.0)
    bodies = aside.posed, replace(aside.posed, points=press_form(aside))
    deep, pressed = (measure_within(replace(aside, posed=each)) for each in bodies)
    assert measure_within(worn()).max() < WITHIN_FORM < deep.max()
    assert (pressed > 1.0).sum() < (deep > 1.0).sum() / 20.0, "the form gives way to what lies within it"
    made, cloths = worn(), {"main": JERSEY}
    assert not (band_strain(made, cloths) >= len(BANDS) - 1).any()
    assert not find_doubtful(made).any()
    document = worn_document(made, take_figures(made, singer("soprano"), cloths), "cm", "")
    assert not document["missed"]
    assert any("the neck" in words for words in document["lengths"])


def test_nothing_is_told_where_the_forms_neck_isnt_the_wearers() -> None:
    """Where the mesh can't follow a neck base, the cloth beside it is hatched, and that is said."""
    taken = [each if each.name != "neck_base_girth" else replace(each, reached=each.asked + 8.0)
             for each in worn().fitted.taken]  # fmt: skip
    made, cloths = replace(worn(), fitted=replace(worn().fitted, taken=tuple(taken))), {"main": JERSEY}
    assert 0.0 < find_doubtful(made).mean() < 0.1
    figures = take_figures(made, singer("soprano"), cloths)
    assert [each.doubtful for each in figures.edges] == [True, False]
    document = worn_document(made, figures, "cm", "")
    assert ["hatched" in words for words in document["missed"]] == [False, True]
    assert not any("the neck" in words for words in document["lengths"])


def test_a_drape_that_is_void_says_so_and_nothing_else() -> None:
    """An arm outside its armhole: no figure is drawn from it."""
    made = moved(0.25, 0.0)
    told = worn_document(made, take_figures(made, singer("soprano"), {"main": JERSEY}), "cm", "")
    assert any("arm isn't in its armhole" in words for words in told["voids"])
    assert told["levels"] == told["lengths"] == []


def test_both_sides_hang_alike() -> None:
    """A garment and a body that are the same left and right: the hem's middle lies at the middle."""
    assert worn().points[:, 0].mean() == pytest.approx(0.0, abs=6.0)  # on half the mesh; on the whole within 0.5


def test_the_model_holds_the_body_and_the_garment() -> None:
    """As glTF 2.0 has it: a head, a chunk of JSON that says what lies where, a chunk of numbers; in metres."""
    data = seal_file(write_glb(worn(), {"main": JERSEY}), "wear", "ABCDEF")
    magic, version, size, length, kind = struct.unpack("<4sIII4s", data[:20])
    assert (magic, version, size, kind) == (b"glTF", 2, len(data), b"JSON")
    document = json.loads(data[20 : 20 + length])
    numbers = data[28 + length :]
    assert document["buffers"][0]["byteLength"] == len(numbers)
    garment = document["meshes"][1]["primitives"][0]
    places = document["accessors"][garment["attributes"]["POSITION"]]
    view = document["bufferViews"][places["bufferView"]]
    held = np.frombuffer(numbers, "<f4", 3 * places["count"], view["byteOffset"]).reshape(-1, 3)
    assert held == pytest.approx(worn().points / 1000.0, abs=1e-5)
    corners = document["bufferViews"][document["accessors"][garment["indices"]]["bufferView"]]
    found = np.frombuffer(numbers, "<u4", corners["byteLength"] // 4, corners["byteOffset"])
    assert found.reshape(-1, 3).tolist() == worn().mesh.triangles.tolist()
    seal = read_seal(data[:SEAL_WITHIN])
    assert seal is not None
    assert (seal.command, seal.size) == ("wear", len(data))


def test_the_model_shows_stripes_and_says_that_a_drape_is_void() -> None:
    """As another reader finds it: a picture of one repeat, as many repeats along a piece as its length has; a sign."""
    striped = {"front": ((Stripe(30.0, "across"), 7.0),)}
    data = write_glb(worn(), {"main": JERSEY}, striped, void=True)
    scene = trimesh.load(BytesIO(data), file_type="glb")
    assert set(scene.geometry) == {"form", "garment (VOID)", "garment, striped main (VOID)", "VOID"}
    front, start = worn().mesh.find_piece("front")
    shown = scene.geometry["garment, striped main (VOID)"]
    assert len(shown.faces) == len(front.triangles)
    assert len(shown.faces) + len(scene.geometry["garment (VOID)"].faces) == len(worn().mesh.triangles)
    tall = float(np.ptp(front.flat[:, 1]))
    assert np.ptp(shown.visual.uv[:, 0]) == pytest.approx(tall / 30.0, abs=0.01)
    picture = np.asarray(shown.visual.material.baseColorTexture.convert("L"), dtype=float)
    assert abs(picture[:, 0].mean() - picture[:, picture.shape[1] // 2].mean()) > 20.0
    assert shown.bounds[:, 1] * 1000.0 == pytest.approx(
        [worn().points[start:, 1][: len(front.flat)].min(), worn().points[start:, 1][: len(front.flat)].max()], abs=0.1
    )
    assert scene.geometry["VOID"].bounds[1, 2] > shown.bounds[1, 2]
    assert b'"extras":{"void":true}' in data
    assert b"VOID" not in write_glb(worn(), {"main": JERSEY})


def nothing() -> Standing:
    """A body that nothing meets."""
    return stand_grids([DistanceGrid(np.full(3, 9000.0), 6.0, np.full((2, 2, 2), 50.0, dtype=np.float32))])


def test_a_sheet_that_hangs_is_as_long_as_its_weight_makes_it() -> None:
    """The closed form: a strip of length L, of weight g an area and stiffness k, grows by g L2 / (2 k)."""
    strip = sheet("strip", width=40.0, height=200.0)
    mesh = mesh_garment(Garment((strip,)), (strip,), 40.0)
    at = np.concatenate([mesh.flat, np.zeros((len(mesh.flat), 1))], axis=1)
    made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True, inert=cloth.INERT)
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
    made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True)
    run_cloth(made, stand_grids([cylinder(100.0)]), set_pace(1 / 1200, gravity=0.0, damping=20.0), 150)
    radius = np.hypot(made.x[:, 0], made.x[:, 2]) * 1000.0
    assert radius == pytest.approx(np.full(len(radius), 101.0), abs=0.5)


def test_a_tube_presses_on_a_cylinder_by_its_pull_and_its_radius() -> None:
    """The closed form: pull over radius (Laplace); all round a tube that is 2 pi times its pull for each height."""
    wide, high = 600.0, 45.0
    garment = Garment((sheet("round", width=wide, height=high),), (seam("s", ("round.right", "-round.left")),))
    mesh = mesh_garment(garment, garment.pieces, 15.0)
    angle = mesh.flat[:, 0] / wide * 2.0 * math.pi
    at = np.stack([103.0 * np.sin(angle), mesh.flat[:, 1], 103.0 * np.cos(angle)], axis=1)
    made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True, inert=cloth.INERT)
    still, steps = set_pace(1 / 4800, gravity=0.0, damping=60.0), 300
    for _ in range(2):
        made.points.push[:] = 0.0
        run_cloth(made, stand_grids([cylinder(100.0)]), still, steps)
    tube = replace(worn(), mesh=mesh, cloth=made, pushed_for=steps)
    pull = stiffness_of(JERSEY)[0] * (2.0 * math.pi * 101.0 / wide - 1.0)
    asked = 2.0 * math.pi * pull / (wide / 1000.0) / 1000.0
    assert press_at(tube, np.arange(len(mesh.flat))) == pytest.approx(asked, rel=0.1)


def test_cloth_lies_on_cloth() -> None:
    """Two sheets nearer to each other than cloth is thick: they part, and no more than that."""
    pieces = sheet("under", width=60.0, height=120.0), sheet("over", width=60.0, height=120.0)
    mesh = mesh_garment(Garment(pieces), pieces, 20.0)
    over = np.arange(len(mesh.flat)) >= mesh.starts[1]
    at = np.concatenate([mesh.flat, np.where(over, 3.0, 0.0)[:, None]], axis=1)
    for thick, found in ((0.0, 3.0), (0.012, 12.0)):
        made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True)
        run_cloth(made, nothing(), set_pace(1 / 2400, gravity=0.0, damping=1000.0), 200, thick=thick)
        apart = made.x[over, 2].mean() - made.x[~over, 2].mean()
        assert 1000.0 * apart == pytest.approx(found, abs=1.0)


def cylinder(radius: float, levels: int = 13) -> DistanceGrid:
    """Distances from an upright cylinder, as a grid holds them."""
    start, cell = np.array([-130.0, -30.0, -130.0]), 10.0
    x, _, z = np.meshgrid(*(start[k] + cell * np.arange(n) for k, n in enumerate((27, levels, 27))), indexing="ij")
    return DistanceGrid(start, cell, (np.hypot(x, z) - radius).astype(np.float32))


def test_what_is_kept_is_told_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A garment that hasn't changed isn't draped again; its small picture is that of its draft, and of no other."""
    draped = []

    def drape_coarsely(*words: object, **_: object) -> Worn:
        draped.append(words)
        return worn()

    monkeypatch.setattr("drafting.worn.dressing.dress_body", drape_coarsely)
    monkeypatch.setattr("drafting.worn.scenes._TALL", 60)
    monkeypatch.setattr("drafting.worn.scenes.SMALL_DOTS", 60)
    ticket = tmp_path / "soprano.toml"
    ticket.write_text(PLAIN, encoding="utf-8")
    out = tmp_path / "out"
    words = ("wear", str(ticket), "--out", str(out))
    first, second = run(capsys, *words), run(capsys, *words)
    assert (first.status, first.out, len(draped)) == (0, second.out, 1)
    assert 'colour = "blue" in [cloth]' in " ".join(first.out.split())
    assert set(json.loads((out / "worn.json").read_text())) >= {"drape", "levels", "voids"}
    lines = ElementTree.parse(out / "worn.svg").getroot()
    views = lines.findall(".//{http://www.w3.org/2000/svg}path")
    assert len(views) == 4
    assert all(view.get("d", "").count("M") > 8 for view in views)
    seal = read_seal((out / "worn-small.png").read_bytes()[:SEAL_WITHIN])
    assert seal is not None
    found = find_picture((tmp_path, out), seal.draft)
    assert found is not None
    assert found.file == (out / "worn-small.png").read_bytes()
    assert find_picture((tmp_path, out), "ABCDEF") is None
    same = run(capsys, *words, "--before", str(ticket))
    assert (same.status, "the same garment" in same.err, len(draped)) == (2, True, 1)
    longer = tmp_path / "longer.toml"
    longer.write_text(PLAIN + LONGER, encoding="utf-8")
    beside = run(capsys, *words, "--before", str(longer))
    assert (beside.status, len(draped)) == (0, 3)
    assert "makes no difference" in " ".join(beside.out.split())
    assert (out / "before-and-after.png").read_bytes().startswith(b"\x89PNG")
    larger = tmp_path / "larger.toml"
    larger.write_text(PLAIN.replace("upper_arm_girth = 29", "upper_arm_girth = 30"), encoding="utf-8")
    other = run(capsys, *words, "--before", str(larger))
    assert (other.status, "other measurements" in other.err, len(draped)) == (2, True, 3)
    stiff = tmp_path / "stiff.toml"
    stiff.write_text(PLAIN.replace('"30 %"', '"12 %"'), encoding="utf-8")
    unproven = run(capsys, "wear", str(stiff), "--out", str(tmp_path / "stiff"))
    said = " ".join(unproven.out.split())
    assert (unproven.status, said.startswith("NOT PROVEN: "), said.count("blockwright prove ")) == (1, True, 1)


def test_what_is_buttoned_is_shown_closed() -> None:
    """Its edges meet on the line that the buttons stand on, as thick as they lap there; a disc lies on each button."""
    marked = with_features(sheet("under", 200.0, 120.0), (button(1, Point(200.0, 30.0)), button(2, Point(200.0, 90.0))))
    edges = (("a", "under.right"), ("b", "-over.left"))
    seams = tuple(replace(seam(name, (run,), kind="button-closure"), allowance=54.0, fold=15.0) for name, run in edges)
    closed = (Closure(Face.BACK, ("a", "b"), None, 12.0, 15.0),)
    garment = Garment((marked, sheet("over", 200.0, 120.0)), seams, closures=closed)
    mesh = mesh_garment(garment, garment.pieces, 10.0)
    at = np.concatenate([mesh.flat, np.zeros((len(mesh.flat), 1))], axis=1)
    at[mesh.starts[1] :, 0] += 200.0
    made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True)
    assert len(made.x) < len(mesh.flat)
    weights = np.bincount(made.point_of, minlength=len(made.x)) * 0.0 + 1.0 / made.points.w
    near = np.abs(made.x[:, 0] - 0.2) < 0.004
    inner = np.abs(made.x[:, 1] - 0.06) < 0.045
    assert weights[near & inner].mean() > 3.0 * weights[~near & inner & (np.abs(made.x[:, 0] - 0.2) < 0.15)].mean()
    shown = find_fastenings(replace(worn(), mesh=mesh, cloth=made))
    middles = shown.points[np.unique(shown.triangles[:, 0])]
    assert middles[:, :2] == pytest.approx(np.array([[200.0, 30.0], [200.0, 90.0]]), abs=0.5)
    assert (middles[:, 2] > 0.0).all()
    ends = shown.points[shown.lines].reshape(-1, 3)
    assert ends[:, 0].min() == pytest.approx(185.0, abs=0.5)
    assert "2 buttons" in " ".join(render(words, "cm") for words in tell_closed(garment))


def test_edges_gape_between_buttons_by_their_pull() -> None:
    """The closed form of a slit in a pulled sheet (Sih, Paris, Irwin 1965), within a seventh; slack ones don't gape."""
    across, along, shear = stiffness_of(JERSEY)
    soft = math.sqrt((math.sqrt(along / across) + along / shear / 2.0) / (2.0 * across * along))
    for wide, pulled in ((595.0, True), (700.0, False)):
        marks = [button(n, Point(wide, y)) for n, y in enumerate((50.0, 100.0, 175.0))]
        runs = (("a", "round.right"), ("b", "-round.left"))
        closed = (Closure(Face.BACK, ("a", "b"), None, 12.0, 15.0),)
        seams = tuple(seam(name, (run,), kind="button-closure") for name, run in runs)
        garment = Garment((with_features(sheet("round", wide, 200.0), marks),), seams, closures=closed)
        mesh = mesh_garment(garment, garment.pieces, 25.0)
        angle = mesh.flat[:, 0] / wide * 2.0 * math.pi
        at = np.stack([101.0 * np.sin(angle), mesh.flat[:, 1], 101.0 * np.cos(angle)], axis=1)
        made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True)
        tube = replace(worn(), mesh=mesh, cloth=made, standing=stand_grids([cylinder(100.0, 30)]))
        gapes = find_gapes(tube, {"main": JERSEY}, take_strains(tube)[0], {"waist": 140.0, "hip": 70.0})
        asked = [2.0 * across * each.pulled * soft * long for each, long in zip(gapes, (75.0, 50.0), strict=True)]
        found = [each.wide for each in gapes]
        assert found == pytest.approx(asked, rel=0.15) if pulled else max(found) < 2.0
        assert [each.is_open for each in gapes] == [pulled, pulled]
        assert [each.level for each in gapes] == ["waist", "hip"]


def test_a_void_drape_is_marked_in_its_picture() -> None:
    """Large, across each of its views, so that it isn't taken for a garment's."""
    sound, void = (paint_beside({"": Draped(worn(), {"main": JERSEY}, {}, mark)}, 120) for mark in (False, True))
    assert all(view.mean() > 0.01 for view in np.array_split(void < sound, 4, axis=1))


def test_a_view_shows_the_overlays_side_and_all_of_the_form() -> None:
    """From the left where it hangs over that, else from the right; no arm is cut off; white stays white."""
    for side in ("left", "right"):
        sleeved = replace(worn(), laid=replace(worn().laid, layers={f"sleeve-{side}": 1}))
        assert name_views(sleeved)[1] == f"from its {side} side"
    form = make_form(worn())
    assert 2.0 * np.abs(form.points[np.unique(form.faces), 0]).max() < frame_views(worn(), form)[2]
    white, blue = (colour_cloth(worn(), {"main": replace(JERSEY, colour=each)}).min() for each in ("white", "blue"))
    assert white == 1.0 > blue
