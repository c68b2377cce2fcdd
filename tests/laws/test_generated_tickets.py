"""A sample of the generated tickets, and of the pairs of blocks: each answered as it should be, in words for a maker.

All of them are asked for by name: ``python -m tests.bench.tickets`` and ``python -m tests.bench.pairs``.
"""

from __future__ import annotations

import pytest

from tests.bench.asked import ask
from tests.bench.pairs import tickets
from tests.bench.tickets import MAKERS, make_ticket

SAMPLE = 200
EVERY = 60


@pytest.mark.parametrize("first", range(0, SAMPLE, 50))
def test_generated_tickets_are_answered(first: int) -> None:
    """Drafted or refused, with the place, what was read and the mend, and no word of the engine."""
    for number in range(first, first + 50):
        kind, text = make_ticket(number)
        answer = ask(text, proved=False)
        assert not answer.wrong, f"ticket {number} ({kind}): {answer.wrong}\n{answer.said}\n{text}"


def test_every_kind_is_in_the_sample() -> None:
    """And a number always makes the same ticket."""
    assert {make_ticket(number)[0] for number in range(SAMPLE)} == {kind for kind, *_ in MAKERS}
    assert make_ticket(7) == make_ticket(7)


def test_pairs_of_blocks_are_answered() -> None:
    """Every so many of them: proven, not proven, or refused in a sentence that says what doesn't go with what."""
    for name, text in list(tickets())[::EVERY]:
        answer = ask(text)
        assert answer.status in (0, 1, 2)
        assert not answer.wrong, f"{name}: {answer.wrong}\n{answer.said}"
