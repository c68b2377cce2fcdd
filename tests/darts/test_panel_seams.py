"""Panel seams over the bust point: drawn for every body, one fair line a panel, no dart left beside them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from blocks.darted_bodice import draft_darted_bodice
from drafting.body import make_body
from drafting.changes.darts.panel import draw_panel_seam
from drafting.changes.design.closure import open_closure
from drafting.cloth import Cloth, Fit, Kind
from drafting.errors import CannotDraft
from drafting.finishing import FinishPlan, finish
from drafting.garment import Garment, Girth, Role, Seam, Width
from drafting.garment.darts import darts_of
from drafting.geometry import Path, Point, curve_through
from drafting.proof import Severity, prove
from drafting.proof.checks.ease import measure_garment
from drafting.proof.fit.panels import panel_rows
from tests.body.people import GROUPS, people
from tests.garments import brief, build

COTTON = Cloth("cotton", Kind.WOVEN, stretch_across=0.0, width=1500.0)

BODIES = {
    "a full bust": ("bodies_2012_women", 200),
    "no bust dart, a woman": ("bodies_1988_women", 120),
    "no bust dart, a man": ("bodies_1988_men", 360),
    "two darts in the back": ("bodies_1988_women", 480),
}

EASED_IN = [("bodies_1988_women", 160), ("bodies_2012_women", 400)]
"""Backs whose shoulder dart is so small that it is eased in, with much to take in at the waist."""

LEAST_RADIUS, MOST_TURNS = 60.0, 2
"""Of a panel seam's edge (from memory): 6 cm, and out over the bust, in at the waist, out to the hip."""


ROUNDED = 7.0
"""By which an across front may be wider between panels than with a dart (mm): each edge rounds at the point only."""


def panelled(group: str, number: int, to: str = "hip") -> tuple[Garment, Garment]:
    """A bodice without and with panel seams, front and back; the latter proven."""
    wearer = brief(make_body("someone", people(group)[number], rules=GROUPS[group]), cloth=COTTON, rib=COTTON)
    plain = build(wearer, [(draft_darted_bodice, {"to": to})])
    made = build(wearer, [(draft_darted_bodice, {"to": to})], [(draw_panel_seam, {}), (open_closure, {})])
    proof = prove(made, wearer, finish(made, FinishPlan()))
    errors = [found for found in proof.of(Severity.ERROR) if found.code != "openings.pass"]  # a waist is closed there
    assert not errors, errors
    # A shoulder trued for the dart and for the seam both would waver, a side by a tenth of a millimetre doesn't.
    assert not [found for found in proof.findings if found.code.startswith("outlines.")]
    return plain, made


def edges_of(garment: Garment, seam: Seam) -> list[Path]:
    """The two edges of a seam, each as one path."""
    return [
        Path.join(*(garment.line(u).path.reversed() if u.against else garment.line(u).path for u in ply))
        for ply in seam.plies
    ]


def bends(path: Path) -> tuple[float, int]:
    """The least radius (mm) of a path, over a centimetre, and how often it turns the other way."""
    at = np.arange(0.5, path.length - 0.5, 1.0)
    ways = [path.tangent(float(s)) for s in at]
    bend = np.convolve(np.diff(np.unwrap([np.arctan2(way.y, way.x) for way in ways])), np.ones(9) / 9, "valid")
    felt = bend[np.abs(bend) > 1.0 / 2000.0]
    return float(1.0 / np.abs(bend).max()), int((np.diff(np.sign(felt)) != 0).sum())


@pytest.mark.parametrize("whose", BODIES)
def test_every_body_gets_panels_of_one_fair_line(whose: str) -> None:
    """With a bust dart or without: four seams, each edge with a radius of 6 cm at least, and two turns at most."""
    plain, made = panelled(*BODIES[whose])
    seams = [seam for seam in made.seams if seam.name.startswith("panel-")]
    assert len(seams) == 4
    assert not [row.place for row in panel_rows(made, brief("alto", cloth=COTTON)) if row.beyond]
    for seam in seams:
        for edge in edges_of(made, seam):
            radius, turns = bends(edge)
            assert radius >= LEAST_RADIUS
            assert turns <= MOST_TURNS
    for level in ("bust", "waist", "hip"):
        assert measure_garment(made, Girth(level)) == pytest.approx(measure_garment(plain, Girth(level)), abs=0.1)
    across = Width("across-front")  # the edges follow the dart's legs: it takes in as much as in the darted piece
    assert measure_garment(made, across) == pytest.approx(measure_garment(plain, across), abs=ROUNDED)


