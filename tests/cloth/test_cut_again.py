"""What is cut once more from another cloth, as a lining: laid and bought with it, told, and held to its stretch."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from drafting.errors import InputError
from drafting.finishing import CutPiece
from drafting.garment import Garment
from drafting.job import draft_job, finish_job
from drafting.lay import plan_lays
from drafting.proof import Proof
from drafting.ticket import Job
from tests.laws.jobs import WEARER, job_from

ONE = WEARER.split("[cloths")[0]
"""A wearer and one cloth."""

LINING = '[cloths.lining]\nstretch_across = "{stretch} %"\nwidth = 140\n{cut}\n'


@cache
def lined(cut: str, stretch: int = 30) -> tuple[Job, Garment, tuple[CutPiece, ...], Proof]:
    """A tee with a lining, drafted and proved."""
    job = job_from(f'builds_on = "basic-tee"\nunit = "cm"\n{ONE}{LINING.format(stretch=stretch, cut=cut)}')
    garment = draft_job(job)
    return job, garment, *finish_job(job, garment)


def test_a_piece_is_cut_again_by_its_own_pattern() -> None:
    """By its name or its block's; each lies on both cloths, alike and as often, and its label says so."""
    job, garment, cut, _ = lined('cut_again = ["front", "sleeves"]')
    main, lining = plan_lays(garment, cut, job.brief)
    assert (main.kind, lining.kind, lining.cloth.width) == ("main", "lining", 1400.0)
    assert [each.part.name for each in lining.laid] == ["front", "sleeve-left", "sleeve-right"]
    for each in lining.laid:
        (like,) = (other for other in main.laid if other.part.name == each.part.name)
        assert np.allclose(each.part.ring, like.part.ring)
    said = {name for piece in cut if "Cut in lining too." in " ".join(piece.labels) for name in piece.stands_for}
    assert said == {"front", "sleeve-left", "sleeve-right"}


def test_a_lining_that_gives_less_is_warned_of_and_holds_the_opening() -> None:
    """It is sewn into the neck with the piece, and the head must pass that, too."""
    free, stiff = (lined('cut_again = ["front", "back"]', stretch)[3] for stretch in (30, 0))
    assert not any(finding.code == "cloth.again" for finding in free.findings)
    (told,) = (finding for finding in stiff.findings if finding.code == "cloth.again")
    assert told.value == 0.0
    assert told.limit == pytest.approx(0.25)
    reach, held = (min(row.reach for row in proof.openings if row.opening == "neck") for proof in (free, stiff))
    assert held < reach - 10.0


def test_what_is_only_cut_again_is_washed_before() -> None:
    """The pattern is drawn for the wash of the cloth that the piece is cut from, so a lining can't be cut unwashed."""
    job, garment, cut, _ = lined('cut_again = ["front"]\ncut_unwashed = true\nshrink_along = "5 %"')
    _, lining = plan_lays(garment, cut, job.brief)
    assert not lining.cloth.cut_unwashed
    assert lining.cloth.growth == (1.0, 1.0)


@pytest.mark.parametrize(
    ("cut", "says"),
    [
        ('cut_again = ["collar-stand"]', "names nothing here"),
        ('cut = ["front"]\ncut_again = ["front"]', "cut from"),
    ],
)
def test_what_cannot_be_cut_again_is_refused(cut: str, says: str) -> None:
    """With the ticket's own key."""
    with pytest.raises(InputError) as error:
        lined(cut)
    assert says in str(error.value)
    assert "cloths.lining.cut_again" in str(error.value)
