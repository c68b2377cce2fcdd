"""Files that aren't tickets are refused quickly, with the place and the mend."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from drafting.errors import InputError
from drafting.ticket.reading import LONGEST_LINE, MOST_BYTES, parse_toml, read_toml


def refusal(path: Path) -> str:
    """Return what is said of a file that is refused, in one line a problem."""
    with pytest.raises(InputError) as caught:
        read_toml(path)
    return str(caught.value)


def written(folder: Path, data: bytes) -> Path:
    """Write a ticket's file."""
    path = folder / "alto.toml"
    path.write_bytes(data)
    return path


def test_a_missing_file_is_named_with_the_mend(tmp_path: Path) -> None:
    """The mend says how a ticket is written."""
    assert "there is no such file" in refusal(tmp_path / "alto.toml")
    assert "blockwright new" in refusal(tmp_path / "alto.toml")


def test_a_folder_is_no_ticket(tmp_path: Path) -> None:
    """A folder is refused as one."""
    assert "this is a folder" in refusal(tmp_path)


@pytest.mark.skipif(os.name == "nt", reason="there are no pipes in the file system there")
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    """A pipe that no one writes to would hang a reader."""
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    assert "not an ordinary file" in refusal(pipe)


def test_a_circle_of_links_is_refused(tmp_path: Path) -> None:
    """A link to itself is no file."""
    link = tmp_path / "link.toml"
    try:
        link.symlink_to(link)
    except OSError:
        return
    assert "no such file" in refusal(link) or "can't be read" in refusal(link)


def test_broken_toml_is_told_with_line_and_column(tmp_path: Path) -> None:
    """The third line lacks a quote."""
    said = refusal(written(tmp_path, b'title = "a"\n\nfit = "close\n'))
    assert "alto.toml" in said
    assert "line 3, column 13" in said


def test_other_encodings_are_told_with_their_line(tmp_path: Path) -> None:
    """Latin-1 on the second line."""
    said = refusal(written(tmp_path, "title = 'a'\nfit = 'é'".encode("latin-1")))
    assert "line 2" in said
    assert "UTF-8" in said


def test_a_mark_at_the_start_and_either_line_ending_are_read(tmp_path: Path) -> None:
    """Editors on Windows write both."""
    path = written(tmp_path, b'\xef\xbb\xbftitle = "a"\r\nfit = "close"\r\n')
    assert read_toml(path) == {"title": "a", "fit": "close"}


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"# " + b"x" * 100 + b"\n" + b"#\n" * MOST_BYTES, "too large"),
        (b'title = "' + b"x" * (MOST_BYTES // 2) + b'"', "characters"),
        (b"a = " + b"[" * (LONGEST_LINE - 10), "deep"),
        (b"a = [\n" + b"[\n" * 50_000, "deep"),
        (b"a = " + b"9" * 900, "15 digits"),
        (b".".join([b"a"] * 400) + b" = 1", "deep"),
        (b"a = {" * 100, "isn't closed"),
        (b"\x00\x01\x02", "doesn't print"),
        (b"a = 1\na = 2", "second time"),
    ],
    ids=["large", "long line", "deep list", "deep lines", "digits", "dotted", "inline tables", "binary", "twice"],
)
def test_hostile_files_are_refused_in_a_moment(tmp_path: Path, data: bytes, says: str) -> None:
    """None costs time, and the message is short."""
    path = written(tmp_path, data)
    start = time.perf_counter()
    try:
        tables = read_toml(path)
    except InputError as error:
        said = str(error)
    else:  # a number of many digits is read, and refused where it stands
        from drafting.text import show_read

        said = show_read(tables["a"])
    assert time.perf_counter() - start < 2.0
    assert says in said
    assert len(said) < 700


def test_ten_megabytes_in_one_text_are_refused_quickly(tmp_path: Path) -> None:
    """They aren't even read."""
    path = written(tmp_path, b'title = "' + b"x" * 10_000_000 + b'"')
    start = time.perf_counter()
    assert "too large" in refusal(path)
    assert time.perf_counter() - start < 0.5


def test_control_characters_of_a_broken_file_are_not_repeated() -> None:
    """What TOML's reader repeats is made safe."""
    with pytest.raises(InputError) as caught:
        parse_toml("a = \x1b[31m", "alto.toml")
    assert "\x1b" not in str(caught.value)


SEPARATORS = "\u2028\u2029\x85\x0b\x0c\x1c\x1d\x1e\r"
"""What Python takes for the end of a line, and TOML doesn't."""


@pytest.mark.parametrize("separator", SEPARATORS, ids=ascii)
def test_a_line_ends_where_it_ends_for_toml(separator: str) -> None:
    """A key of thousands of parts is one long line, whatever stands in its parts."""
    with pytest.raises(InputError, match="this line has"):
        parse_toml(f'"{separator}".' * 9000 + "x = 1", "alto.toml")


COSTLY = {
    "dotted": "a." * 480 + "b = 1",
    "spaced": "  a . " + "'a' .\t" * 100 + "b = 1",
    "quoted": '"a#\\"=" . ' * 90 + "b = 1",
    "a table's name": "[" + "a." * 480 + "b]",
    "a list's name": "[[ " + '"a".' * 240 + "b]]",
}


@pytest.mark.parametrize("line", COSTLY.values(), ids=list(COSTLY))
def test_keys_of_many_parts_are_refused_before_toml_is_read(line: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its reader would keep every beginning of each: 250 such lines took 14 s and 2 GB."""
    monkeypatch.delattr("tomllib.loads")
    with pytest.raises(InputError, match="deep"):
        parse_toml(f"title = 'Top'\n{line}\n", "alto.toml")


def test_dots_elsewhere_are_no_parts_of_a_key() -> None:
    """Rows of dots in remarks and in texts, and a key as deep as may be."""
    dots = "." * 200
    tables = parse_toml(f"# a{dots}\ntitle = 'a.{dots}'  # a{dots}\na.b.c.d.e.f.g.h = 1\n", "alto.toml")
    assert tables["title"] == f"a.{dots}"
