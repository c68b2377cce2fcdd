"""The order of work as a stranger reads it: each step whole, in plain words, in the unit of the ticket."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from drafting.garment import Group, Telling, balance_marks
from drafting.job import draft_job
from drafting.proof import print_proof, prove
from drafting.units import Unit
from drafting.work import make_up
from drafting.work.hemming import before_words, list_needs
from drafting.work.sewing import steps_of_work
from drafting.work.telling import WORTH_TELLING
from tests.laws.jobs import WEARER, job_from

WORN = WEARER.split("[cloth]")[0]
WOVENS = ("fitted-bodice", "princess-top", "sheath-dress", "waist-seam-dress")
KNITS = ("basic-tee", "knit-top", "tank-top", "diagonal-overlay-top", "diagonal-overlay-dress", "diagonal-overlay-tank")
WOVEN = '[cloth]\nkind = "woven"\nstretch_across = "2 %"\n'


@cache
def told(ticket: str, unit: Unit = "cm") -> dict[str, tuple[str, ...]]:
    """All printed sections of a ticket for an invented soprano, by heading."""
    job = job_from(ticket)
    garment = draft_job(job)
    proof = prove(garment, job.brief)
    sections = {str(heading): lines for heading, lines in print_proof(proof, unit)}
    work = tuple(f"{step.number}. {step}" for step in steps_of_work(proof.order, garment, unit))
    return {
        **sections,
        "Before you sew": (f"{', '.join(list_needs(garment, unit))}.", *before_words(garment, unit)),
        "Order of work": work,
    }


def ticket(design: str, more: str = "") -> str:
    """A ticket that builds on a design; a woven design names its cloth itself."""
    return f'builds_on = "{design}"\nunit = "cm"\n{more}{WORN if design in WOVENS else WEARER}'


def steps(design: str, more: str = "", unit: Unit = "cm") -> list[str]:
    """The steps without their numbers."""
    return [line.split(". ", 1)[1] for line in told(ticket(design, more), unit)["Order of work"]]


def before(design: str, more: str = "") -> str:
    """What stands above the steps."""
    return " ".join(told(ticket(design, more))["Before you sew"])


def place(lines: list[str], start: str) -> int:
    """Where the step is that begins so."""
    return next(i for i, line in enumerate(lines) if line.startswith(start))


@pytest.mark.parametrize("unit", ["cm", "in", "mm"])
@pytest.mark.parametrize("design", [*WOVENS, *KNITS])
def test_every_line_reads_well(design: str, unit: Unit) -> None:
    """No doubled comma, nothing eased in by nothing, no bare number of a stitch, no word of the program's."""
    for heading, lines in told(ticket(design), unit).items():
        for line in lines:
            assert not re.search(r",,|, ,|  |\.\.|;\.|:\.|\(\)", line), line
            assert not re.search(r"(by|easing|gathering) 0(\.0+)? ", line), line
            assert not re.search(r"walked|isn't fair|\bstitch \d|Close the opening|\bNone\b", line), line
            if heading in ("Order of work", "Before you sew"):
                assert line.endswith("."), line
    assert len(steps(design)) < 16


@pytest.mark.parametrize("design", [*WOVENS, *KNITS])
def test_a_sentence_tells_one_operation(design: str) -> None:
    """Short enough to be kept in mind from the paper to the machine, and no semicolon strings two together."""
    job = job_from(ticket(design))
    garment = draft_job(job)
    for step in steps_of_work(make_up(garment), garment, "cm"):
        for sentence in step.said.sentences:
            assert len(sentence) < 135, sentence
            assert ";" not in sentence, sentence
            assert sentence[0].isupper(), sentence
            assert sentence.endswith("."), sentence
        if any(abs(ease) > 2.0 * WORTH_TELLING for seam in step.seams for s in seam.sections for ease in s.ease):
            assert re.search("eas(e|ing)|stretching|gather", str(step)), step.said.title


