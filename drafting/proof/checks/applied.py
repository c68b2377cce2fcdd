"""Applied pieces: each lies on a face, within it, and its sewn edges are as long as the place they are sewn to."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from drafting.garment import Applied, Brief, Garment, Piece, Seam, find_faces, find_piece_laid
from drafting.geometry import are_inside
from drafting.proof.finding import Finding, Severity
from drafting.saying import Words, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

APPLIED_STEP = TradeValue(5.0, "mm", "from memory")
"""Apart at which the place of an applied piece is looked at."""


def check_applied(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge where each applied piece lies: whole within the pieces beneath, and along as much of them as it is sewn."""
    return (*_find_unsewn(garment), *_find_outside(garment), *_lengths(garment))


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
    path = each.path
    points = path.points(np.linspace(0.0, path.length, max(2, math.ceil(path.length / APPLIED_STEP)) + 1))
    return int(np.count_nonzero(~are_inside(points[1:-1], piece.outline.flatten()[:-1])))


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
