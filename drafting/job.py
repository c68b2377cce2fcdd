"""The way of a job: from a ticket, read, to a garment, its proof, its cut pieces and the pages they are printed on."""

from __future__ import annotations

import functools
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import field, replace

from drafting.errors import CannotDraft, DraftingError, GeometryError, InputError, NoAnswer
from drafting.finishing import EarlierDraft, Printed, Serving, finish, record_print
from drafting.finishing.cutpiece import CutPiece
from drafting.finishing.growth import grow_pieces
from drafting.garment import Garment, begin_garment, list_banded, list_opened, list_panelled
from drafting.garment.heeding import mark_idle, watch_options
from drafting.naming import keep_names, standing_print
from drafting.paper import SheetPlan, plan_sheet
from drafting.proof import Proof, Severity, prove
from drafting.record import dataclass
from drafting.saying import Words, say
from drafting.ticket.averages import find_other_averages
from drafting.ticket.bias_hems import note_bias_hems
from drafting.ticket.cutting import (
    cloth_of_step,
    cut_named_pieces,
    cut_new_pieces,
    cut_pieces_again,
    cutting_brief,
    refuse_unknown,
)
from drafting.ticket.job import Job, Planned
from drafting.ticket.laying import draft_as_laid, lay_pieces, refuse_unknown_grain
from drafting.ticket.narrowed import find_narrowed
from drafting.ticket.stay_strips import cut_stay_strips
from drafting.ticket.turning import turn_step, turned_over
from drafting.ticket.unheeded import find_unheeded, is_untouched
from drafting.work.kinds import SHARED

Telling = Callable[[str], None]
"""Told what is being done, in a word or two, as it begins."""


@dataclass(frozen=True, slots=True)
class Result:
    """What came of a job.

    ``cut`` is empty where a failed proof leaves nothing to cut, ``sheet`` None where nothing is to be printed.
    ``same`` holds the pieces that are as they were in the earlier draft named; ``changed`` is a sheet of the others,
    for whoever has those in print, None where all pieces are the same or none is; ``prints`` holds all
    pieces as they were printed, in that draft or in this. ``on_other_paper``: nothing differs but the paper, so that
    all is to be printed again. ``served`` gives by its name the print of each that was found again in the earlier
    draft, also where its label has to name another notch, so that it isn't in ``same``. ``before`` is the outline of
    that draft's flat.
    """

    job: Job
    garment: Garment
    proof: Proof
    cut: tuple[CutPiece, ...]
    sheet: SheetPlan | None
    same: tuple[CutPiece, ...] = ()
    changed: SheetPlan | None = None
    prints: tuple[Printed, ...] = ()
    on_other_paper: bool = False
    served: Mapping[str, Serving] = field(default_factory=dict)
    before: Mapping[str, Sequence[Sequence[float]]] = field(default_factory=dict)

    @property
    def drawn(self) -> tuple[CutPiece, ...]:
        """The pieces as they are drawn: larger than they are worn where their cloth is cut before it is washed."""
        return grow_pieces(self.cut, self.job.brief)


def draft_job(job: Job, telling: Telling = lambda _: None) -> Garment:
    """Take the steps of a job in order and return the net garment.

    CannotDraft names the block or change that can't be drawn, the measurement or figure in the way, and another change
    that it could be drawn without, if there is one.
    """
    drafts = _Drafts(job)
    try:
        garment = drafts.draft(job.steps)
        refuse_unknown(job, garment)
        refuse_unknown_grain(job, garment)
        return cut_stay_strips(note_bias_hems(lay_pieces(garment), job.brief), job.brief)
    except CannotDraft as error:
        telling("looking for what stands in the way")
        if isinstance(error.__cause__, GeometryError):
            _name_figure(error, error.__cause__, job)
        error.since = _hindered_by(error, job, drafts)
        raise


def watch_job(job: Job) -> Job:
    """Return the job with steps that note which of the ticket's options they ask for, for ``find_unheeded``."""
    steps = (replace(each, options=watch_options(each.options)) if each.said else each for each in job.steps)
    return replace(job, steps=tuple(steps))


