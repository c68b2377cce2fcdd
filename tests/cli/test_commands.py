"""What each command writes, says and returns."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from drafting.proof import Proof, proof_schema
from tests.cli.running import DEMO, PLAIN, run, run_alone

FILES = {"pattern.pdf", "sheet.pdf", "pattern.svg", "flat.svg", "booklet.pdf", "booklet.html", "proof.json"}
Capture = pytest.CaptureFixture[str]


@pytest.fixture
def ticket(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A plain top's ticket under another name, in the current folder."""
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "alto.toml"
    path.write_text(PLAIN, encoding="utf-8")
    return path


@pytest.fixture
def failing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every proof fails, with one error."""
    from drafting.proof import Finding, Severity

    found = Finding("test.fails", Severity.ERROR, "neck", 1.0, 2.0, "it can't be sewn", "choose another neck")
    monkeypatch.setattr("drafting.job.prove", lambda *args, **more: Proof(findings=(found,)))


def names(folder: Path) -> set[str]:
    """Return the names in a folder, hidden ones too."""
    return {path.name for path in folder.iterdir()}


def test_make_writes_the_pattern_and_says_what_was_made(ticket: Path, tmp_path: Path, capsys: Capture) -> None:
    """Into a folder named after the ticket."""
    ran = run(capsys, "make", "alto.toml")
    assert ran.status == 0
    assert ran.err == ""
    assert names(tmp_path / "alto-pattern") == FILES
    for words in (
        "Concert top, for Soprano",
        "proven",
        "draft mark",
        "bust",
        "95.8 cm",
        "head, 55.5 cm",
        "hand with its thumb",
    ):
        assert words in ran.out
    for words in (
        "Findings:",
        "estimated",
        "shoulder slope",
        "Pages:",
        "A4",
        "actual size",
        "square, 10 cm",
        "Cautions: see the booklet.",
    ):
        assert words in ran.out
    assert "\x1b" not in ran.out


def test_the_demo_is_made_with_its_ticket_beside_it(tmp_path: Path, monkeypatch: Any, capsys: Capture) -> None:
    """To be altered; and one that was altered is not written over."""
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "make", "--demo").status == 0
    folder = tmp_path / "alto-pattern"
    assert names(folder) == {*FILES, "alto.toml"}
    assert (folder / "alto.toml").read_text(encoding="utf-8") == DEMO
    (folder / "alto.toml").write_text("mine")
    assert run(capsys, "make", "--demo").status == 0
    assert (folder / "alto.toml").read_text() == "mine"


def test_the_same_ticket_makes_the_same_bytes(ticket: Path, tmp_path: Path, capsys: Capture) -> None:
    """Whatever the folder, the ticket's name and the time."""
    other = tmp_path / "elsewhere.toml"
    other.write_bytes(ticket.read_bytes())
    run(capsys, "make", "alto.toml", "--out", "one")
    ran = run_alone("make", "elsewhere.toml", "--out", "deep/two", cwd=tmp_path)
    assert ran.status == 0
    for name in FILES:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "deep" / "two" / name).read_bytes()


def test_the_proof_written_keeps_its_schema_and_mark(ticket: Path, tmp_path: Path, capsys: Capture) -> None:
    """The same that prove prints."""
    run(capsys, "make", "alto.toml")
    text = (tmp_path / "alto-pattern" / "proof.json").read_text(encoding="utf-8")
    document = json.loads(text)
    jsonschema.Draft202012Validator(proof_schema()).validate(document)
    assert document["passed"] is True
    shown = run(capsys, "prove", "alto.toml", "--json")
    assert shown.out == text
    assert json.loads(run(capsys, "prove", "--json-schema").out) == proof_schema()


def test_the_paper_asked_for_on_the_command_line_comes_first(ticket: Path, capsys: Capture) -> None:
    """And a paper that is none is bad input."""
    assert "on US Letter" in run(capsys, "make", "alto.toml", "--paper", "US Letter").out
    ran = run(capsys, "make", "alto.toml", "--paper", "B44")
    assert ran.status == 2
    assert "--paper" in ran.err


@pytest.mark.usefixtures("failing")
def test_what_is_not_proven_is_not_printed(ticket: Path, tmp_path: Path, capsys: Capture) -> None:
    """The finding and its mend are shown, the status is 1."""
    ran = run(capsys, "make", "alto.toml")
    assert ran.status == 1
    assert not (tmp_path / "alto-pattern").exists()
    for words in ("not proven", "it can't be sewn", "choose another neck", "--anyway"):
        assert words in ran.out
    assert run(capsys, "prove", "alto.toml").status == 1


@pytest.mark.usefixtures("failing")
def test_what_is_not_proven_is_printed_when_asked_for_by_name(ticket: Path, tmp_path: Path, capsys: Capture) -> None:
    """The status stays 1, and the summary says so."""
    ran = run(capsys, "make", "alto.toml", "--anyway")
    assert ran.status == 1
    assert "NOT PROVEN" in ran.out
    assert names(tmp_path / "alto-pattern") == FILES


