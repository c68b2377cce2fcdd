"""The booklet as a maker has it: each step with its letters, notches and pictures, on paper and on a screen."""

from __future__ import annotations

import base64
import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pytest

from drafting.cli import main
from drafting.finishing import CutPiece, letters_on_paper
from drafting.finishing.allowance import hem_depths
from drafting.garment import Garment, balance_marks
from drafting.geometry import are_inside
from drafting.job import draft_job, finish_job
from drafting.output import PrintInfo
from drafting.output.booklet import Booklet, booklet_html, booklet_pdf, set_pictures, tell_measures, write_booklet
from drafting.output.booklet.content import LEGEND
from drafting.output.booklet.page import ON_SCREEN, TOUCHED
from drafting.output.booklet.paper import plan_booklet
from drafting.output.layers import StepView, list_done, picture_step
from drafting.output.painted import read_painted
from drafting.output.pictures.shapes import Course
from drafting.proof import prove
from drafting.text import KEPT
from drafting.ticket import Job
from drafting.work import make_up
from drafting.work.sewing import WorkStep, steps_of_work
from drafting.worn.picture import write_png
from tests.laws.jobs import WEARER, job_from

WOVENS = ("fitted-bodice", "princess-top", "sheath-dress", "waist-seam-dress")
DESIGNS = (*WOVENS, "knit-top", "tank-top", "diagonal-overlay-top", "diagonal-overlay-tank", "half-circle-dress")
A4, LETTER = (210.0, 297.0), (215.9, 279.4)


@cache
def made(design: str, more: str = "") -> tuple[Job, Garment, tuple[CutPiece, ...]]:
    """A design for an invented soprano, drafted and cut."""
    worn = WEARER.split("[cloth]")[0] if design in WOVENS else WEARER
    job = job_from(f'builds_on = "{design}"\nunit = "cm"\n{more}{worn}')
    garment = draft_job(job)
    return job, garment, finish_job(job, garment)[0]


@cache
def steps_with_views(design: str, more: str = "") -> list[tuple[WorkStep, tuple[StepView, ...]]]:
    """Each step of a design's work, with its pictures."""
    job, garment, cut = made(design, more)
    letters, depths = letters_on_paper(cut), hem_depths(garment, job.finish)
    steps = steps_of_work(make_up(garment), garment, "cm", letters, depths)
    done = list_done(steps)
    return [(step, picture_step(garment, step, letters, depths, done[step.number])) for step in steps]


@cache
def booklet_of(design: str, title: str = "Concert top") -> Booklet:
    """The booklet of a design."""
    job, garment, cut = made(design)
    info = PrintInfo(title, "Soprano", "ABC234", ("Fit: close.",), (("Proof", ("All is well.",)),), "cm", "")
    measured = tell_measures(prove(garment, job.brief), "cm")
    depths = hem_depths(garment, job.finish)
    warned = (("Before you cut", ("Warning: the neck is tight.",)),)
    return set_pictures(write_booklet(info, garment, make_up(garment), cut, depths, job.brief, measured, warned), A4)


def test_what_is_warned_of_stands_first() -> None:
    """Before the cloth is bought and cut, not after its hem is sewn."""
    assert booklet_of(DESIGNS[0]).before[0].words == ("Warning: the neck is tight.",)


@pytest.mark.parametrize("design", DESIGNS)
def test_every_notch_that_a_step_names_is_on_the_paper(design: str) -> None:
    """By its number, on each of the pieces that the step names, also where one print serves two of them."""
    _, garment, cut = made(design)
    printed = {name: {notch.number for notch in piece.notches} for piece in cut for name in piece.stands_for}
    for mark in balance_marks(garment):
        assert mark.number > 0
        for use, _ in mark.at:
            assert mark.number in printed[use.piece], (mark.seam, use)


@pytest.mark.parametrize("design", DESIGNS)
def test_every_step_that_sews_says_what_meets(design: str) -> None:
    """By letters that the pieces have."""
    _, _, cut = made(design)
    letters = {piece.code for piece in cut}
    for step, _ in steps_with_views(design):
        if step.seams or step.edges:
            assert step.meets
            assert set(re.findall(r"\b[A-Z]\b", " ".join(step.meets).replace("V point", ""))) <= letters


