"""Panel seams that let fullness in: both edges swung out below the waist alike, their hems raised to meet them square.

The edges keep their lengths to each other, for they are swung about the waist by one angle to either side. What an edge
that slants would let the hem sag is taken off its end, so that the hem, sewn, is one fair line.

Source: fullness shared by all seams is common practice; the angle and what is taken off follow from plane geometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from drafting.errors import GeometryError
from drafting.garment import Line, Role
from drafting.geometry import Path, Point, turn
from drafting.record import dataclass
from drafting.redraw.panel_edges import Route, Splay, panel_edge
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

RAISED_OVER = TradeValue(0.7, "share", "from memory")
"""Of the shorter of the two hems beside a panel seam that is drawn anew to meet its edges square."""

LEAST_HEM = TradeValue(30.0, "mm", "from memory")
"""Of hem that each panel has at least, for its edge to be swung out."""

SAG_HANDLE = TradeValue(1.0 / 3.0, "share", "derived", "near that of a parabola, whose ends meet midway")
"""Of its chord that a raised hem's handles have."""

STEEPEST = TradeValue(math.radians(20.0), "rad", "from memory")
"""By which a panel's edge is swung out at most: with more it asks for a godet."""

_TRIES = 6


@dataclass(frozen=True, slots=True)
class _Hem:
    """The hem of one panel beside its seam: the path towards the seam, and where its edge starts to be redrawn."""

    line: Line
    towards: bool

    @property
    def path(self) -> Path:
        return self.line.path if self.towards else self.line.path.reversed()

    def meet(self, edge: Path, over: float) -> Line:
        """The line drawn fair over its last ``over`` mm to where an edge ends, square to it."""
        kept, at, way, square = self._ends(edge, over)
        handle = SAG_HANDLE * at.distance(edge.end)
        new = Path.cubic(at, at + way * handle, edge.end - square * handle, edge.end)
        path = Path.join(kept, new)
        return replace(self.line, path=path if self.towards else path.reversed())

    def lift(self, edge: Path, over: float) -> float:
        """By how much (mm) an edge is to end sooner for the hem to bend one way only, as a parabola does."""
        _, at, way, square = self._ends(edge, over)
        bend, gap = turn(way, square), edge.end - at
        up = way.left if bend > 0.0 else -way.left
        return (abs(math.tan(bend)) * gap.dot(way) / 2.0 - gap.dot(up)) * math.cos(bend)

    def _ends(self, edge: Path, over: float) -> tuple[Path, Point, Point, Point]:
        path = self.path
        kept = path.between(0.0, path.length - over)
        way = kept.tangent(kept.length)
        down = edge.tangent(edge.length)
        square = down.left if down.left.dot(way) > 0.0 else -down.left
        return kept, kept.end, way, square


def splay_panels(
    route: Route, left: Sequence[Line], right: Sequence[Line], top: float, by: float
) -> tuple[Route, tuple[Line, ...], tuple[Line, ...]]:
    """Return a route whose edges let ``by`` mm in at the hem between them, and what of the rings it leaves.

    ``left`` starts with the hem of the one panel, ``right`` ends with the other's; ``top`` is the height from which the
    edges swing out. GeometryError where the hem is too short beside the seam, or they would swing out too far.
    """
    hems = (_Hem(left[0], False), _Hem(right[-1], True))
    shortest = min(hem.line.path.length for hem in hems)
    if any(hem.line.role is not Role.HEM for hem in hems) or shortest < LEAST_HEM:
        raise GeometryError("the hem beside the panel seam is too short for its edge to be swung out")
    over, before = RAISED_OVER * shortest, math.fsum(hem.line.path.length for hem in hems)
    drop = max(top - hem.path.end.y for hem in hems)
    if drop <= 0.0:
        raise GeometryError("the panel seam ends above the height from which it would be swung out")
    bend = by / (2.0 * drop)
    for _ in range(_TRIES):
        if abs(bend) > STEEPEST:
            raise GeometryError(say("a panel seam can't let {by} in over {drop}", by=mm(by), drop=mm(drop)))
        drawn = replace(route, splay=Splay(top, bend))
        lift = math.fsum(hem.lift(edge, over) for hem, edge in zip(hems, _edges(drawn), strict=True)) / 2.0
        drawn = replace(route, splay=Splay(top, bend, max(lift, 0.0)))
        new = [hem.meet(edge, over) for hem, edge in zip(hems, _edges(drawn), strict=True)]
        grown = math.fsum(line.path.length for line in new) - before
        if abs(grown - by) <= TOLERANCE.arc_length:
            break
        bend *= by / grown
    return drawn, (new[0], *left[1:]), (*right[:-1], new[1])


def _edges(route: Route) -> tuple[Path, Path]:
    """Both panels' edges below the point that the seam runs over."""
    return panel_edge(route, True)[1], panel_edge(route, False)[1]
