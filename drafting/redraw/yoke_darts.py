"""A yoke: darts from the waist or the shoulder whose points lie near a new seam are closed in the part above it.

Each dart is drawn to end in the seam, and the yoke is turned about that point until the legs meet: the seam keeps its
length, and its edge on the yoke, broken there, is drawn as one fair curve through the same points. What the darts took
in is then in the shape of the yoke (common practice).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from drafting.garment import Face, Fact, Garment, Line, Piece, Role, Section, Side
from drafting.garment.carry import follow_edges
from drafting.garment.darts import Dart, dart_of, darts_of, intake, mouth_edges, rest_of_ring
from drafting.garment.places import Place
from drafting.garment.ruled import sum_ruled
from drafting.garment.told import Ruled
from drafting.geometry import Affine, Path, Point, curve_through, turn
from drafting.redraw.dart_points import points_at_bust
from drafting.redraw.fullness import with_note
from drafting.redraw.inner import swing_features, without_wedge
from drafting.redraw.mouths import true_mouth
from drafting.redraw.parting import with_split
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

DRAWN_TO_YOKE = TradeValue(0.6, "share", "from memory", "4 to 5 cm for a front's dart of 9")
"""Of its length by which a dart is drawn on to a yoke's seam at most: one that ends farther off stays a dart."""

YOKE_END_TURN = TradeValue(
    math.radians(4.0), "rad", "from memory", "a side seam that turns by up to 5 degrees looks smooth"
)
"""By which a yoke's curved edge may meet the side otherwise than the edge it is sewn to does, at most."""


YOKE_NOTE = "its {edge} darts are closed in its shape: pin its curved edge to the straighter one below, end to end"
"""What is told on a yoke that has taken darts up."""

TAKEN_UP = (Role.WAIST, Role.SHOULDER)
"""Where darts open that a yoke takes up: over a hip, and over the shoulder blades."""


def close_in_yoke(garment: Garment, name: str, edge: str) -> Garment:
    """Return the garment with a piece's darts from waist or shoulder that end near its edge closed, that a fair curve.

    ``edge`` names the piece's new lower edge. Darts that run up from a waist stay, and so do those that end far off,
    and all in a piece with a level at which a girth of the body is met, as the hip's: turned, it would change that.
    """
    if any(level.girth for level in garment.piece(name).levels):
        return garment
    made = garment
    piece = garment.piece(name)
    for called in [dart.name for dart in darts_of(piece) if not points_at_bust(piece, dart)]:
        made = _close(made, name, called, edge)
    return made if made is garment else _smooth(made, name, edge)


def _close(garment: Garment, name: str, called: str, edge: str) -> Garment:
    piece = garment.piece(name)
    dart = dart_of(piece, called)
    place = _end_in(piece, dart, edge)
    if place is None:
        return garment
    at = piece.line(place.line).path.at(place.s)
    drawn = {line.name: line for line in dart.with_corners(dart.mouth_a, at, dart.mouth_b).lines}
    piece = true_mouth(replace(piece, ring=tuple(drawn.get(line.name, line) for line in piece.ring)), called)
    garment = with_split(garment.with_(pieces=[piece]), name, place.line, place.s)
    piece = garment.piece(name)
    opens = mouth_edges(piece, dart)[0].role
    folded = with_note(_fold(piece, dart_of(piece, called), at), say(YOKE_NOTE, edge=opens.value))
    says = say("the {title} is closed in the yoke: what it took in", title=dart.title)
    name = f"in_yoke_{opens.value}_{piece.face}_{dart.side}_{dart.name}"
    told = Ruled(_figure_of(opens), _place_of(piece.face, dart.side))
    fact = Fact(name, intake(dart), "mm", "choice", says, told)
    return garment.with_(pieces=[folded], facts=[fact]).without(seams=(dart.seam,))


def sum_closed(garment: Garment, face: Face, side: Side) -> float:
    """Return what the waist darts of a half took in that are closed in a yoke (mm)."""
    return sum_ruled(garment, _figure_of(Role.WAIST), _place_of(face, side))


def _figure_of(opens: Role) -> str:
    return f"in_yoke_{opens.value}"


def _place_of(face: Face, side: Side) -> str:
    return f"{face}-{side}"


