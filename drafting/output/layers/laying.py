"""Where the plies of a seam lie, for sewing or opened out, and the picture of them.

Ply 0 lies lowest, right side up; a ply that hangs lies on it, right side up too; the other lies on top, turned over,
edges level. Where two edges bend so unlike that no piece laid flat would meet the other, as a cap and an armhole do,
they are shown side by side; a narrow strip is bent along its edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from drafting.garment import Face, Garment, Run, Seam, same_corner
from drafting.garment.named_marks import CORNER, V_POINT
from drafting.geometry import Affine, Point, lengths_along
from drafting.output.layers.notches import join_strokes, show_notches, strip_notches
from drafting.output.layers.ply import PliesDrawn, PlyLaid, WorkDone
from drafting.output.layers.stitching import find_beyond
from drafting.output.layers.unfold import (
    Laid,
    courses_of,
    fit_points,
    move_laid,
    outline_of,
    sample_shares,
    unfold_run,
)
from drafting.output.layers.view import ClothLayer, NotchShown, Points, StepView
from drafting.trade import TradeValue

SHARES = np.linspace(0.0, 1.0, 15)
"""Of a seam at which its plies are laid on each other."""

CLOSER = np.linspace(0.0, 1.0, 61)
"""Of those at which they are laid for a point that is enlarged."""

MEETS_FLAT = TradeValue(22.0, "mm", "from memory")
"""That two edges laid flat on each other are apart at most, to be shown so."""

MEETS_BENT = TradeValue(48.0, "mm", "from memory")
"""That they are apart at most, to be shown so with one of them bent along the other."""

STRIP = TradeValue(90.0, "mm", "from memory")
"""Of width of a piece, at most, that is bent along an edge as a strip."""

NEAR = 45.0
"""From a point that is enlarged as far as plies are laid on each other for that (mm)."""

JOINED = 8
"""Lines between two edges that are shown side by side, but for those at the ends of sections."""

APART = 30.0
"""Between edges that are shown side by side (mm)."""


def turn_over(ply: PlyLaid) -> PlyLaid:
    """A ply as it is seen from the other side."""
    return replace(ply, laid=move_laid(ply.laid, Affine.mirror()), wrong=not ply.wrong)


def lay_plies(garment: Garment, seam: Seam, base: PlyLaid, over: bool, near: Points | None = None) -> Iterator[PlyLaid]:
    """The plies from below up: laid on each other for sewing, as they meet about a point if one is given; or opened."""
    hanging = [run for i, run in enumerate(seam.plies) if run and i in seam.hangs]
    others = [run for i, run in enumerate(seam.plies) if run and i and i not in seam.hangs]
    yield base
    on_base = [run for run in hanging if _faces(garment, run) & _faces(garment, base.run)] if others else hanging
    yield from (_hang(garment, run, base) for run in on_base)
    for run in others:
        top = _lay_other(garment, seam, base, run, over, near)
        mine = [each for each in hanging if each not in on_base]
        hung = [_hang(garment, each, top) for each in mine]
        yield from (*hung, top) if over else (top, *hung)


def _faces(garment: Garment, run: Run) -> set[Face]:
    return {garment.line(use).face for use in run}


def _hang(garment: Garment, run: Run, on: PlyLaid) -> PlyLaid:
    """A ply that hangs: each of its pieces on the one of its own face, for they share the body's frame."""
    by_face = {garment.line(use).face: on.laid[use.piece] for use in reversed(on.run)}
    first = on.laid[on.run[0].piece]
    return PlyLaid(run, {use.piece: by_face.get(garment.line(use).face, first) for use in run}, on.wrong)