def _name_figure(error: CannotDraft, cause: GeometryError, job: Job) -> None:
    """Name in a refusal of the geometry the measurement or the option that is out of reach, if one alone is."""
    from drafting.reach import find_reach

    at = next(i for i, planned in enumerate(job.steps) if planned.place == error.where)
    found = find_reach(job, at, _can_draft)
    if found is not None:
        words = "it finds no shape" if isinstance(cause, NoAnswer) else cause.words
        error.because, error.help = (found.key,), found.help
        error.reason = say("{given} {words}", given=found.given, words=words)
        error.write = _to_write(error, job.steps[at])


def _can_draft(job: Job) -> bool:
    try:
        _Drafts(job).draft(job.steps)
    except Exception:  # refused in other words, or a fault: either way it can't be drafted
        return False
    return True


STEPS_AGAIN = 100
"""How many steps are taken again at most, to find what stands in the way of one that can't be: two drafts of a ticket
that asks for many."""


def _hindered_by(error: CannotDraft, job: Job, drafts: _Drafts) -> str:
    """The last change before the one refused that it could be drafted without, as the ticket names it; "" if none is.

    Sought from the last one back, as far as ``STEPS_AGAIN`` reach: past the fourteenth of many, none is found.
    """
    at = next((i for i, planned in enumerate(job.steps) if planned.place == error.where), 0)
    most = drafts.taken + STEPS_AGAIN
    for i in range(at - 1, -1, -1):
        if job.steps[i].is_block:
            continue
        if drafts.taken + at - i > most:
            return ""
        try:
            drafts.draft((*job.steps[:i], *job.steps[i + 1 : at + 1]))
        except Exception:  # refused in other words, or a fault: either way it can't be drafted so
            continue
        change = job.steps[i]
        return change.cause
    return ""


class _Drafts:
    """A job drafted, and drafted again without some of its steps: on from what it was before the first left out.

    ``taken`` counts the steps taken.
    """

    def __init__(self, job: Job) -> None:
        self._job = job
        options = [planned.options for planned in job.steps]
        start = begin_garment(
            (planned.step for planned in job.steps), list_opened(options), list_banded(options), list_panelled(options)
        )
        self._stages = [start]
        self.taken = 0

    def draft(self, steps: Sequence[Planned]) -> Garment:
        """Take steps, which are some of the job's, in their order; what is raised is let through."""
        same = next((i for i, (a, b) in enumerate(zip(steps, self._job.steps, strict=False)) if a is not b), len(steps))
        turned = turned_over(steps)
        if turned[:1] != turned_over(self._job.steps)[:1]:
            same = 0  # what was drafted to be turned over serves no garment that isn't
        at = min(same, len(self._stages) - 1)
        garment = self._stages[at]
        for number, planned in enumerate(steps[at:], start=at + 1):
            self.taken += 1
            garment = _take_step(planned, garment, self._job, turned[number - 1])
            if number <= same:
                self._stages.append(garment)
        return garment


def _take_step(planned: Planned, garment: Garment, job: Job, turned: bool) -> Garment:
    brief, options = turn_step(planned, job.brief) if turned else (job.brief, planned.options)
    try:
        made = draft_as_laid(planned, garment, job, cutting_brief(brief, planned, job), options)
        made = cut_named_pieces(cut_new_pieces(garment, made, cloth_of_step(planned, job)), job)
        made = cut_pieces_again(garment, made, planned, job)
        _refuse_undeclared(planned, garment, made)
        if planned.said and is_untouched(garment, made):
            mark_idle(planned.options)
        return made
    except CannotDraft as error:
        _place_error(error, planned, job)
        raise
    except InputError:
        raise
    except DraftingError as error:
        raise _cannot_take(planned, error.words, job) from error
    except Exception as error:  # a fault of the step's own, which is told with its name
        error.add_note(planned.named)
        raise


