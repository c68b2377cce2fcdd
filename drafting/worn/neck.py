"""The mesh's neck base and shoulders moved to the wearer's: heights, girth, length and slope, each side by itself.

As it is made, the mesh has a neck thicker at its base than people's, upright above a straight back, between flat
shoulders. Its landmarks are put where the wearer's lie, and what is between them follows smoothly. How far the neck
stands ahead of the back nobody tapes; but what is taped from its side over the bust to the waist tells it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from drafting.body import Body
from drafting.record import dataclass
from drafting.trade import trade_row
from drafting.worn.landmarks import (
    BUST_POINT,
    CROWN,
    LEFT_ARM_PARTS,
    LEFT_HAND_PARTS,
    NAPE,
    NECK,
    NECK_BASE,
    NECK_BASE_RIGHT,
    RIGHT_ARM_PARTS,
    RIGHT_HAND_PARTS,
    SEAT,
    SHOULDER_PARTS,
    SHOULDER_POINT,
    SHOULDER_POINT_RIGHT,
    SIDE_NECK,
    TRUNK_PARTS,
    cut_neck,
    measure_aslant,
    measure_neck,
)
from drafting.worn.shape import METRE, Floats, Whole

TIP_FOLLOWS: Final = 0.8
"""How much of the way that the neck is moved ahead the shoulder's bone goes with it, by looking."""
AHEAD = trade_row((-20.0, 65.0), "mm", "derived", "surveyed bodies ask for no more")
"""The neck is moved ahead by no less and no more."""
SIDE_NECK_DEEP = trade_row(
    (0.47, 0.6), "share", "derived", "what 1988's surveyed have from there over the bust asks it"
)
"""Of the way from the nape ahead to the hollow in front, where the side neck point lies on most, and farthest ahead."""
_STILL: Final = 60.0
"""mm below the armpit, from which on down the trunk stays as it was fitted."""
_BUST_STILL: Final = 5.0
"""mm above the bust point, from which on down it stays at any rate."""
_APART: Final = 50.0
"""mm between the vertices that hold it still."""
_ARM_BEGINS, _ARM_WHOLE = 0.75, 0.35
"""Of the shoulder point's distance from the middle: where the arm begins to go with it, and within what it does."""
_NARROWEST, _WIDEST = 0.5, 1.3
"""The neck base is made no narrower and no wider than so many times what the mesh has."""
_ALONG_SHOULDER: Final = (0.2, 0.4, 0.6, 0.8)
"""Of the way from the side neck point to the shoulder point, where the shoulder's ridge is led."""
_NEAR_RIDGE: Final = 20.0
"""mm round these places in plan, within which its highest vertex is."""
_HALVINGS: Final = 30
_GIRTHS_TRIED: Final = 3
USUAL_AHEAD: Final = 45.0
"""mm that the neck is moved ahead on most."""
_RING: Final = 8.0
"""mm to each side of where the neck is taped, within which vertices go with it."""


@dataclass(frozen=True, slots=True, eq=False)
class NeckMove:
    """How the vertices move (mm): ``to`` the landmarks' heights and girths, and ``ahead`` for each mm to the front."""

    to: Floats
    ahead: Floats

    def apply(self, points: Floats, ahead: float) -> Floats:
        """Return the points moved, the neck so far (mm) to the front."""
        out: Floats = points + self.to + ahead * self.ahead
        return out


def plan_neck(points: Floats, edges: Whole, part: Whole, body: Body, deep: float) -> NeckMove:
    """Return how the vertices of a fitted mesh move, so that its neck base and shoulders are the wearer's.

    ``edges`` are those of the trunk without arms and head; ``deep`` is the share of the neck base's depth at which its
    side neck points lie. Where the neck is taped its girth comes out less than it is asked for, and is asked anew.
    """
    asked = body["neck_girth"]
    for _ in range(_GIRTHS_TRIED):
        move = _plan_girth(points, part, body, deep, asked)
        asked *= body["neck_girth"] / measure_neck(move.apply(points, USUAL_AHEAD), edges)
    return move


