"""Darts made into a seam: a panel seam through the bust point from edge to edge, or a yoke seam through one dart."""

from __future__ import annotations

import math
from dataclasses import replace

from drafting.errors import CannotDraft, close_matches
from drafting.garment import (
    Brief,
    Fact,
    Garment,
    Girth,
    Line,
    Piece,
    Seam,
    Section,
    Side,
    Slit,
    Stage,
    Use,
    Width,
    change,
    option,
    shift_aim,
    side_option,
    substitute,
    usual_stitch,
)
from drafting.garment.carry import drop_features
from drafting.garment.darts import Dart, darts_of
from drafting.garment.places import Place
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.dart_panels import SHARPEST_BLEND, Route, part_panels, share_out, sharpest_turn, weight
from drafting.redraw.dart_work import change_each_dart, corner_place, find_darts, place_for, with_centre
from drafting.redraw.heights import level_total
from drafting.saying import Name, Words, say, specify
from drafting.sides import sideless
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE


@dataclass(frozen=True, slots=True)
class DartToSeamOptions:
    """Options of the change."""

    dart: str = option(
        'The dart at which the seam starts: its name without a side, "bust" or "shoulder".', "text", "bust"
    )
    to: str = option(
        'Where it ends: another dart, "waist-front"; a line and a share of it, "hem 0.4" or "centre 0.3"; or "other '
        'side", at the same dart there, as a yoke does.',
        "text",
        "waist-front",
    )
    name: str = option("What the seam is called.", "text", "panel")
    part: str = option("What the new part is called.", "text", "side-panel")
    side: str = side_option("On which side.")


@change(
    "dart-to-seam",
    "Darts made into a seam from edge to edge: a panel seam through the bust point, or a yoke seam.",
    Stage.STYLE,
    kinds=(STYLE,),
)
def seam_dart(garment: Garment, brief: Brief, o: DartToSeamOptions) -> Garment:
    """Join the darts on each side asked for into a seam."""
    return change_each_dart(garment, o.dart, o.side, lambda g, one: _sew_dart(g, one, o), "to")


def _sew_dart(garment: Garment, one: Dart, o: DartToSeamOptions) -> Garment:
    garment, one, route = _route(garment, one, o)
    old = garment.piece(one.piece)
    side = Side.NONE if _spans(o) else one.side
    suffix = f"-{side}" if side is not Side.NONE and old.side is Side.NONE else ""
    seam_name = f"{o.name}-{old.name}{suffix}"
    _check_turn(one, route)
    _check_points(old, route)
    panels = part_panels(old, route, f"{o.name}{suffix}")
    part_name, part_title = _name_part(old, o, side)
    _check_names(garment, o, old, part_name, panels.left[-1])
    keeps_left = weight(panels.left) >= weight(panels.right)
    used = {dart.called for dart in route.within}
    old = drop_features(old, lambda feature: isinstance(feature, Slit) and feature.lines[0].dart in used)
    left, right = share_out(old, panels, True), share_out(old, panels, False)
    part = replace(right if keeps_left else left, name=part_name, title=part_title, side=side or old.side)
    main = left if keeps_left else right
    left, right = (main, part) if keeps_left else (part, main)
    made = _sew_parts(garment, old, (left, right), route, _seam(garment, seam_name, o, side, left, right))
    _check_girths(garment, made)
    return _follow_widths(garment, made)


def _route(garment: Garment, one: Dart, o: DartToSeamOptions) -> tuple[Garment, Dart, Route]:
    """The way from the dart on: to another dart of the piece on that side, over any within it, or to a place."""
    piece = garment.piece(one.piece)
    darts = [d for d in darts_of(piece) if d.name != one.name]
    if _spans(o):
        return garment, one, Route(one, (), _over_there(one, darts))
    if " " in o.to.strip():
        garment, one = with_centre(garment, one, o.to)
        garment, place = corner_place(garment, one.piece, place_for(garment, one, o.to))
        at = garment.piece(one.piece).line(place.line).path.start
        return garment, one, Route(one, _darts_between(one, darts, at), at)
    found = [t for t in find_darts(garment, o.to, "both") if t.piece == one.piece and t.side is one.side]
    if not found:
        names = [dart.name for dart in darts]
        close = ", ".join(close_matches(o.to, names)) or ", ".join(names)
        raise CannotDraft(
            "to",
            say("the {title} has no dart “{to}” on its piece", title=one.title, to=o.to),
            help=say("it has {close}", close=close),
        )
    end = found[0]
    if not end.inside:
        return garment, one, Route(one, _darts_between(one, darts, end.apex), end)
    garment, place = corner_place(garment, piece.name, _place_beyond(piece, end))
    at = garment.piece(one.piece).line(place.line).path.start
    return garment, one, Route(one, (end,), at)


def _check_turn(one: Dart, route: Route) -> None:
    """Refuse a seam that would turn at the point of a dart more sharply than its allowance has room for."""
    turns = sharpest_turn(route)
    if turns > SHARPEST_BLEND:
        raise CannotDraft(
            "to",
            say(
                "at the point of the {title} the seam would turn by {degrees:.0f} degrees, too sharply "
                "for its allowance",
                title=one.title,
                degrees=math.degrees(turns),
            ),
            help="turn the dart first to an edge from which the seam can run on, as a bust dart to the shoulder "
            "or the armhole for a panel, a shoulder dart to the armhole for a yoke",
        )


