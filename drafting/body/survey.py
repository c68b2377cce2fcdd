"""What is known of bodies in general: a survey's means and covariances, and the least squares that follow."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from functools import cache
from operator import mul
from pathlib import Path
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from drafting.record import dataclass

Rules = Literal["women", "men"]

SURVEY_NAME = "ANSUR 1988"


@dataclass(frozen=True, slots=True)
class Survey:
    """Means and covariances of one group of people: centimetres, degrees and kilograms, as measured."""

    people: str
    count: int
    means: Mapping[str, float]
    covariances: tuple[tuple[float, ...], ...]
    places: Mapping[str, int]

    def covariance(self, first: str, second: str) -> float:
        """Return how two measurements vary together."""
        i, j = sorted((self.places[first], self.places[second]))
        return self.covariances[j][i]


@dataclass(frozen=True, slots=True)
class Regression:
    """A measurement as a constant plus shares of others (cm, deg, kg); ``error`` is the standard error."""

    target: str
    constant: float
    shares: Mapping[str, float]
    error: float

    def value(self, given: Mapping[str, float]) -> float:
        """Return the estimate for the given measurements (cm, deg, kg)."""
        return self.constant + sum(share * given[name] for name, share in self.shares.items())

    def rule(self) -> str:
        """Return the regression as a formula in plain words."""
        terms = "".join(
            f" {'-' if share < 0 else '+'} {abs(share):.3f} x {name.replace('_', ' ')}"
            for name, share in self.shares.items()
        )
        return f"{self.constant:.2f}{terms}"


@cache
def survey(rules: Rules) -> Survey:
    """Return the survey behind the estimates for women or for men.

    Source: Gordon et al. 1989, NATICK/TR-89/027 (1988 Anthropometric Survey of US Army Personnel), computed
    from a sample of its individual data; soldiers of 17 to 58 years, leaner and more alike than civilians.
    """
    text = Path(__file__).with_name("survey_1988.json").read_text(encoding="utf-8")
    data = json.loads(text)
    names, group = data["names"], data[rules]
    return Survey(
        people=rules,
        count=int(group["count"]),
        means=MappingProxyType(dict(zip(names, group["mean"], strict=True))),
        covariances=tuple(tuple(row) for row in group["covariance"]),
        places=MappingProxyType({name: place for place, name in enumerate(names)}),
    )


@cache
def regression(rules: Rules, target: str, predictors: tuple[str, ...]) -> Regression:
    """Return the least-squares regression of one measurement on others in that survey."""
    known = survey(rules)
    to_target = [known.covariance(target, name) for name in predictors]
    among = [[known.covariance(a, b) for b in predictors] for a in predictors]
    shares = solve_covariances(np.array(among), np.array(to_target)[:, None])[:, 0].tolist()
    constant = known.means[target] - math.fsum(s * known.means[n] for s, n in zip(shares, predictors, strict=True))
    left = known.covariance(target, target) - math.fsum(map(mul, shares, to_target))
    fit = MappingProxyType(dict(zip(predictors, shares, strict=True)))
    return Regression(target, constant, fit, math.sqrt(max(0.0, left)))


def to_survey(unit: str, value: float) -> float:
    """Return a measurement (mm, rad, kg) as the survey gives it: in cm, degrees or kg."""
    return {"mm": value / 10.0, "rad": math.degrees(value), "kg": value}[unit]


def from_survey(unit: str, value: float) -> float:
    """Return a measurement of the survey (cm, degrees, kg) in mm, rad or kg."""
    return {"mm": value * 10.0, "rad": math.radians(value), "kg": value}[unit]


def solve_covariances(among: NDArray[np.float64], right: NDArray[np.float64]) -> NDArray[np.float64]:
    """Solve a system whose matrix is one of covariances, for every column of ``right``.

    By elimination in numpy's rows: ``linalg`` sums in an order that depends on the processor. What is positive definite
    needs no pivoting.
    """
    rows = np.hstack([among, right])
    for i in range(len(rows)):
        rows[i] /= rows[i, i]
        shares = rows[:, i : i + 1].copy()
        shares[i] = 0.0
        rows -= shares * rows[i]
    return rows[:, len(rows) :]
