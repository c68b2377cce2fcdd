"""No command writes over a file that isn't its own; what lies in a pattern's folder of another draft is told."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from drafting.seal import WORKING
from tests.cli.running import PLAIN, run

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def ticket(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A plain top's ticket, as alto.toml in the current folder."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "alto.toml").write_text(PLAIN, encoding="utf-8")
    return tmp_path


def contents(folder: Path) -> dict[str, bytes]:
    """Return what stands in a folder and those in it."""
    return {str(path): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize(
    "words",
    [
        ("lay", "alto.toml", "--out", "alto.toml"),
        ("prove", "alto.toml", "--fitting", "--out", "alto.toml"),
        ("lay", "alto.toml", "--out", "mine.pdf"),
        ("prove", "alto.toml", "--fitting", "--out", "mine.pdf"),
        ("schema", "mine.json"),
        ("new", "alto.toml"),
        ("new", "link.toml"),
    ],
)
def test_no_command_writes_over_someone_s_file(ticket: Path, capsys: Capture, words: tuple[str, ...]) -> None:
    """It is named, and nothing is changed; a ticket is no name for a plan at all."""
    (ticket / "mine.pdf").write_text("mine")
    (ticket / "mine.json").write_text("{}")
    (ticket / "link.toml").symlink_to("nowhere.toml")
    before = contents(ticket)
    ran = run(capsys, *words)
    assert ran.status == 2
    assert (words[-1] if words[-1] != "alto.toml" or words[0] == "new" else "ends in .pdf") in ran.err
    assert contents(ticket) == before


@pytest.mark.parametrize(
    "words",
    [
        ("make", "alto.toml", "--out", f"{WORKING}/new"),
        ("make", "alto.toml", "--out", "through"),
        ("make", "alto.toml", "--out", f"{WORKING}/../p"),
        ("lay", "alto.toml", "--out", f"{WORKING}/old/plan.pdf"),
        ("prove", "alto.toml", "--fitting", "--out", f"{WORKING}/fitting.pdf"),
        ("schema", f"p/{WORKING.upper()}/ticket.json"),
        ("new", f"{WORKING}/x.toml"),
    ],
)
def test_nothing_is_written_where_files_are_made_ready(ticket: Path, capsys: Capture, words: tuple[str, ...]) -> None:
    """The next command would take it away; a link that leads there is seen through."""
    (ticket / "through").symlink_to(Path(WORKING, "new"))
    ran = run(capsys, *words)
    assert ran.status == 2
    assert "makes files ready" in ran.err
    assert "name another place" in ran.err
    assert {path.name for path in ticket.iterdir()} == {"alto.toml", "through"}


def test_a_link_that_leads_nowhere_is_told_as_one(ticket: Path, capsys: Capture) -> None:
    """Before the work is done where one file is named; with an earlier draft too."""
    (ticket / "circle").symlink_to("circle")
    assert run(capsys, "make", "alto.toml", "--out", "p").status == 0
    for words in (
        ("make", "alto.toml", "--out", "circle"),
        ("make", "alto.toml", "--out", "circle", "--since", "p"),
        ("lay", "alto.toml", "--out", "circle/plan.pdf"),
        ("new", "circle/bass.toml"),
    ):
        ran = run(capsys, *words)
        assert ran.status == 2
        assert "circle: this is a link, and leads to no folder" in ran.err


def test_make_writes_over_no_file_of_its_names_that_isn_t_its_own(ticket: Path, capsys: Capture) -> None:
    """All that stand in the way are named at once."""
    (ticket / "alto-pattern").mkdir()
    (ticket / "alto-pattern" / "pattern.pdf").write_text("my knitting")
    os.mkfifo(ticket / "alto-pattern" / "sheet.pdf")
    ran = run(capsys, "make", "alto.toml")
    assert ran.status == 2
    said = " ".join(ran.err.split())
    assert "alto-pattern/pattern.pdf: this file isn't one that Blockwright made" in said
    assert "alto-pattern/sheet.pdf: a pipe of this name is in the way" in said
    assert "move it away" in said
    assert {path.name for path in (ticket / "alto-pattern").iterdir()} == {"pattern.pdf", "sheet.pdf"}
    assert (ticket / "alto-pattern" / "pattern.pdf").read_text() == "my knitting"


def test_no_command_writes_over_a_pattern_but_make(ticket: Path, capsys: Capture) -> None:
    """A cutting plan in the place of pattern.pdf would leave the pattern without its pages."""
    run(capsys, "make", "alto.toml")
    before = contents(ticket)
    for words in (("lay", "alto.toml"), ("prove", "alto.toml", "--fitting")):
        ran = run(capsys, *words, "--out", "alto-pattern/pattern.pdf")
        assert ran.status == 2
        assert "was made by “blockwright make”" in ran.err
    assert contents(ticket) == before


def test_what_another_draft_left_goes_or_is_told(ticket: Path, capsys: Capture) -> None:
    """Of the fitted bodice before, fitting.pdf goes; its cutting plan is named as old; one's own notes stay."""
    bodice = PLAIN.replace('builds_on = "knit-top"', 'builds_on = "fitted-bodice"')
    cloth = '[cloth]\nkind = "woven"\nstretch_across = "2 %"\n[paper]'
    woven = bodice[: bodice.index("[cloth]")] + cloth + bodice.split("[paper]")[1]
    (ticket / "woven.toml").write_text(woven, encoding="utf-8")
    assert run(capsys, "make", "woven.toml", "--out", "p").status == 0
    assert (ticket / "p" / "fitting.pdf").exists()
    assert run(capsys, "lay", "woven.toml", "--out", "p/cutting.pdf").status == 0
    assert "Of another draft" not in run(capsys, "make", "woven.toml", "--out", "p").out
    (ticket / "p" / "notes.txt").write_text("mine")
    assert run(capsys, "prove", "woven.toml", "--fitting", "--out", "p/by-hand.pdf").status == 0
    ran = run(capsys, "make", "alto.toml", "--out", "p")
    assert ran.status == 0
    names = {path.name for path in (ticket / "p").iterdir()}
    assert names == {
        "pattern.pdf",
        "sheet.pdf",
        "pattern.svg",
        "flat.svg",
        "booklet.pdf",
        "booklet.html",
        "proof.json",
        "cutting.pdf",
        "by-hand.pdf",
        "notes.txt",
    }
    told = ran.out.split("Of another draft")[1]
    for words in ("p/cutting.pdf", "blockwright lay", "p/by-hand.pdf", "blockwright prove"):
        assert words in told


def test_any_command_finishes_what_a_killed_one_left(ticket: Path, capsys: Capture) -> None:
    """Here: make was killed after the switch, and then the folder is named with --since, or its ticket proved."""
    run(capsys, "make", "--demo", "--out", "p")
    made = contents(ticket / "p")
    for words in (("make", "alto.toml", "--out", "q", "--since", "p"), ("prove", "p/alto.toml")):
        work = ticket / "p" / WORKING
        (work / "old").mkdir(parents=True)
        shutil.copytree(ticket / "p", work / "new", ignore=shutil.ignore_patterns(WORKING))
        (work / "journal").write_text(
            '{"format": 1, "place": ["proof.json", "alto.toml"], "drop": [], "over": ["make"]}'
        )
        for name in ("proof.json", "alto.toml"):
            (ticket / "p" / name).unlink()
        assert run(capsys, *words).status == 0
        assert contents(ticket / "p") == made
        assert not work.exists()
