"""What is known of bodies in general: a survey's means and covariances, and the least squares that follow."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Literal

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
    import numpy as np  # late: listing measurements needn't wait for it

    known = survey(rules)
    among = np.array([[known.covariance(a, b) for b in predictors] for a in predictors])
    to_target = np.array([known.covariance(target, name) for name in predictors])
    shares = np.linalg.lstsq(among, to_target, rcond=None)[0]
    constant = known.means[target] - sum(float(s) * known.means[n] for s, n in zip(shares, predictors, strict=True))
    left = known.covariance(target, target) - float(shares @ to_target)
    fit = MappingProxyType({name: float(share) for name, share in zip(predictors, shares, strict=True)})
    return Regression(target, float(constant), fit, math.sqrt(max(0.0, left)))
