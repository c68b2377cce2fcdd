"""Another neckline: shapes, depths, widths; what follows of it, and what is refused."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.band import draft_neck_band
from blocks.bodice_half import open_neck
from blocks.darted_bodice import draft_darted_bodice
from drafting.body import make_body
from drafting.changes.design.neckline import USUAL_NECKLINES, shape_neckline
from drafting.changes.design.shoulder import shape_shoulder
from drafting.errors import CannotDraft
from drafting.garment import Garment, Line, Role, Side
from drafting.garment.darts import darts_of
from drafting.geometry import bends_back, turn
from drafting.proof import prove
from drafting.redraw.neckline_lines import FLATTEST_V
from tests.blocks_woven.people import brief_for
from tests.changes.halves_alike import assert_alike, assert_side_untouched
from tests.garments import BODY, SINGERS, TOP, brief, build, singer

CURVES = ("round", "scoop", "v", "boat")
ALL = (*CURVES, "square")


def half(garment: Garment, piece: str, side: str) -> tuple[Line, ...]:
    """The neckline lines of a half, from the shoulder to the centre (all +x halves run that way)."""
    found = garment.piece(piece).lines(role=Role.NECKLINE, side=Side(side))
    return found


def on_plus(garment: Garment, piece: str) -> tuple[Line, ...]:
    """The lines of the half on +x: the wearer's left on a front, the right on a back."""
    return half(garment, piece, "left" if piece == "front" else "right")


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("shape", ALL)
def test_each_shape_on_front_and_back_proves(shape: str, voice: str) -> None:
    """With its usual depth and width, on every singer, with sleeves, bands and cuffs; not even a warning."""
    b = brief(voice)
    proof = prove(build(b, TOP, [(shape_neckline, {"front": shape, "back": shape})]), b)
    assert proof.passed
    assert not [f for f in proof.findings if f.code.startswith(("outlines", "joins", "zones"))]


@pytest.mark.parametrize("shape", [s for s in ALL if s != "v"])
def test_halves_meet_the_centre_square_and_run_on_over_the_shoulder(shape: str) -> None:
    """What the front turns out from square to its shoulder the back turns in; on shoulders no steeper than usual."""
    rules, given = SINGERS["soprano"]
    usual = make_body("soprano", {**given, "shoulder_slope": math.radians(23.0)}, rules=rules)
    garment = build(brief(usual), BODY, [(shape_neckline, {"front": shape, "back": shape})])
    corners = []
    for piece in ("front", "back"):
        lines = on_plus(garment, piece)
        end, start = lines[-1].path, lines[0].path
        assert end.tangent(end.length).y == pytest.approx(0.0, abs=1e-6)
        shoulder = garment.piece(piece).before(lines[0].name).path
        corners.append(turn(shoulder.tangent(shoulder.length), start.tangent(0.0)))
    assert sum(corners) == pytest.approx(math.pi, abs=1e-6)


@pytest.mark.parametrize("shape", ALL)
def test_no_shape_bends_back(shape: str) -> None:
    """A neckline bends to one side only."""
    for voice in SINGERS:
        garment = build(brief(voice), BODY, [(shape_neckline, {"front": shape, "back": shape})])
        assert not [ln.name for ln in on_plus(garment, "front") if bends_back(ln.path)]


def test_depth_and_width_are_those_asked_for() -> None:
    """The centre lies so far below the neck base, the shoulder end so far from the side neck point."""
    close = build(brief(), [(BODY[0][0], {"front_depth": 0.0, "back_depth": 0.0, "neck_widen": 0.0})])
    garment = build(
        brief(),
        BODY,
        [(shape_neckline, {"front": "round", "front_depth": 62.0, "back_depth": 21.0, "widen": 33.0})],
    )
    for piece, drop in (("front", 62.0), ("back", 21.0)):
        base, drawn = on_plus(close, piece)[0].path, on_plus(garment, piece)[-1].path
        assert base.end.y - drawn.end.y == pytest.approx(drop, abs=1e-6)
        assert drawn.start.distance(base.start) == pytest.approx(33.0, abs=1e-6)


