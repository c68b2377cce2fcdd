"""Words on a piece: the title block in the roomiest place, and the names beside their lines.

Never over ink or each other.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import accumulate
from typing import Final

import numpy as np

from drafting.geometry import Affine
from drafting.output.pdf.ink import POINT, Floats, Text, sample_strokes
from drafting.output.pdf.text import ASCENT, DESCENT, text_width
from drafting.output.pictures.room import Room
from drafting.record import dataclass
from drafting.text import KEPT, clean_line, keep_figures
from drafting.tolerance import TOLERANCE

SIZES: Final = (12.0, 11.0, 10.0, 9.0, 8.0, 7.0, 6.0)
"""Sizes tried for the title block, in points; six is the smallest that reads well on a home printer."""

UNSEAMED: Final = 9.0
"""Down to this size the block keeps off the joins between pages."""

NAME_SIZES: Final = (7.5, 6.5, 6.0)
HEAD: Final = 1.5
LEADING: Final = 1.3


@dataclass(frozen=True, slots=True)
class WordBlock:
    """Lines of words, each with its size as a share of the block's.

    ``width`` and ``height`` are mm for one point of size.
    """

    lines: tuple[tuple[str, float], ...]
    width: float
    height: float


def block(lines: Sequence[tuple[str, float]]) -> WordBlock:
    """Return lines (words, share of size) with the room they need."""
    wide = max(text_width(words, share) for words, share in lines)
    high = sum(share for _, share in lines[:-1]) * LEADING + lines[-1][1] * (ASCENT + DESCENT)
    return WordBlock(tuple(lines), wide, high * POINT)


def blocks(head: str, rest: Sequence[str]) -> tuple[WordBlock, ...]:
    """Return the ways to set a title block.

    As a column, as a wide column, and as one line for narrow bands.
    """
    narrow = [(head, HEAD), *((part, 1.0) for line in rest for part in wrap_line(line, 40))]
    wide = [(head, HEAD), *((part, 1.0) for part in _run_on(rest, 72))]
    single = [("  \u00b7  ".join((head, *rest)), 1.0)]
    return tuple(block(lines) for lines in (narrow, wide, single))


def _run_on(parts: Sequence[str], most: int) -> list[str]:
    """Return parts one after the other in lines of about ``most`` letters; no line begins or ends with the dot between.

    >>> _run_on(("cut 1 on the fold", "main cloth", "draft mark K7QD"), 32)
    ['cut 1 on the fold  \u00b7  main cloth', 'draft mark K7QD']
    """
    out: list[str] = []
    for part in parts:
        joined = f"{out[-1]}  \u00b7  {part}" if out else part
        out[-1:] = [joined] if len(joined) <= most else [*out[-1:], *wrap_line(part, most)]
    return out


def wrap_line(line: str, most: int) -> list[str]:
    """Return a line parted at spaces into lines of about ``most`` letters; words longer than that are cut."""
    out: list[str] = []
    for word in keep_figures(line).split(" "):
        pieces = [word[i : i + most] for i in range(0, len(word), most)] or [""]
        for piece in pieces:
            if out and len(out[-1]) + 1 + len(piece) <= most:
                out[-1] = f"{out[-1]} {piece}"
            else:
                out.append(piece)
    return [part.strip().replace(KEPT, " ") for part in out if part.strip()] or [""]


def set_block(room: Room, ways: Sequence[WordBlock], xs: Sequence[float], ys: Sequence[float]) -> list[Text] | None:
    """Place a title block as large as it goes, off the page joins at ``xs`` and ``ys`` if it can.

    None if it finds no room.
    """
    unseamed = room.without(xs, ys)
    for place, sizes in ((unseamed, [s for s in SIZES if s >= UNSEAMED]), (room, SIZES)):
        for size in sizes:
            for way in ways:
                found = _fit_block(place, way, size)
                if found is not None:
                    _take(room, found)
                    return found
    return None


_PAD: Final = 1.0


def _fit_block(room: Room, way: WordBlock, size: float) -> list[Text] | None:
    wide, high = way.width * size + 2 * _PAD, way.height * size + 2 * _PAD
    corner = room.best(wide, high)
    if corner is not None:
        return _stack_lines(way, size, corner[0] + _PAD, corner[1] + high - _PAD, turned=False)
    corner = room.best(high, wide)
    if corner is not None:
        return _stack_lines(way, size, corner[0] + _PAD, corner[1] + _PAD, turned=True)
    return None


def _stack_lines(way: WordBlock, size: float, x: float, y: float, *, turned: bool) -> list[Text]:
    """Return a block's lines from its upper left corner (x, y), or, turned to read upwards.

    From its lower left.
    """
    out, down = [], 0.0
    for words, share in way.lines:
        base = down + share * size * ASCENT * POINT
        at = (x + base, y, math.pi / 2) if turned else (x, y - base, 0.0)
        out.append(Text(words, at[0], at[1], share * size, at[2], "title" if share > 1 else "label"))
        down += share * size * LEADING * POINT
    return out


def _take(room: Room, texts: Iterable[Text]) -> None:
    for text in texts:
        box = level_box(text)
        if box is not None:
            room.take_box(box)
            room.shun_box(box)


def box_points(text: Text, step: float) -> Floats:
    """Return points over the box that a text fills, no further apart than ``step`` mm."""
    wide, high = text_width(text.text, text.size), text.size * (ASCENT + DESCENT) * POINT
    low = -text.size * DESCENT * POINT
    c, s = math.cos(text.angle), math.sin(text.angle)
    local = _unit_grid(math.ceil(wide / step), math.ceil(high / step)) * (wide, high) + (0.0, low)
    return Affine(c, -s, text.x, s, c, text.y).apply_all(local)


@lru_cache(maxsize=512)
def _unit_grid(across: int, up: int) -> Floats:
    u, v = np.meshgrid(np.linspace(0, 1, across + 1), np.linspace(0, 1, up + 1))
    return np.stack([u.ravel(), v.ravel()], axis=1)


def set_name(
    room: Room,
    words: str,
    path: Floats,
    apart: float,
    kind: str,
    shares: Sequence[float],
    sizes: Sequence[float] = NAME_SIZES,
    shyly: bool = False,
) -> Text | None:
    """Place a name beside a line (cubics), ``apart`` mm off it, following its direction, in the first size that fits.

    ``shyly``: clear of page joins and other words. None if there is no room.
    """
    return set_along(room, words, Track.along(sample_strokes([path], 4.0)), apart, kind, shares, sizes, shyly)


def set_along(
    room: Room,
    words: str,
    line: Track,
    apart: float,
    kind: str,
    shares: Sequence[float],
    sizes: Sequence[float] = NAME_SIZES,
    shyly: bool = False,
) -> Text | None:
    """As ``set_name``, beside a line that is measured already."""
    words = clean_line(words, 100)
    if not words:
        return None
    for size in sizes:
        for text in _set_beside(line, words, size, apart + room.cell * 1.3, kind, shares):
            if _take_room(room, text, shyly):
                return text
    return None


def _take_room(room: Room, text: Text, shyly: bool) -> bool:
    """Take the room that a text needs, and tell whether it was free."""
    box = level_box(text)
    if box is not None:
        held = room.holds_box(box, shyly)
        if held:
            room.take_box(box)
            room.shun_box(box)
        return held
    points = box_points(text, room.cell / 2)
    held = room.holds(points, shyly)
    if held:
        room.take(points)
        room.shun(points)
    return held


def level_box(text: Text) -> tuple[float, float, float, float] | None:
    """Return the box that a level or upright text fills (xmin, ymin, xmax, ymax); None if it stands askew."""
    wide, low, high = text_width(text.text, text.size), text.size * DESCENT * POINT, text.size * ASCENT * POINT
    if abs(text.angle) < TOLERANCE.same_point:
        return text.x, text.y - low, text.x + wide, text.y + high
    if abs(text.angle - math.pi / 2) < TOLERANCE.same_point:
        return text.x - high, text.y, text.x + low, text.y + wide
    return None


@dataclass(frozen=True, slots=True)
class Track:
    """A polygon's points with how far along it each lies (mm)."""

    lengths: list[float]
    points: list[tuple[float, float]]

    @staticmethod
    def along(line: Floats) -> Track:
        """Measure a polygon, shape (m, 2)."""
        points = [(float(x), float(y)) for x, y in line.tolist()]
        return Track([0.0, *accumulate(map(math.dist, points, points[1:]))], points)

    def at(self, length: float) -> tuple[float, float]:
        """Return the point so far along; the ends beyond them."""
        i = min(max(bisect_right(self.lengths, length) - 1, 0), len(self.points) - 2)
        (x0, y0), (x1, y1) = self.points[i : i + 2]
        step = self.lengths[i + 1] - self.lengths[i]
        share = min(max((length - self.lengths[i]) / step, 0.0), 1.0) if step > 0 else 0.0
        return x0 + share * (x1 - x0), y0 + share * (y1 - y0)


def _set_beside(
    line: Track, words: str, size: float, apart: float, kind: str, shares: Sequence[float]
) -> Iterator[Text]:
    long = text_width(words, size)
    for share in shares:
        middle = share * line.lengths[-1]
        (ax, ay), (bx, by) = line.at(middle - long / 2), line.at(middle + long / 2)
        if (ax, ay) == (bx, by):
            continue
        angle = math.atan2(by - ay, bx - ax)
        if not -math.pi / 2 + 0.01 < angle <= math.pi / 2 + 0.01:
            angle += math.pi if angle <= 0 else -math.pi
        c, s = math.cos(angle), math.sin(angle)
        mx, my = (ax + bx) / 2, (ay + by) / 2
        for off in (apart + size * DESCENT * POINT, -apart - size * ASCENT * POINT):
            yield Text(words, mx - c * long / 2 - s * off, my - s * long / 2 + c * off, size, angle, kind)
