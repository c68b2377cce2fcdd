"""Stripes as they will lie: on each piece by its grain and by how far it is moved against them when it is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from drafting.flat.bands import FINEST_DRAWN, Lies, Striped
from drafting.flat.shapes import FlatKind, FlatShape, Points, even_out, join_points, sample_path
from drafting.garment import Piece, Use
from drafting.trade import TradeValue

STRIPE_APART = TradeValue(20.0, "mm", "derived", "by drawing")
"""How far apart the points of a stripe are taken."""


def draw_stripes(piece: Piece, striped: Striped, lies: Lies) -> Iterator[FlatShape]:
    """Yield the stripes of a piece as they lie in the flat, none where none are placed on it."""
    if piece.name not in striped:
        return
    stripe, shift = striped[piece.name]
    along = stripe.direction == "along"
    loops = [_turn_over(join_points([sample_path(line.path) for line in loop]), along) for loop in piece.loops]
    use = Use(piece.name, piece.ring[0].name)
    for row in _rows(loops, stripe.repeat, -shift):
        yield FlatShape(FlatKind.STRIPE, lies(use, even_out(_turn_over(row, along), STRIPE_APART)))


def draw_sleeve_stripes(
    names: Sequence[str], striped: Striped, area: Points, top: float, frame: tuple[Points, Points, Points]
) -> Iterator[FlatShape]:
    """Yield the stripes of a sleeve that hangs: ``top`` is the height of its crown on its piece.

    ``frame`` is where the crown lies in the flat, and which ways lead across the sleeve to the body and down it.
    """
    crown, across, down = frame
    for stripe, shift in (striped[name] for name in names if name in striped):
        along = stripe.direction == "along"
        off = area - crown
        local = np.stack([_project(off, across), -_project(off, down)], axis=1)
        first = 0.0 if along else -shift - top
        for row in _rows([_turn_over(local, along)], stripe.repeat, first):
            right, up = _turn_over(row, along).T
            yield FlatShape(FlatKind.STRIPE, crown + right[:, None] * across - up[:, None] * down)


def _project(points: Points, way: Points) -> Points:
    return np.asarray(points[:, 0] * way[0] + points[:, 1] * way[1])


def _turn_over(points: Points, along: bool) -> Points:
    """Points with x and y exchanged, if stripes run along: rows are then what columns were."""
    return points[:, ::-1] if along else points


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