def _plan_girth(points: Floats, part: Whole, body: Body, deep: float, girth: float) -> NeckMove:
    """How the vertices move with a girth (mm) asked for where the neck is taped."""
    marks, to, ahead = _move_landmarks(points, body, deep)
    ring = _find_ring(points, part)
    rounded = _shape_ring(points[ring], float(to[_SIDE, 0] + points[SIDE_NECK, 0]), girth)
    tips = [len(marks) - 2, len(marks) - 1]
    ridge, lifted = _fill_shoulders(points, part, marks, np.concatenate([to, ahead], axis=1))
    still = _thin(points, _find_still(points, part, body))
    outer = [_thin(points, _find_outer(points, part, sign)) for sign in (1.0, -1.0)]
    held = np.concatenate([marks, ring, [CROWN], still, *outer, ridge])
    both_of = [
        (to, ahead),
        (rounded, np.tile(_FRONT, (len(ring), 1))),
        (np.zeros((1, 3)), _FRONT[None, :]),
        (np.zeros((len(still), 3)), np.zeros((len(still), 3))),
        *((np.tile(to[tip], (len(own), 1)), np.tile(ahead[tip], (len(own), 1)))
          for tip, own in zip(tips, outer, strict=True)),
    ]  # fmt: skip
    moved = np.concatenate([*(np.concatenate(pair, axis=1) for pair in both_of), lifted])
    both = _carry_arms(points, part, _spread(points, held, moved), (marks[-2:], moved[tips]))
    return NeckMove(both[:, :3], both[:, 3:])


def _carry_arms(points: Floats, part: Whole, moved: Floats, tips: tuple[Whole, Floats]) -> Floats:
    """How the vertices move where each arm goes with its shoulder point."""
    out = moved.copy()
    for sign, parts, tip, own in zip((1.0, -1.0), _ARMS, *tips, strict=True):
        far = abs(float(points[tip, 0]))
        goes = ease_between((sign * points[:, 0] - _ARM_BEGINS * far) / (_ARM_WHOLE * far)) * np.isin(part, parts)
        out += goes[:, None] * (own - out)
    return out


_ARMS: Final = ((*LEFT_ARM_PARTS, *LEFT_HAND_PARTS, 48), (*RIGHT_ARM_PARTS, *RIGHT_HAND_PARTS, 74))
_FRONT: Final = np.array([0.0, 0.0, 1.0])


def _move_landmarks(points: Floats, body: Body, deep: float) -> tuple[Whole, Floats, Floats]:
    """The vertices of the neck base and the two shoulder points, how they move, and how for each mm to the front."""
    up = {
        name: body[f"{name}_height"] - body["back_neck_point_height"]
        for name in ("side_neck_point", "front_neck_point")
    }
    most = body["neck_base_girth"]
    shares = [_NARROWEST, _WIDEST]
    for _ in range(_HALVINGS):
        share = sum(shares) / 2.0
        shares[_lay_base(points, NECK_BASE, share, deep, *up.values())[1] * 2.0 > most] = share
    loops = [_lay_base(points, own, shares[0], deep, *up.values())[0] for own in (NECK_BASE, NECK_BASE_RIGHT)]
    tips = np.array([_lay_tip(points, loops[0][_SIDE], body, sign) for sign in (1.0, -1.0)])
    marks = np.array([*NECK_BASE, *NECK_BASE_RIGHT[1:-1], SHOULDER_POINT, SHOULDER_POINT_RIGHT])
    to = np.concatenate([loops[0], loops[1][1:-1], tips]) - points[marks]
    ahead = np.tile(_FRONT, (len(marks), 1))
    ahead[-2:] *= TIP_FOLLOWS
    return marks, to, ahead


_SIDE: Final = NECK_BASE.index(SIDE_NECK)


def _lay_base(
    points: Floats, base: Sequence[int], share: float, at: float, side: float, pit: float
) -> tuple[Floats, float]:
    """Where one half of the neck base lies, and its length (mm).

    It is a quarter of an ellipse from the nape to the side neck point and another to the hollow in front, so many times
    as wide and deep as the mesh has it, with the side neck point ``at`` a share of that depth; ``side`` and ``pit`` lie
    above the nape (mm).
    """
    nape, neck, front = (points[base[i]] for i in (0, _SIDE, -1))
    turns = []
    for part in (base[: _SIDE + 1], base[_SIDE:]):
        run = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points[list(part)], axis=0)[:, [0, 2]].T))])
        turns.append(run / run[-1] * math.pi / 2.0)
    whole, wide = share * (front[2] - nape[2]), share * neck[0]
    behind, before = at * whole, (1.0 - at) * whole
    corner = np.array([wide, nape[1] + side, nape[2] + behind])
    s, c = np.sin(turns[0])[:, None], np.cos(turns[0])[:, None]
    back = corner + s * [wide, 0.0, 0.0] - [wide, 0.0, 0.0] + c * [0.0, -side, -behind]
    s, c = np.sin(turns[1])[1:, None], np.cos(turns[1])[1:, None]
    fore = corner + c * [wide, 0.0, 0.0] - [wide, 0.0, 0.0] + s * [0.0, pit - side, before]
    half = np.concatenate([back, fore])
    return half, float(np.sqrt((np.diff(half, axis=0) ** 2).sum(axis=1)).sum())


