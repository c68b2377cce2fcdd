"""Pieces turned on the cloth: drafted for the stretch that lies round the body so, their stripes in chevrons."""

from __future__ import annotations

import math
import re
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drafting.cloth import Cloth, Kind, Stripe, stretch_at, turn_cloth
from drafting.errors import InputError
from drafting.finishing import finish
from drafting.finishing.allowance import hem_depths
from drafting.flat import FlatKind, draw_flat
from drafting.garment import Face, Garment, Role
from drafting.garment.laying import way_of_stripes
from drafting.job import draft_job
from drafting.lay import place_stripes, plan_lays
from drafting.lay.plan import QUICK
from drafting.lay.words import describe_spreads
from drafting.proof import Severity, prove
from drafting.saying import render
from drafting.sides import swap_sides
from drafting.ticket import Job
from drafting.work.order import make_up
from drafting.work.sewing import steps_of_work
from tests.laws.jobs import WEARER, job_from
from tests.laws.strategies import WOVENS

PLAIN = WEARER.split("[cloths")[0]
"""A wearer and one cloth: 30 % across, 15 % along."""

STRIPED = PLAIN + "[cloth.stripe]\nrepeat = 2\n"


@cache
def job(grain: str, design: str = "basic-tee", wearer: str = PLAIN) -> Job:
    """A design with some lines under [grain]."""
    return job_from(f'builds_on = "{design}"\nunit = "cm"\n{wearer}\n[grain]\n{grain}\n')


def corners(garment: Garment) -> list[float]:
    """Where the corners of every net piece lie."""
    return [at for piece in garment.pieces for line in piece.ring for at in (line.path.start.x, line.path.start.y)]


@given(
    st.floats(0.02, 1.5), st.floats(0.02, 1.5), st.floats(0.05, 1.5), st.floats(0.0, math.pi)
)  # fmt: skip
def test_stretch_turns_as_the_compliance_of_an_orthotropic_sheet(x: float, y: float, bias: float, turn: float) -> None:
    """Textbook elasticity of laminae: the compliance matrix turned by the strain and stress transformations.

    The bias fixes 2 S12 + S66; how that is shared out between the two changes nothing.
    """
    middle = 4.0 * bias - x - y
    sheet = np.array([[x, -0.1, 0.0], [-0.1, y, 0.0], [0.0, 0.0, middle + 0.2]])
    c, s = math.cos(turn), math.sin(turn)
    stress = np.array([[c * c, s * s, -2 * c * s], [s * s, c * c, 2 * c * s], [c * s, -c * s, c * c - s * s]])
    pulled = float((stress.T @ sheet @ stress)[0, 0])
    cloth = Cloth(stretch_across=x, stretch_along=y, stretch_bias=bias)
    assert stretch_at(cloth, turn) == pytest.approx(max(0.0, pulled), abs=1e-9)


def test_a_woven_gives_on_the_bias_and_a_knit_by_the_mean_of_both_ways() -> None:
    """Estimates, from memory, where the bias wasn't measured; front and back laid otherwise share what goes round."""
    assert turn_cloth(Cloth(kind=Kind.WOVEN, stretch_across=0.0), math.pi / 4.0).stretch_round == pytest.approx(0.12)
    knit = Cloth(stretch_across=0.6, stretch_along=0.1)
    assert turn_cloth(knit, math.pi / 4.0).stretch_round == pytest.approx(0.35)
    assert turn_cloth(knit, math.pi / 2.0).stretch_round == pytest.approx(0.1)
    assert turn_cloth(knit, 0.0, math.pi / 2.0).stretch_round == pytest.approx(0.35)
    assert turn_cloth(knit, 0.0) is knit


def test_every_grain_turned_and_the_cloth_with_it_changes_no_outline() -> None:
    """A law: crosswise in a cloth whose ways are exchanged is the same tee."""
    turned = PLAIN.replace('across = "30 %"', 'across = "15 %"').replace('along = "15 %"', 'along = "30 %"')
    grain = 'front = "crosswise"\nback = "crosswise"\nsleeves = "crosswise"\nneck-band = "crosswise"\n'
    usual, other = draft_job(job("")), draft_job(job(grain, wearer=turned))
    assert corners(usual) == pytest.approx(corners(other))


