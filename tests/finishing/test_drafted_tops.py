"""Finishing of tops drafted for the choir by the real blocks."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
import shapely

from blocks.band import draft_armhole_bands, draft_neck_binding
from drafting.finishing import CutPiece, FinishPlan, finish
from drafting.garment import Fate, Garment, balance_marks
from drafting.geometry import Point
from tests.finishing.flat import by_name, cut_polygon, flap, folded, net_polygon
from tests.garments import BODY, SINGERS, SLEEVED, TOP, brief, build

DESIGNS = {
    "top": TOP,
    "hemmed": SLEEVED,
    "tank": (*BODY, (draft_armhole_bands, {}), (draft_neck_binding, {})),
    "v-neck": (
        (BODY[0][0], {"front_neck": "v", "back_neck": "v", "front_depth": 120.0, "back_depth": 80.0}),
        *TOP[1:],
    ),
}
CASES = [(voice, name) for voice in SINGERS for name in DESIGNS]
WHOLE = FinishPlan(on_fold=False)


@cache
def drafted(voice: str, design: str) -> Garment:
    """The net garment."""
    return build(brief(voice), DESIGNS[design])


@cache
def pieces(voice: str, design: str, on_fold: bool = False) -> tuple[CutPiece, ...]:
    """The cut pieces."""
    return finish(drafted(voice, design), FinishPlan(on_fold=on_fold))


@pytest.mark.parametrize(("voice", "design"), CASES)
def test_outlines_are_simple_rings_round_the_net(voice: str, design: str) -> None:
    """Closed, anticlockwise, simple, and nowhere inside the stitch lines."""
    garment = drafted(voice, design)
    for piece in pieces(voice, design):
        cut = cut_polygon(piece)
        net = net_polygon(line.path for line in garment.piece(piece.stands_for[0]).ring)
        assert piece.cut_path.closed
        assert piece.area > 0.0
        assert cut.is_valid
        assert net.difference(cut.buffer(1e-2)).area < 1e-2


@pytest.mark.parametrize(("voice", "design"), CASES)
def test_the_cut_outline_lies_within_the_widest_allowance(voice: str, design: str) -> None:
    """No corner reaches beyond shapely's mitred buffer of the net outline at twice the largest allowance."""
    garment = drafted(voice, design)
    for piece in pieces(voice, design):
        net = garment.piece(piece.stands_for[0])
        if any(line.fate is Fate.FOLDED for line in net.ring):
            continue
        most = max(edge.allowance for edge in piece.outline)
        assert net_polygon(line.path for line in net.ring).buffer(2.3 * most).contains(cut_polygon(piece))


@pytest.mark.parametrize(("voice", "design"), CASES)
def test_edges_keep_their_allowance(voice: str, design: str) -> None:
    """Off the corners each cut edge is its allowance away from its own stitch line, to the offset's tolerance."""
    garment = drafted(voice, design)
    for piece in pieces(voice, design):
        net = garment.piece(piece.stands_for[0])
        for edge in piece.outline:
            if edge.name == edge.line:
                stitch = net.line(edge.line).path
                for s in np.linspace(0.0, edge.path.length, 11):
                    at, distance = stitch.nearest(edge.path.at(float(s)))
                    if 1e-6 < at < stitch.length - 1e-6:
                        assert distance == pytest.approx(edge.allowance, abs=0.03)


@pytest.mark.parametrize("voice", SINGERS)
def test_hems_fold_up_flush(voice: str) -> None:
    """The turned hem of a drafted body lies within the body's own cut outline to 0.1 mm, and fills it."""
    cut = by_name(pieces(voice, "hemmed"))
    for name in ("front", "back"):
        net = drafted(voice, "hemmed").piece(name)
        hems = [line for line in net.ring if line.fate is Fate.HEMMED]
        a = min((line.path.start for line in hems), key=lambda p: p.x)
        b = max((line.path.end for line in hems), key=lambda p: p.x)
        outline = cut_polygon(cut[name])
        hem = flap(outline, a, b)
        over = folded(hem, a, b)
        assert over.difference(outline.buffer(0.1)).area < 0.05
        strip = outline.difference(hem).intersection(shapely.box(-2000.0, a.y, 2000.0, a.y + WHOLE.hem_depth))
        assert strip.difference(over.buffer(0.1)).area < 0.05


