"""A second version: what differs has pages of its own, what doesn't is named; a file that is no proof is refused."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pypdfium2
import pytest

from drafting.cli import main
from tests.cli.running import PLAIN, run

DESIGN = Path(__file__).parents[2] / "blocks" / "designs" / "knit-top.toml"
Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the first version's ticket and its pattern in "first", made once for all tests."""
    folder = tmp_path_factory.mktemp("made")
    (folder / "first.toml").write_text(PLAIN, encoding="utf-8")
    assert main(["make", str(folder / "first.toml"), "--out", str(folder / "first")]) == 0
    return folder


@pytest.fixture
def first(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of it to work in."""
    folder = tmp_path / "work"
    shutil.copytree(made, folder)
    monkeypatch.chdir(folder)
    return folder


def second(folder: Path, more: str) -> None:
    """Write a ticket that builds on the first and states only what differs."""
    (folder / "second.toml").write_text(f'title = "Second"\nbuilds_on = "first.toml"\nunit = "cm"\n{more}', "utf-8")


SHORTER = '[[changes]]\nchange = "sleeve-length"\nto = "elbow"\ncuff = 0\n'
"""A sleeve that is still larger than the pieces after it, so that all keep their letters."""


def test_the_pieces_that_changed_are_printed_beside_the_whole(first: Path, capsys: Capture) -> None:
    """Shorter sleeves: changed.pdf has sleeve and cuff, names the others as unchanged, and is what is to be printed."""
    second(first, SHORTER)
    ran = run(capsys, "make", "second.toml", "--out", "second", "--since", "first")
    assert ran.status == 0
    kept = " ".join(ran.out.split("Unchanged since")[1].split("Files")[0].split())
    for title in ("Front", "Back", "Neck band", "Hem band"):
        assert title in kept
    assert "Sleeve" not in kept
    assert "To print, changed.pdf" in ran.out
    assert "Print page 1 of changed.pdf" in ran.out
    printed = pages_of(first / "second" / "changed.pdf")
    assert "Unchanged since the earlier draft" in printed
    assert "A Front" in printed.split("Unchanged since")[1][:200]
    assert printed.count("Changed pieces: Second") == count_pages(first / "second" / "changed.pdf")
    assert count_pages(first / "second" / "changed.pdf") < count_pages(first / "second" / "pattern.pdf")


def test_a_folder_always_holds_one_whole_pattern(first: Path, capsys: Capture) -> None:
    """A ticket edited in place, with --since its own folder: the pattern is the one made without, to the byte."""
    second(first, SHORTER)
    run(capsys, "make", "second.toml", "--out", "alone")
    assert run(capsys, "make", "second.toml", "--out", "first", "--since", "first").status == 0
    alone, since = ({path.name: path.read_bytes() for path in (first / name).iterdir()} for name in ("alone", "first"))
    assert since.pop("changed.pdf")
    asked, never = (json.loads(files.pop("proof.json")) for files in (since, alone))
    assert since == alone
    assert {piece["name"] for piece in asked["pieces"] if piece["asked"]} == {"sleeve", "cuff"}
    assert not any(piece["asked"] for piece in never["pieces"])
    assert [piece["code"] for piece in asked["pieces"]] == [piece["code"] for piece in never["pieces"]]
    again = run(capsys, "make", "second.toml", "--out", "first", "--since", "first")
    assert "nothing was written" in again.out
    assert (first / "first" / "changed.pdf").exists()
    assert run(capsys, "make", "second.toml", "--out", "first").status == 0
    assert {path.name for path in (first / "first").iterdir()} == {*alone, "proof.json"}


def test_what_an_unprinted_version_asked_for_is_asked_for_again(first: Path, capsys: Capture) -> None:
    """Two changes of mind in one folder: the second changed.pdf replaces the first, so it holds the first's pieces."""
    second(first, '[[changes]]\nchange = "lengthen"\nby = 2\n')
    assert run(capsys, "make", "second.toml", "--out", "first", "--since", "first").status == 0
    assert "A Front" in pages_of(first / "first" / "changed.pdf")
    second(first, f'[[changes]]\nchange = "lengthen"\nby = 2\n{SHORTER}')
    ran = run(capsys, "make", "second.toml", "--out", "first", "--since", "first")
    kept = " ".join(ran.out.split("Unchanged since")[1].split("Files")[0].split())
    assert "Front" not in kept
    assert "Neck band" in kept


def test_a_corrected_printer_prints_every_piece_again(first: Path, capsys: Capture) -> None:
    """What was printed at 98 % serves no more once the ticket says so."""
    second(first, '[paper]\nsquare_10cm_across = "98 mm"\nsquare_10cm_along = "98 mm"\n')
    ran = run(capsys, "make", "second.toml", "--out", "second", "--since", "first")
    assert "print the whole pattern" in ran.out
    assert "changed.pdf" not in {path.name for path in (first / "second").iterdir()}


def test_other_paper_alone_prints_all_of_it_again(first: Path, capsys: Capture) -> None:
    """Pages of two papers can't be joined; where a piece differs too, it alone is printed, on the new paper."""
    second(first, '[paper]\nsize = "US Letter"\n')
    ran = run(capsys, "make", "second.toml", "--out", "second", "--since", "first")
    assert "on other paper: print the whole pattern" in ran.out
    assert "Print page 1 of pattern.pdf" in ran.out
    second(first, f'[paper]\nsize = "US Letter"\n{SHORTER}')
    ran = run(capsys, "make", "second.toml", "--out", "third", "--since", "first")
    assert "Print page 1 of changed.pdf" in ran.out


def pages_of(pdf: Path) -> str:
    """Return the words of a PDF's pages."""
    document = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


def count_pages(pdf: Path) -> int:
    """Return how many pages a PDF has."""
    return len(pypdfium2.PdfDocument(pdf))


def codes_in(folder: Path) -> dict[str, str]:
    """Return the letters of the pieces by name, as a draft's proof tells them."""
    return {piece["name"]: piece["code"] for piece in json.loads((folder / "proof.json").read_text())["pieces"]}


def numbers_in(folder: Path) -> dict[str, list[int]]:
    """Return the numbers of the pieces' notches by name, as a draft's proof tells them."""
    pieces = json.loads((folder / "proof.json").read_text())["pieces"]
    return {piece["name"]: piece["numbers"] for piece in pieces}


def test_pieces_keep_the_letters_and_numbers_they_were_printed_with(first: Path, capsys: Capture) -> None:
    """Without sleeves and cuffs the bands that follow them would move up; their papers say otherwise."""
    second(first, '[[changes]]\nchange = "sleeveless"\n[blocks.armhole-band]\n')
    assert run(capsys, "make", "second.toml", "--out", "fresh").status == 0
    ran = run(capsys, "make", "second.toml", "--out", "second", "--since", "first")
    old, fresh, new = (codes_in(first / folder) for folder in ("first", "fresh", "second"))
    assert fresh["hem-band"] != old["hem-band"]
    kept = " ".join(ran.out.split("Unchanged since")[1].split("Files")[0].split())
    assert f"{old['hem-band']} Hem band" in kept
    for name, code in new.items():
        assert code == old[name] if name in old else code not in old.values()
    before, anew, after = (numbers_in(first / folder) for folder in ("first", "fresh", "second"))
    for name in ("neck-band", "hem-band"):
        assert after[name] == before[name], "what was printed says the same as the booklet of now"
    assert anew["hem-band"] != before["hem-band"]
    assert "new numbers" not in ran.out
    side, centre = before["hem-band"][1], before["hem-band"][0]
    assert f"notches {side} (to the side seam) and {centre} (centre front)" in pages_of(first / "second/booklet.pdf")
    assert set(after["armhole-band"]) & {*before["neck-band"], *before["hem-band"]} <= {0}
    marks = {folder: json.loads((first / folder / "proof.json").read_text())["mark"] for folder in ("fresh", "second")}
    assert marks["fresh"] != marks["second"]
    for folder, letters in (("fresh", fresh), ("second", new)):
        planned = run(capsys, "lay", "second.toml", "--pattern", folder, "--out", "plan.pdf")
        assert f"draft mark {marks[folder]}" in planned.out
        words = pages_of(first / "plan.pdf")
        for name, title in (("hem-band", "Hem band"), ("armhole-band", "Armhole band"), ("neck-band", "Neck band")):
            assert f"{letters[name]} {title}" in words
    assert "first has draft mark" in run(capsys, "lay", "second.toml", "--pattern", "first", "--out", "plan.pdf").err


def test_the_proof_still_holds_every_piece(first: Path, capsys: Capture) -> None:
    """The second version's proof tells all pieces, so that a third can be compared with it."""
    second(first, '[[changes]]\nchange = "sleeve-length"\nto = "elbow"\n')
    run(capsys, "make", "second.toml", "--out", "second", "--since", "first/proof.json")
    names = [
        {p["name"] for p in json.loads((first / d / "proof.json").read_text())["pieces"]} for d in ("first", "second")
    ]
    assert names[0] == names[1]


def test_where_no_piece_differs_the_whole_is_written_and_nothing_need_be_printed(first: Path, capsys: Capture) -> None:
    """A version that differs in its title alone; into the folder that holds it already nothing is written."""
    second(first, "")
    ran = run(capsys, "make", "second.toml", "--out", "second", "--since", "first")
    assert ran.status == 0
    assert "use the ones you have, all of them" in ran.out
    assert "Print page 1" not in ran.out
    assert "changed.pdf" not in {path.name for path in (first / "second").iterdir()}
    before = {path: path.stat().st_mtime_ns for path in (first / "second").iterdir()}
    ran = run(capsys, "make", "second.toml", "--out", "second", "--since", "first")
    assert "no piece differs" in ran.out
    assert "nothing was written" in ran.out
    assert {path: path.stat().st_mtime_ns for path in (first / "second").iterdir()} == before


def test_where_every_piece_differs_the_whole_is_to_be_printed(first: Path, capsys: Capture) -> None:
    """And there is no file of those that do."""
    (first / "second.toml").write_text(PLAIN.replace("bust_girth = 92", "bust_girth = 99"), "utf-8")
    proof = json.loads((first / "first" / "proof.json").read_text("utf-8"))
    for piece in proof["pieces"]:
        piece["said"] = "cut another way"
    (first / "other.json").write_text(json.dumps(proof), "utf-8")
    ran = run(capsys, "make", "second.toml", "--out", "second", "--since", "other.json")
    assert "No piece is as in the earlier draft" in ran.out
    assert "Print page 1 of pattern.pdf" in ran.out
    assert not (first / "second" / "changed.pdf").exists()


def test_measurements_of_the_same_person_are_told_by_file(first: Path, capsys: Capture) -> None:
    """On the terminal, on the start page and in the proof."""
    second(first, "[wearer]\nsame_person = true\n[wearer.body]\nwaist_girth = 76\n")
    ran = run(capsys, "make", "second.toml", "--out", "second")
    told = "The same person's measurements: waist girth from second.toml; all others from first.toml."
    assert told in " ".join(ran.out.split())
    assert told in " ".join(run(capsys, "prove", "second.toml").out.split())
    start = pypdfium2.PdfDocument(first / "second" / "pattern.pdf")[0].get_textpage().get_text_range()
    assert told in " ".join(start.split())
    measured = json.loads((first / "second" / "proof.json").read_text())["measured"]
    assert measured[0] == {"file": "second.toml", "measurements": ["waist_girth"]}
    assert measured[1]["file"] == "first.toml"
    assert len(measured[1]["measurements"]) == 12


def test_measurements_of_someone_else_are_said_not_to_be_taken(first: Path, capsys: Capture) -> None:
    """Five of the alto's own: her arm isn't the soprano's."""
    five = "stature = 172\nbust_girth = 104\nwaist_girth = 88\nhip_girth = 110\nback_neck_point_to_waist = 42\n"
    second(first, f'[wearer]\nname = "Alto"\n[wearer.body]\n{five}')
    ran = run(capsys, "prove", "second.toml")
    assert ran.status == 0
    assert "The measurements of first.toml are someone else's" in " ".join(ran.out.split())
    assert json.loads(run(capsys, "prove", "second.toml", "--json").out)["measured"] == []


def test_fit_changes_of_someone_else_are_told_as_left_behind(first: Path, capsys: Capture) -> None:
    """On the terminal, on the start page, in the proof and in the list of what is inherited."""
    fitted = '[[changes]]\nchange = "sway-back"\n[[changes]]\nchange = "lengthen"\nby = 2\n'
    (first / "first.toml").write_text(PLAIN + fitted, encoding="utf-8")
    five = "stature = 172\nbust_girth = 104\nwaist_girth = 88\nhip_girth = 110\nback_neck_point_to_waist = 42\n"
    second(first, f'[wearer]\nname = "Alto"\n[wearer.body]\n{five}')
    ran = run(capsys, "make", "second.toml", "--out", "second")
    told = "Left behind, since they fit someone else's body: sway-back of first.toml."
    assert told in " ".join(ran.out.split())
    assert told in pages_of(first / "second" / "pattern.pdf")
    behind = json.loads((first / "second" / "proof.json").read_text())["left_behind"]
    assert behind == [{"file": "first.toml", "changes": ["sway-back"]}]
    listed = run(capsys, "list", "inherited", "second.toml").out
    assert re.search(r"(?m)^sway-back .*\n    left behind: it fits someone else's body", listed)
    assert listed.count("left behind") == 1


def test_what_is_inherited_is_told_with_the_names_to_leave_it_out(first: Path, capsys: Capture) -> None:
    """Each name that is told is one that may be left out."""
    lengths = '[[changes]]\nchange = "lengthen"\nby = 2\n[[changes]]\nchange = "lengthen"\nby = 3\n'
    second(first, f"[cloth.stripe]\nrepeat = 3\n[seams]\n{lengths}")
    (first / "third.toml").write_text('builds_on = "second.toml"\n', encoding="utf-8")
    ran = run(capsys, "list", "inherited", "third.toml")
    assert ran.status == 0
    names = re.findall(r"(?m)^(\S[^(]*?)  \(", ran.out)
    assert {"lengthen 1", "lengthen 2", "cloth.stripe", "blocks.cuffs", "cloths.rib", "wearer.body"} <= set(names)
    assert "\nseams  (second.toml)\n" in ran.out  # empty, and told with its file too
    assert "second.toml: changes[2])\n    by = 3" in ran.out
    for name in names:
        (first / "third.toml").write_text(f'builds_on = "second.toml"\nleave_out = ["{name}"]\n', encoding="utf-8")
        assert "isn't inherited" not in run(capsys, "prove", "third.toml").err
    (first / "third.toml").write_text(
        'builds_on = "second.toml"\nleave_out = ["lengthen 2", "cloth.stripe"]\n', encoding="utf-8"
    )
    listed = run(capsys, "list", "inherited", "third.toml").out
    assert set(names) - set(re.findall(r"(?m)^(\S[^(]*?)  \(", listed)) == {"lengthen 2", "cloth.stripe"}
    assert listed.endswith("\nLeft out in third.toml: lengthen 2, cloth.stripe.\n")
    assert "inherits nothing" in run(capsys, "list", "inherited", str(DESIGN)).out


def test_a_design_is_named_after_the_ticket_that_builds_on_it(tmp_path: Path, capsys: Capture) -> None:
    """A ticket on a ticket on a design: the design is the first ticket's."""
    (tmp_path / "first.toml").write_text('builds_on = "basic-tee"\n', encoding="utf-8")
    (tmp_path / "second.toml").write_text('builds_on = "first.toml"\n', encoding="utf-8")
    listed = run(capsys, "list", "inherited", str(tmp_path / "second.toml")).out
    assert "blocks.body  (first.toml, in its design basic-tee)" in listed


def test_an_inherited_change_in_the_way_is_told_with_what_leaves_it_out(first: Path, capsys: Capture) -> None:
    """A version without sleeves of a ticket that alters their length; what is advised mends it."""
    second(first, '[[changes]]\nchange = "sleeve-length"\nto = "elbow"\n')
    third = 'builds_on = "second.toml"\nleave_out = ["blocks.sleeves", "blocks.cuffs"{more}]\n[blocks.armhole-band]\n'
    (first / "third.toml").write_text(third.format(more=""), encoding="utf-8")
    ran = run(capsys, "prove", "third.toml")
    assert ran.status == 2
    assert "second.toml: changes[1]: sleeve-length can't be drafted" in ran.err
    assert 'leave_out = ["sleeve-length"]' in ran.err
    (first / "third.toml").write_text(third.format(more=', "sleeve-length"'), encoding="utf-8")
    assert run(capsys, "prove", "third.toml").status == 0


def test_a_folder_to_build_on_is_allowed_in_the_command(first: Path, capsys: Capture) -> None:
    """Every command that reads a ticket takes it."""
    (first / "spring").mkdir()
    (first / "spring" / "second.toml").write_text('builds_on = "../first.toml"\n', encoding="utf-8")
    for words in (["prove"], ["make", "--out", "second"], ["lay"], ["list", "inherited"]):
        refused = run(capsys, *words, "spring/second.toml")
        assert (refused.status, refused.out) == (2, "")
        assert "second.toml: builds_on: “../first.toml” lies outside the folder of second.toml" in refused.err
    for words in (["prove"], ["list", "inherited"]):
        assert run(capsys, *words, "spring/second.toml", "--from", ".").status == 0
    assert run(capsys, "prove", "spring/second.toml", "--from", "nowhere").status == 2


@pytest.mark.parametrize("text", ["", "[]", '{"pieces": 3}', '{"pieces": [{}]}', "\x00\xff", "[" * 100_000])
def test_what_is_no_proof_is_refused(first: Path, capsys: Capture, text: str) -> None:
    """A file that isn't the proof of an earlier draft is named, with the mend."""
    (first / "odd.json").write_text(text, encoding="utf-8")
    ran = run(capsys, "make", "first.toml", "--since", "odd.json")
    assert ran.status == 2
    assert "odd.json" in ran.err
    assert "proof.json" in ran.err


def test_a_missing_earlier_draft_is_refused(first: Path, capsys: Capture) -> None:
    """A folder that isn't there is named."""
    ran = run(capsys, "make", "first.toml", "--since", "nowhere")
    assert ran.status == 2
    assert "nowhere" in ran.err
