"""Cutting in the armhole: it is drawn again between the same ends, nearer to the centre.

Where no fair armhole comes so near between the same ends, the shoulder is made as much shorter as lets one, by 2 cm at
most (common practice). By rule a knit's shoulder comes in with its armhole, and the front is cut in more than the back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    Role,
    Side,
    Stage,
    change,
    face_option,
    faces_of,
    option,
    side_option,
    sides_of,
)
from drafting.geometry import Path, bends_back, curvature_profile, halve
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.halves import Half, armhole_frame, find_half, put_back, with_armhole
from drafting.redraw.over_darts import ARM, work_over_darts
from drafting.redraw.shapes import ROUNDS
from drafting.redraw.shoulders import narrow_shoulder
from drafting.saying import cm, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

TIGHTEST_CUT_IN = TradeValue(35.0, "mm", "derived", "by drawing the choir's armholes")
"""Of radius between its ends with which a cut-in armhole turns at least: tighter, it grows square at the underarm and
much longer for little width."""
PLACES, ENDS = 101, 10
"""At how many places the bend is looked at, and how many of these belong to either end."""
CUT_IN = TradeValue(10.0, "mm", "from memory")
"""That an armhole is cut in by where no one says, in front; on a face alone, there."""
CUT_IN_BEHIND = TradeValue(0.7, "share", "from memory", "the front is the hollower: the arm comes forward")
"""Of that, by which the back is cut in beside its front."""
LOWEST_CUT_IN = TradeValue(0.42, "share", "common practice", "0.40 to 0.55")
"""Of its height at which an armhole that is cut in as one curve is narrowest at least: one that would hook round the
underarm is drawn in two, as a front's is, narrowest at its across width."""
ENDS_NEAR = TradeValue(25.0, "mm", "from memory", "an armhole comes in by 1 to 2 cm from the shoulder's end")
"""Beyond the narrowest place that a shoulder ends at most where the armhole is cut in by rule."""
LEAST_CUT_IN = TradeValue(1.0, "mm", "from memory")
"""That an armhole is cut in by at least where the rule is too much."""
SHOULDER_INSETS = trade_row((3.0, 6.0, 9.0, 12.0, 16.0, 20.0), "mm", "from memory")
"""By which a shoulder is made shorter for its armhole to be cut in fairly, tried in turn."""
AS_GOOD_AS_STRAIGHT = TradeValue(1e6, "mm", "from memory")
"""Of radius of a line that is as good as straight."""


@dataclass(frozen=True, slots=True)
class CutInOptions:
    """Options of the cut-in armhole."""

    by: float | None = option(
        say(
            "How much the width between the armholes shrinks on each side (less than 0 fills the armhole out); by rule "
            "{usual}, a back less beside its front, or as much as leaves a fair armhole.",
            usual=cm(1),
        ),
        "length", None, low=-40.0, high=80.0,
    )  # fmt: skip
    side: str = side_option("Which armhole is cut in.")
    on: str = face_option("Whether front, back or both are cut in.")


def cut_in(half: Half, by: float) -> Half:
    """Return the half with its armhole ``by`` mm nearer to the centre at the level of the across width.

    CannotDraft where that leaves no fair curve between the same ends: one that is tighter than an armhole is sewn, or
    that would be square at the underarm and bend back below the shoulder.
    """
    drawn = _draw_cut_in(half, by)
    if drawn is not None and _is_fair(half, drawn):
        return drawn
    raise _too_far(half, by, _most_cut_in(half, by))


def cut_in_by_rule(half: Half, wanted: float = CUT_IN) -> Half:
    """Return the half cut in by what is ``wanted`` (mm), or as much as leaves a fair armhole.

    CannotDraft where that is nothing.
    """
    if _cut_in_fairly(half, wanted) is not None:
        return cut_in(half, wanted)
    most = _most_cut_in(half, wanted)
    if most < LEAST_CUT_IN:
        raise _too_far(half, wanted, most)
    return cut_in(half, most)


def _too_far(half: Half, by: float, most: float) -> CannotDraft:
    limit = (
        say("a little under {most} is the limit", most=mm(most, 1))
        if most >= LEAST_CUT_IN
        else "there is no room for any"
    )
    return CannotDraft(
        "by",
        say(
            "no fair armhole between the same ends is cut in by {by} on the {side} {face}; {limit}: cut "
            "in further, it turns too tightly to be sewn or banded",
            by=mm(by),
            side=half.side,
            face=half.face,
            limit=limit,
        ),
        short_by=abs(by - most),
        help='narrow the shoulder too, which moves the armhole\'s upper end in with it (change = "shoulder", '
        "narrow = …), or cut in less",
    )


def _cut_in_fairly(half: Half, by: float) -> Half | None:
    """The half with its armhole cut in; None where that isn't fair, or comes too near the neckline."""
    try:
        drawn = _draw_cut_in(half, by)
    except CannotDraft:
        return None
    return drawn if drawn is not None and _is_fair(half, drawn) else None


