"""A ticket of many changes costs a few drafts at the most, whatever becomes of it; too many are refused."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from drafting.errors import CannotDraft, InputError
from drafting.garment import Brief, Change, Fact, Garment, Stage, option
from drafting.job import ONE_BY_ONE, STEPS_AGAIN, causes, draft_job
from drafting.ticket import Catalogue, Job, Planned, read_job
from drafting.ticket.compose import MOST_STEPS
from tests.ticket.stubs import BODY, WHOLE


@dataclass(frozen=True, slots=True)
class Number:
    """Options of the counted change."""

    number: int = option("Which one it is.", "count", 0, low=0, high=1000)
    without: int = option("The one that must not be taken before it, if any.", "count", 0, low=0, high=1000)


@dataclass
class Counted:
    """Changes that count how often each is taken; the one ``refused`` can't be taken after the one ``hindered_by``."""

    refused: int
    hindered_by: int = 0
    taken: Counter[int] = field(default_factory=Counter)

    def step(self) -> Change[Number]:
        """The change, as the catalogue has it."""
        return Change("counted", "Counts.", Number, Stage.SHAPE, self._take)

    def _take(self, garment: Garment, brief: Brief, o: Number) -> Garment:
        self.taken[o.number] += 1
        done = {int(fact.value) for fact in garment.facts}
        if o.number == self.refused and (not self.hindered_by or self.hindered_by in done):
            raise CannotDraft("", "it can't be taken")

        return garment.with_(facts=[Fact(f"taken {o.number}", float(o.number), "", "choice", "")])


def ticket(folder: Path, counted: Counted, count: int) -> Job:
    """The job of a ticket of so many changes."""
    text = WHOLE + "".join(f'[[changes]]\nchange = "counted"\nnumber = {n}\n' for n in range(1, count + 1))
    (folder / "alto.toml").write_text(text, encoding="utf-8")
    step = counted.step()
    return read_job(folder / "alto.toml", Catalogue({"stub-body": lambda: BODY}, {"counted": lambda: step}))


MANY = MOST_STEPS - 1


@pytest.mark.parametrize("hindered_by", [0, 1, 20])
def test_a_refusal_costs_two_drafts_more_at_the_most(tmp_path: Path, hindered_by: int) -> None:
    """The last of many changes is refused, alone or because of one long before."""
    counted = Counted(MANY, hindered_by)
    with pytest.raises(CannotDraft):
        draft_job(ticket(tmp_path, counted, MANY))
    assert counted.taken.total() <= MANY + STEPS_AGAIN


def test_a_long_search_is_told(tmp_path: Path) -> None:
    """Whoever waits sees what for."""
    told: list[str] = []
    with pytest.raises(CannotDraft):
        draft_job(ticket(tmp_path, Counted(3), 3), told.append)
    assert told == ["looking for what stands in the way"]


def test_of_the_last_changes_the_one_that_hinders_is_named(tmp_path: Path) -> None:
    """The twelfth before it, found by drafting on from there each time."""
    counted = Counted(MANY, MANY - 12)
    with pytest.raises(CannotDraft) as refusal:
        draft_job(ticket(tmp_path, counted, MANY))
    assert refusal.value.since == f"alto.toml: changes[{MANY - 12}] (counted)"
    assert counted.taken[1] == 1


@pytest.mark.parametrize("guilty", [1, 2, 30, 50, MANY - 1, MANY])
def test_few_drafts_find_what_a_fault_came_in_with(tmp_path: Path, guilty: int) -> None:
    """One of many changes is to blame, wherever it stands; the last few are left out singly, the others by halves."""
    job = ticket(tmp_path, Counted(0), MANY)
    judged = []

    def faults(steps: Sequence[Planned]) -> set[str]:
        judged.append(len(steps))
        return {"always", *("fault" for planned in steps if planned is job.steps[guilty])}

    assert causes(job, {"fault", "always"}, faults) == {"fault": job.steps[guilty]}
    assert len(judged) <= ONE_BY_ONE + MANY.bit_length() + 1


def test_more_changes_than_a_garment_has_are_refused(tmp_path: Path) -> None:
    """As are more blocks; what is told has the file, the limit and the mend."""
    with pytest.raises(InputError) as refusal:
        ticket(tmp_path, Counted(0), MANY + 1)
    said = str(refusal.value)
    assert "alto.toml: changes: 1 blocks and 60 changes" in said
    assert f"{MOST_STEPS} at most" in said
    (tmp_path / "blocks.toml").write_text(WHOLE + "".join(f"[blocks.b{n}]\n" for n in range(60)), encoding="utf-8")
    with pytest.raises(InputError, match="61 blocks and 0 changes"):
        read_job(tmp_path / "blocks.toml", Catalogue({"stub-body": lambda: BODY}))
