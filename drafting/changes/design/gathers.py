"""Gathers: fullness let into a piece at a line, to be gathered to the length of what the line is sewn to."""

from __future__ import annotations

import math
from collections.abc import Mapping

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    Line,
    Piece,
    Role,
    Side,
    Stage,
    Use,
    change,
    face_option,
    faces_of,
    option,
)
from drafting.garment.carry import drop_features, only, with_features
from drafting.garment.features import Gathers
from drafting.garment.places import Place, gathered_length
from drafting.geometry import Point
from drafting.mending import mend_wavering
from drafting.record import dataclass
from drafting.redraw.fullness import let_into, match_ends, with_note
from drafting.redraw.letting_in import Fan, let_in, place_across
from drafting.redraw.spreading import point_at
from drafting.saying import mm, say
from drafting.trade import TradeValue, trade_row

LEAST_GATHERED_SHARE = TradeValue(0.05, "share", "from memory")
"""Of an edge over which it is gathered at least."""

SLASHES_APART = TradeValue(25.0, "mm", "common practice", "2 to 3 cm")
"""Of edge between slashes for gathers: near enough that the fullness is even along the edge."""

ALONG_GRAIN = TradeValue(0.8, "share", "from memory")
"""Of an edge's straight length that it runs along the grain: one that runs farther (within 37 degrees of the grain) is
slashed across it."""

GATHERS_REACHES = trade_row((1.0, 0.8, 0.6, 0.4), "share", "from memory")
"""Of what is gathered over which the slashes may lie, tried in turn: a dart, or a hollow edge, leaves less room."""

MOST_FULLNESS_TURN = TradeValue(math.radians(45.0), "rad", "from memory")
"""By which fullness that dies away may swing a piece's ends apart: beyond, its edges no longer lie as they are worn."""

MOST_GATHERS = TradeValue(2.0, "times", "from memory")
"""The length it is gathered to, that an edge may add: more than three to one doesn't draw up."""


@dataclass(frozen=True, slots=True)
class GathersOptions:
    """Options of the gathers."""

    at: str = option('The line that is gathered: "neckline", or the name of a style line.', "text", "yoke")
    by: float = option("How much fullness is let in.", "length", 80.0, low=5.0, high=1200.0)
    on: str = face_option("Whether the front, the back or both are gathered.", "front")
    way: str = option(
        "Whether the fullness runs down to the hem, or dies away towards it.",
        "choice",
        "through",
        choices=("through", "away"),
    )
    start: float = option(
        "Share of the line, from its left end, at which the gathers start.", "ratio", 0.1, low=0.0, high=0.9
    )
    end: float = option("Share of the line at which they end.", "ratio", 0.9, low=0.1, high=1.0)


@change(
    "gathers",
    "Fullness let in at a neckline or a style line, gathered to the length of what it is sewn to.",
    Stage.STYLE,
    mends=mend_wavering(Role.NECKLINE, Role.WAIST, Role.HEM, Role.SIDE),
)
def let_in_gathers(garment: Garment, brief: Brief, o: GathersOptions) -> Garment:
    """Let fullness in at the line on each face asked for, shared evenly."""
    faces = faces_of(o.on)
    if o.end - o.start < LEAST_GATHERED_SHARE:
        raise CannotDraft(("start", "end"), "the gathers end where they start", help="let them end farther on")
    for face in faces:
        garment = _gather(garment, face, o.by / len(faces), o)
    return garment


def _gather(garment: Garment, face: Face, by: float, o: GathersOptions) -> Garment:
    piece, lines = _edge(garment, face, o.at)
    around = _drawn_up(garment, piece, lines)
    if by > MOST_GATHERS * around:
        raise CannotDraft(
            "by",
            say("{by} can't be gathered into an edge of {around}", by=mm(by), around=mm(around)),
            short_by=by - MOST_GATHERS * around,
            help="let in less, or gather a longer stretch",
        )
    made = _spread(piece, lines, by, o)
    garment = _mark_gathers(let_into(garment, piece, made), piece, lines, by, o)
    told = say(
        "let in at the {at} of the {title:lower}; gather it to {around}",
        at=o.at,
        title=piece.title,
        around=mm(around),
    )
    facts = [Fact(f"gathers_{o.at}_{face}", by, "mm", "choice", told)]
    if lines[0].opening:
        grown = {line.name: _growth(made, line) for line in lines}
        facts += [Fact(f"gathered {name} {face}", growth, "mm", "choice", told) for name, growth in grown.items()]
        garment = garment.with_(pieces=[_let_gathers_in(garment.piece(piece.name), grown)])
    return garment.with_(facts=facts)


