"""Garments that the fit changes are tried on, and what is measured on them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np

from blocks.darted_bodice import draft_darted_bodice
from blocks.woven_sleeve import draft_woven_sleeve
from drafting.changes.fit.arm import fit_full_upper_arm
from drafting.changes.fit.back import fit_broad_back, fit_narrow_back
from drafting.changes.fit.bust import fit_full_bust, fit_small_bust
from drafting.changes.fit.hip import fit_high_hip
from drafting.changes.fit.shoulder import fit_forward_shoulder
from drafting.changes.fit.shoulder_height import fit_low_shoulder, fit_sloping_shoulder, fit_square_shoulder
from drafting.changes.fit.waist import fit_long_waist, fit_short_waist, fit_sway_back
from drafting.cloth import Cloth, Kind
from drafting.garment import Brief, Garment, Piece, Side, Step
from drafting.garment.darts import Dart, darts_of, leg_lengths
from drafting.geometry import Path
from drafting.proof import Severity, prove
from drafting.saying import render
from tests.garments import brief, build

Planned = tuple[Step[Any], Mapping[str, Any]]

POPLIN = Cloth(name="poplin", kind=Kind.WOVEN, stretch_across=0.02)

TO_WAIST: tuple[Planned, ...] = ((draft_darted_bodice, {}),)
TO_HIP: tuple[Planned, ...] = ((draft_darted_bodice, {"to": "hip"}),)
WOVEN_SLEEVED: tuple[Planned, ...] = (*TO_HIP, (draft_woven_sleeve, {}))

WOVENS = {"to the waist": TO_WAIST, "to the hip": TO_HIP}

CHANGES: tuple[tuple[Step[Any], float], ...] = (
    (fit_full_bust, 12.0),
    (fit_small_bust, 6.0),
    (fit_broad_back, 4.0),
    (fit_narrow_back, 4.0),
    (fit_forward_shoulder, 9.0),
    (fit_square_shoulder, 7.0),
    (fit_sloping_shoulder, 7.0),
    (fit_low_shoulder, 7.0),
    (fit_sway_back, 10.0),
    (fit_high_hip, 12.0),
    (fit_long_waist, 14.0),
    (fit_short_waist, 10.0),
    (fit_full_upper_arm, 15.0),
)
"""Each change with an amount (mm) that a fitting may ask for."""

ONE_SIDED = tuple((step, by) for step, by in CHANGES if "side" in step.told())
"""Those that may fall on one side alone."""


def woven_brief(voice: str = "soprano") -> Brief:
    """A brief for a singer in poplin."""
    return brief(voice, cloth=POPLIN, rib=POPLIN)


def woven(*plans: Iterable[Planned], voice: str = "soprano") -> Garment:
    """A garment in poplin."""
    return build(woven_brief(voice), *plans)


def changed(before: Garment, step: Step[Any], **options: Any) -> Garment:
    """A woven garment with one change more."""
    return step.apply(before, woven_brief(), step.options(**options))


def base_for(step: Step[Any]) -> tuple[Planned, ...]:
    """A woven garment that a change has something to change on."""
    return WOVEN_SLEEVED if step is fit_full_upper_arm else TO_HIP if step is fit_high_hip else TO_WAIST


def bust_growth(before: Garment, after: Garment) -> float:
    """By how much (mm) a slash widens the bust: from the centre to the bust point, and on to the side.

    Where its level met the side above the dart lies as far below the underarm as before, for that side is turned whole;
    to 1.5 %, as the mouth is trued besides.
    """
    upper = [g.piece("front").lines("side-left")[-1].path for g in (before, after)]
    level = next(level.path for level in before.piece("front").levels if level.name == "bust")
    end = max((level.start, level.end), key=lambda at: at.x)
    below = upper[0].length - upper[0].nearest(end)[0]
    ways = [dart(g, "bust-left").apex for g in (before, after)]
    reach = [
        apex.x + apex.distance(path.at(max(path.length - below, 0.0))) for apex, path in zip(ways, upper, strict=True)
    ]
    return 2.0 * (reach[1] - reach[0])


def new_errors(b: Brief, before: Garment, after: Garment) -> list[str]:
    """What the proof finds wrong after a change that wasn't wrong before."""
    old = {(f.code, f.place) for f in prove(before, b).of(Severity.ERROR)}
    return [render(f.sentence, "cm") for f in prove(after, b).of(Severity.ERROR) if (f.code, f.place) not in old]


def all_darts(garment: Garment) -> Iterator[tuple[Piece, Dart]]:
    """Every dart of a garment."""
    for piece in garment.pieces:
        for dart in darts_of(piece):
            yield piece, dart


def uneven_legs(garment: Garment) -> float:
    """By how much (mm) the legs of any dart differ, at most."""
    return max((abs(one - two) for _, dart in all_darts(garment) for one, two in leg_lengths(dart)), default=0.0)


def dart(garment: Garment, name: str) -> Dart:
    """A dart by its name."""
    return next(one for _, one in all_darts(garment) if one.name == name)


def girth(garment: Garment, level: str) -> float:
    """The sum of a level's lengths (mm)."""
    return sum(v.path.length for p in garment.pieces for v in p.levels if v.name == level)


def strays(one: Garment, two: Garment) -> float:
    """How far (mm) the lines, levels and marks of one garment stray from those of another, at most."""
    worst = 0.0
    for piece, other in zip(one.pieces, two.pieces, strict=True):
        assert [line.name for line in piece.all_lines] == [line.name for line in other.all_lines]
        assert [level.name for level in piece.levels] == [level.name for level in other.levels]
        pairs = [(a.path, b.path) for a, b in zip(piece.all_lines, other.all_lines, strict=True)]
        pairs += [(a.path, b.path) for a, b in zip(piece.levels, other.levels, strict=True)]
        pairs += [(a.path, b.path) for a, b in zip(piece.adjusts, other.adjusts, strict=True)]
        worst = max([worst, *(_apart(a, b) for a, b in pairs)])
        worst = max([worst, *(a.at.distance(b.at) for a, b in zip(piece.drills, other.drills, strict=True))])
    return worst


def _apart(a: Path, b: Path) -> float:
    if a is b:
        return 0.0
    shares = np.linspace(0.0, 1.0, 9)
    gaps = a.points(shares * a.length) - b.points(shares * b.length)
    return float(np.hypot(*gaps.T).max())


def untouched(before: Garment, after: Garment, side: Side) -> bool:
    """Whether every line of one side, in ring or slit, is the very same path as before."""
    return all(
        line.path is after.piece(piece.name).line(line.name).path
        for piece in before.pieces
        for line in piece.all_lines
        if line.side is side
    )
