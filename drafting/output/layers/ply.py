"""A ply where it lies, as layers of cloth: its edges bent along the seam, its allowances, the strips on its edges.

An edge has an allowance until it is sewn or finished: what was bound, turned up or sewn in an earlier step has none to
be seen any more, and a binding on it is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from types import MappingProxyType

import numpy as np

from drafting.garment import Fate, Garment, Line, Role, Run, Seam, Use
from drafting.garment.places import binding_width
from drafting.garment.surface import joints
from drafting.geometry import Affine
from drafting.output.layers.bending import BENT, bind_edge, follow_bent, join_lines, space_evenly
from drafting.output.layers.outlines import clip_half, find_corners, move_out
from drafting.output.layers.shut import shut_pieces
from drafting.output.layers.stitching import crosses_next, ends_at_stand, find_beyond, run_out, runs_across
from drafting.output.layers.unfold import (
    WHOLLY,
    Laid,
    courses_of,
    is_opened_out,
    join_courses,
    move_aside,
    sample_shares,
)
from drafting.output.layers.view import ClothLayer, Points
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.work.meeting import Letters
from drafting.work.sewing import WorkStep

RAW = TradeValue(10.0, "mm", "common practice")
"""Of allowance that is shown, whatever the ticket's."""

VENT_JUTS = 2.3
"""Times that allowance that a vent's edges are shown with: turned in as deep as a hem, they jut out below a seam."""

RAW_BESIDE_STRIP = 18.0
"""Of allowance that is shown where a strip is laid on (mm): its raw edges are stepped within it."""

STEPPED = 2.0 / 3.0, 1.0 / 3.0
"""Of the allowance that is shown, where each raw edge of a strip lies."""

MEETS_AT = 8.0
"""Between the ends of two plies, at most, that are sewn to one end (mm)."""

WRAPPED = 3.0
"""Times its finished width that a binding is wide as it is laid, less what is turned under: beside its stitching it
goes over the edge and down."""

SEEN_OPENED = 45.0
"""Of a facing that is opened out, what is shown from its end on (mm)."""

EdgeKey = tuple[str, str]
"""A piece and one of its lines, by their names."""


@dataclass(frozen=True, slots=True)
class WorkDone:
    """What is done before a step: the edges that are sewn or turned up, and the strip that binds some of them."""

    edges: frozenset[EdgeKey]
    strips: Mapping[EdgeKey, str]


NOTHING_DONE = WorkDone(frozenset(), MappingProxyType({}))


def list_done(steps: Iterable[WorkStep]) -> Mapping[int, WorkDone]:
    """Return what is done before each step, by its number."""
    edges, strips, out = set[EdgeKey](), dict[EdgeKey, str](), dict[int, WorkDone]()
    for step in steps:
        out[step.number] = WorkDone(frozenset(edges), dict(strips))
        edges |= {(use.piece, use.line) for use in (*step.edges, *(u for seam in step.seams for u in seam.uses()))}
        for seam in step.seams:
            if seam.binds:
                strips |= {(use.piece, use.line): seam.plies[-1][0].piece for use in seam.plies[0]}
    return out


@dataclass(frozen=True, slots=True)
class PlyLaid:
    """A ply where it lies: its run and its pieces, and whether they are turned over.

    ``strip`` is how wide a strip is that is bent along the seam; ``apart``: it is shown beside the seam; ``bent``: its
    edge is bent along it.
    """

    run: Run
    laid: Laid
    wrong: bool = False
    strip: float = 0.0
    apart: bool = False
    bent: bool = False


