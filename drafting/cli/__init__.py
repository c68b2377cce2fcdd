"""The command line: commands, and nothing but commands."""

from __future__ import annotations

import atexit
import gc
import os
from collections.abc import Sequence

__all__ = ["command_line", "main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit status: 0 made, 1 not proven, 2 bad input, 130 interrupted.

    A run is short and what it makes holds no rings to speak of, so the collector of rings would only cost time, then
    and once more when Python ends. Its matrices have a few rows: the threads for larger ones, which numpy's OpenBLAS
    starts as it is loaded, would cost a sixth of the run and gain nothing.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    collected = gc.isenabled()
    gc.disable()
    atexit.register(gc.freeze)
    try:
        from drafting.cli.app import main as run

        return run(arguments)
    finally:
        if collected:
            gc.enable()


def command_line() -> int:
    """Run the command line of this process; being told to stop never ends in a traceback."""
    import signal

    try:
        return main()
    except KeyboardInterrupt:  # before the command stands behind a guard of its own
        return 130
    finally:
        signal.signal(signal.SIGINT, signal.SIG_IGN)  # all is written: there is nothing left to stop
