"""The armhole that a sleeve is set into, parted into its front and its back."""

from __future__ import annotations

from drafting.garment import Face, Garment, Opening, Side, Use, openings, sides_of
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Armhole:
    """An armhole as found: its front and back runs, each from the underarm up, and from the shoulder down (mm)."""

    side: Side
    front: tuple[Use, ...]
    back: tuple[Use, ...]


def list_armholes(garment: Garment, arm: str) -> tuple[Opening, ...]:
    """Return the open armholes of the side that an option names, or of both."""
    names = {f"armhole-{side}" for side in sides_of(arm)}
    return tuple(opening for opening in openings(garment) if opening.name in names)


def find_armhole(garment: Garment, opening: Opening) -> Armhole:
    """Part the opening's run into its front, underarm to shoulder, and its back, shoulder to underarm."""
    run = opening.run
    faces = [garment.line(use).face for use in run]
    side = garment.line(run[0]).side
    # The run is walked in ring direction: on a left armhole up the front and down the back, on a right one reversed.
    first = Face.FRONT if side is Side.LEFT else Face.BACK
    start = next(i for i in range(len(run)) if faces[i] is first and faces[i - 1] is not first)
    turned = run[start:] + run[:start]
    one = tuple(use for use in turned if garment.line(use).face is first)
    two = tuple(use for use in turned if garment.line(use).face is not first)
    if side is Side.LEFT:
        return Armhole(side, one, two)
    return Armhole(side, tuple(u.reversed for u in reversed(two)), tuple(u.reversed for u in reversed(one)))
