"""The list of measurements."""

from __future__ import annotations

import math

from drafting.body import MeasureKind, measured_apart, measurements
from tests.body.people import NEEDED, rows


def test_every_column_of_the_surveys_is_a_measurement_with_its_iso_term():
    """Names, terms and clauses follow the columns file (terms of ISO 8559-1 as cited in data/README.md).

    A clause on which the sources disagree isn't told. What is measured apart on each side is in no survey; it bears the
    term of the measurement for both.
    """
    known = {name: each for name, each in measurements().items() if not each.both}
    columns = {row["column"]: row for row in rows("bodies_columns")}
    assert set(known) == set(columns)
    for name, each in known.items():
        row = columns[name]
        assert each.iso_term == "" or row["iso_8559_1_term"].startswith(each.iso_term)
        assert (each.iso_term == "") == row["iso_8559_1_term"].startswith("(no ISO term")
        clause = row["iso_clause"]
        agreed = clause not in ("not found", "-") and "disagree" not in clause
        assert each.iso_clause[:4] == (clause[:4] if agreed else "")


def test_sides_are_measured_as_the_measurement_for_both_is():
    """Each shoulder's slope: the same term, range and unit, optional, listed beside it, and the side is named."""
    known = measurements()
    for both, sides in measured_apart().items():
        names = list(known)
        place = names.index(both)
        assert tuple(names[place + 1 : place + 3]) == sides
        for side, word in zip(sides, ("left", "right"), strict=True):
            one, common = known[side], known[both]
            assert (one.iso_term, one.unit, one.kind) == (common.iso_term, common.unit, common.kind)
            assert (one.low, one.high, one.needed) == (common.low, common.high, False)
            assert word in one.sentence
            assert not common.both
    assert list(measured_apart()) == ["shoulder_slope"]


def test_each_says_how_it_is_taken_in_a_sentence_and_has_a_sound_range():
    """A person reads the sentence with a tape in hand."""
    for each in measurements().values():
        assert 25 < len(each.sentence) < 180
        assert each.sentence[0].isupper()
        assert each.sentence.endswith(".")
        assert 0 < each.low < each.high < 3000


def test_only_four_measurements_are_needed():
    """With three girths and the back length anything can be drafted."""
    assert {name for name, each in measurements().items() if each.needed} == set(NEEDED)


def test_units_follow_kinds_and_values_are_shown_as_people_read_them():
    """Angles are radians inside and degrees outside."""
    known = measurements()
    assert {each.unit for each in known.values() if each.kind is MeasureKind.ANGLE} == {"rad"}
    assert {each.unit for each in known.values() if each.kind is MeasureKind.MASS} == {"kg"}
    assert known["shoulder_slope"].show(math.radians(25)) == "25 deg"
    assert known["bust_girth"].show(958.85, "in") == "37 3/4 in"
    assert known["bust_girth"].show(960.0) == "96.0 cm"
    assert known["body_mass"].show(62.04) == "62.0 kg"
