"""Darts, panel seams and gathers sewn shut, in the plane: what lies beyond one moves up to it.

Cloth that is sewn along darts doesn't lie flat, so a flat is true only in the main: widths are at every height what the
pieces measure there, darts taken out; heights are those of the piece nearest to the centre. One after another is shut,
from the centre outwards and from below up, each as it lies once those before it are.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from drafting.flat.drawing_up import Pull, find_pulls
from drafting.flat.shapes import Points, sample_run
from drafting.garment import Garment, Role, Run, Seam, Section, Use, hanging_pieces
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

TURNS_WITH = TradeValue(0.8, "share", "from memory")
"""Of the turn that shuts a dart at the side that the side above it is drawn with: the rest lies in the bust's round."""
ROUNDED = TradeValue(24.0, "mm", "from memory")
"""To either side of a shut dart's mouth that the corner there is drawn round."""
_OUTER = {Role.SIDE, Role.ARMHOLE}
_SHARES = 41
"""Points along a leg at which the gap is taken."""
WAY_EXACT, WAY_SOFT = trade_row((15.0, 70.0), "mm", "derived", "by drawing")
"""Beyond a dart up to where its way is taken as it is, and from where it is taken evened out."""
WAY_EVENED = TradeValue(8.0, "mm", "derived", "by drawing")
"""Above and below over which a way is evened out."""
LEVEL_LEG, STEEP_LEG = trade_row((0.5, 0.9), "times", "derived", "by drawing")
"""Of rise to width of a dart's leg, up to which what lies above turns with it, and from which it moves in by what the
leg does at its height: one from low in the side would swing the whole side."""
SIDEWAYS_OVER = TradeValue(140.0, "mm", "derived", "by drawing")
"""Above a dart over which what its leg moves sideways dies away."""
TURNED_UP_TO = TradeValue(170.0, "mm", "derived", "by drawing")
"""Above a dart up to which what lies there turns with it."""
ROUNDED_INWARDS = TradeValue(60.0, "mm", "derived", "by drawing")
"""From a mouth over which a rounded corner dies away."""


@dataclass(frozen=True, slots=True, eq=False)
class Gap:
    """What is sewn shut: the edge of a piece that moves, and each point's way to the edge that stays.

    ``upright``: the edge runs up the body and what lies beyond it, seen from the centre, moves sideways; else it runs
    across, and what lies above it moves down, less and less towards ``top``. ``stays`` is the piece that stays as it
    is, where another is sewn to it.
    """

    moving: Points
    way: Points
    upright: bool
    sign: float
    stays: str = ""
    top: float = 0.0

    def move(self, points: Points) -> Points:
        """Return by how much each point moves, so that the gap closes."""
        axis = 1 if self.upright else 0
        order = np.argsort(self.moving[:, axis], kind="stable")
        along, across, way = self.moving[order, axis], self.moving[order, 1 - axis], self.way[order]
        at = points[:, axis]
        beyond = points[:, 1 - axis] - np.interp(at, along, across + way[:, 1 - axis] / 2.0)
        beyond *= self.sign if self.upright else 1.0
        if not (beyond > 0.0).any():
            return np.zeros_like(points)
        by = np.stack([np.interp(at, along, way[:, i]) for i in (0, 1)], axis=1)
        if self.upright:
            by = self._even(by, along, way, at, beyond)
        else:
            by = self._turn(by, points, points[:, 1] - np.interp(at, along, across))
        return np.where(beyond[:, None] > 0.0, by, 0.0)

    def _even(self, by: Points, along: Points, way: Points, at: Points, beyond: Points) -> Points:
        """Far from a dart its way is taken evened out, so that its points leave no corner in the side."""
        steps = np.array([-WAY_EVENED, 0.0, WAY_EVENED])
        soft = [np.interp(at[:, None] + steps, along, way[:, i]).mean(axis=1) for i in (0, 1)]
        share = np.clip((beyond - WAY_EXACT) / (WAY_SOFT - WAY_EXACT), 0.0, 1.0)[:, None]
        return by + (np.stack(soft, axis=1) - by) * share

    def _turn(self, by: Points, points: Points, above: Points) -> Points:
        """What lies above a dart at the side moves down less and less, and turns outwards with its leg."""
        low = float(self.moving[:, 1].max())
        fade = np.clip((self.top - points[:, 1]) / max(self.top - low, 1.0), 0.0, 1.0)
        risen = np.clip(above / SIDEWAYS_OVER, 0.0, 1.0)
        sideways = 1.0 - risen * risen * (3.0 - 2.0 * risen)
        by = by * np.stack([fade * sideways, fade], axis=1)
        up = np.argsort(self.moving[:, 1], kind="stable")
        level = np.interp(points[:, 1], self.moving[up, 1], self.way[up, 0])
        reach = self.moving[:, 0] * self.sign
        wide, drop = max(float(np.ptp(reach)), 1.0), float(np.abs(self.way[:, 1]).max())
        ramp = np.clip((points[:, 0] * self.sign - reach.min()) / wide, 0.0, 1.0)
        height = np.clip(above, 0.0, TURNED_UP_TO)
        by[:, 0] += (
            self.sign * TURNS_WITH * drop / max(wide, drop) * height * ramp * (1.0 - (height / TURNED_UP_TO) ** 2) ** 2
        )
        steep = np.clip((float(np.ptp(self.moving[:, 1])) / wide - LEVEL_LEG) / (STEEP_LEG - LEVEL_LEG), 0.0, 1.0)
        by[:, 0] += (level - by[:, 0]) * steep
        return by


