"""A census of everyday variations: ``python -m tests.bench.everyday [COUNT] [SEED] [KIND …]``.

A variation is a design of the catalogue in a cloth that suits it, in a fit, for one of ten very different people, with
one everyday change, now and then two (``everyday_wishes``). Counted is what becomes of it: proven, failed in the proof,
refused; the greatest causes first. A refusal of a change on a design that has nothing of the kind is right, and is
counted apart. What a change alters of the levels, the armholes and the lengths, and has no business with, is told too.
"""

from __future__ import annotations

import math
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import cache
from random import Random

from drafting.body import Body, make_body
from drafting.cloth import Fit
from drafting.errors import CannotDraft, DraftingError
from drafting.garment import Brief, Garment
from drafting.job import draft_job, finish_job
from drafting.proof.fit import fit_rows
from drafting.proof.fit.row import FigureKind
from drafting.proof.lengths import take_lengths
from drafting.saying import Saying, Words
from tests.bench.everyday_apart import NOT_MEANT, find_faults
from tests.bench.everyday_wishes import NEEDS, UNDOES, WISHES, Wish
from tests.body.people import GROUPS, NEEDED, people, some
from tests.laws.jobs import catalogue, job_of, with_changes
from tests.laws.strategies import CLOTHS, TRIMS, WOVEN_CLOTHS, WOVENS, Made

PEOPLE: Mapping[str, tuple[str, str, float]] = {
    "slim": ("bodies_2012_women", "bust_girth", 0.04),
    "average": ("bodies_2012_women", "hip_girth", 0.50),
    "full bust": ("bodies_1988_women", "bust over under bust", 0.96),
    "full hip": ("bodies_2012_women", "hip over bust", 0.96),
    "short": ("bodies_1988_women", "stature", 0.04),
    "tall": ("bodies_2012_women", "stature", 0.96),
    "sloping": ("bodies_1988_women", "shoulder_slope", 0.96),
    "square": ("bodies_1988_women", "shoulder_slope", 0.04),
    "belly": ("bodies_2012_men", "waist over hip", 0.96),
    "broad": ("bodies_1988_men", "bust_girth", 0.90),
}
"""Ten people: of which survey, and where they stand among its people by which measure (or by how much one exceeds
another)."""

TWICE = 0.2
"""Share of the variations that ask for two things."""

ALTERED: Mapping[FigureKind, float] = {"mm": 5.0, "share": 0.02, "rad": math.radians(2.0), "": 0.5}
"""More than which a figure that a change has no business with may not be altered, by what it is in."""

SHOWN = 12
"""Of the proven garments that a tape finds fault with, at most."""

Rows = Mapping[str, tuple[float, FigureKind]]


@cache
def person(name: str, whole: bool) -> Body:
    """One of the ten: all measurements taken, or only stature, girths and back length."""
    group, by, share = PEOPLE[name]
    ranked = sorted(people(group), key=lambda each: _measure(each, by))
    given = ranked[round(share * (len(ranked) - 1))]
    return make_body(name, given if whole else some(given, "stature", *NEEDED), rules=GROUPS[group])


def _measure(given: Mapping[str, float], by: str) -> float:
    if " over " not in by:
        return given[by]
    more, less = (f"{each.replace(' ', '_')}_girth" for each in by.split(" over "))
    return given[more] - given[less]


@dataclass(frozen=True)
class Base:
    """What is varied: a design, for whom, in which cloth and fit."""

    design: str
    who: str
    whole: bool
    cloth: int
    fit: Fit

    @property
    def brief(self) -> Brief:
        """The brief."""
        body = person(self.who, self.whole)
        if self.design in WOVENS:
            cloth = WOVEN_CLOTHS[self.cloth % len(WOVEN_CLOTHS)]
            return Brief(body, cloth, self.fit)
        return Brief(body, CLOTHS[self.cloth], self.fit, {"rib": TRIMS[self.cloth % 2]})


@dataclass(frozen=True)
class Variation:
    """A base with what is asked for."""

    base: Base
    kinds: tuple[str, ...]
    changes: tuple[Made, ...]
    senseless: str

    def __str__(self) -> str:
        asked = "; ".join(f"{name} {dict(values)}" for name, values in self.changes)
        whole = "" if self.base.whole else ", by five measures"
        return f"{self.base.design}, {self.base.who}{whole}, {self.base.fit.value}, cloth {self.base.cloth}: {asked}"


