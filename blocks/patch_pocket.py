"""The patch pocket: a piece sewn onto the face of the front, open above, on the breast or on the hip.

Its place is found by meaning: a breast pocket hangs from the bust line and stands at a share of the way from the centre
to the armhole; a hip pocket stands over the hip line, between the centre and the side. It is sewn on while the front is
flat still, its opening's hem stitched first.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

import numpy as np

from blocks.pocket_seam import PATCH
from drafting.cloth import Kind
from drafting.errors import CannotDraft
from drafting.garment import (
    LOCKSTITCH,
    Applied,
    Brief,
    Face,
    Fact,
    Fate,
    Garment,
    Line,
    Piece,
    Role,
    Seam,
    Section,
    Side,
    Stage,
    Use,
    block,
    hanging_pieces,
    option,
)
from drafting.garment.carry import with_features
from drafting.geometry import Array, Path, Point, are_inside, distances_to
from drafting.record import dataclass
from drafting.saying import Words, mm, say, span, specify
from drafting.sides import sides_of
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

CHEST_SHARE = TradeValue(0.10, "share", "from memory")
"""Of the bust or chest girth that a breast pocket is wide, before the 25 mm that are added."""
CHEST_MORE = TradeValue(25.0, "mm", "from memory")
"""Of width of a breast pocket beyond its share of the chest: 12 to 13 cm on a middling one."""
BREAST_LEAST, BREAST_MOST = TradeValue(100.0, "mm", "from memory"), TradeValue(130.0, "mm", "from memory")
"""A breast pocket's width at least and at most: it is for what is put in, and no pocket grows with all of a bust."""
HAND_EASE = TradeValue(45.0, "mm", "from memory")
"""Of width of a hip pocket beyond half the hand's girth, so that the hand goes in and turns."""
POCKET_DEPTH = TradeValue(1.15, "times", "from memory")
"""As deep as wide is a patch pocket: a little deeper."""
OVER_BUST = TradeValue(75.0, "mm", "from memory")
"""Above the bust line that a breast pocket opens."""
OVER_HIP = TradeValue(60.0, "mm", "from memory")
"""Above the hip line that a hip pocket opens."""
POCKET_ALONG = TradeValue(0.58, "share", "from memory")
"""Of the way from the centre to the front's edge at which the middle of a pocket stands."""
POCKET_CLEAR = TradeValue(12.0, "mm", "from memory")
"""Between a pocket and the edges and darts of the front at least, so that no seam is sewn into it."""
POCKET_OVER_HEM = TradeValue(35.0, "mm", "from memory")
"""Between a pocket and the fold of a turned hem at least, so that the stitching of a hem of 25 mm runs below it."""
CORNER_MOST = TradeValue(0.45, "share", "derived", "two corners and some edge between")
"""Of the width that a bevelled or rounded corner takes at most."""

NEAREST_CENTRE: Final = TradeValue(0.6, "share", "from memory")
"""Of its width that the middle of a pocket keeps from the centre: it doesn't reach over it."""

LEAST_WIDTH: Final = TradeValue(40.0, "mm", "from memory")
"""That a pocket is wide at least: two fingers go in."""
SHOWN_WITHIN: Final = TradeValue(1.6, "mm", "derived", "half of 1/8 inch")
"""By which a width that fits is told less, so that it still fits as it is shown."""

_LEVELS: Final[Mapping[str, str]] = MappingProxyType({"breast": "bust", "hip": "hip"})
"""The line that a pocket's height is told by."""

TRIED: Final = 12
"""At how many heights, and at how many places along each, a pocket is tried where its place is by rule."""

SAMPLED: Final = 101
"""At how many points a level's height is looked up."""

STRETCH_STITCH: Final = "304"
"""ISO 4915: zigzag, which gives with a knit."""

ARC: Final = 4.0 / 3.0 * math.tan(math.pi / 8.0)
"""How long the handles of a quarter circle's cubic are, as a share of its radius (well known)."""


