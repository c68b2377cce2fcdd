"""The way of a job: from a ticket, read, to a garment, its proof, its cut pieces and the pages they are printed on."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from drafting.errors import CannotDraft, DraftingError, InputError
from drafting.finishing import fingerprint, finish
from drafting.finishing.cutpiece import CutPiece
from drafting.garment import Garment
from drafting.paper import SheetPlan, plan_sheet
from drafting.proof import Proof, prove
from drafting.record import dataclass
from drafting.ticket.job import Job, Planned

Telling = Callable[[str], None]
"""Told what is being done, in a word or two, as it begins."""


@dataclass(frozen=True, slots=True)
class Result:
    """What came of a job.

    ``cut`` is empty where a failed proof leaves nothing to cut, ``sheet`` None where nothing is to be printed.
    ``same`` holds the pieces that are as they were in the earlier draft named, and so aren't printed again.
    """

    job: Job
    garment: Garment
    proof: Proof
    cut: tuple[CutPiece, ...]
    sheet: SheetPlan | None
    same: tuple[CutPiece, ...] = ()


def draft(job: Job) -> Garment:
    """Take the steps of a job in order and return the net garment.

    CannotDraft names the block or change that can't be drawn, and the measurement or figure in the way.
    """
    garment = Garment()
    for planned in job.steps:
        garment = _take(planned, garment, job)
    return garment


def _take(planned: Planned, garment: Garment, job: Job) -> Garment:
    try:
        return planned.step.apply(garment, job.brief, planned.options)
    except (CannotDraft, InputError):
        raise
    except DraftingError as error:
        raise _cannot(planned, str(error.args[0]) if error.args else str(error)) from error
    except ArithmeticError as error:
        raise _cannot(planned, f"these figures leave no shape to draw ({error})") from error


def _cannot(planned: Planned, reason: str) -> CannotDraft:
    return CannotDraft(
        planned.step.name,
        f"asked for in {planned.where}",
        reason,
        help="try its options, or a change before it, another way",
    )


def run(
    job: Job,
    *,
    anyway: bool = False,
    since: Mapping[str, str] | None = None,
    lay: bool = True,
    telling: Telling = lambda _: None,
) -> Result:
    """Draft, prove and finish a job, and lay it on paper if it is proven, or ``anyway``.

    ``since`` gives the fingerprints of an earlier draft's pieces by name: only pieces that differ are laid out.
    Without ``lay`` nothing is laid on paper.
    CannotDraft where a block or change can't be drawn; what a proof finds is in the result and never raised.
    """
    telling("drafting")
    garment = draft(job)
    telling("proving")
    cut, proof = _finished(job, garment)
    sheet = None
    same = tuple(piece for piece in cut if since and since.get(piece.name) == fingerprint(piece))
    differing = tuple(piece for piece in cut if piece not in same)
    if lay and differing and (proof.passed or anyway):
        telling("laying the pieces on pages")
        sheet = plan_sheet(differing, job.paper)
    return Result(job, garment, proof, cut, sheet, same)


def _finished(job: Job, garment: Garment) -> tuple[tuple[CutPiece, ...], Proof]:
    """Finish and prove a garment. One that can't be finished must fail its proof, or else the reason is raised."""
    try:
        cut = finish(garment, job.finish)
    except DraftingError:
        proof = prove(garment, job.brief, unit=job.unit)
        if proof.passed:
            raise
        return (), proof
    return cut, prove(garment, job.brief, cut, unit=job.unit)
