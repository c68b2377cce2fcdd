"""The make-up order, derived: a run that passes from one piece to the next crosses the seam that joins the two."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import combinations, pairwise
from types import MappingProxyType

from drafting.errors import DraftingError
from drafting.garment import Role
from drafting.garment.applied import find_faces, find_piece_laid
from drafting.garment.model import Fate, Garment, Line, Piece
from drafting.garment.seam import MIDDLE_TURN, Run, Seam, Use
from drafting.garment.surface import same_corner
from drafting.record import dataclass
from drafting.work.telling import is_centre


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


def _seams_crossed(garment: Garment, claims: _Claims, own: str, u: Use, v: Use) -> tuple[str, ...]:
    """The seams crossed where a run passes from use u to use v."""
    after, before = _neighbour(garment, u, at_end=True), _neighbour(garment, v, at_end=False)
    if u.piece == v.piece and after.name == v.line:
        return ()
    return claims.between((u.piece, after.name), (v.piece, before.name), own)


def crossings(garment: Garment) -> Mapping[str, tuple[str, ...]]:
    """Return, for each seam, the seams that its runs cross, or that a hem crosses whose ends it takes in."""
    claims = _Claims(garment)
    out: dict[str, dict[str, None]] = {seam.name: {} for seam in garment.seams}
    for seam in garment.seams:
        for run in seam.plies:
            for u, v in pairwise(run):
                out[seam.name].update(dict.fromkeys(_seams_crossed(garment, claims, seam.name, u, v)))
    inside = {name: set(found) for name, found in out.items()}
    meets = same_corner(garment)
    for seam in garment.seams:
        for run in filter(None, seam.plies):
            if not meets(run[-1], run[0]):
                continue
            for name in _seams_round(garment, claims, seam.name, run):
                if seam.name not in inside[name]:  # else that seam runs over this one: this one is open at its ends
                    out[seam.name][name] = None
    for name, binding in _ends_taken_in(garment, meets, out):
        out[name][binding] = None
    for name, before in _finished_before(garment):
        if name not in out[before]:
            out[name][before] = None
    for name, hem in caught_hems(garment).items():
        crossed = (seam for use in hem for seam, past in _at_ends(garment, claims, use) if not past)
        out[name].update(dict.fromkeys(seam for seam in crossed if seam != name))
    return {name: tuple(found) for name, found in out.items()}


def _finished_before(garment: Garment) -> Iterator[tuple[str, str]]:
    """Pairs of a seam that sews an applied piece down, and one that is sewn before: on that piece, or beneath it.

    Beneath it are the seams that join the faces it lies on to each other; what else takes in several of them, as a
    sleeve does, comes after, for the face is flat until then.
    """
    laid = [(seam.name, find_piece_laid(garment, seam)) for seam in garment.seams]
    for name, piece in laid:
        if not piece:
            continue
        faces = find_faces(garment)[piece]
        for seam in garment.seams:
            held = any(use.piece == piece for use in seam.uses())
            if seam.name != name and (held or _joins_two(seam, faces)):
                yield name, seam.name


def _joins_two(seam: Seam, names: tuple[str, ...]) -> bool:
    """Whether a seam joins two of some pieces to each other."""
    return any(
        len({u.piece for run in (one, two) for u in run if u.piece in names}) > 1
        for section in seam.sections
        for one, two in combinations(section.plies, 2)
        if all(any(use.piece in names for use in run) for run in (one, two))
    )


def _ends_taken_in(
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


def _seams_round(garment: Garment, claims: _Claims, own: str, run: Run) -> tuple[str, ...]:
    """The seams crossed where a run that goes right round comes back to its start."""
    first, last = run[0], run[-1]
    if first == last and len(run) == 1:
        piece = garment.piece(first.piece)
        a, b = piece.after(first.line).name, piece.before(first.line).name
        return claims.between((piece.name, a), (piece.name, b), own)
    return _seams_crossed(garment, claims, own, last, first)


def make_up(garment: Garment) -> tuple[Task, ...]:
    """Return the seams in an order in which each comes after those that it crosses.

    Of the seams that are free to be sewn, the one whose kind is usually sewn first is next (`usual_turns`), then the
    first the garment lists; what ends beside a closure waits for it if it can. DraftingError if the seams cross each
    other in a ring, so that none of them could be first.
    """
    return garment.find_once(_make_tasks)


def _make_tasks(garment: Garment) -> tuple[Task, ...]:
    need = crossings(garment)
    turns, beside = usual_turns(garment, need), _beside_closures(garment)
    waits = {name: set(found) for name, found in need.items()}
    left = [seam.name for seam in garment.seams]
    done: set[str] = set()
    out = []
    while left:
        free = [name for name in left if waits[name] <= done]
        if not free:
            raise DraftingError(f"these seams each need another sewn first: {', '.join(left)}")
        ready = min([name for name in free if beside.get(name, done) <= done] or free, key=turns.__getitem__)
        left.remove(ready)
        done.add(ready)
        out.append(Task(ready, need[ready]))
    return tuple(out)


def _beside_closures(garment: Garment) -> Mapping[str, set[str]]:
    """What waits beside a closure, if it can: itself for the rest of its seam, a facing or waistband for it.

    The ends of what finishes the edge are turned in beside the zip. A layer within is turned in while the centre is
    open all along: for that wait the closure and the rest of its seam.
    """
    runs = [(seam, seam.plies[0]) for seam in garment.seams if seam.kind.closes]
    if not runs:
        return {}
    meets = same_corner(garment)
    tips = {closure.name: (run[0], run[-1].reversed) for closure, run in runs}
    out = {closure.name: _seams_parted(garment, run) for closure, run in runs}
    for seam in garment.seams:
        if seam.kind.beside:
            ends = seam.plies[0][-1], seam.plies[0][0].reversed
            out[seam.name] = {name for name, uses in tips.items() if any(meets(e, u) for u in uses for e in ends)}
    for closure, run in runs:
        turned = set(_find_turned(garment, run))
        for name in (closure.name, *_seams_parted(garment, run)):
            out[name] = out.get(name, set()) | turned
    return out


def _find_turned(garment: Garment, run: Run) -> Iterator[str]:
    """The seams of the layers within that end at an opened centre."""
    if garment.line(run[0]).role is Role.CENTRE:
        meets, ends = same_corner(garment), {use.piece for use in run}
        within = [seam for seam in garment.seams if seam.kind.within]
        tips = [end for seam in within for end in (seam.plies[0][0].reversed, seam.plies[0][-1])]
        if any(meets(tip, run[0]) for tip in tips if tip.piece in ends):
            yield from (seam.name for seam in within)


def _seams_parted(garment: Garment, run: Run) -> set[str]:
    """The seams of the lines that an opened edge was parted from."""
    older = {(use.piece, name) for use in run for name in garment.line(use).ancestry}
    return {
        seam.name
        for seam in garment.seams
        if not seam.kind.closes
        and any((use.piece, name) in older for use in seam.uses() for name in garment.line(use).ancestry)
    }


def rank(garment: Garment) -> Mapping[str, int]:
    """Return each seam's place in the make-up order, from 0."""
    return {task.seam: i for i, task in enumerate(make_up(garment))}


