"""A place of a seam whose edges bend so unlike that they are shown side by side: there its plies are laid, enlarged."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Garment, Seam
from drafting.output.layers.laying import draw_plies, lay_plies
from drafting.output.layers.notches import show_notches
from drafting.output.layers.ply import RAW, PliesDrawn, PlyLaid, WorkDone
from drafting.output.layers.unfold import courses_of, unfold_run
from drafting.output.layers.view import StepView
from drafting.work.meeting import Letters

SEEN: Final = 30.0
"""Of the edge to either side of the place (mm)."""


def enlarge_laid(
    garment: Garment, seam: Seam, letters: Letters, done: WorkDone, beside: StepView
) -> Iterator[StepView]:
    """Yield the notch nearest to the middle of edges that are shown side by side, laid for sewing there; or none."""
    base = PlyLaid(seam.plies[0], unfold_run(garment, seam.plies[0]))
    course = np.concatenate(list(courses_of(garment, base.run, base.laid)))
    ends = course[[0, -1]]
    on_base = list(show_notches(garment, seam, base, 0))
    if not beside.joins or not on_base or len(seam.plies) > 2:
        return
    notch = max(on_base, key=lambda each: float(np.hypot(*(ends - (each.x, each.y)).T).min()))
    at = np.array([(notch.x, notch.y)])
    plies = [replace(ply, bent=ply.run != base.run) for ply in lay_plies(garment, seam, base, over=True, near=at)]
    title = f"As it is laid, at notch {notch.number}, enlarged"
    view = draw_plies(PliesDrawn(garment, seam, letters, plies, done, RAW), title)
    here = tuple(each for each in view.notches if each.number == notch.number)
    near = course[np.hypot(*(course - at).T) <= SEEN]
    yield replace(view, title=title, notches=here, stops=(), focus=np.concatenate([near, at]), close=True)
