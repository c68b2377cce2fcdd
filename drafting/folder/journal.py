"""The hidden folder in which a pattern is made ready, its journal, and the steps that a journal asks for.

Each step looks at what is there and does what is left to do, so all of them may be taken again from the start.
"""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from drafting.errors import InputError, Problem
from drafting.folder.ours import is_left, is_own, is_there, read_start, real_names, refuse_foreign, refuse_odd
from drafting.record import dataclass
from drafting.seal import WORKING
from drafting.text import printable

LOCK_FILE: Final = "lock"
"""What in it is locked where a folder itself can't be."""

TICKET_ENDS: Final = ".toml"
"""How the name of a ticket ends: the one file we make that has no seal, and that never takes another's place."""

_FORMAT: Final = 1
_LONGEST_JOURNAL: Final = 65_536
_NO_SYNC: Final = (errno.EINVAL, errno.EBADF, errno.EACCES, errno.ENOTSUP)
"""With these a disk says that a folder's entries can't be forced down to it, and need not be."""


@dataclass(frozen=True, slots=True)
class Journal:
    """What makes a new pattern of an old one.

    ``place`` are the files that come, ``drop`` those of the pattern before that go; only files that one of the commands
    ``over`` made give way.
    """

    place: tuple[str, ...]
    drop: tuple[str, ...]
    over: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Workplace:
    """The hidden folder of a folder: what is new, what is moved aside, the journal."""

    folder: Path

    @property
    def root(self) -> Path:
        """The hidden folder."""
        return self.folder / WORKING

    @property
    def new(self) -> Path:
        """Where files lie that aren't in their place yet."""
        return self.root / "new"

    @property
    def old(self) -> Path:
        """Where files lie that gave way."""
        return self.root / "old"

    @property
    def journal(self) -> Path:
        """The journal; while it is there, the new pattern counts."""
        return self.root / "journal"

    @property
    def unsigned(self) -> Path:
        """The journal before it counts."""
        return self.root / "journal.unsigned"


def is_plain(name: str) -> bool:
    """Tell whether a name is that of a file in a folder, and no way out of it."""
    no_way_out = Path(name).name == name and not set(name) & {"/", "\\", "\0"}
    return no_way_out and name not in ("", ".", "..") and name.casefold() != WORKING


def write_new(at: Workplace, files: Mapping[str, bytes], journal: Journal) -> None:
    """Write the files in the hidden folder, and the journal that makes them count: its last call is the switch.

    The journal is written first, unsigned, so that whoever comes after a run that was killed knows what is its own.
    """
    _make_folder(at.root)
    asked = {"format": _FORMAT, "place": journal.place, "drop": journal.drop, "over": journal.over}
    _write_down(at.unsigned, json.dumps(asked).encode())
    _sync_folder(at.root)
    for folder in (at.new, at.old):
        os.mkdir(folder)
    for name, data in files.items():
        _write_down(at.new / name, data)
    _sync_folder(at.new)
    os.replace(at.unsigned, at.journal)


def finish(at: Workplace, journal: Journal) -> None:
    """Do what of a journal is left to do; InputError, where someone's own file has come to stand in the way."""
    _sync_folder(at.root)
    for name in journal.place:
        if is_there(at.new / name):
            _set_aside(at, name, journal)
            os.replace(at.new / name, at.folder / name)
    for name in journal.drop:
        if is_own(at.folder / name, journal.over):
            _set_aside(at, name, journal)
    _sync_folder(at.folder)


def undo(at: Workplace, journal: Journal) -> None:
    """Put back what of a journal was done, and take the journal away, so that the old pattern counts again."""
    for name in (*journal.drop, *reversed(journal.place)):
        if name in journal.place and not is_there(at.new / name):
            os.replace(at.folder / name, at.new / name)
        if is_there(at.old / name):
            os.replace(at.old / name, at.folder / name)
    _sync_folder(at.folder)
    os.unlink(at.journal)


def clear(at: Workplace) -> None:
    """Take away the hidden folder and what this program left in it; InputError, and all stays, if anything else is.

    The journal ceases to count first, and goes last: it names what may be taken away.
    """
    names = set(real_names(at.root))
    _refuse_strange(at, names)
    if at.journal.name in names:
        os.replace(at.journal, at.unsigned)
        _sync_folder(at.root)
    for folder in (at.new, at.old):
        for name in real_names(folder):
            os.unlink(folder / name)
        if folder.name in names:
            os.rmdir(folder)
    if is_there(at.unsigned):
        os.unlink(at.unsigned)
    if LOCK_FILE not in names and is_there(at.root):
        os.rmdir(at.root)