@pytest.mark.parametrize("to", ["hip", "waist"])
def test_the_seam_takes_the_darts_up(to: str) -> None:
    """No dart is left in any panel, and the seams of front and back meet at the middle of the shoulder."""
    _, made = panelled(*BODIES["a full bust"], to)
    left = [dart.name for piece in made.pieces for dart in darts_of(piece)]
    assert not left or (to == "waist" and all(name.startswith("waist-side-back") for name in left))


def test_a_seam_may_start_at_the_armhole() -> None:
    """The bust dart is turned there, whatever edge it was drafted in."""
    wearer = brief("alto", cloth=COTTON)
    made = build(
        wearer,
        [(draft_darted_bodice, {"to": "hip"})],
        [(draw_panel_seam, {"start": "armhole 0.5", "on": "front"}), (open_closure, {})],
    )
    assert not prove(made, wearer, finish(made, FinishPlan())).of(Severity.ERROR)
    assert made.has_piece("side-panel-front-left")


def test_a_seam_that_starts_below_is_refused_by_its_own_option() -> None:
    """At the hem, and where the waist would be bent: what is told to be looked at is a key of the change."""
    for start in ("hem 0.5", "side 0.98"):
        with pytest.raises(CannotDraft) as refused:
            build(
                brief("alto", cloth=COTTON),
                [(draft_darted_bodice, {"to": "hip"})],
                [(draw_panel_seam, {"start": start})],
            )
        assert set(refused.value.because) <= {"start", "end"}, start


@pytest.mark.parametrize("whose", ["a full bust", "two darts in the back"])
def test_a_seam_from_the_armhole_runs_below_the_shoulder_dart(whose: str) -> None:
    """On the back it rounds into the waist dart, and the dart of the shoulder stays; so the default of face serves."""
    group, number = BODIES[whose]
    wearer = brief(make_body("someone", people(group)[number], rules=GROUPS[group]), cloth=COTTON, rib=COTTON)
    plain = build(wearer, [(draft_darted_bodice, {"to": "hip"})])
    made = build(
        wearer,
        [(draft_darted_bodice, {"to": "hip"})],
        [(draw_panel_seam, {"start": "armhole 0.5"}), (open_closure, {})],
    )
    assert not prove(made, wearer, finish(made, FinishPlan())).of(Severity.ERROR)
    assert {"side-panel-back-left", "side-panel-back-right"} <= {piece.name for piece in made.pieces}
    kept = [dart.name for piece in made.pieces for dart in darts_of(piece)]
    assert sorted(kept) == sorted(
        each.name for each in darts_of(plain.piece("back")) if each.name.startswith("shoulder")
    )
    for seam in made.seams:
        if seam.name.startswith("panel-back"):
            assert min(bends(edge)[0] for edge in edges_of(made, seam)) >= LEAST_RADIUS


@pytest.mark.parametrize(("group", "number", "fit"), [(*EASED_IN[0], Fit.CLOSE), (*EASED_IN[1], Fit.RELAXED)])
def test_a_back_without_a_shoulder_dart_gets_a_fair_panel_seam(group: str, number: int, fit: Fit) -> None:
    """The edge next to the centre runs on from the shoulder without turning back where the waist's intake begins."""
    wearer = brief(make_body("someone", people(group)[number], rules=GROUPS[group]), fit=fit, cloth=COTTON, rib=COTTON)
    made = build(wearer, [(draft_darted_bodice, {"to": "hip"})], [(draw_panel_seam, {"on": "back"})])
    rows = list(panel_rows(made, wearer))
    assert {row.name for row in rows} == {"panel_bend", "panel_turns"}
    assert not [row.place for row in rows if row.beyond]


def test_a_seam_that_bends_tightly_or_to_and_fro_is_told() -> None:
    """An edge drawn through a corner of 3 cm radius, or with a third turn, passes the bound of its row."""
    _, made = panelled(*BODIES["a full bust"])
    piece = made.piece("side-panel-front-left")
    edge = piece.lines(role=Role.STYLE)[0]
    a, b = edge.path.start, edge.path.end
    wave = curve_through([a, a.to(b, 0.3) + Point(15.0, 0.0), a.to(b, 0.5), a.to(b, 0.7) + Point(15.0, 0.0), b])
    ring = tuple(replace(line, path=wave) if line is edge else line for line in piece.ring)
    told = [row for row in panel_rows(made.with_(pieces=[replace(piece, ring=ring)]), brief("alto")) if row.beyond]
    assert {row.name for row in told} >= {"panel_turns"}