@pytest.mark.parametrize("design", WOVENS)
def test_a_woven_says_its_stitches_once_and_how_edges_are_kept(design: str) -> None:
    """Lockstitch 301, edges neatened by 504 or 304, hems by 103 or by hand (ISO 4915)."""
    head = before(design)
    for words in (
        "lockstitch (ISO 4915: 301)",
        "neatened by overlock (504) or zigzag (304)",
        "(103) or by hand",
        "Press",
    ):
        assert words in head
    assert "514" not in head
    assert not any(re.search(r"\b(301|514|406|103)\b", step) for step in steps(design))


@pytest.mark.parametrize("design", KNITS)
def test_a_knit_says_its_stitches_needle_and_test(design: str) -> None:
    """Overlock 514 or zigzag 304, hems 406, twin needle or zigzag; a stretch or ballpoint needle, tried on a scrap."""
    head = before(design)
    for words in ("four-thread overlock (ISO 4915: 514)", "zigzag (304)", "coverstitch (406), twin needle", "scrap"):
        assert words in head
    assert "stretch or ballpoint needle" in head
    assert "stay tape or clear elastic" in head
    assert not any(re.search(r"\b(301|514|406|103)\b", step) for step in steps(design))


def test_a_woven_bodice_reads_in_the_trades_order() -> None:
    """Darts, panels, centre back below the zip, zip, shoulders, neck facing, sides, sleeves, hem (common practice)."""
    moved = '[[changes]]\nchange = "move-dart"\ndart = "bust"\nto = "shoulder 0.5"\n'
    more = moved + '[[changes]]\nchange = "dart-to-seam"\ndart = "bust"\nto = "waist-front"\n'
    lines = steps("fitted-bodice", more)
    wanted = [
        "Stay-stitching", "Darts", "Front panel seam, left and right", "Centre back, below the zip",
        "Zip at the centre back", "Shoulder seam, left and right", "Neck facing, made ready", "Neck facing, sewn on",
        "Side seam, left and right", "Sleeve underarm, left and right", "Sleeve, left and right, set in round", "Hem",
        "Hook and eye", "Zip guard",
    ]  # fmt: skip
    assert [place(lines, words) for words in wanted] == list(range(len(lines)))


def test_a_waist_seam_dress_is_joined_before_its_zip_and_hemmed_last() -> None:
    """The waist seam, pressed up; the zip over it; the neck facing, turned in beside the zip; the hem."""
    lines = steps("waist-seam-dress")
    order = [
        place(lines, w)
        for w in ("Sleeve, left", "Waist seam", "Zip at", "Neck facing, made", "Hem", "Hook and eye", "Zip guard")
    ]
    assert order == sorted(order)
    assert order[-1] == len(lines) - 1


def test_darts_tell_which_way_they_are_pressed() -> None:
    """Upright ones towards the centre, level ones down (common practice); two-pointed ones from the middle."""
    (darts,) = [step for step in steps("fitted-bodice") if step.startswith("Darts")]
    assert re.search(r"Press the bust and elbow darts down\.", darts)
    assert re.search(r"Press the front waist, shoulder,? (and )?back waist.* darts towards the centre\.", darts)
    assert "from its middle" in darts
    assert "clip it at the waist" in darts
    assert "two points" not in next(step for step in steps("waist-seam-dress") if step.startswith("Darts"))


def test_a_seam_across_the_centre_is_pressed_onto_the_lower_piece() -> None:
    """From the left shoulder to the right side there is no "towards the centre"; the cloth hangs down (from memory)."""
    line = 'on = "front"\nstart = "shoulder 0.5"\nstart_side = "left"\nend = "side 0.6"\nend_side = "right"\n'
    more = f'[[changes]]\nchange = "style-line"\n{line}name = "panel"\n'
    (panel,) = [step for step in steps("basic-tee", more) if step.startswith("Front panel")]
    assert "Press it down, towards the front." in panel


def test_a_facing_is_interfaced_joined_clipped_and_understitched() -> None:
    """By itself at a neck; the interfacing stands with what is needed too."""
    whole = " ".join(steps("fitted-bodice"))
    for words in ("Fuse interfacing", "Neaten its outer edge", "clip the curve", "understitch"):
        assert words in whole
    assert "Begin and end at the edges of the opening" in whole
    assert "Turn its ends under beside the opening, clear of the zip's teeth, and sew them to the zip's tapes" in whole
    assert "Sew the front facing to the back facings at the shoulders, right sides together. Press the seams" in whole
    assert "Leave the ends at the centre back open." in whole
    assert "interfacing (facings)" in before("fitted-bodice")


