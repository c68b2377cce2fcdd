"""The edges of a buttoned opening: how each becomes a stand, how that ends, and how the two lap once buttoned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.garment import Garment, Run, Seam, Use, balance_marks
from drafting.garment.closure import buttonholes, buttons
from drafting.garment.named_marks import OPENING_END, name_marks
from drafting.geometry import Affine, Array, are_inside
from drafting.output.layers.bending import space_evenly
from drafting.output.layers.closing import SHARES, UPPER
from drafting.output.layers.fastening import BESIDE_EDGE, draw_ring
from drafting.output.layers.outlines import move_out
from drafting.output.layers.ply import RAW
from drafting.output.layers.shut import shut_pieces
from drafting.output.layers.unfold import (
    Laid,
    courses_of,
    fit_points,
    join_courses,
    move_aside,
    move_laid,
    outline_of,
    ribbon_along,
    sample_shares,
    unfold_run,
)
from drafting.output.layers.view import ClothLayer, NotchShown, Points, StepView
from drafting.record import dataclass
from drafting.redraw.closing import find_finished_after, find_stands
from drafting.work.fastening import name_centre_line, seam_runs_on
from drafting.work.meeting import Letters

FOLD_NAMED, LINE_NAMED = 20.0, 12.0
"""From the end of a stand at which its fold, and its line, are named in its pictures (mm)."""

FACING_SEEN: Final = 5.0
"""How far in from its fold, in widths of the stand, a facing beneath a stand is shown."""

STAND_FLAT, STAND_LAID, STAND_TURNED = (
    "One stand, wrong side up, interfaced, enlarged",
    "Right side up, the stand folded right sides together, enlarged",
    "Turned out, wrong side up, enlarged",
)
"""What pictures of a stand show."""

STAND_OVER, STAND_IN = (
    "Right side up, a stand folded over the facing's end, enlarged",
    "Turned in, wrong side up: the stand over the facing's end, enlarged",
)
"""What pictures of a stand over the end of a facing show."""


@dataclass(frozen=True, slots=True, eq=False)
class StandLaid:
    """One stand where its pieces lie: the courses of its stitching line, its fold and its long edge, opened flat.

    ``out`` is 1 where it lies to the left of these, -1 where to the right; ``at`` is 0 or -1, the end that is shown.
    """

    seam: Seam
    laid: Laid
    line: Points
    out: float
    at: int

    @property
    def fold(self) -> Points:
        """The course of its fold."""
        return move_aside(self.line, self.out * self.seam.fold)

    @property
    def flat(self) -> Points:
        """Its long edge before it is folded."""
        return move_aside(self.line, self.out * (self.seam.allowance or 0.0))

    @property
    def back(self) -> Points:
        """Its long edge once it is folded."""
        return move_aside(self.line, self.out * (2.0 * self.seam.fold - (self.seam.allowance or 0.0)))

    @property
    def end(self) -> Points:
        """Its end, from the stitching line to the fold."""
        return np.stack([self.line[self.at], self.fold[self.at]])

    @property
    def on(self) -> Points:
        """The unit vector beyond its end."""
        step = self.line[self.at] - self.line[1 if self.at == 0 else -2]
        return np.asarray(step / np.hypot(*step))

    def run_on(self, course: Points) -> Points:
        """Return a course with the allowance at the end that is shown."""
        beyond = (course[self.at] + self.on * RAW)[None]
        return np.concatenate([beyond, course] if self.at == 0 else [course, beyond])


def draw_stands(garment: Garment, seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield how the edge of a buttoned opening becomes a stand: interfaced, an end stitched, then turned out.

    It is the upper end, or the lower one where what is sewn to the upper end later closes that.
    """
    at = -1 if find_finished_after(garment, seam.plies[0]) else 0
    for draw, lies in ((_draw_flat, Affine.mirror()), (_draw_folded, Affine()), (_draw_turned, Affine.mirror())):
        stand = _lay_stand(garment, seam, at, lies)
        named = tuple(_name_places(garment, stand))
        yield replace(draw(garment, stand, letters), notches=named, centres=(stand.line,))


