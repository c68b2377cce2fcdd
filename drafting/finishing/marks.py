"""What is drawn inside a piece: stitch and fold lines, levels, zones, the grain and the greatest stretch.

Where an applied piece is to lie, its outline is drawn and a point marked on the cloth at each end of it (a tack or a
drilled hole, common practice); the line between them is the opening.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import numpy as np

from drafting.errors import GeometryError
from drafting.finishing.allowance import ON_FOLD, NetEdge
from drafting.finishing.clipping import clip_paths, columns
from drafting.finishing.cutpiece import CutEdge, Mark
from drafting.finishing.folds import Unfolded
from drafting.finishing.levels import level_marks
from drafting.finishing.parallels import Parallels
from drafting.finishing.trim import Trim, find_hits, trim_line
from drafting.garment import Adjust, Applied, Fate, Garment, Level, PathFeature, Piece, Role, Zone, balance_marks
from drafting.garment.balance import MITRE
from drafting.garment.closure import buttonholes, buttons
from drafting.garment.named_marks import name_marks
from drafting.garment.places import stay_reach
from drafting.geometry import Array, Path, Point, lengths_along, turn
from drafting.saying import Name, say, shorten
from drafting.sides import sideless
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row
from drafting.units import Unit, show_length

COLUMNS = trade_row((0.38, 0.44, 0.32, 0.58, 0.64, 0.7, 0.25, 0.5), "share", "from memory")
"""Of a piece's width at which a grain arrow may stand, best first: clear of the centre, where folds are."""

ROWS = trade_row((0.3, 0.26, 0.34, 0.22, 0.38, 0.18, 0.42, 0.46, 0.5), "share", "from memory")
"""Of its length at which the stretch arrow may cross the grain arrow, best first."""

BETTER = TradeValue(1.1, "times", "from memory")
"""The room, that a place farther down the list must offer to be taken."""

CLEAR = TradeValue(0.06, "share", "from memory")
"""Of the room that is left free at each end of the grain arrow."""

GRAIN_SHARE = TradeValue(0.6, "share", "from memory")
"""Of the room that a grain arrow takes: a line as long as the piece reads as one to cut along."""

GRAIN_ENOUGH = TradeValue(100.0, "mm", "from memory")
"""Of grain arrow at least, where there is room: from ends nearer each other the selvedge can't be measured to well."""

GRAIN_LONGEST = TradeValue(400.0, "mm", "from memory")
"""Of grain arrow at most: its ends are on the pages that it crosses, or on the next."""

STRETCH_APART = TradeValue(14.0, "mm", "from memory")
"""That the stretch arrow keeps from levels and lengthen/shorten lines, where it can."""

SHORT_ARROW = TradeValue(60.0, "mm", "from memory")
"""Of grain arrow at least to have the stretch arrow across it, which else stands beside it; a shorter stretch arrow
stands beyond the grain arrow's end."""

CLEAR_OF_ARROW = TradeValue(9.0, "mm", "from memory")
"""From a short grain arrow at which the stretch arrow stands beside it."""

NEARBY = TradeValue(2.5, "times", "from memory")
"""Its width, from its own end, that a stiffened strip may end on a neighbouring edge or at a corner."""

STRETCH_LONGEST = TradeValue(120.0, "mm", "from memory")
"""Of stretch arrow at most: it is a sign and not a measure."""


def marks(
    piece: Piece,
    shown: Unfolded,
    outline: Sequence[CutEdge],
    parallels: Parallels,
    *,
    stretches: bool = True,
) -> tuple[Mark, ...]:
    """Return the marks of a piece, given what is shown of its net edges, halved or opened out, and its cut outline.

    ``stretches``: whether its cloth gives enough for the greatest stretch to be shown.
    """
    edges, folds = shown.edges, shown.folds
    polygon = net_polygon(edges)
    found = [*_lines(piece, edges, folds)]
    found += (Mark("on-fold", edge.name, edge.path) for edge in outline if edge.name == ON_FOLD)
    found += _lines_across(piece, edges, polygon, [path for _, path in folds])
    found += (mark for zone in piece.zones for mark in _draw_zone(zone, edges, parallels))
    found += placement_marks(piece, polygon)
    taken = [mark.path.start.dot(piece.grain.unit) for mark in found if mark.kind in ("level", "adjust")]
    slits = [np.concatenate([line.path.flatten() for line in slit]) for slit in piece.slits]
    found += _arrows(polygon, piece.grain, taken, slits, stretches)
    return tuple(found)


