"""Files are written together or not at all, whatever happens meanwhile."""

from __future__ import annotations

import errno
import json
import os
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from drafting.errors import InputError
from drafting.folder import settle_folder, write_files
from drafting.seal import WORKING
from tests.cli.running import started
from tests.folder.disk import NEW, OLD, Disk, beneath, drawing, held, hush, lay_old, pattern, settled, write, write_new


def test_a_folder_is_made_and_only_what_is_named_stands_in_it(tmp_path: Path) -> None:
    """With the folders above it."""
    write(tmp_path / "deep" / "out", "new")
    assert held(tmp_path / "deep" / "out") == pattern("new")


def test_old_files_are_replaced_and_others_stay(tmp_path: Path) -> None:
    """What the pattern before had and this one hasn't goes; a maker's own notes are theirs."""
    lay_old(tmp_path)
    assert held(tmp_path) == OLD
    assert write_new(tmp_path) == ""
    assert held(tmp_path) == NEW


def test_a_rename_that_fails_puts_every_old_file_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As where a viewer holds one open: the mend says so."""
    lay_old(tmp_path)
    real = os.replace

    def replace(source: Path, target: Path) -> None:
        if target.name == "b.pdf" and target.parent == tmp_path:
            monkeypatch.undo()
            raise PermissionError(errno.EACCES, "used by another program", str(source))
        real(source, target)

    monkeypatch.setattr("drafting.folder.journal.os.replace", replace)
    with pytest.raises(InputError, match="close the files"):
        write(tmp_path, "new")
    assert held(tmp_path) == OLD


def test_an_interruption_between_renames_waits_for_the_last(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The files change places together, and then the interruption comes through."""
    lay_old(tmp_path)
    real = os.replace

    def replace(source: Path, target: Path) -> None:
        real(source, target)
        signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr("drafting.folder.journal.os.replace", replace)
    before = signal.signal(signal.SIGINT, signal.default_int_handler)  # ignored, if the tests run in the background
    try:
        with pytest.raises(KeyboardInterrupt):
            write(tmp_path, "new, and longer,")
    finally:
        signal.signal(signal.SIGINT, before)
    assert held(tmp_path) == NEW


def test_what_stands_in_the_way_is_told(tmp_path: Path) -> None:
    """A file where the folder should be, a name that is none; nothing is made for them."""
    (tmp_path / "file").write_text("mine")
    for folder in (tmp_path / "file", tmp_path / "file" / "deeper"):
        with pytest.raises(InputError, match="can't be written"):
            write(folder, "new")
    (tmp_path / "dangling").symlink_to("nowhere")
    (tmp_path / "circle").symlink_to("circle")
    for folder in (tmp_path / "dangling", tmp_path / "circle" / "deeper"):
        with pytest.raises(InputError, match=r"(dangling|circle): this is a link, and leads to no folder"):
            write(folder, "new")
    for name in ("", "..", "a/b.pdf"):
        with pytest.raises(InputError, match="a name of its own"):
            write_files(tmp_path / "out", {name: b"new"}, hush, "make")
    assert held(tmp_path) == {"file": b"mine"}
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("error", "says"), [(errno.ENOSPC, "free some room there"), (errno.ENOTSUP, "can't rename files")]
)
def test_what_a_disk_can_t_do_is_told_with_its_own_mend(tmp_path: Path, error: int, says: str) -> None:
    """A full one is no matter of viewers; and no name that only the program knows is told."""

    class Refusing(Disk):
        def __getattr__(self, name: str) -> object:
            return self._refuse if name == "replace" else super().__getattr__(name)

        def _refuse(self, source: Path, target: Path) -> None:
            raise OSError(error, os.strerror(error), str(source))

    ended = write_new(tmp_path / "out", Refusing())
    assert says in ended
    assert "unfinished" not in ended
    assert not (tmp_path / "out").exists()


def test_two_runs_never_write_at_once(tmp_path: Path) -> None:
    """The second says that it waits, and writes when the first is done."""
    lay_old(tmp_path)
    inside, told = threading.Event(), threading.Event()

    class Slow(Disk):
        def __getattr__(self, name: str) -> object:
            if name == "replace":
                inside.set()
                assert told.wait(5)
            return super().__getattr__(name)

    with beneath(Slow()):
        first = threading.Thread(target=lambda: write(tmp_path, "first"))
        first.start()
        assert inside.wait(5)
        words: list[str] = []

        def tell(text: str) -> None:
            words.append(text)
            told.set()

        write_files(tmp_path, pattern("second"), tell, "make")
        first.join()
    assert ["another run is writing" in text for text in words] == [True]
    assert held(tmp_path) == {**pattern("second"), "notes.txt": b"mine"}


