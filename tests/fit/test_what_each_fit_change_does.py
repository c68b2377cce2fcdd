"""Each fit change by its own measure, as a fitter would check it on the paper."""

from __future__ import annotations

import math

import pytest

from blocks.circle_skirt import draft_circle_skirt
from blocks.darted_bodice import draft_darted_bodice
from blocks.waist_seam import draft_waist_seam
from blocks.woven_sleeve import draft_woven_sleeve
from drafting.changes.fit.arm import fit_full_upper_arm
from drafting.changes.fit.back import fit_broad_back, fit_narrow_back
from drafting.changes.fit.bust import fit_full_bust, fit_small_bust
from drafting.changes.fit.hip import fit_high_hip
from drafting.changes.fit.shoulder import fit_forward_shoulder
from drafting.changes.fit.shoulder_height import fit_low_shoulder, fit_sloping_shoulder, fit_square_shoulder
from drafting.changes.fit.waist import fit_long_waist, fit_sway_back
from drafting.errors import CannotDraft
from drafting.garment import Garment, Role, Side
from drafting.garment.armholes import take_armhole
from drafting.garment.darts import angle, darts_of, intake
from drafting.proof.fit import fit_rows
from tests.blocks_woven.people import bodice, brief_for, person
from tests.fit.fitted import TO_HIP, TO_WAIST, bust_growth, changed, dart, girth, new_errors, woven, woven_brief
from tests.garments import BODY, SINGERS, SLEEVED, brief, build


def armhole(garment: Garment, piece: str, side: str = "left") -> float:
    """The length of a piece's armhole on one side."""
    return math.fsum(ln.path.length for ln in garment.piece(piece).lines(role=Role.ARMHOLE, side=Side(side)))


def mark(garment: Garment, name: str) -> tuple[float, float]:
    """Where a marked point lies."""
    at = next(d.at for p in garment.pieces for d in p.drills if d.name == name)
    return at.x, at.y


# bust


@pytest.mark.parametrize(("step", "by"), [(fit_full_bust, 12.0), (fit_small_bust, -8.0)], ids=["full", "small"])
def test_the_bust_grows_on_each_side_and_the_waist_stays(step: object, by: float) -> None:
    """Width at the bust; what it adds at the waist the waist dart takes in; the dart opens with the upper side."""
    before, after = woven(TO_WAIST), woven(TO_WAIST, [(step, {"by": abs(by)})])
    assert girth(after, "bust") - girth(before, "bust") == pytest.approx(bust_growth(before, after), rel=0.015)
    assert girth(after, "waist") == pytest.approx(girth(before, "waist"), abs=1e-6)
    waists, busts = ([dart(g, name) for g in (before, after)] for name in ("waist-front-left", "bust-left"))
    assert intake(waists[1]) - intake(waists[0]) == pytest.approx(by, abs=0.7)
    assert (angle(busts[1]) - angle(busts[0])) * by > 0.0


def test_a_full_bust_moves_its_point_out_by_half_and_lengthens_the_front() -> None:
    """The bust point lies in the middle of the slash; all below is lower by what the turn lets in."""
    before, after = woven(TO_WAIST), woven(TO_WAIST, [(fit_full_bust, {"by": 12.0})])
    (x, y), (new_x, new_y) = mark(before, "bust-point-left"), mark(after, "bust-point-left")
    assert new_x - x == pytest.approx(6.0, abs=1e-6)
    longer = after.fact("bust_spread_length_left")
    assert y - new_y == pytest.approx(longer, abs=1e-6)
    centre = [g.piece("front").line("waist-left/a").path.start.y for g in (before, after)]
    assert centre[0] - centre[1] == pytest.approx(longer, abs=1e-6)
    # A handbook's slash lets in about three quarters of the width as length (common practice: half to all of it).
    assert 0.4 * 12.0 < longer < 12.0