def net_polygon(edges: Sequence[NetEdge]) -> Array:
    """Return the net outline as a polygon, shape (m, 2), without the closing point."""
    return Path.join(*(edge.path for edge in edges)).flatten()[:-1]


def _lines(piece: Piece, edges: Sequence[NetEdge], folds: Sequence[tuple[str, Path]]) -> Iterator[Mark]:
    for i, edge in enumerate(edges):
        if edge.fate is Fate.HEMMED:
            yield Mark("fold", edge.name, edge.path)
        elif _is_lapped(edge):
            yield Mark("line", _name_lapped(piece, edge), edge.path)
        elif edge.stitched:
            yield Mark("stitch", edge.name, edge.path)
            before, after = edges[i - 1], edges[(i + 1) % len(edges)]
            yield from _stitch_stand(edge, edge.path.start, edge.path.tangent(0.0) * -1.0, before)
            yield from _stitch_stand(edge, edge.path.end, edge.path.tangent(edge.path.length), after)
        if edge.stitched and edge.fold:
            yield Mark("fold", edge.name, edge.path.offset(edge.fold))
    yield from (Mark("fold", name, path) for name, path in folds)


def _is_lapped(edge: NetEdge) -> bool:
    """Whether an edge is buttoned over another: nothing is sewn on its line."""
    return edge.stitched and edge.fold > 0.0 and edge.kind is not None and edge.kind.lapped


def _name_lapped(piece: Piece, edge: NetEdge) -> str:
    """What the line is called on which such edges lie on each other."""
    return f"centre {edge.face}" if piece.line(edge.line).role is Role.CENTRE else f"{edge.side} side"


def _stitch_stand(edge: NetEdge, end: Point, onwards: Point, beside: NetEdge) -> Iterator[Mark]:
    """The stitching of an edge over the stand beside its end, up to the fold of that: it is sewn through there."""
    if not _is_lapped(beside):
        return
    fold = beside.path.offset(beside.fold)
    corner = fold.start if beside.path.start.near(end, TOLERANCE.joint) else fold.end
    if abs((corner - end).unit.dot(onwards)) > ACROSS_STAND:
        yield Mark("stitch", edge.name, Path.straight(end, corner))


ACROSS_STAND = TradeValue(0.5, "share", "from memory")
"""Of the way across a stand that a seam beside it runs on at least, for it to be sewn across the stand."""

# lines across the piece


def _lines_across(piece: Piece, edges: Sequence[NetEdge], polygon: Array, folds: Sequence[Path]) -> Iterator[Mark]:
    """Levels, lengthen/shorten lines and lines of other kinds, cut to what is shown of the piece."""
    yield from level_marks(piece, polygon, folds)
    others = [line for line in piece.of_kind(PathFeature) if not isinstance(line, Level)]
    for line, kept in zip(others, clip_paths([line.path for line in others], polygon), strict=True):
        kind = "adjust" if isinstance(line, Adjust) else "line"
        yield from (Mark(kind, line.name, path) for path in kept)


# zones


def _draw_zone(zone: Zone, edges: Sequence[NetEdge], parallels: Parallels) -> Iterator[Mark]:
    """The closed outline of a strip to be stabilised, on what this print shows of its line."""
    for i, edge in enumerate(edges):
        if edge.line != zone.line or edge.inner:
            continue
        first, last = edge.span
        length = edge.path.length
        start = max(0.0, (zone.start - first) / (last - first)) * length
        end = min(1.0, (zone.end - first) / (last - first)) * length
        if end - start > TOLERANCE.sewn_length:
            course = edge.path if end - start >= length else edge.path.between(start, end)
            yield Mark("zone", str(zone.reason), _strip(zone, edges, i, course, parallels), str(shorten(zone.reason)))


def _strip(zone: Zone, edges: Sequence[NetEdge], i: int, course: Path, parallels: Parallels) -> Path:
    """The outline of a strip along a part of edge i; at an end of the edge it ends as the neighbour runs."""
    path, before, after = edges[i].path, edges[i - 1].path, edges[(i + 1) % len(edges)].path
    first, last = course.tangent(0.0).left, course.tangent(course.length).left
    if course.start.near(path.start, TOLERANCE.sewn_length):
        first = _end_direction(before.tangent(before.length), path.tangent(0.0), before.tangent(before.length))
    if course.end.near(path.end, TOLERANCE.sewn_length):
        last = _end_direction(path.tangent(path.length), after.tangent(0.0), after.tangent(0.0))
    inside, outside = stay_reach(zone, edges[i].allowance if edges[i].stitched else 0.0)
    begin, stop = course.tangent(0.0), course.tangent(course.length)
    starts = _fold_back(first, begin, begin.right), first
    stops = _fold_back(last, stop * -1.0, stop.right), last
    ended = []
    for off, begins, ends in zip((outside, -inside), starts, stops, strict=True):
        side = _draw_side(course, off, parallels).reversed()
        side = _end_on(side, course.start, begins, zone.width * NEARBY).reversed()
        ended.append(_end_on(side, course.end, ends, zone.width * NEARBY))
    outer, inner = ended
    across = Path.straight(outer.end, inner.end), Path.straight(inner.start, outer.start)
    return Path.join(outer, across[0], inner.reversed(), across[1])


