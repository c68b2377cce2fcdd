"""Several tickets made at once: a folder each, a table of how each went; and what an inch ticket's files tell."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.running import PLAIN, run

MISS = """
title = "Concert top"
builds_on = "basic-tee"
unit = "in"
[wearer]
name = "Soprano 2"
[wearer.body]
stature = 65.5
bust_girth = 37.5
waist_girth = 31.25
hip_girth = 40
back_neck_point_to_waist = 16
[cloth]
stretch_across = "40 %"
width = "58 in"
[paper]
size = "US Letter"
"""


@pytest.fixture
def choir(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with two tickets that can be made, in centimetres and inches, and one that names no design."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "one.toml").write_text(PLAIN, encoding="utf-8")
    (tmp_path / "two.toml").write_text(MISS, encoding="utf-8")
    (tmp_path / "bad.toml").write_text('builds_on = "no-such"\n', encoding="utf-8")
    return tmp_path


def test_each_ticket_has_a_folder_and_a_line_and_a_bad_one_stops_none(
    choir: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The worst status is that of all; and no figure of the inch ticket's is finer than a tape."""
    done = run(capsys, "make", "one.toml", "bad.toml", "two.toml", "--out", "choir")
    assert done.status == 2
    assert "no-such" in done.err
    assert {each.name for each in (choir / "choir").iterdir()} == {"one-pattern", "two-pattern"}
    table = done.out.partition("Made: 2 of 3")[2].splitlines()
    for ticket, tells in (("one.toml", "proven"), ("bad.toml", "not made"), ("two.toml", "two-pattern")):
        assert any(line.split()[:1] == [ticket] and tells in line for line in table)
    lay = run(capsys, "lay", "two.toml", "--width", "17 in")
    assert lay.status == 1
    assert re.search(r"Take a\s+cloth\s+at\s+least\s+[0-9]+\s+in\s+wide", lay.out)
    said = [run(capsys, *words).out for words in (["prove", "two.toml"], ["prove", "two.toml", "--fitting"])]
    files = [*(choir / "choir" / "two-pattern").iterdir(), choir / "two-cutting.pdf"]
    for text in (*map(_text_of, files), *said, lay.out):
        assert all((found * 16).denominator == 1 for found in _find_inches(text))


def _text_of(file: Path) -> str:
    if file.suffix == ".pdf":
        return "\n".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(file))
    return "" if file.suffix == ".json" else file.read_text(encoding="utf-8")


def _find_inches(text: str) -> Iterator[Fraction]:
    """The fractions of every length in inches."""
    for top, low in re.findall(r"([0-9]{1,2})/([0-9]{1,2})\s+(?:in\b|x\s)", text):
        yield Fraction(int(top), int(low))


REFUSED_AS = ("go with one ticket", "rename one", "named twice", "whole seconds", "allowed: lengths")


@pytest.mark.parametrize(
    "words",
    [
        ["make", "one.toml", "two.toml", "--since", "choir"],
        ["make", "one.toml", "two.toml", "--demo"],
        ["make", "one.toml", "other/one.toml"],
        ["make", "one.toml", "one.toml"],
        *(["lay", "one.toml", "--time", seconds] for seconds in ("nan", "inf", "0", "2.5", "1e3")),
        *(["lay", "one.toml", "--width", width] for width in ("nan", "inf cm", "1/0 in")),
    ],
)
def test_what_several_tickets_and_numbers_cannot_be_is_refused_in_words(
    words: list[str], choir: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With what is allowed, before anything is made."""
    done = run(capsys, *words)
    assert done.status == 2
    assert any(told in done.err for told in REFUSED_AS)
    assert [each.name for each in choir.iterdir() if each.is_dir()] == []
