"""Handedness: every piece is drawn from its right side, so that its left edges lie at the wearer's left.

Judged from where lines lie, not from the order or the names of pieces: seen from the right side a front has the
wearer's left at +x and a back at -x; a left sleeve has its front edge at -x and a right sleeve at +x.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from drafting.garment import Brief, Face, Garment, Line, Piece, Role, Seam, Side
from drafting.proof.finding import Finding, Severity
from drafting.tolerance import TOLERANCE

_ONE_SIDED = (Role.SIDE, Role.SHOULDER, Role.ARMHOLE, Role.UNDERARM, Role.CAP, Role.WRIST)
_OUTWARD = (Role.SIDE, Role.ARMHOLE)


def check_handed(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge each piece that has a left and a right or a front and a back, and each seam that belongs to one side."""
    pieces = (finding for piece in garment.pieces for finding in _piece(piece))
    return (*pieces, *(finding for seam in garment.seams for finding in _seam(garment, seam)))


def _piece(piece: Piece) -> Iterator[Finding]:
    if piece.face is not Face.NONE:
        sign = 1.0 if piece.face is Face.FRONT else -1.0
        gap = _gap(piece, lambda line: line.side is Side.LEFT, lambda line: line.side is Side.RIGHT)
        if gap is None and piece.side is not Side.NONE:
            gap = _outward_gap(piece)
        yield from _judge_side(piece, gap, sign, "left edges", "right edges")
    elif piece.side is not Side.NONE:
        sign = -1.0 if piece.side is Side.LEFT else 1.0
        gap = _gap(piece, lambda line: line.face is Face.FRONT, lambda line: line.face is Face.BACK)
        yield from _judge_side(piece, gap, sign, "front edge", "back edge")


def _gap(piece: Piece, one: Callable[[Line], bool], two: Callable[[Line], bool]) -> float | None:
    """How far the middle of some lines lies to the right (+x) of the middle of others (mm)."""
    ones = [_middle(line) for line in piece.ring if one(line)]
    twos = [_middle(line) for line in piece.ring if two(line)]
    return sum(ones) / len(ones) - sum(twos) / len(twos) if ones and twos else None


def _outward_gap(piece: Piece) -> float | None:
    """For a piece of one side: the gap from its other lines to those that lie outwards, turned to mean left."""
    gap = _gap(piece, lambda line: line.role in _OUTWARD, lambda line: line.role not in _OUTWARD)
    return gap if gap is None or piece.side is Side.LEFT else -gap


def _middle(line: Line) -> float:
    return (line.path.start.x + line.path.end.x) / 2.0


def _judge_side(piece: Piece, gap: float | None, sign: float, one: str, two: str) -> Iterator[Finding]:
    if gap is None or gap * sign > -TOLERANCE.same_point:
        return
    yield Finding(
        "handed.piece",
        Severity.ERROR,
        piece.name,
        gap,
        0.0,
        f"{piece.title or piece.name} is drawn from its wrong side: its {one} lie on the wrong side of its {two}",
        "mirror the piece, or give its lines the sides and faces that they have on the wearer",
    )


def _seam(garment: Garment, seam: Seam) -> Iterator[Finding]:
    """A shoulder, side or armhole belongs to one side of the wearer, so all its lines do."""
    lines = [garment.line(use) for use in seam.uses()]
    sides = {line.side for line in lines if line.role in _ONE_SIDED and line.side is not Side.NONE}
    if len(sides) == 2 and not any(_crosses_centre(garment, run_lines) for run_lines in _runs(garment, seam)):
        yield Finding(
            "handed.seam",
            Severity.ERROR,
            seam.name,
            float(len(sides)),
            1.0,
            f"{seam.title or seam.name} joins a left edge to a right edge",
            "sew left to left and right to right",
            "",
        )


def _runs(garment: Garment, seam: Seam) -> Iterator[list[Line]]:
    for run in seam.plies:
        yield [garment.line(use) for use in run]


def _crosses_centre(garment: Garment, lines: list[Line]) -> bool:
    """Whether one ply alone passes over both sides, as a hem or a style line across the body does."""
    return {Side.LEFT, Side.RIGHT} <= {line.side for line in lines}
