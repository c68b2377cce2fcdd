"""How deep a bent hem is turned: fullness is eased in, a shortage must be stretched, and a woven hardly can."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from blocks.facing import draft_facings
from drafting.changes.design.vents import open_vents
from drafting.cloth import Cloth
from drafting.errors import CannotDraft
from drafting.finishing import FinishPlan, finish, hem_shortage
from drafting.finishing.allowance import HEM_FULLNESS, NARROW_HEM, hem_depths, net_edges
from drafting.finishing.symmetry import image_of
from drafting.garment import Fate, Garment, Line, Piece, Role
from drafting.geometry import Path, Point
from drafting.job import draft_job
from drafting.proof import prove
from drafting.ticket import find_catalogue
from drafting.ticket.job import Job
from drafting.ticket.narrowed import find_narrowed
from tests.blocks_woven.people import POPLIN
from tests.garments import brief
from tests.laws.jobs import WEARER, job_from, job_of, with_changes
from tests.skirts.dressed import JERSEY, WOVEN, skirt


def panel(bulge: float, wide: float = 400.0, high: float = 300.0) -> Garment:
    """A panel whose hem bulges out by so much in its middle (mm; less than 0: is hollow)."""
    handle = bulge * 4.0 / 3.0
    a, b, c, d = Point(0.0, 0.0), Point(wide, 0.0), Point(wide, high), Point(0.0, high)
    hem = Path.cubic(a, Point(wide / 3.0, -handle), Point(2.0 * wide / 3.0, -handle), b)
    paths = {"hem": hem, "side": Path.straight(b, c), "top": Path.straight(c, d), "other": Path.straight(d, a)}
    roles = {"hem": Role.HEM, "side": Role.SIDE, "top": Role.WAIST, "other": Role.SIDE}
    ring = tuple(
        Line(name, path, roles[name], fate=Fate.HEMMED if name == "hem" else Fate.RAW) for name, path in paths.items()
    )
    return Garment((Piece("panel", "Panel", ring),))


def job_of_woven() -> Job:
    """A bodice in a cloth that hardly stretches."""
    woven = WEARER[: WEARER.index("[cloth]")] + '[cloth]\nkind = "woven"\nstretch_across = "2 %"\n'
    return job_from(f'builds_on = "fitted-bodice"\nunit = "cm"\n{woven}')


def depth(bulge: float, plan: FinishPlan) -> float:
    """How deep its hem is turned."""
    (found,) = hem_depths(panel(bulge), plan).values()
    return found


@pytest.mark.parametrize("stretch", [0.0, 0.02, 0.1, 0.3])
@pytest.mark.parametrize("bulge", [-40.0, -20.0, -8.0, 8.0, 20.0, 40.0])
def test_the_raw_edge_is_neither_too_full_nor_too_short(bulge: float, stretch: float) -> None:
    """By the parallel's own length: 12 % fuller at most, and shorter by no more than the cloth gives."""
    plan = FinishPlan(hem_depth=40.0, hem_shortage=hem_shortage(stretch))
    deep = depth(bulge, plan)
    hem = panel(bulge).piece("panel").line("hem").path
    longer = (hem.offset(deep).length - hem.length) / hem.length * 2.0  # the raw edge lies as far on the other side
    assert -plan.hem_shortage - 0.002 < longer < HEM_FULLNESS + 0.002 or deep == NARROW_HEM


def test_a_hem_trued_at_its_ends_alone_is_no_round_hem() -> None:
    """Straight but for 5 degrees within 3 cm of a dart and of the side, it is turned 2 cm and more, not 1.5."""
    garment = panel(0.0, wide=130.0)
    rise = Point(10.0, 10.0 * math.tan(math.radians(5.0)))
    down, up = Point(rise.x, -rise.y), rise
    a, b, c, d = Point(0.0, 0.0), Point(30.0, -1.31), Point(100.0, -1.31), Point(130.0, 0.0)
    along = Point(10.0, 0.0)
    hem = Path.join(Path.cubic(a, a + down, b - along, b), Path.straight(b, c), Path.cubic(c, c + along, d - up, d))
    piece = garment.piece("panel")
    ring = tuple(replace(line, path=hem) if line.name == "hem" else line for line in piece.ring)
    (deep,) = hem_depths(Garment((replace(piece, ring=ring),)), FinishPlan(hem_depth=35.0)).values()
    assert deep > 20.0


def test_a_hollow_hem_of_a_woven_is_the_narrowest() -> None:
    """The same bend: rounded out it is turned as deep in either cloth; hollow, deeper in a knit, which gives."""
    knit, woven = (FinishPlan(hem_depth=40.0, hem_shortage=hem_shortage(stretch)) for stretch in (0.3, 0.0))
    assert depth(30.0, knit) == depth(30.0, woven)
    assert depth(-30.0, woven) < depth(30.0, woven) < depth(-30.0, knit)


