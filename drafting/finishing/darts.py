"""Darts made ready to cut: the mouth bridged so that, folded and pressed, the dart lies flush with its edge.

Sewn, a dart is folded along its middle and pressed to one side: down for darts that lie across, towards the centre for
darts that run lengthwise (common practice). It then lies under the edge on that side, so it is cut by that edge's cut
line: reflected in the leg for the layer next to it, turned about the dart's point for the layer below. The two
meet on the middle line, in what is called the dart's roof.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from drafting.finishing.allowance import NetEdge
from drafting.finishing.corners import Corner
from drafting.finishing.cutpiece import CutEdge, Mark, Notch
from drafting.finishing.folds import INNER
from drafting.finishing.trim import Trim, hits
from drafting.garment import Fate, Piece, Side
from drafting.garment.darts import PREFIX
from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.units import Unit, show_length
from drafting.work.kinds import DART

DRILL_HOLE = TradeValue(12.0, "mm", "common practice")
"""Inside its point that a dart's drill hole stands, so that the seam covers it."""

HOLE_AT_WIDEST = TradeValue(3.0, "mm", "common practice")
"""Inside its widest place that the hole of a dart with two points stands."""


@dataclass(frozen=True, slots=True)
class Fold:
    """A dart in a ring of net edges, in ring order; ``to_first`` if it is pressed to the side of its first mouth."""

    name: str
    mouth_a: Point
    point: Point
    mouth_b: Point
    to_first: bool

    @property
    def middle(self) -> Point:
        """The direction from the point out through the middle of the mouth."""
        return (self.mouth_a - self.point).unit + (self.mouth_b - self.point).unit

    @property
    def intake(self) -> float:
        """What it takes in at its mouth (mm)."""
        return self.mouth_a.distance(self.mouth_b)


NO_FOLDS: Mapping[int, Fold] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Bridged:
    """A ring of net edges in which one edge stands for each dart; ``folds`` gives the dart by the edge's place."""

    edges: tuple[NetEdge, ...]
    folds: Mapping[int, Fold]


def bridged(edges: Sequence[NetEdge], grain: Point) -> Bridged:
    """Return a ring with the two legs of each dart replaced by one edge straight across its mouth."""
    n = len(edges)
    first = next((i for i in range(n) if not _leg(edges[i])), 0)
    turned = [*edges[first:], *edges[:first]]
    out: list[NetEdge] = []
    folds: dict[int, Fold] = {}
    i = 0
    while i < n:
        edge, after = turned[i], turned[(i + 1) % n]
        if _leg(edge) and _leg(after) and _base(edge) == _base(after) and i + 1 < n:
            fold = _fold(edge, after, grain)
            folds[len(out)] = fold
            out.append(NetEdge(fold.name, "", Path.straight(fold.mouth_a, fold.mouth_b), Fate.SEWN, DART))
            i += 2
        else:
            out.append(edge)
            i += 1
    return Bridged(tuple(out), folds) if folds else Bridged(tuple(edges), NO_FOLDS)


def halves_a_dart(edges: Sequence[NetEdge]) -> bool:
    """Tell whether a ring has one leg of a dart without the other, as where it was halved through a dart."""
    legs = [_base(edge) for edge in edges if _leg(edge)]
    return any(legs.count(name) % 2 for name in legs)


def _leg(edge: NetEdge) -> bool:
    return edge.kind == DART and edge.line.startswith(PREFIX)


def _base(edge: NetEdge) -> str:
    """The dart's name, with the ending of an inner half."""
    return edge.line[len(PREFIX) :].removesuffix("-a").removesuffix("-b") + (INNER if edge.inner else "")


def _fold(one: NetEdge, two: NetEdge, grain: Point) -> Fold:
    a, point, b = one.path.start, one.path.end, two.path.end
    inwards = point - a.to(b, 0.5)
    if abs(inwards.dot(grain)) >= abs(inwards.cross(grain)):
        first = abs(a.x) <= abs(b.x)  # lengthwise: towards the centre
    else:
        first = a.dot(grain) <= b.dot(grain)  # across: down
    return Fold(PREFIX + _base(one), a, point, b, first)


