"""A small top to prove: a front and a back like boxes, tubes for sleeves, two cuffs and a neck band."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from drafting.body import make_body
from drafting.cloth import Cloth, Fit
from drafting.garment import (
    Aim,
    Brief,
    Face,
    Fate,
    Garment,
    Girth,
    Level,
    Line,
    LineLength,
    Piece,
    Role,
    Seam,
    Section,
    Side,
    Use,
    Width,
)
from drafting.geometry import Path, Point, root
from tests.kinds import kind as kind_of

HALF, SIDE, TOP = 240.0, 400.0, 620.0
ROUND = 0.5523
CUFF_SHARE, NECK_SHARE = 0.85, 0.90


def quarter(a: Point, out: Point, b: Point, arrive: Point) -> Path:
    """A quarter of an ellipse from a, leaving in a direction along one axis and arriving along the other."""
    way = b - a
    return Path.cubic(a, a + out * (ROUND * abs(way.dot(out))), b - arrive * (ROUND * abs(way.dot(arrive))), b)


def straight(ax: float, ay: float, bx: float, by: float) -> Path:
    return Path.straight(Point(ax, ay), Point(bx, by))


LEFTWARDS, UP = Point(-1.0, 0.0), Point(0.0, 1.0)


def armhole() -> Path:
    start, end = Point(HALF, SIDE), Point(200.0, TOP)
    return Path.cubic(start, start + LEFTWARDS * 30.0, end - UP * 120.0, end)


def half_neck(depth: float) -> Path:
    return quarter(Point(100.0, TOP), -UP, Point(0.0, TOP - depth), LEFTWARDS)


def body_piece(name: str, face: Face, depth: float) -> Piece:
    """Front or back: the +x half from the hem's centre up to the neck, then the same mirrored."""
    right_hand = Side.LEFT if face is Face.FRONT else Side.RIGHT
    half = [
        ("hem", Role.HEM, straight(0.0, 0.0, HALF, 0.0), "hem"),
        ("side", Role.SIDE, straight(HALF, 0.0, HALF, SIDE), ""),
        ("armhole", Role.ARMHOLE, armhole(), "armhole"),
        ("shoulder", Role.SHOULDER, straight(200.0, TOP, 100.0, TOP), ""),
        ("neckline", Role.NECKLINE, half_neck(depth), "neck"),
    ]

    def made(side: Side, word: str, role: Role, path: Path, opening: str) -> Line:
        fate = Fate.HEMMED if role is Role.HEM else Fate.SEWN
        bounds = f"{opening}-{side}" if opening == "armhole" else opening
        return Line(f"{word}-{side}", path, role, side, face, fate, bounds)

    plus = [made(right_hand, *each) for each in half]
    minus = [made(right_hand.other, w, r, p.mirrored().reversed(), o) for w, r, p, o in reversed(half)]
    levels = [
        Level("bust", straight(-HALF, 350.0, HALF, 350.0)),
        Level("seat", straight(-HALF, 10.0, HALF, 10.0)),
        Level(f"across-{face}", straight(-210.0, 500.0, 210.0, 500.0), girth=False),
    ]
    return Piece(name, name.title(), (*plus, *minus), face=face, features=tuple(levels))


def bell(half: float) -> Path:
    """A cap that leaves square to the underarm and arrives level at the top."""
    a, d = Point(half, SIDE), Point(0.0, SIDE + 130.0)
    return Path.cubic(a, a + Point(-0.45 * half, 0.0), d + Point(0.5 * half, 0.0), d)


@cache
def sleeve_half() -> float:
    """Half of the sleeve's width, so that half of its cap measures the armhole of one face."""
    goal = armhole().length
    return root(lambda half: bell(half).length - goal, 100.0, 240.0, within=1e-7)[0]


def sleeve(side: Side) -> Piece:
    half = sleeve_half()
    plus_face = Face.BACK if side is Side.LEFT else Face.FRONT
    minus_face = Face.FRONT if side is Side.LEFT else Face.BACK

    def line(word: str, role: Role, face: Face, path: Path) -> Line:
        return Line(f"{word}-{face}", path, role, side, face)

    under = straight(half, 0.0, half, SIDE)
    ring = (
        Line("wrist", straight(-half, 0.0, half, 0.0), Role.WRIST, side, opening=f"wrist-{side}"),
        line("underarm", Role.UNDERARM, plus_face, under),
        line("cap", Role.CAP, plus_face, bell(half)),
        line("cap", Role.CAP, minus_face, bell(half).mirrored().reversed()),
        line("underarm", Role.UNDERARM, minus_face, under.mirrored().reversed()),
    )
    levels = (Level("upper-arm", straight(-half, 390.0, half, 390.0), side=side),)
    return Piece(f"sleeve-{side}", f"{side.title()} sleeve", ring, side=side, features=levels)


