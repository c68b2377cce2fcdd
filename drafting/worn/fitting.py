"""The woman's or the man's mesh fitted to a body's measurements, taped and estimated alike, by least squares."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, Final

import numpy as np

from drafting.body import Body
from drafting.record import dataclass
from drafting.trade import TradeValue, trade_row
from drafting.worn.landmarks import (
    BUST_POINT,
    CROTCH,
    CROWN,
    LEFT_ARM_PARTS,
    NAPE,
    PIT,
    SEAT,
    SHOULDER_POINT,
    SPINE,
    TRUNK_PARTS,
    Tape,
    find_waist,
    make_tape,
    measure_neck,
    take_arm_girth,
    take_girth,
)
from drafting.worn.neck import AHEAD, SIDE_NECK_DEEP, USUAL_AHEAD, NeckMove, plan_neck
from drafting.worn.shape import MACROS, BodyShape, Floats, Whole, close_legs, load_shape
from drafting.worn.spine import bend_back
from drafting.worn.taped import SIDES, tape_front, tape_neck_base, tape_shoulder

LOCAL: Final = (
    "measure-bust-circ-incr",
    "measure-underbust-circ-incr",
    "measure-waist-circ-incr",
    "measure-hips-circ-incr",
    "measure-napetowaist-dist-incr",
    "measure-waisttohip-dist-incr",
    "measure-shoulder-dist-incr",
    "measure-upperarm-circ-incr",
    "measure-upperleg-height-incr",
    "measure-neck-circ-incr",
    "breast-dist-incr",
    "breast-trans-up",
    "torso-scale-depth-incr",
    "stomach-tone-incr",
    "l-upperleg-fat-incr",
    "hip-scale-horiz-incr",
)
"""The parameters of a place of the body that are fitted, each from -1 to 1."""

UNDER_BUST = TradeValue(75.0, "mm", "from memory")
"""Below the bust point lies the level at which the under bust girth is taken."""
UPPER_ARM = TradeValue(0.3, "share", "from memory")
"""Of the way from the shoulder joint to the elbow the upper arm is taped."""
THIGHS = trade_row((40.0, 80.0, 120.0), "mm", "from memory")
"""Below the seat's fullest, thighs with the feet together are no fuller than it."""
GIRTH_OFF = TradeValue(5.0, "mm", "common practice")
"""A girth of the mesh may differ from the wearer's: as far as two tapings of one person do."""

SIDE_NECK_OUT = TradeValue(0.14, "share", "derived", "of the surveyed, whose neck base is an ellipse aslant")
"""Of the neck base girth, as far from the middle the side neck point lies."""

_FRONT_OFF: Final = 0.5
"""mm by which a length taped in front may be off."""
_TRIES: Final = 6
_SHORTER: Final = -0.6
"""mm by which that length grows, by looking, for each mm that the neck is moved ahead."""
_BY_HEIGHT: Final = 0.35
"""How much a height counts beside a girth: levels are less sharp."""
_COUNTS: Final = {
    "stature": 0.2, "inside_leg_height": 0.15, "hip_height": 0.7, "bust_point_height": 0.7, "neck_girth": 0.5,
}  # fmt: skip
"""How much of these counts: the trunk's levels more than the legs, the neck less, for it is made the wearer's later."""
_FULLER: Final = 0.3
"""How much it counts beside a girth that thighs are fuller than the hip; what is left is drawn in."""
_NARROWEST: Final = 0.92
"""A level is drawn in or let out by no more than to this share; what is left is told."""
_HABIT: Final = 6.0
"""mm for a parameter's whole range: what keeps those that no measurement asks for near their middle."""
_UNASKED: Final = {"stomach-tone-incr": 20.0, "torso-scale-depth-incr": 20.0}
"""mm for the same of what no measurement asks for at all: a belly that only helps a girth is nobody's."""
_STRETCHED: Final = 1.5
"""A parameter of a place may go this far beyond the range it was made for."""


@dataclass(frozen=True, slots=True)
class Taken:
    """One measurement as the fitted mesh has it: the wearer's, the mesh's (mm), and what it counts."""

    name: str
    asked: float
    reached: float
    counts: float = 1.0

    @property
    def off(self) -> float:
        """By how much the mesh has more."""
        return self.reached - self.asked


@dataclass(frozen=True, slots=True, eq=False)
class FittedBody:
    """The mesh as fitted: its vertices (mm), and every measurement taken on it."""

    shape: BodyShape
    points: Floats
    taken: tuple[Taken, ...]
    waist: float

    @property
    def missed(self) -> tuple[Taken, ...]:
        """The girths and lengths that the mesh can't follow."""
        told = (each for each in self.taken if each.name.endswith("girth") or each.name in (*_LENGTHS, WAIST))
        return tuple(each for each in told if abs(each.off) > GIRTH_OFF)

    @property
    def neck_missed(self) -> bool:
        """Whether the mesh can't follow the wearer's neck or what is taped from it."""
        return any(each.name in (*_LENGTHS, "neck_girth", "neck_base_girth") for each in self.missed)


