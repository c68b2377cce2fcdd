"""Edges cut through, as no picture from above can show: one wrapped in its binding, one that is turned over another."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from drafting.garment import Seam
from drafting.output.layers.unfold import ribbon_along
from drafting.output.layers.view import ClothLayer, StepView
from drafting.work.meeting import Letters

THICK: Final = 5.0
"""Of a layer of cloth as it is drawn (mm)."""

WIDE, PAST, UNDER = 40.0, 16.0, 30.0
"""Of a finished binding, of what its fold reaches beyond the stitching, and of what is turned under, as drawn (mm)."""

CUT_THROUGH: Final = "Cut through, right side above"
"""How the titles of such pictures begin."""

BOUND_THROUGH: Final = f"{CUT_THROUGH}: wrapped, turned under"
"""What the picture of a binding cut through shows."""


def draw_bound(seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield an edge bound, cut through: the edge to the right, its right side above."""
    edge = np.array([(-2.5 * WIDE, 0.0), (0.0, 0.0)])
    low, back = -2.0 * THICK, -WIDE - PAST
    turned = np.array([
        (0.0, 2.0 * THICK), (-WIDE, 2.0 * THICK), (-WIDE - THICK / 2.0, 3.0 * THICK), (-WIDE, 4.0 * THICK),
        (THICK, 4.0 * THICK), (2.0 * THICK, 3.0 * THICK), (2.0 * THICK, low), (THICK, low - THICK), (back, low - THICK),
        (back - THICK / 2.0, low), (back, low + THICK / 2.0), (back + UNDER, low + THICK / 2.0),
    ])  # fmt: skip
    sewn_on = np.array([(-WIDE + THICK, 2.5 * THICK), (-WIDE + THICK, -0.5 * THICK)])
    groove = -WIDE - THICK  # close beside the fold over the first stitching
    in_groove = np.array([(groove, 1.5 * THICK), (groove, low - 1.5 * THICK)])
    cloth = ClothLayer(ribbon_along(edge, THICK), letters.get(seam.plies[0][0].piece, ""))
    binding = ClothLayer(ribbon_along(turned, -THICK / 2.0), letters.get(seam.plies[-1][0].piece, ""), strip=True)
    yield StepView(
        BOUND_THROUGH, (cloth, binding), (sewn_on, in_groove), focus=np.concatenate([cloth.points, binding.points]),
        cut=True,
    )  # fmt: skip


PITCH: Final = 2.4 * THICK
"""From a layer that is folded to the next, as drawn (mm)."""


def draw_turned_over(seam: Seam, letters: Letters) -> StepView:
    """Return an edge with the layer that is turned over it, cut through: both allowances lie between them, stitched."""
    up = np.array([(0.0, PITCH)])
    below, fold = np.array([(-1.7 * WIDE, 0.0), (0.0, 0.0)]), np.array([(THICK, 0.5 * PITCH), (0.0, PITCH)])
    within = np.array([(-WIDE, PITCH)])
    above = np.array([(-1.4 * WIDE, 3.0 * PITCH)])
    turned = np.concatenate([within + up, 2.0 * up, fold + 2.0 * up, above])
    under = ClothLayer(ribbon_along(np.concatenate([below, fold, within]), THICK), letters.get(_first(seam, 0), ""))
    over = ClothLayer(ribbon_along(turned, THICK), letters.get(_first(seam, -1), ""))
    sewn, beside = -THICK, -3.5 * THICK
    joined = np.array([(sewn, PITCH - 0.5 * THICK), (sewn, 2.0 * PITCH + 1.2 * THICK)])
    understitched = np.array([(beside, -0.5 * THICK), (beside, 2.0 * PITCH + 1.2 * THICK)])
    focus = np.concatenate([under.points, over.points])
    return StepView(CUT_THROUGH, (under, over), (joined, understitched), focus=focus, cut=True)


def _first(seam: Seam, ply: int) -> str:
    return seam.plies[ply][0].piece