@dataclass(frozen=True, slots=True)
class PliesDrawn:
    """The plies of a seam from below up, and what must be known to draw them: the letters, what is done before.

    ``raw`` is how much of the allowances is shown (mm); 0 once the seam is sewn: then that of other edges is.
    """

    garment: Garment
    seam: Seam
    letters: Letters
    plies: Sequence[PlyLaid]
    done: WorkDone
    raw: float

    def layers(self, ply: PlyLaid, shift: int) -> Iterator[ClothLayer]:
        """Yield a ply's pieces as layers; a strip's along the course of the lowest ply."""
        if ply.strip:
            yield from self._strip(ply, shift)
            return
        for name in ply.laid:
            edges = self._edges(ply, name)
            points = move_out(*edges)
            other = next((p for p in self.plies if p is not ply and name in p.laid and p.run != ply.run), None)
            if other is not None:
                points = _half(self.garment, ply, other, name, points)
            for use in (use for use in ply.run[1:] if use.piece == name and is_opened_out(self.garment, use)):
                points = self._opened(ply, use, points)
            yield ClothLayer(points, self.letters.get(name, ""), ply.wrong, shift)
            yield from self._bindings(ply, name, shift, *edges)

    def _opened(self, ply: PlyLaid, use: Use, points: Points) -> Points:
        """What is seen of a facing that is opened out at its end: beyond the edge it is sewn to, and near its end."""
        (course,) = courses_of(self.garment, (use,), ply.laid)
        on = (course[-1] - course[0]) / np.hypot(*(course[-1] - course[0]))
        inward = np.array([-on[1], on[0]])
        inward *= np.sign((inward * (points.mean(axis=0) - course[0])).sum())
        return clip_half(clip_half(points, course[0], -on), course[0] + inward * SEEN_OPENED, inward)

    def stitched(self) -> Iterator[Points]:
        """Yield the courses of the stitching, along the lowest ply: a binding's as far from the edge as it is wide.

        It runs from raw edge to raw edge, but for an end at which it stops at a point.
        """
        base = self.plies[0]
        off = binding_width(self.garment.piece(self.seam.plies[-1][0].piece)) if self.seam.binds else 0.0
        for course in self.run_courses():
            yield move_aside(course, off * self.find_inward(base.run[0]))

    def run_courses(self) -> list[Points]:
        """Return the courses of the lowest ply's edges, run on to the raw edges at the ends of its run."""
        return join_courses(self._run_out())

    def _run_out(self) -> list[Points]:
        """The course of each use of the lowest ply, at the ends of its run as far as every layer goes there."""
        base = self.plies[0]
        found = list(courses_of(self.garment, base.run, base.laid))
        for at, at_end in ((0, False), (-1, True)):
            if runs_across(self.garment, self.seam, base.run[at], at_end):
                end, stand = found[at][at], ends_at_stand(self.garment, base.run[at], at_end)
                ending = ((base, base.run[at]),) if stand else self._ending_at(end)  # over the facing, to its fold
                rings = (self._raw_ring(ply, use.piece) for ply, use in ending)
                reached = [run_out(found[at], ring, not at_end, at_end) for ring in rings]
                gone = [course for course in reached if len(course) > len(found[at])]
                found[at] = min(gone, key=lambda course: math.dist(course[at], end), default=found[at])
        return found

    def _ending_at(self, end: Points) -> Iterator[tuple[PlyLaid, Use]]:
        """The plies that end where the lowest does, each with its use there: once sewn, the others lie beside it."""
        base, *others = self.plies
        for ply in (base, *(others if self.raw else ())):
            if ply.strip or ply.apart:
                continue
            for at in (0, -1):
                use = ply.run[at]
                lines = self.garment.piece(use.piece).ring
                i = [line.name for line in lines].index(use.line)
                course = self._courses(ply, use.piece)[i]
                if math.dist(course[0 if (at == 0) != use.against else -1], end) < MEETS_AT:
                    yield ply, use
                    break

    def _raw_ring(self, ply: PlyLaid, name: str) -> Points:
        """A piece's raw edge where it lies, the seam's own allowance with it: stitching runs within that."""
        courses, apart = self._edges(ply, name)
        sewn = {use.line for use in self.seam.uses() if use.piece == name}
        own = [RAW if line.name in sewn else 0.0 for line in self.garment.piece(name).ring]
        return move_out(courses, [off or raw for off, raw in zip(apart, own, strict=True)])

    def stops(self) -> Iterator[Points]:
        """Yield the ends of the stitching that lie at a point, the cloth going on beyond it."""
        base = self.plies[0]
        courses = list(courses_of(self.garment, base.run, base.laid))
        if math.dist(courses[0][0], courses[-1][-1]) < 1.0:
            return  # it goes right round, in one piece where it begins
        closing = {(u.piece, u.line) for each in self.garment.seams if each.kind.closes for u in each.uses()}
        for at, at_end in ((0, False), (-1, True)):
            use = base.run[at]
            ring = [line.name for line in self.garment.piece(use.piece).ring]
            apart = self._edges(base, use.piece)[1][ring.index(find_beyond(self.garment, use, at_end).name)]
            folded = (use.piece, find_beyond(self.garment, use, at_end).name) in closing
            if (apart or folded) and not runs_across(self.garment, self.seam, use, at_end):
                yield courses[at][[at if at_end else 0]]

    def find_inward(self, use: Use) -> float:
        """Return 1 where the cloth of the lowest ply lies to the left of a use's course, -1 where to the right."""
        return (-1.0 if use.against else 1.0) * (-1.0 if self.plies[0].laid[use.piece].flips else 1.0)

    def _strip(self, ply: PlyLaid, shift: int) -> Iterator[ClothLayer]:
        """A strip: as it is laid with its raw edge on the raw edge, a folded one double; or as it lies once sewn.

        It follows a curve, so that layers moved all one way would lie beside it: its raw edges are stepped instead.
        Where its ends meet they are seen as two.
        """
        base, name = self.plies[0], ply.run[0].piece
        inner, outers = ply.strip, [self.raw * share for share in STEPPED]
        if self.seam.binds:
            wide = binding_width(self.garment.piece(name))
            inner, outers = wide * WRAPPED if self.raw else wide, [0.0]  # level with the edge that it wraps
        elif not self.raw:
            outers = [0.0]
        elif ply.wrong:
            outers = outers[:1]  # single
        way = self.find_inward(base.run[0])
        for outer in outers:
            for own, course in self._strip_courses(ply):
                ring = np.concatenate([move_aside(course, -outer * way), move_aside(course, inner * way)[::-1]])
                yield ClothLayer(ring, self.letters.get(own, ""), ply.wrong, shift, strip=True)

    def _strip_courses(self, ply: PlyLaid) -> Iterator[tuple[str, Points]]:
        """The courses along which a strip lies, each with the piece that it is there; of a mitred one with the first.

        Mitred, it goes on round its corners; else its ends are seen where they meet.
        """
        base, names = self.plies[0], list(dict.fromkeys(use.piece for use in ply.run))
        along = self._run_out() if self.seam.binds else list(courses_of(self.garment, base.run, base.laid))
        whole = join_courses(along)
        if not self.seam.binds and any(True for course in whole for _ in find_corners(course)):
            yield from ((names[0], course) for course in whole)
            return
        for name in names:
            mine = (each for each in self.seam.sections if any(use.piece == name for r in each.plies[1:] for use in r))
            at = dict(zip(base.run, along, strict=True))
            run = [at[use] for section in mine for use in section.plies[0] if use in at]
            courses = join_courses(run, across_start=False)
            yield from ((name, course) for course in courses)

    def mitres(self) -> Iterator[Points]:
        """Yield the mitres of the strips at the corners of the edge that they lie along: from raw edge to fold."""
        base, outer = self.plies[0], self.raw * STEPPED[0]
        way = self.find_inward(base.run[0])
        for ply in self.plies if not self.seam.binds else ():  # a binding's is folded as it is wrapped
            for course in join_courses(list(courses_of(self.garment, base.run, base.laid))) if ply.strip else ():
                for corner in find_corners(course):
                    yield np.stack([move_aside(corner, off * way)[1] for off in (-outer, ply.strip)])

    def _edges(self, ply: PlyLaid, name: str) -> tuple[list[Points], list[float]]:
        """The courses of a piece's ring where it lies, and how far beyond each its raw edge stands (mm)."""
        sewn = {(use.piece, use.line) for use in self.seam.uses()}
        made = (seam for seam in self.garment.seams if seam.kind.readies)  # before whatever it readies is sewn on
        done = self.done.edges | {(use.piece, use.line) for seam in made for use in seam.uses()}
        raw = raw_edges(self.garment, name, done - sewn if self.raw else done | sewn)
        shown, free = self.raw / RAW or 1.0, self._list_free(name) if self.raw else ()
        raw = {**raw, **{line: raw[line] * VENT_JUTS for line in free}}
        ring = self.garment.piece(name).ring
        folded = set() if self.raw else {line.name for line in ring if is_vent(line)} | self._pressed_on(ply, name)
        return self._courses(ply, name), [0.0 if ln.name in folded else shown * raw.get(ln.name, 0.0) for ln in ring]

    def _list_free(self, name: str) -> tuple[str, ...]:
        """The ends of a facing beside an opening that is closed and folded already: their allowance juts out free."""
        zipped = (seam for seam in self.garment.seams if seam.kind.closes and not seam.kind.lapped)
        closing = [use for seam in zipped for use in seam.uses()]
        if not any((use.piece, use.line) in self.done.edges for use in closing):
            return ()
        return tuple(ln.name for ln in self.garment.piece(name).ring if ln.role is Role.END and ln.opening)

    def _pressed_on(self, ply: PlyLaid, name: str) -> set[str]:
        """The lines in which a sewn seam goes on, as above a zip: opened out they are pressed back in line with it."""
        ends = ((ply.run[0], False), (ply.run[-1], True))
        in_line = (pair for pair in ends if pair[0].piece == name and not crosses_next(self.garment, *pair))
        return set() if self.seam.kind.lay.turned else {find_beyond(self.garment, *pair).name for pair in in_line}

    def _courses(self, ply: PlyLaid, name: str) -> list[Points]:
        shut, lies, base = self.garment.find_once(shut_pieces)[name], ply.laid[name], self.plies[0]
        ring = self.garment.piece(name).ring
        flat = {line.name: lies.apply_all(shut.course(line)) for line in ring}
        flat |= join_lines(self.garment, ply.laid, name, self.done.edges, WHOLLY)
        if ply is base or ply.apart:
            return list(flat.values())
        bent = dict(_bent_lines(self.garment, self.seam, ply, base, name))
        pairs = [(space_evenly(flat[line]), course) for line, course in bent.items()]
        return [bent[line] if line in bent else follow_bent(course, pairs) for line, course in flat.items()]

    def _bindings(
        self, ply: PlyLaid, name: str, shift: int, courses: list[Points], apart: list[float]
    ) -> Iterator[ClothLayer]:
        """The bindings on a piece's edges, right side up on either of its sides."""
        bound = [self.done.strips.get((name, line.name), "") for line in self.garment.piece(name).ring]
        inward = -1.0 if ply.laid[name].flips else 1.0
        for i, strip in enumerate(bound):
            if strip:
                ring = bind_edge(courses, apart, i, inward * binding_width(self.garment.piece(strip)))
                letter, edged = self.letters.get(strip, ""), self.letters.get(name, "")
                yield ClothLayer(ring, letter, False, shift, strip=True, bound=edged)