def _end_in(piece: Piece, dart: Dart, edge: str) -> Place | None:
    """Where a dart from waist or shoulder, drawn on, ends in an edge below it; None where it doesn't, or far off."""
    if dart.inside or mouth_edges(piece, dart)[0].role not in TAKEN_UP or dart.point.y > dart.middle.y:
        return None
    on = dart.point - dart.middle
    way = Path.straight(dart.point, dart.point + on * DRAWN_TO_YOKE)
    lines = [line for line in piece.ring if line.answers_to(edge)]
    met = [(each.s, Place(line.name, each.t)) for line in lines for each in way.crossings(line.path)]
    return min(met, key=lambda each: each[0])[1] if met else None


def _fold(piece: Piece, dart: Dart, at: Point) -> Piece:
    """The piece with one part of it turned about the end of a dart in its edge, until the legs meet."""
    rest = rest_of_ring(piece, dart)
    j = min(range(1, len(rest)), key=lambda k: rest[k].path.start.distance(at))
    first, second = rest[:j], rest[j:]
    regions = _region(first, at), _region(second, at)
    by = turn(dart.mouth_b - at, dart.mouth_a - at)
    if _weight(first) < _weight(second):
        move = Affine.turn(by, at)
        first = _turn_lines(first, move)
    else:
        move, regions = Affine.turn(-by, at), regions[::-1]
        second = _turn_lines(second, move)
    inner = swing_features(without_wedge(piece, dart), regions, move)
    return replace(inner, ring=(*first, *second))


def _weight(lines: Sequence[Line]) -> tuple[float, float]:
    """How much a part is the one that stays: it holds the centre, or else more of the outline."""
    over = [min(abs(end.x) for end in (line.path.start, line.path.end)) for line in lines]
    return -min(over), math.fsum(line.path.length for line in lines)


def _turn_lines(lines: Sequence[Line], move: Affine) -> tuple[Line, ...]:
    return tuple(replace(line, path=line.path.transformed(move)) for line in lines)


def _region(lines: Sequence[Line], at: Point) -> Path:
    """What a part of the ring bounds: a closed path through the point of the dart."""
    edge = Path.join(*(line.path for line in lines))
    parts = [Path.straight(at, edge.start)] if not at.near(edge.start, TOLERANCE.joint) else []
    parts.append(edge)
    parts += [Path.straight(edge.end, at)] if not at.near(edge.end, TOLERANCE.joint) else []
    return Path.join(*parts)


def _smooth(garment: Garment, name: str, edge: str) -> Garment:
    """The garment with a broken edge of a piece drawn as one curve through its corners; its seam takes the rest."""
    piece = garment.piece(name)
    i = next(k for k, line in enumerate(piece.ring) if line.answers_to(edge) and not piece.ring[k - 1].answers_to(edge))
    ring = (*piece.ring[i:], *piece.ring[:i])
    lines = [line for line in ring if line.answers_to(edge)]
    corners = [lines[0].path.start, *(line.path.end for line in lines)]
    curve = curve_through(corners)
    beside = piece.before(lines[0].name), piece.after(lines[-1].name)
    ends = (lines[0].path.tangent(0.0), lines[-1].path.tangent(lines[-1].path.length))
    bent = (curve.tangent(0.0), curve.tangent(curve.length))
    most = [0.0 if line.role is Role.CENTRE else YOKE_END_TURN for line in beside]
    ways = [_keep_near(was, way, by) for was, way, by in zip(ends, bent, most, strict=True)]
    curve = curve_through(corners, *ways)
    bounds = [0.0, *(curve.nearest(at)[0] for at in corners[1:-1]), curve.length]
    drawn = {
        line.name: replace(line, path=curve.between(*span)) for line, span in zip(lines, pairwise(bounds), strict=True)
    }
    new = replace(piece, ring=tuple(drawn.get(line.name, line) for line in ring))
    made = garment.with_(pieces=[follow_edges(piece, new)])
    seams = [
        replace(seam, sections=tuple(_even_out(made, each) for each in seam.sections))
        for seam in made.seams
        if any(use.piece == name and use.line in drawn for use in seam.uses())
    ]
    return made.with_(seams=seams)


def _keep_near(was: Point, way: Point, most: float) -> Point:
    """A direction turned from what it was by ``most`` (rad) at most."""
    by = turn(was, way)
    return was.turned(math.copysign(min(abs(by), most), by))


def _even_out(garment: Garment, section: Section) -> Section:
    """A section whose plies are as long as they are now: what differs is ease."""
    lengths = [garment.run_length(run) for run in section.plies]
    return replace(section, ease=tuple(length - lengths[0] for length in lengths))