def _spread(piece: Piece, lines: tuple[Line, ...], by: float, o: GathersOptions) -> Piece:
    """The piece slashed and spread; where a slash would leave it or run into a dart, all lie nearer to the middle."""
    refused = list[CannotDraft]()
    for reach in GATHERS_REACHES:
        try:
            fan = _fan(piece, lines, by, o, reach)
            _check_turn(piece, fan)
            return let_in(piece, [fan], _hold(lines))
        except CannotDraft as error:
            refused.append(error)
        except DraftingError as error:
            words = say("the {title:lower} can't be spread: {error}", title=piece.title, error=error.words)
            refused.append(CannotDraft(("by", "at"), words, help="let in less"))
    raise refused[0]


def _let_gathers_in(piece: Piece, grown: Mapping[str, float]) -> Piece:
    """Return the piece with the fullness of its lines, added to what was gathered along them before."""
    old = {each.line: each for each in piece.of_kind(Gathers) if each.line in grown}
    new = [Gathers(name, by + (old[name].by if name in old else 0.0)) for name, by in grown.items()]
    return with_features(drop_features(piece, only(Gathers, called=grown)), new)


def _drawn_up(garment: Garment, piece: Piece, lines: tuple[Line, ...]) -> float:
    """How long lines are once what was gathered along them before is drawn up."""
    whole = sum(line.path.length for line in lines)
    return whole - gathered_length(garment, [Use(piece.name, line.name) for line in lines])


def _mark_gathers(garment: Garment, old: Piece, lines: tuple[Line, ...], by: float, o: GathersOptions) -> Garment:
    """Match the seam at both ends of the gathers, and write on the piece to what they are drawn up."""
    around = _drawn_up(garment, old, lines)
    what, to = f"gather the {o.at.replace('-', ' ')}", (o.end - o.start) * around
    marked = None
    if len(lines) == 1:
        ends = (o.start, o.end) if _rightward(lines[0]) else (1.0 - o.end, 1.0 - o.start)
        marked = match_ends(garment, Use(old.name, lines[0].name), by, ends)
    if marked is not None:
        garment, note = marked, say("{what} to {to} between the notches", what=what, to=mm(to))
    else:
        one, other = mm(o.start * around), mm((1.0 - o.end) * around)
        even = abs(o.start - (1.0 - o.end)) < 0.01
        stays = "{one} at each end" if even else "{one} at one end and {other} at the other"
        note = say("{what} to {to}; " + stays + " stay plain", what=what, to=mm(to), one=one, other=other)
    return garment.with_(pieces=[with_note(garment.piece(old.name), note)])


def _check_turn(piece: Piece, fan: Fan) -> None:
    """Refuse fullness that dies away over so short a way that it would swing the piece round."""
    each = fan.by / len(fan.cuts)
    reaches = (point_at(piece, one).distance(point_at(piece, two)) for one, two in fan.cuts)
    swing = 0.0 if fan.parallel else sum(each / reach for reach in reaches)
    if swing > MOST_FULLNESS_TURN:
        raise CannotDraft(
            "by",
            say(
                "dying away over so short a way, {by} would swing the {title:lower} round by {degrees:.0f} degrees",
                by=mm(fan.by),
                title=piece.title,
                degrees=math.degrees(swing),
            ),
            help="let in less, or let it run through",
        )


def _growth(made: Piece, line: Line) -> float:
    return made.line(line.name).path.length - line.path.length


