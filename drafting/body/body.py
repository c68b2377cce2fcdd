"""A body: every measurement by name, those given and those estimated."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType
from typing import Final

from drafting.body.contradiction import contradictions
from drafting.body.estimate import Estimate, estimates
from drafting.body.measurement import Measurement, measurements
from drafting.body.survey import Rules
from drafting.errors import DraftingError, InputError, Problem, close_matches
from drafting.record import dataclass
from drafting.sides import swap_sides
from drafting.text import printable
from drafting.units import Unit, show_length


class UnknownMeasurement(DraftingError, KeyError):
    """No measurement of that name; carries close matches."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.close = close_matches(name, measurements())
        super().__init__(f"no measurement is called {name[:60]!r}; near it: {', '.join(self.close) or 'none'}")


@dataclass(frozen=True, slots=True)
class Body:
    """A person's measurements by name: lengths mm, angles rad, mass kg; read only.

    ``values`` holds every measurement, ``estimated`` how each one came about that wasn't given. The sides of a
    measurement are among them only where one was measured apart; else either side is the measurement itself.
    """

    name: str
    values: Mapping[str, float]
    estimated: Mapping[str, Estimate] = field(default_factory=dict)
    rules: Rules = "women"

    def __post_init__(self) -> None:
        object.__setattr__(self, "values", MappingProxyType(dict(self.values)))
        object.__setattr__(self, "estimated", MappingProxyType(dict(self.estimated)))

    def __getitem__(self, name: str) -> float:
        """Return a measurement; UnknownMeasurement, with close matches, for a name that isn't one."""
        values = self.values
        if name in values:
            return values[name]
        each = measurements().get(name)
        if each is not None and each.both in values:
            return values[each.both]
        raise UnknownMeasurement(name)

    def __contains__(self, name: object) -> bool:
        return name in self.values

    def __hash__(self) -> int:
        return hash((self.name, self.rules, tuple(self.values.items())))

    def __reduce__(self) -> tuple[type[Body], tuple[object, ...]]:
        return Body, (self.name, dict(self.values), dict(self.estimated), self.rules)

    @property
    def called(self) -> Mapping[str, str]:
        """What levels are called that have another name on this body: a man's bust is his chest (common practice).

        Measurements keep their names as the standard has them, and so do keys.
        """
        return MappingProxyType({"bust": "chest"} if self.rules == "men" else {})

    @property
    def given(self) -> Mapping[str, float]:
        """The measurements that were taken, without the estimates."""
        return MappingProxyType({name: value for name, value in self.values.items() if name not in self.estimated})

    @property
    def mirrored(self) -> Body:
        """The body in a mirror: what was measured apart on its left is on its right."""
        values = {swap_sides(name): value for name, value in self.values.items()}
        estimated = {swap_sides(name): how for name, how in self.estimated.items()}
        return Body(self.name, values, estimated, self.rules)


def make_body(
    name: str,
    given: Mapping[str, float],
    *,
    rules: Rules = "women",
    where: str = "body",
    unit: Unit = "cm",
    written: Mapping[str, str] = MappingProxyType({}),
) -> Body:
    """Return the body with these measurements (mm, rad, kg), the missing ones estimated for ``rules``.

    InputError with a Problem for each unknown name, each needed measurement that is missing, each value out
    of its plausible range, and each contradiction; ``where`` locates them ("alto.toml: wearer.body"),
    ``unit`` is the one they are shown in. ``written`` are those that came with a unit of their own, as they stood.

    >>> alto = make_body("alto", {"bust_girth": 960, "waist_girth": 800, "hip_girth": 1020,
    ...                           "back_neck_point_to_waist": 410, "stature": 1680})
    >>> alto["bust_girth"], "armscye_girth" in alto.estimated
    (960.0, True)
    """
    if rules not in ("women", "men"):
        raise InputError([Problem(f"{where}.averages", str(rules)[:40], "women or men")])
    known = measurements()
    problems = [
        Problem(f"{where}.{printable(each[:60])}", "unknown measurement", close=close_matches(each, known))
        for each in given
        if each not in known
    ]
    problems += [_missing_problem(known[each], where) for each in known if known[each].needed and each not in given]
    read = {each: value for each, value in given.items() if each in known}
    ranged = {
        each: _range_problem(known[each], value, where, unit, written.get(each, "")) for each, value in read.items()
    }
    problems += [problem for problem in ranged.values() if problem is not None]
    sound = {each: float(value) for each, value in read.items() if ranged[each] is None}
    problems += contradictions(sound, where, unit)
    if problems:
        raise InputError(problems)
    values, stated = estimates(sound, rules)
    return Body(name, {each: values[each] for each in known if each in values}, stated, rules)


def _missing_problem(each: Measurement, where: str) -> Problem:
    return Problem(f"{where}.{each.name}", "missing: every pattern needs it", mend=each.sentence)


def _range_problem(each: Measurement, value: object, where: str, unit: Unit, written: str) -> Problem | None:
    allowed = each.show_range(unit)
    place = f"{where}.{each.name}"
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return Problem(place, f"a {type(value).__name__}", allowed, each.sentence)
    if abs(value) > 1e9 or not math.isfinite(value):
        return Problem(place, "no ordinary number", allowed, each.sentence)
    if each.low <= value <= each.high:
        return None
    if value <= 0 and each.name == "waist_to_hip":
        return Problem(place, f"{each.show(value, unit)}: the waist is not above the hip line", allowed, each.sentence)
    if written:
        return Problem(place, f"{written}, which is {each.show(value, unit)}", allowed, "check the figure and its unit")
    return Problem(place, each.show(value, unit), allowed, _slip(each, value, unit) or each.sentence)


_UNITS: Final[Mapping[Unit, str]] = MappingProxyType({"in": "inches", "cm": "centimetres", "mm": "millimetres"})


def _slip(each: Measurement, value: float, unit: Unit) -> str:
    """Return a mend where the value would fit in another unit, else nothing."""
    if each.unit != "mm":
        return ""
    number = value / {"mm": 1.0, "cm": 10.0, "in": 25.4}[unit]
    others: tuple[tuple[Unit, float], ...] = (("in", 25.4), ("cm", 10.0), ("mm", 1.0))
    for other, millimetres in others:
        if other != unit and each.low <= number * millimetres <= each.high:
            return f'if your tape is in {_UNITS[other]}, write "{show_length(number * millimetres, other)}"'
    return ""
