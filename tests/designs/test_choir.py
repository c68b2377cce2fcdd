"""The choir: one design, four singers, different changes; tickets as shipped and as shown are the same files."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

import pytest

from drafting.saying import render
from drafting.ticket import read_job
from tests.laws.jobs import Outcome, catalogue, outcome

ROOT = Path(__file__).parents[2]
SHOWN = ROOT / "output_examples" / "choir"
SINGERS = ("soprano-overlay", "alto", "tenor", "bass")


@cache
def sung(singer: str) -> Outcome:
    """What became of a singer's ticket."""
    return outcome(read_job(SHOWN / f"{singer}.toml", catalogue()))


@pytest.mark.parametrize("singer", SINGERS)
def test_the_demo_is_what_is_shown(singer: str) -> None:
    """Byte for byte."""
    assert catalogue().demos[singer].read_bytes() == (SHOWN / f"{singer}.toml").read_bytes()


def test_one_design_four_singers() -> None:
    """Nothing else lies there; all build on the overlay top, each for a wearer of its own."""
    assert {file.stem for file in SHOWN.glob("*.toml")} == set(SINGERS)
    told = [tomllib.loads((SHOWN / f"{singer}.toml").read_text(encoding="utf-8")) for singer in SINGERS]
    assert {each["builds_on"] for each in told} == {"diagonal-overlay-top"}
    assert {each["wearer"]["name"] for each in told} == {"Soprano", "Alto", "Tenor", "Bass"}


@pytest.mark.parametrize("singer", SINGERS)
def test_each_is_proven_without_a_warning(singer: str) -> None:
    """Drafted, proven, finished."""
    what = sung(singer)
    assert (what.refused, what.broken) == ("", "")
    assert [render(f.sentence, "cm") for f in what.findings if f.severity == "warning"] == []


def test_each_has_what_its_ticket_asks_for() -> None:
    """Alto: bands and no sleeves. Tenor: the left shoulder covered. Bass: bracelet sleeves, turned hems, vents."""
    pieces = {singer: {piece.name for piece in sung(singer).cut} for singer in SINGERS}
    assert {"sleeve", "cuff", "hem-band"} <= pieces["soprano-overlay"]
    assert "armhole-band" in pieces["alto"]
    assert "sleeve" not in pieces["alto"]
    assert "sleeve" in pieces["bass"]
    assert not {"cuff", "hem-band"} & pieces["bass"]
    for singer in SINGERS:
        overlay = next(piece for piece in sung(singer).cut if piece.name == "overlay-front")
        side = "left" if singer == "tenor" else "right"
        assert f"wearer's {side}" in overlay.labels
    bass = sung("bass").garment
    assert bass is not None
    assert sum(line.name.endswith("/vent") for piece in bass.pieces for line in piece.ring) == 4
    sleeve = bass.piece("sleeve-left").outline.bounds
    job = read_job(SHOWN / "bass.toml", catalogue())
    assert sleeve[3] - sleeve[1] < 0.92 * job.brief.body["outer_arm_length"]
