"""The order of work in steps: the seams in their turn, pairs and what belongs together told as one, hems in between."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from drafting.garment import (
    Garment,
    Group,
    Instruction,
    Role,
    Run,
    Seam,
    Side,
    Telling,
    Told,
    Use,
    find_faces,
    find_piece_laid,
)
from drafting.garment.deeds import ENDS_ENCLOSED, Handling
from drafting.record import dataclass
from drafting.saying import Words, say, specify
from drafting.trade import TradeValue
from drafting.units import Unit
from drafting.work import Task, caught_hems, hems_before_laid, turned_edges
from drafting.work.fastening import buttons_words, hook_words, strip_words
from drafting.work.hemming import (
    applied_hem_words,
    find_stay_stitched,
    hem_words,
    stay_stitch_words,
)
from drafting.work.lining import lining_words
from drafting.work.meeting import Letters, meeting_words, pieces_words
from drafting.work.taping import tape_words
from drafting.work.telling import blaming

NEAR_TOP: Final = TradeValue(20.0, "mm", "from memory")
"""Below the upper end of an opening as far as an edge's end still counts as there."""

NO_DEPTHS: Mapping[str, float] = MappingProxyType({})
"""Of hems that aren't known yet."""


@dataclass(frozen=True, slots=True)
class WorkStep:
    """One step of the work: its number, what meets in it, what is done, and what of the garment it is about.

    ``seams`` are those sewn in it; ``ready`` those that make the first of them ready, or, where none is sewn in it,
    those that it makes its pieces ready for. ``edges`` are the edges that are turned up; a step at the start or the end
    of the work may have none of these. ``turned`` are seams sewn before, of what is turned to the inside in it.
    ``taped`` where stays are put on; ``ends`` are those of a facing that are turned under beside a closure.
    """

    number: int
    said: Instruction
    meets: tuple[str, ...] = ()
    seams: tuple[Seam, ...] = ()
    ready: tuple[Seam, ...] = ()
    edges: Run = ()
    taped: bool = False
    turned: tuple[Seam, ...] = ()
    ends: Run = ()

    def __str__(self) -> str:
        """Return it as one paragraph, without its number."""
        meets = "; ".join(self.meets)
        return " ".join(filter(None, (f"{self.said.title}:", meets and f"{meets}.", *self.said.sentences)))


def steps_of_work(
    order: Iterable[Task],
    garment: Garment,
    unit: Unit,
    letters: Letters | None = None,
    depths: Mapping[str, float] = NO_DEPTHS,
) -> tuple[WorkStep, ...]:
    """Return the steps: stays first, hems last, but a hem whose ends a seam takes in before that seam; then buttons.

    ``letters`` are those of the paper, by the names of the net pieces; without them no step says what meets.
    ``depths`` are those of the hems (mm), by their openings; without them no step tells any.
    """
    tasks = pair_tasks(order, garment)
    unknown = _NoNumbers()
    first = tuple(_steps(tasks, garment, unit, letters or {}, unknown, depths))
    if not unknown.asked:
        return first
    numbers = {seam.name: step.number for step in first for seam in (*step.ready, *step.seams)}
    return tuple(_steps(tasks, garment, unit, letters or {}, numbers, depths))


class _NoNumbers(Mapping[str, int]):
    """The numbers of later steps while they aren't known yet, and whether any step asked for one."""

    asked = False

    def __getitem__(self, seam: str) -> int:
        self.asked = True
        raise KeyError(seam)

    def __iter__(self) -> Iterator[str]:
        self.asked = True
        return iter(())

    def __len__(self) -> int:
        self.asked = True
        return 0


