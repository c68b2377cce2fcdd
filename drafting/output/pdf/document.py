"""A PDF document as this program writes them.

True to size, fonts within, the same bytes for the same drawing.
"""

from __future__ import annotations

import io
import math
import os
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, Final

from drafting.output.painted import PaintedPicture
from drafting.output.pdf.ink import POINT
from drafting.output.pdf.operators import PER_MM, num, ring_ops
from drafting.output.pdf.packing import pack_pdf
from drafting.output.pdf.text import CORE, LetterOutlines, TextRun, font, text_width, typeset
from drafting.tolerance import TOLERANCE

DOT: Final = 72 / 300
"""Page sizes are whole dots at 300 to the inch, so that a page renders without being stretched (points)."""


@contextmanager
def _without_epoch() -> Iterator[None]:
    """Keep a date that the environment sets for builds out of a document: the same drawing has the same bytes."""
    epoch = os.environ.pop("SOURCE_DATE_EPOCH", None)
    try:
        yield
    finally:
        if epoch is not None:
            os.environ["SOURCE_DATE_EPOCH"] = epoch


class Document:
    """A PDF being written. Lengths are mm; each page has its own origin, set by ``page``."""

    def __init__(self, title: str, subject: str) -> None:
        from reportlab import rl_config
        from reportlab.pdfgen.canvas import Canvas

        rl_config.useA85 = rl_config.pdfComments = 0
        rl_config.documentLang = None
        self._buffer = io.BytesIO()
        font(CORE)
        with _without_epoch():
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
        self._next_label = ("", 0)
        self._places: list[str] = []
        self._forms: list[str] = []
        self._painted: list[str] = []
        self._shared: dict[str, Any] = {}
        self._resources: Any = None

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
        before and after the page's own.
        """
        points = [max(1, round(side * PER_MM / DOT)) * DOT for side in size]
        canvas = self._canvas
        canvas.setPageSize(tuple(map(_step_down, points)))
        canvas._preamble = f"{PER_MM:.9g} 0 0 {PER_MM:.9g} 0 0 cm" if metric else ""
        if trim is not None:
            within = (0.0, 0.0, *canvas._pagesize)
            left, low, right, high = (round(side * PER_MM, 4) for side in trim)
            canvas.setTrimBox((left, low, min(right, within[2]), min(high, within[3])))
        key = f"page-{self._pages}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(heading, key, 0, False)
        self._label(label)
        yield
        canvas.showPage()
        self._use_forms()
        if before or after:
            self._share(before, after)
        self._pages += 1

    def _label(self, label: str) -> None:
        """Label the page; labels that count on from the last page's (B2, B3) are told by the first of them."""
        stem = label.rstrip("0123456789")
        number = int(label[len(stem) :] or 0)
        if not number or (stem, number) != self._next_label:
            style, first = ("ARABIC", number) if number else (None, None)
            self._canvas.addPageLabel(self._pages, style, first, stem)
        self._next_label = (stem, number + 1)

    def store_operators(self, name: str, operators: Iterable[str]) -> None:
        """Store operators, in points, once for all pages that name them."""
        from reportlab.pdfbase.pdfdoc import PDFStream, PDFZCompress

        stream = PDFStream(content="\n".join(operators) + "\n", filters=[PDFZCompress])
        self._shared[name] = self._canvas._doc.Reference(stream)

    def _share(self, before: Sequence[str], after: Sequence[str]) -> None:
        """Make the page's content a list of streams, its own among the shared ones (ISO 32000-1, 7.8.2)."""
        from reportlab.pdfbase.pdfdoc import PDFArray, PDFStream, PDFZCompress

        document = self._canvas._doc
        page = document.Pages.pages[-1]
        own = document.Reference(PDFStream(content=page.stream.lstrip(), filters=[PDFZCompress]))
        streams = [self._shared[name] for name in before], [self._shared[name] for name in after]
        page.Contents = PDFArray([*streams[0], own, *streams[1]])
        page.__Refs__ = [name for name in page.__Refs__ if name != "Contents"]

    def _use_forms(self) -> None:
        """Give the page the one list of fonts and forms that all pages share, the forms under short names."""
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFObjectReference, PDFResourceDictionary

        document = self._canvas._doc
        if self._resources is None:
            self._resources = PDFResourceDictionary()
            self._resources.basicFonts()
            self._resources.basicProcs()
        if self._forms or self._painted:
            names = [(f"F{i}", f"FormXob.{name}") for i, name in enumerate(self._forms)]
            names += [(f"P{i}", name) for i, name in enumerate(self._painted)]
            self._resources.XObject = PDFDictionary({short: PDFObjectReference(inner) for short, inner in names})
        document.Pages.pages[-1].Resources = document.Reference(self._resources, "resources")

    def ops(self, operators: str) -> None:
        """Add PDF operators to the page."""
        self._canvas._code.append(operators)

    def form(
        self, name: str, box: tuple[float, float, float, float], operators: Iterable[str], *, metric: bool = False
    ) -> None:
        """Store operators in mm once, to be shown by ``show``, on pages in mm (``metric``) or in points.

        ``box`` (mm) holds all of their ink. No page is being written then.
        """
        from reportlab.pdfbase.pdfdoc import PDFArray

        canvas = self._canvas
        self._forms.append(name)
        canvas._preamble = ""
        canvas.beginForm(name, *box)
        canvas._code.extend(operators)
        scale = 1 if metric else f"{PER_MM:.9g}"
        canvas.endForm(Matrix=PDFArray([scale, 0, 0, scale, 0, 0]))

    def paint(self, picture: PaintedPicture, x: float, y: float, wide: float) -> None:
        """Show a picture made of dots, its lower left corner at (x, y) mm, so wide (mm): kept as its file has it."""
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFStream

        parts = {"Predictor": 15, "Colors": 3, "BitsPerComponent": 8, "Columns": picture.wide}
        entries = {"Type": PDFName("XObject"), "Subtype": PDFName("Image"), "Width": picture.wide,
                   "Height": picture.high, "ColorSpace": PDFName("DeviceRGB"), "BitsPerComponent": 8,
                   "Filter": PDFName("FlateDecode"), "DecodeParms": PDFDictionary(parts)}  # fmt: skip
        name = f"painted-{len(self._painted)}"
        self._canvas._doc.Reference(PDFStream(PDFDictionary(entries), picture.rows), name)
        self._painted.append(name)
        high = wide * picture.high / picture.wide
        self.ops(f"q {num(wide)} 0 0 {num(high)} {num(x)} {num(y)} cm /P{len(self._painted) - 1} Do Q")

    def place(self, heading: str, box: tuple[float, float, float, float]) -> None:
        """Add a bookmark to a place on the page being written (mm)."""
        key = f"place-{len(self._places)}"
        self._places.append(key)
        left, _, _, top = box
        self._canvas.bookmarkPage(key, fit="XYZ", left=round(left * PER_MM), top=round(top * PER_MM), zoom=0)
        self._canvas.addOutlineEntry(heading, key, 1, False)

    def show(self, name: str) -> None:
        """Draw a stored form in the page's present coordinates and pen."""
        self.ops(self.form_operator(name))

    def form_operator(self, name: str) -> str:
        """Return the operator that draws a stored form."""
        return f"/F{self._forms.index(name)} Do"

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
        c, s = round(math.cos(angle), 6), round(math.sin(angle), 6)
        words, x, y = rows[0]
        at = (round(x * per + TOLERANCE.off_edge, 2), round(y * per + TOLERANCE.off_edge, 2))
        turn = (
            f"{num(c)} {num(s)} {num(-s)} {num(c)} {num(at[0])} {num(at[1])} Tm"
            if s or c != 1.0
            else f"{num(at[0])} {num(at[1])} Td"
        )
        out = [f"BT {turn} {self.glyph_ops(words, size * POINT * per)}"]
        for words, x, y in rows[1:]:
            dx, dy = x * per - at[0], y * per - at[1]
            step = tuple(round(d + TOLERANCE.off_edge, 2) for d in (c * dx + s * dy, c * dy - s * dx))
            at = (at[0] + c * step[0] - s * step[1], at[1] + s * step[0] + c * step[1])
            out.append(f"{num(step[0])} {num(step[1])} Td {self.glyph_ops(words)}")
        return " ".join([*out, "ET"])

    def glyph_ops(self, words: str, scale: float = 0.0, name: str = CORE) -> str:
        """Return the operators that print words of one font inside a text object.

        Setting its size first unless that is 0.
        """
        face, out = font(name), []
        for subset, codes in face.splitString(words, self._canvas._doc):
            inner = face.getSubsetInternalName(subset, self._canvas._doc)
            size = f"{inner} {num(scale)} Tf " if scale or subset or name != CORE else ""
            out.append(f"{size}({self._canvas._escape(codes)})Tj")
        return " ".join(out)

    def bytes(self) -> bytes:
        """Finish the document and return it."""
        self._canvas.save()
        return pack_pdf(self._buffer.getvalue())


def _step_down(side: float) -> float:
    """Return a page's side one step of the sixth figure smaller (points).

    A renderer that rounds pages up to whole dots then adds none; six figures are what the file holds.
    """
    step = 10.0 ** (len(str(int(side))) - 6)
    return round((math.floor(side / step + 0.5) - 1) * step, 6)
