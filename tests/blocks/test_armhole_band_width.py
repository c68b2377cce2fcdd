"""The armhole band's height follows the curve it lies on, where none is asked for."""

from __future__ import annotations

import pytest

from blocks.band import draft_armhole_bands
from blocks.band_options import ArmholeBandOptions
from drafting.cloth import Cloth, Fit
from drafting.proof import prove
from tests.garments import BODY, JERSEY, RIB, SINGERS, brief, build


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("fit", Fit)
@pytest.mark.parametrize("rib", [RIB, JERSEY])
def test_by_rule_it_lies_flat(voice: str, fit: Fit, rib: Cloth) -> None:
    """Without a warning, for any of the choir; and no wider than two inches."""
    b = brief(voice, fit, rib=rib)
    top = build(b, BODY, [(draft_armhole_bands, {})])
    assert not [f.sentence for f in prove(top, b).findings if f.code.startswith("bands.")]
    facts = {fact.name: fact.value for fact in top.facts}
    assert 8.0 <= facts["armhole-band-left_width"] <= 50.8


def test_a_height_asked_for_is_kept() -> None:
    """Whatever the curve; the rule stands in the option's sentence."""
    top = build(brief(), BODY, [(draft_armhole_bands, {"width": 25.0})])
    assert {fact.name: fact.value for fact in top.facts}["armhole-band-left_width"] == 25.0
    sentence = ArmholeBandOptions.__dataclass_fields__["width"].metadata["option"]["sentence"]
    assert "by rule the widest that lies flat" in str(sentence)
