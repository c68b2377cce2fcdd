"""Shoulders measured apart in a ticket: asked for, read, refused and told to editors."""

from __future__ import annotations

import math
from pathlib import Path

import jsonschema
import pytest

from drafting.errors import InputError
from drafting.ticket import find_catalogue, read_job, ticket_schema
from drafting.ticket.blank import blank_ticket
from tests.ticket.stubs import WHOLE, catalogue

SIDES = ("shoulder_slope_left", "shoulder_slope_right")


@pytest.mark.parametrize("design", ["knit-top", "diagonal-overlay-top", "fitted-bodice"])
def test_a_blank_ticket_offers_both_sides_beside_the_slope(design: str) -> None:
    """As remarks, with how they are taken."""
    text = blank_ticket(find_catalogue(), design)
    places = [text.index(f'# {name} = ""') for name in ("shoulder_slope", *SIDES)]
    assert places == sorted(places)
    assert "Only if one shoulder is lower" in text


def test_sides_are_read_as_degrees(tmp_path: Path) -> None:
    """Into the body, each its own."""
    path = tmp_path / "alto.toml"
    told = 'bust_girth = 96\nshoulder_slope_left = 21\nshoulder_slope_right = "28 deg"'
    path.write_text(WHOLE.replace("bust_girth = 96", told), encoding="utf-8")
    body = read_job(path, catalogue()).brief.body
    assert [math.degrees(body[name]) for name in SIDES] == pytest.approx([21.0, 28.0])


def test_sides_that_cannot_be_are_told_with_their_place(tmp_path: Path) -> None:
    """Both named, with the difference."""
    path = tmp_path / "alto.toml"
    told = "bust_girth = 96\nshoulder_slope_left = 12\nshoulder_slope_right = 33"
    path.write_text(WHOLE.replace("bust_girth = 96", told), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_job(path, catalogue())
    said = str(caught.value)
    assert "wearer.body.shoulder_slope_left" in said
    assert "the two shoulders differ by 21 deg" in said


def test_editors_are_told_of_both_sides() -> None:
    """The schema has each, with its range."""
    schema = ticket_schema(catalogue())
    body = schema["properties"]["wearer"]["properties"]["body"]
    for name in SIDES:
        assert "Allowed: 5 deg to 50 deg." in body["properties"][name]["description"]
    judge = jsonschema.Draft202012Validator(schema)
    assert judge.is_valid({"wearer": {"body": {SIDES[0]: "21 deg", SIDES[1]: 28}}})
    assert not judge.is_valid({"wearer": {"body": {"shoulder_slope_lef": 21}}})
