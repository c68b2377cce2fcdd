"""A PDF file written small: its small objects compressed together (object streams, ISO 32000-1, 7.5.7)."""

from __future__ import annotations

import hashlib
import zlib
from typing import Final

from drafting.seal import SEAL_ROOM

_HEAD: Final = b"%PDF-1.6\n%\xe2\xe3\xcf\xd3 " + SEAL_ROOM.encode() + b"\n"
"""Its second line, which tells that it holds bytes (7.5.2), has room for a seal."""

_MARK_LONG: Final = 16


class PdfFile:
    """The objects of a PDF as they come: dictionaries and the like as text, streams as bytes; all by number."""

    def __init__(self) -> None:
        self._small: dict[int, bytes] = {}
        self._streams: dict[int, bytes] = {}
        self._last = 0

    def reserve(self) -> int:
        """Return the number of an object that is filled in later."""
        self._last += 1
        return self._last

    def fill(self, number: int, body: str) -> None:
        """Say what stands at a number."""
        self._small[number] = body.encode("ascii")

    def add(self, body: str) -> int:
        """Return the number of a new object."""
        number = self.reserve()
        self.fill(number, body)
        return number

    def add_stream(self, data: bytes, entries: str = "") -> int:
        """Return the number of a new stream, compressed, with further entries of its dictionary."""
        number = self.reserve()
        self._streams[number] = _write_stream(number, data, entries)
        return number

    def bytes(self, root: int, info: int) -> bytes:
        """Return the file, given the numbers of its catalogue and of what tells its title: same in, same out."""
        out = bytearray(_HEAD)
        places: dict[int, tuple[int, int, int]] = {}
        holder, index = self.reserve(), self.reserve()
        for number, stream in [*self._streams.items(), (holder, _write_together(holder, self._small))]:
            places[number] = (1, len(out), 0)
            out += stream
        places |= {number: (2, holder, at) for at, number in enumerate(self._small)}
        places[index] = (1, len(out), 0)
        mark = hashlib.sha256(out).hexdigest()[: 2 * _MARK_LONG]
        entries = f"/Type/XRef/Size {index + 1}/Root {root} 0 R/Info {info} 0 R/ID[<{mark}><{mark}>]"
        rows = [places.get(number, (0, 0, 0)) for number in range(index + 1)]
        wide, narrow = (max(1, (max(row[i] for row in rows).bit_length() + 7) // 8) for i in (1, 2))
        data = b"".join(_place(row, wide, narrow) for row in rows)
        start = len(out)
        out += _write_stream(index, data, f"{entries}/W[1 {wide} {narrow}]")
        return bytes(out + b"startxref\n%d\n%%%%EOF\n" % start)


def write_text(text: str) -> str:
    """Return a text string (7.9.2.2)."""
    if text.isascii() and text.isprintable():
        return f"({escape_string(text)})"
    return f"<{(chr(0xFEFF) + text).encode('utf-16-be').hex()}>"


def escape_string(text: str) -> str:
    """Return what stands between the brackets of a literal string (7.3.4.2), one byte a letter."""
    return text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")


def _write_together(number: int, small: dict[int, bytes]) -> bytes:
    index, offset = [], 0
    for inner, body in small.items():
        index.append(b"%d %d" % (inner, offset))
        offset += len(body) + 1
    head = b" ".join(index) + b"\n"
    return _write_stream(number, head + b"\n".join(small.values()), f"/Type/ObjStm/N {len(small)}/First {len(head)}")


def _write_stream(number: int, data: bytes, entries: str) -> bytes:
    packed = zlib.compress(data, 9)
    head = f"{number} 0 obj\n<<{entries}/Filter/FlateDecode/Length {len(packed)}>>stream\n"
    return head.encode("ascii") + packed + b"\nendstream\nendobj\n"


def _place(row: tuple[int, int, int], wide: int, narrow: int) -> bytes:
    kind, a, b = row
    return bytes([kind]) + a.to_bytes(wide, "big") + b.to_bytes(narrow, "big")
