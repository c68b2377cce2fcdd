"""Measurements that can't stand beside each other on one body."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Final

from drafting.body.measurement import measured_apart, measurements, speak_measurement
from drafting.errors import Problem
from drafting.record import dataclass
from drafting.trade import TradeValue, trade_table
from drafting.units import Unit, show_length


@dataclass(frozen=True, slots=True)
class Pair:
    """Two measurements whose ratio first/second is bounded on any body, and what is said if it isn't."""

    first: str
    second: str
    low: float
    high: float
    too_low: str
    too_high: str


@cache
def pairs() -> tuple[Pair, ...]:
    """Return the pairs of measurements whose ratio is bounded.

    Limits: the extremes among 2,994 people of two surveys (ANSUR 1988 and ANSUR II, samples) widened by about
    a tenth or more, so that they only catch what can't be.
    """
    text = Path(__file__).with_name("pairs.json").read_text(encoding="utf-8")
    return tuple(Pair(*row) for row in json.loads(text))


ABOVE: Final[Mapping[tuple[str, str], float]] = trade_table(
    {
        ("stature", "back_neck_point_height"): 120.0,
        ("back_neck_point_height", "shoulder_point_height"): 0.0,
        ("side_neck_point_height", "shoulder_point_height"): 5.0,
        ("side_neck_point_height", "front_neck_point_height"): 10.0,
        ("shoulder_point_height", "armpit_height"): 30.0,
        ("armpit_height", "bust_point_height"): -40.0,
        ("armpit_height", "waist_height"): 80.0,
        ("bust_point_height", "waist_height"): 30.0,
        ("waist_height", "hip_height"): 50.0,
        ("hip_height", "inside_leg_height"): -50.0,
        ("inside_leg_height", "knee_height"): 120.0,
    },
    "mm",
    "from memory",
)
"""By which one height lies over another at least; below 0 where the two may nearly meet."""
SUM_SLACK: Final = TradeValue(40.0, "mm", "from memory")
"""By which lengths taken one by one may differ from the same length taken in one."""
MOST_APART: Final = TradeValue(math.radians(15.0), "rad", "from memory")
"""By which the slopes of a body's two shoulders may differ: over a shoulder of 12 cm one end lies 3 cm lower, what
surgeons of the spine call severe."""
SLOPE_SLACK: Final = TradeValue(math.radians(4.0), "rad", "from memory")
"""By which a slope for both shoulders may lie outside those of the sides: the error of reading a photo."""


def contradictions(given: Mapping[str, float], where: str, unit: Unit) -> tuple[Problem, ...]:
    """Return what can't stand together among the given measurements (mm, rad, kg)."""
    found = [_judge_pair(pair, given, where, unit) for pair in pairs() if pair.first in given and pair.second in given]
    found += [
        _judge_above(upper, lower, least, given, where, unit)
        for (upper, lower), least in ABOVE.items()
        if upper in given and lower in given
    ]
    found += [
        _judge_back(given, where, unit),
        _judge_hip_line(given, where, unit),
        _judge_arm(given, where, unit),
        _judge_slope(given, where),
        *(_judge_sides(both, sides, given, where) for both, sides in measured_apart().items()),
    ]
    return tuple(problem for problem in found if problem is not None)


def _judge_pair(pair: Pair, given: Mapping[str, float], where: str, unit: Unit) -> Problem | None:
    first, second = given[pair.first], given[pair.second]
    if pair.low * second <= first <= pair.high * second:
        return None
    says = pair.too_low if first < pair.low * second else pair.too_high
    low, high = show_length(pair.low * second, unit), show_length(pair.high * second, unit)
    allowed = f"beside this {speak_measurement(pair.second)}, {low} to {high}"
    return _problem(pair.first, pair.second, says, allowed, given, where, unit)


def _judge_above(
    upper: str, lower: str, least: float, given: Mapping[str, float], where: str, unit: Unit
) -> Problem | None:
    if given[upper] - given[lower] >= least:
        return None
    says = f"the {speak_measurement(lower)} comes too near the {speak_measurement(upper)}, or above it"
    if (upper, lower) == ("waist_height", "hip_height"):
        says = "the waist is not above the hip line"
    return _problem(lower, upper, says, f"at most {show_length(given[upper] - least, unit)}", given, where, unit)


