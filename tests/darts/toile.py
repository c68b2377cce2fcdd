"""A small woven toile drawn by hand: a whole front with bust darts at its sides and waist darts, and a plain back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drafting.garment import (
    BustPoint,
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
    Slit,
    Use,
)
from drafting.garment.carry import with_only
from drafting.garment.darts import dart_name, dart_of, draw_dart, draw_inner_dart
from drafting.garment.lines import DartName
from drafting.geometry import Path, Point, root
from drafting.redraw.mouths import true_mouth
from drafting.redraw.swing import draw_point_to
from drafting.work.kinds import sew_dart
from tests.kinds import kind as kind_of

APEX = Point(95.0, -260.0)
"""The wearer's left bust point on the front."""


def _half(face: Face, neck_depth: float) -> list[Line]:
    """The lines of the half at +x, from the centre of the waist round to the centre of the neck."""
    corners = [Point(0, -420), Point(230, -420), Point(250, -230), Point(195, -40), Point(70, 0), Point(0, -neck_depth)]
    paths = [
        Path.straight(corners[0], corners[1]),
        Path.straight(corners[1], corners[2]),
        Path.cubic(corners[2], Point(190, -230), Point(180, -120), corners[3]),
        Path.straight(corners[3], corners[4]),
        Path.cubic(corners[4], Point(62, -30), Point(45, -neck_depth), corners[5]),
    ]
    side = Side.LEFT if face is Face.FRONT else Side.RIGHT
    roles = (Role.WAIST, Role.SIDE, Role.ARMHOLE, Role.SHOULDER, Role.NECKLINE)
    opens = ("hem", "", f"armhole-{side}", "", "neck")
    return [
        Line(f"{role}-{side}", path, role, side, face, Fate.SEWN, opening)
        for role, path, opening in zip(roles, paths, opens, strict=True)
    ]


def _other(line: Line) -> Line:
    """A line's image on the other side of the wearer."""

    def swap(name: str) -> str:
        return name.replace(line.side, line.side.other) if line.side else name

    return replace(
        line,
        name=swap(line.name),
        path=line.path.mirrored().reversed(),
        side=line.side.other,
        opening=swap(line.opening),
        ancestry=tuple(map(swap, line.ancestry)),
    )


def plain(face: Face) -> Piece:
    """A whole front or back without darts."""
    half = _half(face, 80.0 if face is Face.FRONT else 25.0)
    ring = (*half, *(_other(line) for line in reversed(half)))
    bust = Level("bust", Path.straight(Point(-246.8, -260.0), Point(246.8, -260.0)))
    drills = tuple(BustPoint(f"bust-point-{s}", Point(x, APEX.y)) for s, x in (("left", APEX.x), ("right", -APEX.x)))
    return Piece(
        str(face),
        str(face).capitalize(),
        ring,
        Side.NONE,
        face,
        features=(bust, *(drills if face is Face.FRONT else ())),
    )


def cut_in(piece: Piece, called: DartName, line: str, s: float, point: Point, width: float) -> Piece:
    """The piece with a dart cut into a line: ``width`` mm of it, about ``s`` mm along, are folded away, legs equal."""
    old = piece.line(line)
    reach = width / 2.0
    for _ in range(20):  # a bent line is longer than the straight way across the mouth
        middle, _ = root(
            lambda m, r=reach: old.path.at(m - r).distance(point) - old.path.at(m + r).distance(point),
            max(s - 2.0 * width, reach),
            min(s + 2.0 * width, old.path.length - reach),
            within=1e-12,
        )
        across = old.path.at(middle - reach).distance(old.path.at(middle + reach))
        if abs(across - width) < 1e-9:
            break
        reach *= width / across
    first = old.part("a", old.path.between(0.0, middle - reach))
    last = old.part("b", old.path.between(middle + reach, old.path.length))
    dart = draw_dart(called, first.path.end, point, last.path.start, old.side, old.face)
    ring = tuple(new for ln in piece.ring for new in ((first, *dart.lines, last) if ln.name == line else (ln,)))
    return replace(piece, ring=ring)


def point_of(mouth: Point, set_back: float) -> Point:
    """A dart's point, short of the left bust point, of a dart whose mouth's middle lies somewhere."""
    return APEX + (mouth - APEX).unit * set_back


def with_dart(piece: Piece, name: str, line: str, share: float, width: float, set_back: float = 25.0) -> Piece:
    """The piece with a dart about the bust point on either side, ``share`` along a line of the left half."""
    for side in ("left", "right"):
        apex = next(d.at for d in piece.drills if d.name.endswith(side))
        path = piece.line(f"{line}-{side}").path
        middle = path.length * (share if side == "left" else 1.0 - share)
        # The mouth is first drawn to the apex, so that the two stand on one middle line.
        drawn = cut_in(piece, dart_name(name, Side(side)), f"{line}-{side}", middle, apex, width)
        piece = true_mouth(draw_point_to(drawn, f"{name}-{side}", set_back), f"{name}-{side}")
    return piece


def front(*darts: str) -> Piece:
    """A front with the darts named: "bust" (at the side), "waist"."""
    piece = plain(Face.FRONT)
    if "bust" in darts:
        piece = with_dart(piece, "bust", "side", 0.55, 28.0)
    if "waist" in darts:
        piece = with_dart(piece, "waist-front", "waist", 0.41, 30.0)
    return piece


def with_slits(piece: Piece) -> Piece:
    """The piece with a dart of two points on either side."""
    slits = []
    for side, sign in (("left", 1.0), ("right", -1.0)):
        x = sign * 95.0
        corners = (Point(x, -290.0), Point(x + 10.0, -340.0), Point(x, -400.0), Point(x - 10.0, -340.0))
        slits.append(draw_inner_dart(dart_name("waist-front", Side(side)), *corners, Side(side), piece.face).lines)
    return with_only(piece, Slit, map(Slit, slits))


def sewn(one: Piece, two: Piece, darts: Sequence[str] = ()) -> Garment:
    """A front and a back sewn at shoulders and sides, with the front's darts."""

    def run(piece: Piece, name: str, against: bool) -> tuple[Use, ...]:
        uses = [Use(piece.name, line.name, against) for line in piece.lines(name)]
        return tuple(reversed(uses)) if against else tuple(uses)

    seams = []
    for side in ("left", "right"):
        for role in ("shoulder", "side"):
            name = f"{role}-{side}"
            against = side == "right"
            plies = (run(one, name, against), run(two, name, not against))
            ease = sum(two.line(u.line).path.length for u in plies[1]) - sum(
                one.line(u.line).path.length for u in plies[0]
            )
            seams.append(Seam(name, kind_of(role), name, (Section(plies, (0.0, ease)),)))
        seams += [sew_dart(dart_of(one, f"{dart}-{side}"), f"{dart} dart, {side}") for dart in darts]
    return Garment((one, two), tuple(seams), ("neck", "armhole-left", "armhole-right", "hem"))
