"""Words last: what is said of a garment carries its sides and its lengths as values, in every design and kept stack."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from drafting.errors import DraftingError
from drafting.garment import Garment
from drafting.job import draft_job
from drafting.saying import Saying, Words, mirror_words
from drafting.ticket import Job
from tests.laws import test_found_by_the_laws as knits
from tests.laws import test_found_in_wovens as wovens
from tests.laws.jobs import catalogue, job_of, with_changes

SIDE = r"(?<![A-Za-z])(left|right|Left|Right)(?![A-Za-z])"
NO_SIDE = (
    r" sides? (?:up|out|in|down|together|facing|of the (?:cloth|fabric|knit))| sides(?![A-Za-z])| angle| round| in the"
    r"| (?:out|open|unsewn|free|raw|alone|off|undone|unstitched)(?![A-Za-z])"
)
"""What follows the word where it isn't a side of the wearer."""
OF_WEARER = re.compile(r"(?<!\bis )(?<!\bare )(?<!\bbe )(?<!\bmm )" + SIDE + f"(?!{NO_SIDE})")
OTHER = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}
LENGTH = re.compile(r"(?<![\w.])[0-9]+(?:\.[0-9]+)? (?:mm|cm)\b")


def jobs() -> Iterator[tuple[str, Job]]:
    """The catalogue, the demos' asymmetric ones among it, and the stacks that the laws keep."""
    yield from ((design, job_of(design)) for design in sorted(catalogue().designs))
    for name, design, body, fit, stack in knits.DRAWN:
        yield f"knit {name}", with_changes(job_of(design), stack, knits.brief_for(body, fit))
    for name, design, body, fit, stack in wovens.DRAWN:
        wearer = wovens.singer(body) if isinstance(body, str) else wovens.surveyed(*body)
        brief = wovens.Brief(wearer, wovens.WOVEN_CLOTHS[0], fit)
        yield f"woven {name}", with_changes(job_of(design), stack, brief)


def said(garment: Garment) -> Iterator[Words]:
    """All that a garment carries to be read."""
    yield from garment.notes
    yield from (fact.sentence for fact in garment.facts)
    yield from (aim.title for aim in garment.aims)
    yield from (seam.title for seam in garment.seams)
    for piece in garment.pieces:
        yield from (piece.title, *piece.notes, *(zone.reason for zone in piece.zones))


def plain(words: Words) -> Iterator[str]:
    """The words that stand as words: templates, and values that are text."""
    if isinstance(words, Saying):
        yield words.template
        for _, value in words.values:
            if isinstance(value, Saying) or type(value) is str:
                yield from plain(value)
    else:
        yield words


@pytest.mark.parametrize("job", [pytest.param(job, id=name) for name, job in jobs()])
def test_sides_and_lengths_are_values(job: Job) -> None:
    """Mirrored, each sentence tells the other side wherever it told one; and no length stands in it as words."""
    try:
        garment = draft_job(job)
    except DraftingError:
        return
    for words in said(garment):
        turned = OF_WEARER.sub(lambda found: OTHER[found[1]], str(words))
        assert str(mirror_words(words)) == turned
        assert not [text for text in plain(words) if LENGTH.search(text)]
