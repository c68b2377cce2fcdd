"""Fitting the length of the trunk: a sway back, a long or a short waist."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Brief, Face, Fact, Garment, Piece, Role, Side, Slit, Stage, change, option
from drafting.garment.carry import carry_features
from drafting.garment.darts import Dart, darts_of
from drafting.geometry import Path, Point
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.fit_half import (
    NO_SHIFT,
    darts_in,
    keep_waist,
    leg_paths,
    move_joints,
    opens_in,
    refuse_unless_body,
)
from drafting.redraw.fit_inner import HalfShifts, follow_waist, move_inner
from drafting.redraw.fullness import ease_sides, ease_waists
from drafting.redraw.halves import Half, find_half
from drafting.redraw.heights import HeightShift, keep_aims, stretch_piece
from drafting.redraw.hemline import match_sides, sides_agree
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

DART_ABOVE_FOLD = TradeValue(50.0, "mm", "derived", "by drawing")
"""Of length that is left of a back waist dart above the fold."""

LEAST_ABOVE_WAIST = TradeValue(30.0, "mm", "derived", "by drawing")
"""That are left between the bust line, or the points of the waist darts, and the waist."""


@dataclass(frozen=True, slots=True)
class SwayBackOptions:
    """Options of the sway back."""

    by: float = option(
        "How much is folded out at the centre back waist, running out to nothing at the side seams.",
        "length", 10.0, low=0.0, high=40.0,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class LongWaistOptions:
    """Options of the long waist."""

    by: float = option(
        "How much longer the trunk is between bust and waist, front and back alike.",
        "length",
        10.0,
        low=0.0,
        high=120.0,
    )


@dataclass(frozen=True, slots=True)
class ShortWaistOptions:
    """Options of the short waist."""

    by: float = option(
        "How much shorter the trunk is between bust and waist, front and back alike.",
        "length",
        10.0,
        low=0.0,
        high=80.0,
    )


# sway back


@change(
    "sway-back",
    "A fold taken out at the centre back waist, running out to nothing at the side seams.",
    Stage.FIT,
    needs=("back_neck_point_to_waist",),
    mends=(
        Mend("toile-back-hollow", "pinch across at the centre: by = twice the depth there"),
        *mend_wavering(Role.WAIST),
    ),
    moves=("waist", "hip"),
)
def fit_sway_back(garment: Garment, brief: Brief, o: SwayBackOptions) -> Garment:
    """Fold the back out at the waist: all from the waist down rises at the centre, and stays at the side seams.

    A waist dart rises as it stands over its middle, so that its legs stay equal.
    """
    refuse_unless_body(garment)
    if o.by == 0.0:
        return garment
    halves = [find_half(garment, side, Face.BACK) for side in (Side.LEFT, Side.RIGHT)]
    if halves[0].piece.name != halves[1].piece.name:
        raise CannotDraft(
            "back",
            "the back is in two pieces",
            help="make this change before the back is parted; one drafted with a shaped centre can't have it",
        )
    piece, folds = halves[0].piece, {}
    for half in halves:
        folds[half.flipped] = WaistFold.of(half, brief, o.by)
        piece = _fold_half(replace(half, piece=piece), folds[half.flipped])
    waist = max(fold.waist for fold in folds.values()) + TOLERANCE.joint
    shifts = {flip: fold.shift for flip, fold in folds.items()}
    piece = move_inner(piece, shifts, waist, lambda v: v.path.bounds[3] <= waist)
    for half in halves:
        piece = keep_waist(piece, half.side, half.piece)
    made = keep_aims(garment, ease_waists(garment, garment.with_(pieces=(follow_waist(piece),))))
    return made.with_(facts=(Fact("sway_back", o.by, "mm", "choice", "folded out at the centre back waist"),))


def _waist(half: Half, brief: Brief) -> float:
    """The greatest height (y) of the back's waist: of its edge, or of its level."""
    edges = [line.path.bounds[3] for line in half.piece.lines(role=Role.WAIST)]
    levels = [level.path.bounds[3] for level in half.piece.levels if level.name == "waist"]
    return max(edges or levels or [-brief.body["back_neck_point_to_waist"]])


