"""The colours that a cloth may be said to have, as they are drawn: pale, so that lines are seen on every one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

Tint = str
"""Red, green and blue, each in two hexadecimal digits."""

NO_COLOUR: Final = "none"

TINTS: Final[Mapping[str, Tint]] = {
    "beige": "f2e8d1",
    "black": "b2b2b2",
    "blue": "bdd4f7",
    "brown": "d6bda3",
    "green": "c4e8c2",
    "grey": "d9d9d9",
    "navy": "a8b8d9",
    "orange": "fcd9ad",
    "pink": "fcdee6",
    "purple": "d9c4eb",
    "red": "f2b5b0",
    "turquoise": "bdebe8",
    "white": "ffffff",
    "yellow": "fcf5b8",
}
"""How a cloth of each colour is drawn."""
