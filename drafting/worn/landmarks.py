"""Where the tape lies on the mesh: its landmarks, and girths taken level round the trunk as a tape spans hollows."""

from __future__ import annotations

from typing import Final

import numpy as np

from drafting.record import dataclass
from drafting.worn.shape import Floats, Whole

NAPE, PIT, CROWN, CROTCH = 857, 1524, 881, 4358
"""Vertices found by looking: the bone at the back of the neck, the hollow in front, the top of the head, the crotch."""
SHOULDER_POINT, BUST_POINT, SEAT = 8259, 8455, 10823
"""Those of the left side: the shoulder's bone, bust point, the seat's fullest."""
SHOULDER_POINT_RIGHT: Final = 1603
"""The shoulder's bone of the right side."""
NECK_BASE: Final = (
    857, 7708, 7716, 7546, 7540, 7535, 7529, 7523, 7517, 7463, 7462, 7477, 7476, 7482, 7617, 10324, 7511, 7508, 7495,
    8178, 8189, 1524,
)  # fmt: skip
"""The vertices along the base of the neck, from the nape round its left side to the hollow in front."""
NECK_BASE_RIGHT: Final = (
    857, 1032, 1040, 851, 845, 840, 834, 828, 822, 760, 759, 774, 773, 779, 931, 3672, 816, 812, 796, 1510, 1521, 1524,
)  # fmt: skip
"""Those round its right side."""
SIDE_NECK, SIDE_NECK_RIGHT = 7517, 822
"""Those among them where the shoulders meet the neck."""
SPINE: Final = (
    857, 858, 1496, 1491, 1467, 1539, 1550, 1595, 1596, 1597, 3764, 3827, 1598, 1599, 1600, 3916, 3930, 3944, 3958,
    3972, 3986, 4000, 4014, 4029, 4044, 4165, 4172, 4179,
)  # fmt: skip
"""The vertices down the middle of the back, from the nape."""

TRUNK_PARTS: Final = (1, 2, 3, 4, 21, 22, 23, 24, 41, 42, 43, 44, 45, 46, 47, 48, 72, 73, 74, 98)
"""Thighs, trunk, bust, shoulders, neck."""
SHOULDER_PARTS: Final = (48, 74)
"""What of these goes over into the arms: a tape round the chest passes beneath."""
LEFT_ARM_PARTS: Final = (49, 50)
LEFT_HAND_PARTS: Final = tuple(range(51, 72))
RIGHT_ARM_PARTS: Final = (75, 76)
RIGHT_HAND_PARTS: Final = tuple(range(77, 98))
NECK: Final = 98
"""The part that is the neck."""
HEAD: Final = 99
"""From this part on it is the head."""

_NECK_TAPED: Final = 35.0
"""mm above the nape lies, behind, where the neck is taped, by looking: in front that is half way to the jaw."""
_NECK_LEANS: Final = 0.35
"""rad by which the neck leans to the front, by looking."""


@dataclass(frozen=True, slots=True, eq=False)
class Tape:
    """The edges of a mesh that a level tape may cross, and those of its left upper arm."""

    trunk: Whole
    arm: Whole


def make_tape(faces: Whole, part: Whole) -> Tape:
    """Return the edges of the trunk without arms and head, and those of the left upper arm."""
    on_trunk = np.isin(part, TRUNK_PARTS) & ~np.isin(part, SHOULDER_PARTS)
    on_arm = np.isin(part, (48, *LEFT_ARM_PARTS))
    return Tape(find_edges(faces[on_trunk[faces].all(axis=1)]), find_edges(faces[on_arm[faces].all(axis=1)]))


def find_edges(faces: Whole) -> Whole:
    """Return each edge of triangles once."""
    pairs = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    pairs.sort(axis=1)
    return np.unique(pairs, axis=0)


def cut_edges(points: Floats, edges: Whole, at: Floats, normal: Floats) -> Floats:
    """Return the points, shape (n, 3), in which edges cross the plane through a point with a normal."""
    return _cut_at(points, edges, ((points - at) * normal).sum(axis=1))


def _cut_at(points: Floats, edges: Whole, height: Floats) -> Floats:
    """The points in which edges cross a plane, each point's height above which is given."""
    above = (height > 0.0)[edges]
    a, b = edges[above[:, 0] != above[:, 1]].T
    share = height[a] / (height[a] - height[b])
    out: Floats = points[a] + share[:, None] * (points[b] - points[a])
    return out


def take_girth(points: Floats, edges: Whole, level: float) -> float:
    """Return the length (mm) of a tape drawn level round the edges at a height: it spans what is hollow."""
    return measure_hull(_cut_at(points, edges, points[:, 1] - level)[:, [0, 2]])


def measure_hull(flat: Floats) -> float:
    """Return the length round the convex hull of points in a plane; 0 for fewer than three."""
    if len(flat) < 3:
        return 0.0
    corners = hull_corners(flat)
    return float(np.hypot(*(corners - np.roll(corners, 1, axis=0)).T).sum())


def hull_corners(flat: Floats) -> Floats:
    """Return the corners of the convex hull of points in a plane, in order round it."""
    from scipy.spatial import ConvexHull

    out: Floats = flat[ConvexHull(flat).vertices]
    return out


def cut_neck(points: Floats) -> tuple[Floats, Floats]:
    """Return a place of the level at which the neck is taped, and the direction square to it: it falls to the front."""
    square = np.array([0.0, np.cos(_NECK_LEANS), np.sin(_NECK_LEANS)])
    return points[NAPE] + np.array([0.0, _NECK_TAPED, 0.0]), square


def measure_neck(points: Floats, edges: Whole) -> float:
    """Return the girth (mm) of the neck square to it, of the edges of the trunk without arms and head."""
    at, square = cut_neck(points)
    return measure_aslant(cut_edges(points, edges, at, square))


def measure_aslant(cut: Floats) -> float:
    """Return the length (mm) round the hull of points of that level."""
    return measure_hull(np.stack([cut[:, 0], cut[:, 2] / np.cos(_NECK_LEANS)], axis=1))


def find_waist(points: Floats, back_length: float) -> float:
    """Return the height of the level that lies a taped length (mm) below the nape, down the back."""
    spine = points[list(SPINE)]
    run = np.concatenate([[0.0], np.cumsum(np.sqrt((np.diff(spine, axis=0) ** 2).sum(axis=1)))])
    return float(np.interp(back_length, run, spine[:, 1]))


def take_arm_girth(points: Floats, tape: Tape, shoulder: Floats, elbow: Floats, share: float) -> float:
    """Return the girth of the left upper arm, square to it, a share of the way from the shoulder to the elbow."""
    along = (elbow - shoulder) / np.sqrt(((elbow - shoulder) ** 2).sum())
    cut = cut_edges(points, tape.arm, shoulder + share * (elbow - shoulder), along)
    across = np.array([along[1], -along[0], 0.0]) / np.hypot(along[0], along[1])
    other = np.cross(along, across)
    return measure_hull(np.stack([(cut * across).sum(axis=1), (cut * other).sum(axis=1)], axis=1))