def _refuse_undeclared(planned: Planned, before: Garment, after: Garment) -> None:
    """Refuse a step that makes seams of a kind it doesn't declare, whose allowance no ticket could set."""
    if before.seams is after.seams:
        return
    kinds = (*SHARED, *planned.step.kinds, *(seam.kind for seam in before.seams))
    known = {(kind.name, kind.words) for kind in kinds}
    new = next((seam for seam in after.seams if (seam.kind.name, seam.kind.words) not in known), None)
    if new is not None:
        called = next(
            (f"; another kind of that name is that of {kind.words}" for kind in kinds if kind == new.kind), ""
        )
        told = f'"{new.kind.name}" ({new.kind.words})'
        says = f'it makes the seam "{new.name}" of the kind {told}, which it doesn\'t declare{called}'
        error = CannotDraft("", says, help=f"its maker must name that kind in kinds=(…) of {planned.step.name}")
        error.step = planned.step.name
        raise error


def _place_error(error: CannotDraft, planned: Planned, job: Job) -> None:
    """Tell an error where in the ticket its block or change stands, which keys mend it, and the maker's unit."""
    error.where, error.write, error.unit = planned.place, _to_write(error, planned), job.unit


def _to_write(error: CannotDraft, planned: Planned) -> str:
    """Return the keys to write: the options in the way, the measurements, or what leaves a block out."""
    from drafting.body import measurements

    keys = [f"{name} = …" for name in error.because if name in planned.step.told()]
    parts = [f"under {planned.table}: {' or '.join(keys)}"] if keys else []
    body = [name for name in error.because if name in measurements()]
    parts += [f"what it rests on, under [wearer.body]: {', '.join(body)}"] if body else []
    if error.leave_out or (planned.left_out_as and not planned.is_block):
        parts.append(f"{'or, ' if parts else ''}to be without it: {planned.leaving}")
    kind = "blocks" if planned.is_block else "changes"
    return "; ".join(parts) or f"under {planned.table}; its options: blockwright list {kind} {planned.step.name}"


def _cannot_take(planned: Planned, reason: Words, job: Job) -> CannotDraft:
    error = CannotDraft("", reason, help="try its options, or a change before it, another way")
    error.step = planned.step.name
    _place_error(error, planned, job)
    return error


def run(
    job: Job,
    *,
    anyway: bool = False,
    since: EarlierDraft | None = None,
    lay: bool = True,
    telling: Telling = lambda _: None,
) -> Result:
    """Draft, prove and finish a job, and lay it on paper if it is proven, or ``anyway``.

    ``since`` is an earlier draft, as it was printed: pieces that differ are laid out by themselves too, and pieces of
    one name keep their code.
    Without ``lay`` nothing is laid on paper.
    CannotDraft where a block or change can't be drawn; what a proof finds is in the result and never raised.
    """
    telling("drafting")
    watched = watch_job(job)
    garment = draft_job(watched, telling)
    telling("proving")
    cut, proof = finish_job(job, garment, telling)
    notes = (*find_narrowed(garment, job.finish, job.advise), *find_unheeded(watched, garment))
    proof = replace(proof, findings=(*proof.findings, *find_other_averages(job), *notes))
    sheet = changed = None
    earlier = since or EarlierDraft()
    before = earlier.flat
    job, garment, cut = keep_names(job, garment, cut, earlier)
    drawn = grow_pieces(cut, job.brief)
    prints = tuple(record_print(piece, job.paper.scale) for piece in drawn)
    same = tuple(piece for piece, printed in zip(drawn, prints, strict=True) if earlier.serves_for(printed))
    found = {each.name: serving for each in prints if (serving := earlier.find_print(each)) is not None}
    moved = bool(cut) and len(same) == len(drawn) and earlier.paper not in ("", job.paper.tell())
    if moved:
        earlier, same, found = EarlierDraft(), (), {}
    differing = tuple(piece for piece in drawn if piece not in same)
    prints = tuple(standing_print(printed, earlier, bool(same)) for printed in prints)
    if lay and cut and (proof.passed or anyway):
        telling("laying the pieces on pages")
        sheet = plan_sheet(drawn, job.paper)
        changed = plan_sheet(differing, job.paper) if same and differing else None
    return Result(job, garment, proof, cut, sheet, same, changed, prints, moved, found, before)


