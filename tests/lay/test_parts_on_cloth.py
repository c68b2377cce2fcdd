"""Where the parts lie: all of them, between the selvedges, apart from each other, right side up, the grain kept."""

from __future__ import annotations

import json
import math
from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from drafting.finishing import CutPiece
from drafting.geometry import Point
from drafting.lay import parts_of
from drafting.lay.pack import FREE, ClothStrip, Effort, pack_shortest, top_of, way
from tests.bench.lays import lay_set, read_set
from tests.laws.jobs import catalogue
from tests.lay.laying import Made, lays, made

ALL = sorted(catalogue().designs)


def _polygon(ring: np.ndarray) -> shapely.Polygon:
    polygon = shapely.Polygon(ring)
    assert polygon.is_valid
    return polygon


def _is_cut_from(piece: CutPiece, kind: str) -> bool:
    """Whether a piece is cut from a cloth, or stiffened by interfacing."""
    return piece.interfaced if kind == "interfacing" else piece.cloth == kind


def _whole_area(what: Made, kind: str) -> float:
    pieces = [piece for piece in what.cut if _is_cut_from(piece, kind)]
    return sum(piece.area * piece.quantity * (2 if piece.on_fold else 1) for piece in pieces)


@pytest.mark.parametrize("design", ALL)
def test_every_part_lies_between_the_selvedges_and_clear_of_the_others(design: str) -> None:
    """Judged by shapely: as many parts as are cut, none over another, all on the cloth, their area the pieces'."""
    what = made(design)
    for lay in lays(what):
        assert not lay.too_wide
        names = Counter(each.part.piece.code for each in lay.laid)
        assert names == {piece.code: piece.quantity for piece in what.cut if _is_cut_from(piece, lay.kind)}
        shapes = [_polygon(each.ring) for each in lay.laid]
        near = shapely.STRtree(shapes)
        for i, shape in enumerate(shapes):
            assert list(near.query(shape, predicate="dwithin", distance=2.9)) == [i]
        x0, y0, x1, y1 = shapely.total_bounds(np.array(shapes))
        assert min(x0, y0) >= 0.0
        assert x1 <= lay.width
        assert y1 == pytest.approx(lay.length)
        assert sum(shape.area for shape in shapes) == pytest.approx(_whole_area(what, lay.kind), rel=1e-3)
        assert lay.buy >= lay.length


@pytest.mark.parametrize("design", ALL)
def test_each_part_is_its_net_piece_as_worn(design: str) -> None:
    """No part is cut for the wrong side: each holds the net piece that it becomes, drawn from the right side.

    That is the garment as it was drafted, before anything was found to be another's mirror image.
    """
    what = made(design)
    parts = parts_of(what.garment, what.cut)
    assert {part.name for part in parts} == {piece.name for piece in what.garment.pieces}
    for part in parts:
        if part.upright:
            net = shapely.Polygon(what.garment.piece(part.name).outline.flatten())
            # A part's chords lie up to half a millimetre within the free edge of a facing, which has no allowance.
            assert _polygon(part.ring).buffer(0.6 if part.piece.interfaced else 0.1).contains(net), part.name


def test_a_part_turned_over_is_the_mirror_image_of_its_pattern_piece() -> None:
    """The second sleeve: printed side down, the grain still upwards."""
    what = made("diagonal-overlay-top")
    first, second = (part for part in parts_of(what.garment, what.cut) if part.name.startswith("sleeve"))
    assert (first.over, second.over) == (False, True)
    mirrored = first.ring * (-1.0, 1.0)
    gap = shapely.Polygon(mirrored - mirrored.min(axis=0)).symmetric_difference(
        shapely.Polygon(second.ring - second.ring.min(axis=0))
    )
    assert gap.area < 1.0


def test_knits_lie_one_way_and_plain_wovens_either() -> None:
    """Knits and naps shade, so all tops lie in one direction (handbooks of garment making); a plain woven may turn."""
    knit, woven = lays(made("basic-tee"))[0], lays(made("princess-top"))[0]
    assert knit.one_way
    assert not any(each.turned for each in knit.laid)
    assert not woven.one_way
    assert any(each.turned for each in woven.laid)


def test_a_narrower_cloth_takes_more_and_one_too_narrow_is_told() -> None:
    """Nothing is bent to fit: a part wider than the cloth isn't laid, and is named."""
    what = made("diagonal-overlay-top")
    wide, narrow, tiny = (lays(what, width=width)[0] for width in (1500.0, 900.0, 400.0))
    assert narrow.length > wide.length
    assert {part.name for part in tiny.too_wide} >= {"front", "back", "overlay-front"}
    assert all(part.width > tiny.width - 3.0 for part in tiny.too_wide)


