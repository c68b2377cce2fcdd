"""Darts: two legs of one length, a mouth that meets its edge when folded, a point set back.

what                              limit                          source
legs                              equal to 0.000001 mm           they are sewn to each other without ease
edge at the folded mouth          turns by 5 degrees at most     as where any edge runs on over a seam
angle between the legs            40 degrees                     from memory: a blunter dart stands off at its point
point short of the bust point     10 to 60 mm                    common practice: 20 to 30 mm, less on a small bust
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from drafting.garment import Brief, BustPoint, Garment, Line, Piece
from drafting.garment.darts import Dart, darts_of, drawn_angle, leg_lengths, mouth_edges
from drafting.geometry import Path, are_inside
from drafting.proof.finding import Finding, Severity
from drafting.redraw.mouths import bend_in_edge, folding
from drafting.saying import mm, say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

BLUNTEST_DART = TradeValue(math.radians(40.0), "rad", "from memory")
"""Between the legs of a dart beyond which it stands off in a point."""
NEAREST_POINT = TradeValue(10.0, "mm", "from memory", "2 to 3 cm, fuller intakes 4 to 5")
"""From its apex at least at which a dart's point stops."""
FARTHEST_SET_BACK = TradeValue(60.0, "mm", "from memory", "2 to 3 cm, fuller intakes 4 to 5")
"""From its apex at most at which a dart's point stops."""


def check_darts(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge the darts of every piece, and that each is sewn shut."""
    return tuple(finding for piece in garment.pieces for dart in darts_of(piece) for finding in _dart(piece, dart))


def _dart(piece: Piece, dart: Dart) -> Iterator[Finding]:
    place = f"{piece.name}.{dart.seam}"
    yield from _legs(dart, place)
    if dart.inside:
        yield from _judge_within(piece, dart, place)
    else:
        yield from _mouth(piece, dart, place)
        yield from _angle(dart, place)
    yield from _set_back(piece, dart, place)


def _legs(dart: Dart, place: str) -> Iterator[Finding]:
    for one, two in leg_lengths(dart):
        off = one - two
        if abs(off) > TOLERANCE.same_point:
            yield Finding(
                "darts.legs",
                Severity.ERROR,
                place,
                off,
                TOLERANCE.same_point,
                say(
                    "the legs of the dart differ by {off}; sewn together they would not end together",
                    off=mm(abs(off), 2),
                ),
                "draw both legs equally long from the point",
            )


def _mouth(piece: Piece, dart: Dart, place: str) -> Iterator[Finding]:
    gap = folding(dart).apply(dart.mouth_b).distance(dart.mouth_a)
    if gap > TOLERANCE.joint:
        yield Finding(
            "darts.mouth",
            Severity.ERROR,
            place,
            gap,
            TOLERANCE.joint,
            say(
                "folded shut, the two ends of the dart's mouth lie {gap} apart: the edge has a step there",
                gap=mm(gap, 2),
            ),
            "true the mouth: let both its ends be as far from the point",
        )
    before, after = mouth_edges(piece, dart)
    bend = bend_in_edge(piece, dart)
    if _one_edge(before, after) and abs(bend) > TOLERANCE.smooth_join:
        yield Finding(
            "darts.notch",
            Severity.ERROR,
            place,
            bend,
            TOLERANCE.smooth_join,
            f"folded shut, the edge turns by {abs(math.degrees(bend)):.1f} degrees at the dart's mouth",
            "true the mouth: fold the dart and draw the edge across it",
            "rad",
        )


def _one_edge(before: Line, after: Line) -> bool:
    """Whether the lines on either side of a mouth are one edge; at a corner of the piece a turn is meant."""
    return before.role is after.role and before.side is after.side


def _angle(dart: Dart, place: str) -> Iterator[Finding]:
    sharp = drawn_angle(dart)
    if sharp > BLUNTEST_DART:
        yield Finding(
            "darts.blunt",
            Severity.WARNING,
            place,
            sharp,
            BLUNTEST_DART,
            f"the dart opens by {math.degrees(sharp):.0f} degrees; so blunt a dart stands off at its point",
            "split it in two, or turn part of it to another place",
            "rad",
        )


def _set_back(piece: Piece, dart: Dart, place: str) -> Iterator[Finding]:
    """A dart that turns about a bust point stops short of it, but not by far."""
    if not any(mark.at.near(dart.apex, TOLERANCE.joint) for mark in piece.of_kind(BustPoint)):
        return
    if not NEAREST_POINT - TOLERANCE.joint <= dart.set_back <= FARTHEST_SET_BACK + TOLERANCE.joint:
        near = dart.set_back < NEAREST_POINT
        yield Finding(
            "darts.point",
            Severity.WARNING,
            place,
            dart.set_back,
            NEAREST_POINT if near else FARTHEST_SET_BACK,
            say(
                "the dart ends {set_back} from the bust point; its fullness is to lie over the bust, so "
                "it ends {nearest} to {farthest} short of it",
                set_back=tape(dart.set_back),
                nearest=tape(NEAREST_POINT),
                farthest=tape(FARTHEST_SET_BACK),
            ),
            "draw the point farther back" if near else "draw the point nearer to the bust point",
        )


def _judge_within(piece: Piece, dart: Dart, place: str) -> Iterator[Finding]:
    """A dart with two points lies inside its piece, clear of every other line, and runs clockwise as a hole does."""
    slit = dart.lines
    if any(not a.path.end.near(b.path.start, TOLERANCE.joint) for a, b in zip(slit, slit[1:] + slit[:1], strict=True)):
        yield _inner_error(
            place, "is open: its lines don't meet end to end", "let each line start where the last one ends"
        )
        return
    ring = Path.join(*(line.path for line in slit))
    if ring.area >= 0.0:
        yield _inner_error(place, "runs the wrong way round", "run its lines clockwise")
    points = np.array([(line.path.start.x, line.path.start.y) for line in slit])
    others = [line.path for line in piece.all_lines if line.dart != dart.called]
    clear = not any(line.path.crossings(other) for line in slit for other in others)
    if not (clear and are_inside(points, piece.outline.flatten()).all()):
        yield _inner_error(place, "runs over another line of its piece", "draw it shorter, or farther in")


def _inner_error(place: str, says: str, mend: str) -> Finding:
    return Finding("darts.within", Severity.ERROR, place, None, None, f"the dart within the piece {says}", mend, "")
