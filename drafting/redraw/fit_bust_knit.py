"""A fuller bust on a front without darts, as a knit top has: width at the side over the bust, and length eased in.

The side seam moves out at the bust line, running out to nothing at the waist, and its underarm out and up, as a slash
turned about the armhole brings it: the armhole stays as long as it was. The front is drawn out between bust and waist,
and what its side seam is longer by is eased onto the back. A knit takes 1 to 2 cm of that (common practice); more
wants a dart.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from drafting.errors import CannotDraft
from drafting.garment import Adjust, Brief, Face, Fact, Garment, Piece, Role, Side
from drafting.garment.carry import Redrawing, carry_features, follow_edges, only
from drafting.garment.ruled import FRONT_EASED
from drafting.garment.told import Ruled
from drafting.geometry import Path, Point, root
from drafting.record import dataclass
from drafting.redraw.fit_half import NO_SHIFT, arm_frame, move_joints, restate_ease
from drafting.redraw.fit_inner import move_inner
from drafting.redraw.fullness import ease_waists
from drafting.redraw.halves import Half, find_half, with_armhole
from drafting.redraw.heights import HeightShift, draw_across, keep_aims
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import SIDE

BUST_LENGTH_SHARE = TradeValue(0.6, "share", "derived", "as a darted front's slash")
"""Of what a knit's front is wider over the bust, by which it becomes longer there."""

LEAST_LENGTH_SHARE = TradeValue(0.2, "share", "from memory")
"""Of what it is wider, by which it becomes longer at least, where its side has no more ease: a bust takes both."""

MOST_EASED_KNIT = TradeValue(20.0, "mm", "common practice", "1 to 2 cm")
"""That may be eased into a knit side seam over the bust."""


def spread_knit(garment: Garment, brief: Brief, by: float, halves: Sequence[Half]) -> Garment:
    """Return the garment with halves of an undarted front wider by ``by`` (mm) at the bust, longer and eased."""
    if by < 0.0:
        raise CannotDraft(
            "by",
            "the front has no bust dart to close",
            help="ask for a closer fit, or use a block with a bust dart",
        )
    already = _most_eased(garment, halves)
    plans = [Eased.of(half, by, len(halves) == 1, already) for half in halves]
    made = _spread(garment, plans)
    # A side let out far is longer by its own curve too: the front is then drawn out by less.
    while (over := _most_eased(made, halves) - MOST_EASED_KNIT) > TOLERANCE.sewn_length and any(
        plan.stretch.by > plan.least for plan in plans
    ):
        plans = [plan.less(over) for plan in plans]
        made = _spread(garment, plans)
    # What the side has no ease for, the armhole takes: the underarm rises by less.
    while (over := _most_eased(made, halves) - MOST_EASED_KNIT) > TOLERANCE.sewn_length and any(
        _take_rise(made, plan) > 0.0 for plan in plans
    ):
        plans = [replace(plan, highest=max(_take_rise(made, plan) - over, 0.0)) for plan in plans]
        made = _spread(garment, plans)
    for half in halves:
        _refuse_ease(made, half)
    return keep_aims(garment, made).with_(facts=[fact for plan in plans for fact in _facts(plan)])


def draw_out_front(garment: Garment, by: float) -> Garment:
    """Return the garment with an undarted front longer by ``by`` (mm) between bust and waist, eased onto the back."""
    halves = [find_half(garment, side, Face.FRONT) for side in (Side.LEFT, Side.RIGHT)]
    plans = [Eased.of(half, 0.0, runs_out=False, already=0.0) for half in halves]
    plans = [replace(plan, stretch=replace(plan.stretch, by=by)) for plan in plans]
    fact = Fact(
        "front_eased",
        by,
        "mm",
        "rule",
        "front longer over the bust, eased onto the back's side seam",
        Ruled(FRONT_EASED),
    )
    return keep_aims(garment, _spread(garment, plans)).with_(facts=[fact])


def _take_rise(made: Garment, plan: Eased) -> float:
    """By how much (mm) a half's underarm has risen."""
    now = replace(plan.half, piece=made.piece(plan.half.piece.name))
    return now.path(Role.ARMHOLE).start.y - plan.half.path(Role.ARMHOLE).start.y


