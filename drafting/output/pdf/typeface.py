"""A TrueType font (ISO/IEC 14496-22): how wide its letters are, and a file of only the letters that are used."""

from __future__ import annotations

import struct
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

import numpy as np

from drafting.record import dataclass

_HINTS: Final = ("cvt ", "fpgm", "prep")
_MORE, _WORDS, _SCALE, _TWO_SCALES, _MATRIX = 0x20, 0x01, 0x08, 0x40, 0x80
"""What the flags of a part of a composite glyph say: more parts follow; how long what stands after its number is."""

_CHECKED: Final = 0xB1B0AFBA
"""What all words of a font add up to with its head's check (14496-22, head)."""


@dataclass(frozen=True, slots=True, eq=False)
class Typeface:
    """A font as it was read: its tables, each character's glyph, and each character's width (thousandths of the size).

    ``advances`` and ``bearings`` are its glyphs' in the font's units.
    """

    tables: Mapping[str, bytes]
    glyphs: Mapping[int, int]
    widths: Mapping[int, float]
    advances: Sequence[int]
    bearings: Sequence[int]
    per_size: int
    places: Sequence[int]

    @property
    def box(self) -> tuple[int, ...]:
        """Left, bottom, right and top of all letters, in thousandths of the size."""
        corners = struct.unpack(">4h", self.tables["head"][36:44])
        return tuple(round(each * 1000 / self.per_size) for each in corners)

    def outline(self, glyph: int) -> bytes:
        """Return the outline of a glyph as the font has it, b"" for a blank."""
        return self.tables["glyf"][self.places[glyph] : self.places[glyph + 1]]


def read_typeface(path: Path) -> Typeface:
    """Read a font that this program ships."""
    data = path.read_bytes()
    rows = (struct.unpack(">4sLLL", data[at : at + 16]) for at in range(12, 12 + 16 * _short(data, 4), 16))
    tables = {name.decode(): data[offset : offset + length] for name, _, offset, length in rows}
    count, per_size = _short(tables["maxp"], 4), _short(tables["head"], 18)
    advances, bearings = _read_metrics(tables, count)
    long = _short(tables["head"], 50)
    places = (np.frombuffer(tables["loca"], ">u4" if long else ">u2").astype(int) * (1 if long else 2)).tolist()
    glyphs = _read_map(tables["cmap"])
    widths = {code: advances[glyph] * 1000.0 / per_size for code, glyph in glyphs.items()}
    return Typeface(tables, glyphs, widths, advances, bearings, per_size, places)


def cut_typeface(face: Typeface, characters: Mapping[int, int]) -> bytes:
    """Return a font for a PDF that has only these characters, by the code that stands for each (ISO 32000-1, 9.6.3)."""
    codes = sorted(characters)
    kept = list(dict.fromkeys([0, *(face.glyphs[characters[code]] for code in codes)]))
    outlines: list[bytes] = []
    while len(outlines) < len(kept):
        outlines.append(_renumber(face.outline(kept[len(outlines)]), kept))
    new = {glyph: number for number, glyph in enumerate(kept)}
    mapped = {code: new[face.glyphs[character]] for code, character in characters.items()}
    ends = np.cumsum([0, *map(len, outlines)])
    head, hhea, maxp = (bytearray(face.tables[name]) for name in ("head", "hhea", "maxp"))
    head[8:12], head[50:52] = bytes(4), b"\0\1"
    hhea[34:36] = maxp[4:6] = struct.pack(">H", len(kept))
    tables = {name: face.tables[name] for name in _HINTS if name in face.tables} | {
        "cmap": _write_map(mapped),
        "glyf": b"".join(outlines),
        "head": bytes(head),
        "hhea": bytes(hhea),
        "hmtx": b"".join(struct.pack(">Hh", face.advances[glyph], face.bearings[glyph]) for glyph in kept),
        "loca": ends.astype(">u4").tobytes(),
        "maxp": bytes(maxp),
    }
    return _join_tables(tables)


def _short(data: bytes, at: int) -> int:
    return int.from_bytes(data[at : at + 2], "big")


