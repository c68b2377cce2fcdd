"""Files are written together or not at all, whatever happens meanwhile."""

from __future__ import annotations

import errno
import os
import signal
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafting.cli.folder import BESIDE, Making, write_one, write_together
from drafting.errors import InputError
from tests.cli.running import started

NAMES = ("a.pdf", "b.pdf", "c.json")


def making(text: str) -> Making:
    """Return what makes a text."""
    return text.encode


def files(text: str) -> dict[str, Making]:
    """Return what makes the files of all names."""
    return {name: making(f"{text} {name}") for name in NAMES}


def held(folder: Path) -> dict[str, str]:
    """Return what a folder holds, hidden files too."""
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.iterdir())}


def all_of(text: str) -> dict[str, str]:
    """Return what the folder holds when all was written."""
    return {name: f"{text} {name}" for name in NAMES}


def test_a_folder_is_made_and_only_what_is_named_stands_in_it(tmp_path: Path) -> None:
    """With the folders above it."""
    write_together(tmp_path / "deep" / "out", files("new"))
    assert held(tmp_path / "deep" / "out") == all_of("new")


def test_old_files_are_replaced_and_others_stay(tmp_path: Path) -> None:
    """A maker's own notes are theirs."""
    write_together(tmp_path, files("old"))
    (tmp_path / "notes.txt").write_text("mine")
    write_together(tmp_path, files("new"))
    assert held(tmp_path) == {**all_of("new"), "notes.txt": "mine"}


@pytest.mark.parametrize("error", [KeyboardInterrupt, SystemExit, RuntimeError, OSError(errno.ENOSPC, "disk full")])
def test_a_file_that_fails_changes_nothing(tmp_path: Path, error: type[BaseException] | OSError) -> None:
    """Not even a folder is left that wasn't there."""

    def fail() -> bytes:
        raise error

    with pytest.raises((InputError, KeyboardInterrupt, SystemExit, RuntimeError)):
        write_together(tmp_path / "out", {"a.pdf": making("new"), "b.pdf": fail})
    assert not (tmp_path / "out").exists()
    write_together(tmp_path, files("old"))
    with pytest.raises((InputError, KeyboardInterrupt, SystemExit, RuntimeError)):
        write_together(tmp_path, {"a.pdf": making("new"), "b.pdf": fail})
    assert held(tmp_path) == all_of("old")


@settings(deadline=None, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(failing=st.integers(1, 6), before=st.booleans())
def test_a_rename_that_fails_puts_every_old_file_back(
    tmp_path_factory: pytest.TempPathFactory, failing: int, before: bool
) -> None:
    """As where a viewer holds one open: whichever of the renames it is."""
    folder = tmp_path_factory.mktemp("out")
    if before:
        write_together(folder, files("old"))
    real, calls = os.replace, 0

    def replace(source: Path, target: Path) -> None:
        nonlocal calls
        calls += 1
        if calls == failing:
            raise PermissionError(errno.EACCES, "used by another program", str(source))
        real(source, target)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("drafting.cli.folder.os.replace", replace)
        with pytest.raises(InputError, match="close the files"):
            write_together(folder, files("new"))
    assert held(folder) == (all_of("old") if before else {})


def test_an_interruption_between_renames_waits_for_the_last(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The files change places together, and then the interruption comes through."""
    write_together(tmp_path, files("old"))
    real = os.replace

    def replace(source: Path, target: Path) -> None:
        real(source, target)
        signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr("drafting.cli.folder.os.replace", replace)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # ignored, if the tests run in the background
    try:
        with pytest.raises(KeyboardInterrupt):
            write_together(tmp_path, files("new"))
    finally:
        signal.signal(signal.SIGINT, before)
    assert held(tmp_path) == all_of("new")


def test_what_stands_in_the_way_is_told(tmp_path: Path) -> None:
    """A file where the folder should be, a folder where a file should be, a place no one may write to."""
    (tmp_path / "file").write_text("mine")
    with pytest.raises(InputError, match="can't be written"):
        write_together(tmp_path / "file", files("new"))
    with pytest.raises(InputError, match="can't be written"):
        write_together(tmp_path / "file" / "deeper", files("new"))
    (tmp_path / "out" / "b.pdf").mkdir(parents=True)
    with pytest.raises(InputError, match="a folder stands in its place"):
        write_together(tmp_path / "out", files("new"))
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["b.pdf"]
    with pytest.raises(InputError, match="can't be written"):
        write_one(tmp_path / "file" / "ticket.toml", "text")


def test_no_name_that_only_the_program_knows_is_told(tmp_path: Path) -> None:
    """Where nothing may be written, the folder is named, not the unfinished one that was to stand in it."""

    def refused(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(tmp_path / f"{BESIDE}x1"))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("drafting.cli.folder.TemporaryDirectory", refused)
        with pytest.raises(InputError, match="Permission denied") as refusal:
            write_one(tmp_path / "ticket.toml", "text")
    assert "unfinished" not in str(refusal.value)


SLOW = """
import sys, time
from pathlib import Path
from drafting.cli.app import main
import drafting.cli.prove as prove
from drafting.cli.folder import write_together

def slowly():
    for _ in range(600):
        print("writing", flush=True)
        time.sleep(0.05)
    return b"new"

prove.command.callback = lambda **_: write_together(Path(sys.argv[1]), {"a.pdf": "new".encode, "b.pdf": slowly})
sys.exit(main(["prove"]))
"""


@pytest.mark.skipif(os.name == "nt", reason="signals are another matter there")
@pytest.mark.parametrize(
    ("number", "status", "tidy"), [(signal.SIGINT, 130, True), (signal.SIGTERM, 143, True), (signal.SIGKILL, -9, False)]
)
def test_a_process_stopped_while_it_writes_leaves_the_old_files(
    tmp_path: Path, number: int, status: int, tidy: bool
) -> None:
    """Told to stop it tidies up; killed it leaves nothing that looks finished."""
    write_together(tmp_path, {"a.pdf": making("old"), "b.pdf": making("old")})
    with started("-c", SLOW, str(tmp_path), cwd=tmp_path.parent) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"writing\n"
        process.send_signal(number)
        _, said = process.communicate(timeout=20)
    assert process.returncode == status
    assert b"Traceback" not in said
    left = {path.name for path in tmp_path.iterdir()}
    assert {name for name in left if not name.startswith(BESIDE)} == {"a.pdf", "b.pdf"}
    assert (tmp_path / "a.pdf").read_text() == "old"
    assert tidy == (len(left) == 2)


def test_what_a_killed_run_left_is_swept_away_later(tmp_path: Path) -> None:
    """Once it is old enough that no run can still be writing there."""
    stale, fresh = tmp_path / f"{BESIDE}stale", tmp_path / f"{BESIDE}fresh"
    for folder in (stale, fresh):
        folder.mkdir()
        (folder / "a.pdf").write_text("half")
    long_ago = time.time() - 100_000
    os.utime(stale, (long_ago, long_ago))
    write_together(tmp_path, files("new"))
    assert not stale.exists()
    assert fresh.exists()
