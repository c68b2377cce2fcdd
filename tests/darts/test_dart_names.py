"""A dart is found by what its legs say: outside its own module no code reads or rebuilds the names of its lines."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator

import pytest

from tests.test_architecture import CODE, ROOT, name, nodes_of

OWN = ROOT / "drafting" / "garment" / "darts.py"
"""Where the names of legs are made."""

READS = {"split", "rsplit", "partition", "rpartition", "removeprefix", "removesuffix", "replace"}
READS |= {"startswith", "endswith"}
MADE = re.compile(r"(^|[^a-z])dart-$|^\(?dart-\.|-?(upper|lower)-[ab]$")
"""A piece of text that only serves to make the name of a leg or of a dart's seam, or to look for one."""
MAKERS = {"leg_names", "inner_names", "PREFIX"}


def surgery(nodes: Iterable[ast.AST]) -> Iterator[str]:
    """Where code takes the name of a dart or of a leg apart, or puts one together: the line and what is done there."""
    for node in nodes:
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in READS:
            read = ast.unparse(node.func.value)
            if re.search(r"(dart|leg|slit)\w*(\[\d\])?(\.name|\.line)\b|^base_of|fold\.name", read):
                yield f"line {node.lineno}: {ast.unparse(node)}"
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and MADE.search(node.value):
            yield f"line {node.lineno}: {node.value!r}"
        elif isinstance(node, ast.Name) and node.id in MAKERS:
            yield f"line {node.lineno}: {node.id}"


def test_no_code_reads_the_names_of_darts():
    """Which dart a line belongs to, its side and its word are said by the line (``Line.dart``) and by ``Dart``."""
    assert OWN in CODE
    assert not [f"{name(file)}, {done}" for file in CODE if file != OWN for done in surgery(nodes_of(file))]


@pytest.mark.parametrize(
    "source",
    [
        "side = dart.name.split('-')[-1]",
        "name = slit[0].name.removesuffix('-upper-a')",
        "leg = piece.line(f'dart-{name}-a')",
        "found = re.compile(r'(dart-.*-)([ab])')",
        "one, two = leg_names(dart)",
    ],
)
def test_reading_a_name_is_seen(source: str):
    """The ways in which it was once done are found."""
    assert list(surgery(ast.walk(ast.parse(source))))
