"""The patch pocket: where it lies, how large it is, what is cut, what is marked, and in which order it is made."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from blocks.circle_skirt import draft_circle_skirt
from blocks.darted_bodice import draft_darted_bodice
from blocks.patch_pocket import draft_patch_pockets, pocket_width
from blocks.skirt import draft_straight_skirt
from drafting.errors import CannotDraft
from drafting.finishing import CutPiece, FinishPlan, finish
from drafting.garment import Applied, Brief, Fate, Garment, Piece, Role, find_faces, glue
from drafting.geometry import are_inside
from drafting.job import draft_job, finish_job
from drafting.output import PrintInfo, draw_sheet
from drafting.output.pages.legend import meanings
from drafting.paper import PaperPlan, plan_sheet
from drafting.proof import prove
from drafting.work import make_up, rank
from drafting.work.sewing import steps_of_work
from tests.blocks_woven.people import POPLIN
from tests.body.people import GROUPS, people
from tests.garments import BODY, SLEEVED, Planned, brief, build, singer
from tests.laws.jobs import WEARER, job_from

KNIT, WOVEN = brief("alto"), Brief(singer("alto"), POPLIN, brief().fit)


def with_pocket(wearer: Brief, steps: tuple[Planned, ...] = BODY, **options: Any) -> Garment:
    """A garment with patch pockets, lengths in mm."""
    return build(wearer, steps, [(draft_patch_pockets, options)])


def new_errors(wearer: Brief, steps: tuple[Planned, ...], **options: Any) -> list[tuple[str, str]]:
    """What the proof finds of a garment with pockets that it doesn't find without."""
    plain, made = build(wearer, steps), with_pocket(wearer, steps, **options)
    found = [{(f.code, f.place) for f in prove(g, wearer, finish(g, FinishPlan())).findings} for g in (plain, made)]
    return sorted(found[1] - found[0])


def place(garment: Garment, name: str) -> tuple[Piece, Applied]:
    """The piece beneath a pocket, and its place there."""
    (face,) = find_faces(garment)[name]
    piece = garment.piece(face)
    return piece, next(each for each in piece.of_kind(Applied) if each.name == name)


def cut_of(garment: Garment, plan: FinishPlan | None = None) -> dict[str, CutPiece]:
    """The cut pieces, by every net piece they serve."""
    return {name: piece for piece in finish(garment, plan or FinishPlan()) for name in piece.stands_for}


@pytest.mark.parametrize("corner", ["square", "bevelled", "rounded"])
@pytest.mark.parametrize("where", ["breast", "hip"])
@pytest.mark.parametrize("voice", ["soprano", "bass"])
def test_it_is_proven_on_a_knit_top(voice: str, where: str, corner: str) -> None:
    """Nothing is found that the top without pockets doesn't have."""
    assert new_errors(brief(voice), SLEEVED, place=where, corner=corner, side="both") == []


