"""Faults of the disk and ends of the process, at length: ``python -m tests.bench.faults [seed]``.

Told are how many were tried, and how many were found after which a folder was neither wholly the old pattern nor wholly
the new one once the next command had come, or something hidden was left, or something else was changed; status 1 if any
was. The runs that are ended make whole patterns, each in a process of its own; the calls of the disk that fail one by
one do so beneath tiny files.
"""

from __future__ import annotations

import contextlib
import errno
import random
import shutil
import signal
import sys
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

from drafting.folder import settle_folder
from drafting.job import Result
from drafting.seal import WORKING
from tests.bench.ended import Run, draft_of, start_make
from tests.bench.jobs import PLAIN, tickets
from tests.folder.disk import NAMES, NEW, OLD, Disk, Stopped, beneath, held, hush, lay_old, write_new

PAUSE = 0.004
"""Seconds that each call takes longer where a process is stopped while it writes: all of them a third of one."""

KILLS, HANGUPS, PAIRS = 240, 60, 40
Files = dict[str, bytes]
Fault = tuple[str, bool]
"""What was tried, and whether all held."""


@dataclass(frozen=True)
class Yard:
    """Where runs are tried: two tickets with the draft and the pattern of each."""

    folder: Path
    drafts: dict[str, Result]
    old: Files
    new: Files

    def start(self, ticket: str, out: Path, pause: float = 0.0, kill_at: int = 0) -> Run:
        """Start to make the pattern of a ticket."""
        return start_make(self.drafts, self.folder / f"{ticket}.toml", out, pause, kill_at)

    def lay(self, out: Path, *, old: bool) -> None:
        """Make a folder afresh: with the old pattern, a file that the new one hasn't, and notes; or none."""
        shutil.rmtree(out, ignore_errors=True)
        if old:
            shutil.copytree(self.folder / "old", out)
            (out / "notes.txt").write_bytes(b"mine")

    def is_whole(self, out: Path, *, old: bool) -> bool:
        """Tell whether a folder is wholly old or new, the next command having come."""
        notes = {"notes.txt": b"mine"} if old else {}
        return _settled(out) in ({**self.old, **notes} if old else {}, {**self.new, **notes})


def _settled(out: Path) -> Files | None:
    settle_folder(out, hush)
    if any(path.is_dir() for path in out.rglob("*")):
        return None
    return held(out)


def lay_yard(folder: Path) -> Yard:
    """Draft both tickets and make their patterns; the old one with a file that the new one hasn't got."""
    plain = tickets(folder)[PLAIN].read_text(encoding="utf-8")
    longer = '\n[[changes]]\nchange = "sleeve-length"\nto = "elbow"\n'
    drafts: dict[str, Result] = {}
    for name, text in (("old", plain), ("new", plain + longer)):
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
        drafts[name] = draft_of(folder / f"{name}.toml")
        assert start_make(drafts, folder / f"{name}.toml", folder / name).end() == 0
    sealed = (folder / "old" / "pattern.pdf").read_bytes()
    (folder / "old" / "changed.pdf").write_bytes(sealed)
    return Yard(folder, drafts, held(folder / "old"), held(folder / "new"))


def killed_at_renames(yard: Yard) -> Iterator[Fault]:
    """A run killed at each of its renames, over an older pattern and into a new folder."""
    for old in (True, False):
        for at in count(1):
            out = yard.folder / "out"
            yard.lay(out, old=old)
            status = yard.start("new", out, kill_at=at).end()
            if status == 0:
                break
            killed = status == -signal.SIGKILL
            yield f"killed at rename {at}", killed and yard.is_whole(out, old=old)
            if not killed:
                return


def stopped_at_random(yard: Yard, chance: random.Random, names: Iterable[str]) -> Iterator[Fault]:
    """Runs stopped at random while they write, two of three over an older pattern."""
    for number, name in enumerate(names):
        out, sign, old = yard.folder / "out", getattr(signal, name), number % 3 > 0
        yard.lay(out, old=old)
        run = yard.start("new", out, pause=PAUSE)
        run.wait_begun()
        time.sleep(chance.uniform(0.0, 0.4))
        run.send(sign)
        ended = run.end() in ((0, -sign) if sign == signal.SIGKILL else (0, 128 + sign))
        tidy = sign == signal.SIGKILL or not (out / WORKING).exists()
        yield f"{name} while it writes", ended and tidy and yard.is_whole(out, old=old)