def test_a_close_tee_on_the_bias_is_drafted_for_the_stretch_there() -> None:
    """The same body in a cloth that stretches across as this one does on its bias: the same front."""
    close = 'fit = "close"\n'
    bias = PLAIN.replace('across = "30 %"', 'across = "60 %"').replace('along = "15 %"', 'along = "20 %"')
    alike = PLAIN.replace('across = "30 %"', 'across = "40 %"')
    grain = "\n[grain]\n" + "".join(f'{name} = "bias"\n' for name in ("front", "back", "sleeves", "neck-band"))
    turned, plain = (
        draft_job(job_from(f'builds_on = "basic-tee"\nunit = "cm"\n{close}{wearer}{more}'))
        for wearer, more in ((bias, grain), (alike, ""))
    )
    assert turned.piece("front").outline.bounds == pytest.approx(plain.piece("front").outline.bounds, abs=0.5)


def test_left_and_right_mirror_each_other_unless_they_are_to_lean_alike() -> None:
    """Out: one sleeve is cut twice, one of them turned over. Left: two patterns. Askew, nothing lies on a fold."""
    for grain, patterns in (('sleeve = "bias"\nfront = "bias"', 1), ('sleeve = "bias left"\nfront = "bias"', 2)):
        asked = job(grain)
        garment = draft_job(asked)
        cut = finish(garment, asked.finish)
        assert sum(piece.stands_for[0].startswith("sleeve") for piece in cut) == patterns
        assert not next(piece for piece in cut if "front" in piece.stands_for).on_fold
        assert next(piece for piece in cut if "back" in piece.stands_for).on_fold
        assert "Cut on the bias." in garment.piece("sleeve-left").notes
    left, right = garment.piece("sleeve-left").grain, garment.piece("sleeve-right").grain
    assert left.near(right, 1e-12)


@pytest.mark.parametrize("lean", ["out", "left"])
def test_a_design_that_is_mirrored_leans_the_other_way_in_every_piece(lean: str) -> None:
    """Pieces across the middle too; the neck binding lies as its block says, though that is turned."""
    grain = "".join(f'{name} = "bias {lean}"\n' for name in ("front", "back", "overlay", "sleeves"))
    plain = draft_job(job(grain, "diagonal-overlay-top"))
    over = draft_job(job(grain + '[[changes]]\nchange = "mirror"', "diagonal-overlay-top"))
    assert {piece.name for piece in over.pieces} == {swap_sides(piece.name) for piece in plain.pieces}
    for piece in plain.pieces:
        image = over.piece(swap_sides(piece.name)).grain
        assert (image.x, image.y) == pytest.approx((-piece.grain.x, piece.grain.y)), piece.name
        assert bool(piece.grain.x) is not bool(piece.lines(role=Role.BAND)), piece.name
    named = draft_job(job(f'{grain}neck-binding = "bias"', "diagonal-overlay-top")).piece("neck-binding")
    assert named.grain.x


@pytest.mark.parametrize(("grain", "left", "right"), [('back = "bias"', 1, -1), ('facing = "bias left"', 1, 1)])
def test_facings_lie_as_the_pieces_that_they_face(grain: str, left: int, right: int) -> None:
    """Drawn from within, so on paper the threads lean the other way than the piece's; a pair mirrors as it does."""
    garment = draft_job(job(grain, "sheath-dress"))
    for side, leans in (("left", left), ("right", right)):
        facing, faced = (garment.piece(f"{name}-{side}") for name in ("facing-back", "back"))
        assert facing.grain.x == pytest.approx(leans * math.sin(math.pi / 4.0))
        assert faced.grain.x == pytest.approx(-facing.grain.x if faced.laid else 0.0)


def test_stripes_meet_in_chevrons_at_the_sides() -> None:
    """Front and back on the bias lean to one side of the wearer: their stripes meet all down both side seams."""
    asked = job('front = "bias"\nback = "bias"', wearer=STRIPED)
    garment = draft_job(asked)
    cut = finish(garment, asked.finish)
    lay = next(iter(plan_lays(garment, cut, asked.brief)))
    sides = [match for match in lay.stripes[0].matches if match.seam.startswith("side")]
    assert [match.off for match in sides if match.seam == "side-left"] == pytest.approx([0.0], abs=1e-6)
    placed = place_stripes(garment, cut, asked.brief)
    front, back = draw_flat(garment, asked.brief.body, hem_depths(garment, asked.finish), placed)
    for view, rises in ((front, -1.0), (back, 1.0)):
        trunk = [
            points
            for shape in view.shapes
            if shape.kind is FlatKind.STRIPE and np.abs((points := shape.points)[:, 0]).max() < 200.0
        ]
        slants = [(points[-1] - points[0])[1] / (points[-1] - points[0])[0] * rises for points in trunk]
        assert len(slants) > 3
        assert all(slant > 0.5 for slant in slants)


