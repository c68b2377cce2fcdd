"""The corner of a vent and a hem as it is mitred: opened out, its creases seen; folded slantwise and sewn across."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import numpy as np

from drafting.garment import Garment, Run
from drafting.geometry import Affine, Array
from drafting.output.layers.turned import TurnedEdge, find_turned_corners
from drafting.output.layers.unfold import move_laid, unfold_run
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.record import dataclass
from drafting.work.meeting import Letters

SEEN: Final = 90.0
"""Of either edge, from the corner, that is shown (mm)."""

ALIKE: Final = 3.0
"""Between the depths of two edges at most, if their corner is drawn: else its fold isn't the line to the raw corner."""

ARROW_AT: Final = 0.55
"""Of what is seen of an edge, where the arrow from one to the other runs."""


@dataclass(frozen=True, slots=True, eq=False)
class MitredCorner:
    """A corner where two turned edges meet: the unit vectors along them, away from it, and how deep they are turned."""

    at: Points
    along: tuple[Points, Points]
    deep: float

    def place(self, one: float, two: float) -> Points:
        """Return the place so far along either edge from the corner (mm), below 0 beyond it."""
        return np.asarray(self.at + one * self.along[0] + two * self.along[1])


def draw_mitre(garment: Garment, run: Run, letters: Letters, depths: Mapping[str, float]) -> Iterator[StepView]:
    """Yield how the first corner of some turned edges is mitred, wrong side up; nothing where their depths differ."""
    laid = move_laid(unfold_run(garment, run[:1]), Affine.mirror())
    for one, two in list(find_turned_corners(garment, run[:1], laid, depths))[:1]:
        if abs(abs(one.off) - abs(two.off)) <= ALIKE:
            letter = letters.get(one.use.piece, "")
            corner = _find_corner(one, two)
            yield _open_out(corner, letter)
            yield _fold_slantwise(corner, letter)


def _find_corner(one: TurnedEdge, two: TurnedEdge) -> MitredCorner:
    at = one.find_corner(two)
    return MitredCorner(at, (one.leaving(at)[0], two.leaving(at)[0]), abs(one.off))


def _open_out(corner: MitredCorner, letter: str) -> StepView:
    """The corner flat, its two creases and the slanting line that it is folded on."""
    deep, far = corner.deep, SEEN
    outline = [corner.place(*each) for each in ((-deep, -deep), (far, -deep), (far, far), (-deep, far))]
    creases = [(corner.place(-deep, 0.0), corner.place(far, 0.0)), (corner.place(0.0, -deep), corner.place(0.0, far))]
    fold = corner.place(-deep, -deep), corner.place(far * ARROW_AT, far * ARROW_AT)
    joins = tuple(np.stack(each) for each in (*creases, fold))
    turns = np.linspace(0.1, 0.9, 13) * np.pi / 2.0
    arrow = np.stack([corner.place(far * ARROW_AT * np.sin(t), far * ARROW_AT * np.cos(t)) for t in turns])
    layer = ClothLayer(np.stack(outline), letter, wrong=True)
    return StepView("Both folds opened out: creases, and the fold", (layer,), folds=joins, arrows=(arrow,), close=True,
                    focus=_frame(corner, -deep, far * ARROW_AT))  # fmt: skip


def _fold_slantwise(corner: MitredCorner, letter: str) -> StepView:
    """The corner folded on that line, crease on crease, and the stitching across from where the creases cross."""
    deep, far = corner.deep, SEEN
    outline = np.stack([corner.place(-deep, -deep), corner.place(far, -deep), corner.place(far, far)])
    folded = tuple(ClothLayer(outline, letter if wrong else "", wrong, shift=int(wrong)) for wrong in (False, True))
    slant = corner.along[0] + corner.along[1]
    across = np.array([slant[1], -slant[0]])
    across *= np.sign((across * corner.along[0]).sum())
    edge = _reach(across, corner)
    x, y = (corner.along[1] / np.hypot(*corner.along[1])).tolist()
    return StepView(
        "Folded slantwise, crease on crease",
        folded,
        (np.stack([corner.at, corner.at + across * edge]),),
        folds=(np.stack([corner.at, corner.place(far, 0.0)]),),
        fan=(x, y),
        focus=_frame(corner, -deep, far * ARROW_AT),
        close=True,
    )


def _reach(across: Points, corner: MitredCorner) -> float:
    """How far along a way the raw edge of the first edge's turning is, from the corner."""
    (a, b), (c, d) = corner.along
    two = float((across[1] * a - across[0] * b) / (d * a - c * b))
    return -corner.deep / two


def _frame(corner: MitredCorner, low: float, top: float) -> Array:
    return np.stack([corner.place(low, low), corner.place(top, low), corner.place(low, top), corner.place(top, top)])
