"""What a cloth asks of its cutting is said: shrinkage, width, stripes, nap, which side is right."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.cloth import Cloth, Stripe, home_method
from drafting.finishing import FinishPlan, finish
from drafting.garment import Brief, Garment
from drafting.proof import Finding, prove
from drafting.saying import render
from tests.garments import JERSEY, RIB, SLEEVED, TOP, brief, build


def found(cloth: Cloth, rib: Cloth = RIB, garment: Garment | None = None) -> list[Finding]:
    """What the proof of a sleeved top has to say of its cloths."""
    b: Brief = brief(cloth=cloth, rib=rib)
    top = build(b, TOP) if garment is None else garment
    told = prove(top, b, finish(top, FinishPlan())).findings
    return [f for f in told if f.code.startswith("cloth.") or f.code == "cutting.width"]


def words(cloth: Cloth, rib: Cloth = RIB) -> str:
    """All of that in one text."""
    return " | ".join(render(f.sentence, "cm") for f in found(cloth, rib))


def test_a_plain_cloth_needs_no_word() -> None:
    """Nothing is said where nothing is to be minded."""
    assert found(JERSEY) == []


@pytest.mark.parametrize(
    ("along", "across", "told"),
    [
        (0.05, 0.0, "shrinkage of 5 % in length"),
        (0.05, 0.03, "shrinkage of 5 % in length and shrinkage of 3 % in width"),
        (0.0, -0.02, "growth of 2 % in width"),
    ],
)
def test_shrinkage_is_no_secret(along: float, across: float, told: str) -> None:
    """The draft isn't scaled, and says so: the cloth is washed before it is cut (common practice)."""
    cloth = replace(JERSEY, shrink_along=along, shrink_across=across)
    (finding,) = found(cloth)
    assert finding.severity == "warning"
    assert "wash and dry the cloth first; this draft makes no allowance for" in render(finding.sentence, "cm")
    assert told in render(finding.sentence, "cm")
    assert build(brief(cloth=cloth), TOP).pieces == build(brief(), TOP).pieces


def test_the_bands_cloth_is_looked_at_where_there_are_bands() -> None:
    """And not where none is cut from it."""
    rib = replace(RIB, shrink_along=0.1)
    (finding,) = found(JERSEY, rib)
    assert finding.place == "cloths.rib"
    b = brief(rib=rib)
    assert found(JERSEY, rib, build(b, SLEEVED)) == []


def test_nap_and_like_sides_are_noted() -> None:
    """As plain notes: they fail nothing."""
    told = found(replace(JERSEY, nap=True, sides_alike=True))
    assert {f.severity.value for f in told} == {"note"}
    assert "all pieces one way up" in render(told[0].sentence, "cm")
    assert "both sides alike" in render(told[1].sentence, "cm")


def test_stripes_meet_on_the_seams_there_are() -> None:
    """Across at the side seams and armholes, along at the centres; an uneven one lies one way up."""
    across = words(replace(JERSEY, stripe=Stripe(40.0)))
    assert "stripe 4.0 cm" in across
    assert "side seams" in across
    assert "armhole" in across
    assert "one way up" not in across
    along = words(replace(JERSEY, stripe=Stripe(25.4, "along", uneven=True)))
    assert "centre of the front and back" in along
    assert "one way up" in along


def test_a_piece_wider_than_the_cloth_is_named_with_both_widths() -> None:
    """On a fold it is twice as wide as its paper; selvedges are no cloth to cut from."""
    top = build(brief(), TOP)
    cut = {piece.name: piece for piece in finish(top, FinishPlan())}
    low, _, high, _ = cut["front"].cut_path.bounds
    whole = (high - low) * (2.0 if cut["front"].on_fold else 1.0)
    assert not found(replace(JERSEY, width=whole + 21.0))
    told = found(replace(JERSEY, width=whole + 19.0))
    assert told
    finding = told[0]
    assert (finding.code, finding.severity) == ("cutting.width", "warning")
    assert finding.value == pytest.approx(whole, abs=0.5)
    assert f"{whole / 10.0:.1f} cm" in render(finding.sentence, "cm")
    assert "at least" in render(finding.remedy, "cm")


def test_the_home_method_marks_a_round_length() -> None:
    """In the unit of the ruler at hand."""
    assert "Mark 4 in" in home_method("in")
    assert "Mark 10 cm" in home_method("cm")
