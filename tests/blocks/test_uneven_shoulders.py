"""Bodies made uneven: each half is drafted by its own shoulder, knit, darted and with the overlay."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from blocks import bodice as knit
from blocks.asymmetric_overlay import draft_asymmetric_overlay
from blocks.bodice import draft_knit_bodice
from blocks.bodice_ease import bodice_ease
from blocks.bodice_half import BodiceOptions, balance_halves
from blocks.darted_bodice import DartedBodiceOptions, draw_fit
from blocks.darted_frame import ArmRoom, solve_neck, widths
from blocks.darted_front import front_lines
from blocks.darted_underarm import FirstUnderarm, draw_darted_side
from drafting.body import Body, Rules, make_body
from drafting.cloth import Fit, ease_for
from drafting.errors import CannotDraft
from drafting.finishing import CutPiece, FinishPlan, finish
from drafting.garment import Brief, Face, Garment, Role, Side
from drafting.geometry import Path
from drafting.output import PrintInfo, draw_sheet
from drafting.paper import PaperPlan, paper_named, plan_sheet
from drafting.proof import Severity, prove
from drafting.proof.finding import Finding
from drafting.proof.words.fitting import fitting_sheet
from tests.blocks.surveyed import shown
from tests.blocks_woven.people import PULLED_ON, bodice, brief_for, people, sleeved
from tests.body.people import at_most, thinned
from tests.garments import BODY, SINGERS, TOP, brief, build

SIDES = (Side.LEFT, Side.RIGHT)
OVERLAID = {side: (*BODY, (draft_asymmetric_overlay, {"side": side})) for side in ("left", "right")}


def with_slopes(given: Mapping[str, float], left: float, right: float, rules: Rules = "women") -> Body:
    """A body whose shoulders slope by these degrees."""
    told = {name: value for name, value in given.items() if name != "shoulder_slope"}
    apart = {"shoulder_slope_left": math.radians(left), "shoulder_slope_right": math.radians(right)}
    return make_body("uneven", {**told, **apart}, rules=rules)


def singer(voice: str, left: float, right: float) -> Body:
    """A singer whose shoulders slope by these degrees."""
    rules, given = SINGERS[voice]
    return with_slopes(given, left, right, rules)


def faults(garment: Garment, b: Brief) -> list[str]:
    """What the proof finds, but that a woven block can't be pulled on, and what a rule had to give for the body."""
    found = [f for f in prove(garment, b).findings if f.severity is not Severity.NOTE]
    given_way = (
        *("given.", "fit.shoulder_", "fit.bust_undarted", "fit.armhole_back", "fit.across_front_width"),
        *("fit.centre_front", "fit.front_over_bust", "fit.armhole_depth", "fit.side_slant", "fit.bust_dart_for_cup"),
        "body.asked",  # whether a length was taken as it says: few have it beside the others
    )
    found = [f for f in found if f.code != "fit.armhole_width" or not _is_wide(f)]
    # A knit that gets neither sleeves nor bands keeps a sleeved armhole, which is told to be long for an edge.
    found = [f for f in found if f.code != "fit.armhole_length" or garment.banded or not _is_bare(garment)]
    return [f"{f.code} {f.place}" for f in found if f.code not in PULLED_ON and not f.code.startswith(given_way)]


def _is_bare(garment: Garment) -> bool:
    """Whether no sleeve is set in."""
    return not any(piece.lines(role=Role.CAP) for piece in garment.pieces)


def _is_wide(found: Finding) -> bool:
    """Whether an armhole is told to be wide, for a full bust over a narrow back."""
    return found.value is not None and found.limit is not None and found.value > found.limit


def far(one: Path, two: Path) -> float:
    """How far two paths lie apart, at their ends, in their middles and in length (mm)."""
    places = (0.0, 0.3, 0.5, 0.7, 1.0)
    apart = (one.at(one.length * share).distance(two.at(two.length * share)) for share in places)
    return max(*apart, abs(one.length - two.length))


