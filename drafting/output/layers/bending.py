"""Edges that are bent along others, and how what lies near them turns with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace

import numpy as np

from drafting.garment import Garment, Role, Run
from drafting.garment.surface import joints
from drafting.geometry import Array
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.unfold import Laid, courses_of, ribbon_along
from drafting.output.layers.view import Points, StepView
from drafting.work.telling import and_

BENT = 25
"""Points of an edge that is bent along another."""

FADES = 120.0
"""From a bent edge as far as a piece's other edges follow it (mm)."""


def space_evenly(course: Points) -> Points:
    """Return as many points of a course, evenly spread, as an edge has that is bent."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
    at = np.linspace(0.0, along[-1], BENT)
    return np.stack([np.interp(at, along, course[:, k]) for k in (0, 1)], axis=1)


def follow_bent(points: Points, bent: Sequence[tuple[Points, Points]]) -> Points:
    """Return points as they lie when edges near them are bent: beside these they turn too, so that corners stay true.

    ``bent`` are the edges as they were and as they are, point by point.
    """
    if not bent:
        return points
    before, after = (np.concatenate([pair[i] for pair in bent]) for i in (0, 1))
    turns = np.concatenate([_directions(two) - _directions(one) for one, two in bent])
    off = points[:, None, :] - before[None, :, :]
    near = np.hypot(off[..., 0], off[..., 1])
    nearest = near.argmin(axis=1)
    rows = np.arange(len(points))
    away, c, s = off[rows, nearest], np.cos(turns[nearest]), np.sin(turns[nearest])
    turned = np.stack([c * away[:, 0] - s * away[:, 1], s * away[:, 0] + c * away[:, 1]], axis=1)
    share = np.clip(1.0 - near[rows, nearest] / FADES, 0.0, 1.0)[:, None]
    return np.asarray(points + share * (after[nearest] + turned - points))


def _directions(course: Points) -> Array:
    """The angle of a course at each of its points (rad)."""
    step = np.gradient(course, axis=0)
    return np.asarray(np.arctan2(step[:, 1], step[:, 0]))


def bind_edge(courses: Sequence[Points], aparts: Sequence[float], i: int, width: float) -> Points:
    """A binding along one course of an outline, so wide to its left; it ends with the raw edges beside it."""
    course, ends = courses[i], []
    for j, corner, behind in ((i - 1, 0, 1), ((i + 1) % len(courses), -1, -2)):
        if aparts[j]:
            beside = courses[j][-2:] if corner == 0 else courses[j][:2]
            along, out = course[corner] - course[behind], np.subtract(*beside[::-1])[::-1] * (1.0, -1.0)
            out *= np.sign(width) / np.hypot(*out)
            ends.append((course[corner] + out * aparts[j], out))
            reached = course[corner] + along / np.hypot(*along) * (aparts[j] + abs(width))
            course = np.concatenate([reached[None], course] if corner == 0 else [course, reached[None]])
    ring = ribbon_along(course, width)
    for at, out in ends:
        ring = clip_half(ring, at, out)
    return ring


def show_opened(as_laid: StepView, bent: Sequence[str]) -> StepView:
    """Return a picture of plies, of whole pieces where the edge of one is much bent: it is clipped, and opens."""
    if not bent:
        return as_laid
    every = np.concatenate([layer.points for layer in as_laid.layers])
    title = f"{as_laid.title}, {and_(tuple(dict.fromkeys(bent)))} opened out along the edge"
    return replace(as_laid, title=title, focus=every, whole=True)


JOINED_AT = 8.0
"""Between the ends of two edges, at most, that are joined where they lie (mm)."""


def join_lines(
    garment: Garment, laid: Laid, name: str, done: Set[tuple[str, str]], roles: Set[Role]
) -> Mapping[str, Points]:
    """Return the lines of a piece that are sewn already to the edge of another, as that edge lies there.

    ``done`` are the edges that are sewn, ``roles`` those along which pieces lie as a whole: a cap lies along its
    armhole, a half circle's waist along the bodice's, so that no cloth is wanting between them.
    """
    found = dict[str, Points]()
    own = {(name, line.name) for line in garment.piece(name).ring if line.role in roles} & done
    for seam in garment.seams if len(laid) > 1 and own else ():
        if seam.kind.lay.turned or not own & {(use.piece, use.line) for use in seam.uses()}:
            continue
        lines, meets = dict[str, Points](), False
        for section in seam.sections:
            under, *others = section.plies
            if under and all(use.piece in laid and use.piece != name for use in under):
                along = np.concatenate(list(courses_of(garment, under, laid)))
                for run in (run for run in others if run and run[0].piece == name):
                    here = np.concatenate(list(courses_of(garment, run, laid)))
                    meets |= bool(min(np.hypot(*(here[i] - along[i])) for i in (0, -1)) < JOINED_AT)
                    lines |= dict(_spread_along(garment, run, name, along))
        found |= lines if meets else {}
    return found


def _spread_along(garment: Garment, run: Run, name: str, along: Points) -> Iterator[tuple[str, Points]]:
    """The lines of a piece in a run, each as its share of a course, in ring direction."""
    reached = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(along, axis=0).T))])
    ends = joints(garment, run)
    for i, use in enumerate(run):
        if use.piece == name:
            at = np.linspace(ends[i], ends[i + 1], BENT) * reached[-1]
            points = np.stack([np.interp(at, reached, along[:, k]) for k in (0, 1)], axis=1)
            yield use.line, points[::-1] if use.against else points
