"""Files appear whole or not at all."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from drafting.output import write_whole


def test_the_file_holds_the_bytes(tmp_path: Path) -> None:
    """Written beside, renamed; readable as other files are."""
    write_whole(tmp_path / "a.pdf", b"one")
    write_whole(tmp_path / "a.pdf", b"two")
    assert (tmp_path / "a.pdf").read_bytes() == b"two"
    assert [file.name for file in tmp_path.iterdir()] == ["a.pdf"]
    mask = os.umask(0)
    os.umask(mask)
    assert stat.S_IMODE((tmp_path / "a.pdf").stat().st_mode) == 0o666 & ~mask


@pytest.mark.parametrize("error", [OSError("disk full"), KeyboardInterrupt()])
def test_an_interruption_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: BaseException
) -> None:
    """Whether the disk is full or someone stops the run: the old file stays, nothing lies beside it."""
    write_whole(tmp_path / "a.pdf", b"old")

    def fail(*_: object) -> None:
        raise error

    monkeypatch.setattr(os, "replace", fail)
    with pytest.raises(type(error)):
        write_whole(tmp_path / "a.pdf", b"new")
    assert (tmp_path / "a.pdf").read_bytes() == b"old"
    assert [file.name for file in tmp_path.iterdir()] == ["a.pdf"]


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    """The system's own error, for the caller to show."""
    with pytest.raises(OSError, match="nowhere"):
        write_whole(tmp_path / "nowhere" / "a.pdf", b"")
