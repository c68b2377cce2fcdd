"""Style line: the front, the back or both are parted along a line, as for a yoke, a panel or a block of colour.

The line runs between two places given by meaning. The new seam, its notches and its allowances follow from the seam.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import product

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
    hanging_pieces,
    option,
)
from drafting.garment.places import Spot, lines_along, runs_at, spots
from drafting.geometry import Path, Point, turn
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.across import LaidStretch, find_again, lay_line
from drafting.redraw.clear_darts import end_darts_short
from drafting.redraw.heights import is_skirt
from drafting.redraw.parting import Cut, part_piece
from drafting.redraw.told_place import read_place
from drafting.redraw.yoke_darts import close_in_yoke
from drafting.saying import Name, Words, list_sayings, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row
from drafting.work.kinds import STYLE

SHARPEST_END = TradeValue(
    math.radians(10.0), "rad", "common practice", "a seam starts as square to an edge as the design allows"
)
"""At which a style line meets an edge at least: more sharply it leaves a point that can't be sewn."""

STEEP_LINE = TradeValue(math.radians(45.0), "rad", "from memory")
"""Off the level from which a style line runs up and down: its bulge is told from the centre, not from below."""

BOWS = trade_row((0.0, 0.05, -0.05, 0.1, -0.1, 0.15, -0.15), "share", "from memory")
"""By how much a line is bowed by rule, tried in turn: straight, then as little as lets it be sewn."""

_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