@pytest.mark.parametrize("voice", SINGERS)
def test_shoulder_allowances_fold_back_flush(voice: str) -> None:
    """A shoulder, sewn first, folds back within the cut lines of neck and armhole to 0.1 mm."""
    cut = by_name(pieces(voice, "top"))
    for name in ("front", "back"):
        for side in ("left", "right"):
            shoulder = drafted(voice, "top").piece(name).line(f"shoulder-{side}").path
            if not shoulder.is_straight:
                continue
            outline = cut_polygon(cut[name])
            band = shapely.LineString(shoulder.flatten()).buffer(40.0)
            over = folded(flap(outline, shoulder.start, shoulder.end).intersection(band), shoulder.start, shoulder.end)
            assert over.difference(outline.buffer(0.1)).area < 0.02


@pytest.mark.parametrize(("voice", "design"), CASES)
def test_notches_of_a_seam_match_by_arc_length(voice: str, design: str) -> None:
    """Every balance mark stands, on each printed ply, at its own arc length of the stitch line and on the cut line."""
    garment = drafted(voice, design)
    cut = by_name(finish(_apart(garment), WHOLE))
    for mark in balance_marks(garment):
        for use, s in mark.at:
            place = garment.line(use).path.at(s)
            near = [n for n in cut[use.piece].notches if n.seam == mark.seam and n.on_stitch.near(place, 0.01)]
            assert near
            assert near[0].count == mark.count
            assert cut[use.piece].cut_path.nearest(near[0].at)[1] < 0.1


def _apart(garment: Garment) -> Garment:
    """The garment with a title for each piece, so that none is printed for another."""
    return replace(garment, pieces=tuple(replace(p, cloth=f"cloth {i}") for i, p in enumerate(garment.pieces)))


@pytest.mark.parametrize(("voice", "design"), CASES)
def test_marks_lie_inside(voice: str, design: str) -> None:
    """No line, strip or arrow leaves the piece it is printed on, whole or half."""
    for on_fold in (False, True):
        for piece in pieces(voice, design, on_fold):
            cut = cut_polygon(piece).buffer(0.1)
            for mark in piece.marks:
                assert cut.contains(shapely.LineString(mark.path.flatten())), (piece.name, mark.kind, mark.name)


@pytest.mark.parametrize(("voice", "design"), CASES)
def test_halves_open_out_into_wholes(voice: str, design: str) -> None:
    """Whatever is printed on the fold is, opened out, the whole piece to 0.01 mm."""
    wholes = {piece.stands_for[0]: piece for piece in pieces(voice, design)}
    for piece in pieces(voice, design, True):
        if not piece.on_fold:
            continue
        axis = next(mark.path for mark in piece.marks if mark.kind == "on-fold")
        half, whole = cut_polygon(piece), cut_polygon(wholes[piece.stands_for[0]])
        opened = shapely.union_all([half.buffer(1e-4), folded(half, axis.start, axis.end).buffer(1e-4)])
        assert opened.symmetric_difference(whole).area / whole.length < 0.01


@pytest.mark.parametrize(("voice", "design"), CASES)
def test_every_net_piece_is_served_once(voice: str, design: str) -> None:
    """What the prints stand for, together, is the garment's pieces."""
    served = [name for piece in pieces(voice, design, True) for name in piece.stands_for]
    assert sorted(served) == sorted(piece.name for piece in drafted(voice, design).pieces)
    for piece in pieces(voice, design, True):
        assert piece.quantity == len(piece.stands_for)


@pytest.mark.parametrize("voice", SINGERS)
def test_a_symmetric_top_is_printed_in_halves_and_pairs(voice: str) -> None:
    """Front, back and neck band lie on the fold, the sleeves are one pair, the cuffs one print."""
    found = by_name(pieces(voice, "top", True))
    assert [name for name in ("front", "back", "neck-band") if not found[name].on_fold] == []
    assert found["sleeve"].how == "cut 2, one mirrored"
    assert found["cuff"].quantity == 2


def test_a_symmetric_tank_is_printed_in_halves() -> None:
    """The tank's back is the same on both sides, and its bands are a pair."""
    found = by_name(pieces("tenor", "tank", True))
    assert found["back"].on_fold
    assert found["armhole-band"].stands_for == ("armhole-band-left", "armhole-band-right")


def test_notches_face_each_other_across_a_seam() -> None:
    """Laid with their stitch lines together, the notches of two plies run straight across, to 0.5 degrees."""
    garment = drafted("alto", "top")
    cut = by_name(finish(_apart(garment), WHOLE))
    for mark in balance_marks(garment):
        for use, s in mark.at:
            line = garment.line(use).path
            notch = next(
                n for n in cut[use.piece].notches if n.seam == mark.seam and n.on_stitch.near(line.at(s), 0.01)
            )
            if 1.0 < s < line.length - 1.0:
                across: Point = line.tangent(s).left
                assert notch.inward.dot(across) > 0.99996
