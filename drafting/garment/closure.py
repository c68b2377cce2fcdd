"""Closures: where a garment opens for a zip or for buttons; and the marks of buttons and buttonholes on its pieces.

A button is one mark, where it is sewn on; a buttonhole is two, its ends: points, so that whatever is done to the piece
carries them along.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from drafting.garment.features import Drill, PointFeature
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.sides import Face, Side, swap_sides


@dataclass(frozen=True, slots=True)
class Closure:
    """Where a garment opens: at the centre of a face or at a side; its two edges are each held by a seam of that name.

    ``passes`` is the girth (mm) where it ends, which the body must pass, if it does; ``button`` is the diameter of its
    buttons (mm) and ``hole`` the length of its buttonholes, 0 where it has none.
    """

    place: Side | Face
    seams: tuple[str, str]
    passes: float | None = None
    button: float = 0.0
    hole: float = 0.0

    @property
    def mirrored(self) -> Closure:
        """The closure on the wearer's other side."""
        one, two = map(swap_sides, self.seams)
        place = self.place.other if isinstance(self.place, Side) else self.place
        return replace(self, place=place, seams=(one, two))


@dataclass(frozen=True, slots=True)
class ClosureEnd(PointFeature):
    """Where a closure ends, on the edge that it opens: up to there the seam below is sewn."""


@dataclass(frozen=True, slots=True)
class ButtonMark(Drill):
    """Where a button is sewn on."""


@dataclass(frozen=True, slots=True)
class HoleEnd(Drill):
    """An end of the buttonhole of a number: the ``outer``, nearer the edge (or the neck), or the inner."""

    number: int
    outer: bool


def button(number: int, at: Point) -> ButtonMark:
    """Return the mark of a button."""
    return ButtonMark(f"button-{number}", at)


def buttonhole(number: int, outer: Point, inner: Point) -> tuple[HoleEnd, HoleEnd]:
    """Return the marks of a buttonhole, the end nearer the edge (or the neck) first."""
    name = f"buttonhole-{number}"
    return HoleEnd(f"{name}-outer", outer, number, True), HoleEnd(f"{name}-inner", inner, number, False)


def buttons(marks: Iterable[PointFeature]) -> Mapping[str, Point]:
    """Return the buttons among some marks, by name."""
    return {mark.name: mark.at for mark in marks if isinstance(mark, ButtonMark)}


def buttonholes(marks: Iterable[PointFeature]) -> Mapping[str, Path]:
    """Return the buttonholes among some marks, by name, each from its outer to its inner end.

    One of which only an end is left, as where a piece was cut through it, is left out.
    """
    ends = {(mark.number, mark.outer): mark.at for mark in marks if isinstance(mark, HoleEnd)}
    pairs = {n: (ends.get((n, True)), ends.get((n, False))) for n in dict.fromkeys(number for number, _ in ends)}
    return {f"buttonhole-{n}": Path.straight(a, b) for n, (a, b) in pairs.items() if a is not None and b is not None}