def test_neck_and_armholes_are_faced_in_one_and_turned_through_the_shoulders() -> None:
    """While the centre back and the sides are open; the zip, the ends and the sides come after (common practice)."""
    lines = steps("sheath-dress")
    order = [
        place(lines, words)
        for words in (
            "Shoulder seam", "Facing, made ready", "Neck facing", "Armhole facing", "Facing turned in",
            "Centre back, below the zip", "Zip at", "Facing's ends", "Side seam", "Hem", "Hook and eye",
        )
    ]  # fmt: skip
    assert order == sorted(order)
    side = lines[place(lines, "Side seam")]
    assert "on to the facing's edge" in side
    assert "Pull the back and its facing down through there" in lines[place(lines, "Facing turned in")]
    assert "interfacing (facings)" in before("sheath-dress")


def test_the_zips_length_is_told_where_it_is_bought_and_where_it_is_set_in() -> None:
    """The next longer one that is sold, and the length of the opening."""
    job = job_from(ticket("fitted-bodice"))
    garment = draft_job(job)
    length = f"{garment.fact('closure_length') / 10.0:.1f} cm"
    (bought,) = re.findall(rf"a zip (\d+) cm long, cut down to {length}", before("fitted-bodice"))
    assert 0.0 < float(bought) - garment.fact("closure_length") / 10.0 < 5.0
    (zip_step,) = [step for step in steps("fitted-bodice") if f"Zip at the centre back, {length} long" in step]
    for words in ("face down on the wrong side, its teeth along the folds", "from below up, 0.6 cm from the fold"):
        assert words in zip_step
    assert "sewn first" not in zip_step
    assert "zip" not in before("knit-top")


def test_vents_are_turned_before_the_hem() -> None:
    """In a step of their own."""
    lines = steps("sheath-dress")
    assert [place(lines, "Vents, left and right"), place(lines, "Hem of the lower edge:")] == [
        len(lines) - 4,
        len(lines) - 3,
    ]
    vents = lines[place(lines, "Vents, left and right")]
    assert vents.index("Mitre") < vents.index("stitch round")


def test_every_band_is_told_in_full_folded_quartered_and_stretched() -> None:
    """Wrong sides together, in four, the join at the centre back or the underarm; the edge is never stretched."""
    lines = steps("tank-top")
    neck = lines[place(lines, "Neck band")]
    for words in ("Sew the band's ends", "wrong sides together", "in four, at the notches", "join at the centre back"):
        assert words in neck
    assert re.search(r"stretching the band \(by \d+\.\d cm altogether\) and never the neckline", neck)
    assert "Press the seam away from the band" in neck
    armhole = lines[place(lines, "Armhole band, left and right")]
    assert "Fold the band lengthwise" in armhole
    assert "join at the underarm seam" in armhole
    assert place(lines, "Neck band") < place(lines, "Side seam")


@pytest.mark.parametrize("design", ["tank-top", "diagonal-overlay-tank"])
def test_a_ring_with_one_notch_is_halved_between_notch_and_join(design: str) -> None:
    """The notch isn't its middle: which stretch is the front's is told where it counts, and that bands are alike."""
    lines = steps(design)
    band = lines[place(lines, "Armhole band")]
    assert "in four: halve each stretch between notch (the shoulder seam) and join" in band
    garment = draft_job(job_from(ticket(design)))
    edge, ring = garment.seam("armhole-band-left").plies
    front, back = (sum(garment.path(use).length for use in edge if face in use.piece) for face in ("front", "back"))
    stretches = sum(garment.path(use).length for use in ring) / (front + back)
    unlike = abs(front - back) * stretches > WORTH_TELLING
    assert (f"The {'longer' if front > back else 'shorter'} stretch of the band (by " in band) == unlike
    assert ("Both bands are the same: either goes on either armhole" in band) == unlike


