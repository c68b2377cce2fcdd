"""Sleeve length: long, bracelet, elbow or short, by an amount or to a finished length, on both sides or one."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from drafting.cloth import Kind, hand_passage
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Fate,
    Garment,
    Line,
    Piece,
    Role,
    Side,
    Stage,
    change,
    option,
    side_option,
    substitute,
)
from drafting.garment.carry import follow_edges
from drafting.garment.darts import Dart, darts_of, intake, mouth_edges
from drafting.garment.ruled import SLEEVE_LENGTH
from drafting.garment.sleeves import take_sleeve
from drafting.garment.told import Ruled
from drafting.geometry import Path, Point, turn
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.fit_half import turn_end, turn_start
from drafting.redraw.heights import HeightShift, drop_unreached, keep_aims, stretch_piece
from drafting.redraw.hemline import ADJUST_ROOM, trim_side
from drafting.redraw.sleeves import SHORTEST_UNDERARM, arm_length, shoulder_point_height, sleeves_of, turn_upright
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

BELOW_ELBOW_DART = TradeValue(40.0, "mm", "from memory")
"""Of back seam that are left below an elbow dart, or it is left out."""

MOST_CURVED_IN = TradeValue(math.radians(40.0), "rad", "from memory")
"""By which the seams of a sleeve, both together, may be turned at the underarm to run on as they did."""

NEAR = TOLERANCE.joint

SLEEVE_LENGTHS: Mapping[str, float] = {
    "long": TradeValue(1.0, "share", "derived", "to the wrist"),
    "bracelet": TradeValue(7.0 / 8.0, "share", "common practice"),
    "elbow": TradeValue(0.56, "share", "derived", "ANSUR II, NATICK/TR-15/007 (2014): 0.563 of women, 0.556 of men"),
    "short": TradeValue(0.36, "share", "common practice"),
}
"""Of the arm from the shoulder point to the wrist at which each sleeve's lower edge lies."""


ONE_LENGTH = ("to", "by", "length")
"""Of which one is given."""


@dataclass(frozen=True, slots=True)
class SleeveLengthOptions:
    """Options of the change; exactly one of ``to``, ``by`` and ``length`` is given."""

    to: str = option(
        "A length by name; it gives way to the least underarm seam.",
        "choice", "", choices=("", "long", "bracelet", "elbow", "short"),
        one_of=ONE_LENGTH,
    )  # fmt: skip
    by: float | None = option(
        "How much longer the sleeve becomes (less than 0: shorter).",
        "length",
        None,
        low=-700.0,
        high=400.0,
        one_of=ONE_LENGTH,
    )
    length: float | None = option(
        "Finished length from the body's shoulder point to the lower edge.",
        "length",
        None,
        low=60.0,
        high=900.0,
        one_of=ONE_LENGTH,
    )
    cuff: float | None = option(
        "Height of a cuff that is to follow: a finished length or a length by name leaves room for it; by rule that of "
        "the garment's cuffs.",
        "length",
        None,
        low=0.0,
        high=200.0,
    )
    at: str = option(
        "Where: at the line below the underarm, the lower edge as wide as it was, or at the lower edge. By rule a "
        "sleeve is cut off shorter and drawn out longer at the line.",
        "choice",
        "rule",
        choices=("rule", "line", "hem"),
    )
    side: str = side_option("Which sleeves.")


@dataclass(frozen=True, slots=True)
class Tube:
    """What a change of length needs of a sleeve: its lines by meaning, the underarm seams from the wrist up (mm).

    ``top`` is the height of the body's shoulder point, which lies below the crown where the shoulder was made shorter.
    """

    piece: Piece
    wrist: Line
    front: Line
    back: Line
    top: float
    upper: Line | None = None
    dart: Dart | None = None

    @property
    def elbow(self) -> float | None:
        """The height of the lower end of the elbow dart's mouth, where the back seam is parted by one."""
        return None if self.dart is None else min(self.dart.mouth_a.y, self.dart.mouth_b.y)

    @property
    def lower(self) -> float:
        """The height of the lower edge's ends: their mean."""
        return (self.wrist.path.start.y + self.wrist.path.end.y) / 2.0

    @property
    def length(self) -> float:
        """From the shoulder point straight down to the ends of the lower edge."""
        return self.top - self.lower

    @property
    def underarm(self) -> float:
        """The height of the underarm: the lower end of the cap."""
        return min(line.path.bounds[1] for line in self.piece.lines(role=Role.CAP))


