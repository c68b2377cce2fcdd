"""Shoulders against the body: slope, length and difference are judged, and a mirrored design fits the body as it is."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from drafting.body import Body, make_body
from drafting.changes.design.mirror import mirror_whole
from drafting.garment import Brief, Garment
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.finding import Finding
from drafting.proof.fit.shoulders import shoulder_rows
from drafting.saying import render
from tests.blocks_woven.people import POPLIN
from tests.body.people import people
from tests.garments import BODY, SINGERS, brief, build
from tests.laws.jobs import job_of, with_changes

Changes = list[tuple[str, Mapping[str, Any]]]


def soprano(**degrees: float) -> Brief:
    """The soprano with shoulders of these slopes."""
    rules, given = SINGERS["soprano"]
    return brief(make_body("", {**given, **{k: math.radians(v) for k, v in degrees.items()}}, rules=rules))


def found(garment: Garment, b: Brief) -> list[Finding]:
    """What the proof says of shoulders."""
    advisor = job_of("knit-top").advisor
    return [each for each in prove(garment, b, advisor=advisor).findings if each.code.startswith("fit.shoulder")]


def made(b: Brief, changes: Changes) -> Garment:
    """A knit top with these changes."""
    return draft_job(with_changes(job_of("knit-top"), changes, b))


def rows(garment: Garment, b: Brief) -> dict[str, tuple[float, float]]:
    """The body's figure and the garment's of each shoulder's row."""
    told = (row for row in prove(garment, b).fit if row.name.startswith("shoulder"))
    return {str(row.title): (row.body, row.garment) for row in told}


UNEVEN = {"shoulder_slope_left": 20.0, "shoulder_slope_right": 28.0}


@pytest.mark.parametrize("changes", [[], [("low-shoulder", {"side": "left", "by": 8.0})]])
def test_a_mirrored_design_fits_the_body_as_it_is(changes: Changes) -> None:
    """The same slopes, lengths and difference of left and right, with what fits the wearer on the side it names."""
    b = soprano(**UNEVEN)
    plain, mirrored = made(b, changes), made(b, [*changes, ("mirror", {})])
    for title, figures in rows(plain, b).items():
        assert rows(mirrored, b)[title] == pytest.approx(figures, abs=1e-6), title
    assert found(mirrored, b) == []


def test_shoulders_that_changed_sides_are_an_error() -> None:
    """Turned over as it is, the garment is another body's."""
    b = soprano(**UNEVEN)
    (error,) = [each for each in found(mirror_whole(build(b, BODY)), b) if each.severity is Severity.ERROR]
    assert error.code == "fit.shoulders_apart"


def test_a_slope_that_no_block_draws_is_warned_of() -> None:
    """A bone at 40 degrees is drafted as one at 36; told on both sides, with the change that makes it steeper."""
    b = soprano(shoulder_slope=40.0)
    warned = found(made(b, []), b)
    assert [each.severity for each in warned] == [Severity.WARNING] * 2
    assert "32 deg" in str(warned[0].sentence)
    mend = render(warned[0].remedy, "mm")
    assert 'add the change "sloping-shoulder", side = "left"' in mend
    by = float(re.search(r'by = "(\d+)', mend)[1])
    assert found(made(b, [("sloping-shoulder", {"by": by})]), b) == []
    even = soprano(shoulder_slope=26.0)
    assert found(made(even, [("sloping-shoulder", {"by": 25.0})]), even) == []


def test_a_shoulder_far_beyond_the_bone_is_warned_of() -> None:
    """As one is that a wide back makes longer; one made longer by a change is meant."""
    b = brief(_broad(people("bodies_1988_women")[7]))
    warned = found(build(b, BODY), b)
    assert {each.code for each in warned} == {"fit.shoulder_length"}
    assert found(made(soprano(), [("shoulder", {"narrow": -15.0})]), soprano()) == []


@pytest.mark.parametrize("face", ["front", "back"])
def test_a_gathered_neck_leaves_the_shoulders_as_long_as_they_are(face: str) -> None:
    """Fullness let in at the neckline moves them apart on the paper; they aren't longer for it."""
    b = soprano()
    gathered = made(b, [("gathers", {"at": "neckline", "on": face, "by": 60.0})])
    plain = rows(made(b, []), b)
    for title, figures in rows(gathered, b).items():
        assert figures == pytest.approx(plain[title], abs=1e-6), title


def _broad(person: dict[str, float]) -> Body:
    wide = {
        "across_back_width": person["across_back_width"] + 40.0,
        "shoulder_length": person["shoulder_length"] - 35.0,
    }
    return make_body("", {**person, **wide})


def test_a_dart_gathered_at_the_neckline_turns_no_sewn_shoulder() -> None:
    """On the paper the shoulder beyond the fullness is steeper; gathered in it lies as it did."""
    b = brief(cloth=POPLIN)
    plain, gathered = (
        next(row.off for row in shoulder_rows(made_of, b) if row.name == "shoulder_slope")
        for made_of in (
            draft_job(with_changes(job_of("fitted-bodice"), changes, b))
            for changes in (
                [],
                [("move-dart", {"dart": "bust", "to": "neckline 0.6"}), ("dart-to-gathers", {"dart": "bust"})],
            )
        )
    )
    assert gathered == pytest.approx(plain, abs=1e-6)


@pytest.mark.parametrize(("narrow", "told"), [(0.0, ""), (32.0, "note"), (37.0, "warning")])
def test_a_narrow_strap_is_told(narrow: float, told: str) -> None:
    """Of 3.5 cm at least, beside its bands; under 3 cm it is warned of (from memory)."""
    b, job = soprano(), job_of("tank-top")
    plain = draft_job(with_changes(job, [], b))
    left = next(row.garment for row in shoulder_rows(plain, b) if row.name == "strap")
    by = {"narrow": left - 65.0 + narrow}
    garment = draft_job(with_changes(job, [("shoulder", by)], b)) if narrow else plain
    row = next(row for row in shoulder_rows(garment, b) if row.name == "strap")
    assert (row.severity.value if row.beyond else "") == told


@pytest.mark.parametrize(("by", "told"), [(0.0, ""), (6.0, ""), (15.0, "note")])
def test_a_shoulders_end_far_beyond_its_armhole_is_told(by: float, told: str) -> None:
    """By rule it lies 2.3 cm beyond it at most; from 2.5 cm on, as of one cut in far, it is noted (from memory)."""
    b = soprano()
    changes: Changes = [("cut-in-armhole", {"by": by})] if by else []
    row = next(row for row in prove(made(b, changes), b).fit if row.name == "armhole_end")
    assert (row.severity.value if row.beyond else "") == told


def test_a_seam_far_ahead_is_told_on_both_faces() -> None:
    """A front at 30 degrees and a back at 15 have 22 between them: each is judged, but for what a change moved."""
    b = soprano()
    ahead = made(b, [("forward-shoulder", {"by": 20.0})])
    assert found(ahead, b) == []
    told = {each.code for each in found(replace(ahead, departures=()), b)}
    assert {"fit.shoulder_slope_front", "fit.shoulder_slope_back"} <= told
