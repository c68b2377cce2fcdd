"""The overlay top takes every other change, on either side; and its mirror image is the overlay of the other side."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from blocks.overlay_hem import CAUGHT_LOWER
from blocks.overlay_lines import CAUGHT
from drafting.changes.design.mirror import mirror_whole
from drafting.errors import CannotDraft
from drafting.garment import Garment, Line, glue
from drafting.job import draft_job
from tests.laws.jobs import outcome
from tests.laws.strategies import Made
from tests.overlay.tops import OTHER, block_options, garment, overlay_job

CHANGES: dict[str, tuple[Made, ...]] = {
    "shorter sleeves": (("sleeve-length", {"to": "bracelet", "cuff": 70.0}),),
    "one sleeve longer": (("sleeve-length", {"by": 60.0, "side": "left"}),),
    "a longer body": (("lengthen", {"by": 80.0, "at": "hem"}),),
    "longer at the line": (("lengthen", {"by": 30.0, "at": "line"}),),
    "a slanting hem": (("hem", {"higher": "left", "by": 60.0}),),
    "a curved hem": (("hem", {"shape": "curved", "rise": 40.0, "longer_at_back": 30.0}),),
    "a wider neck": (("neckline", {"widen": 45.0}),),
    "a square neck, which the V replaces": (("neckline", {"front": "square", "back": "square"}),),
    "one narrow shoulder": (("shoulder", {"narrow": 15.0, "side": "right"}),),
    "a low underarm": (("underarm", {"by": 30.0}),),
    "one armhole cut in": (("cut-in-armhole", {"by": 6.0, "side": "left"}),),
    "mirrored": (("mirror", {}),),
    "several": (
        ("underarm", {"by": 20.0, "side": "left"}), ("lengthen", {"by": 50.0, "at": "hem"}),
        ("sleeve-length", {"by": -80.0, "side": "right"}), ("mirror", {}),
    ),
}  # fmt: skip


def test_gathers_under_it_are_refused_for_gathers_below_it() -> None:
    """What the refusal says to do instead goes together."""
    with pytest.raises(CannotDraft, match="a layer hangs over the front neckline") as refused:
        draft_job(overlay_job(changes=[("gathers", {"at": "neckline"})]))
    assert 'start and end = "side 0.7"' in str(refused.value.help)
    line = ("style-line", {"start": "side 0.7", "end": "side 0.7", "on": "front"})
    found = outcome(overlay_job(changes=[line, ("gathers", {"at": "yoke", "by": 60.0})]))
    assert not found.refused


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("name", CHANGES)
def test_it_takes_a_change(name: str, side: str) -> None:
    """Proven, finished, still one surface whose overlay hangs from a seam of three layers."""
    what = outcome(overlay_job({"side": side}, changes=CHANGES[name]))
    assert (what.refused, what.broken) == ("", "")
    assert what.garment is not None
    assert what.garment.seam("diagonal").hangs == (2,)
    assert glue(what.garment).components == 1


@pytest.mark.parametrize("side", ["left", "right"])
def test_vents_at_a_turned_hem(side: str) -> None:
    """On the dress; the overlay is caught above a vent on its side, in less of the seam if there is less."""
    short = ("lengthen", {"by": -300.0, "at": "hem"})
    for height in (100.0, 340.0):
        stack = (short, ("vents", {"height": height}))
        job = overlay_job({"side": side, "caught": None}, "diagonal-overlay-dress", stack)
        what = outcome(job)
        assert (what.refused, what.broken) == ("", "")
        assert what.garment is not None
        vents = [line for p in what.garment.pieces for line in p.ring if line.name.endswith("/vent")]
        assert len(vents) == 4
        caught = what.garment.piece("overlay-front").line("caught").path.length
        by_rule = CAUGHT * job.brief.body["back_neck_point_to_waist"]
        assert by_rule - 1e-6 <= caught <= by_rule + CAUGHT_LOWER if height < 200.0 else 40.0 <= caught < by_rule


def test_a_band_round_a_vent_is_refused() -> None:
    """The top's hem band can't go round a slit."""
    with pytest.raises(CannotDraft, match=r"hem-band.*vent"):
        draft_job(overlay_job(changes=(("vents", {"height": 60.0}),)))


@pytest.mark.parametrize("side", ["left", "right"])
def test_sleeveless_with_bands_on_both_sides(side: str) -> None:
    """As the catalogue's tank; on the far side the band goes over the small shoulder pieces alone, and their side."""
    what = outcome(overlay_job({"side": side}, "diagonal-overlay-tank"))
    assert (what.refused, what.broken) == ("", "")
    assert what.garment is not None
    far = OTHER[side]
    over = {use.piece for use in what.garment.seam(f"armhole-band-{far}").plies[0]}
    assert over == {"shoulder-front", "shoulder-back"}
    near = {use.piece for use in what.garment.seam(f"armhole-band-{side}").plies[0]}
    assert near == {"front", "back"}


