"""What can be mended, and by what: a finding names its situation, and a change says which situations it mends.

Neither knows the other's name, so that the change of anybody's package is advised, and one that isn't installed isn't.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from drafting.record import dataclass
from drafting.saying import Saying, Value, Words, list_sayings


@dataclass(frozen=True, slots=True)
class Situation:
    """What stands in the way, by a name that changes answer to ("hem-hobbles"), with the values that a mend may say.

    ``otherwise`` is what is said where nothing that is installed mends it.
    """

    name: str
    values: tuple[tuple[str, Value], ...] = ()
    otherwise: Words = ""


def situation(name: str, /, otherwise: Words = "", **values: Value) -> Situation:
    """Return a situation with its values."""
    return Situation(name, tuple(values.items()), otherwise)


@dataclass(frozen=True, slots=True)
class Mend:
    """A situation that a change mends, and how: a template of the situation's values, and of the ``change``'s name.

    ``Mend("hem-hobbles", 'add the change "{change}", {height} high or more')``; ``by_less`` where it is mended by less
    of the change, so that only a ticket that takes it is advised.
    """

    situation: str
    template: str
    by_less: bool = False


def mend_wavering(*roles: str) -> tuple[Mend, ...]:
    """Return the mends of a change that draws lines of these roles: where one wavers, less is to be asked of it."""
    words = 'ask less of the change that drew it ("{change}"), or make it earlier or alone'
    return tuple(Mend(f"{role}-wavers", words, by_less=True) for role in roles)


@dataclass(frozen=True, slots=True)
class Advice:
    """A mend that is installed, and the name of the change that brings it."""

    change: str
    mend: Mend

    def words(self, of: Situation) -> Saying:
        """Return what is advised in a situation."""
        return Saying(self.mend.template, (("change", self.change), *of.values))


Advisor = Callable[[str], Sequence[Advice]]
"""Tells what is installed that mends the situation of a name."""


def advise_nothing(name: str) -> Sequence[Advice]:
    """Know of no change: for who proves a garment by itself."""
    return ()


def add_mends(remedy: Words, wanted: Situation, advisor: Advisor) -> Words:
    """Return a remedy with what mends the situation named before it."""
    found: Iterable[Words] = [advice.words(wanted) for advice in advisor(wanted.name)]
    return list_sayings(
        (*(found or ([wanted.otherwise] if wanted.otherwise else [])), *([remedy] if remedy else [])), "; or "
    )
