"""What surrounds the work is never called a fault: streams closed, full or read no more, a folder gone, a full disk."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from drafting.refusal import refusal_of
from tests.cli.running import PLAIN, ROOT, run
from tests.folder.disk import Disk, write_new

needs_shell = pytest.mark.skipif(os.name == "nt", reason="a POSIX shell sets the streams")


def in_shell(words: str, cwd: Path, **settings: str) -> tuple[int, str, str]:
    """Run "blockwright" in a shell's line; its status, what it printed and what it said of errors."""
    line = f'blockwright() {{ "{sys.executable}" -m drafting "$@"; }}; {words}'
    there = {**os.environ, "PYTHONPATH": str(ROOT), **settings}
    done = subprocess.run(["bash", "-o", "pipefail", "-c", line], cwd=cwd, env=there, capture_output=True, check=False)
    return done.returncode, done.stdout.decode(), done.stderr.decode()


@needs_shell
@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        ("blockwright list papers >/dev/full", 2, "can't be printed here: the disk is full"),
        ("blockwright list papers >/dev/full 2>&1", 2, ""),
        ("blockwright make --demo >/dev/full", 2, "the pattern is written, in alto-pattern, but its report"),
        ("blockwright new t.toml >/dev/full", 2, "the ticket is written, in t.toml, but its report can't be printed"),
        ("blockwright new t.toml >&-", 0, ""),
        ("blockwright new t.toml <&- >&- 2>&-", 0, ""),
        ("blockwright make nope.toml 2>&-", 2, ""),
        ("blockwright make nope.toml 2>/dev/full", 2, ""),
        ("blockwright nope 2>/dev/full", 2, ""),
        ("blockwright list papers | true", 0, ""),
        ("blockwright --help | true", 0, ""),
        ("PYTHONUNBUFFERED=1 blockwright --version >/dev/full", 2, "the disk is full"),
    ],
)
def test_a_stream_never_makes_a_fault(tmp_path: Path, words: str, status: int, said: str) -> None:
    """What nobody reads changes nothing; what is lost is told where a stream is left for it."""
    ended, printed, errors = in_shell(words, tmp_path)
    assert (ended, printed) == (status, "")
    assert said in errors
    assert bool(said) == bool(errors)
    assert ("new" in words) == (tmp_path / "t.toml").exists()


@needs_shell
def test_what_is_said_goes_into_no_file_that_takes_a_closed_streams_number(tmp_path: Path) -> None:
    """With all three closed the first file opened would be number 0, and the next the one that is printed to."""
    assert in_shell("blockwright new t.toml; blockwright new u.toml <&- >&- 2>&-", tmp_path)[0] == 0
    assert (tmp_path / "t.toml").read_bytes() == (tmp_path / "u.toml").read_bytes()


@needs_shell
def test_a_slow_reader_is_waited_for(tmp_path: Path) -> None:
    """A pipe that refuses rather than waits, as some programs hand on: all of a long list arrives."""
    unwaiting = f"\"{sys.executable}\" -c 'import os; os.set_blocking(1, False)'"
    words = f"{{ {unwaiting}; blockwright list values; }} | {{ sleep 1.5; cat; }}"
    status, printed, errors = in_shell(words, tmp_path)
    assert (status, errors) == (0, "")
    assert len(printed) > 70_000, "more than a pipe holds"


@needs_shell
@pytest.mark.parametrize("words", ["make t.toml", "lay --demo", "new n.toml"])
def test_a_folder_that_was_taken_away_is_told(tmp_path: Path, words: str) -> None:
    """Whoever works in it is told to go elsewhere."""
    status, _, errors = in_shell(f"mkdir gone; cd gone; rmdir ../gone; blockwright {words}", tmp_path)
    assert status == 2
    assert "the folder you are in is gone" in errors
    assert "go into another folder" in errors


@needs_shell
@pytest.mark.parametrize("settings", [{"LC_ALL": "C"}, {"PYTHONIOENCODING": "ascii"}, {"LANG": "C", "PYTHONUTF8": "0"}])
def test_names_stay_readable_in_any_locale(tmp_path: Path, settings: dict[str, str]) -> None:
    """A ticket in Greek, its findings and its file's name, where the system's own letters are plain ones."""
    (tmp_path / "Άλτο.toml").write_text(PLAIN.replace('name = "Soprano"', 'name = "Σοπράνο"'), encoding="utf-8")
    words = "blockwright prove Άλτο.toml --fitting; blockwright make Άλτ.toml"
    status, printed, errors = in_shell(words, tmp_path, **settings)
    assert status == 2
    assert "for Σοπράνο" in printed
    assert "Άλτ.toml: there is no such file" in errors


@pytest.mark.parametrize(
    ("number", "what", "mend"),
    [
        (errno.ENOSPC, "the disk is full", "free some room"),
        (errno.EDQUOT, "your share of the disk is full", "free some room"),
        (errno.EROFS, "the disk can only be read", "that you may write to"),
        (errno.ENAMETOOLONG, "the name is too long", "choose a shorter one"),
        (errno.EACCES, "Permission denied", "close the files if a viewer holds them open"),
    ],
)
def test_what_the_system_refuses_is_told_with_its_mend(tmp_path: Path, number: int, what: str, mend: str) -> None:
    """A full disk isn't mended by closing a viewer."""
    disk = Disk()
    assert not write_new(tmp_path, disk)
    told = [write_new(tmp_path, Disk(at, number)) for at in range(20, disk.calls, 20)]
    assert any(what in words and mend in words for words in told)
    assert any("viewer" in words for words in told) == (number == errno.EACCES)
    assert refusal_of(OSError(number, os.strerror(number)))[0] == what


@pytest.mark.parametrize(
    ("raised", "status", "said"),
    [
        (OSError(errno.EIO, "Input/output error", "fonts.ttf"), 2, "fonts.ttf: the disk, or the way to it, fails"),
        (MemoryError(), 2, "there is too little memory"),
        (OSError("no font"), 3, "this is a fault in Blockwright"),
    ],
)
def test_the_system_is_told_from_the_program(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], raised: Exception, status: int, said: str
) -> None:
    """A disk that fails in the midst of the work is the system's; an error that a library raises by itself is ours."""

    def fails(*_: object, **__: object) -> None:
        raise raised

    monkeypatch.setattr("drafting.job.prove", fails)
    ran = run(capsys, "prove", "--demo")
    assert ran.status == status
    assert said in ran.err
