"""Flare: the body wider at its lower edge, by slash and spread, with pivots that are kept."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
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
    Use,
    change,
    face_option,
    faces_of,
    option,
    side_option,
    sides_of,
)
from drafting.garment.places import Place, lines_along, spot
from drafting.garment.told import Ruled
from drafting.geometry import Path
from drafting.mending import mend_wavering
from drafting.record import dataclass
from drafting.redraw.fullness import AT_SIDES, SWUNG_OUT, let_into
from drafting.redraw.heights import is_skirt, lower_end
from drafting.redraw.letting_in import Fan, let_in, stay_within
from drafting.redraw.spreading import point_at
from drafting.saying import say
from drafting.sides import side_or_word
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

FROM_CENTRE = (
    trade_row(
        (0.6, 0.95), "share", "derived", "nearly below the pivots: a slanted slash would lower the hem inside it"
    ),
    trade_row((0.45, 0.7), "share", "derived", "past a hollow waist"),
    trade_row((0.3, 0.5), "share", "derived", "past a very hollow waist"),
)
"""Of half the hem, from the centre, between which it is slashed for flare."""

DOWN_ARMHOLE = trade_row((0.5, 0.95), "share", "common practice", "slash to the armhole at about its notch")
"""Of the armhole, from the shoulder, between which the pivots of a flare lie: its lower half, so that the width across
the chest stays."""

ALONG_WAIST = trade_row((0.1, 0.95), "share", "from memory")
"""Of a skirt's waist, from its outermost dart to the side, between which it is slashed for flare."""

DOWN_SIDE = TradeValue(0.4, "share", "from memory")
"""Of the side seam below the waist over which the pivots of a flare from the waist lie, so that the seam bends gently
and all above the waist stays."""

FLARE_REACHES = trade_row((1.0, 0.85, 0.7, 0.55, 0.4), "share", "from memory")
"""Of the way towards the side that the slashes of a flare may reach, tried in turn: a hollow waist leaves less room."""


@dataclass(frozen=True, slots=True)
class FlareOptions:
    """Options of the flare."""

    by: float = option(
        "How much wider the lower edge is in all, shared evenly by the halves; from the waist also by panel seams, "
        "each of whose edges gets as much as a side's.",
        "length",
        200.0,
        low=-200.0,
        high=1600.0,
    )
    side: str = side_option("Which side is flared.")
    on: str = face_option("Whether the front, the back or both are flared.")
    pivot: str = option(
        "What is kept above: the flare starts at the armhole, or at the waist. A skirt starts at its waist, and so "
        "does a bodice whose darts or hollow waist leave no way from the hem to the armhole.",
        "choice",
        "armhole",
        choices=("armhole", "waist"),
    )
    slashes: float = option("In how many slashes each half is opened.", "count", 6, low=1, high=12)


@change(
    "flare",
    "The bodice wider (or narrower) at its lower edge, by slash and spread from the armholes or the waist.",
    Stage.SHAPE,
    mends=mend_wavering(Role.SIDE, Role.HEM, Role.WAIST),
)
def flare_hem(garment: Garment, brief: Brief, o: FlareOptions) -> Garment:
    """Slash each half asked for from the hem, and spread it.

    All fall from the waist where one has no way to its armhole, past darts and a hollow waist.
    """
    faces, sides = faces_of(o.on), sides_of(o.side)
    halves = [(face, side) for face in faces for side in sides]
    each = o.by / len(halves)
    before = [_fan(garment, side, face, each, o) for face, side in halves]
    low = any(_from_waist(garment.piece(name), fan) for name, fan in before)
    if o.pivot == "armhole" and low:
        # Beside halves that fall from their armholes one from its waist would swing out more at its side.
        o = replace(o, pivot="waist")
    facts = []
    if low and o.by > 0.0:
        each, garment = _leave_to_panels(garment, halves, o.by)
        facts = _tell_sides(garment, {name for name, _ in before}, each, each * len(halves) / o.by)
    for face in faces:
        fans = [_fan(garment, side, face, each, o) for side in sides]
        for name in sorted({home for home, _ in fans}):
            garment = _spread_piece(garment, name, [fan for home, fan in fans if home == name], face)
    skirt = any(is_skirt(piece) for piece in garment.pieces)
    told = say(
        "let in at the hem from the {pivot}, {side} of the {face}",
        pivot="waist" if skirt else o.pivot,
        side=side_or_word(o.side),
        face=o.on,
    )
    return garment.with_(facts=[*facts, Fact("flare", o.by, "mm", "choice", told)])


