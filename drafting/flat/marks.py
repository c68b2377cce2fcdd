"""What lies on the pieces of a flat: hems stitched, pockets, buttons, zips and gathers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from drafting.flat.bands import Lies, move_aside
from drafting.flat.shapes import FlatKind, FlatShape, Points, sample_path, sample_run
from drafting.garment import Face, Fate, Garment, Piece, Role, Run, Use
from drafting.garment.applied import Applied
from drafting.garment.closure import Closure, buttonholes
from drafting.work.telling import GATHERED_FROM

_GATHER_APART, _GATHER_LONG = 14.0, (18.0, 34.0)
_ZIP_WIDE = 5.0
"""Half the width at which a zip is drawn (mm)."""


def draw_marks(garment: Garment, pieces: Sequence[Piece], hems: Mapping[str, float], lies: Lies) -> Iterator[FlatShape]:
    """Yield what lies on some pieces; ``hems`` are the depths (mm) of hems by the opening they finish."""
    for piece in pieces:
        yield from _hems(piece, hems, lies)
        yield from _pockets(garment, piece, lies)
        yield from _buttons(garment, piece, lies)


def draw_zips(garment: Garment, face: Face, lies: Lies) -> Iterator[FlatShape]:
    """Yield the zips of a face, each along the edges that it is sewn into."""
    for closure in garment.closures:
        if closure.place is face and not closure.button:
            yield from _zip(garment, closure, lies)


def draw_gathers(garment: Garment, names: frozenset[str], lies: Lies) -> Iterator[FlatShape]:
    """Yield short strokes along what is gathered into a seam, on the pieces named."""
    for seam in garment.seams:
        for section in seam.sections:
            runs = [run for run in section.plies if run]
            if any(garment.line(run[0]).role is Role.BAND for run in runs):
                continue
            lengths = [garment.run_length(run) for run in runs]
            for run, length in zip(runs, lengths, strict=True):
                if length > min(lengths) * (1.0 + GATHERED_FROM) and run[0].piece in names:
                    yield from _strokes(garment, run, lies)


def _hems(piece: Piece, hems: Mapping[str, float], lies: Lies) -> Iterator[FlatShape]:
    for line in piece.ring:
        depth = hems.get(line.opening or line.name, 0.0)
        if line.fate is Fate.HEMMED and depth:
            course = lies(Use(piece.name, line.name), sample_path(line.path))
            yield FlatShape(FlatKind.STITCHES, move_aside(course, -depth))


def _pockets(garment: Garment, piece: Piece, lies: Lies) -> Iterator[FlatShape]:
    for each in piece.of_kind(Applied):
        course = lies(Use(piece.name, piece.ring[0].name), sample_path(each.path))
        uses = tuple(Use(each.name, line.name) for line in garment.piece(each.name).ring)
        yield FlatShape(FlatKind.CLOTH, course, each.name)
        yield FlatShape(FlatKind.EDGE, np.concatenate([course, course[:1]]), uses=uses)


def _buttons(garment: Garment, piece: Piece, lies: Lies) -> Iterator[FlatShape]:
    use = Use(piece.name, piece.ring[0].name)
    size = max((closure.button for closure in garment.closures), default=0.0)
    holes = buttonholes(piece.drills)
    for path in holes.values():
        course = lies(use, sample_path(path))
        yield FlatShape(FlatKind.OPENING, course)
        yield FlatShape(FlatKind.BUTTON, _circle(course.mean(axis=0), size / 2.0))


def _circle(middle: Points, radius: float) -> Points:
    turns = np.linspace(0.0, 2.0 * np.pi, 25)
    return np.asarray(middle + radius * np.stack([np.cos(turns), np.sin(turns)], axis=1))


def _zip(garment: Garment, closure: Closure, lies: Lies) -> Iterator[FlatShape]:
    names = {use for name in closure.seams for seam in garment.seams if seam.name == name for use in seam.uses()}
    for use in sorted(names, key=lambda use: (use.piece, use.line)):
        course = lies(use, sample_path(garment.path(use)))
        yield FlatShape(FlatKind.OPENING, course)
        yield FlatShape(FlatKind.STITCHES, move_aside(course, -_ZIP_WIDE))


def _strokes(garment: Garment, run: Run, lies: Lies) -> Iterator[FlatShape]:
    count = max(2, round(garment.run_length(run) / _GATHER_APART))
    course = lies(run[0], sample_run(garment, run, count + 1))
    inner = [move_aside(course, -long) for long in _GATHER_LONG]
    for i in range(1, count):
        end = inner[i % 2]
        if i < len(end):
            yield FlatShape(FlatKind.GATHERS, np.stack([course[i], end[i]]))
