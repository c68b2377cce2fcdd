"""Hems that lie on or near the bias, as the ticket turns their pieces: by how much they give, and drop as they hang."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from drafting.cloth import Cloth, Kind
from drafting.cloth.turned import stretch_at
from drafting.garment import Brief, Fate, Garment, Piece, Role
from drafting.garment.carry import with_features
from drafting.garment.features import DroppingEdge
from drafting.garment.laying import ASLANT
from drafting.geometry import Point
from drafting.saying import Words, mm, say
from drafting.trade import TradeValue

BIAS_DROP = TradeValue(0.025, "share", "from memory", "1 to 2 cm of a skirt on the bias")
"""Of its height by which a woven piece on the true bias drops as it hangs for a day."""

NEAR_BIAS = math.pi / 4.0 - ASLANT
"""From the bias, within which a hem is said to give: half-way to the straight."""


def note_bias_hems(garment: Garment, brief: Brief) -> Garment:
    """Return the garment with what its hems near the bias do noted on their pieces, which are laid so by the ticket.

    A woven's hang before they are levelled.
    """
    changed = [
        _note_hem(piece, brief.cloth_named(piece.cloth), hem)
        for piece in garment.pieces
        for hem in [_find_hem(piece)]
        if hem is not None
    ]
    return garment.with_(pieces=changed) if changed else garment


def _find_hem(piece: Piece) -> Point | None:
    """Which way the longest hem of a turned piece runs that lies near the bias; None where none does."""
    found = [line.path for line in piece.lines(role=Role.HEM) if line.fate is Fate.HEMMED and piece.laid is not None]
    near = [path for path in found if abs(_angle_of(piece, path.end - path.start) - math.pi / 4.0) <= NEAR_BIAS]
    return max(((path.end - path.start) for path in near), key=lambda way: way.length, default=None)


def _angle_of(piece: Piece, way: Point) -> float:
    """The angle between a way and the threads that run across the cloth, from 0 to a quarter turn."""
    return math.atan2(abs(way.dot(piece.grain.unit)), abs(way.dot(piece.grain.unit.right)))


def _note_hem(piece: Piece, cloth: Cloth, hem: Point) -> Piece:
    noted = replace(piece, notes=(*piece.notes, *_tell_hem(piece, cloth, _angle_of(piece, hem))))
    return with_features(noted, (DroppingEdge(),)) if cloth.kind is Kind.WOVEN else noted


def _tell_hem(piece: Piece, cloth: Cloth, angle: float) -> Iterator[Words]:
    """What a cutter is told: the share that the hem gives along itself, and how far it drops."""
    gives = stretch_at(cloth, angle)
    if cloth.kind is Kind.WOVEN:
        _, low, _, high = piece.outline.bounds
        drop = (high - low) * BIAS_DROP * math.sin(2.0 * angle) ** 2
        yield say(
            "The hem lies near the bias: it gives by {gives:.0%} and drops by about {drop}. Let it hang for a day, "
            "level it, then hem it.",
            gives=gives,
            drop=mm(drop),
        )
    else:
        yield say(
            "The hem lies near the bias: it gives by {gives:.0%}. Sew it with a stitch that stretches, and don't pull.",
            gives=gives,
        )