def _draw_cut_in(half: Half, by: float) -> Half | None:
    """The half with its armhole drawn again; None where the curve doesn't come so far."""
    old = armhole_frame(half)
    frame = replace(old, across=old.across - by)
    drawn = with_armhole(half, frame)
    if frame.full is None and by > 0.0 and _narrowest(drawn.path(Role.ARMHOLE)) < LOWEST_CUT_IN:
        drawn = with_armhole(half, replace(frame, full=ROUNDS[0]))
    return drawn if abs(drawn.half_across.x - (old.across - by)) <= TOLERANCE.arc_length else None


def _narrowest(path: Path) -> float:
    """At what share of its height an armhole, drawn on +x from the underarm up, is narrowest."""
    points = path.flatten()
    low, high = path.start.y, path.end.y
    return float(points[points[:, 0].argmin(), 1] - low) / (high - low)


def _is_fair(half: Half, drawn: Half) -> bool:
    """Whether an armhole that was drawn again bends one way, and turns no more tightly than it may, or did before."""
    path = drawn.path(Role.ARMHOLE)
    if bends_back(path) > bends_back(half.path(Role.ARMHOLE)):
        return False
    return _tightest_radius(path) >= min(TIGHTEST_CUT_IN, _tightest_radius(half.path(Role.ARMHOLE)))


def _tightest_radius(path: Path) -> float:
    """The least radius (mm) between an armhole's ends, which turn as tightly as they may in any block."""
    _, curvature = curvature_profile(path, PLACES)
    return 1.0 / max(float(abs(curvature[ENDS:-ENDS]).max()), 1.0 / AS_GOOD_AS_STRAIGHT)


def _most_cut_in(half: Half, by: float) -> float:
    """How far towards ``by`` the armhole can be cut in and still be fair, to a tenth of a millimetre."""
    return halve(lambda cut: _cut_in_fairly(half, cut) is not None, 0.0, by, within=0.1)


@change(
    "cut-in-armhole",
    "An armhole cut in towards the centre, its ends where they were, or the shoulder as much shorter as it needs.",
    Stage.SHAPE,
    mends=(
        Mend("front-shallow", 'cut the front\'s armhole in: add the change "{change}", on = "front", by = "{by}"'),
        *mend_wavering(Role.ARMHOLE, Role.CAP),
    ),
    moves=("shoulder_length", "across"),
)
def cut_in_armhole(garment: Garment, brief: Brief, o: CutInOptions) -> Garment:
    """Cut in the armholes asked for."""
    if o.by == 0.0:
        raise CannotDraft("by", "it asks for nothing", help="give how much it is cut in, or filled out")
    for side in sides_of(o.side):
        garment = _cut_in_side(garment, side, faces_of(o.on), o.by)
    return garment


def _cut_in_side(garment: Garment, side: Side, faces: Sequence[Face], by: float | None) -> Garment:
    """Cut in one side, its shoulder shorter by as little as lets it; by rule a knit's ends near its armhole too."""
    found: list[Garment] = []
    refused: CannotDraft | None = None
    for inset in (0.0, *(SHOULDER_INSETS if by is None or by > 0.0 else ())):
        try:
            start = narrow_shoulder(garment, side, inset, 0.0) if inset else garment
            made = _cut_in_faces(garment, start, side, faces, by)
        except CannotDraft as error:
            refused = refused or error
            continue
        told = say("the {side} shoulder is as much shorter, for the armhole to be a fair curve", side=side)
        fact = Fact(f"shoulder_narrowed_{side}", inset, "mm", "solve", told)
        found.append(made.with_(facts=(fact,)) if inset else made)
        if by is not None or garment.needs.stretch <= 0.0 or _ends_near(made, side, faces):
            return found[-1]
    if found or refused is None:
        return found[0]
    raise refused


def _ends_near(garment: Garment, side: Side, faces: Sequence[Face]) -> bool:
    """Whether a side's shoulder ends no farther beyond the narrowest place of its armhole than it may."""
    frames = {half: armhole_frame(half).shoulder.x for half in (find_half(garment, side, face) for face in faces)}
    return all(end - half.path(Role.ARMHOLE).bounds[0] <= ENDS_NEAR for half, end in frames.items())


def _cut_in_faces(before: Garment, garment: Garment, side: Side, faces: Sequence[Face], by: float | None) -> Garment:
    for face in faces:
        was = find_half(before, side, face).half_across.x
        wanted = CUT_IN * (CUT_IN_BEHIND if face is Face.BACK and Face.FRONT in faces else 1.0)
        work = partial(_cut_in, side=side, face=face, by=by, wanted=wanted)
        garment = work_over_darts(garment, (side,), face, ARM, work)
        shrunk = was - find_half(garment, side, face).half_across.x
        told = say("the {side} {face} is narrower between centre and armhole", side=side, face=face)
        source = "rule" if by is None else "choice"
        garment = garment.with_(facts=(Fact(f"armhole_cut_in_{face}_{side}", shrunk, "mm", source, told),))
    return garment


def _cut_in(garment: Garment, side: Side, face: Face, by: float | None, wanted: float) -> Garment:
    half = find_half(garment, side, face)
    return put_back(garment, [cut_in_by_rule(half, wanted) if by is None else cut_in(half, by)])
