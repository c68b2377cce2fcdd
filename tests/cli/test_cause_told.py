"""What a failed proof came in with: the change is named, wherever in the stack it stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from drafting.errors import CannotDraft, GeometryError, InputError, Problem
from drafting.finishing import CutPiece, FinishPlan
from drafting.garment import Garment
from drafting.job import causes, draft_job, finish_job
from drafting.proof import Proof
from drafting.ticket import Job, Planned
from tests.cli.running import run
from tests.laws.jobs import WEARER, job_of, with_changes
from tests.proof.test_broken_fit import with_body

SHALLOW = ("neckline", {"front": "round", "front_depth": -10.0, "back_depth": 0.0, "widen": 0.0})
"""A round neckline as high as the neck base: no head passes it in jersey."""

OTHERS: tuple[tuple[str, Mapping[str, Any]], ...] = (("lengthen", {"by": 50.0, "at": "line"}), ("flare", {"by": 40.0}))


def _proof(job: Job) -> Proof:
    return finish_job(job, draft_job(job))[1]


@pytest.mark.parametrize("at", [0, 1, 2])
def test_the_change_is_named_wherever_it_stands(at: int) -> None:
    """First, between others or last; those beside it aren't blamed."""
    job = job_of("knit-top")
    job = replace(job, brief=replace(job.brief, cloths={"rib": replace(job.brief.cloths["rib"], stretch_across=0.6)}))
    assert _proof(job).passed
    stack = [*OTHERS[:at], SHALLOW, *OTHERS[at:]]
    errors = [finding for finding in _proof(with_changes(job, stack)).findings if finding.severity == "error"]
    assert {finding.code for finding in errors} == {"openings.pass"}
    assert {finding.since for finding in errors} == {"changes: neckline (neckline)"}


def test_no_change_is_blamed_for_what_was_there_before() -> None:
    """A band cloth that doesn't stretch lets no large head pass, with or without the changes."""
    job = job_of("knit-top")
    wearer = with_body(job.brief, head_girth=650.0)
    job = replace(job, brief=replace(wearer, cloths={"rib": replace(wearer.cloths["rib"], stretch_across=0.0)}))
    proof = _proof(with_changes(job, OTHERS))
    assert not proof.passed
    assert {finding.since for finding in proof.findings} == {""}


def test_each_fault_has_its_own_cause() -> None:
    """Two faults of two changes; one that is there without any has none. What can't be drafted decides nothing."""
    job = with_changes(job_of("basic-tee"), [*OTHERS, ("mirror", {})])

    def faults(without: Sequence[Planned]) -> set[str] | None:
        left = {planned.step.name for planned in without}
        if "mirror" not in left and "flare" in left:
            return None
        return {"c", *(code for code, change in (("a", "lengthen"), ("b", "flare")) if change in left)}

    found = causes(job, {"a", "b", "c"}, faults)
    assert {code: planned.step.name for code, planned in found.items()} == {"a": "lengthen", "b": "flare"}


def test_the_command_line_tells_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """In both commands, beside what is wrong and what mends it, with the ticket's file."""
    ticket = tmp_path / "soprano.toml"
    changes = '[[changes]]\nchange = "lengthen"\nby = 5\n[[changes]]\nchange = "neckline"\nfront = "round"\n'
    changes += "front_depth = -1\nback_depth = 0\nwiden = 0\n"
    text = f'builds_on = "knit-top"\nunit = "cm"\n{WEARER}{changes}'.replace('"80 %"', '"60 %"')
    ticket.write_text(text, encoding="utf-8")
    for command in ("make", "prove"):
        done = run(capsys, command, str(ticket))
        assert done.status == 1
        said = " ".join(done.out.split())
        assert "It came in with soprano.toml: changes[2] (neckline): leave that out, or ask for less of it" in said