@pytest.mark.parametrize(("uneven", "meeting"), [("false", ["centre", "side"]), ("true", [])])
def test_stripes_along_mirror_each_other_in_halves_on_the_bias(uneven: str, meeting: list[str]) -> None:
    """They follow each other the other way in the other half: an even one meets all down its seams, an uneven none."""
    wearer = f'{PLAIN}[cloth.stripe]\nrepeat = 4\ndirection = "along"\nuneven = {uneven}\n'
    asked = job('body = "bias"\n[[changes]]\nchange = "centre"\non = "both"', wearer=wearer)
    garment = draft_job(asked)
    lay = next(iter(plan_lays(garment, finish(garment, asked.finish), asked.brief)))
    matches = lay.stripes[0].matches
    assert sorted({match.seam.split("-")[0] for match in matches}) == meeting
    assert [match.most for match in matches] == pytest.approx([0.0] * len(matches), abs=1e-6)
    assert len(matches) == 2 * len(meeting)
    assert "runs down the centre of the sleeves, and slants over the front and back." in " ".join(
        describe_spreads(lay, "cm")[0].lines
    )
    notes = " ".join(str(f.sentence) for f in prove(garment, asked.brief).findings if f.code == "cloth.cutting")
    assert "lay sleeves by their grain line on the middle of a stripe" in notes
    assert "centre of the" not in notes


def test_layers_that_nothing_brings_together_are_told_beside_those_that_meet() -> None:
    """An overlay that stays upright over a body on the bias: its stripes along the cloth run by its own centre."""
    name = "left side seam below the diagonal, the overlay caught in it"
    asked = job('front = "bias"\nback = "bias"', "diagonal-overlay-top", STRIPED + 'direction = "along"\n')
    garment = draft_job(asked)
    lay = plan_lays(garment, finish(garment, asked.finish), asked.brief, how=QUICK)[0]
    lines = describe_spreads(lay, "cm")[0].lines
    meeting, apart = (
        next(line for line in lines if begin in line) for begin in ("They meet at", "brought together at")
    )
    assert f"{name}: Front and Back" in meeting
    assert f"{name}: Front overlay and Back overlay" in apart
    runs = next(line for line in lines if "Stripes along" in line)
    assert "centre of the front overlay, back overlay and sleeves, and slants over the front shoulder piece" in runs


def test_the_proof_goes_by_the_stripes_that_meet_on_the_plan() -> None:
    """Front and back on the bias under an upright overlay: each meets its like at the sides, as the plan says."""
    asked = job('front = "bias"\nback = "bias"', "diagonal-overlay-top", STRIPED)
    garment = draft_job(asked)
    notes = " ".join(str(f.sentence) for f in prove(garment, asked.brief).findings if f.code == "cloth.cutting")
    assert "lay the pieces so that stripes meet at the side seams" in notes
    assert "they run differently" not in notes
    apart = job('front = "bias"', wearer=STRIPED)
    notes = " ".join(str(f.sentence) for f in prove(draft_job(apart), apart.brief).findings)
    assert "front and back lie differently on the cloth" in notes
    assert "front notch" not in notes


def test_what_is_asked_for_upright_has_a_stripe_along_its_centre() -> None:
    """As it has where nothing is said of its grain: no seam draws it aside."""
    asked = job('body = "upright"', wearer=PLAIN + '[cloth.stripe]\nrepeat = 4\ndirection = "along"\n')
    garment = draft_job(asked)
    placed = place_stripes(garment, finish(garment, asked.finish), asked.brief)
    assert [placed[name][0][1] for name in ("front", "back")] == pytest.approx([0.0, 0.0], abs=1e-9)


def test_stripes_down_the_arm_meet_no_stripes_of_the_body() -> None:
    """Crosswise sleeves have a stripe down their middle; that they don't meet is told once, and in the proof's note."""
    asked = job('sleeves = "crosswise"', wearer=STRIPED)
    garment = draft_job(asked)
    cut = finish(garment, asked.finish)
    lay = next(iter(plan_lays(garment, cut, asked.brief)))
    assert {match.seam for match in lay.stripes[0].matches} == {"side-left", "side-right"}
    assert not any("armhole" in str(title) for title in lay.stripes[0].unmatched)
    told = "the sleeves' stripes run down the arm, so they don't meet the bodice's"
    assert [*map(str, lay.stripes[0].apart)] == [told]
    caps = garment.piece("sleeve-left").lines(role=Role.CAP)
    crown = max((line.path.start for line in caps), key=lambda point: point.y)
    rise = way_of_stripes(garment.piece("sleeve-left").grain, Stripe(20.0))
    assert (crown.dot(rise) + lay.stripes[0].shifts["/sleeve-left"] + 10.0) % 20.0 == pytest.approx(10.0, abs=1e-6)
    notes = " ".join(str(f.sentence) for f in prove(garment, asked.brief, cut).findings if f.code == "cloth.cutting")
    assert told in notes
    assert "front notch" not in notes


