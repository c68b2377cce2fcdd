"""How a part of the garment is passed through, or round, another: what no laying of plies on each other shows.

Arrows tell the way; where it runs beneath other cloth, it is dotted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Face, Garment, Role, Run, Seam, Section, Side, Use
from drafting.geometry import Affine, Point, lengths_along
from drafting.output.layers.faced import lay_facings
from drafting.output.layers.joining import draw_joining
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.ply import WorkDone, raw_edges, raw_outline
from drafting.output.layers.unfold import (
    Laid,
    courses_of,
    move_aside,
    unfold_run,
)
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.record import dataclass
from drafting.work.meeting import Letters

SEEN, OUT = 70.0, 50.0
"""Of an arrow, what is seen before it goes in beneath a facing, and after it has come out (mm)."""

ROLL, ROLLED_AT, LONG, REACH = 16.0, 0.6, 400.0, 35.0
"""Half the width of a roll of cloth (mm), where on the shoulder it lies (share from the armhole), how much of it is
drawn to either side, and half the way of the arrow to it (mm)."""

BESIDE: Final = 90.0
"""How far below the shoulder that arrow is (mm)."""

NEAR: Final = 6.0
"""To either side of an arrow as far as a facing's edge is looked for (mm)."""


def draw_pulled_through(garment: Garment, seams: Sequence[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of a garment opened flat, its facing on it: which way each back goes through its shoulder."""
    for seam in seams:
        run = seam.plies[0]
        fronts = [i for i, use in enumerate(run) if garment.line(use).face is Face.FRONT]
        if garment.line(run[0]).role is not Role.NECKLINE or not fronts:
            continue
        laid = _unfold_about(garment, run, fronts[0])
        pieces = [_lay_raw(garment, name, lies, letters, wrong=False) for name, lies in laid.items()]
        under = lay_facings(garment, seam.sections, laid)
        facings = {name: _lay_raw(garment, name, lies, letters, wrong=True) for name, lies in under.items()}
        front, faced = run[fronts[0]].piece, _facing_of(seam, run[fronts[0]])
        ways = list(_ways_through(garment, front, laid, facings[faced].points))
        if not ways:
            continue
        arrows, hidden = tuple(each for way in ways for each in way[:2]), tuple(way[2] for way in ways)
        title = f"Which way each back goes, between {letters.get(front, 'front')} and {letters.get(faced, 'facing')}"
        focus = np.concatenate([*arrows, *(layer.points for layer in facings.values())])
        yield StepView(title, (*pieces, *facings.values()), arrows=arrows, hidden=hidden, focus=focus)


def _unfold_about(garment: Garment, run: Run, middle: int) -> Laid:
    """Where the pieces of a run lie opened out flat, the one of a certain use as it was drafted."""
    back = tuple(use.reversed for use in reversed(run[: middle + 1]))
    return {**unfold_run(garment, back), **unfold_run(garment, run[middle:])}


def _lay_raw(garment: Garment, name: str, lies: Affine, letters: Letters, wrong: bool) -> ClothLayer:
    points = raw_outline(garment, name, lies, raw_edges(garment, name, frozenset()))
    return ClothLayer(points, letters.get(name, ""), wrong)


def _facing_of(seam: Seam, use: Use) -> str:
    """What is sewn to the edge of a use."""
    return next(section.plies[-1][0].piece for section in seam.sections if use in section.plies[0])


def _ways_through(garment: Garment, front: str, laid: Laid, facing: Points) -> Iterator[tuple[Points, Points, Points]]:
    """For each shoulder of a front, what is seen of the way down before it and after it, and what lies beneath."""
    for line in garment.piece(front).lines(role=Role.SHOULDER):
        (course,) = courses_of(garment, (Use(front, line.name),), laid)
        middle, along = course.mean(axis=0), (course[-1] - course[0]) / np.hypot(*(course[-1] - course[0]))
        down = np.array([-along[1], along[0]])
        down *= np.sign(-down[1])
        below, aside = (lengths_along(facing - middle, Point(*way.tolist())) for way in (down, along))
        reach = float(below[np.abs(aside) < NEAR].max(initial=SEEN))
        inside, out = middle - down * NEAR, middle + down * reach
        yield np.stack([middle - down * SEEN, inside]), np.stack([out, out + down * OUT]), np.stack([inside, out])


def draw_slipped_round(garment: Garment, seam: Seam, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield a picture of one tube put round another, seen from the front: the layers of the back behind."""
    whole = [section for section in seam.sections if all(section.plies)]
    for section in whole:
        if garment.line(section.plies[0][0]).face is Face.FRONT:
            alone = replace(seam, sections=(section,))
            laid = next(draw_joining(garment, alone, letters, done))
            behind = [_turn_behind(garment, seam, section, other, letters, done) for other in whole]
            back = [layer for layers in behind for layer in layers]
            under = {letters.get(use.piece, "") for use in section.plies[0]}
            above = [layer.points for layer in laid.layers if layer.letter not in under]
            every = np.concatenate(above or [layer.points for layer in laid.layers])
            side = garment.piece(section.plies[1][0].piece).side
            title = f"Slipped round the {side} side, upside down"
            arrow = _go_round(every, 1.0 if side is Side.LEFT else -1.0)
            front = tuple(replace(layer, shift=0) for layer in laid.layers)
            focus = np.concatenate([every, arrow])
            yield StepView(title, (*back, *front), laid.stitched, arrows=(arrow,), focus=focus, whole=True, laid=True)


def draw_slipped_over(garment: Garment, seam: Seam, letters: Letters, done: WorkDone) -> Iterator[StepView]:
    """Yield a picture of a skirt slipped over its bodice, wrong side out and upside down, seen from the front."""
    front = [each for each in seam.sections if all(each.plies) and _is_front(garment, each)]
    if not front:
        return
    laid = next(draw_joining(garment, replace(seam, sections=tuple(front)), letters, done))
    within = {letters.get(use.piece, "") for section in front for use in section.plies[0]}
    beneath = tuple(np.concatenate([each.points, each.points[:1]]) for each in laid.layers if each.letter in within)
    every = np.concatenate([layer.points for layer in laid.layers])
    low, top = every.min(axis=0), every.max(axis=0)
    arrow = np.array([(top[0] + MOVED_ASIDE, top[1]), (top[0] + MOVED_ASIDE, (low[1] + top[1]) / 2.0)])
    focus = np.concatenate([every, arrow])
    yield StepView(
        SLIPPED_OVER, laid.layers, hidden=beneath, arrows=(arrow,), fan=laid.fan, focus=focus, whole=True, laid=True
    )


def _is_front(garment: Garment, section: Section) -> bool:
    return garment.line(section.plies[0][0]).face is Face.FRONT


SLIPPED_OVER: Final = "The skirt over the bodice, wrong side out, its hem up"
"""What a picture of a skirt that is slipped over its bodice shows."""

MOVED_ASIDE: Final = 40.0
"""Beside a skirt that the arrow is which tells the way it is slipped (mm)."""


def _turn_behind(
    garment: Garment, seam: Seam, front: Section, back: Section, letters: Letters, done: WorkDone
) -> list[ClothLayer]:
    """The layers of the back as they lie behind the front, the lowest farthest from whoever looks."""
    if back is front:
        return []
    laid = next(draw_joining(garment, replace(seam, sections=(back,)), letters, done))
    mirrored = (replace(layer, points=layer.points * (-1.0, 1.0), shift=0) for layer in laid.layers[::-1])
    return [replace(layer, wrong=not layer.wrong) for layer in mirrored]


def _go_round(points: Points, way: float) -> Points:
    """An arrow that comes from beside and goes round behind, at the middle of a height."""
    low, top = points.min(axis=0), points.max(axis=0)
    edge, turns = (top if way > 0.0 else low)[0], np.linspace(-np.pi / 2.0, np.pi / 2.0, 13)
    wide, high = 40.0, 25.0
    middle = (low[1] + top[1]) / 2.0
    return np.stack([edge + way * wide * np.cos(turns), middle + high * np.sin(turns)], axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class ClothRoll:
    """The rest of a garment rolled up beside an armhole: its middle at the shoulder, and the unit vector away there.

    ``ways`` are those in which it runs on either piece, by its name.
    """

    middle: Points
    away: Points
    ways: Mapping[str, Points]

    @property
    def course(self) -> Points:
        """Its middle line."""
        one, two = (self.middle + way * LONG for way in self.ways.values())
        return np.stack([one, self.middle, two])

    @property
    def outline(self) -> Points:
        """Its outline."""
        return np.concatenate([move_aside(self.course, ROLL), move_aside(self.course, -ROLL)[::-1]])

    def cut(self, name: str, points: Points, off: float = 0.0) -> Points:
        """What of a piece lies on the armhole's side of it, or so far beyond its middle (mm)."""
        x, y = self.ways[name].tolist()
        across = np.array([-y, x])
        across *= np.sign((across * self.away).sum())
        return clip_half(points, self.middle + across * off, across)


def draw_rolled_up(garment: Garment, seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield the garment opened flat at an armhole, the rest of it rolled up; then the facing brought round the roll."""
    run = seam.plies[0]
    front = next((i for i, use in enumerate(run) if garment.line(use).face is Face.FRONT), 0)
    laid = _unfold_about(garment, run, front)
    roll = _lay_roll(garment, run[front], laid)
    if roll is None:
        return
    pieces = [
        replace(each, points=roll.cut(name, each.points))
        for name, each in ((name, _lay_raw(garment, name, lies, letters, wrong=False)) for name, lies in laid.items())
    ]
    rolled = ClothLayer(roll.outline, "", wrong=True, strip=True)
    courses = tuple(courses_of(garment, run, laid))
    arrow = _come_rolling(roll, next(iter(roll.ways.values())))
    focus = np.concatenate([*courses, arrow])
    yield StepView("Rolled up, clear of this armhole", (*pieces, rolled), arrows=(arrow,), focus=focus)
    facings = []
    for name, lies in lay_facings(garment, seam.sections, laid).items():
        facing = _lay_raw(garment, name, lies, letters, wrong=True)
        beneath = next(use.piece for use in run if _facing_of(seam, use) == name)
        facings.append(replace(facing, points=roll.cut(beneath, facing.points, ROLL)))
    yield StepView("The facing brought round the roll", (*pieces, rolled, *facings), courses, focus=focus)


def _lay_roll(garment: Garment, use: Use, laid: Laid) -> ClothRoll | None:
    """The roll beside the armhole of a use, over the neck's half of the shoulder; None where that isn't its piece's."""
    side, piece = garment.line(use).side, garment.piece(use.piece)
    shoulder = next((line for line in piece.lines(role=Role.SHOULDER) if line.side in (side, Side.NONE)), None)
    if shoulder is None:
        return None
    (course,) = courses_of(garment, (Use(use.piece, shoulder.name),), laid)
    (armhole,) = courses_of(garment, (use,), laid)
    first = np.hypot(*(armhole - course[0]).T).min() < np.hypot(*(armhole - course[-1]).T).min()
    outer, inner = (course[0], course[-1]) if first else (course[-1], course[0])
    away = (inner - outer) / np.hypot(*(inner - outer))
    ways = {}
    for name, lies in laid.items():
        start, end = (lies.apply(Point(0.0, y)) for y in (0.0, -1.0))
        ways[name] = np.array([end.x - start.x, end.y - start.y])
    return ClothRoll(outer + (inner - outer) * ROLLED_AT, away, ways)


def _come_rolling(roll: ClothRoll, way: Points) -> Points:
    """An arrow from where the cloth was to the roll, over it."""
    turns = np.linspace(0.0, np.pi, 13)[:, None]
    at = roll.middle + way * BESIDE + roll.away * (ROLL + REACH)
    return np.asarray(at + roll.away * np.cos(turns) * REACH - way * np.sin(turns) * REACH / 2.0)
