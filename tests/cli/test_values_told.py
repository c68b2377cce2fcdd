"""``list values``: every number of the trade with its source, whoever's package it stands in."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.cli.running import run

BLOCK = '''"""A pocket of somebody else."""
from drafting.trade import TradeValue, trade_table

DEEPEST_POCKET = TradeValue(160.0, "mm", "published", "a handbook, p. 7")
"""From the mouth to the bottom: the hand must reach it."""
POCKET_CORNERS = trade_table({"round": 25.0}, "mm", "from memory")
"""Of radius at the lower corners."""
POCKET = None
'''
SECOND = '''"""A part."""
from drafting.trade import TradeValue
from other_pockets.patch import DEEPEST_POCKET

FLAP = TradeValue(0.25, "share", "common practice")
'''


@pytest.fixture
def installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Install a package of somebody else that brings a block with trade values of its own."""
    package, told = tmp_path / "other_pockets", tmp_path / "other_pockets-1.0.dist-info"
    package.mkdir()
    told.mkdir()
    (package / "__init__.py").write_text("")
    (package / "patch.py").write_text(BLOCK)
    (package / "flap.py").write_text(SECOND)
    offered = "other-pocket = other_pockets.patch:POCKET\nlost = not_installed_at_all:LOST\n"
    (told / "entry_points.txt").write_text(f"[blockwright.blocks]\n{offered}")
    (told / "METADATA").write_text("Name: other-pockets\nVersion: 1.0\n")
    monkeypatch.syspath_prepend(str(tmp_path))
    yield
    for name in [name for name in sys.modules if name.startswith("other_pockets")]:
        del sys.modules[name]


def test_every_block_and_change_with_values_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    """By its name, with value, meaning and source, in the unit asked for."""
    said = run(capsys, "list", "values", "--unit", "mm")
    assert said.status == 0
    assert "block knit-bodice" in said.out
    assert "chest narrower\n    15 mm, by which the front of a knit top is narrower" in said.out
    assert "[common practice]" in said.out
    assert "[from memory" in said.out


def test_one_place_or_one_value_is_shown_by_name(capsys: pytest.CaptureFixture[str]) -> None:
    """A block, a heading or a value, however it is spelt; an unknown name is refused with the nearest."""
    whole = run(capsys, "list", "values", "knit-bodice")
    assert "greatest shift" in whole.out
    assert "darted" not in whole.out
    for name in ("LEAST_DART", "least-dart"):
        one = run(capsys, "list", "values", name, "--unit", "mm")
        assert "least dart\n    10 mm of intake at least of a dart" in one.out
        assert "dart share" not in one.out
    refused = run(capsys, "list", "values", "leest-dart")
    assert refused.status == 2
    assert "least dart" in refused.err


def test_no_meaning_is_left_without_what_it_is_said_of(capsys: pytest.CaptureFixture[str]) -> None:
    """What is so much of something is said after its figure, or of those above it: nothing begins with "Of" alone."""
    said = run(capsys, "list", "values").out
    assert not re.findall(r"^ +(?:Of|By which|Below|Off) .*", said, re.MULTILINE)
    assert "So much of " in said


def test_those_from_memory_come_first_if_asked(capsys: pytest.CaptureFixture[str]) -> None:
    """All of them before the first that has another source, and none is left out."""
    said = run(capsys, "list", "values", "--from-memory").out
    first, rest = said.split("The others", 1)
    assert "[from memory" in first
    assert "[from memory" not in rest
    assert "[common practice" not in first
    assert "[derived" not in first
    assert "[common practice" in rest


def test_what_no_cutter_argues_with_is_told_by_its_name_alone(capsys: pytest.CaptureFixture[str]) -> None:
    """What was reckoned or found by drawing, as a cubic's steepest slope, isn't in the list of all."""
    assert "[derived" not in run(capsys, "list", "values").out
    assert "[derived: " in run(capsys, "list", "values", "steepest-fair").out


@pytest.mark.usefixtures("installed")
def test_somebody_elses_package_is_told_too(capsys: pytest.CaptureFixture[str]) -> None:
    """Its blocks' values and those of the parts beside them, once each; one that can't be loaded hides no other."""
    said = " ".join(run(capsys, "list", "values", "--unit", "mm").out.split())
    assert "block other-pocket" in said
    assert said.count("deepest pocket 160 mm") == 1
    assert "[published: a handbook, p. 7]" in said
    assert "pocket corners round 25 mm" in said
    assert "flap 25 %" in said
    assert "It can't be loaded: " in said
