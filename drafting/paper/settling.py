"""Pieces on their tiles: which tiles each touches, and the small shifts by which its edge keeps off a join."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Point, distances_to, is_inside, signed_area
from drafting.geometry.cells import Floats, even_points, quarter_turn, ring_points
from drafting.paper.sheet import Placement
from drafting.record import dataclass

_INK: Final = 0.6
"""mm; no stroke reaches further beyond the cut line."""

_SHIFTS: Final = 7

SLIVER: Final = 8.0
"""A piece whose edge passes a join by less than this (mm) is shifted back where there is room: so narrow a strip of it
is a page to join for nothing, and is cut off by a sheet joined a little askew."""

_STEPS: Final = np.arange(-10.0, 10.5, 1.0)
"""How far a piece is shifted across or up at most, and in which steps (mm): less than any piece is wide."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A piece's cut outline as a polygon, with its lower left and upper right bound."""

    ring: Floats

    def corner(self, turn: int) -> tuple[float, float]:
        """The lower left bound, turned by quarter turns."""
        low = quarter_turn(self.ring, turn).min(axis=0)
        return float(low[0]), float(low[1])

    @property
    def reach(self) -> float:
        """The longer side of its bounds (mm)."""
        return float(np.ptp(self.ring, axis=0).max())

    @property
    def area(self) -> float:
        """What it encloses (mm2)."""
        return abs(signed_area(self.ring))


def outline_of(piece: CutPiece) -> Outline:
    """Return a piece's cut outline."""
    return Outline(ring_points([edge.path.segments for edge in piece.outline]))


def _edge_points(placements: Iterable[Placement], outlines: Sequence[Outline]) -> Floats:
    """Return points on and just beyond the outlines as placed: wherever the ink of a cut line may fall."""
    placed = [
        quarter_turn(even_points(outlines[p.piece].ring, 3.0), p.turn) + np.array((p.dx, p.dy)) for p in placements
    ]
    points = np.concatenate(placed)
    around = np.array([(_INK, 0.0), (-_INK, 0.0), (0.0, _INK), (0.0, -_INK)])
    spread: Floats = (points[:, None, :] + around).reshape(-1, 2)
    return spread


def shift_on_tiles(
    placements: list[Placement], outlines: Sequence[Outline], live: tuple[float, float], cell: float
) -> list[Placement]:
    """Move everything against the tile grid by up to a cell or so, where that saves a tile or a join passed."""
    placed = [place_ring(placement, outlines[placement.piece]) for placement in placements]
    points = _edge_points(placements, outlines)
    bounds = np.array([(ring.min(axis=0), ring.max(axis=0)) for ring in placed])
    steps = sorted(np.linspace(-1.5 * cell, 1.5 * cell, _SHIFTS).tolist(), key=abs)
    across = [_tiles_along(points[:, 0] + step, live[0]) for step in steps]
    up = [_tiles_along(points[:, 1] + step, live[1]) for step in steps]
    stride = max(int(row.max()) for row in up) + 1
    best, chosen = None, (0.0, 0.0)
    over = [[_count_joins(bounds[:, :, i] + step, live[i]) for step in steps] for i in range(2)]
    for dx, cols, past in zip(steps, across, over[0], strict=True):
        for dy, rows, above in zip(steps, up, over[1], strict=True):
            count = int(np.count_nonzero(np.bincount(cols * stride + rows))), past + above
            if best is None or count < best:
                best, chosen = count, (dx, dy)
    return [Placement(p.piece, p.turn, p.dx + chosen[0], p.dy + chosen[1]) for p in placements]


def _count_joins(bounds: Floats, side: float) -> int:
    """Return how many joins pieces pass one way, from their bounds, shape (k, 2), those passed by a sliver twice."""
    low, high = bounds[:, 0] - _INK, bounds[:, 1] + _INK
    passed = np.floor(high / side) - np.floor(low / side)
    slivers = (passed > 0) * (((-low) % side < SLIVER) * 1 + (high % side < SLIVER) * 1)
    return int((passed + slivers).sum())


def _tiles_along(at: Floats, side: float) -> npt.NDArray[np.intp]:
    """Return the number of the tile in which each coordinate lies, the sheet's first at 1."""
    return np.floor(at / side).astype(np.intp) + 1