@pytest.mark.parametrize(("left", "right"), [(21.0, 29.0), (27.0, 22.0)])
@pytest.mark.parametrize("voice", ["soprano", "bass"])
def test_each_half_of_a_knit_top_is_that_of_an_even_body_of_its_slope(voice: str, left: float, right: float) -> None:
    """Within the same neck and with one place of the side seam, to a millionth of a millimetre."""
    o, b = BodiceOptions(), brief(singer(voice, left, right))
    ease = bodice_ease(Garment(), b)
    slopes = [knit.drafted_slope(b, side) for side in SIDES]
    base = knit.solve_knit_neck(b.body, ease, slopes)
    frames = [knit.frame(b, o, ease, side, base) for side in SIDES]
    o = replace(o, front_depth=knit.let_head_pass(b, o, frames))
    garment = build(b, BODY)
    more = sum(fact.value for fact in garment.facts if fact.name == "bust_raised")
    even = {
        side: brief(with_slopes(b.body.given, slope, slope, b.body.rules))
        for side, slope in zip(SIDES, (left, right), strict=True)
    }
    apart = [knit.draw_bodice_side(even[side], o, ease, side.other, base, more).frame for side in SIDES]
    both = balance_halves(*apart)
    for side in SIDES:
        half = knit.draw_bodice_side(even[side], o, ease, side.other, base, more, both)
        for face, drawn in ((Face.FRONT, half.front), (Face.BACK, half.back)):
            piece, flip = garment.piece(str(face)), (side is Side.LEFT) != (face is Face.FRONT)
            for stem, path in (
                ("side", drawn.side.path), ("armhole", drawn.armhole.path), ("shoulder", drawn.shoulder),
                ("neckline", drawn.neckline),
            ):  # fmt: skip
                line = piece.line(f"{stem}-{side}").path
                assert far(line, path.mirrored().reversed() if flip else path) < 1e-6


@pytest.mark.parametrize("to", ["waist", "hip"])
def test_each_half_of_a_darted_front_is_that_of_an_even_body_of_its_slope(to: str) -> None:
    """Drawn within the same neck, edge by edge, darts too."""
    o = DartedBodiceOptions(to=to)
    b = brief_for(with_slopes(people("women")[7], 23.0, 31.0))
    ease = ease_for(b.fit, b.cloth, b.body)
    w, even = widths(b, ease, ArmRoom()), draw_fit(b, o, ease, sleeved=True)
    first = {side: FirstUnderarm(half.back.arm.underarm.y, half.back.frame.dart) for side, half in even.items()}
    neck = solve_neck(b, ease, w, to == "hip", o.set_back)
    garment = bodice(b, to=to)
    for side, slope in zip(SIDES, (23.0, 31.0), strict=True):
        even = brief_for(with_slopes(people("women")[7], slope, slope))
        half = draw_darted_side(even, o, w, side, neck, first[side])
        lines = [line for line in garment.piece("front").ring if line.side is side]
        drawn = [edge.path for edge in front_lines(half.front, half.front_hole).edges if hasattr(edge, "path")]
        found = [line.path for line in lines if not line.name.startswith("dart-")]
        if side is Side.RIGHT:
            found = [path.mirrored().reversed() for path in reversed(found)]
        assert len(found) == len(drawn)
        # One side seam balances both armholes: it moves by up to 15 mm, and the armhole with it.
        assert all(far(one, two) < 24.0 for one, two in zip(found, drawn, strict=True))


def test_an_even_body_measured_apart_is_drafted_as_if_it_were_not() -> None:
    """Both sides alike: the very lines, facts and aims of a body with one slope."""
    rules, given = SINGERS["alto"]
    one = make_body("even", {**given, "shoulder_slope": math.radians(25.0)}, rules=rules)
    plain, apart = (build(brief(body), TOP) for body in (one, singer("alto", 25.0, 25.0)))
    assert plain.facts == apart.facts
    assert plain.aims == apart.aims
    for piece in plain.pieces:
        assert [far(a.path, b.path) < 1e-9 for a, b in zip(piece.ring, apart.piece(piece.name).ring, strict=True)]


def test_what_does_not_hang_on_the_shoulder_stays_shared() -> None:
    """Neck, girths and hem are told once and are those asked for; slope, armhole and scye depth are told by side."""
    b = brief(singer("soprano", 20.0, 30.0))
    garment = build(b, BODY)
    names = [fact.name for fact in garment.facts]
    assert len(names) == len(set(names))
    assert {"neck_half_width", "neck_front", "neck_base_seam", "ease_bust"} <= set(names)
    assert {"shoulder_slope_left", "shoulder_slope_right", "armhole_left", "armhole_right"} <= set(names)
    assert "shoulder_slope" not in names
    assert math.degrees(garment.fact("shoulder_slope_left")) == pytest.approx(16.0)
    assert math.degrees(garment.fact("shoulder_slope_right")) == pytest.approx(26.0)
    assert garment.fact("neck_base_seam") == pytest.approx(b.body["neck_base_girth"] + garment.fact("ease_neck"))
    for row in prove(garment, b).eases:
        assert row.off == pytest.approx(0.0, abs=1e-6)
    x0, _, x1, _ = garment.piece("front").outline.bounds
    assert x0 == pytest.approx(-x1, abs=1e-6)


