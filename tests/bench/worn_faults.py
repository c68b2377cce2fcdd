"""Bodies that a draft knew nothing of, before a change and after: ``python -m tests.bench.worn_faults [fault ...]``.

Each garment is drafted for the soprano by her girths alone and draped on an invented body that is hers but for one
fault: a lower shoulder, a broader back, thicker arms, a higher hip, a larger waist. Printed is what a fitter says of
the drape, then of the same draft with the change that the fitting sheet names, and what differs. With ``plain`` the
same is said of ordinary surveyed women in what was drafted for each: of those nothing should be.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

import numpy as np

from drafting.body import Body, make_body
from drafting.cloth import Cloth
from drafting.garment import Brief, Garment
from drafting.garment.model import MAIN_CLOTH
from drafting.job import draft_job
from drafting.proof.words.fitting import fitting_sheet
from drafting.saying import render
from drafting.worn import Worn, dress_body, dressing
from drafting.worn.answers import answer_folds
from drafting.worn.comparing import tell_changes
from drafting.worn.figures import WornFigures, take_figures
from drafting.worn.fitting import FittedBody, fit_body
from drafting.worn.landmarks import NAPE, TRUNK_PARTS
from drafting.worn.shape import Floats
from drafting.worn.soundness import find_voids
from tests.blocks_woven.people import POPLIN
from tests.body.people import people
from tests.garments import JERSEY, RIB, SINGERS, singer
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import WOVENS

Bent = Callable[[FittedBody], Floats]
Change = tuple[str, Mapping[str, Any]]
BODICE, TEE, TANK = "fitted-bodice", "basic-tee", "tank-top"
PLAIN: Final = 8
"""So many ordinary women, evenly by their bust between its tenths."""


def _bump(off: Floats, wide: float) -> Floats:
    out: Floats = np.exp(-((off / wide) ** 2))
    return out


def bend_back(fitted: FittedBody) -> Floats:
    """Her upper back 8 % broader and 18 mm deeper."""
    points, on_trunk = fitted.points.copy(), np.isin(fitted.shape.part, TRUNK_PARTS)
    level = _bump(points[:, 1] - points[NAPE, 1] + 130.0, 80.0) * on_trunk
    behind = np.clip((points[on_trunk, 2].mean() - points[:, 2]) / 50.0, 0.0, 1.0)
    points[:, 2] -= 18.0 * level * behind
    points[:, 0] *= 1.0 + 0.08 * level * behind
    return points


def bend_hip(fitted: FittedBody) -> Floats:
    """Her left hip 45 mm out, high up."""
    points, on_trunk = fitted.points.copy(), np.isin(fitted.shape.part, TRUNK_PARTS)
    aside = np.clip(points[:, 0] / 80.0, 0.0, 1.0) * on_trunk
    points[:, 0] += 45.0 * aside * _bump(points[:, 1] - fitted.waist + 80.0, 55.0)
    return points


def _body(**more: float) -> Body:
    """The soprano with more of some measurements."""
    given = {name: float(value) for name, value in SINGERS["soprano"][1].items()}
    hers = singer("soprano")
    return make_body("soprano", given | {name: hers[name] + by for name, by in more.items()}, rules="women")


FAULTS: Final[Mapping[str, tuple[str, Body, Bent | None, Sequence[Change]]]] = {
    "low": (BODICE, _body(shoulder_slope_left=math.radians(9.0), shoulder_slope_right=0.0), None,
            [("low-shoulder", {"side": "left", "by": 12.0})]),
    "back": (BODICE, _body(), bend_back, [("broad-back", {"by": 12.0})]),
    "arm": (TEE, _body(upper_arm_girth=60.0), None, [("full-upper-arm", {"by": 20.0})]),
    "woven-arm": (BODICE, _body(upper_arm_girth=60.0), None, [("full-upper-arm", {"by": 20.0})]),
    "hip": (BODICE, _body(), bend_hip, [("high-hip", {"side": "left", "by": 15.0})]),
    "waist": (BODICE, _body(waist_girth=90.0), None, []),
}  # fmt: skip


def draft(design: str, body: Body, changes: Sequence[Change] = ()) -> tuple[Garment, Mapping[str, Cloth]]:
    """Return a design drafted for a body with some changes, and its cloths."""
    main, rib = (POPLIN, POPLIN) if design in WOVENS else (JERSEY, RIB)
    usual = job_of(design)
    brief = Brief(body, main, usual.brief.fit, {"rib": rib})
    return draft_job(with_changes(usual, list(changes), brief)), {MAIN_CLOTH: main, "rib": rib}


def drape(garment: Garment, cloths: Mapping[str, Cloth], body: Body, bent: Bent | None = None) -> Worn:
    """Drape a garment on a body whose mesh is bent."""

    def bend(whose: Body) -> FittedBody:
        fitted = fit_body(whose)
        return fitted if bent is None else replace(fitted, points=bent(fitted))

    dressing.__dict__["fit_body"] = bend
    try:
        return dress_body(garment, body, cloths)
    finally:
        dressing.__dict__["fit_body"] = fit_body


def tell(name: str, design: str, body: Body, worn: Worn, cloths: Mapping[str, Cloth]) -> tuple[WornFigures, list[str]]:
    """Return a drape's figures, and what is said of it."""
    figures = take_figures(worn, body, cloths)
    job = job_of(design)
    folds = fitting_sheet(worn.mesh.garment, replace(job.brief, body=body), job.advise).folds
    said = [f"void, {words}" for words in find_voids(worn)] or [render(w, "cm") for w in answer_folds(figures, folds)]
    return figures, [f"{name}, {design}: {words}" for words in said or ["nothing"]]


def tell_fault(name: str) -> Iterator[str]:
    """Yield what is said before a change and after it, and what differs."""
    design, body, bent, changes = FAULTS[name]
    taken = []
    for when, asked in (("before", ()), ("after", changes)) if changes else (("before", ()),):
        garment, cloths = draft(design, singer("soprano"), asked)
        figures, said = tell(f"{name}, {when}", design, body, drape(garment, cloths, body, bent), cloths)
        taken.append(figures)
        yield from said
    if changes:
        yield from (f"{name}: {render(words, 'cm')}" for words in tell_changes(*taken))


def tell_plain() -> Iterator[str]:
    """Yield what is said of ordinary women; each answer is a false one, or she is none."""
    women = sorted(people("bodies_2012_women"), key=lambda each: each["bust_girth"])
    women = women[len(women) // 10 : -len(women) // 10]
    for number in range(PLAIN):
        body = make_body(f"{number}", women[(2 * number + 1) * len(women) // (2 * PLAIN)], rules="women")
        for design in (TEE, BODICE, TANK):
            garment, cloths = draft(design, body)
            yield from tell(f"plain {number}", design, body, drape(garment, cloths, body), cloths)[1]


def main(names: list[str]) -> int:
    """Print all that is said; status 0."""
    for name in names or [*FAULTS, "plain"]:
        for line in tell_plain() if name == "plain" else tell_fault(name):
            print(line, flush=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
