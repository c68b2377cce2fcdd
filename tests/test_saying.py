"""What is said: values worded in the maker's unit, mirrored as values."""

from __future__ import annotations

import pytest

from drafting.errors import CannotDraft, DraftingError
from drafting.saying import (
    Length,
    Name,
    Span,
    Unit,
    about,
    cm,
    list_sayings,
    list_sides,
    mirror_words,
    mm,
    render,
    say,
    shorten,
    span,
    specify,
    tape,
    without_faces,
    without_sides,
)
from drafting.sides import Face, Side, sideless


@pytest.mark.parametrize(
    ("value", "in_mm", "in_cm", "in_inches"),
    [
        (mm(12.4), "12 mm", "1.2 cm", "1/2 in"),
        (mm(0.34, 1), "0.3 mm", "0.3 mm", "0.3 mm"),
        (mm(1.6), "2 mm", "0.2 cm", "1/8 in"),
        (mm(2.5, None), "2.5 mm", "0.25 cm", "1/8 in"),
        (mm(-30.0), "-30 mm", "-3.0 cm", "-1 1/8 in"),
        (cm(3), "3 cm", "3 cm", "1 1/8 in"),
        (tape(123.0), "123 mm", "12.3 cm", "4 7/8 in"),
        (tape(1.0), "1 mm", "0.1 cm", "0 in"),
        (about(17.0), "20 mm", "2.0 cm", "3/4 in"),
        (span(mm(5.0), mm(10.0)), "5 to 10 mm", "0.5 to 1.0 cm", "1/4 to 3/8 in"),
        (span(mm(80.0), mm(1.0), " x "), "80 x 1 mm", "8.0 x 0.1 cm", "3 1/8 x 0 in"),
    ],
)
def test_lengths_are_said_in_the_makers_unit(value: Length | Span, in_mm: str, in_cm: str, in_inches: str) -> None:
    """A rule's figure keeps its exactness, and what is finer than a tape shows stays in mm."""
    units: tuple[tuple[Unit, str], ...] = (("mm", in_mm), ("cm", in_cm), ("in", in_inches))
    for unit, words in units:
        assert render(say("{value}", value=value), unit) == words


def test_a_mirrored_saying_exchanges_its_values_and_nothing_else() -> None:
    """Sides and names are exchanged, however deep; the word for it in the template, the cloth's right side, stays."""
    title = say("{side:capital} sleeve", side=Side.LEFT)
    said = say("{title:lower}, {line}: right side up, {long}", title=title, line=Name("hem-left/a"), long=mm(5.0))
    turned = mirror_words(said)
    assert str(turned) == "right sleeve, hem-right/a: right side up, 5 mm"
    assert mirror_words(turned) == said
    assert mirror_words("Right side up") == "Right side up"


def test_both_sides_say_the_same_but_for_the_side() -> None:
    """Two titles are alike if nothing but their sides tells them apart."""
    left, right, other = (
        say("{side} cuff", side=Side.LEFT),
        say("{side} cuff", side=Side.RIGHT),
        say("{side} band", side=Side.LEFT),
    )
    assert without_sides(left) == without_sides(right) != without_sides(other)


def test_things_are_listed() -> None:
    """Commas, and another word before the last."""
    assert [str(list_sayings(words, last=" and ")) for words in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]


def test_braces_in_what_was_read_are_only_words() -> None:
    """A value is never taken for a template."""
    assert str(say("{name!r} isn't known", name="{side} {0}")) == "'{side} {0}' isn't known"


def test_an_error_is_said_again_in_another_saying() -> None:
    """Its words stay values until they are rendered."""
    refusal = CannotDraft("width", say("it is {short} too narrow", short=mm(30.0)), help="widen it")
    error = DraftingError(say("{short} are missing", short=mm(30.0)))
    assert str(refusal) == "it is 30 mm too narrow (width); widen it"
    assert render(say("no: {error}", error=error.words), "cm") == "no: 3.0 cm are missing"
    assert str(error) == "30 mm are missing"


@pytest.mark.parametrize(
    ("template", "bare"),
    [
        ("{side:capital} sleeve", "sleeve"),
        ("Armhole band, {side}", "Armhole band"),
        ("Sleeve {side}, upper part", "Sleeve, upper part"),
        ("{side} side, above the yoke", "side, above the yoke"),
        ("over the {side} shoulder and {{arm}}", "over the shoulder and {arm}"),
        ("ends of the cuff {side}", "ends of the cuff"),
        ("{side}", ""),
    ],
)
def test_a_side_that_is_none_leaves_no_gap(template: str, bare: str) -> None:
    """With it go the comma and blank, or the blank, that held it."""
    assert str(without_sides(say(template, side=Side.LEFT))) == bare


def test_names_lose_their_side() -> None:
    """As in the name of a print that serves both."""
    assert [sideless(name) for name in ("sleeve-left", "left-yoke", "front", "left")] == ["sleeve", "yoke", "front", ""]
    assert str(without_sides(say("band, {place}", place=Name("left-2")))) == "band, 2"


def test_a_saying_within_takes_its_words_with_it() -> None:
    """A front's own seam is the centre front; a skirt front's is that of the skirt."""
    front, skirt = say("{face:capital}", face=Face.FRONT), say("Skirt {face}", face=Face.FRONT)
    assert without_faces(front) == ""
    assert str(say("centre front of the {title:lower}", title=without_faces(skirt))) == "centre front of the skirt"


def test_a_title_has_a_short_form() -> None:
    """Without what tells it from its like, within another saying too; one that has no more to it stays as it is."""
    title = specify("Armhole band", Side.LEFT)
    assert str(title) == "Armhole band, left"
    assert str(shorten(title)) == "Armhole band"
    assert str(shorten(say("ends of the {title:lower}", title=title))) == "ends of the armhole band"
    assert shorten("Front, cut once") == "Front, cut once"
    assert str(specify("Back panel", Side.NONE)) == "Back panel"
    assert str(mirror_words(title)) == "Armhole band, right"
    assert list_sides(say("{title:lower}", title=title)) == (Side.LEFT,)
