"""The garment as a surface: what gluing gives, for tubes, tori, Moebius bands, T joints and hanging layers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.garment import Garment, Use, glue, hanging_pieces, openings
from tests.garment.small import darted, run, seam, sheet, tube, tunic
from tests.garments import BODY, SLEEVED, TOP, brief, build


def lines_of(garment: Garment) -> dict[str, set[str]]:
    """The openings by name, each as the set of its lines."""
    return {o.name: {f"{use.piece}.{use.line}" for use in o.run} for o in openings(garment)}


def test_a_tube_has_two_openings_and_no_euler_number() -> None:
    """Two faces, an annulus: V - E + F = 0; each end is walked once round."""
    surface = glue(tube())
    assert (surface.faces, surface.edges, surface.corners, surface.euler) == (2, 6, 4, 0)
    assert (surface.components, surface.oriented, surface.loose, surface.twice) == (1, True, (), ())
    assert lines_of(tube()) == {
        "neck": {"front.top", "back.top"},
        "hem": {"front.low", "back.low"},
    }


def test_a_loop_of_one_piece_is_a_tube_too() -> None:
    """A band joined to itself: one face, two openings."""
    band = Garment((sheet("band"),), (seam("end", ("band.right", "-band.left")),))
    surface = glue(band)
    assert (surface.faces, surface.euler, len(surface.openings), surface.oriented) == (1, 0, 2, True)


def test_a_sheet_alone_is_a_disc() -> None:
    """One opening all round, Euler number 1."""
    surface = glue(Garment((sheet("flat"),)))
    assert (surface.euler, len(surface.openings), len(surface.openings[0].run)) == (1, 1, 4)


def test_a_torus_is_found_by_its_euler_number_and_missing_openings() -> None:
    """A band whose two edges are sewn together as well has no way in: V - E + F = 0 and no opening."""
    torus = Garment(
        (sheet("band"),),
        (seam("end", ("band.right", "-band.left")), seam("wrong", ("band.top", "-band.low"))),
    )
    surface = glue(torus)
    assert surface.oriented
    assert (surface.euler, surface.openings) == (0, ())


def test_a_closed_bag_is_a_sphere() -> None:
    """All four edges of two sheets: Euler number 2."""
    bag = Garment(
        (sheet("front"), sheet("back")),
        (
            seam("a", ("front.right", "-back.left")),
            seam("b", ("front.left", "-back.right")),
            seam("c", ("front.top", "-back.top")),
            seam("d", ("front.low", "-back.low")),
        ),
    )
    assert glue(bag).euler == 2


def test_a_piece_turned_wrong_side_out_is_a_stray() -> None:
    """Both plies along the ring: right side to wrong side. The seam is named."""
    wrong = replace(tube(), seams=(seam("left", ("front.right", "back.left")), tube().seams[1]))
    surface = glue(wrong)
    assert not surface.oriented
    assert surface.strays == ("left",)


def test_a_moebius_band_is_no_oriented_surface() -> None:
    """A band joined with half a turn has a wrong side on its right side: the seam is named."""
    surface = glue(Garment((sheet("band"),), (seam("end", ("band.right", "band.left")),)))
    assert surface.strays == ("end",)


def test_a_piece_that_nothing_joins_is_loose() -> None:
    """Two parts, and the second is named."""
    surface = glue(tube().with_(pieces=[sheet("pocket")]))
    assert (surface.components, surface.loose) == (2, ("pocket",))


def test_a_line_in_two_seams_is_claimed_twice() -> None:
    """The first seam keeps it."""
    twice = tube().with_(seams=[seam("again", ("front.right", "-back.top"))])
    assert "front.right" in glue(twice).twice


def test_a_t_joint_glues_one_line_to_several() -> None:
    """A yoke's edge is sewn to two panels: the seam is cut where they meet, and no opening is left there."""
    garment = Garment(
        (sheet("yoke", 300.0, 80.0), sheet("one", 150.0), sheet("two", 150.0)),
        (
            seam("panels", ("one.right", "-two.left")),
            seam("yoke", ("yoke.low", "-one.top -two.top"), kind="style"),
        ),
    )
    surface = glue(garment)
    assert surface.oriented
    assert (surface.components, surface.euler, len(surface.openings)) == (1, 1, 1)
    assert all(use.line != "low" or use.piece != "yoke" for use in surface.openings[0].run)


