"""The fitted mesh as it stands to be dressed: shoulders at their height, arms let down, and apart from the trunk."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.body import Body
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.worn.fitting import FittedBody
from drafting.worn.landmarks import (
    LEFT_ARM_PARTS,
    LEFT_HAND_PARTS,
    NAPE,
    RIGHT_ARM_PARTS,
    RIGHT_HAND_PARTS,
    SHOULDER_POINT,
    SHOULDER_POINT_RIGHT,
)
from drafting.worn.neck import ease_between
from drafting.worn.shape import Floats, Whole

ARMS_DOWN = TradeValue(math.radians(12.0), "rad", "derived", "tried on the mesh: the arms clear a fitted hip")
"""The mesh's arms are let down from where it holds them."""

_LEFT_SHOULDER, _RIGHT_SHOULDER = 48, 74
_JOINT_IN, _JOINT_DOWN = 25.0, 35.0
"""mm in and down from the shoulder point, where the arm turns."""
_BEND: Final = (-45.0, 60.0)
"""mm along the arm from the joint, within which the skin follows its turning."""
_CUT = 10.0
"""mm outwards from the joint to where the arm is parted from the trunk; it is held as far inwards."""
_ACROSS = 0.9
"""How much more outwards than along the arm the parting faces."""
_STUB = 24.0
"""mm from its middle to its outside, a hand is drawn in."""
_HAND: Final = 150.0
"""mm from the wrist to the end of a hand."""
NECK_KEPT = 60.0
"""mm above the nape to which the neck is kept, for what is worn lies on it."""
_SHORTEST, _LONGEST = 0.9, 1.3
"""An arm is made no shorter and no longer than so many times what the mesh has."""
_FADE = 150.0
"""mm down the arm from its cut, to where what is drawn in of it ends in the middle of that."""


@dataclass(frozen=True, slots=True, eq=False)
class HangingArm:
    """One arm, its hand a stub, closed within the shoulder: its points and triangles (mm).

    ``joint`` is where it turns, ``along`` the direction of its upper arm; ``core`` points down its middle from within
    the shoulder to the wrist.
    """

    points: Floats
    faces: Whole
    joint: Floats
    along: Floats
    core: Floats

    @property
    def hand(self) -> tuple[Floats, Floats, float]:
        """The hand as a sleeve passes it, a fist as thick as a wrist: its middle's two ends, how far it is to its skin.

        Fingers would let a cuff that lies on them slip in between.
        """
        ahead = self.core[-1] - self.core[-2]
        return self.core[-1], self.core[-1] + _HAND * ahead / math.sqrt(float((ahead**2).sum())), _STUB


@dataclass(frozen=True, slots=True, eq=False)
class PosedBody:
    """The body (mm) as it is dressed.

    ``points`` and ``faces`` are all of it; ``trunk`` are the vertices where the arms are drawn in, which
    ``trunk_faces`` belong to; ``left`` and ``right`` the arms. ``nape`` is a height, as ``waist`` is.
    """

    points: Floats
    faces: Whole
    part: Whole
    trunk: Floats
    trunk_faces: Whole
    left: HangingArm
    right: HangingArm
    nape: Floats
    waist: float


def pose_body(fitted: FittedBody, body: Body) -> PosedBody:
    """Return the body as it stands to be dressed, each shoulder at its own height."""
    part, faces = fitted.shape.part, fitted.shape.faces
    points = fitted.points.copy()
    trunk = points.copy()
    tips = {1.0: points[SHOULDER_POINT].copy(), -1.0: points[SHOULDER_POINT_RIGHT].copy()}
    arms = []
    for sign, parts, shoulder in (
        (1.0, (*LEFT_ARM_PARTS, *LEFT_HAND_PARTS), _LEFT_SHOULDER),
        (-1.0, (*RIGHT_ARM_PARTS, *RIGHT_HAND_PARTS), _RIGHT_SHOULDER),
    ):
        on_arm = np.isin(part, (*parts, shoulder)) & (sign * points[:, 0] > 0.0)
        joint, along = _find_axis(points, tips[sign], np.isin(part, parts), on_arm)
        _turn_down(points, on_arm, joint, along, sign)
        down = _turn_vector(along, sign, ARMS_DOWN)
        across = down + np.array([sign * _ACROSS, 0.0, 0.0])
        across /= math.sqrt(float((across**2).sum()))
        trunk[on_arm] = _draw_in(points[on_arm], joint, across)
        start = joint - 2.0 * _JOINT_DOWN * across
        start[2] = tips[sign][2]
        core = _find_core(points[np.isin(part, parts[:2])], start, joint, down)
        core = _lengthen_arm(points, on_arm, core, down, body["straight_arm_length"])
        hand = np.isin(part, parts[2:])
        arms.append(_part_arm(points, on_arm, hand, across, HangingArm(points, faces, joint, down, core)))
    kept = faces[(trunk[:, 1] < points[NAPE, 1] + NECK_KEPT)[faces].all(axis=1)]
    return PosedBody(points, faces, part, trunk, kept, arms[0], arms[1], points[NAPE], fitted.waist)