def test_a_run_that_waits_too_long_is_told_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """And changes nothing; nor does one that only wants to read."""
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr("drafting.folder.lock.LONGEST_WAIT", 0.1)
    lay_old(tmp_path)
    opened = os.open(tmp_path, os.O_RDONLY)
    fcntl.flock(opened, fcntl.LOCK_EX)
    try:
        with pytest.raises(InputError, match="another run is still writing"):
            write(tmp_path, "new")
        (tmp_path / WORKING).mkdir()
        with pytest.raises(InputError, match="another run is still writing"):
            settle_folder(tmp_path, hush)
    finally:
        os.close(opened)
    assert settled(tmp_path) == OLD


@pytest.mark.parametrize("file_too", [False, True])
def test_where_a_folder_can_t_be_locked_a_file_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, file_too: bool
) -> None:
    """Nothing is left of it; and where that can't be either, it is said and the files are written."""
    from drafting.folder import lock

    real, tried = lock._lock_opened, []

    def refuse(opened: int) -> None:
        tried.append(os.path.isdir(f"/dev/fd/{opened}"))
        if file_too or len(tried) == 1:
            raise OSError(errno.EBADF, "no locks here")
        real(opened)

    monkeypatch.setattr(lock, "_lock_opened", refuse)
    words: list[str] = []
    write_files(tmp_path / "out", pattern("new"), words.append, "make")
    assert held(tmp_path / "out") == pattern("new")
    assert len(tried) == 2
    assert ["can't be locked" in text for text in words] == [True] * file_too
    assert not (tmp_path / "out" / WORKING).exists()


def test_a_lock_that_a_killed_run_left_goes_where_folders_can_be_locked_again(tmp_path: Path) -> None:
    """With the next command, and the hidden folder with it; one that a run still holds is waited for."""
    fcntl = pytest.importorskip("fcntl")
    lay_old(tmp_path)
    (tmp_path / WORKING).mkdir()
    lock = tmp_path / WORKING / "lock"
    lock.touch()
    assert settled(tmp_path) == OLD
    assert not (tmp_path / WORKING).exists()
    (tmp_path / WORKING).mkdir()
    words: list[str] = []
    opened = os.open(lock, os.O_RDWR | os.O_CREAT)
    fcntl.flock(opened, fcntl.LOCK_EX)

    def end_other(text: str) -> None:
        words.append(text)
        os.close(opened)

    write_files(tmp_path, pattern("new, and longer,"), end_other, "make", drop=("e.pdf",))
    assert ["another run is writing" in text for text in words] == [True]
    assert held(tmp_path) == NEW
    assert not (tmp_path / WORKING).exists()


WRITES = """
import os, sys, time
from pathlib import Path
from drafting.cli.app import main
import drafting.cli.prove as prove
from drafting.folder import write_files
import drafting.folder.journal as journal
from tests.folder.disk import Disk, pattern

class Slow(Disk):
    def __getattr__(self, name):
        if name == "replace":
            self.calls += 1
            if self.calls == int(sys.argv[2]):
                print("renaming", flush=True)
                time.sleep(0.3)
                if sys.argv[3:]:
                    time.sleep(20)
        return getattr(os, name)

journal.os = Slow()
prove.command.callback = lambda **_: write_files(
    Path(sys.argv[1]), pattern("new, and longer,"), print, "make", drop=("e.pdf",))
sys.exit(main(["prove"]))
"""
ROOT = Path(__file__).parents[2]


@pytest.mark.skipif(os.name == "nt", reason="signals are another matter there")
@pytest.mark.parametrize("number", ["SIGINT", "SIGTERM", "SIGHUP", "SIGKILL"])
@pytest.mark.parametrize("rename", [1, 4])
def test_a_process_stopped_while_it_renames(tmp_path: Path, number: str, rename: int) -> None:
    """Told to stop, or its terminal closed, it comes to an end first; killed, the next command does that for it."""
    lay_old(tmp_path)
    sign = getattr(signal, number)
    killed = number == "SIGKILL"
    with started("-c", WRITES, str(tmp_path), f"{rename}", *["long"] * killed, cwd=ROOT) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"renaming\n"
        process.send_signal(sign)
        _, said = process.communicate(timeout=20)
    assert b"Traceback" not in said
    assert process.returncode == (-sign if killed else 128 + sign)
    assert (tmp_path / WORKING).exists() == killed
    assert settled(tmp_path) == (OLD if killed and rename == 1 else NEW)


