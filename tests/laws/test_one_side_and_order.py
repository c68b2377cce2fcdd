"""What a change leaves alone, and that changes to different places may be made in either order."""

from __future__ import annotations

from functools import cache
from itertools import product
from typing import Any

import pytest

from drafting.errors import CannotDraft
from drafting.garment import Garment, Side
from drafting.garment.step import options_of
from drafting.geometry import Path
from drafting.job import draft_job
from tests.garments import brief
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import STEPS, WOVEN_CLOTHS

WITHIN = 1e-6

ONE_SIDED = tuple(
    name
    for name, step in STEPS.items()
    if any(i.name == "side" and "both" in i.choices for i in options_of(step.options))
)
"""Changes that can be made to one side alone."""


ASKS: dict[str, tuple[dict[str, Any], ...]] = {
    "cut-in-armhole": ({"by": 4.0}, {"by": -3.0}),
    "flare": ({"by": 120.0}, {"by": 90.0, "pivot": "waist"}),
    "neckline": ({"widen": 12.0}, {"widen": 32.0}),
    "shoulder": ({"narrow": 9.0}, {"narrow": -3.0, "across": 0.2}),
    "sleeve-fullness": ({"hem": 40.0}, {"width": 12.0}),
    "sleeve-length": ({"by": -45.0}, {"to": "short"}),
    "underarm": ({"by": 14.0}, {"by": 5.0}),
    "vents": ({"height": 60.0},),
}
"""What is asked of changes that ask for nothing by themselves, or for two kinds; a neckline's shape belongs to both."""

WEARERS = {"knit": brief("alto"), "woven": brief("soprano", cloth=WOVEN_CLOTHS[0], rib=WOVEN_CLOTHS[0])}
ON = (("basic-tee", "knit"), ("tank-top", "knit"), ("fitted-bodice", "woven"), ("waist-seam-dress", "woven"))
"""Designs, and who wears them."""

BOTH_SIDES = {"high-hip": "the piece's hem is one line", "low-shoulder": "the body itself is uneven by it"}


@pytest.mark.parametrize("name", [name for name in ONE_SIDED if name not in BOTH_SIDES])
def test_the_other_side_stays_as_it_was(name: str) -> None:
    """Every line of the other side, on every piece that is worn on the body or its arm, to 1e-6 mm.

    But a neckline that has followed its shoulder down at the centre: the other half meets it there.

    Each change is compared on one design at least, so that nothing passes by being refused.
    """
    compared = 0
    for design, cloth in ON:
        job, wearer = job_of(design), WEARERS[cloth]
        before = _unchanged(design, cloth)
        asks: tuple[dict[str, Any], ...] = ASKS.get(name, ({},))
        for asked, side in product(asks, (Side.LEFT, Side.RIGHT)):
            try:
                after = draft_job(with_changes(job, [(name, {**asked, "side": str(side)})], wearer))
            except CannotDraft:
                continue
            old, new = _lines(before, side.other), _lines(after, side.other)
            assert old.keys() == new.keys(), (design, asked, side)
            moved = [key for key, path in old.items() if not path.same_as(new[key], WITHIN)]
            assert [key for key in moved if not _is_let_down(old[key], new[key])] == [], (design, asked, side)
            compared += 1
    assert compared >= 2


@cache
def _unchanged(design: str, cloth: str) -> Garment:
    return draft_job(with_changes(job_of(design), [], WEARERS[cloth]))


def _is_let_down(old: Path, new: Path) -> bool:
    """Whether an edge stays at the shoulder and goes with the other half down the centre, where both meet."""
    kept, centre = sorted(zip((old.start, old.end), (new.start, new.end), strict=True), key=lambda e: -abs(e[0].x))
    return (
        kept[0].distance(kept[1]) < WITHIN
        and max(abs(end.x) for end in centre) < WITHIN
        and centre[1].y < centre[0].y - WITHIN
    )


def _lines(garment: Garment, side: Side) -> dict[tuple[str, str], Any]:
    return {(piece.name, line.name): line.path for piece in garment.pieces for line in piece.ring if line.side is side}


PLACES = {
    "neck": [("neckline", {"front": "v", "front_depth": 90.0}), ("neckline", {"back": "scoop", "back_depth": 40.0}),
             ("neckline", {"front": "square", "front_depth": 60.0, "widen": 30.0})],
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


@pytest.mark.parametrize(("design", "every"), [("basic-tee", 4), ("diagonal-overlay-top", 9), ("fitted-bodice", 8)])
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
        return draft_job(with_changes(job, stack))
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
