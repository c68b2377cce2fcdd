"""What someone planted in the hidden folder, or left there, makes no command take or destroy files elsewhere."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from drafting.errors import InputError
from drafting.folder import settle_folder
from drafting.seal import WORKING
from tests.folder.disk import drawing, held, hush, settled, write


def plant(folder: Path, *, place: tuple[str, ...] = (), drop: tuple[str, ...] = ()) -> Path:
    """Lay a hidden folder with a journal into a folder; return the hidden folder."""
    hidden = folder / WORKING
    hidden.mkdir(parents=True)
    asked = {"format": 1, "place": place, "drop": drop, "over": ["make"]}
    (hidden / "journal").write_text(json.dumps(asked))
    return hidden


def refused(folder: Path, match: str) -> None:
    """See that what reads a folder and what writes into it both refuse, and change nothing, there or beside it."""
    before = held(folder.parent)
    with pytest.raises(InputError, match=match):
        settle_folder(folder, hush)
    with pytest.raises(InputError, match=match):
        write(folder, "new")
    assert held(folder.parent) == before


@pytest.fixture
def victim(tmp_path: Path) -> Path:
    """Someone's folder elsewhere, with a pattern in it."""
    folder = tmp_path / "victim"
    folder.mkdir()
    (folder / "pattern.pdf").write_bytes(drawing("theirs"))
    (folder / "thesis.txt").write_text("theirs")
    (folder / "lock").write_text("theirs")
    return folder


def test_new_files_come_from_no_folder_behind_a_link(tmp_path: Path, victim: Path) -> None:
    """Neither a thesis nor a pattern of our own is moved out of it."""
    for name in ("thesis.txt", "pattern.pdf"):
        hidden = plant(tmp_path / name / "p", place=(name,))
        (hidden / "old").mkdir()
        (hidden / "new").symlink_to(victim)
        refused(tmp_path / name / "p", "a link of this name is in the way")
    assert len(held(victim)) == 3


def test_old_files_go_into_no_folder_behind_a_link(tmp_path: Path, victim: Path) -> None:
    """They would be put over the files in it."""
    hidden = plant(tmp_path / "p", drop=("pattern.pdf",))
    (hidden / "new").mkdir()
    (hidden / "old").symlink_to(victim)
    (tmp_path / "p" / "pattern.pdf").write_bytes(drawing("ours"))
    refused(tmp_path / "p", "a link of this name is in the way")


def test_a_hidden_folder_behind_a_link_is_not_even_locked(
    tmp_path: Path, victim: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a folder can't be locked, a file in the hidden one is: none of that name is taken away elsewhere."""
    from drafting.folder import lock

    def refuse(_: Path) -> None:
        raise lock._NoLocks

    monkeypatch.setattr(lock, "_lock_directory", refuse)
    (tmp_path / "p").mkdir()
    (tmp_path / "p" / WORKING).symlink_to(victim)
    refused(tmp_path / "p", "a link of this name is in the way")


def test_a_journal_behind_a_link_counts_for_nothing(tmp_path: Path) -> None:
    """Nor does a pipe in its place."""
    hidden = plant(tmp_path / "p", drop=("pattern.pdf",))
    (tmp_path / "p" / "pattern.pdf").write_bytes(drawing("ours"))
    (hidden / "journal").rename(tmp_path / "elsewhere")
    (hidden / "journal").symlink_to(tmp_path / "elsewhere")
    refused(tmp_path / "p", "a link of this name is in the way")
    (hidden / "journal").unlink()
    os.mkfifo(hidden / "journal")
    refused(tmp_path / "p", "a pipe of this name is in the way")


def test_a_journal_places_only_files_that_we_made(tmp_path: Path, victim: Path) -> None:
    """All of them are seen before the first is moved; a file of someone's is told by name, as is a link."""
    for way, says in ((Path.symlink_to, "a link of this name"), (Path.hardlink_to, r"thesis\.txt: .*isn't one that")):
        folder = tmp_path / way.__name__ / "p"
        hidden = plant(folder, place=("a.pdf", "thesis.txt"))
        for name in ("new", "old"):
            (hidden / name).mkdir()
        (hidden / "new" / "a.pdf").write_bytes(drawing("ours"))
        way(hidden / "new" / "thesis.txt", victim / "thesis.txt")
        refused(folder, says)


def test_all_that_stands_in_the_way_is_seen_before_the_first_step(tmp_path: Path) -> None:
    """Someone's own file at the second name leaves the first where it is."""
    hidden = plant(tmp_path / "p", place=("a.pdf", "b.pdf"))
    for name in ("new", "old"):
        (hidden / name).mkdir()
    for name in ("a.pdf", "b.pdf"):
        (hidden / "new" / name).write_bytes(drawing("ours"))
    (tmp_path / "p" / "b.pdf").write_text("mine")
    refused(tmp_path / "p", r"b\.pdf: this file isn't one that Blockwright made")


@pytest.mark.parametrize("where", ["new", "old", "."])
@pytest.mark.parametrize("counts", [False, True])
def test_someone_s_file_in_the_hidden_folder_is_not_taken_away(tmp_path: Path, where: str, counts: bool) -> None:
    """It is told by name; what is ours beside it goes once it is moved out."""
    hidden = plant(tmp_path / "p", place=("a.pdf",))
    for name in ("new", "old"):
        (hidden / name).mkdir()
    (hidden / "old" / "b.pdf").write_bytes(drawing("ours"))
    (hidden / "new" / "a.pdf").write_bytes(drawing("ours"))
    if not counts:
        (hidden / "journal").rename(hidden / "journal.unsigned")
    (hidden / where / "notes.txt").write_text("mine")
    with pytest.raises(InputError, match=r"notes\.txt: .*move it out"):
        settle_folder(tmp_path / "p", hush)
    with pytest.raises(InputError, match=r"notes\.txt: .*move it out"):
        write(tmp_path / "p", "new")
    assert (hidden / where / "notes.txt").read_text() == "mine"
    (hidden / where / "notes.txt").unlink()
    assert settled(tmp_path / "p") == ({"a.pdf": drawing("ours")} if counts else {})
