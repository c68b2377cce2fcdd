"""What a change leaves alone, and that changes to different places may be made in either order."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Side
from drafting.garment.step import options_of
from drafting.job import draft
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import STEPS, Made, briefs, option_values

SOME = settings(max_examples=40, derandomize=True, deadline=None)
WITHIN = 1e-6

ONE_SIDED = tuple(
    name
    for name, step in STEPS.items()
    if any(i.name == "side" and "both" in i.choices for i in options_of(step.options))
)
"""Changes that can be made to one side alone."""


@st.composite
def one_sided(draw: st.DrawFn) -> tuple[Made, Side]:
    """A change to one side, all that it says near its defaults, and that side."""
    name = draw(st.sampled_from(ONE_SIDED))
    side = draw(st.sampled_from([Side.LEFT, Side.RIGHT]))
    told = {i.name: option_values(i) for i in options_of(STEPS[name].options) if i.name in SIDED.get(name, SIDED["*"])}
    options = draw(st.fixed_dictionaries({}, optional=told))
    return (name, {**options, "side": str(side)}), side


SIDED = {"*": ("by", "narrow", "height", "share"), "neckline": ("widen",)}
"""Options that change only the side they are told with; a neckline's shape and depth belong to both."""


@SOME
@given(change=one_sided(), brief=briefs(), design=st.sampled_from(["basic-tee", "knit-top", "tank-top"]))
def test_the_other_side_stays_as_it_was(change: tuple[Made, Side], brief: Brief, design: str) -> None:
    """Every line of the other side, on every piece that is worn on the body or its arm, to 1e-6 mm."""
    made, side = change
    job = job_of(design)
    try:
        before, after = draft(with_changes(job, [], brief)), draft(with_changes(job, [made], brief))
    except CannotDraft:
        return
    old, new = _lines(before, side.other), _lines(after, side.other)
    assert old.keys() == new.keys()
    for key, path in old.items():
        assert path.same_as(new[key], WITHIN), (made, key)


def _lines(garment: Garment, side: Side) -> dict[tuple[str, str], Any]:
    return {(piece.name, line.name): line.path for piece in garment.pieces for line in piece.ring if line.side is side}


PLACES = {
    "neck": [("neckline", {"front": "v", "front_drop": 90.0}), ("neckline", {"back": "scoop", "back_drop": 40.0}),
             ("neckline", {"front": "square", "front_drop": 60.0, "widen": 30.0})],
    "left arm": [("shoulder", {"narrow": 12.0, "side": "left"}), ("cut-in-armhole", {"by": 5.0, "side": "left"}),
                 ("underarm", {"by": 15.0, "side": "left"})],
    "right arm": [("shoulder", {"narrow": -8.0, "side": "right"}), ("cut-in-armhole", {"by": 4.0, "side": "right"}),
                  ("underarm", {"by": 25.0, "side": "right"})],
    "hem": [("hem", {"shape": "curved", "rise": 40.0}), ("hem", {"higher": "left", "by": 60.0}),
            ("lengthen", {"by": 60.0, "at": "hem"}), ("vents", {"height": 70.0})],
    "left sleeve": [("sleeve-length", {"by": -60.0, "side": "left"}), ("sleeveless", {"side": "left"})],
    "right sleeve": [("sleeve-length", {"by": 30.0, "side": "right"}),
                     ("sleeve-length", {"length": 400.0, "side": "right"})],
}  # fmt: skip
"""Changes by the place that they are made to."""

PAIRS = [
    (a, b)
    for i, one in enumerate(PLACES)
    for two in list(PLACES)[i + 1 :]
    for a in PLACES[one]
    for b in PLACES[two]
]  # fmt: skip


@pytest.mark.parametrize(("design", "every"), [("basic-tee", 2), ("diagonal-overlay-top", 5)])
def test_changes_to_different_places_commute(design: str, every: int) -> None:
    """In either order the same pieces, lines, seams and aims; where one order is refused, so is the other."""
    job = job_of(design)
    made = 0
    for pair in PAIRS[::every]:
        one, two = (_drafted(job, stack) for stack in (pair, pair[::-1]))
        if isinstance(one, str) or isinstance(two, str):
            assert isinstance(one, str), pair
            assert isinstance(two, str), pair
            continue
        made += 1
        _assert_alike(one, two, pair)
    assert made > len(PAIRS) // every // 2


def _drafted(job: Any, stack: Any) -> Garment | str:
    try:
        return draft(with_changes(job, stack))
    except CannotDraft as error:
        return str(error)


def _assert_alike(one: Garment, two: Garment, pair: Any) -> None:
    assert [p.name for p in one.pieces] == [p.name for p in two.pieces], pair
    for piece in one.pieces:
        other = two.piece(piece.name)
        assert [line.name for line in piece.ring] == [line.name for line in other.ring], (pair, piece.name)
        for line in piece.ring:
            assert line.path.same_as(other.line(line.name).path, WITHIN), (pair, piece.name, line.name)
    assert {s.name: s.plies for s in one.seams} == {s.name: s.plies for s in two.seams}, pair
    aims = [{aim.measure: aim.ease for aim in garment.aims} for garment in (one, two)]
    assert aims[0] == pytest.approx(aims[1], abs=1e-6), pair
