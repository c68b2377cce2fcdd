"""Edges that are folds: the hidden inner half of a piece, mirrored beyond the fold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drafting.finishing.allowance import NEVER, ON_FOLD, NetEdge
from drafting.finishing.plan import FinishPlan
from drafting.garment import Fate
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

INNER = "-inner"
"""What the name of an edge of the inner half ends in."""


@dataclass(frozen=True, slots=True)
class Unfolded:
    """A ring with its folded edge opened out, and the fold lines, by name, that this leaves inside the piece."""

    edges: tuple[NetEdge, ...]
    folds: tuple[tuple[str, Path], ...] = ()


def unfold_ring(edges: tuple[NetEdge, ...], plan: FinishPlan) -> Unfolded:
    """Return the ring with the inner half added beyond its folded edge, mirrored in the fold.

    Only one straight fold, in one or more lines on end, can be opened out; any other folded edge is given a plain
    allowance, so that the piece can be cut twice and seamed there.
    """
    folded = [i for i, edge in enumerate(edges) if edge.fate is Fate.FOLDED]
    if not folded:
        return Unfolded(edges)
    turned = _fold_first(edges, len(folded))
    if turned is None:
        return Unfolded(tuple(_make_seam(edge, plan) if edge.fate is Fate.FOLDED else edge for edge in edges))
    fold, rest = turned[: len(folded)], turned[len(folded) :]
    a, b = fold[0].path.start, fold[-1].path.end
    inner = tuple(_mirror_edge(edge, a, b) for edge in reversed(rest))
    return Unfolded(_join_axis((*rest, *inner)), tuple((edge.name, edge.path) for edge in fold))


def cannot_fold(edges: tuple[NetEdge, ...]) -> bool:
    """Tell whether a ring has a folded edge that isn't one straight fold."""
    count = sum(edge.fate is Fate.FOLDED for edge in edges)
    return count > 0 and _fold_first(edges, count) is None


def _fold_first(edges: tuple[NetEdge, ...], count: int) -> tuple[NetEdge, ...] | None:
    """The ring begun at its fold, if its folded edges are one straight stretch."""
    n = len(edges)
    for i in range(n):
        turned = edges[i:] + edges[:i]
        if all(edge.fate is Fate.FOLDED for edge in turned[:count]):
            path = Path.join(*(edge.path for edge in turned[:count]))
            return turned if _is_drawn_straight(path) and count < n - 1 else None
    return None


def _is_drawn_straight(path: Path) -> bool:
    """Whether a path strays from its chord by less than what is drawn as straight."""
    if path.is_straight:
        return True
    chord = (path.end - path.start).unit
    offsets = path.flatten() - (path.start.x, path.start.y)
    return float(abs(offsets[:, 1] * chord.x - offsets[:, 0] * chord.y).max()) < TOLERANCE.flatten


def _make_seam(edge: NetEdge, plan: FinishPlan) -> NetEdge:
    return replace(edge, fate=Fate.SEWN, allowance=plan.allowance, order=NEVER)


def _mirror_edge(edge: NetEdge, a: Point, b: Point) -> NetEdge:
    """An edge of the inner half: the reflection in the fold, run so that the ring stays anticlockwise."""
    length = edge.path.length
    ticks = tuple(replace(tick, s=length - tick.s) for tick in reversed(edge.ticks))
    path = edge.path.reflected(a, b).reversed()
    return replace(edge, name=edge.name + INNER, path=path, ticks=ticks, span=edge.span[::-1], inner=not edge.inner)


def _join_axis(edges: Sequence[NetEdge]) -> tuple[NetEdge, ...]:
    """Make one edge of the two that lie on the cloth's fold, on either side of the fold that was opened out."""
    axes = [edge for edge in edges if edge.axis]
    if len(axes) < 2:
        return tuple(edges)
    first = next(i for i, edge in enumerate(edges) if edge.axis)
    turned = [*edges[first:], *edges[:first]]
    if not turned[1].axis:  # the two meet where the ring was opened
        turned = [turned[-1], *turned[:-1]]
    whole = replace(turned[0], name=ON_FOLD, inner=False, path=Path.straight(turned[0].path.start, turned[1].path.end))
    return (whole, *turned[2:])
