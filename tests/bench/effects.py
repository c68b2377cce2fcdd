"""Which options and keys have no effect, and whether that is said: ``python -m tests.bench.effects [DESIGN …]``.

Every option of every block and change, and every key of cloths and seams, is set to other values in each design
that can be drafted with it. Where none of them alters the net garment, the cut pieces or what is found, it has no
effect there: "idle", and then a note should name it. What is named and has an effect is a false alarm. Printed are
both; a limit that isn't reached, and two words for one thing, are idle too and can't be told.
"""

from __future__ import annotations

import dataclasses
import json
import sys
import tomllib
from collections import Counter
from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import Any

from drafting.errors import DraftingError
from drafting.garment.step import OptionInfo, Step, options_of
from drafting.job import draft_job, finish_job, watch_job
from drafting.ticket import Job, Planned
from drafting.ticket.keys import CLOTH_KEYS, seam_keys
from drafting.ticket.unheeded import find_unheeded
from tests.bench.snapshot import what_is_cut, what_is_net
from tests.blocks_woven.people import POPLIN
from tests.laws.jobs import WEARER, catalogue, job_from, job_of
from tests.laws.strategies import WOVENS

SAID = "here"
"""The place of what is tried."""
MOST_TRIED = 3


@dataclasses.dataclass(frozen=True)
class Outcome:
    """What came of a job: a digest of all that is drafted, cut and found, and the places of what had no effect."""

    digest: str
    unheeded: frozenset[str]


def outcome(job: Job) -> Outcome | None:
    """Draft and prove a job; None where it can't be."""
    job = dataclasses.replace(job, finish=dataclasses.replace(job.finish, mark=""))
    watched = watch_job(job)
    try:
        garment = draft_job(watched)
        cut, proof = finish_job(job, garment)
    except (DraftingError, KeyError, ValueError):  # two blocks that can't stand together
        return None
    found = sorted(repr((f.code, f.place, f.value, f.limit, str(f.sentence))) for f in proof.findings)
    text = json.dumps([what_is_net(garment), what_is_cut(cut), found, list(map(str, garment.notes))])
    return Outcome(sha256(text.encode()).hexdigest(), frozenset(f.place for f in find_unheeded(watched, garment)))


def others(info: OptionInfo, now: Any) -> Iterator[Any]:
    """Other values of an option, near the one it has."""
    if info.unit == "flag":
        yield not now
    elif info.choices:
        yield from (each for each in info.choices if each != now)
    elif info.unit != "text":
        low = info.low or 0.0
        high = (low + 1.0) * 10 if info.high is None else info.high
        start = now if isinstance(now, (int, float)) else low + 0.3 * (high - low)
        for share in (0.15, -0.1, 0.02, 0.4, -0.3):
            value = round(start + share * (high - low), None if info.unit == "count" else 6)
            if low <= value <= high and value != now:
                yield value


def jobs(design: str) -> Iterator[tuple[str, Job, Iterable[int]]]:
    """A design alone, and with each further block and change that can be taken; with the steps to be tried."""
    job = job_of(design)
    if design in WOVENS:
        job = dataclasses.replace(job, brief=dataclasses.replace(job.brief, cloth=POPLIN, rib=POPLIN))
    yield design, job, range(len(job.steps))
    there = {planned.step.name for planned in job.steps}
    steps: list[Step[Any]] = [catalogue().block(name, "") for name in catalogue().blocks if name not in there]
    for step in (*steps, *(catalogue().change(name, "") for name in catalogue().changes)):
        planned = Planned(step.name, step, step.options(), step.name)
        taken = sorted((*job.steps, planned), key=lambda each: each.step.stage)
        yield f"{design} + {step.name}", dataclasses.replace(job, steps=tuple(taken)), [taken.index(planned)]


def options_tried(design: str) -> Iterator[tuple[str, Job, Iterator[Job]]]:
    """Each option of a design's steps, and of each further one: its name, the job without it, and those with it."""
    for name, job, places in jobs(design):
        for at in places:
            for info in options_of(job.steps[at].step.options):
                yield f"{name}: {job.steps[at].label}.{info.name}", job, _with_option(job, at, info)


def _with_option(job: Job, at: int, info: OptionInfo) -> Iterator[Job]:
    planned = job.steps[at]
    for value in others(info, getattr(planned.options, info.name)):
        given: Any = planned.options  # of a class that only its step knows
        options = dataclasses.replace(given, **{info.name: value})
        step = dataclasses.replace(planned, options=options, where=SAID, said=((info.name, SAID),))
        yield dataclasses.replace(job, steps=(*job.steps[:at], step, *job.steps[at + 1 :]))


def keys_tried(design: str) -> Iterator[tuple[str, Job, Iterator[Job]]]:
    """Each key of a design's cloths and seams, as ``options_tried``."""
    tables: dict[str, Any] = {"seams": {}, **tomllib.loads(WEARER)}
    if design in WOVENS:
        tables |= {"cloth": {"kind": "woven", "stretch_across": "2 %"}}
    keys = [("cloth", info) for info in CLOTH_KEYS if info.name != "kind"]
    keys += [("seams", info) for info in seam_keys(catalogue().kinds())]
    plain = _job_with(design, tables)
    for table, info in keys:
        yield f"{design}, as a ticket: {table}.{info.name}", plain, _with_key(design, tables, table, info)


def _with_key(design: str, tables: dict[str, Any], table: str, info: OptionInfo) -> Iterator[Job]:
    for value in others(info, info.default):
        told = f"{value} mm" if info.unit == "length" else value
        job = _job_with(design, {**tables, table: {**tables[table], info.name: told}})
        said = ((path, SAID) for path, _ in job.said if path[0] == table and path[1] == info.name)
        yield dataclasses.replace(job, said=tuple(said))


def _job_with(design: str, tables: dict[str, Any]) -> Job:
    return job_from(
        f'builds_on = "{design}"\nunit = "cm"\n' + "".join(_toml(name, each) for name, each in tables.items())
    )


def _toml(name: str, table: dict[str, Any]) -> str:
    lines = [f"{key} = {json.dumps(value)}" for key, value in table.items() if not isinstance(value, dict)]
    inner = [_toml(f"{name}.{key}", value) for key, value in table.items() if isinstance(value, dict)]
    return "\n".join((f"[{name}]", *lines, *inner)) + "\n"


def judge(base: Outcome, tried: Iterator[Job]) -> str:
    """Say what became of other values: whether they act, are idle or refused, and whether a note says so."""
    results = [each for job in _few(tried) if (each := outcome(job)) is not None]
    if not results:
        return "refused"
    acts = any(each.digest != base.digest for each in results)
    said = any(SAID in each.unheeded for each in results)
    return f"{'acts' if acts else 'idle'}{', said' if said else ''}"


def _few(tried: Iterator[Job]) -> Iterator[Job]:
    for _ in range(MOST_TRIED):
        try:
            yield next(tried)
        except StopIteration:
            return
        except (DraftingError, ValueError):
            continue


def main(designs: list[str]) -> int:
    """Try all, and print what is idle and isn't said, and what is said and isn't idle."""
    counts, bases = Counter[str](), dict[str, Outcome | None]()
    for design in designs or sorted(catalogue().designs):
        for name, job, tried in (*options_tried(design), *keys_tried(design)):
            on = name.rpartition(": ")[0]
            if on not in bases:
                bases[on] = outcome(job)
            base = bases[on]
            what = "not to be drafted" if base is None else judge(base, tried)
            counts[what] += 1
            if what in ("idle", "acts, said"):
                print(f"{name}: {what}", flush=True)
    print(dict(counts))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
