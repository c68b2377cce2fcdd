"""Every edge followed through the steps of the work to the state in which it ends, and every step asked if it can be.

No edge may end raw, no layer show its wrong side; what is turned is turned while it can still be drawn through, and
nothing is sewn that lies enclosed already. Told by what seams and steps say of themselves, never by their names.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import StrEnum

from drafting.garment import Fate, Garment, Line, Role, Seam, overedges
from drafting.garment.deeds import BOUND, ENCLOSED, STRIP_FOLDED, EdgeEnd, WhichEdges
from drafting.record import dataclass
from drafting.work.order import make_up, seams_beside_hem
from drafting.work.sewing import WorkStep
from drafting.work.telling import is_knit

EdgeKey = tuple[str, str]
"""A piece and one of its lines, by their names."""

Settled = Mapping[EdgeKey, Sequence[tuple[int, EdgeEnd]]]
"""What became of each edge: in which step, and how."""

_HIDDEN = (EdgeEnd.ENCLOSED, EdgeEnd.BOUND, EdgeEnd.FOLDED)
"""The ends after which an edge can't be sewn any more."""


class FlawKind(StrEnum):
    """What is wrong with an order of work."""

    RAW = "raw"  # an edge ends as it was cut
    WRONG_SIDE = "wrong_side"  # a layer ends with its wrong side out
    UNTOLD = "untold"  # a seam is sewn in no step
    TOO_EARLY = "too_early"  # a seam is sewn before what it crosses
    ENCLOSED = "enclosed"  # a seam is sewn in an edge that lies enclosed
    UNTURNABLE = "unturnable"  # a layer can't be turned out any more
    HEM = "hem"  # a hem is turned before, or after, the seam at its end


@dataclass(frozen=True, slots=True)
class WorkFlaw:
    """One thing that is wrong: of which seam, or which line of which piece; ``step`` is its number, 0 where none is."""

    kind: FlawKind
    place: str
    step: int = 0
    other: str = ""


def find_flaws(garment: Garment, steps: Iterable[WorkStep]) -> Iterator[WorkFlaw]:
    """Yield what is wrong with the steps of a garment's work: nothing, where it can be sewn and ends clean."""
    taken = tuple(steps)
    sewn = _number_seams(garment, taken)
    settled = settle_edges(garment, taken)
    yield from _find_order_flaws(garment, sewn)
    yield from _find_hidden(garment, sewn, settled)
    yield from _find_unturnable(garment, sewn)
    yield from _find_hem_flaws(garment, sewn, settled)
    yield from _find_wrong_sides(garment, taken)
    yield from _find_raw(garment, sewn, settled)


def _needs(garment: Garment) -> Mapping[str, tuple[str, ...]]:
    return {task.seam: task.before for task in make_up(garment)}


def _number_seams(garment: Garment, steps: Iterable[WorkStep]) -> Mapping[str, int]:
    """The step in which each seam is sewn; what makes another ready is sewn with that."""
    sewn = {seam.name: step.number for step in steps for seam in step.seams}
    readied = dict[str, int]()
    for seam, before in _needs(garment).items():
        for name in before:
            if seam in sewn and garment.seam(name).kind.readies:
                readied[name] = min(sewn[seam], readied.get(name, sewn[seam]))
    return {**readied, **sewn}


def settle_edges(garment: Garment, steps: Iterable[WorkStep]) -> Settled:
    """Return what becomes of each edge in the steps, in their order."""
    out: dict[EdgeKey, list[tuple[int, EdgeEnd]]] = {}
    needs = _needs(garment)
    for step in steps:
        for key, end in _settle(garment, step, needs):
            out.setdefault(key, []).append((step.number, end))
    return out


def _settle(
    garment: Garment, step: WorkStep, needs: Mapping[str, tuple[str, ...]]
) -> Iterator[tuple[EdgeKey, EdgeEnd]]:
    """What one step settles: by its seams' stitch, by what it tells, and by what that encloses."""
    worked = (*step.seams, *step.turned)
    made_ready = [garment.seam(n) for s in worked for n in needs.get(s.name, ()) if garment.seam(n).kind.readies]
    for seam in (*step.seams, *made_ready):
        if overedges(seam.stitch):
            yield from ((key, EdgeEnd.NEATENED) for key in _keys(seam))
    for effect in step.said.effects:
        yield from ((key, effect.end) for key in _edges_meant(garment, step, effect.edges))
    if {ENCLOSED, BOUND, STRIP_FOLDED} & set(step.said.effects):
        yield from ((key, EdgeEnd.ENCLOSED) for seam in made_ready for key in _keys(seam))


