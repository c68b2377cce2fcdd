"""An elastic that a seam catches, seen as it is sewn: the other way up than its plies were pinned."""

from __future__ import annotations

from typing import Final

import numpy as np

from drafting.garment import Garment, Seam
from drafting.geometry import Affine
from drafting.output.layers.ply import RAW, PliesDrawn, PlyLaid, WorkDone
from drafting.output.layers.unfold import courses_of, join_courses, move_aside, move_laid, unfold_run
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.work.meeting import Letters

WIDE, BENEATH = 8.0, 40.0
"""Of an elastic as it is drawn, and of what is drawn of the layer that lies hidden beneath (mm)."""

ELASTIC_ON: Final = "Turned over: the elastic, dark, on the upper layer"
"""What the picture of an elastic shows."""


def draw_elastic(garment: Garment, seam: Seam, letters: Letters, done: WorkDone) -> StepView:
    """Return a seam's lowest ply turned over, so that it is the upper, with an elastic along its stitching line.

    Of the other no more is seen than its raw edge, however that bends.
    """
    run, turned = seam.plies[0], move_laid(unfold_run(garment, seam.plies[0]), Affine.mirror())
    drawn = PliesDrawn(garment, seam, letters, (PlyLaid(run, turned, wrong=True),), done, RAW)
    courses, inward = drawn.run_courses(), drawn.find_inward(run[0])

    def lay(course: Points, out: float, into: float) -> Points:
        return np.concatenate([move_aside(course, -out * inward), move_aside(course, into * inward)[::-1]])

    upper = tuple(drawn.layers(drawn.plies[0], 1))
    letter = letters.get(seam.plies[-1][0].piece, "")
    under = tuple(ClothLayer(lay(course, RAW, BENEATH), letter) for course in courses)
    net = join_courses(list(courses_of(garment, run, turned)))
    elastic = tuple(
        ClothLayer(lay(course, WIDE / 2.0, WIDE / 2.0), "", shift=1, strip=True, hatched=True) for course in net
    )
    middle = np.concatenate(courses).mean(axis=0) - np.concatenate([layer.points for layer in upper]).mean(axis=0)
    x, y = (-middle / np.hypot(*middle)).tolist()
    return StepView(
        ELASTIC_ON, (*under, *upper, *elastic), tuple(courses), fan=(x, y), focus=np.concatenate(courses), laid=True
    )
