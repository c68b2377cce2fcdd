"""Words come last: what is said to a maker is made of values, and no code reads it back."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator

from tests.test_architecture import CODE, imported, name, nodes_of

MAY_MATCH = {
    "drafting/units.py": "figures as people write them",
    "drafting/text.py": "the spaces inside a figure, at which no line is broken",
    "drafting/sides.py": "names, the one rule by which they carry a side",
    "drafting/ticket/installed.py": "entry points, as the packaging standard writes them",
    "drafting/ticket/reading.py": "the start of a line of a ticket",
    "drafting/ticket/toml_words.py": "what isn't TOML, and where its reader stopped",
    "drafting/seal.py": "the seal in the first bytes of a file",
    "drafting/ticket/job.py": "the address of a table in a ticket",
    "drafting/ticket/wearer.py": "a body mass as people write it",
    "drafting/paper/papers.py": "a size of paper as people write it",
    "drafting/redraw/told_place.py": "a place on a line as a ticket writes it",
    "drafting/changes/design/style_line.py": "a name, as a ticket writes it",
    "drafting/finishing/earlier.py": "the letters of an earlier draft, read from its file",
    "drafting/output/svg.py": "what an identifier of SVG may hold",
    "drafting/output/pdf/packing.py": "the objects of a PDF",
}
"""The files that may use regular expressions, and on what: never on a sentence of our own."""

SAID = {
    "heading",
    "help",
    "label",
    "labels",
    "notes",
    "reason",
    "remedy",
    "said",
    "sentence",
    "title",
    "titles",
    "words",
}
"""Attributes and variables that are to be read by a maker, and by nobody else."""

READS = {
    "startswith",
    "endswith",
    "split",
    "partition",
    "rpartition",
    "removeprefix",
    "removesuffix",
    "find",
    "replace",
}
"""What takes text apart."""


def test_only_what_others_wrote_is_matched() -> None:
    """Words come last: no regular expression reads a sentence back."""
    uses = {name(file) for file in CODE if "re" in {module.partition(".")[0] for module in imported(file)}}
    assert uses == set(MAY_MATCH), "say in MAY_MATCH what it reads, or do without"


MAY_PART = {
    "drafting/output/pdf/flow.py": "a paragraph that goes on in the next column, at a blank",
    "drafting/saying.py": "what a template asks of a value's form",
    "drafting/cli/values.py": "the path of a value, whose parts are names",
}
"""The files that may part a text at what sentences have, and which: never a sentence of our own, to learn from it."""

PUNCTUATION = (",", ": ", "; ", " (", ". ")
"""What stands between the parts of a sentence, and in no name."""


def _is_said(node: ast.expr) -> bool:
    """Whether an expression is something that is said, or its text, as an attribute, a variable or a part of one."""
    if isinstance(node, ast.Call):
        inner = node.func.value if isinstance(node.func, ast.Attribute) else next(iter(node.args), node.func)
        return not isinstance(node.func, ast.Attribute | ast.Name) or _is_said(inner)
    if isinstance(node, ast.Name):
        return node.id in SAID
    return isinstance(node, ast.Attribute) and node.attr in SAID


def _reads_back(nodes: Iterable[ast.AST]) -> Iterator[int]:
    """Yield the lines that look for a word in what is said, take it apart, or part any text at a comma or the like."""
    for node in nodes:
        if isinstance(node, ast.Compare) and any(isinstance(op, ast.In | ast.NotIn) for op in node.ops):
            text = isinstance(node.left, ast.Constant) and isinstance(node.left.value, str)
            yield from (node.lineno for each in node.comparators if text and _is_said(each))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in READS:
            parts = node.func.attr in {"split", "partition", "rpartition", "startswith"} and any(
                isinstance(arg, ast.Constant) and str(arg.value).startswith(PUNCTUATION) for arg in node.args
            )
            if parts or _is_said(node.func.value):
                yield node.lineno


def test_no_sentence_is_read_back() -> None:
    """No code looks for a word in a title, a note, a reason or a remedy, nor takes one apart."""
    found = {name(file): lines for file in CODE if (lines := list(_reads_back(nodes_of(file))))}
    assert set(found) == set(MAY_PART), f"lines {found}: say in MAY_PART what they read, or do without"


def test_a_sentence_read_back_is_found() -> None:
    """The test above sees what it looks for, and lets names and figures be."""
    for text, found in (
        ('group.title.split(",")[0]', [1]),
        ('str(piece.title).lower().partition(" (")', [1]),
        ('name.partition(": ")', [1]),
        ('label.startswith("draft ") if label else title.startswith("A")', [1, 1]),
        ('"hem" in finding.sentence', [1]),
        ('line.name.partition("/")', []),
        ('figure.replace(",", ".")', []),
    ):
        assert list(_reads_back(ast.walk(ast.parse(text)))) == found, text
