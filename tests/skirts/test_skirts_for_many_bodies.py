"""Skirts for the people of the surveys: drafted, proven, and measured by their lines.

Bodies: ANSUR 1988 (NATICK/TR-89/027, Gordon et al. 1989), ANSUR II 2012 (NATICK/TR-15/007), and the EN 13402-3 sizes.
"""

from __future__ import annotations

from collections import Counter

import pytest

from blocks.bodice import draft_knit_bodice
from blocks.darted_bodice import draft_darted_bodice
from drafting.body import make_body
from drafting.errors import DraftingError
from tests.bench.asked import ask
from tests.body.people import GROUPS, people, thinned
from tests.laws.jobs import WEARER
from tests.skirts.dressed import JERSEY, cloth_at, darts, errors, sewn_waist, skirt

SAMPLES = [
    ("bodies_1988_women", "skirt", thinned(6)),
    ("bodies_1988_women", "flared-skirt", thinned(18)),
    ("bodies_1988_women", "circle-skirt", thinned(18)),
    ("bodies_1988_men", "skirt", thinned(18)),
    ("bodies_2012_women", "skirt", 18),
    ("size_table_women_derived", "skirt", 2),
]


@pytest.mark.parametrize(("group", "kind", "every"), SAMPLES)
def test_everybody_gets_a_skirt_that_proves(group: str, kind: str, every: int) -> None:
    """Every so manieth, with a zip; waist and hip to 0.1 mm, no dart deeper than 48 mm, legs equal to 1e-6 mm."""
    wrong: Counter[str] = Counter()
    deepest, count = 0.0, 0
    for row in people(group)[::every]:
        body = make_body("one of many", row, rules=GROUPS[group])
        count += 1
        try:
            garment, b = skirt([kind, ("closure", {"place": "left"})], body)
        except DraftingError as error:
            wrong[str(error)] += 1
            continue
        wrong.update(error.partition(" ")[0] for error in errors(garment, b))
        wrong["waist"] += abs(sewn_waist(garment) - body["waist_girth"] - 16.0) > 0.1
        hip = -body["back_neck_point_to_waist"] - body["waist_to_hip"]
        wrong["hip"] += kind == "skirt" and abs(cloth_at(garment, hip) - body["hip_girth"] - 64.0) > 0.1
        found = darts(garment)
        wrong["legs"] += any(abs(one - two) > 1e-6 for one, two, _ in found)
        deepest = max([deepest, *(mouth for _, _, mouth in found)])
    print(f"{group}, {kind}: {count} people, deepest dart {deepest:.1f} mm")
    assert not +wrong
    assert deepest <= 48.0


def test_knit_dresses_for_women_of_1988() -> None:
    """A bodice and a half circle, for some of them: all join."""
    for row in people("bodies_1988_women")[:: thinned(60)]:
        body = make_body("one of many", row)
        garment, b = skirt(["circle-skirt", "waist-seam"], body, JERSEY, onto=[(draft_knit_bodice, {})])
        assert not errors(garment, b)


def test_woven_dresses_for_women_of_1988() -> None:
    """Darted bodice, skirt, zip and facings, for some of them: all go together."""
    for i, row in enumerate(people("bodies_1988_women")[:: thinned(90)]):
        kind = ("skirt", "circle-skirt", "flared-skirt")[i % 3]
        body = make_body("one of many", row)
        garment, b = skirt([kind, "waist-seam", "closure", "facing"], body, onto=[(draft_darted_bodice, {})])
        assert not errors(garment, b)


def test_a_skirt_said_before_its_bodice_is_drafted_or_refused() -> None:
    """The bodice adds its openings to those of the skirt that is there, so that a waist seam finds both."""
    skirt = '[blocks.skirt]\nblock = "circle-skirt"\n[blocks.body]\nblock = "knit-bodice"\n'
    answer = ask(f'{WEARER}{skirt}[blocks.seam]\nblock = "waist-seam"\n[blocks.band]\nblock = "neck-band"\n')
    assert answer.status in (0, 1, 2)
    assert not answer.wrong
