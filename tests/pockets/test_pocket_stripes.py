"""Stripes run on over a pocket: it is cut on the place of the stripe that its face has there."""

from __future__ import annotations

import pytest

from drafting.cloth import Stripe
from drafting.finishing import FinishPlan, finish
from drafting.garment import Applied, find_faces
from drafting.job import draft_job
from drafting.lay import Lay
from drafting.lay.words import describe_spreads
from tests.laws.jobs import WEARER, job_from
from tests.lay.laying import Made, lays, moved

PLAIN = f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}[blocks.pocket]\nblock = "patch-pocket"\nplace = "hip"\n'
YOKE = '[[changes]]\nchange = "style-line"\non = "front"\nstart = "side 0.6"\nend = "side 0.6"\n'


def tee(ticket: str) -> Made:
    """A tee with hip pockets."""
    job = job_from(ticket)
    garment = draft_job(job)
    return Made(garment, finish(garment, FinishPlan()), job.brief)


def on_cloth(lay: Lay, name: str) -> tuple[float, float]:
    """How far a part is moved on to the cloth."""
    return next(moved(each) for each in lay.laid if each.part.name == name)


@pytest.mark.parametrize("direction", ["across", "along"])
@pytest.mark.parametrize("ticket", [PLAIN, PLAIN + YOKE], ids=["plain", "over a seam"])
def test_the_stripe_of_the_face_runs_on_over_the_pocket(ticket: str, direction: str) -> None:
    """The opening's corner lies at one place of the stripe on pocket and face, and it is told that they meet."""
    repeat, axis = 37.0, 1 if direction == "across" else 0
    what = tee(ticket)
    lay = lays(what, Stripe(repeat, direction))[0]
    for name in ("hip-pocket-left", "hip-pocket-right"):
        places = [(f, each) for f in find_faces(what.garment)[name] for each in what.garment.piece(f).of_kind(Applied)]
        face, place = max(((f, p) for f, p in places if p.name == name), key=lambda found: found[1].path.start.y)
        corner = what.garment.piece(name).line("edge-a").path.start
        on_face = tuple(place.path.start)[axis] + on_cloth(lay, face)[axis]
        on_pocket = tuple(corner)[axis] + on_cloth(lay, name)[axis]
        assert (on_face - on_pocket + repeat / 2.0) % repeat == pytest.approx(repeat / 2.0, abs=1e-3)
        (match,) = (m for m in lay.stripes[0].matches if m.seam == name)
        assert match.off < 1e-6
    assert "hip pocket, opening" in " ".join(describe_spreads(lay, "cm")[0].lines)