def turned_edges(garment: Garment) -> tuple[Use, ...]:
    """Return the edges that are turned up as hems: after all seams, unless a seam takes in their ends.

    Those of an applied piece are turned before it is sewn on (`hems_before_laid`).
    """
    applied = find_faces(garment)
    return tuple(use for piece in garment.pieces if piece.name not in applied for use in _hems_of(piece))


def hems_before_laid(garment: Garment, seams: Iterable[Seam]) -> Run:
    """Return the hems of the applied pieces that some seams sew down: they are turned before."""
    laid = filter(None, (find_piece_laid(garment, seam) for seam in seams))
    return tuple(use for name in laid for use in _hems_of(garment.piece(name)))


def _hems_of(piece: Piece) -> Run:
    return tuple(Use(piece.name, line.name) for line in piece.ring if line.fate is Fate.HEMMED)


def caught_hems(garment: Garment) -> Mapping[str, Run]:
    """Return, for each seam that takes in ends of a hem and runs on past them, the whole hem: it is turned up before.

    So hangs an overlay that is caught in a side seam: its hem couldn't be turned any more at its ends.
    """
    return garment.find_once(_caught_hems)


def _caught_hems(garment: Garment) -> Mapping[str, Run]:
    broken = [seam for seam in garment.seams if any(not run for section in seam.sections for run in section.plies)]
    if not broken:
        return {}
    claims, turned = _Claims(garment), turned_edges(garment)
    out: dict[str, Run] = {}
    for use in turned:
        for name, past in _at_ends(garment, claims, use):
            if past and name not in out:
                hem = garment.line(use).opening
                out[name] = tuple(u for u in turned if u == use or (hem and garment.line(u).opening == hem))
    return out


