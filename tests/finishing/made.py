"""Small garments for the tests: a tunic of straight lines and curves, with sleeves, cuffs and a neck band."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

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
from drafting.geometry import Path, Point, hook
from drafting.saying import Words, say
from tests.kinds import kind as kind_of

P = Point


@dataclass(frozen=True)
class Shape:
    """What the tunic is drawn from (mm)."""

    chest: float = 240.0  # half the width of the front
    hem: float = 250.0
    length: float = 600.0
    scye: float = 210.0
    neck: float = 85.0
    depth: float = 90.0
    back_depth: float = 25.0
    shoulder: float = 200.0  # half the width across the shoulder points
    drop: float = 40.0
    v: bool = False
    hem_rise: float = 0.0  # how much the hem rises to the sides
    tilt: float = 0.0  # what is added to the left shoulder's width
    hem_fate: Fate = Fate.HEMMED


def _half(shape: Shape, depth: float, sign: int, extra: float) -> dict[str, Path]:
    """The lines of the right-hand half (x > 0), from the hem centre to the neck centre; sign -1 mirrors it."""
    shoulder = shape.shoulder + extra
    hem_side = P(shape.hem, shape.hem_rise)
    underarm = P(shape.chest, shape.length - shape.scye)
    tip = P(shoulder, shape.length - shape.drop)
    neck = P(shape.neck, shape.length)
    centre = P(0.0, shape.length - depth)
    slope = (neck - tip).unit
    rise = (underarm - hem_side).unit
    hem = (
        hook(P(0.0, 0.0), P(1.0, 0.0), hem_side, rise.right) if shape.hem_rise else Path.straight(P(0.0, 0.0), hem_side)
    )
    neckline = Path.straight(neck, centre) if shape.v else hook(neck, slope.left, centre, P(-1.0, 0.0))
    lines = {
        "hem": hem,
        "side": Path.straight(hem_side, underarm),
        "armhole": hook(underarm, rise.left, tip, slope.right),
        "shoulder": Path.straight(tip, neck),
        "neckline": neckline,
    }
    return lines if sign > 0 else {name: path.mirrored(0.0).reversed() for name, path in lines.items()}


ROLES = {
    "hem": Role.HEM,
    "side": Role.SIDE,
    "armhole": Role.ARMHOLE,
    "shoulder": Role.SHOULDER,
    "neckline": Role.NECKLINE,
}


def body(shape: Shape, face: Face) -> Piece:
    """The whole front or back, seen from the right side of the cloth."""
    front = face is Face.FRONT
    depth = shape.depth if front else shape.back_depth
    plus, minus = (Side.LEFT, Side.RIGHT) if front else (Side.RIGHT, Side.LEFT)
    extra = {Side.LEFT: shape.tilt, Side.RIGHT: 0.0}
    ring = []
    for side, sign in ((plus, 1), (minus, -1)):
        half = _half(shape, depth, sign, extra[side])
        for name in half if sign > 0 else reversed(half):
            fate = shape.hem_fate if name == "hem" else Fate.SEWN
            opening = {"hem": "hem", "neckline": "neck", "armhole": f"armhole-{side}"}.get(name, "")
            ring.append(Line(f"{name}-{side}", half[name], ROLES[name], side, face, fate, opening))
    y = shape.length - shape.scye
    return Piece(
        face.value,
        face.value.capitalize(),
        tuple(ring),
        face=face,
        features=(
            Level("bust", Path.straight(P(-shape.chest - 50.0, y - 5.0), P(shape.chest + 50.0, y - 5.0))),
            Adjust("waist", Path.straight(P(-shape.chest, 200.0), P(shape.chest, 200.0))),
            Drill("bust-left", P(90.0, y)),
            Drill("bust-right", P(-90.0, y)),
            *(Zone(f"shoulder-{side}", 13.0, "stay the shoulder") for side in ("left", "right")),
        ),
    )


def sleeve(side: Side, armhole_front: float, armhole_back: float, length: float = 430.0) -> Piece:
    """A sleeve; seen from the right side, the left sleeve's front lies at +x."""
    sign = -1 if side is Side.LEFT else 1  # front on the viewer's left for the left sleeve
    wide, wrist, cap = 165.0, 105.0, 120.0

    def curve(x: float, length: float) -> Path:
        a, b = P(x, 0.0), P(0.0, cap)
        return hook(a, P(-x, 0.0).unit, b, P(-x, 0.0).unit, tension=1.1) if length else Path.straight(a, b)

    lines = [
        Line("wrist", Path.straight(P(-wrist, -length), P(wrist, -length)), Role.WRIST, side, opening=f"wrist-{side}"),
        Line("underarm-back", Path.straight(P(wrist, -length), P(wide, 0.0)), Role.UNDERARM, side, Face.BACK),
        Line("cap-back", curve(wide, armhole_back), Role.CAP, side, Face.BACK),
        Line("cap-front", curve(-wide * 0.97, armhole_front).reversed(), Role.CAP, side, Face.FRONT),
        Line(
            "underarm-front", Path.straight(P(-wide * 0.97, 0.0), P(-wrist, -length)), Role.UNDERARM, side, Face.FRONT
        ),
    ]
    if sign > 0:
        lines = [replace(line, path=line.path.mirrored(0.0).reversed()) for line in reversed(lines)]
    lines = [replace(line, path=line.path.moved(P(700.0 * -sign, 300.0))) for line in lines]
    return Piece(f"sleeve-{side}", say("Sleeve, {side}", side=side), tuple(lines), side=side)