def _leave_to_panels(garment: Garment, halves: Sequence[tuple[Face, Side]], by: float) -> tuple[float, Garment]:
    """What each side's edge gets of a flare (mm): as much as each edge of the panel seams that are yet to be drawn.

    And the garment, told what is left to those.
    """
    seams = [(face, side) in halves for face, side, _ in garment.panelled]
    each = by / (len(halves) + 2 * sum(seams))
    more = [2.0 * each * shares for shares in seams]
    left = [(face, side, old + new) for (face, side, old), new in zip(garment.panelled, more, strict=True)]
    return each, replace(garment, panelled=tuple(left))


def _tell_sides(garment: Garment, names: Iterable[str], each: float, share: float) -> list[Fact]:
    """What the side seams of pieces with darts hold of a flare, and how far they swing out for it."""
    drops = [_below_waist_line(piece) for piece in map(garment.piece, names) if piece.slits]
    if not any(drops):
        return []
    swing = math.asin(min(each / max(drops), 1.0))
    return [
        Fact(
            AT_SIDES,
            share,
            "share",
            "rule",
            "what the side seams hold of the flare; panel seams share it alike",
            Ruled(AT_SIDES),
        ),
        Fact(SWUNG_OUT, swing, "rad", "rule", "by which each side seam swings out for it", Ruled(SWUNG_OUT)),
    ]


def _below_waist_line(piece: Piece) -> float:
    """How far (mm) a piece reaches below its waist; 0 where it shows none."""
    heights = [level.path.at(level.path.length / 2.0).y for level in piece.levels if level.name == "waist"]
    return heights[0] - lower_end(piece) if heights else 0.0


def _fan(garment: Garment, side: Side, face: Face, by: float, o: FlareOptions) -> tuple[str, Fan]:
    """The slashes of one half, and the piece that they lie on; drawn in towards the centre until they lie within it."""
    hem = lines_along(garment, Role.HEM, side, face)
    if not hem:
        raise CannotDraft(
            "hem", say("the {side} {face} has no hem", side=side, face=face), help="flare the other pieces"
        )
    piece = garment.piece(hem[0].piece)
    ways = _skirt_pivots(garment, piece, side, face) if is_skirt(piece) else _body_pivots(garment, piece, side, face, o)
    if any(use.piece != piece.name for use in hem):
        raise CannotDraft(
            "pivot",
            say("the hem of the {side} {face} is parted", side=side, face=face),
            help="flare it before it is parted",
        )
    count = int(o.slashes)
    for run, low, high in ways:
        for ends, reach in product(FROM_CENTRE, FLARE_REACHES):
            steps = [reach * (k + 0.5) / count for k in range(count)]
            opens = [spot(garment, hem, _share(ends, t)).place for t in steps]
            pivots = [spot(garment, run, _share((low, high), t)).place for t in steps]
            cuts = tuple(zip(opens, pivots, strict=True))
            if stay_within(piece, cuts) and not _runs_over_dart(piece, cuts):
                return piece.name, Fan(cuts, tuple(use.line for use in hem), by)
    raise CannotDraft(
        o.pivot,
        say(
            "the {side} {face} is too hollow to be slashed from its hem to its {pivot}",
            side=side,
            face=face,
            pivot=o.pivot,
        ),
        help="flare it from the waist" if o.pivot == "armhole" else "flare it in fewer slashes, or the other pieces",
    )


def _runs_over_dart(piece: Piece, cuts: Sequence[tuple[Place, Place]]) -> bool:
    """Whether a slash runs over a dart within the piece."""
    slits = [line.path for slit in piece.slits for line in slit]
    chords = [Path.straight(point_at(piece, opens), point_at(piece, pivot)) for opens, pivot in cuts]
    return any(path.crossings(chord) for path in slits for chord in chords)