def test_the_spread_front_keeps_the_lines_that_were_not_cut() -> None:
    """Slash and spread moves the side without changing its length; shoulder and neckline are the very same."""
    before = woven(TO_WAIST)
    after = changed(before, fit_full_bust, by=15.0)
    old, new = before.piece("front"), after.piece("front")
    for name in ("shoulder-left", "neckline-left", "neckline-right"):
        assert old.line(name).path is new.line(name).path
    for g in (before, after):
        front = math.fsum(ln.path.length for ln in g.piece("front").lines(role=Role.SIDE, side=Side.LEFT))
        assert front == pytest.approx(g.piece("back").line("side-left").path.length, abs=0.05)
    assert armhole(after, "front") == pytest.approx(armhole(before, "front"), abs=5.0)


def test_a_full_bust_on_one_side_runs_out_at_the_centre() -> None:
    """The centre front is as long as it was; at the side all is lower by what the turn lets in, to a trued hem."""
    before, after = woven(TO_HIP), woven(TO_HIP, [(fit_full_bust, {"by": 12.0, "side": "left"})])
    old, new = (g.piece("front").line("hem-left").path for g in (before, after))
    assert new.start.near(old.start)
    assert old.end.y - new.end.y == pytest.approx(after.fact("bust_spread_length_left"), abs=2.0)
    assert new.end.x == pytest.approx(old.end.x, abs=0.3)


def test_a_knit_front_is_wider_at_the_bust_and_eased_onto_the_back() -> None:
    """Width at the bust line, none at the waist; the length over the bust is stated as ease of the side seam."""
    b = brief()
    before, after = build(b, BODY), build(b, BODY, [(fit_full_bust, {"by": 10.0})])
    assert girth(after, "bust") - girth(before, "bust") == pytest.approx(20.0, abs=1e-6)
    assert girth(after, "waist") == pytest.approx(girth(before, "waist"), abs=1e-6)
    eased, risen = abs(after.seam("side-left").ease[1]), underarm(after) - underarm(before)
    assert 0.0 <= eased - after.fact("bust_spread_length_left") - risen < 4.0  # the side's own curve, let out
    assert 4.0 < risen < 10.0


def underarm(garment: Garment) -> float:
    """The height of the front's left underarm."""
    return garment.piece("front").line("armhole-left").path.start.y


@pytest.mark.parametrize("voice", SINGERS)
def test_a_knit_front_has_darts_for_a_far_fuller_bust(voice: str) -> None:
    """At most 2 cm are eased onto the back (common practice); for 3 cm of width darts take in what the sides gain."""
    b = brief(voice)
    before, eased, darted = (build(b, BODY, [(fit_full_bust, {"by": by})]) for by in (0.0, 20.0, 30.0))
    assert not darts_of(eased.piece("front"))
    assert abs(eased.seam("side-left").ease[1]) < 20.6
    assert [intake(each) > 20.0 for each in darts_of(darted.piece("front"))] == [True, True]
    assert darted.seam("side-left").ease == pytest.approx(before.seam("side-left").ease, abs=0.5)
    taken = take_armhole(darted, Side.LEFT)
    assert taken is not None
    assert taken.back > taken.front - 1e-6


def test_a_knit_front_doesn_t_take_twice_2_cm_over_a_short_side() -> None:
    """Its side would be longer than can be eased, without being longer over the bust."""
    with pytest.raises(CannotDraft, match="longer than the back"):
        build(brief(), BODY, [(fit_full_bust, {"by": 20.0}), (fit_full_bust, {"by": 20.0})])


@pytest.mark.parametrize("side", ["both", "left"])
def test_a_knit_front_that_ends_at_a_waist_seam_goes_down_there(side: str) -> None:
    """The waist's edge moves with the side seam's end, and still meets the skirt."""
    b = brief()
    plan = [*BODY, (draft_circle_skirt, {}), (draft_waist_seam, {})]
    before, after = build(b, plan), build(b, plan, [(fit_full_bust, {"by": 10.0, "side": side})])
    assert not new_errors(b, before, after)
    old, new = (g.piece("front").lines(role=Role.WAIST, side=Side.LEFT)[0].path for g in (before, after))
    ends = [max((path.start, path.end), key=lambda p: p.x) for path in (old, new)]
    assert ends[0].y - ends[1].y == pytest.approx(6.0, abs=0.01)
    assert ends[0].x == ends[1].x


