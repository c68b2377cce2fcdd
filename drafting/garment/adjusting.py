"""Lengthen/shorten lines as they can be used: from edge to edge of the piece, and at one place on all that is sewn.

A change may have moved the edges that such a line ended on: it is drawn on to where they are now, and parted where a
dart lies in its way. One that would end on a cap or a neckline, say, is left out: to cut there would alter more than
the length. A piece is spread on paper at its line, and each edge that the line meets grows by as much: where a layer
that is sewn to such an edge has no line at that place, the seam would no longer meet, and the line is left out too.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np

from drafting.garment.carry import with_only
from drafting.garment.features import Adjust
from drafting.garment.lines import Line, Role
from drafting.garment.model import Garment, Piece
from drafting.garment.seam import Run, Seam, Section
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

NEVER_ENDS_ON = frozenset({Role.WRIST, Role.WAIST, Role.CAP, Role.ARMHOLE, Role.NECKLINE, Role.SHOULDER})
"""Lines that run across the way a piece grows, or are fitted to another: a lengthen line that meets one is lost."""

STEEP_HEM = TradeValue(math.radians(20.0), "rad", "from memory")
"""Between a hem and a lengthen line that ends on it, at least: one that runs more level would be lengthened itself."""

HELD = TradeValue(0.5, "share", "from memory")
"""Of a stretch from edge to edge that a lengthen/shorten line must have had to be drawn there."""

NEAR_EDGE = TradeValue(1.0, "mm", "from memory")
"""From its edges within which a bent lengthen/shorten line must end."""

APART = TradeValue(15.0, "mm", "from memory", "as far as notches between them, which move with them, still agree")
"""Along a seam, beyond its ease, that the lines of two layers may lie apart and still be spread as one."""


@dataclass(frozen=True, slots=True)
class _End:
    """Where a stretch of a lengthen/shorten line meets a line of the outline, ``s`` mm along that."""

    line: Line
    s: float


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A lengthen/shorten line from edge to edge."""

    path: Path
    ends: tuple[_End, _End]


@dataclass(frozen=True, slots=True, eq=False)
class DrawnAdjust:
    """A lengthen/shorten line of a piece, in the stretches that can be drawn: none where it is lost."""

    piece: str
    adjust: Adjust
    stretches: tuple[_Stretch, ...]


@dataclass(frozen=True, slots=True)
class Unmatched:
    """A lengthen/shorten line that meets a seam where the layer ``other`` (a piece) of that seam has none."""

    drawn: DrawnAdjust
    seam: Seam
    other: str


def agree_adjusts(garment: Garment) -> tuple[Garment, tuple[Unmatched, ...]]:
    """Return the garment with its lengthen/shorten lines as they are drawn, and those that found no match."""
    every = [drawn for piece in garment.pieces if piece.adjusts for drawn in _draw(piece)]
    left, lost = [each for each in every if each.stretches], list[Unmatched]()
    while found := tuple(_find_unmatched(garment, left)):
        lost += found
        gone = {each.drawn for each in found}
        left = [each for each in left if each not in gone]
    kept: dict[str, list[Adjust]] = {each.piece: [] for each in every}
    for each in left:
        kept[each.piece] += (each.adjust.along(stretch.path) for stretch in each.stretches)
    pieces = [with_only(garment.piece(name), Adjust, adjusts) for name, adjusts in kept.items()]
    return garment.with_(pieces=pieces), tuple(lost)


def _draw(piece: Piece) -> Iterator[DrawnAdjust]:
    """The lengthen/shorten lines of a piece, each from edge to edge, or not at all."""
    for adjust in piece.adjusts:
        bent = not adjust.path.is_straight
        stretches = _as_bent(piece, adjust.path) if bent else _as_straight(piece, adjust.path)
        ends = [(stretch.path, end) for stretch in stretches for end in stretch.ends]
        yield DrawnAdjust(piece.name, adjust, () if any(_is_lost(path, end) for path, end in ends) else stretches)


def _is_lost(path: Path, end: _End) -> bool:
    if end.line.role is Role.HEM:
        between = abs((path.end - path.start).unit.cross(end.line.path.tangent(end.s)))
        return between < math.sin(STEEP_HEM)
    return end.line.role in NEVER_ENDS_ON


