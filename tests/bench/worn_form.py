"""The body that garments are draped on beside the wearer: ``python -m tests.bench.worn_form [every]``, each 20th.

Of each so many-th surveyed body, women and men of both surveys, is taken on the fitted mesh what is measured round the
neck base and from there, the trunk's levels and girths. Printed of each figure is by how much the mesh has more, on
average, at least and at most, and how many bodies are off by more than they may be.
"""

from __future__ import annotations

import math
import sys
import time
from collections import defaultdict
from collections.abc import Iterator, Mapping
from typing import Final

from drafting.body import Body, make_body
from drafting.worn.fitting import FittedBody, fit_body
from drafting.worn.landmarks import BUST_POINT, NAPE, PIT, SEAT, SIDE_NECK, SIDE_NECK_RIGHT
from drafting.worn.taped import SIDES, tape_shoulder
from tests.body.people import GROUPS, people

MAY_BE_OFF: Final[Mapping[str, float]] = {"mm": 5.0, "degrees": 1.5}


def take_form(fitted: FittedBody, body: Body) -> Iterator[tuple[str, str, float]]:
    """Yield by how much a fitted mesh has more than the wearer: what, its unit, and how much."""
    points, taken = fitted.points, {each.name: each.off for each in fitted.taken}
    for name in ("neck_base_girth", "neck_girth", "side_neck_point_to_waist_over_bust"):
        yield name, "mm", taken[name]
    yield (
        "girths beside the neck's, the worst",
        "mm",
        max((off for name, off in taken.items() if name.endswith("girth") and not name.startswith("neck")), key=abs),
    )
    for name, at in {
        "back neck point": NAPE, "front neck point": PIT, "side neck point, left": SIDE_NECK,
        "side neck point, right": SIDE_NECK_RIGHT, "bust point": BUST_POINT, "hip": SEAT,
    }.items():  # fmt: skip
        stem = name.split(",")[0].replace(" ", "_")
        yield f"{name}, its height", "mm", float(points[at, 1]) - body[f"{stem}_height"]
    yield "waist, its height by the tape down the back", "mm", fitted.waist - body["waist_height"]
    for side in SIDES:
        length, slope = tape_shoulder(points, side)
        yield f"shoulder length, {side}", "mm", length - body["shoulder_length"]
        yield f"shoulder slope, {side}", "degrees", math.degrees(slope - body[f"shoulder_slope_{side}"])


def main(every: int) -> int:
    """Print all figures; status 0."""
    for group in (group for group in GROUPS if group.startswith("bodies_")):
        found: dict[tuple[str, str], list[float]] = defaultdict(list)
        start = time.process_time()
        for given in people(group)[::every]:
            body = make_body(group, given, rules=GROUPS[group])
            for name, unit, off in take_form(fit_body(body), body):
                found[name, unit].append(off)
        count = len(next(iter(found.values())))
        print(f"{group}: {count} bodies, {(time.process_time() - start) / count:.1f} s of CPU each")
        for (name, unit), values in found.items():
            over = sum(abs(value) > MAY_BE_OFF[unit] for value in values)
            mean = math.fsum(values) / count
            print(f"    {name}: {mean:.1f} {unit}, {min(values):.1f} to {max(values):.1f}; {over} off", flush=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 20))