@pytest.mark.parametrize("command", ["make", "prove"])
@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([], "Name a ticket"),
        (["gone.toml"], "no such file"),
        (["."], "this is a folder"),
        (["alto.toml", "--demo"], "not both"),
        (["alto.toml", "--frob"], "--frob"),
    ],
)
def test_bad_input_ends_with_status_2(ticket: Path, command: str, words: list[str], says: str, capsys: Capture) -> None:
    """And with a sentence on the error stream, and nothing else."""
    ran = run(capsys, command, *words)
    assert ran.status == 2
    assert says in ran.err
    assert ran.out == ""


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("bust_girth = 92", "bust_girth = 920", "bust_girth"),
        ("bust_girth = 92", "bust_girth = nan", "ordinary number"),
        ('width = "150 cm"', 'width = "150 in"', "cloth.width"),
        ("bust_girth = 92", "bust_grith = 92", "did you mean bust_girth"),
        ("waist_girth = 74", "waist_girth = 150", "waist_girth"),
        ('"30 %"', '"30 ells"', "stretch_across"),
        ('title = "Concert top"', f'title = "{"x" * 900}"', "900 characters"),
        ('title = "Concert top"', f'title = "{"x" * 9000}"', "9010 characters"),
        ('title = "Concert top"', "title = ", "line 3"),
        ('builds_on = "knit-top"', 'builds_on = "knit-tip"', "did you mean knit-top?"),
        ("[paper]", '[[changes]]\nchange = "closure"\nplace = "front"\n[paper]', "the front can't be opened: neither"),
    ],
)
def test_a_ticket_with_a_mistake_is_told_of_it(ticket: Path, old: str, new: str, says: str, capsys: Capture) -> None:
    """Status 2, file and key, and the mend; nothing is written."""
    assert old in PLAIN
    ticket.write_text(PLAIN.replace(old, new), encoding="utf-8")
    ran = run(capsys, "make", "alto.toml")
    assert ran.status == 2
    assert says in ran.err
    assert "alto.toml" in ran.err
    assert len(ran.err) < 3000
    assert names(ticket.parent) == {"alto.toml"}


def test_a_body_that_cannot_be_drafted_names_what_is_in_the_way(ticket: Path, capsys: Capture) -> None:
    """A refusal by a block: status 2, the step, the reason and the help."""
    from drafting.errors import CannotDraft

    def refuse(*_: object) -> None:
        error = CannotDraft("shoulder_length", "no armhole can be drawn", short_by=12.0, help="measure again")
        error.step = "knit-bodice"
        raise error

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("drafting.job.draft_job", refuse)
        ran = run(capsys, "make", "alto.toml")
    assert ran.status == 2
    for words in ("knit-bodice can't be drafted", "no armhole", "shoulder_length", "1.2 cm", "measure again"):
        assert words in ran.err


@pytest.mark.parametrize(
    "name",
    ['<b>Anna</b> & "co"', "Æsa Þórsdóttir, Ελένη 🎵", "安娜", "a" * 200, "%s {0} \\\\n $HOME ../../x"],
)
def test_names_of_every_kind_are_printed_as_they_are(ticket: Path, tmp_path: Path, name: str, capsys: Capture) -> None:
    """Markup means nothing, and neither do paths or places for values."""
    quoted = name.replace("\\\\", "\\").replace("\\", "\\\\").replace('"', '\\"')
    ticket.write_text(PLAIN.replace('"Soprano"', f'"{quoted}"'), encoding="utf-8")
    ran = run(capsys, "make", "alto.toml", "--out", "out")
    assert ran.status == 0, ran.err
    assert name.replace("\\\\", "\\") in ran.out
    assert names(tmp_path / "out") == FILES


def test_a_terminal_that_shows_few_characters_is_no_reason_to_fail(ticket: Path, tmp_path: Path) -> None:
    """They are written as their codes."""
    import os
    import subprocess
    import sys

    ticket.write_text(PLAIN.replace('"Soprano"', '"Ελένη"'), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "drafting", "make", "alto.toml"],
        cwd=tmp_path,
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0"},
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert b"\\u0395" in done.stdout


def test_a_place_that_cannot_be_written_is_told_with_the_mend(ticket: Path, tmp_path: Path, capsys: Capture) -> None:
    """Status 2."""
    (tmp_path / "taken").write_text("a file")
    ran = run(capsys, "make", "alto.toml", "--out", "taken")
    assert ran.status == 2
    assert "can't be written" in ran.err
    assert "name a folder" in ran.err
    assert (tmp_path / "taken").read_text() == "a file"