@dataclass(frozen=True, slots=True)
class WaistFold:
    """How the half back rises from its waist down, as on +x: ``by`` at the centre, nothing at ``width`` and beyond.

    ``darts`` are those at the waist; what lies under a shoulder's dart rises as what lies beside it.
    """

    by: float
    waist: float
    width: float
    darts: tuple[Dart, ...]

    @staticmethod
    def of(half: Half, brief: Brief, by: float) -> WaistFold:
        """Read the waist's height and its half width off a half."""
        sides = [half.on_plus_x(line.path) for line in half.lines(Role.SIDE)]
        if not sides:
            raise CannotDraft(
                f"side-{half.side}", say("the {side} back has no side seam to run out to", side=half.side)
            )
        waist, found = _waist(half, brief), [path.start.x for path in sides]
        if not half.lines(Role.WAIST):  # the outer end of the waist's level, which stays
            ends = [p for v in half.piece.levels if v.name == "waist" for p in (v.path.start, v.path.end)]
            found += [max(-p.x if half.flipped else p.x for p in ends)] if ends else []
        return WaistFold(by, waist, min(found), tuple(dart for dart in darts_in(half) if _stands_at_waist(half, dart)))

    def shift(self, p: Point) -> Point:
        """By how much a point at the waist or below it rises; over a dart as over the dart's middle."""
        dart = self._dart(p)
        return Point(0.0, self.by * max(1.0 - (dart.middle.x if dart else p.x) / self.width, 0.0))

    def lean(self, p: Point) -> float:
        """How steeply the waist leans at a point: at a dart as the fold runs; level at the centre and at the side."""
        return -self.by / self.width if self._dart(p) else 0.0

    def _dart(self, p: Point) -> Dart | None:
        return next((dart for dart in self.darts if _is_over(dart, p)), None)


def _is_over(dart: Dart, p: Point) -> bool:
    """Whether a point stands over a dart's width, where it is widest."""
    reach = dart.mouth_a.distance(dart.mouth_b) / 2.0 + TOLERANCE.joint
    return abs(p.x - dart.middle.x) <= reach and p.y <= max(dart.mouth_a.y, dart.mouth_b.y) + reach


def _fold_half(half: Half, fold: WaistFold) -> Piece:
    shift = fold.shift
    paths: dict[str, Path] = {}
    for line in half.piece.lines(side=half.side, face=Face.BACK):
        if line.role in (Role.WAIST, Role.HEM):
            paths[line.name] = move_joints(half.on_plus_x(line.path), shift, fold.lean)
    for dart in darts_in(half):
        if dart.mouth_a.distance(dart.point) - shift(dart.middle).y < DART_ABOVE_FOLD and _stands_at_waist(half, dart):
            raise CannotDraft("by", "too little would be left of the back waist dart", help="fold out less")
        if not dart.inside and _stands_at_waist(half, dart):
            first, last = (p + shift(p) for p in (dart.mouth_a, dart.mouth_b))
            paths |= leg_paths(dart, first, dart.point, last)
    piece = half.with_paths(paths).piece
    for dart in (d for d in darts_in(half) if d.inside):
        piece = _one_slit(piece, dart, half, fold)
    return piece


def _one_slit(piece: Piece, dart: Dart, half: Half, fold: WaistFold) -> Piece:
    """The piece with one inner dart's mouth and lower point raised; its upper point stays."""

    def shift(p: Point) -> Point:
        return NO_SHIFT if p.y >= dart.point.y - TOLERANCE.joint else fold.shift(p)

    return carry_features(
        piece,
        HalfShifts({half.flipped: shift}),
        lambda feature: isinstance(feature, Slit) and feature.lines[0].dart == dart.called,
    )


def _stands_at_waist(half: Half, dart: Dart) -> bool:
    """Whether a dart stands at the waist: within the piece, or in its lower edge."""
    return dart.inside or opens_in(half.piece, dart) in (Role.WAIST, Role.HEM)


