"""Lengthen/shorten lines as they are drawn, over the whole catalogue: within the piece, from edge to edge, and bent."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest
import shapely

from drafting.errors import CannotDraft
from drafting.finishing import CutPiece, FinishPlan, finish
from drafting.finishing.cutpiece import Mark
from drafting.garment import Adjust, Garment, Line, Piece, Role, Run
from drafting.garment.adjusting import NEVER_ENDS_ON, STEEP_HEM, agree_adjusts
from drafting.garment.carry import with_only
from drafting.geometry import Path, Point
from drafting.job import draft_job
from drafting.proof.checks.adjusts import check_adjusts
from drafting.tolerance import TOLERANCE
from tests.body.people import thinned
from tests.garments import brief
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
        assert not all(line.role in NEVER_ENDS_ON or _runs_level(line, path, end) for line in near)


def _runs_level(line: Line, path: Path, end: Point) -> bool:
    """A hem that the line runs along rather than across."""
    across = (path.end - path.start).unit.cross(line.path.tangent(line.path.nearest(end)[0]))
    return line.role is Role.HEM and abs(across) < np.sin(STEEP_HEM)


LIKE_OTHERS = {"tank-top", "knit-top", "diagonal-overlay-top", "fitted-bodice"}
"""Designs all of whose pieces are drawn as those of others are."""


@pytest.mark.parametrize(("first", "design"), [*enumerate(sorted(set(catalogue().designs) - LIKE_OTHERS))])
def test_every_line_of_the_catalogue_runs_from_edge_to_edge(first: int, design: str) -> None:
    """With every change there is, by default, every second in the suite; judged by shapely on the net piece."""
    apart = thinned(1)
    for change in CHANGES[first % apart :: apart]:
        garment = drafted(design, change, **ASKED.get(change, {}))
        for piece in agree_adjusts(garment)[0].pieces if garment else ():
            for adjust in piece.adjusts:
                holds(piece, adjust.path)


def test_a_line_that_would_run_into_the_hem_is_left_out() -> None:
    """Of a sleeve spread by 45 cm at its hem, where the elbow line comes out below; at 6 cm it is drawn."""
    drawn = {}
    for more in (60.0, 450.0):
        garment = drafted("basic-tee", "sleeve-fullness", hem=more)
        assert garment is not None
        drawn[more] = sum(len(lines(cut)) for cut in finish(garment, WHOLE) if cut.name.startswith("sleeve"))
    assert drawn[60.0] > drawn[450.0] == 0


@pytest.mark.parametrize("off", [-6.0, 6.0])
def test_a_line_follows_edges_that_moved(off: float) -> None:
    """One that ends short of the sides, or beyond them, as after a change, is drawn from side to side."""
    garment = drafted("basic-tee", "")
    assert garment is not None
    front = garment.piece("front")
    own = front.adjusts[0]
    along = (own.path.end - own.path.start).unit
    path = Path.straight(own.path.start - along * off, own.path.end + along * off)
    altered = with_only(front, Adjust, (replace(own, path=path), *front.adjusts[1:]))
    cut = next(cut for cut in finish(garment.with_(pieces=[altered]), WHOLE) if cut.name == "front")
    mark = next(mark for mark in lines(cut) if mark.name == own.name)
    holds(altered, mark.path)
    assert mark.path.length == pytest.approx(own.path.length, abs=0.2)


def spread(path: Path, marks: Sequence[Mark], by: float) -> float:
    """How long an edge is once its piece is cut along each of these lines and the lower part laid ``by`` lower."""
    low = 0.0
    for mark in marks:
        for end in (mark.path.start, mark.path.end):
            s, off = path.nearest(end)
            if off < 0.2:
                out = (mark.path.end - mark.path.start).unit.left
                down = out if out.y < 0.0 else out * -1.0
                low += path.at(s).distance(path.at(s) + down * by)
    return path.length + low


ON_TOP = {"diagonal-overlay-top": ("", "long-waist", "full-bust", "mirror"), "sheath-dress": ("", "panel-seam")}
"""Designs of layers, or of many pieces: with which changes they are spread too."""


@pytest.mark.parametrize("design", sorted(set(catalogue().designs) - {"tank-top", "knit-top"}))
def test_spread_by_3_cm_on_paper_every_seam_meets(design: str) -> None:
    """At each of the lines, as drawn on the cut pieces: the layers of a seam part by no more than they did before."""
    for change in ON_TOP.get(design, ("",)):
        garment = drafted(design, change)
        assert garment is not None
        marks = {cut.stands_for[0]: lines(cut) for cut in finish(garment, WHOLE)}
        for name in sorted({mark.name for found in marks.values() for mark in found}):
            named = {piece: [mark for mark in found if mark.name == name] for piece, found in marks.items()}
            for seam in garment.seams:
                for plies in ([ply for ply in section.plies if ply] for section in seam.sections):
                    grown = [_grow(garment, named, ply) for ply in plies if all(use.piece in named for use in ply)]
                    assert max(grown, default=0.0) - min(grown, default=0.0) < TOLERANCE.sewn_length, (name, seam.name)


def _grow(garment: Garment, marks: Mapping[str, Sequence[Mark]], run: Run) -> float:
    paths = [(garment.line(use).path, marks[use.piece]) for use in run]
    return sum(spread(path, found, 30.0) - path.length for path, found in paths)


def test_the_overlay_is_lengthened_where_it_is_caught() -> None:
    """At the height of the main piece's line, as far down the caught edge."""
    garment = drafted("diagonal-overlay-top", "")
    assert garment is not None
    for cut in finish(garment, WHOLE):
        if cut.name.startswith("overlay"):
            (mark,) = lines(cut)
            main = next(a for a in garment.piece(str(garment.piece(cut.name).face)).adjusts if a.name == mark.name)
            assert mark.path.start.y == pytest.approx(main.path.start.y, abs=0.01)


def test_a_line_that_the_layer_beneath_lacks_is_left_out_and_told() -> None:
    """Of the front's two, where the back has lost one: a finding says so, and neither is drawn."""
    garment = drafted("basic-tee", "")
    assert garment is not None
    back = garment.piece("back")
    garment = garment.with_(pieces=[with_only(back, Adjust, back.adjusts[:1])])
    drawn = {cut.name: [mark.name for mark in lines(cut)] for cut in finish(garment, WHOLE)}
    assert drawn["front"] == drawn["back"] == ["body"]
    (found,) = check_adjusts(garment, brief())
    assert (found.code, found.place) == ("adjusts.unmatched", "front")


def test_a_circle_has_none() -> None:
    """Its skirt is lengthened at the hem, as each piece says."""
    for design in ("half-circle-dress",):
        garment = drafted(design, "")
        assert garment is not None
        cuts = [cut for cut in finish(garment, WHOLE) if cut.name.startswith("skirt")]
        assert len(cuts) == 2
        assert all(not lines(cut) and any("at the hem" in label for label in cut.labels) for cut in cuts)


def test_the_sign_is_drawn_along_a_bent_line() -> None:
    """Two lines, each 1.5 mm from the path all along it, not from its chord."""
    from drafting.output.pictures import symbols

    bent = Path.cubic(Point(0.0, 0.0), Point(60.0, 80.0), Point(140.0, 80.0), Point(200.0, 0.0))
    (stroke,) = symbols.adjust(Mark("adjust", "skirt", bent))
    points = np.concatenate([Path.of(segment[None]).flatten(0.01) for segment in stroke.segments])
    off = [bent.nearest(Point(x, y))[1] for x, y in points.tolist()]
    assert off == pytest.approx([1.5] * len(off), abs=0.05)
