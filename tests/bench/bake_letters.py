"""Makes the letters that stand in pictures of garments worn: ``python -m tests.bench.bake_letters``."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pypdfium2
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

DRAFTING = Path(__file__).parents[2] / "drafting"
SIZE, CELL, TALL, SHADES = 15.0, 32, 24, 15


def main() -> int:
    """Write the file; status 0."""
    letters = [chr(code) for code in range(ord(" "), 127)]
    pdfmetrics.registerFont(TTFont("letters", DRAFTING / "output" / "pdf" / "fonts" / "dejavu-sans.ttf"))
    page = io.BytesIO()
    canvas = Canvas(page, pagesize=(CELL * len(letters), TALL))
    canvas.setFont("letters", SIZE)
    for i, letter in enumerate(letters):
        canvas.drawString(i * CELL + 4, 6, letter)
    canvas.save()
    dots = 255.0 - pypdfium2.PdfDocument(page.getvalue())[0].render(scale=1).to_numpy()[:, :, :3].mean(axis=2)
    widths = [round(pdfmetrics.stringWidth(letter, "letters", SIZE)) for letter in letters]
    ink = [dots[:, i * CELL + 4 : i * CELL + 4 + wide] for i, wide in enumerate(widths)]
    shades = np.round(np.concatenate(ink, axis=1) * SHADES / 255.0).astype(np.uint8)
    target = DRAFTING / "worn" / "data" / "letters.npz"
    np.savez_compressed(target, ink=shades, widths=np.array(widths, dtype=np.uint8))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
