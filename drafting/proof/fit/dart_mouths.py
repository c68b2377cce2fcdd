"""Darts beside each other on an edge, and those that a rule split off.

    figure                                  usual                 source
    between two darts' mouths, on one edge  2.5 cm at least       from memory

Nearer to each other they can't both be pressed flat, and the strip between them stands off.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from drafting.garment import Brief, Garment, Piece
from drafting.garment.darts import Dart, darts_of, intake, mouth_edges
from drafting.mending import Situation, situation
from drafting.proof.finding import Finding, Severity
from drafting.proof.fit.row import FitRow
from drafting.redraw.dart_points import MOST_IN_BUST_DART
from drafting.redraw.split_darts import first_by_rule
from drafting.saying import say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_BETWEEN_DARTS = TradeValue(25.0, "mm", "from memory", "2.5 to 3 cm between two darts")
"""Between the mouths of two darts on one edge, at least."""

ELSEWHERE: Final = "let one of them open elsewhere"


def mouth_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How much of an edge lies between the mouths of two darts that follow each other on it."""
    for piece in garment.pieces:
        for one, two, apart in _neighbours(piece):
            one, two = sorted((one, two), key=lambda dart: (len(dart.stem), dart.stem))
            alike = one.apex.near(two.apex, TOLERANCE.joint)
            yield FitRow(
                "dart_mouths",
                f"{piece.name}.{one.seam}",
                say("{one} and {two}, between their mouths", one=one.title, two=two.title),
                LEAST_BETWEEN_DARTS,
                apart,
                least=0.0,
                of_body=False,
                severity=Severity.WARNING,
                remedy="" if alike else ELSEWHERE,
                wanted=_with_mends(one, two) if alike else None,
            )


def _neighbours(piece: Piece) -> Iterator[tuple[Dart, Dart, float]]:
    """Darts that follow each other on one edge, and how much (mm) of it lies between their mouths."""
    darts = [dart for dart in darts_of(piece) if not dart.inside]
    for one, two in zip(darts, (*darts[1:], *darts[:1]), strict=True) if len(darts) > 1 else ():
        start, end = piece.index(one.lines[-1].name) + 1, piece.index(two.lines[0].name)
        between = piece.ring[start:end] if start <= end else (*piece.ring[start:], *piece.ring[:end])
        if one.side is two.side and len({line.role for line in between}) <= 1:
            yield one, two, math.fsum(line.path.length for line in between)


def _with_mends(first: Dart, second: Dart) -> Situation:
    return situation("darts-near", ELSEWHERE, dart=first.stem, take=second.stem)


def tell_split_darts(garment: Garment) -> Iterator[Finding]:
    """Tell of each dart that a rule shared with a second, which nobody asked for: left and right once."""
    told = set[str]()
    for piece in garment.pieces:
        for dart in darts_of(piece):
            first = first_by_rule(garment, piece, dart)
            if first is not None and dart.stem not in told:
                told.add(dart.stem)
                yield _split(piece, first, dart)


def _split(piece: Piece, first: Dart, second: Dart) -> Finding:
    says = say(
        "one {first} dart would take in more than {most}, so half of it opens in a second one, at the {edge}; that is "
        'called "{name}"',
        first=first.words,
        most=tape(MOST_IN_BUST_DART),
        edge=mouth_edges(piece, second)[0].role.value,
        name=second.stem,
    )
    place = f"{piece.name}.{second.seam}"
    wanted = _with_mends(first, second)
    return Finding("fit.dart_split", Severity.NOTE, place, intake(second), MOST_IN_BUST_DART, says, wanted=wanted)