@dataclass(frozen=True, slots=True, eq=False)
class Rounding:
    """The corner that a shut dart leaves in the side, drawn round: ``cut`` mm of it at the ``mouth``."""

    mouth: Points
    cut: float
    sign: float

    def move(self, points: Points) -> Points:
        """Return by how much each point moves inwards."""
        height = np.clip(1.0 - np.abs(points[:, 1] - self.mouth[1]) / ROUNDED, 0.0, 1.0) ** 2
        near = np.clip(1.0 - (self.mouth[0] - points[:, 0]) * self.sign / ROUNDED_INWARDS, 0.0, 1.0)
        return np.stack([-self.sign * self.cut * height * near, np.zeros(len(points))], axis=1)


@dataclass(frozen=True, slots=True, eq=False)
class Centred:
    """A shaped centre: each half, at -x and at +x, moves to the middle by what its centre line stands off."""

    courses: tuple[Points, Points]

    def move(self, points: Points) -> Points:
        """Return by how much each point moves to the middle."""
        off = np.zeros_like(points)
        for sign, course in zip((-1.0, 1.0), self.courses, strict=True):
            own = points[:, 0] * sign > 0.0
            off[own, 0] = np.interp(points[own, 1], course[:, 1], course[:, 0])
        return -off


Shut = Gap | Rounding | Pull | Centred


@dataclass(frozen=True, slots=True, eq=False)
class _Open:
    """Two edges that are sewn together, as they lie open; ``outer``: those of a dart from the side or the armhole."""

    one: Points
    two: Points
    outer: bool
    pieces: tuple[str, str]

    @property
    def sides(self) -> tuple[Points, Points]:
        return self.one, self.two

    @property
    def upright(self) -> bool:
        middle = (self.one + self.two) / 2.0
        wide, high = np.abs(middle - middle[0]).max(axis=0)
        return bool(high >= wide) and not self.outer

    @property
    def turn(self) -> tuple[bool, float]:
        """From the centre outwards the upright ones, then from below up those across."""
        middle = (self.one + self.two) / 2.0
        return not self.upright, abs(float(middle[:, 0].mean())) if self.upright else float(middle[:, 1].mean())


def find_gaps(garment: Garment, names: frozenset[str]) -> tuple[Shut, ...]:
    """Return what is sewn shut on some pieces of one face: their darts, the seams between them, what is gathered."""
    found = sorted(
        (gap for seam in garment.seams for gap in _seam_gaps(garment, seam, names)), key=lambda each: each.turn
    )
    shut: list[Shut] = [*_find_centred(garment, names)]
    for each in found:
        gap = _make_gap(
            each, *(close_gaps(side, shut, piece) for side, piece in zip(each.sides, each.pieces, strict=True))
        )
        shut.append(gap)
        if each.outer:
            shut += _round_mouth(garment, names, gap, shut)
    return (*shut, *find_pulls(garment, names, lambda points: close_gaps(points, shut)))


