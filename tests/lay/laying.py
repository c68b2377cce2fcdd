"""Garments of the catalogue on the cloth."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from drafting.cloth import Stripe
from drafting.finishing import CutPiece
from drafting.garment import Brief, Garment
from drafting.job import draft_job, finish_job
from drafting.lay import LaidPart, Lay, plan_lays
from drafting.lay.plan import FIRST, QUICK
from drafting.lay.search import SearchDepth
from drafting.ticket import Job
from tests.blocks_woven.people import POPLIN
from tests.garments import JERSEY, RIB, singer
from tests.laws.jobs import WEARER, job_from, job_of, with_changes
from tests.laws.strategies import WOVENS


@dataclass(frozen=True)
class Made:
    """A garment, its cut pieces, and what they are made for."""

    garment: Garment
    cut: tuple[CutPiece, ...]
    brief: Brief


@cache
def made(design: str, voice: str = "soprano") -> Made:
    """A design of the catalogue for a singer, in jersey and rib, or in poplin."""
    cloth = POPLIN if design in WOVENS else JERSEY
    job = with_changes(job_of(design), [], Brief(singer(voice), cloth, job_of(design).brief.fit, {"rib": RIB}))
    garment = draft_job(job)
    return Made(garment, finish_job(job, garment)[0], job.brief)


def lays(
    what: Made, stripe: Stripe | None = None, width: float | None = None, how: SearchDepth = FIRST
) -> tuple[Lay, ...]:
    """Its lays, on a main cloth with a stripe or of another width."""
    cloth = replace(what.brief.cloth, stripe=stripe, width=width or what.brief.cloth.width)
    return plan_lays(what.garment, what.cut, replace(what.brief, cloth=cloth), how=how)


def moved(each: LaidPart) -> tuple[float, float]:
    """How far a part was moved on to the cloth (x, y), that isn't turned."""
    assert not each.turned
    by = each.ring - each.part.ring
    assert float(abs(by - by[0]).max()) < 1e-9
    return float(by[0, 0]), float(by[0, 1])


@cache
def chevrons() -> tuple[Job, Garment, tuple[CutPiece, ...], Lay]:
    """An overlay top in a striped knit, its body and overlays on the bias: the job, its pieces, and its main lay."""
    bias = "".join(f'{name} = "bias"\n' for name in ("front", "back", "overlay-front", "overlay-back"))
    asked = f'builds_on = "diagonal-overlay-top"\nunit = "cm"\n{WEARER.split("[cloths")[0]}'
    job = job_from(f"{asked}[cloth.stripe]\nrepeat = 3\n[grain]\n{bias}")
    garment = draft_job(job)
    cut = finish_job(job, garment)[0]
    return job, garment, cut, plan_lays(garment, cut, job.brief, how=QUICK)[0]
