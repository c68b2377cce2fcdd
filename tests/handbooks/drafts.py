"""Drafts of 1916 and 1918 as shapes: what their rules say of points and lines, drawn from their inputs, in mm.

Only what a source gives is drawn: where it gives two ends of a curve, these two points stand for it; where it gives a
length without a direction, a circle; a width without a height, a line straight down. x runs from the centre outwards,
y upwards. A draft is laid over ours as a cutter lays them: centre on centre, the side neck points at one height.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import shapely
from shapely.affinity import translate

from drafting.garment import Garment, Line, Piece

INCH = 25.4
FLAT = 0.05
"""How far (mm) a flattened line may lie beside its curve."""


@dataclass(frozen=True)
class OldDraft:
    """Lines by what they are, and the side neck point, all in inches; ``source`` says whose."""

    source: str
    neck_point: tuple[float, float]
    lines: Mapping[str, shapely.Geometry]


def burton_front(neck: float, shoulder: float, drop: float = 1.5) -> OldDraft:
    """Neck 2 in wide and deep for 12 in, 1/8 in more for each 1/2 in; the shoulder's end 1 1/2 in down, or 2 in."""
    wide = 2.0 + (neck - 12.0) / 4.0
    end = (wide + math.sqrt(shoulder**2 - drop**2), wide - drop)
    return OldDraft(
        'Burton & Burton, School Sewing Based on Home Problems (1916), "The Front"',
        (wide, wide),
        {
            "neck": shapely.MultiPoint([(0.0, 0.0), (wide, wide)]),
            "shoulder": shapely.LineString([(wide, wide), end]),
        },
    )


def rosenfeld_back(depth: float, waist: float, size: float) -> OldDraft:
    """Neck 3 in wide and 1 in up for 36, half back a sixth of the size and 1 1/2 in, the shoulder 6 in."""
    neck, half = (size / 12.0, 1.0), size / 6.0 + 1.5
    return OldDraft(
        "Rosenfeld, The Practical Designer for Women's and Misses' Underwear (1918), the first foundation lines",
        neck,
        {
            "neck": shapely.MultiPoint([(0.0, 0.0), neck]),
            "shoulder's end": shapely.Point(neck).buffer(6.0, quad_segs=64).exterior,
            "armhole, narrowest": shapely.LineString([(half, 0.0), (half, -depth)]),
            "armhole, underarm": shapely.LineString([(half, -depth), (size / 3.0, -depth)]),
            "waist": shapely.LineString([(0.0, -waist), (size / 6.0, -waist)]),
        },
    )


def baldt_back(neck: float, half_back: float) -> OldDraft:
    """Neck a sixth of its girth wide and 3/4 in up; the half back's measure and 3/4 in."""
    at, half = (neck / 6.0, 0.75), half_back + 0.75
    return OldDraft(
        'Baldt, Clothing for Women (1916), "To Draft Shirt"',
        at,
        {
            "neck": shapely.MultiPoint([(0.0, 0.0), at]),
            "armhole, narrowest": shapely.LineString([(half, 0.0), (half, -9.0)]),
        },
    )


def baldt_front(neck: float, half_front: float) -> OldDraft:
    """Neck a sixth of its girth and 3/8 in wide, a sixth deep; the half front's measure and 1 1/4 in.

    These are a shirt's ease: what lies between the measure and there lies on the line.
    """
    wide, deep = neck / 6.0 + 0.375, neck / 6.0
    return OldDraft(
        'Baldt, Clothing for Women (1916), "To Draft Shirt"',
        (wide, deep),
        {
            "neck": shapely.MultiPoint([(0.0, 0.0), (wide, deep)]),
            "armhole, narrowest": shapely.box(half_front, deep - 9.0, half_front + 1.25, deep),
        },
    )


class OwnHalf:
    """One half of our front or back, +x outwards, to lay an old draft over."""

    def __init__(self, garment: Garment, face: str) -> None:
        self.piece: Piece = garment.piece(face)
        self.side = "left" if face == "front" else "right"

    def path(self, stem: str) -> shapely.Geometry:
        """The line of that name on this half."""
        parts: list[Line] = [line for line in self.piece.ring if line.answers_to(f"{stem}-{self.side}")]
        return shapely.MultiLineString([part.path.flatten(FLAT).tolist() for part in parts])

    def end(self, stem: str, x: float, y: float) -> tuple[float, float]:
        """The point of a line that lies farthest that way."""
        found = shapely.get_coordinates(self.path(stem)).tolist()
        across, up = max(found, key=lambda p: p[0] * x + p[1] * y)
        return across, up

    @property
    def neck_point(self) -> tuple[float, float]:
        """Where neckline and shoulder meet."""
        return self.end("neckline", 0.0, 1.0)

    def level(self, name: str) -> shapely.LineString:
        """A level of the piece, from end to end."""
        found = [lv.path for lv in self.piece.levels if lv.name == name]
        xs = [end.x for path in found for end in (path.start, path.end)]
        return shapely.LineString([(min(xs), found[0].start.y), (max(xs), found[0].start.y)])

    def shown(self, what: str) -> shapely.Geometry:
        """What of ours an old draft's line of that kind is laid over."""
        points = {
            "armhole, narrowest": ("armhole", -1.0, 0.0),
            "armhole, underarm": ("armhole", 0.0, -1.0),
            "shoulder's end": ("shoulder", 1.0, 0.0),
        }
        if what in points:
            return shapely.Point(self.end(*points[what]))
        return self.level("waist") if what == "waist" else self.path({"neck": "neckline"}.get(what, what))


def lay_over(draft: OldDraft, own: OwnHalf) -> dict[str, float]:
    """Return by line the greatest distance (mm) of an old draft from ours, laid centre on centre at the neck point.

    Of a line that ours is a point of (the narrowest place, the underarm, the shoulder's end), that point's distance.
    """
    up = own.neck_point[1] - draft.neck_point[1] * INCH
    out = {}
    for what, line in draft.lines.items():
        inches = shapely.transform(line, lambda at: at * INCH)
        theirs, ours = translate(inches, 0.0, up), own.shown(what)
        if ours.geom_type == "Point":
            out[what] = ours.distance(theirs)
        else:
            points = shapely.get_coordinates(shapely.segmentize(theirs, 1.0))
            out[what] = max(ours.distance(shapely.Point(at)) for at in points)
    return out
