"""The words on a piece: its title, how many are cut and how, its allowances, its sides and the draft's mark."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from drafting.finishing.allowance import NetEdge
from drafting.finishing.cutpiece import Mark
from drafting.finishing.plan import FinishPlan
from drafting.garment import Fate, Piece, Role, Side
from drafting.geometry import Path, Point
from drafting.saying import render, show_length
from drafting.trade import TradeValue
from drafting.work.kinds import SIDE

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def name_cloth(cloth: str) -> str:
    """Return what a cloth is called on paper, by its name in the ticket: "main cloth", "rib cloth".

    >>> name_cloth("rib"), name_cloth("second cloth"), name_cloth("interfacing")
    ('rib cloth', 'second cloth', 'interfacing')
    """
    return cloth if cloth.endswith(("cloth", "interfacing", "lining")) else f"{cloth} cloth"


def tell_again(cloths: Sequence[str]) -> str:
    """Return from which cloths a piece is cut once more, "" of one that isn't.

    >>> tell_again(("interfacing", "lining"))
    'in interfacing and lining'
    """
    return f"in {' and '.join(map(name_cloth, cloths))}" if cloths else ""


def note_again(cloth: str) -> str:
    """Return what a piece's label says of a cloth that it is cut from once more, by the same print."""
    return f"Cut {tell_again([cloth])} too."


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


def allowance_label(edges: Iterable[NetEdge], plan: FinishPlan, *, sleeve: bool = False) -> str:
    """Return what is included round the edge, in the plan's unit: "allowances included: 1.0 cm; hem 2.5 cm".

    A ``sleeve`` has no side seam: that along its underarm is called so.
    """
    seams: dict[float, dict[str, None]] = {}
    hems: dict[float, None] = {}
    cut_edges: dict[str, None] = {}
    for edge in edges:
        if edge.axis:
            continue
        if edge.fate is Fate.HEMMED:
            hems[edge.allowance] = None
        elif edge.allowance > 0.0:
            seams.setdefault(edge.allowance, {})[_seam_word(edge, sleeve)] = None
        elif edge.fate in (Fate.BOUND, Fate.RAW):
            cut_edges["edges to be bound" if edge.fate is Fate.BOUND else "free edges"] = None
    parts = [_kind_words(kinds, len(seams), depth, plan) for depth, kinds in seams.items()]
    parts += [f"hem {show_length(depth, plan.unit)}" for depth in hems]
    parts += [f"{words} cut on the line" for words in cut_edges]
    return "allowances included: " + "; ".join(parts) if seams or hems else "no allowances"


def _seam_word(edge: NetEdge, sleeve: bool) -> str:
    """What the seam of an edge is called in a list of allowances."""
    if sleeve and edge.kind == SIDE:
        return "underarm seam"
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
    sleeve = any(line.role is Role.CAP for line in piece.ring)
    lines = [allowance_label(edges, plan, sleeve=sleeve), name_cloth(piece.cloth)]
    if not (symmetric or merged):
        lines += [side for side in (side_words(piece),) if side]
    if reduced_hem is not None:
        why = "hollow hem, whose raw edge is the shorter" if hollow else "curved hem"
        lines.append(f"{why}: turn only {show_length(reduced_hem, plan.unit)}")
    if fold_lost:
        lines.append("the outer edge is curved and can't be folded: cut the piece twice and seam it there")
    lines += (render(note, plan.unit) for note in piece.notes)
    if plan.mark:
        lines.append(name_mark(plan.mark))
    return tuple(lines)


def mark_labels(labels: Iterable[str], old: str, new: str) -> tuple[str, ...]:
    """Return a piece's labels with another draft's mark."""
    return tuple(name_mark(new) if label == name_mark(old) else label for label in labels)


def name_mark(mark: str) -> str:
    """Return how a draft's mark is written, on pieces and pages alike; "" where there is none."""
    return f"draft mark {mark}" if mark else ""


LONG_EDGE = TradeValue(60.0, "mm", "from memory")
"""Of edge: a shorter one comes last in telling a side."""

OUTER = TradeValue(0.25, "share", "from memory")
"""Of the way between the two sides, from the middle, beyond which an edge stands for its side."""


def side_words(piece: Piece) -> str:
    """Return whose side a piece belongs to, "" if to both."""
    return f"wearer's {piece.side}" if piece.side is not Side.NONE else ""


def side_marks(piece: Piece, edges: Sequence[NetEdge]) -> Iterator[Mark]:
    """The edges beside which a piece that has both says whose side is whose: those farthest out first."""
    if piece.side is Side.NONE and {Side.LEFT, Side.RIGHT} <= {edge.side for edge in edges}:
        left, right = (_longest_first(edges, side) for side in (Side.LEFT, Side.RIGHT))
        a, b = _middle_of(left[0]), _middle_of(right[0])
        across = piece.grain.unit.right
        across = across * (a - b).dot(across)
        for side, paths, way in ((Side.LEFT, left, across), (Side.RIGHT, right, -across)):
            outwards = [((_middle_of(path) - a.to(b, 0.5)).dot(way), path) for path in paths]
            kept = [(out, path) for out, path in outwards if path is paths[0] or out >= OUTER * way.dot(way)]
            for _, path in sorted(kept, key=lambda each: (each[1].length < LONG_EDGE, -each[0])):
                yield Mark("side", f"wearer's {side}", path)


def _longest_first(edges: Sequence[NetEdge], side: Side) -> list[Path]:
    return sorted((edge.path for edge in edges if edge.side is side), key=lambda path: -path.length)


def _middle_of(path: Path) -> Point:
    return path.at(path.length / 2.0)
