"""A finding is as grave as it says, however that is written."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.proof import Finding, Proof, Severity, prove
from drafting.proof.finding import gravest_first
from tests.blocks_woven.people import bodice, brief_for, person
from tests.garments import JERSEY


def test_a_plain_word_is_as_grave_as_its_severity() -> None:
    """An error that a check writes as a text fails the proof."""
    found = Finding("hem.narrow", "error", "hem", None, None, "it is narrow")
    assert found.severity is Severity.ERROR
    assert not Proof((found,)).passed


def test_a_word_that_is_no_severity_is_refused() -> None:
    """Where it is written, or it would be counted nowhere."""
    with pytest.raises(ValueError, match="fatal"):
        Finding("hem.narrow", "fatal", "hem", None, None, "it is narrow")


def test_a_doubted_measurement_comes_before_what_follows_from_it() -> None:
    """It is told first of the warnings, and after every error."""
    told = [
        Finding(code, Severity(severity), "", None, None, "")
        for code, severity in (
            ("fit.armhole", "warning"), ("body.asked", "warning"), ("seams.length", "error"),
            ("body.doubtful", "warning"),
        )
    ]  # fmt: skip
    codes = [each.code for each in gravest_first(told)]
    assert codes == ["seams.length", "body.asked", "body.doubtful", "fit.armhole"]


def test_a_knit_for_a_design_that_is_eased_for_woven_cloth_is_told_first() -> None:
    """Its sleeves and its bust stand off for that; a knit that hardly stretches is sewn as a woven is."""
    b = brief_for(person(200))
    garment = bodice(b)
    knits = [replace(b, cloth=replace(JERSEY, stretch_across=share, stretch_along=share)) for share in (0.30, 0.10)]
    free, stable = ([f for f in prove(garment, each).findings if f.severity is Severity.WARNING] for each in knits)
    assert free[0].code == "cloth.gives"
    assert not any(found.code == "cloth.gives" for found in stable)
