"""Fit changes belong to the body that they were stated for: with another body they are left behind, and told."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from drafting.garment import Change, Garment, Stage
from drafting.garment.step import Brief
from drafting.ticket import Catalogue, Job, read_job
from tests.ticket.stubs import WHOLE, EdgeOptions, catalogue

ALTO = '[wearer]\nname = "Alto"\n' + WHOLE[WHOLE.index("[wearer.body]") : WHOLE.index("[cloth]")]
FITTED = "".join(
    f'[[changes]]\nchange = "{name}"\ndepth = {depth}\n'
    for name, depth in (("stub-fit", 2), ("stub-lengthen", 3), ("stub-fit", 4))
)


def _nothing(garment: Garment, brief: Brief, options: object) -> Garment:
    return garment


def fitting_catalogue() -> Catalogue:
    """Return the stubs with a change of fit beside them."""
    stubs = catalogue()
    fit = Change("stub-fit", "Fits nothing.", EdgeOptions, Stage.FIT, _nothing)
    return replace(stubs, changes={**stubs.changes, "stub-fit": lambda: fit})


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with the soprano's ticket, which fits her twice."""
    monkeypatch.chdir(tmp_path)
    Path("soprano.toml").write_text(WHOLE.replace('"Alto"', '"Soprano"') + FITTED, encoding="utf-8")


def read(text: str, file: str = "alto.toml", on: str = "soprano.toml") -> Job:
    """Read a ticket that builds on the soprano's, or on another."""
    Path(file).write_text(f'builds_on = "{on}"\n{text}', encoding="utf-8")
    return read_job(Path(file), fitting_catalogue())


def fits(job: Job) -> list[float]:
    """The depths of a job's fit changes in order."""
    steps = (each.options for each in job.steps if each.step.name == "stub-fit")
    return [each.depth for each in steps if isinstance(each, EdgeOptions)]


BEHIND = (("soprano.toml", ("stub-fit 1", "stub-fit 2")),)


def test_another_body_leaves_the_fit_behind_and_keeps_the_design() -> None:
    """Each is told by its name and its file; a change of design comes along."""
    job = read(ALTO)
    assert fits(job) == []
    assert "stub-lengthen" in [each.step.name for each in job.steps]
    assert job.sources.left_behind == BEHIND
    said = "Left behind, since they fit someone else's body: stub-fit 1, stub-fit 2 of soprano.toml."
    assert said in job.sources.sentences()


@pytest.mark.parametrize(
    "wearer", ["", '[wearer]\nname = ""\n', "[wearer]\nsame_person = true\n[wearer.body]\nhip_girth = 104\n"]
)
def test_the_same_person_keeps_her_fit(wearer: str) -> None:
    """Measured anew, or said nothing of."""
    job = read(wearer)
    assert (fits(job), job.sources.left_behind) == ([20.0, 40.0], ())


def test_the_fit_of_a_design_without_a_wearer_is_the_designs() -> None:
    """It comes to every body, also by way of another singer's ticket."""
    Path("design.toml").write_text('[blocks.body]\nblock = "stub-body"\n' + FITTED, encoding="utf-8")
    own = '[[changes]]\nchange = "stub-fit"\ndepth = 5\n'
    assert fits(read(WHOLE + own, "tenor.toml", on="design.toml")) == [20.0, 40.0, 50.0]
    job = read(ALTO, on="tenor.toml")
    assert fits(job) == [20.0, 40.0]
    assert job.sources.left_behind == (("tenor.toml", ("stub-fit 3",)),)


def test_a_wearer_left_out_takes_the_fit_along() -> None:
    """However the other body goes; one measurement left out is still the same body."""
    job = read('leave_out = ["wearer"]\n' + ALTO)
    assert (fits(job), job.sources.left_behind) == ([], BEHIND)
    assert fits(read('leave_out = ["wearer.name"]\n', "second.toml")) == [20.0, 40.0]


def test_what_was_left_out_by_name_is_not_told_again() -> None:
    """And a fit change of the ticket's own is its own wearer's."""
    job = read(f'leave_out = ["stub-fit 1"]\n{ALTO}[[changes]]\nchange = "stub-fit"\ndepth = 6\n')
    assert fits(job) == [60.0]
    assert job.sources.left_behind == (("soprano.toml", ("stub-fit 2",)),)
    assert read('leave_out = ["changes"]\n' + ALTO, "second.toml").sources.left_behind == ()


def test_in_a_chain_the_fit_does_not_come_back() -> None:
    """A version of the alto's ticket has the alto's own fit alone, and says what was left behind below it."""
    read(ALTO + '[[changes]]\nchange = "stub-fit"\ndepth = 6\n')
    job = read("", "summer.toml", on="alto.toml")
    assert (fits(job), job.sources.left_behind) == ([60.0], BEHIND)
