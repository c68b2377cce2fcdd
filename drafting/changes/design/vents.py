"""Vents: the lowest part of a side seam, or as a plain slit of the centre back, is left unsewn, its edges turned in."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from drafting.body.stride import middle_of_thigh, walking_height
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Fate,
    Garment,
    Line,
    Piece,
    Role,
    Side,
    Stage,
    Use,
    change,
    option,
    sides_of,
    substitute,
)
from drafting.garment.carry import hand_on
from drafting.garment.features import Heir
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.centre import with_centre_back
from drafting.redraw.heights import body_pieces
from drafting.redraw.hemline import find_hemline
from drafting.redraw.neckline_lines import LEAST_SEAM
from drafting.redraw.vents import LEAST_VENT, below_hip
from drafting.saying import Words, mm, say
from drafting.trade import TradeValue

BELOW_HIP = TradeValue(0.5, "share", "from memory", "18 to 20 cm of a dress to the knee")
"""Of what hangs below the hip that a vent is high."""

_Successors = dict[tuple[str, str], tuple[Use, ...]]


@dataclass(frozen=True, slots=True)
class VentsOptions:
    """Options of the change."""

    height: float | None = option(
        say(
            "How much of the seam, from the hem up, is left unsewn; by rule half of what hangs below the hip, {least} "
            "at least, or as much more as a step wants.",
            least=mm(LEAST_VENT),
        ),
        "length",
        None,
        low=20.0,
        high=500.0,
    )
    side: str = option(
        "Which side seams, or the centre back, which then gets a seam and a plain slit, without an underlap.",
        "choice",
        "both",
        choices=("both", "left", "right", "back"),
    )


@change(
    "vents",
    "Vents at the lower end of the side seams, or a slit at the centre back.",
    Stage.SHAPE,
    mends=(Mend("hem-hobbles", 'add the change "{change}", {height} high or more, side = "back" or "both"'),),
)
def open_vents(garment: Garment, brief: Brief, o: VentsOptions) -> Garment:
    """Leave the lowest part of the seams asked for unsewn."""
    height = o.height if o.height is not None else _height_by_rule(garment, brief)
    if o.side == "back":
        return _vent(with_centre_back(garment), height, "back")
    for side in sides_of(o.side):
        garment = _vent(garment, height, side)
    return garment


def _height_by_rule(garment: Garment, brief: Brief) -> float:
    """Return how high a vent is (mm): a longer skirt has longer ones, and the hem above them lets one step."""
    pieces = body_pieces(garment)
    rule = max(below_hip(pieces) * BELOW_HIP, LEAST_VENT)
    hems = [line.path for piece in pieces for line in piece.lines(role=Role.HEM) if line.fate is Fate.HEMMED]
    if not hems:
        return rule
    body = brief.body
    low = body["waist_height"] + body["back_neck_point_to_waist"] + min(path.bounds[1] for path in hems)
    reach = math.fsum(path.length for path in hems) * (1.0 + brief.cloth.stretch_round)
    return rule if low > middle_of_thigh(body) else max(rule, walking_height(body, reach, low) - low)


def _is_at(line: Line, place: str) -> bool:
    if place == "back":
        return line.role is Role.CENTRE and line.face is Face.BACK
    return line.role is Role.SIDE and line.side == place


def _vent(garment: Garment, height: float, place: str) -> Garment:
    new: _Successors = {}
    pieces = []
    for piece in body_pieces(garment):
        hem = find_hemline(piece)
        ends = () if hem is None else ((hem.before, True), (hem.after, False))
        for line, at_end in ends:
            if _is_at(line, place):
                parts = _parts(line, at_end, height, place)
                piece = _replace_line(piece, line, parts, (parts[0] if at_end else parts[1]).name)
                new[piece.name, line.name] = (Use(piece.name, next(p.name for p in parts if p.fate is line.fate)),)
        pieces.append(piece)
    seams = [seam for seam in garment.seams if any((u.piece, u.line) in new for u in seam.uses())]
    if len(new) != 2 or len(seams) != 1 or len({(u.piece, u.line) for u in seams[0].uses()} & set(new)) != 2:
        both = "two halves of a back" if place == "back" else "a front and a back"
        raise CannotDraft(
            "side", say("the {words} isn't one of {both} that end in the hem", words=_words(place), both=both)
        )
    return garment.with_(
        pieces=pieces,
        seams=substitute(seams, new),
        facts=(
            Fact(
                f"vent_{place}",
                height,
                "mm",
                "choice",
                say("of the {seam} left unsewn above the hem", seam=_words(place)),
            ),
        ),
    )


def _words(place: str) -> Words:
    return "centre back" if place == "back" else say("{side} side seam", side=Side(place))


def _parts(line: Line, at_end: bool, height: float, place: str) -> tuple[Line, Line]:
    """Cut a line into its vent and the part that is sewn, in ring order."""
    path = line.path
    if line.fate is not Fate.SEWN:
        raise CannotDraft(
            "side", say("the {words} has a vent already", words=_words(place)), help="give each seam one vent"
        )
    left = path.length - height
    if left < LEAST_SEAM:
        raise CannotDraft(
            "height",
            say(
                "a vent of {height} leaves {left} of the {words}",
                height=mm(height),
                left=mm(max(left, 0.0)),
                words=_words(place),
            ),
            short_by=LEAST_SEAM - left,
            help="make it lower",
        )
    low, high = path.split(left if at_end else height)
    vent, sewn = (high, low) if at_end else (low, high)
    open_part = replace(line.part("vent", vent), fate=Fate.HEMMED, opening="hem")
    seam_part = line.part("seam", sewn)
    return (seam_part, open_part) if at_end else (open_part, seam_part)


def _replace_line(piece: Piece, line: Line, parts: Iterable[Line], sewn: str) -> Piece:
    """Return the piece with a line in parts; a zone along it stays on the part that is sewn."""
    ring = tuple(part for old in piece.ring for part in (parts if old is line else (old,)))
    return hand_on(replace(piece, ring=ring), {line.name: (Heir(sewn),)})
