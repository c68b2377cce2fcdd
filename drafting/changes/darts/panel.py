"""A panel seam: from an edge over the point of the bust, or the shoulder blade, to the waist or the hem.

It takes up the darts on its way, and those left beside it: nothing is left to fold away. A body that needs no dart
there gets the seam all the same, over the same point.
"""

from __future__ import annotations

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import (
    Brief,
    BustPoint,
    Face,
    Garment,
    Piece,
    Role,
    Side,
    Stage,
    change,
    face_option,
    faces_of,
    option,
    side_option,
    sides_of,
)
from drafting.garment.darts import Dart, dart_of, darts_of, mouth_edges
from drafting.garment.places import Spot, lines_along, spots
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.redraw.dart_work import corner_place, keep_levels, turn_dart
from drafting.redraw.merged_darts import merge_within
from drafting.redraw.panel_edges import SAME_APEX, Route, place_along, place_beyond
from drafting.redraw.panel_sewing import PanelNames, piece_name_option, seam_name_option, sew_panels
from drafting.redraw.split_darts import join_into
from drafting.redraw.told_place import DART_LINES, read_place
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE

MOST_ASIDE = TradeValue(25.0, "mm", "from memory")
"""By which a waist dart is moved sideways to lie below the point that the seam runs over, at most."""

GENTLER = "let it start nearer above the point that it runs over, or end nearer below it"

LOWER_EDGES = (Role.WAIST, Role.HEM)
"""Edges in which a dart is the lower end of the seam; a dart in another edge is turned to its upper end."""


@dataclass(frozen=True, slots=True)
class PanelSeamOptions:
    """Options of the change."""

    on: str = face_option("Whether the front, the back or both get one.", "both")
    start: str = option(
        'Where it starts: an edge, and how far along it from 0 to 1, "shoulder 0.5" or "armhole 0.5"; the '
        "shoulder measured from the neck, neckline and armhole from the shoulder. A dart in another edge is turned "
        "there first; the dart of the back's shoulder stays, where the seam starts elsewhere.",
        "text",
        "shoulder 0.5",
    )
    end: str = option(
        'Where it ends, as "hem 0.4"; by rule it runs on straight below the waist dart, or the point it runs over.',
        "text",
        "",
    )
    name: str = seam_name_option()
    piece: str = piece_name_option()
    side: str = side_option("On which side.")

    @property
    def panelled(self) -> tuple[tuple[Face, Side], ...]:
        """The halves that it parts down to the hem, where it does so on both sides."""
        down = self.side == "both" and (not self.end or self.end.split()[0] == Role.HEM)
        return tuple((face, side) for face in faces_of(self.on) for side in sides_of("both")) if down else ()


@change(
    "panel-seam",
    "A seam from the shoulder or the armhole over the point of the bust to the hem, which takes up the darts there.",
    Stage.STYLE,
    kinds=(STYLE,),
)
def draw_panel_seam(garment: Garment, brief: Brief, o: PanelSeamOptions) -> Garment:
    """Part the faces asked for, on the sides asked for."""
    if read_place(o.start, "start", DART_LINES)[0] == Role.HEM:
        raise CannotDraft("start", "a panel seam runs down to the hem", help="start it at the shoulder or the armhole")
    for face in faces_of(o.on):
        for side in sides_of(o.side):
            try:
                garment = _panel(garment, face, side, o)
            except CannotDraft:
                raise
            except DraftingError as error:
                flared = _fullness(garment, face, side, o) > 0.0
                raise CannotDraft(
                    ("start", "end"),
                    say("the {side} {face} can't be parted so: {error}", side=side, face=face, error=error.words),
                    help="flare it by less, or all round" if flared else "let the seam start or end elsewhere",
                ) from None
    return garment


def _panel(garment: Garment, face: Face, side: Side, o: PanelSeamOptions) -> Garment:
    piece = _spot(garment, o.start, "start", face, side).piece
    garment, first = _turn_to_start(garment, piece, face, side, o)
    over = first.apex if first else _bust_point(garment.piece(piece), side)
    garment, within = _gather_within(garment, piece, side, first, over)
    over = over or (within.point if within else None)
    garment, end = _end(garment, piece, face, side, over, within, o)
    start: Dart | Point
    if first is None:
        garment, start = _corner(garment, _spot(garment, o.start, "start", face, side))
    else:
        start = dart_of(garment.piece(piece), first.name)
    route = Route(start, over, (within,) if within else (), end)
    named = PanelNames(o.name, o.piece, side, ("start", "end"), GENTLER)
    return sew_panels(garment, piece, route, named, _fullness(garment, face, side, o))


def _fullness(garment: Garment, face: Face, side: Side, o: PanelSeamOptions) -> float:
    """What a flare left for the seam to let in (mm)."""
    return next((by for *half, by in garment.panelled if half == [face, side]), 0.0) if o.panelled else 0.0


def _spot(garment: Garment, told: str, key: str, face: Face, side: Side) -> Spot:
    """The place that is told, on the piece it lies on."""
    word, share = read_place(told, key, DART_LINES)
    for found in spots(garment, lines_along(garment, Role(word), side, face), share):
        return found
    raise CannotDraft(
        key, say("the {side} {face} has no {word} that a seam could meet", side=side, face=face, word=word)
    )


