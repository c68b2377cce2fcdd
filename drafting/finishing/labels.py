"""The words on a piece: its title, how many are cut and how, its allowances, its sides and the draft's mark."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drafting.finishing.allowance import NetEdge
from drafting.finishing.plan import FinishPlan
from drafting.finishing.sides import side_words
from drafting.garment import Fate, Piece
from drafting.saying import render, show_length

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")

CLOTHS = {"main": "main cloth", "trim": "trim cloth (bands)"}
"""How a cloth is called on a piece."""


def how_to_cut(quantity: int, mirrored: int, on_fold: bool, crosswise: bool, whole_mirrors: bool) -> str:
    """Return the sentence that tells how a piece is cut.

    >>> how_to_cut(2, 1, False, False, False)
    'cut 2, one mirrored'
    """
    if on_fold:
        return f"cut {quantity} on the {'crosswise ' if crosswise else ''}fold"
    if mirrored:
        return f"cut {quantity}, {_NUMBERS[mirrored] if mirrored < len(_NUMBERS) else mirrored} mirrored"
    if quantity > 1:
        return f"cut {quantity}" + ("" if whole_mirrors else ", single layer, right side up")
    return "cut 1, single layer, right side up"


def allowance_label(edges: Iterable[NetEdge], plan: FinishPlan) -> str:
    """Return what is included round the edge, in the plan's unit: "allowances included: 0.95 cm; hem 2.5 cm"."""
    seams: dict[float, dict[str, None]] = {}
    hems: dict[float, None] = {}
    cut_edges: dict[str, None] = {}
    for edge in edges:
        if edge.axis:
            continue
        if edge.fate is Fate.HEMMED:
            hems[edge.allowance] = None
        elif edge.allowance > 0.0:
            seams.setdefault(edge.allowance, {})[_seam_word(edge)] = None
        elif edge.fate in (Fate.BOUND, Fate.RAW):
            cut_edges["edges to be bound" if edge.fate is Fate.BOUND else "free edges"] = None
    parts = [_kind_words(kinds, len(seams), depth, plan) for depth, kinds in seams.items()]
    parts += [f"hem {show_length(depth, plan.unit)}" for depth in hems]
    parts += [f"{words} cut on the line" for words in cut_edges]
    return "allowances included: " + "; ".join(parts) if seams or hems else "no allowances"


def _seam_word(edge: NetEdge) -> str:
    """What the seam of an edge is called in a list of allowances."""
    return (edge.kind.label or edge.kind.name) if edge.kind else "open edges"


def _kind_words(kinds: Iterable[str], groups: int, depth: float, plan: FinishPlan) -> str:
    length = show_length(depth, plan.unit, sixteenths=True)
    return length if groups == 1 else f"{', '.join(kinds)} {length}"


def labels(
    piece: Piece,
    edges: Sequence[NetEdge],
    plan: FinishPlan,
    *,
    symmetric: bool,
    merged: bool,
    reduced_hem: float | None = None,
    hollow: bool = False,
    fold_lost: bool = False,
) -> tuple[str, ...]:
    """Return the further lines printed on a piece, after its title and how it is cut."""
    cloth = "main" if plan.one_cloth else piece.cloth
    lines = [allowance_label(edges, plan), CLOTHS.get(cloth, f"{cloth} cloth")]
    if not (symmetric or merged):
        lines += [side for side in (side_words(piece),) if side]
    if reduced_hem is not None:
        why = "hollow hem, whose raw edge is the shorter" if hollow else "curved hem"
        lines.append(f"{why}: turn only {show_length(reduced_hem, plan.unit)}")
    if fold_lost:
        lines.append("the outer edge is curved and can't be folded: cut the piece twice and seam it there")
    lines += (render(note, plan.unit) for note in piece.notes)
    if plan.mark:
        lines.append(f"draft {plan.mark}")
    return tuple(lines)
