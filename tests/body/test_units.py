"""Lengths, angles and shares as people write them."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.errors import InputError
from drafting.units import parse_angle, parse_length, parse_share, parse_unit, show_length, show_share


@pytest.mark.parametrize(
    ("text", "unit", "millimetres"),
    [
        ("96 cm", "mm", 960.0),
        ("960mm", "cm", 960.0),
        ("37 3/4 in", "cm", 958.85),
        ("3/8 in", "cm", 9.525),
        ('37.75"', "cm", 958.85),
        ("37.75\u2033", "cm", 958.85),
        ("37¾ in", "mm", 958.85),
        ("37-3/4 in", "mm", 958.85),
        ("96", "cm", 960.0),
        (96, "cm", 960.0),
        (37.75, "in", 958.85),
        ("1.5 m", "cm", 1500.0),
        ("2 yd", "cm", 1828.8),
        ("5 ft 4 in", "cm", 1625.6),
        ("5'4\"", "cm", 1625.6),
        ("5 ft 4 1/2 in", "cm", 1638.3),
        ("  96\u00a0CM ", "mm", 960.0),
        ("+3 mm", "cm", 3.0),
        (".5 in", "cm", 12.7),
        ("3/2 in", "cm", 38.1),
        ("96.", "cm", 960.0),
        (0, "cm", 0.0),
        ("12 inches", "mm", 304.8),
        ("2 feet", "mm", 609.6),
        ("-0", "mm", 0.0),
    ],
)
def test_lengths_are_read_as_people_write_them(text, unit, millimetres):
    """An inch is exactly 25.4 mm (international inch)."""
    read = parse_length(text, unit)
    assert read == pytest.approx(millimetres, abs=1e-9)
    assert math.copysign(1, read) == 1


@pytest.mark.parametrize(
    "value",
    [
        math.nan,
        math.inf,
        -math.inf,
        1e12,
        10**400,
        -(10**400),
        True,
        None,
        [],
        {},
        b"96 cm",
        "",
        " ",
        "cm",
        "nan",
        "inf",
        "1e5 cm",
        "96 furlongs",
        "96 cm cm",
        "96,5 cm",
        "9 6 cm",
        "1/0 in",
        "3/4/5 in",
        "--3 cm",
        "96 cm\x00",
        "96\ncm",
        "\u202e96 cm",
        "<b>96</b>",
        "96 cm; rm",
        "9" * 61,
        "9" * 10_000_000,
        "٩٦ cm",
        "96 c\u200bm",
        "-5 cm",
        -5,
        "200 m",
        "5 ft -4 in",
        "5 ft 4 cm",
        "0x10",
        "1_000",
        "½½ in",
    ],
)
def test_what_cannot_be_a_length_is_refused_by_its_place(value):
    """With what was read, short and clean, what is allowed and the mend."""
    with pytest.raises(InputError) as caught:
        parse_length(value, "cm", where="alto.toml: wearer.body.bust_girth")
    (problem,) = caught.value.problems
    assert problem.where == "alto.toml: wearer.body.bust_girth"
    assert problem.allowed
    assert problem.mend
    assert len(problem.read) <= 80
    assert problem.read.isprintable()


@pytest.mark.parametrize(("text", "close"), [("96 cn", "cm"), ("96 inchs", "inches"), ("96 milimetres", "millimetres")])
def test_a_misspelt_unit_is_answered_with_close_ones(text, close):
    """Did you mean."""
    with pytest.raises(InputError) as caught:
        parse_length(text)
    assert close in caught.value.problems[0].close


def test_a_decimal_comma_is_refused_with_the_mend():
    """It might be a thousand or a decimal: ask, don't guess."""
    with pytest.raises(InputError, match=r"write a point"):
        parse_length("96,5 cm")


def test_lengths_below_zero_are_read_only_where_they_make_sense():
    """An ease may be negative, a girth may not."""
    assert parse_length("-1 1/2 in", negative=True) == pytest.approx(-38.1)
    assert parse_length("\u22123 cm", negative=True) == -30.0
    with pytest.raises(InputError, match="minus"):
        parse_length("-3 cm")


def test_the_longest_length_may_be_set():
    """A seam allowance is no metre."""
    assert parse_length("10 cm", longest=100.0) == 100.0
    with pytest.raises(InputError, match="at most 100 mm"):
        parse_length("10.1 cm", longest=100.0)


@pytest.mark.parametrize(
    ("text", "radians"),
    [
        ("22 deg", math.radians(22)),
        ("22°", math.radians(22)),
        (22, math.radians(22)),
        ("0.5 rad", 0.5),
        ("22 1/2 degrees", math.radians(22.5)),
    ],
)
def test_angles_are_read_in_degrees_or_radians(text, radians):
    """A plain number is degrees."""
    assert parse_angle(text) == pytest.approx(radians)