def test_a_wider_neck_shortens_both_shoulders_and_their_aims_by_as_much() -> None:
    """Front and back alike, and the proof measures it."""
    b = brief()
    before, after = build(b, BODY), build(b, BODY, [(shape_neckline, {"widen": 40.0})])
    for piece in ("front", "back"):
        for side in ("left", "right"):
            old, new = (g.piece(piece).line(f"shoulder-{side}").path.length for g in (before, after))
            assert old - new == pytest.approx(40.0 - open_neck(b.body), abs=1e-6)
    assert prove(after, b).passed


def test_what_is_not_asked_for_stays_the_same_path() -> None:
    """A new front, no deeper, leaves the back's neckline as it was, when the width is kept."""
    before = build(brief(), BODY)
    after = shape_neckline.apply(before, brief(), shape_neckline.options(front_depth=30.0))
    for piece in ("front", "back"):
        for line in before.piece(piece).ring:
            same = after.piece(piece).line(line.name).path is line.path
            assert same is not (piece == "front" and line.role is Role.NECKLINE)


def test_a_deep_scoop_on_a_steep_shoulder_is_no_v() -> None:
    """It is hollow by 18 % of its chord (from memory), and the back's neckline runs on in it over the shoulder."""
    b = brief(make_body("steep", {**SINGERS["alto"][1], "shoulder_slope": math.radians(34.0)}, rules="women"))
    garment = build(b, BODY, [(shape_neckline, {"front": "scoop", "front_depth": 120.0})])
    path = half(garment, "front", "left")[0].path
    chord = path.end - path.start
    away = [abs(chord.unit.cross(path.at(path.length * i / 20.0) - path.start)) for i in range(21)]
    assert max(away) >= 0.18 * chord.length
    proof = prove(garment, b)
    assert max(abs(join.angle) for join in proof.joins if "neckline" in join.before) < math.radians(1.0)
    assert not [f.code for f in proof.findings if f.code in ("joins.smooth", "fit.neck_hollow")]


def test_one_shoulder_opened_alone_leaves_the_other_half() -> None:
    """The wider half differs, the other is as it was, and both still meet at the centre."""
    b = brief()
    before, after = build(b, BODY), build(b, BODY, [(shape_neckline, {"widen": 60.0, "side": "left"})])
    assert_side_untouched(before, after, Side.RIGHT)
    left, right = half(after, "front", "left")[0].path, half(after, "front", "right")[0].path
    assert left.end.near(right.start)
    assert left.length > right.length
    assert prove(after, b).passed


@pytest.mark.parametrize("there", ["v", "round"])
def test_a_depth_alone_moves_no_shoulder(there: str) -> None:
    """A man's V drawn deeper, or drawn on a round neck, leaves the shoulders as his body's rule has them."""
    b, body = brief("bass"), [(BODY[0][0], {"front_neck": there})]
    before = build(b, body)
    after = build(b, body, [(shape_neckline, {"front": "v", "front_depth": 150.0})])
    for piece in ("front", "back"):
        one, two = (garment.piece(piece).line("shoulder-left").path for garment in (before, after))
        assert two.length == pytest.approx(one.length, abs=0.01)


@pytest.mark.parametrize("shape", ["round", "scoop"])
def test_a_curved_neckline_drawn_deeper_opens_no_shoulder(shape: str) -> None:
    """A woman's round or scoop neckline, asked for once more and only deeper, leaves her shoulders as they are."""
    first, deeper = ((shape_neckline, {"front": shape, "front_depth": depth}) for depth in (100.0, 130.0))
    one, two = (build(brief(), BODY, each) for each in ([first], [first, deeper]))
    for piece in ("front", "back"):
        before, after = (garment.piece(piece).line("shoulder-left").path for garment in (one, two))
        assert after.length == pytest.approx(before.length, abs=0.01)


def test_kept_shapes_keep_their_shape() -> None:
    """A round neckline widened and lowered is the round neckline that the bodice draws so."""
    b = brief()
    options = {"front_depth": 60.0, "back_depth": 20.0, "neck_widen": 45.0}
    drawn = build(b, [(BODY[0][0], options)])
    kept = build(b, BODY, [(shape_neckline, {"front_depth": 60.0, "back_depth": 20.0, "widen": 45.0})])
    assert_alike(drawn, kept)


