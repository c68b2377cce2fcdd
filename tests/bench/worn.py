"""Garments draped on bodies: ``python -m tests.bench.worn [design ...]``, every design if none is named.

``python -m tests.bench.worn levels`` lays the mean stretch of thirty garments at bust, waist and hip beside what the
person's girths and the garment's make of it.

Told of each, on the soprano: what voids it or why it is refused, its mean stretch at each level beside what girths
alone make likely, how long it took, and whether a second run gives the same bytes. Beside them closed forms that take
too long for the tests: tubes on a cylinder and a cone, fine and coarse, and a sheet that hangs.
"""

from __future__ import annotations

import math
import sys
import time
from collections.abc import Iterator
from itertools import chain
from typing import Final

import numpy as np

from drafting.body import Body, Rules
from drafting.cloth import Fit
from drafting.errors import DraftingError
from drafting.garment import Brief, Garment
from drafting.garment.model import MAIN_CLOTH
from drafting.job import draft_job
from drafting.saying import render
from drafting.worn import CannotWear, dress_body
from drafting.worn.cloth import GRAVITY, INERT, WEIGHT, make_cloth, run_cloth, set_pace, stand_grids, stiffness_of
from drafting.worn.distance import DistanceGrid
from drafting.worn.figures import take_figures
from drafting.worn.fitting import fit_body
from drafting.worn.mesh import mesh_garment
from drafting.worn.shape import Floats
from drafting.worn.soundness import find_voids
from tests.bench.worn_bodies import choose_bodies
from tests.body.people import GROUPS, people
from tests.garment.small import seam, sheet
from tests.garments import JERSEY, RIB
from tests.laws.jobs import catalogue, job_of, with_changes

RULES: Final[tuple[Rules, ...]] = ("women", "men")


LEVELS_APART: Final = 0.02
"""By so much may the mean stretch of a level differ from what girths make likely; what is looser is asked for none."""


def main(names: list[str]) -> int:
    """Print all figures; status 0."""
    if names == ["levels"]:
        for line in tell_thirty():
            print(line, flush=True)
        return 0
    for line in chain(tell_closed_forms(), tell_bodies(20)):
        print(line, flush=True)
    for name in names or sorted(catalogue().designs):
        for line in tell_design(name):
            print(line, flush=True)
    return 0


def tell_closed_forms() -> Iterator[str]:
    """Yield what closed forms ask and what was found."""
    for step in (24.0, 12.0, 8.0):
        for fine in (1, 2):
            asked, found = hang_sheet(step, fine)
            yield f"sheet that hangs, {step:.0f} mm, 1/{4800 * fine} s: longer by {found:.2f} mm, asked {asked:.2f}"
        for slope in (0.0, 0.2):
            asked, found, most = dress_cone(step, slope)
            yield (
                f"tube on a {'cone' if slope else 'cylinder'}, {step:.0f} mm: stretched {found:.2%} on average, "
                f"95th percentile {most:.2%}, asked {asked:.2%}"
            )


def hang_sheet(step: float, fine: int) -> tuple[float, float]:
    """How much longer (mm) a strip grows by its own weight: by g L2 / (2 k), and as it was found."""
    strip = sheet("strip", width=100.0, height=400.0)
    mesh = mesh_garment(Garment((strip,)), (strip,), step)
    at = np.concatenate([mesh.flat, np.zeros((len(mesh.flat), 1))], axis=1)
    made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True, inert=INERT)
    made.points.w[mesh.flat[:, 1] > 399.0] = 0.0
    heavy = 20.0
    nothing = stand_grids([DistanceGrid(np.full(3, 9000.0), 6.0, np.full((2, 2, 2), 50.0, dtype=np.float32))])
    run_cloth(made, nothing, set_pace(1 / (4800 * fine), gravity=heavy, damping=20.0), 12000 * fine)
    asked = WEIGHT[JERSEY.kind] * GRAVITY * heavy * 0.4**2 / (2.0 * stiffness_of(JERSEY)[1])
    return 1000.0 * asked, -1000.0 * float(made.x[mesh.flat[:, 1] < 1.0, 1].mean())


