"""Stripes that meet at the seams: how far each part is moved against the stripe, and where they meet in the end.

Stripes are matched on the stitching line, not on the cut edge, from the hem up: at side seams, at centre and panel
seams, and from the sleeve to the front armhole, which comes before the back one (handbooks of garment making; an eased
cap can't be matched all the way round). What is sewn onto a face comes last, and is met at its opening. Shoulder seams,
bands and cuffs are not matched (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field

import numpy as np

from drafting.cloth import Stripe
from drafting.garment import (
    Applied,
    Balance,
    Face,
    Garment,
    Piece,
    Role,
    Run,
    Seam,
    Section,
    Use,
    balance_marks,
    find_piece_laid,
)
from drafting.garment.balance import place_on_run
from drafting.garment.laying import way_of_stripes
from drafting.geometry import Path, Point
from drafting.lay.parts import Part
from drafting.record import dataclass
from drafting.saying import Words
from drafting.tolerance import TOLERANCE

LAST = 9
"""The rank of what is sewn onto a face: nothing else is matched to it."""

SAMPLES = np.linspace(0.0, 1.0, 17)


@dataclass(frozen=True, slots=True)
class Match:
    """How the stripes of two parts meet at a seam.

    ``off`` is how far they miss each other (mm) at the point that they are matched by, told by ``at`` ("" is the lower
    end, as is usual); ``most`` is how
    far they do anywhere along the seam, at the most half a repeat.
    """

    seam: str
    title: Words
    at: str
    off: float
    most: float


@dataclass(frozen=True, slots=True)
class _Meeting:
    """Two net pieces at a seam: the places that lie on each other, the first of them the one to match by.

    ``level``: the seam runs across the wearer rather than down.
    """

    seam: Seam
    names: tuple[str, str]
    rank: int
    at: str
    places: tuple[tuple[float, float], ...] = field(default=())
    level: bool = False


def shifts(garment: Garment, parts: Sequence[Part], stripe: Stripe) -> tuple[Mapping[str, float], tuple[Match, ...]]:
    """Return how far each net piece is moved against the stripe (mm, below one repeat), and how the stripes meet.

    A piece is moved along the way that the stripes follow each other on it, up its grain or across it: a point at y up
    the grain lies on the stripe at y + shift. A stripe across the cloth is met seam by seam. One along it runs down the
    centre of front, back and sleeves, and is met where a seam lies across it; on pieces that the maker turned it is met
    seam by seam too. Parts whose grain doesn't run up and down the wearer, unless the maker turned them so, aren't
    matched, and have no shift.
    """
    tied = {part.name for part in parts if part.tied}
    turned = {name for name in tied if garment.piece(name).laid}
    laid = list(_meet_faces(garment, tied, stripe))
    meetings = sorted(_meetings(garment, tied, stripe), key=lambda each: each.rank)
    centred = tied - turned if stripe.direction == "along" else set()
    if centred:
        meetings = [each for each in meetings if turned & {*each.names} or _crosses_stripe(garment, each)]
    placed = {name: -_middle(garment, name) % stripe.repeat if name in centred else 0.0 for name in sorted(tied)}
    moved = _bring_together(placed, centred, meetings, stripe.repeat)
    for each in laid:
        (face, piece), (a, b) = each.names, each.places[0]
        moved[piece] = (moved[face] + a - b) % stripe.repeat
    meetings += laid
    return moved, tuple(_judge_meeting(each, moved, stripe.repeat) for each in meetings)


def list_unmatched(garment: Garment, parts: Sequence[Part], matches: Sequence[Match]) -> tuple[Words, ...]:
    """Return the titles of the seams between pieces tied to the stripe where it isn't matched: shoulders above all."""
    tied = {part.name for part in parts if part.tied and not part.piece.interfaced and not part.piece.is_strip}
    known = {match.seam for match in matches}
    apart = (seam for seam in garment.seams if seam.name not in known)
    return tuple(seam.title for seam in apart if any(_joins_tied(section, tied) for section in seam.sections))


def _joins_tied(section: Section, tied: set[str]) -> bool:
    """Tell whether two layers of a seam, not one and the next along the seam, are of pieces that are tied."""
    layers = [{use.piece for use in run} & tied for run in section.plies]
    return sum(map(bool, layers)) > 1 and len(set[str]().union(*layers)) > 1


def _bring_together(
    placed: Mapping[str, float], centred: set[str], meetings: Sequence[_Meeting], repeat: float
) -> dict[str, float]:
    """Move pieces seam by seam, the first seams first; a seam between pieces that hang together already must follow.

    Those that are ``centred`` stay where they are placed.
    """
    group = {name: centred if name in centred else {name} for name in placed}
    moved = dict(placed)
    for each in meetings:
        one, two = each.names
        if group[one] is group[two]:
            continue
        a, b = each.places[0]
        if group[two] is centred:
            (one, a), (two, b) = (two, b), (one, a)
        by = moved[one] + a - (moved[two] + b)
        for name in group[two]:
            moved[name] += by
        group[one] |= group[two]
        for name in group[two]:
            group[name] = group[one]
    return {name: shift % repeat for name, shift in moved.items()}


def _judge_meeting(each: _Meeting, moved: Mapping[str, float], repeat: float) -> Match:
    one, two = each.names
    off = [_miss_of_repeat(a + moved[one] - b - moved[two], repeat) for a, b in each.places]
    return Match(each.seam.name, each.seam.title, each.at, off[0], max(off))


