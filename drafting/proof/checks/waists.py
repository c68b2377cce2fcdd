"""Waists that no closure opens: as the garment is pulled on, the bust passes through.

A waist seam, or the level of the waist of a body that has none, is held against the bust as an opening is. A skirt's
own waist is one of its openings, and isn't told here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial

from drafting.cloth import Kind
from drafting.garment import Brief, Garment, Piece, Role, Seam
from drafting.mending import Situation, situation
from drafting.proof.checks.closures import opens_waist, quote_places, stretch_least, waist_levels
from drafting.proof.checks.passing import ToldPassing, judge_passing, wanted_spare
from drafting.proof.finding import Finding
from drafting.proof.rows import OpeningRow
from drafting.saying import Words, about, say


def waist_rows(garment: Garment, brief: Brief) -> tuple[OpeningRow, ...]:
    """Return a row for the waist that a garment is pulled on through; none where a closure opens it, or it has none."""
    rounds, edge = _waist_seam(garment), "waist seam"
    if not rounds and "waist" not in garment.openings:
        rounds, edge = [[(piece, level.path.length) for piece, level in waist_levels(garment)]], "waist"
    reach, waist = min((_reach_of(each, brief) for each in rounds), default=(0.0, 0.0))
    if not waist or opens_waist(garment):
        return ()
    called = brief.body.called.get("bust", "bust")
    bust = brief.body["bust_girth"]
    return (OpeningRow("waist", edge, waist, reach / waist - 1.0, reach, f"the {called}", bust, pulled=True),)


def _reach_of(parts: Iterable[tuple[Piece, float]], brief: Brief) -> tuple[float, float]:
    """How far parts of pieces reach stretched, each by the cloth of it that gives least, and unstretched (mm)."""
    parts = list(parts)
    reach = math.fsum(length * (1.0 + stretch_least(piece, brief)) for piece, length in parts)
    return reach, math.fsum(length for _, length in parts)


def check_waists(garment: Garment, brief: Brief, rows: Iterable[OpeningRow]) -> Iterator[Finding]:
    """Judge the rows: the bust passes, with something to spare."""
    way = _open_waist(garment)
    for row in rows:
        told = ToldPassing(
            row.edge,
            row.edge,
            row.must_pass,
            partial(_advise, row, brief),
            ": it can't be pulled on",
            "it is pulled on",
            way,
            wanted_to_spare=way,
        )
        found = judge_passing(row, told)
        if found is not None:
            yield found


def _advise(row: OpeningRow, brief: Brief, spare: float) -> Words:
    """What would let the bust pass, with something to spare anyhow: ease, and of a knit more stretch."""
    short = (row.must_pass + wanted_spare(row.must_pass)) / (1.0 + row.stretch) - row.length
    cloth = "" if brief.cloth.kind is Kind.WOVEN else ", or use a cloth with more stretch"
    return say(f"give the waist about {{short}} more ease{cloth}", short=about(short))


def _open_waist(garment: Garment) -> Situation:
    """What opens a waist: a closure, or of one that ends above it, more of its length."""
    for closure in garment.closures:
        return situation("closure-short-at", "let more of the seam open", place=str(closure.place))
    return situation("opening-tight", places=quote_places(("back", "left", "right")))


def _waist_seam(garment: Garment) -> list[list[tuple[Piece, float]]]:
    """What a seam that joins a bodice to a skirt goes round, layer by layer, by its pieces (mm)."""
    joined = [seam for seam in garment.seams if _joins_waists(garment, seam)]
    layers = [[use for seam in joined for use in seam.plies[k]] for k in (0, 1)] if joined else []
    return [[(garment.piece(use.piece), garment.path(use).length) for use in layer] for layer in layers]


def _joins_waists(garment: Garment, seam: Seam) -> bool:
    """Whether a seam sews a waist to a waist; what finishes the edge of one, as a waistband, doesn't."""
    return not seam.kind.by_edge and all(garment.line(use).role is Role.WAIST for use in seam.uses())
