"""The command line: commands, and nothing but commands."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

__all__ = ["command_line", "main"]

SELDOM = (50_000, 20, 20)
"""How many new values bring the collector out to look for rings: a run makes some 50,000 that last, in hardly a ring.

Python's own figures (700, 10, 10) have it walk through all modules a dozen times, a twentieth of the run.
"""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit status.

    0 made, 1 not proven, 2 bad input or a system that stands in the way, 3 a fault in the program, 130 interrupted.

    Its matrices have a few rows: the threads for larger ones, which numpy's OpenBLAS starts as it is loaded, would cost
    a sixth of the run and gain nothing.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    gc.set_threshold(*SELDOM)
    from drafting.cli.app import main as run

    return run(arguments)


def command_line() -> NoReturn:
    """Run the command line of this process and end it; being told to stop never ends in a traceback."""
    import signal

    try:
        from drafting.cli.surroundings import open_streams

        open_streams()
        status = main()
    except KeyboardInterrupt:  # before the command stands behind a guard of its own
        status = 130
    finally:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # there is nothing left to stop
    gc.freeze()  # the process ends, with all that others asked to be done then; no need to search its memory for rings
    sys.exit(status)