# the cut outline


def roof(fold: Fold, before: Path, after: Path) -> Path:
    """Return the cut line across a dart's mouth, from its first leg to its second, given the cut lines on either side.

    Both legs are drawn on to the cut lines. A straight line where the covered edge is too short to cut the dart by.
    """
    a, b = _meeting(fold, before, True), _meeting(fold, after, False)
    mouth, cut, at = (fold.mouth_a, before, a) if fold.to_first else (fold.mouth_b, after.reversed(), b)
    made = _half(fold, mouth, at.point, cut)
    if made is None:
        return Path.straight(a.point, b.point)
    other = _mirrored(fold, made)
    path = Path.join(made, other.reversed()) if fold.to_first else Path.join(other, made.reversed())
    return _ended(path, a.point, b.point)


def _ended(path: Path, a: Point, b: Point) -> Path:
    """A roof that starts and ends at two points: drawn over to them where they are near, else straight to them."""
    if path.start.near(a, TOLERANCE.offset) and path.end.near(b, TOLERANCE.offset):
        return path.with_ends(a, b)
    parts = [path]
    if not path.start.near(a, TOLERANCE.joint):
        parts.insert(0, Path.straight(a, path.start))
    if not path.end.near(b, TOLERANCE.joint):
        parts.append(Path.straight(path.end, b))
    return Path.join(*parts)


def _half(fold: Fold, mouth: Point, at: Point, cut: Path) -> Path | None:
    """The covered edge's cut line, which ends at a mouth, reflected in its leg: from the leg to the middle line."""
    s, _ = cut.nearest(at)
    body = cut.between(0.0, s).reversed() if s > TOLERANCE.arc_length else Path.straight(at, at - cut.tangent(0.0))
    if not body.start.near(at, TOLERANCE.joint):
        body = Path.join(Path.straight(at, body.start), body)
    body = body.extended(0.0, fold.intake).reflected(fold.point, mouth)
    far = 2.0 * mouth.distance(fold.point) + fold.intake
    middle = Path.straight(fold.point, fold.point + fold.middle.unit * far)
    found = [c.s for c in body.crossings(middle) if c.s > TOLERANCE.joint]
    return body.between(0.0, found[0]) if found else None


def _mirrored(fold: Fold, half: Path) -> Path:
    """The other layer of the dart: the image of the one in the dart's middle line."""
    return half.transformed(Affine.reflect(fold.point, fold.point + fold.middle))


def _meeting(fold: Fold, cut: Path, first: bool) -> Trim:
    """Where a leg, drawn on beyond its mouth, meets the cut line of the edge beside it."""
    mouth = fold.mouth_a if first else fold.mouth_b
    along = (mouth - fold.point).unit
    found = [h for h in hits(cut, mouth, along) if (h.point - mouth).dot(along) > -TOLERANCE.flatten]
    if found:
        best = min(found, key=lambda h: h.point.distance(mouth))
        return Trim(best.point, best)
    foot, way = (cut.end, cut.tangent(cut.length)) if first else (cut.start, -cut.tangent(0.0))
    slope = along.cross(way)
    if abs(slope) <= TOLERANCE.tangent:
        return Trim(foot)
    return Trim(foot - way * (along.cross(foot - mouth) / slope))


def mouth_corners(fold: Fold, before: Path, after: Path) -> tuple[Corner, Corner]:
    """Return the corners at the two ends of a dart's bridged mouth."""
    a, b = _meeting(fold, before, True), _meeting(fold, after, False)
    return Corner(a, Trim(a.point)), Corner(Trim(b.point), b)


# marks


