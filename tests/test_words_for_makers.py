"""What is said to a maker is free of the engine's words: every template that is raised, found or told as an option."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator

import pytest

from tests.plain_words import engine_words
from tests.test_architecture import CODE, name, nodes_of

SAID_BY = {"say", "option", "CannotDraft", "GeometryError", "DraftingError", "Problem", "Finding", "Mend", "situation"}
"""What is called with words for a maker. What a ``NoAnswer`` and a ``Lacking`` are called with is for programmers."""

FIELD = re.compile(r"\{[^{}]*\}")


def _templates(nodes: Iterable[ast.AST]) -> Iterator[tuple[int, str]]:
    """Yield the line and the text of every sentence in a call that says something, a figure for each of its fields."""
    for call in nodes:
        if isinstance(call, ast.Call) and getattr(call.func, "id", getattr(call.func, "attr", "")) in SAID_BY:
            for node in ast.walk(call):
                if isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value:
                    yield node.lineno, FIELD.sub("3", node.value)


def test_no_sentence_holds_a_word_of_the_engine() -> None:
    """Neither of its model, nor of its arithmetic, nor of the language it is written in."""
    said = [(file, line, text) for file in CODE for line, text in _templates(nodes_of(file))]
    assert len(said) > 1000
    assert not [f"{name(file)}:{line}: {text}" for file, line, text in said if engine_words(text)]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("piece 'front' has no line 'dart-bust-left-a'", ["'front'", "has no line", "'dart-bust-left-a'"]),
        ("the garment holds no fact 'shoulder_slope'", ["garment holds", "fact", "'shoulder_slope'"]),
        ("no change of sign between 0 (-151.248) and 12", ["change of sign"]),
        ("these figures leave no shape to draw (float division by zero)", ["float", "division", "by zero"]),
        ("Cannot declare ('cloth',) twice", ["declare", "('"]),
        ("False stands here", ["False"]),
        ("there is no open armhole-left to face", ["armhole-left"]),
        ("near (-526, 61) mm", ["(-526, 61)"]),
        ("the {side} shoulder", ["{", "}"]),
    ],
)
def test_words_of_the_engine_are_seen(text: str, found: list[str]) -> None:
    """Each of those that users were once told."""
    said = engine_words(text)
    assert [word for word in found if word not in said] == []


@pytest.mark.parametrize(
    "text",
    [
        "the left front's waist dart is 4.5 cm deep; give it 1/2 in less",
        "there is no change “dart-bust-left-a”; allowed: dart-to-ease, move-dart",
        'write [[changes]] with change = "lengthen", or bust_girth under [wearer.body]',
        "the style line across the back leaves it over its left armhole",
    ],
)
def test_words_of_the_trade_are_let_be(text: str) -> None:
    """So are keys, names of changes, and whatever was read."""
    assert not engine_words(text)
