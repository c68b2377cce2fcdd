"""Kinds of feature that the engine has never heard of, as somebody else's block may bring them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drafting.garment import Garment, PathFeature, Piece, PointFeature, Zone
from drafting.garment.carry import with_features
from drafting.geometry import Array, Point, is_inside
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Label(PointFeature):
    """A point with a label; on a level it is called after that: "bust|front|0"."""


@dataclass(frozen=True, slots=True)
class Tuck(PathFeature):
    """A line across the cloth, so many mm deep."""

    depth: float = 5.0


@dataclass(frozen=True, slots=True)
class Elastic(Zone):
    """A strip of elastic along an edge."""


SHARES = (0.2, 0.35, 0.65, 0.8)
"""Where along a level labels are put: off the centre, at which halves meet."""

EVERY, INSET = 60.0, 20.0
"""mm between the labels that are strewn over a piece, and that they keep off its outline."""


def labelled(garment: Garment) -> Garment:
    """Return the garment with labels on the levels of each piece and strewn over it."""
    pieces = (with_features(piece, (*_on_levels(piece), *_strewn(piece))) for piece in garment.pieces)
    return replace(garment, pieces=tuple(pieces))


def _on_levels(piece: Piece) -> Iterator[Label]:
    flat = piece.outline.flatten()
    for i, level in enumerate(piece.levels):
        for share in SHARES:
            at = level.path.at(level.path.length * share)
            if _within(piece, flat, at, INSET / 4.0):
                yield Label(f"{level.name}|{piece.name}|{i} {share}", at)


def _strewn(piece: Piece) -> Iterator[Label]:
    x0, y0, x1, y1 = piece.outline.bounds
    flat = piece.outline.flatten()
    for i in range(int((x1 - x0) / EVERY)):
        for j in range(int((y1 - y0) / EVERY)):
            at = Point(x0 + (i + 0.5) * EVERY, y0 + (j + 0.5) * EVERY)
            if _within(piece, flat, at, INSET):
                yield Label(f"|{piece.name}|{i} {j}", at)


def _within(piece: Piece, flat: Array, at: Point, inset: float) -> bool:
    return is_inside(at, flat) and piece.outline.nearest(at)[1] > inset


def labels_of(garment: Garment) -> dict[str, tuple[Piece, Point]]:
    """Return each label's piece and place by its name; AssertionError where one is there twice."""
    out: dict[str, tuple[Piece, Point]] = {}
    for piece in garment.pieces:
        for label in piece.of_kind(Label):
            assert label.name not in out, f"{label.name} is in {out[label.name][0].name} and in {piece.name}"
            out[label.name] = piece, label.at
    return out