def _judge_back(given: Mapping[str, float], where: str, unit: Unit) -> Problem | None:
    """Judge the back length against the heights: 3 cm less to 5 cm more, among those surveyed."""
    names = ("back_neck_point_to_waist", "back_neck_point_height", "waist_height")
    if not all(name in given for name in names):
        return None
    length, high = given[names[0]], given[names[1]] - given[names[2]]
    if high - 50.0 <= length <= high + 90.0:
        return None
    says = f"the heights leave {show_length(high, unit)} down to {names[2]} {show_length(given[names[2]], unit)}"
    allowed = f"{show_length(high - 50.0, unit)} to {show_length(high + 90.0, unit)}"
    return _problem(names[0], names[1], says, allowed, given, where, unit)


def _judge_hip_line(given: Mapping[str, float], where: str, unit: Unit) -> Problem | None:
    names = ("waist_to_hip", "waist_height", "hip_height")
    if not all(name in given for name in names):
        return None
    high = given[names[1]] - given[names[2]]
    if abs(given[names[0]] - high) <= SUM_SLACK:
        return None
    says = f"the heights leave {show_length(high, unit)} down to {names[2]} {show_length(given[names[2]], unit)}"
    return _problem(names[0], names[1], says, f"about {show_length(high, unit)}", given, where, unit)


def _judge_arm(given: Mapping[str, float], where: str, unit: Unit) -> Problem | None:
    names = ("outer_arm_length", "upper_arm_length", "lower_arm_length")
    if not all(name in given for name in names):
        return None
    both = given[names[1]] + given[names[2]]
    if abs(given[names[0]] - both) <= SUM_SLACK:
        return None
    says = f"it is {show_length(both, unit)} with {names[2]} {show_length(given[names[2]], unit)}"
    return _problem(names[0], names[1], says, f"about {show_length(both, unit)}", given, where, unit)


def _judge_slope(given: Mapping[str, float], where: str) -> Problem | None:
    names = ("shoulder_slope", "side_neck_point_height", "shoulder_point_height", "shoulder_length")
    if not all(name in given for name in names):
        return None  # a height is taken on one shoulder, so the sides measured apart aren't judged by it
    fall = (given[names[1]] - given[names[2]]) / given[names[3]]
    by_heights = math.degrees(math.asin(min(1.0, max(-1.0, fall))))
    slope = math.degrees(given[names[0]])
    if abs(slope - by_heights) <= 10.0:
        return None
    read = f"{slope:.0f} deg, but {by_heights:.0f} deg by side_neck_point_height and shoulder_point_height"
    return Problem(
        f"{where}.{names[0]}", read, f"about {by_heights:.0f} deg", "measure the slope and both heights again"
    )


def _judge_sides(both: str, sides: tuple[str, str], given: Mapping[str, float], where: str) -> Problem | None:
    """Judge the sides of a measurement taken apart: beside each other, and the measurement for both beside them."""
    known, told = measurements(), [side for side in sides if side in given]
    low, high = ([f(given[side] for side in told) for f in (min, max)]) if told else (0.0, 0.0)
    if len(told) == 1 and both in given:  # the other side is then as the body's
        low, high = min(low, given[both]), max(high, given[both])
    if high - low > MOST_APART:
        first, second = told[0], told[1] if len(told) == 2 else both
        read = f"{known[first].show(given[first])} beside {second} {known[second].show(given[second])}"
        says = f"{read}: the two shoulders differ by {known[first].show(high - low)}"
        mend = f"measure both again, the photo's lower edge level. {known[first].sentence}"
        return Problem(f"{where}.{first}", says, f"at most {known[first].show(MOST_APART)} apart", mend)
    if len(told) == 2 and both in given and not low - SLOPE_SLACK <= given[both] <= high + SLOPE_SLACK:
        read = f"{known[both].show(given[both])} beside {sides[0]} {known[both].show(given[sides[0]])}"
        says = f"{read} and {sides[1]} {known[both].show(given[sides[1]])}: it doesn't lie between them"
        allowed = f"{known[both].show(low)} to {known[both].show(high)}"
        return Problem(f"{where}.{both}", says, allowed, f"leave out {both}, or measure all three again")
    return None


def _problem(
    first: str, second: str, says: str, allowed: str, given: Mapping[str, float], where: str, unit: Unit
) -> Problem:
    known = measurements()
    one, other = known[first], known[second]
    read = f"{one.show(given[first], unit)} beside {second} {other.show(given[second], unit)}: {says}"
    mend = f"measure both again. {one.title}: {one.sentence} {other.title}: {other.sentence}"
    return Problem(f"{where}.{first}", read, allowed, mend)
