"""Notches: where they stand on the cut line, straight out from their place on the stitch line."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace

from drafting.finishing.allowance import NetEdge, Tick
from drafting.finishing.corners import Corner
from drafting.finishing.cutpiece import Notch
from drafting.finishing.folds import INNER
from drafting.garment import Fate, Garment, Side, balance_marks
from drafting.garment.named_marks import OPENING_END, name_marks
from drafting.geometry import Point
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

CENTRE, HEM, FOLD = "centre", "hem", "fold"
"""What a notch names in place of a seam: the centre of a whole piece, a hem's fold, a folded piece's fold."""

NOTCHES_APART = TradeValue(1.0, "mm", "from memory")
"""Between two notches of one edge at least: nearer, they would be one snip."""


def notches(edges: Sequence[NetEdge], corners: Sequence[Corner]) -> tuple[Notch, ...]:
    """Return a piece's notches; ``corners[i]`` stands between edge i and the next.

    Balance marks first, then the centre where the wearer's left meets the right, then the folds of hems and of folded
    pieces, where they end on the cut line.
    """
    found: list[Notch] = []
    for i, edge in enumerate(edges):
        found += [_balance(edges, corners, i, tick) for tick in edge.ticks]
    for notch in (*_centres(edges, corners), *_folds(edges, corners)):
        if all(notch.on_stitch.distance(other.on_stitch) > NOTCHES_APART or notch.seam == FOLD for other in found):
            found.append(notch)
    return tuple(_drop_doubles(found))


def join_notches(garment: Garment, found: Iterable[Notch], names: Collection[str], several: bool) -> Iterator[Notch]:
    """Yield the notches of a print with what each meets, in every net piece that the print serves.

    ``several``: it shows several places as one, as the half of a piece on the fold does. Where a buttoned opening ends
    the cloth goes on all round, as its stand: a snip would cut into what shows, so a point is marked there.
    """
    marks, named = garment.find_once(balance_marks), name_marks(garment)
    for notch in found:
        own = [
            mark
            for mark in marks
            if mark.number == notch.number and (several or mark.seam == notch.seam)
            if any(use.piece in names for use, _ in mark.at)
        ]
        joins = tuple(dict.fromkeys(use.piece for mark in own for use, _ in mark.at if use.piece not in names))
        meets = tuple(dict.fromkeys(each for mark in own for each in mark.meets))
        joined = replace(notch, joins=joins, meets=meets, name=named.get(notch.number, "") if own else "")
        yield replace(joined, at=notch.on_stitch, count=0) if joined.name == OPENING_END else joined


def _drop_doubles(found: Sequence[Notch]) -> Iterator[Notch]:
    """Leave out a notch that another already makes, as where two lines of a seam meet."""
    kept: list[Notch] = []
    for notch in found:
        if all(notch.at.distance(other.at) > TOLERANCE.flatten or notch.seam != other.seam for other in kept):
            kept.append(notch)
            yield notch


def _balance(edges: Sequence[NetEdge], corners: Sequence[Corner], i: int, tick: Tick) -> Notch:
    """A balance mark on edge i; where the seam turns a corner, or at the cloth's fold, it stands on the corner."""
    edge, length = edges[i], edges[i].path.length
    s = min(max(tick.s, 0.0), length)
    on, out = edge.path.at(s), edge.path.tangent(s).right
    if length - s <= TOLERANCE.offset and _goes_on(edge, edges[(i + 1) % len(edges)]):
        return _at_corner(on, corners[i], -out, tick.count, tick.seam, tick.number)
    if s <= TOLERANCE.offset and _goes_on(edges[i - 1], edge):
        return _at_corner(on, corners[i - 1], -out, tick.count, tick.seam, tick.number)
    return Notch(on + out * edge.allowance, -out, tick.count, on, tick.seam, tick.number)


def _goes_on(before: NetEdge, after: NetEdge) -> bool:
    """Whether one seam runs on from an edge to the next, or to its other half beyond the cloth's fold."""
    return before.axis or after.axis or before.order == after.order


def _at_corner(on: Point, corner: Corner, inward: Point, count: int, seam: str, number: int = 0) -> Notch:
    at = corner.before.point
    return Notch(at, _inward_from(at, on, inward), count, on, seam, number)


def _centres(edges: Sequence[NetEdge], corners: Sequence[Corner]) -> Iterator[Notch]:
    """A notch where an edge of the wearer's one side runs on into the same edge of the other side."""
    for i, edge in enumerate(edges):
        after = edges[(i + 1) % len(edges)]
        sides = {edge.side, after.side}
        if sides == {Side.LEFT, Side.RIGHT} and edge.kind == after.kind and edge.fate is after.fate:
            inward = (-edge.path.tangent(edge.path.length).right - after.path.tangent(0.0).right).unit
            yield _at_corner(edge.path.end, corners[i], inward, 1, CENTRE)


def _folds(edges: Sequence[NetEdge], corners: Sequence[Corner]) -> Iterator[Notch]:
    """Notches where a hem, or a folded piece, folds on its neighbours' cut lines."""
    for i, edge in enumerate(edges):
        after, corner = edges[(i + 1) % len(edges)], corners[i]
        if corner.fold is not None and Fate.HEMMED in (edge.fate, after.fate):
            along = -edge.path.tangent(edge.path.length) if edge.fate is Fate.HEMMED else after.path.tangent(0.0)
            yield Notch(corner.fold, _inward_from(corner.fold, edge.path.end, along), 1, edge.path.end, HEM)
        elif _is_own_image(edge, after):
            out = (edge.path.tangent(edge.path.length).right + after.path.tangent(0.0).right).unit
            yield _at_corner(edge.path.end, corner, -out, 1, FOLD)


def _is_own_image(a: NetEdge, b: NetEdge) -> bool:
    """Whether two edges are one line and its own image beyond a fold."""
    return (
        not a.axis
        and a.line == b.line
        and a.inner != b.inner
        and (a.name + INNER == b.name or b.name + INNER == a.name)
    )


def _inward_from(at: Point, on: Point, otherwise: Point) -> Point:
    """The unit direction from the cut line to the stitch line; ``otherwise`` where they are one."""
    return (on - at).unit if at.distance(on) > TOLERANCE.offset else otherwise
