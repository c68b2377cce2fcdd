"""Levels: each runs from edge to edge of its piece, so that the girths added up from them are those of the pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from drafting.garment import Brief, Garment, Level, Piece, Use
from drafting.garment.places import gathered_length
from drafting.geometry import Array, Point, distances_to, following
from drafting.proof.checks.samples import LineSamples, chords
from drafting.proof.finding import Finding, Severity
from drafting.saying import Name, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_GATHERED = TradeValue(15.0, "mm", "from memory")
"""By which an edge is longer than what it is sewn to, beyond which it is gathered and not eased in."""


def check_levels(garment: Garment, brief: Brief, samples: Sequence[tuple[LineSamples, ...]]) -> tuple[Finding, ...]:
    """Judge the levels that make a girth: both ends of each lie on a line of its piece, or on the leg of a dart in it.

    In an edge that is gathered a level has the length that the edge is drawn up to, and needn't lie on it.
    """
    return tuple(
        finding
        for piece, lines in zip(garment.pieces, samples, strict=True)
        if any(level.girth for level in piece.levels)
        for finding in _find_short(garment, piece, _edges(piece, lines))
    )


def _edges(piece: Piece, lines: Sequence[LineSamples]) -> Array:
    """The chords of a piece's loops, shape (m, 2, 2)."""
    ring = np.concatenate([line.points for line in lines])
    loops = (ring, *chords([[line.path for line in slit] for slit in piece.slits]))
    return np.concatenate([np.stack((loop, following(loop)), axis=1) for loop in loops])


def _find_short(garment: Garment, piece: Piece, edges: Array) -> Iterator[Finding]:
    ends = [(level, end) for level in piece.levels if level.girth for end in (level.path.start, level.path.end)]
    near = distances_to(np.array([(end.x, end.y) for _, end in ends]), edges[:, 0], edges[:, 1])
    for i, (level, end) in enumerate(ends):
        if near[i] <= TOLERANCE.sewn_length or _steps(piece, level, end, [ends[j] for j in range(len(ends)) if j != i]):
            continue
        off, line = min((line.path.nearest(end)[1], line.name) for line in piece.all_lines)
        if off > TOLERANCE.sewn_length and not _is_gathered(garment, Use(piece.name, line)):
            yield Finding(
                "levels.short",
                Severity.ERROR,
                f"{piece.name}.{level.name}",
                off,
                0.0,
                say(
                    "the {replace} line of the {name:placed} ends {off} off the piece's edge, so that what is measured "
                    "along it isn't the piece's width",
                    replace=level.name.replace("-", " "),
                    name=Name(piece.name),
                    off=mm(off, 1),
                ),
                "let what changes the edge carry the line along to it",
            )


def _is_gathered(garment: Garment, use: Use) -> bool:
    """Whether an edge is gathered: before anything is sewn to it, or to the length of what it is sewn to."""
    if gathered_length(garment, (use,)) > 0.0:
        return True
    return any(
        ease - min(section.ease) > LEAST_GATHERED
        for seam in garment.seams
        for section in seam.sections
        for run, ease in zip(section.plies, section.ease, strict=True)
        if any((each.piece, each.line) == (use.piece, use.line) for each in run)
    )


def _steps(piece: Piece, level: Level, end: Point, others: Sequence[tuple[Level, Point]]) -> bool:
    """Whether a level goes on right above or below, as where two sides that were drafted apart meet."""
    return any(
        other.name == level.name and abs((at - end).cross(piece.grain)) <= TOLERANCE.sewn_length for other, at in others
    )
