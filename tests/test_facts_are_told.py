"""Facts are told: what the proof or a change reckons with is a value beside them, never found by a fact's name."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator

from tests.test_architecture import inside, name, nodes_of

MAY_READ = {
    "drafting/garment/model.py": 3,  # what holds them
    "drafting/garment/ruled.py": 1,  # what finds them by their figure
    "drafting/proof/proof.py": 3,  # what hands them on whole, to be printed
    "drafting/proof/document.py": 1,
    "drafting/proof/fit/armholes.py": 1,  # the depth's ease, which the darted bodice doesn't yet say of a figure
}
"""How often a file takes a garment's facts in hand at most."""


def _reads(nodes: Iterable[ast.AST]) -> Iterator[int]:
    """The lines at which facts are taken from a garment, or one is asked for by its name."""
    for node in nodes:
        if isinstance(node, ast.Attribute) and node.attr in ("facts", "fact"):
            yield node.lineno


def test_no_fact_is_found_by_its_name() -> None:
    """Neither the proof nor what changes are made of, nor the model, but in the places that hand them on."""
    found = {}
    for folder in ("drafting/proof", "drafting/redraw", "drafting/garment"):
        for file in inside(folder):
            read = list(_reads(nodes_of(file)))
            if len(read) > MAY_READ.get(name(file), 0):
                found[name(file)] = read
    assert not found, f"say it by Fact.ruled, and find it by garment.ruled: {found}"


def test_a_fact_that_is_read_back_is_found() -> None:
    """However it is taken: from all of them, or by asking for one."""
    for text in ("next(f for f in garment.facts if f.name == 'dart')", "garment.fact('dart')"):
        assert list(_reads(ast.walk(ast.parse(text)))) == [1]
