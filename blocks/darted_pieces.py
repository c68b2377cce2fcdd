"""From the halves that the darted bodice draws to whole pieces: rings of named lines with darts standing open in them.

A half is drawn on +x; the other is drawn alike, from its own measures, and turned over. Lines parted by a dart are
named in ring order: "side-left/a", "dart-bust-left-a", "dart-bust-left-b", "side-left/b".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from drafting.garment import Adjust, BustPoint, Face, Fate, Level, Line, Piece, Role, Seam, Side, Slit
from drafting.garment.darts import Dart, darts_of
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import say
from drafting.work.kinds import sew_dart


@dataclass(frozen=True, slots=True)
class OutlinePart:
    """A stretch of outline: the name of its line without the side, its path in ring order, what it is and becomes."""

    stem: str
    path: Path
    role: Role
    fate: Fate = Fate.SEWN
    opening: str = ""
    sided_opening: bool = False


@dataclass(frozen=True, slots=True)
class DartedHalf:
    """The +x half of a front or back, in ring order from the centre of the hem to the centre of the neckline.

    ``levels`` are stretches (name, whether a girth, path); one that starts at the centre runs on in the other half.
    ``inner`` are the darts within; all darts are of no side yet.
    """

    edges: tuple[OutlinePart | Dart, ...]
    levels: tuple[tuple[str, bool, Path], ...]
    adjusts: tuple[tuple[str, Path], ...]
    bust_point: Point | None = None
    inner: tuple[Dart, ...] = ()


def turn_over(half: DartedHalf) -> DartedHalf:
    """Return the half's mirror image in the centre, in ring order from the neckline to the hem."""

    def edge(e: OutlinePart | Dart) -> OutlinePart | Dart:
        return e.mirrored() if isinstance(e, Dart) else replace(e, path=e.path.mirrored().reversed())

    return DartedHalf(
        edges=tuple(edge(e) for e in reversed(half.edges)),
        levels=tuple((name, girth, path.mirrored()) for name, girth, path in half.levels),
        adjusts=tuple((name, path.mirrored()) for name, path in half.adjusts),
        bust_point=half.bust_point and Point(-half.bust_point.x, half.bust_point.y),
        inner=tuple(dart.mirrored() for dart in half.inner),
    )


def whole_piece(face: Face, left: DartedHalf, right: DartedHalf) -> Piece:
    """Join the halves, each drawn on +x, to the whole piece as seen from the right side of the cloth."""
    plus, minus = (left, right) if face is Face.FRONT else (right, left)
    one = Side.LEFT if face is Face.FRONT else Side.RIGHT
    other = turn_over(minus)
    halves = ((plus, one), (other, one.other))
    adjusts = (Adjust(name, path) for name, path in _join_across(plus.adjusts, other.adjusts))
    marks = (BustPoint(f"bust-point-{side}", half.bust_point) for half, side in halves if half.bust_point is not None)
    slits = (Slit(dart.of_side(side, face).lines) for half, side in halves for dart in half.inner)
    return Piece(
        name=str(face),
        title=say("{face:capital}", face=face),
        ring=(*_lines(plus.edges, face, one), *_lines(other.edges, face, one.other)),
        face=face,
        features=(*_levels(plus, other), *adjusts, *marks, *slits),
    )


def _lines(edges: Iterable[OutlinePart | Dart], face: Face, side: Side) -> Iterable[Line]:
    """The lines of a half in ring order; stretches of one line get letters in ring order."""
    edges = tuple(edges)
    count = Counter(edge.stem for edge in edges if isinstance(edge, OutlinePart))
    used: Counter[str] = Counter()
    for edge in edges:
        if isinstance(edge, Dart):
            yield from edge.of_side(side, face).lines
            continue
        name = f"{edge.stem}-{side}"
        opening = f"{edge.opening}-{side}" if edge.sided_opening else edge.opening
        line = Line(name, edge.path, edge.role, side, face, edge.fate, opening)
        if count[edge.stem] > 1:
            line = line.part(used[edge.stem], edge.path)
            used[edge.stem] += 1
        yield line


def _levels(plus: DartedHalf, minus: DartedHalf) -> Iterable[Level]:
    """The levels; stretches that start at the centre are joined to one across it."""
    for (name, girth, one), (_, _, two) in zip(plus.levels, minus.levels, strict=True):
        if one.start.near(two.start):
            yield Level(name, Path.join(two.reversed(), one), girth)
        else:
            yield Level(name, one, girth)
            yield Level(name, two, girth)


def _join_across(plus: Iterable[tuple[str, Path]], minus: Iterable[tuple[str, Path]]) -> Iterable[tuple[str, Path]]:
    for (name, one), (_, two) in zip(plus, minus, strict=True):
        yield name, Path.join(two.reversed(), one)


def dart_seams(piece: Piece) -> tuple[Seam, ...]:
    """Return the seams that sew a piece's darts shut: those at its edge, then those within it."""
    return tuple(sew_dart(dart) for dart in darts_of(piece))
