"""A disk that fails, or a process that is killed, at any call: after the next start the folder is wholly old or new.

``python -m tests.bench.faults`` does the same at length, and with whole runs.
"""

from __future__ import annotations

import errno
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest

from drafting.folder import settle_folder
from tests.folder.disk import NEW, NOTES, OLD, Disk, Stopped, beneath, held, hush, lay_old, settled, write_new

BARE = {name: data for name, data in NEW.items() if name not in NOTES}


def places(
    base: Path, error: int | None = None, *, lasting: bool = True, old: bool = True
) -> Iterator[tuple[Path, Disk, str]]:
    """Write the new pattern, over the old one or into no folder, once for every call at which the disk can stop.

    Or for every third at which it can fail. Yields the folder, the disk, and how it ended.
    """
    for at in count(1, 1 if error is None else 3):
        folder = base / f"{at}"
        if old:
            lay_old(folder)
        disk = Disk(at, error, lasting)
        ended = write_new(folder, disk)
        if not disk.reached:
            return
        yield folder, disk, ended


def test_killed_at_any_call_leaves_the_old_or_the_new_pattern(tmp_path: Path) -> None:
    """Once the next command has come, whichever it is; someone's notes stay, and nothing hidden."""
    found = []
    for folder, _, ended in places(tmp_path):
        assert ended == "stopped"
        found.append(settled(folder))
    assert len(found) > 60
    assert all(now in (OLD, NEW) for now in found)
    assert found[0] == OLD
    assert found[-1] == NEW


def test_killed_at_any_call_into_a_new_folder_leaves_all_or_nothing(tmp_path: Path) -> None:
    """And the next run writes there as if nothing had been."""
    for folder, _, ended in places(tmp_path, old=False):
        assert ended == "stopped"
        assert settled(folder) in ({}, BARE)
        assert write_new(folder) == ""
        assert held(folder) == BARE


def test_killed_while_it_finishes_what_a_killed_run_left(tmp_path: Path) -> None:
    """Any number of times: each start takes up where the one before was."""
    for at in range(30, 70, 3):
        folder = tmp_path / f"{at}"
        lay_old(folder)
        assert write_new(folder, Disk(at)) == "stopped"
        for again in count(1):
            with beneath(Disk(again)) as disk:
                try:
                    settle_folder(folder, hush)
                except Stopped:
                    continue
            assert disk.calls < again
            break
        assert settled(folder) in (OLD, NEW)


@pytest.mark.parametrize("error", [errno.EIO, errno.ENOSPC])
def test_a_call_that_fails_once_is_made_good_at_once(tmp_path: Path, error: int) -> None:
    """All is new, or it is told what was refused and all is old; nothing hidden is left for the next run."""
    for folder, _, ended in places(tmp_path, error, lasting=False):
        assert held(folder) == (OLD if ended else NEW) or "nothing is lost" in ended
        assert not [path for path in folder.rglob("*") if path.is_dir()] or "nothing is lost" in ended
        assert settled(folder) in (OLD, NEW)


def test_a_disk_that_fails_from_a_call_on_loses_nothing(tmp_path: Path) -> None:
    """Once it can be read and written again, the folder is wholly old or new; and what couldn't be done was told."""
    for folder, _, ended in places(tmp_path, errno.EIO):
        now = settled(folder)
        assert now == NEW or (ended and now == OLD)
        assert write_new(folder) == ""
        assert held(folder) == NEW


def test_a_folder_made_for_files_that_fail_is_taken_away(tmp_path: Path) -> None:
    """If a disk fails once, wherever that is."""
    for folder, _, ended in places(tmp_path, errno.EIO, lasting=False, old=False):
        if ended and "nothing is lost" not in ended:
            assert not folder.exists()
        else:
            assert settled(folder) == BARE