def band(name: str, length: float, width: float, opening: str, side: Side = Side.NONE) -> Piece:
    ring = (
        Line("edge", straight(0.0, 0.0, length, 0.0), Role.EDGE, side, fate=Fate.FOLDED, opening=opening),
        Line("end-b", straight(length, 0.0, length, width), Role.END, side),
        Line("band", straight(length, width, 0.0, width), Role.BAND, side),
        Line("end-a", straight(0.0, width, 0.0, 0.0), Role.END, side),
    )
    return Piece(name, name.replace("-", " ").title(), ring, side=side, cloth="rib")


def seam(name: str, kind: str, *sections: tuple[tuple[Use, ...], tuple[Use, ...], float]) -> Seam:
    made = tuple(Section((one, two), (0.0, ease)) for one, two, ease in sections)
    return Seam(name, kind_of(kind), name.replace("-", " "), made)


def side_seams(side: Side) -> list[Seam]:
    """The seams of one side; on the right every run goes the other way about its piece."""
    arm, right = f"sleeve-{side}", side is Side.RIGHT
    wrist, cuff = 2.0 * sleeve_half(), f"cuff-{side}"
    return [
        seam(
            f"shoulder-{side}",
            "shoulder",
            ((Use("front", f"shoulder-{side}", right),), (Use("back", f"shoulder-{side}", not right),), 0.0),
        ),
        seam(
            f"armhole-{side}",
            "armhole",
            ((Use("front", f"armhole-{side}", right),), (Use(arm, "cap-front", not right),), 0.0),
            ((Use("back", f"armhole-{side}", right),), (Use(arm, "cap-back", not right),), 0.0),
        ),
        seam(
            f"side-{side}",
            "side",
            ((Use("front", f"side-{side}", right),), (Use("back", f"side-{side}", not right),), 0.0),
            ((Use(arm, "underarm-front", right),), (Use(arm, "underarm-back", not right),), 0.0),
        ),
        seam(f"{cuff}-end", "end", ((Use(cuff, "end-a"),), (Use(cuff, "end-b", True),), 0.0)),
        seam(cuff, "cuff", ((Use(arm, "wrist"),), (Use(cuff, "band", True),), (CUFF_SHARE - 1.0) * wrist)),
    ]


def neck_length() -> float:
    return 2.0 * (half_neck(130.0).length + half_neck(45.0).length)


def box_top() -> Garment:
    """The sound garment: whatever the proof says of it is wrong."""
    around = tuple(
        Use(piece, f"neckline-{side}")
        for piece, side in (("front", "left"), ("front", "right"), ("back", "right"), ("back", "left"))
    )
    neck = neck_length()
    wrist = 2.0 * sleeve_half()
    pieces = (
        body_piece("front", Face.FRONT, 130.0),
        body_piece("back", Face.BACK, 45.0),
        *(sleeve(side) for side in (Side.LEFT, Side.RIGHT)),
        *(band(f"cuff-{s}", CUFF_SHARE * wrist, 60.0, f"wrist-{s}", s) for s in (Side.LEFT, Side.RIGHT)),
        band("neck-band", NECK_SHARE * neck, 10.0, "neck"),
    )
    seams = (
        *side_seams(Side.LEFT),
        *side_seams(Side.RIGHT),
        seam("neck-band-end", "end", ((Use("neck-band", "end-a"),), (Use("neck-band", "end-b", True),), 0.0)),
        seam("neck-band", "neck", (around, (Use("neck-band", "band", True),), (NECK_SHARE - 1.0) * neck)),
    )
    aims = (
        Aim(Girth("bust"), "bust", 920.0, 40.0),
        Aim(Girth("seat"), "seat", 960.0, 0.0),
        Aim(Width("across-back"), "across back", 400.0, 20.0),
        Aim(Girth("upper-arm"), "left upper arm", 300.0, wrist - 300.0, Side.LEFT, wrist - 320.0),
        Aim(LineLength("shoulder-left"), "left shoulder", 100.0, 0.0),
    )
    return Garment(pieces, seams, openings=("neck", "wrist-left", "wrist-right", "hem"), aims=aims)


def brief(**changes: object) -> Brief:
    """An alto, and a knit of 25 % stretch."""
    given = {
        "bust_girth": 920.0,
        "waist_girth": 760.0,
        "hip_girth": 960.0,
        "back_neck_point_to_waist": 400.0,
        "stature": 1650.0,
    }
    made = Brief(make_body("alto", given), Cloth(), Fit.SEMI, {"rib": Cloth(stretch_across=0.5)})
    return replace(made, **changes)


def with_line(garment: Garment, piece: str, name: str, **changes: object) -> Garment:
    """The garment with one line of one piece changed."""
    old = garment.piece(piece)
    ring = tuple(replace(ln, **changes) if ln.name == name else ln for ln in old.ring)
    return garment.with_(pieces=[replace(old, ring=ring)])


def with_seam(garment: Garment, name: str, *sections: Section) -> Garment:
    """The garment with the sections of one seam replaced."""
    return garment.with_(seams=[replace(garment.seam(name), sections=sections)])
