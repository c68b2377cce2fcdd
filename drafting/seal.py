"""The seal: how the program knows a file again that it made, and whether it is still as it was made.

Each file is made with room for the seal in its first lines: a comment in a PDF and in drawings, the first key of a
JSON document, a chunk of text in a PNG,
what says who made a model. Sealed, it says which command made it, the draft's mark, and how many bytes it
has: a file that someone drew on or wrote in since hasn't that length any more, and is theirs.
"""

from __future__ import annotations

import re
import zlib
from typing import Final

from drafting.record import dataclass

_NAME: Final = "Made by Blockwright "
_BYTES: Final = " bytes"
_NO_DRAFT: Final = "------"

SEAL_ROOM: Final = _NAME + "." * 38
"""Stands where the seal is to be, and is as long."""

WORKING: Final = ".blockwright-unfinished"
"""How the hidden folder is called in which files are made ready, within the folder that is written to."""

SEAL_WITHIN: Final = 256
"""Bytes from the start of a file within which its seal ends."""

_PNG: Final = b"\x89PNG\r\n\x1a\n"

_SEAL: Final = re.compile(
    rb'\A(?:%PDF-1\.\d\n%[^\n]{4} |<\?xml[^\n]{0,80}\n<!-- |<!DOCTYPE html>\n<!-- |\{\n  "[$a-z]{1,20}": "|999\n'
    rb"|\x89PNG\r\n\x1a\n[\s\S]{25}[\s\S]{4}tEXtComment\x00"
    rb'|glTF[\s\S]{16}\{"asset":\{"version":"2\.0","generator":")'
    rb"Made by Blockwright (\w+), draft ([\w-]+), (\d+) bytes"
)


@dataclass(frozen=True, slots=True)
class Seal:
    """Which command made a file, for which draft ("" for none), and of how many bytes."""

    command: str
    draft: str
    size: int


def seal_file(data: bytes, command: str, draft: str = "") -> bytes:
    """Return a file's bytes, as many as before, sealed; those without room for a seal as they are.

    ``command`` is the command that makes it, ``draft`` the draft's mark.
    """
    head = f"{_NAME}{command}, draft {draft or _NO_DRAFT}, "
    size = str(len(data)).zfill(len(SEAL_ROOM) - len(head) - len(_BYTES))
    seal = f"{head}{size}{_BYTES}"
    if len(seal) != len(SEAL_ROOM):
        raise ValueError(f"a seal for {command} and {draft} has no room")
    sealed = data.replace(SEAL_ROOM.encode(), seal.encode(), 1)
    return _sum_anew(sealed) if data.startswith(_PNG) else sealed


def _sum_anew(picture: bytes) -> bytes:
    """Return a PNG file with the check sum that the chunk of its seal has now."""
    start = picture.index(b"tEXt")
    end = start + 4 + int.from_bytes(picture[start - 4 : start], "big")
    return picture[:end] + zlib.crc32(picture[start:end]).to_bytes(4, "big") + picture[end + 4 :]


def read_seal(start: bytes) -> Seal | None:
    """Return the seal in the first bytes of a file, ``SEAL_WITHIN`` of them; None where there is none."""
    found = _SEAL.match(start)
    if found is None:
        return None
    command, draft, size = (part.decode() for part in found.groups())
    return Seal(command, "" if draft == _NO_DRAFT else draft, int(size))
