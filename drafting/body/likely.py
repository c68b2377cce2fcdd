"""A measurement held against all others that were taken: where a slip of 10 cm (4 in) shows.

Two surveys are asked, twenty-four years apart: what is likely in either is left alone. All is taken in proportion
(logarithms), for whoever is larger differs by more. Bust, waist and hip are doubted where they lie beyond; nearer by,
they and the other measurements are asked about: most slips of 10 cm leave a body that there is, if a rare one.
"""

from __future__ import annotations

import json
import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cache
from operator import mul
from pathlib import Path
from types import MappingProxyType
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drafting.body.measurement import MeasureKind, measurements
from drafting.body.survey import Rules, solve_covariances
from drafting.record import dataclass
from drafting.trade import TradeValue

JUDGED: Final = ("bust_girth", "waist_girth", "hip_girth")
"""The girths that everything is drafted by: a slip in one makes a garment of another size."""

TAPED_OUT = TradeValue(10.0, "mm", "common practice")
"""What a girth or a length taken at home is out by, beyond what surveyors are."""

UNLIKELY_GIRTH = TradeValue(2.8, "times", "derived", "passed by at most 1.7 % of the people of any survey")
"""Of what a girth usually differs by from what the others make likely: beyond, in both surveys, it is doubted."""

ASKED: Final = (*JUDGED, "stature")
"""What is asked about sooner than the rest: in these a slip of 10 cm leaves a body of another size, not an odd one."""

SELDOM = TradeValue(
    2.2, "times", "derived", "passed by at most 3 % of the people of any survey, in any one measurement"
)
"""Of what a measurement of ASKED usually differs by: beyond, in both surveys, it is asked whether it is right."""

SELDOM_ELSE = TradeValue(2.4, "times", "derived", "passed by at most 1.3 % of the people of any survey")
"""The same of every other measurement; all together ask at most 9 % of people anything. It finds slips of 5 cm."""

SELDOM_BUST_POINT = TradeValue(2.05, "times", "derived", "passed by at most 2.7 % of the people of any survey")
"""The same of the way to the bust point: whatever else was taken says little of it, and every dart points there."""


@dataclass(frozen=True, slots=True)
class Proportions:
    """Girths and lengths in one survey: means and covariances of their logarithms (of mm)."""

    means: Mapping[str, float]
    covariances: Mapping[tuple[str, str], float]


@cache
def proportions(rules: Rules) -> tuple[Proportions, ...]:
    """Return the women or the men of two surveys (ANSUR 1988 and ANSUR II, samples), each for itself."""
    data = json.loads(Path(__file__).with_name("likely.json").read_text(encoding="utf-8"))
    return tuple(_read_survey(data["names"], each["mean"], each["covariance"]) for each in data[rules])


def _read_survey(names: Sequence[str], means: Sequence[float], lower: Sequence[Sequence[float]]) -> Proportions:
    either = {(a, b): lower[max(i, j)][min(i, j)] for i, a in enumerate(names) for j, b in enumerate(names)}
    return Proportions(MappingProxyType(dict(zip(names, means, strict=True))), MappingProxyType(either))


LIKELIER = TradeValue(20.0, "times", "derived", "passed by 1.4 % of a survey, and by 6 in 10 of the others")
"""By how much likelier a body is by the other averages than by its own, from where on those are named."""


def is_other_likelier(given: Mapping[str, float], rules: Rules) -> bool:
    """Whether measurements (mm) are far likelier among men than among women, where ``rules`` are women, or the reverse.

    Judged by those that everything is drafted by: whatever else was taken hardly sets men and women further apart.
    """
    names = tuple(name for name in (*ASKED, "back_neck_point_to_waist") if name in given)
    other: Rules = "men" if rules == "women" else "women"
    own, others = (
        max(_weigh_whole(names, given, each) for each in proportions(averages)) for averages in (rules, other)
    )
    return others - own > math.log(LIKELIER)


def _weigh_whole(names: Sequence[str], given: Mapping[str, float], survey: Proportions) -> float:
    """The logarithm of how dense a survey's people lie about these measurements, but for a constant."""
    rows = _covariances(names, survey)
    off = np.array([[math.log(given[name]) - survey.means[name]] for name in names])
    return -float((off * solve_covariances(rows, off)).sum() + _log_determinant(rows)) / 2.0


def _log_determinant(matrix: NDArray[np.float64]) -> float:
    """By elimination, as ``solve_covariances`` does, and for its reason."""
    rows, total = matrix.copy(), 0.0
    for i in range(len(rows)):
        total += math.log(rows[i, i])
        rows[i + 1 :] -= rows[i + 1 :, i : i + 1] / rows[i, i] * rows[i]
    return total


