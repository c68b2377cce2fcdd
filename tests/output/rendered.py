"""PDF pages as pictures of ink, for tests: rendered by pdfium, measured in mm from the lower left corner."""

from __future__ import annotations

import io

import numpy as np
import numpy.typing as npt
import pikepdf
import pypdfium2

Picture = npt.NDArray[np.uint8]


def picture(pdf: bytes, page: int, dpi: int = 300) -> Picture:
    """Return a page in grey, rows from the top; 255 is white."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return np.array(document[page].render(scale=dpi / 72, grayscale=True).to_numpy().squeeze())
    finally:
        document.close()


def labels(pdf: bytes) -> list[str]:
    """Return every page's label."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [document.get_page_label(i) for i in range(len(document))]
    finally:
        document.close()


def words(pdf: bytes, page: int) -> str:
    """Return the words on a page."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return document[page].get_textpage().get_text_bounded()
    finally:
        document.close()


def trim(pdf: pikepdf.Pdf, page: int) -> tuple[float, float, float, float]:
    """Return a page's TrimBox in points."""
    x0, y0, x1, y1 = (float(side) for side in pdf.pages[page].TrimBox)
    return x0, y0, x1, y1


def sheet_picture(pdf: bytes, dpi: int = 300) -> Picture:
    """Return the whole sheet's page cut at its TrimBox."""
    document = pikepdf.open(io.BytesIO(pdf))
    x0, y0, x1, y1 = trim(document, 0)
    left, high = round(x0 * dpi / 72), float(document.pages[0].MediaBox[3])
    wide, tall = (round(side * dpi / 72) for side in (x1 - x0, y1 - y0))
    above = round((high - y1) * dpi / 72)
    return picture(pdf, 0, dpi)[above : above + tall, left : left + wide]