@pytest.mark.parametrize("bare", ["left", "right"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_sleeveless_with_a_band_on_one_side(side: str, bare: str) -> None:
    """The other keeps its sleeve and its cuff."""
    job = block_options(overlay_job({"side": side}, "diagonal-overlay-tank"), "armhole-band", arm=bare)
    sleeved = overlay_job({"side": side})
    sleeves = [each for each in sleeved.steps if each.step.name in ("set-in-sleeve", "shaped-cuff")]
    steps = sorted((*job.steps, *sleeves), key=lambda each: each.step.stage)
    taken = overlay_job(changes=(("sleeveless", {"side": bare}),)).steps
    steps = sorted((*steps, *(each for each in taken if each.step.name == "sleeveless")), key=lambda e: e.step.stage)
    what = outcome(replace(job, steps=tuple(steps)))
    assert (what.refused, what.broken) == ("", "")
    assert what.garment is not None
    names = {piece.name for piece in what.garment.pieces}
    assert {f"sleeve-{OTHER[bare]}", f"cuff-{OTHER[bare]}", f"armhole-band-{bare}"} <= names
    assert not {f"sleeve-{bare}", f"cuff-{bare}", f"armhole-band-{OTHER[bare]}"} & names


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "diagonal-overlay-tank", "diagonal-overlay-dress"])
def test_far_side_mirrored_is_the_other_shoulder_covered(design: str) -> None:
    """Piece for piece and seam for seam, to a micrometre, whichever way it is come by."""
    image, drafted = mirror_whole(garment("right", design)), garment("left", design)
    assert {p.name for p in image.pieces} == {p.name for p in drafted.pieces}
    assert {s.name for s in image.seams} == {s.name for s in drafted.seams}
    for piece in drafted.pieces:
        twin = image.piece(piece.name)
        assert (twin.title, twin.side, twin.face, twin.cloth) == (piece.title, piece.side, piece.face, piece.cloth)
        assert _ends(twin.ring) == _ends(piece.ring), piece.name
        assert sorted(_bare(z.line) for z in twin.zones) == sorted(_bare(z.line) for z in piece.zones)
    for seam in drafted.seams:
        assert image.seam(seam.name).ease == pytest.approx(seam.ease, abs=1e-4)
        assert _lengths(image, seam.name) == pytest.approx(_lengths(drafted, seam.name), abs=1e-3)


def _ends(ring: tuple[Line, ...]) -> list[Any]:
    """Where each line starts, from the piece's left, how long it is, and what it is: enough to tell a mirror image."""
    left = min(ln.path.bounds[0] for ln in ring)
    found = [
        (round(ln.path.start.x - left, 3) + 0.0, round(ln.path.start.y, 3) + 0.0, round(ln.path.length, 3),
         ln.role, ln.side, ln.fate)
        for ln in ring
    ]  # fmt: skip
    return sorted(found)


def _bare(line: str) -> str:
    return line.partition("/")[0]


def _lengths(top: Garment, seam: str) -> list[float]:
    return sorted(top.run_length(run) for section in top.seam(seam).sections for run in section.plies)