@dataclass(frozen=True, slots=True)
class Likely:
    """Between what a measurement is likely beside the others (mm), in one survey or in either.

    ``off``: how far it lies from the middle, in half spans. ``most``: the one of the others that sets it off most.
    """

    name: str
    low: float
    high: float
    off: float
    most: str


def find_unlikely(given: Mapping[str, float], rules: Rules, doubted: Collection[str]) -> Iterator[Likely]:
    """Yield the main girth (mm) farthest beyond what is likely in both surveys, then, without it, the next."""
    yield from _find_beyond(given, rules, doubted, dict.fromkeys(JUDGED, float(UNLIKELY_GIRTH)))


def find_seldom(given: Mapping[str, float], rules: Rules, doubted: Collection[str]) -> Iterator[Likely]:
    """Yield the measurement (mm) farthest beyond what most have beside the others, then, without it, the next."""
    limits = dict.fromkeys(proportions(rules)[0].means, float(SELDOM_ELSE)) | dict.fromkeys(ASKED, float(SELDOM))
    limits["side_neck_point_to_bust_point"] = float(SELDOM_BUST_POINT)
    limits.pop("across_front_width", None)  # of the surveyed it is estimated, likely too wide: it doubts nobody
    yield from _find_beyond(given, rules, doubted, limits)


def _find_beyond(
    given: Mapping[str, float], rules: Rules, doubted: Collection[str], limits: Mapping[str, float]
) -> Iterator[Likely]:
    known = proportions(rules)[0].means
    left = {name: value for name, value in given.items() if name in known and name not in doubted}
    while len(left) > 1:
        judged = [_judge(name, left, rules, limits[name]) for name in left if name in limits]
        worst = max(judged, key=lambda each: each.off, default=None)
        if worst is None or worst.off <= 1.0:
            return
        del left[worst.name]
        yield worst


def _judge(name: str, given: Mapping[str, float], rules: Rules, limit: float) -> Likely:
    """Judge a measurement by the survey in which it is likelier, and tell what is likely in either."""
    weighed = zip(proportions(rules), _weigh_others(name, tuple(given), rules), strict=True)
    each = [_judge_in_survey(name, given, survey, shares, limit) for survey, shares in weighed]
    nearest = min(each, key=lambda likely: likely.off)
    low, high = min(likely.low for likely in each), max(likely.high for likely in each)
    return Likely(name, low, high, 0.0 if low <= given[name] <= high else nearest.off, nearest.most)


def _judge_in_survey(
    name: str, given: Mapping[str, float], survey: Proportions, shares: Sequence[float], limit: float
) -> Likely:
    """Judge by the mean and the spread of people who share all others, taped at home."""
    names = tuple(given)
    place = names.index(name)
    parts = list(map(mul, shares, (math.log(given[each]) - survey.means[each] for each in names)))
    off = math.fsum(parts) / shares[place]
    reach = limit / math.sqrt(shares[place])
    likely = math.log(given[name]) - off
    others = [i for i in range(len(names)) if i != place]
    alike = [i for i in others if _is_girth(names[i]) == _is_girth(name)]  # what a maker holds it against
    most = max(alike or others, key=lambda i: parts[i] * off)
    return Likely(name, math.exp(likely - reach), math.exp(likely + reach), abs(off) / reach, names[most])


def _is_girth(name: str) -> bool:
    return measurements()[name].kind is MeasureKind.GIRTH


@cache
def _weigh_others(name: str, names: tuple[str, ...], rules: Rules) -> tuple[tuple[float, ...], ...]:
    """Return, for each survey, a row of the inverse of the covariances of these measurements, taped at home."""
    return tuple(_weigh_in_survey(name, names, survey) for survey in proportions(rules))


def _weigh_in_survey(name: str, names: Sequence[str], survey: Proportions) -> tuple[float, ...]:
    rows = _covariances(names, survey)
    wanted = np.array([[float(each == name)] for each in names])
    return tuple(map(float, solve_covariances(rows, wanted)[:, 0]))


def _covariances(names: Sequence[str], survey: Proportions) -> NDArray[np.float64]:
    """Of the logarithms of these measurements, taped at home."""
    rows = np.array([[survey.covariances[a, b] for b in names] for a in names])
    return rows + np.diag([(TAPED_OUT / math.exp(survey.means[each])) ** 2 for each in names])
