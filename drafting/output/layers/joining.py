"""How the plies of a seam are laid for sewing, and how they lie once it is sewn and opened out.

Ply 0 lies lowest, right side up; a ply that hangs lies on it, right side up too; the other lies on top, turned over,
edges level. Where two edges bend so unlike that no piece laid flat would meet the other, as a cap and an armhole do,
they are shown side by side; a narrow strip is bent along its edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from drafting.garment import Face, Garment, Line, Run, Seam, Use, balance_marks
from drafting.garment.named_marks import CORNER, OPENING_END, V_POINT, VENT, ZIP_END, name_marks
from drafting.garment.surface import joints
from drafting.geometry import Affine, Point, lengths_along
from drafting.output.layers.shut import shut_pieces
from drafting.output.layers.unfold import (
    Laid,
    courses_of,
    fit_points,
    join_courses,
    move_laid,
    outline_of,
    ribbon_along,
    sample_shares,
    unfold_run,
)
from drafting.output.layers.view import ClothLayer, NotchShown, Points, StepView
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.meeting import Letters

SHARES = np.linspace(0.0, 1.0, 15)
"""Of a seam at which its plies are laid on each other."""

MEETS_FLAT = TradeValue(22.0, "mm", "from memory")
"""That two edges laid flat on each other are apart at most, to be shown so."""

MEETS_BENT = TradeValue(48.0, "mm", "from memory")
"""That they are apart at most, to be shown so with one of them bent along the other."""

RAW = TradeValue(10.0, "mm", "common practice")
"""Of allowance that is shown, whatever the ticket's."""

SHORT_OF = TradeValue(1.0, "mm", "common practice")
"""From the stitching that a clip into the allowance ends: a thread."""

SHOWN = (V_POINT, CORNER, ZIP_END, OPENING_END, VENT)
"""Names of places that a picture says beside their notches."""

STRIP = TradeValue(90.0, "mm", "from memory")
"""Of width of a piece, at most, that is bent along an edge as a strip."""

BENT = 25
"""Points of an edge that is bent along another."""

APART = 30.0
"""Between edges that are shown side by side (mm)."""


@dataclass(frozen=True, slots=True)
class PlyLaid:
    """A ply where it lies: its run and its pieces, and whether they are turned over.

    ``strip`` is how wide a strip is that is bent along the seam; ``apart``: it is shown beside the seam; ``bent``: its
    edge is bent along it.
    """

    run: Run
    laid: Laid
    wrong: bool = False
    strip: float = 0.0
    apart: bool = False
    bent: bool = False


