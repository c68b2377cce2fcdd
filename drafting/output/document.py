"""A PDF document as this program writes them.

True to size, fonts within, the same bytes for the same drawing.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, Final

from drafting.output.ink import POINT, Floats, straight_ones
from drafting.output.packing import packed
from drafting.output.text import CORE, Drawn, Run, font, typeset, width
from drafting.tolerance import TOLERANCE

PER_MM: Final = 72 / 25.4
DOT: Final = 72 / 300
"""Page sizes are whole dots at 300 to the inch, so that a page renders without being stretched (points)."""

LARGEST_PAGE: Final = 14_400.0
"""The largest side of a page in user units that readers must bear (PDF 1.7, annex C)."""


class Document:
    """A PDF being written. Lengths are mm; each page has its own origin, set by ``page``."""

    def __init__(self, title: str, subject: str) -> None:
        from reportlab import rl_config
        from reportlab.pdfgen.canvas import Canvas

        rl_config.useA85 = 0
        self._buffer = io.BytesIO()
        font(CORE)
        self._canvas: Any = Canvas(
            self._buffer, pageCompression=1, invariant=1, pdfVersion=(1, 6), initialFontName=CORE
        )
        self._canvas.setTitle(title)
        self._canvas.setSubject(subject)
        self._canvas.setCreator("Blockwright")
        self._canvas.setAuthor("")
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._canvas.setViewerPreference("DisplayDocTitle", "true")
        self._pages = 0
        self._places: list[str] = []
        self._forms: list[str] = []

    @contextmanager
    def page(
        self,
        size: tuple[float, float],
        label: str,
        heading: str,
        trim: tuple[float, float, float, float] | None = None,
        *,
        metric: bool = True,
    ) -> Iterator[None]:
        """Write one page of ``size`` mm, origin at its lower left corner; ``trim`` is its TrimBox (mm).

        ``metric``: operators are in mm; else in points.
        """
        points = [max(1, round(side * PER_MM / DOT)) * DOT for side in size]
        unit = max(1, math.ceil(max(points) / LARGEST_PAGE))
        canvas = self._canvas
        canvas.setPageSize(tuple(_shy(side / unit) for side in points))
        per = (PER_MM if metric else 1.0) / unit
        canvas._preamble = "" if per == 1.0 else f"{per:.9g} 0 0 {per:.9g} 0 0 cm"
        if trim is not None:
            canvas.setTrimBox(tuple(round(side * PER_MM / unit, 4) for side in trim))
        key = f"page-{self._pages}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(heading, key, 0, False)
        canvas.addPageLabel(self._pages, None, None, label)
        yield
        canvas.showPage()
        self._use_forms()
        self._pages += 1
        if unit > 1:
            self._enlarge(unit)

    def _use_forms(self) -> None:
        """Give the page the list of all forms, under short names: one list for all pages packs best."""
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFObjectReference

        if self._forms:
            names = ((f"F{i}", f"FormXob.{name}") for i, name in enumerate(self._forms))
            entries = {short: PDFObjectReference(internal) for short, internal in names}
            self._canvas._doc.Pages.pages[-1].XObjects = PDFDictionary(entries)

    def _enlarge(self, unit: int) -> None:
        page = self._canvas._doc.Pages.pages[-1]
        page.__NoDefault__ = [*page.__NoDefault__, "UserUnit"]
        page.UserUnit = unit

    def ops(self, operators: str) -> None:
        """Add PDF operators to the page."""
        self._canvas._code.append(operators)

    def form(self, name: str, box: tuple[float, float, float, float], operators: Iterable[str]) -> None:
        """Store operators in mm once, to be shown by ``show`` on pages in points.

        ``box`` (mm) holds all of their ink.
        """
        from reportlab.pdfbase.pdfdoc import PDFArray

        canvas = self._canvas
        self._forms.append(name)
        canvas._preamble = ""
        canvas.beginForm(name, *box)
        canvas._code.extend(operators)
        canvas.endForm(Matrix=PDFArray([f"{PER_MM:.9g}", 0, 0, f"{PER_MM:.9g}", 0, 0]))

    def place(self, heading: str, box: tuple[float, float, float, float]) -> None:
        """Add a bookmark to a place on the page being written (mm)."""
        key = f"place-{len(self._places)}"
        self._places.append(key)
        left, _, _, top = box
        self._canvas.bookmarkPage(key, fit="XYZ", left=round(left * PER_MM), top=round(top * PER_MM), zoom=0)
        self._canvas.addOutlineEntry(heading, key, 1, False)

    def show(self, name: str) -> None:
        """Draw a stored form in the page's present coordinates and pen."""
        self.ops(f"/F{self._forms.index(name)} Do")

    def text(self, words: str, x: float, y: float, size: float, angle: float = 0.0, grey: float = 0.0) -> None:
        """Print a line of text, its left end on the base line at (x, y) mm."""
        self.ops(self.text_ops(words, x, y, size, angle, grey))

    def centred(self, words: str, x: float, y: float, size: float, grey: float = 0.0) -> None:
        """Print a line of text about x."""
        self.text(words, x - width(words, size) / 2, y, size, 0.0, grey)

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
            if isinstance(run, Drawn):
                out.append(f"q {_n(c * scale)} {_n(s * scale)} {_n(-s * scale)} {_n(c * scale)} {_n(x)} {_n(y)} cm")
                out.append(f"{ring_ops(run.rings, 4)} f* Q")
                continue
            dx, dy = run.x * scale, run.y * scale
            at = f"{_n(x + c * dx - s * dy, 2)} {_n(y + s * dx + c * dy, 2)}"
            turn = f"{_n(c)} {_n(s)} {_n(-s)} {_n(c)} {at} Tm" if s or c != 1.0 else f"{at} Td"
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
        if any(run.font != CORE if isinstance(run, Run) else True for row in rows for run in typeset(row[0]).runs):
            return " ".join(self.text_ops(words, x, y, size, angle, per=per) for words, x, y in rows)
        c, s = round(math.cos(angle), 6), round(math.sin(angle), 6)
        words, x, y = rows[0]
        at = (round(x * per, 2), round(y * per, 2))
        turn = (
            f"{_n(c)} {_n(s)} {_n(-s)} {_n(c)} {_n(at[0])} {_n(at[1])} Tm"
            if s or c != 1.0
            else f"{_n(at[0])} {_n(at[1])} Td"
        )
        out = [f"BT {turn} {self.glyph_ops(words, size * POINT * per)}"]
        for words, x, y in rows[1:]:
            dx, dy = x * per - at[0], y * per - at[1]
            step = (round(c * dx + s * dy, 2), round(c * dy - s * dx, 2))
            at = (at[0] + c * step[0] - s * step[1], at[1] + s * step[0] + c * step[1])
            out.append(f"{_n(step[0])} {_n(step[1])} Td {self.glyph_ops(words)}")
        return " ".join([*out, "ET"])

    def glyph_ops(self, words: str, scale: float = 0.0, name: str = CORE) -> str:
        """Return the operators that print words of one font inside a text object.

        Setting its size first unless that is 0.
        """
        face, out = font(name), []
        for subset, codes in face.splitString(words, self._canvas._doc):
            inner = face.getSubsetInternalName(subset, self._canvas._doc)
            size = f"{inner} {_n(scale)} Tf " if scale or subset or name != CORE else ""
            out.append(f"{size}({self._canvas._escape(codes)})Tj")
        return " ".join(out)

    def bytes(self) -> bytes:
        """Finish the document and return it."""
        self._canvas.save()
        return packed(self._buffer.getvalue())