def _lay_tip(points: Floats, neck: Floats, body: Body, sign: float) -> Floats:
    """Where the shoulder point of a side lies: its shoulder's length from the side neck point, at its slope."""
    slope, length = body[f"shoulder_slope_{'left' if sign > 0.0 else 'right'}"], body["shoulder_length"]
    z = float(points[SHOULDER_POINT, 2])
    ahead = z - float(neck[2]) - (1.0 - TIP_FOLLOWS) * USUAL_AHEAD
    aside = math.sqrt(max((length * math.cos(slope)) ** 2 - ahead**2, 0.0))
    return np.array([sign * (neck[0] + aside), neck[1] - length * math.sin(slope), z])


def _fill_shoulders(points: Floats, part: Whole, marks: Whole, moved: Floats) -> tuple[Whole, Floats]:
    """The highest vertices between side neck and shoulder points, and how they move: they are left half as hollow."""
    own = np.nonzero(np.isin(part, TRUNK_PARTS))[0]
    found, moves = [], []
    for neck, tip in ((_SIDE, -2), (len(NECK_BASE) - 1 + _SIDE, -1)):
        a, b = points[marks[neck]], points[marks[tip]]
        for share in _ALONG_SHOULDER:
            there = a + share * (b - a)
            near = own[np.hypot(*(points[own] - there)[:, [0, 2]].T) < _NEAR_RIDGE]
            top = near[points[near, 1].argmax()]
            share = float((points[top, 0] - a[0]) / (b[0] - a[0]))
            lift = (a[1] + share * (b[1] - a[1]) - points[top, 1]) / 2.0
            found.append(top)
            moves.append(moved[neck] + share * (moved[tip] - moved[neck]) + [0.0, max(lift, 0.0), 0.0, 0.0, 0.0, 0.0])
    return np.array(found), np.array(moves)


def _find_ring(points: Floats, part: Whole) -> Whole:
    """The vertices round the neck where it is taped."""
    at, square = cut_neck(points)
    out: Whole = np.nonzero((part == NECK) & (np.abs(((points - at) * square).sum(axis=1)) < _RING))[0]
    return out


def _shape_ring(ring: Floats, wide: float, girth: float) -> Floats:
    """How the vertices where the neck is taped move, so that it is as wide as at its base and has its girth (mm)."""
    middle = (ring.min(axis=0) + ring.max(axis=0)) / 2.0
    off = ring - middle
    narrower = min(wide / float(off[:, 0].max()), 1.0)
    deeper = [_NARROWEST, 1.0 / _NARROWEST]
    for _ in range(_HALVINGS):
        scale = np.array([narrower, 1.0, sum(deeper) / 2.0])
        deeper[measure_aslant(off * scale) > girth] = scale[2]
    out: Floats = off * (scale - 1.0)
    return out


def _find_still(points: Floats, part: Whole, body: Body) -> Whole:
    """The vertices of the trunk that stay where they are."""
    high = float(points[NAPE, 1]) + body["armpit_height"] - body["back_neck_point_height"] - _STILL
    high, low = max(high, float(points[BUST_POINT, 1]) + _BUST_STILL), float(points[SEAT, 1])
    own = np.isin(part, TRUNK_PARTS) & ~np.isin(part, SHOULDER_PARTS)
    found: Whole = np.nonzero(own & (points[:, 1] < high) & (points[:, 1] > low))[0]
    return found


def _find_outer(points: Floats, part: Whole, sign: float) -> Whole:
    """The vertices at the top of a side's arm, beyond the shoulder point."""
    tip = points[SHOULDER_POINT]
    near = (np.abs(points[:, 1] - tip[1]) < 2.0 * _APART) & (sign * points[:, 0] > tip[0] * (1.0 + _ARM_WHOLE / 2.0))
    out: Whole = np.nonzero(near & np.isin(part, (*LEFT_ARM_PARTS, *RIGHT_ARM_PARTS)))[0]
    return out


def _thin(points: Floats, own: Whole) -> Whole:
    """One vertex of each cube's width of space."""
    _, first = np.unique(np.floor(points[own] / _APART).astype(np.int64), axis=0, return_index=True)
    out: Whole = own[first]
    return out


def _spread(points: Floats, held: Whole, moved: Floats) -> Floats:
    """Carry what is moved at the vertices held over to all, as smoothly as may be; rounded, for other processors."""
    from scipy.interpolate import RBFInterpolator

    own, first = np.unique(held, return_index=True)
    find = RBFInterpolator(points[own] / METRE, moved[first], kernel="linear", degree=1)
    out: Floats = np.round(find(points / METRE), 4)
    return out


def ease_between(share: Floats) -> Floats:
    """From 0 to 1 without a corner."""
    held = np.clip(share, 0.0, 1.0)
    return held * held * (3.0 - 2.0 * held)
