"""Darts made ready to cut: the mouth bridged so that, folded and pressed, the dart lies flush with its edge.

Sewn, a dart is folded along its middle and pressed to one side: down for darts that lie across, towards the centre for
darts that run lengthwise (common practice). It then lies under the edge on that side, so it is cut by that edge's cut
line: reflected in the leg for the layer next to it, turned about the dart's point for the layer below. The two
meet on the middle line, in what is called the dart's roof.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import groupby
from types import MappingProxyType

from drafting.finishing.allowance import NetEdge
from drafting.finishing.corners import Corner
from drafting.finishing.cutpiece import CutEdge, Mark, Notch
from drafting.finishing.folds import INNER
from drafting.finishing.trim import Trim, find_hits
from drafting.garment import Fate, Piece
from drafting.garment.darts import DRILL_HOLE, Dart, darts_of, intake
from drafting.garment.lines import DartName
from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.units import Unit, show_length
from drafting.work.kinds import DART

HOLE_AT_WIDEST = TradeValue(3.0, "mm", "common practice")
"""Inside its widest place that the hole of a dart with two points stands."""


@dataclass(frozen=True, slots=True)
class DartFold:
    """How a dart in a ring of net edges is folded; ``to_first`` if it is pressed to the side of its first mouth.

    ``inner`` marks one on the hidden half of a folded piece.
    """

    dart: Dart
    to_first: bool
    inner: bool = False

    @property
    def name(self) -> str:
        """The name of the edge that stands for it."""
        return self.dart.seam + (INNER if self.inner else "")

    @property
    def middle(self) -> Point:
        """The direction from the point out through the middle of the mouth."""
        return (self.dart.mouth_a - self.dart.point).unit + (self.dart.mouth_b - self.dart.point).unit


NO_FOLDS: Mapping[int, DartFold] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Bridged:
    """A ring of net edges in which one edge stands for each dart; ``folds`` gives the dart by the edge's place."""

    edges: tuple[NetEdge, ...]
    folds: Mapping[int, DartFold]


def bridge_mouths(edges: Sequence[NetEdge], piece: Piece) -> Bridged:
    """Return a piece's ring with the legs of each dart replaced by one edge straight across its mouth."""
    darts: Mapping[DartName | None, Dart] = {dart.called: dart for dart in darts_of(piece)}
    first = next((i for i, edge in enumerate(edges) if edge.dart is None), 0)
    out: list[NetEdge] = []
    folds: dict[int, DartFold] = {}
    for (called, inner), group in groupby([*edges[first:], *edges[:first]], lambda edge: (edge.dart, edge.inner)):
        legs, dart = list(group), darts.get(called)
        if dart is None or len(legs) != len(dart.lines):
            out += legs
            continue
        lines = (replace(piece.line(leg.line), path=leg.path) for leg in legs)
        fold = _fold(replace(dart, lines=tuple(lines)), piece.grain, inner)
        folds[len(out)] = fold
        path = Path.straight(fold.dart.mouth_a, fold.dart.mouth_b)
        out.append(NetEdge(fold.name, "", path, Fate.SEWN, DART))
    return Bridged(tuple(out), folds) if folds else Bridged(tuple(edges), NO_FOLDS)


def halves_a_dart(edges: Sequence[NetEdge]) -> bool:
    """Tell whether a ring has one leg of a dart without the other, as where it was halved through a dart."""
    legs = [(edge.dart, edge.inner) for edge in edges if edge.dart is not None]
    return any(legs.count(dart) % 2 for dart in legs)


def _fold(dart: Dart, grain: Point, inner: bool) -> DartFold:
    a, b = dart.mouth_a, dart.mouth_b
    down, to_centre = a.dot(grain) <= b.dot(grain), abs(a.x) <= abs(b.x)
    return DartFold(dart, down if _runs_across(dart, grain) else to_centre, inner)


def _runs_across(dart: Dart, grain: Point) -> bool:
    inwards = dart.point - dart.middle
    return abs(inwards.dot(grain)) < abs(inwards.cross(grain))


# the cut outline


def roof(fold: DartFold, before: Path, after: Path) -> Path:
    """Return the cut line across a dart's mouth, from its first leg to its second, given the cut lines on either side.

    Both legs are drawn on to the cut lines. A straight line where the covered edge is too short to cut the dart by.
    """
    a, b = _meeting(fold, before, True), _meeting(fold, after, False)
    mouth, cut, at = (fold.dart.mouth_a, before, a) if fold.to_first else (fold.dart.mouth_b, after.reversed(), b)
    made = _half(fold, mouth, at.point, cut)
    if made is None:
        return Path.straight(a.point, b.point)
    other = _mirror_half(fold, made)
    path = Path.join(made, other.reversed()) if fold.to_first else Path.join(other, made.reversed())
    return _end_roof(path, a.point, b.point)


def _end_roof(path: Path, a: Point, b: Point) -> Path:
    """A roof that starts and ends at two points: drawn over to them where they are near, else straight to them."""
    if path.start.near(a, TOLERANCE.offset) and path.end.near(b, TOLERANCE.offset):
        return path.with_ends(a, b)
    parts = [path]
    if not path.start.near(a, TOLERANCE.joint):
        parts.insert(0, Path.straight(a, path.start))
    if not path.end.near(b, TOLERANCE.joint):
        parts.append(Path.straight(path.end, b))
    return Path.join(*parts)