@dataclass(frozen=True, slots=True)
class PatchPocketOptions:
    """Options of the patch pocket."""

    place: str = option("Where it is: on the breast, or on the hip.", "choice", "breast", choices=("breast", "hip"))
    side: str = option(
        "On which of the wearer's sides; by place, a breast pocket is on the left and hip pockets are on both.",
        "choice", "by-place", choices=("by-place", "both", "left", "right"),
    )  # fmt: skip
    width: float | None = option(
        say(
            "Its width; by rule a tenth of the chest and {more}, {least} in all; on the hip half the hand and {hip}.",
            more=mm(CHEST_MORE), least=span(mm(BREAST_LEAST), mm(BREAST_MOST)), hip=mm(HAND_EASE)),
        "length", None, low=LEAST_WIDTH, high=300.0,
    )  # fmt: skip
    depth: float | None = option("Its depth; by rule 1.15 times the width.", "length", None, low=40.0, high=350.0)
    corner: str = option(
        "The shape of its lower corners.", "choice", "square", choices=("square", "bevelled", "rounded")
    )
    corner_size: float = option("How much of each side a corner takes.", "length", 20.0, low=5.0, high=120.0)
    hem: float = option("How deep the opening's hem is turned.", "length", 25.0, low=10.0, high=60.0)
    height: float | None = option(
        say(
            "How far its opening lies above the bust line, or above the hip line; by rule {bust} and {hip}, or as much "
            "more as keeps it clear of darts and hem.",
            bust=mm(OVER_BUST), hip=mm(OVER_HIP)), "length", None, low=-150.0, high=250.0,
    )  # fmt: skip
    along: float | None = option(
        "Where its middle stands, as a share of the way from the centre to the edge of the front; by rule 58 %, or as "
        "near as the edge lets it.",
        "ratio", None, low=0.2, high=0.9,
    )  # fmt: skip


@block(
    "patch-pocket",
    "A patch pocket on the breast or the hip, square, bevelled or rounded.",
    Stage.STYLE,
    needs=("bust_girth", "hand_girth"),
    kinds=(PATCH,),
)
def draft_patch_pockets(garment: Garment, brief: Brief, o: PatchPocketOptions) -> Garment:
    """Draft a pocket for each side asked for, and its place on the front."""
    width = o.width if o.width is not None else pocket_width(brief, o.place)
    depth = o.depth if o.depth is not None else width * POCKET_DEPTH
    _refuse_corner(o, width, depth)
    asked = {"breast": "left", "hip": "both"}[o.place] if o.side == "by-place" else o.side
    stitch = LOCKSTITCH if brief.cloth.kind is Kind.WOVEN else STRETCH_STITCH
    for side in sides_of(asked):
        pocket = draw_pocket(o, side, width, depth)
        face, at = _find_place(garment, o, side, width, depth)
        garment = _lay_on(garment, face, pocket, at, say("{side} {place} pocket", side=side, place=o.place), stitch)
    return garment.with_(
        facts=(
            Fact(f"{o.place}_pocket_width", width, "mm", "choice" if o.width is not None else "rule"),
            Fact(f"{o.place}_pocket_depth", depth, "mm", "choice" if o.depth is not None else "rule"),
        )
    )


def _lay_on(garment: Garment, face: str, pocket: Piece, at: Point, title: Words, stitch: str) -> Garment:
    """Add the pocket, the seam that sews it down all round but at its opening, and its place on the face."""
    laid = pocket.ring[:-1]
    run = tuple(Use(pocket.name, line.name) for line in laid)
    place = Applied(pocket.name, Path.join(*(line.path for line in laid)).moved(at))
    return garment.with_(
        pieces=(with_features(garment.piece(face), [place]), pocket),
        seams=(Seam(pocket.name, PATCH, title, (Section((run,), (0.0,)),), stitch),),
    )


def pocket_width(brief: Brief, place: str) -> float:
    """Return how wide a pocket is by rule (mm): for the chest it lies on, or for the hand that goes in."""
    if place == "breast":
        return min(max(brief.body["bust_girth"] * CHEST_SHARE + CHEST_MORE, BREAST_LEAST), BREAST_MOST)
    return brief.body["hand_girth"] / 2.0 + HAND_EASE


