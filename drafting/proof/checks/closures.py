"""Closures: what a zip or buttons let pass, and the stands that they are sewn to."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from drafting.cloth import Cloth
from drafting.garment import Brief, Closure, Garment, Level, Piece, Seam, hanging_pieces
from drafting.garment.closure import buttonholes
from drafting.garment.laying import cloth_as_laid
from drafting.garment.model import INTERFACING
from drafting.garment.places import find_worn
from drafting.mending import situation
from drafting.proof.finding import Finding, Severity
from drafting.saying import Name, Saying, list_sayings, say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

if TYPE_CHECKING:
    from drafting.finishing.cutpiece import CutPiece

LEAST_PAST_HOLE = TradeValue(6.0, "mm", "from memory")
"""By which what is turned back of a stand reaches past the inner ends of its buttonholes, at least: less frays out."""

LEAST_STAND = TradeValue(6.0, "mm", "common practice", "1/4 in")
"""Of button stand beyond the rim of a button, at least."""


def stretch_of(cloth: Cloth, *pieces: Piece) -> float:
    """Return how far a cloth stretches round the body in these pieces, as they are laid."""
    return cloth_as_laid(cloth, pieces).stretch_round


def closures(garment: Garment) -> tuple[Seam, ...]:
    """Return the seams that sew opened edges to what closes them."""
    return tuple(seam for seam in garment.seams if seam.kind.closes)


def check_closures(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge that the hips pass where a skirt's closure ends."""
    return tuple(_ends(garment, brief))


def _ends(garment: Garment, brief: Brief) -> Iterator[Finding]:
    passes = [closure.passes for closure in garment.closures if closure.passes is not None]
    if not passes:
        return
    reach = passes[-1] * (1.0 + stretch_of(brief.cloth, *find_worn(garment)))
    hip = brief.body["hip_girth"]
    if reach < hip - TOLERANCE.sewn_length:
        yield Finding(
            "openings.pass",
            Severity.ERROR,
            "closure",
            reach,
            hip,
            say(
                "where the closure ends, the garment reaches {reach}, and the hips, {hip}, must pass",
                reach=tape(reach),
                hip=tape(hip),
            ),
            wanted=situation("closure-short", "let more of the seam open"),
        )


def quote_places(places: Iterable[str]) -> Saying:
    """Say where an opening may be made, as one writes it in a ticket: "back", "left" or "right"."""
    return list_sayings((f'"{place}"' for place in places), last=" or ")


def waist_levels(garment: Garment) -> Iterator[tuple[Piece, Level]]:
    """Yield the levels of the waist that go round the body with their pieces, but for those of a layer that hangs."""
    hanging = hanging_pieces(garment)
    worn = (piece for piece in garment.pieces if piece.name not in hanging)
    yield from ((piece, lv) for piece in worn for lv in piece.levels if lv.name == "waist" and lv.girth)


def stretch_least(piece: Piece, brief: Brief) -> float:
    """Return how far the cloths of a piece stretch that is cut from several, all but its interfacing: the least."""
    cloths = (piece.cloth, *(name for name in piece.again if name != INTERFACING))
    return min(stretch_of(brief.cloth_named(name), piece) for name in cloths)


def check_stand(garment: Garment, cut: Sequence[CutPiece]) -> tuple[Finding, ...]:
    """Warn of a button stand too narrow for its buttons, or turned back short of its holes (common practice)."""
    return tuple(
        finding
        for closure in garment.closures
        if closure.button
        for seam in map(garment.seam, closure.seams)
        for name, allowance in _stands(seam, cut).items()
        for finding in _judge_stand(garment.piece(name), closure, seam, allowance)
    )


def _judge_stand(piece: Piece, closure: Closure, seam: Seam, allowance: float) -> Iterator[Finding]:
    """What is wrong with the stand that an allowance makes: how wide it is folded, and how far it is turned back."""
    stand = min(seam.fold, allowance / 2.0)
    back, past = allowance - 2.0 * stand, _reach_of_holes(piece, seam, closure.button / 2.0) + LEAST_PAST_HOLE
    need = closure.button / 2.0 + LEAST_STAND
    mend = say("let button-closure under [seams] be {value}, or take smaller buttons",
               value=tape(2.0 * max(seam.fold, need) + past))  # fmt: skip
    name = Name(piece.name)
    if stand < need - TOLERANCE.sewn_length:
        said = say("the button stand of the {name:placed} is {stand} wide, and a button of {button} wants {need} "
                   "beyond the line it stands on",
                   name=name, stand=tape(stand), button=tape(closure.button), need=tape(need))  # fmt: skip
        yield Finding("closures.stand", Severity.WARNING, piece.name, stand, need, said, mend)
    if back < past - TOLERANCE.sewn_length:
        said = say("the button stand of the {name:placed} is turned back {back} past the line the buttons stand on, "
                   "and is to reach {past}, past its buttonholes: they would be worked in single cloth",
                   name=name, back=tape(back), past=tape(past))  # fmt: skip
        yield Finding("closures.stand_back", Severity.WARNING, piece.name, back, past, said, mend)


def _reach_of_holes(piece: Piece, seam: Seam, button: float) -> float:
    """How far inside the line of its stand a piece's buttonholes, or half of its buttons, reach (mm)."""
    edges = [piece.line(use.line).path for use in seam.plies[0] if use.piece == piece.name]
    holes = buttonholes(piece.drills).values()
    reach = (min(edge.nearest(hole.end)[1] for edge in edges) for hole in holes)
    return max(reach, default=button)


def _stands(seam: Seam, cut: Sequence[CutPiece]) -> Mapping[str, float]:
    """The allowance (mm) of the stand on each net piece, the last edge's where one has several."""
    lines = {(use.piece, use.line) for use in seam.plies[0]}
    return {
        served: edge.allowance
        for piece in cut
        for edge in piece.outline
        for served in piece.stands_for
        if (served, edge.line) in lines
    }


def opens_waist(garment: Garment) -> bool:
    """Whether a closure opens the waist: its edges pass from bodice to skirt, or pass the height of the waist."""
    heights = [level.path.start.y for _, level in waist_levels(garment)]
    for seam in closures(garment):
        run = seam.plies[0]
        if len({use.piece for use in run}) > 1:
            return True
        bounds = [garment.line(use).path.bounds for use in run]
        low, high = min(b[1] for b in bounds), max(b[3] for b in bounds)
        if any(low < y + TOLERANCE.sewn_length and high > y for y in heights):
            return True
    return False
