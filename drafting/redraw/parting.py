"""Parting a piece in two along a line: what a style line, a yoke, a panel or a centre seam does to the garment."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from drafting.errors import DraftingError
from drafting.garment import Girth, drop_aims
from drafting.garment.carry import exchange_feature, hand_on, part_features
from drafting.garment.features import Heir
from drafting.garment.lines import part_name
from drafting.garment.model import Garment, Line, Piece, Role, substitute
from drafting.garment.places import Place
from drafting.garment.seam import Seam, SeamKind, Section, Use, usual_stitch
from drafting.geometry import Array, Path, Point, is_inside
from drafting.record import dataclass
from drafting.saying import Name, Words, say
from drafting.sides import Face, Side
from drafting.tolerance import TOLERANCE
from drafting.work.kinds import STYLE

__all__ = ["Cut", "Place", "part_piece", "split_line", "with_split"]


@dataclass(frozen=True, slots=True)
class Cut:
    """The line that parts a piece: from ``start`` to ``end`` on its outline along ``path``.

    ``left`` and ``right`` give the name and title of the part that lies left and right of the path. The new edges are
    named ``name``.
    """

    start: Place
    end: Place
    path: Path
    name: str
    left: tuple[str, Words]
    right: tuple[str, Words]
    role: Role = Role.STYLE
    kind: SeamKind = STYLE


def split_line(line: Line, s: float) -> tuple[Line, ...]:
    """Split a line at an arc length into two parts, 0 and 1 in ring order; at an end the line stays whole."""
    if s <= TOLERANCE.joint or s >= line.path.length - TOLERANCE.joint:
        return (line,)
    one, two = line.path.split(s)
    return line.part(0, one), line.part(1, two)


def with_split(garment: Garment, piece: str, line: str, s: float) -> Garment:
    """Return the garment with a line of a piece split at an arc length; seams, zones and lineage follow."""
    old = garment.piece(piece)
    parts = split_line(old.line(line), s)
    if len(parts) == 1:
        return garment
    ring = tuple(new for each in old.ring for new in (parts if each.name == line else (each,)))
    share = s / old.line(line).path.length
    heirs = (Heir(parts[0].name, 0.0, share), Heir(parts[1].name, share, 1.0))
    new = hand_on(replace(old, ring=ring), {line: heirs})
    uses = {(piece, line): tuple(Use(piece, part.name) for part in parts)}
    swapped = garment.with_(pieces=[new])
    return replace(swapped, seams=substitute(garment.seams, uses))


def part_piece(garment: Garment, piece: str, cut: Cut, title: Words) -> Garment:
    """Part a piece along a line and sew the two parts together again by a new seam named ``cut.name``-piece.

    Lines, seams, zones, levels and marks go with the part they lie on. A part may keep the piece's name. A girth that
    the cut parts in the hollow of an edge, as of a neckline that reaches lower, is none any more: it loses its aim.
    DraftingError where the line leaves the piece or runs along its edge, or where a name is taken.
    """
    _check_names(garment, piece, cut)
    garment, cut = _with_ends(garment, piece, cut)
    old = garment.piece(piece)
    left, right = _rings(old, cut)
    _check(old, left[0].path)
    one, two = (Path.join(*(line.path for line in ring)).flatten() for ring in (left, right))
    shares = [_CutShare(ring, left[0].path, old.outline, (one, two), ring is left) for ring in (left, right)]
    lost = {level.name for level in old.levels if level.girth and shares[0].in_hollow(level.path)}
    over = tuple(level.path for level in old.levels if level.name in lost)
    parts = tuple(
        _make_part(old, names, replace(share, over=over))
        for names, share in zip((cut.left, cut.right), shares, strict=True)
    )
    homes = {ln.name: p.name for p in parts for ln in p.all_lines if ln.name != cut.name}
    uses = {(piece, ln.name): (Use(homes[ln.name], ln.name),) for ln in old.all_lines}
    seam = Seam(
        f"{cut.name}-{piece}",
        cut.kind,
        title,
        (Section(((Use(cut.left[0], cut.name),), (Use(cut.right[0], cut.name, True),)), (0.0, 0.0)),),
        usual_stitch(garment),
    )
    pieces = tuple(new for p in garment.pieces for new in (parts if p.name == piece else (p,)))
    parted = replace(garment, pieces=pieces, seams=(*substitute(garment.seams, uses), seam))
    return _without_girths(parted, lost) if lost else parted


def _without_girths(garment: Garment, names: Iterable[str]) -> Garment:
    """The garment whose levels of some names don't add up to a girth any more."""
    gone = set(names)
    pieces = list(garment.pieces)
    for i, piece in enumerate(pieces):
        for level in piece.levels:
            if level.girth and level.name in gone:
                pieces[i] = exchange_feature(pieces[i], level, replace(level, girth=False))
    return drop_aims(replace(garment, pieces=tuple(pieces)), map(Girth, gone))


def _with_ends(garment: Garment, piece: str, cut: Cut) -> tuple[Garment, Cut]:
    """Split the lines on which the cut starts and ends, and place its ends on the parts."""
    for which in ("end", "start"):
        place: Place = getattr(cut, which)
        length = garment.piece(piece).line(place.line).path.length
        if TOLERANCE.joint < place.s < length - TOLERANCE.joint:
            garment = with_split(garment, piece, place.line, place.s)
            moved = Place(part_name(place.line, 0), place.s)
            other: Place = cut.start if which == "end" else cut.end
            if other.line == place.line:
                beyond = other.s > place.s
                other = Place(part_name(place.line, int(beyond)), other.s - place.s if beyond else other.s)
            cut = replace(cut, end=moved, start=other) if which == "end" else replace(cut, start=moved, end=other)
    return garment, cut


