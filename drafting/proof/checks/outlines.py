"""Outlines: each closed, simple and anticlockwise; and each line fair, as a cutter would accept it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

import numpy as np

from drafting.finishing.plan import KNIT_ALLOWANCE
from drafting.garment import Brief, Fate, Garment, Line, Piece, Role
from drafting.geometry import (
    STRAIGHT,
    Array,
    count_seen_turns,
    count_side_changes,
    kinks,
    meets_itself_at,
    peaks,
    signed_area,
    turn,
)
from drafting.mending import situation
from drafting.proof.checks.samples import LineSamples
from drafting.proof.finding import Finding, Severity
from drafting.saying import Name, Words, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

MEANT_CORNER = TradeValue(math.radians(45.0), "rad", "from memory")
"""Of turn where a line is parted from which the corner is meant, as a square neckline has."""

_Bends = tuple[int, int]

# How often a line of a role may change the side it bends to, and how many times its bend may peak (common practice:
# a cap is hollow towards the underarm and round above; a side is hollow at the waist and round at the hip).
_PLAIN: _Bends = (1, 2)
_MEANT: Mapping[Role, _Bends] = MappingProxyType(
    {
        Role.NECKLINE: (0, 1),
        Role.ARMHOLE: (0, 1),
        Role.SHOULDER: (1, 2),
        Role.CAP: (1, 2),
        Role.SIDE: (2, 3),
        Role.CENTRE: (2, 3),
        Role.HEM: (2, 3),
    }
)
_RUNS_ON = frozenset({Role.NECKLINE, Role.ARMHOLE, Role.SHOULDER, Role.CAP, Role.SIDE, Role.UNDERARM, Role.WRIST})


def check_outlines(garment: Garment, brief: Brief, samples: Iterable[tuple[LineSamples, ...]]) -> tuple[Finding, ...]:
    """Judge the outlines and the lines they are made of."""
    found: list[Finding] = []
    for piece, lines in zip(garment.pieces, samples, strict=True):
        gaps = tuple(_gaps(piece))
        found += gaps
        if not gaps:
            found += outline_findings(piece.name, np.concatenate([line.points for line in lines]))
        found += _joints(piece)
        for line, taken in zip(piece.ring, lines, strict=True):
            found += _judge_fairness(piece, line, taken.curvature)
            found += _judge_tightness(piece, line, taken.curvature)
    return tuple(found)


def _error(code: str, place: str, value: float, limit: float, says: Words, mend: str, measure: str = "mm") -> Finding:
    return Finding(f"outlines.{code}", Severity.ERROR, place, value, limit, says, mend, measure)


def _gaps(piece: Piece) -> Iterator[Finding]:
    for line, following in zip(piece.ring, piece.ring[1:] + piece.ring[:1], strict=True):
        gap = line.path.end.distance(following.path.start)
        if gap > TOLERANCE.joint:
            yield _error(
                "open",
                f"{piece.name}.{line.name}",
                gap,
                TOLERANCE.joint,
                say(
                    "the outline is open: the {one:placed} ends {gap} from the start of the {other:placed}",
                    one=Name(line.name),
                    gap=mm(gap, 2),
                    other=Name(following.name),
                ),
                "let each line start where the one before it ends",
            )


def outline_findings(place: str, ring: Array) -> Iterator[Finding]:
    """Judge a closed ring of points, shape (m, 2), its first point not repeated: simple, and anticlockwise."""
    area = signed_area(ring)
    if area <= 0.0:
        yield _error("turned", place, area, 0.0, "the outline runs clockwise", "run it anticlockwise", "mm2")
    met = meets_itself_at(ring, touching=True)
    if met is not None:
        yield _error(
            "crossed",
            place,
            1.0,
            0.0,
            "the outline crosses or touches itself",
            "ask for less of what shortens or narrows the piece: its lines run over one another",
            "",
        )


def _joints(piece: Piece) -> Iterator[Finding]:
    """Judge where a line runs on in another of the same role and side within the piece: a cap's top, a parted side."""
    for line, following in zip(piece.ring, piece.ring[1:] + piece.ring[:1], strict=True):
        if line.role not in _RUNS_ON or line.role is not following.role or line.side is not following.side:
            continue
        if line is following:
            continue
        angle = turn(line.path.tangent(line.path.length), following.path.tangent(0.0))
        if abs(angle) > MEANT_CORNER and set(line.ancestry) & set(following.ancestry):
            continue
        if abs(angle) > TOLERANCE.smooth_join:
            yield _kink(
                f"{piece.name}.{line.name}",
                angle,
                say(
                    "where the {one:placed} runs on in the {other:placed}",
                    one=Name(line.name),
                    other=Name(following.name),
                ),
            )


def _kink(place: str, angle: float, where: Words) -> Finding:
    grave = abs(angle) > TOLERANCE.smooth_join
    return Finding(
        "outlines.kink",
        Severity.ERROR if grave else Severity.WARNING,
        place,
        angle,
        TOLERANCE.smooth_join if grave else TOLERANCE.tangent,
        say("the line has a kink of {turn:.1f} degrees {where}", turn=abs(math.degrees(angle)), where=where),
        "let the curve pass smoothly there, or part the line if a corner is meant",
        "rad",
    )


def _judge_fairness(piece: Piece, line: Line, curvature: Array) -> Iterator[Finding]:
    """Judge one line: no kink, no bend back and no bump beyond what a line of its role has."""
    place = f"{piece.name}.{line.name}"
    if len(line.path.segments) > 1:
        for s, angle in kinks(line.path):
            yield _kink(place, angle, say("{s} from its start", s=mm(s)))
    if line.role is Role.STYLE or _follows_edge(piece) or not (np.abs(curvature) > STRAIGHT).any():
        return
    back, most = _MEANT.get(line.role, _PLAIN)
    sides = count_side_changes(curvature)
    for code, found, limit, says in (
        ("bend", count_seen_turns(line.path) if sides > back else sides, back, "changes the side it bends to"),
        ("bump", peaks(curvature), most, "bends most"),
    ):
        if found > limit:
            yield Finding(
                f"outlines.{code}",
                Severity.WARNING,
                place,
                float(found),
                float(limit),
                say(
                    "the {line:placed} is wavy: it {says} {found}, where {most} is usual",
                    line=Name(line.name),
                    says=says,
                    found=_times(found),
                    most=f"{_times(limit)} at most" if limit else "never",
                ),
                measure="",
                wanted=situation(f"{line.role.value}-wavers", "ask for less of the change that bends it"),
            )


def _follows_edge(piece: Piece) -> bool:
    """Whether a piece is a facing: its lines are the garment's own, judged there, and within it one beside them."""
    return any(line.fate is Fate.RAW for line in piece.lines(role=Role.EDGE))


def _times(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _judge_tightness(piece: Piece, line: Line, curvature: Array) -> Iterator[Finding]:
    """Judge an end that bends to the outer side more tightly than its allowance: the cut edge would have no end there.

    Between its ends a line's cut edge is trimmed where it folds, as a cutter would.
    """
    if line.fate is not Fate.SEWN or line.role is Role.DART or line.path.is_straight:
        return
    radius = -1.0 / min(float(curvature[0]), float(curvature[-1]), -TOLERANCE.same_point)
    if radius < KNIT_ALLOWANCE:
        yield _error(
            "tight",
            f"{piece.name}.{line.name}",
            radius,
            KNIT_ALLOWANCE,
            say(
                "the {line:placed} bends with a radius of {radius} at its end, less than its seam allowance",
                line=Name(line.name),
                radius=mm(radius, 1),
            ),
            "draw it flatter there",
        )