def _keys(seam: Seam) -> Iterator[EdgeKey]:
    return ((use.piece, use.line) for use in seam.uses())


def _edges_meant(garment: Garment, step: WorkStep, edges: WhichEdges) -> Iterator[EdgeKey]:
    """The edges of a step that an effect means."""
    if edges is WhichEdges.SEAM:
        yield from (key for seam in (*step.seams, *step.turned) for key in _keys(seam))
    elif edges is WhichEdges.TURNED:
        yield from ((use.piece, use.line) for use in step.edges)
    else:
        held = {key for seam in garment.seams for key in _keys(seam)}
        sewn_on = (use.piece for seam in step.seams or step.turned for use in seam.plies[-1])
        strips = dict.fromkeys(sewn_on) or dict.fromkeys(use.piece for seam in step.ready for use in seam.uses())
        for name in strips:
            for line in garment.piece(name).ring:
                if (name, line.name) not in held and (line.role is Role.END) == (edges is WhichEdges.ENDS):
                    yield name, line.name


def _find_order_flaws(garment: Garment, sewn: Mapping[str, int]) -> Iterator[WorkFlaw]:
    """Each seam is sewn, after those that its edges cross."""
    for name, before in _needs(garment).items():
        if name not in sewn:
            yield WorkFlaw(FlawKind.UNTOLD, name)
            continue
        for other in before:
            if sewn.get(other, 0) > sewn[name]:
                yield WorkFlaw(FlawKind.TOO_EARLY, name, sewn[name], other)


def _find_hidden(garment: Garment, sewn: Mapping[str, int], settled: Settled) -> Iterator[WorkFlaw]:
    """No edge is sewn that lies enclosed, bound or turned up already."""
    for seam in garment.seams:
        at = sewn.get(seam.name, 0)
        if any(step < at and end in _HIDDEN for key in _keys(seam) for step, end in settled.get(key, ())):
            yield WorkFlaw(FlawKind.ENCLOSED, seam.name, at)


def _find_unturnable(garment: Garment, sewn: Mapping[str, int]) -> Iterator[WorkFlaw]:
    for seam in garment.seams:
        if seam.kind.lay.turned and seam.name in sewn:
            at = sewn[seam.name]
            before = [each for each in garment.seams if each is not seam and 0 < sewn.get(each.name, 0) < at]
            if not can_be_turned(garment, seam, before):
                yield WorkFlaw(FlawKind.UNTURNABLE, seam.name, sewn[seam.name])


def can_be_turned(garment: Garment, seam: Seam, before: Sequence[Seam]) -> bool:
    """Whether the last ply of a seam can be turned over its edge once others are sewn.

    It can while no other seam holds it to what it is sewn to. Where one does, the two make a tube, as a strap faced at
    neck and armhole is: that is turned through itself, as long as what lies beyond its crossing seam is loose there.
    """
    under, over = ({use.piece for use in seam.plies[i]} for i in (0, -1))
    if not _reach(over, before) & under or (seam.kind.within and _ends_loose(garment, seam, before)):
        return True
    plain = [each for each in before if not {use.piece for use in each.uses()} & _reach_alone(over, before, under)]
    crossed = [each for each in plain if each.name in _needs(garment)[seam.name]]
    return bool(crossed) and all(_is_bridge(each, plain) for each in crossed)


def _ends_loose(garment: Garment, seam: Seam, before: Sequence[Seam]) -> bool:
    """Whether a seam ends at edges that nothing holds yet: what is rolled up between its plies is pulled out there."""
    first, last = seam.plies[0][0], seam.plies[0][-1]
    one, two = garment.piece(first.piece), garment.piece(last.piece)
    beside = (
        (one.name, (one.after if first.against else one.before)(first.line).name),
        (two.name, (two.before if last.against else two.after)(last.line).name),
    )
    return not {*beside} & {key for each in before for key in _keys(each)}