def band(name: str, title: Words, width: float, depth: float, side: Side, narrower: float = 0.0) -> Piece:
    """A band folded along its outer edge, which may be narrower than the edge that is sewn on."""
    w, e = width / 2.0, width / 2.0 - narrower
    ring = (
        Line("edge", Path.straight(P(-e, 0.0), P(e, 0.0)), Role.EDGE, side, fate=Fate.FOLDED),
        Line("end-b", Path.straight(P(e, 0.0), P(w, depth)), Role.END, side),
        Line("band", Path.straight(P(w, depth), P(-w, depth)), Role.BAND, side),
        Line("end-a", Path.straight(P(-w, depth), P(-e, 0.0)), Role.END, side),
    )
    return Piece(name, title, ring, side=side, cloth="rib" if name == "neck-band" else "main")


def _seam(name: str, kind: str, *plies: tuple[Use, ...]) -> Seam:
    return Seam(name, kind_of(kind), name, (Section(plies, (0.0,) * len(plies)),))


def _side_seams(side: Side, sleeves: bool) -> list[Seam]:
    s = side.value
    front: tuple[Use, ...] = (Use("front", f"side-{s}"),)
    back: tuple[Use, ...] = (Use("back", f"side-{s}", True),)
    if side is Side.RIGHT:
        front, back = (Use("front", f"side-{s}", True),), (Use("back", f"side-{s}"),)
    seams = [
        _seam(
            f"shoulder-{s}",
            "shoulder",
            (Use("front", f"shoulder-{s}", side is Side.RIGHT),),
            (Use("back", f"shoulder-{s}", side is Side.LEFT),),
        )
    ]
    if sleeves:
        left = side is Side.LEFT
        cap_front, cap_back = Use(f"sleeve-{s}", "cap-front", left), Use(f"sleeve-{s}", "cap-back", left)
        sections = (
            Section(((Use("front", f"armhole-{s}", not left),), (cap_front,)), (0.0, 0.0)),
            Section(((Use("back", f"armhole-{s}", not left),), (cap_back,)), (0.0, 0.0)),
        )
        seams.append(Seam(f"armhole-{s}", kind_of("armhole"), "armhole", sections))
        front = (*front, Use(f"sleeve-{s}", "underarm-front", not left))
        back = (*back, Use(f"sleeve-{s}", "underarm-back", left))
    seams.append(_seam(f"side-{s}", "side", front, back))
    if sleeves:
        seams.append(_seam(f"cuff-{s}-end", "end", (Use(f"cuff-{s}", "end-a"),), (Use(f"cuff-{s}", "end-b", True),)))
        wrist, cuff = Use(f"sleeve-{s}", "wrist", not left), Use(f"cuff-{s}", "band", left)
        seams.append(_seam(f"cuff-{s}", "cuff", (wrist,), (cuff,)))
    return seams


def _neck_run() -> tuple[Use, ...]:
    """Round the neck from the centre back, by the left shoulder."""
    return (
        Use("back", "neckline-left"),
        Use("front", "neckline-left"),
        Use("front", "neckline-right"),
        Use("back", "neckline-right"),
    )


def tunic(shape: Shape = Shape(), *, sleeves: bool = True, neck: str = "band") -> Garment:
    """Front, back and, if asked, sleeves with cuffs and a neck band; ``neck`` is "band" or "bound"."""
    front, back = body(shape, Face.FRONT), body(shape, Face.BACK)
    if neck == "bound":
        front, back = (
            replace(
                piece,
                ring=tuple(replace(x, fate=Fate.BOUND) if x.role is Role.NECKLINE else x for x in piece.ring),
            )
            for piece in (front, back)
        )
    pieces = [front, back]
    for side in (Side.LEFT, Side.RIGHT):
        if sleeves:
            hole = [piece.line(f"armhole-{side}").path.length for piece in (front, back)]
            pieces += [
                sleeve(side, *hole),
                band(f"cuff-{side}", say("Cuff, {side}", side=side), 200.0, 70.0, side, 8.0),
            ]
    seams = [seam for side in (Side.LEFT, Side.RIGHT) for seam in _side_seams(side, sleeves)]
    girth = sum(
        front.line(u.line).path.length if u.piece == "front" else back.line(u.line).path.length for u in _neck_run()
    )
    if neck == "band":
        pieces.append(band("neck-band", "Neck band", 0.85 * girth, 25.0, Side.NONE))
        seams.append(_seam("neck-band-end", "end", (Use("neck-band", "end-a"),), (Use("neck-band", "end-b", True),)))
        seams.append(_seam("neck-band", "neck", _neck_run(), (Use("neck-band", "band", True),)))
    return Garment(tuple(pieces), tuple(seams))


def ring(name: str, *lines: tuple[str, Path, Fate], title: str = "", **more: object) -> Piece:
    """A piece of any lines, all of one role."""
    made = tuple(Line(n, path, Role.STYLE, fate=fate) for n, path, fate in lines)
    return replace(Piece(name, title or name.capitalize(), made), **more)


def wedge(angle: float, size: float = 300.0) -> tuple[Path, Path, Path]:
    """Three sides of a triangle with an angle (radians) at the origin, anticlockwise from there."""
    a, b, c = P(0.0, 0.0), P(size, 0.0), P(size * math.cos(angle), size * math.sin(angle))
    return Path.straight(a, b), Path.straight(b, c), Path.straight(c, a)
