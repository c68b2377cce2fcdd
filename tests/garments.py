"""Garments for tests: the choir's singers, and a knit top drafted for them with any blocks and changes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache, lru_cache
from typing import Any

from blocks.band import draft_hem_band, draft_neck_band
from blocks.bodice import draft_knit_bodice
from blocks.cuff import draft_shaped_cuffs
from blocks.sleeve import draft_set_in_sleeve
from drafting.body import Body, make_body
from drafting.body.survey import Rules
from drafting.cloth import Cloth, Fit, Kind
from drafting.garment import Brief, Garment, Step, begin_garment, list_banded, list_opened, list_panelled
from drafting.ticket.cutting import cut_new_pieces

JERSEY = Cloth("jersey", Kind.KNIT, stretch_across=0.30, stretch_along=0.15, recovery=0.95, elastane=True, width=1500.0)
RIB = Cloth("rib", Kind.KNIT, stretch_across=0.80, stretch_along=0.20, recovery=0.95, elastane=True, width=1000.0)

SINGERS: Mapping[str, tuple[Rules, Mapping[str, float]]] = {
    "soprano": ("women", {"stature": 1660, "bust_girth": 920, "waist_girth": 740, "hip_girth": 980,
                          "back_neck_point_to_waist": 405}),
    "alto": ("women", {"stature": 1720, "bust_girth": 1040, "waist_girth": 880, "hip_girth": 1100,
                       "back_neck_point_to_waist": 420}),
    "tenor": ("men", {"stature": 1760, "bust_girth": 960, "waist_girth": 820, "hip_girth": 970,
                      "back_neck_point_to_waist": 460}),
    "bass": ("men", {"stature": 1850, "bust_girth": 1100, "waist_girth": 1010, "hip_girth": 1060,
                     "back_neck_point_to_waist": 490}),
}  # fmt: skip
"""Invented figures (mm) of the demo choir."""


@cache
def singer(voice: str) -> Body:
    """The body of a singer, what isn't given estimated by the stated rules."""
    rules, given = SINGERS[voice]
    return make_body(voice.capitalize(), given, rules=rules)


def brief(body: Body | str = "soprano", fit: Fit = Fit.SEMI, cloth: Cloth = JERSEY, rib: Cloth = RIB) -> Brief:
    """A brief for a singer or any body."""
    return Brief(singer(body) if isinstance(body, str) else body, cloth, fit, {"rib": rib})


BANDS = ("neck-band", "shaped-cuff", "hem-band", "armhole-band")
"""Blocks whose pieces are cut from the brief's rib."""

Planned = tuple[Step[Any], Mapping[str, Any]]

BODY: tuple[Planned, ...] = ((draft_knit_bodice, {}),)
SLEEVED: tuple[Planned, ...] = (*BODY, (draft_set_in_sleeve, {}))
TOP: tuple[Planned, ...] = (*SLEEVED, (draft_neck_band, {}), (draft_shaped_cuffs, {}), (draft_hem_band, {}))


def build(b: Brief, *plans: Iterable[Planned]) -> Garment:
    """Draft a garment: all steps of all plans, sorted by stage as a job sorts them.

    A garment never changes, so that tests which ask for the same one share it.
    """
    steps = sorted((planned for plan in plans for planned in plan), key=lambda planned: planned[0].stage)
    return _build(b, tuple((step, step.options(**options)) for step, options in steps))


@lru_cache(maxsize=128)
def _build(b: Brief, steps: tuple[tuple[Step[Any], Any], ...]) -> Garment:
    asked_of = [options for _, options in steps]
    garment = begin_garment(
        (step for step, _ in steps), list_opened(asked_of), list_banded(asked_of), list_panelled(asked_of)
    )
    for step, options in steps:
        cloth = "rib" if step.name in BANDS and "rib" in b.cloths else "main"
        asked = replace(b, cut_from=cloth)
        made = step.apply(garment, asked, options) if garment.pieces else take_first(step, garment, asked, options)
        garment = cut_new_pieces(garment, made, cloth)
    return garment


@lru_cache(maxsize=128)
def take_first(step: Step[Any], start: Garment, b: Brief, options: Any) -> Garment:
    """Take the step that a garment begins with: many tests begin alike, with a bodice that takes its time."""
    return step.apply(start, b, options)
