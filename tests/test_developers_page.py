"""The example of DEVELOPERS.md is run as it stands there."""

from __future__ import annotations

import re
import sys
import types
from pathlib import Path

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
