"""A forward shoulder: its seam lies farther to the front at its outer end.

The shoulder is turned about its neck end, the back's dart closed, so that it keeps its length and the dart its angle
and its point. Front and back lie together there as one armhole, which stays as it is: the seam moves along it, and what
one face loses of it the other gains (common practice in pattern alteration).
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from drafting.garment import Brief, Fact, Garment, Role, Stage, change, option, side_option, sides_of
from drafting.geometry import Path, root, turn
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.fit_half import FRONT_AND_BACK, outer_shoulder, refuse_unless_body, turn_end, turn_start
from drafting.redraw.halves import Half, find_half
from drafting.redraw.heights import keep_aims
from drafting.redraw.shoulders import armhole_facts, refuse_short, turn_up
from drafting.redraw.split_darts import work_on_whole_darts
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ForwardOptions:
    """Options of the forward shoulder."""

    by: float = option(
        "How far the shoulder seam's outer end moves to the front (less than 0: to the back).",
        "length", 8.0, low=-30.0, high=30.0,
    )  # fmt: skip
    side: str = side_option("Which shoulder.")


@change(
    "forward-shoulder",
    "A shoulder seam moved to the front at its outer end: the back gains what the front loses.",
    Stage.FIT,
    mends=(
        Mend("toile-shoulders-forward", "by = how far the seam's outer end must move"),
        *mend_wavering(Role.SHOULDER),
    ),
    moves=("shoulder_slope", "shoulder_ahead", "armhole_back", "armhole_hollow"),
)
def fit_forward_shoulder(garment: Garment, brief: Brief, o: ForwardOptions) -> Garment:
    """Move the shoulder seam forward: the back gains at its outer end what the front loses."""
    refuse_unless_body(garment)
    return work_on_whole_darts(garment, lambda g: _move_forward(g, o), o.side) if o.by else garment


def _move_forward(garment: Garment, o: ForwardOptions) -> Garment:
    for side in sides_of(o.side):
        before = garment
        front, back = (find_half(garment, side, face) for face in FRONT_AND_BACK)
        loses, gains = (front, back) if o.by > 0.0 else (back, front)
        for half in (front, back):
            refuse_short(half, o.by)
        moved = _move_seam(loses, gains, abs(o.by))
        told = say("the outer end of the {side} shoulder seam lies farther forward", side=side)
        fact = Fact(f"shoulder_forward_{side}", o.by, "mm", "choice", told)
        garment = garment.with_(pieces=[half.piece for half in moved])
        garment = keep_aims(before, garment).with_(facts=(fact, *armhole_facts(before, garment, side)))
    return garment


def _move_seam(loses: Half, gains: Half, by: float) -> tuple[Half, Half]:
    """Return both halves, the shoulder seam ``by`` mm farther along the armhole that they are together."""
    given, taken = loses.path(Role.ARMHOLE), gains.path(Role.ARMHOLE)
    strip = _lay_on(given.between(given.length - by, given.length).reversed(), loses, gains)
    paths = (given.between(0.0, given.length - by), _run_on(taken, strip))
    drawn = []
    for half, path in zip((turn_up(loses, -by), turn_up(gains, by)), paths, strict=True):
        end = half.on_plus_x(outer_shoulder(half).path).start  # a hair off the path's: the shoulder keeps its length
        drawn.append(half.with_paths({half.line(Role.ARMHOLE).name: path.with_ends(path.start, end)}))
    return drawn[0], drawn[1]


def _lay_on(path: Path, loses: Half, gains: Half) -> Path:
    """Where a path of one half lies on the other as on +x, their shoulders sewn together."""
    one, two = (half.on_plus_x(outer_shoulder(half).path) for half in (loses, gains))
    folded = path.reflected(one.start, one.end)
    turned = folded.turned((two.end - two.start).angle - (one.end - one.start).angle, one.start)
    return turned.moved(two.start - one.start)


def _run_on(path: Path, strip: Path) -> Path:
    """An armhole run on over a strip of the other one, to its end and in its direction there, in one fair curve."""
    *before, last = path.segments
    whole, run = Path.of(last[None]), strip.length

    def over(t: float) -> float:
        return _run_past(last, t).length - whole.length - run

    grown = _run_past(last, root(over, 1.0, 1.0 + FARTHEST_ON * run / whole.length, within=TOLERANCE.joint)[0])
    grown = grown.with_ends(grown.start, strip.end)
    # Moved onto the strip's end it has turned by a hair where it begins, too: there it goes on as it did.
    grown = turn_start(grown, turn(grown.tangent(0.0), whole.tangent(0.0)))
    grown = turn_end(grown, turn(grown.tangent(grown.length), strip.tangent(run)))
    return Path.join(*(Path.of(each[None]) for each in before), grown)


FARTHEST_ON = TradeValue(6.0, "times", "derived", "by drawing, 0.5 to 2")
"""Of its share of the length, that a cubic's parameter may have to run on."""


def _run_past(cubic: Array, t: float) -> Path:
    """A cubic's part from its start to the parameter ``t``, which may lie beyond its end (de Casteljau)."""
    row = cubic
    left = [row[0]]
    for _ in range(3):
        row = row[:-1] + (row[1:] - row[:-1]) * t
        left.append(row[0])
    return Path.of(np.array([left]))
