"""A line drawn across several pieces: they are laid together at the seams that it crosses, and it is parted there.

On the table a cutter lays the pieces edge to edge where the line runs over the seam between them, and draws it in one
go. Where the line crosses a seam depends on how the pieces lie, and how they lie on where it crosses: both are found
together. Pieces that lie beside each other as drafted stay where they are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise, permutations

from drafting.errors import DraftingError
from drafting.garment import Garment, Piece, Role, Run, hanging_pieces
from drafting.garment.balance import place_on_run
from drafting.garment.places import Place, Spot, spots
from drafting.garment.surface import joints
from drafting.geometry import Affine, Path, Point, is_inside, turn
from drafting.record import dataclass
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

__all__ = ["LaidStretch", "find_again", "lay_line"]

LEAST_HOLLOW = TradeValue(25.0, "mm", "from memory")
"""Of neck between the two halves of a line at least: nearer, the cloth between them is too narrow to be sewn."""

_MOST_SEAMS = 5  # that one line is looked for across
_ROUNDS = 100  # of laying the pieces together again

Draw = Callable[[Point, Point], Path]
"""Draws the line between two points."""


@dataclass(frozen=True, slots=True)
class LaidStretch:
    """What of a line lies on one piece: from ``start`` to ``end`` on its outline along ``path``, in its own place."""

    piece: str
    start: Place
    end: Place
    path: Path


@dataclass(frozen=True, slots=True)
class _Joint:
    """Where piece ``one`` and piece ``two`` meet in a seam: the runs in which they do, and about where along them."""

    one: str
    two: str
    runs: tuple[Run, Run]
    about: float


def lay_line(garment: Garment, between: Sequence[tuple[Spot, Spot]], draw: Draw) -> tuple[LaidStretch, ...]:
    """Return the stretches of a line from one spot to another, of several pairs that which crosses the fewest seams.

    Where it leaves a piece over its neckline and comes back, it is left out between. DraftingError where no line can
    be laid: the pieces aren't joined, or it doesn't cross the seams between them.
    """
    ways = [(chain, *pair) for pair in between for chain in _chains(garment, pair[0].piece, pair[1].piece)]
    for chain, start, end in sorted(ways, key=lambda way: len(way[0])):
        found = _lay(garment, start, end, chain, draw)
        if found:
            return tuple(part for stretch in found for part in _beside_neck(garment, stretch))
    one, other = (garment.piece(spot.piece).title for spot in between[0])
    raise DraftingError(
        say("the line can't be drawn from the {one:lower} on to the {other:lower}", one=one, other=other)
    )


def find_again(garment: Garment, stretch: LaidStretch) -> LaidStretch:
    """Return a stretch on the part that it lies on now, where its piece was parted since it was laid."""
    face = garment.piece(stretch.piece).face
    for piece in (garment.piece(stretch.piece), *(each for each in garment.pieces if each.face is face)):
        ends = [_place_at(piece, at) for at in (stretch.path.start, stretch.path.end)]
        middle = stretch.path.at(stretch.path.length / 2.0)
        if ends[0] is not None and ends[1] is not None and is_inside(middle, piece.outline.flatten()):
            return LaidStretch(piece.name, ends[0], ends[1], stretch.path)
    return stretch


def _place_at(piece: Piece, at: Point) -> Place | None:
    """The place of a point on a piece's outline; None where it doesn't lie there."""
    for line in piece.ring:
        s, gap = line.path.nearest(at)
        if gap < TOLERANCE.joint:
            return Place(line.name, s)
    return None


def _chains(garment: Garment, start: str, end: str) -> Iterator[tuple[_Joint, ...]]:
    """Ways from one piece to another over the seams of their face, the shortest first."""
    ways: list[tuple[_Joint, ...]] = [()]
    meeting = tuple(_joints(garment, start)) if start != end else ()
    for _ in range(_MOST_SEAMS + 1):
        yield from (way for way in ways if (way[-1].two if way else start) == end)
        ways = [
            (*way, joint)
            for way in ways
            for joint in meeting
            if joint.one == (way[-1].two if way else start) and joint.two not in {start, *(each.two for each in way)}
        ]


def _joints(garment: Garment, like: str) -> Iterator[_Joint]:
    """Every meeting of two pieces of a face in a seam, told from each of the two."""
    face = garment.piece(like).face
    names = {piece.name for piece in garment.pieces if piece.face is face} - hanging_pieces(garment)
    for seam in garment.seams:
        for section in seam.sections:
            plies = [run for i, run in enumerate(section.plies) if run and i not in seam.hangs]
            for runs in permutations(plies, 2):
                meet: dict[tuple[str, str], list[float]] = {}
                for one, (a, b) in _spans(garment, runs[0]):
                    for two, (c, d) in _spans(garment, runs[1]):
                        if min(b, d) > max(a, c) and one != two and {one, two} <= names:
                            meet.setdefault((one, two), []).extend((max(a, c), min(b, d)))
                yield from (_Joint(*pair, runs, (min(ends) + max(ends)) / 2.0) for pair, ends in meet.items())


def _spans(garment: Garment, run: Run) -> Iterator[tuple[str, tuple[float, float]]]:
    """The pieces along a run, and from which share of it to which."""
    for use, span in zip(run, pairwise(joints(garment, run)), strict=True):
        yield use.piece, span


def _lay(garment: Garment, start: Spot, end: Spot, chain: Sequence[_Joint], draw: Draw) -> tuple[LaidStretch, ...]:
    """The stretches of the line over a chain of seams; none where it doesn't cross them one after another."""
    at = [joint.about for joint in chain]
    for count in range(_ROUNDS):
        layout = _layout(garment, start.piece, chain, at)
        path = draw(layout[0].apply(start.point(garment)), layout[-1].apply(end.point(garment)))
        met = [_meet(garment, path, *each) for each in zip(chain, layout, at, strict=False)]
        if all(abs(share - was) < _near(garment, joint) for (share, _), was, joint in zip(met, at, chain, strict=True)):
            return _stretches(garment, (start, end), chain, layout, path, met)
        # Where the pieces swing to and fro about the crossing, half the way brings them to rest.
        swinging = count > _ROUNDS // 4
        at = [(share + was) / 2.0 if swinging else share for (share, _), was in zip(met, at, strict=True)]
    return ()


