"""Stays that are cut from a cloth of their own, where the ticket has one: strips, along it or on its bias."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from drafting.garment import Brief, Garment, Piece, Role, Zone
from drafting.garment.carry import with_only
from drafting.garment.features import StayCut
from drafting.garment.model import STAY
from drafting.geometry import turn
from drafting.trade import TradeValue

STRAIGHT_STAY = TradeValue(0.04, "share", "from memory")
"""By which one edge of a strip that lies along a curve is longer than the other at most, so that it is cut along the
cloth: it doesn't stretch then, and hardly bends. On a narrower curve lies one cut on the bias (common practice)."""


LIKE_CURVES = TradeValue(0.25, "share", "from memory")
"""Of that from which a curve is cut as the more bent ones of its kind are."""


def cut_stay_strips(garment: Garment, brief: Brief) -> Garment:
    """Return the garment with its stays cut from the stay cloth as strips; as it is where the ticket has none."""
    if STAY not in brief.cloths:
        return garment
    taped = [(piece, zone) for piece in garment.pieces for zone in piece.zones if zone.taped]
    most: dict[Role, float] = {}
    for piece, zone in taped:
        role = piece.line(zone.line).role
        most[role] = max(most.get(role, 0.0), _bend(piece, zone))
    changed = [
        with_only(piece, Zone, [_cut_stay(piece, zone, most) for zone in piece.zones])
        for piece in garment.pieces
        if any(zone.taped for zone in piece.zones)
    ]
    return garment.with_(pieces=changed) if changed else garment


def _cut_stay(piece: Piece, zone: Zone, most: Mapping[Role, float]) -> Zone:
    """A stay cut as a strip; what is only stay-stitched as it is.

    Curves of one kind, as a neckline's, are cut alike: on the bias if the most bent asks for it and this one, too, is
    no straight edge.
    """
    if not zone.taped:
        return zone
    role = piece.line(zone.line).role
    bias = most[role] > STRAIGHT_STAY and _bend(piece, zone) > STRAIGHT_STAY * LIKE_CURVES
    return replace(zone, cut=StayCut.BIAS if bias else StayCut.STRAIGHT)


def _bend(piece: Piece, zone: Zone) -> float:
    """By what share of its length one edge of a strip along a curve is longer than the other."""
    path = piece.line(zone.line).path
    return zone.width * abs(turn(path.tangent(0.0), path.tangent(path.length))) / path.length
