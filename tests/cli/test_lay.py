"""The command that plans the cutting: what it says, what it writes, and what it refuses."""

from __future__ import annotations

import re
import signal
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.running import run
from tests.laws.jobs import WEARER


def _ticket(folder: Path, more: str = "", design: str = "diagonal-overlay-top") -> Path:
    ticket = folder / "soprano.toml"
    ticket.write_text(f'builds_on = "{design}"\nunit = "cm"\n{WEARER}{more}', encoding="utf-8")
    return ticket


def _words(file: Path) -> list[str]:
    document = pypdfium2.PdfDocument(file)
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


def test_it_tells_how_much_to_buy_and_writes_the_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A page a cloth, each part by its letter; the second of a pair printed side down.

    A pattern beside a ticket in another folder is told of.
    """
    monkeypatch.chdir(tmp_path)
    beside = tmp_path / "elsewhere" / "soprano-pattern"
    beside.mkdir(parents=True)
    done = run(capsys, "lay", str(_ticket(beside.parent)))
    assert "--pattern" in done.out + done.err
    assert "elsewhere" in (done.out + done.err).replace("\n", "")
    _ticket(tmp_path)
    said = " ".join(done.out.split())
    assert done.status == 0
    assert re.search(r"Main cloth: .* wide Buy 1\.[1-6] m\.", said)
    assert "Printed side down, for the other of a pair: H Sleeve." in said
    assert "115.0 cm" in said
    assert "soprano-cutting.pdf" in said
    assert "Blades, pins" in said
    main, rib = _words(tmp_path / "soprano-cutting.pdf")
    assert "Cutting plan" in main
    assert "printed side down" in main
    assert {"A", "B", "C", "D", "E", "F", "H"} <= set(main.split())
    assert "Rib cloth" in rib
    assert (tmp_path / "soprano-cutting.pdf").read_bytes() == _again(tmp_path, capsys)


def test_without_another_cloth_all_is_laid_on_the_main_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Bands too, as their labels say; no other cloth is told."""
    ticket = _ticket(tmp_path, design="basic-tee")
    ticket.write_text(ticket.read_text(encoding="utf-8").partition("[cloths.rib]")[0], encoding="utf-8")
    said = run(capsys, "lay", str(ticket), "--out", str(tmp_path / "plan.pdf")).out
    assert "Rib" not in said
    (page,) = _words(tmp_path / "plan.pdf")
    assert "D Neck band" in said + page
    assert "the main cloth: --time 10" in " ".join(said.split())


def test_the_plan_comes_in_true_size_and_as_data_where_they_are_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Beside the plan, by its name; a file that stands there and isn't a plan's is left alone."""
    ticket, out = _ticket(tmp_path, design="basic-tee"), tmp_path / "plan.pdf"
    done = run(capsys, "lay", str(ticket), "--out", str(out), "--also", "true-size", "--also", "json")
    assert done.status == 0
    assert {"plan.pdf", "plan-true-size.pdf", "plan.json"} <= {each.name for each in tmp_path.iterdir()}
    assert run(capsys, "lay", str(ticket), "--out", str(out), "--also", "json").status == 0
    (tmp_path / "plan.json").write_text("mine", encoding="utf-8")
    assert run(capsys, "lay", str(ticket), "--out", str(out), "--also", "json").status == 2


@pytest.mark.parametrize(("name", "status"), [("plan.PDF", 0), ("plan.json", 2)])
def test_only_a_pdf_is_written_where_out_says(
    name: str, status: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """However its ending is spelt; data has a name of its own."""
    done = run(capsys, "lay", str(_ticket(tmp_path, design="basic-tee")), "--out", str(tmp_path / name))
    assert done.status == status
    assert (tmp_path / name).exists() is (status == 0)


def _again(folder: Path, capsys: pytest.CaptureFixture[str]) -> bytes:
    assert run(capsys, "lay", str(folder / "soprano.toml"), "--out", str(folder / "new" / "plan.pdf")).status == 0
    return (folder / "new" / "plan.pdf").read_bytes()


def test_another_width_is_laid_on(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Over what the ticket says, in the ticket's unit or its own."""
    ticket, out = _ticket(tmp_path), str(tmp_path / "plan.pdf")
    for width, shown in (("115", "115.0 cm wide"), ("45 in", "114.3 cm wide")):
        assert shown in run(capsys, "lay", str(ticket), "--width", width, "--out", out).out


