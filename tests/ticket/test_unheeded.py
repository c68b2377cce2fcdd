"""What a ticket says and what has no effect on its garment is told, with key and file; and nothing else is."""

from __future__ import annotations

import re
from dataclasses import make_dataclass, replace

import pytest

from drafting.garment import Block, Role, Stage, option
from drafting.job import draft_job, run, watch_job
from drafting.ticket.unheeded import CODE, find_unheeded
from tests.laws.jobs import WEARER, catalogue, job_from
from tests.plain_words import engine_words

WOVEN = WEARER.partition("[cloth]")[0] + '[cloth]\nkind = "woven"\nstretch_across = "2 %"\n'


def notes(design: str, more: str, wearer: str = WEARER) -> list[tuple[str, str]]:
    """The places and sentences of what had no effect."""
    job = watch_job(job_from(f'builds_on = "{design}"\nunit = "cm"\n{wearer}{more}'))
    told = find_unheeded(job, draft_job(job))
    assert not any(found.where for found in told), "the sentence says where"
    return [(found.place, str(found.sentence)) for found in told]


@pytest.mark.parametrize(
    ("design", "more", "at", "why"),
    [
        ("half-circle-dress", "[blocks.skirt]\nwaist_ease = 4\n", "blocks.skirt.waist_ease", "is drafted without it"),
        ("half-circle-dress", "[blocks.body]\nbelow_hip = 4\n", "blocks.body.below_hip", "draws the lower edge anew"),
        (
            "diagonal-overlay-top",
            '[blocks.body]\nfront_neck = "round"\n',
            "blocks.body.front_neck",
            "the neckline anew",
        ),
        ("diagonal-overlay-tank", "[blocks.body]\nback_depth = 7\n", "blocks.body.back_depth", "the neckline anew"),
        (
            "diagonal-overlay-top",
            '[[changes]]\nchange = "neckline"\nfront = "v"\nwiden = 3\n',
            "changes[1].front",
            "the neckline anew",
        ),
        ("knit-top", '[blocks.more]\nblock = "woven-sleeve"\n', "blocks.more", "found nothing to do"),
        ("basic-tee", '[seams]\npatch = "1 cm"\n', "seams.patch", "has no such seam: it has armhole"),
        ("basic-tee", "[paper]\noverlap = 2\n", "paper.overlap", "edge to edge"),
        ("tank-top", "[seams]\nhem_depth = 3\n", "", ""),
        ("basic-tee", "", "", ""),
        ("basic-tee", '[cloths.stay]\nkind = "woven"\n', "", ""),
        ("knit-top", "[seams]\nhem_depth = 3\n", "seams.hem_depth", "no turned hem"),
        ("basic-tee", "[seams]\nall = 2\nside = 1\narmhole = 1\n", "", ""),
        ("basic-tee", '[paper]\noverlap = 2\njoin = "overlap"\n', "", ""),
        ("tank-top", "[blocks.body]\nback_depth = 7\nneck_widen = 3\n", "", ""),
        ("diagonal-overlay-top", "[blocks.body]\nneck_widen = 3\n", "", ""),
    ],
)
def test_what_had_no_effect_is_told_with_its_key(design: str, more: str, at: str, why: str) -> None:
    """And what had one is not."""
    found = notes(design, more)
    assert [place for place, _ in found] == ([f"ticket.toml: {at}"] if at else [])
    assert all(why in sentence and sentence.startswith(f"{place} has no effect: ") for place, sentence in found)


def test_what_is_drawn_anew_is_asked_of_the_step_that_draws_it() -> None:
    """By its own keys, where it has such."""
    more = '[[changes]]\nchange = "neckline"\nfront_depth = 6\n'
    job = watch_job(job_from(f'builds_on = "diagonal-overlay-top"\nunit = "cm"\n{WEARER}{more}'))
    (found,) = find_unheeded(job, draft_job(job))
    assert found.remedy == "take it out, or set front_depth or back_depth of asymmetric-overlay"


def test_the_thickness_of_another_cloth_is_told() -> None:
    """No sum takes it in, whatever is cut from it."""
    wearer = f'{WEARER}thickness = "2 mm"\n'
    assert [place for place, _ in notes("basic-tee", "", wearer)] == ["ticket.toml: cloths.rib.thickness"]


def test_a_cloth_that_nothing_is_cut_from_is_told() -> None:
    """A woven design has no bands; the hip's ease is asked for where the bodice ends there."""
    assert [place for place, _ in notes("fitted-bodice", '[cloths.rib]\nkind = "woven"\n', WOVEN)] == [
        "ticket.toml: cloths.rib.kind"
    ]
    assert notes("fitted-bodice", "[blocks.bodice]\nhip_ease = 6\n", WOVEN) == []
    [(place, _)] = notes("waist-seam-dress", "[blocks.bodice]\nhip_ease = 6\n", WOVEN)
    assert place == "ticket.toml: blocks.bodice.hip_ease"


def test_an_allowance_of_darts_is_told() -> None:
    """A dart is folded: the seam's key is there, since the garment has such a seam, and alters nothing."""
    [(place, sentence)] = notes("fitted-bodice", "[seams]\ndart = 1\nside = 2\n", WOVEN)
    assert place == "ticket.toml: seams.dart"
    assert "folded" in sentence


@pytest.mark.parametrize("design", sorted(catalogue().designs))
def test_what_a_design_says_itself_is_not_told(design: str) -> None:
    """Its maker isn't the one who reads it."""
    assert (
        notes(
            design,
            "",
            WOVEN if design in ("fitted-bodice", "princess-top", "sheath-dress", "waist-seam-dress") else WEARER,
        )
        == []
    )


def test_it_stands_in_the_proof_as_a_note() -> None:
    """Which passes all the same."""
    job = job_from(f'builds_on = "half-circle-dress"\nunit = "cm"\n{WEARER}[blocks.skirt]\nwaist_ease = 4\n')
    proof = run(job, lay=False).proof
    assert proof.passed
    assert [found.severity.value for found in proof.findings if found.code == CODE] == ["note"]


@pytest.mark.parametrize("role", Role)
def test_lines_of_every_role_may_be_drawn_anew(role: Role) -> None:
    """Each is told in words for a maker, those of blocks from outside too."""
    shaping = make_dataclass("Shaping", [("depth", float, option("How deep.", "length", 40.0, shapes=role))])
    said = (("depth", "ticket.toml: blocks.frill.depth"),)
    frill = Block("frill", "Frills.", shaping, Stage.EDGE, lambda garment, brief, options: garment)
    ruffle = replace(frill, name="ruffle", redraws=(role,))
    job = job_from(f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}')
    planned = replace(job.steps[0], step=frill, options=shaping(), said=said)
    steps = (planned, replace(planned, step=ruffle, said=()))
    (found,) = find_unheeded(replace(job, steps=steps), draft_job(job))
    told = str(found.sentence)
    assert re.fullmatch(r".+ has no effect: ruffle draws the [a-z ]+ anew", told)
    assert not engine_words(told)
