"""The seam in the round: three layers, its ends and its order; the convex edge, the concave one; stays and labels."""

from __future__ import annotations

import numpy as np
import pytest

from drafting.garment import glue, openings
from drafting.garment.deeds import TURNED_OUT
from drafting.geometry import Path
from drafting.saying import render
from drafting.work import make_up
from tests.laws.jobs import outcome
from tests.overlay.tops import OTHER, garment, made, overlay_job

SIDES = pytest.mark.parametrize("side", ["left", "right"])
FACES = ("front", "back")


@SIDES
def test_it_is_proven_without_a_warning(side: str) -> None:
    """Net and cut."""
    what = made(side)
    assert (what.refused, what.broken) == ("", "")
    assert [render(f.sentence, "cm") for f in what.findings if f.severity == "warning"] == []
    assert {"overlay-edge", "overlay-hem"} <= {opening.name for opening in openings(garment(side))}
    assert "unnamed" not in {opening.name for opening in openings(garment(side))}


@SIDES
def test_the_neck_is_sewn_to_the_overlay_and_turned_before_the_diagonal_takes_three_layers(side: str) -> None:
    """The neck from V to V by itself, then the diagonal from V to V: main, small piece, overlay."""
    top = garment(side)
    neck = top.seam("covered-neck")
    layers = [[[use.piece for use in run] for run in section.plies] for section in neck.sections]
    assert layers == [[["back"], ["overlay-back"]], [["front"], ["overlay-front"]]]
    assert neck.hangs == (1,)
    assert neck.kind.lay == TURNED_OUT
    order = [task.seam for task in make_up(top)]
    assert order.index("covered-neck") < order.index("diagonal")
    layers = [[[use.piece for use in run] for run in section.plies] for section in top.seam("diagonal").sections]
    assert layers == [
        [["front"], ["shoulder-front"], ["overlay-front"]],
        [["back"], ["shoulder-back"], ["overlay-back"]],
    ]


@SIDES
def test_one_seam_in_the_round_takes_three_layers(side: str) -> None:
    """Topstitched: down the front's neck and diagonal, and up the back's: main, small piece, overlay."""
    top = outcome(overlay_job({"side": side, "covered_neck": "topstitched"})).garment
    assert top is not None
    far, seam = OTHER[side], top.seam("diagonal")
    layers = [[[use.piece for use in run] for run in section.plies] for section in seam.sections]
    assert layers == [
        [["front"], [], ["overlay-front"]],
        [["front"], ["shoulder-front"], ["overlay-front"]],
        [["back"], ["shoulder-back"], ["overlay-back"]],
        [["back"], [], ["overlay-back"]],
    ]
    assert seam.hangs == (2,)
    for section in seam.sections:
        lengths = [top.run_length(run) for run in section.plies if run]
        assert max(lengths) - min(lengths) < 0.01
        assert section.ease == (0.0, 0.0, 0.0)
    front, back = (top.path(section.plies[1][0]) for section in seam.sections[1:3])
    out = 1.0 if far == "left" else -1.0
    assert front.end.x * out > front.start.x * out + 150.0
    assert back.start.x * -out > back.end.x * -out + 150.0


@SIDES
def test_its_order(side: str) -> None:
    """After the covered shoulder, the far side seams, the over-arm seam and the binding, and the far shoulder first."""
    tasks = make_up(garment(side))
    place = {task.seam: i for i, task in enumerate(tasks)}
    far = OTHER[side]
    before = {f"side-{far}", f"side-{far}-below", "neck-binding"}
    assert before <= set(tasks[place["diagonal"]].before)
    assert {f"shoulder-{side}", "over-arm"} <= set(tasks[place["covered-neck"]].before)
    assert place["covered-neck"] < place[f"side-{far}-below"]
    assert f"shoulder-{far}" in tasks[place["neck-binding"]].before
    assert all(place[seam] < place["diagonal"] for seam in (*before, f"shoulder-{far}"))


@SIDES
def test_the_overlay_hangs_from_the_surface(side: str) -> None:
    """A top with sleeves has four openings; the overlay adds one that hangs, and no part of its own."""
    surface = glue(garment(side))
    assert surface.components == 1
    assert {o.name for o in surface.openings if not o.hangs} == {"neck", "wrist-left", "wrist-right", "hem"}


