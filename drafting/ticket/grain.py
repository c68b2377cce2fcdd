"""The grain of a ticket, ``[grain]``: which pieces are turned on the cloth, how far, and which way they lean.

What stands on the left is a block or a piece, named as in a cloth's ``cut``; on the right "upright", "crosswise",
"bias" or an angle, and after it, if wanted, which way the grain's upper end leans: "out" or "in" (both sides mirrored,
so that stripes meet in chevrons), "left" or "right" (both sides alike).
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from drafting.errors import InputError, Problem, close_matches
from drafting.garment.laying import Laying, Lean
from drafting.record import dataclass
from drafting.text import show_read
from drafting.ticket.cloths import names_one
from drafting.ticket.tree import Layer, Tree, find_table, find_value
from drafting.units import parse_angle

GRAIN = "grain"
"""The table of the pieces that are turned on the cloth."""

TURNS: Mapping[str, float] = {"upright": 0.0, "crosswise": math.pi / 2.0, "bias": math.pi / 4.0}
"""What the trade calls the ways of laying a piece: the angle from its height to the cloth's length (rad)."""


GRAIN_HELP = (
    'How blocks and pieces are turned on the cloth, each by its name: front = "bias", sleeves = "crosswise", overlay = '
    '"30 deg". After it may stand to which side the grain leans at its top: out (if none does) or in, so that left and '
    "right mirror each other and stripes meet in chevrons, and a piece across the middle leans to the wearer's left; "
    "left or right, so that both lean alike. The change mirror turns every lean over. A block's name lays all its "
    "pieces, an overlay's shoulder pieces too, but no bands beside them: those lie as their block says unless they are "
    "named themselves. A facing that isn't named follows the piece that it faces. What else isn't named lies upright."
)
"""What a maker is told of the table."""


@dataclass(frozen=True, slots=True)
class GrainAsked:
    """How a ticket lays a block's pieces, or a piece, on the cloth; ``where`` is empty where no ticket says so."""

    name: str
    laying: Laying
    where: str

    def is_called(self, *names: str) -> bool:
        """Whether it names one of these."""
        return names_one(self.name, names)


def read_grain(tree: Tree, top: Layer, problems: list[Problem]) -> tuple[GrainAsked, ...]:
    """Return what a ticket says of the grain of its pieces."""
    found: list[GrainAsked] = []
    for name in find_table(tree, GRAIN):
        said = find_value(find_table(tree, GRAIN), name)
        if said is None:
            where = top.where(GRAIN, name)
            problems.append(Problem(where, "a table stands here", 'a turn in quotes, such as "bias"'))
        asked = None if said is None else _read_turn(name, said.value, said.where)
        if said is not None and asked is None:
            allowed = f'{", ".join(TURNS)} or an angle up to 90 such as "30 deg", and after it {", ".join(Lean)}'
            near = close_matches(str(said.value).split(" ")[0], tuple(TURNS))
            problems.append(Problem(said.where, show_read(said.value), allowed, "", near))
        before = next((each for each in found if asked is not None and each.is_called(asked.name)), None)
        if asked is not None and before is not None:
            read = f"{show_read(asked.name)} is laid already ({before.where})"
            problems.append(Problem(asked.where, read, "one line for each", "take one of the two out"))
        elif asked is not None:
            found.append(asked)
    return tuple(found)


def _read_turn(name: str, value: object, where: str) -> GrainAsked | None:
    """Read "bias", "bias in" or "30 deg left"; None where that isn't what it says."""
    words = value.casefold().split() if isinstance(value, str) else [str(value)]
    lean = Lean(words.pop()) if len(words) > 1 and words[-1] in tuple(Lean) else Lean.OUT
    angle = TURNS.get(" ".join(words))
    if angle is None:
        try:
            angle = parse_angle(" ".join(words) if isinstance(value, str) else value, where=where)
        except InputError:
            return None
    return GrainAsked(name, Laying(angle, lean), where) if 0.0 <= angle <= math.pi / 2.0 else None
