"""The signs on a piece: arrows, notches, drill marks, hatching.

Their meaning is common practice (double-ended arrow: grain; bent double arrow: on the fold; double line: lengthen or
shorten; crossed circle: a point inside; barred line: a buttonhole); each is drawn so that it can be told from the
others in grey.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from drafting.errors import GeometryError
from drafting.finishing.cutpiece import Mark, Notch
from drafting.geometry import Path, Point
from drafting.output.pdf.ink import STYLES, Fill, Floats, Stroke, circle, lines, sample_strokes

HEAD: Final = 6.0
"""Length of an arrow's head (mm)."""

Pair = tuple[float, float]


def _pair(point: Point) -> Pair:
    return point.x, point.y


def _arrow_head(tip: Point, along: Point, length: float = HEAD, half: float = 1.5) -> Floats:
    """Return a filled arrow head that points along a unit vector."""
    back = tip - along * length
    side = along.left * half
    notch = tip - along * (length * 0.8)
    return lines([_pair(tip), _pair(back + side), _pair(notch), _pair(back - side), _pair(tip)])


def _ends(mark: Mark) -> tuple[Point, Point, Point]:
    """Return a mark's ends and the unit vector from the first to the second."""
    a, b = mark.path.start, mark.path.end
    return a, b, (b - a).unit if a != b else Point(1.0, 0.0)


def grain(mark: Mark) -> tuple[list[Stroke], list[Fill]]:
    """Return the grain sign: a straight line with a filled head at each end."""
    a, b, along = _ends(mark)
    head = min(HEAD, a.distance(b) / 4)
    shaft = lines([_pair(a + along * head * 0.8), _pair(b - along * head * 0.8)])
    heads = np.concatenate([_arrow_head(b, along, head), _arrow_head(a, -along, head)])
    return [Stroke(STYLES["grain"], shaft, mark.name)], [Fill(STYLES["grain"], heads, mark.name)]


def stretch(mark: Mark) -> tuple[list[Stroke], list[Fill]]:
    """Return the greatest-stretch sign: a coiled line between open heads."""
    a, b, along = _ends(mark)
    length, across = a.distance(b), along.left
    head = min(4.0, length / 5)
    first, last = length * 0.3, length * 0.7
    waves = max(3, round((last - first) / 4.0))
    coil = [
        a
        + along * (first + (last - first) * i / (2 * waves))
        + across * (0.0 if i in (0, 2 * waves) else 1.5 * (-1) ** i)
        for i in range(2 * waves + 1)
    ]
    shaft = [_pair(a), *(_pair(p) for p in coil), _pair(b)]
    barbs = [
        [_pair(tip - way * head + across * (head * 0.5)), _pair(tip), _pair(tip - way * head - across * (head * 0.5))]
        for tip, way in ((a, -along), (b, along))
    ]
    return [Stroke(STYLES["stretch"], lines(shaft, *barbs), mark.name)], []


def fold_inset(mark: Mark) -> float:
    """Return how far inside its edge the on-the-fold sign stands (mm)."""
    return min(11.0, mark.path.start.distance(mark.path.end) * 0.1)


def on_fold(mark: Mark, inward: Point) -> tuple[list[Stroke], list[Fill]]:
    """Return the on-the-fold sign: a line beside the edge, its ends bent to the edge and pointing at it."""
    a, b, along = _ends(mark)
    back, inset = min(18.0, a.distance(b) * 0.12), fold_inset(mark)
    head = min(HEAD, inset * 0.6)
    feet = (a + along * back + inward * 0.6, b - along * back + inward * 0.6)
    knees = tuple(foot + inward * inset for foot in feet)
    bent = [feet[0] + inward * head * 0.8, *knees, feet[1] + inward * head * 0.8]
    heads = np.concatenate([_arrow_head(foot, -inward, head, head / 4) for foot in feet])
    style = STYLES["on-fold"]
    return [Stroke(style, lines([_pair(p) for p in bent]), mark.name)], [Fill(style, heads, mark.name)]


def adjust(mark: Mark) -> list[Stroke]:
    """Return the lengthen-or-shorten sign: two lines, 3 mm apart, about the path, which may be bent."""
    pair = np.concatenate([_parallel_cubics(mark.path, off) for off in (1.5, -1.5)])
    return [Stroke(STYLES["adjust"], pair, mark.name)]


