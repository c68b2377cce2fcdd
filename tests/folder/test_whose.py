"""Only ever over files that the program made, as it made them; anything else of that name is refused and stays."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from drafting.errors import InputError
from drafting.folder import Older, find_older, write_files
from drafting.seal import SEAL_ROOM, SEAL_WITHIN, Seal, read_seal, seal_file
from tests.folder.disk import drawing, held, hush, pattern, write

Laying = Callable[[Path], object]
IN_THE_WAY: dict[str, tuple[Laying, str]] = {
    "someone's file": (lambda path: path.write_text("mine"), "isn't one that Blockwright made"),
    "an empty file": (lambda path: path.touch(), "isn't one that Blockwright made"),
    "a file drawn on": (lambda path: path.write_bytes(drawing("old") + b"notes"), "was changed since"),
    "another command's": (lambda path: path.write_bytes(drawing("old", "lay")), "was made by “blockwright lay”"),
    "a folder": (lambda path: path.mkdir(), "a folder of this name"),
    "a link": (lambda path: path.symlink_to("notes.txt"), "a link of this name"),
    "a link to nothing": (lambda path: path.symlink_to("nowhere"), "a link of this name"),
    "a pipe": (lambda path: os.mkfifo(path), "a pipe of this name"),
}


@pytest.mark.parametrize("what", IN_THE_WAY)
def test_what_isn_t_ours_is_refused_by_name(tmp_path: Path, what: str) -> None:
    """With the mend; it stays as it is, and nothing else is written."""
    lay, says = IN_THE_WAY[what]
    (tmp_path / "notes.txt").write_bytes(drawing("linked"))
    lay(tmp_path / "b.pdf")
    before = {path.name: path.lstat() for path in tmp_path.iterdir()}
    with pytest.raises(InputError) as refused:
        write(tmp_path, "new")
    [problem] = refused.value.problems
    assert problem.where == str(tmp_path / "b.pdf")
    assert says in str(problem.read)
    assert "move it away" in str(problem.mend)
    assert {path.name: path.lstat() for path in tmp_path.iterdir()} == before


def test_what_is_to_be_taken_away_and_isn_t_ours_stays(tmp_path: Path) -> None:
    """A file with the name of one that the pattern before had: the user's own, or made by another command."""
    for other in (b"mine", drawing("by hand", "prove")):
        (tmp_path / "e.pdf").write_bytes(other)
        write(tmp_path, "new")
        assert held(tmp_path) == {**pattern("new"), "e.pdf": other}


def test_a_file_without_a_seal_is_never_written_over(tmp_path: Path) -> None:
    """Not even by the command that wrote it: it was to be filled in."""
    write_files(tmp_path, {"alto.toml": b"title = 1"}, hush, "new")
    with pytest.raises(InputError, match=r"alto\.toml"):
        write_files(tmp_path, {"alto.toml": b"title = 2"}, hush, "new")
    assert held(tmp_path) == {"alto.toml": b"title = 1"}


@pytest.mark.parametrize(
    "start",
    [
        b"%PDF-1.6\n%\xe2\xe3\xcf\xd3 " + SEAL_ROOM.encode() + b"\n",
        f'<?xml version="1.0" encoding="UTF-8"?>\n<!-- {SEAL_ROOM} -->\n'.encode(),
        f'{{\n  "made": "{SEAL_ROOM}",\n'.encode(),
        f'{{\n  "$comment": "{SEAL_ROOM}",\n'.encode(),
    ],
)
def test_a_seal_says_who_made_a_file_and_how_long_it_is(start: bytes) -> None:
    """It takes no more room than was left for it, and only the first lines count."""
    sealed = seal_file(start + SEAL_ROOM.encode(), "schema", "4BZGG2")
    assert len(sealed) == len(start) + len(SEAL_ROOM)
    assert sealed.endswith(SEAL_ROOM.encode())
    assert read_seal(sealed[:SEAL_WITHIN]) == Seal("schema", "4BZGG2", len(sealed))
    assert read_seal(seal_file(start, "lay")[:SEAL_WITHIN]) == Seal("lay", "", len(start))
    assert read_seal(start) is None
    assert read_seal(b"\n" + sealed) is None


def test_files_of_other_drafts_are_found(tmp_path: Path) -> None:
    """A cutting plan and a fitting sheet by another mark; not the pattern's own files, nor anyone's."""
    lying = {"plan.pdf": ("lay", "AAAAAA"), "mine.pdf": ("make", "AAAAAA"), "fresh.pdf": ("lay", "BBBBBB")}
    for name, (command, draft) in lying.items():
        (tmp_path / name).write_bytes(drawing(name, command, draft))
    (tmp_path / "other.pdf").write_text("%PDF")
    (tmp_path / "drawn-on.pdf").write_bytes(drawing("", "lay", "AAAAAA") + b"notes")
    os.mkfifo(tmp_path / "pipe.pdf")
    assert find_older(tmp_path, "BBBBBB", "make") == (Older("plan.pdf", "lay", "AAAAAA"),)
    assert find_older(tmp_path / "nowhere", "BBBBBB", "make") == ()
