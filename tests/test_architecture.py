"""The arrows and limits of the code: which package may import which, how long a file may be, what none may hold."""

from __future__ import annotations

import ast
import io
import re
import tokenize
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path

ROOT = Path(__file__).parents[1]
CODE = sorted(file for folder in ("drafting", "blocks") for file in (ROOT / folder).rglob("*.py"))
ALL = sorted({*CODE, *(ROOT / "tests").rglob("*.py"), ROOT / "run.py"})
TEXTS = sorted(
    file
    for pattern in ("*.py", "*.md", "*.toml", "*.txt", "*.json", "*.csv", "*.svg", ".ci/run", ".gitignore")
    for file in ROOT.rglob(pattern)
    if not {".venv", ".git", "build", "blockwright-out", ".hypothesis"} & set(file.relative_to(ROOT).parts)
    and not any(part.endswith((".egg-info", "_cache")) for part in file.relative_to(ROOT).parts)
)

LAYERS = {
    "errors": 0,
    "saying": -1,
    "columns": 0,
    "cautions": -1,
    "sides": -2,
    "record": -2,
    "refusal": 1,
    "seal": -1,
    "tolerance": 0,
    "text": 0,
    "folder": 2,
    "trade": 0,
    "mending": 1,
    "units": 1,
    "geometry": 1,
    "body": 2,
    "cloth": 2,
    "garment": 3,
    "work": 4,
    "redraw": 5,
    "changes": 6,
    "finishing": 6,
    "proof": 7,
    "flat": 8,
    "lay": 8,
    "worn": 8,
    "paper": 8,
    "output": 9,
    "ticket": 10,
    "reach": 11,
    "naming": 11,
    "job": 12,
    "cli": 13,
}
"""A package imports those below it, and itself: a block says how its seams are sewn, finishing asks in which order."""

LONGEST_FILE, LONGEST_FUNCTION, USUAL_FUNCTION = 400, 50, 7
SMALL = re.compile(r"\d(\.\d+)?[eE]-\d+$")
SMALL_ANYWHERE = re.compile(r"\d[eE]-\d")
"""Files without it, perhaps in words, needn't be read token by token."""


@cache
def text_of(file: Path) -> str:
    """Return what a file says; every law below asks for it."""
    return file.read_text(encoding="utf-8")


@cache
def nodes_of(file: Path) -> tuple[ast.AST, ...]:
    """Return the nodes of a file's tree, the module first."""
    return tuple(ast.walk(ast.parse(text_of(file))))


def top_of(file: Path) -> str:
    """Return the package of drafting a file belongs to."""
    return file.relative_to(ROOT / "drafting").parts[0].removesuffix(".py")


def imported(file: Path) -> Iterator[str]:
    """Yield the modules a file imports, at its top or within functions."""
    for node in nodes_of(file):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def name(file: Path) -> str:
    """Name a file where one breaks a law."""
    return file.relative_to(ROOT).as_posix()


def imports_of(files: Iterable[Path]) -> Iterator[tuple[Path, str]]:
    """Yield every import of some files."""
    return ((file, module) for file in files for module in imported(file))


def inside(folder: str) -> list[Path]:
    """Return the files of code below a folder."""
    return [file for file in CODE if file.is_relative_to(ROOT / folder)]


def test_imports_go_one_way() -> None:
    """Downwards only; and the engine knows no block."""
    for file, module in imports_of(inside("drafting")):
        own, parts = top_of(file), module.split(".")
        assert parts[0] != "blocks", f"{name(file)} imports {module}"
        if parts[0] != "drafting" or len(parts) < 2 or own in ("__init__", "__main__"):
            continue
        other = parts[1]
        assert other in LAYERS, f"{name(file)} imports {module}: say in this test where it belongs"
        down = other == own or LAYERS[other] < LAYERS[own]
        assert down, f"{name(file)} imports {module}"


def test_blocks_stand_on_the_garment_and_below() -> None:
    """A block or a change knows nothing of paper or files."""
    for file, module in imports_of(inside("blocks")):
        parts = module.split(".")
        if parts[0] == "drafting" and len(parts) > 1:
            assert LAYERS[parts[1]] <= LAYERS["redraw"], f"{name(file)} imports {module}"


def test_no_change_imports_a_change() -> None:
    """What two changes need lies in ``drafting/redraw``."""
    for file, module in imports_of(inside("drafting/changes")):
        assert not module.startswith("drafting.changes"), f"{name(file)} imports {module}"


def test_no_module_imports_a_plug_in() -> None:
    """A block or a change can be taken out: what two of them need lies in a module that is neither."""
    points = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["entry-points"]
    targets = {**points["blockwright.blocks"], **points["blockwright.changes"]}.values()
    plug_ins = {target.partition(":")[0] for target in targets}
    assert plug_ins
    for file, module in imports_of(CODE):
        assert module not in plug_ins, f"{name(file)} imports {module}"


