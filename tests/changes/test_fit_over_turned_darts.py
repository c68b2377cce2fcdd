"""Fit changes to a front whose bust dart was turned away from its side seam, as that of a princess top's is."""

from __future__ import annotations

from typing import Any

import pytest

from drafting.changes.heights import level_total
from drafting.errors import CannotDraft
from drafting.garment import Garment, Role, Side
from drafting.job import draft
from tests.laws.jobs import job_of, outcome, with_changes

Stack = list[tuple[str, dict[str, Any]]]


def drafted(design: str, stack: Stack) -> Garment:
    """A design with changes, proven."""
    what = outcome(with_changes(job_of(design), stack))
    assert not what.broken, what.broken
    assert what.garment is not None, what.refused
    return what.garment


def armhole(garment: Garment, side: Side) -> float:
    """The length of one side's armhole, front and back, over all its pieces."""
    return sum(line.path.length for p in garment.pieces for line in p.lines(role=Role.ARMHOLE, side=side))


@pytest.mark.parametrize("change", ["full-bust", "small-bust"])
@pytest.mark.parametrize("side", ["both", "left"])
def test_a_bust_is_changed_under_panels_as_in_a_darted_bodice(change: str, side: str) -> None:
    """Bust, waist and hip become as wide as those of the bodice with its dart in the side."""
    darted, panelled = (drafted(design, [(change, {"side": side})]) for design in ("fitted-bodice", "princess-top"))
    for measure in ("girth:bust", "girth:waist", "girth:hip"):
        assert level_total(panelled, measure) == pytest.approx(level_total(darted, measure), abs=1.0), measure


@pytest.mark.parametrize("place", ["armhole 0.5", "shoulder 0.5", "neckline 0.7"])
def test_a_bust_is_changed_wherever_its_dart_lies_above_it(place: str) -> None:
    """The dart is turned to the side, the front spread, and the dart turned back to where it was."""
    move: Stack = [("move-dart", {"to": place})]
    before, after = drafted("fitted-bodice", move), drafted("fitted-bodice", [*move, ("full-bust", {"by": 8.0})])
    wider = level_total(after, "girth:bust") - level_total(before, "girth:bust")
    assert wider == pytest.approx(16.0, abs=0.5)
    legs = [
        [line.path.length for line in g.piece("front").lines(role=Role.DART, side=Side.LEFT)] for g in (before, after)
    ]
    assert legs[0] != pytest.approx(legs[1], abs=1.0)
    mouths = [
        (g.piece("front").line("dart-bust-left-a").path.start, g.piece("front").line("dart-bust-left-b").path.end)
        for g in (before, after)
    ]
    assert min(one.distance(two) for one, two in zip(*mouths, strict=True)) < 5.0


@pytest.mark.parametrize("change", ["forward-shoulder", "square-shoulder", "sloping-shoulder", "low-shoulder"])
def test_shoulders_are_turned_with_the_bust_dart_folded_shut(change: str) -> None:
    """The armhole grows or shrinks by as much as that of the bodice with its dart in the side."""
    for side in (Side.LEFT, Side.RIGHT):
        gains = [
            armhole(drafted(design, [(change, {})]), side) - armhole(drafted(design, []), side)
            for design in ("fitted-bodice", "princess-top")
        ]
        assert gains[1] == pytest.approx(gains[0], abs=1.5)


def test_a_shoulder_that_was_bent_says_what_to_do() -> None:
    """Gathered, the back shoulder isn't straight: the change belongs before that."""
    stack: Stack = [("dart-to-gathers", {"dart": "shoulder"}), ("forward-shoulder", {})]
    with pytest.raises(CannotDraft) as refused:
        draft(with_changes(job_of("fitted-bodice"), stack))
    assert "before" in refused.value.help
