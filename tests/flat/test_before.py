"""Over the flat of a draft lies, dotted, what an earlier one looked like."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from drafting.cli.work import document_of, earlier_draft
from drafting.flat import FlatKind, FlatView, lay_over, outline_views, without_earlier
from drafting.job import run
from tests.flat.drawn import flats, flats_of
from tests.laws.jobs import job_of, with_changes


def dotted(views: tuple[FlatView, ...]) -> list[float]:
    """The heights of what is dotted."""
    found = [shape.points[:, 1] for view in views for shape in view.shapes if shape.kind is FlatKind.BEFORE]
    return [float(y) for y in np.concatenate([*found, np.zeros(0)])]


def test_what_is_as_before_is_not_dotted() -> None:
    """Not a line."""
    _, views = flats_of("knit-top")
    assert dotted(lay_over(views, outline_views(views))) == []


def test_the_old_hem_is_dotted_where_it_was() -> None:
    """Of a tee made 60 mm longer: its own hem, in front and behind, and nothing above."""
    _, old = flats_of("basic-tee")
    _, views = flats(with_changes(job_of("basic-tee"), [("lengthen", {"by": 60.0})]))
    heights = dotted(lay_over(views, outline_views(old)))
    low = old[0].bounds[1] + 160.0
    assert heights
    assert all(abs(y - low) < 25.0 for y in heights)
    assert dotted(without_earlier(lay_over(views, outline_views(old)))) == []


def test_the_proof_keeps_the_outline_and_gives_it_back(tmp_path: Path) -> None:
    """In whole mm; but not to a draft that is written over it, whose files are as if it had never been."""
    _, views = flats_of("knit-top")
    file = tmp_path / "proof.json"
    file.write_text(document_of(run(job_of("knit-top"), lay=False)))
    assert earlier_draft(file).flat == outline_views(views)
    assert not earlier_draft(tmp_path, tmp_path).flat
