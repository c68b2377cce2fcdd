"""Designs draped on ten very different bodies: ``python -m tests.bench.worn_bodies [design ...]``.

The bodies are surveyed ones that stand near an end of what a cutter calls a figure: slim, full bust, full hip, short,
tall, sloping, square, belly. Printed of each design on each body is whether the drape is void and by what, else how far
the cloth is stretched, how much higher the hem hangs in front, what of front and back lies in folds across, how much
higher than the body's the levels lie, and how far neck and armholes stand off; at the end the share that is sound.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from drafting.body import Body, make_body
from drafting.errors import DraftingError
from drafting.garment import Brief
from drafting.garment.model import MAIN_CLOTH
from drafting.job import draft_job
from drafting.saying import render
from drafting.worn import CannotWear, dress_body
from drafting.worn.figures import take_figures
from drafting.worn.soundness import find_voids
from tests.blocks_woven.people import POPLIN
from tests.body.people import people
from tests.garments import JERSEY, RIB
from tests.laws.jobs import catalogue, job_of, with_changes
from tests.laws.strategies import WOVENS

WOMEN, MEN = "bodies_2012_women", "bodies_2012_men"
SHARE: Final = 0.03
"""How many of the surveyed stand farther out than the body that is taken."""

FOR_MEN: Final = ("basic-tee", "knit-top", "tank-top")

FIGURES: Final[Mapping[str, Callable[[Mapping[str, float]], float]]] = {
    "slim": lambda a: -a["bust_girth"] / a["stature"],
    "full bust": lambda a: a["bust_girth"] - a["under_bust_girth"],
    "full hip": lambda a: a["hip_girth"] / a["waist_girth"],
    "short": lambda a: -a["stature"],
    "tall": lambda a: a["stature"],
    "sloping": lambda a: a["shoulder_slope"],
    "square": lambda a: -a["shoulder_slope"],
    "belly": lambda a: a["waist_girth"] / a["hip_girth"],
}
"""What orders the surveyed, most of it last."""


def choose_bodies() -> Iterator[tuple[str, Body]]:
    """Yield the women by what each stands for, and two men."""
    for name, order in FIGURES.items():
        given = sorted(people(WOMEN), key=order)[round((1.0 - SHARE) * len(people(WOMEN)))]
        yield name, make_body(name, given, rules="women")
    for name in ("slim", "belly"):
        given = sorted(people(MEN), key=FIGURES[name])[round((1.0 - SHARE) * len(people(MEN)))]
        yield f"{name} man", make_body(name, given, rules="men")


def tell_worn(design: str, body: Body) -> tuple[str, str]:
    """Drape a design on a body; return what became of it, in a word, and its figures."""
    cloths = (POPLIN, POPLIN) if design in WOVENS else (JERSEY, RIB)
    usual = job_of(design)
    brief = Brief(body, cloths[0], usual.brief.fit, {"rib": cloths[1]})
    try:
        garment = draft_job(with_changes(usual, [], brief))
        worn = dress_body(garment, body, {MAIN_CLOTH: cloths[0], "rib": cloths[1]})
    except CannotWear as error:
        return "refused", render(error.reason, "cm")
    except DraftingError as error:
        return "not drafted", str(error)
    voids = "; ".join(render(words, "cm") for words in find_voids(worn))
    taken = take_figures(worn, body, {MAIN_CLOTH: cloths[0], "rib": cloths[1]})
    stretched = ", ".join(f"{level.mean:.1%}" for level in taken.levels)
    heights = ", ".join(f"{level.height:.0f}" for level in taken.levels)
    hem = f"hem {taken.hem_front - taken.hem_back:.0f} mm; folded {taken.folded_front:.0f}, {taken.folded_back:.0f} mm"
    edges = ", ".join(f"{edge.name} {edge.off:.0f}" for edge in taken.edges)
    told = f"stretched {stretched}; {hem}; levels {heights} mm higher; off the body {edges} mm"
    return "void" if voids else "sound", f"{told}. {voids}"


def main(names: list[str]) -> int:
    """Print all figures; status 0."""
    counts: Counter[str] = Counter()
    for name in names or sorted(catalogue().designs):
        for who, body in choose_bodies():
            if body.rules == "men" and name not in FOR_MEN:
                continue
            start = time.process_time()
            became, told = tell_worn(name, body)
            counts[became] += 1
            print(f"{name}, {who}: {became}, {time.process_time() - start:.0f} s; {told}", flush=True)
    print(", ".join(f"{count} {became}" for became, count in counts.most_common()))
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
