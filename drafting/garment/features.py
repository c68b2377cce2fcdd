"""What lies within a piece, and how it follows whatever becomes of the piece: one protocol for every kind.

A block may bring a kind of its own: most are a `PointFeature` or a `PathFeature` with a type of its own to be found
by (``piece.of_kind(Kind)``), and need no line more. The operations are those of ``garment.carry``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from enum import StrEnum
from typing import Protocol, Self

from drafting.garment.lines import Line
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import Words
from drafting.sides import Side
from drafting.tolerance import TOLERANCE


class Motion(Protocol):
    """How the cloth of a piece moves: a path that doesn't move is returned as the very same path."""

    def point(self, at: Point) -> Point:
        """Return where a point of the cloth goes."""
        ...

    def path(self, path: Path) -> Path:
        """Return where a path on the cloth goes."""
        ...


class MirrorImage(Motion, Protocol):
    """A mirror image: a motion that changes the sides that names and words speak of, too."""

    def name(self, name: str) -> str:
        """Return the name of the image of what has a name."""
        ...

    def line(self, line: Line) -> Line:
        """Return the image of a line."""
        ...

    def words(self, words: Words) -> Words:
        """Return what is said as it is said of the image."""
        ...


class Share(Protocol):
    """What one part of a piece that is cut keeps of it."""

    def holds(self, at: Point) -> bool:
        """Tell whether a point lies in this part."""
        ...

    def stretches(self, path: Path) -> Sequence[Path]:
        """Return the stretches of a path that lie in this part; the very same path where all of it does."""
        ...

    def has_line(self, name: str) -> bool:
        """Tell whether a line of the outline, or a part of it, belongs to this part."""
        ...


class EdgeMeeting(Protocol):
    """The edges of a piece as they were, and as they were drawn anew."""

    def met(self, old: Path, path: Path) -> Path:
        """Return a path, which was ``old``, with the ends that lay on edges drawn on to them, or cut back, again."""
        ...


@dataclass(frozen=True, slots=True)
class Heir:
    """A line that takes over a stretch of an older one: from ``low`` to ``high`` of that, ``start`` to ``end`` of it.

    All four are shares 0..1.
    """

    line: str
    low: float = 0.0
    high: float = 1.0
    start: float = 0.0
    end: float = 1.0


Heirs = Mapping[str, Sequence[Heir]]
"""The heirs of each line that is gone, by its name."""

Joint = Callable[[Path, Path], Path | None]
"""How two paths that run on in each other become one; None where they don't."""


class Feature(Protocol):
    """Something that lies within a piece: each kind says how it moves, is parted and mirrored."""

    __slots__ = ()

    def moved(self, motion: Motion) -> Self:
        """Return it where a motion of the cloth takes it."""
        ...

    def parted(self, share: Share) -> Sequence[Self]:
        """Return what one part of a cut piece keeps of it."""
        ...

    def mirrored(self, image: MirrorImage) -> Self:
        """Return its mirror image."""
        ...

    def followed(self, old: Self, edges: EdgeMeeting) -> Self:
        """Return it, which was ``old``, as it meets edges that were drawn anew."""
        return self

    def inherited(self, heirs: Heirs) -> Sequence[Self]:
        """Return it where lines of the outline were parted, joined or replaced by others."""
        return (self,)

    def joined(self, other: Feature, joint: Joint) -> Self | None:
        """Return it and another of its kind as one; None where they aren't stretches that run on in each other."""
        return None

    def called(self) -> str:
        """Return its name, by which a mirror image takes the place of the one on the other side; "" without one."""
        return ""


@dataclass(frozen=True, slots=True)
class PointFeature(Feature):
    """A point of the cloth with a name."""

    name: str
    at: Point

    def called(self) -> str:
        """Return its name."""
        return self.name

    def moved(self, motion: Motion) -> Self:
        """Return it where its point goes."""
        at = motion.point(self.at)
        return self if at == self.at else replace(self, at=at)

    def parted(self, share: Share) -> Sequence[Self]:
        """Return it if the part holds its point."""
        return (self,) if share.holds(self.at) else ()

    def mirrored(self, image: MirrorImage) -> Self:
        """Return it at the image of its point."""
        return replace(self, name=image.name(self.name), at=image.point(self.at))


