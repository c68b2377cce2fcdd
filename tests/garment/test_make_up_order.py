"""The make-up order, derived from what each seam crosses, against the trade's own order."""

from __future__ import annotations

import pytest

from drafting.errors import DraftingError
from drafting.garment import Garment
from drafting.work import crossings, make_up, rank, turned_edges
from tests.garment.small import darted, seam, sheet, tube
from tests.garments import BODY, SLEEVED, TOP, brief, build


def test_a_band_right_round_comes_after_the_seams_it_crosses() -> None:
    """A band on a tube's top runs over both side seams, and its own end is joined first."""
    band = sheet("band", 600.0, 40.0)
    garment = tube().with_(
        pieces=[band],
        seams=[
            seam("band", ("front.top back.top", "-band.low"), kind="band"),
            seam("band-end", ("band.right", "-band.left"), kind="end"),
        ],
    )
    assert set(crossings(garment)["band"]) == {"left", "right", "band-end"}
    assert [task.seam for task in make_up(garment)][-1] == "band"


def test_seams_that_cross_nothing_keep_their_order() -> None:
    """As the garment lists them."""
    assert [task.seam for task in make_up(tube())] == ["left", "right"]
    assert all(not task.before for task in make_up(tube()))


def test_panels_before_the_yoke_they_hang_from() -> None:
    """A run over two panels crosses the seam between them, at a T joint."""
    garment = Garment(
        (sheet("yoke"), sheet("one", 150.0), sheet("two", 150.0)),
        (
            seam("yoke", ("yoke.low", "-one.top -two.top"), kind="style"),
            seam("panels", ("one.right", "-two.left"), kind="style"),
        ),
    )
    assert [task.seam for task in make_up(garment)] == ["panels", "yoke"]


def test_a_dart_is_sewn_before_the_seam_that_crosses_it() -> None:
    """Within one piece: the run goes on over the closed dart, and is measured without its intake."""
    garment = darted()
    assert crossings(garment) == {"waist": ("dart",), "dart": ()}
    assert [task.seam for task in make_up(garment)] == ["dart", "waist"]
    bodice, skirt = (garment.run_length(ply) for ply in garment.seam("waist").plies)
    assert bodice == pytest.approx(skirt)


def test_seams_that_each_need_the_other_first_are_refused() -> None:
    """Four sheets round one point, whose two seams run over one another, can't be sewn."""
    names = ("nw", "ne", "se", "sw")
    pieces = tuple(sheet(name, 100.0, 100.0) for name in names)
    across = seam("across", ("nw.low ne.low", "-sw.top -se.top"))
    down = seam("down", ("-nw.right -sw.right", "ne.left se.left"))
    ring = Garment(pieces, (across, down))
    need = crossings(ring)
    assert need["across"] == ("down",)
    assert need["down"] == ("across",)
    with pytest.raises(DraftingError, match="another sewn first"):
        make_up(ring)


def test_a_knit_top_is_made_up_in_the_trades_order() -> None:
    """Shoulders, neck band; sleeves set flat before side and underarm in one go; cuffs and hem band after those.

    Common practice for knit tops with set-in sleeves; flat setting also in a home-sewing article of 2013.
    """
    garment = build(brief(), TOP)
    at = rank(garment)
    for side in ("left", "right"):
        assert at[f"shoulder-{side}"] < at["neck-band"]
        assert at[f"shoulder-{side}"] < at[f"armhole-{side}"]
        assert at[f"armhole-{side}"] < at[f"side-{side}"]
        assert at[f"side-{side}"] < at[f"cuff-{side}"]
        assert at[f"side-{side}"] < at["hem-band"]
        assert at[f"cuff-{side}-end"] < at[f"cuff-{side}"]
    assert at["neck-band-end"] < at["neck-band"]
    assert sorted(at.values()) == list(range(len(garment.seams)))


def test_the_side_and_the_underarm_are_one_seam() -> None:
    """From the hem to the wrist, crossing the armhole seam; not set in the round."""
    garment = build(brief(), SLEEVED)
    side = garment.seam("side-left")
    assert len(side.sections) == 2
    assert crossings(garment)["side-left"] == ("armhole-left",)
    assert "side-left" not in crossings(garment)["armhole-left"]


def test_a_sleeveless_armhole_band_comes_after_the_side() -> None:
    """It goes right round, over shoulder and side."""
    from blocks.band import draft_armhole_bands

    garment = build(brief(), BODY, [(draft_armhole_bands, {"width": 20.0})])
    assert {"shoulder-left", "side-left"} <= set(crossings(garment)["armhole-band-left"])


def test_hems_are_turned_up_at_the_end() -> None:
    """They are edges, not seams: what is left to be hemmed."""
    edges = turned_edges(build(brief(), BODY))
    assert {use.line for use in edges if use.piece == "front"} == {
        f"{word}-{side}" for word in ("hem", "armhole", "neckline") for side in ("left", "right")
    }
    assert not [use for use in turned_edges(build(brief(), TOP)) if use.line.startswith("hem")]
