"""A command on a slow disk, or killed at a rename: ``python -m tests.bench.slowed PAUSE KILL_AT COMMAND...``.

Each call of the disk that changes something takes PAUSE seconds longer; at the rename of number KILL_AT (0: at none)
the process kills itself. "writing" is said on the error stream as the first of those calls comes.
"""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Callable
from typing import Any

from tests.folder.disk import WRITING


class SlowDisk:
    """Stands for ``os`` beneath the writing of files."""

    def __init__(self, pause: float, kill_at: int) -> None:
        self._pause, self._kill_at = pause, kill_at
        self._calls = self._renames = 0

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name)
        return self._slow(name, real) if name in WRITING else real

    def _slow(self, name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **more: Any) -> Any:
            if not self._calls:
                print("writing", file=sys.stderr, flush=True)
            self._calls += 1
            self._renames += name == "replace"
            if name == "replace" and self._renames == self._kill_at:
                os.kill(os.getpid(), signal.SIGKILL)
            time.sleep(self._pause)
            return real(*args, **more)

        return call


def main(words: list[str]) -> int:
    """Run the command and return its status."""
    import drafting.folder.journal as journal
    from drafting.cli import main as run

    vars(journal)["os"] = SlowDisk(float(words[0]), int(words[1]))
    return run(words[2:])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