@pytest.mark.parametrize("design", DESIGNS)
def test_every_seam_is_drawn_with_its_layers(design: str) -> None:
    """A picture for every step, its letters those that the step names, its lines within reach."""
    named: set[str] = set()
    for step, views in steps_with_views(design):
        meets = set(re.findall(r"\b[A-Z]\b", " ".join(step.meets)))
        named |= meets
        assert views, step.said.title
        for view in views:
            assert all(np.isfinite(layer.points).all() for layer in view.layers)
            drawn = {layer.letter for layer in view.layers if layer.letter}
            bound = {layer.letter for layer in view.layers if layer.strip} & named  # sewn on before, and seen
            # What is turned in is turned into what it was sewn to before.
            assert drawn - bound <= (named if step.turned else meets) or not step.meets


def test_a_plain_seam_lies_right_sides_together_and_is_pressed() -> None:
    """The lower layer right side up and the upper one wrong side up; sewn, both edges lie on the back, seen inside."""
    steps = steps_with_views("knit-top")
    (before, after) = next(views for step, views in steps if step.said.title.startswith("Shoulder"))
    assert [layer.wrong for layer in before.layers] == [False, True]
    assert [layer.shift for layer in before.layers] == [0, 1]
    assert [layer.wrong for layer in after.layers if not layer.strip] == [True, True]
    below, above, stay = (layer for layer in after.layers if layer.strip)
    assert stay.hatched  # the seam is sewn through it
    back = next(layer.points for layer in after.layers if layer.letter == "B")
    assert [below.wrong, above.wrong] == [False, True]
    assert are_inside(np.stack([below.points.mean(axis=0), above.points.mean(axis=0)]), back).all()


def test_an_overlay_is_caught_between_the_layers_of_a_side_seam() -> None:
    """Four layers: each overlay on its own main piece, right side to right side with that."""
    steps = steps_with_views("diagonal-overlay-top")
    views = next(views for step, views in steps if "overlay caught" in step.said.title)
    assert [layer.wrong for layer in views[0].layers] == [False, False, True, True]
    assert [layer.shift for layer in views[0].layers] == [0, 1, 2, 3]


def test_a_facing_is_seen_inside_once_it_is_turned() -> None:
    """The garment wrong side up, the facing right side up on it."""
    for design, title in (("fitted-bodice", "Neck facing, sewn on"), ("sheath-dress", "Facing turned in")):
        views = next(views for step, views in steps_with_views(design) if step.said.title == title)
        assert {layer.wrong for layer in views[-1].layers} == {True, False}
        assert not views[-1].layers[-1].wrong


