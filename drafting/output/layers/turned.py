"""Edges that are turned up onto the wrong side: hems, and the edges of vents, their corners mitred."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace
from itertools import pairwise
from typing import Final

import numpy as np

from drafting.garment import Fate, Garment, Role, Run, Use, same_corner
from drafting.geometry import Affine
from drafting.output.layers.bending import join_lines
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.ply import EdgeKey, WorkDone, is_vent, raw_edges, raw_outline
from drafting.output.layers.stitching import crosses_next, run_out
from drafting.output.layers.unfold import (
    Laid,
    courses_of,
    join_courses,
    move_aside,
    move_laid,
    ribbon_along,
    unfold_run,
)
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.record import dataclass
from drafting.work.meeting import Letters
from drafting.work.telling import and_

WIDE = 30.0
"""Of a turned edge that is shown where its depth isn't known (mm)."""

BESIDE_EDGE = 2.0
"""From the raw edge of what is turned to its stitching (mm)."""

TURNED = "Turned onto the wrong side"
"""What a picture shows of an edge that is turned up."""


@dataclass(frozen=True, slots=True, eq=False)
class TurnedEdge:
    """An edge where it lies, and how deep it is turned (mm): to the left of its course, or below 0 to the right."""

    use: Use
    course: Points
    off: float
    strip: Points

    @property
    def stitching(self) -> Points:
        """The course of its stitching."""
        return move_aside(self.course, self.off - np.sign(self.off) * BESIDE_EDGE)

    def find_corner(self, other: TurnedEdge) -> Points:
        """Return where it meets another."""
        ends = [(a, b) for a in self.course[[0, -1]] for b in other.course[[0, -1]]]
        return np.asarray(min(ends, key=lambda pair: float(np.hypot(*(pair[0] - pair[1]))))[0])

    def leaving(self, corner: Points) -> tuple[Points, Points]:
        """The unit vectors along the edge away from a corner, and inwards there."""
        first = np.hypot(*(self.course[0] - corner)) < np.hypot(*(self.course[-1] - corner))
        way = self.course[1] - self.course[0] if first else self.course[-2] - self.course[-1]
        x, y = (way / np.hypot(*way)).tolist()
        left = np.array([-y, x]) * (1.0 if first else -1.0)
        return np.array([x, y]), left * np.sign(self.off)


def draw_hem(
    garment: Garment, edges: Run, letters: Letters, depths: Mapping[str, float], done: WorkDone
) -> Iterator[StepView]:
    """Yield a picture of the pieces that are joined already, wrong side up, their edge turned onto them and stitched.

    A hem that goes right round is cut open for its picture where it begins. One picture for what has the same letters.
    """
    drawn = set[tuple[str, ...]]()
    for whole in _join_runs(garment, edges, done):
        run = _choose_stretch(garment, whole)
        named = tuple(sorted({letters.get(use.piece, use.piece) for use in run}))
        if named not in drawn:
            drawn.add(named)
            view = _draw_turned_edge(garment, run, letters, depths, done)
            others = sorted({letters.get(use.piece, "") for use in whole} - set(named) - {""})
            alike = f"; {and_(others)} alike" if others else ""
            yield replace(view, title=f"{view.title}{alike}")


MOST: Final = 3
"""Pieces of one edge that are drawn side by side at most: more, turned each a little further, can't be made out."""


def _choose_stretch(garment: Garment, run: Run) -> Run:
    """What of an edge is drawn for the whole: two pieces beside a side seam, or another seam, where it has many."""
    if len({use.piece for use in run}) <= MOST:
        return run
    pairs = [pair for pair in pairwise(run) if pair[0].piece != pair[1].piece]
    faces = [{garment.line(use).face for use in pair} for pair in pairs]
    one, two = next((pair for pair, each in zip(pairs, faces, strict=True) if len(each) > 1), pairs[0])
    return tuple(use for use in run if use.piece in (one.piece, two.piece))


def _join_runs(garment: Garment, edges: Run, done: WorkDone) -> Iterator[Run]:
    """The edges in runs that go on over seams that are sewn."""
    left, meets = list(edges), same_corner(garment)

    def goes_on(one: Use, two: Use) -> bool:
        crossed = garment.piece(one.piece).after(one.line)
        if garment.line(one).role in (Role.SIDE, Role.CENTRE):  # beside a slit, which stays open
            return False
        return one.piece == two.piece or ((one.piece, crossed.name) in done.edges and meets(one, two))

    while left:
        run = [left.pop(0)]
        while (found := next((use for use in left if meets(run[-1], use) and goes_on(run[-1], use)), None)) is not None:
            run.append(found)
            left.remove(found)
        while (found := next((use for use in left if meets(use, run[0]) and goes_on(use, run[0])), None)) is not None:
            run.insert(0, found)
            left.remove(found)
        yield tuple(run)


def _draw_turned_edge(
    garment: Garment, run: Run, letters: Letters, depths: Mapping[str, float], done: WorkDone
) -> StepView:
    laid = move_laid(unfold_run(garment, run), Affine.mirror())
    corners = tuple(_turned_corners(garment, run))
    whole = {use: group[0] for group in _join_lines(garment, run) for use in group}
    turned = done.edges | {(use.piece, use.line) for use in (*run, *(two for _, two in corners))}
    outlines = {name: _outline_left(garment, name, laid, turned, done) for name in laid}
    edges = {group[0]: _turn_edge(garment, group, laid, depths, outlines) for group in _join_lines(garment, run)}
    edges |= {two: _turn_edge(garment, (two,), laid, depths) for _, two in corners}
    for one, two in corners:
        edges[whole[one]], edges[two] = _mitre(edges[whole[one]], edges[two])
    stitched = [_across(edges[use], garment) for use in dict.fromkeys(whole.values())]
    pieces = (ClothLayer(points, letters.get(name, ""), wrong=True) for name, points in outlines.items())
    strips = (ClothLayer(edge.strip, "", strip=True) for edge in edges.values())
    focus = _narrow_down(stitched, max(abs(edge.off) for edge in edges.values()))
    return StepView(TURNED, (*pieces, *strips), tuple(join_courses(stitched)), focus=focus)


