"""How the bends of a long seam are told: which piece is clipped or notched, and from which of its notches to which."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

import numpy as np

from drafting.garment import Garment, Run, Seam, Telling, balance_marks
from drafting.garment.balance import places_on_run, share_on_run
from drafting.geometry import Array
from drafting.record import dataclass
from drafting.saying import without_sides
from drafting.trade import TradeValue
from drafting.work.telling import and_

SAMPLES = 41
"""Places along a seam at which it is asked how it bends."""

HARDLY_BENT = TradeValue(2000.0, "mm", "from memory")
"""Radius of a bend from which an edge lies as if it were straight."""

WORTH_CLIPPING = TradeValue(0.25, "rad", "from memory")
"""By which an edge bends before its allowance is clipped or notched to lie flat."""


@dataclass(frozen=True, slots=True)
class Bend:
    """A stretch of a ply that bends one way, and its turning (rad): more than 0 where it is hollow.

    ``span`` is the stretch as shares of the seam; ``between`` names the notches, or the ends, that hold it.
    """

    ply: int
    turning: float
    span: tuple[float, float]
    between: str


def tell_bends(told: Telling, seam: Seam) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what is told of a seam's bends before it is pinned, and once it is sewn (common practice).

    What is laid round the other's round edge is clipped first, so that it opens; hollow and round allowances are
    clipped and notched afterwards, so that they lie flat. Left and right are told alike.
    """
    bends = [bend for i in (0, 1) for bend in _find_bends(told.garment, seam, i)]
    opened = [bend for bend in bends if bend.turning < 0.0 and _turning_over(told, seam, bend) > bend.turning / 2.0]
    first = {
        f"Stay-stitch {_name_ply(told, seam, 1 - bend.ply)} near the stitching line {bend.between}, and clip it up to "
        "that, so that it opens."
        for bend in opened
    }
    told_first = {(1 - bend.ply, bend.between) for bend in opened}
    hollow = [bend for bend in bends if bend.turning > 0.0 and (bend.ply, bend.between) not in told_first]
    clipped = {_tell_each(told, seam, "Clip", hollow, between, "hollow") for between in {b.between for b in hollow}}
    rounded = [bend for bend in bends if bend.turning < 0.0]
    notched = {_tell_each(told, seam, "Notch", rounded, between, "round") for between in {b.between for b in rounded}}
    return tuple(sorted(first)), (*sorted(clipped), *sorted(notched))


def _tell_each(told: Telling, seam: Seam, deed: str, bends: Sequence[Bend], between: str, how: str) -> str:
    names = sorted({_name_ply(told, seam, bend.ply) for bend in bends if bend.between == between})
    return f"{deed} the allowance of {and_(names)} {between}, where it is {how}."


def _name_ply(told: Telling, seam: Seam, ply: int) -> str:
    """A ply by the letter and the title of its first piece: "B front"."""
    piece = told.garment.piece(seam.plies[ply][0].piece)
    title = str(without_sides(piece.title)).lower()
    return f"{told.letters[piece.name]} {title}" if piece.name in told.letters else f"the {title}"


def _find_bends(garment: Garment, seam: Seam, ply: int) -> Iterator[Bend]:
    run = seam.plies[ply]
    turns = _turn_hollow(garment, run)
    least = garment.run_length(run) / (SAMPLES - 1) / HARDLY_BENT
    ways = np.where(np.abs(turns) > least, np.sign(turns), 0.0).tolist()
    for way, group in groupby(range(len(ways)), key=ways.__getitem__):
        steps = list(group)
        turning = float(turns[steps].sum())
        if way and abs(turning) > WORTH_CLIPPING:
            span = steps[0] / (SAMPLES - 1), (steps[-1] + 1) / (SAMPLES - 1)
            yield Bend(ply, turning, span, _name_span(garment, seam, ply, span))


def _turn_hollow(garment: Garment, run: Run) -> Array:
    """By how much a run turns from each of its samples to the next (rad): more than 0 where the piece is hollow."""
    angles, ways = list[float](), list[float]()
    for use, s in places_on_run(garment, run, np.linspace(0.0, 1.0, SAMPLES).tolist()):
        tangent = garment.line(use).path.tangent(s)
        angles.append(float(np.arctan2(tangent.y, tangent.x)))
        ways.append(1.0 if use.against else -1.0)
    return np.asarray((np.diff(angles) + np.pi) % (2.0 * np.pi) - np.pi) * ways[1:]


def _turning_over(told: Telling, seam: Seam, bend: Bend) -> float:
    """The turning of the other ply beside a bend (rad)."""
    turns = _turn_hollow(told.garment, seam.plies[1 - bend.ply])
    first, last = (round(share * (SAMPLES - 1)) for share in bend.span)
    return float(turns[first:last].sum())


def _name_span(garment: Garment, seam: Seam, ply: int, span: tuple[float, float]) -> str:
    """Between which notches of a seam, or its ends, a stretch lies, told from above or from the inner end."""
    run = seam.plies[ply]
    shares = {
        share_on_run(garment, run, use, s): f"notch {mark.number}"
        for mark in garment.find_once(balance_marks)
        if mark.seam == seam.name
        for use, s in mark.at
        if use in run or use.reversed in run
    }
    start, end = garment.path(run[0]).start, garment.path(run[-1]).end
    upright = abs(start.y - end.y) >= abs(start.x - end.x)
    down = start.y > end.y if upright else abs(start.x) < abs(end.x)
    ends = ("its upper end", "its lower end") if upright else ("its inner end", "its outer end")
    first, last = ends if down else ends[::-1]
    lower = max((share for share in shares if share <= span[0]), default=0.0)
    upper = min((share for share in shares if share >= span[1]), default=1.0)
    one, two = shares.get(lower, first), shares.get(upper, last)
    return f"from {one} to {two}" if down else f"from {two} to {one}"
