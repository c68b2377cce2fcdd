"""What a drape must keep to, whatever is worn: ``python -m tests.bench.worn_laws [law ...]``, all if none is named.

A garment cut 10 cm longer hangs so much longer; half the step, a finer mesh and another order of the pieces change no
figure by more than it may be off; a circle skirt's hem hangs as far below its waist as its cloth is long. All on the
soprano. Printed is by how much each level's mean stretch (points) and height, and the hem, differ (mm).
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.body import Body
from drafting.cloth import Cloth
from drafting.garment import Garment
from drafting.saying import render
from drafting.worn import Worn, dress_body, dressing
from drafting.worn.dressing import hem_points
from drafting.worn.figures import WornFigures, take_figures
from drafting.worn.soundness import find_voids
from tests.bench.worn_faults import draft
from tests.garments import singer

LONGER: Final = 100.0
FINER: Final = 9.0
DESIGNS: Final = ("basic-tee", "fitted-bodice", "diagonal-overlay-top")
SKIRT: Final = "half-circle-dress"


def drape(garment: Garment, cloths: Mapping[str, Cloth], body: Body, step: float | None = None) -> Worn:
    """Drape a garment, on a mesh of another step (mm) if one is asked for; a void one is told at once."""
    worn = dress_body(garment, body, cloths) if step is None else dress_body(garment, body, cloths, step=step)
    for words in find_voids(worn):
        print(f"void: {render(words, 'cm')}")
    return worn


def tell_apart(one: WornFigures, two: WornFigures) -> str:
    """Say by how much two drapes differ."""
    pairs = list(zip(one.levels, two.levels, strict=True))
    strains = ", ".join(f"{b.mean - a.mean:+.2%}" for a, b in pairs)
    most = ", ".join(f"{b.highest - a.highest:+.2%}" for a, b in pairs)
    heights = ", ".join(f"{b.height - a.height:+.1f}" for a, b in pairs)
    hems = f"{two.hem_front - one.hem_front:+.1f}, {two.hem_back - one.hem_back:+.1f}"
    return f"means {strains}; most {most}; levels {heights} mm higher; hem {hems} mm higher in front, behind"


def try_longer(design: str) -> str:
    """Say how much lower the hem of a garment hangs that is cut longer."""
    return _try(design, lambda body: draft(design, body, [("lengthen", {"by": LONGER})])[0])


def try_order(design: str) -> str:
    """Say what differs where the pieces come in another order."""

    def turn(body: Body) -> Garment:
        garment = draft(design, body)[0]
        return replace(garment, pieces=garment.pieces[::-1])

    return _try(design, turn)


def try_step(design: str) -> str:
    """Say what differs with half the step of time, while it comes to rest."""
    paces = {name: dressing.__dict__[name] for name in ("_SETTLE", "_REST")}
    one = _take(design)
    try:
        for name, pace in paces.items():
            dressing.__dict__[name] = pace._replace(dt=pace.dt / 2.0)
        return tell_apart(one, _take(design))
    finally:
        dressing.__dict__.update(paces)


def try_mesh(design: str) -> str:
    """Say what differs on a finer mesh."""
    return tell_apart(_take(design), _take(design, step=FINER))


def _try(design: str, other: Callable[[Body], Garment]) -> str:
    body = singer("soprano")
    garment, cloths = draft(design, body)
    figures = [take_figures(drape(each, cloths, body), body, cloths) for each in (garment, other(body))]
    return tell_apart(figures[0], figures[1])


def _take(design: str, step: float | None = None) -> WornFigures:
    body = singer("soprano")
    garment, cloths = draft(design, body)
    return take_figures(drape(garment, cloths, body, step), body, cloths)


def try_skirt() -> str:
    """Say how far below its waist the hem of a circle skirt hangs, beside how long its cloth is from there."""
    body = singer("soprano")
    garment, cloths = draft(SKIRT, body)
    worn = drape(garment, cloths, body)
    hem = hem_points(worn.mesh)
    shares, slants = list[float](), list[float]()
    for each, start in zip(worn.mesh.pieces, worn.mesh.starts, strict=True):
        own = hem[(hem >= start) & (hem < start + len(each.flat))]
        waists = [line.name for line in each.piece.ring if "waist" in line.name]
        if not len(own) or not waists:
            continue
        top = np.unique(np.concatenate([start + each.places[name][1] for name in waists]))
        apart = worn.mesh.flat[own][:, None] - worn.mesh.flat[top][None]
        far = np.sqrt((apart**2).sum(axis=2))
        near = far.argmin(axis=1)
        long = far[np.arange(len(own)), near]
        way = worn.points[own] - worn.points[top[near]]
        shares.extend((-way[:, 1] / long).tolist())
        slants.extend((np.sqrt((way**2).sum(axis=1)) / long).tolist())
    return (
        f"of its cloth's length the hem hangs below the waist by {min(shares):.1%} to {max(shares):.1%}, "
        f"{float(np.mean(shares)):.1%} on average; straight from the waist to the hem it is {max(slants):.1%} at most"
    )


LAWS: Final[Mapping[str, Callable[[str], str]]] = {
    "longer": try_longer,
    "order": try_order,
    "step": try_step,
    "mesh": try_mesh,
}


def tell_law(name: str) -> Iterator[str]:
    """Yield what became of each design by a law, or of the skirt."""
    if name == "skirt":
        yield f"skirt, {SKIRT}: {try_skirt()}"
        return
    for design in DESIGNS:
        yield f"{name}, {design}: {LAWS[name](design)}"


def main(names: list[str]) -> int:
    """Print all that is found; status 0."""
    for name in names or [*LAWS, "skirt"]:
        for line in tell_law(name):
            print(line, flush=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
