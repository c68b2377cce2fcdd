"""Measurements to take again: such as no one surveyed has, by themselves or beside the others of the same body.

A body at the edge is drafted all the same: these are doubts, not refusals (for those, ``contradiction``). What few
have beside the others is no more than asked about.
"""

from __future__ import annotations

import json
import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from functools import cache
from operator import mul
from pathlib import Path
from types import MappingProxyType
from typing import Final, Literal

import numpy as np

from drafting.body.likely import JUDGED, Likely, find_seldom, find_unlikely
from drafting.body.measurement import MeasureKind, measurements
from drafting.body.survey import Rules, from_survey, solve_covariances, survey, to_survey
from drafting.record import dataclass
from drafting.trade import TradeValue

TAPING: Final[Mapping[MeasureKind, TradeValue]] = MappingProxyType(
    {
        MeasureKind.GIRTH: TradeValue(10.0, "mm", "common practice"),
        MeasureKind.LENGTH: TradeValue(10.0, "mm", "common practice"),
        MeasureKind.WIDTH: TradeValue(10.0, "mm", "common practice"),
        MeasureKind.HEIGHT: TradeValue(15.0, "mm", "common practice"),
        MeasureKind.ANGLE: TradeValue(math.radians(3.0), "rad", "from memory"),
        MeasureKind.MASS: TradeValue(2.0, "kg", "from memory"),
    }
)
"""What measuring at home is out by, beyond what surveyors are: mm, rad and kg."""

UNLIKELY = TradeValue(4.0, "times", "derived", "passed by at most 1.6 % of the people of any survey")
"""Of what it usually differs by from what the others make likely: beyond, a measurement is doubted."""


AROUND: Final = ("bust_girth", "waist_girth", "hip_girth")
"""The girths by which a child is told whose stature wasn't taken: all three are less than any adult's."""


@dataclass(frozen=True, slots=True)
class Extremes:
    """The least and the greatest among people surveyed: of each measurement (mm, rad, kg), and of ratios of two."""

    count: int
    alone: Mapping[str, tuple[float, float]]
    ratios: Mapping[tuple[str, str], tuple[float, float]]

    def is_beyond(self, name: str, value: float) -> bool:
        """Whether no one surveyed has such a measurement (mm, rad, kg)."""
        low, high = self.alone[name]
        return not low <= value <= high


@cache
def extremes(rules: Rules) -> Extremes:
    """Return the extremes of the women or the men of two surveys (ANSUR 1988 and ANSUR II, samples)."""
    data = json.loads(Path(__file__).with_name("extremes.json").read_text(encoding="utf-8"))[rules]
    inside = {name: math.radians(1.0) if each.unit == "rad" else 1.0 for name, each in measurements().items()}
    alone = {name: (low * inside[name], high * inside[name]) for name, (low, high) in data["alone"].items()}
    ratios = {(first, second): (low, high) for first, second, low, high in data["ratios"]}
    return Extremes(int(data["count"]), MappingProxyType(alone), MappingProxyType(ratios))


@dataclass(frozen=True, slots=True)
class Doubt:
    """A measurement to take again, and between what it would not be doubted (mm, rad, kg).

    ``why``: it is beyond everyone surveyed ("alone"), in its ratio to another, ``beside`` ("ratio"), or far from what
    all others make likely, ``beside`` above all ("others"), or beyond what most have beside them ("seldom"); or the
    stature, or where that wasn't taken bust, waist and hip alike, are less than any adult's ("small"): then nothing
    else is judged.
    """

    name: str
    value: float
    low: float
    high: float
    why: Literal["alone", "ratio", "others", "seldom", "small"]
    beside: str = ""


def find_doubts(given: Mapping[str, float], rules: Rules) -> tuple[Doubt, ...]:
    """Return what is doubtful among the measurements that were taken (mm, rad, kg), each once."""
    known = extremes(rules)
    judged = {name: value for name, value in given.items() if name in known.alone}
    small = _find_small(judged, known)
    if small:
        return (Doubt(small, judged[small], *known.alone[small], "small"),)
    found = list(_beyond_all(judged, known))
    found += [_as_doubt(each, judged, "others") for each in find_unlikely(judged, rules, _names_of(found))]
    far = list(_far_from_others(judged, rules, _names_of(found)))
    doubted = _names_of((*found, *far))
    found += (_beside_one(doubt, judged, known, doubted) or doubt for doubt in far)
    found += _beyond_in_ratio(judged, known, _names_of(found))
    found += [_as_doubt(each, judged, "seldom") for each in find_seldom(judged, rules, _names_of(found))]
    return tuple(found)


