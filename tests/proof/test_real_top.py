"""A top drafted by the blocks proves, and shows what is done to it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from drafting.cloth import Fit
from drafting.finishing import FinishPlan, finish
from drafting.garment.carry import AffineMotion, move_piece
from drafting.geometry import Affine
from drafting.proof import Severity, prove
from drafting.saying import render
from tests.proof.knit_top import BOUND, SLEEVELESS, WHOLE, knit_top, soprano
from tests.proof.reading import codes, one


@pytest.mark.parametrize("blocks", [WHOLE, BOUND, SLEEVELESS], ids=["whole", "bound", "sleeveless"])
@pytest.mark.parametrize("neck", ["round", "v"])
@pytest.mark.parametrize("fit", list(Fit))
def test_drafted_tops_pass(blocks, neck: str, fit: Fit):
    """Nothing that the blocks draft for an ordinary body is an error, whatever its neck, edges and fit."""
    asked = soprano(fit=fit)
    proof = prove(knit_top(asked, blocks, knit_bodice={"front_neck": neck, "front_depth": 60.0}), asked)
    assert proof.of(Severity.ERROR) == ()


def test_ease_of_the_pieces():
    """A semi-fitted knit top has 1 1/2 in at the bust, 3 in at the waist, none at the hip (common practice)."""
    asked = soprano()
    rows = {row.measure: row for row in prove(knit_top(asked), asked).eases}
    got = [rows[f"girth:{name}"].got for name in ("bust", "waist", "hip")]
    assert got == pytest.approx([38.1, 76.2, 0.0], abs=0.5)


def test_a_sleeve_turned_over():
    """The left sleeve drawn from its wrong side is named."""
    asked = soprano()
    top = knit_top(asked)
    sleeve = top.piece("sleeve-left")
    flipped = tuple(replace(line, path=line.path.mirrored().reversed()) for line in reversed(sleeve.ring))
    assert one(prove(top.with_(pieces=[replace(sleeve, ring=flipped)]), asked), "handed.piece").place == "sleeve-left"


def test_a_front_let_out():
    """A front widened by 2 % has the ease that it shows, no more that its seams fit."""
    asked = soprano()
    top = knit_top(asked)
    front = top.piece("front")
    wider = Affine(xx=1.02)
    front = move_piece(front, AffineMotion(wider))
    proof = prove(top.with_(pieces=[front]), asked)
    bust = next(level.path.length for level in front.levels if level.name == "bust")
    found = one(proof, "ease.asked", "girth:bust")
    assert (found.value or 0.0) - (found.limit or 0.0) == pytest.approx(bust * (1 - 1 / 1.02), abs=1e-6)
    assert {"seams.length", "ease.asked"} <= codes(proof)


@pytest.mark.parametrize("neck", ["round", "v"])
def test_following_the_remedy_mends_it(neck: str):
    """A neck too tight for the head passes once its front is lowered by what the remedy says, and not by much less."""
    asked = soprano(cloth=0.25, rib=0.3)
    tight = knit_top(asked, knit_bodice={"front_neck": neck, "front_depth": 0.0})
    found = [f for f in prove(tight, asked).findings if f.code == "openings.pass"]
    by = max(10.0 * float(re.search(r"about ([\d.]+) cm", render(f.remedy, "cm"))[1]) for f in found)
    lower = knit_top(asked, knit_bodice={"front_neck": neck, "front_depth": by})
    assert "openings.pass" not in codes(prove(lower, asked))
    half = knit_top(asked, knit_bodice={"front_neck": neck, "front_depth": by / 2})
    assert "openings.pass" in codes(prove(half, asked))


def test_a_woven_is_refused():
    """A woven can't serve a knit top (common practice), and neither can a steady knit of 10 %."""
    asked = soprano()
    top = knit_top(asked)
    steady = replace(asked, cloth=replace(asked.cloth, stretch_across=0.1))
    found = one(prove(top, steady), "cloth.stretch_across")
    assert (found.value, found.limit) == (0.1, 0.2)
    woven = replace(asked, cloth=replace(asked.cloth, kind="woven"))
    assert "cloth.kind" in codes(prove(top, woven))


def test_pieces_cut_for_it():
    """Finished, every piece is cut once in an outline that scissors can follow; one turned over runs clockwise."""
    asked = soprano()
    top = knit_top(asked)
    cut = finish(top, FinishPlan())
    assert not {code for code in codes(prove(top, asked, cut)) if code.startswith(("cutting", "outlines"))}
    wrong = replace(cut[0], outline=tuple(replace(edge, path=edge.path.mirrored()) for edge in cut[0].outline))
    assert one(prove(top, asked, (wrong, *cut[1:])), "outlines.turned").place == f"cut {cut[0].name}"
    lost = one(prove(top, asked, cut[1:]), "cutting.missing", cut[0].stands_for[0])
    assert lost.limit == 1
