"""The make-up order, derived: a run that passes from one piece to the next crosses the seam that joins the two."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import pairwise

from drafting.errors import DraftingError
from drafting.garment.model import Fate, Garment, Line, Run, Use
from drafting.garment.surface import same_corner
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Task:
    """A seam in its turn, and the seams its runs cross, which are sewn before it."""

    seam: str
    before: tuple[str, ...]


def _neighbour(garment: Garment, use: Use, at_end: bool) -> Line:
    """The other line of the ring at the end (or start) of a use, in the run's sense."""
    piece = garment.piece(use.piece)
    return piece.after(use.line) if at_end != use.against else piece.before(use.line)


class _Claims:
    """Which seams use which lines; local to one ordering."""

    def __init__(self, garment: Garment) -> None:
        self.of: dict[tuple[str, str], list[str]] = {}
        for seam in garment.seams:
            for use in seam.uses():
                names = self.of.setdefault((use.piece, use.line), [])
                if seam.name not in names:
                    names.append(seam.name)

    def between(self, a: tuple[str, str], b: tuple[str, str], own: str) -> tuple[str, ...]:
        """The other seams that hold both lines."""
        one, two = self.of.get(a, []), self.of.get(b, [])
        return tuple(n for n in one if n in two and n != own)


def _crossed(garment: Garment, claims: _Claims, own: str, u: Use, v: Use) -> tuple[str, ...]:
    """The seams crossed where a run passes from use u to use v."""
    after, before = _neighbour(garment, u, at_end=True), _neighbour(garment, v, at_end=False)
    if u.piece == v.piece and after.name == v.line:
        return ()
    return claims.between((u.piece, after.name), (v.piece, before.name), own)


def crossings(garment: Garment) -> Mapping[str, tuple[str, ...]]:
    """Return, for each seam, the seams that its runs cross."""
    claims = _Claims(garment)
    out: dict[str, dict[str, None]] = {seam.name: {} for seam in garment.seams}
    for seam in garment.seams:
        for run in seam.plies:
            for u, v in pairwise(run):
                out[seam.name].update(dict.fromkeys(_crossed(garment, claims, seam.name, u, v)))
    inside = {name: set(found) for name, found in out.items()}
    meets = same_corner(garment)
    for seam in garment.seams:
        for run in filter(None, seam.plies):
            if not meets(run[-1], run[0]):
                continue
            for name in _round(garment, claims, seam.name, run):
                if seam.name not in inside[name]:  # else that seam runs over this one: this one is open at its ends
                    out[seam.name][name] = None
    for name, binding in _taken_in(garment, meets, out):
        out[name][binding] = None
    return {name: tuple(found) for name, found in out.items()}


def _taken_in(
    garment: Garment, meets: Callable[[Use, Use], bool], crossed: Mapping[str, Mapping[str, None]]
) -> Iterator[tuple[str, str]]:
    """Pairs of a seam and a binding whose open end it takes in: that edge is bound first."""
    for binding in garment.seams:
        run = binding.plies[0]
        if not binding.binds or meets(run[-1], run[0]):
            continue
        ends = run[-1], run[0].reversed
        for seam in garment.seams:
            if seam is binding or seam.name in crossed[binding.name]:
                continue
            starts = (u for section in seam.sections for r in section.plies if r for u in (r[0], r[-1].reversed))
            if any(meets(end, start) for start in starts for end in ends):
                yield seam.name, binding.name


def _round(garment: Garment, claims: _Claims, own: str, run: Run) -> tuple[str, ...]:
    """The seams crossed where a run that goes right round comes back to its start."""
    first, last = run[0], run[-1]
    if first == last and len(run) == 1:
        piece = garment.piece(first.piece)
        a, b = piece.after(first.line).name, piece.before(first.line).name
        return claims.between((piece.name, a), (piece.name, b), own)
    return _crossed(garment, claims, own, last, first)


def make_up(garment: Garment) -> tuple[Task, ...]:
    """Return the seams in an order in which each comes after those that it crosses.

    Seams that are free to be sewn keep the garment's order. DraftingError if the seams cross each other in a ring,
    so that none of them could be first.
    """
    return garment.found(_made_up)


def _made_up(garment: Garment) -> tuple[Task, ...]:
    need = crossings(garment)
    waits = {name: set(found) for name, found in need.items()}
    left = [seam.name for seam in garment.seams]
    done: set[str] = set()
    out = []
    while left:
        ready = next((name for name in left if waits[name] <= done), None)
        if ready is None:
            raise DraftingError(f"these seams each need another sewn first: {', '.join(left)}")
        left.remove(ready)
        done.add(ready)
        out.append(Task(ready, need[ready]))
    return tuple(out)


def rank(garment: Garment) -> Mapping[str, int]:
    """Return each seam's place in the make-up order, from 0."""
    return {task.seam: i for i, task in enumerate(make_up(garment))}


def turned_edges(garment: Garment) -> tuple[Use, ...]:
    """Return the edges that are turned up as hems, which is done after all seams."""
    return tuple(
        Use(piece.name, line.name) for piece in garment.pieces for line in piece.ring if line.fate is Fate.HEMMED
    )
