"""The printed page in every PDF engine of this machine: pdfium always, poppler, mupdf and ghostscript where they are.

Each is a program of its own; where one isn't installed, the others are held against one another.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pypdfium2
import pytest
from scipy.ndimage import binary_dilation

from drafting.output import PrintInfo, draw_sheet, pattern_pdf
from drafting.paper import PaperPlan, paper_named, plan_sheet
from drafting.units import Unit
from tests.output.pieces import MARK, sleeve
from tests.output.rendered import labels

DPI = 300
"""A dot is 0.085 mm."""

TILE_DPI = 150

Grey = npt.NDArray[np.uint8]
Ink = npt.NDArray[np.bool_]
Engine = Callable[[Path, int, int, Path], list[str]]

PROGRAMS: Mapping[str, Engine] = {
    "pdftoppm": lambda pdf, page, dpi, out: ["-r", f"{dpi}", "-gray", "-f", f"{page}", "-l", f"{page}", "-singlefile",
                                             f"{pdf}", f"{out.with_suffix('')}"],
    "mutool": lambda pdf, page, dpi, out: ["draw", "-q", "-r", f"{dpi}", "-c", "gray", "-F", "pgm", "-o", f"{out}",
                                           f"{pdf}", f"{page}"],
    "gs": lambda pdf, page, dpi, out: ["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=pgmraw", f"-r{dpi}",
                                       "-dTextAlphaBits=4", "-dGraphicsAlphaBits=4", f"-dFirstPage={page}",
                                       f"-dLastPage={page}", f"-sOutputFile={out}", f"{pdf}"],
}  # fmt: skip
"""What each program is told to draw a page (counted from 1) in grey as a PGM file."""

ENGINES = ("pdfium", *(name for name in PROGRAMS if shutil.which(name)))


def read_pgm(path: Path) -> Grey:
    """A binary PGM picture."""
    read = path.read_bytes()
    head = re.match(rb"P5\s(?:#.*\n)*(\d+) (\d+)\s255\s", read)
    assert head
    return np.frombuffer(read, np.uint8, offset=head.end()).reshape(int(head[2]), int(head[1]))


def picture_of(engine: str, pdf: Path, page: int, dpi: int, folder: Path) -> Grey:
    """A page in grey as that engine draws it; ``page`` counts from 1."""
    if engine == "pdfium":
        document = pypdfium2.PdfDocument(pdf)
        try:
            return np.array(document[page - 1].render(scale=dpi / 72, grayscale=True).to_numpy().squeeze())
        finally:
            document.close()
    out = folder / "page.pgm"
    out.unlink(missing_ok=True)
    subprocess.run([engine, *PROGRAMS[engine](pdf, page, dpi, out)], check=True, capture_output=True)
    return read_pgm(out)


def lines_across(dark: Ink, least: float) -> npt.NDArray[np.float64]:
    """The middles of the lines across a picture that have an unbroken run of at least so many dots."""
    sums = np.cumsum(np.pad(dark, ((0, 0), (1, 0))), axis=1, dtype=np.int32)
    whole = round(least)
    long = ((sums[:, whole:] - sums[:, :-whole]) == whole).any(axis=1).nonzero()[0]
    return np.array([group.mean() for group in np.split(long, (np.diff(long) > 1).nonzero()[0] + 1)])


@pytest.fixture(scope="module", params=[("A4", "cm"), ("US Letter", "in")], ids=["A4", "US Letter"])
def printed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Unit]:
    """A pattern on that paper, in that unit."""
    name, unit = request.param
    plan = plan_sheet((sleeve(),), PaperPlan(paper_named(name)))
    info = PrintInfo("Concert top", "Alto", MARK, unit=unit)
    path = tmp_path_factory.mktemp("printed") / "pattern.pdf"
    path.write_bytes(pattern_pdf(plan, info, draw_sheet(plan, info)))
    return path, unit


@pytest.mark.parametrize("engine", ENGINES)
def test_the_square_is_true(engine: str, printed: tuple[Path, Unit], tmp_path: Path) -> None:
    """10 cm, or 4 in, each way, to 0.1 mm."""
    pdf, unit = printed
    side = 101.6 if unit == "in" else 100.0
    page = picture_of(engine, pdf, 1, DPI, tmp_path) < 128
    for way in (page, page.T):
        middles = lines_across(way, 0.97 * side / 25.4 * DPI)
        assert np.abs(np.abs(middles[:, None] - middles[None]) / DPI * 25.4 - side).min() <= 0.1


def test_every_engine_prints_the_same_ink(printed: tuple[Path, Unit], tmp_path: Path) -> None:
    """What one engine prints dark, each of the others prints dark within a dot or two, on the first page of pattern."""
    pdf, _ = printed
    page = 1 + next(i for i, label in enumerate(labels(pdf.read_bytes())) if not label.startswith("Start"))
    drawn = [picture_of(engine, pdf, page, TILE_DPI, tmp_path) for engine in ENGINES]
    high, wide = (min(one.shape[axis] for one in drawn) for axis in (0, 1))
    darks = [one[:high, :wide] < 100 for one in drawn]
    inked = [binary_dilation(one[:high, :wide] < 235, iterations=2) for one in drawn]
    for dark in darks:
        assert dark.sum() > 1000
        for other in inked:
            assert (dark & ~other).sum() <= 0.002 * dark.sum()