def settle_pieces(
    placements: Sequence[Placement], outlines: Sequence[Outline], live: tuple[float, float], gap: float
) -> list[Placement]:
    """Shift each piece that passes a join by a sliver, where it can keep off it, ``gap`` mm from the others.

    No shift adds a tile, or takes a piece over a join more.
    """
    out = list(placements)
    on = [tiles_of(each, outlines[each.piece], live) for each in out]
    for i, placement in enumerate(placements):
        outline = outlines[placement.piece]
        if len(on[i]) == 1 or not count_slivers(placement, outline, live):
            continue
        allowed = set[tuple[int, int]]().union(*on)
        for moved in _list_shifts(placement, outline, live):
            tiles = tiles_of(moved, outline, live)
            if tiles <= allowed and len(tiles) <= len(on[i]) and keeps_apart(i, moved, out, outlines, gap):
                out[i], on[i] = moved, tiles
                break
    return out


def _list_shifts(placement: Placement, outline: Outline, live: tuple[float, float]) -> list[Placement]:
    """Return shifts of a piece by which it passes fewer joins by a sliver, the fewest first, then the shortest."""
    now = count_slivers(placement, outline, live)
    found: list[tuple[int, float, int, Placement]] = []
    for dx in _STEPS.tolist():
        for dy in _STEPS.tolist():
            moved = Placement(placement.piece, placement.turn, placement.dx + dx, placement.dy + dy)
            left = count_slivers(moved, outline, live)
            if left < now:
                found.append((left, dx * dx + dy * dy, len(found), moved))
    return [moved for *_, moved in sorted(found, key=lambda each: each[:3])]


def count_slivers(placement: Placement, outline: Outline, live: tuple[float, float]) -> int:
    """Return past how many joins a piece's bounds lie by no more than a sliver."""
    ring = place_ring(placement, outline)
    low, high = ring.min(axis=0) - _INK, ring.max(axis=0) + _INK
    over = np.floor(low / live) < np.floor(high / live)
    return int((over * (((-low) % live < SLIVER) * 1 + (high % live < SLIVER) * 1)).sum())


def keeps_apart(
    at: int, moved: Placement, placements: Sequence[Placement], outlines: Sequence[Outline], gap: float
) -> bool:
    """Tell whether the outline of a piece, moved, keeps the gap from those of all others."""
    ring = place_ring(moved, outlines[moved.piece])
    low, high = ring.min(axis=0) - gap, ring.max(axis=0) + gap
    for i, placement in enumerate(placements):
        other = place_ring(placement, outlines[placement.piece])
        if i == at or (other.max(axis=0) < low).any() or (other.min(axis=0) > high).any():
            continue
        for points, ends in ((ring, other), (other, ring)):
            if distances_to(even_points(points, 4.0), ends[:-1], ends[1:]).min() < gap:
                return False
    return True


def place_ring(placement: Placement, outline: Outline) -> Floats:
    """Return a piece's outline where it lies on the sheet."""
    ring: Floats = quarter_turn(outline.ring, placement.turn) + np.array((placement.dx, placement.dy))
    return ring


def tiles_of(placement: Placement, outline: Outline, live: tuple[float, float]) -> set[tuple[int, int]]:
    """Return the tiles (column, row from below) that a piece lies on, its middle included."""
    ring = quarter_turn(outline.ring, placement.turn) + np.array((placement.dx, placement.dy))
    found = np.floor(_edge_points([placement], [outline] * (placement.piece + 1)) / live).astype(np.intp)
    (x0, y0), (x1, y1) = found.min(axis=0).tolist(), found.max(axis=0).tolist()
    high = y1 - y0 + 1
    at = np.flatnonzero(np.bincount((found[:, 0] - x0) * high + found[:, 1] - y0)).tolist()
    tiles = {(x0 + number // high, y0 + number % high) for number in at}
    for x in range(x0, x1 + 1):
        for y in range(y0, y1 + 1):
            if (x, y) not in tiles and is_inside(Point((x + 0.5) * live[0], (y + 0.5) * live[1]), ring):
                tiles.add((x, y))
    return tiles