def _read_metrics(tables: Mapping[str, bytes], count: int) -> tuple[list[int], list[int]]:
    """The advance and the bearing of each glyph; those after the last pair have its advance."""
    pairs = _short(tables["hhea"], 34)
    rows = np.frombuffer(tables["hmtx"], ">u2", 2 * pairs).reshape(-1, 2)[:, 0].tolist()
    bearings = np.frombuffer(tables["hmtx"], ">i2")
    sides = [*bearings[: 2 * pairs].reshape(-1, 2)[:, 1].tolist(), *bearings[2 * pairs :].tolist()]
    return rows + [rows[-1]] * (count - pairs), sides


def _read_map(cmap: bytes) -> dict[int, int]:
    """Each character's glyph, by the table of the most characters that is in one of two forms."""
    offsets = [struct.unpack(">L", cmap[at + 4 : at + 8])[0] for at in range(4, 4 + 8 * _short(cmap, 2), 8)]
    forms = {_short(cmap, at): at for at in offsets}
    return dict(_read_groups(cmap[forms[12] :]) if 12 in forms else _read_segments(cmap[forms[4] :]))


def _read_groups(table: bytes) -> Iterator[tuple[int, int]]:
    count = struct.unpack(">L", table[12:16])[0]
    for first, last, glyph in struct.iter_unpack(">3L", table[16 : 16 + 12 * count]):
        yield from zip(range(first, last + 1), range(glyph, glyph + last - first + 1), strict=True)


def _read_segments(table: bytes) -> Iterator[tuple[int, int]]:
    words = np.frombuffer(table[: _short(table, 2)], ">u2").tolist()
    count = words[3] // 2
    ends, starts = words[7 : 7 + count], words[8 + count : 8 + 2 * count]
    for i, (first, last) in enumerate(zip(starts, ends, strict=True)):
        step, offset = words[8 + 2 * count + i], words[8 + 3 * count + i]
        for code in range(first, min(last, 0xFFFE) + 1):
            found = words[8 + 3 * count + i + offset // 2 + code - first] if offset else code
            if found:
                yield code, (found + step) % 0x10000


def _renumber(outline: bytes, kept: list[int]) -> bytes:
    """An outline whose parts are numbered by their place among the glyphs kept; parts not yet kept are from now on."""
    if len(outline) < 10 or outline[0] < 0x80:
        return outline + bytes(-len(outline) % 4)
    made, at, more = bytearray(outline), 10, True
    while more:
        flags, part = _short(outline, at), _short(outline, at + 2)
        if part not in kept:
            kept.append(part)
        made[at + 2 : at + 4] = struct.pack(">H", kept.index(part))
        scales = 2 if flags & _SCALE else 4 if flags & _TWO_SCALES else 8 if flags & _MATRIX else 0
        at += 4 + (4 if flags & _WORDS else 2) + scales
        more = bool(flags & _MORE)
    return bytes(made) + bytes(-len(made) % 4)


def _write_map(glyphs: Mapping[int, int]) -> bytes:
    """The table that gives each code of one byte its glyph."""
    first, last = min(glyphs), max(glyphs)
    numbers = [glyphs.get(code, 0) for code in range(first, last + 1)]
    table = struct.pack(f">5H{len(numbers)}H", 6, 10 + 2 * len(numbers), 0, first, len(numbers), *numbers)
    return struct.pack(">4HL", 0, 1, 1, 0, 12) + table


def _join_tables(tables: Mapping[str, bytes]) -> bytes:
    power = len(tables).bit_length() - 1
    out = struct.pack(">L4H", 0x10000, len(tables), 16 << power, power, 16 * len(tables) - (16 << power))
    offset, rows, bodies, places = 12 + 16 * len(tables), [], [], {}
    for name, table in sorted(tables.items()):
        padded = table + bytes(-len(table) % 4)
        rows.append(struct.pack(">4sLLL", name.encode(), _add_up(padded), offset, len(table)))
        bodies.append(padded)
        places[name] = offset
        offset += len(padded)
    made, check = bytearray(b"".join([out, *rows, *bodies])), places["head"] + 8
    made[check : check + 4] = struct.pack(">L", (_CHECKED - _add_up(bytes(made))) % (1 << 32))
    return bytes(made)


def _add_up(words: bytes) -> int:
    return int(np.frombuffer(words, ">u4").sum(dtype=np.uint64)) % (1 << 32)
