"""What the patterns are, kept and compared: ``python -m tests.bench.snapshot keep FILE`` and ``... compare FILE``.

For work on the structure, which must leave every pattern as it is. Kept are, for the catalogue on 24 surveyed bodies in
three fits, the choir, and the stacks of changes that ``tests/laws`` keeps: each net line, seam, cut outline, mark and
finding, the figures and the steps of the order of work; or the refusal. Compared they may differ by ``NOISE``. The
file is made from the revision before and is not part of the project. A further word takes only every nth case.
"""

from __future__ import annotations

import gzip
import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path as File
from typing import Any

from drafting.body import make_body
from drafting.cloth import Fit
from drafting.errors import CannotDraft, DraftingError
from drafting.finishing import CutPiece
from drafting.garment import Brief, Garment
from drafting.geometry import Path
from drafting.job import draft_job, finish_job
from drafting.saying import render
from drafting.ticket import Job, find_catalogue, read_job
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
from tests.blocks_woven.people import POPLIN
from tests.body.people import GROUPS, people
from tests.garments import JERSEY, RIB
from tests.laws.jobs import catalogue, job_of, with_changes
from tests.laws.strategies import WOVENS

NOISE = 1e-5
"""mm: less than this is what another order of sums makes."""

PER_SURVEY = 6
"""Bodies taken from each of the four surveys."""


@dataclass(frozen=True)
class Case:
    """A job to be kept, by a name that says which."""

    name: str
    design: str = ""
    group: str = ""
    number: int = 0
    fit: str = ""
    stack: tuple[str, int] = ("", 0)


