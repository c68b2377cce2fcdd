"""What a reader shows beside the pages of a PDF: their labels, and headings that lead to them and to places on them."""

from __future__ import annotations

from drafting.output.pdf.packing import PdfFile, write_text
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class PageHeading:
    """A page's number as an object, its heading, and the places on it (their headings, with the view of each)."""

    page: int
    words: str
    places: list[tuple[str, str]]


class Contents:
    """The pages of a document as they come."""

    def __init__(self) -> None:
        self._headings: list[PageHeading] = []
        self._labels: list[str] = []
        self._next_label = ("", 0)

    @property
    def pages(self) -> list[int]:
        """The numbers of the pages as objects."""
        return [heading.page for heading in self._headings]

    @property
    def page(self) -> int:
        """The number of the page being written."""
        return self._headings[-1].page

    def add_page(self, page: int, label: str, heading: str) -> None:
        """Begin a page; labels that count on from the last page's (B2, B3) are told by the first of them."""
        stem = label.rstrip("0123456789")
        number = int(label[len(stem) :] or 0)
        if not number or (stem, number) != self._next_label:
            counted = f"/S/D/St {number}" if number else ""
            self._labels.append(f"{len(self._headings)}<</P{write_text(stem)}{counted}>>")
        self._next_label = (stem, number + 1)
        self._headings.append(PageHeading(page, heading, []))

    def add_place(self, heading: str, left: int, top: int) -> None:
        """Add a place on the page being written (points)."""
        self._headings[-1].places.append((heading, f"/XYZ {left} {top} 0"))

    def write(self, file: PdfFile) -> str:
        """Write labels and headings, and return their entries of the catalogue (ISO 32000-1, 12.3.3 and 12.4.2)."""
        root, numbers = file.reserve(), [file.reserve() for _ in self._headings]
        whole = 0
        for i, heading in enumerate(self._headings):
            inner = [file.reserve() for _ in heading.places]
            for j, (words, view) in enumerate(heading.places):
                file.fill(inner[j], _write_item(words, heading.page, view, numbers[i], inner, j))
            held = f"/First {inner[0]} 0 R/Last {inner[-1]} 0 R/Count {len(inner)}" if inner else ""
            file.fill(numbers[i], _write_item(heading.words, heading.page, "/Fit", root, numbers, i, held))
            whole += 1 + len(inner)
        file.fill(root, f"<</Type/Outlines/First {numbers[0]} 0 R/Last {numbers[-1]} 0 R/Count {whole}>>")
        return f"/Outlines {root} 0 R/PageLabels<</Nums[{''.join(self._labels)}]>>"


def _write_item(words: str, page: int, view: str, parent: int, row: list[int], at: int, held: str = "") -> str:
    before = f"/Prev {row[at - 1]} 0 R" if at else ""
    after = f"/Next {row[at + 1]} 0 R" if at + 1 < len(row) else ""
    return f"<</Title{write_text(words)}/Parent {parent} 0 R{before}{after}/Dest[{page} 0 R{view}]{held}>>"
