"""Dart work on the darted bodice: what each change does to pieces, seams and proof."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest

from blocks.darted_bodice import draft_darted_bodice
from blocks.skirt import draft_straight_skirt
from blocks.waist_seam import draft_waist_seam
from drafting.changes.darts.ease import ease_dart, gather_dart
from drafting.changes.darts.move import move_dart
from drafting.changes.darts.seam import seam_dart
from drafting.changes.darts.split import join_darts, split_dart
from drafting.changes.design.mirror import mirror_garment
from drafting.cloth import Cloth, Fit, Kind
from drafting.errors import CannotDraft
from drafting.finishing import FinishPlan, finish
from drafting.garment import Brief, Garment, Girth, Piece, Role, Use, Width, glue
from drafting.garment.darts import angle, dart_of, darts_of, intake
from drafting.garment.places import Place, gathered_length
from drafting.geometry import Path, Point
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.checks.ease import measure_garment
from drafting.redraw.heights import level_total
from drafting.redraw.swing import undo_truing
from tests.blocks_woven.people import brief_for, person
from tests.garments import Planned, brief, build
from tests.laws.jobs import job_of, with_changes

COTTON = Cloth("cotton", Kind.WOVEN, stretch_across=0.0, width=1500.0)


@cache
def woven() -> Brief:
    return brief("alto", cloth=COTTON)


def draft(*changes: Planned, to: str = "waist") -> Garment:
    return build(woven(), [(draft_darted_bodice, {"to": to})], changes)


def proves(garment: Garment) -> None:
    """Nothing but the openings, which a bodice that isn't finished yet can't pass, is found to be wrong."""
    found = prove(garment, woven(), finish(garment, FinishPlan(allowance=15.0))).of(Severity.ERROR)
    assert [finding for finding in found if not finding.code.startswith("openings.")] == []


def whole(piece: Piece, name: str) -> Path:
    return Path.join(*(line.path for line in piece.lines(name)))


PLACES = ("shoulder 0.5", "shoulder 30%", "neckline 0.5", "armhole 0.4", "side 0.2", "waist 0.6")


@pytest.mark.parametrize("to", PLACES)
def test_a_bust_dart_goes_to_any_place(to: str):
    """The garment proves, suppression and girths are kept, and the darts are still sewn shut."""
    plain, moved = draft(), draft((move_dart, {"to": to}))
    proves(moved)
    for side in ("left", "right"):
        one, two = (dart_of(g.piece("front"), f"bust-{side}") for g in (plain, moved))
        assert angle(one) == pytest.approx(angle(two), abs=1e-9)
        assert one.apex.near(two.apex, 1e-6)
    for girth in (Girth("bust"), Girth("waist")):
        assert measure_garment(moved, girth) == pytest.approx(measure_garment(plain, girth), abs=0.1)
    assert glue(moved).euler == glue(plain).euler


def test_there_and_back_again():
    """Turned to the shoulder, the neck and home, every line of the front is as it was, and so are the seams."""
    plain = draft()
    front = plain.piece("front")
    # A place is a share of the side as it lies with the dart closed; it is measured from the underarm.
    flat, _ = undo_truing(front, dart_of(front, "bust-left"), Place("side-left/a", 0.0))
    lower, upper = (flat.line(f"side-left/{part}").path.length for part in "ab")
    share = upper / (lower + upper)
    way = [(move_dart, {"to": to}) for to in ("shoulder 0.4", "neckline 0.6", f"side {share:.15f}")]
    back = draft(*way)
    for line in front.ring:
        one, two = (
            (line.path, back.piece("front").line(line.name).path)
            if line.role in (Role.DART, Role.SIDE)
            else (whole(front, line.name), whole(back.piece("front"), line.name))
        )
        assert one.same_as(two, 1e-6)
    assert {seam.name for seam in back.seams} == {seam.name for seam in plain.seams}
    for seam in plain.seams:
        assert back.seam(seam.name).plies == seam.plies
        assert back.seam(seam.name).ease == pytest.approx(seam.ease, abs=1e-6)


def test_one_side_alone():
    """A dart moved on the left leaves the right as it was, its very lines."""
    plain, moved = draft(), draft((move_dart, {"to": "armhole 0.5", "side": "left"}))
    for line in plain.piece("front").ring:
        if line.side == "right":
            path = moved.piece("front").line(line.name).path
            assert path.same_as(line.path, 1e-6)
    proves(moved)


def test_left_then_right_is_both():
    """The two sides commute."""
    both = draft((move_dart, {"to": "shoulder 0.5"}))
    for order in (("left", "right"), ("right", "left")):
        other = draft(*((move_dart, {"to": "shoulder 0.5", "side": side}) for side in order))
        for line in both.piece("front").ring:
            assert other.piece("front").line(line.name).path.same_as(line.path, 1e-6)


def test_split_and_join():
    """Half of the dart turned to the shoulder and taken up again: the suppression is kept at every step."""
    plain = draft()
    total = math.fsum(angle(d) for d in darts_of(plain.piece("front")))
    split = draft((split_dart, {"to": "shoulder 0.5", "share": 0.3}))
    proves(split)
    one, two = (dart_of(split.piece("front"), name) for name in ("bust-left", "bust-2-left"))
    assert angle(two) == pytest.approx(0.3 * (angle(one) + angle(two)), abs=1e-9)
    joined = draft((split_dart, {"to": "shoulder 0.5", "share": 0.3}), (join_darts, {"dart": "bust", "take": "bust-2"}))
    proves(joined)
    for garment in (split, joined):
        assert math.fsum(angle(d) for d in darts_of(garment.piece("front"))) == pytest.approx(total, abs=1e-9)
    assert [d.name for d in darts_of(joined.piece("front"))] == [d.name for d in darts_of(plain.piece("front"))]


def test_waist_and_bust_dart_make_one():
    """All suppression in the waist dart: the side seam is one line again."""
    joined = draft((join_darts, {}))
    proves(joined)
    front = joined.piece("front")
    assert {d.name for d in darts_of(front)} == {"waist-front-left", "waist-front-right"}
    assert front.line("side-left").path.length == pytest.approx(
        math.fsum(line.path.length for line in draft().piece("front").lines("side-left")), abs=1.0
    )


def test_a_waist_dart_becomes_gathers():
    """The intake stays in the edge, told as gathers, so that what is sewn there is drafted for what they draw up to."""
    plain, made = draft(), draft((gather_dart, {"dart": "waist-front"}))
    proves(made)
    front = made.piece("front")
    taken = intake(dart_of(plain.piece("front"), "waist-front-left"))
    old = math.fsum(line.path.length for line in plain.piece("front").lines("waist-left"))
    new = math.fsum(line.path.length for line in front.lines("waist-left"))
    assert new - old == pytest.approx(taken, abs=1.5)  # a fair curve is a little shorter than the kinked edge
    assert not any(dart.name.startswith("waist") for dart in darts_of(front))
    assert made.fact("gathered waist-left front") == pytest.approx(new - old, abs=1e-6)
    run = [Use("front", line.name) for line in front.lines("waist-left")]
    assert gathered_length(made, run) == pytest.approx(new - old, abs=1e-6)


def test_a_small_dart_is_eased_in():
    """The back shoulder dart's intake becomes ease of the shoulder seam."""
    plain, made = draft(), draft((ease_dart, {"dart": "shoulder"}))
    proves(made)
    for side in ("left", "right"):
        taken = intake(dart_of(plain.piece("back"), f"shoulder-{side}"))
        seams = plain.seam(f"shoulder-{side}"), made.seam(f"shoulder-{side}")
        grown = [abs(b - a) for a, b in zip(seams[0].ease, seams[1].ease, strict=True)]
        assert max(grown) == pytest.approx(taken, abs=1.0)  # a fair curve is a little shorter than the kinked edge
    assert "shoulder-left" in {line.name for line in made.piece("back").ring}


