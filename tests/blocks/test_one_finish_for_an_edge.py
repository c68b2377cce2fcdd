"""An edge is finished once: a band, a binding or a facing for one that is finished already is refused in a sentence."""

from __future__ import annotations

import pytest

from blocks.asymmetric_overlay import draft_asymmetric_overlay
from blocks.band import draft_armhole_bands, draft_neck_band, draft_neck_binding
from blocks.facing import draft_facings
from drafting.changes.design.closure import open_closure
from drafting.errors import CannotDraft
from drafting.garment import is_free, openings
from tests.garments import BODY, Planned, brief, build

OVERLAY: Planned = (draft_asymmetric_overlay, {})
BAND: Planned = (draft_neck_band, {})
BINDING: Planned = (draft_neck_binding, {})
FACED_NECK: Planned = (draft_facings, {"opening": "neck"})
FACED_ARMHOLES: Planned = (draft_facings, {"opening": "armholes"})
CLOSURE: Planned = (open_closure, {})


@pytest.mark.parametrize("finish", [BAND, BINDING, FACED_NECK], ids=["band", "binding", "facing"])
@pytest.mark.parametrize(
    "before",
    [[OVERLAY], [BAND], [CLOSURE, BAND], [BINDING], [FACED_NECK], [CLOSURE, FACED_NECK]],
    ids=["overlay", "band", "band beside a closure", "binding", "facing", "facing beside a closure"],
)
def test_a_finished_neck_takes_no_other_finish(before: list[Planned], finish: Planned) -> None:
    """Whatever finishes it, even in part, and whether or not it goes all round."""
    with pytest.raises(CannotDraft, match=r"the neck has its neck (band|binding|facing) already"):
        build(brief(), BODY, [*before, finish])


@pytest.mark.parametrize("finish", [BAND, BINDING, FACED_NECK], ids=["band", "binding", "facing"])
def test_an_open_neck_is_finished_by_any(finish: Planned) -> None:
    """Free before, finished after; the armholes stay as free as they were."""
    b = brief()
    free = [{o.name for o in openings(top) if is_free(top, o)} for top in (build(b, BODY), build(b, BODY, [finish]))]
    assert free[0] - free[1] == {"neck"}


@pytest.mark.parametrize(
    ("before", "advised"),
    [((draft_armhole_bands, {"arm": "left"}), True), (FACED_ARMHOLES, False)],
    ids=["right free", "both faced"],
)
def test_the_other_arm_is_advised_only_while_it_is_free(before: Planned, advised: bool) -> None:
    """A band on the right alone helps where the right has none yet."""
    with pytest.raises(CannotDraft) as refused:
        build(brief(), BODY, [before, (draft_armhole_bands, {})])
    assert ('arm = "right"' in str(refused.value)) == advised
