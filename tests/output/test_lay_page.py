"""The cutting plan as it is printed: to scale, nothing clipped, any name in any script."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
import shapely

from drafting.cloth import Stripe
from drafting.geometry import signed_area
from drafting.lay.places import find_places
from drafting.lay.words import show_place
from drafting.output import PrintInfo
from drafting.output.lay_drawing import SMALLEST, TRUE_HEAD, LabelScale, clip_stretch, write_label
from drafting.output.lay_json import lay_json
from drafting.output.lay_svg import lay_svg
from drafting.output.pages.lay_page import lay_pdf, true_size_pdf
from drafting.paper import PaperPlan, paper_named
from tests.lay.laying import chevrons, lays, made

INFO = PrintInfo("Concert top", "Soprano", "ABC123")


def _pictures(pdf: bytes, scale: float = 2.0) -> list[np.ndarray]:
    return [np.asarray(page.render(scale=scale).to_pil().convert("L")) for page in pypdfium2.PdfDocument(pdf)]


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "half-circle-dress", "waist-seam-dress", "tank-top"])
@pytest.mark.parametrize("paper", ["A4", "US Letter", "60 x 90 cm"])
def test_the_plan_stays_inside_its_page(design: str, paper: str) -> None:
    """No ink within 5 mm of a page's edge: every home printer reaches what is drawn."""
    pages = _pictures(lay_pdf(lays(made(design)), INFO, PaperPlan(paper_named(paper))))
    assert len(pages) >= 1
    for page in pages:
        rim = round(5.0 / 25.4 * 72.0 * 2.0)
        inner = page[rim:-rim, rim:-rim]
        assert (page < 250).sum() == (inner < 250).sum()
        assert (inner < 100).sum() > 500


