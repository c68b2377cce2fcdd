"""What a picture of a step shows, in words: for whoever has it read aloud, and as its caption on a screen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from drafting.output.layers.view import ClothLayer, StepView
from drafting.work.telling import and_


def tell_caption(view: StepView) -> str:
    """Return the caption of a picture: its title, and which pieces, or which on which, where right sides are together.

    Of these it tells the edge, too, which the heading of the step may be too far above to tell.
    """
    sides = _list_sides(view.layers)
    if [wrong for _, wrong in sides] == [False, True] and view.laid:
        edge = f"; {view.about[:1].lower()}{view.about[1:]}" if view.about else ""
        return f"{view.title}: {sides[1][0]} on {sides[0][0]}, right sides together{edge}"
    letters = and_(tuple(dict.fromkeys(layer.letter for layer in view.layers if layer.letter)))
    return f"{view.title} ({letters})" if letters else view.title


def tell_picture(view: StepView) -> str:
    """Return what lies on what in a picture, or beside it: pieces by their letters, and which side of each is up."""
    sides = _list_sides(view.layers)
    if not sides:
        return ""
    stepped = len({layer.shift for layer in view.layers}) > 1
    words = "; ".join(f"{letters}, {'wrong' if wrong else 'right'} side up" for letters, wrong in sides)
    numbers = list(dict.fromkeys(str(notch.number) for notch in view.notches if notch.number))
    met = f" Notch{'es' if len(numbers) > 1 else ''} {and_(tuple(numbers))}." if numbers else ""
    return f"{'From below up: ' if stepped and len(sides) > 1 else ''}{words}.{met}"


def _list_sides(layers: Sequence[ClothLayer]) -> list[tuple[str, bool]]:
    """The letters of layers that lie on each other with the same side up, from below up, and which side that is."""
    return list(_join_sides(layers))


def _join_sides(layers: Sequence[ClothLayer]) -> Iterator[tuple[str, bool]]:
    named = (layer for layer in layers if layer.letter and not layer.hatched)
    for (_, wrong), group in groupby(named, key=lambda layer: (layer.shift, layer.wrong)):
        yield and_(tuple(dict.fromkeys(layer.letter for layer in group))), wrong
