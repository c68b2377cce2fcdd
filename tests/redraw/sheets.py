"""Plain pieces for tests: a rectangle with everything that a piece can carry, and a garment made of it."""

from __future__ import annotations

from drafting.garment import (
    Adjust,
    Drill,
    Face,
    Fate,
    Garment,
    Level,
    Line,
    Piece,
    Role,
    Seam,
    Section,
    Side,
    Use,
    Zone,
)
from drafting.geometry import Path, Point
from tests.kinds import kind as kind_of


def sheet(width: float = 400.0, height: float = 600.0, name: str = "front") -> Piece:
    """A rectangle from (0, 0): hem below, top above, sides left and right of it as drawn."""
    a, b, c, d = Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height)
    ring = (
        Line("hem", Path.straight(a, b), Role.HEM, Side.NONE, Face.FRONT, Fate.HEMMED, "hem"),
        Line("outer", Path.straight(b, c), Role.SIDE, Side.LEFT, Face.FRONT),
        Line("top", Path.straight(c, d), Role.WAIST, Side.NONE, Face.FRONT),
        Line("inner", Path.straight(d, a), Role.SIDE, Side.RIGHT, Face.FRONT),
    )
    middle = Path.straight(Point(0.0, height / 2.0), Point(width, height / 2.0))
    return Piece(
        name,
        name.capitalize(),
        ring,
        face=Face.FRONT,
        features=(
            Level("hip", middle),
            Adjust("body", middle.moved(Point(0.0, -height / 4.0))),
            Drill("mark", Point(0.8 * width, 0.8 * height)),
            Zone("top", 10.0, "stay", 0.25, 0.75),
        ),
    )


def tube(width: float = 400.0, height: float = 600.0) -> Garment:
    """A front sewn to a back of the same size along both sides."""
    front, back = sheet(width, height), sheet(width, height, "back")
    seams = tuple(
        Seam(name, kind_of("side"), name, (Section(((Use("front", one),), (Use("back", two, True),)), (0.0, 0.0)),))
        for name, one, two in (("left", "outer", "inner"), ("right", "inner", "outer"))
    )
    return Garment((front, back), seams, ("hem", "top"))
