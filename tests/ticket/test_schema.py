"""The ticket's schema: valid, and as strict and as lenient as the reader, for the demo and for mistakes."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from drafting.errors import InputError
from drafting.ticket import find_catalogue, read_job, ticket_schema
from drafting.ticket.blank import blank_ticket
from tests.ticket.stubs import WHOLE, catalogue

ROOT = Path(__file__).parents[2]


def valid(document: dict[str, Any], schema: dict[str, Any]) -> bool:
    """Tell whether a document keeps the schema, judged by jsonschema."""
    return bool(jsonschema.Draft202012Validator(schema).is_valid(document))


@pytest.fixture(scope="module")
def whole_schema() -> dict[str, Any]:
    """The schema of all that is installed, as an editor reads it."""
    loaded: dict[str, Any] = json.loads(json.dumps(ticket_schema(find_catalogue())))
    return loaded


def test_the_schema_is_a_schema(whole_schema: dict[str, Any]) -> None:
    """It keeps the published meta-schema (JSON Schema draft 2020-12)."""
    jsonschema.Draft202012Validator.check_schema(whole_schema)
    assert whole_schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_the_demo_and_every_design_keep_the_schema(whole_schema: dict[str, Any]) -> None:
    """What is shipped is what editors are told."""
    found = find_catalogue()
    files = [*found.designs.values(), *found.demos.values()]
    assert len(files) >= 2
    for file in files:
        jsonschema.Draft202012Validator(whole_schema).validate(tomllib.loads(file.read_text(encoding="utf-8")))


def test_the_plain_example_is_the_one_shipped() -> None:
    """Byte for byte."""
    plain = find_catalogue().demos["soprano"]
    assert (ROOT / "output_examples" / "soprano.toml").read_bytes() == plain.read_bytes()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('title = "Test top"', "titel = 3"),
        ('title = "Test top"', 'unit = "furlong"'),
        ('title = "Test top"', 'fit = "semi"'),
        ("bust_girth = 96", "bust_grith = 96"),
        ("bust_girth = 96", "bust_girth = true"),
        ("bust_girth = 96", 'bust_girth = "wide"'),
        ('"30 %"', '"30 ells"'),
        ('block = "stub-body"', 'block = "stub-bodi"'),
        ('block = "stub-body"', 'block = "stub-body"\nneck = "square"'),
        ('block = "stub-body"', 'block = "stub-body"\ntucks = 10'),
        ('block = "stub-body"', 'block = "stub-body"\nlined = 1'),
        ('block = "stub-body"', 'block = "stub-body"\ndepth = 3'),
        ('block = "stub-body"\n', 'block = "stub-body"\n[[changes]]\nchange = "stub-body"\n'),
        ('block = "stub-body"\n', 'block = "stub-body"\n[seams]\nsied = 3\n'),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(tmp_path: Path, old: str, new: str) -> None:
    """An editor marks the mistake that the command would tell."""
    schema = ticket_schema(catalogue())
    assert valid(tomllib.loads(WHOLE), schema)
    text = WHOLE.replace(old, new, 1)
    assert not valid(tomllib.loads(text), schema)
    path = tmp_path / "alto.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError):
        read_job(path, catalogue())


def test_options_are_told_with_sentence_unit_and_range() -> None:
    """As the block tells them, in both systems of units."""
    schema = ticket_schema(catalogue())
    blocks = schema["properties"]["blocks"]["additionalProperties"]["anyOf"]
    body = next(each for each in blocks if each["title"] == "stub-body")
    drop = body["properties"]["drop"]["description"]
    assert "How deep the neck is." in drop
    assert "0.0 cm to 20.0 cm (0 in to 7 3/4 in)" in drop
    assert body["properties"]["neck"]["enum"] == ["round", "vee"]


@pytest.mark.parametrize("unit", ["cm", "mm", "in"])
@pytest.mark.parametrize("fit", ["close", "semi-fitted", "relaxed"])
def test_a_blank_ticket_is_one_once_it_is_filled_in(tmp_path: Path, unit: Any, fit: str) -> None:
    """Empty, it asks for each measurement by name and tells how it is taken; filled in, it is a job."""
    design = tmp_path / "designs" / "plain.toml"
    design.parent.mkdir()
    design.write_text('title = "Plain \\"top\\""\n[blocks.body]\nblock = "stub-body"\n')
    known = catalogue(plain=design)
    text = blank_ticket(known, "plain", unit=unit, fit=fit)
    assert '# wrist_girth = ""' in text
    path = tmp_path / "alto.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_job(path, known)
    places = {problem.where.partition(": ")[2] for problem in caught.value.problems}
    needed = {"bust_girth": 96, "waist_girth": 80, "hip_girth": 102, "back_neck_point_to_waist": 41}
    assert places == {f"wearer.body.{name}" for name in needed} | {"cloth.stretch_across"}
    for name, centimetres in needed.items():
        text = text.replace(f'\n{name} = ""', f'\n{name} = "{centimetres} cm"')
    path.write_text(text.replace('stretch_across = ""', 'stretch_across = "30 %"'), encoding="utf-8")
    read = read_job(path, known)
    assert (read.title, read.unit, read.brief.fit) == ('Plain "top"', unit, fit)