def cases() -> list[Case]:
    """Every case: the catalogue on the surveyed bodies, the choir, the kept stacks."""
    from tests.laws import test_found_by_the_laws as knits
    from tests.laws import test_found_in_wovens as wovens

    out = [Case(f"demo {name}", design=name) for name in sorted(find_catalogue().demos)]
    out += [Case(f"knit stack {i}: {case[0]}", stack=("knit", i)) for i, case in enumerate(knits.DRAWN)]
    out += [Case(f"woven stack {i}: {case[0]}", stack=("woven", i)) for i, case in enumerate(wovens.DRAWN)]
    for group in (name for name in GROUPS if name.startswith("bodies_")):
        count = len(people(group))
        for number in range(count // (2 * PER_SURVEY), count, count // PER_SURVEY):
            for design in sorted(catalogue().designs):
                out += [
                    Case(f"{design}, {group} {number}, {fit.value}", design, group, number, fit.value) for fit in Fit
                ]
    return out


def job_for(case: Case) -> Job:
    """The job of a case."""
    from tests.laws import test_found_by_the_laws as knits
    from tests.laws import test_found_in_wovens as wovens

    if case.stack[0]:
        module: Any = knits if case.stack[0] == "knit" else wovens
        _, design, body, fit, stack = module.DRAWN[case.stack[1]]
        if case.stack[0] == "knit":
            return with_changes(job_of(design), stack, knits.brief_for(body, fit))
        wearer = wovens.singer(body) if isinstance(body, str) else wovens.surveyed(*body)
        return with_changes(job_of(design), stack, Brief(wearer, wovens.WOVEN_CLOTHS[0], fit, {"rib": wovens.TRIMS[0]}))
    if not case.group:
        return read_job(find_catalogue().demos[case.design], find_catalogue())
    body = make_body("Singer", people(case.group)[case.number], rules=GROUPS[case.group])
    cloths = (POPLIN, POPLIN) if case.design in WOVENS else (JERSEY, RIB)
    return with_changes(job_of(case.design), [], Brief(body, cloths[0], Fit(case.fit), {"rib": cloths[1]}))


def kept(case: Case) -> dict[str, Any]:
    """What is kept of a case, as plain values."""
    job = job_for(case)
    try:
        garment = draft_job(job)
        cut, proof = finish_job(job, garment)
    except CannotDraft as error:
        return {
            "refused": [error.step, ", ".join(error.because), round(error.short_by, 6)],
            "refusal words": str(error),
        }
    except DraftingError as error:
        return {"refused": [str(error)]}
    found = sorted([f.code, f.place, _number(f.value), _number(f.limit), f.severity.value] for f in proof.findings)
    return {
        **what_is_net(garment),
        **what_is_cut(cut),
        "findings": found,
        "finding words": sorted(
            [f.code, render(f.sentence, job.unit), render(f.remedy, job.unit)] for f in proof.findings
        ),
        "steps": [str(step) for step in steps_of_work(make_up(garment), garment, job.unit)],
        "facts": [[f.name, _number(f.value), f.unit, f.source] for f in garment.facts],
        "notes": list(map(str, garment.notes)),
    }


def what_is_net(garment: Garment) -> dict[str, Any]:
    """The net garment as plain values: lines, what lies within, words and seams."""
    lines, inside, words = [], [], []
    for piece in garment.pieces:
        words.append([piece.name, str(piece.title), *map(str, piece.notes)])
        inside.append([piece.name, [piece.grain.x, piece.grain.y], piece.cloth])
        inside += [["level", v.name, v.girth, v.side.value, _path(v.path)] for v in piece.levels]
        inside += [["adjust", a.name, _path(a.path)] for a in piece.adjusts]
        inside += [["drill", d.name, d.at.x, d.at.y] for d in piece.drills]
        inside += [["zone", z.line, z.width, z.start, z.end] for z in piece.zones]
        for loop in piece.loops:
            lines += [
                [piece.name, v.name, v.role.value, v.side.value, v.face.value, v.fate.value, v.opening, _path(v.path)]
                for v in loop
            ]
    seams = [
        [
            s.name, s.kind.name, s.stitch, list(s.hangs), s.binds,
            [[list(p.ease), [[[u.piece, u.line, u.against] for u in run] for run in p.plies]] for p in s.sections],
        ]
        for s in garment.seams
    ]  # fmt: skip
    return {"lines": lines, "inside": inside, "piece words": words, "seams": seams}


def what_is_cut(cut: tuple[CutPiece, ...]) -> dict[str, Any]:
    """The cut pieces as plain values: outlines, marks and words."""
    outlines, marks, words = [], [], []
    for piece in cut:
        words.append([piece.title, piece.how, *piece.labels])
        outlines.append([piece.name, piece.code, piece.quantity, piece.mirrored, piece.on_fold, piece.cloth])
        outlines += [[edge.name, edge.line, edge.allowance, _path(edge.path)] for edge in piece.outline]
        marks += [[piece.name, mark.kind, mark.name, _path(mark.path)] for mark in piece.marks]
        marks += [
            [n.seam, n.count, n.at.x, n.at.y, n.inward.x, n.inward.y, n.on_stitch.x, n.on_stitch.y]
            for n in piece.notches
        ]
        marks += [[name, at.x, at.y] for name, at in piece.drills]
    return {"cut outlines": outlines, "marks": marks, "cut words": words}


def _path(path: Path) -> list[float]:
    return [round(float(x), 7) for x in path.segments.reshape(-1)]


def _number(value: float | None) -> float | None:
    return None if value is None else round(value, 7)


def differences(old: Any, new: Any, at: str = "") -> Iterator[tuple[str, float | str]]:
    """Yield where two values differ, and by how much; figures within ``NOISE`` are the same."""
    if isinstance(old, int | float) and isinstance(new, int | float) and not isinstance(old, bool):
        if abs(old - new) > NOISE:
            yield at, abs(old - new)
    elif isinstance(old, list) and isinstance(new, list):
        if len(old) != len(new):
            yield at, f"{len(old)} became {len(new)}: {str(old)[:150]} | {str(new)[:150]}"
        else:
            for i, (a, b) in enumerate(zip(old, new, strict=True)):
                yield from differences(a, b, f"{at}/{i}")
    elif old != new:
        yield at, f"{str(old)[:300]!r} became {str(new)[:300]!r}"


def all_kept(chosen: Iterable[Case]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Keep every case, two at a time, and yield each with its name, in order."""
    chosen = list(chosen)
    with ProcessPoolExecutor(2) as pool:
        yield from zip((case.name for case in chosen), pool.map(kept, chosen, chunksize=8), strict=True)


def keep(file: File, every: int) -> int:
    """Write what the patterns are now."""
    with gzip.open(file, "wt", encoding="utf-8", compresslevel=3) as out:
        count = 0
        for name, what in all_kept(cases()[::every]):
            out.write(json.dumps([name, what]) + "\n")
            count += 1
    print(f"{count} cases kept in {file}")
    return 0


def compare(file: File, every: int) -> int:
    """Print what differs from what was kept; status 1 if anything does."""
    with gzip.open(file, "rt", encoding="utf-8") as lines:
        before = dict(json.loads(line) for line in lines)
    counts, shown, count = Counter[str](), Counter[str](), 0
    for name, what in all_kept(case for case in cases()[::every] if case.name in before):
        count += 1
        old, new = before[name], json.loads(json.dumps(what))
        for key in sorted({*old, *new}):
            found = list(differences(old.get(key), new.get(key), key))
            if found:
                counts[key] += 1
                shown[key] += 1
                if shown[key] <= 4:
                    print(f"{name}: {len(found)} in {key}, the first at {found[0][0]}: {found[0][1]}")
    print(f"{count} cases compared; differing: {dict(counts) or 'none'}")
    return 1 if counts else 0


def main(words: list[str]) -> int:
    """Do what the words say."""
    if len(words) not in (2, 3) or words[0] not in ("keep", "compare"):
        print(__doc__)
        return 2
    work = keep if words[0] == "keep" else compare
    return work(File(words[1]), int(words[2]) if len(words) > 2 else 1)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
