"""Print the figures: ``python -m tests.bench [rounds]``; status 1 if one is past its limit.

Times over the imports by name, which load next to nothing of two of them, are shown to compare.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bench.jobs import tickets
from tests.bench.measured import (
    BYTES_LIMIT,
    PAGES_LIMIT,
    RECORD_LIMIT,
    TIME_LIMITS,
    records,
    sizes,
    times,
)


def main(rounds: int) -> int:
    """Measure, print, and return the exit status."""
    kept = True
    with TemporaryDirectory() as name:
        folder = Path(name)
        for what, ticket in tickets(folder).items():
            took, size = times(ticket, folder, rounds), sizes(ticket, folder / ticket.stem)
            print(f"{what}: median of {rounds} runs, ms")
            print(f"  Python alone {took.python * 1e3:.0f}, imports by name {took.bare * 1e3:.0f}", end="")
            print(f", imports as used {took.used * 1e3:.0f}, make {took.make * 1e3:.0f}", end="")
            print(f", redraft {took.redraft * 1e3:.1f}")
            print(f"  over the imports by name: make {took.make / took.bare:.2f}", end="")
            print(f", redraft {took.redraft / took.bare:.3f}")
            making, redrafting = TIME_LIMITS[what]
            bound = (
                ("make / imports as used", took.make / took.used, making),
                ("redraft / imports as used", took.redraft / took.used, redrafting),
                (f"bytes, {size.pattern} / {size.sheet}", size.bytes_ratio, BYTES_LIMIT),
                (f"pages, {size.pages} / pieces in tiles", size.thrift, PAGES_LIMIT),
            )
            for words, ratio, limit in bound:
                print(f"  {words:28} {ratio:6.3f}  at most {limit:g}  {'kept' if ratio <= limit else 'PASSED OVER'}")
            kept = kept and all(ratio <= limit for _, ratio, limit in bound)
    share = records(rounds)
    print(f"records / the standard library's {share:.2f}  at most {RECORD_LIMIT:g}")
    kept = kept and share <= RECORD_LIMIT
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 9))