def test_a_deep_dart_isnt_eased_in():
    """What can't be eased in is refused, by how much."""
    with pytest.raises(CannotDraft, match="can be eased in") as error:
        draft((ease_dart, {"dart": "bust"}))
    assert error.value.short_by > 0.0


SEAMED = {
    "from the side": ("waist", ()),
    "from the shoulder": ("waist", ((move_dart, {"to": "shoulder 0.5"}),)),
    "from the armhole": ("waist", ((move_dart, {"to": "armhole 0.45"}),)),
    "from the shoulder to the hip": ("hip", ((move_dart, {"to": "shoulder 0.5"}),)),
}


@pytest.mark.parametrize("how", SEAMED)
def test_darts_become_a_panel_seam(how: str):
    """Centre and side panels, sewn with two edges of nearly one length, without a dart left in the front."""
    to, first = SEAMED[how]
    made = draft(*first, (seam_dart, {}), to=to)
    proves(made)
    names = {piece.name for piece in made.pieces}
    assert {"front", "side-panel-front-left", "side-panel-front-right", "back"} <= names
    assert not any(darts_of(piece) for piece in made.pieces if piece.name != "back")
    for side in ("left", "right"):
        seam = made.seam(f"panel-front-{side}")
        assert len(seam.sections) == 2
        for section in seam.sections:  # a seam that turns from the side to the waist has 5 % to ease in (from memory)
            assert abs(section.ease[1]) < max(4.0, 0.05 * made.run_length(section.plies[0]))
    plain = draft(to=to)
    assert measure_garment(made, Girth("bust")) == pytest.approx(measure_garment(plain, Girth("bust")), abs=0.5)
    assert glue(made).euler == glue(plain).euler


