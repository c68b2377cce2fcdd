"""A seam once it is pressed, seen from the wrong side: where its edges lie.

Pressed open, each edge lies on its own piece and shows its right side. Pressed to one side, both lie there, and what is
seen is the wrong side of the one that comes from the other piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from drafting.garment import Face, Piece, Role, Use
from drafting.garment.deeds import Handling
from drafting.garment.places import stay_reach
from drafting.output.layers.ply import RAW, VENT_JUTS, PliesDrawn, is_vent
from drafting.output.layers.unfold import courses_of, join_courses, move_aside, ribbon_along
from drafting.output.layers.view import ClothLayer, Points, StepView

BENEATH = 2.5
"""By which the lower of two edges is drawn to stand out beyond the upper (mm)."""

PRESSED: Mapping[Handling, str] = MappingProxyType({
    Handling.PRESSED_OPEN: "Pressed open, wrong side up",
    Handling.PRESSED_BACK: "Pressed to the back, wrong side up",
})  # fmt: skip
"""What the picture shows of each way."""


def press_edges(drawn: PliesDrawn, sewn: StepView, handling: Handling) -> StepView:
    """Return the picture of a seam that is sewn, its plies turned over, with its edges pressed as they are."""
    edges = (*_lay_edges(drawn, handling), *(_lay_stays(drawn) if handling is Handling.PRESSED_BACK else ()))
    return replace(sewn, title=PRESSED[handling], layers=(*sewn.layers[::-1], *edges))


def _lay_stays(drawn: PliesDrawn) -> Iterator[ClothLayer]:
    """The stays that the seam is sewn through, on the edge that lies uppermost: partly inside, partly on its edge."""
    base = drawn.plies[0]
    inward = drawn.find_inward(base.run[0])
    uses = [use for use in drawn.seam.uses() if drawn.garment.line(use).face is not Face.BACK]
    taped = ((drawn.garment.piece(use.piece), use.line) for use in uses)
    zones = [zone for piece, line in taped for zone in piece.zones if zone.line == line and zone.taped]
    if not zones:
        return
    back = inward if drawn.garment.line(base.run[0]).face is Face.BACK else -inward
    inside, on_edge = stay_reach(zones[0], RAW)
    for course in join_courses(list(courses_of(drawn.garment, base.run, base.laid))):
        strip = np.concatenate([move_aside(course, -back * inside), move_aside(course, back * on_edge)[::-1]])
        yield ClothLayer(strip, "", hatched=True, strip=True)


def _lay_vents(drawn: PliesDrawn) -> Iterator[ClothLayer]:
    """The edges of a vent below the seam, which lie on their pieces in one line with its edges, and are wider."""
    for ply in drawn.plies:
        sewn = {(use.piece, use.line) for use in ply.run}
        for name, lies in ply.laid.items():
            piece = drawn.garment.piece(name)
            for line in filter(is_vent, piece.ring):
                if sewn & {(name, beside(line.name).name) for beside in (piece.before, piece.after)}:
                    (course,) = courses_of(drawn.garment, (Use(name, line.name),), ply.laid)
                    wide = RAW * VENT_JUTS * (-1.0 if lies.flips else 1.0)
                    yield ClothLayer(ribbon_along(course, wide), "", strip=True)


def _lay_stands(drawn: PliesDrawn) -> Iterator[ClothLayer]:
    """The edges of a seam below a buttoned opening, one cloth with the stands above, which lie back with them."""
    lapped = {use: seam for seam in drawn.garment.seams if seam.kind.lapped for use in seam.plies[0]}
    wide = {(use.piece, use.line): seam.allowance or RAW for use, seam in lapped.items()}
    for ply in drawn.plies:
        for use, against in ((use, against) for use in ply.run for against in (False, True)):
            beyond = _find_over_darts(drawn.garment.piece(use.piece), use.line, against)
            if (use.piece, beyond) in wide:
                runs = Use(use.piece, use.line, against), Use(use.piece, beyond, against)
                below, above = courses_of(drawn.garment, runs, ply.laid)
                if use == ply.run[0 if use.against is against else -1]:  # its other end is raw
                    down = below[0] - below[1]
                    below = np.concatenate([[below[0] + down / np.hypot(*down) * RAW], below])
                way = (-1.0 if ply.laid[use.piece].flips else 1.0) * (-1.0 if against else 1.0)
                yield ClothLayer(_join_stand(below, above, way, wide[use.piece, beyond]), "", strip=True)


def _find_over_darts(piece: Piece, name: str, against: bool) -> str:
    """The line that follows on another of a piece's ring, or comes before it, darts between them shut."""
    go_on = piece.before if against else piece.after
    line = go_on(name)
    while line.role is Role.DART:
        line = go_on(line.name)
    return line.name


def _join_stand(below: Points, above: Points, way: float, wide: float) -> Points:
    """The outline of an edge and of the stand above, whose raw end reaches below the place where both meet."""
    on = (above[1] - above[0]) / np.hypot(*(above[1] - above[0])) * RAW
    edge, outer = move_aside(below, way * RAW), move_aside(above, way * wide)
    edge = edge[((edge - (edge[-1] - on)) * on).sum(axis=1) < 0.0]
    corner = np.stack([outer[0] - on, move_aside(above, way * RAW)[0] - on])
    return np.concatenate([below, above, outer[::-1], corner, edge[::-1]])


def _lay_edges(drawn: PliesDrawn, handling: Handling) -> Iterator[ClothLayer]:
    base = drawn.plies[0]
    inward = drawn.find_inward(base.run[0])
    back = inward if drawn.garment.line(base.run[0]).face is Face.BACK else -inward
    if handling is Handling.PRESSED_OPEN:
        yield from _lay_vents(drawn)
    for course in drawn.run_courses():
        if handling is Handling.PRESSED_OPEN:
            for way in (1.0, -1.0):
                yield ClothLayer(ribbon_along(course, way * RAW), "", strip=True)
        else:
            yield ClothLayer(ribbon_along(course, back * (RAW + BENEATH)), "", strip=True)
            yield ClothLayer(ribbon_along(course, back * RAW), "", wrong=True, strip=True)
    if handling is Handling.PRESSED_OPEN:
        yield from _lay_stands(drawn)