WIDEST, SHOWN = 40.0, 8.0
"""Depths that an edge is long at most, to be shown whole: of a longer one it would be but a line; and so many to either
side of the place that is shown of that."""


def _narrow_down(stitched: Sequence[Points], depth: float) -> Points:
    """Where a turned edge is looked at: all of it, or of one that is long beside its depth what lies at a seam."""
    every = np.concatenate(stitched)
    if np.ptp(every, axis=0).max() <= WIDEST * depth:
        return every
    at = stitched[0][len(stitched[0]) // 2] if len(stitched) < 2 else _find_joint(*stitched[:2])
    return np.stack([at - SHOWN * depth, at + SHOWN * depth])


def _find_joint(one: Points, two: Points) -> Points:
    """The end of a course that lies nearest to one of another's."""
    return np.asarray(min(one[[0, -1]], key=lambda end: float(np.hypot(*(two[[0, -1]] - end).T).min())))


def _outline_left(garment: Garment, name: str, laid: Laid, turned: Set[EdgeKey], done: WorkDone) -> Points:
    """The outline of a piece with the allowances of its edges that are still to be sewn; a vent's is turned in."""
    raw, joined = raw_edges(garment, name, turned), join_lines(garment, laid, name, done.edges, frozenset((Role.SIDE,)))
    ring = garment.piece(name).ring
    return raw_outline(
        garment, name, laid[name], {ln.name: 0.0 if is_vent(ln) else raw[ln.name] for ln in ring}, joined
    )


def _is_vent(garment: Garment, use: Use) -> bool:
    """Whether an edge is one beside a slit."""
    return garment.line(use).role in (Role.SIDE, Role.CENTRE)


def find_turned_corners(
    garment: Garment, run: Run, laid: Laid, depths: Mapping[str, float]
) -> Iterator[tuple[TurnedEdge, TurnedEdge]]:
    """Yield each edge of a run with the turned one round its corner, where they lie."""
    for one, two in _turned_corners(garment, run):
        yield _turn_edge(garment, (one,), laid, depths), _turn_edge(garment, (two,), laid, depths)


def _turned_corners(garment: Garment, run: Run) -> Iterator[tuple[Use, Use]]:
    """Each edge of a run with the turned one round its corner: a vent's beside a hem, a hem beside a vent's."""
    for use in run:
        piece = garment.piece(use.piece)
        for line in (piece.before(use.line), piece.after(use.line)):
            other = Use(piece.name, line.name)
            if line.fate is Fate.HEMMED and _is_vent(garment, other) != _is_vent(garment, use):
                yield use, other


def _join_lines(garment: Garment, run: Run) -> Iterator[Run]:
    """The lines of a run that follow each other on one piece, together: they are one edge, as a front's two halves."""
    groups: list[list[Use]] = []
    for use in run:
        piece, vent = garment.piece(use.piece), _is_vent(garment, use)
        for group in groups:
            alike = use.piece == group[0].piece and vent == _is_vent(garment, group[0])
            if alike and use.line in (piece.after(group[-1].line).name, piece.before(group[0].line).name):
                group.insert(len(group) if use.line == piece.after(group[-1].line).name else 0, use)
                break
        else:
            groups.append([use])
    yield from map(tuple, groups)


def _turn_edge(
    garment: Garment, run: Run, laid: Laid, depths: Mapping[str, float], outlines: Mapping[str, Points] | None = None
) -> TurnedEdge:
    """An edge turned up, to the raw edges that cross it where the outlines of the pieces are given."""
    (course, *_), use = join_courses(list(courses_of(garment, run, laid))), run[0]
    if outlines is not None:
        first, last = (crosses_next(garment, run[i], at_end) for i, at_end in ((0, False), (-1, True)))
        course = run_out(course, outlines[use.piece], first, last)
    depth = depths.get(garment.line(use).opening, WIDE) or WIDE
    off = depth if use.against else -depth
    return TurnedEdge(use, course, off, ribbon_along(course, off))


def _mitre(one: TurnedEdge, two: TurnedEdge) -> tuple[TurnedEdge, TurnedEdge]:
    """Two edges that meet at a corner, what is turned of each cut off at the line from there to where both end."""
    corner = one.find_corner(two)
    (w1, n1), (w2, n2) = one.leaving(corner), two.leaving(corner)
    off = n2 * abs(two.off) - n1 * abs(one.off)
    along = (off[0] * w2[1] - off[1] * w2[0]) / (w1[0] * w2[1] - w1[1] * w2[0])
    x, y = (n1 * abs(one.off) + w1 * along).tolist()
    aside = np.array([-y, x])
    cut = (clip_half(e.strip, corner, -aside * np.sign((aside * w).sum())) for e, w in ((one, w1), (two, w2)))
    first, second = cut
    return replace(one, strip=first), replace(two, strip=second)


def _across(edge: TurnedEdge, garment: Garment) -> Points:
    """The stitching of an edge; of a vent's it runs across at its upper end too."""
    stitched = edge.stitching
    if not _is_vent(garment, edge.use):
        return stitched
    top = edge.course[[int(np.argmax(edge.course[:, 1]))]]
    first = np.hypot(*(top[0] - stitched[0])) < np.hypot(*(top[0] - stitched[-1]))
    return np.concatenate([top, stitched] if first else [stitched, top])