class _Reader(HTMLParser):
    """What stands in a page: its tags, their attributes, and whether all of them are closed."""

    VOID = ("meta", "input", "br", "rect", "path", "text")

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "input", "br"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def read_page(text: str) -> _Reader:
    """A page, read to its end."""
    reader = _Reader()
    reader.feed(text)
    assert not reader.open
    return reader


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "sheath-dress"])
def test_the_page_stands_alone_and_can_be_ticked_off(design: str) -> None:
    """Nothing is fetched or run but for the ticks; words for every picture, headings in their order, none cut short."""
    page = booklet_html(booklet_of(design)).decode()
    reader = read_page(page)
    names = [tag for tag, _ in reader.tags]
    assert names.count("script") == 1
    assert names.index("script") > max(i for i, name in enumerate(names) if name == "svg")
    assert not any({"src", "srcset", "onclick"} & attrs.keys() for _, attrs in reader.tags)
    within = {f"#{attrs['id']}" for _, attrs in reader.tags if "id" in attrs}
    assert {attrs["href"] for _, attrs in reader.tags if "href" in attrs} <= within
    ids = [attrs["id"] for _, attrs in reader.tags if "id" in attrs]
    assert len(set(ids)) == len(ids)
    boxes = [attrs for tag, attrs in reader.tags if tag == "input"]
    assert [attrs["id"] for attrs in boxes] == [f"done-{step.number}" for step in booklet_of(design).steps]
    assert next(attrs for tag, attrs in reader.tags if tag == "html")["lang"] == "en"
    assert any(attrs.get("name") == "viewport" for _, attrs in reader.tags)
    targets = {attrs["href"] for _, attrs in reader.tags if "href" in attrs}
    assert {f"#step-{step.number}" for step in booklet_of(design).steps} <= targets
    assert page.count('<div class="table">') == names.count("table") > 0  # wider than the screen, it scrolls by itself
    assert ".table{overflow-x:auto" in page
    assert page.count(f"min-height:{TOUCHED}px") == 2  # links, and the rows to tick off
    assert f"<p>{LEGEND} {ON_SCREEN}</p>" in page
    pictures = [attrs for tag, attrs in reader.tags if tag == "svg"]
    assert len(pictures) > len(booklet_of(design).steps)
    assert all(attrs.get("role") == "img" for attrs in pictures)
    said = [attrs.get("aria-label") or "" for attrs in pictures]
    assert any("From below up: " in each and "wrong side up. Notch" in each for each in said)
    assert any(each.startswith("Cloth to buy: ") for each in said)
    assert re.search(r"<figcaption>[^<]*: \w on \w, right sides together; [^<]*seam[^<]*</figcaption>", page)
    shapes = [attrs["style"] for attrs in pictures if "style" in attrs]  # by which a narrow window limits their height
    assert len(shapes) == sum(len(step.pictures) for step in booklet_of(design).steps)
    assert re.search(r"vh\*var\(--shape\)", page)
    for step in booklet_of(design).steps:  # each says which of how many it is: a telephone shows one at a time
        count = len(step.pictures)
        assert page.count(f"<figcaption>{count} of {count}: ") >= (count > 1)
    rows = page.split('<div class="pictures"')[1:]
    assert all('class="where"' not in row or row.index("<figure") == row.index('<figure class="where"') for row in rows)
    headings = [int(name[1]) for name in names if name in ("h1", "h2", "h3")]
    assert headings.count(1) == 1
    assert headings[0] == 1
    assert all(below <= above + 1 for above, below in pairwise(headings))
    assert {attrs.get("scope") for tag, attrs in reader.tags if tag == "th"} == {"col", "row", "rowgroup"}


def test_a_telephone_keeps_pictures_in_sight_above_the_words_and_over_none() -> None:
    """On a narrow page the row sticks to the window's top, opaque, before the words; captions are no wider than it."""
    page = booklet_html(booklet_of("tank-top")).decode()
    narrow = page[page.index("@media(max-width") : page.index("@media(min-width")]
    rules = dict(re.findall(r"([.\w> :-]+)\{([^{}]*)\}", narrow.partition("{")[2]))
    row = rules[".pictures"].replace("\n", "").split(";")
    assert {"position:sticky", "top:0", "background:var(--page)", "overflow-x:auto"} <= {*row}
    assert not any(each.startswith(("bottom", "pointer-events")) for each in row)
    assert rules[".step>div:first-child"] == "display:contents"  # so that the row, of order 0, comes before the words
    assert rules[".step ul"] == "order:1"
    assert ".pictures figcaption{width:0;min-width:100%}" in page


def test_what_a_user_writes_is_escaped_on_the_page() -> None:
    """A title with signs of HTML in it stands there as it was written."""
    page = booklet_html(booklet_of("tank-top", '<b>Top</b> & "co"')).decode()
    assert "&lt;b&gt;Top&lt;/b&gt; &amp;" in page
    read_page(page)


def test_captions_say_what_lies_on_what() -> None:
    """Of plies that lie as they are sewn from below up, which side of each is up; of others what lies over what."""
    captions = re.findall(r"<figcaption>(.*?)</figcaption>", booklet_html(booklet_of("diagonal-overlay-top")).decode())
    for words in (
        r"As it is laid: (\w and )+\w on (\w and )+\w, both wrong side up; neck under the overlay",
        r"As it is laid: from below up \w, then \w, right side up; \w, then \w, wrong side up; left side seam below",
        r"As it is laid, front: from below up \w, then \w, right side up; \w, bound by \w, wrong side up; diagonal",
        r"Turned over the edge, right sides up: \w over \w, \w over \w$",
        r"When it is sewn: \w over \w, \w over \w$",
    ):
        assert any(re.search(words, each) for each in captions), (words, captions)
    one_on_one = re.compile(r"As it is laid[^:]*: \w on \w, right sides together; ")
    assert any(one_on_one.search(each) for each in captions)


