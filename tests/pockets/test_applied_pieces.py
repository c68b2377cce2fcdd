"""What is sewn onto a face goes where the face goes: mirrored, lengthened, spread, parted; and is proven there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blocks.bodice import draft_knit_bodice
from blocks.patch_pocket import draft_patch_pockets
from drafting.changes.design.gathers import let_in_gathers
from drafting.changes.design.lengthen import lengthen_body
from drafting.changes.design.mirror import mirror_garment
from drafting.changes.design.style_line import draw_style_line
from drafting.changes.fit.bust import fit_full_bust
from drafting.garment import Applied, Garment, find_faces, find_piece_laid
from drafting.garment.carry import AffineMotion, move_piece, with_only
from drafting.geometry import Affine, Path, Point
from drafting.job import draft_job, finish_job
from drafting.proof import prove
from drafting.work import crossings, rank
from tests.garments import BODY, SLEEVED, brief, build
from tests.laws.jobs import WEARER, job_from

WORN = WEARER.split("[cloth]")[0]
NAME = "breast-pocket-left"


def top(**options: object) -> Garment:
    """A sleeved knit top with a breast pocket."""
    return build(brief(), SLEEVED, [(draft_patch_pockets, options)])


def lies(garment: Garment, name: str = NAME) -> Applied:
    """The place of an applied piece that lies on one piece."""
    (face,) = find_faces(garment)[name]
    (found,) = (each for each in garment.piece(face).of_kind(Applied) if each.name == name)
    return found


def test_mirrored_it_lies_on_the_other_side() -> None:
    """Its piece, its seam and its place are the other side's, as far from the centre."""
    made = top()
    other = mirror_garment.apply(made, brief(), mirror_garment.options())
    assert other.has_piece("breast-pocket-right")
    assert find_piece_laid(other, other.seam("breast-pocket-right"))
    x0, y0, x1, y1 = lies(made).path.bounds
    assert lies(other, "breast-pocket-right").path.bounds == pytest.approx((-x1, y0, -x0, y1))
    assert prove(other, brief()).passed


def test_lengthened_above_it_moves_down_and_keeps_its_size() -> None:
    """The body lengthened once the pocket is there: what lies below the line moves, never stretched."""
    made = build(brief(), [(draft_knit_bodice, {"below_hip": 80.0}), (draft_patch_pockets, {"place": "hip"})])
    longer = lengthen_body.apply(made, brief(), lengthen_body.options(by=40.0, at="line"))
    was, now = lies(made, "hip-pocket-left").path, lies(longer, "hip-pocket-left").path
    assert now.start.y == pytest.approx(was.start.y - 40.0)
    assert now.length == pytest.approx(was.length)
    assert now.start.distance(now.end) == pytest.approx(was.start.distance(was.end))
    assert [f.code for f in prove(longer, brief()).findings if f.code.startswith("applied")] == []


@pytest.mark.parametrize(
    "change", ['change = "lengthen"\nby = 5', 'change = "full-bust"\nby = 0.5', 'change = "mirror"']
)
@pytest.mark.parametrize(
    ("design", "where"), [("basic-tee", "breast"), ("basic-tee", "hip"), ("fitted-bodice", "breast")]
)
def test_a_ticket_with_a_pocket_takes_the_change(design: str, where: str, change: str) -> None:
    """Its place is found on the changed front, or follows; the whole is proven."""
    worn = WORN if design == "fitted-bodice" else WEARER
    pocket = f'[blocks.pocket]\nblock = "patch-pocket"\nplace = "{where}"\n'
    job = job_from(f'builds_on = "{design}"\nunit = "cm"\n{worn}{pocket}[[changes]]\n{change}\n')
    garment = draft_job(job)
    _, proof = finish_job(job, garment)
    assert proof.passed, [f.code for f in proof.findings]
    assert find_faces(garment)


def test_a_full_bust_drawn_afterwards_carries_it() -> None:
    """The front spread beneath it: it goes along whole."""
    made = build(brief(), BODY, [(draft_patch_pockets, {"height": 90.0, "depth": 70.0, "width": 70.0})])
    fuller = fit_full_bust.apply(made, brief(), fit_full_bust.options(by=5.0))
    assert lies(fuller).path.length == pytest.approx(lies(made).path.length)
    assert [f.code for f in prove(fuller, brief()).findings if f.code.startswith("applied")] == []


