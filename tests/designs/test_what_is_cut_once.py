"""What is the same left and right is printed once, on the fold or as one of a pair; what differs is cut alone."""

from __future__ import annotations

import pytest

from drafting.job import run
from tests.laws.jobs import job_of, with_changes

FOLD, PAIR, ALONE = "cut 1 on the fold", "cut 2, one mirrored", "cut 1, single layer, right side up"

TOP = {"Front": FOLD, "Back": FOLD, "Sleeve": PAIR, "Neck band": FOLD}
BODICE = {"Front": FOLD, "Back": PAIR, "Neck facing, front": FOLD, "Neck facing, back": PAIR}
BARE = {"Front": FOLD, "Back": PAIR, "Front facing": FOLD, "Back facing": PAIR}
EXPECTED = {
    "basic-tee": TOP,
    "knit-top": TOP | {"Cuff": "cut 2 on the fold", "Hem band": FOLD},
    "tank-top": {"Front": FOLD, "Back": FOLD, "Neck band": FOLD, "Armhole band": PAIR},
    "half-circle-dress": TOP | {"Skirt front": FOLD, "Skirt back": FOLD},
    "fitted-bodice": BODICE | {"Sleeve": PAIR},
    "waist-seam-dress": BODICE | {"Sleeve": PAIR, "Skirt front": FOLD, "Skirt back": PAIR},
    "sheath-dress": BARE,
    "princess-top": BARE | {"Front side panel": PAIR, "Back side panel": PAIR},
}


@pytest.mark.parametrize("design", EXPECTED)
def test_symmetric_designs_print_each_piece_once(design: str) -> None:
    """Notches, orders and names of left and right agree, so that nothing has to be printed twice."""
    assert {piece.title: piece.how for piece in run(job_of(design), lay=False).cut} == EXPECTED[design]


def test_a_yoke_is_marked_at_its_centre() -> None:
    """A seam from armhole to armhole lies evenly about the centre: it is notched there, and stays symmetric."""
    yoke = [("style-line", {"on": "back", "start": "armhole 0.4", "end": "armhole 0.4", "name": "yoke"})]
    cut = run(with_changes(job_of("basic-tee"), yoke), lay=False).cut
    assert {piece.how for piece in cut if "ack" in piece.title} == {FOLD}