@pytest.mark.parametrize("to", ["armhole 0.2", "armhole 0.35"])
def test_shoulder_darts_become_a_yoke(to: str):
    """Turned to the armholes and joined over the back, the shoulder darts make a yoke seam, alike left and right."""
    yoke = (seam_dart, {"dart": "shoulder", "to": "other side", "name": "yoke-line", "piece": "yoke"})
    made = draft((move_dart, {"dart": "shoulder", "to": to}), yoke)
    proves(made)
    for name in ("back", "yoke-back"):
        seam = Path.join(*(line.path for line in made.piece(name).ring if line.role is Role.STYLE))
        for share in (0.0, 0.1, 0.2):
            here, there = seam.at(share * seam.length), seam.at((1.0 - share) * seam.length)
            assert here.near(Point(-there.x, there.y), 1e-6)
    assert made.has_piece("yoke-back")
    assert {line.role for line in made.piece("yoke-back").ring} == {
        Role.SHOULDER,
        Role.NECKLINE,
        Role.ARMHOLE,
        Role.STYLE,
    }


def test_a_yokes_seam_that_bends_both_armholes_takes_the_across_back_with_it() -> None:
    """By a millimetre at each of its ends at most, on steep shoulders: the draft is proven to what it has become."""
    b = brief_for(person(45), Fit.RELAXED)
    turned = [("move-dart", {"dart": "shoulder", "to": "armhole 0.3"})]
    yoke = ("dart-to-seam", {"dart": "shoulder", "to": "other side"})
    before, made = (draft_job(with_changes(job_of("fitted-bodice"), steps, b)) for steps in (turned, [*turned, yoke]))
    assert 0.0 <= level_total(before, Width("across-back")) - level_total(made, Width("across-back")) < 4.0
    assert not [f for f in prove(made, b).findings if f.severity is Severity.ERROR]


def test_mirrored_darts_are_darts():
    """Mirrored, each dart's legs still follow each other from mouth to point and back; mirrored twice it is itself."""
    once, twice = draft((mirror_garment, {}), to="hip"), draft((mirror_garment, {}), (mirror_garment, {}), to="hip")
    proves(once)
    assert {(p.name, d.name) for p in once.pieces for d in darts_of(p)} == {
        (p.name, d.name) for p in draft(to="hip").pieces for d in darts_of(p)
    }
    for piece, same in zip(draft(to="hip").pieces, twice.pieces, strict=True):
        assert [line.name for line in piece.all_lines] == [line.name for line in same.all_lines]
        assert all(a.path.same_as(b.path) for a, b in zip(piece.all_lines, same.all_lines, strict=True))


