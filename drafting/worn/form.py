"""What a garment is shown on: a dress form of the body's shape, without head and hands, on a stand.

It is the fitted body above the waist, cut off at the neck and below the sleeves; below the waist it is what a tape
that spans hollows would feel, down to a little below the hem.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Final

import numpy as np

from drafting.record import dataclass
from drafting.worn.dressing import Worn
from drafting.worn.landmarks import (
    LEFT_ARM_PARTS,
    LEFT_HAND_PARTS,
    RIGHT_ARM_PARTS,
    RIGHT_HAND_PARTS,
    SEAT,
    cut_edges,
    find_edges,
    hull_corners,
)
from drafting.worn.pose import HangingArm
from drafting.worn.shape import Floats, Whole
from drafting.worn.stump import measure_radii, stand_neck
from drafting.worn.yielding import press_form

_ARM_SHOWN: Final = 50.0
"""mm of arm that are shown below a sleeve."""
_STUMP: Final = 130.0
"""mm of arm that are shown below its joint at least."""
_ROUND_CORE: Final = 130.0
"""mm round the middle of an arm within which cloth is taken to be round that arm."""
_BELOW_HEM: Final = 70.0
"""mm of the form that are shown below the hem."""
_RING: Final = 15.0
"""mm from one ring of the form's lower part to the next."""
_CORNERS: Final = 72
"""Points of each ring."""
_POLE: Final = 14.0
"""mm from the middle of the stand's pole to its outside."""
POLE_SHOWN: Final = 60.0
"""mm of the pole that are shown below the form."""


@dataclass(frozen=True, slots=True, eq=False)
class Form:
    """The dress form: points (mm) and triangles, and the height of its lower end."""

    points: Floats
    faces: Whole
    bottom: float


def make_form(worn: Worn) -> Form:
    """Return the form that a drape is shown on."""
    posed, points = worn.posed, press_form(worn)
    left, right = (*LEFT_ARM_PARTS, *LEFT_HAND_PARTS), (*RIGHT_ARM_PARTS, *RIGHT_HAND_PARTS)
    on_arm = [np.isin(posed.part, parts)[posed.faces].any(axis=1) for parts in (left, right)]
    trunk = posed.faces[~(on_arm[0] | on_arm[1])]
    top = stand_neck(points, trunk, posed.part)
    waist = np.array([0.0, posed.waist, 0.0])
    parts = [clip_mesh(*top, waist - _RING * np.array([0.0, 1.0, 0.0]), np.array([0.0, -1.0, 0.0]))]
    for faces, arm in zip((posed.faces[on_arm[0]], posed.faces[on_arm[1]]), (posed.left, posed.right), strict=True):
        parts.append(clip_mesh(points, faces, *_find_arm_end(arm, worn.points)))
    bottom = max(float(worn.points[:, 1].min()) - _BELOW_HEM, 2.0 * _RING)
    edges = find_edges(trunk)
    levels = np.linspace(posed.waist, bottom, max(2, round((posed.waist - bottom) / _RING)))
    rings = np.stack([_lay_ring(cut_edges(posed.points, edges, np.array([0.0, y, 0.0]), _UP), y) for y in levels])
    rings = _taper_rings(rings, float(posed.points[SEAT, 1]))
    parts += [_join_rings(rings), _stand_pole(rings[-1].mean(axis=0))]
    starts = np.cumsum([0, *(len(points) for points, _ in parts)])
    faces = np.concatenate([own + start for (_, own), start in zip(parts, starts, strict=False)])
    return Form(np.concatenate([points for points, _ in parts]), faces, bottom)


_UP: Final = np.array([0.0, 1.0, 0.0])


