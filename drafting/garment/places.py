"""Places on a garment's outlines, given by meaning: a share of the shoulder, of a side seam, of the hem.

Each line is measured in a stated sense: the shoulder from the neck, the neckline and the armhole from the shoulder, the
side from the underarm, the hem and a waist edge from the centre, a centre seam from the neck, and a style line from
where it was begun.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from types import MappingProxyType

from drafting.errors import DraftingError, close_matches
from drafting.garment.features import Gathers, Zone
from drafting.garment.model import MAIN_CLOTH, Garment, Piece, Role
from drafting.garment.seam import Run, Use
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.sides import Face, Side
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

# Whether the stated sense runs with the ring on the half that is drawn at +x: the wearer's left of a front.
_WITH_RING: Mapping[Role, bool] = MappingProxyType(
    {
        Role.NECKLINE: True,
        Role.HEM: True,
        Role.WAIST: True,
        Role.CENTRE: True,
        Role.SHOULDER: False,
        Role.ARMHOLE: False,
        Role.SIDE: False,
    }
)


@dataclass(frozen=True, slots=True)
class Place:
    """A place on a piece's outline: a line's name and the arc length (mm) along it, in its ring direction."""

    line: str
    s: float


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on one piece of a garment."""

    piece: str
    place: Place

    def point(self, garment: Garment) -> Point:
        """Where it lies."""
        return garment.piece(self.piece).line(self.place.line).path.at(self.place.s)


def lines_along(garment: Garment, role: Role, side: Side, face: Face) -> Run:
    """Return the lines of a role, side and face, over all pieces, in the stated sense; empty if there are none.

    Those of one piece follow each other as in its ring; pieces do by their heights along a side or a centre, else by
    the names of the parts that they have of a line ("/a" before "/b" in ring order).
    """
    plus = (face is Face.FRONT) == (side is Side.LEFT)
    runs = []
    for piece in garment.pieces:
        own = [line.role is role and line.face is face and (line.side or piece.side) is side for line in piece.ring]
        if any(own):
            runs.append(_in_ring_order(piece, own))
    runs = sorted(runs, key=lambda uses: min((u.line, u.piece) for u in uses))
    if role in (Role.SIDE, Role.CENTRE):
        runs = _by_height(garment, runs, upward=plus == (role is Role.SIDE))
    run = tuple(use for uses in runs for use in uses)
    return run if _WITH_RING[role] == plus else tuple(use.reversed for use in reversed(run))


def _by_height(garment: Garment, runs: list[Run], upward: bool) -> list[Run]:
    """Runs of pieces that lie above each other, as bodice and skirt, in that order; as they are where they overlap."""
    spans = {uses: [garment.path(use).bounds for use in uses] for uses in runs}
    reach = {uses: (min(b[1] for b in bounds), max(b[3] for b in bounds)) for uses, bounds in spans.items()}
    rising = sorted(runs, key=lambda uses: reach[uses])
    if any(reach[above][0] < reach[below][1] - AT_ONE_HEIGHT for below, above in pairwise(rising)):
        return runs
    return rising if upward else rising[::-1]


AT_ONE_HEIGHT = TradeValue(30.0, "mm", "from memory", "a waist rises or falls to its side by as much")
"""By which pieces that are sewn above each other may overlap in height."""


def _in_ring_order(piece: Piece, own: Sequence[bool]) -> Run:
    """A piece's own lines in ring order, from the first that comes after another edge than a dart's legs."""
    other = [not mine and line.role is not Role.DART for mine, line in zip(own, piece.ring, strict=True)]
    first = next((i for i, breaks in enumerate(other) if breaks and _next_own(own, other, i)), 0)
    order = [*range(first, len(own)), *range(first)]
    return tuple(Use(piece.name, piece.ring[i].name) for i in order if own[i])


