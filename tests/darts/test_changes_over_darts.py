"""Changes to edges that a dart parts: the dart is kept, and so is all that isn't asked for."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from blocks.darted_bodice import draft_darted_bodice
from blocks.facing import draft_facings
from blocks.woven_sleeve import draft_woven_sleeve
from drafting.changes.darts.move import move_dart
from drafting.changes.design.armhole import cut_in_armhole
from drafting.changes.design.lengthen import lengthen_body
from drafting.changes.design.neckline import shape_neckline
from drafting.changes.design.shoulder import shape_shoulder
from drafting.changes.design.underarm import move_underarm
from drafting.changes.sleeve.length import change_sleeve_length
from drafting.cloth import Cloth, Kind
from drafting.errors import CannotDraft
from drafting.garment import Face, Garment, Role, Side
from drafting.garment.darts import angle, dart_of, darts_of, intake, leg_lengths, mouth_edges
from drafting.garment.places import lines_along
from drafting.geometry import turn
from drafting.proof import prove
from drafting.redraw.mouths import bend_in_edge
from tests.garments import Planned, brief, build

COTTON = Cloth("cotton", Kind.WOVEN, stretch_across=0.0, width=1500.0)
WEARER = brief("soprano", cloth=COTTON)


def draft(*plans: Planned) -> Garment:
    return build(WEARER, [(draft_darted_bodice, {"to": "waist"})], plans)


def shoulder(garment: Garment, side: Side, face: Face) -> float:
    return garment.run_length(lines_along(garment, Role.SHOULDER, side, face))


@pytest.mark.parametrize(
    ("change", "shorter"),
    [
        ((shape_neckline, {"front": "v", "back": "scoop", "widen": 20.0}), 20.0),
        ((shape_neckline, {"widen": 70.0}), 70.0),
        ((shape_shoulder, {"narrow": 12.0}), 12.0),
        ((move_underarm, {"by": 15.0}), 0.0),
        ((cut_in_armhole, {"by": -1.5, "on": "front"}), 0.0),
    ],
)
def test_the_shoulder_dart_is_kept(change: tuple[Any, Any], shorter: float) -> None:
    """Its legs are equal, its suppression is kept, and the closed shoulder is shorter by what was asked."""
    plain, made = draft(), draft(change)
    for side in (Side.LEFT, Side.RIGHT):
        old, new = (dart_of(g.piece("back"), f"shoulder-{side}") for g in (plain, made))
        one, two = leg_lengths(new)[0]
        assert one == pytest.approx(two, abs=1e-6)
        assert angle(new) == pytest.approx(angle(old), abs=1e-9)
        for face in (Face.FRONT, Face.BACK):
            assert shoulder(made, side, face) == pytest.approx(shoulder(plain, side, face) - shorter, abs=1e-3)


def test_a_dart_within_a_cropped_body_ends_above_its_hem() -> None:
    """As wide as before, and 1.5 cm above the hem."""
    hip = [(draft_darted_bodice, {"to": "hip"})]
    plain = build(WEARER, hip)
    lowest = min(d.lower.y for p in plain.pieces for d in darts_of(p) if d.lower)
    hem = min(line.path.bounds[1] for line in plain.piece("back").lines(role=Role.HEM))
    made = build(WEARER, hip, [(lengthen_body, {"by": hem - lowest})])
    for piece in made.pieces:
        hems = [line.path for line in piece.lines(role=Role.HEM)]
        for dart in (each for each in darts_of(piece) if each.lower):
            assert dart.lower is not None
            assert min(path.nearest(dart.lower)[1] for path in hems) >= 15.0
            assert intake(dart) == pytest.approx(intake(dart_of(plain.piece(piece.name), dart.name)))
            for one, two in leg_lengths(dart):
                assert one == pytest.approx(two, abs=0.01)


@pytest.mark.parametrize("below_widest", [30.0, -20.0])
def test_a_dart_within_a_body_cropped_to_its_widest_place_runs_open_to_the_hem(below_widest: float) -> None:
    """Both legs end on the hem, equal, at what the dart took in there, and the hem runs on over the dart sewn shut."""
    hip = [(draft_darted_bodice, {"to": "hip"})]
    plain = build(WEARER, hip)
    was = dart_of(plain.piece("back"), "waist-back-left")
    assert was.lower is not None
    hem = min(line.path.bounds[1] for line in plain.piece("back").lines(role=Role.HEM))
    made = build(WEARER, hip, [(lengthen_body, {"by": hem - was.middle.y + below_widest})])
    dart = dart_of(made.piece("back"), "waist-back-left")
    assert not dart.inside
    assert all(edge.role is Role.HEM for edge in mouth_edges(made.piece("back"), dart))
    end = was.lower if below_widest > 0.0 else was.point
    share = dart.middle.distance(end) / was.middle.distance(end)
    assert intake(dart) == pytest.approx(intake(was) * share, abs=0.5)
    for one, two in leg_lengths(dart):
        assert one == pytest.approx(two, abs=1e-6)
    assert abs(bend_in_edge(made.piece("back"), dart)) < 1e-6
    errors = [found.code for found in prove(made, WEARER).findings if found.severity == "error"]
    assert {*errors} == {"openings.pass"}  # it has no closure


def test_the_front_alone_leaves_the_back_alone() -> None:
    """A depth for the front asks nothing of the back but that its neckline turns as far as the front's does."""
    plain, made = draft(), draft((shape_neckline, {"front_depth": 10.0}))
    rings = [[ln for ln in g.piece("back").ring if ln.role is not Role.NECKLINE] for g in (plain, made)]
    assert rings[0] == rings[1]


def test_a_facing_lies_on_the_neck_with_its_dart_sewn_shut() -> None:
    """It is as long as the neckline, smooth over the dart, and mirrors onto itself in the centre."""
    made = draft((move_dart, {"to": "neckline 0.5"}), (draft_facings, {"opening": "neck"}))
    seam = made.seam("neck-facing")
    assert all(
        made.run_length(s.plies[0]) == pytest.approx(made.run_length(s.plies[1]), abs=1e-6) for s in seam.sections
    )
    lines = [ln.path for ln in made.piece("neck-facing-front").lines(role=Role.NECKLINE)]
    assert len(lines) == 4
    for one, two in pairwise(lines):
        assert one.end.near(two.start, 1e-4)
        assert abs(turn(one.tangent(one.length), two.tangent(0.0))) < 0.02
    assert lines[0].same_as(lines[3].mirrored().reversed(), 1e-4)


@pytest.mark.parametrize(("to", "kept"), [("short", False), ("bracelet", True), ("long", True)])
def test_an_elbow_dart_goes_only_where_the_sleeve_ends_above_it(to: str, kept: bool) -> None:
    """The underarm's two edges stay as long as each other, with the dart or without."""
    made = draft((draft_woven_sleeve, {}), (change_sleeve_length, {"to": to}))
    for side in ("left", "right"):
        assert bool(darts_of(made.piece(f"sleeve-{side}"))) is kept
        assert any(fact.name == f"elbow_dart_dropped_{side}" for fact in made.facts) is not kept
        front, back = made.seam(f"underarm-{side}").plies
        assert made.run_length(front) == pytest.approx(made.run_length(back), abs=0.01)


@pytest.mark.parametrize("change", [shape_neckline, shape_shoulder, move_underarm])
def test_what_asks_for_nothing_is_refused(change: Any) -> None:
    """In a sentence, and not passed over in silence."""
    with pytest.raises(CannotDraft, match="asks for nothing"):
        draft((change, {}))