_LENGTHS: Final = ("side_neck_point_to_waist_over_bust", "shoulder_length")
WAIST: Final = "waist_height"


def fit_body(body: Body) -> FittedBody:
    """Return the mesh fitted to a person's measurements; ``missed`` tells where it can't follow them."""
    from scipy.optimize import least_squares

    whole = load_shape(body.rules)
    fit = _MeshFit(whole, body)
    found = least_squares(fit.residuals, fit.start, bounds=fit.bounds, diff_step=1 / 512, x_scale=0.2, max_nfev=14)
    parameters = fit.name(np.round(found.x, 4))  # so that the last figures of another processor don't show
    points = close_legs(whole.form(parameters), whole.part)
    points[:, 1] -= points[:, 1].min()
    points = _stand_tall(points, body)
    points = shape_trunk(points, fit.whole_tape, whole.part, body)
    waist = find_waist(points, body["back_neck_point_to_waist"])
    taken = (*take_measurements(points, fit.whole_tape, body, fit.joints), *take_neck(points, fit.whole_tape, body))
    return FittedBody(whole, points, taken, waist)


def take_neck(points: Floats, tape: Tape, body: Body) -> tuple[Taken, ...]:
    """Take on a mesh that has the wearer's neck base and shoulders what is measured round that and from there."""
    waist = find_waist(points, body["back_neck_point_to_waist"])
    front = tape_front(points, tape.trunk, waist)
    high = () if WAIST in body.estimated else (Taken(WAIST, body[WAIST], waist),)
    shoulders = (Taken("shoulder_length", body["shoulder_length"], tape_shoulder(points, side)[0]) for side in SIDES)
    return (
        Taken("neck_base_girth", body["neck_base_girth"], tape_neck_base(points)),
        Taken("side_neck_point_to_waist_over_bust", body["side_neck_point_to_waist_over_bust"], front),
        *shoulders,
        *high,
    )


def shape_trunk(points: Floats, tape: Tape, part: Whole, body: Body) -> Floats:
    """Return the body with the wearer's neck base, shoulders and girths.

    The neck is moved ahead until what is taped from its side over the bust to the waist is the wearer's; where that
    isn't enough, its side neck points are taken farther ahead on it.
    """
    out, off = points, math.inf
    for deep in SIDE_NECK_DEEP:
        if off > _FRONT_OFF:
            out, off = _move_ahead(points, plan_neck(points, tape.trunk, part, body, deep), tape, part, body)
    return out


def _move_ahead(points: Floats, move: NeckMove, tape: Tape, part: Whole, body: Body) -> tuple[Floats, float]:
    """The body with its neck moved ahead, and how much longer its front is taped than the wearer's (mm)."""
    ahead, last = USUAL_AHEAD, (0.0, 0.0)
    for tried in range(_TRIES):
        out = draw_in_girths(bend_back(move.apply(points, ahead), body), tape, part, body)
        waist = find_waist(out, body["back_neck_point_to_waist"])
        off = tape_front(out, tape.trunk, waist) - body["side_neck_point_to_waist_over_bust"]
        if abs(off) < _FRONT_OFF or (tried and ahead == last[0]):
            break
        steep = min((off - last[1]) / (ahead - last[0]), _SHORTER / 3.0) if tried else _SHORTER
        last = ahead, off
        ahead = min(max(ahead - off / steep, AHEAD[0]), AHEAD[1])
    return out, off


def _stand_tall(points: Floats, body: Body) -> Floats:
    """Return the body with its seat, bust and nape as high above the floor as the wearer's, what is between evenly."""
    has = [0.0, *(float(points[at, 1]) for at in (SEAT, BUST_POINT, NAPE))]
    asked = [0.0, *(body[name] for name in ("hip_height", "bust_point_height", "back_neck_point_height"))]
    out = points.copy()
    over = np.maximum(points[:, 1] - has[-1], 0.0)
    out[:, 1] = np.interp(points[:, 1], has, asked) + over
    return out


def draw_in_girths(points: Floats, tape: Tape, part: Whole, body: Body) -> Floats:
    """Return the trunk a little narrower or wider at each level, so that its girths are the wearer's; thighs no more.

    Between levels the share goes over evenly; it ends at the armpits and at mid thigh.
    """
    bust, seat = float(points[BUST_POINT, 1]), float(points[SEAT, 1])
    asked = {
        bust: body["bust_girth"],
        bust - UNDER_BUST: body["under_bust_girth"],
        find_waist(points, body["back_neck_point_to_waist"]): body["waist_girth"],
        seat: body["hip_girth"],
    }
    shares = {level: min(max(girth / take_girth(points, tape.trunk, level), _NARROWEST), 2.0 - _NARROWEST)
              for level, girth in asked.items()}  # fmt: skip
    below = {seat - by: min(body["hip_girth"] / take_girth(points, tape.trunk, seat - by), 1.0) for by in THIGHS}
    ends = {bust + UNDER_BUST: 1.0, seat - 2.0 * THIGHS[-1]: 1.0}
    curve = sorted((shares | below | ends).items())
    share = np.interp(points[:, 1], [level for level, _ in curve], [value for _, value in curve])
    share = np.where(np.isin(part, TRUNK_PARTS), share, 1.0)
    middle = np.array([0.0, float(points[list(SPINE), 2].mean() + points[PIT, 2]) / 2.0])
    out = points.copy()
    out[:, [0, 2]] = middle + share[:, None] * (points[:, [0, 2]] - middle)
    return out