def _from_waist(piece: Piece, fan: Fan) -> bool:
    """Whether the slashes of a body's half have their pivots on its side, from the waist down."""
    return not is_skirt(piece) and any(piece.line(pivot.line).role is Role.SIDE for _, pivot in fan.cuts)


def _body_pivots(
    garment: Garment, piece: Piece, side: Side, face: Face, o: FlareOptions
) -> list[tuple[Run, float, float]]:
    """Where a body piece's pivots may lie: as asked; too hollow for slashes to its armhole, from its waist."""
    ways = [_pivots(garment, piece, side, face, o)]
    if o.pivot == "armhole" and any(level.name == "waist" for level in piece.levels):
        ways.append(_below_waist(garment, piece, side, face))
    return ways


def _pivots(garment: Garment, piece: Piece, side: Side, face: Face, o: FlareOptions) -> tuple[Run, float, float]:
    """The edge of a body piece on which its pivots lie, and the shares of it between which they do."""
    arm = lines_along(garment, Role.ARMHOLE, side, face)
    if not arm:
        raise CannotDraft(
            "armhole", say("the {side} {face} has no armhole", side=side, face=face), help="flare the other pieces"
        )
    if any(use.piece != piece.name for use in arm):
        raise CannotDraft(
            "pivot",
            say("the {side} {face} is parted between its hem and its armhole", side=side, face=face),
            help="flare it before it is parted",
        )
    return _below_waist(garment, piece, side, face) if o.pivot == "waist" else (arm, DOWN_ARMHOLE[0], DOWN_ARMHOLE[1])


def _skirt_pivots(garment: Garment, piece: Piece, side: Side, face: Face) -> list[tuple[Run, float, float]]:
    """Where a skirt's pivots may lie: on its waist beside the outermost dart, else on its side down to the hip.

    Slashed to the waist it falls from there, and its waist keeps its length (common practice).
    """
    waist = max(piece.lines(role=Role.WAIST, side=side), key=lambda line: abs(line.path.at(line.path.length / 2.0).x))
    inwards = abs(waist.path.start.x) > abs(waist.path.end.x)
    down = tuple(use for use in lines_along(garment, Role.SIDE, side, face) if use.piece == piece.name)
    return [((Use(piece.name, waist.name, inwards),), ALONG_WAIST[0], ALONG_WAIST[1]), (down, 0.02, DOWN_SIDE)]


def _share(ends: tuple[float, ...], t: float) -> float:
    return ends[0] + (ends[1] - ends[0]) * t


def _below_waist(garment: Garment, piece: Piece, side: Side, face: Face) -> tuple[Run, float, float]:
    """The side seam, and the shares of it, from the underarm, between which a flare from the waist has its pivots."""
    run = lines_along(garment, Role.SIDE, side, face)
    heights = [level.path.at(level.path.length / 2.0).y for level in piece.levels if level.name == "waist"]
    whole, above = garment.run_length(run), 0.0
    for use in run:
        path = garment.path(use)
        for y in heights[:1]:
            for s in path.cross_level(y)[:1]:
                share = (above + s) / whole
                return run, share, _share((share, 1.0), DOWN_SIDE)
        above += path.length
    raise CannotDraft(
        "waist",
        say("the {title:lower} has no waist on its {side} side", title=piece.title, side=side),
        help="pivot elsewhere",
    )


def _spread_piece(garment: Garment, name: str, fans: list[Fan], face: Face) -> Garment:
    """Spread one piece, and shift the aims by what its levels gained."""
    piece = garment.piece(name)
    try:
        made = let_in(piece, fans, _centre(piece))
    except DraftingError as error:
        raise CannotDraft(
            "by",
            say("the {title:lower} can't be spread so far: {error}", title=piece.title, error=error.words),
            help="flare it by less",
        ) from None
    return let_into(garment, piece, made)


def _centre(piece: Piece) -> Place:
    """The place on the hem nearest to the centre: what is held."""
    hems = piece.lines(role=Role.HEM)
    _, line, s = min(
        (abs(line.path.at(s).x), line.name, s) for line in hems for s in (0.0, line.path.length - TOLERANCE.joint)
    )
    return Place(line, s)