def _reach(pieces: set[str], seams: Sequence[Seam]) -> set[str]:
    """The pieces that some are joined to, and they themselves."""
    found, more = set(pieces), True
    while more:
        reached = [{u.piece for u in seam.uses()} for seam in seams]
        new = set().union(*(group for group in reached if group & found)) - found
        found |= new
        more = bool(new)
    return found


def _reach_alone(pieces: set[str], seams: Sequence[Seam], without: set[str]) -> set[str]:
    """The pieces that some are joined to by seams that hold none of others."""
    return _reach(pieces, [seam for seam in seams if not {u.piece for u in seam.uses()} & without])


def _is_bridge(seam: Seam, seams: Sequence[Seam]) -> bool:
    """Whether nothing but a seam joins its two plies."""
    one, two = ({use.piece for use in run} for run in seam.plies[:2])
    return not _reach(one, [each for each in seams if each is not seam]) & two


def _find_hem_flaws(garment: Garment, sewn: Mapping[str, int], settled: Settled) -> Iterator[WorkFlaw]:
    """A hem is turned after the seams that it crosses, and before those that take in its ends."""
    for use, seam, past in seams_beside_hem(garment):
        turned = [step for step, end in settled.get((use.piece, use.line), ()) if end is EdgeEnd.FOLDED]
        at = sewn.get(seam, 0)
        if turned and at and (at < turned[0] if past else at > turned[0]):
            yield WorkFlaw(FlawKind.HEM, f"{use.piece}.{use.line}", turned[0], seam)


def _find_wrong_sides(garment: Garment, steps: Sequence[WorkStep]) -> Iterator[WorkFlaw]:
    """What is to be turned is turned, and shows its right side then; what hangs, hangs outside."""
    enclosing = [step for step in steps if ENCLOSED in step.said.effects]
    turned = {seam.name for step in enclosing for seam in (*step.seams, *step.turned)}
    for step in steps:
        for seam in step.seams:
            lay = seam.kind.lay
            if len(seam.plies) < 2:
                continue
            hidden = lay.inside and bool(seam.hangs)
            if lay.shows_wrong or hidden or (lay.turned and seam.name not in turned):
                yield WorkFlaw(FlawKind.WRONG_SIDE, seam.name, step.number)


def _find_raw(garment: Garment, sewn: Mapping[str, int], settled: Settled) -> Iterator[WorkFlaw]:
    """The edges that end as they were cut, though nobody asked for that."""
    held = {key: seam for seam in garment.seams for key in _keys(seam)}
    faced = {use.piece for seam in garment.seams if seam.kind.lay.inside for use in seam.plies[-1]}
    caught = set(_find_caught(garment, sewn))
    knit = is_knit(garment)
    for piece in garment.pieces:
        for line in piece.ring:
            key = piece.name, line.name
            ends = {end for _, end in settled.get(key, ())}
            if EdgeEnd.CAUGHT in ends and piece.name not in caught:
                ends.discard(EdgeEnd.CAUGHT)
            if line.role is not Role.DART and not _is_settled(line, ends, knit, piece.name in faced, key in held):
                yield WorkFlaw(FlawKind.RAW, f"{piece.name}.{line.name}", 0, held[key].name if key in held else "")


def _is_settled(line: Line, ends: set[EdgeEnd], knit: bool, faced: bool, sewn: bool) -> bool:
    """Whether an edge ends as what it is to become; a knit doesn't fray where it lies inside."""
    if line.fate is Fate.RAW:
        return knit or not faced or EdgeEnd.NEATENED in ends
    if line.fate is Fate.HEMMED:
        return EdgeEnd.FOLDED in ends and (knit or EdgeEnd.NEATENED in ends)
    if line.fate is Fate.FOLDED:
        return EdgeEnd.FOLDED in ends
    if line.fate is Fate.BOUND:
        return EdgeEnd.BOUND in ends
    return bool(ends) or (knit and sewn)


def _find_caught(garment: Garment, sewn: Mapping[str, int]) -> Iterator[str]:
    """The strips whose open ends a seam takes in that is sewn after them."""
    for name, before in _needs(garment).items():
        for other in before:
            if sewn.get(name, 0) > sewn.get(other, 0):
                yield from (use.piece for use in garment.seam(other).plies[-1])