@pytest.mark.parametrize(
    ("share", "low", "high"), [("full", 10.0, 15.0), ("half", 10.0, 17.0), ("quarter", 15.0, 22.0)]
)
@pytest.mark.parametrize("cloth", [WOVEN, JERSEY])
def test_the_hem_of_a_circle_is_narrow(share: str, low: float, high: float, cloth: Cloth) -> None:
    """Of full circles 1 to 1.5 cm, of flared skirts about 2 (common practice); a straight one is turned as asked."""
    garment, _b = skirt([("circle-skirt", {"circle": share, "length": 600.0})], cloth=cloth)
    assert low <= hem_depths(garment, FinishPlan(hem_depth=35.0))["hem"] <= high
    straight, _b = skirt([("skirt", {"length": 600.0})], cloth=WOVEN)
    assert hem_depths(straight, FinishPlan(hem_depth=35.0))["hem"] == 35.0


def test_less_stretch_gives_less() -> None:
    """2 % in a cloth that doesn't stretch, more with stretch, never more than the fullness that is eased in."""
    shares = [hem_shortage(stretch) for stretch in (0.0, 0.04, 0.1, 0.2, 0.5)]
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.02, HEM_FULLNESS)


@pytest.mark.parametrize("change", ["high-hip", "sway-back"])
@pytest.mark.parametrize(("by", "kept"), [(5.0, True), (10.0, True), (20.0, False)])
def test_a_slight_rise_leaves_a_hem_its_depth(change: str, by: float, kept: bool) -> None:
    """In a woven too: what its raw edge is short of is pressed out along the hem; a greater rise is told of."""
    job = with_changes(job_of_woven(), [(change, {"by": by})])
    garment = draft_job(job)
    deep, asked = hem_depths(garment, job.finish)["hem"], job.finish.hem_depth
    notes = list(find_narrowed(garment, job.finish))
    assert (deep == asked) is kept
    assert [(note.place, note.value, note.limit) for note in notes] == ([] if kept else [("hem", deep, asked)])
    assert deep > asked / 2.0


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_a_reduced_depth_is_one_that_can_be_measured(unit: str) -> None:
    """Whole millimetres, or sixteenths of an inch; and the piece tells the reason."""
    plan = FinishPlan(hem_depth=40.0, hem_shortage=0.02, unit=unit)
    step = 25.4 / 16.0 if unit == "in" else 1.0
    for bulge in (-6.3, -9.1, 36.0, 51.3):
        deep = depth(bulge, plan)
        assert deep < 40.0
        assert deep == NARROW_HEM or math.isclose(deep / step, round(deep / step), abs_tol=1e-9)
    (hollow,), (full,) = (finish(panel(bulge), plan) for bulge in (-6.3, 51.3))
    assert any(label.startswith("hollow hem, whose raw edge is the shorter: turn only") for label in hollow.labels)
    assert any(label.startswith("curved hem: turn only") for label in full.labels)


def test_a_ticket_in_woven_cloth_asks_for_it() -> None:
    """The cloth of the job decides."""
    assert job_of_woven().finish.hem_shortage == 0.02
    assert job_of("basic-tee").finish.hem_shortage == HEM_FULLNESS


def test_depths_that_differ_by_a_rounding_are_one() -> None:
    """Two pieces are the same though their hem depths differ by a hundred-thousandth of a micron; not by 0.1 mm."""
    piece = panel(0.0).piece("panel")
    edges = net_edges(panel(0.0), FinishPlan(), {"hem": 25.0})["panel"]
    for by, same in ((8e-12, True), (0.1, False)):
        others = [replace(edge, allowance=edge.allowance + by) if edge.name == "hem" else edge for edge in edges]
        assert (image_of(piece, edges, piece, others, flipped=False) is not None) is same


@pytest.mark.parametrize("more", [40.0, 90.0, 170.0])
def test_puffed_sleeves_are_printed_once(more: float) -> None:
    """Left and right, spread at hem and cap, are a pair."""
    changes = [("sleeve-fullness", {"hem": more, "cap": more / 2.0})]
    cut = finish(draft_job(with_changes(job_of("basic-tee"), changes)), FinishPlan())
    sleeves = [piece for piece in cut if piece.name.startswith("sleeve")]
    assert [(piece.quantity, piece.mirrored) for piece in sleeves] == [(2, 1)]


def test_a_cropped_hem_that_bends_is_told_of_and_can_be_faced() -> None:
    """The note advises the facing; with it the hem is sewn, open at the back where the zip parts it, and it proves."""
    cropped = with_changes(job_of("princess-top"), [("lengthen", {"by": -100.0, "at": "hem"})], brief(cloth=POPLIN))
    garment = draft_job(cropped)
    (note,) = find_narrowed(garment, cropped.finish, find_catalogue().find_mends)
    assert 'opening = "hem"' in str(note.remedy)
    faced = draft_facings.apply(garment, cropped.brief, draft_facings.options(opening="hem"))
    assert not list(find_narrowed(faced, cropped.finish))
    assert prove(faced, cropped.brief, finish(faced, cropped.finish)).passed
    ends = [seam for seam in faced.seams if seam.name.startswith("hem-facing-end")]
    assert len(ends) == len([p for p in faced.pieces if p.name.startswith("hem-facing")]) - 1


def test_a_hem_with_vents_isnt_faced() -> None:
    """Its facing would have to turn up into each."""
    garment, b = skirt([("skirt", {"length": 600.0})], cloth=WOVEN, then=[(open_vents, {})])
    with pytest.raises(CannotDraft, match="round a vent"):
        draft_facings.apply(garment, b, draft_facings.options(opening="hem"))