def _name_places(garment: Garment, stand: StandLaid) -> Iterator[NotchShown]:
    """What is at the end of a stand: its fold and its line, named, and the notch where the opening ends."""
    beyond = stand.fold[stand.at] - stand.line[stand.at]
    x, y = (beyond / np.hypot(*beyond)).tolist()
    for words, course, off, way in (
        ("fold", stand.fold, FOLD_NAMED, 1.0),
        (name_line(garment, stand.seam), stand.line, LINE_NAMED, -1.0),
    ):
        across, up = (course[stand.at] - stand.on * off).tolist()
        yield NotchShown(across, up, (x * way, y * way), 0, 0, 0, words)
    if stand.at:
        yield from _name_lower_end(garment, stand.seam, stand.line[stand.at], (-x, -y))


def _name_lower_end(garment: Garment, seam: Seam, at: Points, out: tuple[float, float]) -> Iterator[NotchShown]:
    """The point where a buttoned opening ends, if a seam runs on below it: its number, without a snip."""
    if seam_runs_on(garment, seam.plies[0]):
        named, (across, up) = name_marks(garment), at.tolist()
        marks = [each for each in garment.find_once(balance_marks) if named.get(each.number, "") == OPENING_END]
        yield from (NotchShown(across, up, out, each.number, 0, 0, OPENING_END) for each in marks[:1])


def name_line(garment: Garment, seam: Seam) -> str:
    """Return what the line of an edge is called that is buttoned over another: "centre back"."""
    return next(name_centre_line(each.place) for each in garment.closures if seam.name in each.seams)