def _refuse_strange(at: Workplace, names: set[str]) -> None:
    """Refuse what lies in the hidden folder and is neither named by a journal nor sealed as our own."""
    files, folders = (at.journal, at.unsigned, at.root / LOCK_FILE), (at.new, at.old)
    strange = [at.root / name for name in sorted(names - {path.name for path in (*files, *folders)})]
    for path in files:
        if path.name in names:
            refuse_odd(path)
    named = {name for path in files[:2] if path.name in names for name in _names_in(path)}
    for folder in folders:
        strange += [folder / name for name in real_names(folder) if not is_left(folder / name, name in named)]
    if strange:
        says = "this isn't one of the files that Blockwright makes ready here, and is not taken away"
        raise InputError([Problem(printable(str(path)), says, mend="move it out of here") for path in strange])


def _names_in(path: Path) -> tuple[str, ...]:
    """The files that a journal names; none if it was never written to its end: no file was begun then."""
    journal = _parse(read_start(path, _LONGEST_JOURNAL))
    return (*journal.place, *journal.drop) if journal is not None else ()


def read_journal(at: Workplace) -> Journal | None:
    """Return the journal; None if there is none, InputError if it isn't as this program writes it."""
    if at.journal.name not in real_names(at.root):
        return None
    refuse_odd(at.journal)
    journal = _parse(read_start(at.journal, _LONGEST_JOURNAL))
    if journal is not None:
        return journal
    says = "an unfinished pattern lies here that this version of Blockwright can't finish"
    raise InputError([Problem(printable(str(at.root)), says, mend="move this folder away, and make the pattern again")])


def _parse(text: bytes) -> Journal | None:
    try:
        asked = json.loads(text)
        place, drop, over = (tuple(map(str, asked[word])) for word in ("place", "drop", "over"))
        if asked["format"] == _FORMAT and all(map(is_plain, (*place, *drop))):
            return Journal(place, drop, over)
    except (ValueError, TypeError, KeyError, RecursionError):
        pass
    return None


def settle(at: Workplace) -> None:
    """Finish what a journal asks for, or else clear away what a run that was stopped left."""
    journal = read_journal(at)
    if journal is not None:
        _refuse_planted(at, journal)
        finish(at, journal)
    clear(at)


def _refuse_planted(at: Workplace, journal: Journal) -> None:
    """See, before the first step, that a journal found moves only files of our own, within this folder.

    InputError, where anyone else could have had a hand in it: a link, another disk, someone's file.
    """
    waiting = {folder: [name for name in real_names(folder) if name in journal.place] for folder in (at.new, at.old)}
    for folder in (at.root, at.new, at.old):
        if is_there(folder) and os.lstat(folder).st_dev != os.stat(at.folder).st_dev:
            raise InputError([Problem(printable(str(folder)), "this is on another disk", mend="move it away")])
    for name in waiting[at.new]:
        refuse_odd(at.new / name)
        if not name.endswith(TICKET_ENDS):
            _refuse_unsealed(at.new / name, journal)
    refuse_foreign(at.folder, waiting[at.new], journal.over)


def _refuse_unsealed(path: Path, journal: Journal) -> None:
    if not is_own(path, journal.over):
        says = "this file isn't one that Blockwright made, and is not put in its place"
        raise InputError([Problem(printable(str(path)), says, mend="move it out of this hidden folder")])


def _set_aside(at: Workplace, name: str, journal: Journal) -> None:
    refuse_foreign(at.folder, [name], journal.over)
    if is_there(at.folder / name):
        os.replace(at.folder / name, at.old / name)


def _make_folder(path: Path) -> None:
    if not is_there(path):
        os.mkdir(path)


def _write_down(path: Path, data: bytes) -> None:
    """Write a new file down to the disk."""
    opened = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        while data:
            data = data[os.write(opened, data) :]
        os.fsync(opened)
    finally:
        os.close(opened)


def _sync_folder(path: Path) -> None:
    """Force a folder's entries down to the disk, where a system knows of that."""
    if os.name == "nt":
        return
    opened = os.open(path, os.O_RDONLY)
    try:
        os.fsync(opened)
    except OSError as error:
        if error.errno not in _NO_SYNC:
            raise
    finally:
        os.close(opened)
