"""Every change on a few designs: what it is asked, and where it is refused and why; each is proven on one at least."""

from __future__ import annotations

from typing import Any

import pytest

from tests.garments import brief
from tests.laws.jobs import job_of, outcome, with_changes
from tests.laws.strategies import STEPS, WOVEN_CLOTHS

DESIGNS = ("basic-tee", "diagonal-overlay-top", "fitted-bodice", "waist-seam-dress")

ASKED: dict[str, list[tuple[str, dict[str, Any]]]] = {
    "dart-to-seam": [("move-dart", {"to": "shoulder 0.5"}), ("dart-to-seam", {})],
    "gathers": [("gathers", {"at": "neckline"})],
    "lengthen": [("lengthen", {"by": 30.0, "at": "line"})],
    "neckline": [("neckline", {"front": "v"})],
    "shoulder": [("shoulder", {"narrow": 8.0})],
    "sleeve-fullness": [("sleeve-fullness", {"hem": 40.0})],
    "sleeve-length": [("sleeve-length", {"by": -40.0})],
    "underarm": [("underarm", {"by": 10.0})],
    "centre": [("centre", {"on": "front"})],
    "closure": [("closure", {"place": "left"})],
}
"""What is asked of a change whose defaults ask for nothing, or ask for what isn't there; else its defaults are."""

REFUSED: dict[tuple[str, str], str] = {
    ("gathers", "diagonal-overlay-top"): "a layer hangs over",
    ("closure", "diagonal-overlay-top"): "the seam at the left is broken up, or holds another layer",
    ("dart-to-ease", "basic-tee"): "there is no dart called",
    ("dart-to-ease", "diagonal-overlay-top"): "there is no dart called",
    ("dart-to-gathers", "basic-tee"): "there is no dart called",
    ("dart-to-gathers", "diagonal-overlay-top"): "there is no dart called",
    ("dart-to-seam", "basic-tee"): "there is no dart called",
    ("dart-to-seam", "diagonal-overlay-top"): "there is no dart called",
    ("join-darts", "basic-tee"): "there is no dart called",
    ("join-darts", "diagonal-overlay-top"): "there is no dart called",
    ("join-darts", "fitted-bodice"): "the left bust dart can't be worked so: the left front waist dart is a fish-eye",
    ("move-dart", "basic-tee"): "there is no dart called",
    ("move-dart", "diagonal-overlay-top"): "there is no dart called",
    ("panel-seam", "diagonal-overlay-top"): "the seam would start on the front shoulder piece and end on the",
    ("small-bust", "basic-tee"): "the front has no bust dart to",
    ("small-bust", "diagonal-overlay-top"): "the front has no bust dart to",
    ("split-dart", "basic-tee"): "there is no dart called",
    ("split-dart", "diagonal-overlay-top"): "there is no dart called",
    ("vents", "diagonal-overlay-top"): "a band can't go round a",
}
"""Where a change is refused, and words of the reason; everywhere else it is proven."""


@pytest.mark.parametrize("name", sorted(STEPS))
def test_a_change_is_proven_or_refused_as_told(name: str) -> None:
    """As the table says, for a soprano in jersey or in cotton."""
    proven = 0
    for design in DESIGNS:
        cotton = WOVEN_CLOTHS[0]
        wearer = brief("soprano") if design in DESIGNS[:2] else brief("soprano", cloth=cotton, rib=cotton)
        what = outcome(with_changes(job_of(design), ASKED.get(name, [(name, {})]), wearer))
        assert not what.broken, (design, what.broken)
        assert (REFUSED[name, design] in what.refused) if (name, design) in REFUSED else not what.refused, (
            design,
            what.refused,
        )
        proven += not what.refused
    assert proven or name in NOWHERE


NOWHERE: frozenset[str] = frozenset()
"""Changes that none of these designs can take."""
