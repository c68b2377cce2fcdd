"""What lies on the pieces of a flat: hems stitched, pockets, buttons, zips and gathers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from drafting.flat.bands import Lies, move_aside
from drafting.flat.drawing_up import find_gathers
from drafting.flat.shapes import FlatKind, FlatShape, Points, sample_path, sample_run
from drafting.garment import Fate, Garment, Piece, Role, Run, Use, hanging_pieces
from drafting.garment.applied import Applied
from drafting.garment.closure import Closure, buttonholes
from drafting.garment.laying import Striped
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row
from drafting.work.telling import GATHERED_FROM, is_knit

GATHER_APART = TradeValue(14.0, "mm", "derived", "by drawing")
"""From one stroke that shows gathers to the next."""
GATHERS_LONG = trade_row((18.0, 34.0), "mm", "derived", "by drawing")
"""How long strokes that show gathers are, in turn."""
STITCHED_BESIDE = TradeValue(3.0, "mm", "derived", "by drawing")
"""How far from its edge what is sewn onto a face is stitched."""
ZIP_HALF_WIDE = TradeValue(5.0, "mm", "derived", "by drawing")
"""Half the width at which a zip is drawn."""
VENT_BAR = TradeValue(14.0, "mm", "derived", "by drawing")
"""How long the bar at the end of a vent is drawn."""

_VENTED = (Role.SIDE, Role.CENTRE)


def draw_marks(garment: Garment, pieces: Sequence[Piece], hems: Mapping[str, float], lies: Lies) -> Iterator[FlatShape]:
    """Yield what lies on some pieces, but the cloth of pockets; ``hems`` are hems' depths (mm) by opening."""
    for piece in pieces:
        yield from _hems(garment, piece, hems, lies)
        yield from _pockets(garment, piece, lies)
        yield from _buttons(garment, piece, lies)


def draw_zips(garment: Garment, names: frozenset[str], lies: Lies) -> Iterator[FlatShape]:
    """Yield the zips along edges of some pieces, each along those that it is sewn into."""
    for closure in garment.closures:
        if not closure.button:
            yield from _zip(garment, closure, names, lies)


def draw_gathers(garment: Garment, names: frozenset[str], lies: Lies) -> Iterator[FlatShape]:
    """Yield short strokes along what is gathered on the pieces named, before it is sewn or into its seam."""
    marked = set()
    for piece in (garment.piece(name) for name in sorted(names)):
        for line, points in find_gathers(piece):
            marked.add((piece.name, line.name))
            yield from draw_strokes(lies(Use(piece.name, line.name), points))
    for run in _gathered_runs(garment, names):
        if (run[0].piece, run[0].line) not in marked:
            count = max(2, round(garment.run_length(run) / GATHER_APART))
            course = lies(run[0], sample_run(garment, run, count + 1))
            yield from draw_strokes(course[::-1] if run[0].against else course)


def _gathered_runs(garment: Garment, names: frozenset[str]) -> Iterator[Run]:
    """The plies of seams, on some pieces, that are longer than what they are sewn to by more than is eased in."""
    for section in (section for seam in garment.seams for section in seam.sections):
        runs = [run for run in section.plies if run]
        if not any(garment.line(run[0]).role is Role.BAND for run in runs):
            least = min(garment.run_length(run) for run in runs) * (1.0 + GATHERED_FROM)
            yield from (run for run in runs if run[0].piece in names and garment.run_length(run) > least)


def draw_topstitching(garment: Garment, names: frozenset[str], lies: Lies) -> Iterator[FlatShape]:
    """Yield the stitching that shows along edges of some pieces that a seam's kind says are stitched down."""
    hanging = hanging_pieces(garment)
    for seam in (each for each in garment.seams if each.kind.topstitched):
        over = {use for use in seam.uses() if use.piece in hanging}
        for use in sorted(over or set(seam.uses()), key=lambda use: (use.piece, use.line)):
            line = garment.line(use)
            off = dict(seam.kind.topstitched).get(line.role)
            if off and use.piece in names:
                yield FlatShape(FlatKind.STITCHES, move_aside(lies(use, sample_path(line.path)), -off))


