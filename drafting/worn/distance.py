"""How far a point lies from a closed shape, below 0 within: kept in a grid, read between its corners."""

from __future__ import annotations

from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.record import dataclass
from drafting.worn.compiled import compile_loop
from drafting.worn.shape import Floats, Whole

CELL: Final = 6.0
"""mm from one corner of the grid to the next."""
_BAND: Final = 3.0
"""Cells on either side of the skin within which a distance is exact."""
_FAR: Final = 1000.0
"""mm: farther than a shape is deep, beyond its grid."""


@dataclass(frozen=True, slots=True, eq=False)
class DistanceGrid:
    """Distances (mm) at the corners of a grid; ``start`` is its first corner, ``cell`` its step (mm)."""

    start: Floats
    cell: float
    values: npt.NDArray[np.float32]


def make_grid(points: Floats, faces: Whole, low: Floats, high: Floats, cell: float = CELL) -> DistanceGrid:
    """Return the distances to a mesh within a box (mm).

    The mesh is closed as seen from the front: along z each line that enters it leaves it; it may be open above and
    below.
    """
    from scipy.ndimage import distance_transform_edt

    shape = tuple(int(n) for n in np.ceil((high - low) / cell) + 1)
    crossings = np.zeros(shape, dtype=np.int32)
    compile_loop(count_crossings)(points, faces, low, cell, crossings)
    inside = np.cumsum(crossings, axis=2) != 0
    far = cell * (distance_transform_edt(~inside) - distance_transform_edt(inside))
    near = np.full(shape, _BAND * cell)
    compile_loop(spread_distances)(points, faces, low, cell, _BAND * cell, near)
    exact = near < _BAND * cell
    values = np.where(exact, np.where(inside, -near, near), far)
    return DistanceGrid(low, cell, np.ascontiguousarray(values, dtype=np.float32))


def join_rod(grid: DistanceGrid, a: Floats, b: Floats, radius: float) -> DistanceGrid:
    """Return the distances to a shape and a rod with round ends together; its middle runs from a to b (mm)."""
    nodes = np.meshgrid(
        *(grid.start[k] + grid.cell * np.arange(n) for k, n in enumerate(grid.values.shape)), indexing="ij"
    )
    off, way = [node - at for node, at in zip(nodes, a, strict=True)], b - a
    share = np.clip(sum(o * w for o, w in zip(off, way, strict=True)) / float((way**2).sum()), 0.0, 1.0)
    square = sum((o - share * w) ** 2 for o, w in zip(off, way, strict=True))
    values = np.minimum(grid.values, np.sqrt(square) - radius)
    return DistanceGrid(grid.start, grid.cell, np.ascontiguousarray(values, dtype=np.float32))


def part_shapes(grid: DistanceGrid, other: DistanceGrid, room: float, high: float) -> DistanceGrid:
    """Return the distances to a shape that ends at the middle between itself and another, less ``room`` (mm).

    So it does up to the height ``high`` (mm); above it the less the higher, and they run into each other.
    """
    from scipy.ndimage import map_coordinates

    nodes = np.indices(grid.values.shape).reshape(3, -1)
    at = nodes + ((grid.start - other.start) / grid.cell)[:, None]
    found = map_coordinates(other.values, at, order=1, mode="constant", cval=_FAR, output=np.float64)
    far = found.reshape(grid.values.shape)
    up = grid.start[1] + grid.cell * np.arange(grid.values.shape[1])
    own = grid.values.astype(np.float64)
    middle = (own - far) / 2.0 + (room - np.maximum(up - high, 0.0))[:, None]
    return DistanceGrid(grid.start, grid.cell, np.ascontiguousarray(np.maximum(own, middle), dtype=np.float32))