@pytest.mark.parametrize(("design", "size"), [("diagonal-overlay-top", A4), ("sheath-dress", LETTER)])
def test_the_paper_booklet_holds_every_sentence_inside_its_pages(design: str, size: tuple[float, float]) -> None:
    """All words are there, none beyond the margins, and the same booklet has the same bytes."""
    booklet = booklet_of(design)
    data = booklet_pdf(booklet, size)
    assert data == booklet_pdf(booklet, size)
    document = pdfium.PdfDocument(data)
    said = " ".join(" ".join(page.get_textpage().get_text_range() for page in document).split())
    for step in booklet.steps:
        for sentence in step.sentences:
            assert sentence in said, sentence
    for page in document:
        wide, high = page.get_size()
        text = page.get_textpage()
        for i in range(text.count_rects()):
            left, low, right, top = text.get_rect(i)
            assert 28.0 < left < right < wide - 28.0
            assert 28.0 < low < top < high - 28.0


def test_the_garment_worn_is_shown_where_it_was_draped() -> None:
    """Dot for dot below the flat, on paper and on a screen; a file that is damaged is no picture."""
    dots = np.full((50, 200, 3), 255, dtype=np.uint8)
    dots[10:40, 20:60] = (200, 30, 30)
    worn = read_painted(write_png(dots))
    assert worn is not None
    assert read_painted(worn.file[:-40]) is None
    booklet = replace(booklet_of("tank-top"), worn=worn)
    page = pdfium.PdfDocument(booklet_pdf(booklet, A4))[0]
    seen = page.render(scale=1.0).to_numpy()[:, :, :3].astype(int)
    red = (np.ptp(seen, axis=2) > 100).nonzero()
    assert np.ptp(red[1]) == pytest.approx(180.0 / 25.4 * 72.0 * 40 / 200, abs=2.0)
    assert np.ptp(red[0]) == pytest.approx(180.0 / 25.4 * 72.0 * 30 / 200, abs=2.0)
    assert base64.b64encode(worn.file).decode() in booklet_html(booklet).decode()
    assert "base64" not in booklet_html(booklet_of("tank-top")).decode()


def test_pictures_fill_their_page_and_cost_none() -> None:
    """Each is as large as its least room lets it be or larger, beside as many pages as with the least."""
    booklet = booklet_of("diagonal-overlay-top")
    for step in booklet.steps:
        for picture, view in zip(step.pictures, step.views, strict=True):
            least = view.framed.leave_blank(*view.least)
            assert picture.height >= least.height - 0.01
    small = [tuple(view.framed.leave_blank(*view.least) for view in step.views) for step in booklet.steps]
    steps = tuple(replace(step, pictures=pictures) for step, pictures in zip(booklet.steps, small, strict=True))
    assert len(plan_booklet(booklet, A4)) == len(plan_booklet(replace(booklet, steps=steps), A4))
    areas = [sum(p.width * p.height for p in pictures) for pictures in (small[4], booklet.steps[4].pictures)]
    assert booklet.steps[4].title.startswith("Neck under")
    assert areas[1] > 1.2 * areas[0], "the overlay's neck has many words, beside which its pictures grow"


def test_it_says_what_to_buy_and_how_to_test_it() -> None:
    """Cloth by width, notions, stays by edge, and a bar as long as the fold must become: a third of 10 cm more."""
    booklet = booklet_of("diagonal-overlay-top")
    told = {section.heading: section for section in (*booklet.before, *booklet.after)}
    cloth, stays, test = (told[name] for name in ("Cloth to buy", "Stay tape", "Test the stretch before you cut"))
    assert cloth.table is not None
    assert {row[-1] for row in cloth.table.rows if len(row) == 1} == {"Main cloth", "Rib cloth"}
    assert any(re.fullmatch(r"\d\.\d m", row[-1]) for row in cloth.table.rows)
    assert stays.table is not None
    assert all(float(length.removesuffix(" cm")) > 5.0 for _, length in stays.table.rows)
    assert test.true_size is not None
    ticks = [each.points[0, 0] for each in test.true_size.drawn if isinstance(each, Course) and each.width > 0.3]
    job = made("diagonal-overlay-top")[0]
    assert ticks[1] - ticks[0] == pytest.approx(100.0)
    assert ticks[2] - ticks[0] == pytest.approx(100.0 * (1.0 + job.brief.cloth.stretch_across))
    assert {"Finished measures", "Against the body", "Cautions"} <= told.keys()
    held = told["Against the body"]
    assert "within the usual limits" in " ".join(held.words)
    assert held.wide, "four columns of a table break in half a page"


