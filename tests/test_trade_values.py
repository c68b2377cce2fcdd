"""The numbers of the trade: declared with a unit, a meaning and a source, one name for one value, and all told."""

from __future__ import annotations

import ast
import copy
import dataclasses
import pickle
from collections.abc import Iterator
from pathlib import Path

import pytest

from drafting.finishing.plan import KNIT_ALLOWANCE
from drafting.ticket.declared import find_values
from drafting.ticket.keys import SEAM_KEYS
from drafting.trade import TradeValue, trade_row, trade_table

ROOT = Path(__file__).parents[1]
PARTS = ("body", "changes", "cloth", "finishing", "flat", "garment", "lay", "proof", "redraw", "work")
FOLDERS = ("blocks", *(f"drafting/{part}" for part in PARTS))
CODE = sorted(file for folder in FOLDERS for file in (ROOT / folder).rglob("*.py"))
DECLARES = {"TradeValue", "trade_row", "trade_table"}
MATHEMATICS = ("_HALF", "_NODES", "_GOLDEN", "MIRROR", "ARC")
"""Numbers that no one can argue with: a quadrature, the golden ratio, what turns a curve over, a quarter circle."""
REACH = TradeValue(20.0, "mm", "published", "a handbook")


def test_a_trade_value_is_a_number_that_knows_its_source() -> None:
    """It reckons as a float and gives a plain one, can't be altered, and is copied as the number it is."""
    assert REACH == 20.0
    assert all(
        type(kept) is float for kept in (REACH + 1.0, -REACH, copy.copy(REACH), pickle.loads(pickle.dumps(REACH)))
    )
    assert (REACH.unit, REACH.kind, REACH.citation) == ("mm", "published", "a handbook")
    with pytest.raises(dataclasses.FrozenInstanceError):
        REACH.unit = "rad"


def test_rows_and_tables_hold_trade_values() -> None:
    """In the order and by the keys they are given, each with the one source."""
    row, table = trade_row((1.0, 2.0), "mm", "from memory"), trade_table({"front": 3.0}, "mm", "derived", "drawn")
    assert row == (1.0, 2.0)
    assert table == {"front": 3.0}
    assert {value.kind for value in row} == {"from memory"}
    assert table["front"].citation == "drawn"


def loose_floats(file: Path) -> Iterator[str]:
    """Yield the constants of a module that hold a number with a point and are no trade values.

    What is reckoned from other constants, points and directions, and places sampled by numpy aren't looked into.
    """
    for node in ast.parse(file.read_text(encoding="utf-8")).body:
        if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
            if ast.unparse(node).partition("=")[0].partition(":")[0].strip() in MATHEMATICS:
                continue
            told = {id(part) for call in ast.walk(node.value) if _is_told(call) for part in ast.walk(call)}
            for part in ast.walk(node.value):
                if isinstance(part, ast.Constant) and isinstance(part.value, float) and id(part) not in told:
                    yield f"line {part.lineno}: {ast.unparse(node)}"


def _is_told(node: ast.AST) -> bool:
    """Tell whether a part of an expression is a declaration, a point, a call of numpy or a sum over other names."""
    if isinstance(node, ast.Call):
        return ast.unparse(node.func).partition(".")[0] in DECLARES | {"Point", "np"}
    return isinstance(node, ast.BinOp) and any(
        isinstance(part, ast.Name) and (part.id.isupper() or part.id == "np") for part in ast.walk(node)
    )


def test_a_number_of_the_trade_is_declared_as_one() -> None:
    """A constant is a trade value, or a tolerance, or a whole number that counts turns of a search."""
    assert len(CODE) > 200
    assert not [f"{file.relative_to(ROOT)}, {loose}" for file in CODE for loose in loose_floats(file)]


def test_each_has_a_meaning_and_what_is_published_says_where() -> None:
    """A sentence stands beneath every declaration; a publication is named."""
    declared = [(place.module, each) for place in find_values() for each in place.values]
    assert not [f"{module}.{each.name}" for module, each in declared if not each.meaning.endswith(".")]
    figures = [(each.name, value) for _, each in declared for _, value in each.figures]
    assert not [name for name, value in figures if value.kind == "published" and not value.citation]


def test_one_name_stands_for_one_value() -> None:
    """No two modules declare a value of the same name."""
    names = [each.name for place in find_values() for each in place.values]
    assert not {name for name in names if names.count(name) > 1}


def test_the_defaults_of_a_ticket_are_the_engines() -> None:
    """The key of ``[seams]`` shows the allowance that is drafted where none is asked for."""
    defaults = {key.name: key.default for key in SEAM_KEYS}
    assert defaults["all"] == KNIT_ALLOWANCE
