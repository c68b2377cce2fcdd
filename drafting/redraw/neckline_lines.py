"""A neckline's lines: what shape they may have, and how they take the place of the old ones in their piece."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from drafting.body import Rules
from drafting.errors import CannotDraft
from drafting.garment import Face, Garment, Line, Role, Side, Use, substitute
from drafting.garment.carry import hand_on
from drafting.garment.features import Heir
from drafting.geometry import Path, Point, turn
from drafting.record import dataclass
from drafting.redraw.halves import Half, find_half
from drafting.redraw.shapes import LOWEST_NECKLINE, tightest_radius
from drafting.saying import mm, say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

NECK_DEPTHS = trade_row((5.0, 10.0), "mm", "from memory", "0.5 to 1 cm")
"""By which the front of a close neck is deeper than half its width, at least and at most."""

LEAST_SEAM = TradeValue(80.0, "mm", "common practice")
"""Of seam that remain above a vent, so that it holds the garment together."""


LEAST_DIP = TradeValue(10.0, "mm", "from memory")
"""By which a neckline's centre lies below its shoulder points, so that a curve can meet both square."""

FLATTEST_V = TradeValue(math.radians(27.0), "rad", "from memory")
"""Of slant at the centre at least: below it a V looks like a round neckline with a fault."""

SQUARE_ACROSS = TradeValue(20.0, "mm", "from memory")
"""From the centre to the corner of a square neckline, at least."""


@dataclass(frozen=True, slots=True)
class UsualDepth:
    """What is usual for a shape (mm): how far it lies below the neck base, and how far it opens each shoulder."""

    front_depth: float
    back_depth: float
    widen: float


USUAL_NECKLINES: Mapping[str, UsualDepth] = MappingProxyType(
    {
        "round": UsualDepth(*trade_row((35.0, 10.0, 25.0), "mm", "common practice", "as the knit bodice's")),
        "scoop": UsualDepth(*trade_row((75.0, 25.0, 45.0), "mm", "common practice")),
        "v": UsualDepth(*trade_row((90.0, 90.0, 25.0), "mm", "common practice", "9 to 12 cm deep in front")),
        "square": UsualDepth(*trade_row((60.0, 40.0, 40.0), "mm", "common practice")),
        "boat": UsualDepth(*trade_row((0.0, 25.0, 65.0), "mm", "common practice")),
    }
)
"""By which a neckline of each shape lies below the neck base, and opens each shoulder, where no one says."""

MAN_OPENED = TradeValue(10.0, "mm", "common practice", "a man's neck 16 to 18 cm wide, a woman's 18 to 20")
"""By which a man's round or V neckline is opened along each shoulder at least, where no one says."""


def open_by_rule(shape: str, now: str, opened: float, rules: Rules) -> float:
    """Return how far (mm) a neckline of a new shape is opened along each shoulder, that is ``opened`` so far now.

    One that has the shape already stays as it is: a depth alone moves no shoulder. A man's round or V neckline stays,
    too, between what is usual for men and for women.
    """
    usual = USUAL_NECKLINES[shape].widen
    if shape == now:
        return opened
    return min(max(opened, MAN_OPENED), usual) if rules == "men" and shape in ("round", "v") else usual


def with_neckline(half: Half, old: Sequence[Line], parts: Sequence[tuple[str, Path]]) -> Half:
    """Return the half with its neckline lines replaced by others, drawn on +x from the shoulder to the centre."""
    root = old[0] if not old[0].ancestry else replace(old[0], name=old[0].ancestry[0], ancestry=())
    made = [
        root.part(name, half.on_plus_x(path)) if name else replace(root, path=half.on_plus_x(path))
        for name, path in parts
    ]
    in_ring = made[::-1] if half.flipped else made
    gone = {line.name for line in old}
    ring: list[Line] = []
    put = False
    for line in half.piece.ring:
        if line.name not in gone:
            ring.append(line)
        elif not put:
            ring.extend(in_ring)
            put = True
    ring = _trim_centres(half, ring, old, made)
    heirs = tuple(Heir(line.name) for line in made)
    piece = hand_on(replace(half.piece, ring=tuple(ring)), dict.fromkeys(gone, heirs))
    return replace(half, piece=piece)


def _trim_centres(half: Half, ring: list[Line], old: Sequence[Line], made: Sequence[Line]) -> list[Line]:
    """The ring, its centre seam ending where the new neckline does: a half that was parted at the centre has one."""
    was, now = (half.on_plus_x(lines[-1].path).end for lines in (old, made))
    return [
        replace(line, path=half.on_plus_x(_trim_centre(half, half.on_plus_x(line.path), was, now)))
        if line.role is Role.CENTRE and not was.near(now, TOLERANCE.joint)
        else line
        for line in ring
    ]


def _trim_centre(half: Half, path: Path, was: Point, now: Point) -> Path:
    """A centre seam, as on +x, that ended at a neckline's centre, run to where that is now."""
    if path.start.near(was, TOLERANCE.joint):  # on +x it runs down from the neckline
        left = now.y - path.end.y
        if path.is_straight and left >= LEAST_SEAM:
            return Path.straight(now, path.end)
        raise CannotDraft(
            f"{half.face}_depth", say("the {face} neckline would leave too little of the centre seam", face=half.face),
            short_by=max(LEAST_SEAM - left, 0.0), help="raise the neckline, or draw it before the seam",
        )  # fmt: skip
    return path


