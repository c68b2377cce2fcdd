"""A skirt as it hangs from the waist that it is sewn to: fanned, gathered or straight."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence

import numpy as np

from drafting.flat.closing import Shut, close_gaps
from drafting.flat.shapes import Points, join_points, sample_run
from drafting.garment import Face, Garment, Role, Run, Use
from drafting.trade import TradeValue, trade_row

FANS_FROM = TradeValue(12.0, "mm", "from memory")
"""By which the waist of a skirt bends more than the edge it is sewn to, from which it is drawn as one that fans out."""
HANGS_AT = TradeValue(math.radians(22.0), "rad", "from memory")
"""The angle to either side at which a skirt that fans out hangs, at most."""

WORN_DIP = TradeValue(12.0, "mm", "from memory")
"""By which a waist is drawn lower at its centre than at its sides, at most."""

_SHARES = 25
WIDENS_OVER, LEVELS_OVER = trade_row((400.0, 150.0), "mm", "derived", "by drawing")
"""Below the waist over which a skirt widens to its own width, and its rows lie level again."""

Hung = Callable[[Points], Points]
"""What takes points of a piece, its darts sewn shut, to where they hang."""


def list_skirt(garment: Garment, face: Face) -> frozenset[str]:
    """Return the names of the pieces of a face that hang from a waist: of all, where there is no bodice above."""
    pieces = [piece for piece in garment.pieces if piece.face is face]
    if not any(line.role is Role.NECKLINE for piece in pieces for line in piece.ring):
        return frozenset(piece.name for piece in pieces)
    return frozenset(_list_skirt(garment, face, (pair[1] for pair in _waist_edges(garment, face))))


def hang_skirts(garment: Garment, face: Face, above: Sequence[Shut], below: Sequence[Shut]) -> Mapping[str, Hung]:
    """Return, of each piece sewn on at the waist, how it hangs below the edge that it is sewn to.

    ``above`` and ``below`` are what is sewn shut above the waist and below.
    """
    skirt = sorted(list_skirt(garment, face))
    pairs = tuple(_waist_edges(garment, face))
    if pairs:
        upper, lower = (
            _course(close_gaps(sample_run(garment, pair[i], _SHARES), shut) for pair in pairs)
            for i, shut in ((0, above), (1, below))
        )
    else:
        waists = [(Use(name, line.name),) for name in skirt for line in garment.piece(name).lines(role=Role.WAIST)]
        if not waists:
            return {}
        lower = _course(close_gaps(sample_run(garment, run, _SHARES), below) for run in waists)
        upper = _level_waist(lower)
    bends = float(np.ptp(lower[:, 1]) - np.ptp(upper[:, 1]))
    return dict.fromkeys(skirt, _fan(upper, lower) if bends > FANS_FROM else _draw_in(upper, lower))


def _level_waist(cut: Points) -> Points:
    """A waist without a bodice as it is worn: as long as it is cut, and nearly level."""
    run = _shares(cut)
    long = float(np.hypot(*np.diff(cut, axis=0).T).sum())
    high = float(cut[:, 1].max())
    dip = np.minimum(np.ptp(cut[:, 1]), WORN_DIP)
    return np.stack([(run - 1.0 / 2.0) * long, high - dip * (1.0 - (2.0 * run - 1.0) ** 2)], axis=1)


def _waist_edges(garment: Garment, face: Face) -> Iterable[tuple[Run, Run]]:
    """The edges of each waist seam on a face, the upper piece's first."""
    for seam in garment.seams:
        for section in seam.sections:
            runs = [run for run in section.plies if run]
            if len(runs) == 2 and all(_is_waist(garment, run, face) for run in runs):
                low = [min(line.path.bounds[1] for line in garment.piece(run[0].piece).ring) for run in runs]
                yield (runs[0], runs[1]) if low[0] > low[1] else (runs[1], runs[0])


def _is_waist(garment: Garment, run: Run, face: Face) -> bool:
    return garment.piece(run[0].piece).face is face and garment.line(run[0]).role is Role.WAIST


def _list_skirt(garment: Garment, face: Face, runs: Iterable[Run]) -> Iterable[str]:
    """The pieces of a skirt on a face: those sewn on at the waist, and what is sewn to them there."""
    found = list(dict.fromkeys(run[0].piece for run in runs))
    for name in found:
        for seam in garment.seams:
            for section in seam.sections:
                pieces = [garment.piece(run[0].piece) for run in section.plies if run]
                if any(p.name == name for p in pieces) and not any(
                    _is_waist(garment, r, face) for r in section.plies if r
                ):
                    found += [p.name for p in pieces if p.face is face and p.name not in found]
    return found


def _course(parts: Iterable[Points]) -> Points:
    points = join_points(tuple(parts))
    return points[np.argsort(points[:, 0], kind="stable")]


def _shares(course: Points) -> Points:
    steps = np.hypot(*np.diff(course, axis=0).T)
    run = np.concatenate([[0.0], np.cumsum(steps)])
    return run / max(float(run[-1]), 1.0)


def _fan(upper: Points, lower: Points) -> Hung:
    """A sector of a ring: each ray hangs from its share of the waist, all at less of an angle than they are cut."""
    left, right = lower[0], lower[-1]
    low = lower[np.argmin(lower[:, 1])]
    half, rise = float(right[0] - left[0]) / 2.0, float((left[1] + right[1]) / 2.0 - low[1])
    radius = (half * half + rise * rise) / (2.0 * rise)
    centre = np.array([(left[0] + right[0]) / 2.0, low[1] + radius])
    whole = math.asin(min(1.0, half / radius)) if rise < radius else math.pi - math.asin(min(1.0, half / radius))
    hangs = min(whole, HANGS_AT) / whole
    shares = _shares(upper)

    def hang(points: Points) -> Points:
        off = points - centre
        angle = np.arctan2(off[:, 0], -off[:, 1])
        share = (np.clip(angle / whole, -1.0, 1.0) + 1.0) / 2.0
        base = np.stack([np.interp(share, shares, upper[:, i]) for i in (0, 1)], axis=1)
        down = (np.hypot(*off.T) - radius)[:, None]
        turned = (angle * hangs)[:, None]
        return np.asarray(base + down * np.concatenate([np.sin(turned), -np.cos(turned)], axis=1), dtype=np.float64)

    return hang


def _draw_in(upper: Points, lower: Points) -> Hung:
    """What is wider than its waist is drawn in to it there, and less and less below; its edge lies on the waist."""
    ends = upper[[0, -1], 0], lower[[0, -1], 0]
    ratio = float(np.ptp(ends[0]) / max(np.ptp(ends[1]), 1.0))
    middles = [float(each.mean()) for each in ends]
    top = float(lower[:, 1].mean())
    rise = np.interp(middles[0] + (lower[:, 0] - middles[1]) * ratio, upper[:, 0], upper[:, 1]) - lower[:, 1]
    mean = float(rise.mean())

    def hang(points: Points) -> Points:
        below = np.maximum(top - points[:, 1], 0.0)
        drawn = np.clip(1.0 - below / WIDENS_OVER, 0.0, 1.0)
        across = middles[0] + (points[:, 0] - middles[1]) * (1.0 + (ratio - 1.0) * drawn)
        up = mean + (np.interp(points[:, 0], lower[:, 0], rise) - mean) * np.clip(1.0 - below / LEVELS_OVER, 0.0, 1.0)
        return np.stack([across, points[:, 1] + up], axis=1)

    return hang