def _find_centred(garment: Garment, names: frozenset[str]) -> Iterator[Centred]:
    """The shaped centre of a face's pieces, if it has one."""
    lines = [
        (garment.piece(name), line) for name in sorted(names) for line in garment.piece(name).lines(role=Role.CENTRE)
    ]
    if all(line.path.is_straight for _, line in lines):
        return
    halves: dict[bool, list[Points]] = {False: [], True: []}
    for piece, line in lines:
        points = line.path.points(np.linspace(0.0, line.path.length, _SHARES))
        halves[sum(piece.outline.bounds[::2]) > 0.0].append(points)
    if all(halves.values()):
        left, right = (np.concatenate(halves[at_right]) for at_right in (False, True))
        yield Centred((left[np.argsort(left[:, 1])], right[np.argsort(right[:, 1])]))


def close_gaps(points: Points, gaps: Iterable[Shut], piece: str = "") -> Points:
    """Return points, of a piece, as they lie once all gaps are sewn shut, one after another."""
    for gap in gaps:
        if not (piece and isinstance(gap, Gap) and gap.stays == piece):
            points = points + gap.move(points)
    return points


def _seam_gaps(garment: Garment, seam: Seam, names: frozenset[str]) -> Iterator[_Open]:
    """The gaps of one seam: sections that follow each other are one, as the two halves of a dart within a piece."""
    parts: list[_Open] = []
    for section in seam.sections:
        runs = _sewn_on(garment, section, names)
        if runs is None:
            continue
        one, two = (sample_run(garment, run, _SHARES) for run in runs)
        if parts and np.abs(parts[-1].one[-1] - one[0]).max() < TOLERANCE.sewn_length:
            before = parts.pop()
            one, two = np.concatenate([before.one, one[1:]]), np.concatenate([before.two, two[1:]])
        outer = any(_is_outer(garment, use) for run in runs for use in run)
        parts.append(_Open(one, two, outer, (runs[0][0].piece, runs[1][0].piece)))
    yield from (part for part in parts if np.abs(part.one - part.two).max() > TOLERANCE.sewn_length)


def _is_outer(garment: Garment, use: Use) -> bool:
    """Whether a line is the leg of a dart whose mouth is in the side or the armhole."""
    piece, line = garment.piece(use.piece), garment.line(use)
    if line.role is not Role.DART or line not in piece.ring:
        return False
    return any(beside.role in _OUTER for beside in (piece.before(line.name), piece.after(line.name)))


def _sewn_on(garment: Garment, section: Section, names: frozenset[str]) -> tuple[Run, Run] | None:
    """The two edges of a section that lie on some pieces; None where it joins something else, or a skirt's waist."""
    hanging = hanging_pieces(garment)
    plies = [run for run in section.plies if run and run[0].piece not in hanging]
    if len(plies) != 2 or any(run[0].piece not in names for run in plies):
        return None
    waist = all(garment.line(run[0]).role is Role.WAIST for run in plies)
    return None if waist else (plies[0], plies[1])


def _make_gap(seam: _Open, one: Points, two: Points) -> Gap:
    middle = (one + two) / 2.0
    sign = float(np.sign(middle[:, 0].mean()) or 1.0)
    from_centre = [(side[:, 0] * sign if seam.upright else side[:, 1]).mean() for side in (one, two)]
    first = from_centre[0] < from_centre[1]
    stays, moves = (one, two) if first else (two, one)
    kept = seam.pieces[0 if first else 1] if len(set(seam.pieces)) > 1 else ""
    return Gap(moves, stays - moves, seam.upright, sign, kept)


def _round_mouth(garment: Garment, names: frozenset[str], gap: Gap, shut: Sequence[Shut]) -> Iterator[Rounding]:
    """The corner at the side where a dart ends: how far the side lies inside it, a little above and below."""
    ends = close_gaps(gap.moving[[0, -1]], [gap])
    mouth = ends[np.argmax(ends[:, 0] * gap.sign)]
    sides = [
        close_gaps(line.path.points(np.linspace(0.0, line.path.length, _SHARES)), shut)
        for name in sorted(names)
        for line in garment.piece(name).lines(role=Role.SIDE)
    ]
    near = [side for side in sides if np.hypot(*(side - mouth).T).min() < 1.0]
    if len(near) == 2:
        course = np.concatenate(near)
        order = np.argsort(course[:, 1], kind="stable")
        inside = [
            (mouth[0] - np.interp(mouth[1] + by, course[order, 1], course[order, 0])) * gap.sign
            for by in (-ROUNDED, ROUNDED)
        ]
        yield Rounding(mouth, max(float(sum(inside)) / 4.0, 0.0), gap.sign)
