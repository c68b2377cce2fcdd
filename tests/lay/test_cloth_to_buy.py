"""How much cloth to buy, and how that is said."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from drafting.cloth import Stripe
from drafting.lay import plan_lays, search
from drafting.lay.buying import list_cloth_to_buy
from drafting.lay.cutting import THOROUGH
from drafting.lay.pack import ClothStrip, PartPlace, Way
from drafting.lay.plan import SQUARED, to_buy
from drafting.lay.search import GAP, SearchDepth
from drafting.lay.shared import ToLay, plan_shared_lays
from drafting.lay.widths import SHOP_WIDTHS, list_rungs
from drafting.lay.words import describe_spreads, show_cloth_length, tell_longer
from drafting.mending import Advice, Mend
from drafting.proof.checks.cutting import SELVEDGES
from tests.garments import JERSEY
from tests.lay.laying import lays, made


@pytest.mark.parametrize(("length", "shrink", "unit", "buy"), [
    (950.0, 0.0, "cm", "1.0 m"),
    (950.1, 0.0, "cm", "1.1 m"),
    (950.0, 0.10, "cm", "1.2 m"),
    (1321.0, 0.0, "in", "1 1/2 yd"),
    (1322.0, 0.0, "in", "1 5/8 yd"),
    (864.0, 0.0, "in", "1 yd"),
    (60.0, 0.0, "in", "1/8 yd"),
    (0.0, 0.1, "cm", "0.0 m"),
])  # fmt: skip
def test_it_is_rounded_up_as_it_is_sold(length: float, shrink: float, unit: str, buy: str) -> None:
    """Squared ends and what the wash takes are added first; tenths of a metre, eighths of a yard of 914.4 mm."""
    assert SQUARED == 50.0
    assert show_cloth_length(to_buy(length, replace(JERSEY, shrink_along=shrink), unit), unit) == buy


def test_what_the_wash_takes_is_bought_and_its_width_lost() -> None:
    """A cloth that shrinks is washed first: it is laid as it is then."""
    what = made("basic-tee")
    washed = replace(
        what, brief=replace(what.brief, cloth=replace(what.brief.cloth, shrink_along=0.08, shrink_across=0.05))
    )
    plain, shrunk = lays(what)[0], lays(washed)[0]
    assert shrunk.width == pytest.approx((plain.width + 20.0) * 0.95 - 20.0)
    assert shrunk.buy >= (shrunk.length + 50.0) / 0.92
    assert "8 % in length and 5 % in width" in " ".join(describe_spreads(shrunk, "cm")[0].lines)


def test_the_booklet_buys_what_the_plan_takes_and_never_more_in_wider_cloth() -> None:
    """One figure for the ticket's width; in a shop's at most so much; a piece may be too wide for a narrow cloth."""
    what = made("basic-tee")
    told = list_cloth_to_buy(what.garment, what.cut, what.brief, lays(what), "cm")
    assert [each.kind for each in told] == ["main", "rib"]
    for each, lay in zip(told, lays(what), strict=True):
        assert each.lengths[0] == (each.cloth.width, lay.buy)
        assert {width for width, _ in each.lengths} == {each.cloth.width, *SHOP_WIDTHS["cm"]}
        bought = [length for _, length in sorted(each.lengths)]
        assert bought == sorted(bought, key=lambda length: -(length or 0.0))
    narrow = replace(what.brief, cloth=replace(what.brief.cloth, width=450.0))
    too_wide = list_cloth_to_buy(what.garment, what.cut, narrow, lays(what, width=450.0), "cm")
    assert too_wide[0].lengths[0] == (450.0, None)
    stiff = made("sheath-dress")
    named = list_cloth_to_buy(stiff.garment, stiff.cut, stiff.brief, lays(stiff), "in")
    assert (named[-1].kind, named[-1].lengths[0][0]) == ("interfacing", 914.4)


def test_no_plan_takes_more_in_a_width_than_was_told_of_it() -> None:
    """Though the plan's own search is a poor one there: what was found for the telling is found again."""
    what = made("basic-tee")
    told = list_cloth_to_buy(what.garment, what.cut, what.brief, lays(what), "cm")[0]
    for width, length in told.lengths[1:]:
        assert length is not None
        assert lays(what, None, width, SearchDepth(tries=1, cell=40.0))[0].buy <= length


