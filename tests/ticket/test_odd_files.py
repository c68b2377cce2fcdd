"""Whatever stands where a file is named is read as an ordinary file of a sensible size, or refused at once."""

from __future__ import annotations

import os
import socket
from collections.abc import Callable
from pathlib import Path

import pytest

from drafting.cli.work import LARGEST_PROOF, earlier_draft
from drafting.errors import InputError
from drafting.ticket import Catalogue
from drafting.ticket.layers import read_layers
from drafting.ticket.ordinary import OddFile, read_ordinary
from drafting.ticket.reading import MOST_BYTES, read_toml

SPARSE = 3_000_000_000
POSIX = os.name != "nt"


def make_fifo(path: Path) -> None:
    """A pipe that no one writes to."""
    os.mkfifo(path)


def make_socket(path: Path) -> None:
    """A socket."""
    here = os.open(".", os.O_RDONLY)
    try:
        os.chdir(path.parent)  # a socket's name must be short
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(path.name)
    finally:
        os.fchdir(here)


def make_sparse(path: Path) -> None:
    """A file of 3 GB without a byte on the disk."""
    with path.open("wb") as file:
        file.truncate(SPARSE)


def make_loop(path: Path) -> None:
    """A link to itself."""
    path.symlink_to(path)


def link_to(target: str) -> Callable[[Path], None]:
    """Return what links to a file of the system's own."""
    return lambda path: path.symlink_to(target)


ODD: dict[str, Callable[[Path], None]] = {"folder": Path.mkdir}
if POSIX:
    ODD |= {"fifo": make_fifo, "socket": make_socket, "sparse": make_sparse, "loop": make_loop}
    ODD |= {target: link_to(target) for target in ("/dev/zero", "/dev/tty", "/proc/self/mem", "/proc/kmsg", "/proc")}
    ODD |= {target: link_to(target) for target in ("/proc/self/pagemap", "/proc/self/fd", "/dev/full", "/dev/null")}

every = pytest.mark.parametrize("kind", sorted(ODD))


@every
def test_an_odd_ticket_is_refused(tmp_path: Path, kind: str) -> None:
    """Neither waited for nor read without end."""
    ODD[kind](tmp_path / "alto.toml")
    with pytest.raises(InputError) as caught:
        read_toml(tmp_path / "alto.toml")
    assert "alto.toml" in str(caught.value)


@every
def test_an_odd_file_that_a_ticket_builds_on_is_refused(tmp_path: Path, kind: str) -> None:
    """Named with its ending or by its stem, it is refused with the file that was named."""
    ODD[kind](tmp_path / "first.toml")
    for name in ("first.toml", "first"):
        (tmp_path / "alto.toml").write_text(f'builds_on = "{name}"\n', "utf-8")
        with pytest.raises(InputError) as caught:
            read_layers(tmp_path / "alto.toml", Catalogue())
        assert "first" in str(caught.value)


@every
def test_an_odd_earlier_draft_is_refused(tmp_path: Path, kind: str) -> None:
    """As the file that is named, and as the proof in a folder that is."""
    ODD[kind](tmp_path / "proof.json")
    for named in (tmp_path, tmp_path / "proof.json"):
        with pytest.raises(InputError) as caught:
            earlier_draft(named)
        assert "proof.json" in str(caught.value)


def test_no_more_is_read_than_is_meant(tmp_path: Path) -> None:
    """A file of just the size is read; one byte more is too large."""
    file = tmp_path / "some"
    file.write_bytes(b"x" * 100)
    assert read_ordinary(file, 100) == b"x" * 100
    with pytest.raises(OddFile, match="too large"):
        read_ordinary(file, 99)


def test_no_sensible_size_is_large() -> None:
    """What a ticket and a proof may have at most is a small part of the memory there is."""
    assert max(MOST_BYTES, LARGEST_PROOF) <= 1_000_000
