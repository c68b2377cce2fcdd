"""Kinds of seam: records that blocks and changes bring, each declared by the step that makes it."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from drafting.garment import Seam, SeamKind, Section, Use
from drafting.job import draft_job
from drafting.ticket.keys import SEAM_KEYS, seam_keys
from drafting.work.kinds import DART, SHARED, SIDE, STYLE
from drafting.work.seam_words import tell_plain
from tests.laws.jobs import WEARER, catalogue, job_from, job_of

TAB = SeamKind("tab", "the seam of a tab", tell_plain, allowance=6.0, turn=3)


@pytest.mark.parametrize("design", sorted(catalogue().designs))
def test_each_step_declares_the_kinds_it_makes(design: str) -> None:
    """Else ``[seams]`` wouldn't know the key of a seam that is there."""
    job = job_of(design)
    declared = {kind for planned in job.steps for kind in planned.step.kinds}
    assert {seam.kind for seam in draft_job(job).seams} <= declared


def test_no_two_kinds_share_a_name_and_differ() -> None:
    """A kind told or called in another way, as a centre seam, is the same kind in all that is reckoned with."""
    for kind in catalogue().kinds():
        others = [step.kinds for step in (catalogue().block(name, "") for name in catalogue().blocks)]
        for other in (each for kinds in others for each in kinds if each == kind):
            assert replace(other, tell=kind.tell) == kind
            assert other.allowance == kind.allowance
            assert (other.turn, other.words, other.closes) == (kind.turn, kind.words, kind.closes)


def test_a_shared_kind_is_known_without_its_block() -> None:
    """Each is declared by some block or change, and a ticket may name it where none of its own makes one."""
    assert set(SHARED) <= set(catalogue().kinds())
    job = job_from(f'builds_on = "tank-top"\nunit = "cm"\n{WEARER}[seams]\narmhole = 0.7\n')
    assert job.finish.allowances["armhole"] == 7.0


def test_each_kind_has_its_key() -> None:
    """In the order they are usually sewn, between the allowance of all and the hem's depth."""
    keys = seam_keys([*catalogue().kinds(), TAB])
    assert [keys[0], *keys[-2:]] == list(SEAM_KEYS)
    names = [key.name for key in keys]
    assert names.index("dart") < names.index("tab") < names.index("side") < names.index("hem-band")
    assert next(key for key in keys if key.name == "tab").default == 6.0


def test_a_seam_takes_the_stitch_of_its_kind() -> None:
    """Unless it states another; without either it is the overlock (ISO 4915: 514)."""
    section = (Section(((Use("a", "b"),),), (0.0,)),)
    assert Seam("one", DART, "one", section).stitch == "301"
    assert Seam("one", SIDE, "one", section).stitch == "514"
    assert Seam("one", DART, "one", section, stitch="304").stitch == "304"


def test_kinds_are_told_apart_by_name_and_survive_pickling() -> None:
    """Two records of one name are one kind; what is pickled of it still is."""
    assert replace(SIDE, tell=tell_plain) == SIDE != STYLE
    assert pickle.loads(pickle.dumps(SIDE)) == SIDE
