"""What a step that finds no shape is out of reach of: the one figure of the ticket with which it could be drawn.

A refusal of the geometry names no figure of its own. So each figure that the ticket gives is put back, one at a time:
an option to its default, a measurement to what the others let expect. The first with which the step can be taken is
told, and how near to what was given it may come.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice
from typing import Any

from drafting.body import Body, make_body, measurements
from drafting.errors import InputError
from drafting.garment.step import OptionInfo
from drafting.geometry.solve import halve
from drafting.record import dataclass
from drafting.saying import Length, Words, say, show_share, tape
from drafting.ticket.job import Job

MOST_STEPS = 160
"""How many steps are taken at most to find it, the oddest measurement first: each trial drafts all up to that step."""
HALVINGS = 6
"""How often the way from what was given to what can be drawn is halved; less often where there are many steps."""
_STEP = 5.0  # mm: limits are told in whole steps
_NEEDED_TRIED = (0.9, 1.1, 0.8, 1.2)  # of a measurement that no other lets expect

Works = Callable[[Job], bool]
"""Tells whether a job can be drafted as far as the step that was refused."""
Figure = float | str | bool | None


@dataclass(frozen=True, slots=True)
class Reach:
    """The key of the figure that is out of reach, and how it is told: what was given, and what can be drawn."""

    key: str
    given: Words
    help: Words


@dataclass(frozen=True, slots=True)
class _Trial:
    """A figure of the ticket: what was given, what it is put back to, how it is said, and the job with another."""

    key: str
    title: str
    given: Figure
    sound: Figure
    say_figure: Callable[[float], Length | str]
    job: Callable[[Figure], Job]
    step: float


def find_reach(job: Job, at: int, works: Works) -> Reach | None:
    """Return the figure with which step number ``at`` of a job could be taken; None if no single one is found."""
    job = replace(job, steps=job.steps[: at + 1])
    trials = (*_put_options_back(job, at), *_put_measurements_back(job))
    most = max(2, MOST_STEPS // (at + 1))
    found = next((trial for trial in islice(trials, most) if works(trial.job(trial.sound))), None)
    return None if found is None else _tell_reach(found, works, 2 ** min(HALVINGS, most))


def _tell_reach(trial: _Trial, works: Works, parts: int) -> Reach:
    given, sound = trial.given, trial.sound
    if not isinstance(given, float) or not isinstance(sound, float):
        given_so = say("with {title} = {given}", title=trial.title, given=_plain(given))
        return Reach(trial.key, given_so, f"it can be drafted with {_plain(sound)}")
    limit = halve(lambda x: works(trial.job(x)), sound, given, within=abs(given - sound) / parts)
    steps = math.ceil(limit / trial.step) if sound > given else math.floor(limit / trial.step)
    limit = steps * trial.step if min(sound, limit) <= steps * trial.step <= max(sound, limit) else limit
    told = "{limit} or more" if sound > given else "{limit} or less"
    return Reach(
        trial.key,
        say("with a {title} of {given}", title=trial.title, given=trial.say_figure(given)),
        say("it can be drafted with {told}", told=say(told, limit=trial.say_figure(limit))),
    )


def _plain(figure: Figure) -> str:
    return "none" if figure is None else str(figure).lower() if isinstance(figure, bool) else str(figure)


def _put_options_back(job: Job, at: int) -> Iterator[_Trial]:
    """Yield each option of the step refused that isn't its default."""
    planned = job.steps[at]
    for name, info in planned.step.told().items():
        given = getattr(planned.options, name)
        if given == info.default:
            continue

        def with_option(figure: Figure, name: str = name) -> Job:
            kept: Any = planned.options  # of a class that only its step knows
            options = replace(kept, **{name: figure})
            return replace(job, steps=(*job.steps[:at], replace(planned, options=options)))

        given = float(given) if info.unit in _FIGURES and isinstance(given, int | float) else given
        yield _Trial(
            name, name, given, _start_of(info), _FIGURES.get(info.unit, tape), with_option, _STEPS.get(info.unit, _STEP)
        )


def _start_of(info: OptionInfo) -> Figure:
    return float(info.default) if info.unit in _FIGURES and isinstance(info.default, int | float) else info.default


_FIGURES: dict[str, Callable[[float], Length | str]] = {
    "length": tape,
    "ratio": show_share,
    "angle": lambda radians: f"{math.degrees(radians):.0f} deg",
}
_STEPS = {"length": _STEP, "ratio": 0.01, "angle": math.radians(1.0)}


def _put_measurements_back(job: Job) -> Iterator[_Trial]:
    """Yield each measurement that was given with what the others let expect, the oddest first; then the needed ones."""
    body = job.brief.body
    expected = {name: _expect(body, name) for name in body.given if not measurements()[name].needed}
    odd = {name: abs(body[name] / value - 1.0) for name, value in expected.items() if value}
    for name in sorted(odd, key=lambda each: -odd[each]):
        yield _trial_of(job, name, expected[name])
    for name in (name for name in body.given if measurements()[name].needed):
        yield from (_trial_of(job, name, body[name] * share) for share in _NEEDED_TRIED)


def _expect(body: Body, name: str) -> float:
    """Return what the other measurements let expect of one; 0 where they don't."""
    others = {each: value for each, value in body.given.items() if each != name}
    try:
        return make_body(body.name, others, rules=body.rules).values.get(name, 0.0)
    except InputError:
        return 0.0


def _trial_of(job: Job, name: str, sound: float) -> _Trial:
    each, body = measurements()[name], job.brief.body

    def with_measurement(figure: Figure) -> Job:
        assert isinstance(figure, float)
        try:
            other = make_body(body.name, {**body.given, name: figure}, rules=body.rules)
        except InputError:
            return job
        return replace(job, brief=replace(job.brief, body=other))

    step = _STEPS["length" if each.unit == "mm" else "angle"]
    return _Trial(name, each.title, body[name], sound, each.said, with_measurement, step)