def test_less_than_the_booklet_says_is_told_with_the_reason() -> None:
    """Which only a longer search finds."""
    lay = lays(made("basic-tee"))[0]
    shorter = " ".join(describe_spreads(replace(lay, buy=lay.buy - 100.0, spared=100.0), "cm")[0].lines)
    told = f"The booklet says {show_cloth_length(lay.buy, 'cm')}: the longer search found this shorter lay."
    assert told in shorter
    assert "The booklet says" not in " ".join(describe_spreads(lay, "cm")[0].lines)


def test_a_longer_search_is_named_where_it_may_save_cloth() -> None:
    """Of each cloth with more than a few parts that cover little of it; not where they cover it well."""
    main, rib = lays(made("basic-tee"))
    (spread,) = main.spreads
    assert [line for line in tell_longer([main, rib]) if "the main cloth: --time" in line]
    assert not tell_longer([replace(main, spreads=(replace(spread, length=spread.length * spread.used / 0.85),)), rib])


def test_what_is_told_of_stripes() -> None:
    """Where each part lies against the stripe, where they meet, and where they can't."""
    words = " ".join(describe_spreads(lays(made("basic-tee"), Stripe(40.0))[0], "cm")[0].lines)
    assert "Stripes across, every 4.0 cm" in words
    assert "They meet at: " in words
    assert "left side" in words.partition("They meet at: ")[2]
    assert "front notch" in words
    assert "As is usual, they aren't brought together at: left shoulder; right shoulder." in words


def test_each_seam_of_an_overlay_is_told_once_whether_stripes_meet_there() -> None:
    """Of three layers those that are seen, in front and behind; and that nothing brings shoulders together."""
    words = " ".join(describe_spreads(lays(made("diagonal-overlay-top"), Stripe(40.0))[0], "cm")[0].lines)
    assert words.count("diagonal seam") == 2
    for face in ("Front", "Back"):
        assert words.count(f"diagonal seam, all three layers: {face} shoulder piece and {face} overlay") == 1
    assert "left shoulder; right shoulder" in words.partition("As is usual, they aren't brought together at: ")[2]
    assert "binding" not in words.partition("They meet at: ")[2]


def test_what_is_told_of_a_part_that_is_too_wide() -> None:
    """It is named with its width and what there is, and how to mend it."""
    says = describe_spreads(lays(made("basic-tee"), width=450.0)[0], "cm")[0]
    words = " ".join(says.lines)
    assert "Not laid: A Front is " in words
    assert "43.0 cm can be used" in words
    assert "or part it by a seam." in words
    wide = re.search(r"Take a cloth at least ([0-9]+).0 cm wide", words)
    assert wide is not None
    assert not lays(made("basic-tee"), width=float(wide[1]) * 10.0)[0].too_wide
    assert says.buy.endswith("for what is laid; not all of it is")


def test_a_layer_that_hangs_is_told_to_take_wider_cloth_alone() -> None:
    """No change parts an overlay, whatever is installed; the piece beneath it is parted."""
    lay = lays(made("diagonal-overlay-tank"), width=500.0)[0]
    advice = Advice("centre", Mend("piece-too-wide", 'part it down its middle: change = "{change}"'))
    lines = describe_spreads(lay, "cm", {"piece-too-wide": [advice]}.__getitem__)[0].lines
    told = [line for line in lines if line.startswith("Not laid: ")]
    hanging = [line for line in told if "overlay is" in line]
    assert len(hanging) == 2
    assert all("This piece can't be parted: take a cloth at least " in line for line in hanging)
    assert all("part it down" in line for line in told if line not in hanging)


def test_a_change_that_parts_a_piece_too_wide_is_advised() -> None:
    """By whichever installed change says so, in its own words."""
    lay = lays(made("basic-tee"), width=450.0)[0]
    advice = Advice("godet", Mend("piece-too-wide", 'cut it in two: change = "{change}"'))
    words = " ".join(describe_spreads(lay, "cm", {"piece-too-wide": [advice]}.__getitem__)[0].lines)
    assert ' cm wide, or cut it in two: change = "godet".' in words


