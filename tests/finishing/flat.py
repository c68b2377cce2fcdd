"""Reckonings of the tests that don't use the code under test: outlines as polygons, folding, distances."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import affinity

from drafting.finishing import CutEdge, CutPiece
from drafting.geometry import Path, Point

FINE = 0.005


def polygon(paths: Iterable[Path]) -> shapely.Polygon:
    """The polygon of paths that follow each other round a ring."""
    return shapely.Polygon(np.concatenate([path.flatten(FINE)[:-1] for path in paths]))


def cut_polygon(piece: CutPiece) -> shapely.Polygon:
    """The cut outline as a polygon."""
    return polygon(edge.path for edge in piece.outline)


def net_polygon(lines: Iterable[Path]) -> shapely.Polygon:
    """The net outline as a polygon."""
    return polygon(lines)


def flap(cut: shapely.Polygon, a: Point, b: Point, reach: float = 1000.0) -> shapely.Polygon:
    """What of a cut piece lies to the right of the straight line from a to b (its outside)."""
    u = (b - a).unit
    p, q = a - u * reach, b + u * reach
    beyond = shapely.Polygon([tuple(x) for x in (p, p + u.right * reach, q + u.right * reach, q)])
    parts = shapely.get_parts(cut.intersection(beyond))
    middle = shapely.Point(*(a.to(b, 0.5)))
    return min(parts, key=lambda part: part.distance(middle))


def folded(shape: shapely.Geometry, a: Point, b: Point) -> shapely.Geometry:
    """A shape folded over the straight line through a and b."""
    u = (b - a).unit
    c, s = u.x * u.x - u.y * u.y, 2.0 * u.x * u.y
    return affinity.affine_transform(shape, [c, s, s, -c, a.x - c * a.x - s * a.y, a.y - s * a.x + c * a.y])


def edge(piece: CutPiece, name: str) -> CutEdge:
    """The cut edge of a name."""
    return next(edge for edge in piece.outline if edge.name == name)


def by_name(pieces: Iterable[CutPiece]) -> dict[str, CutPiece]:
    """Cut pieces by name."""
    return {piece.name: piece for piece in pieces}
