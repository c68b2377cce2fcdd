"""Estimating what wasn't measured: by a sum of what was, else by least squares on a survey."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from drafting.body.contradiction import ABOVE, MOST_APART, pairs
from drafting.body.doubt import extremes
from drafting.body.measurement import measured_apart, measurements, speak_measurement
from drafting.body.survey import SURVEY_NAME, Rules, from_survey, regression, survey, to_survey
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Estimate:
    """How a measurement came about that wasn't taken.

    ``rule`` is the sum or the formula; ``error`` what a formula is usually out by (mm, rad, kg), None of a sum;
    ``caution`` what is doubtful about any estimate of it, ``drawn_in`` what this one was drawn in to, ``beyond`` the
    measurement, such as no one surveyed has, that makes it uncertain how far it is out; each "" if nothing.
    """

    rule: str
    error: float | None = None
    caution: str = ""
    drawn_in: str = ""
    beyond: str = ""

    def __str__(self) -> str:
        """Return all of it in one line."""
        return "; ".join(part for part in (self.rule, self.caution, self.doubt) if part)

    @property
    def doubt(self) -> str:
        """What is doubtful about this estimate alone, "" if nothing."""
        beyond = f"it may be far out: no one surveyed has such a {self.beyond}" if self.beyond else ""
        drawn = f"drawn in to {self.drawn_in}" if self.drawn_in else ""
        return "; ".join(part for part in (drawn, beyond) if part)


@dataclass(frozen=True, slots=True)
class Basis:
    """What a measurement is estimated from: ``always`` (given or estimated before) and ``also``, if given."""

    always: tuple[str, ...]
    also: tuple[str, ...] = ()


# In the order they are estimated. Chosen so that each follows what it hangs on in the body (lengths on
# stature, girths on the girths near them); scye depth leans on stature and back length and hardly on the
# bust, as the surveys show.
BASES: Final[Mapping[str, Basis]] = MappingProxyType(
    {
        "stature": Basis(
            ("back_neck_point_to_waist", "hip_girth"),
            ("back_neck_point_height", "inside_leg_height", "straight_arm_length", "outer_arm_length"),
        ),
        "body_mass": Basis(("stature", "bust_girth", "waist_girth", "hip_girth")),
        "back_neck_point_height": Basis(("stature",)),
        "side_neck_point_height": Basis(("stature",), ("back_neck_point_height", "shoulder_point_height")),
        "front_neck_point_height": Basis(("stature",), ("back_neck_point_height", "side_neck_point_height")),
        "shoulder_length": Basis(("stature", "bust_girth"), ("across_back_width", "across_front_width")),
        "shoulder_slope": Basis(("stature", "bust_girth"), ("shoulder_length",)),
        "armpit_height": Basis(("stature", "bust_girth"), ("shoulder_point_height", "scye_depth_length")),
        "waist_height": Basis(("stature", "back_neck_point_to_waist"), ("inside_leg_height", "back_neck_point_height")),
        "bust_point_height": Basis(("stature", "bust_girth"), ("armpit_height", "side_neck_point_to_bust_point")),
        "hip_height": Basis(("stature", "back_neck_point_to_waist"), ("inside_leg_height", "waist_height")),
        "inside_leg_height": Basis(("stature", "hip_girth"), ("waist_height", "hip_height")),
        "knee_height": Basis(("stature",), ("inside_leg_height",)),
        "head_girth": Basis(("stature", "bust_girth"), ("neck_girth",)),
        "neck_base_girth": Basis(("stature", "bust_girth"), ("neck_girth",)),
        "neck_girth": Basis(("stature", "bust_girth"), ("neck_base_girth",)),
        "upper_chest_girth": Basis(("bust_girth",), ("across_back_width", "upper_arm_girth")),
        "under_bust_girth": Basis(("bust_girth", "waist_girth"), ("upper_chest_girth",)),
        "waist_girth_natural": Basis(("waist_girth",), ("under_bust_girth",)),
        "waist_girth_navel": Basis(("waist_girth", "hip_girth")),
        "upper_arm_girth": Basis(("bust_girth", "hip_girth"), ("elbow_girth", "armscye_girth")),
        "armscye_girth": Basis(("stature", "bust_girth"), ("upper_arm_girth", "shoulder_length")),
        "elbow_girth": Basis(("stature", "bust_girth"), ("upper_arm_girth", "wrist_girth")),
        "wrist_girth": Basis(("stature", "bust_girth"), ("hand_girth", "elbow_girth")),
        "hand_girth": Basis(("stature", "bust_girth"), ("wrist_girth",)),
        "thigh_girth": Basis(("hip_girth",), ("knee_girth", "waist_girth")),
        "knee_girth": Basis(("stature", "hip_girth"), ("thigh_girth", "calf_girth")),
        "calf_girth": Basis(("hip_girth",), ("knee_girth", "ankle_girth")),
        "ankle_girth": Basis(("stature", "hip_girth"), ("calf_girth",)),
        "across_back_width": Basis(("stature", "bust_girth"), ("across_back_width_at_armpit", "shoulder_length")),
        "across_back_width_at_armpit": Basis(("bust_girth",), ("across_back_width",)),
        "across_front_width": Basis(("bust_girth",), ("upper_chest_girth", "across_back_width_at_armpit")),
        "bust_point_width": Basis(("bust_girth",), ("under_bust_girth",)),
        "side_neck_point_to_waist_over_bust": Basis(
            ("back_neck_point_to_waist", "stature", "bust_girth"),
            ("side_neck_point_to_bust_point", "front_neck_point_to_waist"),
        ),
        "front_neck_point_to_waist": Basis(
            ("back_neck_point_to_waist", "stature", "bust_girth"), ("side_neck_point_to_waist_over_bust",)
        ),
        "side_neck_point_to_bust_point": Basis(("stature", "bust_girth"), ("side_neck_point_to_waist_over_bust",)),
        "scye_depth_length": Basis(("stature", "back_neck_point_to_waist", "bust_girth")),
        "upper_arm_length": Basis(("stature",), ("outer_arm_length", "straight_arm_length", "lower_arm_length")),
        "lower_arm_length": Basis(("stature",), ("outer_arm_length", "straight_arm_length", "upper_arm_length")),
        "straight_arm_length": Basis(("stature",), ("outer_arm_length", "upper_arm_length")),
        "body_rise": Basis(("stature", "hip_girth"), ("waist_to_hip", "total_crotch_length")),
        "total_crotch_length": Basis(("stature", "hip_girth", "waist_girth"), ("body_rise",)),
    }
)

# Sums that hold by the way the measurements are defined: target = plus - minus.
_SUMS: Final = (
    ("hip_height", "waist_height", "waist_to_hip"),
    ("waist_height", "hip_height", "-waist_to_hip"),
    ("waist_to_hip", "waist_height", "hip_height"),
    ("upper_arm_length", "outer_arm_length", "lower_arm_length"),
    ("lower_arm_length", "outer_arm_length", "upper_arm_length"),
    ("outer_arm_length", "upper_arm_length", "-lower_arm_length"),
)


def estimates(given: Mapping[str, float], rules: Rules) -> tuple[dict[str, float], dict[str, Estimate]]:
    """Return every measurement (mm, rad, kg), given and estimated, and the rule behind each estimate.

    ``given`` must hold the needed measurements. Sums of given measurements are closed first; the rest are
    means of the people of the survey who share the given measurements, kept within what is plausible beside
    those given. What is measured apart on both sides has its mean for the body; of one side alone, the other is
    as the body's. Sides that nobody measured apart aren't estimated: both are as the body's.
    """
    values, stated = dict(given), dict[str, Estimate]()
    _mean_of_sides(values, stated)
    for name, basis in BASES.items():
        _close(values, stated)
        if name in values:
            continue
        also = tuple(each for each in basis.also if each in given)
        values[name], stated[name] = _by_regression(name, basis.always + also, values, rules)
        _keep_plausible(name, values, stated)
    _close(values, stated)
    _other_side(values, stated)
    return values, stated


def _mean_of_sides(values: dict[str, float], stated: dict[str, Estimate]) -> None:
    """Add what was measured on both sides but not for the body: the mean of the two."""
    for both, (left, right) in measured_apart().items():
        if both not in values and left in values and right in values:
            values[both] = (values[left] + values[right]) / 2.0
            stated[both] = Estimate("the mean of left and right, measured apart")


def _other_side(values: dict[str, float], stated: dict[str, Estimate]) -> None:
    """Add the side that wasn't measured where the other one was: as the body's, measured or estimated."""
    for both, sides in measured_apart().items():
        for one, other in (sides, sides[::-1]):
            if one in values and other not in values:
                kept = min(max(values[both], values[one] - MOST_APART), values[one] + MOST_APART)
                beside = f"what can stand beside the {speak_measurement(one)}" if kept != values[both] else ""
                rule = f"as the {speak_measurement(both)}" + (", itself estimated" if both in stated else "")
                stated[other] = Estimate(rule, drawn_in=beside)
                values[other] = kept


def _close(values: dict[str, float], stated: dict[str, Estimate]) -> None:
    """Add what now follows by a sum of measurements given or estimated before."""
    for target, plus, other in _SUMS:
        minus = other.lstrip("-")
        if target in values or plus not in values or minus not in values:
            continue
        sign, word = (1.0, "plus") if other.startswith("-") else (-1.0, "less")
        values[target] = values[plus] + sign * values[minus]
        beyond = next((stated[part].beyond for part in (plus, minus) if part in stated), "")
        stated[target] = Estimate(f"{speak_measurement(plus)} {word} {speak_measurement(minus)}", beyond=beyond)
        _keep_plausible(target, values, stated)
    neck, point, length, slope = (
        "side_neck_point_height",
        "shoulder_point_height",
        "shoulder_length",
        "shoulder_slope",
    )
    if slope not in values and {neck, point, length} <= values.keys():
        fall = min(1.0, max(0.0, (values[neck] - values[point]) / values[length]))
        values[slope] = math.asin(fall)
        stated[slope] = Estimate("the fall from side neck point to shoulder point height, over the shoulder length")
        _keep_plausible(slope, values, stated)
    if point not in values and {neck, length, slope} <= values.keys():
        values[point] = values[neck] - values[length] * math.sin(values[slope])
        stated[point] = Estimate("side neck point height less the fall of the shoulder over its length at its slope")


def _by_regression(
    name: str, predictors: tuple[str, ...], values: Mapping[str, float], rules: Rules
) -> tuple[float, Estimate]:
    known = measurements()
    fit = regression(rules, name, predictors)
    outside = {each: to_survey(known[each].unit, values[each]) for each in predictors}
    unit = {"mm": "cm", "rad": "deg", "kg": "kg"}[known[name].unit]
    beyond = next((speak_measurement(each) for each in predictors if extremes(rules).is_beyond(each, values[each])), "")
    give = "" if beyond else f", give or take {fit.error:.1f} {unit}"
    source = f"least squares on {survey(rules).count:,} {rules} of {SURVEY_NAME}"
    rule = f"{fit.rule()} ({unit} from cm; {source}{give})"
    error = from_survey(known[name].unit, round(fit.error, 1))
    estimate = Estimate(rule, error, known[name].caution, beyond=beyond)
    return from_survey(known[name].unit, fit.value(outside)), estimate


def _keep_plausible(name: str, values: dict[str, float], stated: dict[str, Estimate]) -> None:
    """Draw an estimate in to its plausible range, and to what can stand beside what is known so far."""
    each = measurements()[name]
    low, high, why = each.low, each.high, "its plausible range"
    for beside, least, most in _bounds(name, values):
        if not least <= values[name] <= most:
            why = f"what can stand beside the {speak_measurement(beside)}"
        low, high = max(low, least), min(high, most)
    kept = min(max(values[name], low), high)
    if kept != values[name]:
        values[name] = kept
        stated[name] = replace(stated[name], drawn_in=why)


def _bounds(name: str, values: Mapping[str, float]) -> Iterator[tuple[str, float, float]]:
    """Yield each measurement that bounds this one, and between what."""
    for pair in pairs():
        if pair.first == name and pair.second in values:
            yield pair.second, values[pair.second] * pair.low, values[pair.second] * pair.high
        elif pair.second == name and pair.first in values:
            yield pair.first, values[pair.first] / pair.high, values[pair.first] / pair.low
    for (upper, lower), least in ABOVE.items():
        if upper == name and lower in values:
            yield lower, values[lower] + least, math.inf
        elif lower == name and upper in values:
            yield upper, -math.inf, values[upper] - least
