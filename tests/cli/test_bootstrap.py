"""run.py: what it says before it installs anything, and what it holds to."""

from __future__ import annotations

import ast
import subprocess
import sys

import pytest

from tests.cli.running import ROOT

RUN = ROOT / "run.py"


def test_it_needs_the_standard_library_alone() -> None:
    """It runs before anything is installed."""
    for node in ast.walk(ast.parse(RUN.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            names = [node.module or ""]
        else:
            continue
        assert all(name.split(".")[0] in {*sys.stdlib_module_names, "__future__"} for name in names)


@pytest.mark.parametrize(("words", "status"), [(["--help"], 0), (["-h"], 0), ([], 2), (["frob"], 2)])
def test_it_tells_its_two_jobs(words: list[str], status: int) -> None:
    """To whoever asks, or gets it wrong."""
    done = subprocess.run([sys.executable, str(RUN), *words], capture_output=True, text=True, check=False)
    assert done.returncode == status
    assert "run.py demo" in done.stdout
    assert "run.py test" in done.stdout


def test_an_older_python_is_told_in_a_sentence(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a traceback, and before anything is made."""
    space: dict[str, object] = {"__name__": "run", "__file__": str(RUN)}
    exec(compile(RUN.read_text(encoding="utf-8"), str(RUN), "exec"), space)
    monkeypatch.setattr(sys, "argv", ["run.py", "demo"])
    monkeypatch.setattr(sys, "version_info", (3, 10, 4))
    main = space["main"]
    assert callable(main)
    assert main() == 2
    assert "needs Python 3.11 or newer" in capsys.readouterr().out


def test_the_checks_are_run_the_same_way_everywhere() -> None:
    """.ci/run calls run.py test and nothing else."""
    text = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert text.splitlines()[-1] == "exec python3 run.py test"
