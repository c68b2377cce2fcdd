"""Stripes lie on the flat as the cutting plan has them lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
import shapely

from drafting.cloth import Stripe
from drafting.cloth.colour import TINTS
from drafting.finishing import finish
from drafting.finishing.allowance import hem_depths
from drafting.flat import FlatKind, FlatView, draw_flat
from drafting.flat.shapes import Points
from drafting.garment import Piece, Role
from drafting.job import draft_job
from drafting.lay import place_stripes
from drafting.output import PrintInfo, flat_svg
from tests.laws.jobs import job_of
from tests.lay.laying import chevrons


def striped(design: str, stripe: Stripe, *, bands: bool = False) -> tuple[FlatView, FlatView]:
    """The flats of a design in a striped cloth, its bands in a striped one too."""
    job = job_of(design)
    cloth, rib = (replace(each, stripe=stripe) for each in (job.brief.cloth, job.brief.cloths["rib"]))
    brief = replace(job.brief, cloth=cloth, cloths={"rib": rib} if bands else job.brief.cloths)
    garment = draft_job(replace(job, brief=brief))
    placed = place_stripes(garment, finish(garment, job.finish), brief)
    return draw_flat(garment, brief.body, hem_depths(garment, job.finish), placed)


def stripes(view: FlatView, *, level: bool) -> list[Points]:
    """The stripes of the trunk: those of the sleeves slant."""
    found = [shape.points for shape in view.shapes if shape.kind is FlatKind.STRIPE]
    return [points for points in found if np.ptp(points[:, 1 if level else 0]) < 1.0]


def test_stripes_across_meet_at_the_sides_and_are_a_repeat_apart() -> None:
    """Front and back of a tee: the same heights from the hem up."""
    front, back = (
        {round(float(p[0, 1]), 1) for p in stripes(v, level=True)} for v in striped("basic-tee", Stripe(40.0))
    )
    low = sorted(front)[:8]
    assert np.diff(low) == pytest.approx(40.0)
    assert sorted(back)[:8] == pytest.approx(low, abs=0.5)


def test_a_stripe_along_runs_down_the_centre() -> None:
    """In front and behind."""
    for view in striped("basic-tee", Stripe(30.0, "along")):
        places = sorted(round(float(points[0, 0]), 1) + 0.0 for points in stripes(view, level=False))
        assert 0.0 in places
        assert np.diff(sorted(set(places))) == pytest.approx(30.0, abs=0.2)


def test_sleeves_have_their_stripes_square_to_their_length() -> None:
    """Of a knit top, across: each slants, all alike on one side, the stripes of both sleeves mirrored."""
    front, _ = striped("knit-top", Stripe(40.0))
    slanted = [s.points for s in front.shapes if s.kind is FlatKind.STRIPE and np.ptp(s.points[:, 1]) > 10.0]
    turns = {round(float(np.ptp(p[:, 1]) / np.ptp(p[:, 0])), 3) for p in slanted}
    assert len(slanted) > 10
    assert len(turns) == 1


def test_a_band_has_the_stripes_that_it_is_cut_with() -> None:
    """A hem band of 5.5 cm, on whose lower edge a stripe lies: further ones 2 cm and 4 cm above that, along it."""
    plain, front = (striped("knit-top", Stripe(20.0), bands=bands)[0] for bands in (False, True))
    low = min(float(shape.points[:, 1].min()) for shape in front.shapes if shape.kind is FlatKind.EDGE)
    heights = [sorted({round(float(p[0, 1]) - low, 1) for p in stripes(view, level=True)}) for view in (plain, front)]
    assert heights[0][0] >= 55.0
    assert heights[1][:2] == pytest.approx([20.0, 40.0], abs=0.2)


def test_a_cuff_has_the_stripes_that_it_is_cut_with() -> None:
    """A knit top's, 7 cm high, a stripe on its fold: further ones 2, 4 and 6 cm above that, across it as it slants."""
    for view in striped("knit-top", Stripe(20.0), bands=True):
        for side in ("left", "right"):
            (cuff,) = (each.points for each in view.shapes if each.piece == f"cuff-{side}")
            top, fold = (cuff[0] + cuff[3]) / 2.0, (cuff[1] + cuff[2]) / 2.0
            up = (top - fold) / np.hypot(*(top - fold))
            found = [each.points for each in view.shapes if each.kind is FlatKind.STRIPE]
            on = [p for p in found if shapely.Polygon(cuff).buffer(0.5).contains(shapely.LineString(p)) and len(p) == 2]
            heights = {round(float(np.mean((p - fold) @ up)), 1): float(np.hypot(*(p[1] - p[0]))) for p in on}
            met = {height: wide for height, wide in heights.items() if 1.0 < height < 69.0}
            assert sorted(met) == pytest.approx([20.0, 40.0, 60.0], abs=0.2)
            assert min(met.values()) > 80.0


