"""What every fit change keeps: seams that agree, equal legs, the proof, the other side; and what the laws ask."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from drafting.changes.fit.back import fit_broad_back, fit_narrow_back
from drafting.changes.fit.bust import fit_full_bust, fit_small_bust
from drafting.changes.fit.hip import fit_high_hip
from drafting.changes.fit.shoulder import fit_forward_shoulder
from drafting.changes.fit.shoulder_height import fit_low_shoulder, fit_sloping_shoulder, fit_square_shoulder
from drafting.changes.fit.waist import fit_long_waist, fit_short_waist, fit_sway_back
from drafting.errors import CannotDraft
from drafting.garment import Line, Piece, Side, Stage, Step
from tests.fit.fitted import (
    CHANGES,
    ONE_SIDED,
    TO_HIP,
    TO_WAIST,
    WOVENS,
    Planned,
    base_for,
    new_errors,
    strays,
    uneven_legs,
    untouched,
    woven,
    woven_brief,
)
from tests.garments import TOP, brief, build

IDS = [step.name for step, _ in CHANGES]


@pytest.mark.parametrize("voice", ["soprano", "alto"])
@pytest.mark.parametrize(("step", "by"), CHANGES, ids=IDS)
def test_the_changed_woven_proves_and_its_darts_keep_equal_legs(step: Step[Any], by: float, voice: str) -> None:
    """No new errors: seams, joins, outlines, aims; legs equal to a millionth of a millimetre."""
    before = woven(base_for(step), voice=voice)
    after = woven(base_for(step), [(step, {"by": by})], voice=voice)
    assert new_errors(woven_brief(voice), before, after) == []
    assert uneven_legs(after) < 1e-6


@pytest.mark.parametrize("base", WOVENS)
@pytest.mark.parametrize(("step", "by"), CHANGES, ids=IDS)
def test_side_and_shoulder_seams_still_agree(step: Step[Any], by: float, base: str) -> None:
    """Each ply as long as the other and its stated ease."""
    if (step is fit_high_hip and WOVENS[base] is TO_WAIST) or step.stage is Stage.SLEEVE_SHAPE:
        return
    after = woven(WOVENS[base], [(step, {"by": by})])
    for seam in after.seams:
        for section in seam.sections:
            one, two = (after.run_length(run) for run in section.plies)
            assert two - one == pytest.approx(section.ease[1], abs=0.2), seam.name


@pytest.mark.parametrize(("step", "by"), CHANGES, ids=IDS)
def test_the_knit_top_proves_or_says_why_not(step: Step[Any], by: float) -> None:
    """Only the small bust has no meaning without a dart."""
    b, before = brief(), build(brief(), TOP)
    if step is fit_small_bust:
        with pytest.raises(CannotDraft, match="no bust dart"):
            build(b, TOP, [(step, {"by": by})])
        return
    assert new_errors(b, before, build(b, TOP, [(step, {"by": by})])) == []


@pytest.mark.parametrize(("step", "by"), ONE_SIDED, ids=[step.name for step, _ in ONE_SIDED])
@pytest.mark.parametrize("side", [Side.LEFT, Side.RIGHT])
def test_one_side_leaves_the_other_sides_lines_as_they_were(step: Step[Any], by: float, side: Side) -> None:
    """The very same paths; and the side asked for has changed."""
    before = woven(base_for(step))
    after = step.apply(before, woven_brief(), step.options(by=by, side=str(side)))
    assert untouched(before, after, side.other)
    assert not untouched(before, after, side)


@pytest.mark.parametrize(("step", "by"), ONE_SIDED, ids=[step.name for step, _ in ONE_SIDED])
def test_left_and_right_are_mirror_images(step: Step[Any], by: float) -> None:
    """What a change does on the left it does on the right: each line is the image of the one of its name there."""
    left, right = (woven(base_for(step), [(step, {"by": by, "side": side})]) for side in ("left", "right"))
    for piece in left.pieces:
        others = named(right.piece(swapped(piece.name)))
        for name, lines in named(piece).items():
            for line, image in zip(lines, reversed(others[swapped(name)]), strict=True):
                assert image.path.mirrored().reversed().same_as(line.path, 1e-4), line.name


def swapped(name: str) -> str:
    """A name with left for right, and right for left."""
    return name.replace("left", "#").replace("right", "left").replace("#", "right")


def named(piece: Piece) -> dict[str, list[Line]]:
    """The lines of a piece by their name before it was parted (or without the leg of a dart), parts in ring order."""
    found: dict[str, list[Line]] = {}
    for line in piece.all_lines:
        found.setdefault(re.sub(r"(/.*|-[ab])$", "", line.name), []).append(line)
    return found


@pytest.mark.parametrize(("step", "by"), CHANGES, ids=IDS)
def test_nothing_asked_is_nothing_changed(step: Step[Any], by: float) -> None:
    """Zero leaves every line and aim the very same."""
    before = woven(base_for(step))
    after = woven(base_for(step), [(step, {"by": 0.0})])
    assert strays(before, after) == 0.0
    assert before.aims == after.aims


LEFT_OVER = {
    **dict.fromkeys(("sloping-shoulder", "low-shoulder", "square-shoulder"), 2.0),
    "forward-shoulder": 0.1,
    "sway-back": 1e-4,
    **dict.fromkeys(("full-bust", "small-bust"), 1e-3),
}
"""mm; the underarm is solved for, from a side seam whose angle there is taken up again once it is raised, a waist's
edge is trued at each fold, a side led back to the hip, an armhole run on to its new end in one curve, and its floor
drawn anew each time, more upright at the across width where it finds no room."""

ADD_UP = [step for step, _ in CHANGES if step.stage is Stage.FIT]


@pytest.mark.parametrize("step", ADD_UP, ids=[step.name for step in ADD_UP])
@pytest.mark.parametrize("base", WOVENS)
@settings(derandomize=True, deadline=None, max_examples=2, phases=[Phase.generate])
@given(a=st.floats(0.5, 3.0), b=st.floats(0.5, 2.5))
def test_by_a_and_then_by_b_is_by_both(step: Step[Any], base: str, a: float, b: float) -> None:
    """Within a millionth of a millimetre, but where a solve or a trued edge lies between: there far below a thread."""
    if step is fit_high_hip and WOVENS[base] is TO_WAIST:
        return
    twice = woven(WOVENS[base], [(step, {"by": a}), (step, {"by": b})])
    once = woven(WOVENS[base], [(step, {"by": a + b})])
    assert strays(twice, once) < LEFT_OVER.get(step.name, 1e-6)
    assert {x.measure: x.ease for x in twice.aims} == pytest.approx(
        {x.measure: x.ease for x in once.aims}, abs=LEFT_OVER.get(step.name, 1e-6)
    )


@pytest.mark.parametrize(
    ("one", "other", "within"),
    # The block's armhole may stray from the one that any change draws anew, where it couldn't reach the across width.
    [
        (fit_full_bust, fit_small_bust, 0.5),
        (fit_broad_back, fit_narrow_back, 1e-5),
        (fit_long_waist, fit_short_waist, 1e-5),
    ],
    ids=["bust", "back", "waist"],
)
@pytest.mark.parametrize("base", WOVENS)
def test_a_change_and_its_opposite_give_the_block_back(
    one: Step[Any], other: Step[Any], within: float, base: str
) -> None:
    """Spread and closed by as much."""
    back = woven(WOVENS[base], [(one, {"by": 5.0}), (other, {"by": 5.0})])
    assert strays(back, woven(WOVENS[base])) < within


def test_changes_to_different_places_commute() -> None:
    """In either order the same garment."""
    changes: list[Planned] = [
        (fit_full_bust, {"by": 6.0}),
        (fit_broad_back, {"by": 4.0}),
        (fit_sway_back, {"by": 8.0}),
    ]
    assert strays(woven(TO_HIP, changes), woven(TO_HIP, changes[::-1])) < 1e-6


def test_many_at_once_still_prove() -> None:
    """A fitting seldom finds one thing alone."""
    changes: list[Planned] = [
        (fit_full_bust, {"by": 8.0}),
        (fit_broad_back, {"by": 4.0}),
        (fit_forward_shoulder, {"by": 6.0}),
        (fit_square_shoulder, {"by": 4.0}),
        (fit_low_shoulder, {"by": 5.0}),
        (fit_sway_back, {"by": 8.0}),
        (fit_long_waist, {"by": 12.0}),
        (fit_high_hip, {"by": 8.0}),
    ]
    assert new_errors(woven_brief(), woven(TO_HIP), woven(TO_HIP, changes)) == []


@pytest.mark.parametrize(
    ("step", "options", "words"),
    [
        (fit_small_bust, {"by": 35.0}, "take in less than"),
        (fit_broad_back, {"by": 30.0, "_": 1}, "no fair armhole|side seam"),
        (fit_high_hip, {"by": 10.0}, "no piece reaches"),
        (fit_short_waist, {"by": 80.0, "_": 1}, "between bust and waist"),
        (fit_sloping_shoulder, {"by": 30.0, "_": 1}, "bust line|armhole"),
    ],
    ids=["small bust", "broad back", "high hip", "short waist", "sloping shoulder"],
)
def test_too_much_is_refused_with_the_reason(step: Step[Any], options: dict[str, float], words: str) -> None:
    """The change is named, with what stands in the way."""
    told = {name: value for name, value in options.items() if name in step.told()}
    plan = [(step, told)] * (2 if "_" in options else 1)
    with pytest.raises(CannotDraft, match=words) as error:
        woven(TO_WAIST, plan)
    assert error.value.step == step.name
    assert math.isfinite(error.value.short_by)
