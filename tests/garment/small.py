"""Small garments made by hand: rectangles with named edges, and seams between them."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from drafting.garment import Face, Fate, Garment, Line, Piece, Role, Seam, Section, Side, Use
from drafting.geometry import Path, Point
from tests.kinds import kind as kind_of

EDGES = ("low", "right", "top", "left")


def sheet(
    name: str,
    width: float = 300.0,
    height: float = 200.0,
    *,
    openings: Mapping[str, str] | None = None,
    parts: Mapping[str, int] | None = None,
    face: Face = Face.NONE,
    role: Role = Role.SIDE,
) -> Piece:
    """A rectangle whose ring is "low", "right", "top", "left"; an edge may be in equal parts: "top/a", "top/b", ..."""
    corners = (Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height))
    ring: list[Line] = []
    for i, edge in enumerate(EDGES):
        start, end = corners[i], corners[(i + 1) % 4]
        opening = (openings or {}).get(edge, "")
        fate = Fate.HEMMED if opening else Fate.SEWN
        count = (parts or {}).get(edge, 1)
        whole = Line(edge, Path.straight(start, end), role, Side.NONE, face, fate, opening)
        if count == 1:
            ring.append(whole)
            continue
        for k in range(count):
            part = Path.straight(start.to(end, k / count), start.to(end, (k + 1) / count))
            ring.append(whole.part(k, part))
    return Piece(name, name.capitalize(), tuple(ring), face=face)


def run(text: str) -> tuple[Use, ...]:
    """Uses from words: "front.right -back.left" (a minus runs against the ring)."""
    out = []
    for word in text.split():
        piece, line = word.lstrip("-").split(".")
        out.append(Use(piece, line, word.startswith("-")))
    return tuple(out)


def seam(name: str, *sections: tuple[str, ...], kind: str = "side", hangs: tuple[int, ...] = ()) -> Seam:
    """A seam of sections, each given as its plies' words; no ease."""
    made = tuple(Section(tuple(run(ply) for ply in plies), tuple(0.0 for _ in plies)) for plies in sections)
    return Seam(name, kind_of(kind), name, made, hangs=hangs)


def tube() -> Garment:
    """Two sheets joined along both sides: a neck above and a hem below."""
    ends = {"low": "hem", "top": "neck"}
    return Garment(
        (sheet("front", openings=ends, face=Face.FRONT), sheet("back", openings=ends, face=Face.BACK)),
        (
            seam("left", ("front.right", "-back.left")),
            seam("right", ("front.left", "-back.right")),
        ),
        openings=("neck", "hem"),
    )


def tunic() -> Garment:
    """A tube whose top is parted in five, its outer parts joined as shoulders and the next left open as armholes.

    From the front's right (+x, the wearer's left): shoulder a, armhole... the middle is the neck.
    """
    parts = {"top": 3}
    front = sheet("front", openings={"low": "hem"}, parts=parts, face=Face.FRONT)
    back = sheet("back", openings={"low": "hem"}, parts=parts, face=Face.BACK)
    return Garment(
        (front, back),
        (
            seam("side-left", ("front.right", "-back.left")),
            seam("side-right", ("front.left", "-back.right")),
            seam("shoulder-left", ("front.top/a", "-back.top/c")),
            seam("shoulder-right", ("front.top/c", "-back.top/a")),
        ),
    )


def darted() -> Garment:
    """A bodice whose lower edge is parted by a dart, and a skirt sewn to both parts."""
    at = [Point(*xy) for xy in ((0.0, 0.0), (130.0, 0.0), (150.0, 120.0), (170.0, 0.0), (300.0, 0.0))]
    names = ("low/a", "dart-a", "dart-b", "low/b")
    paths = [Path.straight(a, b) for a, b in pairwise(at)]
    roles = (Role.WAIST, Role.DART, Role.DART, Role.WAIST)
    low = tuple(Line(name, path, role) for name, path, role in zip(names, paths, roles, strict=True))
    rest = sheet("bodice").ring[1:]
    return Garment(
        (Piece("bodice", "Bodice", (*low, *rest)), sheet("skirt", 260.0)),
        (
            seam("waist", ("bodice.low/a bodice.low/b", "-skirt.top"), kind="waist"),
            seam("dart", ("bodice.dart-a", "-bodice.dart-b"), kind="dart"),
        ),
    )