def test_new_writes_a_ticket_once(tmp_path: Path, monkeypatch: Any, capsys: Capture) -> None:
    """One that exists stays as it is; a design that is none is told."""
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "new", "tenor.toml", "--unit", "in", "--fit", "relaxed").status == 0
    text = (tmp_path / "tenor.toml").read_text(encoding="utf-8")
    read = tomllib.loads(text)
    assert (read["unit"], read["fit"], read["builds_on"]) == ("in", "relaxed", "knit-top")
    assert "37 3/4 in" in text
    ran = run(capsys, "new", "tenor.toml")
    assert ran.status == 2
    assert "exists" in ran.err
    assert (tmp_path / "tenor.toml").read_text(encoding="utf-8") == text
    assert "did you mean knit-top" in run(capsys, "new", "a.toml", "--design", "knit-topp").err
    assert "ends in .toml" in run(capsys, "new", "alto.pdf").err
    assert names(tmp_path) == {"tenor.toml"}
    unfilled = run(capsys, "make", "tenor.toml")
    assert unfilled.status == 2
    assert "isn't filled in yet" in unfilled.err
    assert "Level round the fullest part" in unfilled.err


def test_schema_prints_or_writes_one(tmp_path: Path, monkeypatch: Any, capsys: Capture) -> None:
    """And doesn't write over a ticket."""
    monkeypatch.chdir(tmp_path)
    printed = json.loads(run(capsys, "schema").out)
    assert run(capsys, "schema", "t.json").status == 0
    written = json.loads((tmp_path / "t.json").read_text(encoding="utf-8"))
    assert "Blockwright schema" in written.pop("$comment")
    assert written == printed
    assert run(capsys, "schema", "alto.toml").status == 2


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["measurements"], ["bust_girth", "54.0 cm to 180.5 cm", "needed"]),
        (["measurements", "--unit", "in"], ["21 3/8 in"]),
        (["measurements", "neck_base_girth"], ["ISO 8559-1 5.3.3", "Round the base of the neck"]),
        (["blocks"], ["knit-bodice", "set-in-sleeve", "hem-band"]),
        (["blocks", "knit-bodice"], ["front_neck", "round or v", "if not given: round", "bust_girth"]),
        (["designs"], ["knit-top", "Knit top"]),
        (["designs", "knit-top"], ["[blocks.body]"]),
        (["papers"], ["US Letter", "21.0 cm"]),
        (["papers", "--unit", "in"], ["8 1/2 in"]),
        (["cloth"], ["stretch_across", "0 % to 300 %", "[cloth.stripe]", "Fold the cloth"]),
        (["seams"], ["shoulder", "1.0 cm", "hem_depth"]),
        (["paper"], ["square_10cm_across", "butt or overlap"]),
    ],
)
def test_list_tells_units_ranges_and_sentences(words: list[str], says: list[str], capsys: Capture) -> None:
    """Of everything that may stand in a ticket."""
    ran = run(capsys, "list", *words)
    assert ran.status == 0
    for said in says:
        assert said in ran.out


@pytest.mark.parametrize("what", ["measurements", "blocks", "changes", "designs"])
def test_list_of_a_name_that_is_none_is_bad_input(what: str, capsys: Capture) -> None:
    """With the nearest names."""
    assert run(capsys, "list", what, "knit-bodise\x1b[2J").status == 2
    assert "\x1b" not in run(capsys, "list", what, "knit-bodise\x1b[2J").err


@pytest.mark.parametrize(("variable", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_colour_is_only_for_terminals_that_want_it(
    ticket: Path, monkeypatch: Any, variable: str, value: str, capsys: Capture
) -> None:
    """On one that does there is some; NO_COLOR takes it away."""
    monkeypatch.setattr("click.utils.should_strip_ansi", lambda *args, **more: more.get("color", args[-1]) is False)
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    assert "\x1b[" in run(capsys, "list", "cloth").out
    monkeypatch.setenv(variable, value)
    assert "\x1b[" not in run(capsys, "list", "cloth").out


def test_a_reader_that_goes_away_is_no_error(tmp_path: Path) -> None:
    """As with: blockwright list measurements | head -1."""
    import subprocess
    import sys

    process = subprocess.Popen(
        [sys.executable, "-m", "drafting", "schema"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None
    assert process.stderr is not None
    process.stdout.close()
    said = process.stderr.read()
    process.stderr.close()
    assert process.wait(timeout=30) == 0
    assert b"Error" not in said


def test_what_others_want_done_at_the_end_is_done() -> None:
    """The process ends as any does: a debugger, a profiler or a test's coverage writes what it has."""
    import subprocess
    import sys

    words = "import atexit, sys; atexit.register(print, 'done'); sys.argv[1:] = ['list', 'papers']"
    done = subprocess.run(
        [sys.executable, "-c", f"{words}\nfrom drafting.cli import command_line\ncommand_line()"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.endswith("done\n")