def test_the_drawing_is_to_scale() -> None:
    """The white of the parts among the grey of the cloth: the share that the lay says it covers, to 3 hundredths."""
    what = made("diagonal-overlay-top")
    (main, _) = lays(what)
    page = _pictures(lay_pdf((main,), INFO, PaperPlan()), 4.0)[0]
    grey = page == round(0.93 * 255)
    rows, columns = (np.flatnonzero(grey.sum(axis=axis) > 40) for axis in (1, 0))
    cloth = page[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    assert ((cloth > 250) | (cloth == round(0.82 * 255))).mean() == pytest.approx(main.spreads[0].used, abs=0.03)
    assert cloth.shape[0] / cloth.shape[1] == pytest.approx(main.length / main.width, abs=0.02)


def test_no_stripe_strikes_a_word_through() -> None:
    """Words are printed after the stripes' lines, each line of them on white of its own."""
    (main, _) = lays(made("basic-tee"), Stripe(10.0))
    struck = pypdfium2.PdfDocument(lay_pdf((main,), INFO, PaperPlan()))[0]
    words = struck.get_textpage()
    at = words.get_text_bounded().index("Front")
    left, low, right, high = (
        round(side * 4) for side in words.get_charbox(at, loose=True)[:2] + words.get_charbox(at + 4, loose=True)[2:]
    )
    page = np.asarray(struck.render(scale=4.0).to_pil().convert("L"))
    printed = page[page.shape[0] - high + 4 : page.shape[0] - low - 4, left:right]
    assert not (printed < 250).all(axis=1).any()
    assert (printed > 250).mean() > 0.4


def test_a_whole_repeat_above_is_on_a_line() -> None:
    """What rounds to the repeat is told as 0, for another line runs there."""
    (main, _) = lays(made("basic-tee"), Stripe(25.4))
    place = replace(find_places(main.spreads[0], main.across)[0], stripe=25.2)
    assert show_place(place, "in")[2] == "stripe 0 in"
    assert show_place(replace(place, stripe=12.7), "in")[2] == "stripe 1/2 in"


def test_stripes_are_drawn_at_every_repeat() -> None:
    """Counted down a column of dots at the left selvedge, where no part lies."""
    lay = lays(made("basic-tee"), Stripe(100.0))[0]
    page = _pictures(lay_pdf((lay,), INFO, PaperPlan()), 6.0)[0]
    grey = page == round(0.75 * 255)
    columns = np.flatnonzero(grey.sum(axis=0) > 400)[1:4]
    rows = np.flatnonzero(grey[:, columns].all(axis=1))
    inside = max(np.split(rows, np.flatnonzero(np.diff(rows) > 12) + 1), key=len)  # words stand below the cloth
    column = page[inside[0] : inside[-1], columns[1]]
    lines = np.flatnonzero(np.diff((column < 180).astype(int)) == 1)
    assert len(lines) in (int(lay.length // 100.0), int(lay.length // 100.0) + 1)


FIGURES = re.compile(r"left ([\d.]+) cm,? ?end ([\d.]+) cm(?:,? stripe ([\d.]+) cm)?")
FIRST = re.compile(r"Stripes across, every ([\d.]+) cm: .* the first lies ([\d.]+) cm from the cut end")


@pytest.mark.parametrize("design", ["basic-tee", "diagonal-overlay-top", "sheath-dress", "chevrons"])
def test_every_part_can_be_put_there_from_the_printed_figures_alone(design: str) -> None:
    """Read from the PDF's text: each part's place is told once, in it or beside the drawing; so put, none overlap.

    In stripes, on the bias too, that of each part and the first are told: so put, each part's are the cloth's.
    """
    lay = chevrons()[-1] if design == "chevrons" else lays(made(design))[0]
    words = " ".join(
        page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(lay_pdf((lay,), INFO, PaperPlan()))
    )
    words = " ".join(words.split())
    found = FIGURES.findall(words)
    told = sorted((float(selvedge), float(end), stripe) for selvedge, end, stripe in found)
    assert len(told) == len(lay.laid)
    for repeat, first in (map(float, each) for each in FIRST.findall(words)):
        misses = [(float(end) + float(stripe) - first) % repeat for _, end, stripe in found]
        assert all(min(miss, repeat - miss) < 0.16 for miss in misses)  # three figures, each to half a millimetre
    waiting, put = list(lay.laid), []
    for selvedge, end, stripe in told:
        corner = (selvedge * 10.0 - lay.spreads[0].edge, end * 10.0)
        near = min(waiting, key=lambda each: float(np.abs(each.ring.min(axis=0) - corner).sum()))
        waiting.remove(near)
        put.append(near.ring - near.ring.min(axis=0) + corner)
        for tied in lay.stripes if stripe else ():
            at = float(stripe) * 10.0 + float(near.part.ring[:, 1].min()) + tied.shifts[near.part.key]
            assert abs((at + 5.0) % tied.stripe.repeat - 5.0) < 0.6
    shapes = [shapely.Polygon(ring) for ring in put]
    assert all(one.distance(two) > 1.5 for i, one in enumerate(shapes) for two in shapes[:i])
    assert max(shape.bounds[2] for shape in shapes) < lay.width + 1.0


def test_the_plan_in_true_size_is_as_large_as_the_cloth() -> None:
    """A page for each cloth, as wide as it and as long as what is laid, which its drawing covers by that share."""
    what = lays(made("diagonal-overlay-top"))
    document = pypdfium2.PdfDocument(true_size_pdf(what, INFO))
    assert len(document) == len(what)
    for page, lay in zip(document, what, strict=True):
        wide, high = (side / 72.0 * 25.4 for side in page.get_size())
        assert (wide, high) == pytest.approx((lay.width + 2 * lay.spreads[0].edge, lay.length + TRUE_HEAD), abs=0.1)
        assert "This bar is 20.0 cm long" in " ".join(page.get_textpage().get_text_bounded().split())


def test_the_plan_as_data_holds_every_part_as_it_is_laid() -> None:
    """Outlines lie where they are said to, as often as the plan has them."""
    (lay, *_) = what = lays(made("basic-tee"), Stripe(40.0))
    (cloth, *_) = json.loads(lay_json(what, INFO))["cloths"]
    (spread,) = cloth["spreads"]
    assert len(spread["pieces"]) == len(lay.laid)
    for piece, laid in zip(spread["pieces"], lay.laid, strict=True):
        ring = np.array(piece["outline"])
        assert shapely.Polygon(ring).area == pytest.approx(shapely.Polygon(laid.ring).area, rel=1e-4)
        assert ring.min(axis=0) == pytest.approx((piece["from_selvedge"], piece["from_cut_end"]), abs=2e-3)
        rise = (piece["from_cut_end"] + piece["stripe_above_lowest"] - lay.stripes[0].first) % 40.0
        assert min(rise, 40.0 - rise) < 0.01


def test_any_name_prints() -> None:
    """Titles and names with markup, in Greek, Hebrew and Arabic."""
    info = replace(INFO, title="<b>Χορωδία</b> & שיר", wearer="سوبرانو")
    assert lay_pdf(lays(made("tank-top")), info, PaperPlan()).startswith(b"%PDF")


def test_the_plan_as_a_drawing_is_in_true_size_too() -> None:
    """Read by an XML parser: every part's polygon has its area, within the cloths' own heights; a millimetre is one."""
    what = lays(made("diagonal-overlay-top"), Stripe(40.0))
    drawn = ElementTree.fromstring(lay_svg(what, replace(INFO, wearer="<Mary & Co>")).encode())
    space = "{http://www.w3.org/2000/svg}"
    wide, high = (float(drawn.attrib[side].removesuffix("mm")) for side in ("width", "height"))
    assert drawn.attrib["viewBox"] == f"0 0 {drawn.attrib['width'][:-2]} {drawn.attrib['height'][:-2]}"
    assert wide == pytest.approx(max(spread.wide for lay in what for spread in lay.spreads), abs=0.01)
    areas = [
        shapely.Polygon([tuple(map(float, at.split(","))) for at in part.attrib["points"].split()])
        for part in drawn.iter(f"{space}polygon")
        if part.attrib["class"] in ("part", "over")
    ]
    laid = [each for lay in what for each in lay.laid]
    assert [part.area for part in areas] == pytest.approx([shapely.Polygon(each.ring).area for each in laid], rel=1e-3)
    assert all(part.bounds[1] >= 0.0 and part.bounds[3] <= high and part.bounds[2] <= wide for part in areas)
    assert sum(each.attrib["class"] == "stripe" for each in drawn.iter(f"{space}polyline")) > 10


@pytest.mark.parametrize("scale", [0.05, 0.1, 0.2, 0.3])
def test_no_label_leaves_out_whose_it_is_or_that_it_lies_printed_side_down(scale: float) -> None:
    """However little room there is: a part that has none for both has its letter alone, and is told of beside."""
    (lay, *_) = lays(made("sheath-dress"))
    places = find_places(lay.spreads[0])
    owned = [replace(at, laid=replace(at.laid, part=replace(at.laid.part, owner="Contralto"))) for at in places]
    assert any(at.laid.part.over for at in owned)
    for at in owned:
        label = write_label(at, 0.0, LabelScale(scale, 1.0, SMALLEST), "cm")
        assert all(text.size >= 7.0 for text in label.texts[1:])  # as the measures beside the cloth
        words = " ".join(text.words for text in label.texts)
        alone = words == at.laid.part.piece.code
        assert alone or ("Contralto" in words and ("printed side down" in words) is at.laid.part.over)
        assert not (alone and label.is_placed)


def test_the_plan_of_a_choir_names_every_wearer_and_draft_mark() -> None:
    """Below the drawing, where the head has no room for them."""
    marks, wearers = ([f"{what}{n:02}" for n in range(16)] for what in ("MARK", "Singer "))
    info = PrintInfo("Tops", ", ".join(wearers), ", ".join(marks))
    pages = pypdfium2.PdfDocument(lay_pdf(lays(made("basic-tee"))[:1], info, PaperPlan()))
    words = " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())
    assert all(each in words for each in (*marks, *wearers))


def test_a_part_that_runs_on_overleaf_is_named_on_both_pages() -> None:
    """Within the stretch that is drawn there: cut at a height, two parts of a piece make up the whole of it."""
    ring = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 300.0), (50.0, 100.0), (0.0, 300.0), (0.0, 0.0)])
    low, high = clip_stretch(ring, 0.0, 200.0), clip_stretch(ring, 200.0, 400.0)
    assert low[:, 1].max() == high[:, 1].min() == 200.0
    assert signed_area(low) + signed_area(high) == pytest.approx(signed_area(ring))
    assert len(clip_stretch(ring, 400.0, 500.0)) == 0
