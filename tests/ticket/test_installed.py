"""What is installed is found without the standard library's reader, and is what that reader finds."""

from __future__ import annotations

import sys
from importlib.metadata import entry_points
from pathlib import Path

import pytest

from drafting.ticket import installed
from drafting.ticket.installed import KINDS, Offer, offers


def read_by_the_library() -> set[tuple[str, str, str]]:
    return {(p.group, p.name, p.value) for kind in KINDS for p in entry_points(group=f"blockwright.{kind}")}


def found() -> set[tuple[str, str, str]]:
    return {(offer.group, offer.name, offer.value) for offer in offers()}


def test_the_same_is_found_as_by_the_standard_library() -> None:
    """Every entry point of every distribution on the path, oracle: importlib.metadata."""
    assert found() == read_by_the_library()
    assert ("blockwright.designs", "catalogue", "blocks.designs") in found()


def test_other_ways_to_install_are_left_to_the_standard_library(monkeypatch: pytest.MonkeyPatch) -> None:
    """A zip on the path, or a finder of its own kind, holds distributions that no folder shows."""
    plain = found()
    monkeypatch.setattr(installed, "_in_folders_only", lambda: False)
    assert found() == plain


def test_a_distribution_that_adds_blocks_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The first of its name on the path counts, comments and other groups don't, and what it offers loads."""
    text = "[other]\na = json\n\n[blockwright.blocks]\n# a comment\nmine = os.path : join [extra]\n"
    for folder, words in (("first", text), ("second", text.replace("mine", "hidden"))):
        (tmp_path / folder / "more_blocks-1.0.dist-info").mkdir(parents=True)
        (tmp_path / folder / "more_blocks-1.0.dist-info" / "entry_points.txt").write_text(words)
        (tmp_path / folder / "more_blocks-1.0.dist-info" / "METADATA").write_text("Name: more-blocks\nVersion: 1.0\n")
    monkeypatch.setattr(sys, "path", [str(tmp_path / "first"), str(tmp_path / "second")])
    (offer,) = offers()
    assert offer.name == "mine"
    assert offer() is __import__("os").path.join


@pytest.mark.parametrize("value", ["no_such_module_at_all:x", "json:nothing", "not a module"])
def test_what_can_not_be_loaded_says_so(value: str) -> None:
    """ImportError or AttributeError, which the catalogue turns into words."""
    with pytest.raises((ImportError, AttributeError)):
        Offer("blockwright.blocks", "x", value)()