def _edge(garment: Garment, face: Face, at: str) -> tuple[Piece, tuple[Line, ...]]:
    """The piece whose edge is gathered, and its lines there from left to right as drawn: of two, the lower piece."""
    found = []
    for piece in garment.pieces:
        lines = [ln for ln in piece.ring if ln.face is face and _is_meant(ln, at)]
        if lines:
            y0, y1 = piece.outline.bounds[1::2]
            found.append((y0 + y1, piece.name, tuple(sorted(lines, key=lambda ln: ln.path.at(ln.path.length / 2.0).x))))
    if not found:
        raise CannotDraft(
            "at",
            say("the {face} has no “{at}” to gather", face=face, at=at),
            help="draw a style line of that name before it",
        )
    _, name, lines_ = min(found)
    if at == Role.NECKLINE and _lies_under_a_layer(garment, name, lines_):
        raise CannotDraft(
            "at",
            say("a layer hangs over the {face} neckline, and gathers there would lie under it", face=face),
            help='draw a style line below it, start and end = "side 0.7", and gather that',
        )
    return garment.piece(name), lines_


def _lies_under_a_layer(garment: Garment, piece: str, lines: tuple[Line, ...]) -> bool:
    """Whether a seam takes in one of the lines with a ply that hangs over it."""
    own = {(piece, line.name) for line in lines}
    return any(seam.hangs and own & {(use.piece, use.line) for use in seam.uses()} for seam in garment.seams)


def _is_meant(line: Line, at: str) -> bool:
    if at == Role.NECKLINE:
        return line.role is Role.NECKLINE
    sided = (f"{at}-{side}" for side in (Side.LEFT, Side.RIGHT))
    return line.role is Role.STYLE and any(line.answers_to(name) for name in (at, *sided))


def _fan(piece: Piece, lines: tuple[Line, ...], by: float, o: GathersOptions, reach: float) -> Fan:
    """Slashes along the grain, even in number, so that on a piece that lies across the centre none lies there.

    They lie within a share ``reach`` of what is gathered, about its middle. An edge that runs along the grain itself is
    slashed across it.
    """
    whole = sum(line.path.length for line in lines)
    middle, stretch = (o.start + o.end) / 2.0 * whole, reach * (o.end - o.start) * whole
    count = 2 * max(1, min(8, round(stretch / SLASHES_APART / 2.0)))
    first, last = lines[0].path, lines[-1].path
    left = first.start if _rightward(lines[0]) else first.end
    chord = ((last.end if _rightward(lines[-1]) else last.start) - left).unit
    way = piece.grain if abs(chord.dot(piece.grain)) < ALONG_GRAIN else piece.grain.left
    cuts = []
    for k in range(count):
        place = _place_along(lines, middle + stretch * ((k + 0.5) / count - 0.5))
        cuts.append((place, place_across(piece, place, way)))
    lengthened = (Role.SHOULDER, Role.ARMHOLE) if o.way == "through" else (Role.SHOULDER,)
    if any(piece.line(end.line).role in lengthened for _, end in cuts):
        raise CannotDraft(
            ("start", "end"),
            say("so near its ends the {at} can't be slashed down to the hem", at=o.at),
            help="gather less of it",
        )
    return Fan(tuple(cuts), tuple(line.name for line in lines), by, parallel=o.way == "through")


def _place_along(lines: tuple[Line, ...], want: float) -> Place:
    """The place at a length along lines, taken from left to right as drawn."""
    for line in lines:
        length = line.path.length
        if want <= length:
            return Place(line.name, want if _rightward(line) else length - want)
        want -= length
    return Place(line.name, length if _rightward(line) else 0.0)


def _rightward(line: Line) -> bool:
    return line.path.end.x >= line.path.start.x


def _hold(lines: tuple[Line, ...]) -> Place:
    """The place of the edge nearest to the centre, which stays."""
    found = []
    for line in lines:
        s, _ = line.path.nearest(Point(0.0, line.path.start.y))
        found += [(abs(line.path.at(t).x), line.name, t) for t in (s, 0.0, line.path.length)]
    _, name, s = min(found)
    return Place(name, s)
