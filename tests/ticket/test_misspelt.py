"""A name with two letters exchanged is refused with the one that is meant, before anything is drafted."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from drafting.errors import InputError
from tests.laws.jobs import WEARER, catalogue, job_from

HEAD = f'unit = "cm"\nbuilds_on = "basic-tee"\n{WEARER}\n'


def exchange(name: str) -> str:
    """The name with two letters about its middle exchanged, or one doubled where they are alike."""
    at = max(1, len(name) // 2)
    return (
        name[: at - 1] + name[at] + name[at - 1] + name[at + 1 :] if name[at] != name[at - 1] else f"{name}{name[-1]}"
    )


def slips() -> Iterator[tuple[str, str]]:
    """What is meant, and a ticket with it misspelt: each block and change, and one in three of their options."""
    for name in catalogue().blocks:
        yield name, f'[blocks.more]\nblock = "{exchange(name)}"'
        for option in [*catalogue().block(name, name).told()][::3]:
            yield option, f'[blocks.more]\nblock = "{name}"\n{exchange(option)} = 1'
    for name in catalogue().changes:
        yield name, f'[[changes]]\nchange = "{exchange(name)}"'
        for option in [*catalogue().change(name, name).told()][::3]:
            yield option, f'[[changes]]\nchange = "{name}"\n{exchange(option)} = 1'
    yield from ((name, f"[{exchange(name)}]\nx = 1") for name in ("cloths", "seams", "grain"))


def test_each_misspelt_name_gives_the_close_one() -> None:
    """As one who writes a ticket by hand misspells it: what is meant stands in what is said."""
    for meant, ticket in slips():
        with pytest.raises(InputError) as refused:
            job_from(HEAD + ticket)
        assert meant in str(refused.value), ticket
