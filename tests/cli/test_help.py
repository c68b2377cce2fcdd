"""Help stands everywhere, starts quickly, and its examples do what they show."""

from __future__ import annotations

import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from drafting.cli.app import group
from tests.cli.running import PLAIN, run


def commands(command: click.Command, words: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """Yield every command and the words that call it."""
    yield words, command
    if isinstance(command, click.Group):
        context = click.Context(command)
        for name in command.list_commands(context):
            inner = command.get_command(context, name)
            assert inner is not None
            yield from commands(inner, (*words, name))


COMMANDS = dict(commands(group))
EXAMPLES = sorted(
    {
        line.strip()
        for command in COMMANDS.values()
        for line in (command.epilog or "").splitlines()
        if line.strip().startswith("blockwright ") and not line.strip().startswith("blockwright wear ")
    }
)
"""But for those that drape: ``tests.bench.worn`` does, and ``tests/worn`` once, coarsely."""


def test_there_is_a_command_for_every_step() -> None:
    """As the readme names them."""
    assert {words[0] for words in COMMANDS if words} == {"new", "make", "lay", "prove", "wear", "list", "schema"}
    listed = {words[1] for words in COMMANDS if len(words) == 2}
    assert listed == {
        "measurements",
        "blocks",
        "changes",
        "checks",
        "designs",
        "papers",
        "paper",
        "cloth",
        "seams",
        "values",
        "inherited",
    }


@pytest.mark.parametrize("words", list(COMMANDS), ids=" ".join)
def test_each_command_has_help_with_an_example(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """And every option has a sentence."""
    for flag in ("--help", "-h"):
        ran = run(capsys, *words, flag)
        assert ran.status == 0
        assert f"blockwright {' '.join(words)}".strip() in ran.out
    assert "Examples:" in ran.out
    for param in COMMANDS[words].params:
        if isinstance(param, click.Option):
            assert param.help, param.name


@pytest.mark.parametrize("example", EXAMPLES)
def test_each_example_of_the_help_does_what_it_shows(
    example: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Run in a folder that holds the ticket it speaks of."""
    monkeypatch.chdir(tmp_path)
    words = shlex.split(example)[1:]
    if words[0] != "new":
        (tmp_path / "alto.toml").write_text(PLAIN, encoding="utf-8")
        (tmp_path / "tenor.toml").write_text(PLAIN, encoding="utf-8")
    if "alto-2.toml" in words:
        shorter = '[[changes]]\nchange = "sleeve-length"\nto = "elbow"\n'
        (tmp_path / "alto-2.toml").write_text(f'builds_on = "alto.toml"\nunit = "cm"\n{shorter}', encoding="utf-8")
        run(capsys, "make", "alto.toml")
    before = set(tmp_path.iterdir())
    ran = run(capsys, *words)
    assert ran.status == 0, ran.err
    made = {path.name for path in set(tmp_path.iterdir()) - before}
    writes = words[0] in ("new", "make", "lay") or {"ticket.schema.json", "--out", "--flats"} & set(words)
    assert bool(made) == bool(writes)


def test_help_loads_none_of_the_engine() -> None:
    """Which is what makes it start quickly."""
    code = (
        "import sys; from drafting.cli import main; main(['make', '--help']); main(['--help']);"
        "print(sorted({'numpy', 'pydantic', 'reportlab'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.rstrip().endswith("[]")


def test_help_of_a_command_that_is_none_is_bad_input(capsys: pytest.CaptureFixture[str]) -> None:
    """With the usage."""
    ran = run(capsys, "mak")
    assert ran.status == 2
    assert "mak" in ran.err