@change(
    "sleeve-length",
    "Sleeves long, bracelet, elbow or short, by an amount or to a finished length.",
    Stage.SLEEVE_SHAPE,
    needs=("outer_arm_length", "straight_arm_length", "hand_girth"),
    mends=(
        Mend("toile-elbow-tight", 'cut across above the elbow: by = the gap, at = "line"'),
        *mend_wavering(Role.UNDERARM, Role.WRIST),
    ),
)
def change_sleeve_length(garment: Garment, brief: Brief, o: SleeveLengthOptions) -> Garment:
    """Make the sleeves asked for longer or shorter."""
    if (o.to != "") + (o.by is not None) + (o.length is not None) != 1:
        raise CannotDraft(ONE_LENGTH, "give a length by name, an amount or a finished length, one of the three")
    sleeves = sleeves_of(garment, o.side)
    for sleeve in sleeves:
        garment = _change_sleeve(garment, brief, o, _tube(garment, sleeve))
    return garment


def _tube(garment: Garment, piece: Piece) -> Tube:
    wrists, taken = piece.lines(role=Role.WRIST), take_sleeve(garment, piece.side)
    seams = [piece.lines(role=Role.UNDERARM, face=face) for face in (Face.FRONT, Face.BACK)]
    backs = sorted(seams[1], key=lambda line: line.path.bounds[1])  # the lowest is the one that is changed
    dart = _elbow_dart(piece, backs)
    if len(wrists) != 1 or len(seams[0]) != 1 or len(backs) != (1 if dart is None else 2):
        raise CannotDraft(
            "side",
            say("the lower edge or the underarm seam of the {title:lower} is broken up", title=piece.title),
        )
    if wrists[0].fate is Fate.SEWN:
        raise CannotDraft(
            "side", say("something is sewn to the lower edge of the {title:lower} already", title=piece.title)
        )
    top = piece.outline.bounds[3] if taken is None else shoulder_point_height(garment, taken, piece.side)
    return Tube(piece, wrists[0], seams[0][0], backs[0], top, None if dart is None else backs[1], dart)


def _elbow_dart(piece: Piece, backs: Sequence[Line]) -> Dart | None:
    """The dart that parts the back underarm seam in two."""
    names = {line.name for line in backs}
    found = [dart for dart in darts_of(piece) if {line.name for line in mouth_edges(piece, dart)} == names]
    return found[0] if len(found) == 1 else None


def _change_sleeve(garment: Garment, brief: Brief, o: SleeveLengthOptions, tube: Tube) -> Garment:
    side = tube.piece.side
    by = o.by if o.by is not None else _wanted_length(brief, o, tube.dart is not None) - tube.length
    room = tube.underarm - tube.lower + by - SHORTEST_UNDERARM
    if room < 0.0 and o.to:
        by -= room
        garment = garment.with_(facts=[_tell_least(side, -room)])
    if by != 0.0:
        if room < 0.0 and not o.to:
            raise CannotDraft(
                ("to", "by", "length"),
                say(
                    "the {side} sleeve would end less than {shortest_underarm} below its underarm",
                    side=side,
                    shortest_underarm=mm(SHORTEST_UNDERARM),
                ),
                short_by=-room,
                help="make it longer, or leave the sleeve out",
            )
        line = o.at == "line" or (o.at == "rule" and by > 0.0)
        kept = tube.elbow is None or line or tube.lower - by <= tube.elbow - BELOW_ELBOW_DART
        if not kept:
            garment, tube = _without_dart(garment, tube)
        changed = _draw_out(tube, by) if line else _cut_off(tube, by) if kept else _cut_above(tube, by)
        if not line and by < 0.0 and brief.cloth_named(tube.piece.cloth).kind is Kind.WOVEN:
            changed = _with_upright_ends(changed)
        _refuse_narrow(brief, changed, tube.wrist.path.length)
        garment = drop_unreached(keep_aims(garment, garment.with_(pieces=[changed])), [changed], ADJUST_ROOM)
    told = "shoulder point to lower edge, without a cuff"
    return garment.with_(
        facts=[
            Fact(f"sleeve_length_{side}", tube.length + by, "mm", "choice", told, Ruled(SLEEVE_LENGTH, side)),
            Fact(f"sleeve_longer_{side}", by, "mm", "choice", "the sleeve lengthened (less than 0: shortened)"),
        ]
    )


