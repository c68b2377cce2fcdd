"""What finds no shape is told by the measurement or the option that is out of reach, and how far it may go."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from drafting.errors import CannotDraft, NoAnswer
from drafting.garment import Block, Brief, Garment, UnknownLine
from drafting.job import draft_job
from tests.cli.running import run
from tests.laws.jobs import WEARER, job_from, job_of, with_changes
from tests.plain_words import engine_words

LOW = "stature = 166\nside_neck_point_to_bust_point = 30.4"
LOW_BUST = f"""
builds_on = "knit-top"
unit = "cm"
{WEARER.replace("stature = 166", LOW)}
"""
"""A soprano whose bust points lie lower than a body as in ``bodice_from`` can be drafted."""

MOST = 295.0


@pytest.fixture
def bodice_from(monkeypatch: pytest.MonkeyPatch) -> None:
    """A bodice that finds no shape for bust points farther than ``MOST`` mm below the side neck."""
    real = Block.apply

    def apply(step: Block[Any], garment: Garment, brief: Brief, options: object) -> Garment:
        if step.name == "knit-bodice" and brief.body["side_neck_point_to_bust_point"] > MOST:
            raise NoAnswer("no change of sign between 0 (-151.248) and 120 (-3.5)")
        return real(step, garment, brief, options)

    monkeypatch.setattr(Block, "apply", apply, raising=False)


def _told(tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str) -> tuple[int, str]:
    ticket = tmp_path / "soprano.toml"
    ticket.write_text(text, encoding="utf-8")
    done = run(capsys, "prove", str(ticket))
    return done.status, " ".join(done.err.split())


@pytest.mark.usefixtures("bodice_from")
def test_the_measurement_out_of_reach_is_named_with_what_would_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In the maker's unit, with the key to write; not as a solve that finds nothing."""
    status, said = _told(tmp_path, capsys, LOW_BUST)
    assert status == 2
    assert "with a side neck point to bust point of 30.4 cm it finds no shape" in said
    assert "look at: side_neck_point_to_bust_point" in said
    assert "it can be drafted with" in said
    assert "under [wearer.body]: side_neck_point_to_bust_point" in said
    assert not engine_words(said.replace(str(tmp_path), ""))


@pytest.mark.usefixtures("bodice_from")
def test_what_would_do_does() -> None:
    """It is drafted with the figure told."""
    with pytest.raises(CannotDraft) as refused:
        draft_job(job_from(LOW_BUST))
    assert isinstance(refused.value.__cause__, NoAnswer)
    assert draft_job(job_from(LOW_BUST.replace("30.4", "29.0"))).pieces


def test_an_accident_of_a_step_is_a_fault_and_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Status 3, with the change that it was met in: no ticket is blamed for a division by nothing."""
    job = with_changes(job_of("basic-tee"), [("lengthen", {"by": 50.0})])
    step = next(planned.step for planned in job.steps if planned.step.name == "lengthen")

    def divide(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(type(step), "apply", divide, raising=False)
    change = '[[changes]]\nchange = "lengthen"\nby = 5\n'
    status, said = _told(tmp_path, capsys, f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}{change}')
    assert status == 3
    assert "a fault in Blockwright, not in your ticket (ZeroDivisionError)" in said
    assert "soprano.toml: changes[1] (lengthen)" in said


def test_what_is_missing_is_said_in_the_trades_words() -> None:
    """The name stays in the error, for whoever programs."""
    error = UnknownLine("dart-bust-left-a", "front", ())
    assert error.name == "dart-bust-left-a"
    assert str(error.words) == "the front has no left bust dart"


@pytest.mark.parametrize("block", ["darted-bodice", "knit-bodice", "waist-seam", "skirt"])
def test_a_garment_has_one_of_each_part(block: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A second is refused with the two tables that ask for it, and how to be without either."""
    text = f'builds_on = "half-circle-dress"\nunit = "cm"\n{WEARER}[blocks.extra]\nblock = "{block}"\n'
    status, said = _told(tmp_path, capsys, text)
    assert status == 2
    assert f"[blocks.extra] ({block}) makes a" in said
    assert "makes one already" in said
    assert "be without one of the two" in said
    assert "take [blocks.extra] out" in said


def test_a_refusal_in_a_design_names_the_ticket(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The maker has no file of that name, but has the ticket that builds on the design."""
    text = f'builds_on = "knit-top"\nunit = "cm"\nleave_out = ["blocks.sleeves"]\n{WEARER}'
    status, said = _told(tmp_path, capsys, text)
    assert status == 2
    assert "soprano.toml" in said
    assert "blocks.cuffs" in said
    assert "knit-top.toml" not in said


def test_an_empty_table_is_named_by_its_key(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Though nothing stands in it."""
    status, said = _told(tmp_path, capsys, f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}[paper.size]\n')
    assert status == 2
    assert "soprano.toml: paper.size: a table stands here" in said


@pytest.mark.parametrize("design", ["knit-top", "basic-tee"])
def test_bust_points_below_the_waist_are_no_fault(
    design: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where no waist height is measured that would contradict them."""
    low = WEARER.replace("stature = 166", "stature = 166\nside_neck_point_to_bust_point = 42")
    status, said = _told(tmp_path, capsys, f'builds_on = "{design}"\nunit = "cm"\n{low}')
    assert status == 2
    assert "side_neck_point_to_bust_point" in said
    assert not engine_words(said)


def test_an_overlay_says_what_body_it_is_drafted_onto(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A darted bodice states no slope that it could follow."""
    cloth = WEARER.replace('kind = "knit"', 'kind = "woven"')
    text = f'builds_on = "fitted-bodice"\nunit = "cm"\n{cloth}[blocks.extra]\nblock = "asymmetric-overlay"\n'
    status, said = _told(tmp_path, capsys, text)
    assert status == 2
    assert "an overlay is drafted onto a bodice for knits" in said
    assert "to be without it: take [blocks.extra] out" in said
