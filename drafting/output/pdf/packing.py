"""A PDF file packed small.

Its small objects compressed together (object streams, PDF 1.5, ISO 32000-1, 7.5.7).
"""

from __future__ import annotations

import re
import zlib
from itertools import pairwise
from typing import Final

from drafting.seal import SEAL_ROOM

_OBJECT: Final = re.compile(rb"(\d+) 0 obj\s")
_ROOT: Final = re.compile(rb"/Root (\d+ 0 R)")
_INFO: Final = re.compile(rb"/Info (\d+ 0 R)")
_ID: Final = re.compile(rb"/ID\s*(\[.*?\])", re.DOTALL)


def pack_pdf(pdf: bytes) -> bytes:
    """Return the same document with its small objects put into one compressed stream, and a compressed index.

    ``pdf`` is a file with one plain cross-reference table, every object of generation 0. Same in, same out.
    Its second line, which tells that it holds bytes (7.5.2), has room for a seal.
    """
    start, offsets, trailer = _index(pdf)
    small: list[tuple[int, bytes]] = []
    out = bytearray(pdf[: pdf.index(b"\n") + 1] + b"%\xe2\xe3\xcf\xd3 " + SEAL_ROOM.encode() + b"\n")
    places: dict[int, tuple[int, int, int]] = {0: (0, 0, 0)}
    ends = sorted([*offsets.values(), start])
    after = dict(pairwise(ends))
    for number, offset in sorted(offsets.items()):
        head = _OBJECT.match(pdf, offset)
        if head is None or int(head[1]) != number:
            return pdf
        body = pdf[head.end() : pdf.rindex(b"endobj", offset, after[offset])]
        entries, stream, data = body.partition(b"stream")
        if stream:
            places[number] = (1, len(out), 0)
            out += b"%d 0 obj\n%sstream%s\nendobj\n" % (number, _tidy(entries), data.rstrip())
        else:
            small.append((number, _tidy(body)))
    last = max(offsets)
    for at, (number, _) in enumerate(small):
        places[number] = (2, last + 1, at)
    places[last + 1] = (1, len(out), 0)
    out += _object_stream(last + 1, small)
    places[last + 2] = (1, len(out), 0)
    return bytes(out + _index_stream(last + 2, places, trailer) + b"startxref\n%d\n%%%%EOF\n" % places[last + 2][1])


_DEFAULTS: Final = re.compile(
    rb"/ProcSet \[[^]]*\] ?|/Rotate 0 |/Trans << *>> ?|/FormType 1 |/Matrix \[ 1 0 0 1 0 0 \] "
)
"""Entries that say nothing: what readers take for granted."""


def _tidy(entries: bytes) -> bytes:
    """Return a dictionary without idle entries; those without text strings also lose their idle spaces."""
    if b"(" in entries or b"%" in entries:
        return entries.strip()
    bare = _DEFAULTS.sub(b"", b" ".join(entries.split())).replace(b"[ /FlateDecode ]", b"/FlateDecode")
    return re.sub(rb" ?([/<>\[\]]+) ?", rb"\1", bare)


def _index(pdf: bytes) -> tuple[int, dict[int, int], bytes]:
    """Return where the cross-reference table begins, each object's offset.

    And the trailer's entries worth keeping.
    """
    start = int(pdf[pdf.rindex(b"startxref") + 9 :].split()[0])
    rows = pdf[start:].split(b"\n")
    count = int(rows[1].split()[1])
    offsets = {number: int(row[:10]) for number, row in enumerate(rows[2 : 2 + count]) if row[17:18] == b"n"}
    tail = pdf[pdf.index(b"trailer", start) :]
    kept = [b"/%s %s" % (name, found[1]) for name, found in _trailer_entries(tail)]
    return start, offsets, b" ".join(kept)


def _trailer_entries(tail: bytes) -> list[tuple[bytes, re.Match[bytes]]]:
    rows = ((b"Root", _ROOT), (b"Info", _INFO), (b"ID", _ID))
    return [(name, found) for name, pattern in rows if (found := pattern.search(tail))]


def _object_stream(number: int, small: list[tuple[int, bytes]]) -> bytes:
    index, bodies, offset = [], [], 0
    for inner, body in small:
        index.append(b"%d %d" % (inner, offset))
        bodies.append(body)
        offset += len(body) + 1
    head = b" ".join(index) + b"\n"
    data = zlib.compress(head + b"\n".join(bodies), 9)
    entries = b"/Type /ObjStm /N %d /First %d /Filter /FlateDecode /Length %d" % (len(small), len(head), len(data))
    return b"%d 0 obj\n<< %s >>\nstream\n%s\nendstream\nendobj\n" % (number, entries, data)


def _index_stream(number: int, places: dict[int, tuple[int, int, int]], trailer: bytes) -> bytes:
    rows = [places.get(n, (0, 0, 0)) for n in range(number + 1)]
    wide, narrow = (max(1, (max(row[i] for row in rows).bit_length() + 7) // 8) for i in (1, 2))
    data = zlib.compress(b"".join(_place(row, wide, narrow) for row in rows), 9)
    head = b"/Type /XRef /Size %d /W [1 %d %d] %s" % (number + 1, wide, narrow, trailer)
    entries = b"%s /Filter /FlateDecode /Length %d" % (head, len(data))
    return b"%d 0 obj\n<< %s >>\nstream\n%s\nendstream\nendobj\n" % (number, entries, data)


def _place(row: tuple[int, int, int], wide: int, narrow: int) -> bytes:
    kind, a, b = row
    return bytes([kind]) + a.to_bytes(wide, "big") + b.to_bytes(narrow, "big")