def _parallel_cubics(path: Path, off: float) -> Floats:
    """Return the cubics of a path's parallel; of a path that bends too tightly for one, those of the path moved."""
    if not path.is_straight:
        try:
            return path.offset(-off).segments
        except GeometryError:
            pass
    along = (path.end - path.start).unit if path.start != path.end else Point(1.0, 0.0)
    return path.moved(along.left * off).segments


def buttonhole(mark: Mark) -> list[Stroke]:
    """Return the sign of a buttonhole: a line as long as it is, with a bar across each end (common practice)."""
    a, b, along = _ends(mark)
    bar = along.left * 2.0
    bars = ([_pair(end + bar), _pair(end - bar)] for end in (a, b))
    return [Stroke(STYLES["buttonhole"], lines([_pair(a), _pair(b)], *bars), mark.name)]


def zone(mark: Mark) -> list[Stroke]:
    """Return a zone to be stabilised: its outline and slanting lines 4 mm apart within."""
    outline = Stroke(STYLES["zone"], mark.path.segments, mark.name)
    ends = list(_hatching(sample_strokes([mark.path.segments], 4.0), 4.0))
    return [Stroke(STYLES["hatch"], lines(*ends), mark.name), outline] if ends else [outline]


def _hatching(ring: Floats, apart: float) -> Iterator[list[Pair]]:
    """Yield lines at 45 degrees inside a polygon."""
    level = (ring[:, 1] - ring[:, 0]) / math.sqrt(2)
    along = (ring[:, 1] + ring[:, 0]) / math.sqrt(2)
    after = np.roll(np.arange(len(ring)), -1)
    for at in np.arange(math.ceil(float(level.min()) / apart), float(level.max()) / apart) * apart:
        crossed = np.flatnonzero((level <= at) != (level[after] <= at))
        share = (at - level[crossed]) / (level[after[crossed]] - level[crossed])
        places = np.sort(along[crossed] + share * (along[after[crossed]] - along[crossed])).tolist()
        for u, v in zip(places[::2], places[1::2], strict=False):
            yield [((w - at) / math.sqrt(2), (w + at) / math.sqrt(2)) for w in (u, v)]


def notch(mark: Notch, side: float = 0.0) -> tuple[list[Stroke], list[Fill]]:
    """Return a notch: one wedge (front) or two (back) from the cut line inwards, and a tick on the stitch line.

    On the cloth's fold half of that, on the ``side`` where the piece lies (1 left of its way in, -1 right, 0 where it
    stands on no fold): opened out, it is whole. A point that isn't snipped is that tick alone.
    """
    depth = mark.at.distance(mark.on_stitch)
    reach = min(5.0, depth * 0.6) if depth > 1.0 else 4.0
    across = mark.inward.left
    shifts = [(i - (mark.count - 1) / 2) * 4.5 for i in range(mark.count)]
    wedges = []
    for shift in (each for each in shifts if each * side >= 0.0):
        foot = mark.at + across * shift
        left, right = (0.0 if shift == 0.0 and side == -way else 1.3 for way in (1.0, -1.0))
        corners = (foot + across * left, foot + mark.inward * reach, foot - across * right)
        wedges.append(lines([_pair(p) for p in (*corners, corners[0])]))
    ends = (-2.0 if side <= 0.0 else 0.0, 2.0 if side >= 0.0 else 0.0)
    tick = lines([_pair(mark.on_stitch + across * end) for end in ends])
    stem = lines([_pair(mark.at + mark.inward * reach), _pair(mark.on_stitch)]) if depth > reach else tick[:0]
    strokes = [Stroke(STYLES["notch"], np.concatenate([stem, tick]), mark.seam)] if depth > 1.0 else []
    if not mark.count:
        return [Stroke(STYLES["notch"], tick, mark.seam)], []
    return strokes, [Fill(STYLES["notch"], np.concatenate(wedges), mark.seam)]


def drill(name: str, at: Point) -> Stroke:
    """Return a point inside the piece: a crossed circle."""
    x, y = at
    cross = lines([(x - 5, y), (x + 5, y)], [(x, y - 5), (x, y + 5)])
    return Stroke(STYLES["drill"], np.concatenate([circle(x, y, 3.0), cross]), name)
