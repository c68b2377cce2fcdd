"""The lay on cloth folded lengthwise, right sides together: halves on the fold, pairs through both layers.

What is neither is laid on the rest of the cloth, opened out (handbooks of sewing). A striped cloth isn't folded: its
stripes are matched by eye, in a single layer.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from drafting.cloth import Cloth, Flaw
from drafting.errors import GeometryError
from drafting.finishing.cutpiece import CutPiece
from drafting.garment import Brief, Garment
from drafting.garment.model import INTERFACING
from drafting.geometry import Affine
from drafting.geometry.cells import Floats, ring_points
from drafting.lay.pack import (
    FREE,
    LEAST_LAYINGS,
    ClothStrip,
    Effort,
    PartPlace,
    Way,
    has_room,
    pack_shortest,
    take_cells,
    top_of,
    way,
)
from drafting.lay.parts import Part
from drafting.lay.places import span_from_fold
from drafting.lay.plan import lay_batches, need_cloth, share_out, to_buy
from drafting.lay.search import CELL, EFFORT, GAP, TRIES, Told
from drafting.lay.spread import ClothSpread, LaidPart, Lay, Layers
from drafting.lay.widths import usable_width
from drafting.proof.checks.cutting import SELVEDGES
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.units import Unit

HALF = GAP / 2.0
"""Of the blade's room: beyond the fold so far, halves are cut of cells whose room reaches over it."""


@dataclass(frozen=True, slots=True)
class FoldedPart:
    """What is cut at once from folded cloth: a half on the fold, or a part and its mirror image through both layers.

    ``ring`` is its cut outline, of a half to the right of the fold, which lies at x = 0.
    """

    part: Part
    on_fold: bool
    ring: Floats


def plan_folded_lays(
    garment: Garment, cut: Sequence[CutPiece], brief: Brief, unit: Unit = "cm", told: Told = lambda _: True
) -> tuple[Lay, ...]:
    """Return the lays of a garment with its cloths folded lengthwise, as far as they can be.

    What can't be cut so is laid on the rest of the cloth, opened out. Interfacing and striped cloths lie as they always
    do.
    """
    return tuple(
        lay_batches([(garment, parts)], cloth, kind, unit, told)
        if kind == INTERFACING or cloth.stripe
        else _lay_folded(garment, parts, cloth, kind, unit, told)
        for kind, cloth, parts in share_out(garment, cut, brief, unit)
    )


def _lay_folded(garment: Garment, parts: Sequence[Part], cloth: Cloth, kind: str, unit: Unit, told: Told) -> Lay:
    """The lay of what a fold serves, then of the rest, opened out."""
    folded, single = _part_by_layers(parts)
    first, unfit, stopped = _pack_folded(folded, cloth, told)
    single += [each for each in parts if any(each.piece is wide.piece for wide in unfit)]
    begun = first.length + GAP if first.laid else 0.0
    rest = lay_batches([(garment, single)], cut_off(cloth, begun), kind, unit, told) if single else None
    if not first.laid and rest is not None:
        return rest
    here = replace(first, flaws=tuple(flaw for flaw in cloth.flaws if rest is None or flaw.end < begun))
    opened = [] if rest is None else [replace(spread, begins=begun) for spread in rest.spreads]
    length = (opened[-1].begins + opened[-1].length if opened else first.length) / cloth.growth[1]
    return Lay(
        cloth, kind, (here, *opened), rest.too_wide if rest else (), need_cloth(length, cloth),
        to_buy(length, cloth, unit), stopped=stopped or (rest is not None and rest.stopped),
    )  # fmt: skip


def cut_off(cloth: Cloth, length: float) -> Cloth:
    """Return what is left of a cloth of which so much lies folded (mm), with what of its flaws reaches into that."""
    reaching = (flaw for flaw in cloth.flaws if flaw.end + flaw.length > length)
    left = (replace(flaw, end=flaw.end - length) for flaw in reaching)
    return replace(
        cloth,
        flaws=tuple(replace(flaw, end=max(0.0, flaw.end), length=flaw.length + min(0.0, flaw.end)) for flaw in left),
    )