def count_crossings(points: Floats, faces: Whole, start: Floats, cell: float, out: npt.NDArray[np.int32]) -> None:
    """Mark where lines along z pass through each triangle: 1 where they enter, -1 where they leave."""
    for f in range(faces.shape[0]):
        a, b, c = faces[f, 0], faces[f, 1], faces[f, 2]
        ax, ay = (points[a, 0] - start[0]) / cell, (points[a, 1] - start[1]) / cell
        bx, by = (points[b, 0] - start[0]) / cell, (points[b, 1] - start[1]) / cell
        cx, cy = (points[c, 0] - start[0]) / cell, (points[c, 1] - start[1]) / cell
        double = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        if double == 0.0:
            continue
        i0, i1 = int(np.ceil(min(ax, bx, cx))), int(np.floor(max(ax, bx, cx)))
        j0, j1 = int(np.ceil(min(ay, by, cy))), int(np.floor(max(ay, by, cy)))
        for i in range(max(i0, 0), min(i1, out.shape[0] - 1) + 1):
            for j in range(max(j0, 0), min(j1, out.shape[1] - 1) + 1):
                u = ((i - ax) * (cy - ay) - (j - ay) * (cx - ax)) / double
                v = ((bx - ax) * (j - ay) - (by - ay) * (i - ax)) / double
                if u < 0.0 or v < 0.0 or u + v > 1.0:
                    continue
                z = points[a, 2] + u * (points[b, 2] - points[a, 2]) + v * (points[c, 2] - points[a, 2])
                k = int(np.ceil((z - start[2]) / cell))
                k = min(max(k, 0), out.shape[2] - 1)
                out[i, j, k] += -1 if double > 0.0 else 1


def spread_distances(
    points: Floats, faces: Whole, start: Floats, cell: float, band: float, out: npt.NDArray[np.float64]
) -> None:
    """Lower each corner's distance to that from every triangle nearer than the band (Ericson 2005, section 5.1.5)."""
    for f in range(faces.shape[0]):
        a, b, c = points[faces[f, 0]], points[faces[f, 1]], points[faces[f, 2]]
        ab, ac = b - a, c - a
        low = (np.minimum(np.minimum(a, b), c) - band - start) / cell
        high = (np.maximum(np.maximum(a, b), c) + band - start) / cell
        for i in range(max(int(np.ceil(low[0])), 0), min(int(high[0]), out.shape[0] - 1) + 1):
            for j in range(max(int(np.ceil(low[1])), 0), min(int(high[1]), out.shape[1] - 1) + 1):
                for k in range(max(int(np.ceil(low[2])), 0), min(int(high[2]), out.shape[2] - 1) + 1):
                    px = start[0] + i * cell - a[0]
                    py = start[1] + j * cell - a[1]
                    pz = start[2] + k * cell - a[2]
                    d1 = ab[0] * px + ab[1] * py + ab[2] * pz
                    d2 = ac[0] * px + ac[1] * py + ac[2] * pz
                    bb = ab[0] * ab[0] + ab[1] * ab[1] + ab[2] * ab[2]
                    cc = ac[0] * ac[0] + ac[1] * ac[1] + ac[2] * ac[2]
                    bc = ab[0] * ac[0] + ab[1] * ac[1] + ab[2] * ac[2]
                    square = bb * cc - bc * bc
                    v, w = 0.0, 0.0
                    if square > 0.0:
                        v = (cc * d1 - bc * d2) / square
                        w = (bb * d2 - bc * d1) / square
                    if square <= 0.0 or v < 0.0 or w < 0.0 or v + w > 1.0:
                        best = 1.0e30
                        for edge in range(3):
                            if edge == 0:
                                s = min(max(d1 / bb, 0.0), 1.0) if bb > 0.0 else 0.0
                                tv, tw = s, 0.0
                            elif edge == 1:
                                s = min(max(d2 / cc, 0.0), 1.0) if cc > 0.0 else 0.0
                                tv, tw = 0.0, s
                            else:
                                ee = bb - 2.0 * bc + cc
                                s = min(max((d2 - d1 + bb - bc) / ee, 0.0), 1.0) if ee > 0.0 else 0.0
                                tv, tw = 1.0 - s, s
                            ex = px - tv * ab[0] - tw * ac[0]
                            ey = py - tv * ab[1] - tw * ac[1]
                            ez = pz - tv * ab[2] - tw * ac[2]
                            off = ex * ex + ey * ey + ez * ez
                            if off < best:
                                best, v, w = off, tv, tw
                    ex = px - v * ab[0] - w * ac[0]
                    ey = py - v * ab[1] - w * ac[1]
                    ez = pz - v * ab[2] - w * ac[2]
                    off = np.sqrt(ex * ex + ey * ey + ez * ez)
                    out[i, j, k] = min(out[i, j, k], off)
