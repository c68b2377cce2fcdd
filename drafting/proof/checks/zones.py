"""Stay zones: each lies along a line that its piece has."""

from __future__ import annotations

from drafting.garment import Brief, Garment, Piece, Zone
from drafting.proof.finding import Finding, Severity
from drafting.saying import Name, Words, mm, say


def check_zones(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge the zones: on a line of the piece (or a part of it), with a width, and from its start to its end."""
    return tuple(
        _finding(piece, zone, problem)
        for piece in garment.pieces
        for zone in piece.zones
        for problem in [_problem(piece, zone)]
        if problem
    )


def _problem(piece: Piece, zone: Zone) -> Words:
    if not piece.lines(zone.line):
        return say(
            "a stay is to lie along the {line:placed}, which the {piece:placed} doesn't have",
            line=Name(zone.line),
            piece=Name(piece.name),
        )
    if not (zone.width > 0.0 and 0.0 <= zone.start < zone.end <= 1.0):
        return say(
            "the stay along the {line:placed} has no area: width {width}, from {start:g} to {end:g}",
            line=Name(zone.line),
            width=mm(zone.width, None),
            start=zone.start,
            end=zone.end,
        )
    return ""


def _finding(piece: Piece, zone: Zone, problem: Words) -> Finding:
    return Finding(
        "zones.line",
        Severity.ERROR,
        f"{piece.name}.{zone.line}",
        zone.width,
        0.0,
        problem,
        "let the stay follow a line that the piece has, with a width and an extent",
    )