def draw_joining(garment: Garment, seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield the pictures of a seam: as it is laid, and as it is once sewn."""
    if len([run for run in seam.plies if run]) < 2:
        return
    base = PlyLaid(seam.plies[0], unfold_run(garment, seam.plies[0]))
    laid = list(_lay_plies(garment, seam, base, over=True))
    if seam.kind.lay.under_wrong:
        as_laid = _view(garment, seam, letters, [_turn_over(ply) for ply in laid], "As it is laid", fanned=True)
        yield as_laid
        yield from enlarge_points(as_laid)
        yield _view(garment, seam, letters, laid, "Turned out", fanned=False)
        return
    apart = any(ply.apart for ply in laid)
    if apart and len(seam.sections) > 1 and len(seam.plies) > 2:
        for section in seam.sections:
            yield from draw_joining(garment, replace(seam, sections=(section,)), letters)
        return
    title = "Side by side: what meets" if apart else "As it is laid"
    as_laid = _view(garment, seam, letters, laid, title, fanned=not apart)
    yield as_laid
    yield from enlarge_points(as_laid)
    if seam.kind.within:
        return  # it is turned in a step of its own
    if seam.kind.lay.turned and not apart:
        turned = [_turn_over(ply) for ply in laid]
        yield _view(garment, seam, letters, turned, "Turned to the inside", fanned=False)
        return
    if len(base.laid) > 1 and any(set(ply.laid) & set(base.laid) for ply in laid[1:]):
        turned = [_turn_over(ply) for ply in laid]  # a tube, which lies double
        yield replace(_view(garment, seam, letters, turned, "Turned right side out", fanned=False), stitched=())
        return
    sewn = list(_lay_plies(garment, seam, base, over=False))
    yield _view(garment, seam, letters, sewn, "When it is sewn", fanned=False)


def enlarge_points(view: StepView) -> Iterator[StepView]:
    """Yield the places of a picture where an edge is clipped into, each enlarged once, with its clip."""
    points = {notch.number: notch for notch in view.notches if notch.name in (V_POINT, CORNER)}
    for number, notch in points.items():
        at, out = np.array([(notch.x, notch.y)]), np.array(notch.out)
        clip = np.concatenate([at + out * SHORT_OF, at + out * RAW])
        yield replace(view, title=f"{notch.name}, notch {number}, enlarged", focus=at, clips=(clip,), close=True)


def draw_turned(garment: Garment, seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield the picture of a seam's layers turned to the inside, the wrong side of the garment up."""
    base = PlyLaid(seam.plies[0], unfold_run(garment, seam.plies[0]))
    laid = [_turn_over(ply) for ply in _lay_plies(garment, seam, base, over=True)]
    yield _view(garment, seam, letters, laid, "Turned to the inside", fanned=False)


def _turn_over(ply: PlyLaid) -> PlyLaid:
    """A ply as it is seen from the other side."""
    return replace(ply, laid=move_laid(ply.laid, Affine.mirror()), wrong=not ply.wrong)


def _lay_plies(garment: Garment, seam: Seam, base: PlyLaid, over: bool) -> Iterator[PlyLaid]:
    """The plies from below up: laid on each other for sewing, or opened out."""
    hanging = [run for i, run in enumerate(seam.plies) if run and i in seam.hangs]
    others = [run for i, run in enumerate(seam.plies) if run and i and i not in seam.hangs]
    yield base
    on_base = [run for run in hanging if _faces(garment, run) & _faces(garment, base.run)] if others else hanging
    yield from (_hang(garment, run, base) for run in on_base)
    for run in others:
        top = _lay_other(garment, seam, base, run, over)
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


def _lay_other(garment: Garment, seam: Seam, base: PlyLaid, run: Run, over: bool) -> PlyLaid:
    """The ply that is sewn to the lowest."""
    own = unfold_run(garment, run)
    whole = [s for s in seam.sections if s.plies[0] and any(set(r) <= set(run) and r for r in s.plies[1:])]
    there, here = [], []
    for section in whole:
        part = next(r for r in section.plies[1:] if r and set(r) <= set(run))
        there.append(sample_shares(garment, section.plies[0], base.laid, SHARES))
        here.append(sample_shares(garment, part, own, SHARES))
    goal, points = np.concatenate(there), np.concatenate(here)
    width = _strip_width(garment, run)
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


def _strip_width(garment: Garment, run: Run) -> float:
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


def _view(
    garment: Garment, seam: Seam, letters: Letters, plies: Sequence[PlyLaid], title: str, fanned: bool
) -> StepView:
    base = plies[0]
    course = join_courses(list(courses_of(garment, base.run, base.laid)))
    out = _outward(garment, base)
    layers: list[ClothLayer] = []
    notches: list[NotchShown] = []
    for shift, ply in enumerate(plies):
        at = shift if fanned else 0
        layers += _layers(garment, seam, ply, letters, at, RAW if fanned else 0.0, plies)
        if not ply.strip:
            notches += _notches(garment, seam, ply, at)
    stitched = tuple(course)
    joins = tuple(_joins(garment, seam, plies)) if any(ply.apart for ply in plies) else ()
    focus = np.concatenate([c for ply in plies if not ply.strip for c in courses_of(garment, ply.run, ply.laid)])
    return StepView(title, tuple(layers), stitched, joins, tuple(notches), (-out.x, -out.y), focus)


def _layers(
    garment: Garment,
    seam: Seam,
    ply: PlyLaid,
    letters: Letters,
    shift: int,
    raw: float,
    plies: Sequence[PlyLaid],
) -> Iterator[ClothLayer]:
    """A ply's pieces as layers; a strip's along the course of the lowest ply."""
    base, letter = plies[0], letters.get(ply.run[0].piece, "")
    if ply.strip:
        for use, course in zip(base.run, courses_of(garment, base.run, base.laid), strict=True):
            inward = -1.0 if use.against else 1.0
            flip = -1.0 if base.laid[use.piece].flips else 1.0
            yield ClothLayer(ribbon_along(course, ply.strip * inward * flip), letter, ply.wrong, 0.0, shift, strip=True)
        return
    for name, lies in ply.laid.items():
        points = outline_of(garment, name, lies)
        if (not raw or ply.bent) and ply is not base and not ply.apart:
            points = _bend_edge(garment, seam, ply, base, name)
        other = next((p for p in plies if p is not ply and name in p.laid and p.run != ply.run), None)
        if other is not None:
            points = _half(garment, ply, other, name, points)
        yield ClothLayer(points, letters.get(name, ""), ply.wrong, raw, shift)


def _bend_edge(garment: Garment, seam: Seam, ply: PlyLaid, base: PlyLaid, name: str) -> Points:
    """A piece's outline, its edge in the seam bent along that of the lowest ply, as it lies once both are one."""
    bent = dict(_bent_lines(garment, seam, ply, base, name))
    shut = garment.find_once(shut_pieces)[name]
    lies = ply.laid[name]
    parts = (bent.get(line.name, lies.apply_all(shut.course(line))) for line in garment.piece(name).ring)
    return np.concatenate([part[:-1] for part in parts])


def _bent_lines(garment: Garment, seam: Seam, ply: PlyLaid, base: PlyLaid, name: str) -> Iterator[tuple[str, Points]]:
    """The lines of a piece that are sewn to the lowest ply, each as that lies beside it, in ring direction."""
    for section in seam.sections:
        run = next((r for r in section.plies[1:] if r and set(r) <= set(ply.run)), None)
        if not section.plies[0] or run is None:
            continue
        ends = joints(garment, run)
        for i, use in enumerate(run):
            if use.piece == name:
                shares = np.linspace(ends[i], ends[i + 1], BENT)
                points = sample_shares(garment, section.plies[0], base.laid, shares)
                yield use.line, points[::-1] if use.against else points


def _half(garment: Garment, ply: PlyLaid, other: PlyLaid, name: str, points: Points) -> Points:
    """The half of a piece nearer to its own edge, where both plies are of it: the other half lies in the other ply."""
    lies = ply.laid[name]
    mine, theirs = (
        np.concatenate([lies.apply_all(garment.line(u).path.flatten()) for u in run if u.piece == name]).mean(axis=0)
        for run in (ply.run, other.run)
    )
    way = theirs - mine
    return clip_half(points, mine + way / 2.0, way)


def clip_half(points: Points, at: Points, way: Points) -> Points:
    """Return what of a polygon lies behind a point, seen along a way."""
    side = lengths_along(points - at, Point(float(way[0]), float(way[1])))
    out = []
    for i in range(len(points)):
        j = (i + 1) % len(points)
        if side[i] <= 0.0:
            out.append(points[i])
        if (side[i] < 0.0) != (side[j] < 0.0) and side[i] != side[j]:
            out.append(points[i] + (points[j] - points[i]) * (side[i] / (side[i] - side[j])))
    return np.array(out) if len(out) > 2 else points


def _notches(garment: Garment, seam: Seam, ply: PlyLaid, shift: int) -> Iterator[NotchShown]:
    for mark in garment.find_once(balance_marks):
        if mark.seam != seam.name:
            continue
        for use, s in mark.at:
            if use in ply.run or use.reversed in ply.run:
                at, out = _notch_at(garment, use, s, ply.laid[use.piece])
                name = name_marks(garment).get(mark.number, "")
                shown = name if name in SHOWN else ""
                yield NotchShown(at.x, at.y, (out.x, out.y), mark.number, mark.count, shift, shown)


def _notch_at(garment: Garment, use: Use, s: float, lies: Affine) -> tuple[Point, Point]:
    """Where a notch lies, and the unit vector out of its piece there."""
    line, shut = garment.line(use), garment.find_once(shut_pieces)[use.piece]
    near = min(2.0, line.path.length / 4.0)
    at = lies.apply(shut.at(line, s))
    one, two = (lies.apply(shut.at(line, min(max(s + d, 0.0), line.path.length))) for d in (-near, near))
    way = (two - one).unit
    out = way.left if lies.flips else way.right
    other = _beyond_end(garment, use, s)
    if other is not None:  # at a corner a notch lies between its two edges
        corner, far = (lies.apply(shut.at(other[0], t)) for t in other[1:])
        aside = far - corner if other[1] == 0.0 else corner - far
        out = (out + (aside.unit.left if lies.flips else aside.unit.right)).unit
    return at, out


def _beyond_end(garment: Garment, use: Use, s: float) -> tuple[Line, float, float] | None:
    """The line beyond the end where a place lies, if both are of one role; its corner, and a length near that."""
    piece, line = garment.piece(use.piece), garment.line(use)
    near = TOLERANCE.sewn_length
    after, before = piece.after(line.name), piece.before(line.name)
    if s >= line.path.length - near and after.role is line.role:
        return after, 0.0, min(2.0, after.path.length / 4.0)
    if s <= near and before.role is line.role:
        return before, before.path.length, before.path.length - min(2.0, before.path.length / 4.0)
    return None


def _joins(garment: Garment, seam: Seam, plies: Sequence[PlyLaid]) -> Iterator[Points]:
    """The lines between what meets, where edges are shown side by side."""
    base, other = plies[0], next(ply for ply in plies if ply.apart)
    for section in seam.sections:
        met = next((run for run in section.plies[1:] if run and set(run) <= set(other.run)), None)
        if section.plies[0] and met:
            shares = np.linspace(0.0, 1.0, 7)
            one = sample_shares(garment, section.plies[0], base.laid, shares)
            two = sample_shares(garment, met, other.laid, shares)
            yield from (np.stack([a, b]) for a, b in zip(one, two, strict=True))