def test_a_kept_v_stays_a_v_and_a_kept_square_a_square() -> None:
    """Widening alone doesn't change what kind of neckline it is."""
    b = brief()
    for shape in ("v", "square"):
        one = build(b, BODY, [(shape_neckline, {"front": shape, "widen": 45.0})])
        two = build(b, BODY, [(shape_neckline, {"front": shape, "widen": 30.0}), (shape_neckline, {"widen": 45.0})])
        assert_alike(one, two)


def test_a_square_neckline_is_two_lines_with_a_right_angle() -> None:
    """They answer to the old line's name, and the stay, once a band tells that it is taped, lies along both."""
    front = build(brief(), BODY, [(shape_neckline, {"front": "square"}), (draft_neck_band, {})]).piece("front")
    down, across = front.lines("neckline-left")
    assert [down.name, across.name] == ["neckline-left/down", "neckline-left/across"]
    corner = turn(down.path.tangent(down.path.length), across.path.tangent(0.0))
    assert abs(corner) == pytest.approx(math.pi / 2.0, abs=1e-6)
    zones = {zone.line for zone in front.zones}
    assert {"neckline-left/down", "neckline-left/across", "shoulder-left"} <= zones
    assert "neckline-left" not in zones


def test_a_square_made_round_again_is_the_round_one() -> None:
    """Lines, names and zones are those of a round neckline that never was square."""
    b = brief()
    again = build(b, BODY, [(shape_neckline, {"front": "square"}), (shape_neckline, {"front": "round"})])
    at_once = build(b, BODY, [(shape_neckline, {"front": "round"})])
    assert_alike(again, at_once)
    assert set(again.piece("front").zones) == set(at_once.piece("front").zones)


def test_a_v_comes_to_a_point() -> None:
    """It is straight at the centre, and slanted enough to be seen."""
    line = on_plus(build(brief(), BODY, [(shape_neckline, {"front": "v"})]), "front")[0].path
    end = line.tangent(line.length)
    assert math.atan2(-end.y, -end.x) > FLATTEST_V
    assert abs(line.curvature(line.length)) < 1e-4


def test_deeper_shapes_pass_the_head_more_easily() -> None:
    """A scoop's edge is longer than a round neckline's, and the neck band follows."""
    b = brief()
    rounds, scoops = (build(b, TOP, [(shape_neckline, {"front": s, "back": s})]) for s in ("round", "scoop"))
    one, two = (g.piece("neck-band").line("band").path.length for g in (rounds, scoops))
    assert two > one + 30.0


REFUSED = [
    ({"back": "v", "back_depth": 15.0}, "no point", "back_depth"),
    ({"front_depth": 250.0, "front": "round"}, "below the underarm", "front_depth"),
    ({"back": "boat", "back_depth": -5.0, "widen": 90.0}, "hardly dip", "back_depth"),
]


@pytest.mark.parametrize(("options", "words", "key"), REFUSED)
def test_what_cannot_be_is_refused_with_its_reason(options: dict[str, object], words: str, key: str) -> None:
    """The change is named, the option that stands in the way as a ticket writes it, and by how much it is short."""
    with pytest.raises(CannotDraft, match=words) as error:
        build(brief("soprano"), BODY, [(shape_neckline, options)])
    assert error.value.step == "neckline"
    assert error.value.because == (key,)
    assert error.value.short_by > 0.0
    assert error.value.help


