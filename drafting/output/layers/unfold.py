"""Pieces laid flat beside each other as they are sewn together so far, along the run of one ply."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby, pairwise

import numpy as np

from drafting.garment import Garment, Line, Role, Run, Use
from drafting.garment.balance import places_on_run
from drafting.geometry import Affine, Point, distances_to
from drafting.output.layers.shut import shut_pieces
from drafting.output.layers.view import Points
from drafting.tolerance import TOLERANCE

ALONG = 60.0
"""Over which the direction of an edge beside a corner is taken (mm)."""

WHOLLY = frozenset((Role.ARMHOLE, Role.CAP, Role.WAIST))
"""Edges along which pieces lie as a whole, from one end to the other."""

OPENED_OUT = 5.0
"""Over which it is taken beside a facing that is opened out: there it lies beyond the edge, not along it (mm)."""

Laid = Mapping[str, Affine]
"""Where each piece of a run lies, by its name."""


def unfold_run(garment: Garment, run: Run) -> Laid:
    """Return where the pieces of a run lie when the seams that it crosses are sewn and opened out flat.

    The first lies as it was drafted; each is laid once, the first time that the run comes to it.
    """
    laid = {run[0].piece: Affine()}
    for one, two in pairwise(run):
        if two.piece not in laid:
            laid[two.piece] = _beside(garment, one, two, laid[one.piece])
    return laid


def _beside(garment: Garment, one: Use, two: Use, lies: Affine) -> Affine:
    """Where the piece of a use lies beside that of the use before, the edges between them on each other."""
    along = OPENED_OUT if is_opened_out(garment, two) else _find_along(garment, one, two)
    corner, way = _edge_from(garment, one, lies, along)
    start, other = _edge_from(garment, two.reversed, Affine(), along)
    turned = Affine.turn(way.angle - other.angle, start)
    return turned.then(Affine.move(corner - start))


def _find_along(garment: Garment, one: Use, two: Use) -> float:
    """How far along the edges between two pieces these lie on each other: a waist and an armhole are met as a whole.

    Beside its corner an armhole runs level, and a half circle's waist slants: a sleeve would lie over the chest.
    """
    lengths = []
    for use in (one, two.reversed):
        whole = 0.0
        for line in _lines_beyond(garment, use):
            if line.role not in WHOLLY:
                break
            whole += line.path.length
        lengths.append(whole)
    return min(lengths) if all(lengths) else ALONG


def _lines_beyond(garment: Garment, use: Use) -> Iterator[Line]:
    """The lines of a piece's ring from the end of a use on, as many as are of one role."""
    piece, first = garment.piece(use.piece), None
    go_on = piece.before if use.against else piece.after
    line = go_on(use.line)
    while line.name != use.line and line.role is (first or line).role:
        first = first or line
        yield line
        line = go_on(line.name)


def is_opened_out(garment: Garment, use: Use) -> bool:
    """Whether a use is the end of a facing, which is opened out for the seam that takes it in."""
    return garment.line(use).role is Role.END


def _edge_from(garment: Garment, use: Use, lies: Affine, along: float) -> tuple[Point, Point]:
    """The corner at the end of a use, and the way from there along the edge that the ring goes on with."""
    shut = garment.find_once(shut_pieces)[use.piece]
    lines = list(_lines_beyond(garment, use))
    corner = shut.at(lines[0], lines[0].path.length if use.against else 0.0)
    left, far = along, corner
    for beyond in lines if along > ALONG else lines[:1]:
        long = beyond.path.length
        s = min(left, long)
        far = shut.at(beyond, long - s if use.against else s)
        left -= s
        if left <= 0.0:
            break
    return lies.apply(corner), lies.apply(far) - lies.apply(corner)


def courses_of(garment: Garment, run: Run, laid: Laid) -> Iterator[Points]:
    """Yield the course of each use of a run, in the run's direction, where it lies."""
    for use in run:
        points = laid[use.piece].apply_all(garment.find_once(shut_pieces)[use.piece].course(garment.line(use)))
        yield points[::-1] if use.against else points


def sample_shares(garment: Garment, run: Run, laid: Laid, shares: Iterable[float]) -> Points:
    """Return the points at shares of a run's length, where they lie."""
    shut = garment.find_once(shut_pieces)
    places = places_on_run(garment, run, shares)
    found = []
    for use, group in groupby(places, key=lambda place: place[0]):
        lengths = np.array([s for _, s in group])
        found.append(laid[use.piece].apply_all(shut[use.piece].points(garment.line(use), lengths)))
    return np.concatenate(found)


def fit_points(points: Points, onto: Points) -> tuple[Affine, float]:
    """Return the turn and move that bring points nearest to others, and how far off they are at the most (mm)."""
    a, b = (p[:, 0] + 1j * p[:, 1] for p in (points, onto))
    angle = float(np.angle(((b - b.mean()) * np.conj(a - a.mean())).sum()))
    middle, goal = complex(a.mean()), complex(b.mean())
    turned = Affine.turn(angle, Point(middle.real, middle.imag))
    lies = turned.then(Affine.move(Point(goal.real - middle.real, goal.imag - middle.imag)))
    off = np.hypot(*(lies.apply_all(points) - onto).T)
    return lies, float(off.max())


def move_laid(laid: Laid, by: Affine) -> Laid:
    """Return where pieces lie when all of them are moved together."""
    return {name: lies.then(by) for name, lies in laid.items()}


def outline_of(garment: Garment, name: str, lies: Affine) -> Points:
    """Return a piece's outline where it lies."""
    return lies.apply_all(garment.find_once(shut_pieces)[name].outline())


def ribbon_along(course: Points, width: float) -> Points:
    """Return the outline of a strip so wide along a course, to its left."""
    return np.concatenate([course, move_aside(course, width)[::-1]])


SHARPEST = 0.4
"""Cosine of half the turn at a corner, down to which a course that is moved aside is drawn out to its mitre."""


CLEAR = 0.97
"""Of the way that a course is moved aside, by which each of its points is then away from it at least."""


def move_aside(course: Points, off: float) -> Points:
    """Return a course moved to its left, so far (mm), its corners mitred and what would cross there left out."""
    step = np.diff(course, axis=0)
    long = np.maximum(np.hypot(step[:, 0], step[:, 1]), TOLERANCE.same_point)
    left = np.stack([-step[:, 1], step[:, 0]], axis=1) / long[:, None]
    before, after = np.concatenate([left[:1], left]), np.concatenate([left, left[-1:]])
    middle = before + after
    middle /= np.maximum(np.hypot(middle[:, 0], middle[:, 1]), TOLERANCE.same_point)[:, None]
    cosine = np.maximum(np.maximum((middle * before).sum(axis=1), (middle * after).sum(axis=1)), SHARPEST)
    moved = course + middle / cosine[:, None] * off
    clear = distances_to(moved, course[:-1], course[1:]) >= abs(off) * CLEAR
    return np.asarray(moved[clear] if clear.sum() > 1 else moved)


def join_courses(courses: Sequence[Points], across_start: bool = True) -> list[Points]:
    """Return courses, those that follow on each other made one; ``across_start``: the last and the first too."""
    out: list[Points] = []
    for course in courses:
        if out and math.dist(out[-1][-1], course[0]) < 1.0:
            out[-1] = np.concatenate([out[-1], course[1:]])
        else:
            out.append(course)
    if across_start and len(out) > 1 and math.dist(out[-1][-1], out[0][0]) < 1.0:
        out[0] = np.concatenate([out.pop(), out[0][1:]])
    return out
