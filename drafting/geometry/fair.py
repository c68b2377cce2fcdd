"""How fair a line is: its curvature, kinks, changes of side and bumps."""

from __future__ import annotations

from itertools import groupby, pairwise

import numpy as np

from drafting.geometry.measure import Array, bend
from drafting.geometry.path import Path
from drafting.tolerance import TOLERANCE

STRAIGHT = 1.0 / 5000.0
"""1/mm; a bend this slight (0.25 mm in 100 mm) is taken as straight."""

BUMP = 1.0 / 3000.0
"""1/mm; a bump that stands out by this little (0.1 mm in 50 mm) is taken as none."""

SEEN = 0.25
"""mm; a stretch that bows off its chord by less is seen as straight: a pencil's line is wider."""


def curvature_profile(path: Path, n: int = 200) -> tuple[Array, Array]:
    """Return (s, curvature) at ``n`` equal steps along the path; curvature in 1/mm, left positive."""
    s = np.linspace(0.0, path.length, n)
    k, t = path.table.locate_all(s)
    vx, vy = ((3.0 * k[:, j] * t + 2.0 * k[:, j + 2]) * t + k[:, j + 4] for j in (0, 1))
    ax, ay = (6.0 * k[:, j] * t + 2.0 * k[:, j + 2] for j in (0, 1))
    square = vx * vx + vy * vy
    cube = square * np.sqrt(square)
    slow = cube <= TOLERANCE.same_point
    curve = (vx * ay - vy * ax) / np.where(slow, 1.0, cube)
    for i in np.flatnonzero(slow):
        ki = k[i].tolist()
        curve[i] = bend((ki[0], ki[1], ki[2], ki[3], ki[4], ki[5], ki[6], ki[7]), float(t[i]))
    return s, curve


def kinks(path: Path, within: float = TOLERANCE.tangent) -> tuple[tuple[float, float], ...]:
    """Return (s, turn in radians) of the joints inside the path that turn by more than ``within``."""
    return tuple((s, angle) for s, angle in path.corners() if abs(angle) > within)


def bends_back(path: Path, threshold: float = STRAIGHT) -> int:
    """Return how often the path changes the side it bends to, bends below ``threshold`` (1/mm) left aside."""
    return count_side_changes(curvature_profile(path)[1], threshold)


def count_seen_turns(path: Path, seen: float = SEEN) -> int:
    """Return how often the path changes the side it bends to, what bows off its chord by less than ``seen`` left aside.

    A stretch that bends one way bows by about an eighth of its length times its turn (derived: as an arc does).
    """
    s, curve = curvature_profile(path)
    step = float(s[1])
    stretches = [np.array(list(run)) for _, run in groupby(curve.tolist(), key=lambda k: k > 0.0)]
    felt = [bool(run[0] > 0.0) for run in stretches if abs(run.sum()) * step * len(run) * step / 8.0 >= seen]
    return sum(one is not two for one, two in pairwise(felt))


def bumps(path: Path, threshold: float = BUMP) -> int:
    """Return how often the size of the curvature peaks inside the path by more than ``threshold`` (1/mm)."""
    return peaks(curvature_profile(path)[1], threshold)


def count_side_changes(curvature: Array, threshold: float = STRAIGHT) -> int:
    """Return how often curvature, in order along a line, changes its sign; what is below ``threshold`` left aside."""
    signs = np.sign(curvature[np.abs(curvature) > threshold])
    return int((signs[1:] != signs[:-1]).sum())


def peaks(curvature: Array, threshold: float = BUMP) -> int:
    """Return how often the size of curvature, in order along a line, peaks inside it by more than ``threshold``."""
    size = np.abs(curvature).tolist()
    count, rising = 0, False
    low = high = size[0]
    for value in size:
        if rising:
            high = max(high, value)
            if value < high - threshold:
                count, rising, low = count + 1, False, value
        else:
            low = min(low, value)
            if value > low + threshold:
                rising, high = True, value
    return count
