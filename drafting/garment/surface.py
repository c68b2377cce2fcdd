"""The garment as a surface: the pieces glued along their seams, and the openings that are left.

Each seam is cut at every joint of every ply, so that a line may be sewn to several lines (a neck band to four
necklines). Each little edge then has at most one partner, and the openings are walked as loops of edges without one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from drafting.garment.applied import find_faces
from drafting.garment.lines import Role
from drafting.garment.model import Garment
from drafting.garment.seam import Run, Seam, Section, Use
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

_Edge = tuple[str, str, int]  # piece, line, the part's number along the line


@dataclass(frozen=True, slots=True)
class Opening:
    """A loop of unsewn lines, in walking order, each in its own ring direction.

    Where a closure runs from one opening right down to another, each is a part of one loop: all but the first of them
    are ``joined`` to it.
    """

    name: str
    run: Run
    hangs: bool = False
    joined: bool = False


@dataclass(frozen=True, slots=True)
class Surface:
    """What gluing gives: counts of corners, edges and faces, whether it is one piece, and turned one way.

    A piece counts as a face, less one for each slit in it (so much its Euler number is less than a disc's).

    ``strays`` names seams whose plies are glued right side to wrong side; ``loose`` names pieces that are not
    joined to the first one; ``twice`` names lines that two seams claim.
    """

    corners: int
    edges: int
    faces: int
    components: int
    openings: tuple[Opening, ...]
    strays: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    twice: tuple[str, ...] = ()

    @property
    def euler(self) -> int:
        """Corners less edges plus faces: 2 for a sphere, one less for each opening."""
        return self.corners - self.edges + self.faces

    @property
    def oriented(self) -> bool:
        """Whether every seam joins right side to right side."""
        return not self.strays


class _Classes:
    """A union-find over hashable things, local to one gluing."""

    def __init__(self) -> None:
        self._above: dict[object, object] = {}

    def find(self, x: object) -> object:
        above = self._above
        above.setdefault(x, x)
        while above[x] != x:
            above[x] = above[above[x]]
            x = above[x]
        return x

    def join(self, a: object, b: object) -> None:
        self._above[self.find(a)] = self.find(b)

    def count(self, among: Iterable[object]) -> int:
        return len({self.find(x) for x in among})


def hanging_pieces(garment: Garment) -> frozenset[str]:
    """Return the names of the pieces that hang from the surface (those used in a hanging ply)."""
    return garment.find_once(_find_hanging)


def _find_hanging(garment: Garment) -> frozenset[str]:
    return frozenset(
        use.piece for seam in garment.seams for section in seam.sections for i in seam.hangs for use in section.plies[i]
    )


def layers_within(garment: Garment) -> frozenset[str]:
    """Return the names of the pieces of a second layer inside, as a facing in one is."""
    return garment.find_once(_find_within)


def _find_within(garment: Garment) -> frozenset[str]:
    return frozenset(use.piece for seam in garment.seams if seam.kind.within for use in seam.plies[-1])


def joints(garment: Garment, run: Run) -> tuple[float, ...]:
    """Return the shares (0..1) of a run's length at which its lines begin and end."""
    lengths = [garment.line(use).path.length for use in run]
    whole = sum(lengths)
    at, out = 0.0, [0.0]
    for length in lengths:
        at += length
        out.append(at / whole)
    out[-1] = 1.0
    return tuple(out)


def all_joints(garment: Garment, section: Section, plies: Iterable[int]) -> tuple[float, ...]:
    """Return the shares at which any of the plies has a joint; shares nearer than the sewing tolerance are one."""
    runs = [section.plies[i] for i in plies if section.plies[i]]
    near = TOLERANCE.sewn_length / max(garment.run_length(runs[0]), TOLERANCE.sewn_length)
    out: list[float] = []
    for share in sorted({share for run in runs for share in joints(garment, run)}):
        if not out or share - out[-1] > near:
            out.append(share)
    out[-1] = 1.0
    return tuple(out)


def glue(garment: Garment) -> Surface:
    """Glue the pieces along their seams and walk what is left open."""
    return garment.find_once(_glue_pieces)


def _glue_pieces(garment: Garment) -> Surface:
    hanging, apart = hanging_pieces(garment), {*find_faces(garment), *layers_within(garment)}
    main = [p.name for p in garment.pieces if p.name not in hanging and p.name not in apart]
    surface = _glue(garment, frozenset(main))
    if not hanging:
        return surface
    under = _glue(garment, hanging)
    held = {u.piece for s in garment.seams for sec in s.sections for i in s.hangs for u in sec.plies[i]}
    loose = surface.loose + tuple(sorted(hanging - held))
    free = tuple(Opening(o.name, o.run, hangs=True, joined=o.joined) for o in under.openings)
    return Surface(
        surface.corners,
        surface.edges,
        surface.faces,
        surface.components,
        surface.openings + free,
        surface.strays + under.strays,
        loose,
        surface.twice + under.twice,
    )


def same_corner(garment: Garment) -> Callable[[Use, Use], bool]:
    """Return a test of whether the end of one use and the start of another are one point of the sewn garment."""
    return garment.find_once(_same_corner)


def _same_corner(garment: Garment) -> Callable[[Use, Use], bool]:
    classes = _Classes()

    def corner(use: Use, at_end: bool) -> tuple[str, str]:
        """The piece, and the line that starts at the corner."""
        piece = garment.piece(use.piece)
        return piece.name, piece.after(use.line).name if at_end != use.against else use.line

    for seam in garment.seams:
        for section in seam.sections:
            runs = [run for run in section.plies if run]
            for run in runs[1:]:
                classes.join(corner(run[0], False), corner(runs[0][0], False))
                classes.join(corner(run[-1], True), corner(runs[0][-1], True))
            for run in runs:
                for a, b in pairwise(run):
                    classes.join(corner(a, True), corner(b, False))
    return lambda a, b: classes.find(corner(a, True)) == classes.find(corner(b, False))


def openings(garment: Garment) -> tuple[Opening, ...]:
    """Return the openings of the garment, those of hanging layers last."""
    return glue(garment).openings


def is_free(garment: Garment, opening: Opening) -> bool:
    """Whether nothing finishes an opening yet: no band's, binding's, cuff's or facing's own edge lies along it.

    Nor is it sewn to a layer within.
    """
    held = {(use.piece, use.line) for seam in garment.seams if seam.kind.within for use in seam.plies[0]}
    return not any(garment.line(use).role is Role.EDGE or (use.piece, use.line) in held for use in opening.run)


def _surface_plies(seam: Seam, section: Section, names: frozenset[str]) -> list[int]:
    return [i for i, run in enumerate(section.plies) if run and all(use.piece in names for use in run)]


def _parts(
    garment: Garment, names: frozenset[str]
) -> tuple[dict[tuple[str, str], int], dict[_Edge, _Edge], list[str], list[str]]:
    """Cut the seams' lines at all joints.

    Returns how many parts each line has, each part's partner, stray seams, and lines used twice.
    """
    count: dict[tuple[str, str], int] = {}
    partner: dict[_Edge, _Edge] = {}
    strays: list[str] = []
    twice: list[str] = []
    for seam in garment.seams:
        for section in seam.sections:
            plies = _surface_plies(seam, section, names)
            if not plies:
                continue
            if all(len(section.plies[i]) == 1 for i in plies):  # one line to one line: nothing to cut
                sides = [[(section.plies[i][0], 0, 1)] for i in plies]
            else:
                cuts = all_joints(garment, section, plies)
                sides = [_ply_parts(garment, section.plies[i], cuts) for i in plies]
            for side in sides:
                for use, _, number in side:
                    key = (use.piece, use.line)
                    if count.get(key, number) != number:
                        twice.append(f"{use.piece}.{use.line}")
                    count[key] = number
            if len(sides) < 2:
                continue
            for (use, k, n), (mate, m, o) in zip(sides[0], sides[1], strict=True):
                a = (use.piece, use.line, n - 1 - k if use.against else k)
                b = (mate.piece, mate.line, o - 1 - m if mate.against else m)
                if a in partner or b in partner:
                    twice.append(f"{use.piece}.{use.line}")
                    continue  # a third partner would make the walk round the openings endless
                if use.against == mate.against:
                    strays.append(seam.name)
                partner[a], partner[b] = b, a
    return count, partner, strays, twice


def _ply_parts(garment: Garment, run: Run, cuts: tuple[float, ...]) -> list[tuple[Use, int, int]]:
    """Return for each stretch between cuts the use it lies in, its number along the use, and the use's count."""
    ends = joints(garment, run)
    owner = []
    for a, b in pairwise(cuts):
        middle = (a + b) / 2.0
        owner.append(next(i for i in range(len(run)) if middle < ends[i + 1] or i == len(run) - 1))
    totals = Counter(owner)
    seen: Counter[int] = Counter()
    out = []
    for i in owner:
        out.append((run[i], seen[i], totals[i]))
        seen[i] += 1
    return out


def _glue(garment: Garment, names: frozenset[str]) -> Surface:
    count, partner, strays, twice = _parts(garment, names)
    follows: dict[_Edge, _Edge] = {}
    order: list[_Edge] = []
    pieces = [p for p in garment.pieces if p.name in names]
    for piece in pieces:
        for loop in piece.loops:
            ring = [(piece.name, ln.name, k) for ln in loop for k in range(count.get((piece.name, ln.name), 1))]
            order.extend(ring)
            follows.update(zip(ring, ring[1:] + ring[:1], strict=True))
    corners, parts = _Classes(), _Classes()
    for edge in order:
        mate = partner.get(edge)
        if mate is not None:
            corners.join(edge, follows[mate])  # an edge stands for the corner it starts from
            parts.join(edge[0], mate[0])
    first = parts.find(pieces[0].name) if pieces else None
    return Surface(
        corners=corners.count(order),
        edges=len(order) - len(partner) // 2,
        faces=sum(1 - len(piece.slits) for piece in pieces),
        components=parts.count(p.name for p in pieces),
        openings=_walk(garment, order, follows, partner),
        strays=tuple(dict.fromkeys(strays)),
        loose=tuple(p.name for p in pieces if parts.find(p.name) != first),
        twice=tuple(dict.fromkeys(twice)),
    )


def _walk(
    garment: Garment, order: list[_Edge], follows: dict[_Edge, _Edge], partner: dict[_Edge, _Edge]
) -> tuple[Opening, ...]:
    seen: set[_Edge] = set()
    out: list[Opening] = []
    for start in order:
        if start in partner or start in seen:
            continue
        run: list[Use] = []
        edge = start
        while edge not in seen:
            seen.add(edge)
            use = Use(edge[0], edge[1])
            if not run or run[-1] != use:
                run.append(use)
            edge = follows[edge]
            while edge in partner:
                edge = follows[partner[edge]]
        out.extend(_part_loop(garment, run))
    return tuple(out)


def _part_loop(garment: Garment, run: list[Use]) -> Iterator[Opening]:
    """Yield the opening that a loop is, or, where a closure joins several that are meant, each of them."""
    names = Counter(garment.line(use).opening for use in run if garment.line(use).opening)
    meant = [name for name in names if name in garment.openings]
    if len(meant) < 2:
        yield Opening(names.most_common(1)[0][0] if names else "unnamed", tuple(run))
        return
    start = next(
        i for i, use in enumerate(run) if garment.line(use).opening not in ("", garment.line(run[i - 1]).opening)
    )
    parts: dict[str, list[Use]] = {}
    name = meant[0]
    for use in run[start:] + run[:start]:
        own = garment.line(use).opening
        name = own if own in meant else name
        parts.setdefault(name, []).append(use)
    yield from (Opening(name, tuple(uses), joined=i > 0) for i, (name, uses) in enumerate(parts.items()))
