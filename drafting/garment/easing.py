"""Where along a side seam a front that is longer is eased in: at the bust, which it is longer for (common practice).

What lies below the waist, and along the sleeve, is as long in front as behind, and is sewn so.
"""

from __future__ import annotations

from typing import Final

from drafting.garment.model import Garment, Role
from drafting.garment.seam import Run, Seam, Section
from drafting.geometry import Path
from drafting.record import dataclass
from drafting.sides import Face
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

EASED_ANYWHERE = TradeValue(5.0, "mm", "from memory")
"""Of a side seam's ease up to which it is spread over the whole of it: it isn't seen anywhere."""

EASED_OVER = TradeValue(100.0, "mm", "from memory", "5 cm to either side of the bust line")
"""Of a front's side that is eased at the bust, at least."""

EASED_MOST = TradeValue(0.1, "share", "from memory", "1 1/2 in, the most that is eased into an armhole, is a tenth too")
"""Of a stretch that is eased in at most: more needs a longer one."""

NEAR_ANOTHER = TradeValue(20.0, "mm", "from memory")
"""From the waist or from the end of the edge up to which ease begins or ends there, without a notch of its own."""

BUST: Final = "bust"
WAIST: Final = "waist"


@dataclass(frozen=True, slots=True)
class EasedStretch:
    """A stretch of the longest ply of a section, from ``start`` to ``end`` (mm along its run), that is eased in.

    ``lengths`` are those of each ply's run (mm), ``ply`` tells which is the longest; ``rises``: it runs upwards.
    """

    ply: int
    start: float
    end: float
    lengths: tuple[float, ...]
    rises: bool

    def find_share(self, ply: int, share: float) -> float:
        """Return the share of another ply's run that meets a share of the longest one's."""
        s = share * self.lengths[self.ply]
        less = self.lengths[self.ply] - self.lengths[ply]
        taken = min(max((s - self.start) / (self.end - self.start), 0.0), 1.0)
        return (s - less * taken) / self.lengths[ply]

    @property
    def ends(self) -> tuple[float, ...]:
        """The shares of the longest ply's run at which the stretch begins and ends, unless that is its own end."""
        whole, near = self.lengths[self.ply], TOLERANCE.sewn_length
        return tuple(s / whole for s in (self.start, self.end) if near < s < whole - near)


def find_eased(garment: Garment, seam: Seam, number: int) -> EasedStretch | None:
    """Return where a section of a side seam is eased in at the bust; None where it is spread, or there is none."""
    section = seam.sections[number]
    longest = max(range(len(section.plies)), key=lambda i: section.ease[i])
    run = section.plies[longest]
    if max(section.ease) - min(section.ease) <= EASED_ANYWHERE or not _is_plain_side(garment, section):
        return None
    bust, waist = _place_level(garment, run, BUST), _place_level(garment, run, WAIST)
    if bust is None or garment.line(run[0]).face is not Face.FRONT or not _is_alike_below(garment, section, longest):
        return None
    path = garment.path(run[0])
    rises = path.end.y > path.start.y
    low, top = (0.0, path.length) if waist is None else (waist, path.length) if rises else (0.0, waist)
    long = min(max(EASED_OVER, (max(section.ease) - min(section.ease)) / EASED_MOST), top - low)
    start = min(max(bust - long / 2.0, low), top - long)
    end = start + long
    start, end = (low if start - low <= NEAR_ANOTHER else start), (top if top - end <= NEAR_ANOTHER else end)
    return EasedStretch(longest, start, end, tuple(map(garment.run_length, section.plies)), rises)


def _is_plain_side(garment: Garment, section: Section) -> bool:
    """Whether every ply of a section is one side edge."""
    return all(len(run) == 1 and garment.line(run[0]).role is Role.SIDE for run in section.plies)


def _is_alike_below(garment: Garment, section: Section, longest: int) -> bool:
    """Whether the plies are as long below the waist, so that the longest is longer above it, at the bust."""
    below = [_length_below(garment, run) for run in section.plies]
    return all(abs(each - below[longest]) <= EASED_ANYWHERE for each in below)


def _length_below(garment: Garment, run: Run) -> float:
    """How much of a side lies below its waist (mm), 0 where the waist isn't on it."""
    waist = _place_level(garment, run, WAIST)
    path = garment.path(run[0])
    return 0.0 if waist is None else waist if path.end.y > path.start.y else path.length - waist


def _place_level(garment: Garment, run: Run, name: str) -> float | None:
    """How far along a run of one line (mm) a level ends on it."""
    path = garment.path(run[0])
    met = (_meet(path, level.path) for level in garment.piece(run[0].piece).levels if level.name == name)
    return next((s for s in met if s is not None), None)


def _meet(path: Path, level: Path) -> float | None:
    for tip in (level.start, level.end):
        s, off = path.nearest(tip)
        if off <= TOLERANCE.flatten:
            return s
    return None
