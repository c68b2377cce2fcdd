"""The command line: commands, and nothing but commands."""

from __future__ import annotations

import contextlib
import gc
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

__all__ = ["command_line", "main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit status.

    0 made, 1 not proven, 2 bad input, 3 a fault in the program, 130 interrupted.

    A run is short and what it makes holds no rings to speak of, so the collector of rings would only cost time. Its
    matrices have a few rows: the threads for larger ones, which numpy's OpenBLAS starts as it is loaded, would cost a
    sixth of the run and gain nothing.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    collected = gc.isenabled()
    gc.disable()
    try:
        from drafting.cli.app import main as run

        return run(arguments)
    finally:
        if collected:
            gc.enable()


def command_line() -> NoReturn:
    """Run the command line of this process and end it; being told to stop never ends in a traceback.

    All is written by then, so the process ends at once: to take apart what it holds would cost a twentieth of the run.
    """
    import signal

    try:
        status = main()
    except KeyboardInterrupt:  # before the command stands behind a guard of its own
        status = 130
    finally:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # there is nothing left to stop
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(AttributeError, OSError, ValueError):  # there is none, or nobody reads it any more
            stream.flush()
    os._exit(status)
