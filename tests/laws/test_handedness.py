"""Each piece is cut as it is worn, seen from the right side: against a reckoning of its own, from the wearer."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest
import shapely

from drafting.finishing import CutPiece, finish
from drafting.garment import Garment
from drafting.job import draft_job
from drafting.ticket import Job
from tests.laws.jobs import job_of, with_changes
from tests.laws.worn import landmarks, words, wrong_way
from tests.overlay.tops import OVERLAY, with_options

DESIGNS = {
    "overlay": ("diagonal-overlay-top", ()),
    "overlay, sleeveless": ("diagonal-overlay-tank", ()),
    "overlay, one long sleeve": ("diagonal-overlay-top", (("sleeve-length", {"by": -150.0, "side": "left"}),)),
    "overlay dress": ("diagonal-overlay-dress", (("hem", {"higher": "right", "by": 120.0}),)),
    "one sleeve": ("basic-tee", (("sleeveless", {"side": "left"}), ("underarm", {"side": "left", "by": 20.0}))),
    "one narrow shoulder": ("knit-top", (("shoulder", {"narrow": 20.0, "side": "right"}),)),
    "hem on the slant": ("basic-tee", (("hem", {"higher": "left", "by": 90.0}),)),
    "one vent": ("basic-tee", (("vents", {"side": "right", "height": 90.0}),)),
    "one full sleeve": ("basic-tee", (("sleeve-fullness", {"cap": 50.0, "side": "left"}),)),
    "flared on one side": ("basic-tee", (("flare", {"by": 120.0, "side": "right"}),)),
    "a seam at the centre": ("tank-top", (("centre", {"on": "back"}), ("hem", {"higher": "left", "by": 70.0}))),
    "a slanting yoke": (
        "basic-tee",
        (("style-line", {"start": "armhole 0.3", "end": "side 0.3", "start_side": "left", "end_side": "other"}),),
    ),
    "one shoulder opened": ("tank-top", (("neckline", {"widen": 60.0, "side": "left"}),)),
}  # fmt: skip
"""Asymmetric designs: a design of the catalogue and changes."""


@cache
def made(name: str, side: str, mirrored: bool = False) -> tuple[Garment, tuple[CutPiece, ...]]:
    """A design's garment and cut pieces; ``side`` is the shoulder an overlay covers."""
    design, changes = DESIGNS[name]
    job = covering(job_of(design), side)
    job = with_changes(job, [*changes, *([("mirror", {})] if mirrored else [])])
    garment = draft_job(job)
    return garment, finish(garment, job.finish)


def covering(job: Job, side: str) -> Job:
    """The job with its overlay, if it has one, over the shoulder of that side."""
    steps = tuple(with_options(each, {"side": side}) if each.step.name == OVERLAY else each for each in job.steps)
    return replace(job, steps=steps)


def turned_over(piece: CutPiece) -> CutPiece:
    """A piece as it would be if it were cut mirrored, its outline still anticlockwise."""
    outline = tuple(replace(e, path=e.path.mirrored().reversed()) for e in reversed(piece.outline))
    return replace(piece, outline=outline)


@pytest.mark.parametrize("mirrored", [False, True], ids=["as designed", "mirrored"])
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("name", DESIGNS)
def test_each_piece_is_the_worn_shape_from_its_right_side(name: str, side: str, mirrored: bool) -> None:
    """Its turned-over copy is not, and of a pair the second is what the first is turned over."""
    garment, cut = made(name, side, mirrored)
    over = {"left": "right", "right": "left"}[side] if mirrored else side
    where = landmarks(garment, over)
    judged = set()
    for piece in cut:
        if piece.on_fold:
            continue
        copies = [piece] * (piece.quantity - piece.mirrored) + [turned_over(piece)] * piece.mirrored
        for copy, worn in zip(copies, piece.stands_for, strict=True):
            why = wrong_way(renamed(copy, garment, piece.stands_for[0], worn), worn, where)
            if why is None:
                continue
            judged.add(worn)
            assert why == "", why
            assert wrong_way(turned_over(renamed(copy, garment, piece.stands_for[0], worn)), worn, where), worn
    folded = {worn for piece in cut if piece.on_fold for worn in piece.stands_for}
    wanted = {p.name for p in garment.pieces if not {"cuff", "band", "binding"} & set(words(p.name))}
    assert judged == wanted - folded


def renamed(piece: CutPiece, garment: Garment, first: str, worn: str) -> CutPiece:
    """A copy of a print as the piece that it stands for: each edge named as on that piece, by what it is sewn to."""
    if first == worn:
        return piece
    names = {_opposite(line.name): line.name for line in garment.piece(worn).ring}
    names |= {line.name: line.name for line in garment.piece(worn).ring}
    return replace(piece, outline=tuple(replace(e, line=names.get(e.line, e.line)) for e in piece.outline))


SIDES = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}


def _opposite(text: str) -> str:
    return re.sub(r"[A-Za-z]+", lambda found: SIDES.get(found[0], found[0]), text)


@pytest.mark.parametrize("name", DESIGNS)
def test_mirroring_the_design_mirrors_every_piece_and_every_label(name: str) -> None:
    """Each cut outline is the other's image, to 1 mm2; labels, titles and marks say left for right."""
    _, cut = made(name, "right")
    _, image = made(name, "right", True)
    twins = {piece.name: piece for piece in image}
    assert len(twins) == len(cut)
    for piece in cut:
        twin = twins[_opposite(piece.name)]
        assert twin.title == _opposite(piece.title)
        assert (twin.how, twin.quantity, twin.mirrored, twin.cloth) == (
            piece.how, piece.quantity, piece.mirrored, piece.cloth,
        )  # fmt: skip
        assert sorted(map(_opposite, _phrases(piece))) == sorted(_phrases(twin))
        if piece.on_fold or piece.mirrored:
            continue
        one, two = _polygon(turned_over(piece)), _polygon(twin)
        assert one.symmetric_difference(two).area < 1.0, piece.name
        sides = sorted(_opposite(mark.name) for mark in piece.marks if mark.kind == "side")
        assert sides == sorted(mark.name for mark in twin.marks if mark.kind == "side")


@pytest.mark.parametrize("name", DESIGNS)
def test_what_is_printed_of_sides_is_true(name: str) -> None:
    """A "wearer's left" written beside an edge stands on the half where the reckoning puts the wearer's left."""
    _, cut = made(name, "right")
    said = 0
    for piece in cut:
        face = next((f for f in ("front", "back") if f in words(piece.stands_for[0])), "")
        if not face or piece.quantity > 1:
            continue
        x0, _, x1, _ = piece.cut_path.bounds
        for mark in piece.marks:
            side = next((w for w in words(mark.name) if w in ("left", "right")), "") if mark.kind == "side" else ""
            if side:
                at = mark.path.at(mark.path.length / 2.0).x - (x0 + x1) / 2.0
                assert at * (1.0 if (face == "front") == (side == "left") else -1.0) > 0.0, (piece.name, mark.name)
                said += 1
    folded = all(piece.on_fold for piece in cut if {"front", "back"} & set(words(piece.name)))
    assert said or folded


def _phrases(piece: CutPiece) -> list[str]:
    """What the labels say, phrase by phrase, but for which side of the cloth is up."""
    return [part.strip() for line in piece.labels for part in re.split(r"[;:]", line) if part != "right side up"]


def _polygon(piece: CutPiece) -> shapely.Polygon:
    return shapely.Polygon(piece.cut_path.flatten())