def test_a_seam_beneath_it_is_sewn_before_it_is_sewn_on() -> None:
    """A style line across its place: it lies on both parts, along as much as before."""
    made = top()
    parted = draw_style_line.apply(made, brief(), draw_style_line.options(start="armhole 0.95", end="armhole 0.95",
                                                                       start_side="left", on="front"))  # fmt: skip
    faces = find_faces(parted)[NAME]
    assert len(faces) == 2
    beneath = next(seam.name for seam in parted.seams if {use.piece for use in seam.uses()} == set(faces))
    assert beneath in crossings(parted)[NAME]
    assert rank(parted)[beneath] < rank(parted)[NAME]
    assert [f.code for f in prove(parted, brief()).findings if f.code.startswith("applied")] == []


def test_it_is_turned_with_the_cloth_and_never_stretched() -> None:
    """A turn carries it exactly; a map that stretches carries and turns it alone."""
    face = with_only(
        top().piece("front"),
        Applied,
        [Applied("tab", Path.polyline([Point(0, 0), Point(0, -40), Point(30, -40), Point(30, 0)]))],
    )
    turn = Affine.turn(0.3, Point(5.0, 7.0))
    (turned,) = move_piece(face, AffineMotion(turn)).of_kind(Applied)
    (was,) = face.of_kind(Applied)
    assert turned.path.same_as(was.path.transformed(turn), 1e-6)
    (wide,) = move_piece(face, AffineMotion(Affine(xx=2.0))).of_kind(Applied)
    assert wide.path.length == pytest.approx(was.path.length)
    assert wide.path.start.to(wide.path.end, 0.5).near(Point(30.0, 0.0), 1e-6)


def test_what_lies_past_the_edge_is_found() -> None:
    """A place pushed over the side, and one longer than the edges sewn down there."""
    made = top()
    front = made.piece("front")
    where = lies(made)
    pushed = where.along(where.path.moved(Point(150.0, 0.0)))
    garment = made.with_(pieces=[with_only(front, Applied, [pushed])])
    assert [(f.code, f.place) for f in prove(garment, brief()).findings if f.code.startswith("applied")] == [
        ("applied.place", NAME)
    ]
    short = replace(where, path=where.path.between(0.0, where.path.length - 20.0))
    garment = made.with_(pieces=[with_only(front, Applied, [short])])
    assert [(f.code, f.place) for f in prove(garment, brief()).findings if f.code.startswith("applied")] == [
        ("applied.length", NAME)
    ]


def test_a_place_that_nothing_is_sewn_to_is_found() -> None:
    """Its seam left out, or the piece itself."""
    made = top()
    for garment in (made.without(seams=[NAME]), made.without(pieces=[NAME], seams=[NAME])):
        found = [(f.code, f.place) for f in prove(garment, brief()).findings if f.code.startswith("applied")]
        assert found == [("applied.sewn", NAME)]


def test_two_that_lie_over_each_other_are_found() -> None:
    """A breast pocket moved onto the hip pocket; side by side, or one just below the other, nothing is found."""
    made = build(brief(), SLEEVED, [(draft_patch_pockets, {}), (draft_patch_pockets, {"place": "hip"})])
    breast, hip = lies(made), lies(made, "hip-pocket-left")
    front, others = made.piece("front"), [lies(made, "hip-pocket-right"), hip]

    def found(at: Applied) -> list[tuple[str, str]]:
        garment = made.with_(pieces=[with_only(front, Applied, [at, *others])])
        return [(f.code, f.place) for f in prove(garment, brief()).findings if f.code.startswith("applied")]

    down = hip.path.start.y - breast.path.bounds[1]
    assert found(breast) == found(breast.along(breast.path.moved(Point(0.0, down)))) == []
    over = breast.along(breast.path.moved(Point(0.0, down - 15.0)))
    assert found(over) == [("applied.overlap", "hip-pocket-left")]


def test_a_place_that_a_gathered_seam_parts_is_found() -> None:
    """A yoke through the pocket, and the front gathered into it; gathered clear of the pocket it still fits."""
    yoke = {"start": "armhole 0.92", "end": "armhole 0.92", "start_side": "left", "on": "front"}
    parted = draw_style_line.apply(top(), brief(), draw_style_line.options(**yoke))

    def found(**options: float) -> list[tuple[str, str]]:
        garment = let_in_gathers.apply(parted, brief(), let_in_gathers.options(by=60.0, **options))
        return [(f.code, f.place) for f in prove(garment, brief()).findings if f.code.startswith("applied")]

    assert found() == [("applied.seam", NAME)]
    assert found(start=0.1, end=0.4) == []