def test_a_part_without_room_ends_with_status_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """And is counted, whether others have room or not; where none has, nothing is said of its stripes."""
    ticket = _ticket(tmp_path, "", "knit-top")
    striped = ticket.read_text(encoding="utf-8").replace("[cloths.rib]", "[cloth.stripe]\nrepeat = 2\n[cloths.rib]")
    ticket.write_text(striped, encoding="utf-8")
    for width, missing in (("48", "2 pieces find"), ("30", "4 pieces find")):
        done = run(capsys, "lay", str(ticket), "--width", width, "--out", str(tmp_path / "plan.pdf"))
        assert done.status == 1
        assert f"NOT ALL LAID: {missing} no room on the cloth" in done.out
    assert "Nothing can be laid" in done.out
    assert "runs at" not in done.out
    assert "Cut the pieces out" not in done.out
    parted = [line for line in " ".join(done.out.split()).split("Not laid: ") if 'change = "centre"' in line]
    assert [line.split(" is ")[0] for line in parted] == ["A Front", "B Back"]
    assert all('on = "front"' in line or 'on = "back"' in line for line in parted)


@pytest.mark.parametrize(("width", "says"), [("wide", "--width"), ("-3", "--width"), ("1 cm", "20.0 cm to 330.0 cm")])
def test_a_width_that_is_none_is_refused(
    width: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With status 2, and nothing is written."""
    done = run(capsys, "lay", str(_ticket(tmp_path)), "--width", width, "--out", str(tmp_path / "plan.pdf"))
    assert done.status == 2
    assert says in done.err
    assert not (tmp_path / "plan.pdf").exists()


def test_stripes_of_the_ticket_are_matched(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where they meet is told on the terminal and on the plan."""
    ticket = _ticket(tmp_path)
    text = ticket.read_text(encoding="utf-8").replace(
        "[cloths.rib]", '[cloth.stripe]\nrepeat = 4\ndirection = "across"\n[cloths.rib]'
    )
    ticket.write_text(text, encoding="utf-8")
    done = run(capsys, "lay", str(ticket), "--out", str(tmp_path / "plan.pdf"))
    assert done.status == 0
    assert "They meet at: " in " ".join(done.out.split())
    assert "They meet at: " in _words(tmp_path / "plan.pdf")[0]


def test_a_draft_that_is_not_proven_has_no_plan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is wrong is shown, and the status is 1."""
    change = '[[changes]]\nchange = "neckline"\nfront = "round"\nfront_depth = -1\nback_depth = 0\nwiden = 0\n'
    ticket = _ticket(tmp_path, change, "knit-top")
    done = run(capsys, "lay", str(ticket), "--out", str(tmp_path / "plan.pdf"))
    assert done.status == 1
    assert "must pass" in " ".join(done.out.split())
    assert "--anyway" not in done.out
    assert not (tmp_path / "plan.pdf").exists()


def test_an_interruption_keeps_the_best_plan_so_far(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Ctrl-C in the search: the plan is written, and what is said of it says that the search was stopped."""
    from drafting.lay.pack import Effort

    monkeypatch.chdir(tmp_path)
    go_on, asked = Effort.may_go_on, list[int]()

    def interrupted(effort: Effort) -> bool:
        asked.append(1)
        if len(asked) == 3:
            signal.raise_signal(signal.SIGINT)
        return go_on(effort)

    monkeypatch.setattr(Effort, "may_go_on", interrupted)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        ran = run(capsys, "lay", "--demo")
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    finally:
        signal.signal(signal.SIGINT, before)
    assert ran.status == 0
    assert "The search was stopped" in ran.out
    assert "in other widths" not in ran.out
    assert (tmp_path / "alto-cutting.pdf").read_bytes().startswith(b"%PDF")
    assert len(asked) < 10


def test_a_cloth_without_a_name_is_told_by_its_width(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A name left empty, as in a new ticket, leaves neither a comma nor a gap."""
    ticket = _ticket(tmp_path)
    ticket.write_text(re.sub(r"(?m)(?<=\[cloth\]\n)(name = .*\n)?", 'name = ""\n', ticket.read_text("utf-8")), "utf-8")
    said = run(capsys, "lay", str(ticket), "--out", str(tmp_path / "plan.pdf")).out
    assert re.search(r"(?m)^\W*Main cloth: [\d.]+ cm wide", said)
    assert "Cutting plan" in _words(tmp_path / "plan.pdf")[0]


def test_files_of_another_plan_are_taken_away(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What was written beside the plan before shows where pieces lay then: none is cut by it now."""
    ticket, plan = _ticket(tmp_path, "", "basic-tee"), tmp_path / "plan.pdf"
    run(capsys, "lay", str(ticket), "--out", str(plan), "--also", "json", "--also", "svg")
    assert {file.name for file in tmp_path.glob("plan*")} == {"plan.pdf", "plan.json", "plan-true-size.svg"}
    run(capsys, "lay", str(ticket), "--out", str(plan), "--folded")
    assert {file.name for file in tmp_path.glob("plan*")} == {"plan.pdf"}
