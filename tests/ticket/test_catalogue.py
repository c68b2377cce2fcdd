"""What is shipped is in the catalogue, under its own name, with options an editor and a reader can be told of."""

from __future__ import annotations

import importlib
from pathlib import Path

import pytest

from drafting.body import measurements
from drafting.garment import Block, Change, Step, options_of
from drafting.ticket import find_catalogue
from drafting.ticket.blank import blank_ticket
from drafting.ticket.catalogue import Loader
from drafting.ticket.tree import TicketValue
from drafting.ticket.values import figure_words, range_words, read_value
from drafting.units import Unit, parse_length

ROOT = Path(__file__).parents[2]
CATALOGUE = find_catalogue()
STEPS: list[tuple[str, Loader]] = [*CATALOGUE.blocks.items(), *CATALOGUE.changes.items()]


def test_every_block_and_change_in_the_code_is_installed() -> None:
    """One that was written and not entered in pyproject.toml would never be found."""
    written: dict[type, set[str]] = {Block: set(), Change: set()}
    for folder in ("blocks", "drafting/changes"):
        for file in (ROOT / folder).rglob("*.py"):
            if file.name == "__init__.py":
                continue
            module = importlib.import_module(".".join(file.relative_to(ROOT).with_suffix("").parts))
            for value in vars(module).values():
                if isinstance(value, Step):
                    written[type(value)].add(value.name)
    assert written[Block] == set(CATALOGUE.blocks)
    assert written[Change] == set(CATALOGUE.changes)


@pytest.mark.parametrize(("name", "load"), STEPS, ids=[name for name, _ in STEPS])
def test_each_step_is_told_in_words(name: str, load: Loader) -> None:
    """Its name in a ticket, a sentence, and for each option a sentence, a unit, a default within its range."""
    step = load()
    assert isinstance(step, Step)
    assert step.name == name
    assert step.sentence.endswith(".")
    for info in options_of(step.options):
        assert str(info.sentence).endswith(".")
        for unit in ("cm", "in"):
            assert range_words(info, unit)
        if isinstance(info.default, int | float) and not isinstance(info.default, bool):
            assert info.low is None or info.low <= info.default
            assert info.high is None or info.default <= info.high
        if info.unit == "choice" and info.default is not None:
            assert info.default in info.choices
        if info.default is not None:
            assert figure_words(info, info.default, "cm") or info.default == ""
    step.options()


@pytest.mark.parametrize("unit", ["mm", "cm", "in"])
@pytest.mark.parametrize(("name", "load"), STEPS, ids=[name for name, _ in STEPS])
def test_each_limit_that_is_shown_may_be_written(name: str, load: Loader, unit: Unit) -> None:
    """Rounded inwards in the maker's unit, the lower one up and the upper one down, and never past each other."""
    for info in options_of(load().options):
        if info.unit in ("length", "ratio", "angle") and info.low is not None and info.high is not None:
            low, high = range_words(info, unit).split(" to ")
            read = [read_value(info, TicketValue(text, info.name, unit)) for text in (low, high)]
            assert info.low <= float(read[0]) <= float(read[1]) <= info.high


@pytest.mark.parametrize("unit", ["mm", "cm", "in"])
def test_each_limit_of_a_measurement_may_be_written(unit: Unit) -> None:
    """As a tape shows it."""
    for each in measurements().values():
        if each.unit == "mm":
            low, high = (parse_length(text, unit) for text in each.show_range(unit).split(" to "))
            assert each.low <= low < high <= each.high


@pytest.mark.parametrize("design", sorted(CATALOGUE.designs))
def test_each_design_can_be_built_on(design: str) -> None:
    """A blank ticket of each names what it needs."""
    assert 'bust_girth = ""' in blank_ticket(CATALOGUE, design)
