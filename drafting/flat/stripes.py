"""Stripes as they will lie: on each piece by its grain and by how far it is moved against them when it is cut."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from drafting.cloth import Stripe
from drafting.flat.bands import FINEST_DRAWN, Lies
from drafting.flat.shapes import FlatKind, FlatShape, Points, even_out, join_points, sample_path
from drafting.garment import Face, Piece, Role, Use
from drafting.garment.laying import Striped, way_of_stripes
from drafting.trade import TradeValue

STRIPE_APART = TradeValue(20.0, "mm", "derived", "by drawing")
"""How far apart the points of a stripe are taken."""


def draw_stripes(piece: Piece, striped: Striped, lies: Lies) -> Iterator[FlatShape]:
    """Yield the stripes of a piece as they lie in the flat, none where none are placed on it."""
    for stripe, shift in striped.get(piece.name, ()):
        ways = _ways(piece, stripe)
        loops = [_take_along(join_points([sample_path(line.path) for line in loop]), ways) for loop in piece.loops]
        use = Use(piece.name, piece.ring[0].name)
        for row in _rows(loops, stripe.repeat, -shift):
            yield FlatShape(FlatKind.STRIPE, lies(use, even_out(_lay_along(row, ways), STRIPE_APART)))


def draw_sleeve_stripes(
    pieces: Sequence[Piece], face: Face, striped: Striped, area: Points, frame: tuple[Points, Points, Points]
) -> Iterator[FlatShape]:
    """Yield the stripes of a sleeve that hangs, seen from a face of the wearer.

    ``frame`` is where the crown lies in the flat, and which ways lead across the sleeve to the body and down it.
    """
    for piece in pieces:
        top, to_body = find_crown(piece, face)
        yield from _hang_stripes(piece, striped, area, frame, top, to_body)


def draw_cuff_stripes(
    cuff: Piece, to_body: float, striped: Striped, area: Points, frame: tuple[Points, Points, Points]
) -> Iterator[FlatShape]:
    """Yield the stripes of a cuff that hangs, its ends' seam towards the body.

    ``to_body`` is the way on its piece that leads there (1.0 rightwards, -1.0 leftwards), ``frame`` where the middle of
    its folded edge lies in the flat, and which ways lead across the cuff to the body and down it.
    """
    edges = [line.path for line in cuff.lines(role=Role.EDGE)]
    if edges:
        middle = edges[0].at(edges[0].length / 2.0)
        yield from _hang_stripes(cuff, striped, area, frame, np.array([middle.x, middle.y]), to_body)


def _hang_stripes(
    piece: Piece,
    striped: Striped,
    area: Points,
    frame: tuple[Points, Points, Points],
    origin: Points,
    to_body: float,
) -> Iterator[FlatShape]:
    """The stripes of a piece within an area of the flat, ``origin`` the place on it that lies at the frame's."""
    place, across, down = frame
    for stripe, shift in striped.get(piece.name, ()):
        ways = _ways(piece, stripe)
        hung = [across * (to_body * way[0]) - down * way[1] for way in ways]
        first = -shift - float(_take_along(origin[None], ways)[0, 1])
        for row in _rows([_take_along(area - place, hung)], stripe.repeat, first):
            yield FlatShape(FlatKind.STRIPE, place + _lay_along(row, hung))


def _ways(piece: Piece, stripe: Stripe) -> tuple[Points, Points]:
    """The way along the stripes of a piece, and the way in which they follow each other."""
    rise = way_of_stripes(piece.grain, stripe)
    along = piece.grain.unit if stripe.direction == "along" else piece.grain.unit.right
    return np.array([along.x, along.y]), np.array([rise.x, rise.y])


def _take_along(points: Points, ways: Sequence[Points]) -> Points:
    """How far points lie along two ways that are square to each other."""
    return np.stack([points[:, 0] * way[0] + points[:, 1] * way[1] for way in ways], axis=1)


def _lay_along(places: Points, ways: Sequence[Points]) -> Points:
    """The points that lie so far along two ways."""
    return np.asarray(places[:, :1] * ways[0] + places[:, 1:] * ways[1])


def find_crown(piece: Piece, face: Face) -> tuple[Points, float]:
    """Return the top of a sleeve's cap on its piece, and which way leads over that face of the wearer to the body."""
    caps = piece.lines(role=Role.CAP)
    top = max((p for line in caps for p in (line.path.start, line.path.end)), key=lambda p: p.y)
    sides = [line.path.at(line.path.length / 2.0).x - top.x for line in caps if line.face is face]
    return np.array([top.x, top.y]), -1.0 if math.fsum(sides) < 0.0 else 1.0


def _rows(loops: Sequence[Points], repeat: float, first: float) -> Iterator[Points]:
    """The stretches within some loops of all level lines a repeat apart, one of them at the height ``first``."""
    if repeat < FINEST_DRAWN:
        return
    low, high = min(loop[:, 1].min() for loop in loops), max(loop[:, 1].max() for loop in loops)
    for number in range(int(np.ceil((low - first) / repeat)), int(np.floor((high - first) / repeat)) + 1):
        height = first + number * repeat
        crossed = np.sort(np.concatenate([_cross(loop, height) for loop in loops]))
        for left, right in zip(crossed[::2].tolist(), crossed[1::2].tolist(), strict=False):
            yield np.array([[left, height], [right, height]])


def _cross(loop: Points, height: float) -> Points:
    """Where a closed loop crosses a height."""
    after = np.roll(loop, -1, axis=0)
    crosses = (loop[:, 1] <= height) != (after[:, 1] <= height)
    a, b = loop[crosses], after[crosses]
    return np.asarray(a[:, 0] + (height - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0]))