def _miss_of_repeat(value: float, repeat: float) -> float:
    """How far a value lies from a whole number of repeats."""
    rest = value % repeat
    return min(rest, repeat - rest)


def _meetings(garment: Garment, names: set[str], stripe: Stripe) -> Iterator[_Meeting]:
    """Every two of the pieces that are sewn to each other where stripes are to meet."""
    marks = balance_marks(garment)
    for seam in garment.seams:
        if seam.kind.stripes is None or seam.binds:
            continue
        found: dict[tuple[str, str], list[tuple[Point, Point]]] = {}
        for section in seam.sections:
            for run in section.plies[1:]:
                for pair, points in _pairs(garment, section.plies[0], run):
                    if set(pair) <= names and pair[0] != pair[1]:
                        found.setdefault(pair, []).append(points)
        for pair, met in found.items():
            yield _meeting(garment, seam, pair, met, marks, stripe)


def _meet_faces(garment: Garment, names: set[str], stripe: Stripe) -> Iterator[_Meeting]:
    """Every applied piece on the face that its place begins on, matched from there on as far as that face reaches."""
    seams = {find_piece_laid(garment, seam): seam for seam in garment.seams}
    for face in garment.pieces:
        for each in face.of_kind(Applied):
            if {face.name, each.name} <= names and each.name in seams and _begins_within(face, each.path):
                run = seams[each.name].plies[0]
                length = min(each.path.length, garment.run_length(run))
                met = [(each.path.at(s), _at_length(garment, run, s)) for s in map(float, SAMPLES * length)]
                places = _rise(garment, (face.name, each.name), met, stripe)
                yield _Meeting(seams[each.name], (face.name, each.name), LAST, "opening", places)


def _rise(
    garment: Garment, pair: tuple[str, str], met: Sequence[tuple[Point, Point]], stripe: Stripe
) -> tuple[tuple[float, float], ...]:
    """How far up the way in which the stripes follow each other the points of two pieces lie (mm)."""
    one, two = (way_of_stripes(garment.piece(name).grain, stripe) for name in pair)
    return tuple((a.dot(one), b.dot(two)) for a, b in met)


def _begins_within(piece: Piece, path: Path) -> bool:
    return piece.outline.nearest(path.start)[1] > TOLERANCE.sewn_length


def _at_length(garment: Garment, run: Run, s: float) -> Point:
    use, along = place_on_run(garment, run, s / garment.run_length(run))
    return _point(garment, use, along)


def _pairs(garment: Garment, one: Run, two: Run) -> Iterator[tuple[tuple[str, str], tuple[Point, Point]]]:
    if not one or not two:
        return
    for share in SAMPLES:
        (a, s), (b, t) = place_on_run(garment, one, float(share)), place_on_run(garment, two, float(share))
        yield (a.piece, b.piece), (_point(garment, a, s), _point(garment, b, t))


def _point(garment: Garment, use: Use, s: float) -> Point:
    return garment.piece(use.piece).line(use.line).path.at(s)


def _meeting(
    garment: Garment,
    seam: Seam,
    pair: tuple[str, str],
    met: list[tuple[Point, Point]],
    marks: Sequence[Balance],
    stripe: Stripe,
) -> _Meeting:
    """What is matched first, and how soon: sides, then centres and panels, then sleeves at the front notch."""
    faces = [_face(garment, name) for name in pair]
    across = [abs(met[-1][0].x - met[0][0].x), abs(met[-1][0].y - met[0][0].y)]
    if seam.kind.at_notch:
        front, notch = Face.FRONT in faces, _at_notch(garment, seam, pair, marks)
        where = "notch" if notch else "armhole, half-way along"
        rank, at = (3 if front else 5) + (notch is None), f"{'front' if front else 'back'} {where}"
        met = [notch or met[len(met) // 2], *met]
    else:
        rank = seam.kind.stripes or 0
        rank = 1 if rank and _touches_centre(garment, seam) else rank
        met, at = sorted(met, key=lambda points: points[0].y), ""
    places = _rise(garment, pair, met, stripe)
    return _Meeting(seam, pair, rank, at, places, across[0] > across[1])


def _at_notch(
    garment: Garment, seam: Seam, pair: tuple[str, str], marks: Sequence[Balance]
) -> tuple[Point, Point] | None:
    for mark in marks:
        at = {use.piece: _point(garment, use, s) for use, s in mark.at}
        if mark.seam == seam.name and set(pair) <= set(at):
            return at[pair[0]], at[pair[1]]
    return None


def _touches_centre(garment: Garment, seam: Seam) -> bool:
    return any(garment.line(use).role is Role.CENTRE for use in seam.plies[0])


def _face(garment: Garment, name: str) -> Face:
    return garment.piece(name).face


def _crosses_stripe(garment: Garment, each: _Meeting) -> bool:
    """Whether a seam of front or back with itself lies across stripes that run down the centre."""
    one, two = (_face(garment, name) for name in each.names)
    return each.level and one is two is not Face.NONE


def _middle(garment: Garment, name: str) -> float:
    """The x of a piece that a stripe along the cloth runs down: the wearer's centre, or the top of a sleeve's cap."""
    caps = garment.piece(name).lines(role=Role.CAP)
    ends = [point for line in caps for point in (line.path.start, line.path.end)]
    return max(ends, key=lambda point: point.y).x if ends else 0.0
