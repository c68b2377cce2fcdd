"""Several garments on one cloth: every part once, apart from the others, on less cloth than one by one."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
import shapely

from drafting.cloth import Flaw, Stripe
from drafting.lay import grouped, plan_lays
from drafting.lay.places import find_flaws
from drafting.lay.plan import QUICK
from drafting.lay.search import GAP
from drafting.lay.shared import ToLay, plan_shared_lays, tell_nearly_alike
from drafting.lay.words import describe_spreads, show_cloth_length, tell_together
from drafting.output import PrintInfo
from drafting.output.pages.lay_page import lay_pdf
from drafting.paper import PaperPlan
from tests.cli.running import run
from tests.laws.jobs import WEARER
from tests.lay.laying import lays, made

VOICES = ("soprano", "tenor", "bass")


def to_lay(*voices: str, design: str = "basic-tee", **cloth: Any) -> list[ToLay]:
    """A tee for each voice, from one cloth."""
    found = []
    for number, voice in enumerate(voices):
        what = made(design, voice)
        brief = replace(what.brief, cloth=replace(what.brief.cloth, **cloth))
        found.append(
            ToLay(voice if voices.index(voice) == number else f"{voice} {number}", what.garment, what.cut, brief)
        )
    return found


def test_tees_for_three_voices_lie_together_on_less_cloth() -> None:
    """By shapely: none overlaps another; and what is cut from the rib lies together on that."""
    main, rib = plan_shared_lays(to_lay(*VOICES), "cm")
    alone = [lays(made("basic-tee", voice)) for voice in VOICES]
    assert main.length < sum(each[0].length for each in alone)
    for lay, at in ((main, 0), (rib, 1)):
        assert len(lay.laid) == sum(len(each[at].laid) for each in alone)
        shapes = [shapely.Polygon(each.ring) for each in lay.laid]
        assert all(one.distance(two) >= 2.9 for i, one in enumerate(shapes) for two in shapes[:i])
    assert {each.part.owner for each in main.laid} == set(VOICES)


HOLES = (Flaw("hole", 700.0, 900.0, 40.0, 60.0), Flaw("stain", 100.0, 1400.0, 50.0, 50.0))


@pytest.mark.parametrize("cloth", [
    {},
    {"stripe": Stripe(60.0)},
    {"stripe": Stripe(60.0, "check"), "flaws": HOLES},
    {"stripe": Stripe(45.0), "shrink_along": 0.08, "cut_unwashed": True},
], ids=["plain", "striped", "checked and flawed", "cut unwashed"])  # fmt: skip
def test_garments_together_never_take_more_than_one_after_the_other(cloth: dict[str, Any]) -> None:
    """Overlay tops, two of them alike, which a search for all parts lays longer; sound as any lay (by shapely)."""
    made_of = to_lay("soprano", "alto", "soprano", design="diagonal-overlay-top", **cloth)
    lay = plan_shared_lays(made_of, "cm", how=QUICK)[0]
    assert sorted(each.part.owner for each in lay.laid) == sorted(9 * ["soprano", "alto", "soprano 2"])
    assert lay.needs <= lay.alone
    if not lay.cloth.flaws:
        alone = [plan_lays(each.garment, each.cut, each.brief, how=QUICK)[0] for each in made_of]
        assert lay.alone == pytest.approx(math.fsum(each.needs for each in alone))
        steps = 2.0 * (GAP + sum(each.stripe.repeat for each in lay.stripes if each.is_across))
        assert lay.length <= math.fsum(each.length for each in alone) + steps * lay.cloth.growth[1]
    shapes = [shapely.Polygon(each.ring) for each in lay.laid]
    assert all(one.distance(two) >= 2.9 for i, one in enumerate(shapes) for two in shapes[:i])
    (spread,) = lay.spreads
    for shape in shapes:
        left, low, right, high = shape.bounds
        assert min(left, low, spread.width - right, spread.length - high) >= -1e-6
        for x, y, end, top in find_flaws(spread):
            assert not shape.intersects(shapely.box(x - spread.left, y, end - spread.left, top))
    for tied in lay.stripes:
        for each in (each for each in lay.laid if each.part.tied):
            at = (each.ring - each.part.ring * lay.cloth.growth)[0, int(tied.is_across)]
            off = (at - tied.shifts[each.part.key] - tied.first) % tied.stripe.repeat
            assert min(off, tied.stripe.repeat - off) < 1e-6


def test_each_garment_keeps_its_own_stripes() -> None:
    """Side seams of each meet, though pieces of the several garments have the same names."""
    main, *_ = plan_shared_lays(to_lay("soprano", "tenor", stripe=Stripe(40.0)), "cm")
    sides = [match for match in main.stripes[0].matches if match.seam.startswith("side")]
    assert len(sides) == 4
    assert all(match.off < 1e-6 for match in sides)
    laid = main.stripes[0]
    (one, *others) = laid.matches
    askew = replace(main, stripes=(replace(laid, matches=(replace(one, off=5.0), *others)),))
    words = " ".join(describe_spreads(askew, "cm")[0].lines)
    assert f"They can't meet as well at: {one.title}, {one.owner} by 0.5 cm" in words


def test_another_cloth_is_laid_by_itself() -> None:
    """What differs in one figure is another cloth; a slip in the tickets can be told by the figure."""
    one, two = to_lay("soprano", "tenor")
    other = replace(two, brief=replace(two.brief, cloth=replace(two.brief.cloth, width=1400.0)))
    assert len(plan_shared_lays([one, other], "cm")) == len(plan_shared_lays([one, two], "cm")) + 1
    assert list(tell_nearly_alike([one, other])) == [
        "main cloth of soprano and of tenor: their tickets differ in width"
    ]
    third = replace(other, owner="bass", brief=replace(two.brief, cloth=replace(two.brief.cloth, width=1300.0)))
    assert list(tell_nearly_alike([one, other, third])) == [
        "main cloth of soprano, of tenor and of bass: their tickets differ in width"
    ]
    assert not list(tell_nearly_alike([one, two]))


def test_a_long_lay_is_drawn_stretch_by_stretch() -> None:
    """Each page tells from where to where it shows the cloth; every letter stands on one of them."""
    plan = lay_pdf(plan_shared_lays(to_lay(*VOICES), "cm"), PrintInfo("Tops", "Choir", "ABC123"), PaperPlan())
    words = " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(plan))
    assert "0.0 cm to" in words
    assert all(f"Front, {voice}" in words for voice in VOICES)


def test_what_has_no_room_for_its_place_is_told_on_the_page_where_it_lies() -> None:
    """Of a lay drawn stretch by stretch: the page that tells of a binding shows where it lies."""
    tops = to_lay("soprano", "alto", "tenor", design="diagonal-overlay-top", stripe=Stripe(60.0))
    plan = lay_pdf(plan_shared_lays(tops, "cm", how=QUICK)[:1], PrintInfo("Tops", "Choir", "ABC123"), PaperPlan())
    told = 0
    for page in pypdfium2.PdfDocument(plan):
        words = " ".join(page.get_textpage().get_text_bounded().split())
        shown = re.search(r"([0-9.]+) cm to ([0-9.]+) cm from the cut end, of", words)
        for each in re.findall(r"Neck binding, \w+: left [0-9.]+ cm, end ([0-9.]+) cm", words):
            assert shown is not None
            assert float(shown[1]) - 2.0 <= float(each) <= float(shown[2])
            told += 1
    assert told == len(tops)


@pytest.mark.parametrize(("more", "status"), [([], 0), (["--demo"], 2)])
def test_the_command_takes_several_tickets(
    more: list[str], status: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """And tells what is saved against laying them one by one."""
    for name in ("soprano", "tenor"):
        text = f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER.replace("Soprano", name.capitalize())}'
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
    tickets = [str(tmp_path / f"{name}.toml") for name in ("soprano", "tenor")]
    done = run(capsys, "lay", *tickets, *more, "--out", str(tmp_path / "plan.pdf"))
    assert done.status == status
    assert ("laid one by one" in " ".join(done.out.split())) is (status == 0)


def test_what_laying_together_spares_is_reckoned_from_the_lays() -> None:
    """By what they need; told apart from ends squared once, and what is bought; else they are laid one by one."""
    main, rib = plan_shared_lays(to_lay(*VOICES[:1]), "cm")
    assert (main.ends, main.singly) == (0.0, main.buy)
    less = replace(main, alone=main.needs + 90.0, ends=50.0, singly=main.buy + 200.0)
    told = tell_together([less, rib], "cm")
    assert "of all cloths, about 9 cm less than laid one by one (4 cm because they lie closer, the rest" in told
    assert f"one by one it would be {show_cloth_length(main.buy + rib.buy + 200.0, 'cm')}." in told
    assert "of all cloths" not in tell_together([less], "cm")
    assert "(all because" in tell_together([replace(less, ends=90.0)], "cm")
    assert "lay them one by one" in tell_together([replace(main, alone=main.needs - 40.0)], "cm")
    assert "as much as laid one by one." in tell_together([main, rib], "cm")
    both = plan_shared_lays(to_lay("soprano", "soprano", shrink_along=0.08), "cm", how=QUICK)[0]
    assert both.ends == pytest.approx(50.0 / 0.92)


@pytest.mark.parametrize("cloth", [{}, {"stripe": Stripe(60.0)}], ids=["plain", "striped"])
def test_many_garments_are_searched_longer_in_groups(cloth: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """These lie one after the other, where that is shorter than a poor lay of all; sound as any lay (by shapely)."""
    monkeypatch.setattr(grouped, "GROUP", 1)
    monkeypatch.setattr(grouped, "FIRST", QUICK)
    monkeypatch.setattr(grouped, "shorten_lays", lambda lays, *_: tuple(lays))
    both = to_lay("soprano", "tenor", **cloth)
    found = plan_shared_lays(both, "cm", how=QUICK)
    assert grouped.shorten_shared_lays(both, found, 8, "cm") == found
    (spread,) = found[0].spreads
    poor = replace(found[0], spreads=(replace(spread, length=2.0 * spread.length),))
    assert grouped.shorten_shared_lays(both, [poor], 1, "cm")[0] is poor
    (lay,) = grouped.shorten_shared_lays(both, [poor], 8, "cm")
    assert lay.length < poor.length
    assert (lay.alone, lay.ends) == (poor.alone, poor.ends)
    assert sorted(each.part.key for each in lay.laid) == sorted(each.part.key for each in found[0].laid)
    shapes = [shapely.Polygon(each.ring) for each in lay.laid]
    assert all(one.distance(two) >= 2.9 for i, one in enumerate(shapes) for two in shapes[:i])
    for stripe in lay.stripes:
        off = [(each.ring[0] - each.part.ring[0])[1] - stripe.shifts[each.part.key] - stripe.first for each in lay.laid]
        assert all(abs(at - 60.0 * round(at / 60.0)) < 0.1 for at in off)
