"""Slips of the tape: ``python -m tests.bench.slips [every]``; each measurement of each ``every``-th body (400) slipped.

By 10 cm up and down, two digits swapped, half or twice of it, inches taken for centimetres or the reverse. Each body is
given the measurements that designs need, drafted and proven in a knit and a woven. Counted are the slips that are
proven without a warning or refusal that the true body hasn't: of all, and of those that no one surveyed has, by
themselves or in a ratio of ``pairs.json``. Then, where few measurements are taken, the share of slips of 10 cm
of each that is doubted or asked about, and of true bodies. Nothing is judged here: the tests do that.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator, Mapping

from drafting.body import find_doubts, make_body, measurements
from drafting.body.contradiction import pairs
from drafting.body.likely import JUDGED
from drafting.body.survey import Rules
from drafting.errors import DraftingError
from drafting.finishing import finish
from drafting.garment import Brief
from drafting.job import draft_job
from drafting.proof import Severity, prove
from tests.blocks_woven.people import POPLIN
from tests.body.people import GROUPS, people, some
from tests.garments import JERSEY, RIB
from tests.laws.jobs import job_of, with_changes

DESIGNS = {"knit-top": (JERSEY, RIB), "fitted-bodice": (POPLIN, POPLIN)}
NOT_TAPED = ("body_mass", "shoulder_slope", "shoulder_slope_left", "shoulder_slope_right")
SURVEYS = [group for group in GROUPS if group.startswith("bodies_")]


def taped() -> list[str]:
    """The measurements with a tape that the designs need, and those that everything needs."""
    needed = {name for design in DESIGNS for planned in job_of(design).steps for name in planned.step.needs}
    known = measurements()
    return [name for name, each in known.items() if (name in needed or each.needed) and name not in NOT_TAPED]


def slips(value: float) -> Iterator[tuple[str, float]]:
    """The slips of a measurement (mm), each with its name."""
    yield from (("+10 cm", value + 100.0), ("-10 cm", value - 100.0), ("half", value / 2.0), ("twice", value * 2.0))
    digits = f"{value / 10.0:.1f}"
    swapped = digits[1] + digits[0] + digits[2:]
    if swapped != digits:
        yield "swapped", float(swapped) * 10.0
    yield from (("cm for in", value * 2.54), ("in for cm", value / 2.54))


def say_findings(given: Mapping[str, float], rules: Rules, design: str) -> frozenset[tuple[str, str]]:
    """What is found of a body in a design, notes left out; a refusal is told as one."""
    try:
        cloth, rib = DESIGNS[design]
        brief = Brief(make_body("", given, rules=rules), cloth, job_of(design).brief.fit, {"rib": rib})
        job = with_changes(job_of(design), [], brief)
        garment = draft_job(job)
        proof = prove(garment, brief, finish(garment, job.finish))
    except DraftingError:
        return frozenset({("refused", "")})
    return frozenset((each.code, each.place) for each in proof.findings if each.severity is not Severity.NOTE)


def is_beyond(given: Mapping[str, float], name: str, rules: Rules) -> bool:
    """Whether a measurement is one that no one surveyed has, alone or in a ratio to another that is given."""
    surveyed = [person for group in SURVEYS if GROUPS[group] == rules for person in people(group)]
    alone = [person[name] for person in surveyed]
    if not min(alone) <= given[name] <= max(alone):
        return True
    for pair in pairs():
        if name in (pair.first, pair.second) and pair.first in given and pair.second in given:
            ratios = [person[pair.first] / person[pair.second] for person in surveyed]
            if not min(ratios) <= given[pair.first] / given[pair.second] <= max(ratios):
                return True
    return False


def tell_taken(every: int) -> None:
    """Print, by survey, of each measurement what share of slips of 10 cm is doubted, or asked about, and of true ones.

    First of the five that everything is drafted by, then with five more, as a top asks for them.
    """
    five = (*JUDGED, "back_neck_point_to_waist", "stature")
    for taken in (five, (*five, "upper_arm_girth", "wrist_girth", "outer_arm_length", "shoulder_length")):
        for group in SURVEYS:
            bodies, rules = [some(person, *taken) for person in people(group)], GROUPS[group]
            falsely = Counter(doubt.name for given in bodies for doubt in find_doubts(given, rules))
            print(f"{group}, {len(taken)} taken; told of a slip of 10 cm, and of a true body:", end=" ")
            for name in taken:
                slipped = [{**each, name: each[name] + by} for each in bodies[::every] for by in (100.0, -100.0)]
                seen = sum(any(doubt.name == name for doubt in find_doubts(given, rules)) for given in slipped)
                print(f"{name} {seen / len(slipped):.0%} and {falsely[name] / len(bodies):.1%}", end="; ")
            print()


def main(every: int) -> int:
    """Slip, print, and return 0."""
    start, names = time.perf_counter(), taped()
    tried, unseen, beyond, unseen_beyond = (Counter[str]() for _ in range(4))
    measures = {"all": Counter[str](), "10 cm": Counter[str]()}
    for group in SURVEYS:
        for person in people(group)[::every]:
            given = {name: person[name] for name in names}
            true = {design: say_findings(given, GROUPS[group], design) for design in DESIGNS}
            for name in names:
                for kind, value in slips(given[name]):
                    slipped = {**given, name: value}
                    found = [say_findings(slipped, GROUPS[group], design) - true[design] for design in DESIGNS]
                    quiet, out = not all(found), is_beyond(slipped, name, GROUPS[group])
                    tried[kind] += 1
                    beyond[kind] += out
                    unseen[kind] += quiet
                    unseen_beyond[kind] += quiet and out
                    measures["10 cm" if kind.endswith("10 cm") else "all"][name] += quiet
    print(f"{len(names)} measurements of {sum(len(people(group)[::every]) for group in SURVEYS)} bodies in", end=" ")
    print(f"{', '.join(DESIGNS)}; {time.perf_counter() - start:.0f} s")
    for kind, count in tried.items():
        print(f"{kind}: {unseen[kind]} of {count} without a word; {unseen_beyond[kind]} of {beyond[kind]} beyond all")
    for kind, counted in measures.items():
        told = ", ".join(f"{name} {count}" for name, count in counted.most_common() if count)
        print(f"slipped by {kind}, without a word: {told or 'none'}")
    tell_taken(max(1, every // 50))
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 400))