def test_a_moved_bust_dart_is_refused_with_the_way_out() -> None:
    """The slash is drawn from a dart in the side seam."""
    from drafting.changes.darts.move import move_dart

    moved = woven(TO_WAIST, [(move_dart, {"to": "shoulder 0.5"})])
    with pytest.raises(CannotDraft, match="before bust darts are moved"):
        changed(moved, fit_full_bust, by=10.0)


def test_the_block_is_fitted_before_its_design_is_drawn() -> None:
    """Wherever the ticket names them: so a bust is made fuller though its dart is moved (common practice)."""
    from drafting.changes.darts.move import move_dart

    move, fuller = (move_dart, {"to": "shoulder 0.5"}), (fit_full_bust, {"by": 10.0})
    one, two = (woven(TO_WAIST, order) for order in ([move, fuller], [fuller, move]))
    assert one == two


# back


def test_a_broad_back_goes_into_the_shoulder_dart() -> None:
    """The across back grows, the dart takes it up at its old angle, the folded shoulder and the side seam stay."""
    before = woven(TO_WAIST)
    after = changed(before, fit_broad_back, by=5.0)
    assert girth(after, "across-back") - girth(before, "across-back") == pytest.approx(10.0, abs=1e-3)
    old, new = dart(before, "shoulder-left"), dart(after, "shoulder-left")
    assert intake(new) - intake(old) == pytest.approx(5.0, abs=1e-6)
    assert angle(new) == pytest.approx(angle(old), abs=1e-9)
    assert after.seam("shoulder-left").ease == pytest.approx(before.seam("shoulder-left").ease, abs=1e-6)
    assert after.piece("back").line("side-left").path is before.piece("back").line("side-left").path


@pytest.mark.parametrize(("step", "by"), [(fit_broad_back, 5.0), (fit_narrow_back, -5.0)], ids=["broad", "narrow"])
def test_without_a_dart_the_ease_takes_it_up(step: object, by: float) -> None:
    """The back's shoulder is eased onto the front by so much more, or less."""
    base = [(draft_darted_bodice, {"back_shoulder": "ease"})]
    before, after = woven(base), woven(base, [(step, {"by": abs(by)})])
    assert after.seam("shoulder-left").ease[1] - before.seam("shoulder-left").ease[1] == pytest.approx(by, abs=1e-6)


def test_a_shoulder_goes_out_no_farther_than_can_be_eased() -> None:
    """15 mm in a woven (from memory): beyond, the slash ends in the armhole, and the across back has all of it."""
    base = [(draft_darted_bodice, {"back_shoulder": "ease", "shoulder_ease": 14.0})]
    before, after = (woven(base, plans, voice="alto") for plans in ([], [(fit_broad_back, {"by": 6.0})]))
    assert after.seam("shoulder-left").ease[1] == pytest.approx(15.0, abs=1e-6)
    assert girth(after, "across-back") - girth(before, "across-back") == pytest.approx(12.0, abs=1e-3)


# shoulders


def test_a_forward_shoulder_gives_to_the_back_what_the_front_loses() -> None:
    """Each armhole by about as much as the seam moves (common practice); shoulder lengths and the neckline stay."""
    before = bodice(woven_brief())
    after = changed(before, fit_forward_shoulder, by=10.0)
    lost, gained = (armhole(after, p) - armhole(before, p) for p in ("front", "back"))
    assert lost == pytest.approx(-10.0, abs=1.0)
    assert gained == pytest.approx(10.0, abs=1.5)
    for name in ("neckline-left", "neckline-right"):
        assert after.piece("front").line(name).path is before.piece("front").line(name).path
    assert after.seam("shoulder-left").ease == pytest.approx(before.seam("shoulder-left").ease, abs=1e-6)
    old, new = dart(before, "shoulder-left"), dart(after, "shoulder-left")
    assert new.point.near(old.point)
    assert angle(new) == pytest.approx(angle(old), abs=1e-9)