@dataclass(frozen=True)
class Result:
    """What became of a variation: ``proven``, ``failed``, ``refused`` or ``senseless``, why, and what it altered."""

    what: str
    why: str = ""
    said: str = ""
    altered: tuple[tuple[str, float], ...] = ()
    apart: tuple[str, ...] = ()


def draw(seed: int, number: int, kinds: tuple[str, ...] = ()) -> Variation:
    """The variation of that number; its first wish of one of these kinds, if any are told."""
    random = Random(f"{seed} {number}")
    designs = sorted(catalogue().designs)
    base = Base(
        random.choice(designs), random.choice(sorted(PEOPLE)), random.random() < 0.5, random.randrange(len(CLOTHS)),
        random.choice(tuple(Fit)),
    )  # fmt: skip
    wishes = [random.choice([each for each in WISHES if not kinds or each.kind in kinds])]
    if random.random() < TWICE:
        used = {name for name, _ in wishes[0].changes}
        wishes.append(random.choice([each for each in WISHES if not used & {name for name, _ in each.changes}]))
    changes = tuple(made for wish in wishes for made in wish.draw(random))
    return Variation(base, tuple(each.kind for each in wishes), changes, _find_senseless(base, wishes))


def _find_senseless(base: Base, wishes: list[Wish]) -> str:
    """What is asked for without sense: what the wish needs and the design, or what another wish leaves, hasn't."""
    garment, gone = drafted(base), {lost for wish in wishes for lost in UNDOES.get(wish.kind, ())}
    for wish in wishes:
        own = UNDOES.get(wish.kind, ())
        for need in wish.needs:
            if (garment is not None and not NEEDS[need](garment)) or (need in gone and need not in own):
                return f"{wish.kind}: a design without {need.removeprefix('a ').removeprefix('an ')}"
    return ""


@cache
def drafted(base: Base) -> Garment | None:
    """The design itself; None where it can't be drafted."""
    try:
        return draft_job(with_changes(job_of(base.design), [], base.brief))
    except DraftingError:
        return None


@cache
def _own_errors(base: Base) -> tuple[str, ...]:
    """Codes by which the design itself fails for this body, or its refusal."""
    return _judge(base, ())[0]


def _judge(base: Base, changes: tuple[Made, ...]) -> tuple[tuple[str, ...], Garment | None, str]:
    """Codes of what fails (a refusal begins with "refused"), the garment, and the sentence."""
    job = with_changes(job_of(base.design), changes, base.brief)
    try:
        garment = draft_job(job)
        _, proof = finish_job(job, garment)
    except CannotDraft as error:
        reason = f"refused: {error.step}: {_code(error.reason)}"
        return (reason,), None, str(error)
    except DraftingError as error:
        return (f"refused: {_code(error.words)}",), None, str(error)
    except Exception as error:  # a fault in the program: counted, so that the census goes on
        return (f"fault: {type(error).__name__}: {error}",), None, str(error)
    errors = [found for found in proof.findings if found.severity == "error"]
    codes = tuple(dict.fromkeys(f"{f.code} (with {f.since or 'the design'})" for f in errors))
    return codes, garment, str(errors[0].sentence) if errors else ""


def _code(words: Words) -> str:
    """A sentence without its figures and names."""
    return words.template if isinstance(words, Saying) else words[:90]


def look(variation: Variation) -> Result:
    """Draft and prove a variation; what fails without its change too is the design's own fault."""
    codes, garment, said = _judge(variation.base, variation.changes)
    altered = tuple(_find_altered(variation, garment)) if garment is not None else ()
    if not codes and garment is not None:
        return Result("proven", "", "", altered, tuple(_judge_apart(variation, garment)))
    if codes[0].startswith("refused") and variation.senseless:
        return Result("senseless", variation.senseless, said)
    own = _own_errors(variation.base)
    what = "refused" if codes[0].startswith("refused") else "failed"
    alone = own and {each.split(" (")[0] for each in codes} <= {each.split(" (")[0] for each in own}
    return Result(what, f"the design itself: {codes[0]}" if alone else codes[0], said, altered)


def _judge_apart(variation: Variation, garment: Garment) -> Iterator[str]:
    """What a tape finds on a proven garment that nothing asked for."""
    base = variation.base
    for fault in sorted(set(find_faults(garment, base.brief.body, base.design not in WOVENS))):
        if not set(variation.kinds) & set(NOT_MEANT[fault]):
            yield fault