def _near(garment: Garment, joint: _Joint) -> float:
    """The share of a joint's run below which two places on it are one."""
    return TOLERANCE.same_point / garment.run_length(joint.runs[0])


def _layout(garment: Garment, first: str, chain: Sequence[_Joint], at: Sequence[float]) -> list[Affine]:
    """Where each piece of a chain lies, all laid to the greatest of them, which stays where it is."""
    pieces = [garment.piece(name) for name in (first, *(joint.two for joint in chain))]
    base = max(range(len(pieces)), key=lambda i: abs(pieces[i].outline.area))
    layout = [Affine()] * len(pieces)
    for i in range(base, len(chain)):
        layout[i + 1] = _lay_to(garment, chain[i].runs, at[i]).then(layout[i])
    for i in reversed(range(base)):
        layout[i] = _lay_to(garment, chain[i].runs[::-1], at[i]).then(layout[i + 1])
    return layout


def _lay_to(garment: Garment, runs: tuple[Run, Run], share: float) -> Affine:
    """How the piece of the second run is turned and moved to lie edge to edge with the first's, at a share of both."""
    (one, way), (two, along) = (_place_and_way(garment, run, share) for run in runs)
    if one.near(two, TOLERANCE.joint) and abs(turn(along, way)) < TOLERANCE.tangent:
        return Affine()
    return Affine.turn(turn(along, way), two).then(Affine.move(one - two))