def dart_marks(piece: Piece, ring: Bridged, outline: Sequence[CutEdge]) -> Iterator[Mark]:
    """The fold lines of a piece's darts, as far as the cut outline; and the legs of those that lie within it."""
    roofs = {edge.name: edge.path for edge in outline}
    for fold in ring.folds.values():
        far = fold.point + fold.middle.unit * (2.0 * fold.mouth_a.distance(fold.point))
        ray = Path.straight(fold.point, far)
        found = [c.point for c in ray.crossings(roofs[fold.name])] if fold.name in roofs else []
        yield Mark("fold", fold.name, Path.straight(fold.point, found[0] if found else far))
    for slit in piece.slits:
        yield from (Mark("stitch", line.name, line.path) for line in slit)
        name = slit[0].name.removesuffix("-upper-a")
        yield Mark("fold", name, Path.straight(slit[0].path.start, slit[2].path.start))


def dart_notches(ring: Bridged, corners: Sequence[Corner]) -> Iterator[Notch]:
    """A notch on the cut line at either end of a dart's mouth, in line with its leg."""
    for i, fold in ring.folds.items():
        for mouth, at in (
            (fold.mouth_a, corners[i - 1].before.point),
            (fold.mouth_b, corners[i].after.point),
        ):
            yield Notch(at, (fold.point - mouth).unit, 1, mouth, fold.name.removesuffix(INNER))


def holes(ring: Bridged, piece: Piece) -> Iterator[tuple[str, Point]]:
    """Where holes are drilled: inside each dart's point, and inside both points and the widest places of inner ones."""
    for fold in ring.folds.values():
        size = fold.mouth_a.to(fold.mouth_b, 0.5).distance(fold.point)
        yield f"{fold.name}-point", fold.point + fold.middle.unit * min(DRILL_HOLE, size / 2.0)
    for slit in piece.slits:
        name = slit[0].name.removesuffix("-upper-a")
        upper, a, lower, b = (line.path.start for line in slit)
        middle = a.to(b, 0.5)
        for called, end in (("upper", upper), ("lower", lower)):
            yield f"{name}-{called}", end.to(middle, min(DRILL_HOLE / end.distance(middle), 0.5))
        for called, end in (("a", a), ("b", b)):
            yield f"{name}-{called}", end.to(middle, min(HOLE_AT_WIDEST / end.distance(middle), 0.5))


def dart_words(piece: Piece, ring: Bridged, unit: Unit) -> tuple[str, ...]:
    """Return a line for each dart of a piece: what it takes in, and where it is pressed; darts alike are told once.

    Two that differ from side to side are told by whose side they are on.
    """
    found: dict[str, dict[str, list[str]]] = {}
    for fold in ring.folds.values():
        way = "pressed down" if _across(fold, piece.grain) else "pressed to the centre"
        says = f"takes in {show_length(fold.intake, unit)}, {way}"
        found.setdefault(_word(fold.name), {}).setdefault(says, []).append(_side(fold.name))
    for slit in piece.slits:
        width = slit[1].path.start.distance(slit[3].path.start)
        says = f"takes in {show_length(width, unit)} at its widest, pressed to the centre"
        name = slit[0].name.removesuffix("-upper-a")
        found.setdefault(_word(name), {}).setdefault(says, []).append(_side(name))
    return tuple(f"{word} dart: {_each(says)}" for word, says in found.items())


def _each(says: Mapping[str, Sequence[str]]) -> str:
    """What is said of the darts of one name, each with its side where that tells them apart."""
    sides = [side for told in says.values() for side in told]
    if len(says) > 1 and all(sides) and len(set(sides)) == len(sides):
        return "; ".join(f"wearer's {side} {words}" for words, (side,) in says.items())
    return " / ".join(says)


def _across(fold: Fold, grain: Point) -> bool:
    inwards = fold.point - fold.mouth_a.to(fold.mouth_b, 0.5)
    return abs(inwards.dot(grain)) < abs(inwards.cross(grain))


def _side(name: str) -> str:
    parts = name.removesuffix(INNER).split("-")
    return next((side.value for side in (Side.LEFT, Side.RIGHT) if side in parts), "")


def _word(name: str) -> str:
    bare = name.removeprefix(PREFIX).removesuffix(INNER)
    return " ".join(part for part in bare.split("-") if part not in (Side.LEFT, Side.RIGHT))