def clip_mesh(points: Floats, faces: Whole, at: Floats, normal: Floats) -> tuple[Floats, Whole]:
    """Return what of a mesh lies behind a plane (through ``at``, with a normal), closed where it is cut."""
    high = ((points - at) * normal).sum(axis=1)
    count = (high > 0.0)[faces].sum(axis=1)
    new, made = [points], [faces[count == 0]]
    cut = faces[(count == 1) | (count == 2)]
    if not len(cut):
        return points, made[0]
    lone = np.where((high > 0.0)[cut].sum(axis=1, keepdims=True) == 1, high[cut], -high[cut]).argmax(axis=1)
    a, b, c = (cut[np.arange(len(cut)), (lone + k) % 3] for k in range(3))
    p, q = (points[a] + (high[a] / (high[a] - high[o]))[:, None] * (points[o] - points[a]) for o in (b, c))
    n = len(cut)
    at_p, at_q = len(points) + np.arange(n), len(points) + n + np.arange(n)
    out = high[a] > 0.0  # the lone corner is cut off, else it is what is kept
    made += [np.stack(t, axis=1)[keep] for t, keep in (
        ((at_p, b, c), out), ((at_p, c, at_q), out), ((a, at_p, at_q), ~out))]  # fmt: skip
    rim = np.concatenate([p, q])
    cap = len(points) + 2 * n + np.arange(2 * n)
    one, two = np.where(out, cap[:n], cap[n:]), np.where(out, cap[n:], cap[:n])
    made.append(np.stack([one, two, np.full(n, len(points) + 4 * n)], axis=1))
    new += [rim, rim, rim.mean(axis=0)[None, :]]
    return np.concatenate(new), np.concatenate(made)


def _find_arm_end(arm: HangingArm, cloth: Floats) -> tuple[Floats, Floats]:
    """The place and direction in which an arm is cut off: a little below the cloth that is round it."""
    core = arm.core[1:]
    run = np.concatenate([[0.0], np.cumsum(np.sqrt((np.diff(core, axis=0) ** 2).sum(axis=1)))])
    off = np.sqrt(((cloth[:, None, :] - core[None, :, :]) ** 2).sum(axis=2))
    near = off.argmin(axis=1)
    mine = (off[np.arange(len(cloth)), near] < _ROUND_CORE) & (np.abs(cloth[:, 0]) > np.abs(core[0, 0]))
    reached = float(run[near[mine]].max()) if mine.any() else 0.0
    held = min(max(reached + _ARM_SHOWN, _STUMP), float(run[-1]) - _RING)
    place = np.array([np.interp(held, run, core[:, k]) for k in range(3)])
    ahead = np.array([np.interp(min(held + _RING, run[-1]), run, core[:, k]) for k in range(3)]) - place
    return place, ahead / math.sqrt(float((ahead**2).sum()))


def _lay_ring(cut: Floats, level: float) -> Floats:
    """Points round the hull of a level, at even angles about its middle."""
    flat = hull_corners(cut[:, [0, 2]])
    middle = (flat.min(axis=0) + flat.max(axis=0)) / 2.0
    asked = np.linspace(-math.pi, math.pi, _CORNERS, endpoint=False)
    radius = measure_radii(flat, asked)
    x, z = middle[0] + radius * np.cos(asked), middle[1] + radius * np.sin(asked)
    return np.stack([x, np.full(_CORNERS, level), z], axis=1)


def _taper_rings(rings: Floats, seat: float) -> Floats:
    """Rings that are no wider than those above them, below the seat: legs that stand apart aren't shown."""
    out = rings.copy()
    for above, ring in pairwise(out):
        if ring[0, 1] < seat:
            middle, own = (each.mean(axis=0) for each in (above, ring))
            far = np.hypot(*(ring - own)[:, [0, 2]].T)
            most = np.hypot(*(above - middle)[:, [0, 2]].T)
            ring[:, [0, 2]] = (own + np.minimum(most / far, 1.0)[:, None] * (ring - own))[:, [0, 2]]
    return out


def _join_rings(rings: Floats) -> tuple[Floats, Whole]:
    """The mesh between rings of equally many points, from above down, closed below."""
    count, corners, _ = rings.shape
    at = np.arange(count * corners).reshape(count, corners)
    a, b = at[:-1], at[1:]
    following, below = np.roll(a, -1, axis=1), np.roll(b, -1, axis=1)
    sides = [np.stack([a, following, b], axis=-1), np.stack([following, below, b], axis=-1)]
    rim = count * corners + np.arange(corners)
    middle = np.full(corners, count * corners + corners)
    end = np.stack([rim, np.roll(rim, -1), middle], axis=1)
    points = np.concatenate([rings.reshape(-1, 3), rings[-1], rings[-1].mean(axis=0)[None, :]])
    return points, np.concatenate([*(side.reshape(-1, 3) for side in sides), end])


def _stand_pole(top: Floats) -> tuple[Floats, Whole]:
    """The pole beneath the form's lower end."""
    angle = np.linspace(-math.pi, math.pi, _CORNERS // 3, endpoint=False)
    ring = _POLE * np.stack([np.cos(angle), np.zeros_like(angle), np.sin(angle)], axis=1) + top
    return _join_rings(np.stack([ring, ring - np.array([0.0, POLE_SHOWN, 0.0])]))