def _spread(garment: Garment, plans: Sequence[Eased]) -> Garment:
    before = piece = plans[0].half.piece
    for plan in plans:
        piece = _draw_half(replace(plan.half, piece=piece), plan)
    piece = follow_edges(before, _levels(piece, plans))
    made = ease_waists(garment, garment.with_(pieces=(piece,)))
    for plan in plans:
        made = restate_ease(made, [piece.name], SIDE, plan.half.side)
    return made


ARMHOLE_GROWS = TradeValue(4.0, "mm", "common practice", "a slash for the bust leaves the armhole as long as it was")
"""By which the front's armhole becomes longer at most: what its underarm moves out would add, the underarm rises by."""

MOST_RAISED = TradeValue(0.35, "share", "derived", "by drawing")
"""Of the armhole's height below the across front, that the underarm rises at most."""


@dataclass(frozen=True, slots=True)
class Eased:
    """What becomes of one half of an undarted front: ``by`` wider at the bust, drawn out by ``stretch`` below it.

    It is drawn out by ``least`` (mm) at least, less what was eased in ``already``; its underarm rises by ``highest`` at
    most.
    """

    half: Half
    by: float
    stretch: HeightShift
    runs_out: bool
    least: float
    highest: float

    @staticmethod
    def of(half: Half, by: float, runs_out: bool, already: float) -> Eased:
        """Plan it between the half's bust line and its waist; CannotDraft where it shows none."""
        bust, waist = half.level("bust"), half.level("waist")
        if bust is None or waist is None:
            raise CannotDraft("bust", "the front shows no bust line or no waist to let the bust in between")
        top, low = half.outer_end(bust).y, half.outer_end(waist).y
        least = max(0.0, by * LEAST_LENGTH_SHARE - already)
        highest = MOST_RAISED * (half.half_across.y - half.path(Role.ARMHOLE).start.y)
        return Eased(half, by, HeightShift(top, low, by * BUST_LENGTH_SHARE), runs_out, least, highest)

    def less(self, by: float) -> Eased:
        """Return it drawn out by so much less (mm), but by its least."""
        return replace(self, stretch=replace(self.stretch, by=max(self.least, self.stretch.by - by)))

    def drop(self, p: Point) -> Point:
        """By how much a point below the bust line goes down."""
        if p.x <= TOLERANCE.joint and self.runs_out:
            return NO_SHIFT
        return Point(0.0, self.stretch.y(p.y) - p.y)

    def wider(self, p: Point) -> Point:
        """By how much a point of the bust line moves out."""
        return NO_SHIFT if p.x <= TOLERANCE.joint else Point(self.by, 0.0)

    def is_below(self, path: Path) -> bool:
        """Whether a level's outer end lies at the waist or below."""
        return _outer_end(path, self.half.flipped).y <= self.stretch.low + TOLERANCE.joint


def _outer_end(path: Path, flip: bool) -> Point:
    """The end of a level that lies farther out on a half, as on +x."""
    ends = [Point(-p.x, p.y) if flip else p for p in (path.start, path.end)]
    return max(ends, key=lambda p: p.x)


def _draw_half(half: Half, plan: Eased) -> Piece:
    """The front with one half spread, its underarm raised until its armhole is hardly longer than it was."""
    most = half.path(Role.ARMHOLE).length + ARMHOLE_GROWS

    def over(rise: float) -> float:
        return replace(half, piece=_draw_raised(half, plan, rise)).path(Role.ARMHOLE).length - most

    rise = 0.0
    if plan.by > 0.0 and over(0.0) > 0.0:
        high = plan.highest
        rise = high if over(high) >= 0.0 else root(over, 0.0, high, within=TOLERANCE.same_point)[0]
    return _draw_raised(half, plan, rise)


def _draw_raised(half: Half, plan: Eased, rise: float) -> Piece:
    seam = half.below_armhole()
    path = half.on_plus_x(seam.path)
    wide, top, low = _amount(path, plan), plan.stretch.top, plan.stretch.low
    sides = {line.name: half.on_plus_x(line.path) for line in half.lines(Role.SIDE)}  # the seam, and a vent below it
    paths = {name: plan.stretch.path(_let_out(side, wide, top, low)) for name, side in sides.items()}
    for line in (*half.lines(Role.HEM), *half.lines(Role.WAIST)):
        paths[line.name] = move_joints(half.on_plus_x(line.path), plan.drop)
    paths[seam.name] = _raise_end(paths[seam.name], top, rise)
    armhole = half.line(Role.ARMHOLE)
    paths[armhole.name] = half.on_plus_x(armhole.path).moved(paths[seam.name].end - path.end)
    moved = half.with_paths(paths)
    if plan.by == 0.0:  # drawn out below the bust alone: its armhole stays as it is
        return moved.piece
    return with_armhole(moved, replace(arm_frame(moved), full=arm_frame(half).full)).piece