def test_the_deepest_neckline_that_is_told_can_be_drawn() -> None:
    """What the refusal says that a depth may be at most is taken; half a centimetre more isn't."""
    with pytest.raises(CannotDraft) as error:
        build(brief("soprano"), BODY, [(shape_neckline, {"front": "round", "front_depth": 250.0})])
    most = 250.0 - error.value.short_by
    assert f"at most {most // 1.0:.0f} mm" in str(error.value.help)
    build(brief("soprano"), BODY, [(shape_neckline, {"front": "round", "front_depth": most // 1.0})])
    with pytest.raises(CannotDraft):
        build(brief("soprano"), BODY, [(shape_neckline, {"front": "round", "front_depth": most + 5.0})])


def test_too_little_shoulder_is_refused() -> None:
    """What is left of a narrowed shoulder counts."""
    with pytest.raises(CannotDraft, match="of the left shoulder") as error:
        build(
            brief(), BODY, [(shape_shoulder, {"narrow": 40.0}), (shape_neckline, {"widen": 95.0, "back_depth": 60.0})]
        )
    left = brief().body["shoulder_length"] - 40.0 - 95.0
    assert error.value.short_by == pytest.approx(25.0 - left, abs=1e-6)


def test_a_garment_without_a_neck_base_is_refused() -> None:
    """Depths are taken from the neck base, which a block must have found."""
    with pytest.raises(CannotDraft, match="neck base"):
        shape_neckline.apply(Garment(), brief(), shape_neckline.options(front="v"))


@given(
    shape=st.sampled_from(ALL),
    drop=st.floats(20.0, 110.0),
    widen=st.floats(10.0, 70.0),
    narrow=st.floats(-10.0, 20.0),
)
@settings(derandomize=True, deadline=None, max_examples=25)
def test_neckline_and_shoulder_commute(shape: str, drop: float, widen: float, narrow: float) -> None:
    """The neckline moves one end of the shoulder, the narrowing the other; either may come first."""
    b = brief("alto")
    neck = (shape_neckline, {"front": shape, "front_depth": drop, "widen": widen})
    shoulder = (shape_shoulder, {"narrow": narrow})
    try:
        one = build(b, BODY, [neck, shoulder])
    except CannotDraft:
        with pytest.raises(CannotDraft):
            build(b, BODY, [shoulder, neck])
        return
    assert_alike(one, build(b, BODY, [shoulder, neck]))
    assert prove(one, b).surface is not None


@given(
    front=st.sampled_from(("", *ALL)),
    back=st.sampled_from(("", *ALL)),
    front_depth=st.one_of(st.none(), st.floats(-20.0, 250.0)),
    back_depth=st.one_of(st.none(), st.floats(-5.0, 250.0)),
    widen=st.one_of(st.none(), st.floats(0.0, 120.0)),
    voice=st.sampled_from(tuple(SINGERS)),
)
@settings(derandomize=True, deadline=None, max_examples=60)
def test_every_neckline_is_whole_or_refused(
    front: str, back: str, front_depth: float | None, back_depth: float | None, widen: float | None, voice: str
) -> None:
    """No broken outline, ring or seam comes of any options; what the proof may say is that the head doesn't pass."""
    options = {"front": front, "back": back, "front_depth": front_depth, "back_depth": back_depth, "widen": widen}
    b = brief(voice)
    try:
        garment = build(b, BODY, [(shape_neckline, options)])
    except CannotDraft:
        return
    grave = [f for f in prove(garment, b).findings if f.severity == "error"]
    assert not [f for f in grave if f.code != "openings.pass"]


def test_usual_figures_lie_in_the_ranges_of_the_options() -> None:
    """A shape's usual depth could have been given as well."""
    told = shape_neckline.told()
    for usual in USUAL_NECKLINES.values():
        for name, value in (
            ("front_depth", usual.front_depth),
            ("back_depth", usual.back_depth),
            ("widen", usual.widen),
        ):
            low, high = told[name].low, told[name].high
            assert low is not None
            assert high is not None
            assert low <= value <= high


@pytest.mark.parametrize("side", ["left", "right"])
def test_one_shoulder_of_a_darted_back_is_opened_wide(side: str) -> None:
    """Both halves go down together before the shoulder's dart is opened again; both darts are there afterwards.

    On steep shoulders too both run on over the seam, the half that only follows as well.
    """
    body = build(brief_for(singer("soprano")), [(draft_darted_bodice, {"to": "hip"})])
    options = shape_neckline.options(widen=50.0, side=side)
    made = shape_neckline.apply(body, brief_for(singer("soprano")), options)
    for garment in (body, made):
        assert len([dart for dart in darts_of(garment.piece("back")) if dart.words.startswith("shoulder")]) == 2
    left, right = (half(made, "back", each)[-1].path for each in ("left", "right"))
    assert min(abs(left.end.y - right.start.y), abs(left.start.y - right.end.y)) < 1e-6
    steep = make_body("steep", {**SINGERS["soprano"][1], "shoulder_slope": math.radians(32.0)}, rules="women")
    low = build(
        brief_for(steep), [(draft_darted_bodice, {"to": "hip"})], [(shape_neckline, {"widen": 50.0, "side": side})]
    )
    turned = [abs(join.angle) for join in prove(low, brief_for(steep)).joins if "neckline" in join.before]
    assert max(turned) < math.radians(5.0)