def _lay_other(
    garment: Garment, seam: Seam, base: PlyLaid, run: Run, over: bool, near: Points | None = None
) -> PlyLaid:
    """The ply that is sewn to the lowest."""
    own = unfold_run(garment, run)
    whole = [s for s in seam.sections if s.plies[0] and any(set(r) <= set(run) and r for r in s.plies[1:])]
    there, here = [], []
    for section in whole:
        part = next(r for r in section.plies[1:] if r and set(r) <= set(run))
        shares = SHARES if near is None else CLOSER
        there.append(sample_shares(garment, section.plies[0], base.laid, shares))
        here.append(sample_shares(garment, part, own, shares))
    goal, points = np.concatenate(there), np.concatenate(here)
    if near is not None:
        about = np.argsort(np.hypot(*(goal - near).T), kind="stable")
        close = about[: max(len(SHARES) // 3, int((np.hypot(*(goal - near).T) <= NEAR).sum()))]
        goal, points = goal[close], points[close]
    width = find_strip_width(garment, run)
    turned = move_laid(own, Affine.mirror()) if over else own
    lies, off = fit_points(points * (-1.0, 1.0) if over else points, goal)
    if width and (off > MEETS_FLAT or len({u.piece for u in base.run}) > 1):
        return PlyLaid(run, own, over and _sewn_single(seam), width if over else -width)
    if off > MEETS_BENT:
        lies, _ = fit_points(points, goal)
        beside = move_laid(own, lies)
        away = _outward(garment, base) * (_overlap(garment, base, beside) + APART if over else 0.0)
        return PlyLaid(run, move_laid(beside, Affine.move(away)), apart=over)
    return PlyLaid(run, move_laid(turned, lies), wrong=over, bent=off > MEETS_FLAT)


def _overlap(garment: Garment, base: PlyLaid, beside: Laid) -> float:
    """How far pieces laid beside a ply reach over it, across the seam (mm)."""
    out = _outward(garment, base)
    edge = max(float(lengths_along(course, out).max()) for course in courses_of(garment, base.run, base.laid))
    near = min(float(lengths_along(outline_of(garment, name, lies), out).min()) for name, lies in beside.items())
    return max(edge - near, 0.0)


def _sewn_single(seam: Seam) -> bool:
    """Whether a strip is sewn on unfolded, so that its wrong side is seen: a binding, an interfaced band."""
    return seam.binds or bool(seam.kind.stiffened)


def find_strip_width(garment: Garment, run: Run) -> float:
    """How wide a strip is that all the pieces of a run are; 0 if they are none."""
    width = 0.0
    for name in {use.piece for use in run}:
        x0, y0, x1, y1 = garment.piece(name).outline.bounds
        thin, long = sorted((x1 - x0, y1 - y0))
        if thin > STRIP or long < 2.0 * thin:
            return 0.0
        width = max(width, thin)
    return width


def _outward(garment: Garment, ply: PlyLaid) -> Point:
    """The unit vector away from a ply's pieces, across its seam."""
    courses = list(courses_of(garment, ply.run, ply.laid))
    middle = np.concatenate(courses).mean(axis=0)
    inside = np.concatenate([outline_of(garment, n, lies) for n, lies in ply.laid.items()]).mean(axis=0)
    x, y = (middle - inside).tolist()
    return Point(x, y).unit if x or y else Point(1.0, 0.0)


def draw_plies(drawn: PliesDrawn, title: str) -> StepView:
    """Return the picture of plies; where their allowances are seen, they are fanned, so that they can be counted."""
    garment, base = drawn.garment, drawn.plies[0]
    out = _outward(garment, base)
    layers: list[ClothLayer] = []
    notches: list[NotchShown] = []
    for shift, ply in enumerate(drawn.plies):
        at = shift if drawn.raw else 0
        if ply.strip:
            at = max((layer.shift for layer in layers), default=0)  # it is stepped by itself
        layers += drawn.layers(ply, at)
        shown = {notch.number for notch in notches}
        found = strip_notches(garment, drawn, ply, at) if ply.strip else show_notches(garment, drawn.seam, ply, at)
        apart = bool(drawn.raw) or any(each.apart for each in drawn.plies)
        notches += (notch for notch in found if notch.number not in shown or (apart and not ply.strip))
    if is_ring(garment, base.run, drawn.done) or (_is_parted(garment, base.run) and not drawn.seam.kind.lay.turned):
        title += DRAWN_OPEN
    if drawn.raw:
        notches = list(join_strokes(notches))
    joins = tuple(_joins(garment, drawn.seam, drawn.plies)) if any(ply.apart for ply in drawn.plies) else ()
    focus = np.concatenate([c for ply in drawn.plies if not ply.strip for c in courses_of(garment, ply.run, ply.laid)])
    stitched, stops, mitres = tuple(drawn.stitched()), tuple(_find_stops(drawn)), tuple(drawn.mitres())
    fan = (-out.x, -out.y)
    laid = bool(drawn.raw)
    return StepView(title, tuple(layers), stitched, joins, tuple(notches), fan, focus, stops, seams=mitres, laid=laid)


def _find_stops(drawn: PliesDrawn) -> Iterator[Points]:
    """The points at which the stitching begins, stops or turns: those with a name, and where cloth goes on beyond."""
    if not drawn.raw or drawn.seam.binds:
        return
    at_points = (n for n in show_notches(drawn.garment, drawn.seam, drawn.plies[0], 0) if n.name in (V_POINT, CORNER))
    run, named = drawn.plies[0].run, (np.array([(notch.x, notch.y)]) for notch in at_points)
    goes_round = same_corner(drawn.garment)(run[-1], run[0])
    found = (*named, *(() if goes_round else drawn.stops()))
    yield from {tuple(at[0].round(1).tolist()): at for at in found}.values()


DRAWN_OPEN = ", drawn open"
"""What is added to the title of a picture of what goes right round: to lie flat it is drawn open at one seam."""


def is_ring(garment: Garment, run: Run, done: WorkDone) -> bool:
    """Whether a run goes right round, over seams that are sewn."""
    last, first = run[-1], run[0]
    piece = garment.piece(last.piece)
    beyond = (piece.before if last.against else piece.after)(last.line)
    within = (first.piece, first.line) == (piece.name, beyond.name) and len({use.piece for use in run}) > 1
    return (within or (last.piece, beyond.name) in done.edges) and same_corner(garment)(last, first)


def _is_parted(garment: Garment, run: Run) -> bool:
    """Whether a run of several pieces goes round but for an opening that is closed, at which it begins and ends."""
    closing = {(use.piece, use.line) for seam in garment.seams if seam.kind.closes for use in seam.uses()}
    ends = ((run[0], False), (run[-1], True))
    return run[0].piece != run[-1].piece and all(
        (use.piece, find_beyond(garment, use, at_end).name) in closing for use, at_end in ends
    )


def _joins(garment: Garment, seam: Seam, plies: Sequence[PlyLaid]) -> Iterator[Points]:
    """The lines between what meets, where edges are shown side by side."""
    base, other = plies[0], next(ply for ply in plies if ply.apart)
    for section in seam.sections:
        met = next((run for run in section.plies[1:] if run and set(run) <= set(other.run)), None)
        if section.plies[0] and met:
            share = garment.run_length(section.plies[0]) / garment.run_length(base.run)
            shares = np.linspace(0.0, 1.0, 2 + round(JOINED * share))
            one = sample_shares(garment, section.plies[0], base.laid, shares)
            two = sample_shares(garment, met, other.laid, shares)
            yield from (np.stack([a, b]) for a, b in zip(one, two, strict=True))
