"""The letters of one document: each font within it holds only what is printed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from drafting.output.pdf.operators import num
from drafting.output.pdf.packing import PdfFile, escape_string
from drafting.output.pdf.text import font
from drafting.output.pdf.typeface import cut_typeface

_OWN: Final = range(32, 127)
"""Codes that stand for their own character, so that what is printed can be read in the file."""
_FREE: Final = (*range(127, 256), *range(1, 10), 11, 12, *range(14, 32))
"""Codes for other characters: all but those that end a line or are changed where one is read."""
_SPACE: Final = 0x20
_NO_BREAK: Final = 0xA0

_STEM: Final = 87
_SYMBOLIC: Final = 4
_MOST_ROWS: Final = 100
"""Of a table of characters (9.10.3)."""


class Lettering:
    """Gives the letters that are printed their codes, in as many fonts of at most 256 letters as it takes."""

    def __init__(self) -> None:
        self._codes: dict[tuple[str, int], tuple[int, int]] = {}
        self._fonts: list[tuple[str, dict[int, int]]] = []
        self._free: dict[str, tuple[int, int]] = {}

    def print_words(self, words: str, scale: float, name: str, held: bool) -> str:
        """Return the operators that print words of a typeface at a size; ``held``: its first font is set already."""
        first = self._code(name, _SPACE)[0]
        at, out, shown = first if held else -1, [], ""
        for character in words:
            number, code = self._code(name, _SPACE if ord(character) == _NO_BREAK else ord(character))
            if number != at:
                out += [f"({escape_string(shown)})Tj"] if shown else []
                out.append(f"/T{number} {num(scale)} Tf")
                at, shown = number, ""
            shown += chr(code)
        out += [f"({escape_string(shown)})Tj"] if shown else []
        return " ".join([*out, f"/T{first} {num(scale)} Tf"] if at != first else out)

    def _code(self, name: str, character: int) -> tuple[int, int]:
        """The font of the document, and the code in it, that stand for a character of a typeface."""
        if (name, character) not in self._codes:
            number, used = self._free.get(name, (-1, len(_FREE)))
            if number < 0 or (character not in _OWN and used == len(_FREE)):
                self._fonts.append((name, {}))
                number, used = len(self._fonts) - 1, 0
            first = next(i for i, (each, _) in enumerate(self._fonts) if each == name)
            own = character in _OWN
            found = (first, character) if own else (number, _FREE[used])
            self._free[name] = (number, used if own else used + 1)
            self._codes[name, character] = found
            self._fonts[found[0]][1][found[1]] = character
        return self._codes[name, character]

    def write(self, file: PdfFile) -> str:
        """Write the fonts and return the dictionary that names them."""
        numbers = (_write_font(file, i, name, letters) for i, (name, letters) in enumerate(self._fonts))
        return f"<<{''.join(f'/T{i} {number} 0 R' for i, number in enumerate(numbers))}>>"


def _write_font(file: PdfFile, number: int, name: str, letters: Mapping[int, int]) -> int:
    """Write a simple font (ISO 32000-1, 9.6.3) of some letters of a typeface, and return its number."""
    face, called = font(name), f"AAAAA{chr(ord('A') + number)}+{name}"
    data = cut_typeface(face, letters)
    program = file.add_stream(data, f"/Length1 {len(data)}")
    left, low, right, high = face.box
    told = file.add(
        f"<</Type/FontDescriptor/FontName/{called}/Flags {_SYMBOLIC}/FontBBox[{left} {low} {right} {high}]"
        f"/ItalicAngle 0/Ascent 760/Descent -240/CapHeight 760/StemV {_STEM}/FontFile2 {program} 0 R>>"
    )
    first, last = min(letters), max(letters)
    widths = " ".join(num(face.widths[letters[code]], 1) if code in letters else "0" for code in range(first, last + 1))
    return file.add(
        f"<</Type/Font/Subtype/TrueType/BaseFont/{called}/FirstChar {first}/LastChar {last}/Widths[{widths}]"
        f"/FontDescriptor {told} 0 R/ToUnicode {file.add_stream(_tell_characters(letters))} 0 R>>"
    )


def _tell_characters(letters: Mapping[int, int]) -> bytes:
    """What tells a reader which character a code stands for (9.10.3)."""
    rows = [
        f"<{code:02X}><{chr(character).encode('utf-16-be').hex()}>"
        for code, character in sorted(letters.items())
        if code not in _OWN
    ]
    groups = (rows[i : i + _MOST_ROWS] for i in range(0, len(rows), _MOST_ROWS))
    parts = [f"{len(group)} beginbfchar\n{' '.join(group)}\nendbfchar" for group in groups]
    text = (
        "/CIDInit/ProcSet findresource begin 12 dict begin begincmap\n"
        "/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n"
        "/CMapName/Adobe-Identity-UCS def/CMapType 2 def\n1 begincodespacerange\n<00><FF>\nendcodespacerange\n"
        f"1 beginbfrange\n<{_OWN[0]:02X}><{_OWN[-1]:02X}><{_OWN[0]:04X}>\nendbfrange\n"
    )
    end = "endcmap CMapName currentdict/CMap defineresource pop end end"
    return "\n".join([text.rstrip(), *parts, end]).encode("ascii")
