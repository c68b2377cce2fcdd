"""A facing in one follows the garment's own lines, whatever was done to them, and is turned in a way that can be."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from drafting.cloth import Fit
from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Role, Seam, Side
from drafting.geometry import Path, Point
from drafting.job import draft_job
from drafting.proof import Severity, prove
from drafting.proof.checks.work import check_work
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
from tests.blocks_woven.people import brief_for, person
from tests.laws.jobs import WEARER, job_from, job_of, with_changes

Asked = tuple[tuple[str, Mapping[str, Any]], ...]

RAGLAN = {"start": "neckline 0.3", "end": "armhole 0.7", "start_side": "both", "end_side": "same", "on": "front"}
CHANGES: Mapping[str, Asked] = {
    "as it comes": (),
    "a deep V": (("neckline", {"front": "v", "front_depth": 180.0}),),
    "a square neck": (("neckline", {"front": "square"}),),
    "cut in": (("cut-in-armhole", {"by": 10.0}),),
    "a yoke": (("style-line", {"start": "armhole 0.5", "end": "armhole 0.5", "on": "back"}),),
    "lines from the neck": (("style-line", RAGLAN),),
    "a dart in the armhole": (("move-dart", {"dart": "bust", "to": "armhole 0.5"}),),
    "a dart in the neck": (("move-dart", {"dart": "bust", "to": "neckline 0.5"}),),
    "a dart high in the side": (("move-dart", {"dart": "bust", "to": "side 0.1"}),),
    "lopsided": (("low-shoulder", {"by": 10.0}),),
}
"""What changes the lines that a facing follows."""


@cache
def drafted(design: str, asked: str, number: int = 540, fit: Fit = Fit.SEMI) -> tuple[Garment, Brief]:
    """A design for someone, with changes."""
    brief = brief_for(person(number), fit)
    return draft_job(with_changes(job_of(design), CHANGES[asked], brief)), brief


def faced_seams(garment: Garment) -> list[Seam]:
    """The seams that sew the facing on."""
    return [seam for seam in garment.seams if seam.kind.within]


def points(path: Path) -> list[Point]:
    """Points all along a path."""
    return [Point(x, y) for x, y in path.points(np.linspace(0.0, path.length, 40)).tolist()]


def shape(path: Path) -> list[float]:
    """How far apart the points of a path are: what stays the same wherever it lies."""
    found = points(path)
    return [one.distance(two) for one in found[::8] for two in found]


@pytest.mark.parametrize("asked", CHANGES)
def test_it_is_the_garments_own_edge_whatever_was_changed(asked: str) -> None:
    """Each line that is sewn to neck or armhole has its line's very shape; each piece is whole; nothing is found."""
    garment, brief = drafted("sheath-dress", asked)
    seams = faced_seams(garment)
    assert [seam.name for seam in seams] == ["neck-facing", "armhole-left-facing", "armhole-right-facing"]
    for seam in seams:
        for one, two in zip(*seam.plies, strict=True):
            assert shape(garment.path(two)) == pytest.approx(shape(garment.path(one)), abs=1e-6)
    assert not [f for f in prove(garment, brief).findings if "facing" in f.place and f.severity is not Severity.NOTE]


@pytest.mark.parametrize("design", ["sheath-dress", "princess-top"])
@pytest.mark.parametrize(("number", "fit"), [(70, Fit.CLOSE), (330, Fit.RELAXED)])
def test_it_is_wide_everywhere(design: str, number: int, fit: Fit) -> None:
    """4 to 6 cm below the underarm, and never less than 4.5 between its lower edge and what it is sewn to."""
    garment, _ = drafted(design, "as it comes", number, fit)
    facings = [piece for piece in garment.pieces if piece.interfaced]
    assert sorted(piece.name for piece in facings) == ["facing-back-left", "facing-back-right", "facing-front"]
    for piece in facings:
        edge = piece.line("edge").path
        sewn = [line.path for line in piece.ring if line.role in (Role.NECKLINE, Role.ARMHOLE)]
        assert min(path.nearest(point)[1] for path in sewn for point in points(edge)) >= 45.0 - 0.01
        beside = [one for one in (piece.before("edge"), piece.after("edge")) if not one.opening]
        assert all(40.0 <= one.path.length <= 60.0 for one in beside)


def test_over_panels_it_is_one_piece_as_long_at_the_shoulder() -> None:
    """Front and side panel lie beside each other in it: its shoulder is theirs together."""
    garment, _ = drafted("princess-top", "as it comes")
    own = [
        line.path.length
        for name in ("front", "side-panel-front-left")
        for line in garment.piece(name).lines(role=Role.SHOULDER, side=Side.LEFT)
    ]
    run = garment.seam("facing-shoulder-left").plies[0]
    assert garment.run_length(run) == pytest.approx(math.fsum(own), abs=1e-6)


def test_with_an_opened_back_it_is_turned_in_before_back_and_sides_are_closed() -> None:
    """Each back passes through its shoulder: that can't be once the centre or a side is sewn."""
    garment, _ = drafted("sheath-dress", "as it comes")
    order = [task.seam for task in make_up(garment)]
    last = max(order.index(seam.name) for seam in faced_seams(garment))
    later = ("side-left", "side-right", "closure-back-a", "centre-back")
    assert all(order.index(name) > last for name in later if name in order)
    told = [str(step) for step in steps_of_work(make_up(garment), garment, "cm")]
    (turned,) = [i for i, words in enumerate(told) if "Facing turned in" in words]
    assert "through there" in told[turned]
    assert next(i for i, words in enumerate(told) if "zip's tapes by hand" in words) > turned
    assert next(i for i, words in enumerate(told) if "on to the facing's edge" in words) > turned


def test_with_a_closed_back_the_garment_is_rolled_up() -> None:
    """No half can be pulled through a shoulder then: the neck is turned first, and the armholes by way of the sides."""
    brief = brief_for(person(540))
    job = job_of("sheath-dress")
    steps = tuple(step for step in job.steps if step.step.name != "closure")
    asked = (("closure", {"place": "left"}), ("neckline", {"front": "scoop", "back": "scoop", "widen": 30.0}))
    garment = draft_job(with_changes(replace(job, steps=steps), asked, brief))
    told = [str(step) for step in steps_of_work(make_up(garment), garment, "cm")]
    neck = next(i for i, words in enumerate(told) if "Neck facing, turned in" in words)
    arm = next(i for i, words in enumerate(told) if "Roll it up" in words)
    assert neck < arm < next(i for i, words in enumerate(told) if "on to the facing's edge" in words)
    assert not any("through there" in words for words in told)
    assert not check_work(garment, brief)


def test_a_neck_that_is_all_closure_is_refused() -> None:
    """A skirt that isn't sewn to its bodice leaves the closure an opening of its own: told, with what to do."""
    blocks = '[blocks.body]\nblock = "darted-bodice"\n[blocks.skirt]\nblock = "circle-skirt"\n[blocks.facing]\n'
    job = job_from(f'unit = "cm"\n{WEARER}{blocks}[[changes]]\nchange = "closure"\n'.replace('"knit"', '"woven"'))
    with pytest.raises(CannotDraft) as refused:
        draft_job(job)
    assert "waist-seam" in refused.value.help
