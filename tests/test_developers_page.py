"""The example of DEVELOPERS.md is run as it stands there."""

from __future__ import annotations

import ast
import importlib
import re
import sys
import types
from pathlib import Path

from drafting.garment.step import UNITS
from drafting.ticket.keys import SEAM_KEYS

PAGE = Path(__file__).parents[1] / "DEVELOPERS.md"


def test_the_example_change_and_its_test_run() -> None:
    """A reader who copies the two blocks has a change that drafts, proves and finishes."""
    blocks = re.findall(r"```python\n(.*?)```", PAGE.read_text(encoding="utf-8"), flags=re.DOTALL)
    module = types.ModuleType("example_change")
    sys.modules[module.__name__] = module  # dataclasses look their module up
    try:
        for block in blocks:
            exec(compile(block, str(PAGE), "exec", dont_inherit=True), module.__dict__)
        tests = [value for name, value in vars(module).items() if name.startswith("test_")]
        assert tests
        for test in tests:
            test()
    finally:
        del sys.modules[module.__name__]


def test_what_a_package_may_lean_on_is_there() -> None:
    """Each module that its section names can be imported, each unit of an option is told, and each key in the way."""
    section = PAGE.read_text(encoding="utf-8").split("## A package of your own", 1)[1].split("\n## ", 1)[0]
    for name in sorted(set(re.findall(r"`(drafting(?:\.\w+)+)`", section))):
        importlib.import_module(name)
    for word in (*UNITS, *(key.name for key in SEAM_KEYS)):
        assert f"`{word}`" in section


def test_a_package_may_import_all_that_the_projects_own_do() -> None:
    """What a block or a change needs, someone else's needs too."""
    section = PAGE.read_text(encoding="utf-8").split("What it may import:", 1)[1].split("Its `pyproject", 1)[0]
    told = set(re.findall(r"`(drafting\.\w+)`", section))
    own = {
        ".".join(node.module.split(".")[:2])
        for folder in ("blocks", "drafting/changes")
        for file in (PAGE.parent / folder).rglob("*.py")
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("drafting.")
    }
    assert own - {"drafting.changes"} <= told