APART = ((15.0, 25.0), (20.0, 10.0), (45.0, 35.0))


@pytest.mark.parametrize("slopes", APART)
@pytest.mark.parametrize("kind", ["knit", "darted"])
def test_shoulders_flatter_or_steeper_than_any_drafted_keep_their_difference(
    kind: str, slopes: tuple[float, float]
) -> None:
    """The mean is limited; the ends of the two shoulders lie as far apart as the body's, and nothing is at fault."""
    garment, b = KINDS[kind](singer("soprano", *slopes))
    drafted = [sum(_slope(garment, face, side) for face in (Face.FRONT, Face.BACK)) / 2.0 for side in SIDES]
    assert math.degrees(drafted[0] - drafted[1]) == pytest.approx(slopes[0] - slopes[1])
    assert 11.9 <= math.degrees(sum(drafted)) / 2.0 <= 32.1
    assert faults(garment, b) == []


def _slope(garment: Garment, face: Face, side: Side) -> float:
    """How steep the part of a shoulder at the neck is (rad)."""
    line = min(
        (ln for ln in garment.piece(str(face)).ring if ln.role is Role.SHOULDER and ln.side is side),
        key=lambda ln: min(abs(ln.path.start.x), abs(ln.path.end.x)),
    )
    way = line.path.end - line.path.start
    return math.atan2(abs(way.y), abs(way.x))


def test_turned_round_the_garment_is_its_own_mirror_image() -> None:
    """Slopes swapped: left and right swap."""
    one, two = (build(brief(singer("alto", *pair)), TOP) for pair in ((21.0, 29.0), (29.0, 21.0)))
    for face in ("front", "back"):
        for side in SIDES:
            for stem in ("side", "armhole", "shoulder", "neckline", "hem"):
                a = one.piece(face).line(f"{stem}-{side}").path
                b = two.piece(face).line(f"{stem}-{side.other}").path
                assert far(a, b.mirrored().reversed()) < 1e-6


def test_a_cropped_uneven_top_meets_at_the_centre_of_its_hem() -> None:
    """Above the hip the side's slope at the hem hangs on the underarm, so each half would have its own centre."""
    b = brief(singer("bass", 18.0, 32.0))
    garment = build(b, [(draft_knit_bodice, {"below_hip": -170.0, "flare": 0.08})], TOP[1:])
    assert faults(garment, b) == []
    lines = [garment.piece("front").line(f"hem-{side}").path for side in SIDES]
    assert min(a.distance(c) for a in (lines[0].start, lines[0].end) for c in (lines[1].start, lines[1].end)) < 1e-9


@pytest.mark.parametrize("side", ["left", "right"])
def test_the_overlay_follows_the_shoulder_it_covers(side: str) -> None:
    """Its edge over the arm falls from that shoulder: as on an even body of its slope, and unlike on the other's."""
    slopes = {"left": 21.0, "right": 29.0}
    uneven = build(brief(singer("soprano", **slopes), Fit.RELAXED), OVERLAID[side])

    def reach(garment: Garment) -> float:
        path = garment.piece("overlay-front").line("over-arm").path
        ends = sorted((path.start, path.end), key=lambda p: abs(p.x))
        way = ends[1] - ends[0]
        return math.degrees(math.atan2(-way.y, abs(way.x)))

    own, other = (
        build(brief(singer("soprano", slopes[s], slopes[s]), Fit.RELAXED), OVERLAID[side])
        for s in (side, Side(side).other)
    )
    assert reach(uneven) == pytest.approx(reach(own), abs=0.1)
    assert abs(reach(uneven) - reach(other)) > 0.3
    assert faults(uneven, brief(singer("soprano", **slopes), Fit.RELAXED)) == []


def cut(body: Body, steps: Any = TOP) -> dict[str, CutPiece]:
    """The pieces ready to cut, on the fold where they can be."""
    return {piece.name: piece for piece in finish(build(brief(body), steps), FinishPlan(on_fold=True))}