def test_what_is_eased_in_below_an_overlay_is_told_for_the_main_pieces_alone() -> None:
    """In whole millimetres, for none is sewn finer; nothing of the stretch above, which has none."""
    garment = draft_job(job_from(ticket("diagonal-overlay-top")))
    seam = garment.seam("side-left-below")
    below, above = seam.sections
    eased = replace(seam, sections=(replace(below, ease=(0.0, 2.4, *below.ease[2:])), above))
    told_by = Telling(garment, "cm")
    words = [" ".join(t.kind.tell(told_by, Group((t,), t.title)).steps[-1].sentences) for t in (seam, eased)]
    assert "easing" not in words[0]
    assert re.search(r"Sew all layers, and past .* the main pieces alone, easing 2 mm of the back in\.", words[1])


def test_points_that_are_clipped_into_are_marked_on_the_cloth() -> None:
    """With the notches they are at; a double one says where between its snips; a garment without one says nothing."""
    over, knit, woven = (before(design) for design in ("diagonal-overlay-top", "knit-top", "fitted-bodice"))
    assert re.search(r"the V points \(notches \d+ and \d+: a dot .* midway between the snips of a double notch\)", over)
    assert re.search(r"the V point \(notch \d+: a dot on the stitching line\)", knit)
    assert "V point" not in woven


def test_a_neck_half_covered_tells_what_lies_where() -> None:
    """Between the layers, on the right side of the main pieces; a binding runs on to the raw edges at its ends."""
    lines = steps("diagonal-overlay-top")
    assert "ends come level with the raw edges that cross the neckline" in lines[place(lines, "Neck binding")]
    neck = lines[place(lines, "Neck under the overlay")]
    assert "Press the allowances onto the right side of the main pieces" in neck
    assert "overlay's shoulder seam lies on the shoulder seam of the main pieces" in neck


def test_the_centre_to_which_a_bands_join_comes_is_told_by_its_notch() -> None:
    """It joins nothing, so it has no number; a join at a seam needs none of it."""
    lines = steps("diagonal-overlay-tank")
    hem, armhole = (lines[place(lines, band)] for band in ("Hem band", "Armhole band"))
    assert "press them towards the hem, off the shoulder pieces" in lines[place(lines, "Diagonal seam")]
    assert "The garment's centre back is the notch without a number. " in hem  # a piece unlike left and right
    assert "without a number" not in armhole
    garment = draft_job(job_from(ticket("diagonal-overlay-tank")))
    start = garment.seam("hem-band").plies[0][0]
    assert not any(
        garment.path(start).start.distance(garment.line(use).path.at(s)) < 1.0
        for mark in balance_marks(garment)
        for use, s in mark.at
        if use.piece == start.piece
    )


def test_a_v_neck_tells_its_one_mitre_and_its_point() -> None:
    """Stay-stitched, clipped, turned at the point."""
    band = next(step for step in steps("knit-top") if step.startswith("Neck band"))
    for words in (
        "Sew the mitre",
        "Snip its allowance at the fold, from the raw edge to a thread from the stitching, and press it open.",
        "Stay-stitch the V of the neckline",
        "not the band's, straight into",
        "mitre on the V",
    ):
        assert words in band
    assert "each" not in band


def test_a_faced_v_tells_how_its_point_is_clipped_into() -> None:
    """Small stitches, the needle down, clipped to within a thread of the stitching; a round neck says none of it."""
    v_neck = '[[changes]]\nchange = "neckline"\nfront = "v"\n'
    (pointed, plain) = (" ".join(steps("fitted-bodice", more)) for more in (v_neck, ""))
    assert "allowances of the garment and of the facing straight into the point, to a thread (1 mm)" in pointed
    assert "into the point" not in plain


def test_armholes_that_get_no_sleeve_are_stay_stitched() -> None:
    """As the neckline is, both cut on a curve; a sleeved one is held by its sleeve."""
    bare, sleeved = (next(line for line in steps(d) if "Stay" in line) for d in ("princess-top", "fitted-bodice"))
    assert "the neckline and the armholes" in bare
    assert "armholes" not in sleeved


