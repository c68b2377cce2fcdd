"""The armhole band's height follows the curve it lies on, where none is asked for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.band import draft_armhole_bands
from blocks.band_options import ArmholeBandOptions
from drafting.cloth import Cloth, Fit
from drafting.garment import Side, begin_garment
from drafting.garment.armholes import take_armhole
from drafting.garment.shoulders import take_shoulder
from drafting.proof import Severity, prove
from drafting.proof.fit import fit_rows
from tests.blocks.surveyed import person
from tests.garments import BODY, JERSEY, RIB, SINGERS, brief, build


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("fit", Fit)
@pytest.mark.parametrize("rib", [RIB, JERSEY])
def test_by_rule_it_lies_flat(voice: str, fit: Fit, rib: Cloth) -> None:
    """Without a warning, for any of the choir; and no wider than 2 cm."""
    b = brief(voice, fit, rib=rib)
    top = build(b, BODY, [(draft_armhole_bands, {})])
    assert not [f.sentence for f in prove(top, b).findings if f.code.startswith("bands.")]
    facts = {fact.name: fact.value for fact in top.facts}
    assert 8.0 <= facts["armhole-band-left_width"] <= 20.0


def test_a_height_asked_for_is_kept() -> None:
    """Whatever the curve; the rule stands in the option's sentence."""
    top = build(brief(), BODY, [(draft_armhole_bands, {"width": 25.0})])
    assert {fact.name: fact.value for fact in top.facts}["armhole-band-left_width"] == 25.0
    sentence = ArmholeBandOptions.__dataclass_fields__["width"].metadata["option"]["sentence"]
    assert "by rule the widest that lies flat" in str(sentence)


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("fit", Fit)
@pytest.mark.parametrize("rib", [RIB, JERSEY])
def test_its_edge_lies_where_an_armholes_edge_does(voice: str, fit: Fit, rib: Cloth) -> None:
    """Inside the bone and 0 to 2 cm below the armpit, and it goes round the arm at rest."""
    b = brief(voice, fit, rib=rib)
    top = build(b, BODY, [(draft_armhole_bands, {"width": 20.0})])
    for side in (Side.LEFT, Side.RIGHT):
        armhole, shoulder = take_armhole(top, side), take_shoulder(top, side)
        assert armhole is not None
        assert shoulder is not None
        assert shoulder.length is not None
        assert shoulder.length + 20.0 <= b.body["shoulder_length"] - 4.9
        assert -0.1 <= armhole.depth - 20.0 - b.body["scye_depth_length"] <= 25.0
        assert armhole.edge >= b.body["armscye_girth"] * (0.99 if fit is Fit.CLOSE else 1.0)
    assert not {f.code for f in prove(top, b).findings} & EDGE_ROWS


EDGE_ROWS = {"fit.shoulder_length", "fit.armhole_depth", "fit.armhole_length"}


@pytest.mark.parametrize("fit", Fit)
def test_a_short_armhole_is_cut_out_for_its_band(fit: Fit) -> None:
    """A tall man's is small for his arm: it is cut lower and farther in until a rib of 0.88 of it goes round the arm.

    Its folded edge, as long as the band, lies flat at L - theta w (derived, facts of the cloth).
    """
    b = brief(person("bodies_2012_men", TALL), fit)
    top = build(b, BODY, [(draft_armhole_bands, {"width": 20.0})])
    facts, armhole = {fact.name: fact.value for fact in top.facts}, take_armhole(top, Side.LEFT)
    assert armhole is not None
    share = facts["armhole-band-left_ratio"]
    assert 0.80 <= share <= 0.88
    assert share * armhole.length >= 0.95 * b.body["armscye_girth"]
    assert share <= 1.0 - facts["armhole-band-left_turning"] * 20.0 / armhole.length + 0.07
    proof = prove(top, b)
    warned = {f.code for f in proof.findings if f.severity is not Severity.NOTE}
    assert not warned & (EDGE_ROWS | {"fit.armhole_band"})
    assert armhole.depth - 20.0 - b.body["scye_depth_length"] <= {Fit.CLOSE: 25.1, Fit.SEMI: 28.1}.get(fit, 30.1)
    # The bust's level lies in the armhole: the chest is told all the same, at the underarm.
    assert [row.name for row in proof.fit].count("bust_width") == 1


TALL = 57
"""The row of a man of 2012 whose armscye is long beside his scye depth."""


def test_a_band_as_long_as_its_edge_is_told() -> None:
    """It stands off, and a rib as short as what is usual doesn't."""
    shares = {0.95: True, 0.84: False, 0.70: True}
    for share, told in shares.items():
        top = build(brief(), BODY, [(draft_armhole_bands, {"width": 20.0, "ratio": share})])
        assert ("fit.armhole_band" in {f.code for f in prove(top, brief()).findings}) is told


@pytest.mark.parametrize("fit", Fit)
def test_one_on_an_armhole_for_a_sleeve_is_told(fit: Fit) -> None:
    """A band that nothing was taken off for: its edge lies beyond the bone, and a close one's above the armpit."""
    b = brief("soprano", fit)
    [(step, options)] = BODY
    sleeved = step.apply(begin_garment([step]), b, step.options(**options))
    top = draft_armhole_bands.apply(sleeved, b, ArmholeBandOptions(width=20.0))
    told = {f.code for f in prove(top, b).findings} & EDGE_ROWS
    assert told >= ({"fit.armhole_depth"} if fit is Fit.CLOSE else {"fit.shoulder_length"})


def test_one_on_one_side_leaves_the_other_as_it_is() -> None:
    """The other armhole has no band, and nothing is taken off it."""
    plain, one = build(brief(), BODY), build(brief(), BODY, [(draft_armhole_bands, {"arm": "left"})])
    depths = [(take_armhole(plain, side), take_armhole(one, side)) for side in (Side.LEFT, Side.RIGHT)]
    moved = [now.depth - was.depth for was, now in depths if was is not None and now is not None]
    assert moved[0] > 10.0
    assert moved[1] == 0.0


@pytest.mark.parametrize(("longer", "told"), [(1.10, None), (1.16, Severity.NOTE), (1.23, Severity.WARNING)])
def test_an_edge_that_gapes_is_told_whatever_its_band_fills(longer: float, told: Severity | None) -> None:
    """At rest 1.03 to 1.12 of the body's armhole (from memory); what is cut in for the band makes it no longer."""
    b = brief("soprano", Fit.RELAXED)
    top = build(b, BODY, [(draft_armhole_bands, {"width": 20.0})])
    armhole, cut_in = take_armhole(top, Side.LEFT), [row for row in fit_rows(top, b) if row.name == "armhole_length"]
    assert armhole is not None
    body = replace(b.body, values={**b.body.values, "armscye_girth": (armhole.edge - cut_in[0].meant) / longer})
    row = next(row for row in fit_rows(top, replace(b, body=body)) if row.name == "armhole_length")
    assert (row.severity if row.beyond else None) == told


def test_an_underarm_asked_for_is_kept_under_a_band() -> None:
    """By as much lower as it is asked for lower, where else the band's rule would raise it."""
    depths = []
    for drop in (30.0, 60.0):
        body = tuple((step, {**options, "underarm_drop": drop}) for step, options in BODY)
        armhole = take_armhole(build(brief(), body, [(draft_armhole_bands, {"width": 20.0})]), Side.LEFT)
        assert armhole is not None
        depths.append(armhole.depth)
    assert depths[1] - depths[0] == pytest.approx(30.0, abs=3.0)