@pytest.mark.parametrize("knit", [False, True], ids=["woven", "knit"])
def test_the_sleeves_crown_follows_a_forward_shoulder(knit: bool) -> None:
    """Drafted onto the armhole afterwards, the cap's front is shorter and its back longer by what the armhole's are."""
    plan = SLEEVED if knit else (*TO_WAIST, (draft_woven_sleeve, {}))
    b = [(fit_forward_shoulder, {"by": 10.0})]
    before, after = (build(brief(), plan, c) if knit else woven(plan, c) for c in ([], b))

    def cap(g: Garment, face: str) -> float:
        lines = g.piece("sleeve-left").lines(f"cap-{face}")
        return math.fsum(line.path.length for line in lines)

    for face, way in (("front", -1.0), ("back", 1.0)):
        moved = cap(after, face) - cap(before, face)
        assert moved * way == pytest.approx(10.0, abs=2.5)
        assert moved == pytest.approx(armhole(after, face) - armhole(before, face), abs=1.0)


@pytest.mark.parametrize("step", [fit_square_shoulder, fit_sloping_shoulder], ids=["square", "sloping"])
@pytest.mark.parametrize("knit", [False, True], ids=["woven", "knit"])
def test_a_shoulder_higher_or_lower_keeps_the_armholes_length(step: object, knit: bool) -> None:
    """The underarm follows by as much, and the shoulder keeps its length; or it stays, and the armhole gives."""
    plan = BODY if knit else TO_WAIST
    changes = [[], [(step, {"by": 8.0})], [(step, {"by": 8.0, "keep_underarm": True})]]
    before, after, kept = (build(brief(), plan, c) if knit else woven(plan, c) for c in changes)
    whole, now, other = (armhole(g, "front") + armhole(g, "back") for g in (before, after, kept))
    assert now == pytest.approx(whole, abs=2.5)
    assert abs(other - whole) > 8.0
    sign = 1.0 if step is fit_square_shoulder else -1.0
    if not knit:  # a close knit's may rise no higher than the armpit
        assert (depth(after) - depth(before)) * -sign == pytest.approx(7.8, abs=0.25)  # along a side that leans
    ends = [g.piece("front").lines(role=Role.ARMHOLE, side=Side.LEFT)[0].path for g in (before, after, kept)]
    assert (ends[1].end.y - ends[0].end.y) * sign == pytest.approx(7.5, abs=0.8)  # along a shoulder that slopes
    assert kept.piece("back").lines(role=Role.SIDE) == before.piece("back").lines(role=Role.SIDE)


def depth(garment: Garment, side: Side = Side.LEFT) -> float:
    """How far below the nape an armhole lies."""
    taken = take_armhole(garment, side)
    assert taken is not None
    return taken.depth


@pytest.mark.parametrize("number", [360, 456, 165, 997, 578, 685, 8, 41])
def test_a_low_shoulders_underarm_sinks_by_as_much_and_nothing_new_is_told(number: int) -> None:
    """By 1 cm on surveyed bodies: it sank by up to 1.5 cm, and the armhole was told to be deep, the dart near to it."""
    wearer = brief_for(person(number))
    base = bodice(wearer)
    low = fit_low_shoulder.apply(base, wearer, fit_low_shoulder.options(by=10.0, side="right"))
    for side, sunk in ((Side.LEFT, 0.0), (Side.RIGHT, 9.5)):
        assert depth(low, side) - depth(base, side) == pytest.approx(sunk, abs=0.55)
    assert dart(low, "bust-right").middle.near(dart(base, "bust-right").middle)
    told = [{row.name for row in fit_rows(g, wearer) if row.beyond} for g in (base, low)]
    assert (told[1] - told[0]).isdisjoint({"armhole_depth", "armhole_length", "dart_mouth"})


def test_a_low_shoulder_makes_left_and_right_differ() -> None:
    """Only the side asked for is lower."""
    after = woven(TO_WAIST, [(fit_low_shoulder, {"by": 9.0, "side": "right"})])
    left, right = (after.piece("front").line(f"armhole-{side}").path for side in ("left", "right"))
    assert max(left.start.y, left.end.y) - max(right.start.y, right.end.y) == pytest.approx(8.5, abs=0.8)


