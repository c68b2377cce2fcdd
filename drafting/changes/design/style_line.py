"""Style line: the front, the back or both are parted along a line, as for a yoke, a panel or a block of colour.

The line runs between two places given by meaning. The new seam, its notches and its allowances follow from the seam.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    Piece,
    Role,
    Run,
    Side,
    Stage,
    change,
    face_option,
    faces_of,
    option,
)
from drafting.garment.places import Spot, lines_along, runs_at, spots
from drafting.geometry import Path, Point, turn
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.parting import Cut, part_piece
from drafting.saying import Name, Words, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE

SHARPEST_END = TradeValue(
    math.radians(10.0), "rad", "common practice", "a seam starts as square to an edge as the design allows"
)
"""At which a style line meets an edge at least: more sharply it leaves a point that can't be sewn."""

STEEP_LINE = TradeValue(math.radians(45.0), "rad", "from memory")
"""Off the level from which a style line runs up and down: its bulge is told from the centre, not from below."""

_PLACES = 'such as "shoulder 0.5", "neckline 0.3", "armhole 40 %", "side 1/4", "hem 0.5" or "centre"'
_PLACE = re.compile(r"\s*([a-z][a-z0-9-]*)\s*(?:([0-9.]+)\s*(%|/\s*[0-9.]+)?)?\s*")
_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class StyleLineOptions:
    """Options of a style line."""

    start: str = option(
        "Where the line starts: a line and a share of it, the shoulder measured from the neck, neckline and armhole "
        "from the shoulder, the side from the underarm, the hem from the centre.",
        "text",
        "armhole 0.7",
    )
    end: str = option("Where the line ends, told as the start is.", "text", "armhole 0.7")
    start_side: str = option(
        "The wearer's side on which the line starts; both draws one on each.",
        "choice",
        "left",
        choices=("left", "right", "both"),
    )
    end_side: str = option(
        "The wearer's side on which the line ends.", "choice", "other", choices=("same", "other", "left", "right")
    )
    face: str = face_option("Which pieces are parted.")
    curve: float = option(
        "How far the line bulges up, as a share of the straight distance between its ends; a line that runs up and "
        "down bulges outwards.",
        "ratio",
        0.0,
        low=-0.4,
        high=0.4,
    )
    name: str = option("Name of the part with less of the hem.", "text", "yoke")


@dataclass(frozen=True, slots=True)
class _WantedLine:
    """One line on one face: its places, and the sides they lie on."""

    face: Face
    start: tuple[str, float]
    end: tuple[str, float]
    sides: tuple[Side, Side]


@change(
    "style-line",
    "A seam across the front or the back from one place to another: a yoke, a panel, a block of colour.",
    Stage.STYLE,
    kinds=(STYLE,),
    mends=(Mend("piece-too-wide", 'part it by a seam: change = "{change}", face = "{face}"'),),
)
def draw_style_line(garment: Garment, brief: Brief, o: StyleLineOptions) -> Garment:
    """Part the pieces asked for."""
    name = re.sub(r"\s+", "-", o.name.strip().lower())
    if not _NAME.fullmatch(name) or name in {str(role) for role in Role}:
        raise CannotDraft(
            "name", say("a part can't be called “{name}”", name=o.name), help='use a plain word such as "yoke"'
        )
    for face in faces_of(o.face):
        for sides in _sides(o):
            wanted = _WantedLine(face, read_place(o.start, "start"), read_place(o.end, "end"), sides)
            garment = _part_on_line(garment, wanted, name, o.curve)
    return garment


def read_place(told: str, key: str) -> tuple[str, float]:
    """Return the line's name and the share that a place such as "shoulder 0.5" tells.

    "centre" without a share is its upper end. CannotDraft where the place can't be read.
    """
    found = _PLACE.fullmatch(told.lower().replace("center", "centre"))
    try:
        word, figure, of = found.groups() if found else ("", None, None)
        if figure is None and word != "centre":
            raise ValueError
        share = float(figure or 0.0)
        share = share / 100.0 if of == "%" else share / float(of[1:]) if of else share
    except (ValueError, ZeroDivisionError):
        raise CannotDraft(
            key, say("“{told}” isn't a place", told=told), help=say("write a place {places}", places=_PLACES)
        ) from None
    if not 0.0 <= share <= 1.0:
        raise CannotDraft(key, say("“{told}” lies beyond the line", told=told), help="write a share from 0 to 1")
    return word, share


def _sides(o: StyleLineOptions) -> tuple[tuple[Side, Side], ...]:
    """The sides on which each line to be drawn starts and ends."""
    other = o.end_side == "other" or (o.start_side == "both" and o.start.split() == o.end.split())
    if o.start_side == "both":
        if o.end_side in ("left", "right"):
            raise CannotDraft(
                "end_side", "lines on both sides can't both end on one side", help='use "same" or "other"'
            )
        if not other:
            return (Side.LEFT, Side.LEFT), (Side.RIGHT, Side.RIGHT)
        if o.start.split() != o.end.split():
            raise CannotDraft(
                "end_side",
                "lines that start on both sides and end on the other cross each other",
                help="draw one line, or let both end on their own side",
            )
        return ((Side.LEFT, Side.RIGHT),)
    start = Side(o.start_side)
    end = start.other if other else start if o.end_side == "same" else Side(o.end_side)
    return ((start, end),)


def _runs(garment: Garment, word: str, share: float, side: Side, face: Face) -> Iterator[tuple[Run, float]]:
    """The runs on which a place lies, and its share; the centre without a seam is the neckline's lowest point."""
    if word == "centre" and not lines_along(garment, Role.CENTRE, side, face):
        if share > 0.0:
            raise DraftingError(f"the centre {face} has no seam to measure along")
        word, share = "neckline", 1.0
    for run in runs_at(garment, word, side, face):
        yield run, share


