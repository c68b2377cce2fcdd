"""Every body of the 1988 survey, women and men: drafted with darts and sleeves, and proven, or refused by name."""

from __future__ import annotations

from collections import Counter

import pytest

from drafting.errors import CannotDraft
from drafting.proof import Severity, prove
from tests.blocks_woven.people import PULLED_ON, bodice, brief_for, faults, people, person, sleeved


@pytest.mark.parametrize("rules", ["women", "men"])
def test_a_sample_is_drafted_and_proven_with_sleeves(rules: str) -> None:
    """Each fortieth body, with fitted sleeves: no fault but that it needs a closure."""
    for number in range(0, len(people(rules)), 40):  # type: ignore[arg-type]
        brief = brief_for(person(number, rules))  # type: ignore[arg-type]
        assert faults(sleeved(brief), brief) == []


def test_every_body_is_drafted_and_proven() -> None:
    """All 1,986: none is refused, none has a fault, and what a rule gave stays within what is told here."""
    refused: Counter[str] = Counter()
    found: Counter[str] = Counter()
    worst: Counter[str] = Counter()
    for rules in ("women", "men"):
        for number in range(len(people(rules))):  # type: ignore[arg-type]
            brief = brief_for(person(number, rules))  # type: ignore[arg-type]
            try:
                garment = bodice(brief)
            except CannotDraft as error:
                refused[error.because] += 1
                continue
            proof = prove(garment, brief)
            found.update(f.code for f in proof.findings if f.severity is not Severity.NOTE and f.code not in PULLED_ON)
            for row in proof.eases:
                worst["off"] = max(worst["off"], abs(row.off))  # type: ignore[assignment]
            for fact in garment.facts:
                worst[fact.name] = max(worst[fact.name], abs(fact.value))  # type: ignore[assignment]
    assert not refused
    assert not found
    assert worst["off"] < 0.1
    assert worst["bust_raised"] <= 25.0
    assert worst["waist_raised"] == 0.0
    assert worst["shoulder_raised"] <= 32.0
    assert worst["waist_dart_front"] <= 42.0
    assert worst["centre_front_off"] <= 50.0