def _next_own(own: Sequence[bool], other: Sequence[bool], i: int) -> bool:
    """Whether one of a piece's own lines comes next after a place in its ring, darts passed over."""
    for k in range(i + 1, i + 1 + len(own)):
        if own[k % len(own)]:
            return True
        if other[k % len(own)]:
            return False
    return False


def style_runs(garment: Garment, name: str, face: Face) -> tuple[Run, ...]:
    """Return the plies of the style seam that answers to a name on a face, each in the sense it was drawn in."""
    for seam in garment.seams:
        lines = [garment.line(use) for use in seam.uses()]
        if lines and all(ln.role is Role.STYLE and ln.answers_to(name) and ln.face is face for ln in lines):
            return seam.plies
    return ()


def runs_at(garment: Garment, word: str, side: Side, face: Face) -> tuple[Run, ...]:
    """Return the runs a place's word speaks of: one for a role, both plies for a style line's name.

    DraftingError, with close matches, where there is nothing of that name.
    """
    roles = {str(role): role for role in _WITH_RING}
    runs = (lines_along(garment, roles[word], side, face),) if word in roles else style_runs(garment, word, face)
    if not any(runs):
        names = {ln.name for p in garment.pieces for ln in p.ring if ln.role is Role.STYLE}
        close = close_matches(word, {*roles, *names})
        hint = f"; did you mean {' or '.join(close)}?" if close and word not in close else ""
        raise DraftingError(f"the {face} has no {' '.join(filter(None, (side, word)))} to measure along{hint}")
    return runs


def spots(garment: Garment, run: Run, share: float) -> Iterator[Spot]:
    """Yield the spot at a share (0..1) of a run's length; both spots where two lines meet there.

    A place nearer to a line's end than two edges can be sewn is that end, so that no sliver of a line is left.
    """
    want = share * garment.run_length(run)
    for use in run:
        length = garment.line(use).path.length
        near = TOLERANCE.sewn_length
        if -near <= want <= length + near:
            s = 0.0 if want < near else length if want > length - near else want
            yield Spot(use.piece, Place(use.line, length - s if use.against else s))
        want -= length


def spot(garment: Garment, run: Run, share: float) -> Spot:
    """Return the first spot at a share (0..1) of a run's length."""
    return next(spots(garment, run, share))


def gathered_length(garment: Garment, run: Iterable[Use]) -> float:
    """Return by how much (mm) the lines of a run are to be gathered before anything is sewn to them.

    What is drafted onto such an edge is drafted for its length less this.
    """
    return sum(each.by for use in run for each in garment.piece(use.piece).of_kind(Gathers) if each.line == use.line)


def binding_width(piece: Piece) -> float:
    """Return how wide (mm) a binding is once it is finished: from the line it is sewn on to its fold."""
    fold = Path.join(*(line.path for line in piece.lines(role=Role.EDGE)))
    (sewn, *_) = piece.lines(role=Role.BAND)
    return fold.nearest(sewn.path.at(sewn.path.length / 2.0))[1]


OVER_STITCHING = TradeValue(3.0, "mm", "common practice", "1/8 in")
"""Of a stay tape that lies within the stitching that catches it; the rest lies on the allowance."""


def stay_reach(zone: Zone, allowance: float) -> tuple[float, float]:
    """Return how far (mm) a stay lies inside its line, and how far beyond, on an allowance.

    A tape lies across the stitching, which catches it; stay-stitching lies on the allowance alone. Either lies inside
    where there is none.
    """
    if allowance <= 0.0:
        return zone.width, 0.0
    if not zone.taped:
        return 0.0, min(zone.width, allowance)
    inside = min(OVER_STITCHING, zone.width)
    return inside, min(zone.width - inside, allowance)


def find_worn(garment: Garment) -> Iterator[Piece]:
    """Yield the pieces that are worn round the body, of the main cloth."""
    return (piece for piece in garment.pieces if piece.face is not Face.NONE and piece.cloth == MAIN_CLOTH)