def test_interfacing_is_laid_and_bought_as_a_cloth_of_its_own() -> None:
    """What is stiffened is cut from it once more; a knit without facings needs none; its width may be said."""
    *_, faced = lays(made("princess-top"))
    assert (faced.kind, faced.cloth.width, faced.one_way) == ("interfacing", 900.0, True)
    assert {each.part.piece.title for each in faced.laid} == {"Front facing", "Back facing"}
    assert "glue side up" in " ".join(describe_spreads(faced, "cm")[0].lines)
    assert all(lay.kind != "interfacing" for lay in lays(made("basic-tee")))
    what = made("princess-top")
    own = replace(what.brief.cloth, name="fusible", width=1500.0)
    brief = replace(what.brief, cloths={**what.brief.cloths, "interfacing": own})
    *_, wide = plan_lays(what.garment, what.cut, brief)
    assert (wide.kind, wide.cloth.width) == ("interfacing", 1500.0)


@pytest.mark.parametrize("stripe", [None, Stripe(60.0)], ids=["plain", "striped"])
def test_a_wider_cloth_never_needs_more_length(stripe: Stripe | None) -> None:
    """Of any width, also where the widest part nearly fills it: a wider cloth takes the lay of a narrower one."""
    depth = SearchDepth(tries=24, cell=15.0, narrower=True)
    what = made("basic-tee" if stripe else "knit-top")
    widest = math.ceil(max(each.part.width for each in lays(what, stripe)[0].laid) + SELVEDGES + GAP)
    widths = sorted([*(widest + 2.0 * k for k in range(3)), widest + 53.0, *(_SOLD if stripe is None else (1437.0,))])
    found = [lays(what, stripe, width, depth)[0] for width in widths]
    assert not any(each.too_wide for each in found)
    lengths = [each.length for each in found]
    assert lengths == sorted(lengths, reverse=True)
    assert len(set(lengths)) > 1


def test_several_garments_never_need_more_of_a_wider_cloth() -> None:
    """Of a shop's widths and between: each is laid alone, then both together, in every width up to the cloth's."""
    what = [(voice, made("knit-top", voice)) for voice in ("soprano", "alto")]
    found = []
    for width in (1121.0, 1287.0, 1400.0, 1481.0):
        briefs = [replace(one.brief, cloth=replace(one.brief.cloth, width=width)) for _, one in what]
        both = [ToLay(who, one.garment, one.cut, brief) for (who, one), brief in zip(what, briefs, strict=True)]
        found.append(plan_shared_lays(both, "cm", how=SearchDepth(tries=24, cell=15.0, narrower=True))[0])
    lengths = [lay.length for lay in found]
    assert lengths == sorted(lengths, reverse=True)
    assert all(lay.needs < lay.alone for lay in found)


def test_a_narrow_cloth_with_one_small_part_is_laid() -> None:
    """No rung is narrower than cloth may be."""
    assert [*list_rungs(260.0, "cm")] == [250.0, 200.0]
    assert not [*list_rungs(199.0, "cm")]
    assert lays(made("basic-tee"), how=THOROUGH)[1].laid


_SOLD = (1120.0, 1193.0, 1421.0, 1437.0, 1551.0)


def test_the_lay_of_a_narrower_cloth_is_taken_where_it_is_shorter(monkeypatch: pytest.MonkeyPatch) -> None:
    """Though the search on the whole width stops at a poor lay: parts keep to the narrower cloth's room."""
    narrow = lays(made("basic-tee"), width=1400.0)[0]
    searched = search.pack_shortest

    def poor(ways: Sequence[Sequence[Way]], strip: ClothStrip, *rest: Any) -> tuple[PartPlace, ...]:
        return searched(ways, replace(strip, taken=(1 << strip.columns * 200) - 1) if poor_on(strip) else strip, *rest)

    def poor_on(strip: ClothStrip) -> bool:
        return strip.columns * strip.cell[0] > 1400.0

    monkeypatch.setattr(search, "pack_shortest", poor)
    wide = lays(made("basic-tee"), None, 1550.0, THOROUGH)[0]
    assert wide.length == pytest.approx(narrow.length)
    assert wide.width == 1530.0
    assert wide.spared > 0.0
    assert max(float(each.ring[:, 0].max()) for each in wide.laid) <= narrow.width
