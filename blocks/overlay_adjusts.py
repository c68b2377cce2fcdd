"""Lengthen/shorten lines of an overlay and of what lies beneath it: at one height on all that is sewn together.

Such a line runs from the caught edge across the overlay and out at its hem. Where it would run along the hem, and
lengthen that instead, the line is drawn higher or lower, on the overlay and beneath it alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise

from blocks.overlay_lines import Ground
from drafting.garment import Adjust, Face, Line, Role
from drafting.garment.adjusting import STEEP_HEM
from drafting.garment.carry import with_only
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.trade import TradeValue

MOVED_BY, MOST_MOVED = (
    TradeValue(5.0, "mm", "from memory", "steps that are tried"),
    TradeValue(60.0, "mm", "from memory", "between bust and waist it matters little where"),
)
"""By which a lengthen/shorten line is drawn higher or lower: in steps, and at most."""

LEAST_ACROSS = TradeValue(60.0, "mm", "from memory", "a shorter one parts a corner off, and lengthens nothing")
"""Of a lengthen/shorten line on an overlay, at least."""

FROM_HEM = TradeValue(10.0, "mm", "from memory", "a narrower strip tears, and is lengthened along itself")
"""From the overlay's hem at least that a lengthen/shorten line passes it before it ends."""

FROM_LEVEL = TradeValue(10.0, "mm", "from memory")
"""From the bust or the waist at least that it is drawn."""


_Across = tuple[Point, Line, float]


def _lengthens_little(across: _Across) -> bool:
    """Whether a level line leaves the overlay soon after the caught edge, over the corner there, or grazes its hem."""
    held, line, s = across
    end = line.path.at(s)
    return held.distance(end) < LEAST_ACROSS or _grazes(line.path, held, end)


def _grazes(hem: Path, held: Point, end: Point) -> bool:
    """Whether an edge runs close beside a level line, and hardly away from it, between that one's ends."""
    low, high = sorted((held.x, end.x))
    return any(
        low < one.x < high
        and abs(one.y - end.y) < FROM_HEM
        and abs(two.y - one.y) < math.sin(STEEP_HEM) * one.distance(two)
        for one, two in pairwise(Point(float(x), float(y)) for x, y in hem.flatten())
    )


@dataclass(frozen=True, slots=True)
class DrawnOverlay:
    """One face: what the overlay is drawn onto, and the overlay's ring."""

    ground: Ground
    ring: tuple[Line, ...]

    def line(self, name: str) -> Line:
        """Return a line of the overlay by its name."""
        return next(line for line in self.ring if line.name == name)

    def across(self, y: float) -> _Across | None:
        """Where a level line leaves the caught edge, and the line, and how far along it (mm), at which it comes out."""
        edges = {line.name: line for line in self.ring}
        held = [edges["caught"].path.at(s) for s in edges["caught"].path.cross_level(y)]
        met = [(line, s) for name, line in edges.items() if name != "caught" for s in line.path.cross_level(y)]
        if not held or not met:
            return None
        return held[0], *min(met, key=lambda each: held[0].distance(each[0].path.at(each[1])))

    def height(self, adjust: Adjust) -> float:
        """The height (y) at which a line of the piece beneath meets the side that holds the overlay."""
        return max((adjust.path.start, adjust.path.end), key=lambda p: self.ground.seen(p).x).y

    def spreads(self, y: float) -> bool:
        """Whether the overlay can be spread along a level line: it is long, comes out at the hem, isn't along that."""
        found = self.across(y)
        if found is None or _lengthens_little(found):
            return False
        return found[1].role is Role.HEM and abs(found[1].path.tangent(found[2]).y) > _STEEP

    def keeps_from_levels(self, old: float, new: float) -> bool:
        """Whether a line moved so doesn't come near a level of the piece, nor pass it."""
        low, high = sorted((old, new))
        return not any(low - FROM_LEVEL < level.path.start.y < high + FROM_LEVEL for level in self.ground.piece.levels)

    def moved(self, by: Mapping[str, float]) -> DrawnOverlay:
        """Return it with the lines of the piece beneath higher by some amounts (mm), by their names."""
        piece = self.ground.piece
        lines = [each.along(each.path.moved(Point(0.0, by.get(each.name, 0.0)))) for each in piece.adjusts]
        return replace(self, ground=replace(self.ground, piece=with_only(piece, Adjust, lines)))


_STEEP = math.sin(STEEP_HEM + math.radians(1.0))


def agree_on_heights(drawn: Mapping[Face, DrawnOverlay]) -> Mapping[Face, DrawnOverlay]:
    """Return both faces with the lines beneath where the overlays can be spread along them too, if there is a place."""
    found: dict[str, dict[Face, float]] = {}
    for face, each in drawn.items():
        for adjust in each.ground.piece.adjusts:
            found.setdefault(adjust.name, {})[face] = each.height(adjust)
    by = {name: _shift(drawn, heights) for name, heights in found.items() if len(heights) == len(drawn)}
    return {face: each.moved(by) if any(by.values()) else each for face, each in drawn.items()}


def _shift(drawn: Mapping[Face, DrawnOverlay], heights: Mapping[Face, float]) -> float:
    """The least way (mm, up or down) to where both overlays can be spread; 0 where there is none, or none is held."""
    if not any(drawn[face].across(y) for face, y in heights.items()):
        return 0.0
    steps = range(int(MOST_MOVED / MOVED_BY) + 1)
    for by in (sign * step * MOVED_BY for step in steps for sign in (1.0, -1.0)):
        if all(drawn[face].spreads(y + by) for face, y in heights.items()) and (
            by == 0.0 or all(drawn[face].keeps_from_levels(y, y + by) for face, y in heights.items())
        ):
            return by
    return 0.0


def overlay_adjusts(drawn: DrawnOverlay) -> Iterator[Adjust]:
    """Yield the lengthen/shorten lines of the piece beneath that meet the caught edge, on across the overlay.

    There they run on at the same height until they leave it: what is spread beneath is spread on the overlay too. One
    that leaves it at once, or grazes its hem, is left out, and so the one beneath.
    """
    for adjust in drawn.ground.piece.adjusts:
        found = drawn.across(drawn.height(adjust))
        if found is not None and not _lengthens_little(found):
            held, line, s = found
            yield Adjust(adjust.name, Path.straight(held, line.path.at(s)))
