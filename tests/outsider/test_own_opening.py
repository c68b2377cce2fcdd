"""An opening that somebody else's block leaves, by a name of its own: what must pass it is proven, or it is told of."""

from __future__ import annotations

from dataclasses import replace

from drafting.garment import Garment, openings
from drafting.proof import Severity
from drafting.proof.checks.openings import check_openings, opening_rows
from drafting.proof.checks.seams import check_seams
from drafting.proof.finding import Finding
from drafting.saying import render
from drafting.work.hemming import hem_words
from tests.garments import BODY, brief, build
from tests.outsider.package.choir_frills.tube import draft_tube

ALTO = brief("alto")


def found(garment: Garment) -> dict[str, Finding]:
    """What is found of the tube, by its codes."""
    rows = opening_rows(garment, ALTO, openings(garment))
    findings = (*check_openings(garment, ALTO, rows), *check_seams(garment, ALTO, ()))
    return {each.code: each for each in findings if "tube" in each.place}


def test_a_tube_no_head_passes_is_refused() -> None:
    """By the kind that its block brings, with how it is mended; nor can it be stretched onto the neck."""
    told = found(build(ALTO, BODY, [(draft_tube, {"shorter": 0.6})]))
    assert {code: each.severity for code, each in told.items()} == {
        "openings.pass": Severity.ERROR,
        "seams.stretch": Severity.ERROR,
    }
    assert render(told["openings.pass"].remedy, "cm").startswith("make the tube about ")
    assert "the tube (edge) measures" in render(told["openings.pass"].sentence, "cm")


def test_its_edge_is_called_as_its_kind_says() -> None:
    """Its role alone would call it the lower edge."""
    garment = build(ALTO, BODY, [(draft_tube, {})])
    (tube,) = (each for each in openings(garment) if each.name == "tube")
    ((step, _),) = hem_words(garment, tube.run, {}, "cm")
    assert str(step.title) == "Hem of the upper edge of the tube"


def test_an_opening_of_which_nothing_is_said_is_warned_of() -> None:
    """Once, whatever passes through it."""
    silent = replace(build(ALTO, BODY, [(draft_tube, {})]), opening_kinds=())
    told = found(silent)
    assert [(code, each.severity) for code, each in told.items()] == [("openings.unknown", Severity.WARNING)]
