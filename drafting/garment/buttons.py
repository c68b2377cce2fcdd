"""Buttons and buttonholes on a piece: marked points, so that whatever is done to the piece carries them along.

A button is one drill mark, where it is sewn on; a buttonhole is two, its ends.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from drafting.garment.features import Drill
from drafting.geometry import Path, Point

BUTTON, HOLE = "button-", "buttonhole-"
_ENDS = ("-outer", "-inner")


def button(number: int, at: Point) -> Drill:
    """Return the mark of a button."""
    return Drill(f"{BUTTON}{number}", at)


def buttonhole(number: int, outer: Point, inner: Point) -> tuple[Drill, Drill]:
    """Return the marks of a buttonhole, the end nearer the edge (or the neck) first."""
    return Drill(f"{HOLE}{number}{_ENDS[0]}", outer), Drill(f"{HOLE}{number}{_ENDS[1]}", inner)


def is_buttonhole(drill: Drill) -> bool:
    """Whether a mark is an end of a buttonhole."""
    return drill.name.startswith(HOLE)


def buttons(drills: Iterable[Drill]) -> Mapping[str, Point]:
    """Return the buttons among some marks, by name."""
    return {drill.name: drill.at for drill in drills if drill.name.startswith(BUTTON)}


def buttonholes(drills: Iterable[Drill]) -> Mapping[str, Path]:
    """Return the buttonholes among some marks, by name, each from its outer to its inner end.

    One of which only an end is left, as where a piece was cut through it, is left out.
    """
    ends = {drill.name: drill.at for drill in drills if is_buttonhole(drill)}
    names = dict.fromkeys(name.removesuffix(_ENDS[0]).removesuffix(_ENDS[1]) for name in ends)
    pairs = {name: (ends.get(name + _ENDS[0]), ends.get(name + _ENDS[1])) for name in names}
    return {name: Path.straight(a, b) for name, (a, b) in pairs.items() if a is not None and b is not None}