def _check_girths(before: Garment, after: Garment) -> None:
    """Refuse a seam that runs so nearly along a level that the level's stretches don't add up to the girth any more."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims if isinstance(aim.measure, Girth)):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) > TOLERANCE.sewn_length:
            level = measure.name.replace("-", " ")
            raise CannotDraft(
                "to",
                say("the seam would run along the {level} line, whose girth couldn't be proved any more", level=level),
                help="let it end higher or lower",
            )


def _follow_widths(before: Garment, after: Garment) -> Garment:
    """Let a width that runs across a bend of the edges be what it has become: they bend by a millimetre or so."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims if isinstance(aim.measure, Width)):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) <= BLENDED:
            after = shift_aim(after, measure, by)
    return after


BLENDED = TradeValue(2.0, "mm", "derived", "they bend within 60 mm")
"""By which the bends at the ends of darts' legs may alter a width across them."""


def _check_points(piece: Piece, route: Route) -> None:
    """Refuse a seam through the point of another dart, which could then neither be sewn nor be cut."""
    ends = [part for part in (route.start, route.end) if isinstance(part, Dart)]
    names = {part.name for part in ends}
    for other in darts_of(piece):
        if other.name not in names and not other.inside and any(other.point.near(d.apex, OFF_SEAM) for d in ends):
            raise CannotDraft(
                "dart", say("the seam would run through the point of the {dart} dart", dart=other.words),
                help="let that dart stop short of it (set_back), or join the two before",
            )  # fmt: skip


def _spans(o: DartToSeamOptions) -> bool:
    """Whether the seam runs on over the centre."""
    return o.to.strip().lower() == "other side"


def _over_there(one: Dart, darts: list[Dart]) -> Dart:
    """The same dart on the other side of the piece."""
    for dart in darts:
        if dart.stem == one.stem and not dart.inside:
            return dart
    raise CannotDraft("to", say("the {title} has no counterpart on the other side of its piece", title=one.title))


def _place_beyond(piece: Piece, dart: Dart) -> Place:
    """Where a dart within the piece, drawn straight on beyond its lower point, meets the outline."""
    assert dart.lower is not None
    x0, y0, x1, y1 = piece.outline.bounds
    down = (dart.lower - dart.point).unit
    ray = Path.straight(dart.lower, dart.lower + down * (x1 - x0 + y1 - y0))
    met = [(c.s, line.name, c.t) for line in piece.ring for c in ray.crossings(line.path)]
    _, name, s = min(met)
    return Place(name, s)


def _darts_between(start: Dart, darts: list[Dart], end: Point) -> tuple[Dart, ...]:
    """The darts within the piece that lie on the way: below one another between the start's apex and the end."""
    way = Path.straight(start.apex, end) if not start.apex.near(end) else None
    if way is None:
        return ()
    near = [d for d in darts if d.lower is not None and way.nearest(d.mouth_a.to(d.mouth_b, 0.5))[1] < ON_THE_WAY]
    return tuple(sorted(near, key=lambda d: d.point.distance(start.apex)))


OFF_SEAM = TradeValue(3.0, "mm", "from memory")
"""That the point of another dart lies off the seam, at least."""

ON_THE_WAY = TradeValue(30.0, "mm", "from memory")
"""From the straight way to the seam's end within which the middle of a dart is taken into the seam."""


def _name_part(old: Piece, o: DartToSeamOptions, side: Side) -> tuple[str, Words]:
    face = sideless(old.name)
    word = o.part.replace("-", " ")
    name = f"{o.part}-{face}" + (f"-{side}" if side else "")
    return name, specify(say("{face:spoken,capital} {word}", face=Name(face), word=word), side)


def _check_names(garment: Garment, o: DartToSeamOptions, old: Piece, part: str, edge: Line) -> None:
    if old.lines(edge.ancestry[0]) or garment.has_piece(part):
        raise CannotDraft(
            "name",
            say("the {title:lower} has a {name:placed} already", title=old.title, name=o.name),
            help="give another name",
        )


def _seam(garment: Garment, name: str, o: DartToSeamOptions, side: Side, left: Piece, right: Piece) -> Seam:
    """The new seam, in two sections that meet at the apex; what one edge is longer is eased in."""
    along, back = left.ring[-2:], right.ring[-2:][::-1]
    sections = tuple(
        Section(
            ((Use(left.name, a.name),), (Use(right.name, b.name, True),)),
            (0.0, b.path.length - a.path.length),
        )
        for a, b in zip(along, back, strict=True)
    )
    title = specify(say("{face} {name} seam", face=left.face, name=o.name.replace("-", " ")), side)
    return Seam(name, STYLE, say("{title:capital}", title=title), sections, usual_stitch(garment))


def _sew_parts(garment: Garment, old: Piece, parts: tuple[Piece, Piece], route: Route, seam: Seam) -> Garment:
    """The garment with the piece in two, its lines followed by their seams, the darts' own seams gone."""
    homes = {line.name: part.name for part in parts for line in part.all_lines if line not in part.ring[-2:]}
    uses = {(old.name, name): (Use(home, name),) for name, home in homes.items()}
    gone = {dart.seam for dart in (route.start, *route.within, route.end) if isinstance(dart, Dart)}
    kept = tuple(each_seam for each_seam in garment.seams if each_seam.name not in gone)
    pieces = tuple(new for piece in garment.pieces for new in (parts if piece.name == old.name else (piece,)))
    garment = replace(garment, pieces=pieces, seams=(*substitute(kept, uses), seam))
    eased = seam.ease[1]
    says = "what the outer panel's edge is longer than the inner's over the whole seam, eased in near the bust point"
    return garment.with_(facts=(Fact(f"{seam.name}_ease", eased, "mm", "choice", says),))