@pytest.mark.parametrize(
    ("steps", "where"),
    [
        (((draft_straight_skirt, {}),), "hip"),
        (((draft_circle_skirt, {}),), "hip"),
        (((draft_darted_bodice, {}),), "breast"),
    ],
)
@pytest.mark.parametrize("group", [name for name in GROUPS if name.startswith("bodies_")])
def test_it_is_proven_in_wovens_for_surveyed_bodies(group: str, steps: tuple[Planned, ...], where: str) -> None:
    """It keeps clear of darts, and lies within the front."""
    from drafting.body import make_body

    folk = people(group)
    body = make_body("Singer", folk[len(folk) // 2], rules=GROUPS[group])
    assert new_errors(Brief(body, POPLIN, KNIT.fit), steps, place=where) == []


def test_a_breast_pocket_lies_on_the_wearers_left_alone() -> None:
    """Unless both are asked for; hip pockets are a pair."""
    assert [p.name for p in with_pocket(KNIT).pieces if "pocket" in p.name] == ["breast-pocket-left"]
    hips = [p.name for p in with_pocket(KNIT, place="hip").pieces if "pocket" in p.name]
    assert hips == ["hip-pocket-left", "hip-pocket-right"]
    piece, left = place(with_pocket(KNIT), "breast-pocket-left")
    assert piece.name == "front"
    assert left.path.bounds[0] > 0.0


def test_its_place_is_told_by_the_bust_line_and_the_way_to_the_edge() -> None:
    """The opening so far above the line, its middle at its share."""
    _, lies = place(with_pocket(KNIT, height=40.0, along=0.5, width=100.0), "breast-pocket-left")
    bust = next(level.path for level in build(KNIT, BODY).piece("front").levels if level.name == "bust")
    middle = lies.path.start.to(lies.path.end, 0.5)
    assert middle.y == pytest.approx(bust.end.y + 40.0)
    assert middle.x == pytest.approx(bust.end.x * 0.5)
    assert lies.path.start.distance(lies.path.end) == pytest.approx(100.0)


def test_a_hip_pocket_takes_the_hand() -> None:
    """Half the hand's girth and some ease; a larger hand, a wider pocket."""
    widths = [with_pocket(brief(voice), place="hip").fact("hip_pocket_width") for voice in ("soprano", "bass")]
    hands = [singer(voice)["hand_girth"] / 2.0 for voice in ("soprano", "bass")]
    assert all(width >= hand + 30.0 for width, hand in zip(widths, hands, strict=True))
    assert widths[0] < widths[1]


@pytest.mark.parametrize(("bust", "width"), [(700.0, 100.0), (960.0, 121.0), (1300.0, 130.0)])
def test_a_breast_pocket_is_10_to_13_cm_wide(bust: float, width: float) -> None:
    """It grows with the chest, not with all of a bust (from memory)."""
    wearer = singer("alto")
    body = replace(wearer, values={**wearer.values, "bust_girth": bust})
    assert pocket_width(replace(KNIT, body=body), "breast") == pytest.approx(width)


def test_it_closes_nothing_and_opens_nothing() -> None:
    """Glued together, the garment is the surface it was."""
    plain, made = glue(build(KNIT, SLEEVED)), glue(with_pocket(KNIT, SLEEVED, side="both"))
    assert (made.euler, made.faces, made.openings, made.loose) == (plain.euler, plain.faces, plain.openings, ())


def test_its_hem_is_stitched_first_then_it_is_sewn_on_while_the_front_is_flat() -> None:
    """Before shoulders and sides, whatever the order they are listed in."""
    garment = with_pocket(KNIT, SLEEVED, corner="rounded")
    at = rank(garment)
    assert at["breast-pocket-left"] < min(at["shoulder-left"], at["side-left"], at["armhole-left"])
    steps = [str(step) for step in steps_of_work(make_up(garment), garment, "cm")]
    told = [i for i, step in enumerate(steps) if "pocket" in step.lower()]
    hem, ready, sewn = (steps[i] for i in told)
    assert told == list(range(told[0], told[0] + 3))
    assert hem.startswith("Hem of the breast pocket, before it is sewn on")
    assert "curved corner" in ready
    assert "template" in ready
    assert "marks" in sewn
    assert "zigzag" in sewn
    assert "corners" in sewn
    assert not any("pocket" in step for step in steps if step.startswith("Hem of the lower edge"))


TEE = 'builds_on = "knit-top"\nunit = "cm"\n' + WEARER


@pytest.mark.parametrize(
    ("line", "lies_on"),
    [
        ('start = "armhole 0.9"\nend = "armhole 0.9"', "front and front yoke"),
        ('start = "shoulder 0.5"\nend = "hem 0.5"\nend_side = "same"', "front yoke and front"),
    ],
)
def test_it_is_sewn_on_as_soon_as_its_face_is_whole(line: str, lies_on: str) -> None:
    """After the seam beneath it, before shoulders, sleeves, sides, cuffs and bands; told with the pieces it is on."""
    cut = f'[[changes]]\nchange = "style-line"\non = "front"\n{line}\n'
    garment = draft_job(job_from(f'{TEE}[blocks.pocket]\nblock = "patch-pocket"\n{cut}'))
    order, faces = rank(garment), set(find_faces(garment)["breast-pocket-left"])
    assert len(faces) == 2
    beneath = {s.name for s in garment.seams if s.kind.name == "style" and {u.piece for u in s.uses()} == faces}
    assert beneath
    assert max(order[name] for name in beneath) < order["breast-pocket-left"]
    later = [s.name for s in garment.seams if s.kind.name in ("shoulder", "side", "sleeve", "cuff", "hem-band", "neck")]
    assert later
    assert order["breast-pocket-left"] < min(order[name] for name in later)
    steps = [str(step) for step in steps_of_work(make_up(garment), garment, "cm")]
    assert any(f"Lay it on its marks on the {lies_on}, right side up" in step for step in steps)


def test_slanting_corners_are_pressed_once() -> None:
    """The edges with them, in one sentence; and a skirt's front is called so."""
    skirt = draft_job(
        job_from(
            f'builds_on = "sheath-dress"\nunit = "cm"\n{WEARER.split("[cloth]")[0]}'
            '[blocks.pocket]\nblock = "patch-pocket"\nplace = "hip"\ncorner = "bevelled"\n'
        )
    )
    told = " ".join(map(str, steps_of_work(make_up(skirt), skirt, "cm")))
    ready = told.partition("made ready: ")[2].partition("sewn on")[0]
    assert "slanting corners" in ready
    assert "press the edges" not in ready.lower()
    (face,) = find_faces(skirt)["hip-pocket-left"]
    assert f"marks on the {str(skirt.piece(face).title).lower()}, right" in told


def test_darts_beside_it_are_sewn_before() -> None:
    """The front is pressed flat first."""
    garment = with_pocket(WOVEN, ((draft_darted_bodice, {}),))
    at = rank(garment)
    assert max(at[name] for name in at if name.startswith("dart-")) < at["breast-pocket-left"]


def test_a_pair_is_told_in_one_step() -> None:
    """Both sides alike."""
    garment = with_pocket(WOVEN, ((draft_straight_skirt, {}),), place="hip")
    steps = [step for step in map(str, steps_of_work(make_up(garment), garment, "cm")) if "pocket" in step.lower()]
    assert [step.split(":")[0] for step in steps[1:]] == [
        "Hip pocket, left and right, made ready",
        "Hip pocket, left and right, sewn on",
    ]
    assert "edgestitch (301)" in steps[-1]


def test_its_stitch_gives_with_a_knit() -> None:
    """Zigzag in a knit, lockstitch in a woven (ISO 4915: 304, 301)."""
    assert with_pocket(KNIT).seam("breast-pocket-left").stitch == "304"
    assert with_pocket(WOVEN, ((draft_straight_skirt, {}),), place="hip").seam("hip-pocket-left").stitch == "301"


def test_it_is_cut_with_its_hem_and_its_own_allowance() -> None:
    """The opening's hem as deep as asked for, the other hems as the plan says; the rest by the key patch."""
    garment = with_pocket(KNIT, side="both", hem=18.0, corner="bevelled")
    cut = cut_of(garment, FinishPlan({"patch": 7.0}, hem_depth=30.0))
    pocket = cut["breast-pocket-left"]
    assert pocket is cut["breast-pocket-right"]
    assert pocket.quantity == 2
    depths = {edge.line: edge.allowance for edge in pocket.outline if edge.line}
    assert depths["opening"] == 18.0
    assert {depth for line, depth in depths.items() if line != "opening"} >= {7.0}
    assert {edge.allowance for edge in cut["front"].outline if edge.line.startswith("hem")} == {30.0}


def test_its_place_is_printed_on_the_front() -> None:
    """A line where its edges lie, and a point at each end of the opening; on a half, those of that half."""
    one, both = (cut_of(with_pocket(KNIT, side=side))["front"] for side in ("left", "both"))
    assert not one.on_fold
    assert both.on_fold
    for front in (one, both):
        (mark,) = (mark for mark in front.marks if mark.kind == "placement")
        points = [at for name, at in front.drills if name == "breast pocket here"]
        assert len(points) == 2
        assert {mark.path.start, mark.path.end} == set(points)


def test_the_place_is_drawn_and_the_list_of_signs_tells_it() -> None:
    """As a line of its own kind, its points named."""
    info = PrintInfo("Top", "Alto", "K7QD")
    drawing = draw_sheet(plan_sheet(finish(with_pocket(KNIT, side="both"), FinishPlan()), PaperPlan()), info)
    front = next(ink for ink in drawing.pieces if ink.name == "front")
    assert [stroke.style.kind for stroke in front.strokes].count("placement") == 1
    assert "breast pocket here" in {text.text for text in front.texts}
    assert "placement" in {kind for kind, _ in meanings(drawing, info)}


def test_the_place_keeps_clear_of_every_edge() -> None:
    """12 mm at least, as near as seams are sewn, so that none is sewn into it."""
    front, lies = place(with_pocket(KNIT), "breast-pocket-left")
    points = lies.path.points(np.linspace(0.0, lies.path.length, 60))
    assert are_inside(points, front.outline.flatten()[:-1]).all()
    assert min(line.path.nearest(lies.path.at(s))[1] for line in front.ring for s in (0.0, lies.path.length)) >= 11.5


@pytest.mark.parametrize(
    ("options", "because"),
    [
        ({"width": 280.0}, ("width",)),
        ({"corner": "rounded", "corner_size": 110.0}, ("corner_size",)),
        ({"along": 0.9}, ("width",)),
    ],
)
def test_what_has_no_room_is_refused(options: dict[str, Any], because: tuple[str, ...]) -> None:
    """With what stands in the way, and a mend."""
    with pytest.raises(CannotDraft) as caught:
        with_pocket(KNIT, **options)
    assert caught.value.because == because
    assert caught.value.help


@pytest.mark.parametrize("asked", [None, 130.0, 200.0])
def test_a_refusal_tells_the_width_that_fits(asked: float | None) -> None:
    """By rule or as asked for: it is out by as much as it is to be narrower, and so narrow it is drafted."""
    worn = WEARER.split("[cloth]")[0]
    hip = f'builds_on = "fitted-bodice"\nunit = "cm"\n{worn}[blocks.pocket]\nblock = "patch-pocket"\nplace = "hip"\n'

    def refused(width: float | None) -> CannotDraft:
        with pytest.raises(CannotDraft, match="wide it fits") as caught:
            draft_job(job_from(hip + (f'width = "{width} mm"\n' if width else "")))
        return caught.value

    wide = asked or pocket_width(job_from(hip).brief, "hip")
    fits = wide - refused(asked).short_by
    assert 40.0 <= fits < wide
    made = draft_job(job_from(f'{hip}width = "{fits} mm"\n'))
    assert made.fact("hip_pocket_width") == pytest.approx(fits)
    assert refused(fits + 6.0).short_by == pytest.approx(6.0, abs=2.0)


def test_a_front_without_the_line_is_refused() -> None:
    """A skirt has no breast."""
    with pytest.raises(CannotDraft, match="bust line"):
        with_pocket(WOVEN, ((draft_straight_skirt, {}),))


def test_a_ticket_asks_for_it() -> None:
    """A design with a pocket and its allowance is drafted, proven and cut."""
    text = '[blocks.pocket]\nblock = "patch-pocket"\nside = "right"\n[seams]\npatch = "8 mm"\n'
    job = job_from(f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}{text}')
    cut, proof = finish_job(job, draft_job(job))
    assert proof.passed
    pocket = next(piece for piece in cut if piece.name == "breast-pocket-right")
    assert 8.0 in {edge.allowance for edge in pocket.outline}
    assert [line.fate for line in draft_job(job).piece("breast-pocket-right").ring].count(Fate.HEMMED) == 1


def test_a_hip_pocket_ends_above_the_stitching_of_a_hem() -> None:
    """A hem of 25 mm is sewn below the pocket, whatever the body (from memory: 10 mm between)."""
    for voice in ("soprano", "alto", "tenor", "bass"):
        tee = build(brief(voice), SLEEVED, [(draft_patch_pockets, {"place": "hip"})])
        front = tee.piece("front")
        hems = [line.path for line in front.lines(role=Role.HEM)]
        (low, *_) = sorted(applied.path.bounds[1] for applied in front.of_kind(Applied))
        assert low - max(path.bounds[1] for path in hems) >= 34.9


def test_pockets_of_another_corner_are_told_in_full() -> None:
    """A bevelled pocket isn't pressed "as" a rounded one."""
    both = [(draft_patch_pockets, {"corner": "rounded"}), (draft_patch_pockets, {"place": "hip", "corner": "bevelled"})]
    tee = build(brief("tenor"), SLEEVED, both)
    told = " ".join(map(str, steps_of_work(make_up(tee), tee, "cm")))
    assert "template" in told
    assert "slanting corners" in told
