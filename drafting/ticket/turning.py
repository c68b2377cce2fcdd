"""What comes before a garment is turned over is taken in a mirror, so that in the end it fits the body as it is.

The design is turned over, the wearer isn't: blocks are drafted for the body's mirror image, and a change that fits the
block to its wearer is made on the other side than it names.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from itertools import accumulate
from typing import Any

from drafting.garment import Brief, Side, Stage
from drafting.ticket.job import Planned


def turned_over(steps: Sequence[Planned]) -> tuple[bool, ...]:
    """Return of each step whether what it makes is turned over in the end, by itself or by a later step."""
    turns = accumulate((planned.step.turns for planned in reversed(steps)), bool.__xor__)
    return tuple(turns)[::-1]


def turn_step(planned: Planned, brief: Brief) -> tuple[Brief, Any]:
    """Return the brief of the body's mirror image, and the step's options as they are to be there."""
    options: Any = planned.options
    side = getattr(options, "side", None)
    if planned.step.stage is Stage.FIT and side in (Side.LEFT, Side.RIGHT):
        options = dataclasses.replace(options, side=str(Side(side).other))
    return dataclasses.replace(brief, body=brief.body.mirrored), options