def test_sleeves_of_a_knit_are_set_in_flat_and_of_a_woven_in_the_round() -> None:
    """As what they cross says: before the side seams, or after side and underarm."""
    assert any("set in flat" in step for step in steps("knit-top"))
    assert any("set in round: Sew two rows of long stitches" in step for step in steps("fitted-bodice"))


@pytest.mark.parametrize(
    ("more", "far", "near"), [("", "Left", "right"), ('[[changes]]\nchange = "mirror"\n', "Right", "left")]
)
def test_the_overlay_says_which_layer_lies_on_which(more: str, far: str, near: str) -> None:
    """Hemmed before its ends are caught; side seams told apart by the diagonal; the seam in the round last of them."""
    lines = steps("diagonal-overlay-top", more)
    hem = place(lines, "Hem of the overlay, now, before a seam takes in its ends")
    below = place(lines, f"{far} side seam below the diagonal")
    above = place(lines, f"{far} side seam above the diagonal")
    diagonal = place(lines, "Diagonal seam")
    neck = place(lines, "Neck under the overlay")
    assert place(lines, f"Front to back overlay over the {near} shoulder") < neck < hem < below < diagonal
    assert "wrong side up" in lines[neck]
    assert "Turn the overlays over the edge onto the right side" in lines[neck]
    assert "allowances of main piece and overlay straight into each V point" in lines[neck]
    assert "to a thread (1 mm) from the stitching" in lines[neck]
    assert above < diagonal
    assert "its own main piece, both right side up" in lines[below]
    for words in (
        "Turn the garment right side out, each overlay lying on its main piece, right side up.",
        "wrong side out and upside down, their neck towards the hem.",
        f"Slip them round its {far.lower()} side, so that their right side lies on the overlays.",
    ):
        assert words in lines[diagonal]
    assert sum(step.lower().startswith(f"{far.lower()} side") for step in lines) == 2


def test_a_stay_says_what_it_is_and_the_corner_of_a_band_is_no_tape() -> None:
    """Clear elastic, selvedge or fusible tape, cut to the paper's length, where the paper is hatched."""
    first = steps("knit-top")[0]
    for words in ("clear elastic", "selvedge", "fusible tape", "neckline ", "hatched"):
        assert words in first
    assert not steps("fitted-bodice")[0].startswith("Stay tape")


FOLDED = '[[changes]]\nchange = "neckline"\nfront = "v"\n'
GATHERED = '[[changes]]\nchange = "gathers"\nat = "neckline"\nway = "away"\n'


@pytest.mark.parametrize(
    ("design", "more"),
    [
        ("knit-top", FOLDED),
        ("knit-top", GATHERED),
        ("half-circle-dress", ""),
        ("waist-seam-dress", ""),
    ],
)
def test_no_step_is_read_from_facts(design: str, more: str) -> None:
    """Facts are for the maker: corners, gathers, a hem that drops and what closes a dress are known without them."""
    garment = draft_job(job_from(ticket(design, more)))
    bare = replace(garment, facts=())
    assert steps_of_work(make_up(bare), bare, "cm") == steps_of_work(make_up(garment), garment, "cm")


def test_a_skirts_waistband_zip_and_hanging_hem() -> None:
    """Interfaced waistband after the zip; a circle hangs a day before it is hemmed (common practice)."""
    design = (
        '[blocks.skirt]\nblock = "circle-skirt"\n[blocks.waistband]\n[[changes]]\nchange = "closure"\nplace = "left"\n'
    )
    sections = told(f'title = "Skirt"\nunit = "cm"\n{design}{WORN}{WOVEN}')
    lines = [line.split(". ", 1)[1] for line in sections["Order of work"]]
    order = [place(lines, w) for w in ("Left side of the skirt", "Zip in the left side seam", "Waistband", "Hem")]
    assert order == sorted(order)
    assert "Fuse interfacing" in lines[order[2]]
    assert "hang for a day" in lines[order[3]]
    assert "interfacing (waistband)" in " ".join(sections["Before you sew"])
