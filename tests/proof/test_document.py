"""The proof as a document: it follows its schema, says the same each time, and reads well as text."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import jsonschema
import pytest

from drafting.garment import Aim, Girth
from drafting.proof import list_finished, proof_document, proof_lines, proof_schema, prove
from drafting.saying import Unit, render
from drafting.units import parse_length
from tests.proof.box_top import box_top, brief, straight, with_line


def broken():
    """A garment with all sorts of faults."""
    top = box_top().without(seams=["cuff-left"])
    top = with_line(top, "front", "side-left", path=straight(240.0, 0.0, 240.0, 399.0))
    return replace(top, aims=(*top.aims, Aim(Girth("knee"), "knee", 400.0, 0.0)))


def document(garment):
    """The document of a garment."""
    return proof_document(prove(garment, brief()), title="Choir top, alto", mark="A1B2", unit="cm")


def test_the_schema_is_a_schema():
    """It holds to JSON Schema draft 2020-12."""
    jsonschema.Draft202012Validator.check_schema(proof_schema())


def test_documents_follow_the_schema():
    """Sound or broken, the document validates, and is plain JSON without NaN."""
    for garment in (box_top(), broken()):
        text = json.dumps(document(garment), allow_nan=False)
        jsonschema.validate(json.loads(text), proof_schema(), cls=jsonschema.Draft202012Validator)


def test_every_field_is_described_or_named():
    """Nothing in the document is left out of the schema: no property is unknown to it."""
    schema = proof_schema()
    assert set(document(box_top())) == set(schema["properties"])
    assert schema["additionalProperties"] is False


def test_documents_are_the_same_each_time():
    """Two proofs of the same garment make the same text."""
    one, two = (json.dumps(document(broken())) for _ in range(2))
    assert one == two


def test_figures_are_rounded_to_a_thousandth():
    """Lengths stand to 0.001 mm."""
    for row in document(box_top())["seams"]:
        assert all(length == round(length, 3) for length in row["lengths"])


def test_angles_are_in_degrees():
    """Angles are radians inside and degrees in the document."""
    top = with_line(box_top(), "front", "hem-left", path=straight(0.0, -60.0, 240.0, 0.0))
    found = [f for f in document(top)["findings"] if f["code"] == "joins.smooth"]
    assert found
    assert all(f["measure"] == "deg" and f["limit"] == round(math.degrees(0.087), 3) for f in found)


def test_text_says_whether_it_passed():
    """The first line is the verdict; an error stands before its remedy; tables line up."""
    lines = proof_lines(prove(box_top(), brief()), "cm")
    assert lines[0].startswith("Proven. Findings: ")
    assert "error" not in lines[0]
    assert "Ease" in lines
    failed = proof_lines(prove(broken(), brief()), "in")
    assert failed[0].startswith("NOT PROVEN. Findings: ")
    assert failed[1].startswith("ERROR")
    assert failed[2].startswith("    ")
    assert any("All seams joined: one garment" in line for line in lines)
    held = " ".join(lines).partition("Against the body")[2]
    assert "“At least” and “at most” are the usual limits for this body" in held.partition("Openings")[0]
    assert any(line.startswith("Not measured") for line in lines)


@pytest.mark.parametrize("unit", ["cm", "in", "mm"])
def test_body_and_ease_make_up_the_finished_measure_as_they_are_told(unit: Unit):
    """In eighths of an inch, too: what is read off the table adds up."""
    for _, *told in list_finished(prove(box_top(), brief()), unit):
        body, ease, finished = (parse_length(figure, where="told", negative=True) for figure in told)
        assert body + ease == pytest.approx(finished, abs=1e-6)


@pytest.mark.parametrize("width", [50, 80])
def test_no_line_is_wider_than_the_terminal(width: int):
    """Tables too; nothing is lost by it but where lines end."""
    for garment in (box_top(), broken()):
        proof = prove(garment, brief())
        narrow = proof_lines(proof, "cm", width=width)
        assert max(map(len, narrow)) <= width
        for finding in proof.findings:
            if finding.severity != "note":
                assert "".join(render(finding.sentence, "cm").split()) in "".join("".join(narrow).split())


def test_only_estimates_that_concern_the_garment_are_told_and_in_few_words():
    """What, how much, how sure; its formula is left to the document."""
    proof = prove(box_top(), brief())
    lines = proof_lines(proof, "cm", concerned={"shoulder_slope", "calf_girth"})
    told = lines[next(i for i, line in enumerate(lines) if line.startswith("Not measured")) + 1 :]
    assert [line.split("  ")[1] for line in told] == ["shoulder slope", "calf girth"]
    assert all("±" in line and "stature" not in line and len(line) < 60 for line in told)
    assert lines[0].endswith("Findings: 1 note")  # the box's armhole is straight: no estimate is counted


def test_lengths_in_sentences_are_in_the_makers_unit():
    """Whatever the check wrote."""
    for unit, others in (("in", (" mm", " cm")), ("mm", (" cm", " in ")), ("cm", (" in ",))):
        told = [render(f.sentence, unit) for f in prove(broken(), brief()).findings if f.code.startswith("seams.")]
        assert told
        assert all(other not in f"{sentence.replace('1 mm', '')} " for sentence in told for other in others)