def _find_small(given: Mapping[str, float], known: Extremes) -> str:
    """The measurement by which a body is smaller than any adult's, "" where none is; girths where it has no stature."""
    for names in (("stature",),) if "stature" in given else (AROUND,):
        if all(name in given and given[name] < known.alone[name][0] for name in names):
            return names[0]
    return ""


def _names_of(doubts: Iterable[Doubt]) -> set[str]:
    return {doubt.name for doubt in doubts}


def _as_doubt(each: Likely, given: Mapping[str, float], why: Literal["others", "seldom"]) -> Doubt:
    return Doubt(each.name, given[each.name], each.low, each.high, why, each.most)


def _beyond_all(given: Mapping[str, float], known: Extremes) -> Iterator[Doubt]:
    for name, value in given.items():
        if known.is_beyond(name, value):
            yield Doubt(name, value, *known.alone[name], "alone")


def _beside_one(doubt: Doubt, given: Mapping[str, float], known: Extremes, doubted: Collection[str]) -> Doubt | None:
    """The doubt said beside the one other measurement that nobody surveyed has it with, if there is such a one.

    A maker sees that it is so; what among all others sets it off most is told where no single one does.
    """
    ranges = []
    for (first, second), (low, high) in known.ratios.items():
        if doubt.name == first and second in given and second not in doubted:
            ranges.append((second, low * given[second], high * given[second]))
        elif doubt.name == second and first in given and first not in doubted:
            ranges.append((first, given[first] / high, given[first] / low))
    value = doubt.value
    beside, low, high = max(ranges, key=lambda each: max(each[1] - value, value - each[2]), default=("", value, value))
    return None if low <= value <= high else Doubt(doubt.name, value, low, high, "ratio", beside)


def _beyond_in_ratio(given: Mapping[str, float], known: Extremes, doubted: Collection[str]) -> Iterator[Doubt]:
    sound = {name: value for name, value in given.items() if name not in doubted}
    for (first, second), (low, high) in known.ratios.items():
        if first in sound and second in sound and not low <= sound[first] / sound[second] <= high:
            beside = sound[second]
            yield Doubt(first, sound.pop(first), low * beside, high * beside, "ratio", second)


def _far_from_others(given: Mapping[str, float], rules: Rules, doubted: Collection[str]) -> Iterator[Doubt]:
    """Doubt the one farthest from what the others make likely (bust, waist, hip aside), then, without it, the next."""
    left = [name for name in given if name not in doubted]
    while len(left) > 1:
        judged = [each for each in _judge(left, given, rules) if each.name not in JUDGED]
        worst = max(judged, key=lambda each: abs(each.off) / each.usual, default=None)
        if worst is None or abs(worst.off) <= UNLIKELY * worst.usual:
            return
        left.remove(worst.name)
        value, reach = given[worst.name], UNLIKELY * worst.usual
        yield Doubt(worst.name, value, value - worst.off - reach, value - worst.off + reach, "others", worst.most)


@dataclass(frozen=True, slots=True)
class _Judged:
    """By how much a measurement is off what the others make likely, and by how much it usually is (mm, rad, kg).

    ``most`` is the one of the others that sets it off most.
    """

    name: str
    off: float
    usual: float
    most: str


def _judge(names: Sequence[str], given: Mapping[str, float], rules: Rules) -> list[_Judged]:
    """Judge each measurement by the mean and the spread of people who share all others, taped at home."""
    known, units = survey(rules), {name: measurements()[name].unit for name in names}
    off = [to_survey(units[name], given[name]) - known.means[name] for name in names]
    judged = []
    for i, (name, shares) in enumerate(zip(names, _precision(tuple(names), rules), strict=True)):
        parts = list(map(mul, shares, off))
        by = math.fsum(parts) / shares[i]
        usual = math.sqrt(1.0 / shares[i])
        most = max((j for j in range(len(names)) if j != i), key=lambda j: parts[j] * by)
        judged.append(_Judged(name, from_survey(units[name], by), from_survey(units[name], usual), names[most]))
    return judged


@cache
def _precision(names: tuple[str, ...], rules: Rules) -> tuple[tuple[float, ...], ...]:
    """Return the inverse of the covariances of these measurements, taped at home."""
    known = survey(rules)
    rows = [[known.covariance(a, b) for b in names] for a in names]
    for i, name in enumerate(names):
        each = measurements()[name]
        rows[i][i] += to_survey(each.unit, TAPING[each.kind]) ** 2
    return tuple(map(tuple, solve_covariances(np.array(rows), np.eye(len(rows))).tolist()))