@dataclass(frozen=True, slots=True)
class PathFeature(Feature):
    """A path on the cloth with a name."""

    name: str
    path: Path

    def called(self) -> str:
        """Return its name."""
        return self.name

    def along(self, path: Path) -> Self:
        """Return it along another path; the very same where that is its own."""
        return self if path is self.path else replace(self, path=path)

    def moved(self, motion: Motion) -> Self:
        """Return it where its path goes."""
        return self.along(motion.path(self.path))

    def parted(self, share: Share) -> Sequence[Self]:
        """Return its stretches in the part."""
        return tuple(self.along(path) for path in share.stretches(self.path))

    def mirrored(self, image: MirrorImage) -> Self:
        """Return it along the image of its path."""
        return replace(self, name=image.name(self.name), path=image.path(self.path))

    def followed(self, old: Self, edges: EdgeMeeting) -> Self:
        """Return it with the ends that lay on edges on them again."""
        return self.along(edges.met(old.path, self.path))

    def joined(self, other: Feature, joint: Joint) -> Self | None:
        """Return two that differ in nothing but their paths as one, where those run on in each other."""
        if not isinstance(other, type(self)) or replace(self, path=other.path) != other:
            return None
        path = joint(self.path, other.path)
        return None if path is None else self.along(path)


@dataclass(frozen=True, slots=True)
class Level(PathFeature):
    """A line across a piece at a height of the body ("bust", "waist", "hip", "upper-arm", "wrist", ...).

    ``girth`` says that the lengths of all levels of this name, over all pieces of ``side`` (or all pieces),
    add up to a girth of the finished garment. ``full`` is how round the armhole between whose ends an across level lies
    is drawn at the underarm (a share of its width there), for changes to draw it alike; None of one drawn otherwise.
    """

    girth: bool = True
    side: Side = Side.NONE
    full: float | None = None

    def mirrored(self, image: MirrorImage) -> Level:
        """Return it on the other side."""
        return replace(self, name=image.name(self.name), path=image.path(self.path), side=self.side.other)


@dataclass(frozen=True, slots=True)
class Adjust(PathFeature):
    """A lengthen/shorten line: a path across the piece, square to the way it grows."""


@dataclass(frozen=True, slots=True)
class Drill(PointFeature):
    """A marked point inside a piece (a bust point, a dart point)."""


@dataclass(frozen=True, slots=True)
class BustPoint(Drill):
    """The point of the bust, which darts turn about."""


class StayCut(StrEnum):
    """How a stay is cut: bought as tape, or a strip along the cloth or on its bias."""

    TAPE = "tape"
    STRAIGHT = "straight"
    BIAS = "bias"


@dataclass(frozen=True, slots=True)
class Zone(Feature):
    """A strip to be stabilised, ``width`` mm wide along a line, from ``start`` to ``end`` (shares 0..1 of it).

    ``taped``: a tape is sewn in, which holds the edge at its length; else it is only stay-stitched. ``cut`` is how a
    strip of the stay cloth is cut for it; bought as tape it is ``StayCut.TAPE``.
    """

    line: str
    width: float
    reason: Words
    start: float = 0.0
    end: float = 1.0
    taped: bool = True
    cut: StayCut = StayCut.TAPE

    def called(self) -> str:
        """Return the name of its line."""
        return self.line

    def moved(self, motion: Motion) -> Zone:
        """Return it as it is: it lies where its line does."""
        return self

    def parted(self, share: Share) -> Sequence[Zone]:
        """Return it if the part has its line."""
        return (self,) if share.has_line(self.line) else ()

    def mirrored(self, image: MirrorImage) -> Zone:
        """Return it along the image of its line, which runs the other way."""
        start, end = 1.0 - self.end, 1.0 - self.start
        return replace(self, line=image.name(self.line), reason=image.words(self.reason), start=start, end=end)

    def inherited(self, heirs: Heirs) -> Sequence[Zone]:
        """Return it along each heir of its line, over the stretch of it that the heir took over."""
        if self.line not in heirs:
            return (self,)
        return tuple(
            replace(self, line=line, start=start, end=end)
            for line, start, end, _ in _inherit(self.start, self.end, heirs[self.line])
        )

    def joined(self, other: Feature, joint: Joint) -> Zone | None:
        """Return two that meet on one line as one."""
        if not isinstance(other, Zone) or replace(self, start=other.start, end=other.end) != other:
            return None
        meets = self.start <= other.start <= self.end + TOLERANCE.joint
        return replace(self, end=max(self.end, other.end)) if meets else None