@SIDES
@pytest.mark.parametrize("face", FACES)
def test_the_convex_edge_is_the_longer(side: str, face: str) -> None:
    """Over the arm it bulges out of the piece; in the side seam it is hollow, and shorter (common practice)."""
    top = garment(side)
    piece = top.piece(f"overlay-{face}")
    over, caught = piece.line("over-arm").path, piece.line("caught").path
    assert over.length > caught.length + 100.0
    assert outside_chord(over) > 10.0
    assert outside_chord(caught) < -2.0
    assert turns(over)[0]
    assert turns(caught)[1]


def test_what_is_told_of_the_edges_is_what_they_are_sewn_to() -> None:
    """The convex edge is as long as the back's over the arm, the other as the main pieces' side seam beside it."""
    top = garment("right")
    assert top.fact("overlay_convex") == pytest.approx(top.run_length(top.seam("over-arm").plies[1]), abs=1e-3)
    sections = [section for seam in top.seams for section in seam.sections]
    caught = next(section for section in sections if any(use.line == "caught" for run in section.plies for use in run))
    mains = [run for run in caught.plies if run and run[0].piece in ("front", "back")]
    assert len(mains) == 2
    for main in mains:
        assert top.fact("overlay_concave") == pytest.approx(top.run_length(main), abs=1e-3)


def outside_chord(path: Path) -> float:
    """How far a ring's line bulges out of the piece at most (mm), less than 0 where it is hollow."""
    points = path.flatten()
    chord = points[-1] - points[0]
    aside = (points - points[0]) @ np.array((chord[1], -chord[0])) / np.hypot(*chord)
    return float(aside[np.abs(aside).argmax()])


def turns(path: Path) -> tuple[bool, bool]:
    """Whether a ring's line anywhere turns left (convex), and right (hollow), by more than half a degree."""
    steps = np.diff(path.flatten(0.01), axis=0)
    angles = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    net = angles - angles[0]
    return bool((net - np.minimum.accumulate(net)).max() > 0.01), bool((np.maximum.accumulate(net) - net).max() > 0.01)


CUT_ONCE = ("front", "back", "shoulder-front", "shoulder-back", "overlay-front", "overlay-back")


@SIDES
@pytest.mark.parametrize("name", CUT_ONCE)
def test_each_piece_is_cut_once_and_says_so(side: str, name: str) -> None:
    """Single layer, right side up; the small pieces and the overlay name the wearer's side, the mains mark both."""
    piece = next(piece for piece in made(side).cut if piece.name == name)
    assert (piece.quantity, piece.mirrored, piece.on_fold, piece.stands_for) == (1, 0, False, (name,))
    assert piece.how == "cut 1, single layer, right side up"
    words = " ".join(piece.labels)
    if name.startswith("shoulder"):
        assert f"wearer's {OTHER[side]}" in words
    elif name.startswith("overlay"):
        assert f"wearer's {side}" in words
    else:
        marks = {mark.name for mark in piece.marks if mark.kind == "side"}
        assert marks == {"wearer's left", "wearer's right"}


@SIDES
def test_stays(side: str) -> None:
    """At the overlay's neck edge, the shoulder pieces' necks, both front shoulders; drawn inside the cut pieces."""
    top, far = garment(side), OTHER[side]
    wanted = {
        ("overlay-front", "neckline"), ("overlay-back", "neckline"), ("shoulder-front", f"neckline-{far}"),
        ("shoulder-back", f"neckline-{far}"), ("shoulder-front", f"shoulder-{far}"), ("front", f"shoulder-{side}"),
    }  # fmt: skip
    zones = {(piece.name, zone.line) for piece in top.pieces for zone in piece.zones}
    assert wanted == zones
    for piece in made(side).cut:
        drawn = [mark for mark in piece.marks if mark.kind == "zone"]
        assert len(drawn) == sum(name == piece.name for name, _ in zones)
        for mark in drawn:
            x0, y0, x1, y1 = piece.cut_path.bounds
            a0, b0, a1, b1 = mark.path.bounds
            assert x0 - 0.1 <= a0 <= a1 <= x1 + 0.1
            assert y0 - 0.1 <= b0 <= b1 <= y1 + 0.1


@SIDES
def test_no_edge_of_the_round_seam_is_turned_as_a_hem(side: str) -> None:
    """The neck edge lies between the layers; what is bound has no allowance, what is hemmed is the overlay's edge."""
    top = garment(side)
    for use in top.seam("diagonal").uses():
        assert top.line(use).fate == "sewn", use
    for face in FACES:
        assert top.piece(f"shoulder-{face}").line(f"neckline-{OTHER[side]}").fate == "bound"
        fates = {line.name: str(line.fate) for line in top.piece(f"overlay-{face}").ring}
        assert {name for name, fate in fates.items() if fate == "hemmed"} == {"hem"}