def finish_job(job: Job, garment: Garment, telling: Telling = lambda _: None) -> tuple[tuple[CutPiece, ...], Proof]:
    """Finish and prove the garment of a job: its cut pieces, none where a failed proof leaves nothing to cut.

    An error in the proof says which change it came in with. CannotDraft, naming that change, where a sound draft can't
    be finished.
    """
    try:
        cut, proof = _finish_and_prove(job, garment)
    except InputError:
        raise
    except DraftingError as error:
        telling(_TRACING)
        raise _without_room(job, error) from error
    if proof.passed:
        return cut, proof
    telling(_TRACING)
    return cut, _trace_causes(job, proof)


_TRACING = "looking for what the faults came in with"


def _finish_and_prove(job: Job, garment: Garment) -> tuple[tuple[CutPiece, ...], Proof]:
    """As ``finish_job``, with no word of causes; what is raised in finishing a sound draft is let through."""
    try:
        cut = finish(garment, job.finish)
    except DraftingError:
        proof = prove(garment, job.brief, None, job.checks, job.advise)
        if proof.passed:
            raise
        return (), proof
    return cut, prove(garment, job.brief, cut, job.checks, job.advise)


_UNFINISHED = "finish"


def _faults(job: Job, drafts: _Drafts) -> Faults:
    """What tells the codes of the errors in the proof of some of a job's steps, or that they can't be finished."""

    def faults(steps: Sequence[Planned]) -> frozenset[str] | None:
        try:
            garment = drafts.draft(steps)
        except DraftingError:
            return None
        try:
            cut, proof = _finish_and_prove(job, garment)
        except DraftingError:
            return frozenset({_UNFINISHED})
        codes = {finding.code for finding in proof.of(Severity.ERROR)}
        return frozenset(codes if cut else codes | {_UNFINISHED})

    return faults


def _trace_causes(job: Job, proof: Proof) -> Proof:
    """A failed proof whose errors say what they came in with."""
    errors = proof.of(Severity.ERROR)
    known = causes(job, {finding.code for finding in errors}, _faults(job, _Drafts(job)))
    said = {code: planned.cause for code, planned in known.items()}
    traced = tuple(replace(finding, since=said.get(finding.code, "")) for finding in errors)
    return replace(proof, findings=(*traced, *proof.findings[len(errors) :]))


def _without_room(job: Job, error: DraftingError) -> CannotDraft:
    """The refusal of the change that took the room for an allowance, or of the first block where there is none."""
    at = causes(job, {_UNFINISHED}, _faults(job, _Drafts(job))).get(_UNFINISHED, job.steps[0])
    refusal = _cannot_take(at, error.words, job)
    refusal.help = say("{help}; or give that seam a narrower allowance, under [seams]", help=refusal.help)
    return refusal


Faults = Callable[[Sequence[Planned]], Collection[str] | None]
"""Tells the codes of the faults of some of a job's steps; None where they can't be drafted: nothing is said of them."""

ONE_BY_ONE = 8
"""How many changes are left out one after another before what is left is halved."""


def causes(job: Job, codes: Collection[str], faults: Faults) -> Mapping[str, Planned]:
    """Return, by its code, the change that each fault came in with.

    The changes are left out one after another, the last taken first, and the whole garment is drafted and judged each
    time, so that bands and sleeves stand on what is there. A fault that is there without any change has no cause here:
    it lies in the blocks, the body or the cloth. Of many changes all but the last few are halved again and again, as
    if a fault that is there stayed whatever is added.
    """
    changes = [planned for planned in job.steps if not planned.is_block]
    known = {len(changes): frozenset(codes)}

    def there(code: str, kept: int) -> bool:
        if kept not in known:
            left_out = changes[kept:]
            told = faults([planned for planned in job.steps if all(planned is not each for each in left_out)])
            known[kept] = frozenset(codes if told is None else told)
        return code in known[kept]

    found = {code: _find_cause(len(changes), functools.partial(there, code)) for code in sorted(codes)}
    return {code: changes[number] for code, number in found.items() if number is not None}


def _find_cause(count: int, there: Callable[[int], bool]) -> int | None:
    """The number of the change, of so many, that a fault came in with, told whether it is there with the first few."""
    for kept in range(count - 1, max(-1, count - 1 - ONE_BY_ONE), -1):
        if not there(kept):
            return kept
    low, high = 0, count - ONE_BY_ONE
    if high <= 0 or there(low):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if there(middle) else (middle, high)
    return low