def _steps(
    tasks: list[Task],
    garment: Garment,
    unit: Unit,
    letters: Letters,
    numbers: Mapping[str, int],
    depths: Mapping[str, float],
) -> Iterator[WorkStep]:
    """The steps, told as they are when so much is known of the numbers of later ones."""
    taped = tuple(tape_words(garment, unit))
    for number, said in enumerate(taped, 1):
        yield WorkStep(number, said, taped=True)
    for number, (said, group, edges) in enumerate(
        _told_steps(tasks, garment, unit, letters, numbers, depths), len(taped) + 1
    ):
        meets = meeting_words(garment, group.seams, letters) if group else ()
        if group and group.seams and (laid := find_piece_laid(garment, group.seams[0])):
            meets = pieces_words(garment, (laid, *find_faces(garment)[laid]), letters)
        making = (*group.ready, *group.turned) if group and not group.seams else ()
        ends = find_facing_ends(garment, group.turned) if group and ENDS_ENCLOSED in said.effects else ()
        alone = (
            use.piece
            for use in ends
            or (*edges, *_handled_edges(garment, said), *(use for seam in making for use in _uses_made(seam, group)))
        )
        meets = meets or pieces_words(garment, dict.fromkeys(alone), letters)
        seams, ready, turned = (group.seams, group.ready, group.turned) if group else ((), (), ())
        yield WorkStep(number, said, meets, seams, ready, edges, turned=turned, ends=ends)


def _told_steps(
    tasks: list[Task],
    garment: Garment,
    unit: Unit,
    letters: Letters,
    numbers: Mapping[str, int],
    depths: Mapping[str, float],
) -> Iterator[tuple[Instruction, Group | None, Run]]:
    """What is told in each step, with the seams or the edges that it is about."""
    full: dict[str, Words] = {}
    telling = Telling(garment, unit, {task.seam: task.before for task in tasks}, full, numbers, letters)
    yield from ((said, None, ()) for said in (*lining_words(garment), *stay_stitch_words(garment)))
    caught = caught_hems(garment)
    turned, within = set[Use](), list[Seam]()
    for group in group_tasks(tasks, garment, telling):
        for seam in group.seams:
            hem = tuple(use for use in caught.get(seam.name, ()) if use not in turned)
            if hem:
                turned.update(hem)
                now = hem_words(garment, hem, depths, unit, ", now, before a seam takes in its ends")
                yield from ((said, None, edges) for said, edges in now)
        before = hems_before_laid(garment, group.seams)
        yield from ((said, None, before) for said in applied_hem_words(garment, before, depths, unit))
        told = _tell(telling, group)
        *making, sewing = told.steps
        yield from ((said, replace(group, seams=(), ready=group.seams), ()) for said in making)
        yield sewing, group, ()
        within += [seam for seam in group.seams if seam.kind.within]
        for said in told.after:
            yield said, replace(group, seams=(), ready=(), turned=tuple(within)), ()
        if told.form:
            full.setdefault(told.form, group.said)
    last = tuple(use for use in turned_edges(garment) if use not in turned)
    yield from ((said, None, edges) for said, edges in hem_words(garment, last, depths, unit))
    yield from (
        (said, None, ()) for said in (*hook_words(garment), *strip_words(garment, unit), *buttons_words(garment, unit))
    )


def _handled_edges(garment: Garment, said: Instruction) -> Iterator[Use]:
    """The edges that a step is about which sews no seam and turns nothing up."""
    for handling in said.handled:
        if handling is Handling.STAY_STITCHED:
            yield from find_stay_stitched(garment)
        elif handling in (Handling.STRIP_BEHIND, Handling.HOOKED, Handling.BUTTONED):
            closed = [use for seam in garment.seams if seam.kind.closes for use in seam.uses()]
            yield from _uppermost(garment, closed) if handling is Handling.HOOKED else closed
            if handling is not Handling.BUTTONED:
                yield from find_facing_ends(garment, (seam for seam in garment.seams if seam.kind.lay.inside))


def _uppermost(garment: Garment, uses: Sequence[Use]) -> Iterator[Use]:
    """Those of an opening's edges that reach its upper end, where its hook is."""
    tops = [max(path.start.y, path.end.y) for path in (garment.line(use).path for use in uses)]
    yield from (use for use, top in zip(uses, tops, strict=True) if top > max(tops) - NEAR_TOP)


