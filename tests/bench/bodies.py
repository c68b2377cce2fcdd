"""Bodies through the catalogue: ``python -m tests.bench.bodies [every] [few]``; each ``every``-th of both surveys (60).

Each body is drafted, proven and cut in every design, in a knit or in the woven that the design is for; printed are the
shares proven and refused, by what, and the worst figures. With ``few`` only stature, three girths and back length are
told, the one cloth is a jersey of 30 % or a plain cotton, bands too, and every fit is tried: what someone new has.
Nothing is
judged here: the tests do that.
"""

from __future__ import annotations

import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field

from drafting.body import Body, make_body
from drafting.cloth import Fit
from drafting.errors import CannotDraft, DraftingError
from drafting.finishing import finish
from drafting.garment import Brief, Garment
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.lengths import take_lengths
from tests.blocks_woven.people import POPLIN
from tests.body.people import GROUPS, NEEDED, people, some
from tests.garments import JERSEY, RIB
from tests.laws.jobs import catalogue, job_of, with_changes
from tests.laws.strategies import WOVENS

TOLD = ("centre_front_off", "shoulder_lengthened", "bust_raised")
"""Facts in which a rule gave way: by how many mm."""

MEASURES = ("centre front, neckline to waist", "side neck point to bust point", "back neck point to waist")
"""What is taken on the pieces of a woven and set against the body's."""


@dataclass
class Figures:
    """What became of the bodies in one design."""

    bodies: int = 0
    proven: int = 0
    refused: Counter[str] = field(default_factory=Counter)
    errors: Counter[str] = field(default_factory=Counter)
    by_rules: Counter[tuple[str, bool]] = field(default_factory=Counter)
    warned: Counter[str] = field(default_factory=Counter)
    off: float = 0.0
    facts: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))

    def add(self, design: str, brief: Brief) -> None:
        """Draft, prove and cut one body."""
        self.bodies += 1
        job = with_changes(job_of(design), [], brief)
        try:
            garment = draft_job(job)
            proof = prove(garment, brief, finish(garment, job.finish))
        except CannotDraft as error:
            self.refused[f"{error.step}: {', '.join(error.because)}: {error.reason}"[:100]] += 1
            self.by_rules[brief.body.rules, False] += 1
            return
        except DraftingError as error:
            self.refused[f"not cut: {error}"[:60]] += 1
            return
        self.proven += proof.passed
        self.by_rules[brief.body.rules, proof.passed] += 1
        self.errors.update({f.code for f in proof.of(Severity.ERROR)})
        self.warned.update({f.code for f in proof.of(Severity.WARNING)})
        self.off = max([self.off, *(abs(row.off) for row in proof.eases)])
        self._tell(garment, brief)

    def _tell(self, garment: Garment, brief: Brief) -> None:
        facts = {fact.name: fact.value for fact in garment.facts}
        for name in TOLD:
            if name in facts:
                self.facts[name].append(abs(facts[name]))
        for each in take_lengths(garment, brief):
            if each.title in MEASURES and each.body is not None:
                self.facts[each.title].append(abs(each.garment - each.body))

    def show(self, design: str) -> None:
        """Print the figures."""
        print(f"{design}: {self.proven} of {self.bodies} proven ({self.proven / self.bodies:.1%})", end="")
        for rules in ("women", "men"):
            passed, failed = self.by_rules[rules, True], self.by_rules[rules, False]
            print(f", {rules} {passed / max(passed + failed, 1):.1%}", end="")
        print(f", {self.refused.total()} refused; ease off by {self.off:.2g} mm at most")
        for what, counted in (("refused", self.refused), ("error", self.errors), ("warning", self.warned)):
            for code, count in counted.most_common(4):
                print(f"    {what} {code}: {count / self.bodies:.1%}")
        for name, values in self.facts.items() if design in WOVENS else ():
            over = [sum(value > limit for value in values) / self.bodies for limit in (10.0, 20.0)]
            print(f"    {name}: over 10 mm {over[0]:.1%}, over 20 mm {over[1]:.1%}, worst {max(values):.0f} mm")


def bodies(every: int, few: bool) -> Iterator[Body]:
    """Each so many-th body of both surveys, as measured or by few measurements."""
    for group in (group for group in GROUPS if group.startswith("bodies_")):
        for number in range(0, len(people(group)), every):
            given = people(group)[number]
            given = some(given, "stature", *NEEDED) if few else given
            yield make_body(f"{group} {number}", given, rules=GROUPS[group])


def look_at(asked: tuple[str, int, bool]) -> Figures:
    """Every body in one design."""
    (design, every, few), figures = asked, Figures()
    usual = job_of(design).brief.fit
    for body in bodies(every, few):
        for fit in Fit if few else (usual,):
            cloths = (POPLIN, POPLIN) if design in WOVENS else (JERSEY, JERSEY if few else RIB)
            figures.add(design, Brief(body, cloths[0], fit, {"rib": cloths[1]}))
    return figures


def main(every: int, few: bool) -> int:
    """Run the sample and print; always 0."""
    start, designs = time.perf_counter(), sorted(catalogue().designs)
    with ProcessPoolExecutor(2) as pool:
        found = list(pool.map(look_at, [(design, every, few) for design in designs]))
    count = sum(1 for _ in bodies(every, few))
    print(f"{count} bodies, every {every}th of the surveys; {time.perf_counter() - start:.0f} s")
    for design, told in zip(designs, found, strict=True):
        told.show(design)
    return 0


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    sys.exit(main(numbers[0] if numbers else 60, "few" in sys.argv[1:]))
