"""A feature of a kind that the engine has never heard of follows every change with the cloth that it lies on."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from itertools import takewhile

import pytest

from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Piece
from drafting.geometry import Array, Point, is_inside
from drafting.sides import swap_sides
from tests.garment.invented import labelled, labels_of
from tests.garments import brief
from tests.laws.jobs import job_of, with_changes
from tests.laws.strategies import STEPS, WOVEN_CLOTHS
from tests.laws.test_every_change import ASKED

DESIGNS = ("basic-tee", "diagonal-overlay-top", "fitted-bodice", "waist-seam-dress")

CUT_AWAY = ("hem", "neckline", "sleeve-length", "sleeveless")
"""Changes that cut cloth away, as asked here: what lay there is gone, or lies where the neck is now."""

SOFT = 1.6
"""mm that a label may lie off its level: a level moved with its ends is drawn as one soft curve between them.

The more so the wider it is: 1.55 at most, at a tee's hip with the 3 cm of ease that a turned hem has.
"""

OVER_SLASH = 4.0
"""mm that a label may lie off the bust line where the front was slashed for the bust, and turned above its dart.

The line goes straight from the bust point to its end in the side, 25 cm on, as a tape does over the gap.
"""

SLASHED = ("full-bust", "small-bust")

FAIRED = 2.6
"""mm that a label beside a new seam may lie outside: a panel seam is drawn fair between its dart points.

Of all labels on all designs, two lie more than 1 mm outside, beside the back's waist dart: 2.33 and 2.48 mm.
"""


def _wearer(design: str) -> Brief:
    cotton = WOVEN_CLOTHS[0]
    return brief("soprano") if design in DESIGNS[:2] else brief("soprano", cloth=cotton, rib=cotton)


@cache
def _drafts(design: str) -> tuple[Garment, ...]:
    """What a design is before its first step, and after each."""
    garments = [Garment()]
    for planned in job_of(design).steps:
        garments.append(planned.step.apply(garments[-1], _wearer(design), planned.options))
    return tuple(garments)


def taken(name: str, design: str) -> tuple[Garment, Garment] | None:
    """The garment before a change, with labels strewn over it, and after it; None where it is refused."""
    job = with_changes(job_of(design), ASKED.get(name, [(name, {})]), _wearer(design))
    pairs = zip(job.steps, job_of(design).steps, strict=False)
    alike = takewhile(lambda pair: pair[0] is pair[1] and pair[0].step.name != name, pairs)
    begun = sum(1 for _ in alike)
    garment = _drafts(design)[begun]
    try:
        for planned in job.steps[begun:]:
            before = garment = labelled(garment) if planned.step.name == name else garment
            garment = planned.step.apply(garment, job.brief, planned.options)
            if planned.step.name == name:
                return before, garment
    except CannotDraft:
        return None
    raise AssertionError(f"{name} isn't among the steps")


def lie_within(labels: Iterable[tuple[Piece, Point]]) -> bool:
    """Whether labels lie each within its piece, or on its edge."""
    flat: dict[str, Array] = {}
    for piece, at in labels:
        if piece.name not in flat:
            flat[piece.name] = piece.outline.flatten()
        if not is_inside(at, flat[piece.name]) and piece.outline.nearest(at)[1] > FAIRED:
            return False
    return True


@pytest.mark.parametrize("name", sorted(STEPS))
def test_labels_follow_every_change(name: str) -> None:
    """None is lost or doubled, each lies within its piece, and one on a level lies on that level still."""
    for design in DESIGNS:
        found = taken(name, design)
        if found is None:
            continue
        was, now = (labels_of(garment) for garment in found)
        assert len(was) > 20
        if name not in CUT_AWAY:
            assert set(now) == {swap_sides(label) if name == "mirror" else label for label in was}, design
            assert lie_within(now.values()), design
        for label, (piece, at) in now.items():
            level = label.partition("|")[0]
            off = [each.path.nearest(at)[1] for each in piece.levels if each.name == level]
            assert not off or min(off) <= (OVER_SLASH if name in SLASHED else SOFT), (design, label)


def test_a_mirrored_label_lies_on_the_other_side() -> None:
    """Called after the other side, at the mirrored place, in the mirrored piece."""
    found = taken("mirror", "diagonal-overlay-top")
    assert found is not None
    was, now = (labels_of(garment) for garment in found)
    for label, (piece, at) in was.items():
        other, there = now[swap_sides(label)]
        assert other.name == swap_sides(piece.name)
        assert (there.x, there.y) == (-at.x, at.y)
