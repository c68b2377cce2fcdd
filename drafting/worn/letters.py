"""Words in a picture made of dots: plain Latin letters as shades of ink, all of one size."""

from __future__ import annotations

import functools
from importlib import resources
from typing import Final

import numpy as np
import numpy.typing as npt

Dots = npt.NDArray[np.uint8]

TALL: Final = 24
"""Dots from the top to the bottom of a line of words."""
_FIRST: Final = ord(" ")
_FULL: Final = 15
"""The darkest shade of ink."""


@functools.cache
def _load_letters() -> tuple[Dots, tuple[int, ...]]:
    """The ink of all letters side by side, and where each begins."""
    with resources.files("drafting.worn").joinpath("data/letters.npz").open("rb") as file:
        held = dict(np.load(file))
    return held["ink"], tuple(int(n) for n in np.cumsum([0, *held["widths"]]))


def measure_words(words: str) -> int:
    """Return how many dots wide words are."""
    _, starts = _load_letters()
    return sum(starts[ord(each) - _FIRST + 1] - starts[ord(each) - _FIRST] for each in words)


def write_words(dots: Dots, words: str, row: int, column: int, larger: int = 1) -> None:
    """Write words onto a picture, in place, their upper left corner there; what has no room is left out.

    They are so many times ``larger`` than usual.
    """
    ink, starts = _load_letters()
    for each in words:
        first, last = starts[ord(each) - _FIRST], starts[ord(each) - _FIRST + 1]
        letter = ink[:, first:last].repeat(larger, axis=0).repeat(larger, axis=1)
        spot = dots[row : row + letter.shape[0], column : column + letter.shape[1]]
        light = 1.0 - letter[: spot.shape[0], : spot.shape[1], None] / _FULL
        spot[:] = np.round(spot * light)
        column += letter.shape[1]
