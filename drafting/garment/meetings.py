"""Where the stripes of two pieces lie on each other at a seam, by its stitching lines, and whether they can meet there.

They run on over a seam, in a chevron or straight, where they meet it at one angle in both pieces, however these lie.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import field, replace

import numpy as np

from drafting.cloth import Stripe
from drafting.garment.applied import Applied, find_piece_laid
from drafting.garment.balance import Balance, balance_marks, place_on_run
from drafting.garment.layered import pair_layers
from drafting.garment.laying import STRIPES_ALIKE, way_of_stripes
from drafting.garment.model import Garment, Piece, Role
from drafting.garment.seam import Run, Seam, Use
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.sides import Face
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

BENEATH = 8
"""The rank of what meets beneath another layer: nobody sees it, and all that is seen comes first."""

LAST = 9
"""The rank of what is sewn onto a face: nothing else is matched to it."""

SAMPLES = np.linspace(0.0, 1.0, 17)

NEARLY = TradeValue(3.0, "mm", "from memory")
"""By which stripes may miss each other and yet look as if they met, on either side of a notch."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two net pieces at a seam: the places (mm) that lie on each other, the first of them the one to match by.

    ``level``: the seam runs across the wearer rather than down. ``askew``: the stripes of the two run at different
    angles to it. ``near`` is as in ``Match``. ``sign`` is -1.0 where the stripes follow each other the other way in the
    second piece, whose places are told as the first's would be: negative.
    """

    seam: Seam
    names: tuple[str, str]
    rank: int
    at: str
    places: tuple[tuple[float, float], ...] = field(default=())
    level: bool = False
    askew: bool = False
    near: tuple[float, float] | None = None
    sign: float = 1.0

    @property
    def covered(self) -> bool:
        """Whether another layer hides one of the two."""
        return self.rank == BENEATH

    def miss(self, moved: Mapping[str, float]) -> float:
        """How far the second piece is to be moved, as the first's stripes follow each other, to meet it (mm)."""
        (one, two), (a, b) = self.names, self.places[0]
        return moved[one] + a - b - self.sign * moved[two]


def list_meetings(garment: Garment, names: Collection[str], stripe: Stripe) -> list[Meeting]:
    """Return where stripes of these pieces of a garment lie on each other at seams, what is matched first first.

    Last come pieces applied to a face.
    """
    seams = sorted(_meetings(garment, set(names), stripe), key=lambda each: each.rank)
    return [*seams, *_meet_faces(garment, set(names), stripe)]


def _meetings(garment: Garment, names: set[str], stripe: Stripe) -> Iterator[Meeting]:
    """Every two of the pieces that are sewn to each other where stripes are to meet."""
    marks = balance_marks(garment)
    for seam in garment.seams:
        if seam.kind.stripes is None or seam.binds:
            continue
        found: dict[tuple[str, str], list[tuple[Point, Point]]] = {}
        beneath: dict[tuple[str, str], list[tuple[Point, Point]]] = {}
        for section in seam.sections:
            for one, two, covered in pair_layers(section.plies, seam.hangs):
                for pair, points in _pairs(garment, section.plies[one], section.plies[two]):
                    if set(pair) <= names and pair[0] != pair[1]:
                        (beneath if covered else found).setdefault(pair, []).append(points)
        for pair, met in found.items():
            yield _meeting(garment, seam, pair, met, marks, stripe)
        for pair, met in ((pair, met) for pair, met in beneath.items() if pair not in found):
            yield replace(_meeting(garment, seam, pair, met, marks, stripe), rank=BENEATH)


def _meet_faces(garment: Garment, names: set[str], stripe: Stripe) -> Iterator[Meeting]:
    """Every applied piece on the face that its place begins on, matched from there on as far as that face reaches."""
    seams = {find_piece_laid(garment, seam): seam for seam in garment.seams}
    for face in garment.pieces:
        for each in face.of_kind(Applied):
            if {face.name, each.name} <= names and each.name in seams and _begins_within(face, each.path):
                run = seams[each.name].plies[0]
                length = min(each.path.length, garment.run_length(run))
                met = [(each.path.at(s), _at_length(garment, run, s)) for s in map(float, SAMPLES * length)]
                pair = (face.name, each.name)
                sign = _find_sign(garment, pair, met, stripe)
                askew = _runs_askew(garment, pair, met, stripe, sign)
                places = _rise(garment, pair, met, stripe, sign)
                yield Meeting(seams[each.name], pair, LAST, "opening", places, askew=askew, sign=sign)


def _rise(
    garment: Garment, pair: tuple[str, str], met: Sequence[tuple[Point, Point]], stripe: Stripe, sign: float = 1.0
) -> tuple[tuple[float, float], ...]:
    """How far up the way in which the stripes follow each other in the first the points of two pieces lie (mm)."""
    one, two = (way_of_stripes(garment.piece(name).grain, stripe) for name in pair)
    return tuple((a.dot(one), sign * b.dot(two)) for a, b in met)


def _find_sign(garment: Garment, pair: tuple[str, str], met: Sequence[tuple[Point, Point]], stripe: Stripe) -> float:
    """Return -1.0 where stripes along the cloth follow each other the other way in the second of two pieces.

    So they do in halves that the maker turned and that mirror each other. A stripe is the same on either side of its
    middle, on which its lines lie, unless it is uneven. Across the cloth the lines are an edge, and go one way.
    """
    if stripe.direction != "along" or not any(is_turned(garment.piece(name)) for name in pair):
        return 1.0
    places = _rise(garment, pair, met, stripe)
    steps = ((c - a, d - b) for (a, b), (c, d) in itertools.pairwise(places))
    return -1.0 if math.fsum(one * two for one, two in steps) < -(TOLERANCE.sewn_length**2) else 1.0