def _part_by_layers(parts: Sequence[Part]) -> tuple[list[FoldedPart], list[Part]]:
    """What a fold serves, and what is cut in a single layer.

    Of two that are each cut on a fold one is laid opened out: both layers give both.
    """
    folded: list[FoldedPart] = []
    single: list[Part] = []
    for piece in dict.fromkeys(part.piece for part in parts):
        copies = [part for part in parts if part.piece is piece]
        half = _find_half(piece)
        if half is not None:
            ring, over = half
            folded += [FoldedPart(part, False, part.ring) for part in copies[: len(copies) // 2]]
            folded += [FoldedPart(replace(part, over=over), True, ring) for part in copies[: len(copies) % 2]]
            continue
        up, down = ([part for part in copies if part.over is over] for over in (False, True))
        pairs = min(len(up), len(down))
        folded += [FoldedPart(part, False, part.ring) for part in up[:pairs]]
        single += up[pairs:] + down[pairs:]
    return folded, single


def unfold_part(laid: LaidPart) -> FoldedPart:
    """Return what was laid on folded cloth as it was before."""
    if laid.layers is Layers.BOTH:
        return FoldedPart(laid.part, False, laid.part.ring)
    half = _find_half(laid.part.piece)
    if half is None:
        raise GeometryError(f"{laid.part.name} isn't a half that lies on the fold")
    return FoldedPart(replace(laid.part, over=half[1]), True, half[0])


def _find_half(piece: CutPiece) -> tuple[Floats, bool] | None:
    """The half of a piece that is cut on a fold along the grain, to the right of it, and whether it lies turned over.

    None of another piece.
    """
    fold = next((mark.path for mark in piece.marks if mark.kind == "on-fold"), None)
    if not piece.on_fold or fold is None:
        return None
    up = Affine.turn(math.pi / 2.0 - math.atan2(piece.grain.y, piece.grain.x))
    begin, end = (up.apply(at) for at in (fold.start, fold.end))
    if abs(begin.x - end.x) > TOLERANCE.joint:
        return None
    ring = up.apply_all(ring_points([edge.path.segments for edge in piece.outline])) - (begin.x, 0.0)
    over = abs(float(ring[:, 0].min())) > float(ring[:, 0].max())
    ring = ring * (-1.0, 1.0) if over else ring
    ring[np.abs(ring[:, 0]) < TOLERANCE.joint, 0] = 0.0  # the last figures of sums put it beside the fold
    return ring, over


def _pack_folded(parts: Sequence[FoldedPart], cloth: Cloth, told: Told) -> tuple[ClothSpread, tuple[Part, ...], bool]:
    """What a fold serves, on half the width; those for which it hasn't room; and whether the search was stopped."""
    strip = mark_off_folded(cloth, float(CELL))
    every = [list_folded_ways(part, strip, cloth.one_way) for part in parts]
    fits = [all(has_room(each, strip) for each in ways) for ways in every]
    ways = [each for each, fit in zip(every, fits, strict=True) if fit]
    effort = Effort(EFFORT, LEAST_LAYINGS + TRIES // max(1, len(ways)), told)
    spots = pack_shortest(ways, strip, TRIES // len(ways), effort) if ways else ()
    laying = [part for part, fit in zip(parts, fits, strict=True) if fit]
    laid = tuple(place_folded(part, spot, strip) for part, spot in zip(laying, spots, strict=True))
    length = top_of(spots, strip)
    too_wide = tuple(part.part for part, fit in zip(parts, fits, strict=True) if not fit)
    spread = ClothSpread(usable_width(cloth) / 2.0, SELVEDGES / 2.0, laid, length, folded=True)
    return spread.grown(*cloth.growth), too_wide, effort.stopped


def mark_off_folded(cloth: Cloth, about: float) -> ClothStrip:
    """Return a cloth folded lengthwise as a strip of cells of about so many mm, those taken that a flaw lies on.

    The fold lies ``HALF`` from its left edge.
    """
    width = usable_width(cloth) / 2.0
    columns = max(1, int((width + HALF) / about))
    strip = ClothStrip(columns, ((width + HALF) / columns, about), period=(columns, 1))
    return replace(strip, taken=_take_folded([*map(cloth.shrink_flaw, cloth.flaws)], strip, width))


def list_folded_ways(part: FoldedPart, strip: ClothStrip, one_way: bool) -> list[Way]:
    """Return the ways in which a part may lie on folded cloth."""
    return list(_ways(part, strip, one_way))


def _ways(part: FoldedPart, strip: ClothStrip, one_way: bool) -> Iterator[Way]:
    """The ways in which a part may lie: a half upside down is turned over for it, so that its fold stays on the left.

    A half is tied to the first column, where its fold lies ``HALF`` from the strip's edge; a pair keeps as far from the
    fold as from other parts.
    """
    for over in (False,) if one_way else (False, True):
        if part.on_fold:
            yield way(part.ring * (1.0, -1.0 if over else 1.0), strip, GAP, (HALF, None), over)
        else:
            yield way(-part.ring if over else part.ring, strip, 2.0 * GAP, FREE, over)


def place_folded(part: FoldedPart, spot: PartPlace, strip: ClothStrip) -> LaidPart:
    """Return a part as it lies on folded cloth."""
    corner = (spot.column * strip.cell[0] - HALF, spot.row * strip.cell[1])
    laid = part.part if not (part.on_fold and spot.way.turned) else replace(part.part, over=not part.part.over)
    layers = Layers.ON_FOLD if part.on_fold else Layers.BOTH
    return LaidPart(laid, spot.way.turned, spot.way.ring + corner, layers)


def _take_folded(flaws: Sequence[Flaw], strip: ClothStrip, width: float) -> int:
    """The cells that flaws of either layer take on folded cloth, and the blade beside them."""
    taken = 0
    for flaw in flaws:
        near, far = span_from_fold(flaw, width + SELVEDGES / 2.0)
        taken |= take_cells(strip, (near, flaw.end - HALF), (far + 2.0 * HALF, flaw.end + flaw.length + HALF))
    return taken
