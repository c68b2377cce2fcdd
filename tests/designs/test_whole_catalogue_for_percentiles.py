"""Each design of the catalogue for a person of each percentile of bust: proven, or refused with the reason."""

from __future__ import annotations

import os
from collections import Counter
from dataclasses import replace
from functools import cache

import pytest

from drafting.cloth import Cloth, Kind
from tests.body.people import people
from tests.laws.jobs import Outcome, job_of, outcome
from tests.laws.strategies import DESIGNS, WOVENS, surveyed

WOMEN, MEN = "bodies_1988_women", "bodies_1988_men"
PERCENTILES = (1, 5, 50, 95, 99)
EVERY = int(os.environ.get("BLOCKWRIGHT_PEOPLE", "450"))
"""Every how manieth person of the survey is dressed; 1 dresses them all."""

LEAST_SHARE = 0.97

SATEEN = Cloth("cotton sateen", Kind.WOVEN, stretch_across=0.02, stretch_along=0.0, recovery=0.95, width=1400.0)


def row_at(group: str, percentile: int) -> int:
    """The row (from 1) of the person whose bust lies at a percentile of the group (ANSUR 1988)."""
    order = sorted(range(len(people(group))), key=lambda i: people(group)[i]["bust_girth"])
    return order[min(round(percentile / 100.0 * (len(order) - 1)), len(order) - 1)] + 1


@cache
def dressed(design: str, group: str, row: int) -> Outcome:
    """The design drafted for a person in the cloth and fit that it names."""
    job = job_of(design)
    cloth = SATEEN if design in WOVENS else job.brief.cloth
    return outcome(replace(job, brief=replace(job.brief, body=surveyed(group, row), cloth=cloth)))


@pytest.mark.parametrize("group", [WOMEN, MEN])
@pytest.mark.parametrize("design", [*DESIGNS, *WOVENS])
def test_a_person_of_each_percentile(design: str, group: str) -> None:
    """All are proven, no seam stretched further than its cloth, in a jersey of 30 % or, the wovens, in sateen."""
    for percentile in PERCENTILES:
        what = dressed(design, group, row_at(group, percentile))
        assert not what.broken, (percentile, what.broken)
        assert not what.refused, (percentile, what.refused)


@pytest.mark.parametrize("design", [*DESIGNS, *WOVENS])
def test_the_share_of_people_it_suits(design: str) -> None:
    """Nearly everyone; whoever isn't is told why, and no pattern is broken. Shown with ``pytest -s``."""
    for group in (WOMEN, MEN):
        count = len(people(group))
        rows = range(1, count + 1, EVERY)
        all_of = [dressed.__wrapped__(design, group, row) for row in rows]
        broken = [what.broken for what in all_of if what.broken]
        why = Counter(what.refused for what in all_of if what.refused)
        share = 1.0 - sum(why.values()) / len(all_of)
        print(f"{design}, {group}: {share:.1%} of {len(all_of)} proven", *why.most_common(3))
        assert not broken, broken[0]
        assert share >= LEAST_SHARE, why.most_common(3)


def test_the_catalogue_holds_what_was_promised() -> None:
    """Eleven designs, each with a title and a comment that says what it is, in a file of one screen."""
    assert {*DESIGNS, *WOVENS} == {
        "basic-tee", "knit-top", "tank-top", "diagonal-overlay-top", "diagonal-overlay-tank", "diagonal-overlay-dress",
        "half-circle-dress", "fitted-bodice", "waist-seam-dress", "sheath-dress", "princess-top",
    }  # fmt: skip
    from tests.laws.jobs import catalogue

    for name in (*DESIGNS, *WOVENS):
        text = catalogue().designs[name].read_text(encoding="utf-8")
        assert text.startswith("# ")
        assert 'title = "' in text
        assert len(text.splitlines()) <= 45


@pytest.mark.parametrize("design", DESIGNS)
def test_designs_are_what_their_names_say(design: str) -> None:
    """Sleeves, bands, cuffs and the overlay are there where they belong; the dress reaches below the hip."""
    what = dressed(design, WOMEN, row_at(WOMEN, 50))
    assert what.garment is not None
    names = {piece.name for piece in what.garment.pieces}
    sleeveless = design in ("tank-top", "diagonal-overlay-tank")
    assert ("sleeve-left" in names) is not sleeveless
    assert ("armhole-band-left" in names) is sleeveless
    assert ("overlay-front" in names) is ("overlay" in design)
    assert ("cuff-left" in names) is (design in ("knit-top", "diagonal-overlay-top", "diagonal-overlay-dress"))
    assert ("skirt-front" in names) is (design == "half-circle-dress")
    if "skirt-front" not in names:
        hem = min(line.path.bounds[1] for line in what.garment.piece("front").ring)
        hip = next(level.path.start.y for level in what.garment.piece("front").levels if level.name == "hip")
        assert (hip - hem > 300.0) is design.endswith("dress")
    if "cuff-left" in names:
        cuff = what.garment.piece("cuff-left")
        assert cuff.line("band").path.length > cuff.line("edge").path.length + 5.0
