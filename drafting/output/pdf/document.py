"""A PDF document as this program writes them.

True to size, fonts within, the same bytes for the same drawing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Final

from drafting.output.pdf.ink import POINT
from drafting.output.pdf.lettering import Lettering
from drafting.output.pdf.operators import METRIC, PER_MM, num, ring_ops
from drafting.output.pdf.outline import Contents
from drafting.output.pdf.packing import PdfFile, write_text
from drafting.output.pdf.text import CORE, LetterOutlines, TextRun, text_width, typeset
from drafting.tolerance import TOLERANCE

DOT: Final = 72 / 300
"""Page sizes are whole dots at 300 to the inch, so that a page renders without being stretched (points)."""

ENCODING: Final = "latin-1"
"""One byte a letter: codes of a font are written as they are."""


class Document:
    """A PDF being written. Lengths are mm; each page has its own origin, set by ``page``."""

    def __init__(self, title: str, subject: str) -> None:
        self._file = PdfFile()
        self._told = {"Title": title, "Subject": subject, "Creator": "Blockwright"}
        self._tree, self._resources = self._file.reserve(), self._file.reserve()
        self._contents = Contents()
        self._operators: list[str] = []
        self._lettering = Lettering()
        self._forms: dict[str, int] = {}
        self._shared: dict[str, int] = {}

    @contextmanager
    def page(
        self,
        size: tuple[float, float],
        label: str,
        heading: str,
        trim: tuple[float, float, float, float] | None = None,
        *,
        metric: bool = True,
        before: Sequence[str] = (),
        after: Sequence[str] = (),
    ) -> Iterator[None]:
        """Write one page of ``size`` mm, origin at its lower left corner; ``trim`` is its TrimBox (mm).

        ``metric``: operators are in mm; else in points. ``before`` and ``after`` name shared operators that run
        before and after the page's own (ISO 32000-1, 7.8.2).
        """
        wide, high = (_step_down(max(1, round(side * PER_MM / DOT)) * DOT) for side in size)
        self._operators = [METRIC] if metric else []
        self._contents.add_page(self._file.reserve(), label, heading)
        yield
        own = self._add_operators(self._operators)
        streams = [*(self._shared[name] for name in before), own, *(self._shared[name] for name in after)]
        held = " ".join(f"{number} 0 R" for number in streams)
        box = f"/MediaBox[0 0 {wide:.6g} {high:.6g}]"
        if trim is not None:
            left, low, right, top = (side * PER_MM for side in trim)
            box += f"/TrimBox[{num(left)} {num(low)} {num(min(right, wide))} {num(min(top, high))}]"
        self._file.fill(
            self._contents.page,
            f"<</Type/Page/Parent {self._tree} 0 R/Resources {self._resources} 0 R{box}"
            f"/Contents {f'[{held}]' if len(streams) > 1 else held}>>",
        )

    def _add_operators(self, operators: Iterable[str], entries: str = "") -> int:
        return self._file.add_stream(("\n".join(operators) + "\n").encode(ENCODING), entries)

    def store_operators(self, name: str, operators: Iterable[str]) -> None:
        """Store operators, in points, once for all pages that name them."""
        self._shared[name] = self._add_operators(operators)

    def ops(self, operators: str) -> None:
        """Add PDF operators to the page."""
        self._operators.append(operators)

    def form(self, name: str, box: tuple[float, float, float, float], operators: Iterable[str]) -> None:
        """Store operators in mm once, to be shown by ``show`` on pages in points.

        ``box`` (mm) holds all of their ink.
        """
        per = f"{PER_MM:.9g}"
        entries = f"/Subtype/Form/BBox[{' '.join(map(num, box))}]/Matrix[{per} 0 0 {per} 0 0]/Resources<<>>"
        self._forms[name] = self._add_operators(operators, entries)

    def place(self, heading: str, box: tuple[float, float, float, float]) -> None:
        """Add a bookmark to a place on the page being written (mm)."""
        left, _, _, top = box
        self._contents.add_place(heading, round(left * PER_MM), round(top * PER_MM))

    def show(self, name: str) -> None:
        """Draw a stored form in the page's present coordinates and pen."""
        self.ops(self.form_operator(name))

    def form_operator(self, name: str) -> str:
        """Return the operator that draws a stored form."""
        return f"/F{list(self._forms).index(name)} Do"

    def text(self, words: str, x: float, y: float, size: float, angle: float = 0.0, grey: float = 0.0) -> None:
        """Print a line of text, its left end on the base line at (x, y) mm."""
        self.ops(self.text_ops(words, x, y, size, angle, grey))

    def text_about(self, words: str, x: float, y: float, size: float, grey: float = 0.0) -> None:
        """Print a line of text about x."""
        self.text(words, x - text_width(words, size) / 2, y, size, 0.0, grey)

    def text_ops(
        self, words: str, x: float, y: float, size: float, angle: float = 0.0, grey: float = 0.0, *, per: float = 1.0
    ) -> str:
        """Return the operators that print a line of text at (x, y) mm.

        ``per`` is how many units of the page a mm has.
        """
        scale = size * POINT * per
        x, y = x * per, y * per
        c, s = round(math.cos(angle), 6), round(math.sin(angle), 6)
        out = [] if grey == 0.0 else [f"{grey:.3g} g"]
        for run in typeset(words).runs:
            if isinstance(run, LetterOutlines):
                out.append(
                    f"q {num(c * scale)} {num(s * scale)} {num(-s * scale)} {num(c * scale)} {num(x)} {num(y)} cm"
                )
                out.append(f"{ring_ops(run.rings, 4)} f* Q")
                continue
            dx, dy = run.x * scale, run.y * scale
            at = f"{num(x + c * dx - s * dy, 2)} {num(y + s * dx + c * dy, 2)}"
            turn = f"{num(c)} {num(s)} {num(-s)} {num(c)} {at} Tm" if s or c != 1.0 else f"{at} Td"
            out.append(
                f"BT {self.glyph_ops(run.text, scale * run.scale, run.font)} ET".replace("BT ", f"BT {turn} ", 1)
            )
        return " ".join(out if grey == 0.0 else [*out, "0 g"])

    def rows(self, rows: Sequence[str], x: float, y: float, size: float, leading: float, hang: float = 0.0) -> None:
        """Print rows of text one below the other, ``leading`` mm apart.

        Rows after the first ``hang`` mm further in.
        """
        self.ops(self.rows_ops([(row, x + (hang if i else 0.0), y - i * leading) for i, row in enumerate(rows)], size))

    def rows_ops(
        self, rows: Sequence[tuple[str, float, float]], size: float, angle: float = 0.0, *, per: float = 1.0
    ) -> str:
        """Return the operators that print rows (words, x, y in mm) of one size and angle."""
        if any(run.font != CORE if isinstance(run, TextRun) else True for row in rows for run in typeset(row[0]).runs):
            return " ".join(self.text_ops(words, x, y, size, angle, per=per) for words, x, y in rows)
        c, s, scale = round(math.cos(angle), 6), round(math.sin(angle), 6), size * POINT * per
        words, x, y = rows[0]
        at = (round(x * per + TOLERANCE.off_edge, 2), round(y * per + TOLERANCE.off_edge, 2))
        turn = (
            f"{num(c)} {num(s)} {num(-s)} {num(c)} {num(at[0])} {num(at[1])} Tm"
            if s or c != 1.0
            else f"{num(at[0])} {num(at[1])} Td"
        )
        out = [f"BT {turn} {self.glyph_ops(words, scale)}"]
        for words, x, y in rows[1:]:
            dx, dy = x * per - at[0], y * per - at[1]
            step = tuple(round(d + TOLERANCE.off_edge, 2) for d in (c * dx + s * dy, c * dy - s * dx))
            at = (at[0] + c * step[0] - s * step[1], at[1] + s * step[0] + c * step[1])
            out.append(f"{num(step[0])} {num(step[1])} Td {self.glyph_ops(words, scale, held=True)}")
        return " ".join([*out, "ET"])

    def glyph_ops(self, words: str, scale: float, name: str = CORE, *, held: bool = False) -> str:
        """Return the operators that print words of one font inside a text object, unless ``held`` setting it first."""
        return self._lettering.print_words(words, scale, name, held)

    def bytes(self) -> bytes:
        """Finish the document and return it."""
        file, forms = self._file, "".join(f"/F{i} {number} 0 R" for i, number in enumerate(self._forms.values()))
        file.fill(self._resources, f"<</Font{self._lettering.write(file)}/XObject<<{forms}>>>>")
        pages = self._contents.pages
        kids = " ".join(f"{number} 0 R" for number in pages)
        file.fill(self._tree, f"<</Type/Pages/Count {len(pages)}/Kids[{kids}]>>")
        root = file.add(
            f"<</Type/Catalog/Pages {self._tree} 0 R{self._contents.write(file)}"
            "/ViewerPreferences<</PrintScaling/None/DisplayDocTitle true>>>>"
        )
        told = "".join(f"/{name}{write_text(words)}" for name, words in self._told.items())
        return file.bytes(root, file.add(f"<<{told}>>"))


def _step_down(side: float) -> float:
    """Return a page's side one step of the sixth figure smaller (points).

    A renderer that rounds pages up to whole dots then adds none; six figures are what the file holds.
    """
    step = 10.0 ** (len(str(int(side))) - 6)
    return round((math.floor(side / step + 0.5) - 1) * step, 6)
