"""Vents along with a hem: a body that is cut shorter has shorter vents, so that enough of the seam above is sewn."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Fate, Line, Piece, Role
from drafting.geometry import Path
from drafting.redraw.heights import level_height, lower_end
from drafting.saying import Words, mm, say
from drafting.trade import TradeValue

LEAST_VENT = TradeValue(80.0, "mm", "from memory")
"""That a vent is high by rule, at least."""

LEAST_ABOVE_VENT = TradeValue(20.0, "mm", "from memory")
"""Of a seam that is sewn above its vent, at least."""


def is_vent(line: Line) -> bool:
    """Tell whether a line is a vent: the lowest part of a side seam, or of the centre back, hemmed with the hem."""
    return line.role in (Role.SIDE, Role.CENTRE) and line.fate is Fate.HEMMED and line.opening == "hem"


def below_hip(pieces: Sequence[Piece]) -> float:
    """Return how much (mm) of pieces hangs below the hip, 0 where they end above it or show none."""
    hip = level_height(pieces, "hip")
    hem = max((y for y in map(lower_end, pieces) if y > -math.inf), default=hip)
    return 0.0 if hip is None or hem is None else max(hip - hem, 0.0)


def shorten_vents(pieces: Iterable[Piece], shorter: float) -> tuple[Piece, ...]:
    """Return pieces with their vents drawn on upwards, ready for their hems to be cut off ``shorter`` mm higher.

    What is left of a vent keeps its share of what hangs below the hip; it stays as high as the least vent by rule,
    where it was as high. CannotDraft where too little of the seam above would be left.
    """
    pieces = tuple(pieces)
    below = below_hip(pieces)
    share = max(below - shorter, 0.0) / below if below > 0.0 else 0.0
    heights: dict[tuple[Role, str], float] = {}
    for line in (line for piece in pieces for line in piece.ring if is_vent(line)):
        key = line.role, line.side.value
        heights[key] = min(heights.get(key, math.inf), line.path.length)
    for (role, side), height in heights.items():
        left = max(height * share, min(height, LEAST_VENT))
        up = left - (height - shorter)
        pieces = tuple(_draw_up(piece, role, side, up) for piece in pieces)
    return pieces


def _draw_up(piece: Piece, role: Role, side: str, by: float) -> Piece:
    """The piece with a vent longer at its top by an amount, the seam above as much shorter."""
    found = [line for line in piece.ring if is_vent(line) and (line.role, line.side.value) == (role, side)]
    for vent in found:
        before, after = piece.before(vent.name), piece.after(vent.name)
        down = before.role is role
        seam = before if down else after
        if seam.path.length - by < LEAST_ABOVE_VENT:
            raise CannotDraft(
                ("by", "to", "below_knee"),
                say(
                    "the vent of the {title} would leave {left} of the seam above it",
                    title=_words(vent),
                    left=mm(max(seam.path.length - by, 0.0)),
                ),
                short_by=by + LEAST_ABOVE_VENT - seam.path.length,
                help="shorten it by less, or make the vent lower",
            )
        first, second = (seam, vent) if down else (vent, seam)
        whole = Path.join(first.path, second.path)
        parts = whole.split(first.path.length + (-by if down else by))
        new = {first.name: parts[0], second.name: parts[1]}
        ring = tuple(replace(ln, path=new[ln.name]) if ln.name in new else ln for ln in piece.ring)
        piece = replace(piece, ring=ring)
    return piece


def _words(vent: Line) -> Words:
    return "centre back" if vent.role is Role.CENTRE else say("{side} side seam", side=vent.side)
