"""Lengthen/shorten lines as they are drawn, over the whole catalogue: within the piece, from edge to edge, and bent."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely

from drafting.errors import CannotDraft
from drafting.finishing import CutPiece, FinishPlan, finish
from drafting.finishing.adjusting import NEVER_ENDS_ON
from drafting.finishing.cutpiece import Mark
from drafting.garment import Adjust, Garment, Piece
from drafting.garment.carry import with_only
from drafting.geometry import Path, Point
from drafting.job import draft_job
from tests.laws.jobs import catalogue, job_of, with_changes

WHOLE = FinishPlan(on_fold=False)
CHANGES = ("", *sorted(catalogue().changes))
ASKED = {"sleeve-fullness": {"hem": 300.0}, "underarm": {"by": 60.0}, "hem": {"side_drop": 30.0}}
"""Changes that do nothing, or little, unless they are asked for more."""


def drafted(design: str, change: str, **options: object) -> Garment | None:
    """A design with a change; None where it is refused."""
    try:
        return draft_job(with_changes(job_of(design), [(change, options)] if change else []))
    except (CannotDraft, TypeError):
        return None


def lines(cut: CutPiece) -> list[Mark]:
    """The lengthen/shorten lines drawn on a piece."""
    return [mark for mark in cut.marks if mark.kind == "adjust"]


def holds(piece: Piece, path: Path) -> None:
    """The path lies in the piece and ends on its outline, on an edge that runs the way the piece grows."""
    inside = shapely.Polygon(piece.outline.flatten(0.01)).buffer(0.2)
    assert inside.contains(shapely.LineString(path.flatten(0.01)))
    for end in (path.start, path.end):
        near = [line for line in piece.all_lines if line.path.nearest(end)[1] < 0.2]
        assert near
        assert not all(line.role in NEVER_ENDS_ON for line in near)


@pytest.mark.parametrize("design", sorted(catalogue().designs))
def test_every_line_of_the_catalogue_runs_from_edge_to_edge(design: str) -> None:
    """With every change there is, by default; judged by shapely on the net piece."""
    for change in CHANGES:
        garment = drafted(design, change, **ASKED.get(change, {}))
        for cut in finish(garment, WHOLE) if garment else ():
            for mark in lines(cut):
                holds(garment.piece(cut.stands_for[0]), mark.path)  # type: ignore[union-attr]


def test_a_line_that_would_run_into_the_hem_is_left_out() -> None:
    """Of a sleeve spread by 30 cm at its hem, where the elbow line comes out below; at 6 cm it is drawn."""
    drawn = {}
    for more in (60.0, 300.0):
        garment = drafted("basic-tee", "sleeve-fullness", hem=more)
        assert garment is not None
        drawn[more] = sum(len(lines(cut)) for cut in finish(garment, WHOLE) if cut.name.startswith("sleeve"))
    assert drawn[60.0] > drawn[300.0] == 0


@pytest.mark.parametrize("off", [-6.0, 6.0])
def test_a_line_follows_edges_that_moved(off: float) -> None:
    """One that ends short of the sides, or beyond them, as after a change, is drawn from side to side."""
    garment = drafted("basic-tee", "")
    assert garment is not None
    front = garment.piece("front")
    (own,) = front.adjusts
    along = (own.path.end - own.path.start).unit
    path = Path.straight(own.path.start - along * off, own.path.end + along * off)
    altered = with_only(front, Adjust, (replace(own, path=path),))
    cut = next(cut for cut in finish(garment.with_(pieces=[altered]), WHOLE) if cut.name == "front")
    (mark,) = lines(cut)
    holds(altered, mark.path)
    assert mark.path.length == pytest.approx(own.path.length, abs=0.2)


def test_a_circle_has_none() -> None:
    """Its skirt is lengthened at the hem, as its notes say."""
    for design in ("half-circle-dress",):
        garment = drafted(design, "")
        assert garment is not None
        assert not any(piece.adjusts for piece in garment.pieces if piece.name.startswith("skirt"))
        assert any("at its hem" in note for note in garment.notes)


def test_the_sign_is_drawn_along_a_bent_line() -> None:
    """Two lines, each 1.5 mm from the path all along it, not from its chord."""
    from drafting.output.pictures import symbols

    bent = Path.cubic(Point(0.0, 0.0), Point(60.0, 80.0), Point(140.0, 80.0), Point(200.0, 0.0))
    (stroke,) = symbols.adjust(Mark("adjust", "skirt", bent))
    points = np.concatenate([Path.of(segment[None]).flatten(0.01) for segment in stroke.segments])
    off = [bent.nearest(Point(x, y))[1] for x, y in points.tolist()]
    assert off == pytest.approx([1.5] * len(off), abs=0.05)