@pytest.mark.skipif(os.name == "nt", reason="signals are another matter there")
def test_a_run_that_is_to_outlive_its_terminal_does(tmp_path: Path) -> None:
    """As nohup has it, SIGHUP ignored stays ignored."""
    ignoring = "import signal, runpy, sys; signal.signal(signal.SIGHUP, signal.SIG_IGN); exec(sys.argv.pop(1))"
    words = [sys.executable, "-c", ignoring, WRITES, str(tmp_path), "1"]
    with subprocess.Popen(words, cwd=ROOT, stdout=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == b"renaming\n"
        process.send_signal(signal.SIGHUP)
        assert process.wait(timeout=20) == 0
    assert held(tmp_path) == pattern("new, and longer,")


def test_what_waits_for_another_run_can_be_stopped(tmp_path: Path) -> None:
    """At once, and folders made for it are taken away."""
    from drafting.folder.lock import lock_folder

    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        with lock_folder(tmp_path, hush, ()):
            start = time.monotonic()
            with pytest.raises(KeyboardInterrupt):
                write_files(tmp_path, pattern("new"), lambda _: signal.raise_signal(signal.SIGINT), "make")
            assert time.monotonic() - start < 2.0
    finally:
        signal.signal(signal.SIGINT, before)
    assert held(tmp_path) == {}


def test_a_folder_that_can_t_be_made_is_told_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No other run is in the way, so none is told of or waited for."""

    def refuse(path: Path) -> None:
        raise FileNotFoundError(errno.ENOENT, "gone", str(path))

    told: list[str] = []
    monkeypatch.setattr("drafting.folder.write.os.mkdir", refuse)
    with pytest.raises(InputError, match="none can be made"):
        write_files(tmp_path / "new", pattern("new"), told.append, "make")
    assert not told


@pytest.mark.parametrize(
    "asked",
    [
        b"",
        b"[]",
        b"\xff",
        json.dumps({"format": 2, "place": [], "drop": [], "over": []}).encode(),
        json.dumps({"format": 1, "place": ["../mine"], "drop": [], "over": []}).encode(),
        json.dumps({"format": 1, "place": [], "drop": ["/etc/passwd"], "over": []}).encode(),
    ],
)
def test_a_journal_that_isn_t_ours_moves_nothing(tmp_path: Path, asked: bytes) -> None:
    """It is told, and left."""
    (tmp_path / WORKING / "new").mkdir(parents=True)
    (tmp_path / WORKING / "journal").write_bytes(asked)
    with pytest.raises(InputError, match="can't finish"):
        settle_folder(tmp_path, hush)
    assert held(tmp_path) == {f"{WORKING}/journal": asked}


def test_a_journal_takes_nothing_that_isn_t_ours(tmp_path: Path) -> None:
    """Someone's own file that came to stand in the way meanwhile is told; once it is moved away, all is finished."""
    asked = {"format": 1, "place": ["a.pdf"], "drop": ["mine.toml"], "over": ["make"]}
    for folder in ("new", "old"):
        (tmp_path / WORKING / folder).mkdir(parents=True)
    (tmp_path / WORKING / "journal").write_text(json.dumps(asked))
    (tmp_path / WORKING / "new" / "a.pdf").write_bytes(drawing("new"))
    (tmp_path / "a.pdf").write_text("mine")
    (tmp_path / "mine.toml").write_text("mine")
    with pytest.raises(InputError, match=r"a\.pdf: this file isn't one that Blockwright made"):
        settle_folder(tmp_path, hush)
    (tmp_path / "a.pdf").rename(tmp_path / "b.pdf")
    assert settled(tmp_path) == {"a.pdf": drawing("new"), "b.pdf": b"mine", "mine.toml": b"mine"}


def test_the_hidden_folder_is_none_of_ours_if_it_is_a_link(tmp_path: Path) -> None:
    """Nothing is taken away where it leads to."""
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "journal").write_text("mine")
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / WORKING).symlink_to(tmp_path / "mine")
    with pytest.raises(InputError, match="a link of this name is in the way"):
        write(tmp_path / "out", "new")
    (tmp_path / "out" / WORKING).unlink()
    (tmp_path / "out" / WORKING).mkdir()
    (tmp_path / "out" / WORKING / "new").symlink_to(tmp_path / "mine")
    with pytest.raises(InputError, match="a link of this name is in the way"):
        write(tmp_path / "out", "new")
    assert (tmp_path / "mine" / "journal").read_text() == "mine"