def _corner(garment: Garment, spot: Spot) -> tuple[Garment, Point]:
    """The garment with a corner at a spot, and where that is."""
    garment, place = corner_place(garment, spot.piece, spot.place)
    return garment, garment.piece(spot.piece).line(place.line).path.start


def _own_darts(piece: Piece, side: Side) -> list[Dart]:
    return [dart for dart in darts_of(piece) if dart.side in (side, Side.NONE)]


def _is_low(piece: Piece, dart: Dart) -> bool:
    """Whether a dart opens in the edge to which the seam runs down."""
    return mouth_edges(piece, dart)[0].role in LOWER_EDGES


def _is_passed(piece: Piece, dart: Dart, face: Face, start: str) -> bool:
    """Whether the seam runs below a dart: the back's shoulder dart ends above a seam from the armhole to the waist."""
    role = mouth_edges(piece, dart)[0].role
    return face is Face.BACK and role is Role.SHOULDER and Role(start) is not role


def _turn_to_start(
    garment: Garment, name: str, face: Face, side: Side, o: PanelSeamOptions
) -> tuple[Garment, Dart | None]:
    """The garment with the dart that the seam takes up at its upper end turned there, and the dart.

    Where a full bust has two about the one point, the seam takes up both.
    """
    piece = garment.piece(name)
    start, _ = read_place(o.start, "start", DART_LINES)
    found = [
        dart
        for dart in _own_darts(piece, side)
        if not dart.inside and not _is_low(piece, dart) and not _is_passed(piece, dart, face, start)
    ]
    bust = _bust_point(piece, side)
    found.sort(key=lambda dart: bust.distance(dart.apex) if bust else 0.0)
    if not found:
        return garment, None
    before, first = garment, found[0]
    for other in found[1:]:
        if other.apex.near(first.apex, TOLERANCE.joint):
            garment = join_into(garment, other, first)
    first = dart_of(garment.piece(name), first.name)
    turned = turn_dart(garment, first, _spot(garment, o.start, "start", face, side).place)
    return keep_levels(before, turned, first, "start"), dart_of(turned.piece(name), first.name)


def _bust_point(piece: Piece, side: Side) -> Point | None:
    """The point of the bust on one side of a piece, where it is marked."""
    return next((mark.at for mark in piece.of_kind(BustPoint) if mark.name.endswith(str(side))), None)


def _gather_within(
    garment: Garment, name: str, side: Side, first: Dart | None, over: Point | None
) -> tuple[Garment, Dart | None]:
    """The garment with the darts within the piece gathered into one below the point that the seam runs over.

    It is as high as the highest of them, on a back as its bust line, for the seam to come in gently from there; and it
    lies between them, or by ``MOST_ASIDE`` beside them, at most.
    """
    found = [dart for dart in _own_darts(garment.piece(name), side) if dart.inside]
    if not found:
        return garment, None
    found.sort(key=lambda dart: dart.point.y, reverse=True)
    x = found[0].middle.x
    nearest, farthest = min(dart.middle.x for dart in found), max(dart.middle.x for dart in found)
    want = _below(first, over, found[0].point.y) if over else x
    middle = min(max(want, nearest - MOST_ASIDE), farthest + MOST_ASIDE)
    piece, made = merge_within(garment.piece(name), found, middle, _top_for(garment.piece(name), found[0]))
    gone = tuple(dart.seam for dart in found[1:])
    return garment.without(seams=gone).with_(pieces=[piece]), made


def _top_for(piece: Piece, dart: Dart) -> float:
    """The height (y) from which on a seam comes in for a dart within the piece: a back's from its bust line down."""
    lines = [level.path for level in piece.levels if level.name == "bust" and piece.face is Face.BACK]
    return max([dart.point.y, *(min(path.start.y, path.end.y) for path in lines)])


def _below(first: Dart | None, over: Point, y: float) -> float:
    """Where (x) a seam comes to a height below the point it runs over: straight on, where it has far to go."""
    if first is None or over.y - y <= SAME_APEX:
        return over.x
    way = over - first.middle
    return over.x + way.x / way.y * (y - over.y)


def _end(
    garment: Garment, name: str, face: Face, side: Side, over: Point | None, within: Dart | None, o: PanelSeamOptions
) -> tuple[Garment, Dart | Point]:
    """Where the seam ends: at a dart in the lower edge, where it was asked to, or straight below what it takes up."""
    piece = garment.piece(name)
    if o.end:
        return _corner(garment, _spot(garment, o.end, "end", face, side))
    low = [dart for dart in _own_darts(piece, side) if not dart.inside and _is_low(piece, dart)]
    if low:
        return garment, min(low, key=lambda dart: over.distance(dart.apex) if over else 0.0)
    if within is not None:
        return _corner(garment, Spot(name, place_beyond(piece, within)))
    if over is not None:
        return _corner(garment, Spot(name, place_along(piece, over, Point(0.0, -1.0))))
    share = read_place(o.start, "start", DART_LINES)[1]
    lower = next(role for role in LOWER_EDGES if lines_along(garment, role, side, face))
    spot = _spot(garment, f"{lower} {share}", "end", face, side)
    if spot.piece != name:
        raise CannotDraft(
            "end",
            say(
                "the seam would start on the {one:lower} and end on the {two:lower}",
                one=piece.title,
                two=garment.piece(spot.piece).title,
            ),
            help="a panel seam runs within one piece: let it start and end on the same",
        )
    return _corner(garment, spot)
