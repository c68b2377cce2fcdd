"""A piece parted into panels along a route, and the panels sewn to each other: what changes into panel seams share."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from drafting.errors import CannotDraft
from drafting.garment import (
    Fact,
    Garment,
    Girth,
    Line,
    Piece,
    Seam,
    Section,
    Side,
    Slit,
    Use,
    Width,
    option,
    shift_aim,
    substitute,
    usual_stitch,
)
from drafting.garment.carry import drop_features
from drafting.garment.darts import Dart, darts_of
from drafting.record import dataclass
from drafting.redraw.dart_panels import part_panels, share_out, true_ends, weight
from drafting.redraw.dart_work import put_piece
from drafting.redraw.heights import level_total
from drafting.redraw.panel_edges import SHARPEST_BLEND, Route, sharpest_turn
from drafting.saying import Name, Words, say, specify
from drafting.sides import sideless
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE


@dataclass(frozen=True, slots=True)
class PanelNames:
    """What a panel seam and the piece that it parts off are called, and on which side of the wearer they lie.

    ``asked`` are the options that say where it runs, which a refusal names, and ``gentler`` how it turns less sharply.
    """

    name: str
    piece: str
    side: Side
    asked: tuple[str, ...]
    gentler: str


def seam_name_option() -> Any:
    """Return the field of a panel seam's name, asked for alike by every change that draws one."""
    return option("What the seam is called.", "text", "panel")


def piece_name_option() -> Any:
    """Return the field of the name of the piece that a panel seam parts off."""
    return option("What the new piece is called.", "text", "side-panel")


def sew_panels(garment: Garment, piece: str, route: Route, named: PanelNames, fullness: float = 0.0) -> Garment:
    """Return the garment with a piece parted along a route and its panels sewn to each other.

    From the waist down their edges swing out, to let ``fullness`` mm in at the hem. CannotDraft where the
    seam would turn too sharply, run along a level or through another dart.
    """
    _check_turn(route, named)
    _check_points(garment.piece(piece), route, named)
    before, garment = garment, put_piece(garment, true_ends(garment.piece(piece), route))
    old, side = garment.piece(piece), named.side
    suffix = f"-{side}" if side is not Side.NONE and old.side is Side.NONE else ""
    swing = (_waist_height(old, route), fullness) if fullness else None
    panels = part_panels(old, route, f"{named.name}{suffix}", swing)
    part_name, part_title = _name_part(old, named)
    _check_names(garment, named, old, part_name, panels.left[-1])
    keeps_left = weight(panels.left) >= weight(panels.right)
    used = {dart.called for dart in route.darts}
    old = drop_features(old, lambda feature: isinstance(feature, Slit) and feature.lines[0].dart in used)
    left, right = share_out(old, panels, True), share_out(old, panels, False)
    part = replace(right if keeps_left else left, name=part_name, title=part_title, side=side or old.side)
    main = left if keeps_left else right
    left, right = (main, part) if keeps_left else (part, main)
    seam = _seam(garment, f"{named.name}-{old.name}{suffix}", named, left, right)
    made = _sew_parts(garment, old, (left, right), route, seam)
    if swing is None:
        _check_girths(garment, made, named)
    else:
        made = _follow_girths(garment, made)
    return _follow_widths(before, made, sum(isinstance(part, Dart) for part in (route.start, route.end)))


def _check_turn(route: Route, named: PanelNames) -> None:
    """Refuse a seam that would turn at the point of a dart more sharply than its allowance has room for."""
    turns = sharpest_turn(route)
    if turns > SHARPEST_BLEND:
        raise CannotDraft(
            named.asked,
            say(
                "the seam would turn by {degrees:.0f} degrees at one point, too sharply for its allowance",
                degrees=math.degrees(turns),
            ),
            help=named.gentler,
        )