def raw_edges(garment: Garment, name: str, done: Set[EdgeKey]) -> Mapping[str, float]:
    """Return how far (mm) a piece's raw edge is shown beyond each of its lines, when the edges in ``done`` are."""
    bare = (line.role is Role.DART or line.fate in (Fate.BOUND, Fate.FOLDED) for line in garment.piece(name).ring)
    lapped = (seam for seam in garment.seams if seam.kind.lapped)  # its allowance becomes a stand
    stands = {
        use.line: seam.fold if (name, use.line) in done else seam.allowance or RAW
        for seam in lapped
        for use in seam.plies[0]
        if use.piece == name
    }

    def measure(line: Line) -> float:
        return stands.get(line.name, RAW * (VENT_JUTS if is_vent(line) else 1.0))

    return {
        line.name: 0.0 if each or ((name, line.name) in done and line.name not in stands) else measure(line)
        for line, each in zip(garment.piece(name).ring, bare, strict=True)
    }


def is_vent(line: Line) -> bool:
    """Whether a line is the edge of a vent or slit, which is turned in below the seam that it goes on from."""
    return line.fate is Fate.HEMMED and line.role in (Role.SIDE, Role.CENTRE)


def raw_outline(
    garment: Garment,
    name: str,
    lies: Affine,
    raw: Mapping[str, float],
    joined: Mapping[str, Points] = MappingProxyType({}),
) -> Points:
    """Return a piece's raw edge where it lies, ``raw`` mm beyond its lines; ``joined`` are some of these, laid."""
    shut, ring = garment.find_once(shut_pieces)[name], garment.piece(name).ring
    courses = {line.name: lies.apply_all(shut.course(line)) for line in ring}
    return move_out(list((courses | dict(joined)).values()), [raw[line.name] for line in ring])


def _bent_lines(garment: Garment, seam: Seam, ply: PlyLaid, base: PlyLaid, name: str) -> Iterator[tuple[str, Points]]:
    """The lines of a piece that are sewn to the lowest ply, each as that lies beside it, in ring direction."""
    for section in seam.sections:
        run = next((r for r in section.plies[1:] if r and set(r) <= set(ply.run)), None)
        if not section.plies[0] or run is None:
            continue
        ends = joints(garment, run)
        for i, use in enumerate(run):
            if use.piece == name:
                shares = np.linspace(ends[i], ends[i + 1], BENT)
                points = sample_shares(garment, section.plies[0], base.laid, shares)
                yield use.line, points[::-1] if use.against else points


def _half(garment: Garment, ply: PlyLaid, other: PlyLaid, name: str, points: Points) -> Points:
    """The half of a piece nearer to its own edge, where both plies are of it: the other half lies in the other ply."""
    lies = ply.laid[name]
    mine, theirs = (
        np.concatenate([lies.apply_all(garment.line(u).path.flatten()) for u in run if u.piece == name]).mean(axis=0)
        for run in (ply.run, other.run)
    )
    way = theirs - mine
    return clip_half(points, mine + way / 2.0, way)
