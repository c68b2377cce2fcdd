"""Every value is read in its unit, held to its range, and refused with place, range and nearest names."""

from __future__ import annotations

import datetime
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.errors import InputError, Problem
from drafting.garment.step import options_of
from drafting.ticket.tree import TicketValue
from drafting.ticket.values import read_values
from drafting.units import Unit
from tests.ticket.stubs import BodyOptions

INFOS = options_of(BodyOptions)


def read(values: dict[str, Any], unit: Unit = "cm") -> tuple[dict[str, Any], list[Problem]]:
    """Read options as they'd stand in a ticket."""
    problems: list[Problem] = []
    tree = {key: TicketValue(value, f"alto.toml: blocks.body.{key}", unit) for key, value in values.items()}
    return read_values(tree, INFOS, problems), problems


@pytest.mark.parametrize(
    ("key", "value", "unit", "inside"),
    [
        ("drop", 4, "cm", 40.0),
        ("drop", 4.5, "mm", 4.5),
        ("drop", "1 1/2 in", "cm", 38.1),
        ("drop", 2, "in", 50.8),
        ("shift", "-3 cm", "cm", -30.0),
        ("flare", "12.5 %", "cm", 0.125),
        ("flare", 0.2, "cm", 0.2),
        ("slope", "20 deg", "cm", math.radians(20.0)),
        ("slope", 20, "cm", math.radians(20.0)),
        ("tucks", 3, "cm", 3),
        ("neck", "vee", "cm", "vee"),
        ("lined", True, "cm", True),
    ],
)
def test_values_are_read_into_inside_units(key: str, value: Any, unit: Unit, inside: Any) -> None:
    """Millimetres, radians and shares."""
    values, problems = read({key: value}, unit)
    assert not problems
    assert values[key] == pytest.approx(inside)


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("drop", "4 parsecs", "mm, cm, m, in"),
        ("drop", "", "filled in"),
        ("drop", float("nan"), "alto.toml: blocks.body.drop"),
        ("drop", float("inf"), "ordinary number"),
        ("drop", 10**400, "ordinary number"),
        ("drop", -1, "0.0 cm to 20.0 cm"),
        ("drop", 1e300, "ordinary number"),
        ("drop", 21, "0.0 cm to 20.0 cm"),
        ("drop", True, "number"),
        ("drop", [1], "number"),
        ("drop", datetime.date(2026, 1, 1), "number"),
        ("shift", "-6 cm", "-5.0 cm to 5.0 cm"),
        ("flare", "90 %", "0 % to 50 %"),
        ("flare", 25, "25 %"),
        ("slope", "80 deg", "5.8 deg to 34.3 deg"),
        ("tucks", 1.5, "0 to 9"),
        ("tucks", True, "0 to 9"),
        ("tucks", 10**4000, "15 digits"),
        ("neck", "vea", "did you mean vee?"),
        ("neck", 3, "round or vee"),
        ("lined", 1, "true or false"),
        ("lined", "yes", "true or false"),
        ("drip", 3, "did you mean drop?"),
    ],
)
def test_refusals_name_place_range_and_mend(key: str, value: Any, says: str) -> None:
    """One problem, with the key, and with what may stand there or is nearly it."""
    values, problems = read({key: value})
    assert values == {}
    assert len(problems) == 1
    said = problems[0].sentence()
    assert says in said
    assert f"blocks.body.{key}" in said
    assert len(said) < 600


def test_all_problems_are_told_at_once() -> None:
    """A maker mends them in one go."""
    values, problems = read({"drop": -1, "neck": "square", "tucks": 2, "lind": True})
    assert values == {"tucks": 2}
    assert len(problems) == 3


def test_a_table_where_a_value_belongs_is_refused() -> None:
    """[blocks.body.drop] with keys below it."""
    problems: list[Problem] = []
    read_values({"drop": {"cm": TicketValue(3, "alto.toml: blocks.body.drop.cm", "cm")}}, INFOS, problems)
    assert "a table stands here" in problems[0].sentence()


@settings(deadline=None, derandomize=True, max_examples=300)
@given(
    key=st.sampled_from([info.name for info in INFOS]),
    value=st.one_of(
        st.text(max_size=80),
        st.floats(),
        st.integers(),
        st.booleans(),
        st.lists(st.integers(), max_size=3),
        st.from_regex(r"-?[0-9]{1,4}(\.[0-9]{1,3})? ?(cm|mm|in|%|deg)?", fullmatch=True),
    ),
)
def test_whatever_stands_there_is_read_or_refused_in_words(key: str, value: Any) -> None:
    """A value is within its range, or it is a problem that prints."""
    values, problems = read({key: value})
    info = next(info for info in INFOS if info.name == key)
    assert len(values) + len(problems) == 1 or (problems and not values)
    for inside in values.values():
        if isinstance(inside, float):
            assert info.low is not None
            assert info.high is not None
            assert info.low <= inside <= info.high
    for problem in problems:
        from drafting.text import printable

        assert problem.where == f"alto.toml: blocks.body.{key}"
        assert len(printable(problem.sentence())) < 700


def test_reading_raises_only_input_errors() -> None:
    """The reader of one value, alone."""
    from drafting.ticket.values import read_value

    with pytest.raises(InputError):
        read_value(INFOS[0], TicketValue(object(), "x", "cm"))