def _check_girths(before: Garment, after: Garment, named: PanelNames) -> None:
    """Refuse a seam that runs so nearly along a level that the level's stretches don't add up to the girth any more."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims if isinstance(aim.measure, Girth)):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) > TOLERANCE.sewn_length:
            level = measure.name.replace("-", " ")
            raise CannotDraft(
                named.asked,
                say("the seam would run along the {level} line, whose girth couldn't be proved any more", level=level),
                help="let it end higher or lower",
            )


def _waist_height(piece: Piece, route: Route) -> float:
    """The height (y) from which the edges of a panel seam swing out: that of the darts within, or of the waist."""
    if route.within:
        return min(route.within[0].mouth_a.y, route.within[0].mouth_b.y)
    heights = [level.path.at(level.path.length / 2.0).y for level in piece.levels if level.name == "waist"]
    return heights[0] if heights else route.over.y if route.over else piece.outline.bounds[3]


def _follow_girths(before: Garment, after: Garment) -> Garment:
    """Let girths be what they have become where the edges of a seam swing out."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims if isinstance(aim.measure, Girth)):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) > TOLERANCE.same_point:
            after = shift_aim(after, measure, by)
    return after


def _follow_widths(before: Garment, after: Garment, darts: int) -> Garment:
    """Let a width that runs across bends of the edges, at the legs of so many ``darts``, be what it has become."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims if isinstance(aim.measure, Width)):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) <= BLENDED * darts:
            after = shift_aim(after, measure, by)
    return after


OFF_SEAM = TradeValue(3.0, "mm", "from memory")
"""That the point of another dart lies off the seam, at least."""

BLENDED = TradeValue(2.0, "mm", "derived", "they bend within 60 mm")
"""By which the bends at the ends of a dart's legs may alter a width across them."""


def _check_points(piece: Piece, route: Route, named: PanelNames) -> None:
    """Refuse a seam through the point of another dart, which could then neither be sewn nor be cut."""
    ends = [part for part in (route.start, route.end) if isinstance(part, Dart)]
    names = {part.name for part in ends}
    for other in darts_of(piece):
        if other.name not in names and not other.inside and any(other.point.near(d.apex, OFF_SEAM) for d in ends):
            raise CannotDraft(
                named.asked, say("the seam would run through the point of the {dart} dart", dart=other.words),
                help="let that dart stop short of it (set_back), or join the two before",
            )  # fmt: skip


def _name_part(old: Piece, named: PanelNames) -> tuple[str, Words]:
    face = sideless(old.name)
    word, side = named.piece.replace("-", " "), named.side
    name = f"{named.piece}-{face}" + (f"-{side}" if side else "")
    return name, specify(say("{face:spoken,capital} {word}", face=Name(face), word=word), side)


def _check_names(garment: Garment, named: PanelNames, old: Piece, part: str, edge: Line) -> None:
    if old.lines(edge.ancestry[0]) or garment.has_piece(part):
        raise CannotDraft(
            "name",
            say("the {title:lower} has a {name:placed} already", title=old.title, name=named.name),
            help="give another name",
        )


def _seam(garment: Garment, name: str, named: PanelNames, left: Piece, right: Piece) -> Seam:
    """The new seam, in two sections that meet at the apex; what one edge is longer is eased in."""
    along, back = left.ring[-2:], right.ring[-2:][::-1]
    sections = tuple(
        Section(
            ((Use(left.name, a.name),), (Use(right.name, b.name, True),)),
            (0.0, b.path.length - a.path.length),
        )
        for a, b in zip(along, back, strict=True)
    )
    title = specify(say("{face} {name} seam", face=left.face, name=named.name.replace("-", " ")), named.side)
    return Seam(name, STYLE, say("{title:capital}", title=title), sections, usual_stitch(garment))


def _sew_parts(garment: Garment, old: Piece, parts: tuple[Piece, Piece], route: Route, seam: Seam) -> Garment:
    """The garment with the piece in two, its lines followed by their seams, the darts' own seams gone."""
    homes = {line.name: part.name for part in parts for line in part.all_lines if line not in part.ring[-2:]}
    uses = {(old.name, name): (Use(home, name),) for name, home in homes.items()}
    gone = {dart.seam for dart in route.darts}
    kept = tuple(each_seam for each_seam in garment.seams if each_seam.name not in gone)
    pieces = tuple(new for piece in garment.pieces for new in (parts if piece.name == old.name else (piece,)))
    garment = replace(garment, pieces=pieces, seams=(*substitute(kept, uses), seam))
    eased = seam.ease[1]
    says = "what the outer panel's edge is longer than the inner's over the whole seam, eased in near the bust point"
    return garment.with_(facts=(Fact(f"{seam.name}_ease", eased, "mm", "choice", says),))