def _begins_within(piece: Piece, path: Path) -> bool:
    return piece.outline.nearest(path.start)[1] > TOLERANCE.sewn_length


def _at_length(garment: Garment, run: Run, s: float) -> Point:
    use, along = place_on_run(garment, run, s / garment.run_length(run))
    return _point(garment, use, along)


def _pairs(garment: Garment, one: Run, two: Run) -> Iterator[tuple[tuple[str, str], tuple[Point, Point]]]:
    if not one or not two:
        return
    for share in SAMPLES:
        (a, s), (b, t) = place_on_run(garment, one, float(share)), place_on_run(garment, two, float(share))
        yield (a.piece, b.piece), (_point(garment, a, s), _point(garment, b, t))


def _point(garment: Garment, use: Use, s: float) -> Point:
    return garment.piece(use.piece).line(use.line).path.at(s)


def _meeting(
    garment: Garment,
    seam: Seam,
    pair: tuple[str, str],
    met: list[tuple[Point, Point]],
    marks: Sequence[Balance],
    stripe: Stripe,
) -> Meeting:
    """What is matched first, and how soon: sides, then centres and panels, then sleeves at the front notch."""
    faces = [garment.piece(name).face for name in pair]
    across = [abs(met[-1][0].x - met[0][0].x), abs(met[-1][0].y - met[0][0].y)]
    sign = _find_sign(garment, pair, met, stripe)
    askew, near = _runs_askew(garment, pair, met, stripe, sign), None
    if seam.kind.at_notch:
        front, notch = Face.FRONT in faces, _at_notch(garment, seam, pair, marks)
        where = "notch" if notch else "armhole, half-way along"
        rank, at = (3 if front else 5) + (notch is None), f"{'front' if front else 'back'} {where}"
        at_notch = notch or met[len(met) // 2]
        near = _reach_near(garment, pair, at_notch, met, stripe, sign)
        met = [at_notch, *met]
    else:
        rank = seam.kind.stripes or 0
        rank = 1 if rank and _touches_centre(garment, seam) else rank
        met, at = sorted(met, key=lambda points: points[0].y), ""
    places = _rise(garment, pair, met, stripe, sign)
    return Meeting(seam, pair, rank, at, places, across[0] > across[1], askew, near, sign)


def _runs_askew(
    garment: Garment, pair: tuple[str, str], met: Sequence[tuple[Point, Point]], stripe: Stripe, sign: float
) -> bool:
    """Whether stripes run at different angles to a seam in its two pieces, for these don't lie alike on the cloth.

    So an uneven stripe does, too, that follows the other way in the second.
    Taken is the course of the seam in the first, mirrored where the second's runs the other way across: what a curve
    turns against another, as a cap's against an armhole's, is the same in pieces that lie alike.
    """
    one, two = (way_of_stripes(garment.piece(name).grain, stripe) for name in pair)
    steps = [(a - b, c - d) for (a, c), (b, d) in itertools.pairwise(met) if a.distance(b) > TOLERANCE.sewn_length]
    across = -1.0 if math.fsum(a.x * b.x for a, b in steps) < 0.0 else 1.0
    ways = [(a.unit, Point(across * a.x, a.y).unit) for a, _ in steps]
    turned = [abs(math.acos(_within(abs(a.dot(one)))) - math.acos(_within(abs(b.dot(two))))) for a, b in ways]
    return (stripe.uneven and sign < 0.0) or (bool(turned) and math.fsum(turned) / len(turned) > STRIPES_ALIKE)


def _within(cosine: float) -> float:
    return min(1.0, cosine)


def _reach_near(
    garment: Garment,
    pair: tuple[str, str],
    notch: tuple[Point, Point],
    met: Sequence[tuple[Point, Point]],
    stripe: Stripe,
    sign: float,
) -> tuple[float, float]:
    """How far below and above a notch stripes that meet there keep within ``NEARLY`` of each other (mm)."""
    after = min(
        range(1, len(met)),
        key=lambda i: sum(notch[0].distance(met[k][0]) for k in (i - 1, i)) - met[i - 1][0].distance(met[i][0]),
    )
    ways = sorted((met[after:], met[:after][::-1]), key=lambda way: way[-1][0].y)
    low, high = (_walk_near(_rise(garment, pair, [notch, *way], stripe, sign), [notch, *way]) for way in ways)
    return low, high


def _walk_near(places: Sequence[tuple[float, float]], met: Sequence[tuple[Point, Point]]) -> float:
    """How far points lead on (mm) before the two of a pair lie ``NEARLY`` further from each other than at the first."""
    off = [abs((a - b) - (places[0][0] - places[0][1])) for a, b in places]
    reach = 0.0
    for i in range(1, len(met)):
        step = met[i][0].distance(met[i - 1][0])
        if off[i] > NEARLY:
            return reach + step * (NEARLY - off[i - 1]) / (off[i] - off[i - 1])
        reach += step
    return reach


def _at_notch(
    garment: Garment, seam: Seam, pair: tuple[str, str], marks: Sequence[Balance]
) -> tuple[Point, Point] | None:
    for mark in marks:
        at = {use.piece: _point(garment, use, s) for use, s in mark.at}
        if mark.seam == seam.name and set(pair) <= set(at):
            return at[pair[0]], at[pair[1]]
    return None


def _touches_centre(garment: Garment, seam: Seam) -> bool:
    return any(garment.line(use).role is Role.CENTRE for use in seam.plies[0])


def is_turned(piece: Piece) -> bool:
    """Tell whether the maker turned a piece on the cloth; one that is asked for upright lies as any."""
    return piece.laid is not None and piece.laid.angle > 0.0
