"""Words on a piece: the title block in the roomiest place, and the names beside their lines.

Never over ink or each other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from drafting.output.ink import POINT, Floats, Text, sampled
from drafting.output.room import Room
from drafting.output.text import ASCENT, DESCENT, clean, width

SIZES: Final = (12.0, 11.0, 10.0, 9.0, 8.0, 7.0, 6.0)
"""Sizes tried for the title block, in points; six is the smallest that reads well on a home printer."""

UNSEAMED: Final = 9.0
"""Down to this size the block keeps off the joins between pages."""

NAME_SIZES: Final = (7.5, 6.5, 6.0)
HEAD: Final = 1.5
LEADING: Final = 1.3


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of words, each with its size as a share of the block's.

    ``width`` and ``height`` are mm for one point of size.
    """

    lines: tuple[tuple[str, float], ...]
    width: float
    height: float


def block(lines: Sequence[tuple[str, float]]) -> Block:
    """Return lines (words, share of size) with the room they need."""
    wide = max(width(words, share) for words, share in lines)
    high = sum(share for _, share in lines[:-1]) * LEADING + lines[-1][1] * (ASCENT + DESCENT)
    return Block(tuple(lines), wide, high * POINT)


def blocks(head: str, rest: Sequence[str]) -> tuple[Block, ...]:
    """Return the ways to set a title block.

    As a column, as a wide column, and as one line for narrow bands.
    """
    narrow = [(head, HEAD), *((part, 1.0) for line in rest for part in wrapped(line, 40))]
    wide = [(head, HEAD), *((part, 1.0) for part in wrapped("  \u00b7  ".join(rest), 72))]
    single = [("  \u00b7  ".join((head, *rest)), 1.0)]
    return tuple(block(lines) for lines in (narrow, wide, single))


def wrapped(line: str, most: int) -> list[str]:
    """Return a line parted at spaces into lines of about ``most`` letters; words longer than that are cut."""
    out: list[str] = []
    for word in line.split(" "):
        pieces = [word[i : i + most] for i in range(0, len(word), most)] or [""]
        for piece in pieces:
            if out and len(out[-1]) + 1 + len(piece) <= most:
                out[-1] = f"{out[-1]} {piece}"
            else:
                out.append(piece)
    return [part.strip() for part in out if part.strip()] or [""]


def set_block(room: Room, ways: Sequence[Block], xs: Sequence[float], ys: Sequence[float]) -> list[Text] | None:
    """Place a title block as large as it goes, off the page joins at ``xs`` and ``ys`` if it can.

    None if it finds no room.
    """
    unseamed = room.without(xs, ys)
    for place, sizes in ((unseamed, [s for s in SIZES if s >= UNSEAMED]), (room, SIZES)):
        for size in sizes:
            for way in ways:
                found = _fit(place, way, size)
                if found is not None:
                    _take(room, found, way, size)
                    return found
    return None


_PAD: Final = 1.0


def _fit(room: Room, way: Block, size: float) -> list[Text] | None:
    wide, high = way.width * size + 2 * _PAD, way.height * size + 2 * _PAD
    corner = room.best(wide, high)
    if corner is not None:
        return _stacked(way, size, corner[0] + _PAD, corner[1] + high - _PAD, turned=False)
    corner = room.best(high, wide)
    if corner is not None:
        return _stacked(way, size, corner[0] + _PAD, corner[1] + _PAD, turned=True)
    return None


def _stacked(way: Block, size: float, x: float, y: float, *, turned: bool) -> list[Text]:
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


def _take(room: Room, texts: Iterable[Text], way: Block, size: float) -> None:
    for text in texts:
        room.take(box_points(text, room.cell / 2))


def box_points(text: Text, step: float) -> Floats:
    """Return points over the box that a text fills, no further apart than ``step`` mm."""
    wide, high = width(text.text, text.size), text.size * (ASCENT + DESCENT) * POINT
    low = -text.size * DESCENT * POINT
    c, s = math.cos(text.angle), math.sin(text.angle)
    local = _unit_grid(math.ceil(wide / step), math.ceil(high / step)) * (wide, high) + (0.0, low)
    points: Floats = local @ np.array([(c, s), (-s, c)]) + (text.x, text.y)
    return points


@lru_cache(maxsize=512)
def _unit_grid(across: int, up: int) -> Floats:
    u, v = np.meshgrid(np.linspace(0, 1, across + 1), np.linspace(0, 1, up + 1))
    return np.stack([u.ravel(), v.ravel()], axis=1)


def set_name(room: Room, words: str, path: Floats, apart: float, kind: str, shares: Sequence[float]) -> Text | None:
    """Place a name beside a line (cubics), ``apart`` mm off it, following its direction.

    None if there is no room.
    """
    words = clean(words, 100)
    if not words:
        return None
    line = sampled([path], 4.0)
    for size in NAME_SIZES:
        for text in _beside(line, words, size, apart + room.cell * 1.3, kind, shares):
            points = box_points(text, room.cell / 2)
            if room.holds(points):
                room.take(points)
                return text
    return None


def _beside(line: Floats, words: str, size: float, apart: float, kind: str, shares: Sequence[float]) -> Iterator[Text]:
    lengths = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    long = width(words, size)
    for share in shares:
        middle = share * float(lengths[-1])
        (ax, ay), (bx, by) = (_along(line, lengths, middle + half) for half in (-long / 2, long / 2))
        if (ax, ay) == (bx, by):
            continue
        angle = math.atan2(by - ay, bx - ax)
        if not -math.pi / 2 + 0.01 < angle <= math.pi / 2 + 0.01:
            angle += math.pi if angle <= 0 else -math.pi
        c, s = math.cos(angle), math.sin(angle)
        mx, my = (ax + bx) / 2, (ay + by) / 2
        for off in (apart + size * DESCENT * POINT, -apart - size * ASCENT * POINT):
            yield Text(words, mx - c * long / 2 - s * off, my - s * long / 2 + c * off, size, angle, kind)


def _along(line: Floats, lengths: Floats, at: float) -> tuple[float, float]:
    return float(np.interp(at, lengths, line[:, 0])), float(np.interp(at, lengths, line[:, 1]))
