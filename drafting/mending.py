"""What can be mended, and by what: a finding names its situation, and a change says which situations it mends.

Neither knows the other's name, so that the change of anybody's package is advised, and one that isn't installed isn't.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from string import Formatter
from types import MappingProxyType
from typing import Final

from drafting.errors import InputError, Problem
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


SITUATIONS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "opening-tight": ("places",),
        "cap-low": ("by",),
        "closure-short": (),
        "closure-short-at": ("place",),
        "hem-hobbles": ("height",),
        "hem-curved": (),
        "armhole-curved": (),
        "shoulder-flat": ("side", "by"),
        "shoulder-steep": ("side", "by"),
        "skirt-apart": (),
        "piece-apart": (),
        "piece-too-wide": ("face",),
        "bust-dart-full": ("dart",),
        "neck-near-dart": (),
        "darts-near": ("dart", "take"),
        "front-short": (),
        "front-shallow": ("by",),
        "armhole-long": ("by",),
    }
)
"""What the engine's own situations say; those of the fitting sheet, "toile-…", say nothing."""


@dataclass(frozen=True, slots=True)
class Mend:
    """A situation that a change mends, and how: a template of the situation's values, and of the ``change``'s name.

    ``Mend("hem-hobbles", 'add the change "{change}", {height} high or more')``; ``by_less`` where it is mended by less
    of the change, so that only a ticket that takes it is advised. ValueError where the template asks for what a
    situation of ``SITUATIONS`` doesn't say; what one of another name says is known when it is found.
    """

    situation: str
    template: str
    by_less: bool = False

    def __post_init__(self) -> None:
        """Refuse a template that could never be said."""
        said = () if self.situation.startswith("toile-") else SITUATIONS.get(self.situation)
        if said is not None and (lacking := self.lacking(said)):
            raise ValueError(f'the situation "{self.situation}" doesn\'t say {lacking}, as a mend of it asks')

    def lacking(self, said: Iterable[str]) -> str:
        """Return the values that the template asks for beyond those said, "" if there are none."""
        known = {"change", *said}
        asked = (name for _, name, _, _ in Formatter().parse(self.template) if name is not None)
        return ", ".join(f"{{{name}}}" for name in dict.fromkeys(asked) if name not in known)


def mend_wavering(*roles: str) -> tuple[Mend, ...]:
    """Return the mends of a change that draws lines of these roles: where one wavers, less is to be asked of it."""
    words = 'ask less of the change that drew it: change = "{change}"'
    return tuple(Mend(f"{role}-wavers", words, by_less=True) for role in roles)


@dataclass(frozen=True, slots=True)
class Advice:
    """A mend that is installed, and the name of the change that brings it."""

    change: str
    mend: Mend

    def words(self, of: Situation) -> Saying:
        """Return what is advised in a situation; InputError where the mend asks for what that doesn't say."""
        if lacking := self.mend.lacking(name for name, _ in of.values):
            read = f'the change "{self.change}" mends "{of.name}" with {lacking}, which that situation doesn\'t say'
            mend = "its maker must put it right; until then, take its package away"
            raise InputError([Problem("what is installed", read, "", mend)])
        return Saying(self.mend.template, (("change", self.change), *of.values))


Advisor = Callable[[str], Sequence[Advice]]
"""Tells what is installed that mends the situation of a name."""


def advise_nothing(name: str) -> Sequence[Advice]:
    """Know of no change: for who proves a garment by itself."""
    return ()


def add_mends(remedy: Words, wanted: Situation, advisor: Advisor) -> Words:
    """Return a remedy with what mends the situation named before it."""
    found: Iterable[Words] = [advice.words(wanted) for advice in advisor(wanted.name)]
    if not found and not wanted.otherwise:
        return remedy
    return list_sayings(
        (*(found or ([wanted.otherwise] if wanted.otherwise else [])), *([remedy] if remedy else [])), "; or "
    )
