"""What is cut once more from another cloth, as a lining: laid and bought with it, told, and held to its stretch."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from drafting.errors import InputError
from drafting.finishing import CutPiece
from drafting.finishing.growth import grow_pieces
from drafting.garment import Garment
from drafting.job import draft_job, finish_job
from drafting.lay import plan_lays
from drafting.proof import Proof
from drafting.ticket import Job
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
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
    (waist,) = (row for row in stiff.openings if row.opening == "waist")
    assert waist.reach == pytest.approx(waist.length)


def test_a_lining_is_cut_by_a_print_for_its_own_wash() -> None:
    """Drawn for what the lining loses, not the cloth above it, and laid by its letter; their papers are told apart."""
    job, garment, cut, proof = lined('cut_again = ["front"]\ncut_unwashed = true\nshrink_along = "5 %"')
    _, lining = plan_lays(garment, cut, job.brief)
    (laid,) = lining.laid
    *_, own = grow_pieces(cut, job.brief)
    front = next(piece for piece in cut if piece.name == "front")
    assert (own.cloth, own.code, own.code in {piece.code for piece in cut}) == ("lining", laid.part.piece.code, False)
    high = [np.ptp(each.cut_path.flatten(), axis=0)[1] for each in (front, own)]
    assert high[1] * 0.95 == pytest.approx(high[0])
    assert np.ptp(laid.ring, axis=0)[1] == pytest.approx(high[1], abs=0.1)
    assert lining.cloth.cut_unwashed
    assert not any("sew both as one" in str(finding.sentence) for finding in proof.findings)
    assert any(finding.code == "cloth.grown_apart" and finding.place == "cloths.lining" for finding in proof.findings)
    first, second, *_ = (step.said for step in steps_of_work(make_up(garment), garment, "cm"))
    said = {step.title: " ".join(step.sentences) for step in (first, second)}["Lining of front"]  # after the stays
    ways = ("own paper can be basted onto", "What has a paper of its own", "Put that in")
    assert sorted(ways, key=said.index) == list(ways)

    shrinking = replace(job.brief.cloth, shrink_along=0.05, cut_unwashed=True)
    brief = replace(job.brief, cloth=shrinking, cloths={"lining": replace(lining.cloth, cut_unwashed=False)})
    front, *_, own = grow_pieces(cut, brief)
    assert high[0] == pytest.approx(np.ptp(own.cut_path.flatten(), axis=0)[1])
    assert high[1] == pytest.approx(np.ptp(front.cut_path.flatten(), axis=0)[1])
    alike = replace(brief, cloths={"lining": replace(lining.cloth, shrink_across=0.0)})
    assert len(grow_pieces(cut, alike)) == len(cut)


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
