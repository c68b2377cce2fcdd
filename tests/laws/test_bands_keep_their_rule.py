"""A band is drafted onto the opening that is there: after any change to it the band keeps its rule."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.band import AROUND_ARM
from drafting.cloth import band_length
from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Run
from drafting.job import draft_job
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import Made, briefs, changes

BANDED = {
    "tank-top": ("neck-band", "armhole-band-left", "armhole-band-right"),
    "knit-top": ("neck-band", "hem-band"),
    "diagonal-overlay-tank": ("armhole-band-left", "armhole-band-right", "hem-band"),
}
WIDTHS = {"neck-band": 20.0, "armhole-band": 20.0, "hem-band": 55.0}
KINDS = {"neck-band": "neck", "armhole-band": "armhole", "hem-band": "hem"}

SHAPING = ("neckline", "shoulder", "cut-in-armhole", "underarm", "hem", "lengthen")


@settings(max_examples=30, derandomize=True, deadline=None)
@given(
    design=st.sampled_from(sorted(BANDED)),
    brief=briefs(),
    stack=st.lists(changes(*SHAPING), min_size=1, max_size=2),
)
def test_bands_follow_their_openings(design: str, brief: Brief, stack: list[Made]) -> None:
    """Long enough to lie flat and to stretch on, never longer than the edge; and what the rule gives for the new edge.

    Source of the bounds (derived, facts of the cloth): a band w high on an edge L long that turns by theta has its
    free edge at L - theta w; a band shorter than 95 % of that puckers, and none can stretch beyond its cloth.
    """
    try:
        garment = draft_job(with_changes(job_of(design), stack, brief))
    except CannotDraft:
        return
    for name in BANDED[design]:
        judge(garment, brief, name)


def judge(garment: Garment, brief: Brief, name: str) -> None:
    """Judge one band against the edge that it is sewn to, measured here: whole, or from corner to corner."""
    kind = name.removesuffix("-left").removesuffix("-right")
    width, cloth = WIDTHS[kind], brief.cloths["rib"]
    sections = garment.seam(name).sections
    for section in sections:
        edge, band = section.plies
        opening, length = garment.run_length(edge), garment.run_length(band)
        theta = turned(garment, edge)
        assert length <= opening + 0.5
        assert length * (1.0 + brief.cloths["rib"].stretch_across) >= opening - 0.5
        if kind != "hem-band":
            assert length >= 0.95 * (opening - theta * width) - 0.5
        rule_kind = KINDS[kind] if len(sections) == 1 else "mitred"
        around = AROUND_ARM[brief.fit] * brief.body["armscye_girth"] if rule_kind == "armhole" else 0.0
        rule = band_length(
            opening, theta, width, cloth.working_stretch, recovery=cloth.recovery, kind=rule_kind, around=around
        )  # fmt: skip
        assert length == pytest.approx(rule.length, abs=1.0)
        assert section.ease[1] == pytest.approx(length - opening, abs=1e-6)


def turned(garment: Garment, run: Run) -> float:
    """How far an edge turns towards its band (rad), from chords of the lines, piece by piece."""
    total, chain, last = 0.0, [], ""
    for use in (*run, None):
        if use is None or use.piece != last or not _meets(chain, garment, use):
            total += _turning(chain)
            chain = []
        if use is not None:
            points = garment.path(use).flatten(0.001)
            chain.append(points[1:] if chain else points)
            last = use.piece
    return max(0.0, -total)


def _meets(chain: list[np.ndarray], garment: Garment, use: object) -> bool:
    return not chain or float(np.abs(chain[-1][-1] - garment.path(use).flatten(0.05)[0]).max()) < 1e-3


def _turning(chain: list[np.ndarray]) -> float:
    if not chain:
        return 0.0
    steps = np.diff(np.concatenate(chain), axis=0)
    steps = steps[np.hypot(*steps.T) > 1e-9]
    cross = steps[:-1, 0] * steps[1:, 1] - steps[:-1, 1] * steps[1:, 0]
    return float(np.arctan2(cross, (steps[:-1] * steps[1:]).sum(axis=1)).sum())
