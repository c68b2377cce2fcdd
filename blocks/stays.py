"""Stays of a knit neckline: tape where it needn't stretch, and none where a band draws it in or the head stretches it.

A taped edge doesn't stretch; one that is gathered is as long as what it is gathered to. The back of a neck that is
banded is taped, with the shoulders, if the front can still stretch enough for the head; the front stays elastic, for a
band is sewn to it stretched (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from drafting.garment import Brief, Face, Fate, Garment, Piece, Run, Zone
from drafting.garment.carry import with_features, with_only
from drafting.garment.places import gathered_length
from drafting.redraw.onto import sew_edges
from drafting.saying import Words, specify
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

TAPE_WIDTH = TradeValue(13.0, "mm", "common practice", "1/2 in")
"""Of width of stay tape."""

AT_BACK = specify("stay tape in the back neck", "cut to the paper's length")
AROUND = specify("stay tape", "so that the neckline doesn't grow")


def stay_neck(garment: Garment, brief: Brief, run: Run) -> Garment:
    """Return the garment with the stays that its neckline, a run, can have: at the back, or none."""
    head = brief.body["head_girth"] + TOLERANCE.sewn_length
    back = tuple(use for use in run if garment.piece(use.piece).face is Face.BACK)
    whole, back_length = (garment.run_length(part) - gathered_length(garment, part) for part in (run, back))
    front = (use for use in run if garment.piece(use.piece).face is Face.FRONT)
    cloths = [brief.cloth_named(garment.piece(use.piece).cloth) for use in front]
    stretch = min((cloth.stretch_round for cloth in cloths), default=0.0)
    if back_length + (whole - back_length) * (1.0 + stretch) >= head:
        return _tape_run(garment, back, AT_BACK)
    return garment


def _tape_run(garment: Garment, run: Run, why: Words) -> Garment:
    """The garment with tape along the lines of a run that have none yet."""
    lines: dict[str, list[str]] = {}
    for use in run:
        lines.setdefault(use.piece, []).append(use.line)
    return garment.with_(pieces=[_with_tape(garment.piece(name), each, why) for name, each in lines.items()])


def _with_tape(piece: Piece, lines: list[str], why: Words) -> Piece:
    there = {zone.line for zone in piece.zones}
    return with_features(piece, (Zone(line, TAPE_WIDTH, why) for line in lines if line not in there))


def bind_edges(garment: Garment, run: Run, width: float) -> tuple[Piece, ...]:
    """Return the pieces whose edges are bound, their stays there no wider (mm) than the binding, which hides them."""
    bound = {(use.piece, use.line) for use in run}

    def narrow(piece: Piece) -> Iterator[Zone]:
        for zone in piece.zones:
            under = (piece.name, zone.line) in bound and zone.width > width
            yield replace(zone, width=width) if under else zone

    return tuple(with_only(piece, Zone, narrow(piece)) for piece in sew_edges(garment, run, Fate.BOUND))
