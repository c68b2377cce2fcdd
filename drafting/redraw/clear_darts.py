"""A new line that runs over the end of a dart: the dart ends short of it, as a cutter ends a dart at a seam.

A dart loses so little that way that its cone is hardly shorter (common practice). A line that crosses a dart farther
from its points would part it in two; that is refused, with how far off the line runs clear.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from drafting.errors import CannotDraft
from drafting.garment import Line, Piece, Slit
from drafting.garment.carry import drop_features, with_features
from drafting.garment.darts import Dart, dart_of, darts_of
from drafting.geometry import Path, Point
from drafting.redraw.mouths import true_mouth
from drafting.saying import say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

CLEAR_OF_SEAM = TradeValue(6.0, "mm", "from memory")
"""Short of a seam that a dart ends, so that its point isn't caught in it."""

SHORTENED = TradeValue(0.35, "share", "from memory")
"""Of a dart's way from its point to its widest place that it may lose at most: more would make it blunt."""


def end_darts_short(piece: Piece, path: Path) -> Piece:
    """Return the piece with darts whose ends a line crosses ending short of it.

    CannotDraft where it crosses one farther in.
    """
    for called in [dart.name for dart in darts_of(piece)]:
        dart = dart_of(piece, called)
        crossed = [found.point for line in dart.lines for found in path.crossings(line.path)]
        if crossed:
            piece = _shorten(piece, dart, crossed)
    return piece


def _shorten(piece: Piece, dart: Dart, crossed: Sequence[Point]) -> Piece:
    """The piece with one dart ending short of where its legs were crossed."""
    tips = [dart.point, *([dart.lower] if dart.lower is not None else [])]
    ways = {tip: max(_along(dart, tip, at) for at in crossed) for tip in tips}
    tip = min(tips, key=lambda each: ways[each])
    lost, whole = ways[tip] + CLEAR_OF_SEAM, tip.distance(dart.middle)
    if lost > SHORTENED * whole or len(dart.lines) != (4 if dart.inside else 2):
        _refuse(dart, ways)
    end = tip + (dart.middle - tip).unit * lost
    lines = _redraw(dart, tip, end)
    if dart.inside:
        return with_features(drop_features(piece, lambda each: _is_slit_of(each, dart)), (Slit(lines),))
    drawn = {line.name: line for line in lines}
    return true_mouth(replace(piece, ring=tuple(drawn.get(line.name, line) for line in piece.ring)), dart.name)


def _along(dart: Dart, tip: Point, at: Point) -> float:
    """How far (mm) along a dart, from one of its points, a place on its legs lies."""
    return (at - tip).dot((dart.middle - tip).unit)


def _redraw(dart: Dart, tip: Point, end: Point) -> tuple[Line, ...]:
    """A dart's lines with one of its points elsewhere."""
    corners = [line.path.start for line in dart.lines] + [dart.lines[-1].path.end]
    new = [end if corner.near(tip, TOLERANCE.joint) else corner for corner in corners]
    paths = [Path.straight(a, b) for a, b in pairwise(new)]
    return tuple(replace(line, path=path) for line, path in zip(dart.lines, paths, strict=True))


def _is_slit_of(feature: object, dart: Dart) -> bool:
    return isinstance(feature, Slit) and feature.lines[0].dart == dart.called


def _refuse(dart: Dart, ways: dict[Point, float]) -> None:
    if dart.lower is None:
        clear = say("{by} nearer to the dart's point", by=tape(ways[dart.point]))
    else:
        clear = say("{up} higher or {down} lower", up=tape(ways[dart.point]), down=tape(ways[dart.lower]))
    raise CannotDraft(
        ("start", "end"),
        say("the line crosses the {dart}, which it would part", dart=dart.title),
        help=say("let it run {clear}, past the dart's end; or make a seam of the dart instead", clear=clear),
    )
