"""Skirts and dresses for tests: a woven, and garments drafted from blocks by name."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from blocks.circle_skirt import draft_circle_skirt
from blocks.facing import draft_facings
from blocks.flared_skirt import draft_flared_skirt
from blocks.skirt import draft_straight_skirt
from blocks.waist_seam import draft_waist_seam
from blocks.waistband import draft_waistband
from drafting.body import Body
from drafting.changes.design.closure import open_closure
from drafting.cloth import Cloth, Fit, Kind
from drafting.finishing import CutPiece
from drafting.garment import Brief, Garment, Role, Step
from drafting.proof import Finding, Proof, prove
from drafting.saying import render
from tests.garments import JERSEY, brief, build

WOVEN = Cloth("cotton", Kind.WOVEN, stretch_across=0.0, recovery=1.0, elastane=False, width=1500.0)

STEPS: Mapping[str, Step[Any]] = {
    step.name: step
    for step in (
        draft_circle_skirt,
        draft_flared_skirt,
        draft_straight_skirt,
        draft_waist_seam,
        draft_waistband,
        draft_facings,
        open_closure,
    )
}

Plan = tuple[str, Mapping[str, Any]]


def skirt(
    plans: Iterable[Plan | str],
    body: Body | str = "soprano",
    cloth: Cloth = WOVEN,
    fit: Fit = Fit.SEMI,
    onto: Iterable[tuple[Step[Any], Mapping[str, Any]]] = (),
    then: Iterable[tuple[Step[Any], Mapping[str, Any]]] = (),
) -> tuple[Garment, Brief]:
    """Draft steps by name, with options where they are given, on a bodice if there is one; then take further steps."""
    steps = [(plan, {}) if isinstance(plan, str) else plan for plan in plans]
    b = brief(body, fit, cloth)
    return build(b, onto, [*((STEPS[name], options) for name, options in steps), *then]), b


def errors(garment: Garment, b: Brief, cut: Sequence[CutPiece] | None = None) -> list[str]:
    """What the proof calls wrong, as code and place; a skirt drafted by itself has its waist still to be finished."""
    proof: Proof = prove(garment, b, cut)
    wrong = (f for f in proof.findings if f.severity == "error")
    return [f"{f.code} {f.place}: {render(f.sentence, 'cm')}" for f in wrong if not _is_bare_waist(f)]


def _is_bare_waist(found: Finding) -> bool:
    return found.code == "work.raw" and ".waist" in found.place


def sewn_waist(garment: Garment) -> float:
    """The waist of a skirt with its darts closed (mm), by its lines alone."""
    return math.fsum(line.path.length for piece in garment.pieces for line in piece.lines("waist"))


def cloth_at(garment: Garment, y: float) -> float:
    """How much cloth of the skirt lies at a height (mm): between edges, outside darts, over both pieces."""
    total = 0.0
    for piece in garment.pieces:
        if piece.lines("waist"):
            found = sorted(line.path.at(s).x for line in piece.ring for s in line.path.cross_level(y))
            total += sum(b - a for a, b in zip(found[::2], found[1::2], strict=True))
    return total


def darts(garment: Garment) -> list[tuple[float, float, float]]:
    """Each dart's two legs and its mouth (mm)."""
    out = []
    for piece in garment.pieces:
        for line in piece.lines(role=Role.DART):
            if line.name.endswith("-a"):
                other = piece.line(line.name[:-1] + "b")
                mouth = line.path.start.distance(other.path.end)
                out.append((line.path.length, other.path.length, mouth))
    return out


__all__ = ["JERSEY", "WOVEN", "Plan", "cloth_at", "darts", "errors", "sewn_waist", "skirt"]
