"""What a step declares of itself, held against what there is: a misspelt name has no effect, and nobody notices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drafting.body import measurements
from drafting.errors import close_matches
from drafting.garment.departures import FIGURES, Figure
from drafting.garment.step import PARTS, Step
from drafting.text import show_read

NEARLY = 0.8
"""How alike (0 to 1) a new part is to a known one from which it is that, misspelt."""


def refuse_misspelt(step: Step[object]) -> None:
    """Raise ValueError where a step needs or moves what there isn't, or makes a part of nearly a known name."""
    figures = [figure.name for figure in FIGURES]
    named = [each for each in step.moves if isinstance(each, str)]
    wrong = [*_tell_unknown("needs", step.needs, measurements()), *_tell_unknown("moves", named, figures)]
    own = [each.name for each in step.moves if isinstance(each, Figure)]
    wrong += (
        f"moves=(…) brings {show_read(name)}, which is a figure of the engine's" for name in own if name in figures
    )
    if step.makes and step.makes not in PARTS:
        wrong += _tell_part(step.makes)
    if wrong:
        raise ValueError("; ".join(wrong))


def _tell_unknown(key: str, names: Iterable[str], known: Iterable[str]) -> Iterator[str]:
    for name in names:
        if name not in known:
            close = close_matches(name, known)
            yield f"{key}=(…) names {show_read(name)}, which there isn't; " + (
                f"did you mean {' or '.join(close)}?" if close else f"there are {', '.join(known)}"
            )


def _tell_part(part: str) -> Iterator[str]:
    from difflib import get_close_matches

    for close in get_close_matches(part.lower(), PARTS, n=1, cutoff=NEARLY):
        yield f"makes=… is {show_read(part)}; did you mean {close}?"