@dataclass(frozen=True, slots=True)
class StyleLineOptions:
    """Options of a style line."""

    start: str = option(
        "Where the line starts: an edge, and how far along it from 0 to 1, the shoulder measured from the neck, "
        "neckline and armhole from the shoulder, the side from the underarm, the hem from the centre.",
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
    on: str = face_option("Whether the front, the back or both are parted.")
    curve: float | None = option(
        "How far the line bulges up, as a share of the straight distance between its ends; a line that runs up and "
        "down bulges outwards. By rule it is straight, from side to side of a skirt square to them, or bows as little "
        "as lets it be sewn.",
        "ratio",
        None,
        low=-0.4,
        high=0.4,
    )
    name: str = option("Name of the piece with less of the hem.", "text", "yoke")


@dataclass(frozen=True, slots=True)
class _WantedLine:
    """One line on one face: its places, and the sides they lie on."""

    face: Face
    start: tuple[str, float]
    end: tuple[str, float]
    sides: tuple[Side, Side]


@change(
    "style-line",
    "A seam across the front or the back from one place to another: a yoke, a panel, a block of colour. A yoke takes "
    "up the darts from waist or shoulder that end near its seam.",
    Stage.STYLE,
    kinds=(STYLE,),
    mends=(Mend("piece-too-wide", 'part it by a seam: change = "{change}", on = "{face}"'),),
)
def draw_style_line(garment: Garment, brief: Brief, o: StyleLineOptions) -> Garment:
    """Part the pieces asked for."""
    name = re.sub(r"\s+", "-", o.name.strip().lower())
    if not _NAME.fullmatch(name) or name in {str(role) for role in Role}:
        raise CannotDraft(
            "name", say("a piece can't be called “{name}”", name=o.name), help='use a plain word such as "yoke"'
        )
    for face in faces_of(o.on):
        for sides in _sides(o):
            wanted = _WantedLine(face, read_place(o.start, "start"), read_place(o.end, "end"), sides)
            garment = _part_on_line(garment, wanted, name, o.curve)
    return garment


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
    hanging = hanging_pieces(garment)
    for run in runs_at(garment, word, side, face):
        yield tuple(use for use in run if use.piece not in hanging), share


def _spots(garment: Garment, place: tuple[str, float], side: Side, face: Face) -> list[Spot]:
    return [spot for run, share in _runs(garment, *place, side, face) for spot in spots(garment, run, share)]


def _part_on_line(garment: Garment, wanted: _WantedLine, name: str, curve: float | None) -> Garment:
    """Draw one line and part each piece that it runs across; by rule bowed as little as lets it be sewn."""
    one_edge = wanted.start[0] == wanted.end[0] and wanted.sides[0] is wanted.sides[1]
    refused = list[CannotDraft]()
    by_rule = BOWS[:1] if one_edge else (*_square_bow(garment, wanted), *BOWS)
    for bow in by_rule if curve is None else (curve,):
        try:
            return _part_on_bow(garment, wanted, name, bow)
        except CannotDraft as error:
            refused.append(error)
    raise refused[0]


def _square_bow(garment: Garment, wanted: _WantedLine) -> Iterator[float]:
    """The bow with which a skirt's line from side to side meets them square, as a hip yoke's: it runs on over them."""
    if {wanted.start[0], wanted.end[0]} != {Role.SIDE} or wanted.sides[0] is wanted.sides[1]:
        return
    found = zip(
        _spots(garment, wanted.start, wanted.sides[0], wanted.face),
        _spots(garment, wanted.end, wanted.sides[1], wanted.face),
        strict=False,
    )
    ends = next(found, None)
    if ends is not None and all(is_skirt(garment.piece(end.piece)) for end in ends):
        a, b = (end.point(garment) for end in ends)
        yield (_rise_square(garment, ends[0], a, b) + _rise_square(garment, ends[1], b, a)) / 8.0


def _rise_square(garment: Garment, end: Spot, at: Point, to: Point) -> float:
    """By how much per mm a line from a place on an edge rises off its chord that leaves the edge square."""
    along = (to - at).unit
    across = along.left if along.left.y > 0.0 else along.right
    square = garment.piece(end.piece).line(end.place.line).path.tangent(end.place.s).left
    return square.dot(across) / square.dot(along)


def _part_on_bow(garment: Garment, wanted: _WantedLine, name: str, curve: float) -> Garment:
    """Draw one line with that curve and part each piece that it runs across."""
    try:
        laid = _lay(garment, wanted, curve)
        keeps_left = _holds_hem(garment, laid)
        made = garment
        for i, stretch in enumerate(laid):
            here = find_again(made, stretch) if i else stretch
            piece = end_darts_short(made.piece(here.piece), here.path)
            made = made.with_(pieces=[piece])
            _check_angles(piece, here.path)
            cut, title = _name_parts(piece, _sides_of(laid, i, wanted), name, here, keeps_left)
            made = part_piece(made, piece.name, cut, title)
            for part, _ in (cut.left, cut.right):
                made = close_in_yoke(made, part, cut.name)
    except CannotDraft:
        raise
    except DraftingError as error:
        raise CannotDraft(
            ("start", "end"), error.words, help="change its start or its end, or give it another curve or name"
        ) from None
    return made.with_(facts=[_fact(garment, wanted, name, laid)])


def _fact(garment: Garment, wanted: _WantedLine, name: str, laid: tuple[LaidStretch, ...]) -> Fact:
    """What is told of the line: how long it is over all pieces."""
    titles = [garment.piece(each).title.lower() for each in dict.fromkeys(each.piece for each in laid)]
    told = say(
        "style line across the {titles}, {start} to {end}",
        titles=list_sayings(titles, last=" and the "),
        start=wanted.start[0],
        end=wanted.end[0],
    )
    side = f"-{wanted.sides[0]}" if wanted.sides[0] is wanted.sides[1] else ""
    length = sum(each.path.length for each in laid)
    return Fact(f"style_line_{name}{side}_{wanted.face}", length, "mm", "choice", told)


def _lay(garment: Garment, wanted: _WantedLine, curve: float) -> tuple[LaidStretch, ...]:
    """The line over all pieces that it crosses; where a place lies on two pieces, the fewest pieces are meant."""
    starts = _spots(garment, wanted.start, wanted.sides[0], wanted.face)
    ends = _spots(garment, wanted.end, wanted.sides[1], wanted.face)
    pairs = sorted(product(starts, ends), key=lambda pair: pair[0].piece != pair[1].piece)
    if any(a.point(garment).near(b.point(garment), TOLERANCE.sewn_length) for a, b in pairs):
        raise DraftingError("the line starts where it ends")
    return lay_line(garment, pairs, lambda a, b: draw_bow(a, b, curve))


def _sides_of(laid: tuple[LaidStretch, ...], i: int, wanted: _WantedLine) -> tuple[Side, Side]:
    """The sides on which a stretch starts and ends: where the neck parts the line, each half lies on one."""
    if sum(each.piece == laid[i].piece for each in laid) == 1:
        return wanted.sides
    middle = laid[i].path.at(laid[i].path.length / 2.0)
    side = Side.LEFT if (middle.x > 0.0) == (wanted.face is Face.FRONT) else Side.RIGHT
    return side, side


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


def _name_parts(
    piece: Piece, sides: tuple[Side, Side], name: str, stretch: LaidStretch, keeps_left: bool
) -> tuple[Cut, Words]:
    """Name the parts: those on the side of the line that holds most of the hem keep their piece's name."""
    one_sided = sides[0] is sides[1] and piece.side is Side.NONE
    side = f"-{sides[0]}" if one_sided else ""
    whose = sides[0] if one_sided else Side.NONE
    title = say("{side} {piece:lower} {name}", side=whose, piece=piece.title, name=name.replace("-", " "))
    main, new = (piece.name, piece.title), (f"{piece.name}-{name}{side}", say("{title:capital}", title=title))
    left, right = (main, new) if keeps_left else (new, main)
    return Cut(stretch.start, stretch.end, stretch.path, f"{name}{side}", left, right), title


def _holds_hem(garment: Garment, laid: tuple[LaidStretch, ...]) -> bool:
    """Whether most of the hem lies to the left of a line, or of the outlines if the hem is halved."""
    shares = [_left_share(garment.piece(each.piece), each) for each in laid]
    hem, outline = sum(hem for hem, _ in shares), sum(outline for _, outline in shares)
    return hem > 0.0 if abs(hem) > TOLERANCE.sewn_length else outline > 0.0


def _left_share(piece: Piece, stretch: LaidStretch) -> tuple[float, float]:
    """How much more (mm) of a piece's hem, and of its outline, lies left of a stretch than right of it."""
    position, at = 0.0, {}
    for line in piece.ring:
        at[line.name] = position
        position += line.path.length
    a, b = (at[place.line] + place.s for place in (stretch.end, stretch.start))
    b = b if b > a else b + position

    def held(line_from: float, length: float) -> float:
        spans = ((line_from + k * position, line_from + length + k * position) for k in (0, 1))
        return sum(max(0.0, min(b, y) - max(a, x)) for x, y in spans)

    hems = [(at[line.name], line.path.length) for line in piece.ring if line.role is Role.HEM]
    return sum(2.0 * held(*hem) - hem[1] for hem in hems), 2.0 * (b - a) - position
