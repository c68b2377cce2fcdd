"""Carrying a piece: the one place where what lies within a piece, its features, is moved, parted and added to.

An operation says how the cloth moves (`Motion`), which part of a cut piece is meant (`Share`), how edges were drawn
anew, or whose heirs a line has; every feature follows by its own rule (``garment.features``), of whatever kind it is.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from drafting.garment.edges import RedrawnEdges
from drafting.garment.features import Feature, Heirs, Joint, MirrorImage, Motion, PathFeature, Share
from drafting.garment.model import Piece
from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass

T = TypeVar("T")

Which = Callable[[Feature], bool]
"""Which features an operation is for; the others stay as they are."""


def every(feature: Feature) -> bool:
    """Tell that a feature is meant: each is."""
    return True


def only(*kinds: type[Feature], called: Collection[str] | None = None) -> Which:
    """Return what tells that features of some kinds are meant, or those of them that have one of some names."""
    return lambda feature: isinstance(feature, kinds) and (called is None or feature.called() in called)


def all_but(*kinds: type[Feature]) -> Which:
    """Return what tells that all but features of some kinds are meant."""
    return lambda feature: not isinstance(feature, kinds)


# motions


@dataclass(frozen=True, slots=True)
class AffineMotion:
    """The motion of a whole piece by an affine map."""

    by: Affine

    def point(self, at: Point) -> Point:
        """Return where a point goes."""
        return self.by.apply(at)

    def path(self, path: Path) -> Path:
        """Return where a path goes; the very same where nothing moves."""
        return path if self.by == Affine() else path.transformed(self.by)


@dataclass(frozen=True, slots=True)
class Redrawing:
    """No motion of the cloth: lines upon it are drawn again by a rule, points stay."""

    rule: Callable[[Path], Path]

    def point(self, at: Point) -> Point:
        """Return the point."""
        return at

    def path(self, path: Path) -> Path:
        """Return a path as it is drawn again."""
        return self.rule(path)


@dataclass(frozen=True, slots=True)
class RuledMotion:
    """A motion after which straight lines are ruled straight again between their new ends, as a cutter would."""

    motion: Motion

    def point(self, at: Point) -> Point:
        """Return where a point goes."""
        return self.motion.point(at)

    def path(self, path: Path) -> Path:
        """Return where a path goes, straight if it was."""
        moved = self.motion.path(path)
        return moved if moved is path or not path.is_straight else Path.straight(moved.start, moved.end)


@dataclass(frozen=True, slots=True)
class PartAbove:
    """The part of a piece that is left where all that begins at the height ``y`` (mm) or below it goes."""

    y: float

    def holds(self, at: Point) -> bool:
        """Tell whether a point is left."""
        return at.y > self.y

    def stretches(self, path: Path) -> Sequence[Path]:
        """Return a path whole if it begins above."""
        return (path,) if self.holds(path.start) else ()

    def has_line(self, name: str) -> bool:
        """Tell that a line is left: the outline is drawn already."""
        return True


# operations


def move_piece(piece: Piece, motion: Motion) -> Piece:
    """Return the piece moved with all that lies in it, its outline too."""
    ring = tuple(line.along(motion.path(line.path)) for line in piece.ring)
    return carry_features(replace(piece, ring=ring), motion)


def carry_features(piece: Piece, motion: Motion, which: Which = every) -> Piece:
    """Return the piece, its outline drawn by a rule of its own, with what lies within carried by a motion."""
    return _change_each(piece, lambda feature: (feature.moved(motion) if which(feature) else feature,))


def part_features(piece: Piece, share: Share, which: Which = every) -> Piece:
    """Return one part of a piece, its outline drawn already, with what that part keeps of what lies within."""
    return _change_each(piece, lambda feature: feature.parted(share) if which(feature) else (feature,))


def take_apart(piece: Piece, parts: Sequence[tuple[Share, Motion]]) -> Piece:
    """Return the piece with each of its parts carried by a motion of its own, what ran over a cut in stretches."""
    return _change_each(piece, lambda feature: _take_apart(feature, parts))


def _take_apart(feature: Feature, parts: Sequence[tuple[Share, Motion]]) -> Iterable[Feature]:
    """The stretches of a feature, in their order along it where it is a path, each carried by its part's motion."""
    kept = [(each, motion) for share, motion in parts for each in feature.parted(share)]
    if isinstance(feature, PathFeature) and len(kept) > 1:
        kept.sort(key=lambda pair: _place_along(feature, pair[0]))
    return (each.moved(motion) for each, motion in kept)


