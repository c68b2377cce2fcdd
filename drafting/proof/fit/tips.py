"""How far the shoulder's end of a knit with sleeves lies beyond the narrowest place of its armhole, front and back.

    figure                                         usual           source
    shoulder's end beyond the narrowest place      up to 2.5 cm    from memory, beyond 3.5 a tongue rides up there
    shoulder's end inside half of the across back  up to 6 mm      from memory: on it, or up to 1.5 cm beyond it

An armhole that comes in as for a narrow back, under a shoulder as long as the bone, hooks round the arm; one whose back
reaches farther out than its shoulder slants down without a hollow.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafting.garment import Brief, Face, Garment, Piece, Role, Side, hanging_pieces
from drafting.garment.armholes import take_armhole
from drafting.garment.departures import sum_departures
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.saying import say
from drafting.trade import TradeValue

MOST_JUT, TONGUE = (
    TradeValue(25.0, "mm", "from memory", "an armhole comes in by 1 to 2 cm from the shoulder's end"),
    TradeValue(35.0, "mm", "from memory"),
)
"""By which a shoulder's end lies beyond the narrowest place unsaid, and from which it is warned of."""

SLANTING, SLANTS_MUCH = (
    TradeValue(6.0, "mm", "from memory", "on the across back's line, or up to 1.5 cm beyond it"),
    TradeValue(10.0, "mm", "from memory"),
)
"""By which a shoulder ends inside half of the across back, half-way up its armhole, unsaid, and unwarned."""

SHORTER = "narrow the shoulder by as much as it is too far out, or cut the armhole in less"


def tip_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How far the shoulder's ends of a garment that is drafted to stretch jut out, on the face where it is farther.

    By what a change makes the shoulder longer it is meant to.
    """
    for side in (Side.LEFT, Side.RIGHT) if garment.needs.stretch > 0.0 else ():
        taken = take_armhole(garment, side)
        if taken is not None and taken.lies_flat and not taken.bare:
            longer = max(sum_departures(garment, "shoulder_length", side.value), 0.0)
            beyond = max(take_beyond(garment, face, side) for face in (Face.FRONT, Face.BACK))
            yield FitRow(
                "armhole_end",
                f"armhole-{side}",
                say("{side} shoulder's end beyond the armhole's narrowest place", side=side),
                0.0,
                beyond,
                longer,
                most=MOST_JUT,
                severity=Severity.WARNING if beyond > TONGUE + longer else Severity.NOTE,
                remedy=SHORTER,
                of_body=False,
            )
            yield _tell_slant(garment, side)


def _tell_slant(garment: Garment, side: Side) -> FitRow:
    """How far a shoulder ends inside half of the across back: by what a change makes it shorter it is meant to."""
    shorter = max(-sum_departures(garment, "shoulder_length", side.value), 0.0)
    inside = take_inside(garment, side)
    return FitRow(
        "shoulder_inside",
        f"armhole-{side}",
        say("{side} shoulder's end inside half of the across back", side=side),
        0.0,
        inside,
        shorter,
        most=SLANTING,
        severity=Severity.WARNING if inside > SLANTS_MUCH + shorter else Severity.NOTE,
        remedy=Retake(
            ("across_back_width", "shoulder_length"),
            "{again}: a back broad for its shoulders makes the armhole slant; if both are right, lengthen the shoulder "
            "by as much",
        ),
        of_body=False,
    )


def take_inside(garment: Garment, side: Side) -> float:
    """Return how far (mm) a back reaches beyond its shoulder's end half-way up its armhole; less than 0: not so far."""
    hanging = hanging_pieces(garment)
    backs = [piece for piece in garment.pieces if piece.face is Face.BACK and piece.name not in hanging]
    paths = [line.path for piece in backs for line in piece.lines(role=Role.ARMHOLE, side=side)]
    low, high = min(path.bounds[1] for path in paths), max(path.bounds[3] for path in paths)
    ends = [p for path in paths for p in (path.start, path.end)]
    end = abs(max(ends, key=lambda p: p.y).x)
    reach = [abs(path.at(s).x) for path in paths for s in path.cross_level((low + high) / 2.0)]
    return max(reach, default=end) - end


def take_beyond(garment: Garment, face: Face, side: Side) -> float:
    """Return how far (mm) a face's shoulder ends beyond the narrowest place of its armhole, across."""
    hanging = hanging_pieces(garment)
    worn = [piece for piece in garment.pieces if piece.face is face and piece.name not in hanging]
    reaches = [_reach(piece, side) for piece in worn if piece.lines(role=Role.ARMHOLE, side=side)]
    _, out = max(high for high, _ in reaches)
    return out - min(narrow for _, narrow in reaches)


def _reach(piece: Piece, side: Side) -> tuple[tuple[float, float], float]:
    """How high an armhole reaches on a piece, how far out it lies there, and where it is narrowest (mm)."""
    paths = [line.path for line in piece.lines(role=Role.ARMHOLE, side=side)]
    ends = ((end.y, abs(end.x)) for path in paths for end in (path.start, path.end))
    low, high = min(path.bounds[0] for path in paths), max(path.bounds[2] for path in paths)
    return max(ends), min(abs(low), abs(high))
