"""Parting a piece in two along a line: what a style line, a yoke, a panel or a centre seam does to the garment."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from drafting.errors import DraftingError, GeometryError
from drafting.garment.model import (
    Adjust,
    Drill,
    Face,
    Garment,
    Level,
    Line,
    Piece,
    Role,
    Seam,
    Section,
    Side,
    Use,
    Zone,
    substitute,
)
from drafting.geometry import Path, Point
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class Place:
    """A place on a piece's outline: a line's name and the arc length (mm) along it, in its ring direction."""

    line: str
    s: float


@dataclass(frozen=True, slots=True)
class Cut:
    """The line that parts a piece: from ``start`` to ``end`` on its outline along ``path``.

    ``left`` and ``right`` give the name and title of the part that lies left and right of the path. The new edges are
    named ``name``.
    """

    start: Place
    end: Place
    path: Path
    name: str
    left: tuple[str, str]
    right: tuple[str, str]
    role: Role = Role.STYLE
    kind: str = "style"


def split_line(line: Line, s: float) -> tuple[Line, ...]:
    """Split a line at an arc length into parts "a" and "b" in ring order; at an end the line stays whole."""
    if s <= TOLERANCE.joint or s >= line.path.length - TOLERANCE.joint:
        return (line,)
    one, two = line.path.split(s)
    return line.part("a", one), line.part("b", two)


def with_split(garment: Garment, piece: str, line: str, s: float) -> Garment:
    """Return the garment with a line of a piece split at an arc length; seams, zones and lineage follow."""
    old = garment.piece(piece)
    parts = split_line(old.line(line), s)
    if len(parts) == 1:
        return garment
    ring = tuple(new for ln in old.ring for new in (parts if ln.name == line else (ln,)))
    share = s / old.line(line).path.length
    new = replace(old, ring=ring, zones=tuple(z for zone in old.zones for z in _zone_parts(zone, line, parts, share)))
    uses = {(piece, line): tuple(Use(piece, part.name) for part in parts)}
    swapped = garment.with_(pieces=[new])
    return replace(swapped, seams=substitute(garment.seams, uses))


def _zone_parts(zone: Zone, line: str, parts: tuple[Line, ...], share: float) -> Iterable[Zone]:
    """Hand a zone on to the parts of its line, each covering its own stretch."""
    if zone.line != line or len(parts) == 1:
        yield zone
        return
    for part, low, high in ((parts[0], 0.0, share), (parts[1], share, 1.0)):
        start, end = max(zone.start, low), min(zone.end, high)
        if end > start:
            yield replace(zone, line=part.name, start=(start - low) / (high - low), end=(end - low) / (high - low))


def part(garment: Garment, piece: str, cut: Cut, title: str) -> Garment:
    """Part a piece along a line and sew the two parts together again by a new seam named ``cut.name``-piece.

    Lines, seams, zones, levels and marks go with the part they lie on. DraftingError where the line leaves the piece.
    """
    garment, cut = _with_ends(garment, piece, cut)
    old = garment.piece(piece)
    left, right = _rings(old, cut)
    parts = tuple(_made(old, ring, *names) for ring, names in ((left, cut.left), (right, cut.right)))
    whole = abs(old.outline.area - sum(p.outline.area for p in parts))
    if whole > 0.01 or any(p.outline.area <= 0.0 for p in parts):
        raise DraftingError(f"the line across the {old.title.lower()} leaves it")
    homes = {ln.name: p.name for p in parts for ln in p.ring if ln.name != cut.name}
    uses = {(piece, ln.name): (Use(homes[ln.name], ln.name),) for ln in old.ring}
    seam = Seam(
        f"{cut.name}-{piece}",
        cut.kind,
        title,
        (Section(((Use(cut.left[0], cut.name),), (Use(cut.right[0], cut.name, True),)), (0.0, 0.0)),),
    )
    pieces = tuple(new for p in garment.pieces for new in (parts if p.name == piece else (p,)))
    return replace(garment, pieces=pieces, seams=(*substitute(garment.seams, uses), seam))


def _with_ends(garment: Garment, piece: str, cut: Cut) -> tuple[Garment, Cut]:
    """Split the lines on which the cut starts and ends, and place its ends on the parts."""
    for which in ("end", "start"):
        place: Place = getattr(cut, which)
        length = garment.piece(piece).line(place.line).path.length
        if TOLERANCE.joint < place.s < length - TOLERANCE.joint:
            garment = with_split(garment, piece, place.line, place.s)
            moved = Place(f"{place.line}/a", place.s)
            other: Place = cut.start if which == "end" else cut.end
            if other.line == place.line:
                first = other.s <= place.s
                other = Place(f"{place.line}/{'a' if first else 'b'}", other.s if first else other.s - place.s)
            cut = replace(cut, end=moved, start=other) if which == "end" else replace(cut, start=moved, end=other)
    return garment, cut


def _corner(piece: Piece, place: Place) -> int:
    """The index of the line that starts at a place which is a corner of the ring."""
    i = piece.index(place.line)
    return i if place.s <= TOLERANCE.joint else (i + 1) % len(piece.ring)


def _rings(piece: Piece, cut: Cut) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    a, b = _corner(piece, cut.start), _corner(piece, cut.end)
    path = cut.path.with_ends(piece.ring[a].path.start, piece.ring[b].path.start)
    edge = Line(cut.name, path, cut.role, Side.NONE, piece.face)
    back = replace(edge, path=path.reversed())
    n = len(piece.ring)

    def between(i: int, j: int) -> tuple[Line, ...]:
        return tuple(piece.ring[k % n] for k in range(i, j if j > i else j + n))

    return (edge, *between(b, a)), (back, *between(a, b))


def _made(old: Piece, ring: tuple[Line, ...], name: str, title: str) -> Piece:
    outline = Path.join(*(line.path for line in ring))
    names = {line.name for line in ring}
    sides = {line.side for line in ring if line.side is not Side.NONE}
    return replace(
        old,
        name=name,
        title=title,
        ring=ring,
        side=sides.pop() if len(sides) == 1 else old.side,
        face=old.face or Face.NONE,
        levels=tuple(Level(lv.name, p, lv.girth, lv.side) for lv in old.levels for p in clipped(lv.path, outline)),
        adjusts=tuple(Adjust(ad.name, p) for ad in old.adjusts for p in clipped(ad.path, outline)),
        drills=tuple(Drill(d.name, d.at) for d in old.drills if inside(d.at, outline.flatten())),
        zones=tuple(zone for zone in old.zones if zone.line in names),
    )


def inside(point: Point, outline: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> bool:
    """Tell whether a point lies inside a closed outline of chords, shape (m, 2)."""
    x, y = outline[:, 0], outline[:, 1]
    x2, y2 = np.roll(x, -1), np.roll(y, -1)
    straddles = (y > point.y) != (y2 > point.y)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = x + (point.y - y) * (x2 - x) / (y2 - y)
    return bool(np.count_nonzero(straddles & (at > point.x)) % 2)


def clipped(path: Path, outline: Path) -> tuple[Path, ...]:
    """Return the stretches of a path that lie inside a closed outline, in order."""
    try:
        found = sorted(c.s for c in path.crossings(outline))
    except GeometryError:
        found = []
    chords = outline.flatten()
    cuts = [0.0, *(s for s in found if TOLERANCE.flatten < s < path.length - TOLERANCE.flatten), path.length]
    out = []
    for low, high in pairwise(cuts):
        if high - low > TOLERANCE.flatten and inside(path.at((low + high) / 2.0), chords):
            out.append(path.between(low, high))
    return tuple(out)