def test_a_refusal_names_another_change_that_stands_in_the_way(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A hem band can't go round a vent: without the vents it could be drafted. What doesn't matter isn't named."""
    ticket = tmp_path / "soprano.toml"
    vents = '[[changes]]\nchange = "vents"\n[[changes]]\nchange = "neckline"\nfront_depth = 6\n'
    ticket.write_text(f'builds_on = "knit-top"\nunit = "cm"\n{WEARER}{vents}', encoding="utf-8")
    done = run(capsys, "make", str(ticket))
    assert done.status == 2
    assert "it can be drafted without soprano.toml: changes[1] (vents)" in " ".join(done.err.split())


def test_a_refusal_of_one_change_alone_names_no_other() -> None:
    """Deeper than the body is long, with or without the changes before it."""
    job = with_changes(job_of("basic-tee"), [*OTHERS, ("underarm", {"by": 2000.0})])
    with pytest.raises(CannotDraft) as refusal:
        draft_job(job)
    assert refusal.value.step == "underarm"
    assert refusal.value.since == ""


def test_what_a_change_is_built_on_refuses_in_its_name() -> None:
    """A closure parts the back first; that it can't is the closure's refusal."""
    stack: list[tuple[str, Mapping[str, Any]]] = [
        ("flare", {"by": 1599.6, "side": "left", "on": "back"}), ("closure", {})
    ]  # fmt: skip
    with pytest.raises(CannotDraft) as refusal:
        draft_job(with_changes(job_of("half-circle-dress"), stack))
    assert refusal.value.step == "closure"
    assert "flare" in refusal.value.since


def test_a_band_for_one_bare_arm_is_told_how(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One sleeve is gone, and bands are asked for on both armholes: which key says which arm."""
    ticket = tmp_path / "soprano.toml"
    more = '[blocks.armhole-band]\n[[changes]]\nchange = "sleeveless"\nside = "left"\n'
    head = 'builds_on = "knit-top"\nleave_out = ["blocks.cuffs"]\nunit = "cm"\n'
    ticket.write_text(f"{head}{WEARER}{more}", encoding="utf-8")
    done = run(capsys, "make", str(ticket))
    assert done.status == 2
    assert 'put it on the other alone (arm = "left")' in " ".join(done.err.split())
    more = more.replace("band]", 'band]\narm = "left"')
    ticket.write_text(f"{head}{WEARER}{more}", encoding="utf-8")
    assert run(capsys, "prove", str(ticket)).status == 0


def test_a_second_refusal_does_not_hide_what_stands_in_the_way_of_the_first() -> None:
    """The hem band can't go round the vents; that the binding after it can't be drawn either doesn't matter."""
    job = with_changes(job_of("knit-top"), [("vents", {})])
    band = next(planned for planned in job.steps if planned.step.name == "hem-band")
    with pytest.raises(CannotDraft) as refusal:
        draft_job(replace(job, steps=(*job.steps, replace(band, where="a second band"))))
    assert refusal.value.since == "changes: vents (vents)"


def test_what_cannot_be_finished_is_laid_to_its_own_change(monkeypatch: pytest.MonkeyPatch) -> None:
    """Though without the last change the head doesn't pass, so that the proof fails before anything is cut."""
    import drafting.job as way

    real = way.finish

    def finish(garment: Garment, plan: FinishPlan) -> tuple[CutPiece, ...]:
        if any(fact.name == "body_longer" for fact in garment.facts):
            raise GeometryError("no room")
        return real(garment, plan)

    monkeypatch.setattr(way, "finish", finish)
    stack = [
        SHALLOW,
        ("lengthen", {"by": 50.0, "at": "line"}),
        ("neckline", {"front": "v", "front_depth": 60.0, "widen": 10.0}),
    ]
    job = with_changes(job_of("knit-top"), stack)
    with pytest.raises(CannotDraft) as refusal:
        finish_job(job, draft_job(job))
    assert refusal.value.step == "lengthen"


def test_a_plan_that_cant_be_read_is_no_want_of_room(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is wrong with the input is told as that, and no change is blamed for it."""

    def refuse(garment: Garment, plan: FinishPlan) -> tuple[CutPiece, ...]:
        raise InputError([Problem("seams", "it is too wide")])

    monkeypatch.setattr("drafting.job.finish", refuse)
    job = job_of("basic-tee")
    with pytest.raises(InputError, match="seams: it is too wide"):
        finish_job(job, draft_job(job))


def test_a_neckline_without_a_bodice_asks_for_the_bodice(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where the body's block is left out no measurement is in the way."""
    ticket = tmp_path / "alto.toml"
    ticket.write_text(f'builds_on = "tank-top"\nleave_out = ["blocks.body"]\nunit = "cm"\n{WEARER}', encoding="utf-8")
    said = " ".join(run(capsys, "prove", str(ticket)).err.split())
    assert "neckline can't be drafted: there is no bodice, so no neck base to draw it from" in said
    assert "let the design have a bodice" in said
    assert "neck_base_girth" not in said