def _n(number: float, digits: int = 4) -> str:
    """Return a number as PDF wants it, without idle zeros."""
    shown = f"{number:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown


def _shy(side: float) -> float:
    """Return a page's side one step of the sixth figure smaller (points).

    A renderer that rounds pages up to whole dots then adds none; six figures are what the file holds.
    """
    step = 10.0 ** (len(str(int(side))) - 6)
    return round((math.floor(side / step + 0.5) - 1) * step, 6)


def rectangle(x0: float, y0: float, x1: float, y1: float) -> str:
    """Return the operators that trace a rectangle."""
    return f"{_n(x0)} {_n(y0)} {_n(x1 - x0)} {_n(y1 - y0)} re"


def line(x0: float, y0: float, x1: float, y1: float) -> str:
    """Return the operators that trace a straight line."""
    return f"{_n(x0)} {_n(y0)} m {_n(x1)} {_n(y1)} l"


def pen(stroke: float, grey: float = 0.0, dash: Sequence[float] = (), round_: bool = False) -> str:
    """Return the operators that take a pen of ``stroke`` mm."""
    return f"{_n(stroke)} w {grey:.3g} G {int(round_)} J {int(round_)} j [{' '.join(map(_n, dash))}] 0 d"


def ring_ops(rings: Floats, digits: int = 3) -> str:
    """Return the operators that trace cubics, shape (n, 4, 2).

    The pen lifted where one does not start at the last one's end.
    """
    out: list[str] = []
    at: tuple[float, float] | None = None
    for (p, a, b, q), flat in zip(rings.tolist(), straight_ones(rings).tolist(), strict=True):
        if at is None or abs(at[0] - p[0]) + abs(at[1] - p[1]) > TOLERANCE.same_point:
            out.append(f"{p[0]:.{digits}f} {p[1]:.{digits}f} m")
        out.append(_segment(a, b, q, flat, digits))
        at = (q[0], q[1])
    return " ".join(out)


def _segment(a: list[float], b: list[float], q: list[float], flat: bool, digits: int) -> str:
    if flat:
        return f"{q[0]:.{digits}f} {q[1]:.{digits}f} l"
    d = digits
    return f"{a[0]:.{d}f} {a[1]:.{d}f} {b[0]:.{d}f} {b[1]:.{d}f} {q[0]:.{d}f} {q[1]:.{d}f} c"
