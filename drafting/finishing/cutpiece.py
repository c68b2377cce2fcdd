"""The cut piece: what finishing makes of a net piece, and what paper, cloth and output draw from."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from drafting.garment.model import INTERFACING
from drafting.geometry import Affine, Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

JOINED_STRIP = TradeValue(5.0, "times", "from memory")
"""As long as it is wide a piece is at least that may be joined of two lengths."""


@dataclass(frozen=True, slots=True)
class CutEdge:
    """One named stretch of the cut outline. ``line`` is the net line it belongs to ("" for a corner)."""

    name: str
    path: Path
    line: str = ""
    allowance: float = 0.0


@dataclass(frozen=True, slots=True)
class Mark:
    """A line drawn inside or on a piece.

    ``kind`` is one of: "stitch", "fold", "level", "adjust", "grain", "stretch", "zone" (a closed outline), "on-fold"
    (the edge laid on the cloth's fold), "side" (an edge beside which its name, "wearer's left", is written: it isn't
    drawn, and marks of one name are places to write it, the best first), "buttonhole" (from its end nearer the edge to
    the other), "placement" (where the edges of an applied piece come to lie), "line" (of a kind that a block
    brings). ``short`` is what is written where the whole name finds no room, "" if it has no shorter one.
    """

    kind: str
    name: str
    path: Path
    short: str = ""


@dataclass(frozen=True, slots=True)
class Notch:
    """A notch on the cut line, at ``at``; ``inward`` is a unit vector into the piece, ``count`` 1 (front) or 2 (back).

    Where a point is marked and nothing is snipped it is 0.
    ``on_stitch`` is the point on the stitch line that must meet the other piece's; ``seam`` names the seam. ``number``
    is what the order of work calls it by; 0 where it names none. ``joins`` are the net pieces whose notches it meets;
    ``meets`` what else marks the place, and in which net piece, "" where two meet. ``name`` is what the place is
    called, "V point" or "zip end", "" for most.
    """

    at: Point
    inward: Point
    count: int
    on_stitch: Point
    seam: str
    number: int = 0
    joins: tuple[str, ...] = ()
    meets: tuple[tuple[str, str], ...] = ()
    name: str = ""


@dataclass(frozen=True, slots=True)
class CutPiece:
    """A piece ready to cut, seen from the right side, in millimetres.

    ``quantity`` is how many are cut in all; ``mirrored`` how many of these are cut turned over (a pair: 2 and 1);
    ``on_fold`` whether the outline is half of the piece, laid on a fold of the cloth.
    ``how`` is the sentence printed on it ("cut 1, single layer, right side up"); ``labels`` are further lines.
    ``code`` is a short letter shown on small prints and on the page map ("A", "B", ...).
    ``stands_for`` names every net piece this print serves (two for a mirrored pair). ``again`` names
    the cloths that it is cut from once more. ``tells`` are the numbers of other pieces' notches that its labels name.
    """

    name: str
    title: str
    code: str
    outline: tuple[CutEdge, ...]
    marks: tuple[Mark, ...]
    notches: tuple[Notch, ...]
    drills: tuple[tuple[str, Point], ...]
    quantity: int
    mirrored: int
    on_fold: bool
    how: str
    labels: tuple[str, ...]
    cloth: str
    grain: Point
    stands_for: tuple[str, ...]
    again: tuple[str, ...] = ()
    tells: tuple[int, ...] = ()

    @property
    def cut_path(self) -> Path:
        """The closed, anticlockwise cut outline."""
        return Path.join(*(edge.path for edge in self.outline))

    def side_by_fold(self, notch: Notch) -> float:
        """Return on which side of a notch that stands on the cloth's fold the piece lies: 1 on the left of its way in.

        -1 on the right, 0 where it stands on no fold: what lies beyond one is cut by the cloth's other layer.
        """
        for fold in (mark.path for mark in self.marks if mark.kind == "on-fold"):
            along = (fold.end - fold.start).unit
            if abs(along.cross(notch.at - fold.start)) <= TOLERANCE.printed:
                middle = Point(*self.cut_path.flatten().mean(axis=0).tolist())
                return math.copysign(1.0, notch.inward.left.dot(middle - notch.at))
        return 0.0

    @property
    def interfaced(self) -> bool:
        """Whether it is cut in interfacing too."""
        return INTERFACING in self.again

    @property
    def is_strip(self) -> bool:
        """Whether it is long and narrow, opened out, as a band: such a piece may be joined of two lengths."""
        x0, y0, x1, y1 = self.cut_path.bounds
        wide, high = x1 - x0, y1 - y0
        fold = next((mark.path for mark in self.marks if mark.kind == "on-fold"), None) if self.on_fold else None
        if fold is not None:
            across = abs((fold.end - fold.start).unit.x)
            wide, high = (wide, high * 2.0) if across > 0.5 else (wide * 2.0, high)
        return JOINED_STRIP * min(wide, high) <= max(wide, high)

    def enlarged(self, times: float) -> CutPiece:
        """Return the piece with all that is drawn on it so many times as large."""
        return self.mapped(Affine(xx=times, yy=times))

    def mapped(self, map_: Affine) -> CutPiece:
        """Return the piece with all that is drawn on it as a map about the origin takes it."""
        alike = map_.xy == map_.yx == 0.0 and map_.xx == map_.yy
        drawn: dict[str, Any] = {
            "outline": tuple(replace(edge, path=edge.path.transformed(map_)) for edge in self.outline),
            "marks": tuple(replace(mark, path=mark.path.transformed(map_)) for mark in self.marks),
            "notches": tuple(
                replace(
                    notch,
                    at=map_.apply(notch.at),
                    on_stitch=map_.apply(notch.on_stitch),
                    inward=notch.inward if alike else map_.apply(notch.inward).unit,
                )
                for notch in self.notches
            ),
            "drills": tuple((name, map_.apply(at)) for name, at in self.drills),
        }
        return replace(self, **drawn)

    @property
    def area(self) -> float:
        """The area inside the cut outline (mm2)."""
        return self.cut_path.area


def letters_on_paper(cut: Iterable[CutPiece]) -> Mapping[str, str]:
    """Return the letter on the paper of each net piece, by its name: a print may serve several."""
    return {name: piece.code for piece in cut for name in piece.stands_for}