def _without_dart(garment: Garment, tube: Tube) -> tuple[Garment, Tube]:
    """Drop the elbow dart, and the back seam below it, of a sleeve that is to end at the elbow or above it."""
    assert tube.dart is not None
    assert tube.upper is not None
    gone = {tube.back.name, *(line.name for line in tube.dart.lines)}
    ring = tuple(line for line in tube.piece.ring if line.name not in gone)
    piece = replace(tube.piece, ring=ring)
    kept = garment.without(seams=[tube.dart.seam])
    seams = substitute(kept.seams, {(piece.name, tube.back.name): ()})
    told = say(
        "the {title:lower} ends at the elbow or above it, so its dart is left out",
        title=piece.title,
    )
    fact = Fact(f"elbow_dart_dropped_{piece.side}", intake(tube.dart), "mm", "rule", told)
    made = replace(kept.with_(pieces=[piece], facts=[fact]), seams=seams)
    return made, replace(tube, piece=piece, back=tube.upper, upper=None, dart=None)


def _cut_above(tube: Tube, by: float) -> Piece:
    """Cut the sleeve off at the elbow or above it, where its back seam has no dart any more."""
    front_first = tube.front.path.start.y > tube.front.path.end.y
    front = trim_side(tube.front.path, front_first, _low_end(tube.front).y - by)
    back = _change_length(tube.back, front.length - tube.back.path.length, not front_first)
    return _with_fresh_wrist(tube.piece, front, back)


def _tell_least(side: Side, by: float) -> Fact:
    """A length by name gives way to the least underarm: what is told of it."""
    told = say(
        "longer than its name says, so that {shortest_underarm} are left below the underarm",
        shortest_underarm=mm(SHORTEST_UNDERARM),
    )
    return Fact(f"sleeve_underarm_kept_{side}", by, "mm", "rule", told)


def _wanted_length(brief: Brief, o: SleeveLengthOptions, bent: bool) -> float:
    """The length asked for, without the cuff that it leaves room for."""
    cuff = o.cuff if o.cuff is not None else brief.lengthened.get(Role.WRIST, 0.0)
    return (o.length if o.length is not None else SLEEVE_LENGTHS[o.to] * arm_length(brief, bent)) - cuff


def _refuse_narrow(brief: Brief, piece: Piece, before: float) -> None:
    """Refuse a lower edge that a change has made too narrow for the hand."""
    edge = piece.lines(role=Role.WRIST)[0].path.length
    stretch = brief.cloth.stretch_round
    least = hand_passage(brief.body["hand_girth"]) / (1.0 + stretch)
    if edge < min(least, before - TOLERANCE.arc_length):
        raise CannotDraft(
            "hand_girth", say("a lower edge of {edge} would be too narrow for the hand to pass", edge=mm(edge)),
            short_by=least - edge, help="lengthen at the line instead, or by less",
        )  # fmt: skip


def _draw_out(tube: Tube, by: float) -> Piece:
    """Draw the sleeve out between underarm and lower edge, which stays as wide; straight seams stay straight."""
    low = max(tube.wrist.path.start.y, tube.wrist.path.end.y)
    top = tube.underarm if tube.elbow is None else tube.elbow  # an elbow stays where it is
    if top - low + by < SHORTEST_UNDERARM:
        raise CannotDraft(
            "at", say("only {top} would be left above the lower edge", top=mm(max(top - low + by, 0.0))),
            short_by=SHORTEST_UNDERARM - top + low - by, help="shorten at the hem, or by less",
        )  # fmt: skip
    new = stretch_piece(tube.piece, HeightShift(top, low, by))
    bent = abs(_bend(new))
    if bent > MOST_CURVED_IN:
        raise CannotDraft(
            "at",
            say(
                "{change} above its lower edge, the sleeve tapers so much that its armhole edge bends by "
                "{degrees:.1f} degrees at the underarm seam",
                change="lengthened" if by > 0.0 else "shortened",
                degrees=math.degrees(bent),
            ),
            help='lengthen it at the hem: at = "hem"' if by > 0.0 else 'shorten it at the hem: at = "hem"; or by less',
        )
    if bent > max(TOLERANCE.smooth_join, abs(_bend(tube.piece))):
        new = _with_old_directions(tube, new)
    front, back = new.line(tube.front.name).path, new.line(tube.back.name)
    grown = front.length - tube.front.path.length - (back.path.length - tube.back.path.length)
    at_end = back.path.end.y < back.path.start.y
    piece = _with_fresh_wrist(new, front, _change_length(back, grown, at_end) if abs(grown) > NEAR else back.path)
    return piece