@pytest.mark.parametrize(
    ("change", "options", "to", "match"),
    [
        (move_dart, {"dart": "bst"}, "waist", "no dart called “bst”"),
        (move_dart, {"to": "elbow 0.5"}, "waist", "isn't a place"),
        (move_dart, {"to": "shoulder 1.5"}, "waist", "beyond the line"),
        (move_dart, {"dart": "waist-front"}, "hip", "fish-eye"),
        (join_darts, {"dart": "shoulder"}, "waist", "another piece"),
        (seam_dart, {"to": "shoulder"}, "waist", "no dart “shoulder” on its piece"),
    ],
)
def test_what_cant_be_done_is_refused(change: object, options: dict[str, str], to: str, match: str):
    """The refusal names the change and the reason."""
    with pytest.raises(CannotDraft, match=match) as error:
        draft((change, options), to=to)
    assert error.value.step == change.name


@pytest.mark.parametrize(
    ("change", "options"),
    [
        (move_dart, {"dart": "bust", "to": "side 0.5"}),
        (split_dart, {"dart": "waist-front", "to": "waist 0.3"}),
        (split_dart, {"dart": "waist-front", "to": "side 0.7"}),
    ],
)
def test_a_place_is_sought_on_the_darts_own_piece(change: Any, options: dict[str, Any]) -> None:
    """A dress has a skirt below the bodice, with sides and a waist of its own: the bodice is as without it."""
    plan = [(change, options)]
    dress = build(
        woven(), [(draft_darted_bodice, {"to": "waist"}), (draft_straight_skirt, {}), (draft_waist_seam, {})], plan
    )
    alone = draft(*plan)
    one, two = dress.piece("front"), alone.piece("front")
    assert [dart.name for dart in darts_of(one)] == [dart.name for dart in darts_of(two)]
    for line in two.lines(role=Role.DART):
        assert one.line(line.name).path.same_as(line.path)


def test_a_line_of_another_piece_is_refused_with_those_there_are() -> None:
    """The bodice of a dress ends at its waist."""
    with pytest.raises(CannotDraft, match="the hem lies on another piece than the left bust dart") as refusal:
        build(
            woven(),
            [(draft_darted_bodice, {"to": "waist"}), (draft_straight_skirt, {}), (draft_waist_seam, {})],
            [(move_dart, {"to": "hem 0.5"})],
        )
    assert "shoulder, side, neckline, armhole, waist" in refusal.value.help


def test_a_second_part_shares_its_name_with_no_dart_there() -> None:
    """A skirt's second dart is called so already: the part that is split off its first is the third."""
    with_skirt = [(draft_darted_bodice, {"to": "waist"}), (draft_straight_skirt, {}), (draft_waist_seam, {})]
    split = build(brief("soprano", cloth=COTTON), with_skirt, [(split_dart, {"dart": "skirt-back", "to": "hem 0.1"})])
    stems = [dart.stem for dart in darts_of(split.piece("skirt-back")) if dart.side == "left"]
    assert sorted(stems) == ["skirt-back", "skirt-back-2", "skirt-back-3"]


def test_a_french_dart_lies_where_its_edge_allows() -> None:
    """The alto's, to the hip: a few mm higher where that will do, told; else refused with the nearest place."""
    moved = draft((move_dart, {"to": "side 0.61"}), to="hip")
    (told,) = [fact for fact in moved.facts if fact.name == f"{dart_of(moved.piece('front'), 'bust-left').seam}_intake"]
    assert "turned to side 0.61:" in str(told.sentence)
    proves(moved)
    with pytest.raises(CannotDraft, match=r'the nearest place is 36 mm off: write to = "side 0\.61"'):
        draft((move_dart, {"to": "side 0.7"}), to="hip")
