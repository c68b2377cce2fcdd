"""What an opening is: what must pass it, how it is made larger, and what its edge is called."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from drafting.record import dataclass
from drafting.saying import Words

if TYPE_CHECKING:
    from drafting.garment.model import Garment
    from drafting.garment.step import Brief


@dataclass(frozen=True, slots=True)
class Passing:
    """What has to pass an opening: its girth (mm), and the girth below which it can't even be forced."""

    words: str
    girth: float
    least: float


@dataclass(frozen=True, slots=True)
class Tight:
    """An opening that what must pass doesn't: at which of its edges, and what (mm) that is short of as the cloth lies.

    ``woven`` is that its cloth gives nothing worth counting; else a cloth with more stretch is advised besides.
    """

    garment: Garment
    opening: str
    edge: str
    short: float
    woven: bool


def advise_nothing_more(tight: Tight) -> Words:
    """Say nothing of how an opening is made larger."""
    return ""


@dataclass(frozen=True, slots=True, eq=False)
class OpeningKind:
    """What openings of one name have in common, each side's too ("wrist" of "wrist-left").

    A step brings its own among its ``kinds``; the engine's (``proof.checks.passing``) stay. ``passes`` says what
    must pass one, None where nothing has to; ``widen`` how it is made larger; ``closed_at`` are the places
    ("back", "left", "right") at which a closure lets more through. One without ``spare`` needs none. ``edge`` is what
    its edge is called where that is turned ("upper edge"); by its role, if empty.
    """

    name: str
    passes: Callable[[Garment, Brief], Passing | None]
    widen: Callable[[Tight], Words] = advise_nothing_more
    closed_at: tuple[str, ...] = ()
    spare: bool = True
    edge: str = ""
