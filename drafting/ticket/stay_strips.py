"""Stays that are cut from a cloth of their own, where the ticket has one: strips, along it or on its bias."""

from __future__ import annotations

from dataclasses import replace

from drafting.garment import Brief, Garment, Piece, Zone
from drafting.garment.carry import with_only
from drafting.garment.features import StayCut
from drafting.garment.model import STAY
from drafting.geometry import turn
from drafting.trade import TradeValue

STRAIGHT_STAY = TradeValue(0.04, "share", "from memory")
"""By which one edge of a strip that lies along a curve is longer than the other at most, so that it is cut along the
cloth: it doesn't stretch then, and hardly bends. On a narrower curve lies one cut on the bias (common practice)."""


def cut_stay_strips(garment: Garment, brief: Brief) -> Garment:
    """Return the garment with its stays cut from the stay cloth as strips; as it is where the ticket has none."""
    if STAY not in brief.cloths:
        return garment
    changed = [
        with_only(piece, Zone, [_cut_stay(piece, zone) for zone in piece.zones])
        for piece in garment.pieces
        if any(zone.taped for zone in piece.zones)
    ]
    return garment.with_(pieces=changed) if changed else garment


def _cut_stay(piece: Piece, zone: Zone) -> Zone:
    """A stay cut as a strip; what is only stay-stitched as it is."""
    if not zone.taped:
        return zone
    path = piece.line(zone.line).path
    bent = zone.width * abs(turn(path.tangent(0.0), path.tangent(path.length))) / path.length
    return replace(zone, cut=StayCut.BIAS if bent > STRAIGHT_STAY else StayCut.STRAIGHT)