def draw_stand_over(garment: Garment, facing: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield the upper end of a stand folded over a facing's end, the stitching from its fold on; then turned in."""
    for seam in find_stands(garment, facing)[:1]:
        first = seam.plies[0][0].piece
        under = next(s.plies for s in facing.sections if s.plies[0][0].piece == first)
        name = under[-1][0].piece
        stand = _lay_stand(garment, seam, 0, Affine())
        faced = _lay_facing(garment, under, stand, letters)
        view = _draw_folded(garment, stand, letters)
        *flat, folded = view.layers
        i = list(stand.laid).index(first)
        flat[i] = replace(flat[i], points=_outline_raw(garment, first, under[0], stand.laid[first]))
        end, edge = stand.end
        seen = np.stack([edge, edge + (end - edge) * FACING_SEEN])
        stitched = (*view.stitched, *courses_of(garment, under[0], stand.laid))
        layers = (*flat, faced, replace(folded, shift=2))
        yield replace(view, title=STAND_OVER, layers=layers, stitched=stitched, focus=seen, clips=())
        stand = _lay_stand(garment, seam, 0, Affine.mirror())
        view = _draw_turned(garment, stand, letters)
        *flat, folded = view.layers
        inside = ClothLayer(outline_of(garment, name, Affine()), letters.get(name, ""))
        yield replace(view, title=STAND_IN, layers=(*flat, inside, folded), focus=seen * (-1.0, 1.0))


def fold_stands_over(garment: Garment, facing: Seam, view: StepView) -> StepView:
    """Return the picture of a whole facing that is sewn on with each stand over its end: laid so, or turned in with it.

    What is stitched beneath a stand that is turned in is left out: it can't be seen.
    """
    for seam in find_stands(garment, facing) if facing.plies[0] and not view.close else ():
        name = seam.plies[0][0].piece
        lies = unfold_run(garment, facing.plies[0])[name].then(Affine() if view.laid else Affine.mirror())
        stand = _lay_on(garment, _end_at_piece(seam, name), 0, {name: lies})
        if view.laid:
            over, back = stand.run_on(stand.fold), stand.run_on(stand.back)
        else:
            over, back = stand.fold, stand.back
        shift = max(layer.shift for layer in view.layers)  # level with the facing: the stitching is seen on both
        strip = ClothLayer(np.concatenate([over, back[::-1]]), "", wrong=view.laid, strip=True, shift=shift)
        seen = view.stitched if view.laid else tuple(_leave_out(view.stitched, strip.points))
        view = replace(view, layers=(*view.layers, strip), stitched=seen)
    return view


def _end_at_piece(seam: Seam, name: str) -> Seam:
    """The edge of a stand on one piece alone: where it runs on over another, as below a waist, that isn't drawn."""
    (section,) = seam.sections
    return replace(
        seam, sections=(replace(section, plies=(tuple(use for use in section.plies[0] if use.piece == name),)),)
    )


def _leave_out(courses: Sequence[Points], area: Points) -> Iterator[Points]:
    """Courses without the stretches at their ends that lie within an area."""
    for course in map(space_evenly, courses):
        (seen,) = np.nonzero(~are_inside(course, area))
        if len(seen) > 1:
            yield course[seen[0] : seen[-1] + 1]


def _lay_facing(garment: Garment, under: Sequence[Run], stand: StandLaid, letters: Letters) -> ClothLayer:
    """A facing on the edge that it is sewn to, right sides together, its raw edge level with that one's."""
    *_, run = under
    name, shares = run[0].piece, np.linspace(0.0, 1.0, FACING_PLACES)
    own = move_laid(unfold_run(garment, run), Affine.mirror())
    lies, _ = fit_points(sample_shares(garment, run, own, shares), sample_shares(garment, under[0], stand.laid, shares))
    raw = _outline_raw(garment, name, run, own[name].then(lies))
    return ClothLayer(raw, letters.get(name, ""), wrong=True, shift=1)


FACING_PLACES: Final = 9
"""Places along a facing's edge by which it is laid on the garment's."""


def _outline_raw(garment: Garment, name: str, run: Run, lies: Affine) -> Points:
    """A piece's outline with the allowance along a run."""
    shut, sewn = garment.find_once(shut_pieces)[name], {use.line for use in run if use.piece == name}
    ring = garment.piece(name).ring
    courses = [lies.apply_all(shut.course(line)) for line in ring]
    return move_out(courses, [RAW if line.name in sewn else 0.0 for line in ring])


def _lay_stand(garment: Garment, seam: Seam, at: int, lies: Affine) -> StandLaid:
    return _lay_on(garment, seam, at, move_laid(unfold_run(garment, seam.plies[0]), lies))


def _lay_on(garment: Garment, seam: Seam, at: int, laid: Laid) -> StandLaid:
    (line, *_) = join_courses(list(courses_of(garment, seam.plies[0], laid)))
    return StandLaid(seam, laid, line, _away(garment, seam.plies[0], laid, line), at)


def _draw_flat(garment: Garment, stand: StandLaid, letters: Letters) -> StepView:
    """A stand before it is folded, wrong side up, its interfacing on it."""
    line, fold, flat = (stand.run_on(course) for course in (stand.line, stand.fold, stand.flat))
    pieces = (_lay_flat(garment, name, way, letters, wrong=True) for name, way in stand.laid.items())
    whole = ClothLayer(np.concatenate([line, flat[::-1]]), "", wrong=True, strip=True)
    stiff = ClothLayer(np.concatenate([fold, flat[::-1]]), "", stiff=True, strip=True)
    focus = np.stack([stand.line[stand.at], stand.flat[stand.at]])
    layers = (*pieces, *_lay_below(garment, stand, wrong=True), whole, stiff)
    return StepView(STAND_FLAT, layers, folds=(fold,), focus=focus, close=True)


def _draw_folded(garment: Garment, stand: StandLaid, letters: Letters) -> StepView:
    """One end of a stand folded right sides together and stitched across; where a seam runs on, clipped."""
    line, fold, back = (stand.run_on(course) for course in (stand.line, stand.fold, stand.back))
    pieces = (_lay_flat(garment, name, way, letters, wrong=False) for name, way in stand.laid.items())
    beyond = ClothLayer(np.concatenate([line, fold[::-1]]), "", strip=True)
    folded = ClothLayer(np.concatenate([fold, back[::-1]]), "", wrong=True, strip=True, shift=1)
    below = tuple(_lay_below(garment, stand, wrong=False))
    x, y = (-stand.out * _find_left(stand.line)).tolist()
    corner, last = stand.fold[stand.at] + stand.on * RAW, stand.line[stand.at]
    short = last + (corner - last) / np.hypot(*(corner - last))
    clips = (np.stack([short, corner]),) if below else ()
    layers = (*pieces, *below, beyond, folded)
    return StepView(STAND_LAID, layers, (stand.end,), focus=stand.end, clips=clips, close=True, fan=(x, y))


def _draw_turned(garment: Garment, stand: StandLaid, letters: Letters) -> StepView:
    """One end of a stand turned to the inside, right side up on the wrong side of its piece."""
    pieces = (_lay_flat(garment, name, way, letters, wrong=True) for name, way in stand.laid.items())
    folded = ClothLayer(np.concatenate([stand.fold, stand.back[::-1]]), "", strip=True)
    held = stand.back + (stand.fold - stand.back) * (BESIDE_EDGE / (stand.seam.allowance or 1.0))
    sewn = () if stand.at else (held,)  # its long edge is sewn down with what closes its upper end
    layers = (*pieces, *_lay_below(garment, stand, wrong=False, pressed=True), folded)
    return StepView(STAND_TURNED, layers, sewn, focus=stand.end, close=True)


def _lay_below(garment: Garment, stand: StandLaid, *, wrong: bool, pressed: bool = False) -> Iterator[ClothLayer]:
    """The allowance of the seam that runs on below a stand, where it does; ``pressed`` onto its piece."""
    last = stand.seam.plies[0][-1]
    if stand.at == 0 or not seam_runs_on(garment, stand.seam.plies[0]):
        return
    piece = garment.piece(last.piece)
    beyond = (piece.before if last.against else piece.after)(last.line)
    (course,) = courses_of(garment, (Use(last.piece, beyond.name, last.against),), stand.laid)
    yield ClothLayer(ribbon_along(course, stand.out * (-RAW if pressed else RAW)), "", wrong=wrong, strip=True)


def _lay_flat(garment: Garment, name: str, lies: Affine, letters: Letters, wrong: bool) -> ClothLayer:
    return ClothLayer(outline_of(garment, name, lies), letters.get(name, ""), wrong)


def _find_left(course: Points) -> Points:
    """The unit vector to the left of a course where it begins."""
    x, y = (course[1] - course[0]) / np.hypot(*(course[1] - course[0]))
    return np.array([-y, x])


def _away(garment: Garment, run: Run, laid: Laid, course: Points) -> float:
    """1 where a run's piece lies to the right of its course, so that its allowance lies to the left; else -1."""
    inside = outline_of(garment, run[0].piece, laid[run[0].piece]).mean(axis=0) - course[0]
    return -1.0 if float((inside * _find_left(course)).sum()) > 0.0 else 1.0


def draw_buttons(garment: Garment, letters: Letters) -> Iterator[StepView]:
    """Yield each buttoned opening shut, right side up: the edges lapped line on line, buttonholes over buttons."""
    for closure in garment.closures:
        seams = [garment.seam(name) for name in closure.seams]
        if closure.button:
            holed = {piece.name for piece in garment.pieces if buttonholes(piece.drills)}
            seams.sort(key=lambda seam: seam.plies[0][0].piece in holed)
            shut = _lap(garment, seams, closure.button, letters)
            yield replace(shut, holes=(), notches=())  # so small that a buttonhole through each is a blot
            for place, shares, end in (("Upper", SHARES * UPPER, 0), ("Lower", 1.0 - SHARES * UPPER, -1)):
                near = _lap(garment, seams, closure.button, letters, shares)
                if near.focus is not None and (near.stitched or not end):
                    at = near.focus[end] + (near.focus[-1 - end] - near.focus[end]) * NAMED_NEAR
                    named = tuple(replace(each, x=float(at[0]), y=float(at[1])) for each in near.notches)
                    out = named[0].out if named else (1.0, 0.0)
                    named += tuple(_name_lower_end(garment, seams[1], near.focus[-1], out)) if end else ()
                    title = f"{place} end, enlarged"
                    yield replace(near, title=title, focus=near.focus[[end]], notches=named, close=True)


def _lap(garment: Garment, seams: Sequence[Seam], button: float, letters: Letters, shares: Array = SHARES) -> StepView:
    """The edges lapped as they lie on each other at ``shares`` of them."""
    under, upper = (seam.plies[0] for seam in seams)
    laid, own = unfold_run(garment, under), unfold_run(garment, upper)
    lies, _ = fit_points(sample_shares(garment, upper, own, shares), sample_shares(garment, under, laid, shares))
    layers, rings, holes, line = list[ClothLayer](), list[Points](), list[Points](), np.zeros((0, 2))
    for seam, at in zip(seams, (laid, move_laid(own, lies)), strict=True):
        layers += [_lay_with_stand(garment, seam, name, way, letters) for name, way in at.items()]
        (line, *_) = join_courses(list(courses_of(garment, seam.plies[0], at)))
        for name, way in at.items():
            drills = garment.piece(name).drills
            cuts = [path.flatten() for path in buttonholes(drills).values()]
            sewn = [draw_ring(button / 2.0) + np.array([(spot.x, spot.y)]) for spot in buttons(drills).values()]
            for found, marks in ((holes, cuts), (rings, sewn)):
                found += [way.apply_all(_shut_beside(garment, seam, name, mark)) for mark in marks]
    over, beneath = (str(garment.piece(run[0].piece).title) for run in (upper, under))
    held = _hold_end(garment, seams[1], line)
    title = f"Shut, right side up: {over.lower()} over {beneath.lower()}"
    down = line[-1] - line[0]
    x, y = (np.array([-down[1], down[0]]) / np.hypot(*down)).tolist()
    across, up = (line[0] + down / 2.0).tolist()
    named = NotchShown(across, up, (x, y), 0, 0, 0, name_line(garment, seams[1]))
    return StepView(
        title, tuple(layers), held, notches=(named,), centres=(line,), fittings=tuple(rings), holes=tuple(holes),
        focus=line,
    )  # fmt: skip


def _shut_beside(garment: Garment, seam: Seam, name: str, mark: Points) -> Points:
    """A mark beside an edge as it lies once darts near it are shut: moved as the edge is there."""
    own = next(use.line for use in seam.plies[0] if use.piece == name)
    line, shut = garment.piece(name).line(own), garment.find_once(shut_pieces)[name]
    lengths = np.linspace(0.0, line.path.length, PLACES)
    cut = line.path.points(lengths)
    near = int(np.hypot(*(cut - mark.mean(axis=0)).T).argmin())
    return np.asarray(mark + shut.points(line, lengths[near : near + 1]) - cut[near])


NAMED_NEAR: Final = 0.04
"""Of a buttoned edge, from the end that is enlarged, where its line is named."""

PLACES: Final = 201
"""Of an edge at which what a mark beside it is moved by is looked for."""


def _lay_with_stand(garment: Garment, seam: Seam, name: str, lies: Affine, letters: Letters) -> ClothLayer:
    """A piece with its stand, one cloth, the rest of which is folded beneath."""
    shut, edge = garment.find_once(shut_pieces)[name], {use.line for use in seam.plies[0] if use.piece == name}
    ring = garment.piece(name).ring
    courses = [lies.apply_all(shut.course(line)) for line in ring]
    points = move_out(courses, [seam.fold if line.name in edge else 0.0 for line in ring])
    return ClothLayer(points, letters.get(name, ""))


def _hold_end(garment: Garment, seam: Seam, line: Points) -> tuple[Points, ...]:
    """The stitching across the lapped lower ends, where a seam runs on below them."""
    if not seam_runs_on(garment, seam.plies[0]):
        return ()
    up = line[-2] - line[-1]
    up = up / np.hypot(*up) * BESIDE_EDGE
    aside = np.array([-up[1], up[0]]) / BESIDE_EDGE * seam.fold
    return (np.stack([line[-1] + up - aside, line[-1] + up + aside]),)