def _raise_end(path: Path, bust: float, by: float) -> Path:
    """A side seam with its end at the underarm higher by a length, drawn out above the bust line."""
    if by <= 0.0:
        return path
    return HeightShift(path.end.y, bust, by).path(path).moved(Point(0.0, by))


def _facts(plan: Eased) -> tuple[Fact, ...]:
    side, more = plan.half.side, plan.stretch.by
    return (
        Fact(
            f"bust_spread_{side}",
            plan.by,
            "mm",
            "choice",
            say("the {side} front wider at the bust, not at the waist", side=side),
        ),
        Fact(f"bust_spread_length_{side}", more, "mm", "rule", "longer over the bust, eased onto the back's side seam"),
    )


def _let_out(path: Path, by: float, top: float, low: float) -> Path:
    """A side line let out by a length above the height ``top``, running out softly to nothing at ``low``.

    Joints move as one curve between the two heights would, and their handles lean with it, so that a seam in several
    curves stays as fair as one in one.
    """
    old = path.segments
    height = np.clip((old[..., 1] - low) / (top - low), 0.0, 1.0)
    out, lean = height**2 * (3.0 - 2.0 * height), 6.0 * height * (1.0 - height) / (top - low)
    new = old.copy()
    for handle, joint in ((0, 0), (1, 0), (2, 3), (3, 3)):
        rise = old[:, handle, 1] - old[:, joint, 1]
        new[:, handle, 0] += by * (out[:, joint] + lean[:, joint] * rise)
    return Path.of(new)


def _amount(path: Path, plan: Eased) -> float:
    """How far a side seam is let out above the bust line, so that it is ``by`` (mm) there."""
    top, low = plan.stretch.top, plan.stretch.low
    old = [path.at(s).x for s in path.cross_level(top)]
    once = _let_out(path, 1.0, top, low)
    new = [once.at(s).x for s in once.cross_level(top)]
    return plan.by / (new[-1] - old[-1]) if old and new else plan.by


def _levels(piece: Piece, plans: Sequence[Eased]) -> Piece:
    """The piece with its bust line wider and what lies below it moved down."""
    wider = {plan.half.flipped: plan.wider for plan in plans}
    drop = {plan.half.flipped: plan.drop for plan in plans}
    piece = move_inner(piece, wider, -math.inf, lambda v: v.name == "bust")
    between = {a.name for a in piece.adjusts if not any(plan.is_below(a.path) for plan in plans)}
    below = plans[0].stretch.top
    piece = move_inner(piece, drop, below, lambda v: v.name != "bust" and any(plan.is_below(v.path) for plan in plans))
    ruled = Redrawing(lambda p: draw_across(piece, plans[0].stretch.y(p.start.y), p.start.x, p.end.x))
    return carry_features(piece, ruled, only(Adjust, called=between))


def _most_eased(garment: Garment, halves: Sequence[Half]) -> float:
    return max((eased for half in halves for eased in _find_eased(garment, half)), default=0.0)


def _find_eased(garment: Garment, half: Half) -> Iterator[float]:
    """By how much the layers of each side seam of a half differ (mm)."""
    names = {line.name for line in half.lines(Role.SIDE)}
    for seam in garment.seams:
        if seam.kind == SIDE and any(u.piece == half.piece.name and u.line in names for u in seam.uses()):
            lengths = [garment.run_length(run) for run in seam.plies]
            yield max(lengths) - min(lengths)


def _refuse_ease(garment: Garment, half: Half) -> None:
    eased = _most_eased(garment, [half])
    if eased > MOST_EASED_KNIT + TOLERANCE.sewn_length:
        raise CannotDraft(
            "by",
            say(
                "the {side} front would be {eased} longer than the back along the side; a knit "
                "takes {most_eased} of ease there",
                side=half.side,
                eased=mm(eased),
                most_eased=mm(MOST_EASED_KNIT),
            ),
            short_by=eased - MOST_EASED_KNIT,
            help="add less, or let the front have a bust dart",
        )