def _with_old_directions(tube: Tube, new: Piece) -> Piece:
    """The sleeve with its underarm seams leaving the underarm as they did: less steep than stretched, they curve in.

    So is a sleeve drawn smooth again that was spread on paper: its cap's edge runs on over the underarm seam as before.
    """
    paths = {}
    for line in (tube.front, tube.back):
        old, path = line.path, new.line(line.name).path
        if old.start.y > old.end.y:
            paths[line.name] = turn_start(path, turn(path.tangent(0.0), old.tangent(0.0)))
        else:
            paths[line.name] = turn_end(path, turn(path.tangent(path.length), old.tangent(old.length)))
    ring = tuple(replace(line, path=paths.get(line.name, line.path)) for line in new.ring)
    return follow_edges(new, replace(new, ring=ring))


def _bend(piece: Piece) -> float:
    """By how much (rad) the cap's edge turns where it runs on from back to front across the sewn underarm seam."""
    ring, total = piece.ring, math.pi
    for i, line in enumerate(ring):
        beside = ring[(i + 1) % len(ring)]
        if {line.role, beside.role} == {Role.CAP, Role.UNDERARM}:
            total -= math.pi - turn(line.path.tangent(line.path.length), beside.path.tangent(0.0))
    return total


def _cut_off(tube: Tube, by: float) -> Piece:
    """Cut the sleeve off, or run its seams straight on, and draw a fresh lower edge square to both seams."""
    front_first = tube.front.path.start.y > tube.front.path.end.y  # it runs down: the front lies at -x
    front = trim_side(tube.front.path, front_first, _low_end(tube.front).y - by)
    change = front.length - tube.front.path.length
    share = 1.0 if tube.dart is not None else tube.back.path.length / tube.front.path.length
    back = _change_length(tube.back, change * share, not front_first)
    return _with_fresh_wrist(tube.piece, front, back)


def _with_upright_ends(piece: Piece) -> Piece:
    """The sleeve with its seams side by side over a straight lower edge: a woven's hem turns up flat on no other."""
    seams = [
        min(piece.lines(role=Role.UNDERARM, face=face), key=lambda line: line.path.bounds[1])
        for face in (Face.FRONT, Face.BACK)
    ]
    front, back = (line.path if line.path.start.y > line.path.end.y else line.path.reversed() for line in seams)
    down = (front.tangent(front.length) + back.tangent(back.length)).unit
    one, two = turn_upright(front, down), turn_upright(back, down)
    short = (one.length - front.length) - (two.length - back.length)
    one, two = (one, two.extended(0.0, short)) if short > 0.0 else (one.extended(0.0, -short), two)
    paths = {
        line.name: new if line.path.start.y > line.path.end.y else new.reversed()
        for line, new in zip(seams, (one, two), strict=True)
    }
    for line in piece.lines(role=Role.WRIST):
        ends = (one.end, two.end) if line.path.start.near(front.end, TOLERANCE.joint) else (two.end, one.end)
        paths[line.name] = Path.straight(*ends)
    ring = tuple(replace(line, path=paths.get(line.name, line.path)) for line in piece.ring)
    return replace(piece, ring=ring)


def _low_end(line: Line) -> Point:
    return min(line.path.start, line.path.end, key=lambda p: p.y)


def _change_length(line: Line, change: float, at_end: bool) -> Path:
    """Return an underarm line whose lower end is run on, or cut off, so that its length changes by ``change`` mm."""
    path = line.path
    if change >= 0.0:
        return path.extended(0.0, change) if at_end else path.extended(change, 0.0)
    return path.between(0.0, path.length + change) if at_end else path.between(-change, path.length)


def _with_fresh_wrist(piece: Piece, front: Path, back: Path) -> Piece:
    """Return the sleeve with these underarm lines, and a lower edge that runs on smoothly round the arm."""
    down, up = (front, back) if front.start.y > front.end.y else (back, front)
    a, b = down.end, up.start
    reach = a.distance(b) / 3.0
    edge = Path.cubic(a, a + down.tangent(down.length).left * reach, b - up.tangent(0.0).right * reach, b)
    lowest = min(piece.lines(role=Role.UNDERARM, face=Face.BACK), key=lambda line: line.path.bounds[1])
    paths = {line.name: edge for line in piece.lines(role=Role.WRIST)} | {lowest.name: back}
    paths |= {line.name: front for line in piece.lines(role=Role.UNDERARM, face=Face.FRONT)}
    return replace(
        piece,
        ring=tuple(replace(line, path=paths[line.name]) if line.name in paths else line for line in piece.ring),
    )