def _fold_back(along: Point, onwards: Point, outwards: Point) -> Point:
    """How a strip ends in the allowance: as its end does, or turned over its course, where that leaves it shorter.

    An allowance that is pressed back onto the piece ends so.
    """
    return outwards * abs(along.dot(outwards)) + onwards * abs(along.dot(onwards))


def _draw_side(course: Path, off: float, parallels: Parallels) -> Path:
    """One side of a strip; a straight line where its course bends too tightly for a parallel."""
    try:
        return parallels.of(course, off)
    except GeometryError:
        start, end = (course.at(s) + course.tangent(s).right * off for s in (0.0, course.length))
        return Path.straight(start, end)


def _end_direction(before: Point, after: Point, neighbour: Point) -> Point:
    """How a strip ends at a corner, given how the edges run there: along the neighbour, or halfway round a hollow."""
    return neighbour if turn(before, after) > TOLERANCE.tangent else (before + after).unit.left


def _end_on(side: Path, at: Point, along: Point, reach: float) -> Path:
    """A side of a strip drawn on, or cut off, to end on the line through a point in a direction, if that is near."""
    drawn = side.extended(0.0, reach)
    near = [hit for hit in find_hits(drawn, at, along) if hit.point.distance(side.end) <= reach]
    if not near:
        return side
    hit = min(near, key=lambda hit: hit.point.distance(side.end))
    return trim_line(drawn, Trim(drawn.start), Trim(hit.point, hit))


# arrows


def _arrows(
    polygon: Array, grain: Point, taken: Sequence[float], slits: Sequence[Array], stretches: bool
) -> Iterator[Mark]:
    """The grain arrow, in the middle of its room, and the greatest-stretch arrow across it, clear of other lines.

    On narrow pieces, where the two would cover each other, the one stands beside the other. ``slits`` are points of
    the darts inside the outline, which the grain arrow keeps off.
    """
    along, across = grain.unit, grain.unit.right
    u, v = lengths_along(polygon, along), lengths_along(polygon, across)
    flat = np.stack((v, u), axis=1)
    low, high = float(v.min()), float(v.max())
    darts = [np.stack((lengths_along(each, across), lengths_along(each, along)), axis=1) for each in slits]
    column, (bottom, top) = _most_room(flat, [low + (high - low) * share for share in COLUMNS], darts=darts)
    margin = (top - bottom) * CLEAR
    free = (bottom + margin, top - margin)
    bottom, top = _shorten_arrow(*free)

    def arrow(a: float, b: float) -> Mark:
        return Mark("grain", "grain", Path.straight(along * a + across * column, along * b + across * column))

    if not stretches:
        yield arrow(bottom, top)
        return
    rows = [bottom + (top - bottom) * share for share in ROWS]
    rows = [row for row in rows if all(abs(row - other) > STRETCH_APART for other in taken)] or rows
    row, (left, right) = _most_room(flat[:, ::-1], rows, column)
    size = min(STRETCH_LONGEST, (right - left) * 0.6)
    middle = min(max(column, left + size * 0.6), right - size * 0.6)
    if top - bottom < SHORT_ARROW:
        room = max(right - column, column - left) - CLEAR_OF_ARROW
        size = min(size, room * 0.8)
        way = 1.0 if right - column > column - left else -1.0
        middle = column + way * (CLEAR_OF_ARROW + size / 2.0)
    elif size < SHORT_ARROW:
        bottom, top = free
        row, (left, right) = _most_room(flat[:, ::-1], (bottom + 2.0, top - 2.0), column)
        size = min(STRETCH_LONGEST, (right - left) * 0.6)
        middle = (left + right) / 2.0
        bottom, top = (row + CLEAR_OF_ARROW, top) if row < (bottom + top) / 2.0 else (bottom, row - CLEAR_OF_ARROW)
        bottom, top = _shorten_arrow(bottom, top)
    yield arrow(bottom, top)
    a, b = middle - size / 2.0, middle + size / 2.0
    yield Mark("stretch", "greatest stretch", Path.straight(along * row + across * a, along * row + across * b))