def _part_arm(
    points: Floats, on_arm: npt.NDArray[np.bool_], hand: npt.NDArray[np.bool_], across: Floats, arm: HangingArm
) -> HangingArm:
    """The arm by itself: what lies farther in than its end is drawn into the middle of that."""
    out = points.copy()
    beyond = ~on_arm | (((points - arm.joint) * across).sum(axis=1) < -2.0 * _CUT)
    out[beyond] = arm.joint - 2.0 * _CUT * across
    out[hand] = _close_hand(points[hand], arm.core)
    return replace(arm, points=out, faces=arm.faces[~beyond[arm.faces].all(axis=1)])


def _close_hand(points: Floats, core: Floats) -> Floats:
    """A hand as a stub that runs on from the wrist: a sleeve that is longer than its arm lies on it."""
    ahead = core[-1] - core[-2]
    ahead /= math.sqrt(float((ahead**2).sum()))
    off = points - core[-1]
    reach = (off * ahead).sum(axis=1)
    aside = off - reach[:, None] * ahead
    wide = np.sqrt((aside**2).sum(axis=1))
    held = np.minimum(wide, _STUB) / np.maximum(wide, np.finfo(float).tiny)
    out: Floats = core[-1] + np.maximum(reach, -_CUT)[:, None] * ahead + held[:, None] * aside
    return out


def _find_core(points: Floats, start: Floats, joint: Floats, along: Floats) -> Floats:
    """Points down the middle of an arm, from a start within the shoulder to the wrist."""
    reach = ((points - joint) * along).sum(axis=1)
    out = [start, joint]
    for at in np.arange(2.0 * _BEND[1], float(reach.max()) - _CUT, _BEND[1] / 2.0):
        near = points[np.abs(reach - at) < _JOINT_DOWN]
        out.append((near.min(axis=0) + near.max(axis=0)) / 2.0)
    return np.stack(out)


def _find_axis(
    points: Floats, tip: Floats, below: npt.NDArray[np.bool_], on_arm: npt.NDArray[np.bool_]
) -> tuple[Floats, Floats]:
    """The joint about which an arm turns, and the direction of its upper arm (a unit vector) as the mesh holds it.

    The shoulder's bone lies 1 to 3 cm behind the arm's middle; a sleeve rolled round what is beneath it, and what was
    taken for the arm's middle, lay near the back of the armhole.
    """
    near = below & (np.abs(points[:, 1] - (tip[1] - 6.0 * _JOINT_DOWN)) < _JOINT_DOWN)
    joint = tip - np.array([math.copysign(_JOINT_IN, tip[0]), _JOINT_DOWN, 0.0])
    middle = (points[near].min(axis=0) + points[near].max(axis=0)) / 2.0
    across = middle - joint
    across /= math.sqrt(float((across**2).sum()))
    across[0] += math.copysign(_ACROSS, tip[0])
    across /= math.sqrt(float((across**2).sum()))
    root = points[on_arm & (np.abs(((points - joint) * across).sum(axis=1) - _CUT) < _CUT)]
    joint[2] = (root[:, 2].min() + root[:, 2].max()) / 2.0
    along = middle - joint
    return joint, along / math.sqrt(float((along**2).sum()))


def _turn_vector(vector: Floats, sign: float, angle: float) -> Floats:
    c, s = math.cos(angle), math.sin(angle) * sign
    return np.array([c * vector[0] + s * vector[1], -s * vector[0] + c * vector[1], vector[2]])


def _turn_down(points: Floats, on_arm: npt.NDArray[np.bool_], joint: Floats, along: Floats, sign: float) -> None:
    """Let an arm down, in place; its skin turns the more the farther from the joint."""
    off = points[on_arm] - joint
    reach = (off * along).sum(axis=1)
    angle = ARMS_DOWN * ease_between((reach - _BEND[0]) / (_BEND[1] - _BEND[0]))
    c, s = np.cos(angle), np.sin(angle) * sign
    points[on_arm] = joint + np.stack([c * off[:, 0] + s * off[:, 1], -s * off[:, 0] + c * off[:, 1], off[:, 2]], 1)


def _lengthen_arm(points: Floats, on_arm: npt.NDArray[np.bool_], core: Floats, along: Floats, asked: float) -> Floats:
    """Make an arm as long as it is taped from the shoulder point to the wrist, in place; return its middle then.

    It is drawn out along its middle, and keeps its girths.
    """
    joint, middle = core[1], core[1:]
    has = math.hypot(_JOINT_IN, _JOINT_DOWN) + float(np.sqrt((np.diff(middle, axis=0) ** 2).sum(axis=1)).sum())
    more = min(max(asked / has, _SHORTEST), _LONGEST) - 1.0
    reach = ((points[on_arm] - joint) * along).sum(axis=1)
    runs = ((middle - joint) * along).sum(axis=1)
    for k in range(3):
        points[on_arm, k] += more * (np.interp(reach, runs, middle[:, k]) - joint[k])
    return np.concatenate([core[:2], joint + (1.0 + more) * (middle[1:] - joint)])


def _draw_in(points: Floats, joint: Floats, across: Floats) -> Floats:
    """Push all of an arm that lies beyond its cut back onto it, so that the trunk is closed there."""
    off = points - joint
    reach = (off * across).sum(axis=1)
    flat = off - reach[:, None] * across
    kept = np.clip(1.0 - (reach - _CUT) / _FADE, 0.0, 1.0)  # what is far down the arm ends in the middle of the cut
    out: Floats = joint + kept[:, None] * flat + np.minimum(reach, _CUT)[:, None] * across
    return out