def _half(fold: DartFold, mouth: Point, at: Point, cut: Path) -> Path | None:
    """The covered edge's cut line, which ends at a mouth, reflected in its leg: from the leg to the middle line."""
    s, _ = cut.nearest(at)
    body = cut.between(0.0, s).reversed() if s > TOLERANCE.arc_length else Path.straight(at, at - cut.tangent(0.0))
    if not body.start.near(at, TOLERANCE.joint):
        body = Path.join(Path.straight(at, body.start), body)
    body = body.extended(0.0, intake(fold.dart)).reflected(fold.dart.point, mouth)
    far = 2.0 * mouth.distance(fold.dart.point) + intake(fold.dart)
    middle = Path.straight(fold.dart.point, fold.dart.point + fold.middle.unit * far)
    found = [c.s for c in body.crossings(middle) if c.s > TOLERANCE.joint]
    return body.between(0.0, found[0]) if found else None


def _mirror_half(fold: DartFold, half: Path) -> Path:
    """The other layer of the dart: the image of the one in the dart's middle line."""
    return half.transformed(Affine.reflect(fold.dart.point, fold.dart.point + fold.middle))


def _meeting(fold: DartFold, cut: Path, first: bool) -> Trim:
    """Where a leg, drawn on beyond its mouth, meets the cut line of the edge beside it."""
    mouth = fold.dart.mouth_a if first else fold.dart.mouth_b
    along = (mouth - fold.dart.point).unit
    found = [h for h in find_hits(cut, mouth, along) if (h.point - mouth).dot(along) > -TOLERANCE.flatten]
    if found:
        best = min(found, key=lambda h: h.point.distance(mouth))
        return Trim(best.point, best)
    foot, way = (cut.end, cut.tangent(cut.length)) if first else (cut.start, -cut.tangent(0.0))
    slope = along.cross(way)
    if abs(slope) <= TOLERANCE.tangent:
        return Trim(foot)
    return Trim(foot - way * (along.cross(foot - mouth) / slope))


def mouth_corners(fold: DartFold, before: Path, after: Path) -> tuple[Corner, Corner]:
    """Return the corners at the two ends of a dart's bridged mouth."""
    a, b = _meeting(fold, before, True), _meeting(fold, after, False)
    return Corner(a, Trim(a.point)), Corner(Trim(b.point), b)


# marks


def dart_marks(piece: Piece, ring: Bridged, outline: Sequence[CutEdge]) -> Iterator[Mark]:
    """The fold lines of a piece's darts, as far as the cut outline; and the legs of those that lie within it."""
    roofs = {edge.name: edge.path for edge in outline}
    for fold in ring.folds.values():
        far = fold.dart.point + fold.middle.unit * (2.0 * fold.dart.mouth_a.distance(fold.dart.point))
        ray = Path.straight(fold.dart.point, far)
        found = [c.point for c in ray.crossings(roofs[fold.name])] if fold.name in roofs else []
        yield Mark("fold", fold.name, Path.straight(fold.dart.point, found[0] if found else far))
    for dart in darts_of(piece):
        if dart.lower is not None:
            yield from (Mark("stitch", line.name, line.path) for line in dart.lines)
            yield Mark("fold", dart.seam, Path.straight(dart.point, dart.lower))


def dart_notches(ring: Bridged, corners: Sequence[Corner]) -> Iterator[Notch]:
    """A notch on the cut line at either end of a dart's mouth, in line with its leg."""
    for i, fold in ring.folds.items():
        for mouth, at in (
            (fold.dart.mouth_a, corners[i - 1].before.point),
            (fold.dart.mouth_b, corners[i].after.point),
        ):
            yield Notch(at, (fold.dart.point - mouth).unit, 1, mouth, fold.dart.seam)


def holes(ring: Bridged, piece: Piece) -> Iterator[tuple[str, Point]]:
    """Where holes are drilled: inside each dart's point, and inside both points and the widest places of inner ones."""
    for fold in ring.folds.values():
        size = fold.dart.middle.distance(fold.dart.point)
        yield f"{fold.name}-point", fold.dart.point + fold.middle.unit * min(DRILL_HOLE, size / 2.0)
    for dart in darts_of(piece):
        if dart.lower is None:
            continue
        ends = ("upper", dart.point, DRILL_HOLE), ("lower", dart.lower, DRILL_HOLE)
        widest = ("a", dart.mouth_a, HOLE_AT_WIDEST), ("b", dart.mouth_b, HOLE_AT_WIDEST)
        for called, end, far in (*ends, *widest):
            yield f"{dart.seam}-{called}", end.to(dart.middle, min(far / end.distance(dart.middle), 0.5))


def dart_words(piece: Piece, ring: Bridged, unit: Unit) -> tuple[str, ...]:
    """Return a line for each dart of a piece: what it takes in, and where it is pressed; darts alike are told once.

    Two that differ from side to side are told by whose side they are on.
    """
    found: dict[str, dict[str, list[str]]] = {}
    for fold in ring.folds.values():
        way = "pressed down" if _runs_across(fold.dart, piece.grain) else "pressed to the centre"
        says = f"takes in {show_length(intake(fold.dart), unit)}, {way}"
        found.setdefault(fold.dart.words, {}).setdefault(says, []).append(fold.dart.side)
    for dart in (dart for dart in darts_of(piece) if dart.inside):
        says = f"takes in {show_length(intake(dart), unit)} at its widest, pressed to the centre"
        found.setdefault(dart.words, {}).setdefault(says, []).append(dart.side)
    return tuple(f"{word} dart: {_tell_each(says)}" for word, says in found.items())


def _tell_each(says: Mapping[str, Sequence[str]]) -> str:
    """What is said of the darts of one name, each with its side where that tells them apart."""
    sides = [side for told in says.values() for side in told]
    if len(says) > 1 and all(sides) and len(set(sides)) == len(sides):
        return "; ".join(f"wearer's {side} {words}" for words, (side,) in says.items())
    return " / ".join(says)