def _uses_made(seam: Seam, group: Group | None) -> Run:
    """What a step is about that makes a seam ready, the last ply, or that turns it in, all of it."""
    return tuple(seam.uses()) if group and seam in group.turned else seam.plies[-1]


def find_facing_ends(garment: Garment, turned: Iterable[Seam]) -> Run:
    """Return the ends of a facing at an opening that closes, of the seams that sew it on."""
    names = dict.fromkeys(use.piece for seam in turned for use in seam.plies[-1])
    lines = ((name, line) for name in names for line in garment.piece(name).ring)
    return tuple(Use(name, line.name) for name, line in lines if line.role is Role.END and line.opening)


def pair_tasks(order: Iterable[Task], garment: Garment) -> list[Task]:
    """Bring the other side's like seam up beside each seam where nothing it crosses is still unsewn."""
    left, done, out = list(order), set[str](), list[Task]()
    while left:
        task = left.pop(0)
        both = garment.seam(task.seam).of_both
        mate = next((t for t in left if garment.seam(t.seam).of_both == both), None)
        out.append(task)
        done.add(task.seam)
        if mate is not None and set(mate.before) <= done:
            left.remove(mate)
            out.append(mate)
            done.add(mate.seam)
    return out


def group_tasks(order: Iterable[Task], garment: Garment, telling: Telling) -> Iterator[Group]:
    """Group what is told in one step: darts that follow each other, a closure's edges, a band with its ends, pairs."""
    tasks = list(order)
    readying = {seam.name for seam in garment.seams if seam.kind.readies}
    ready = {t.seam: tuple(n for n in t.before if n in readying) for t in tasks if t.seam not in readying}
    readied = {name for names in ready.values() for name in names}
    waiting = [garment.seam(task.seam) for task in tasks if task.seam not in readied]
    while waiting:
        seam = waiting.pop(0)
        if seam.kind.together:
            seams = [seam, *_same_step(seam, waiting)]
            del waiting[: len(seams) - 1]
            yield Group(tuple(seams), seam.title)
            continue
        alone = Group((seam,), seam.title, tuple(garment.seam(name) for name in ready[seam.name]))
        both = _group_both(alone, waiting[0], ready, garment, telling) if waiting else None
        if both is not None:
            waiting.pop(0)
        yield both or alone


def _tell(telling: Telling, group: Group) -> Told:
    """What the kind of a group's seams tells; whatever it raises names that kind, ValueError if it tells no step."""
    with blaming(group.seams[0]):
        told = group.seams[0].kind.tell(telling, group)
        if not told.steps or not all(said.title.strip() and said.sentences for said in told.steps):
            raise ValueError("it tells no step")
        return told


def _same_step(seam: Seam, waiting: Iterable[Seam]) -> Iterator[Seam]:
    """The darts, or the closure's other edge, that follow at once."""
    for other in waiting:
        if other.kind != seam.kind or (seam.kind.closes and other.name[:-1] != seam.name[:-1]):
            return
        yield other


def _group_both(
    one: Group, other: Seam, ready: dict[str, tuple[str, ...]], garment: Garment, telling: Telling
) -> Group | None:
    """One group and the seam after it, told as one, if that is the other side's like seam and all is said alike."""
    (seam,) = one.seams
    title = seam.of_both
    if title in (seam.title, "") or other.of_both != title:
        return None
    both = specify(say("{title:lower}", title=title), say("{one} and {other}", one=Side.LEFT, other=Side.RIGHT))
    first = Group((seam,), both, one.ready)
    second = Group((other,), both, tuple(garment.seam(name) for name in ready[other.name]))
    if _tell(telling, first).steps != _tell(telling, second).steps:
        return None
    return Group((seam, other), both, one.ready)