def test_a_t_joint_holds_where_lengths_differ_by_the_ease() -> None:
    """Shares, not millimetres, decide where the plies meet: a shorter band on a longer opening."""
    yoke = sheet("yoke", 240.0, 80.0)
    garment = Garment(
        (yoke, sheet("one", 150.0), sheet("two", 150.0)),
        (
            seam("panels", ("one.right", "-two.left")),
            seam("yoke", ("yoke.low", "-one.top -two.top")),
        ),
    )
    assert glue(garment).euler == 1


def test_a_shoulder_and_side_join_leaves_neck_and_hem() -> None:
    """Shoulders sewn right to the sides: a tunic without armholes has two openings."""
    assert lines_of(tunic()).keys() == {"unnamed", "hem"}
    surface = glue(tunic())
    assert (surface.euler, surface.oriented) == (0, True)


def test_a_dart_is_a_seam_of_a_piece_with_itself() -> None:
    """It makes a peak, not a hole: bodice and skirt are one disc with one edge all round."""
    surface = glue(darted())
    assert (surface.faces, surface.euler, len(surface.openings)) == (2, 1, 1)
    assert surface.oriented
    assert not [use for use in surface.openings[0].run if use.line.startswith(("dart", "low/"))]


def overlay() -> Garment:
    """A tube and a third layer caught in its left seam."""
    base = tube()
    left = seam("left", ("front.right", "-back.left", "over.right"), hangs=(2,))
    return base.with_(pieces=[sheet("over", openings={"low": "overlay"})], seams=[left])


def test_a_third_ply_hangs_from_the_surface() -> None:
    """The surface is the tube's; the layer's own edges are an opening that hangs."""
    garment = overlay()
    assert hanging_pieces(garment) == {"over"}
    surface = glue(garment)
    assert (surface.faces, surface.euler, surface.components, surface.loose) == (2, 0, 1, ())
    assert [o.hangs for o in surface.openings] == [False, False, True]
    assert surface.openings[2].name == "overlay"
    assert {use.piece for use in surface.openings[2].run} == {"over"}


def test_the_order_of_plies_does_not_matter() -> None:
    """A hanging layer named first is the same garment."""
    garment = overlay()
    first = garment.with_(
        seams=[seam("left", ("over.right", "front.right", "-back.left"), hangs=(0,))],
    )
    assert glue(first).euler == glue(garment).euler
    assert len(glue(first).openings) == 3


EXPECTED = [
    (BODY, {"neck", "hem", "armhole-left", "armhole-right"}, -2),
    (SLEEVED, {"neck", "hem", "wrist-left", "wrist-right"}, -2),
    (TOP, {"neck", "hem", "wrist-left", "wrist-right"}, -2),
]


@pytest.mark.parametrize(("plan", "names", "euler"), EXPECTED)
def test_a_top_is_a_sphere_with_four_holes(plan: tuple[object, ...], names: set[str], euler: int) -> None:
    """With or without sleeves, cuffs and bands: 2 less one for each opening."""
    surface = glue(build(brief(), plan))
    assert {o.name for o in surface.openings} == names
    assert (surface.euler, surface.components, surface.oriented) == (euler, 1, True)


def test_an_opening_is_walked_in_ring_direction_and_closes() -> None:
    """Each line ends where the next one starts, over the shoulder seams."""
    garment = build(brief(), BODY)
    neck = next(o for o in openings(garment) if o.name == "neck")
    assert len(neck.run) == 4
    assert not any(use.against for use in neck.run)
    for use, following in zip(neck.run, (*neck.run[1:], neck.run[0]), strict=True):
        a, b = garment.line(use), garment.line(following)
        assert a.face is b.face or a.side is b.side


def test_words_make_uses() -> None:
    """The tests' own shorthand."""
    assert run("a.x -b.y") == (Use("a", "x"), Use("b", "y", True))