def _refuse_corner(o: PatchPocketOptions, width: float, depth: float) -> None:
    most = min(width * CORNER_MOST, depth)
    if o.corner != "square" and o.corner_size > most:
        raise CannotDraft(
            "corner_size",
            say(
                "a corner of {size} leaves no edge between two, on a pocket {width} wide",
                size=mm(o.corner_size), width=mm(width),
            ),
            short_by=o.corner_size - most, help="make the corners smaller, or the pocket larger",
        )  # fmt: skip


# the piece


def draw_pocket(o: PatchPocketOptions, side: Side, width: float, depth: float) -> Piece:
    """Draw the pocket, its opening's middle at (0, 0): from the opening down, along below, and up; the opening last."""
    w, s = width / 2.0, 0.0 if o.corner == "square" else o.corner_size
    top_a, low_a = Point(-w, 0.0), Point(-w, s - depth)
    under_a, under_b = Point(s - w, -depth), Point(w - s, -depth)
    low_b, top_b = Point(w, s - depth), Point(w, 0.0)
    edges = [
        ("edge-a", Path.straight(top_a, low_a)),
        ("corner-a", _corner(low_a, Point(-w, -depth), under_a, o.corner)),
        ("lower-edge", Path.straight(under_a, under_b)),
        ("corner-b", _corner(under_b, Point(w, -depth), low_b, o.corner)),
        ("edge-b", Path.straight(low_b, top_b)),
    ]
    laid = [Line(name, path, Role.LAID, ancestry=("corner",) * ("corner" in name)) for name, path in edges if path]
    opening = Line("opening", Path.straight(top_b, top_a), Role.EDGE, fate=Fate.HEMMED, turned=o.hem)
    return Piece(
        f"{o.place}-pocket-{side}",
        specify(say("{place:capital} pocket", place=o.place), side),
        (*laid, opening),
        side=side,
    )


def _corner(start: Point, point: Point, end: Point, shape: str) -> Path | None:
    """A lower corner: none where it is square, a slant, or a quarter circle."""
    if shape == "square":
        return None
    if shape == "bevelled":
        return Path.straight(start, end)
    return Path.cubic(start, start.to(point, ARC), end.to(point, ARC), end)


# its place


def _find_place(garment: Garment, o: PatchPocketOptions, side: Side, width: float, depth: float) -> tuple[str, Point]:
    """Return the front that the pocket lies on, and where the middle of its opening stands on it."""
    where, short = _best_place(garment, o, side, width, depth)
    if where is not None:
        return where
    if math.isinf(short):
        level = _LEVELS[o.place]
        raise CannotDraft(
            "place",
            say("no front piece shows the {level} line on the {side} side", level=level, side=side),
            help=f"draft a front that reaches the {level} line, or leave the pocket out",
        )
    fits = _widest(garment, o, side, width, depth)
    reason = "the {side} {place} pocket, {width} wide, would come nearer than {clear} to an edge or a dart of the front"
    raise CannotDraft(
        "width",
        say(
            reason + ("; {fits} wide it fits" if fits else ""),
            side=side, place=o.place, width=mm(width), clear=mm(POCKET_CLEAR), fits=mm(fits),
        ),
        short_by=width - fits if fits else short,
        help="make it narrower, or give it another height or another place along the front",
    )  # fmt: skip


def _best_place(
    garment: Garment, o: PatchPocketOptions, side: Side, width: float, depth: float
) -> tuple[tuple[str, Point] | None, float]:
    """Return the first place that keeps clear, and if there is none, by how much (mm) the best one lacks of it."""
    short = math.inf
    for piece, level in _levels(garment, _LEVELS[o.place], side):
        edges = _edges_of(piece)
        for at in _try_places(o, level, width, depth):
            if POCKET_CLEAR - _room(edges, at, width, depth, 2) >= max(short, TOLERANCE.sewn_length):
                continue
            lacking = POCKET_CLEAR - _room(edges, at, width, depth)
            if lacking <= TOLERANCE.sewn_length:
                return (piece.name, at), 0.0
            short = min(short, lacking)
    return None, short


