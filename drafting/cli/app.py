"""The command ``blockwright``: its commands are loaded when they are called, so that help starts quickly."""

from __future__ import annotations

import contextlib
import importlib
import io
import os
import signal
import sys
from collections.abc import Sequence
from types import FrameType
from typing import Any

import click

from drafting.cli.terminal import (
    BAD_INPUT,
    FAULT,
    INTERRUPTED,
    print_error,
    print_fault,
    print_lines,
    print_system_refusal,
)
from drafting.errors import DraftingError

_COMMANDS = ("new", "make", "lay", "prove", "wear", "list", "schema")
"""In the order in which they are used."""


def examples(*lines: str) -> str:
    """Return the end of a help page: examples, one a line."""
    return "\b\nExamples:\n" + "\n".join(f"  {line}" for line in lines)


def refuse_unknown(ctx: click.Context, args: Sequence[str], what: str, known: Sequence[str]) -> None:
    """Refuse a first word that is none of the known ones, with those that it may be; an option is click's to refuse."""
    from drafting.errors import close_matches

    if args and args[0] not in known and not args[0].startswith("-"):
        close = close_matches(args[0], known)
        meant = f" Did you mean {' or '.join(close)}?" if close else ""
        ctx.fail(f"There is no {what} “{args[0][:60]}”.{meant} There are: {', '.join(known)}.")


class Commands(click.Group):
    """A group whose commands each stand in a module of their own."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of the commands."""
        return list(_COMMANDS)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command; a misspelt one is told with those that it may be."""
        refuse_unknown(ctx, args, "command", _COMMANDS)
        return super().resolve_command(ctx, args)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load one command."""
        if cmd_name not in _COMMANDS:
            return None
        found: object = importlib.import_module(f"drafting.cli.{cmd_name}").command
        assert isinstance(found, click.Command)
        return found


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog=examples(
        "blockwright make --demo",
        "blockwright new alto.toml",
        "blockwright make alto.toml --out alto-pattern",
    ),
)
@click.version_option(package_name="blockwright", message="%(prog)s %(version)s")
def group() -> None:
    """Draft made-to-measure sewing patterns.

    A ticket holds a person's measurements, a cloth and a design. From it come proven pattern pieces, true to size,
    on pages that a home printer prints. Write a ticket with "new", fill it in, and "make" its pattern.

    Ends with status 0 if all is made or proven, 1 if the proof failed, 2 for bad input or where the system stands in
    the way (a full disk), 3 for a fault in the program itself, 130 if stopped.
    """


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit status.

    0 made, 1 not proven, 2 bad input or a system that stands in the way, 3 a fault in the program, 130 interrupted.
    """
    _print_safely()
    _stop_when_told()
    try:
        return _run_command(arguments)
    except click.ClickException as error:
        error.show()
        return BAD_INPUT
    except (click.Abort, KeyboardInterrupt):
        print_lines("stopped; nothing was left half made", to_errors=True)
        return INTERRUPTED
    except DraftingError as error:
        print_error(error)
        return BAD_INPUT
    except Exception as error:
        if isinstance(error, MemoryError) or (isinstance(error, OSError) and error.errno):
            print_system_refusal(error)
            return BAD_INPUT
        print_fault(error)  # whatever else is raised is a fault of ours: no reader should meet its inside
        return FAULT


def _run_command(arguments: Sequence[str] | None) -> int:
    settings: dict[str, Any] = {}
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        settings["color"] = False
    status = group.main(args=arguments, prog_name="blockwright", standalone_mode=False, **settings)
    sys.stdout.flush()
    return status if isinstance(status, int) else 0


def _print_safely() -> None:
    """Write characters a terminal can't show as their codes rather than fail on them."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            with contextlib.suppress(ValueError):  # it is closed
                stream.reconfigure(errors="backslashreplace")


def _stop_when_told() -> None:
    """Leave by the front door when the system says stop or the terminal is closed: nothing is left half done."""

    def leave(number: int, frame: FrameType | None) -> None:
        raise SystemExit(128 + number)

    with contextlib.suppress(ValueError):  # not in the main thread
        for name in ("SIGTERM", "SIGHUP"):
            sign = getattr(signal, name, None)
            if sign is not None and signal.getsignal(sign) is not signal.SIG_IGN:  # as nohup has it
                signal.signal(sign, leave)
