"""Real bodies and what is drafted for them: the people of the 1988 survey, a woven cloth, the blocks."""

from __future__ import annotations

import csv
import math
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from blocks.darted_bodice import DartedBodiceOptions, draft_darted_bodice
from blocks.woven_sleeve import WovenSleeveOptions, draft_woven_sleeve
from drafting.body import Body, Rules, make_body, measurements
from drafting.cloth import Cloth, Fit, Kind
from drafting.garment import Brief, Garment, begin_garment
from drafting.proof import Finding, Severity, prove

DATA = Path(__file__).parents[1] / "data"
POPLIN = Cloth(name="poplin", kind=Kind.WOVEN, stretch_across=0.02)

PULLED_ON = {"openings.pass", "openings.waist"}
"""What the proof finds of a woven block without a closure: it can't be pulled on. A closure comes later."""

BODYS_OWN = {
    "given.front", "fit.dart_intake", "fit.bust_undarted", "fit.shoulder_slope", "fit.shoulder_length",
    "fit.across_back_width", "fit.across_front_width", "fit.armhole_back", "fit.armhole_hollow", "fit.bust_width",
    "fit.side_over_hip", "fit.side_leans", "fit.armhole_depth", "fit.armhole_floor", "fit.armhole_hooked",
    "fit.bust_dart_for_cup",
    "body.doubtful", "body.asked",
}  # fmt: skip
"""What it warns of where a body's own lengths don't go together, its bust wants more than one dart, or gets none or a
small one for what was measured over it, its hips are full beside it, its shoulders, back and chest are beyond what is
drafted, or its back is so short beside its front that the front of the armhole is the longer, or so wide in front
that this isn't the more hollow, or the side seam lies behind the middle for it, or its arms are thick for its bust,
or their armscye is long for its depth; how often is counted apart."""


@cache
def people(rules: Rules) -> tuple[dict[str, float], ...]:
    """The bodies of the 1988 survey (ANSUR, NATICK/TR-89/027): mm, rad, kg by measurement."""
    known = measurements()
    scale = {"mm": 10.0, "rad": math.pi / 180.0, "kg": 1.0}
    with (DATA / f"bodies_1988_{rules}.csv").open(encoding="utf-8") as file:
        return tuple(
            {name: float(text) * scale[known[name].unit] for name, text in row.items() if name in known}
            for row in csv.DictReader(file)
        )


@cache
def person(number: int, rules: Rules = "women") -> Body:
    """One of them."""
    return make_body(f"{rules} {number}", people(rules)[number], rules=rules)


@cache
def mean_person(rules: Rules = "women") -> Body:
    """The mean of them all."""
    rows = people(rules)
    return make_body(
        f"mean {rules}", {name: math.fsum(r[name] for r in rows) / len(rows) for name in rows[0]}, rules=rules
    )


def brief_for(body: Body, fit: Fit = Fit.SEMI) -> Brief:
    """The brief in poplin."""
    return Brief(body, POPLIN, fit)


def bodice(brief: Brief, **options: Any) -> Garment:
    """The darted bodice, for sleeves; tests that ask for the same one share it."""
    return _bodice(brief, DartedBodiceOptions(**options))


@lru_cache(maxsize=128)
def _bodice(brief: Brief, options: DartedBodiceOptions) -> Garment:
    return draft_darted_bodice.apply(begin_garment([draft_woven_sleeve]), brief, options)


def sleeved(brief: Brief, **options: Any) -> Garment:
    """The darted bodice to the waist with sleeves; the options are the sleeves'."""
    return _sleeved(brief, WovenSleeveOptions(**options))


@lru_cache(maxsize=128)
def _sleeved(brief: Brief, options: WovenSleeveOptions) -> Garment:
    return draft_woven_sleeve.apply(bodice(brief), brief, options)


def faults(garment: Garment, brief: Brief) -> list[Finding]:
    """Errors and warnings of the proof, but for what a closure will mend."""
    found = prove(garment, brief).findings
    return [
        f
        for f in found
        if f.severity is not Severity.NOTE and f.code not in PULLED_ON | BODYS_OWN and not _too_large(f)
    ]


def _too_large(found: Finding) -> bool:
    """Whether an armhole is larger than usual, as that of a deep or flat chest is."""
    armhole = found.code in {"fit.armhole_length", "fit.armhole_width"}
    return armhole and isinstance(found.limit, float) and isinstance(found.value, float) and found.value > found.limit


def told(garment: Garment, name: str) -> float:
    """What a rule gave way by (mm); 0 where it tells nothing."""
    return next((fact.value for fact in garment.facts if fact.name == name), 0.0)