def put_neckline(garment: Garment, old: Half, new: Half) -> Garment:
    """Put a changed half back; a seam that holds the old lines holds the new ones."""
    if new is old:
        return garment
    before, after = old.piece.lines(role=Role.NECKLINE), new.piece.lines(role=Role.NECKLINE)
    names, left = [ln.name for ln in after], [ln.name for ln in before]
    gone, come = [n for n in left if n not in names], [n for n in names if n not in left]
    garment = garment.with_(pieces=(new.piece,))
    if not gone:
        return garment
    piece = new.piece.name
    uses: dict[tuple[str, str], tuple[Use, ...]] = {(piece, name): () for name in gone}
    uses[piece, gone[0]] = tuple(Use(piece, name) for name in come)
    return replace(garment, seams=substitute(garment.seams, uses))


def has_neckline(garment: Garment, side: Side, face: Face) -> bool:
    """Whether one piece has a shoulder and a neckline on a side of a face."""
    found = [p for p in garment.pieces if p.lines(role=Role.SHOULDER, side=side, face=face)]
    return len(found) == 1 and bool(find_half(garment, side, face).lines(Role.NECKLINE))


def lean_kept(garment: Garment, side: Side, face: Face) -> float:
    """By how much (rad) a neckline turns out from square to its shoulder: one that runs on in it turns in by that."""
    half = find_half(garment, side, face)
    down = half.on_plus_x(half.lines(Role.SHOULDER)[-1].path)
    along = Point(0.0, 0.0) - down.tangent(0.0)
    lean = turn(Point(along.y, -along.x), half.on_plus_x(half.lines(Role.NECKLINE)[0].path).tangent(0.0))
    return lean if abs(lean) > TOLERANCE.tangent else 0.0


def centre_of(half: Half) -> float:
    """Return the height (y, mm) of a half's neckline at the centre."""
    return half.on_plus_x(half.lines(Role.NECKLINE)[-1].path).end.y


def lower_centre(garment: Garment, face: Face) -> float | None:
    """The height (y, mm) of the lower centre of a face's two halves; None where they meet, or there is but one."""
    found = [
        centre_of(find_half(garment, side, face))
        for side in (Side.LEFT, Side.RIGHT)
        if any(p.lines(role=Role.SHOULDER, side=side, face=face) for p in garment.pieces)
    ]
    return min(found) if len(found) == 2 and max(found) - min(found) > TOLERANCE.joint else None


def slant_of(path: Path) -> float:
    """Return how far (rad) a half neckline is from meeting the centre square."""
    at = path.tangent(path.length)
    return math.atan2(abs(at.y), -at.x)


def shape_now(lines: Sequence[Line], half: Half) -> str:
    """Return "v" or "square" for a half neckline that is one, an empty text for a curve that runs level at its end."""
    if len(lines) > 1:
        return "square"
    return "v" if slant_of(half.on_plus_x(lines[0].path)) > TOLERANCE.smooth_join else ""


def refuse_ends(half: Half, ends: tuple[Point, Point], base: float) -> None:
    """Raise CannotDraft for a neckline whose centre lies too high or too low below ``base``, the neck base (mm, y)."""
    place = f"{half.face}_depth"
    dip = ends[0].y - ends[1].y
    if dip < LEAST_DIP:
        raise CannotDraft(
            place, say("so wide a {face} neckline would hardly dip below its shoulder points", face=half.face),
            short_by=LEAST_DIP - dip, help=say("lower the {face} neckline, or open it less", face=half.face),
        )  # fmt: skip
    underarm = min((line.path.bounds[1] for line in half.lines(Role.ARMHOLE)), default=-math.inf)
    lowest = underarm - LOWEST_NECKLINE
    if ends[1].y < lowest:
        raise CannotDraft(
            place, say("the {face} neckline reaches far below the underarm", face=half.face),
            short_by=lowest - ends[1].y,
            help=say("let {place} be at most {most}", place=place, most=tape(math.floor(base - lowest))),
        )  # fmt: skip


def refuse_shape(half: Half, shape: str, parts: Sequence[tuple[str, Path]], tightest: float) -> None:
    """Raise CannotDraft for a V without a point, a square that closes to a slit, and too tight a bend."""
    place, last = f"{half.face}_depth", parts[-1][1]
    if shape == "v" and slant_of(last) < FLATTEST_V:
        way = last.start.x * math.tan(FLATTEST_V) - (last.start.y - last.end.y)
        raise CannotDraft(
            place, say("so flat a V on the {face} has no point", face=half.face),
            short_by=max(way, 0.0), help=say("lower the {face} neckline, or make it round", face=half.face),
        )  # fmt: skip
    if len(parts) > 1 and last.length < SQUARE_ACROSS:
        raise CannotDraft(
            place, say("so deep a square neckline on the {face} closes to a slit", face=half.face),
            short_by=SQUARE_ACROSS - last.length, help="raise it, or open it more",
        )  # fmt: skip
    _refuse_tight(half, parts, tightest)


def _refuse_tight(half: Half, parts: Sequence[tuple[str, Path]], tightest: float) -> None:
    """Raise CannotDraft for a neckline that bends too tightly to be given its allowance."""
    radius = min(tightest_radius(path) for _, path in parts)
    if radius >= tightest:
        return
    first, last = parts[0][1], parts[-1][1]
    shallow = last.start.x > 2.0 * (first.start.y - last.end.y)
    raise CannotDraft(
        f"{half.face}_depth",
        say(
            "the {face} neckline would turn with a radius of {radius}, too tightly to be sewn",
            face=half.face,
            radius=mm(radius),
        ),
        short_by=tightest - radius,
        help="lower it, or open it less" if shallow else "raise it, or open it more",
    )
