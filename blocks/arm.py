"""The arm that a sleeve or a cuff goes round: its girth along its length, and the armhole that it comes out of."""

from __future__ import annotations

from itertools import pairwise

from drafting.garment import Brief, Face, Garment, Opening, Side, Use, openings, sides_of
from drafting.record import dataclass
from drafting.trade import trade_row

FOREARM = trade_row((0.6, 0.98), "share", "from memory")
"""Of the way from wrist to elbow at which the forearm is thickest, and of the elbow's girth that it measures there."""


def arm_girth(brief: Brief, above: float) -> float:
    """Return the arm's girth (mm) at ``above`` mm over the wrist.

    It runs straight between the wrist, the thickest part of the forearm, the elbow and the upper arm.

    The forearm is nearly as thick as the elbow at 6/10 of the way up to it (from memory).
    """
    body = brief.body
    elbow, top = body["lower_arm_length"], body["lower_arm_length"] + 0.6 * body["upper_arm_length"]
    at = (
        (0.0, body["wrist_girth"]),
        (FOREARM[0] * elbow, FOREARM[1] * body["elbow_girth"]),
        (elbow, body["elbow_girth"]),
        (top, body["upper_arm_girth"]),
    )
    for (low, thin), (high, thick) in pairwise(at):
        if above <= high:
            return thin + (thick - thin) * (above - low) / (high - low)
    return body["upper_arm_girth"]


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