def _place_and_way(garment: Garment, run: Run, share: float) -> tuple[Point, Point]:
    """The point at a share of a run, and the way the run goes there."""
    use, s = place_on_run(garment, run, share)
    path = garment.line(use).path
    return path.at(s), path.tangent(s) * (-1.0 if use.against else 1.0)


def _meet(garment: Garment, path: Path, joint: _Joint, lies: Affine, about: float) -> tuple[float, float | None]:
    """The share of a joint's run at which a line crosses it, and where along the line.

    Of several that nearest to a share; where it doesn't cross, the end of the run nearer to the line, and nowhere.
    """
    ends = joints(garment, joint.runs[0])
    found: list[tuple[float, float | None]] = []
    for use, (low, high) in zip(joint.runs[0], pairwise(ends), strict=True):
        edge = garment.path(use).transformed(lies)
        if use.piece == joint.one:
            found += [(low + (high - low) * each.t / edge.length, each.s) for each in path.crossings(edge)]
    if found:
        return min(found, key=lambda each: abs(each[0] - about))
    first, last = (garment.path(use).transformed(lies) for use in (joint.runs[0][0], joint.runs[0][-1]))
    nearer = path.nearest(first.start)[1] < path.nearest(last.end)[1]
    return (0.0 if nearer else 1.0), None


def _stretches(
    garment: Garment,
    ends: tuple[Spot, Spot],
    chain: Sequence[_Joint],
    layout: Sequence[Affine],
    path: Path,
    met: Sequence[tuple[float, float | None]],
) -> tuple[LaidStretch, ...]:
    """Part the line where it crosses the seams; none where it misses one, or meets them in another order."""
    at, cuts = [share for share, _ in met], [s for _, s in met if s is not None]
    if len(cuts) < len(chain) or any(b - a < TOLERANCE.sewn_length for a, b in pairwise((0.0, *cuts, path.length))):
        return ()
    start: Place | None = ends[0].place
    out: list[LaidStretch] = []
    bounds = (0.0, *cuts, path.length)
    for i, lies in enumerate(layout):
        name = chain[i].one if i < len(chain) else ends[1].piece
        own = path.between(bounds[i], bounds[i + 1]).transformed(_undo(lies))
        end = ends[1].place if i == len(chain) else _place_in(garment, chain[i].runs[0], at[i], name)
        if start is None or end is None:
            return ()
        out.append(LaidStretch(name, start, end, own))
        start = None if i == len(chain) else _place_in(garment, chain[i].runs[1], at[i], chain[i].two)
    return tuple(out)


def _undo(lies: Affine) -> Affine:
    """The turn and move that takes a piece back."""
    a = lies
    return Affine(a.xx, a.yx, -a.xx * a.dx - a.yx * a.dy, a.xy, a.yy, -a.xy * a.dx - a.yy * a.dy)


def _place_in(garment: Garment, run: Run, share: float, piece: str) -> Place | None:
    """The place on a piece at a share of a run; None where another piece lies there."""
    found = (spot.place for spot in spots(garment, run, share) if spot.piece == piece)
    return next(found, None)


def _beside_neck(garment: Garment, stretch: LaidStretch) -> Iterator[LaidStretch]:
    """A stretch without what of it lies outside its piece, in the hollow of the neck."""
    path, piece = stretch.path, garment.piece(stretch.piece)
    necks = piece.lines(role=Role.NECKLINE)
    met = [(each.s, Place(line.name, each.t)) for line in necks for each in path.crossings(line.path)]
    inner = (TOLERANCE.sewn_length, path.length - TOLERANCE.sewn_length)
    met = sorted((each for each in met if inner[0] < each[0] < inner[1]), key=lambda each: each[0])
    if len(met) != 2 or met[1][0] - met[0][0] < LEAST_HOLLOW:
        yield stretch
        return
    (low, out), (high, back) = met
    yield LaidStretch(stretch.piece, stretch.start, out, path.between(0.0, low))
    yield LaidStretch(stretch.piece, back, stretch.end, path.between(high, path.length))