@pytest.mark.parametrize("value", ["22 grad", "400 deg", math.nan, "22 cm", "-3 deg", None, "7 rad"])
def test_what_cannot_be_an_angle_is_refused(value):
    """At most once round."""
    with pytest.raises(InputError):
        parse_angle(value)
    assert parse_angle("-3 deg", negative=True) == pytest.approx(math.radians(-3))


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("25 %", 0.25),
        ("25%", 0.25),
        (0.25, 0.25),
        ("0.25", 0.25),
        ("12.5 percent", 0.125),
        ("1/4", 0.25),
        (1, 1.0),
        ("300%", 3.0),
    ],
)
def test_shares_are_read_with_or_without_per_cent(text, share):
    """All the same inside."""
    assert parse_share(text) == pytest.approx(share)


def test_a_bare_25_is_asked_about():
    """25 is no share; 25 % is."""
    with pytest.raises(InputError, match='write "25 %"'):
        parse_share(25)
    for value in ("-5 %", math.nan, "25 cm", "301 %", True, "x"):
        with pytest.raises(InputError):
            parse_share(value)
    assert parse_share("-5 %", negative=True) == -0.05


def test_the_units_of_a_ticket_are_three():
    """Metres and yards are read in lengths but nobody is measured in them."""
    assert [parse_unit(text) for text in ("cm", "MM", "inches", "in")] == ["cm", "mm", "in", "in"]
    for wrong in ("yd", "stone", "", None, 3, "m"):
        with pytest.raises(InputError, match="mm, cm, in"):
            parse_unit(wrong)


@pytest.mark.parametrize(
    ("millimetres", "unit", "text"),
    [
        (960.0, "cm", "96.0 cm"),
        (958.85, "in", "37 3/4 in"),
        (9.525, "in", "3/8 in"),
        (9.5, "cm", "0.95 cm"),
        (9.5, "mm", "9.5 mm"),
        (960.0, "mm", "960 mm"),
        (0.0, "in", "0 in"),
        (-38.1, "in", "-1 1/2 in"),
        (-0.1, "cm", "0.0 cm"),
        (-0.01, "in", "0 in"),
        (25.3, "in", "1 in"),
        (0.0, "cm", "0.0 cm"),
        (9.96, "cm", "1.0 cm"),
        (-38.1, "cm", "-3.8 cm"),
    ],
)
def test_lengths_are_shown_as_people_read_them(millimetres, unit, text):
    """Inches to the nearest eighth, no minus before nothing."""
    assert show_length(millimetres, unit) == text


def test_sixteenths_and_per_cent_are_shown():
    """1/16 where asked for; per cent without idle decimals."""
    assert show_length(25.4 * 3 / 16, "in", sixteenths=True) == "3/16 in"
    assert [show_share(share) for share in (0.25, 0.125, 0.0, -0.05)] == ["25 %", "12.5 %", "0 %", "-5 %"]


@settings(deadline=None, derandomize=True, max_examples=300)
@given(st.floats(-20_000, 20_000), st.sampled_from(["mm", "cm", "in"]), st.booleans())
def test_what_is_shown_is_read_back_to_within_its_rounding(millimetres, unit, sixteenths):
    """Half a step of what the text can say."""
    half_step = {"mm": 0.5, "cm": 0.5, "in": 25.4 / (32 if sixteenths else 16)}[unit]
    back = parse_length(show_length(millimetres, unit, sixteenths=sixteenths), "mm", negative=True)
    assert abs(back - millimetres) <= half_step + 1e-6


@settings(deadline=None, derandomize=True)
@given(st.integers(0, 200), st.integers(1, 15))
def test_fractions_of_an_inch_are_exact(whole, part):
    """Against exact rational arithmetic."""
    exact = float((whole + Fraction(part, 16)) * Fraction(254, 10))
    assert parse_length(f"{whole} {part}/16 in") == exact
    assert parse_length(show_length(exact, "in", sixteenths=True)) == exact


@settings(deadline=None, derandomize=True, max_examples=500)
@given(
    st.one_of(
        st.text(max_size=80),
        st.floats(),
        st.integers(),
        st.from_regex(r"[-0-9./ ]{1,12} ?(cm|in|mm|%|deg)?", fullmatch=True),
    )
)
def test_hostile_input_is_read_or_refused_never_worse(value):
    """Only a finite number of ordinary size comes through, or an InputError that can be printed on one
    line.
    """
    for parse in (parse_length, parse_angle, parse_share):
        try:
            assert 0.0 <= parse(value) <= 100_000.0
        except InputError as error:
            refused = str(error)
        else:
            continue
        assert "\n" not in refused
        assert len(refused) < 400