def _place_along(whole: PathFeature, stretch: Feature) -> float:
    return whole.path.nearest(stretch.path.start)[0] if isinstance(stretch, PathFeature) else 0.0


def follow_edges(old: Piece, new: Piece) -> Piece:
    """Return ``new`` with what lies within it met with the edges that differ from those of ``old``.

    Where the two haven't got the same features, ``new`` is left as it is.
    """
    edges = RedrawnEdges.of(old, new)
    if not edges.edges or len(old.features) != len(new.features):
        return new
    was = {id(now): before for before, now in zip(old.features, new.features, strict=True)}
    return _change_each(new, lambda feature: (feature.followed(was[id(feature)], edges),))


def hand_on(piece: Piece, heirs: Heirs) -> Piece:
    """Return the piece, lines of whose outline were replaced by others, with what lay along them along their heirs.

    What two lines had alike, their heir has once.
    """
    made = _change_each(piece, lambda feature: feature.inherited(heirs))
    return piece if made is piece else _with_all(piece, list(dict.fromkeys(made.features)))


def join_features(piece: Piece, joint: Joint, which: Which = every) -> Piece:
    """Return the piece with features that are one made one: each takes the place of its first stretch."""
    out: list[Feature] = []
    for feature in piece.features:
        for i, other in enumerate(out):
            one = other.joined(feature, joint) if type(other) is type(feature) and which(feature) else None
            if one is not None:
                out[i] = one
                break
        else:
            out.append(feature)
    return piece if len(out) == len(piece.features) else join_features(_with_all(piece, out), joint, which)


def mirror_piece(piece: Piece, image: MirrorImage) -> Piece:
    """Return the mirror image of a piece: its ring run the other way, a pair of features in the order it had."""
    ring = tuple(image.line(line) for line in reversed(piece.ring))
    new = [feature.mirrored(image) for feature in piece.features]
    out = list(new)
    for kind in {type(feature) for feature in new}:
        at = [i for i, feature in enumerate(new) if type(feature) is kind]
        own = keep_order([piece.features[i].called() for i in at], [(new[i].called(), new[i]) for i in at])
        for i, feature in zip(at, own, strict=True):
            out[i] = feature
    return _with_all(replace(piece, ring=ring), out)


def keep_order(old: Sequence[str], new: Sequence[tuple[str, T]]) -> tuple[T, ...]:
    """Return what has new names where the old of that name stood, so that a pair keeps left and right in order.

    Where names stand more than once, each keeps its place.
    """
    at: Mapping[str, int] = {name: i for i, name in enumerate(old)}
    if len(at) < len(old):
        return tuple(item for _, item in new)
    slots = [at.get(name, i) for i, (name, _) in enumerate(new)]
    return tuple(item for _, (_, item) in sorted(zip(slots, new, strict=True), key=lambda pair: pair[0]))


def with_features(piece: Piece, features: Iterable[Feature]) -> Piece:
    """Return the piece with features added."""
    return _with_all(piece, (*piece.features, *features))


def with_only(piece: Piece, kind: type[Feature], features: Iterable[Feature]) -> Piece:
    """Return the piece with these features instead of all that it had of a kind."""
    return with_features(drop_features(piece, only(kind)), features)


def drop_features(piece: Piece, gone: Which) -> Piece:
    """Return the piece without the features that are meant; the very same where there are none."""
    return _change_each(piece, lambda feature: () if gone(feature) else (feature,))


def exchange_feature(piece: Piece, old: Feature, *new: Feature) -> Piece:
    """Return the piece with one feature exchanged for another or several, in its place."""
    return _change_each(piece, lambda feature: new if feature is old else (feature,))


def _change_each(piece: Piece, rule: Callable[[Feature], Iterable[Feature]]) -> Piece:
    return _with_all(piece, [made for feature in piece.features for made in rule(feature)])


def _with_all(piece: Piece, features: Sequence[Feature]) -> Piece:
    same = len(features) == len(piece.features)
    if same and all(new is old for new, old in zip(features, piece.features, strict=True)):
        return piece
    return replace(piece, features=tuple(features))