def test_files_are_short_enough_to_read() -> None:
    """400 lines at most."""
    assert not [name(file) for file in ALL if len(text_of(file).splitlines()) > LONGEST_FILE]


def test_no_function_is_too_long() -> None:
    """50 lines at most, half of them 7 or fewer; what is said of a function isn't counted."""
    functions = [node for file in CODE for node in nodes_of(file) if isinstance(node, ast.FunctionDef)]
    lengths = sorted(_lines_of(each) for each in functions)
    assert lengths[-1] <= LONGEST_FUNCTION, [each.name for each in functions if _lines_of(each) > LONGEST_FUNCTION]
    assert lengths[len(lengths) // 2] <= USUAL_FUNCTION


def _lines_of(function: ast.FunctionDef) -> int:
    first = function.body[0]
    said = first.value if isinstance(first, ast.Expr) and ast.get_docstring(function) else None
    lines = (function.end_lineno or 0) - function.lineno + 1
    return lines - (0 if said is None else (said.end_lineno or 0) - said.lineno + 1)


def test_small_numbers_have_a_name() -> None:
    """A tolerance stands in tolerance.py, with its role; nowhere else is there a bare 1e-6."""
    bare = [
        f"{name(file)}, line {token.start[0]}: {token.string}"
        for file in CODE
        if file.name != "tolerance.py" and SMALL_ANYWHERE.search(text_of(file))
        for token in tokenize.generate_tokens(io.StringIO(text_of(file)).readline)
        if token.type == tokenize.NUMBER and SMALL.search(token.string)
    ]
    assert not bare


def _forbidden() -> re.Pattern[str]:
    """Return what no file may hold: one machine's paths, registries' addresses. Put together here from parts."""
    slash = "/"
    words = [
        slash + "work" + slash,
        slash + "tmp" + slash,
        slash + "home" + slash,
        slash + "root" + slash,
        "py" + "pi.org",
        "python" + "hosted",
        "npm" + "js.com",
        "index" + "-url",
        ".." + slash + "shared",
        "you" + "tube",
        "tran" + "script",
        "seed " + "document",
        "chat" + "bot",
        "language " + "model",
    ]
    return re.compile("|".join(map(re.escape, words)), re.IGNORECASE)


def test_no_file_holds_what_none_may_hold() -> None:
    """What is shipped works on any machine and with any registry, and speaks of nothing but itself."""
    forbidden = _forbidden()
    held = [
        f"{name(file)}, line {number}: {line.strip()[:100]}"
        for file in TEXTS
        for number, line in enumerate(text_of(file).splitlines(), start=1)
        if forbidden.search(line)
    ]
    assert not held


def test_every_package_lists_what_it_offers() -> None:
    """One ``__all__`` in each package's ``__init__``, in order."""
    for file in (ROOT / "drafting").glob("*/__init__.py"):
        lists = [
            ast.literal_eval(node.value)
            for node in nodes_of(file)
            if isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Name)
            and node.targets[0].id == "__all__"
        ]
        assert len(lists) == 1, name(file)
        assert len(set(lists[0])) == len(lists[0]), name(file)


def _kinds_compared(nodes: Iterable[ast.AST]) -> Iterator[int]:
    """Yield the lines where a seam's kind (``seam.kind``, ``s.kind``, ``kind.name``) is compared with a string."""
    for node in nodes:
        if isinstance(node, ast.Compare):
            sides = [node.left, *node.comparators]
            asked = [side for side in sides if isinstance(side, ast.Attribute) and _is_kind(side)]
            if asked and any(_holds_text(side) for side in sides):
                yield node.lineno


def _is_kind(node: ast.Attribute) -> bool:
    """Whether an attribute is a seam's kind, or the name of one; cloths, marks and strokes have kinds of their own."""
    value = node.value
    if node.attr == "name":
        return (isinstance(value, ast.Attribute) and value.attr == "kind") or getattr(value, "id", "") == "kind"
    return node.attr == "kind" and getattr(value, "id", "") in SEAMS


SEAMS = {"seam", "s", "each", "other", "one", "two", "cut", "edge", "after", "before", "on", "spec", "grown"}
"""What a seam, or what has the kind of one, is called in the code."""


def _holds_text(node: ast.AST) -> bool:
    return any(isinstance(part, ast.Constant) and isinstance(part.value, str) for part in ast.walk(node))


def test_no_kind_of_seam_is_known_by_its_name() -> None:
    """A kind is a record that a block or change brings: the engine asks the record, and has no list of names."""
    assert not [f"{name(file)}, line {line}" for file in CODE for line in _kinds_compared(nodes_of(file))]


def test_a_kind_compared_with_a_name_is_found() -> None:
    """The test above sees what it looks for."""
    for text in ('seam.kind == "side"', 'seam.kind in ("end", "mitre")', 'seam.kind.name != "dart"', 's.kind in {"a"}'):
        assert list(_kinds_compared(ast.walk(ast.parse(text)))) == [1]


