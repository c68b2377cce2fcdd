"""Applied pieces: each lies on a face, within it, and its sewn edges are as long as the place they are sewn to."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import combinations

import numpy as np

from drafting.garment import Applied, Brief, Garment, Piece, Run, Seam, Section, find_faces, find_piece_laid
from drafting.geometry import Array, are_inside, distances_to, following
from drafting.proof.finding import Finding, Severity
from drafting.saying import Words, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

APPLIED_STEP = TradeValue(5.0, "mm", "from memory")
"""Apart at which the place of an applied piece is looked at."""

MOST_PARTED = TradeValue(3.0, "mm", "from memory")
"""By which the edges of an applied piece's place may miss each other at a seam beneath it."""


def check_applied(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge where each applied piece lies: whole within the pieces beneath, beside others, as long as it is sewn."""
    on_face = (*_find_unsewn(garment), *_find_outside(garment), *_find_overlaps(garment))
    return (*on_face, *_find_parted(garment), *_lengths(garment))


def _find_unsewn(garment: Garment) -> Iterator[Finding]:
    """A place on a face to which no seam sews a piece."""
    laid = {find_piece_laid(garment, seam) for seam in garment.seams}
    for name in find_faces(garment):
        if name not in laid:
            yield Finding(
                "applied.sewn",
                Severity.ERROR,
                name,
                None,
                None,
                say("{title} has a place on a face, and no seam sews it down there", title=_title(garment, name)),
                "sew it down by a seam of one ply along its edges, or leave its place out",
            )


def _title(garment: Garment, name: str) -> Words:
    return garment.piece(name).title if garment.has_piece(name) else name


def _find_outside(garment: Garment) -> Iterator[Finding]:
    """What reaches past the edges of the piece beneath, or over a dart that lies open there."""
    for piece in garment.pieces:
        for each in piece.of_kind(Applied):
            out = _count_outside(piece, each)
            if out:
                yield Finding(
                    "applied.place",
                    Severity.ERROR,
                    each.name,
                    out * APPLIED_STEP,
                    0.0,
                    say(
                        "{title} doesn't lie within the {face:lower} beneath it",
                        title=_title(garment, each.name),
                        face=piece.title,
                    ),
                    "place it farther in, or make it smaller",
                )


def _count_outside(piece: Piece, each: Applied) -> int:
    return int(np.count_nonzero(~are_inside(_look_along(each)[1:-1], piece.outline.flatten()[:-1])))


def _look_along(each: Applied) -> Array:
    path = each.path
    return path.points(np.linspace(0.0, path.length, max(2, math.ceil(path.length / APPLIED_STEP)) + 1))


def _find_overlaps(garment: Garment) -> Iterator[Finding]:
    """Two pieces that lie over each other on one face: the upper one would be sewn through the lower."""
    for piece in garment.pieces:
        laid: dict[str, list[Array]] = {}
        for each in piece.of_kind(Applied):
            laid.setdefault(each.name, []).append(_look_along(each))
        rings = [(name, np.concatenate(points)) for name, points in laid.items()]
        for (one, ring), (two, other) in combinations(rings, 2):
            deep = max(_reach_into(ring, other), _reach_into(other, ring))
            if deep > TOLERANCE.sewn_length:
                yield _overlap(_title(garment, one), two, _title(garment, two), deep)


def _reach_into(ring: Array, other: Array) -> float:
    """How far (mm) what lies within a ring reaches into another one; 0 where it lies beside it."""
    middle = ring.mean(axis=0)
    points = np.concatenate([middle + (ring - middle) * share for share in np.linspace(0.0, 1.0, 5)])
    within = points[are_inside(points, other)]
    return float(distances_to(within, other, following(other)).max()) if len(within) else 0.0


def _overlap(one: Words, name: str, two: Words, deep: float) -> Finding:
    return Finding(
        "applied.overlap",
        Severity.ERROR,
        name,
        deep,
        0.0,
        say("{two} lies over {one:lower}, by {deep}", two=two, one=one, deep=mm(deep)),
        "place one of them farther off, or make it smaller",
    )


def _find_parted(garment: Garment) -> Iterator[Finding]:
    """A seam beneath, whose plies, once they are eased or gathered to each other, bring the place's parts apart."""
    for name, faces in find_faces(garment).items():
        for seam in garment.seams if len(faces) > 1 else ():
            off = max((_miss_across(garment, name, section) for section in seam.sections), default=0.0)
            if off > MOST_PARTED:
                yield Finding(
                    "applied.seam",
                    Severity.ERROR,
                    name,
                    off,
                    MOST_PARTED,
                    say(
                        "{title} lies over the {seam:lower}; once that is sewn, its place is parted there by {off}",
                        title=_title(garment, name),
                        seam=seam.title,
                        off=mm(off),
                    ),
                    "gather or ease beside it, or draw the seam clear of it",
                )


def _miss_across(garment: Garment, name: str, section: Section) -> float:
    """How far (mm) the ends of a place's parts on the plies of a section miss each other; 0 where it isn't crossed."""
    crossed = [sorted(_ends_on(garment, name, run)) for run in section.plies if run]
    length = min(garment.run_length(run) for run in section.plies if run)
    pairs = ((one, two) for one, two in combinations(crossed, 2) if one and two)
    return max((abs(a - b) * length for one, two in pairs for a, b in zip(one, two, strict=False)), default=0.0)


def _ends_on(garment: Garment, name: str, run: Run) -> Iterator[float]:
    """The shares of a run's length at which the ends of a place's parts lie on it."""
    whole, before = garment.run_length(run), 0.0
    for use in run:
        path = garment.line(use).path
        for each in garment.piece(use.piece).of_kind(Applied):
            for end in (each.path.start, each.path.end) if each.name == name else ():
                s, away = path.nearest(end)
                if away <= TOLERANCE.arc_length:
                    yield (before + (path.length - s if use.against else s)) / whole
        before += path.length


def _lengths(garment: Garment) -> Iterator[Finding]:
    for seam in garment.seams:
        name = find_piece_laid(garment, seam)
        if name:
            sewn, place = garment.run_length(seam.plies[0]), _place_length(garment, name)
            if abs(sewn - place) > TOLERANCE.sewn_length:
                yield _finding(seam, sewn, place)


def _place_length(garment: Garment, name: str) -> float:
    faces = (garment.piece(face) for face in find_faces(garment)[name])
    return math.fsum(each.path.length for face in faces for each in face.of_kind(Applied) if each.name == name)


def _finding(seam: Seam, sewn: float, place: float) -> Finding:
    return Finding(
        "applied.length",
        Severity.ERROR,
        seam.name,
        sewn,
        place,
        say("{title} is sewn down along {sewn}, and its place is {place} long", title=seam.title, sewn=mm(sewn),
            place=mm(place)),
        "draft it again on the piece that is there",
    )  # fmt: skip
