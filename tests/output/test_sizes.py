"""What is printed is thrifty: the files of a plain top and of the overlay top, made by the command."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.jobs import OVERLAY, PLAIN, tickets
from tests.bench.measured import BYTES_LIMIT, PAGES_LIMIT, sizes
from tests.output.rendered import labels


@pytest.mark.parametrize("what", [PLAIN, OVERLAY])
def test_pages_and_bytes_are_few(what: str, tmp_path: Path) -> None:
    """The drawing isn't repeated on every page, and hardly a page more is printed than the pieces' area fills.

    The files' bytes are the same on every machine, so these two figures of the benchmark can be held here. The start
    page carries the flat, which the sheet doesn't.
    """
    assert (BYTES_LIMIT, PAGES_LIMIT) == (1.6, 1.41)
    size = sizes(tickets(tmp_path)[what], tmp_path / "made")
    assert size.pages > 12
    assert size.bytes_ratio <= BYTES_LIMIT
    assert size.thrift <= PAGES_LIMIT
    printed = (tmp_path / "made" / "pattern.pdf").read_bytes()
    assert sum(label.startswith("Start") for label in labels(printed)) == 1, "the figures stand in the booklet"