# long and short waist


@change(
    "long-waist",
    "A bodice longer between bust and waist, front and back alike, its darts with it.",
    Stage.FIT,
    mends=(Mend("toile-waist-high", "by = how far the waist line must come down"),),
    moves=("waist", "hip"),
)
def fit_long_waist(garment: Garment, brief: Brief, o: LongWaistOptions) -> Garment:
    """Make the trunk longer between bust and waist."""
    return _lengthen_pieces(garment, o.by)


@change(
    "short-waist",
    "A bodice shorter between bust and waist, front and back alike, its darts with it.",
    Stage.FIT,
    mends=(Mend("toile-waist-low", "pin a fold all round: by = twice its depth"),),
    moves=("waist", "hip"),
)
def fit_short_waist(garment: Garment, brief: Brief, o: ShortWaistOptions) -> Garment:
    """Make the trunk shorter between bust and waist."""
    return _lengthen_pieces(garment, -o.by)


def _lengthen_pieces(garment: Garment, by: float) -> Garment:
    refuse_unless_body(garment)
    pieces = [piece for piece in garment.pieces if piece.lines(role=Role.SHOULDER)]
    stretch = _region(pieces, by)
    if by == 0.0:
        return garment
    made = garment.with_(pieces=[_draw_out(piece, stretch) for piece in pieces])
    if not sides_agree(made):
        made = made.with_(pieces=match_sides(pieces, [made.piece(piece.name) for piece in pieces]))
    return keep_aims(garment, ease_waists(garment, ease_sides(made))).with_(
        facts=(Fact("waist_longer", by, "mm", "choice", "between bust and waist (less than 0: shorter)"),)
    )


def _region(pieces: Iterable[Piece], by: float) -> HeightShift:
    """The heights between which front and back are drawn out: from below bust, underarm and darts' points to the waist.

    The points of the waist darts stay where they were to the bust; their legs grow longer.
    """
    tops, lows = [], []
    for piece in pieces:
        tops += [line.path.bounds[1] for line in piece.lines(role=Role.ARMHOLE)]
        tops += [level.path.bounds[1] for level in piece.levels if level.name == "bust"]
        lows += [line.path.bounds[3] for line in piece.lines(role=Role.WAIST)]
        lows += [line.path.bounds[3] for line in piece.lines(role=Role.HEM)]
        lows += [level.path.bounds[3] for level in piece.levels if level.name == "waist"]
        tops += [dart.point.y for dart in darts_of(piece) if _is_at_waist(piece, dart.mouth_a)]
        tops += [min(d.mouth_a.y, d.mouth_b.y) for d in darts_of(piece) if not _is_at_waist(piece, d.mouth_a)]
    if not tops or not lows:
        raise CannotDraft("by", "the bodice has no bust line or no lower edge to lengthen between")
    top, low = min(tops), max(lows)
    if min(top - low, top - low + by) < LEAST_ABOVE_WAIST:
        raise CannotDraft(
            "by", say("only {top} would lie between bust and waist", top=mm(max(min(top - low, top - low + by), 0.0))),
            short_by=LEAST_ABOVE_WAIST - min(top - low, top - low + by), help="change it by less",
        )  # fmt: skip
    return HeightShift(top, low, by)


def _is_at_waist(piece: Piece, mouth: Point) -> bool:
    """Whether a dart's mouth lies at the waist: on or below its level, or in its edge."""
    heights = [level.path.bounds[3] for level in piece.levels if level.name == "waist"]
    return bool(heights) and mouth.y <= max(heights) + TOLERANCE.joint


def _draw_out(piece: Piece, stretch: HeightShift) -> Piece:
    """The piece drawn out, its inner darts too, and its waist trued where the darts' legs now lean less."""
    made = stretch_piece(piece, stretch)
    for side in (Side.LEFT, Side.RIGHT):
        made = keep_waist(made, side, piece)
    return follow_waist(made)
