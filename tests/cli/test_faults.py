"""A fault of the program's own: one sentence, and a status that no proof and no ticket ends with."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafting.cli import main
from tests.cli.running import run

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A program that fails as no ticket could make it fail."""
    monkeypatch.chdir(tmp_path)

    def fails(*_: object, **__: object) -> None:
        raise RuntimeError("a wheel came off")

    monkeypatch.setattr("drafting.job.prove", fails)


@pytest.mark.usefixtures("broken")
@pytest.mark.parametrize("command", ["make", "prove"])
def test_a_fault_is_told_in_one_sentence(command: str, capsys: Capture) -> None:
    """Status 3, unlike a failed proof's 1; no traceback, and how to see one."""
    ran = run(capsys, command, "--demo")
    assert ran.status == 3
    assert "this is a fault in Blockwright" in ran.err
    assert "BLOCKWRIGHT_TRACE=1" in ran.err
    assert "test_faults" not in ran.err


@pytest.mark.usefixtures("broken")
def test_it_shows_where_if_asked(monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    """The status is the same."""
    monkeypatch.setenv("BLOCKWRIGHT_TRACE", "1")
    assert main(["prove", "--demo"]) == 3
    said = capsys.readouterr().err
    assert "a wheel came off" in said
    assert "test_faults" in said


def test_the_status_is_documented(capsys: Capture) -> None:
    """In the help and in the README."""
    assert "3 for a fault" in " ".join(run(capsys, "--help").out.split())
    assert "| 3 | a fault in Blockwright" in (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")


def test_a_misspelt_command_is_told_with_what_it_may_be(capsys: pytest.CaptureFixture[str]) -> None:
    """And with all there are."""
    done = run(capsys, "lays")
    assert done.status == 2
    assert "Did you mean lay?" in done.err
    assert "new, make, lay, prove, wear, list, schema" in done.err