def _hems(garment: Garment, piece: Piece, hems: Mapping[str, float], lies: Lies) -> Iterator[FlatShape]:
    """Hems' stitching where it shows: a knit's, and that round a vent; a woven's hem is sewn blind."""
    knit = is_knit(garment)
    for line in piece.ring:
        depth = hems.get(line.opening or line.name, 0.0)
        if line.fate is Fate.HEMMED and depth and (knit or line.role in _VENTED):
            course = lies(Use(piece.name, line.name), sample_path(line.path))
            yield FlatShape(FlatKind.STITCHES, move_aside(course, -depth))
            if line.role in _VENTED:
                yield _bar_vent(course)


def _bar_vent(course: Points) -> FlatShape:
    """The bar at the upper end of a vent or a slit, into the cloth to the left of its edge."""
    falls = course[0, 1] > course[-1, 1]
    top, way = (course[0], course[1] - course[0]) if falls else (course[-1], course[-1] - course[-2])
    left = np.array([-way[1], way[0]]) / np.hypot(*way)
    return FlatShape(FlatKind.OPENING, np.stack([top, top + left * VENT_BAR]))


def draw_pocket_cloth(piece: Piece, lies: Lies, striped: Striped) -> tuple[list[FlatShape], list[FlatShape]]:
    """Return the cloth of what lies on a piece: that on which its stripes run on, and that which hides them."""
    met: list[FlatShape] = []
    hiding: list[FlatShape] = []
    for each in piece.of_kind(Applied):
        area = lies(Use(piece.name, piece.ring[0].name), sample_path(each.path))
        (met if each.name in striped else hiding).append(FlatShape(FlatKind.CLOTH, area, each.name))
    return met, hiding


def _pockets(garment: Garment, piece: Piece, lies: Lies) -> Iterator[FlatShape]:
    for each in piece.of_kind(Applied):
        course = lies(Use(piece.name, piece.ring[0].name), sample_path(each.path))
        uses = tuple(Use(each.name, line.name) for line in garment.piece(each.name).ring)
        yield FlatShape(FlatKind.EDGE, np.concatenate([course, course[:1]]), uses=uses)
        yield FlatShape(FlatKind.STITCHES, _inset(course, STITCHED_BESIDE))
        depth = max((line.turned or 0.0 for line in garment.piece(each.name).lines(role=Role.EDGE)), default=0.0)
        if depth:
            yield FlatShape(FlatKind.STITCHES, course[[-1, 0]] + _inward(course) * depth)


def _inset(course: Points, by: float) -> Points:
    """The edges of a pocket moved inwards, but where it opens."""
    ring = np.concatenate([course[-1:], course, course[:1]])
    turns = ring[1:] - ring[:-1]
    area = float((ring[:-1, 0] * turns[:, 1] - ring[:-1, 1] * turns[:, 0]).sum())
    return move_aside(course, -by if area > 0.0 else by)


def _inward(course: Points) -> Points:
    """The way from a pocket's opening to its bottom, of length 1."""
    way = course.mean(axis=0) - course[[0, -1]].mean(axis=0)
    return np.asarray(way / np.hypot(*way))


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


def _zip(garment: Garment, closure: Closure, names: frozenset[str], lies: Lies) -> Iterator[FlatShape]:
    found = {use for name in closure.seams for seam in garment.seams if seam.name == name for use in seam.uses()}
    for use in sorted(found, key=lambda use: (use.piece, use.line)):
        if use.piece in names:
            course = lies(use, sample_path(garment.path(use)))
            beside = move_aside(course, ZIP_HALF_WIDE if use.against else -ZIP_HALF_WIDE)
            low = 0 if course[0, 1] < course[-1, 1] else -1
            yield FlatShape(FlatKind.OPENING, course, uses=(use,))
            yield FlatShape(FlatKind.STITCHES, beside)
            yield FlatShape(FlatKind.STITCHES, np.stack([course[low], beside[low]]))


def draw_strokes(course: Points) -> Iterator[FlatShape]:
    """Yield short strokes from the inner points of a course into the cloth to the left of it."""
    way = np.gradient(course, axis=0)
    left = np.stack([-way[:, 1], way[:, 0]], axis=1) / np.maximum(np.hypot(*way.T), TOLERANCE.same_point)[:, None]
    for i in range(1, len(course) - 1):
        yield FlatShape(FlatKind.GATHERS, np.stack([course[i], course[i] + left[i] * GATHERS_LONG[i % 2]]))