def dress_cone(step: float, slope: float) -> tuple[float, float, float]:
    """The stretch of a tube on a cone: by girths, as found on average, and its 95th percentile."""
    girth, tall, radius = 600.0, 200.0, 100.0
    tube = sheet("round", width=girth, height=tall)
    garment = Garment((tube,), (seam("s", ("round.right", "-round.left")),))
    mesh = mesh_garment(garment, garment.pieces, step)
    angle = mesh.flat[:, 0] / girth * 2.0 * math.pi
    at = np.stack([135.0 * np.sin(angle), mesh.flat[:, 1], 135.0 * np.cos(angle)], axis=1)
    made = make_cloth(mesh, at, {"main": JERSEY}, {}, closed=True, inert=INERT)
    ends = (mesh.flat[:, 1] < 1.0) | (mesh.flat[:, 1] > tall - 1.0)
    run_cloth(
        made, stand_grids([_cone(radius, slope)]), set_pace(1 / 4800, gravity=0.0, damping=10.0, friction=0.9), 6000
    )
    x, t, rest = made.x, made.sheet.triangles, made.sheet.rest
    across = (x[t[:, 1]] - x[t[:, 0]]) * rest[:, [0]] + (x[t[:, 2]] - x[t[:, 0]]) * rest[:, [2]]
    strain = (np.sqrt((across**2).sum(axis=1)) - 1.0)[~ends[mesh.triangles].any(axis=1)]
    height = 1000.0 * x[:, 1].mean()
    cosine = math.cos(math.atan(slope))
    asked = 2.0 * math.pi * (radius + slope * height + 1.0 / cosine) / girth - 1.0
    return asked, float(strain.mean()), float(np.quantile(strain, 0.95))


def _cone(radius: float, slope: float) -> DistanceGrid:
    """Distances from an upright cone that widens upwards."""
    start, cell = np.array([-180.0, -60.0, -180.0]), 6.0
    x, y, z = np.meshgrid(*(start[k] + cell * np.arange(n) for k, n in enumerate((61, 61, 61))), indexing="ij")
    far: Floats = (np.hypot(x, z) - radius - slope * y) * math.cos(math.atan(slope))
    return DistanceGrid(start, cell, far.astype(np.float32))


def tell_bodies(every: int) -> Iterator[str]:
    """Yield of how many of every so many surveyed people the mesh can't follow a girth within 5 mm, and the worst."""
    for rules in RULES:
        groups = [group for group, whose in GROUPS.items() if whose == rules]
        bodies = [Body(group, each, rules=rules) for group in groups for each in people(group)[::every]]
        missed = [each for body in bodies for each in fit_body(body).missed]
        worst = max((abs(each.off) for each in missed), default=0.0)
        named = sorted({each.name for each in missed})
        yield f"{len(bodies)} {rules}: {len(missed)} girths off by more than 5 mm, worst {worst:.0f} mm, {named}"


def tell_design(name: str) -> Iterator[str]:
    """Yield what became of a design of the catalogue on the soprano."""
    try:
        job = job_of(name)
        cloths = {MAIN_CLOTH: job.brief.cloth, "rib": RIB, **job.brief.cloths}
        garment = draft_job(job)
        start = time.process_time()
        worn = dress_body(garment, job.brief.body, cloths)
    except CannotWear as error:
        yield f"{name}: refused, {render(error.reason, 'cm')}"
        return
    except DraftingError as error:
        yield f"{name}: {error}"
        return
    took = time.process_time() - start
    voids = [render(words, "cm") for words in find_voids(worn)]
    again = dress_body(garment, job.brief.body, cloths)
    same = bool((again.points == worn.points).all())
    yield f"{name}: {took:.1f} s, {'the same again' if same else 'NOT the same again'}, {'; '.join(voids) or 'sound'}"
    for level in take_figures(worn, job.brief.body, cloths).levels:
        yield f"    {level.name}: {level.mean:.1%}, at most {level.highest:.1%}, by girths {level.by_girth:.1%}"


def tell_thirty() -> Iterator[str]:
    """Yield of thirty garments the mean stretch at each level beside that of the girths, and how many are apart."""
    apart: list[float] = []
    count = 0
    for who, body in choose_bodies():
        for name, fit in (("basic-tee", Fit.CLOSE), ("tank-top", Fit.CLOSE), ("knit-top", Fit.SEMI)):
            usual = job_of(name)
            brief = Brief(body, JERSEY, fit, {"rib": RIB})
            cloths = {MAIN_CLOTH: JERSEY, "rib": RIB}
            try:
                worn = dress_body(draft_job(with_changes(usual, [], brief)), body, cloths)
            except (CannotWear, DraftingError) as error:
                yield f"{name}, {fit}, {who}: {error}"
                continue
            if voids := [render(words, "cm") for words in find_voids(worn)]:
                yield f"{name}, {fit}, {who}: void, {'; '.join(voids)}"
                continue
            count += 1
            told = []
            for level in take_figures(worn, body, cloths).levels:
                asked, found = max(level.by_girth, 0.0), max(level.mean, 0.0)
                apart.append(abs(found - asked))
                told.append(f"{level.name} {found:.1%} of {asked:.1%}")
            yield f"{name}, {fit}, {who}: {', '.join(told)}"
    within = sum(each <= LEVELS_APART for each in apart)
    yield (
        f"{count} garments, {len(apart)} levels: {within} within {LEVELS_APART:.0%}, apart by "
        f"{float(np.mean(apart)):.1%} on average and {max(apart):.1%} at most"
    )


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
