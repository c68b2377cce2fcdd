"""What the table of fit tells of a skirt: where its hem hangs, where its zip ends, and what its darts take in."""

from __future__ import annotations

import pytest

from drafting.proof.fit.closures import closure_rows
from drafting.proof.fit.skirts import skirt_rows
from drafting.saying import render
from tests.skirts.dressed import skirt


@pytest.mark.parametrize("kind", ["skirt", "circle-skirt", "flared-skirt"])
def test_a_hem_is_taken_at_the_centre_along_the_fall(kind: str) -> None:
    """The side of a circle is turned outwards: its end says nothing of how long the skirt hangs."""
    garment, b = skirt([(kind, {"length": 600.0}), ("closure", {"place": "back"})])
    (hem,) = (row for row in skirt_rows(garment, b) if row.name == "skirt_hem")
    assert hem.garment == pytest.approx(600.0, abs=1.0)
    assert hem.body == pytest.approx(b.body["waist_height"] - b.body["knee_height"], abs=15.0)
    (end,) = closure_rows(garment, b)
    assert end.body == b.body["waist_to_hip"]
    assert all("below the waist" in render(row.title, "cm") for row in (hem, end))