def _shorten_arrow(bottom: float, top: float) -> tuple[float, float]:
    """Return where a grain arrow ends whose room is from ``bottom`` to ``top``."""
    room, middle = top - bottom, (bottom + top) / 2.0
    half = min(room, max(room * GRAIN_SHARE, GRAIN_ENOUGH), GRAIN_LONGEST) / 2.0
    return middle - half, middle + half


def _most_room(
    flat: Array, places: Sequence[float], holding: float | None = None, darts: Sequence[Array] = ()
) -> tuple[float, tuple[float, float]]:
    """Return the place, and the stretch inside the polygon there, with the most room; earlier places are preferred.

    ``flat`` has the polygon's corners as (place, height), ``darts`` points of the darts within it, which part a
    stretch; ``holding`` is a height that the stretch must take in.
    """
    best = (places[0], (float(flat[:, 1].min()), float(flat[:, 1].max())))
    room = 0.0
    for place, heights in zip(places, columns(flat, places), strict=True):
        for a, b in _part_by(darts, place, zip(heights[::2], heights[1::2], strict=False)):
            if (holding is None or a <= holding <= b) and b - a > room * BETTER:
                best, room = (place, (a, b)), b - a
    return best


def _part_by(
    darts: Iterable[Array], place: float, free: Iterable[tuple[float, float]]
) -> Iterable[tuple[float, float]]:
    """Return what darts leave at a place of free stretches, from and to a height each."""
    for dart in darts:
        (left, bottom), (right, top) = dart.min(axis=0).tolist(), dart.max(axis=0).tolist()
        if left - CLEAR_OF_ARROW < place < right + CLEAR_OF_ARROW:
            parts = [part for a, b in free for part in ((a, min(b, bottom)), (max(a, top), b))]
            free = [(a, b) for a, b in parts if a < b]
    return free


def buttonhole_marks(piece: Piece) -> Iterator[Mark]:
    """Yield a mark for each buttonhole of a piece, from its outer to its inner end."""
    return (Mark("buttonhole", name, path) for name, path in buttonholes(piece.drills).items())


def button_words(piece: Piece, unit: Unit) -> tuple[str, ...]:
    """Return a line on the buttons of a piece and one on its buttonholes: how many, and how far apart, where alike."""
    rows = {
        "buttonhole": [path.start for path in buttonholes(piece.drills).values()],
        "button": list(buttons(piece.drills).values()),
    }
    return tuple(_tell_row(what, row, unit) for what, row in rows.items() if row)


def _tell_row(what: str, row: Sequence[Point], unit: Unit) -> str:
    steps = [one.distance(two) for one, two in pairwise(row)]
    if not steps:
        return f"1 {what}"
    alike = max(steps) - min(steps) < TOLERANCE.sewn_length
    return f"{len(row)} {what}s{f', {show_length(steps[0], unit)} apart' if alike else ''}"


def mitre_numbers(garment: Garment, piece: str) -> tuple[int, ...]:
    """Return the numbers of the notches that a band's mitres come to on what it is sewn to, in rising order."""
    return tuple(sorted({each.number for each in garment.find_once(balance_marks) if (piece, MITRE) in each.meets}))


def mitre_words(garment: Garment, piece: str) -> tuple[str, ...]:
    """Return a line on the notches that a band's mitres come to on what it is sewn to: there it has none itself."""
    named = name_marks(garment)
    told = [f"{number} {named.get(number, '')}".strip() for number in mitre_numbers(garment, piece)]
    return (f"mitre{'s' * (len(told) > 1)} to notch{'es' * (len(told) > 1)} {', '.join(told)}",) if told else ()


PLACEMENT = "placement"
"""The kind of mark that shows where an applied piece is to lie."""


def placement_marks(piece: Piece, polygon: Array) -> Iterator[Mark]:
    """Yield where each applied piece lies, cut to what is shown of the net outline, a polygon."""
    applied = piece.of_kind(Applied)
    for each, kept in zip(applied, clip_paths([each.path for each in applied], polygon), strict=True):
        yield from (Mark(PLACEMENT, _words(each), path) for path in kept)


def placement_points(piece: Piece) -> tuple[tuple[str, Point], ...]:
    """Return the ends of each applied piece's opening, to be marked on the cloth."""
    return tuple((_words(each), at) for each in piece.of_kind(Applied) for at in (each.path.start, each.path.end))


def _words(each: Applied) -> str:
    return str(say("{name:spoken} here", name=Name(sideless(each.name))))
