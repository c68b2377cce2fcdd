"""Whatever is done to a garment, proving it gives findings: it never raises, and it ends."""

from __future__ import annotations

import json
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drafting.garment import Face, Garment, Section, Use
from drafting.geometry import Affine, Path, Point
from drafting.proof import Evidence, Finding, Severity, fit_figures, proof_document, proof_lines, prove
from drafting.proof.check import Check, Look, Take
from tests.garments import BODY, build
from tests.garments import brief as tops_brief
from tests.proof.box_top import box_top, brief
from tests.proof.reading import one


def harmed(garment: Garment, random: Random) -> Garment:
    """The garment with one thing spoilt: a piece or line lost, a line stretched, a ring shuffled, a ply crossed."""
    if not garment.pieces or not garment.seams:
        return garment
    piece, seam = random.choice(garment.pieces), random.choice(garment.seams)
    line = random.choice(piece.ring)
    kind = random.choice(["lose piece", "lose line", "stretch", "shuffle", "turn", "cross"])
    if kind == "lose piece":
        return garment.without(pieces=[piece.name])
    if kind == "cross":
        section, *rest = seam.sections
        other = (Use(piece.name, line.name, random.random() < 0.5),)
        plies = (*section.plies[:-1], other if random.random() < 0.5 else section.plies[-1] + other)
        sections = (Section(plies, section.ease), *rest)
        return garment.with_(seams=[replace(seam, sections=sections)])
    ring = list(piece.ring)
    if kind == "lose line" and len(ring) > 1:
        ring.remove(line)
    elif kind == "stretch":
        longer = replace(line, path=line.path.transformed(Affine(xx=random.uniform(0.3, 2.0), yy=0.7)))
        ring[ring.index(line)] = longer
    elif kind == "shuffle":
        random.shuffle(ring)
    else:
        ring = [replace(one, path=one.path.reversed()) for one in reversed(ring)]
    return garment.with_(pieces=[replace(piece, ring=tuple(ring))])


@settings(max_examples=80, deadline=None, derandomize=True)
@given(st.randoms(use_true_random=False), st.integers(1, 3))
def test_any_garment_can_be_judged(random: Random, times: int):
    """The proof of a spoilt garment is a value like any other, and can be written and read."""
    garment = box_top()
    for _ in range(times):
        garment = harmed(garment, random)
    proof = prove(garment, brief())
    json.dumps(proof_document(proof, title="", mark="", unit="in"), allow_nan=False)
    assert proof_lines(proof, "in")


def test_an_empty_garment():
    """Nothing drafted is nothing to wear: no rows, and no crash."""
    proof = prove(Garment(), brief())
    assert proof.seams == ()
    assert proof_lines(proof)


@pytest.mark.parametrize("name", ["shoulder-left", "shoulder-right"])
def test_a_knit_whose_shoulder_stands_upright_is_judged(name: str):
    """Its slope is no number; every other figure is told."""
    b = tops_brief()
    garment = build(b, BODY)
    front = next(piece for piece in garment.pieces if piece.lines(name, face=Face.FRONT))
    (line,) = front.lines(name)
    up = replace(line, path=Path.straight(line.path.start, Point(line.path.start.x, line.path.end.y)))
    garment = garment.with_(pieces=[replace(front, ring=tuple(up if ln is line else ln for ln in front.ring))])
    assert len(prove(garment, b).fit) > 10


def test_a_figure_that_cannot_be_taken_is_a_finding(monkeypatch: pytest.MonkeyPatch):
    """A fault in the table of fit leaves that unproved; the other checks look nevertheless."""
    monkeypatch.setattr("drafting.proof.proof.fit_rows", lambda garment, brief: (1 / 0,))
    proof = prove(box_top(), brief(), more=[Check("end", "It ends.", note)])
    found = one(proof, "fit.unproved")
    assert found.severity == "error"
    assert "ZeroDivisionError" in str(found.sentence)
    assert proof.fit == ()
    assert one(proof, "end.reached")


@pytest.mark.parametrize("gives", [lambda g, b: (1 / 0,), lambda g, b: ("wide",)], ids=["it raises", "no row"])
def test_figures_of_a_package_that_fail_leave_the_engines_own(gives: Take):
    """Its own fault, told by its name; the table of fit is whole but for them."""
    plain, proof = (
        prove(box_top(), brief(), more=more) for more in ((), [fit_figures("frill", "Frill", "It.")(gives)])
    )
    assert one(proof, "frill.unproved").remedy == "its maker must put the check right"
    assert proof.fit == plain.fit


@pytest.mark.parametrize(
    ("look", "said"),
    [
        (lambda evidence: [1 / 0], "ZeroDivisionError: division by zero"),
        (lambda evidence: ["narrow"], "which is no Finding"),
        (lambda evidence: [Finding("tab.odd", "fatal", "tab", None, None, "odd")], "ValueError"),
    ],
)
def test_a_check_that_fails_is_a_finding(look: Look, said: str):
    """An error that names the check; the others look nevertheless."""
    proof = prove(box_top(), brief(), more=[Check("tab", "Tabs are even.", look), Check("end", "It ends.", note)])
    found = one(proof, "tab.unproved")
    assert found.severity == "error"
    assert 'the check "tab" itself fails' in str(found.sentence)
    assert said in str(found.sentence)
    assert one(proof, "end.reached")


def note(evidence: Evidence) -> tuple[Finding, ...]:
    """Find that the check is reached."""
    return (Finding("end.reached", Severity.NOTE, "", None, None, "reached"),)
