"""Vents: the lowest part of a side seam left unsewn."""

from __future__ import annotations

import pytest

from blocks.band import draft_neck_band
from drafting.changes.design.lengthen import lengthen_body
from drafting.changes.design.vents import open_vents
from drafting.errors import CannotDraft
from drafting.finishing import FinishPlan, finish
from drafting.garment import Fate, Role, glue, openings
from drafting.proof import Proof, prove
from drafting.saying import render
from tests.garments import BODY, SLEEVED, brief, build

PLAIN = (*SLEEVED, (draft_neck_band, {}))


def grave(proof: Proof) -> list[str]:
    """The errors, less the corner at a vent's top, which is meant."""
    return [render(f.sentence, "cm") for f in proof.findings if f.severity == "error" and "/vent" not in f.place]


@pytest.mark.parametrize("side", ["both", "left"])
def test_a_vent_leaves_four_openings_and_a_shorter_seam(side: str) -> None:
    """The vent's edges belong to the hem; the seam is sewn from the vent up, in one go with the underarm."""
    b = brief()
    plain, top = build(b, PLAIN), build(b, PLAIN, [(open_vents, {"height": 100.0, "side": side})])
    assert not grave(prove(top, b, finish(top, FinishPlan())))
    assert sorted(o.name for o in openings(top)) == ["hem", "neck", "wrist-left", "wrist-right"]
    assert glue(top).euler == 2 - 4
    whole = plain.run_length(plain.seam("side-left").plies[0])
    for ply in top.seam("side-left").plies:
        assert top.run_length(ply) == pytest.approx(whole - 100.0)
    hem = next(o for o in openings(top) if o.name == "hem")
    vents = [top.line(use) for use in hem.run if use.line.endswith("/vent")]
    assert len(vents) == (4 if side == "both" else 2)
    for line in vents:
        assert line.fate is Fate.HEMMED
        assert line.path.length == pytest.approx(100.0)
        assert line.answers_to(f"side-{line.side}")


def test_a_vent_on_one_side_leaves_the_other_sides_lines() -> None:
    """The very same lines."""
    plain = build(brief(), BODY)
    new = open_vents.apply(plain, brief(), open_vents.options(side="right"))
    for piece in plain.pieces:
        for line in piece.ring:
            if line.name != "side-right":
                assert new.piece(piece.name).line(line.name) is line


def test_vents_that_leave_no_seam_or_come_twice_are_refused() -> None:
    """In a sentence."""
    with pytest.raises(CannotDraft, match="vents: a vent of 390 mm leaves"):
        build(brief(), BODY, [(open_vents, {"height": 390.0})])
    with pytest.raises(CannotDraft, match="vent already"):
        build(brief(), BODY, [(open_vents, {}), (open_vents, {})])


def test_a_vent_grows_where_the_hem_is_lengthened_below_it() -> None:
    """As if it had been made on the longer body, by as much as the side seam is longer."""
    b = brief()
    before = build(b, BODY, [(open_vents, {"height": 80.0}), (lengthen_body, {"by": 60.0, "at": "hem"})])
    height = before.piece("front").line("side-left/vent").path.length
    assert height == pytest.approx(140.0, abs=0.5)
    after = build(b, BODY, [(lengthen_body, {"by": 60.0, "at": "hem"}), (open_vents, {"height": height})])
    for piece in after.pieces:
        for line in piece.ring:
            assert before.piece(piece.name).line(line.name).path.same_as(line.path, 1e-5)


def test_a_vent_keeps_its_share_of_a_body_cut_shorter() -> None:
    """Half of what hangs below the hip stays half, never less than 8 cm; front and back alike."""
    b = brief()
    dress = [(lengthen_body, {"by": 300.0, "at": "hem"}), (open_vents, {})]
    long = build(b, BODY, dress)
    was = long.piece("front").line("side-left/vent").path.length
    for by, want in ((-60.0, was - 30.0), (-0.9 * was, was * 0.55), (-1.9 * was, 80.0)):
        made = build(b, BODY, [*dress, (lengthen_body, {"by": by, "at": "hem"})])
        for piece in made.pieces:
            for line in piece.lines(role=Role.SIDE):
                if line.fate is Fate.HEMMED:
                    assert line.path.length == pytest.approx(want, abs=2.0)
        one, two = made.seam("side-left").plies
        assert made.run_length(one) == pytest.approx(made.run_length(two), abs=0.5)


def test_a_body_too_short_for_its_vent_is_refused_by_its_name() -> None:
    """The vent is named, not only a line beside the hem."""
    with pytest.raises(CannotDraft, match="the vent of the left side seam would leave"):
        build(brief(), BODY, [(open_vents, {"height": 300.0}), (lengthen_body, {"by": -310.0, "at": "hem"})])