def test_make_writes_both(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The pattern itself keeps its start page, without the order of work; the cutting plan buys as the booklet does."""
    folder = tmp_path / "demo"
    assert main(["make", "--demo", "--out", str(folder)]) == 0
    assert {"booklet.pdf", "booklet.html"} <= {path.name for path in folder.iterdir()}
    assert main(["lay", "--demo", "--out", str(tmp_path / "plan.pdf")]) == 0
    planned = re.findall(r"  Buy (.*)\.\n", capsys.readouterr().out)
    page = re.sub(r"<[^>]+>", "\n", (folder / "booklet.html").read_text(encoding="utf-8")).replace(KEPT, " ")
    told = page.rpartition("These lengths include squaring")[2].partition("Thread, needle")[0].split("\n")
    assert planned == [told[i + 2] for i, words in enumerate(told) if re.fullmatch(r"1[05]0 cm", words)]
    assert "wash and dry the cloth" in page
    start = pdfium.PdfDocument(folder / "pattern.pdf")[0].get_textpage().get_text_range()
    assert "Order of work" not in start
    pages = [each.get_textpage().get_text_range() for each in pdfium.PdfDocument(folder / "booklet.pdf")]
    assert "arrows point to the tops" in pages[0] + pages[1], "how it lies on the cloth, where that costs no page"
    (measures,) = (words for words in pages if "Finished measures" in words)
    assert "side seam, underarm to hem" in measures, "a table stands whole on a page"


def test_the_booklet_says_how_far_from_the_edge_each_step_sews() -> None:
    """Once for all where all are alike; else the step says it, as at a facing, a zip and a binding."""
    for design, usual in (
        ("knit-top", "Sew every seam 1.0 cm from its cut edge."),
        ("sheath-dress", "Sew each seam 1.5 cm from its cut edge, unless its step says another width."),
    ):
        assert usual in next(each.words for each in booklet_of(design).before if each.heading == "Before you sew")
    for design, title, width in (
        ("sheath-dress", "Neck facing", "Seam allowance: 1.0 cm."),
        ("sheath-dress", "Zip at", "Fold: 2.0 cm from the edge."),
        ("diagonal-overlay-top", "Neck binding", "Seam allowance: 0.8 cm."),
    ):
        step = next(step for step in booklet_of(design).steps if step.title.startswith(title))
        assert step.meets[-1].startswith(width)
    plain = next(step for step in booklet_of("sheath-dress").steps if step.title.startswith("Shoulder"))
    assert not any("Stitching line" in words for words in plain.meets)


def test_edges_that_are_not_level_are_said_to_be_cut_so() -> None:
    """Beside a zip: a facing's end is narrower than the back's, and the edge steps out above the centre seam."""
    steps = booklet_of("sheath-dress").steps
    said = {step.title: " ".join((*step.meets, *step.sentences)) for step in steps}
    assert [title for title, words in said.items() if "short of the raw edge" in words] == ["Neck facing"]
    assert "The end of D lies 0.5 cm short of the raw edge of B: it is cut so." in said["Neck facing"]
    (number,) = re.findall(r"Beyond notch (\d+) the edge of B stands 0.5 cm farther out", " ".join(said.values()))
    assert f"{number} (zip end)" in said["Centre back, below the zip"]
    (zipped,) = (words for title, words in said.items() if title.startswith("Zip at"))
    assert re.search(r"B back, notch (\d+) .*notch \1 level with notch \1\.", zipped)


def test_a_notch_that_meets_a_dart_says_which() -> None:
    """A bodice has several, a sleeve one at its elbow."""
    said = " ".join(line for step in booklet_of("waist-seam-dress").steps for line in step.meets)
    met = set(re.findall(r"to the ([a-z\d ]*dart)", said))
    assert met == {"shoulder dart", "bust dart", "elbow dart"}
