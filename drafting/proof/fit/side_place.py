"""Where a woven's side seam lies: how its front and back lean in to the waist, and how broad each is at the bust.

    figure                                           usual                      source
    front's side leans in to the waist as its back   within 10 mm, warned of    from memory
    does, bust darts sewn                            beyond 15 mm
    half of the front beyond half of the back at     up to 35 mm; 10 less,      from memory, 1 to 2 cm are usual
    the bust                                         warned of beyond 20 less
    across front beyond across back                  at most 5 mm               from memory, it is the narrower

A seam far behind the middle is pulled forward by what it is sewn to, and shows from in front.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.cloth import Kind
from drafting.garment import Brief, Face, Garment, Piece, Role, Side, Width, hanging_pieces
from drafting.garment.darts import Dart, darts_of, mouth_edges
from drafting.geometry import Affine, Point, turn
from drafting.proof.checks.ease import measure_garment
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.proof.fit.sides import end_at_side
from drafting.redraw.heights import body_pieces, is_skirt
from drafting.saying import say
from drafting.trade import TradeValue, trade_row

LEANS_ALIKE, LEANS_APART = trade_row((10.0, 15.0), "mm", "from memory")
"""By which a front's side may lean in to the waist by more or less than its back's, unsaid and unwarned."""

FRONT_BROADER = TradeValue(35.0, "mm", "from memory", "half a front is 1 to 2 cm the wider")
"""By which half of a woven's front may be broader at the bust than half of its back, unsaid."""

BACK_BROADER, BACK_FAR_BROADER = trade_row((10.0, 20.0), "mm", "from memory", "half a front is 1 to 2 cm the wider")
"""By which half of its back may be broader there than half of its front, unsaid and unwarned."""

ACROSS_ALIKE = TradeValue(5.0, "mm", "from memory", "two tapings differ by as much")
"""By which a front may be broader than its back across, unsaid."""

ACROSS_BOTH = Retake(
    ("across_front_width", "across_back_width"),
    "{again}: beside so broad a front the armhole's back is long, and the side seam lies behind the middle for that; "
    "if both are right, look at the side seam on the toile",
)

SIDE_AHEAD_MEND = Retake(
    ("across_back_width", "shoulder_slope", "across_front_width"),
    "{again}: square or sloping shoulders, or a broad back, move the side seam forward; if they are right, look on the "
    "toile whether the seam shows from in front, and move it back on the paper",
)


def side_place_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """Where the side seams of a woven bodice lie, and how broad it is across the front beside its back."""
    if brief.cloth.kind is not Kind.WOVEN or garment.needs.stretch > 0.0:
        return
    hanging = hanging_pieces(garment)
    trunk = [piece for piece in body_pieces(garment) if piece.name not in hanging and not is_skirt(piece)]
    yield from _leans(trunk)
    yield from _halves(trunk)
    across = [measure_garment(garment, Width(f"across-{face}")) for face in (Face.FRONT, Face.BACK)]
    if across[0] is not None and across[1] is not None:
        yield FitRow(
            "across_front_broader",
            "across-front",
            "across front, beside the garment's across back",
            across[1],
            across[0],
            most=ACROSS_ALIKE,
            severity=Severity.NOTE,
            remedy=ACROSS_BOTH,
            of_body=False,
        )


def _leans(trunk: list[Piece]) -> Iterator[FitRow]:
    """By how much each side's front leans in to the waist more than its back, either way."""
    for side in (Side.LEFT, Side.RIGHT):
        found = {
            face: [by for piece in trunk if piece.face is face for by in _lean(piece, side)]
            for face in (Face.FRONT, Face.BACK)
        }
        if all(len(each) == 1 for each in found.values()):
            apart = found[Face.FRONT][0] - found[Face.BACK][0]
            yield FitRow(
                "side_leans",
                f"side-{side}",
                say("{side} side seam, front leaning in to the waist beside its back", side=side),
                0.0,
                apart,
                least=-LEANS_ALIKE,
                most=LEANS_ALIKE,
                severity=Severity.WARNING if abs(apart) > LEANS_APART else Severity.NOTE,
                remedy=ACROSS_BOTH,
                of_body=False,
            )


def _lean(piece: Piece, side: Side) -> Iterator[float]:
    """How far in (mm) a piece's side comes from the underarm to the waist, its darts in the side sewn."""
    holes = [line.path for line in piece.lines(role=Role.ARMHOLE, side=side)]
    waist, darts = (
        end_at_side(piece, side, "waist") or _low_end(piece, side),
        [dart for dart in darts_of(piece) if not dart.inside],
    )
    roles = {dart.name: mouth_edges(piece, dart)[0].role for dart in darts}
    known = {Role.SIDE, Role.SHOULDER}
    if piece.face is Face.BACK or Role.SIDE in roles.values():
        known.add(Role.WAIST)  # else it may be the bust's, turned there: the side lies turned for it on paper
    if not holes or waist is None or not set(roles.values()) <= known:
        return
    underarm = min((end for path in holes for end in (path.start, path.end)), key=lambda end: end.y)
    in_side = [dart for dart in darts if roles[dart.name] is Role.SIDE and dart.middle.x * underarm.x > 0.0]
    for dart in sorted(in_side, key=lambda dart: -dart.middle.y):
        underarm = _fold(dart, underarm)
    yield (underarm.x - waist.x) * math.copysign(1.0, underarm.x)


def _low_end(piece: Piece, side: Side) -> Point | None:
    """Where a side ends at a waist seam; None where the piece has none."""
    seam = [line.path for line in piece.lines(role=Role.SIDE, side=side)] if piece.lines(role=Role.WAIST) else []
    return min((end for path in seam for end in (path.start, path.end)), key=lambda end: end.y, default=None)


def _fold(dart: Dart, above: Point) -> Point:
    """Where a point above a dart in the side lies once that is sewn, what is below it staying."""
    upper, lower = sorted((dart.mouth_a, dart.mouth_b), key=lambda end: -end.y)
    return Affine.turn(turn(upper - dart.point, lower - dart.point), dart.point).apply(above)


def _halves(trunk: list[Piece]) -> Iterator[FitRow]:
    """Half of the front at the bust, beside half of the back."""
    wide = {
        face: math.fsum(level.path.length for piece in trunk if piece.face is face for level in piece.levels
                        if level.name == "bust") / 2.0
        for face in (Face.FRONT, Face.BACK)
    }  # fmt: skip
    if all(wide.values()):
        ahead = wide[Face.BACK] - wide[Face.FRONT]
        yield FitRow(
            "side_behind",
            "sides",
            "half of the front at the bust, beside half of the back",
            wide[Face.BACK],
            wide[Face.FRONT],
            least=-BACK_BROADER,
            most=FRONT_BROADER,
            severity=Severity.WARNING if ahead > BACK_FAR_BROADER else Severity.NOTE,
            remedy=SIDE_AHEAD_MEND if ahead > 0.0 else ACROSS_BOTH,
            of_body=False,
        )