def _find_altered(variation: Variation, garment: Garment) -> Iterator[tuple[str, float]]:
    """Figures altered that the changes have no business with, and by how much."""
    before = drafted(variation.base)
    if before is None:
        return
    was, now = (_figures(each, variation.base.brief) for each in (before, garment))
    may = {word for wish in WISHES if wish.kind in variation.kinds for word in wish.alters}
    for name, (figure, measure) in now.items():
        by = figure - was.get(name, (figure, measure))[0]
        if abs(by) > ALTERED[measure] and not any(word in name for word in may):
            yield name, by


def _figures(garment: Garment, brief: Brief) -> Rows:
    """The figures of fit less what changes declare, and the lengths taken on the pieces."""
    rows: Rows = {
        f"{row.name}, {row.title}": (row.garment - row.meant, row.measure) for row in fit_rows(garment, brief)
    }
    return {**rows, **{taken.title: (taken.garment, "mm") for taken in take_lengths(garment, brief)}}


@dataclass
class Count:
    """The census so far."""

    what: Counter[str] = field(default_factory=Counter)
    why: dict[str, Counter[str]] = field(default_factory=lambda: defaultdict(Counter))
    example: dict[str, str] = field(default_factory=dict)
    altered: dict[tuple[str, str], list[float]] = field(default_factory=lambda: defaultdict(list))
    by_kind: dict[str, Counter[str]] = field(default_factory=lambda: defaultdict(Counter))
    apart: dict[str, list[str]] = field(default_factory=lambda: {fault: [] for fault in NOT_MEANT})

    def add(self, variation: Variation, result: Result) -> None:
        """Count one."""
        self.what[result.what] += 1
        if result.why:
            self.why[result.what][result.why] += 1
            self.example.setdefault(result.why, f"{variation}\n          {result.said}")
        for kind in variation.kinds if len(variation.kinds) == 1 else ():
            self.by_kind[kind][result.what] += 1
        for fault in result.apart:
            self.apart[fault].append(str(variation))
        for name, by in result.altered:
            self.altered[" and ".join(variation.kinds), name].append(by)

    def show(self) -> None:
        """Print it, the greatest causes first."""
        count = self.what.total()
        good = self.what["proven"] + self.what["senseless"]
        sense = count - self.what["senseless"]
        print(f"proven {self.what['proven']} ({self.what['proven'] / count:.1%}); ", end="")
        print(f"proven or rightly refused {good / count:.1%}; of what makes sense {self.what['proven'] / sense:.1%}")
        for what in ("refused", "failed", "senseless"):
            print(f"{what} {self.what[what]} ({self.what[what] / count:.1%})")
            for why, times in self.why[what].most_common():
                print(f"  {times:4d}  {why}\n          {self.example[why]}" if times else "")
        print("of the proven, judged apart:")
        for fault, found in self.apart.items():
            print(f"  {len(found) / max(self.what['proven'], 1):6.1%}  {fault}")
            for each in found[:SHOWN]:
                print(f"          {each}")
        print("by what is asked, alone:")
        shares = {kind: 1.0 - (c["refused"] + c["failed"]) / c.total() for kind, c in self.by_kind.items()}
        for kind, share in sorted(shares.items(), key=lambda each: each[1]):
            print(f"  {share:4.0%} of {self.by_kind[kind].total():3d}  {kind}")
        bounds = ", ".join(f"{most:.3g} {measure}".strip() for measure, most in ALTERED.items())
        print(f"figures altered by more than {bounds} that the change has no business with:")
        ranked = sorted(self.altered.items(), key=lambda each: -len(each[1]))
        for (kind, name), by in ranked[:60]:
            print(f"  {len(by):4d}  {kind}: {name}: {min(by):.3g} to {max(by):.3g}")


def look_at(asked: tuple[int, int, tuple[str, ...]]) -> tuple[Variation, Result]:
    """Draw one and look at it."""
    variation = draw(*asked)
    return variation, look(variation)


def main(count: int, seed: int, kinds: tuple[str, ...]) -> int:
    """Run the census and print it; always 0."""
    began, counted = time.monotonic(), Count()
    with ProcessPoolExecutor(2) as pool:
        for variation, result in pool.map(look_at, ((seed, i, kinds) for i in range(count)), chunksize=20):
            counted.add(variation, result)
    print(f"{count} variations from seed {seed}; {time.monotonic() - began:.0f} s")
    counted.show()
    return 0


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:3]]
    sys.exit(main(*(*numbers, *(2000, 1)[len(numbers) :]), tuple(sys.argv[3:])))