def _widest(garment: Garment, o: PatchPocketOptions, side: Side, width: float, depth: float) -> float:
    """Return how wide (mm) such a pocket may be at most, as deep as asked for or by rule; 0 where none fits."""
    low, high = float(LEAST_WIDTH), width

    def fits(tried: float) -> bool:
        deep = depth if o.depth is not None else depth * tried / width
        return _best_place(garment, o, side, tried, deep)[0] is not None

    if low >= high or not fits(low):
        return 0.0
    while high - low > SHOWN_WITHIN:
        middle = (low + high) / 2.0
        low, high = (middle, high) if fits(middle) else (low, middle)
    return max(LEAST_WIDTH, low - SHOWN_WITHIN)


def _levels(garment: Garment, name: str, side: Side) -> Iterator[tuple[Piece, Path]]:
    """Each front with a level on one side, drawn from the centre outwards."""
    way = 1.0 if side is Side.LEFT else -1.0
    hanging = hanging_pieces(garment)
    for piece in garment.pieces:
        if piece.face is Face.FRONT and piece.name not in hanging:
            for level in piece.levels:
                path = level.path if level.path.end.x * way > level.path.start.x * way else level.path.reversed()
                if level.name == name and path.end.x * way > 0.0:
                    yield piece, path


def _try_places(o: PatchPocketOptions, level: Path, width: float, depth: float) -> Iterator[Point]:
    """Where the middle of the opening may stand, best first; by rule also higher, and nearer the centre.

    So it keeps clear of a hem that ends near the level, of darts, and of the armhole.
    """
    over = o.height if o.height is not None else {"breast": OVER_BUST, "hip": OVER_HIP}[o.place]
    heights = [over] if o.height is not None else np.linspace(over, over + depth, TRIED)
    far = level.end.x
    wanted = far * (POCKET_ALONG if o.along is None else o.along)
    nearest = min(abs(wanted), width * NEAREST_CENTRE) * math.copysign(1.0, far)
    points = level.points(np.linspace(0.0, level.length, SAMPLED))
    for height in heights:
        for x in [wanted] if o.along is not None else np.linspace(wanted, nearest, TRIED):
            y = points[np.abs(points[:, 0] - x).argmin(), 1]
            yield Point(float(x), float(y + height))


def _room(edges: _Edges, at: Point, width: float, depth: float, looked_at: int = 9) -> float:
    """How far (mm) a pocket keeps from every line of a piece; below 0 where it lies outside.

    It is looked at in so many rows: two are its corners, which say soonest that there is no room.
    """
    x, y = np.meshgrid(np.linspace(-width / 2.0, width / 2.0, looked_at), np.linspace(-depth, 0.0, looked_at))
    points = np.stack((at.x + x.ravel(), at.y + y.ravel()), axis=1)
    inside = are_inside(points, edges.ring)
    room = math.inf
    for starts, ends, spared in edges.groups:
        away = distances_to(points, starts, ends)
        room = min(room, float(np.where(inside, away, -away).min()) - spared)
    return room


@dataclass(frozen=True, slots=True, eq=False)
class _Edges:
    """What a pocket keeps clear of: starts and ends of lines' straight parts, and the ring of the outline.

    A hem's parts and the others stand apart, each with how much more (mm) is to be kept of them than of any edge.
    """

    groups: tuple[tuple[Array, Array, float], ...]
    ring: Array


def _edges_of(piece: Piece) -> _Edges:
    hems = [line for line in piece.all_lines if line.fate is Fate.HEMMED and line.role is Role.HEM]
    others = [line for line in piece.all_lines if line not in hems]
    groups = []
    for lines, spared in ((hems, POCKET_OVER_HEM - POCKET_CLEAR), (others, 0.0)):
        flats = [line.path.flatten() for line in lines]
        if flats:
            groups.append((np.concatenate([f[:-1] for f in flats]), np.concatenate([f[1:] for f in flats]), spared))
    return _Edges(tuple(groups), piece.outline.flatten()[:-1])