# waist, hip and arm


@pytest.mark.parametrize("base", [TO_WAIST, TO_HIP], ids=["waist", "hip"])
def test_a_sway_back_shortens_the_centre_back_and_not_the_sides(base: object) -> None:
    """The lower edge rises by the fold at the centre; the side seams are the very same."""
    before = woven(base)
    after = changed(before, fit_sway_back, by=11.0)
    role = Role.WAIST if base is TO_WAIST else Role.HEM
    old, new = (
        max(g.piece("back").lines(role=role), key=lambda ln: ln.path.bounds[3]).path.bounds[3] for g in (before, after)
    )
    assert new - old == pytest.approx(11.0, abs=0.01)
    for side in ("left", "right"):
        name = f"side-{side}"
        assert after.piece("back").line(name).path is before.piece("back").line(name).path
    assert girth(after, "waist") == pytest.approx(girth(before, "waist"), abs=1.5)


def test_a_high_hip_is_longer_on_its_side_alone() -> None:
    """Front and back side seams of that side grow alike; hip line and hem go down there."""
    before, after = woven(TO_HIP), woven(TO_HIP, [(fit_high_hip, {"by": 12.0, "side": "left"})])
    for piece in ("front", "back"):
        for side, by in ((Side.LEFT, 12.0), (Side.RIGHT, 0.0)):
            old, new = (
                sum(ln.path.length for ln in g.piece(piece).lines(role=Role.SIDE, side=side)) for g in (before, after)
            )
            assert new - old == pytest.approx(by, abs=0.5)
    hem, new_hem = (g.piece("front").line("hem-left").path for g in (before, after))
    assert hem.end.y - new_hem.end.y == pytest.approx(12.0, abs=1e-6)
    assert new_hem.start.near(hem.start)


@pytest.mark.parametrize("base", [TO_WAIST, TO_HIP], ids=["waist", "hip"])
def test_a_long_waist_is_longer_front_and_back_below_the_darts_points(base: object) -> None:
    """The darts' points stay where they were to the bust; their legs grow."""
    before, after = woven(base), woven(base, [(fit_long_waist, {"by": 15.0})])
    for name in ("waist-front-left", "waist-back-right", "bust-left"):
        assert dart(after, name).point.near(dart(before, name).point)
    for piece in ("front", "back"):
        low = [g.piece(piece).outline.bounds[1] for g in (before, after)]
        assert low[0] - low[1] == pytest.approx(15.0, abs=1e-6)
    assert girth(after, "waist") == pytest.approx(girth(before, "waist"), abs=1e-6)


@pytest.mark.parametrize("shape", ["straight", "fitted"])
def test_a_full_upper_arm_keeps_the_caps_length_and_its_ease(shape: str) -> None:
    """Wider at the upper arm, lower in the cap; each stretch between notches as long as it was; the length stays."""
    base = [*TO_WAIST, (draft_woven_sleeve, {"shape": shape})]
    before, after = woven(base), woven(base, [(fit_full_upper_arm, {"by": 18.0})])
    assert girth(after, "upper-arm-left") - girth(before, "upper-arm-left") == pytest.approx(18.0, abs=1e-6)
    old, new = before.piece("sleeve-left"), after.piece("sleeve-left")
    for line in old.lines(role=Role.CAP):
        assert new.line(line.name).path.length == pytest.approx(line.path.length, abs=1e-6)
    assert after.fact("cap_height_left") < before.fact("cap_height_left")
    assert after.seam("armhole-left").sections == before.seam("armhole-left").sections
    tops = [piece.outline.bounds[3] for piece in (old, new)]
    assert tops[0] == pytest.approx(tops[1], abs=1e-6)
    assert new.outline.bounds[1] == pytest.approx(old.outline.bounds[1], abs=2.0)


def test_too_full_an_arm_is_refused() -> None:
    """There is a lowest cap."""
    with pytest.raises(CannotDraft, match="too flat"):
        woven(
            TO_WAIST, [(draft_woven_sleeve, {}), (fit_full_upper_arm, {"by": 80.0}), (fit_full_upper_arm, {"by": 80.0})]
        )
