"""Every block in every design, and every pair of blocks: drafted, or refused in a sentence.

python -m tests.bench.pairs           # all of them, two at a time
python -m tests.bench.pairs 20        # every twentieth
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor

from tests.bench.asked import ask
from tests.laws.jobs import WEARER, catalogue
from tests.laws.strategies import WOVENS

WOVEN = WEARER.replace('kind = "knit"', 'kind = "woven"').replace('"30 %"', '"0 %"').replace('"15 %"', '"0 %"')


def tickets() -> Iterator[tuple[str, str]]:
    """Yield the name and the text of every ticket."""
    blocks = sorted(catalogue().blocks)
    for design in sorted(catalogue().designs):
        wearer = WOVEN if design in WOVENS else WEARER
        for block in blocks:
            yield f"{design} + {block}", f'builds_on = "{design}"\n{wearer}[blocks.extra]\nblock = "{block}"\n'
    for one in blocks:
        for other in blocks:
            yield f"{one} + {other}", f'{WEARER}[blocks.one]\nblock = "{one}"\n[blocks.other]\nblock = "{other}"\n'
            for body in ("knit-bodice", "darted-bodice"):
                wearer = WOVEN if body == "darted-bodice" else WEARER
                yield (
                    f"{body} + {one} + {other}",
                    f'{wearer}[blocks.body]\nblock = "{body}"\n'
                    f'[blocks.one]\nblock = "{one}"\n[blocks.other]\nblock = "{other}"\n',
                )


def _asked(each: tuple[str, str]) -> tuple[str, int, str, tuple[str, ...]]:
    answer = ask(each[1])
    return each[0], answer.status, answer.said, answer.wrong


def main(words: list[str]) -> int:
    """Ask for all, or every nth; status 1 where one isn't answered as it should be."""
    chosen = list(tickets())[:: int(words[0]) if words else 1]
    counts, bad = Counter[int](), 0
    with ProcessPoolExecutor(2) as pool:
        for name, status, said, wrong in pool.map(_asked, chosen, chunksize=8):
            counts[status] += 1
            if wrong:
                bad += 1
                print(f"{name}: status {status}: {'; '.join(wrong)}\n    " + said.replace("\n", "\n    "))
    print(f"{len(chosen)} tickets; by status {dict(sorted(counts.items()))}; answered wrongly: {bad}")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