def test_a_cloth_that_cannot_serve_so_is_refused_with_the_figure() -> None:
    """A knit that stretches across alone, laid crosswise round the body, gives nothing where the tee needs it."""
    stiff = PLAIN.replace('along = "15 %"', 'along = "0 %"')
    asked = job('front = "crosswise"\nback = "crosswise"', wearer=stiff)
    found = prove(draft_job(asked), asked.brief).findings
    assert any(each.severity is Severity.ERROR and each.code == "cloth.stretch_across" for each in found)


@pytest.mark.parametrize(
    ("grain", "read"),
    [
        ('frnt = "bias"', "“frnt” names nothing here"),
        ('front = "biass"', "“biass”"),
        ('front = "120 deg"', "“120 deg”"),
        ("front = true", "true"),
        ('front = "-10 deg"', "“-10 deg”"),
        ('front = "bias"\nFront = "crosswise"', "“Front” is laid already"),
        ("[grain.front]\nturn = 1", "a table stands here"),
    ],
)
def test_what_names_nothing_or_no_turn_is_refused(grain: str, read: str) -> None:
    """With the place in the ticket, what is allowed and close matches."""
    with pytest.raises(InputError) as refused:
        draft_job(job(grain))
    (problem,) = refused.value.problems
    assert problem.read.startswith(read)
    assert "grain" in problem.where
    assert problem.allowed


def test_a_seam_of_three_layers_may_match_some_of_them() -> None:
    """The overlay and the piece above it are seen, and run apart: it is told once, of these; beneath, nobody looks."""
    grain = 'front = "bias"\nback = "bias"\noverlay-front = "bias"\noverlay-back = "bias"'
    asked = job(grain, "diagonal-overlay-top", wearer=STRIPED)
    garment = draft_job(asked)
    lay = next(iter(plan_lays(garment, finish(garment, asked.finish), asked.brief)))
    words = [line for line in describe_spreads(lay, "cm")[0].lines if "diagonal seam" in line]
    assert len(words) == 1
    assert "run differently" in words[0]
    assert "Front shoulder piece and Front overlay" in words[0]


def test_a_hem_near_the_bias_is_told_by_how_much_it_gives_and_drops() -> None:
    """A woven's hangs before it is levelled (common practice); a knit's only gives; on the straight nothing is said."""

    plain_weave = PLAIN.split("[cloth]")[0] + '[cloth]\nkind = "woven"\n'

    def told(grain: str, design: str, name: str) -> str:
        garment = draft_job(job(grain, design, plain_weave if design in WOVENS else PLAIN))
        return " ".join(map(str, (*garment.piece(name).notes, *steps_of_work(make_up(garment), garment, "mm"))))

    woven = told('front = "bias"', "sheath-dress", "front")
    assert re.search(r"The hem lies near the bias: it gives by 12% and drops by about 2\d mm\.", woven)
    assert "hang for a day" in woven.split("level it, then hem it.")[1]
    knit = told('front = "bias"', "basic-tee", "front")
    assert "it gives by 22%" in knit
    assert "hang" not in knit
    assert "near the bias" not in told('front = "crosswise"', "sheath-dress", "front")
    assert "near the bias" in told('front = "30 deg"', "basic-tee", "front")


def test_a_knit_that_stretches_along_alone_is_cut_crosswise() -> None:
    """By itself, bands too: the garment is that of the cloth that stretches as much across; laid upright it fails."""
    along = PLAIN.replace('"30 %"', '"4 %"', 1).replace('"15 %"', '"30 %"', 1)
    across = PLAIN.replace('"15 %"', '"4 %"', 1)
    made, usual = (draft_job(job("", wearer=wearer)) for wearer in (along, across))
    assert corners(made) == pytest.approx(corners(usual))
    assert all(abs(piece.grain.y) < 1e-9 for piece in made.pieces if piece.face is not Face.NONE)
    asked = job("", wearer=along)
    proof = prove(made, asked.brief, finish(made, asked.finish))
    assert proof.passed
    assert any("its pieces lie crosswise" in render(each.sentence, "cm") for each in proof.findings)
    upright = job('body = "upright"', wearer=along)
    laid = draft_job(upright)
    failed = prove(laid, upright.brief, finish(laid, upright.finish)).of(Severity.ERROR)
    assert any(each.code == "cloth.stretch_across" for each in failed)
    front = job('front = "upright"', wearer=along)
    mixed = draft_job(front)
    alone = prove(mixed, front.brief, finish(mixed, front.finish)).of(Severity.ERROR)
    assert any(each.code == "cloth.stretch_across" for each in alone)