def _as_straight(piece: Piece, path: Path) -> tuple[_Stretch, ...]:
    """The stretches of a straight line, drawn on both ways, from edge to edge, that it lay on."""
    along, (low, high) = (path.end - path.start).unit, (0.0, path.length)
    meetings = sorted(_meet(piece, path), key=lambda found: found[0])
    pairs = zip(meetings[::2], meetings[1::2], strict=False)
    return tuple(
        _Stretch(Path.straight(path.start + along * a, path.start + along * b), (one, two))
        for (a, one), (b, two) in pairs
        if min(b, high) - max(a, low) > max(HELD * (b - a), TOLERANCE.sewn_length)
    )


def _meet(piece: Piece, path: Path) -> Iterator[tuple[float, _End]]:
    """Where a straight line, drawn on both ways, crosses the outline, and how far along it (mm, from its start)."""
    along, size = (path.end - path.start).unit, _size(piece)
    whole = Path.straight(path.start - along * size, path.end + along * size)
    for line in piece.all_lines:
        for found in line.path.crossings(whole):
            if found.s < line.path.length - TOLERANCE.joint:  # a corner is the start of the line after it
                yield found.t - size, _End(line, found.s)


def _size(piece: Piece) -> float:
    x0, y0, x1, y1 = piece.outline.bounds
    return math.hypot(x1 - x0, y1 - y0)


def _as_bent(piece: Piece, path: Path) -> tuple[_Stretch, ...]:
    """A bent line with its ends laid on the edges; nothing where it doesn't end near one."""
    one, two = (_nearest(piece, at) for at in (path.start, path.end))
    if one is None or two is None:
        return ()
    return (_Stretch(_ending_at(path, one.line.path.at(one.s), two.line.path.at(two.s)), (one, two)),)


def _ending_at(path: Path, start: Point, end: Point) -> Path:
    """The path with its ends moved, by little: its first and last stretch go with them, straight where they were."""
    parts, share = path.segments.copy(), np.array([[1.0], [2.0 / 3.0], [1.0 / 3.0], [0.0]])
    for last, by in ((False, start - path.start), (True, end - path.end)):
        segment = parts[-1][::-1] if last else parts[0]
        segment += share * (by.x, by.y)
    return Path.of(parts)


def _nearest(piece: Piece, at: Point) -> _End | None:
    (s, off), line = min(((line.path.nearest(at), line) for line in piece.all_lines), key=lambda found: found[0][1])
    return _End(line, s) if off <= NEAR_EDGE else None


Ends = Mapping[tuple[str, str], Sequence[tuple[float, DrawnAdjust]]]
"""What meets each line of the outline, by piece and line: how far along it (mm), and which lengthen/shorten line."""


def _find_unmatched(garment: Garment, every: Iterable[DrawnAdjust]) -> Iterator[Unmatched]:
    ends = defaultdict[tuple[str, str], list[tuple[float, DrawnAdjust]]](list)
    for each in every:
        for stretch in each.stretches:
            for end in stretch.ends:
                ends[each.piece, end.line.name].append((end.s, each))
    for seam in garment.seams if ends else ():
        for section in seam.sections:
            yield from _judge_section(garment, seam, section, ends)


def _judge_section(garment: Garment, seam: Seam, section: Section, ends: Ends) -> Iterator[Unmatched]:
    plies = [(run, tuple(_along_run(garment, run, ends))) for run in section.plies if run]
    if not any(found for _, found in plies):
        return
    sizes = [garment.run_length(run) for run, _ in plies]
    for (run, found), size in zip(plies, sizes, strict=True):
        for (other, others), other_size in zip(plies, sizes, strict=True):
            near = APART + abs(other_size - size)
            for s, drawn in found if other is not run else ():
                if not any(abs(t * size / other_size - s) <= near for t, _ in others):
                    yield Unmatched(drawn, seam, other[0].piece)


def _along_run(garment: Garment, run: Run, ends: Ends) -> Iterator[tuple[float, DrawnAdjust]]:
    at = 0.0
    for use in run:
        size = garment.line(use).path.length
        for s, drawn in ends.get((use.piece, use.line), ()):
            yield at + (size - s if use.against else s), drawn
        at += size
