"""What a ticket says that had no effect on its garment: told as notes, with key and file.

A step notes which of its options it asks for as it is taken; one that is never asked for did nothing, and so did one
that shapes lines which a later step draws anew. So did a key whose seams, hems, cloth or pages there are none of.
What a design of the catalogue says isn't told: the maker didn't write it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from drafting.garment import Fate, Garment, Role, Step
from drafting.garment.heeding import read_of, was_idle
from drafting.garment.model import STAY
from drafting.paper import Join
from drafting.proof import Finding, Severity
from drafting.ticket.cloths import CLOTHS, CUT, CUT_AGAIN
from drafting.ticket.job import Job, Planned

CODE = "ticket.unheeded"

SEES_TO: Final = "All that a ticket asks for has an effect."
"""What is looked at once a proof is made."""


def is_untouched(before: Garment, after: Garment) -> bool:
    """Return whether a step left a garment as it was."""
    pairs = (
        (before.pieces, after.pieces),
        (before.seams, after.seams),
        (before.facts, after.facts),
        (before.notes, after.notes),
        (before.aims, after.aims),
    )
    same = all(len(old) == len(new) and all(map(lambda a, b: a is b, old, new)) for old, new in pairs)
    return same and before.openings == after.openings


def find_unheeded(job: Job, garment: Garment) -> tuple[Finding, ...]:
    """Return a note for each thing that a ticket says and that had no effect, once a watched job was drafted."""
    found = [note for at, planned in enumerate(job.steps) for note in _idle_options(planned, job.steps[at + 1 :])]
    said = dict(job.said)
    idle = {**_idle_seams(job, garment, said), **_idle_cloths(job, garment, said), **_idle_paper(job, said)}
    found += [_note(said[key], why, mend) for key, (why, mend) in idle.items()]
    return tuple(found)


def _idle_options(planned: Planned, later: tuple[Planned, ...]) -> Iterator[Finding]:
    name = planned.step.name
    if was_idle(planned.options):
        yield _note(planned.place, f"{name} found nothing to do here", f"take {planned.table} out")
        return
    kind = "blocks" if planned.is_block else "changes"
    mend = f"take it out; what it goes with is told by: blockwright list {kind} {name}"
    told, read = planned.step.told(), read_of(planned.options)
    for key, where in planned.said:
        role = told[key].shapes if key in told else None
        anew = next((each.step for each in later if role is not None and role in each.step.redraws), None)
        if key in told and key not in read:
            why = "its other options, or what it is sewn to, settle that"
            yield _note(where, f"{name} is drafted without it: {why}", mend)
        elif role is not None and anew:
            line = _ROLES.get(role, role.value)
            yield _note(where, f"{anew.name} draws the {line} anew", f"take it out, or {_ask(anew, role)}")


def _ask(step: Step[Any], role: Role) -> str:
    """What of a step to ask for lines of a role: its options that shape them, where it says which."""
    by = [name for name, info in step.told().items() if info.shapes is role]
    return f"set {' or '.join(by)} of {step.name}" if by else f"ask {step.name} for it"


_ROLES: Mapping[Role, str] = {
    Role.HEM: "lower edge",
    Role.CENTRE: "centre line",
    Role.CAP: "sleeve cap",
    Role.BAND: "inner edge of the band",
    Role.EDGE: "outer edge of the band",
    Role.END: "short end of the band",
    Role.STYLE: "style line",
    Role.LAID: "edge that is sewn down",
}
"""Roles whose own name wouldn't say to a maker which line is meant."""

Said = Mapping[tuple[str, ...], str]
"""What a ticket says: the path of each key, and its place."""

Idle = Mapping[tuple[str, ...], tuple[str, str]]
"""Keys that had no effect, each with why, and the mend."""


def _idle_seams(job: Job, garment: Garment, said: Said) -> Idle:
    names = {seam.kind.name for seam in garment.seams}
    why = f"this garment has no such seam: it has {', '.join(sorted(names))}"
    idle = {
        key: (why, "take it out")
        for key in said
        if key[0] == "seams" and key[1] in job.finish.allowances and key[1] not in names
    }
    idle |= dict.fromkeys(_of_darts(garment, said), ("a dart is folded, not cut, and has no allowance", "take it out"))
    lines = [line for piece in garment.pieces for loop in piece.loops for line in loop]
    if ("seams", "hem_depth") in said and not any(line.fate is Fate.HEMMED and line.turned is None for line in lines):
        idle["seams", "hem_depth"] = ("this garment has no turned hem", "take it out")
    return idle


def _of_darts(garment: Garment, said: Said) -> Iterator[tuple[str, ...]]:
    """The keys of kinds of seams that close nothing but darts."""
    for key in said:
        seams = [seam for seam in garment.seams if key[0] == "seams" and seam.kind.name == key[1]]
        if seams and all(garment.line(use).role is Role.DART for seam in seams for use in seam.uses()):
            yield key


def _idle_cloths(job: Job, garment: Garment, said: Said) -> Idle:
    idle: dict[tuple[str, ...], tuple[str, str]] = {}
    for name in job.brief.cloths:
        keys = [key for key in said if key[:2] == (CLOTHS, name)]
        used = any(name in (piece.cloth, *piece.again) for piece in garment.pieces)
        used = used or (name == STAY and any(zone.taped for piece in garment.pieces for zone in piece.zones))
        if keys and not used:
            table = f"[{CLOTHS}.{name}]"
            mend = f"name what is in its {CUT} or {CUT_AGAIN}, or take {table} out"
            idle[keys[0]] = ("nothing of this garment is cut from it", mend)
            continue
        why = "ease goes by the thickness of the main cloth alone"
        idle |= {key: (why, "take it out") for key in keys if key[2:] == ("thickness",)}
    return idle


def _idle_paper(job: Job, said: Said) -> Idle:
    if ("paper", "overlap") not in said or job.paper.join is Join.OVERLAP:
        return {}
    return {("paper", "overlap"): ("pages are joined edge to edge", 'take it out, or write join = "overlap"')}


def _note(where: str, why: str, mend: str) -> Finding:
    return Finding(CODE, Severity.NOTE, where, None, None, f"{where} has no effect: {why}", mend)