def test_each_piece_is_drawn_in_the_colour_of_its_cloth() -> None:
    """A red band on a navy tee, in the drawing that a browser shows too; nothing is coloured that isn't said to be."""
    job = job_of("basic-tee")
    garment, hems = draft_job(job), hem_depths(draft_job(job), job.finish)
    views = draw_flat(garment, job.brief.body, hems, tints={"main": TINTS["navy"], "rib": TINTS["red"]})
    tints = {shape.piece: shape.tint for view in views for shape in view.shapes if shape.kind is FlatKind.CLOTH}
    assert (tints["front"], tints["neck-band"]) == (TINTS["navy"], TINTS["red"])
    drawn = flat_svg(PrintInfo("Tee", "", "", flat=views))
    assert f"fill:#{TINTS['red']}" in drawn
    assert 'style="fill' not in flat_svg(PrintInfo("Tee", "", "", flat=draw_flat(garment, job.brief.body, hems)))


def _courses(piece: Piece) -> Iterator[Points]:
    """The points of a piece's side seams, and down the wearer's centre within it."""
    for path in (line.path for line in piece.lines(role=Role.SIDE)):
        yield np.array([[*path.at(path.length * k / 99.0)] for k in range(100)])
    outline = piece.outline
    area = shapely.Polygon([[*outline.at(outline.length * k / 999.0)] for k in range(999)])
    centre = shapely.LineString([(0.0, -900.0), (0.0, 100.0)]).intersection(area.buffer(-1.0))
    yield from (np.linspace(*part.coords, 100) for part in shapely.get_parts(centre))


def test_chevrons_on_the_bias_lie_in_the_flat_as_the_plan_has_them_cut() -> None:
    """An overlay top: where the plan's stripes cross side seams and centre, those of the flat do, to 0.1 mm."""
    job, garment, cut, lay = chevrons()
    placed = place_stripes(garment, cut, job.brief)
    (stripe,) = lay.stripes
    views = draw_flat(garment, job.brief.body, hem_depths(garment, job.finish), placed)
    met = 0
    for view, names in zip(views, (("front", "overlay-front"), ("back", "overlay-back")), strict=True):
        drawn = shapely.MultiLineString([shape.points for shape in view.shapes if shape.kind is FlatKind.STRIPE])
        for name in names:
            (laid,) = (each for each in lay.laid if each.part.name == name)
            up, grain = (laid.ring - laid.part.ring)[0, 1] - stripe.first, garment.piece(name).grain.unit
            for points in _courses(garment.piece(name)):
                at = (points @ (grain.x, grain.y) + up) / stripe.stripe.repeat
                for k in np.flatnonzero(np.floor(at[1:]) != np.floor(at[:-1])):
                    share = (max(np.floor(at[k : k + 2])) - at[k]) / (at[k + 1] - at[k])
                    crossing = shapely.Point(points[k] + share * (points[k + 1] - points[k]))
                    assert drawn.distance(crossing) < 0.1
                    met += 1
    assert met > 60
