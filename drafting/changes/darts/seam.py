"""Darts made into a seam: a panel seam through the bust point from edge to edge, or a yoke seam through one dart."""

from __future__ import annotations

from drafting.errors import CannotDraft, close_matches
from drafting.garment import Brief, Garment, Role, Side, Stage, change, option, side_option
from drafting.garment.darts import Dart, darts_of, mouth_edges
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.dart_work import change_each_dart, corner_place, find_darts, place_for, with_centre
from drafting.redraw.panel_edges import Route, place_beyond
from drafting.redraw.panel_sewing import PanelNames, piece_name_option, seam_name_option, sew_panels
from drafting.saying import say
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE


@dataclass(frozen=True, slots=True)
class DartToSeamOptions:
    """Options of the change."""

    dart: str = option(
        'The dart at which the seam starts: its name without a side, "bust" or "shoulder".', "text", "bust"
    )
    to: str = option(
        'Where it ends: another dart, "waist-front"; an edge, and how far along it from 0 to 1, "hem 0.4" or "centre '
        '0.3"; or "other side", at the same dart there, as a yoke does.',
        "text",
        "waist-front",
    )
    name: str = seam_name_option()
    piece: str = piece_name_option()
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


GENTLER_BELOW = 'let it run on down from the dart, as to = "hem 0.4"; a yoke is a style line below the darts'

GENTLER = (
    "turn the dart first to an edge from which the seam can run on, as a bust dart to the shoulder or the armhole for "
    "a panel, a shoulder dart to the armhole for a yoke"
)


def _sew_dart(garment: Garment, one: Dart, o: DartToSeamOptions) -> Garment:
    garment, one, route = _route(garment, one, o)
    side = Side.NONE if _spans(o) else one.side
    at_waist = mouth_edges(garment.piece(one.piece), one)[0].role in (Role.WAIST, Role.HEM)
    named = PanelNames(o.name, o.piece, side, ("to",), GENTLER_BELOW if at_waist else GENTLER)
    return sew_panels(garment, one.piece, route, named)


def _route(garment: Garment, one: Dart, o: DartToSeamOptions) -> tuple[Garment, Dart, Route]:
    """The way from the dart on: to another dart of the piece on that side, over any within it, or to a place."""
    piece = garment.piece(one.piece)
    darts = [d for d in darts_of(piece) if d.name != one.name]
    if _spans(o):
        return garment, one, Route(one, one.apex, (), _over_there(one, darts))
    if " " in o.to.strip():
        garment, one = with_centre(garment, one, o.to)
        garment, place = corner_place(garment, one.piece, place_for(garment, one, o.to))
        at = garment.piece(one.piece).line(place.line).path.start
        return garment, one, Route(one, one.apex, _darts_between(one, darts, at), at)
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
        return garment, one, Route(one, one.apex, _darts_between(one, darts, end.apex), end)
    garment, place = corner_place(garment, piece.name, place_beyond(piece, end))
    at = garment.piece(one.piece).line(place.line).path.start
    return garment, one, Route(one, one.apex, (end,), at)


def _spans(o: DartToSeamOptions) -> bool:
    """Whether the seam runs on over the centre."""
    return o.to.strip().lower() == "other side"


def _over_there(one: Dart, darts: list[Dart]) -> Dart:
    """The same dart on the other side of the piece."""
    for dart in darts:
        if dart.stem == one.stem and not dart.inside:
            return dart
    raise CannotDraft("to", say("the {title} has no counterpart on the other side of its piece", title=one.title))


def _darts_between(start: Dart, darts: list[Dart], end: Point) -> tuple[Dart, ...]:
    """The darts within the piece that lie on the way: below one another between the start's apex and the end."""
    way = Path.straight(start.apex, end) if not start.apex.near(end) else None
    if way is None:
        return ()
    near = [d for d in darts if d.lower is not None and way.nearest(d.mouth_a.to(d.mouth_b, 0.5))[1] < ON_THE_WAY]
    return tuple(sorted(near, key=lambda d: d.point.distance(start.apex)))


ON_THE_WAY = TradeValue(30.0, "mm", "from memory")
"""From the straight way to the seam's end within which the middle of a dart is taken into the seam."""