FEATURES = {"features", "levels", "adjusts", "drills", "zones", "slits"}


def test_what_lies_within_a_piece_is_changed_in_one_place() -> None:
    """``garment/carry`` moves, parts and adds features; no other module replaces those of a piece."""
    others = [file for file in CODE if file.name != "carry.py"]
    assert not [f"{name(file)}, line {line}" for file in others for line in _features_replaced(nodes_of(file))]


def _features_replaced(nodes: Iterable[ast.AST]) -> Iterator[int]:
    """Yield the lines where a call of ``replace`` names what lies within a piece."""
    for node in nodes:
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name | ast.Attribute):
            word = node.func.id if isinstance(node.func, ast.Name) else node.func.attr
            if word == "replace" and any(each.arg in FEATURES for each in node.keywords):
                yield node.lineno


def test_features_that_are_replaced_are_found() -> None:
    """The test above sees what it looks for, and lets lines of the ring and a new piece be."""
    for text, found in (
        ("replace(piece, ring=ring, levels=())", [1]),
        ("dataclasses.replace(piece, features=())", [1]),
        ("replace(piece, ring=ring)", []),
        ("Piece(name, title, ring, features=())", []),
    ):
        assert list(_features_replaced(ast.walk(ast.parse(text)))) == found, text


KERNELS = {f"np.{word}" for word in ("dot", "vdot", "inner", "outer", "matmul", "tensordot", "einsum", "linalg")}


def sums_of_a_kernel(file: Path) -> Iterator[str]:
    """Yield the sums of products in a file whose order a linear algebra library chooses by the processor it finds."""
    for node in nodes_of(file):
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.MatMult):
            yield f"line {node.lineno}: @"
        elif isinstance(node, ast.Attribute) and ast.unparse(node) in KERNELS:
            yield f"line {node.lineno}: {node.attr}"


def test_sums_have_an_order_of_their_own() -> None:
    """So that a pattern is the same to the last figure on every processor.

    But for the counts of tiles: whole numbers are exact in any order.
    """
    exact = {"nest.py": ["einsum"]}
    found = [
        f"{name(file)}, {each}: write out the sum"
        for file in CODE
        for each in sums_of_a_kernel(file)
        if each.split(": ")[1] not in exact.get(file.name, ())
    ]
    assert not found


PARTICIPLE = re.compile(
    r"\w*(?<!e)ed|\w*en|\w*wn|bent|bound|brought|built|caught|dealt|felt|found|gone|held|hung|kept|laid|left|lent|lost|made|"
    r"meant|met|paid|sent|sought|spent|spun|struck|stuck|swung|taught|thought|told|torn|wound"
)
NO_PARTICIPLES = {
    "between",
    "deepen",
    "fasten",
    "flatten",
    "lengthen",
    "listen",
    "open",
    "pen",
    "shorten",
    "straighten",
}


def _functions_and_classes(file: Path) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    for module in nodes_of(file)[:1]:
        assert isinstance(module, ast.Module)
        yield from (node for node in module.body if isinstance(node, (ast.FunctionDef, ast.ClassDef)))


def test_a_function_says_what_it_does() -> None:
    """A participle alone, "drawn", says neither what is done nor to what; a verb and its object do, "draw_hem"."""
    everywhere = [(file, node) for file in CODE for node in _functions_and_classes(file)]
    for file, node in everywhere:
        word = node.name.strip("_")
        if isinstance(node, ast.FunctionDef) and word not in NO_PARTICIPLES:
            assert "_" in word or not PARTICIPLE.fullmatch(word), f"{name(file)}: {node.name}"


def test_no_two_classes_share_a_name() -> None:
    """Who reads "Edge" knows which; a private class counts too."""
    first: dict[str, str] = {}
    for file in CODE:
        for node in _functions_and_classes(file):
            if isinstance(node, ast.ClassDef):
                other = first.setdefault(node.name.strip("_"), name(file))
                assert other == name(file), f"{node.name} stands in {other} and in {name(file)}"


SPEAKING = [
    file
    for file in CODE
    if name(file).startswith(
        ("blocks/", *(f"drafting/{one}/" for one in ("changes", "redraw", "proof/checks", "cloth", "garment")))
    )
]


def test_lengths_are_said_as_values() -> None:
    """No figure is put before mm or cm in an f-string: it is said by ``mm``, ``cm`` or ``tape``."""
    found = [
        f"{name(file)}, line {node.lineno}"
        for file in SPEAKING
        for node in nodes_of(file)
        if isinstance(node, ast.JoinedStr)
        for figure, text in pairwise(node.values)
        if isinstance(figure, ast.FormattedValue) and isinstance(text, ast.Constant)
        if re.match(r" (mm|cm)\b", str(text.value))
    ]
    assert not found