def test_the_same_pieces_give_the_same_lay() -> None:
    """Twice laid, twice the same, to the last bit."""
    what = made("basic-tee")
    one, two = ([each.ring for lay in lays(what) for each in lay.laid] for _ in range(2))
    assert all((a == b).all() for a, b in zip(one, two, strict=True))


@pytest.mark.parametrize(("across", "up"), [(2, 2), (3, 1), (1, 3)])
def test_rectangles_that_fill_the_cloth_leave_nothing(across: int, up: int) -> None:
    """So many equal rectangles as make a rectangle: the shortest strip is known, and is found."""
    side = 300.0
    square = np.array([(0.0, 0.0), (side, 0.0), (side, side), (0.0, side), (0.0, 0.0)])
    strip = ClothStrip(across * 101, (3.0, 3.0))
    ways = [[way(square, strip, 3.0, FREE, False)] for _ in range(across * up)]
    spots = pack_shortest(ways, strip, 10, Effort(math.inf))
    assert top_of(spots, strip) <= up * (side + 3.0)


@pytest.mark.parametrize(
    ("design", "least", "most"),
    [("basic-tee", 700, 1200), ("knit-top", 1000, 1500), ("diagonal-overlay-top", 1100, 1700)],
)
def test_a_top_takes_about_what_pattern_envelopes_say(design: str, least: float, most: float) -> None:
    """A knit top for a bust of 92 cm from a cloth 150 cm wide: about 1 m with short sleeves, 1.2 m with long ones.

    A second layer takes a little more (common practice).
    """
    main = lays(made(design))[0]
    assert least <= main.buy <= most
    assert main.spreads[0].used > 0.45


def test_small_parts_lie_between_large_ones_that_lean_to_either_side() -> None:
    """A sheath's facings find room beside its armholes: no longer than front and back, but for a hand's breadth."""
    main = lays(made("sheath-dress"))[0]
    assert main.length < max(float(np.ptp(each.ring[:, 1])) for each in main.laid) + 60.0


@pytest.mark.parametrize("spare", [3.2, 2.0])
def test_a_part_as_wide_as_the_cloth_fits_or_is_told(spare: float) -> None:
    """To the millimetre: what leaves the blade its room is laid, what doesn't is named."""
    what = made("basic-tee")
    widest = max(part.width for part in parts_of(what.garment, what.cut) if part.piece.cloth == "main")
    lay = lays(what, width=widest + 20.0 + spare)[0]
    assert bool(lay.too_wide) == (spare < 3.0)
    assert len(lay.laid) + len(lay.too_wide) == sum(piece.quantity for piece in what.cut if piece.cloth == "main")


@pytest.mark.parametrize("angle", [0.0, 60.0, 135.0])
def test_a_pair_off_the_straight_grain_lies_as_mirror_images(angle: float) -> None:
    """Whatever way the grain runs on a pattern piece, both of a pair have it along the cloth's length."""
    what = made("diagonal-overlay-top")
    grain = Point(math.cos(math.radians(angle)), math.sin(math.radians(angle)))
    cut = [replace(piece, grain=grain) for piece in what.cut if piece.stands_for[0].startswith("sleeve")]
    one, two = (part.ring for part in parts_of(what.garment, cut))
    mirrored = one * (-1.0, 1.0)
    gap = _polygon(mirrored - mirrored.min(axis=0)).symmetric_difference(_polygon(two - two.min(axis=0)))
    assert gap.area < 1.0


def test_a_benchmark_set_is_read_and_laid(tmp_path: Path) -> None:
    """In the common JSON form: corners and squares that all but fill a strip; turns that aren't quarters are told."""
    corner = [[0, 0], [200, 0], [200, 100], [100, 100], [100, 200], [0, 200], [0, 0]]
    square = [[0, 0], [96, 0], [96, 96], [0, 96], [0, 0]]
    items = [
        {"demand": 2, "allowed_orientations": [0, 180], "shape": {"type": "simple_polygon", "data": corner}},
        {"demand": 2, "allowed_orientations": [0], "shape": {"type": "simple_polygon", "data": square}},
    ]
    file = tmp_path / "corners.json"
    file.write_text(json.dumps({"name": "corners", "strip_height": 200, "items": items}), encoding="utf-8")
    asked = read_set(file)
    assert asked is not None
    assert asked.area == 2 * (30_000.0 + 96.0**2)
    assert lay_set(asked, columns=100, tries=50) > 0.94
    items[0]["allowed_orientations"] = [0, 45]
    file.write_text(json.dumps({"name": "corners", "strip_height": 200, "items": items}), encoding="utf-8")
    assert read_set(file) is None