class _MeshFit:
    """The sum that is made small, with the vertices that it looks at."""

    def __init__(self, shape: BodyShape, body: Body) -> None:
        seen = np.isin(shape.part, (*TRUNK_PARTS, *LEFT_ARM_PARTS))
        seen[[CROWN, int(np.argmin(shape.base[:, 1]))]] = True
        self.body = body
        self.kept = np.nonzero(seen)[0]
        self.shape = shape.only(self.kept)
        self.whole_tape = make_tape(shape.faces, shape.part)
        self.joints = _joint_vertices(shape)
        self.names = (*MACROS, *LOCAL)
        self.start = np.array([0.5] * len(MACROS) + [0.0] * len(LOCAL))
        least = [0.02] * len(MACROS) + [-_STRETCHED] * len(LOCAL)
        most = [0.98] * len(MACROS) + [_STRETCHED] * len(LOCAL)
        self.bounds = (np.array(least), np.array(most))
        self.whole = np.zeros_like(shape.base)
        self.habits = np.array([_UNASKED.get(name, _HABIT) for name in self.names])

    def name(self, values: Floats) -> Mapping[str, float]:
        named = dict(zip(self.names, values.tolist(), strict=True))
        return named | {f"r{name[1:]}": value for name, value in named.items() if name.startswith("l-")}

    def residuals(self, values: Floats) -> Floats:
        points = self.whole
        points[self.kept] = close_legs(self.shape.form(self.name(values)), self.shape.part)
        points[self.kept, 1] -= points[self.kept, 1].min()
        taken = take_measurements(points, self.whole_tape, self.body, self.joints)
        off = np.array([each.counts * each.off for each in taken])
        seat = float(points[SEAT, 1])
        thighs = [take_girth(points, self.whole_tape.trunk, seat - below) for below in THIGHS]
        fuller = np.maximum(np.array(thighs) - self.body["hip_girth"], 0.0)
        return np.concatenate([off, _FULLER * fuller, self.habits * (values - self.start)])


def _joint_vertices(shape: BodyShape) -> tuple[Any, Any]:
    """The vertices round the left shoulder joint, and those round the elbow."""
    pairs = np.concatenate([shape.faces[:, [0, 1]], shape.faces[:, [1, 2]], shape.faces[:, [2, 0]]])
    part = shape.part[pairs]
    shoulder, elbow = (np.unique(pairs[(part[:, 0] == a) & (part[:, 1] == b)].ravel()) for a, b in ((48, 49), (49, 50)))
    return shoulder, elbow


def take_measurements(points: Floats, tape: Tape, body: Body, joints: tuple[Any, Any]) -> tuple[Taken, ...]:
    """Take on a mesh that stands on the floor what is known of a body."""
    bust = float(points[BUST_POINT, 1])
    waist = find_waist(points, body["back_neck_point_to_waist"])
    shoulder, elbow = points[joints[0]].mean(axis=0), points[joints[1]].mean(axis=0)
    half = SIDE_NECK_OUT * body["neck_base_girth"] + body["shoulder_length"] * math.cos(body["shoulder_slope"])
    girths = {
        "bust_girth": take_girth(points, tape.trunk, bust),
        "under_bust_girth": take_girth(points, tape.trunk, bust - UNDER_BUST),
        "waist_girth": take_girth(points, tape.trunk, waist),
        "hip_girth": take_girth(points, tape.trunk, float(points[SEAT, 1])),
        "upper_arm_girth": take_arm_girth(points, tape, shoulder, elbow, UPPER_ARM),
        "neck_girth": measure_neck(points, tape.trunk),
    }
    lifted = body["back_neck_point_height"] - points[NAPE, 1]
    heights = {
        "stature": points[CROWN, 1],
        "back_neck_point_height": points[NAPE, 1],
        "front_neck_point_height": points[PIT, 1] + lifted,
        "bust_point_height": bust + lifted,
        "hip_height": points[SEAT, 1] + lifted,
        "inside_leg_height": points[CROTCH, 1],
        "bust_point_width": 2.0 * points[BUST_POINT, 0],
    }
    return (
        *(Taken(name, body[name], value, _COUNTS.get(name, 1.0)) for name, value in girths.items()),
        *(Taken(name, body[name], float(value), _COUNTS.get(name, _BY_HEIGHT)) for name, value in heights.items()),
        Taken("half_shoulder_width", half, float(points[SHOULDER_POINT, 0]), _BY_HEIGHT),
    )
