"""What a picture of a step shows, in words: for whoever has it read aloud, and as its caption on a screen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from drafting.geometry import are_inside
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.work.telling import and_

Places = NDArray[np.bool_]
"""Of each place in a picture, whether something lies there."""

ROWS = 24
"""Places across a picture, and up it, at which it is asked which of its layers lie there."""

COVERS = TradeValue(0.2, "share", "derived", "by reading the pictures")
"""Of the smaller of two pieces that lies on or beneath the other from which one is said to lie over it."""


@dataclass(frozen=True, slots=True)
class LayersTold:
    """Layers that lie beside each other, all with the same side up: their letters, and whether that is the wrong one.

    ``beyond`` are the letters of bindings along their edges.
    """

    letters: tuple[str, ...]
    wrong: bool
    beyond: tuple[str, ...] = ()

    def __str__(self) -> str:
        """Return them as a maker reads them: "D and A, bound by G"."""
        return f"{and_(self.letters)}{f', bound by {and_(self.beyond)}' if self.beyond else ''}"


def tell_caption(view: StepView, low: Points, across: Points) -> str:
    """Return the caption of a picture: its title, and which pieces lie on which.

    Of plies that lie as they are sewn it tells the edge, too, which the heading of the step may be too far above to
    tell. ``low`` and ``across`` are the lower left corner and the extent of what is shown.
    """
    stacked = _stack(view.layers)
    edge = f"; {view.about[:1].lower()}{view.about[1:]}" if view.about else ""
    if view.laid and len(stacked) > 1:
        return f"{view.title}: {_tell_laid(stacked)}{edge}"
    letters = and_(tuple(dict.fromkeys(layer.letter for layer in view.layers if layer.letter)))
    over = _list_over(view.layers, low, across)
    if over:
        named = {letter for pair in over.items() for each in pair for letter in each}
        rest = tuple(dict.fromkeys(each.letter for each in view.layers if each.letter and each.letter not in named))
        told = ", ".join(f"{and_(tuple(upper))} over {and_(lower)}" for lower, upper in over.items())
        return f"{view.title}: {told}{f'; {and_(rest)}' if rest else ''}"
    return f"{view.title} ({letters})" if letters else view.title


def _tell_laid(stacked: Sequence[LayersTold]) -> str:
    """What lies on what, from below up: "B on A, right sides together"."""
    if len(stacked) > 2:
        return f"from below up {_tell_sides(stacked, ordered=True)}"
    below, above = stacked
    sides = {(False, True): "right sides together", (True, False): "wrong sides together"}
    both = sides.get((below.wrong, above.wrong), f"both {_name_side(below.wrong)}")
    return f"{above} on {below}, {both}"


def tell_picture(view: StepView) -> str:
    """Return what lies on what in a picture, or beside it: pieces by their letters, and which side of each is up."""
    stacked = _stack(view.layers)
    if not stacked:
        return ""
    stepped = view.laid or len({layer.shift for layer in view.layers}) > 1
    ordered = stepped and len(stacked) > 1
    words = _tell_sides(stacked, ordered=ordered)
    numbers = list(dict.fromkeys(str(notch.number) for notch in view.notches if notch.number))
    met = f" Notch{'es' if len(numbers) > 1 else ''} {and_(tuple(numbers))}." if numbers else ""
    return f"{'From below up: ' if ordered else ''}{words}.{met}"


def _tell_sides(stacked: Sequence[LayersTold], *, ordered: bool) -> str:
    """Layers with the same side up that follow on each other told together, from below up where they are ordered."""
    out = list[str]()
    for wrong, group in groupby(stacked, key=lambda each: each.wrong):
        alike = tuple(group)
        letters = tuple(dict.fromkeys(letter for each in alike for letter in (*each.letters, *each.beyond)))
        out.append(f"{', then '.join(map(str, alike)) if ordered else and_(letters)}, {_name_side(wrong)}")
    return "; ".join(out)


def _name_side(wrong: bool) -> str:
    return f"{'wrong' if wrong else 'right'} side up"


def _stack(layers: Sequence[ClothLayer]) -> list[LayersTold]:
    """Layers from below up, those that lie beside each other together; folded strips once."""
    out: list[LayersTold] = []
    for each in _join_sides(layers):
        if not out or (each.letters, each.wrong) != (out[-1].letters, out[-1].wrong):
            out.append(each)
    return out


def _join_sides(layers: Sequence[ClothLayer]) -> Iterator[LayersTold]:
    named = [layer for layer in layers if layer.letter and not layer.hatched]
    plain, bindings = ([layer for layer in named if bool(layer.bound) is bound] for bound in (False, True))
    for (shift, wrong, _), group in groupby(plain, key=lambda layer: (layer.shift, layer.wrong, layer.strip)):
        letters = tuple(dict.fromkeys(layer.letter for layer in group))
        beyond = (each.letter for each in bindings if each.shift == shift and each.bound in letters)
        yield LayersTold(letters, wrong, tuple(dict.fromkeys(beyond)))


def _list_over(layers: Sequence[ClothLayer], low: Points, across: Points) -> Mapping[tuple[str, ...], list[str]]:
    """Which pieces lie over which others in what is shown, by the letters of these."""
    places = low + np.stack(np.meshgrid(*[(np.arange(ROWS) + 0.5) / ROWS] * 2), axis=-1).reshape(-1, 2) * across
    held: dict[str, Places] = {}
    found: dict[str, dict[str, None]] = {}
    for layer in layers:
        if not layer.letter or layer.hatched or layer.bound:
            continue
        inside = are_inside(places, layer.points)
        for letter, other in held.items():
            least = COVERS * min(int(inside.sum()), int(other.sum()))
            if letter != layer.letter and int((inside & other).sum()) > max(least, 1.0):
                found.setdefault(layer.letter, {})[letter] = None
        held[layer.letter] = held.get(layer.letter, inside) | inside
    out: dict[tuple[str, ...], list[str]] = {}
    for upper, lower in found.items():
        out.setdefault(tuple(lower), []).append(upper)
    return out