def _inherit(start: float, end: float, heirs: Sequence[Heir]) -> Iterator[tuple[str, float, float, float]]:
    """Yield each heir of a stretch of a line, where the stretch lies on it, and which share of the stretch."""
    for heir in heirs:
        low, high = max(start, heir.low), min(end, heir.high)
        if high > low:
            scale = (heir.end - heir.start) / (heir.high - heir.low)
            first, last = (heir.start + (at - heir.low) * scale for at in (low, high))
            yield heir.line, first, last, (high - low) / (end - start)


@dataclass(frozen=True, slots=True)
class Gathers(Feature):
    """Fullness, ``by`` mm of a line's stretch from ``start`` to ``end`` (shares 0..1 of it).

    It is drawn up before anything is sewn there.
    """

    line: str
    by: float
    start: float = 0.0
    end: float = 1.0

    def called(self) -> str:
        """Return the name of its line."""
        return self.line

    def moved(self, motion: Motion) -> Gathers:
        """Return it as it is: it lies where its line does."""
        return self

    def parted(self, share: Share) -> Sequence[Gathers]:
        """Return it if the part has its line."""
        return (self,) if share.has_line(self.line) else ()

    def mirrored(self, image: MirrorImage) -> Gathers:
        """Return it along the image of its line, which runs the other way."""
        return Gathers(image.name(self.line), self.by, 1.0 - self.end, 1.0 - self.start)

    def inherited(self, heirs: Heirs) -> Sequence[Gathers]:
        """Return it along each heir of its line, shared as its stretch is."""
        if self.line not in heirs:
            return (self,)
        found = _inherit(self.start, self.end, heirs[self.line])
        return tuple(Gathers(line, self.by * share, start, end) for line, start, end, share in found)


class WholePieceFeature(Feature):
    """Something said of a piece as a whole, wherever its cloth goes: each part of it has it."""

    __slots__ = ()

    def moved(self, motion: Motion) -> Self:
        """Return it."""
        return self

    def parted(self, share: Share) -> Sequence[Self]:
        """Return it: each part has it."""
        return (self,)

    def mirrored(self, image: MirrorImage) -> Self:
        """Return it."""
        return self


@dataclass(frozen=True, slots=True)
class DroppingEdge(WholePieceFeature):
    """Marks a piece whose lower edge turns through the bias, and drops there: it hangs before it is levelled."""


@dataclass(frozen=True, slots=True)
class SleeveCap(WholePieceFeature):
    """What kind of cap a sleeve is to have, and between which shares of its armhole that is high."""

    kind: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Slit(Feature):
    """An opening within a piece that is sewn shut, as a dart with two points is.

    It is a closed ring of lines, run clockwise, so that the piece lies to the left of each of them too.
    """

    lines: tuple[Line, ...]

    def moved(self, motion: Motion) -> Slit:
        """Return it with its corners moved; a straight line is ruled straight again between them."""
        lines = tuple(line.along(_rule_straight(line.path, motion)) for line in self.lines)
        return self if all(new is old for new, old in zip(lines, self.lines, strict=True)) else Slit(lines)

    def parted(self, share: Share) -> Sequence[Slit]:
        """Return it if the part holds its first corner: no cut runs over a slit."""
        return (self,) if share.holds(self.lines[0].path.start) else ()

    def mirrored(self, image: MirrorImage) -> Slit:
        """Return its image, run the other way so that it runs clockwise again."""
        return Slit(tuple(image.line(line) for line in reversed(self.lines)))


def _rule_straight(path: Path, motion: Motion) -> Path:
    if not path.is_straight:
        return motion.path(path)
    start, end = motion.point(path.start), motion.point(path.end)
    return path if (start, end) == (path.start, path.end) else Path.straight(start, end)
