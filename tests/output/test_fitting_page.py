"""The fitting sheet as pages: all of it is there, on the job's paper, with boxes to tick and room for a pen."""

from __future__ import annotations

import functools
from pathlib import Path

import pypdfium2
import pytest

from drafting.cli import main
from drafting.job import draft_job
from drafting.output import PrintInfo
from drafting.output.pages.fitting_page import fitting_pdf
from drafting.paper import PaperPlan, paper_named
from drafting.proof.words.fitting import FittingSheet, amounts, fitting_sheet
from drafting.units import Unit, show_length
from tests.laws.jobs import WEARER, job_of

PAPERS = {"A4": "A4", "US Letter": "US Letter", "US Legal": "US Legal", "A3": "A4", "60 x 90 cm": "A4"}
"""What is asked for, and what the sheet is then printed on."""


@functools.cache
def sheet() -> FittingSheet:
    """The sheet of a darted dress with a skirt."""
    job = job_of("waist-seam-dress")
    return fitting_sheet(draft_job(job), job.brief, job.advisor)


def printed(paper: str = "A4", unit: Unit = "cm") -> pypdfium2.PdfDocument:
    """Its pages."""
    info = PrintInfo("Fitted dress", "Soprano", "ABCD", unit=unit)
    return pypdfium2.PdfDocument(fitting_pdf(sheet(), info, PaperPlan(paper=paper_named(paper))))


def words(document: pypdfium2.PdfDocument) -> str:
    """All words, each space one."""
    return " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in document)


def told(text: str) -> str:
    """A text without spaces, as wrapping may put a new line at any."""
    return "".join(text.split())


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_every_measure_and_every_fold_is_on_it(unit: Unit) -> None:
    """With body, block and ease in the ticket's unit; each fold with its meaning, its change's key and how much."""
    text = words(printed(unit=unit))
    for measure in sheet().measures:
        assert measure.title[1:] in text
        assert show_length(measure.garment, unit) in text
    bare = told(text)
    for fold in sheet().folds:
        seen = set(fold.seen.replace(",", " ").split())
        assert seen <= set(text.replace(",", " ").split())
        if fold.changes:
            assert told(fold.written) in bare
    assert all(told(each)[:40] in bare for each in amounts(unit, sheet().example))


def test_it_carries_the_drafts_mark_and_no_date() -> None:
    """On each page: title, wearer, mark, and which page of how many; and the same bytes each time."""
    document = printed()
    for number, page in enumerate(document, start=1):
        text = page.get_textpage().get_text_bounded()
        place = f"page {number} of {len(document)}"
        assert all(part in text for part in ("Fitted dress", "Soprano", "draft mark ABCD", place))
    info = PrintInfo("Fitted dress", "Soprano", "ABCD")
    assert fitting_pdf(sheet(), info, PaperPlan()) == fitting_pdf(sheet(), info, PaperPlan())


@pytest.mark.parametrize("paper", PAPERS)
def test_its_pages_are_the_jobs_paper_or_a4(paper: str) -> None:
    """All words within the margins; what is too large to hold in the hand isn't written on, so that one is A4."""
    document = printed(paper)
    wanted = paper_named(PAPERS[paper])
    for page in document:
        wide, high = page.get_size()
        assert (wide, high) == pytest.approx((wanted.width * 72 / 25.4, wanted.height * 72 / 25.4), abs=0.5)
        texts = page.get_textpage()
        boxes = [texts.get_charbox(i) for i in range(texts.count_chars()) if texts.get_text_range(i, 1).strip()]
        assert min(box[0] for box in boxes) > 28.0
        assert max(box[2] for box in boxes) < wide - 28.0
        assert min(box[1] for box in boxes) > 28.0


def test_no_words_lie_on_others() -> None:
    """Letters of two columns or rows never meet, so that every cell keeps to its own."""
    for page in printed():
        texts = page.get_textpage()
        boxes = [texts.get_charbox(i) for i in range(texts.count_chars()) if texts.get_text_range(i, 1).strip()]
        boxes.sort()
        for i, (_, b0, a1, b1) in enumerate(boxes):
            for c0, d0, c1, d1 in boxes[i + 1 : i + 200]:
                if c0 > a1:
                    break
                assert min(a1, c1) - c0 < 1.0 or min(b1, d1) - max(b0, d0) < 1.0


def test_make_writes_it_for_what_is_tried_on_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A woven or darted garment; not a knit top, for which prove can be asked."""
    monkeypatch.chdir(tmp_path)
    woven = WEARER[: WEARER.index("[cloth]")]
    (tmp_path / "woven.toml").write_text(f'builds_on = "fitted-bodice"\nunit = "cm"\n{woven}', encoding="utf-8")
    (tmp_path / "knit.toml").write_text(f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}', encoding="utf-8")
    assert main(["make", "woven.toml"]) == 0
    assert (tmp_path / "woven-pattern" / "fitting.pdf").read_bytes().startswith(b"%PDF")
    assert main(["make", "knit.toml"]) == 0
    assert not (tmp_path / "knit-pattern" / "fitting.pdf").exists()
    assert main(["prove", "knit.toml", "--fitting", "--out", "knit-fitting.pdf"]) == 0
    assert (tmp_path / "knit-fitting.pdf").read_bytes().startswith(b"%PDF")
    assert main(["prove", "knit.toml", "--out", "knit-fitting.pdf"]) == 2
