"""What is said of figures and of what can't be draped; nothing is draped here."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from drafting.garment import Garment
from drafting.job import draft_job
from drafting.output.worn_svg import worn_svg
from drafting.proof.words.fitting import fitting_sheet
from drafting.saying import render
from drafting.worn import CannotWear
from drafting.worn.cloth import WEIGHT, make_cloth
from drafting.worn.figures import LevelWorn, WornFigures
from drafting.worn.folding import FOLDS_OFF, cross_mesh, measure_length, smooth_column
from drafting.worn.mesh import mesh_garment
from drafting.worn.placing import sort_pieces
from drafting.worn.sleeves import SleevePart
from drafting.worn.telling import tell_lengths
from tests.blocks_woven.people import POPLIN
from tests.cli.running import PLAIN, run
from tests.garment.small import sheet
from tests.garments import BODY, brief, build
from tests.laws.jobs import job_of

BUTTONED = """
[[changes]]
change = "closure"
place = "back"
kind = "buttons"
"""


def test_what_a_level_isnt_told_of_is_said() -> None:
    """That cloth has less than it is stretched by, that the bust has no line; a hem drawn up; what can't catch."""
    level = LevelWorn("hip", 0.02, 0.1, -0.3, 0.3, 0.0)
    calm = WornFigures((replace(level, name="bust"), level), 850.0, 850.0)
    folds = fitting_sheet(build(brief(), BODY), brief(), job_of("basic-tee").advise).folds
    for shown, said in (
        (calm, ""),
        (replace(calm, levels=(level,)), "Nothing is told of the chest"),
        (replace(calm, hem_front=875.0), "rises 2.5 cm in front"),
        (replace(calm, hem_front=875.0), 'change = "full-bust"'),
        (replace(calm, hem_back=875.0), "rises 2.5 cm behind"),
        (replace(calm, hem_back=875.0, cut=-20.0), "cut 2.0 cm higher behind"),
        (replace(calm, hem_back=875.0, folded_back=20.0), "the folds above the seat take up"),
        (replace(calm, cut=-25.0), ""),
        (replace(calm, folded_back=20.0), "2.0 cm of the back's length lies in folds across, above the seat"),
        (replace(calm, folded_back=20.0, levels=(replace(level, by_girth=-0.2),)), "front's does: the back is hollow"),
        (replace(calm, folded_back=20.0, folded_front=15.0), "1.5 cm of the front's length lies in folds across, and"),
        (replace(calm, folded_front=15.0), "the front is longer there"),
        (replace(calm, folded_back=11.0), ""),
        (replace(calm, levels=(replace(calm.levels[0], height=25.0, unsure=True), level)), ""),
        (replace(calm, levels=tuple(replace(level, name=n, height=25.0) for n in ("waist", "hip"))), "waist and hip"),
        (replace(calm, levels=(calm.levels[0], replace(level, highest=0.32))), "look there first"),
        (replace(calm, levels=(calm.levels[0], replace(level, highest=0.36))), "too tight there"),
        (replace(calm, sleeves=(SleevePart("sleeve cap", 0.02, 0.36, 0.3, 0.0),)), "At the sleeve cap"),
    ):
        words = tell_lengths(replace(shown, called={"bust": "chest"}), folds)
        lengths = [render(each, "cm") for each in words]
        assert said in " ".join(lengths)
        assert said or len(lengths) == 1


def test_what_can_not_be_draped_is_refused_by_its_ticket(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Before the other one is draped."""

    def refuse(garment: Garment) -> None:
        if garment.closures:
            raise CannotWear("the odd can't be draped yet")

    monkeypatch.setattr("drafting.worn.dressing.dress_body", None)
    monkeypatch.setattr("drafting.worn.placing.sort_pieces", refuse)
    plain, odd = tmp_path / "plain.toml", tmp_path / "odd.toml"
    plain.write_text(PLAIN, encoding="utf-8")
    odd.write_text(PLAIN + BUTTONED, encoding="utf-8")
    ran = run(capsys, "wear", str(odd), "--before", str(plain), "--out", str(tmp_path / "out"))
    assert (ran.status, "odd.toml" in ran.err, "odd can't be draped" in ran.err) == (2, True, True)


def test_the_drawing_names_its_views() -> None:
    """And says of a void drape that it is."""
    drawing = worn_svg([[np.array([[0.0, 0.0], [1.0, 1.0]])]], (0.0, 10.0, 5.0), "Tee", "VOID", ("behind",))
    words = ElementTree.fromstring(drawing).findall("{http://www.w3.org/2000/svg}text")
    assert [each.text for each in words] == ["VOID", "behind"]


def test_a_fold_is_length_and_a_hollow_is_none() -> None:
    """A way down that turns back on itself for 2 cm has twice that more than the straight one; round a back, none."""
    down = np.concatenate([np.arange(0.0, 152.0, 4.0), np.arange(148.0, 128.0, -4.0), np.arange(128.0, 300.0, 4.0)])
    folded = np.column_stack([np.zeros_like(down), -down, np.zeros_like(down)])
    more = measure_length(folded) - measure_length(smooth_column(folded))
    assert more == pytest.approx(2.0 * 20.0 + 4.0, abs=FOLDS_OFF)
    turned = np.arange(0.0, 1.2, 4.0 / 250.0)
    hollow = 250.0 * np.column_stack([np.zeros_like(turned), np.cos(turned), np.sin(turned)])
    assert measure_length(hollow) - measure_length(smooth_column(hollow)) < FOLDS_OFF / 2.0
    piece = sheet("one", width=60.0, height=120.0)
    (mesh,) = mesh_garment(Garment((piece,)), (piece,), 24.0).pieces
    cut, hung = cross_mesh(mesh, np.pad(mesh.flat, ((0, 0), (0, 1))), 20.0)
    assert (cut[0], cut[-1]) == (pytest.approx(0.0), pytest.approx(120.0))
    assert hung[:, 0] == pytest.approx(20.0)
    assert hung[:, 1] == pytest.approx(cut)


def test_a_faced_edge_is_as_stiff_and_heavy_as_its_layers() -> None:
    """The cloth, its facing and that one's interfacing beside neck and armholes, two layers in the hem, else one."""
    garment = draft_job(job_of("sheath-dress"))
    mesh = mesh_garment(garment, sort_pieces(garment).pieces, 30.0)
    cloth = make_cloth(mesh, np.pad(mesh.flat, ((0, 0), (0, 1))), {"main": POPLIN}, {}, closed=True)
    one, two = (mesh.flat[mesh.triangles[:, k]] - mesh.flat[mesh.triangles[:, 0]] for k in (1, 2))
    areas = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2e6
    layers = (cloth.sheet.give[:, 1] * areas).max() / (cloth.sheet.give[:, 1] * areas)
    assert set(layers.round(6)) == {1.0, 2.0, 3.0}
    assert (1.0 / cloth.points.w).sum() == pytest.approx((layers * areas).sum() * WEIGHT[POPLIN.kind])
    for each, start in zip(mesh.pieces, mesh.starts, strict=True):
        neck = [start + each.places[line.name][1] for line in each.piece.ring if "neckline" in line.name]
        beside = np.isin(mesh.triangles, np.concatenate(neck)).sum(axis=1) == 2
        assert set(layers[beside].round(6)) == {3.0}