def seams_beside_hem(garment: Garment) -> Iterator[tuple[Use, str, bool]]:
    """Yield each hem with each seam at its ends, and whether that runs on past it, so that it takes in the end."""
    claims = _Claims(garment)
    yield from ((use, *found) for use in turned_edges(garment) for found in _at_ends(garment, claims, use))


def _at_ends(garment: Garment, claims: _Claims, hem: Use) -> Iterator[tuple[str, bool]]:
    """The seams of the lines beside a hemmed edge, and whether each runs on past the hem's end."""
    piece = garment.piece(hem.piece)
    for line, at_start in ((piece.after(hem.line), True), (piece.before(hem.line), False)):
        for name in claims.of.get((piece.name, line.name), []):
            yield name, _runs_past(garment.seam(name), piece.name, line.name, at_start)


def _runs_past(seam: Seam, piece: str, line: str, at_start: bool) -> bool:
    """Whether a seam has a stretch without the ply of a line beyond that line's start (or end)."""
    for ply in range(len(seam.sections[0].plies)):
        runs = [section.plies[ply] for section in seam.sections]
        for i, run in enumerate(runs):
            for use in run:
                if (use.piece, use.line) == (piece, line):
                    begins = at_start != use.against
                    beyond = runs[:i] if begins else runs[i + 1 :]
                    is_last = use == (run[0] if begins else run[-1])
                    return bool(is_last and beyond) and not any(beyond)
    return False


_FINISHES: Mapping[Role, int] = MappingProxyType({Role.NECKLINE: 5, Role.ARMHOLE: 8, Role.WAIST: 10, Role.WRIST: 11})
_CENTRE = 2


def usual_turns(garment: Garment, needs: Mapping[str, tuple[str, ...]]) -> Mapping[str, int]:
    """Return each seam's usual turn among those that are free, lower first; ``needs`` are those each must wait for.

    Common practice: darts and the seams within front and back first, while they lie flat; then a centre seam and what
    closes it; shoulders and the neck's finish; sides; sleeves, armhole finishes; the waist; cuffs, bands at the ends.
    Sleeves set in flat come before the sides by what they cross, not by this rank. Each kind states its turn.
    What makes a band or facing ready (the seam of its ends, its mitres) has its turn.
    """
    turns = {seam.name: _turn_of(garment, seam) for seam in garment.seams}
    for seam in garment.seams:
        if seam.kind.readies:
            readied = [turns[name] for name, before in needs.items() if seam.name in before]
            turns[seam.name] = min(readied, default=MIDDLE_TURN)
    return turns


def _turn_of(garment: Garment, seam: Seam) -> int:
    """The turn of a seam by its kind; of what finishes an edge, by what edge it is."""
    run = seam.plies[0]
    if seam.kind.within:
        return _FINISHES[Role.NECKLINE]  # its armholes too: the sides are open for all of it
    if seam.kind.by_edge and run:
        turn = _FINISHES.get(garment.line(run[0]).role)
        if turn is not None:
            return turn
    return _CENTRE if is_centre(garment, seam) else seam.kind.turn