def _corner(piece: Piece, place: Place) -> int:
    """The index of the line that starts at a place which is a corner of the ring."""
    i = piece.index(place.line)
    return i if place.s <= TOLERANCE.joint else (i + 1) % len(piece.ring)


def _rings(piece: Piece, cut: Cut) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    a, b = _corner(piece, cut.start), _corner(piece, cut.end)
    path = cut.path.with_ends(piece.ring[a].path.start, piece.ring[b].path.start)
    edge = Line(cut.name, path, cut.role, Side.NONE, piece.face)
    back = replace(edge, path=path.reversed())
    n = len(piece.ring)

    def between(i: int, j: int) -> tuple[Line, ...]:
        return tuple(piece.ring[k % n] for k in range(i, j if j > i else j + n))

    return (edge, *between(b, a)), (back, *between(a, b))


def _check_names(garment: Garment, piece: str, cut: Cut) -> None:
    """Refuse a cut whose parts or edges would be called as something that is there."""
    others = {p.name for p in garment.pieces if p.name != piece}
    for name in (cut.left[0], cut.right[0]):
        if name in others or cut.left[0] == cut.right[0]:
            raise DraftingError(say("there is a piece called {name:placed} already", name=Name(name)))
    if any(line.name == cut.name for line in garment.piece(piece).all_lines):
        raise DraftingError(
            say("the {piece:placed} has a {name:placed} already", piece=Name(piece), name=Name(cut.name))
        )


def _check(piece: Piece, path: Path) -> None:
    """Refuse a cut that leaves the piece, runs over its edge, or runs along it."""
    outline = piece.outline
    ends = (TOLERANCE.flatten, path.length - TOLERANCE.flatten)
    title = piece.title.lower() or piece.name
    if ends[1] <= ends[0]:
        raise DraftingError(f"the line across the {title} has no length")
    middle = path.at(path.length / 2.0)
    samples = path.points(np.linspace(*ends, 9))
    if all(outline.nearest(Point(x, y))[1] < TOLERANCE.sewn_length for x, y in samples.tolist()):
        raise DraftingError(f"the line runs along an edge of the {title}")
    if path.between(*ends).crossings(outline) or not is_inside(middle, outline.flatten()):
        raise DraftingError(f"the line across the {title} leaves it{_left_over(piece, path.between(*ends))}")
    if any(path.crossings(line.path) for slit in piece.slits for line in slit):
        raise DraftingError(f"the line crosses a dart of the {title}")


def _left_over(piece: Piece, path: Path) -> str:
    """Over which edge a line leaves its piece, and where that lies, in words."""
    crossed = next((line for line in piece.ring if path.crossings(line.path)), None)
    if crossed is None:
        return ""
    word = " ".join(filter(None, (crossed.side, crossed.role)))
    if crossed.role is Role.NECKLINE:
        return f": the {word} reaches lower than the line"
    return f" over its {word}"


@dataclass(frozen=True, slots=True)
class _CutShare:
    """Which of the two parts is being made, so that each stretch and mark goes to one part and to one only.

    ``over`` are the levels that the cut parts over the hollow of an edge.
    """

    ring: tuple[Line, ...]
    cut: Path
    whole: Path
    outlines: tuple[Array, Array]
    is_left: bool
    over: tuple[Path, ...] = ()

    @property
    def reach(self) -> Path:
        """The cut drawn on a little at both ends, so that it parts what lies in the edge where it ends."""
        return self.cut.extended(TOLERANCE.flatten, TOLERANCE.flatten)

    def has_line(self, name: str) -> bool:
        """Whether a line, or a part of it, bounds this part."""
        return any(line.answers_to(name) for line in self.ring)

    def stretches(self, path: Path) -> tuple[Path, ...]:
        """The stretches of a path, parted where it crosses the cut, that belong to this part."""
        if any(path is each for each in self.over):
            return self.beside_hollow(path)
        stretches = path.cut_at(path.cuts_by((self.reach,), TOLERANCE.flatten))
        return tuple(p for p in stretches if self.holds(p.at(p.length / 2.0)))

    def in_hollow(self, path: Path) -> bool:
        """Whether the cut parts a path where that runs outside the piece, over the hollow of an edge."""
        return (
            self.holds(path.start) is not self.holds(path.end)
            and not path.cuts_by((self.reach,), TOLERANCE.flatten)
            and len(path.cuts_by((self.whole,), TOLERANCE.flatten)) > 1
        )

    def beside_hollow(self, path: Path) -> tuple[Path, ...]:
        """The stretches of a path over a hollow that lie within this part."""
        found = path.cut_at(path.cuts_by((self.whole,), TOLERANCE.flatten))
        middles = [(p, p.at(p.length / 2.0)) for p in found]
        return tuple(p for p, at in middles if any(is_inside(at, o) for o in self.outlines) and self.holds(at))

    def holds(self, point: Point) -> bool:
        """Whether a point of the old piece belongs to this part; on its edge that hangs on the side of the cut."""
        if is_inside(point, self.outlines[0]):
            return self.is_left
        if is_inside(point, self.outlines[1]):
            return not self.is_left
        s, _ = self.cut.nearest(point)
        return (self.cut.tangent(s).cross(point - self.cut.at(s)) > 0.0) is self.is_left


def _make_part(old: Piece, called: tuple[str, Words], share: _CutShare) -> Piece:
    sides = {line.side for line in share.ring if line.side is not Side.NONE}
    side = sides.pop() if len(sides) == 1 else old.side
    part_of_it = replace(old, name=called[0], title=called[1], ring=share.ring, side=side, face=old.face or Face.NONE)
    return part_features(part_of_it, share)