def test_pieces_are_cut_whole_and_say_whose_side_is_whose() -> None:
    """Even, the front is cut on the fold and the sleeves as a pair; uneven, each once, right side up, and marked."""
    even, uneven = cut(singer("soprano", 25.0, 25.0)), cut(singer("soprano", 20.0, 29.0))
    assert even["front"].how == "cut 1 on the fold"
    assert even["sleeve"].how == "cut 2, one mirrored"
    for face in ("front", "back"):
        assert uneven[face].how == "cut 1, single layer, right side up"
        assert not uneven[face].on_fold
        told = {mark.name for mark in uneven[face].marks if mark.kind == "side"}
        assert {name[:14].strip() for name in told} == {"wearer's left", "wearer's right"}
        assert not any(mark.kind == "side" for mark in even[face].marks)
    for side in SIDES:
        assert uneven[f"sleeve-{side}"].mirrored == 0
        assert f"wearer's {side}" in uneven[f"sleeve-{side}"].labels


def test_the_fitting_sheet_tells_how_much_lower_the_shoulder_lies() -> None:
    """Of the body by its slopes and length, of the garment by its pieces; not told of even shoulders."""
    body = singer("soprano", 22.0, 28.0)
    rows = {m.title: m for m in fitting_sheet(build(brief(body), BODY), brief(body)).measures}
    row = rows["right shoulder's end below the left one's"]
    fall = body["shoulder_length"] * (math.sin(math.radians(28.0)) - math.sin(math.radians(22.0)))
    assert row.body == pytest.approx(fall)
    assert row.garment == pytest.approx(fall, rel=0.1)
    assert rows["armhole, left"].garment != pytest.approx(rows["armhole, right"].garment, abs=0.05)
    even = brief(singer("soprano", 25.0, 25.0))
    assert not any("below the" in m.title for m in fitting_sheet(build(even, BODY), even).measures)


KINDS: Mapping[str, Any] = {
    "knit": lambda body: (build(brief(body), TOP), brief(body)),
    "overlay": lambda body: (build(brief(body), OVERLAID["right"]), brief(body)),
    "darted": lambda body: (sleeved(brief_for(body)), brief_for(body)),
}


WAVY = ["outlines.bend front.neckline-right", "outlines.bend overlay-front.neckline"]


@pytest.mark.parametrize("kind", KINDS)
def test_a_sample_of_1988_made_uneven_is_drafted_and_proven(kind: str) -> None:
    """Every so manieth body of ANSUR 1988, 2 to 10 degrees apart: all are drafted, and all prove.

    An overlay is told to be too steep over shoulders flatter than any drafted, and its neck edge to be wavy over one
    that slopes by more than 32 degrees (3 of 41).
    """
    count, proven, steep, refused = 0, 0, 0, Counter[str]()
    for rules in ("women", "men"):
        for number in range(0, len(people(rules)), thinned(75)):
            given = people(rules)[number]
            mean, apart = math.degrees(given["shoulder_slope"]), 1.0 + number // thinned(75) % 5
            turn = -1.0 if number // thinned(75) % 2 else 1.0
            body = with_slopes(given, max(mean - turn * apart, 5.0), max(mean + turn * apart, 5.0), rules)
            count += 1
            try:
                garment, b = KINDS[kind](body)
            except CannotDraft as error:
                refused[", ".join(error.because)] += 1
                continue
            found = faults(garment, b)
            proven += not found
            wavy = body["shoulder_slope_right"] >= math.radians(31.9) and found == WAVY
            steep += wavy or found == ["fit.layer_slope overlay-front"]
    shown(f"made uneven, {kind}", {"people": count, "proven": f"{proven / count:.1%}"})
    assert not refused
    # What is told of them truly: arms so thick that the bust is wider than its fit or so thin that a sleeve is, a back
    # too broad for its shoulders, a shoulder that juts, a waist that few have, an armhole that is large.
    assert proven + steep >= count - {"darted": 6, "knit": 5, "overlay": 3}[kind]
    assert steep <= at_most(0.05, count)


def test_whose_side_is_whose_is_printed_in_words() -> None:
    """On both faces of an uneven top, beside both sides; on an even one nothing is said."""
    for body, uneven in ((singer("soprano", 20.0, 29.0), True), (singer("soprano", 25.0, 25.0), False)):
        pieces = finish(build(brief(body), BODY), FinishPlan())
        inks = draw_sheet(plan_sheet(pieces, PaperPlan(paper_named("A4"))), PrintInfo("Top", "Soprano", "")).pieces
        for ink in inks:
            words = [text.text for text in ink.texts]
            for side in SIDES:
                assert any(f"wearer's {side}" in line for line in words) is uneven, (ink.name, words)