def at_once(yard: Yard, chance: random.Random) -> Iterator[Fault]:
    """Two runs into one folder at once, with slow renames: each is whole, or refused."""
    for number in range(PAIRS):
        out, old = yard.folder / "out", number % 2 > 0
        yard.lay(out, old=old)
        one = yard.start("old", out, pause=PAUSE)
        time.sleep(chance.uniform(0.0, 0.3))
        other = yard.start("new", out, pause=PAUSE)
        statuses = {one.end(), other.end()}
        now = _settled(out) or {}
        notes = now.pop("notes.txt", None) == (b"mine" if old else None)
        whole = now in (yard.new, {name: data for name, data in yard.old.items() if name != "changed.pdf"})
        yield "two runs at once", notes and whole and 0 in statuses and statuses <= {0, 2}


def failing_calls(base: Path, error: int | None, *, lasting: bool) -> Iterator[Fault]:
    """The disk fails, or the process ends, at each call that there is, over an older pattern and into a new folder."""
    what = "stopped" if error is None else f"{errno.errorcode[error]}, {'lasting' if lasting else 'once'},"
    for old in (True, False):
        for at in count(1):
            folder = base / f"{what}-{old}-{at}"
            folder.mkdir()
            if old:
                lay_old(folder)
            disk = Disk(at, error, lasting)
            ended = write_new(folder, disk)
            if not disk.reached:
                break
            hidden = (folder / WORKING).exists()
            tidy = lasting or not hidden or "nothing is lost" in ended
            yield f"{what} at a call", tidy and _is_whole_tiny(folder, old=old) and (bool(ended) or held(folder) != OLD)


def stopped_again(base: Path) -> Iterator[Fault]:
    """Stopped at each call, and the next start stopped at each of its own."""
    for at in count(1):
        for again in count(1):
            folder = base / f"again-{at}-{again}"
            lay_old(folder)
            first, second = Disk(at), Disk(again)
            write_new(folder, first)
            if not first.reached:
                return
            with beneath(second), contextlib.suppress(Stopped):
                settle_folder(folder, hush)
            yield "stopped, and stopped again", _is_whole_tiny(folder, old=True)
            shutil.rmtree(folder)
            if not second.reached:
                break


def _is_whole_tiny(folder: Path, *, old: bool) -> bool:
    with beneath(Disk()):
        now = _settled(folder)
    return now in ((OLD, NEW) if old else ({}, {name: NEW[name] for name in NAMES}))


def main(seed: int) -> int:
    """Try all, print what was tried and found, and return the exit status."""
    chance, found = random.Random(seed), 0
    with TemporaryDirectory() as name:
        folder = Path(name)
        yard = lay_yard(folder)
        tries: list[Callable[[], Iterator[Fault]]] = [
            *(
                lambda error=error, lasting=lasting: failing_calls(folder, error, lasting=lasting)
                for error in (errno.EIO, errno.ENOSPC, errno.EACCES, errno.EROFS)
                for lasting in (False, True)
            ),
            lambda: failing_calls(folder, None, lasting=True),
            lambda: stopped_again(folder),
            lambda: killed_at_renames(yard),
            lambda: stopped_at_random(yard, chance, ["SIGKILL"] * KILLS),
            lambda: stopped_at_random(yard, chance, ["SIGHUP"] * HANGUPS),
            lambda: stopped_at_random(yard, chance, ["SIGTERM", "SIGINT"] * (HANGUPS // 2)),
            lambda: at_once(yard, chance),
        ]
        for each in tries:
            found += _tell(each())
    return 1 if found else 0


def _tell(faults: Iterable[Fault]) -> int:
    """Print what was tried and found, by kind, and return how many were found."""
    tried: dict[str, list[bool]] = {}
    for what, holds in faults:
        kind = what.rstrip(" 0123456789")
        tried.setdefault(kind, []).append(holds)
        if not holds:
            print(f"  FOUND: {what}", flush=True)
    for kind, held_ in tried.items():
        print(f"{kind:32} tried {len(held_):5}  found {held_.count(False):3}", flush=True)
    return sum(held_.count(False) for held_ in tried.values())


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 1))