def _spots(garment: Garment, place: tuple[str, float], side: Side, face: Face) -> list[Spot]:
    return [spot for run, share in _runs(garment, *place, side, face) for spot in spots(garment, run, share)]


def _part_on_line(garment: Garment, wanted: _WantedLine, name: str, curve: float) -> Garment:
    """Draw one line and part the piece it runs across."""
    try:
        start, end = _ends(garment, wanted)
        piece = garment.piece(start.piece)
        path = draw_bow(start.point(garment), end.point(garment), curve)
        _check_angles(piece, path)
        cut, title = _name_parts(piece, wanted, name, start, end, path)
        made = part_piece(garment, piece.name, cut, title)
    except CannotDraft:
        raise
    except DraftingError as error:
        raise CannotDraft(
            ("start", "end"), error.words, help="change its start or its end, or give it another curve or name"
        ) from None
    told = say(
        "style line across the {title:lower}, {start} to {end}",
        title=piece.title,
        start=wanted.start[0],
        end=wanted.end[0],
    )
    return made.with_(facts=[Fact(f"style_line_{cut.name}_{wanted.face}", path.length, "mm", "choice", told)])


def _ends(garment: Garment, wanted: _WantedLine) -> tuple[Spot, Spot]:
    """The two spots on one piece; where a place lies on two pieces, the piece they share is meant."""
    starts = _spots(garment, wanted.start, wanted.sides[0], wanted.face)
    ends = _spots(garment, wanted.end, wanted.sides[1], wanted.face)
    for start in starts:
        for end in ends:
            if start.piece == end.piece:
                if start.point(garment).near(end.point(garment), TOLERANCE.sewn_length):
                    raise DraftingError("the line starts where it ends")
                return start, end
    pieces = " and ends on the ".join(str(garment.piece(s[0].piece).title).lower() for s in (starts, ends))
    raise DraftingError(
        f"the line starts on the {pieces}: it can only part one piece, so start it at the seam between them"
    )


def draw_bow(a: Point, b: Point, curve: float) -> Path:
    """Return the line from ``a`` to ``b`` with its middle off the chord by ``curve`` times the chord.

    It bulges up; a line steeper than 45 degrees bulges away from the centre (x = 0).
    """
    if curve == 0.0:
        return Path.straight(a, b)
    chord = b - a
    middle = a.to(b, 0.5)
    steep = abs(math.atan2(abs(chord.y), abs(chord.x))) > STEEP_LINE
    toward = Point(math.copysign(1.0, middle.x), 0.0) if steep else Point(0.0, 1.0)
    out = chord.left if chord.left.dot(toward) >= 0.0 else chord.right
    lift = out * (curve * 4.0 / 3.0)  # the middle of a cubic lies 3/4 of its handles' height off the chord
    return Path.cubic(a, a.to(b, 1.0 / 3.0) + lift, a.to(b, 2.0 / 3.0) + lift, b)


def _check_angles(piece: Piece, path: Path) -> None:
    """Refuse a line that leaves a sharper point than can be sewn."""
    for at, into in ((path.start, path.tangent(0.0)), (path.end, -path.tangent(path.length))):
        for line in piece.ring:
            s, gap = line.path.nearest(at)
            if gap > TOLERANCE.joint:
                continue
            ways = [] if s >= line.path.length - TOLERANCE.joint else [line.path.tangent(s)]
            ways += [] if s <= TOLERANCE.joint else [-line.path.tangent(max(s - TOLERANCE.joint, 0.0))]
            sharpest = min(abs(turn(way, into)) for way in ways)
            if sharpest < SHARPEST_END:
                raise DraftingError(
                    say(
                        "the line meets the {line:placed} at {angle:.0f} degrees; "
                        "less than {least:.0f} leaves a point that can't be sewn",
                        line=Name(line.name),
                        angle=math.degrees(sharpest),
                        least=math.degrees(SHARPEST_END),
                    )
                )


def _name_parts(piece: Piece, wanted: _WantedLine, name: str, start: Spot, end: Spot, path: Path) -> tuple[Cut, Words]:
    """Name the parts: the one that holds most of the hem keeps the piece's name."""
    one_sided = wanted.sides[0] is wanted.sides[1] and piece.side is Side.NONE
    side = f"-{wanted.sides[0]}" if one_sided else ""
    whose = wanted.sides[0] if one_sided else Side.NONE
    title = say("{side} {piece:lower} {name}", side=whose, piece=piece.title, name=name.replace("-", " "))
    main, new = (piece.name, piece.title), (f"{piece.name}-{name}{side}", say("{title:capital}", title=title))
    left, right = (main, new) if _holds_hem(piece, end, start) else (new, main)
    return Cut(start.place, end.place, path, f"{name}{side}", left, right), title


def _holds_hem(piece: Piece, low: Spot, high: Spot) -> bool:
    """Whether the ring from one spot on to another holds most of the hem, or of the outline if the hem is halved."""
    position, at = 0.0, {}
    for line in piece.ring:
        at[line.name] = position
        position += line.path.length
    a, b = (at[spot.place.line] + spot.place.s for spot in (low, high))
    b = b if b > a else b + position

    def held(line_from: float, length: float) -> float:
        spans = ((line_from + k * position, line_from + length + k * position) for k in (0, 1))
        return sum(max(0.0, min(b, y) - max(a, x)) for x, y in spans)

    hems = [(at[line.name], line.path.length) for line in piece.ring if line.role is Role.HEM]
    spare = sum(2.0 * held(*hem) - hem[1] for hem in hems)
    return spare > 0.0 if abs(spare) > TOLERANCE.sewn_length else 2.0 * (b - a) > position
