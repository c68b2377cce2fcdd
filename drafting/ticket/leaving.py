"""Leaving out by name what a ticket inherits: a change, a block, a stripe, an option, any table or key.

A table or key is named by its path ("blocks.cuffs", "cloth.stripe", "seams.side"), a change by its name, with its
number or a word of its options where several have one name ("shoulder 2", "shoulder left"). What is left out and given
again in the same file stands where the old one stood.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drafting.errors import Problem, close_matches
from drafting.record import dataclass
from drafting.text import show_read
from drafting.ticket.tree import LEAVE_OUT, Changes, Layer, TicketValue, Tree, find_value

CHANGES = "changes"
"""What names all inherited changes at once."""
_NEVER = ("unit", "builds_on")


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of what was inherited; ``gone`` are the places of the changes that were left out."""

    tree: Tree
    changes: Changes = ()
    gone: frozenset[int] = frozenset()

    def with_changes(self, own: Changes) -> Changes:
        """Return the changes left, and a file's own: in the place of one left out that had its name, else after all."""
        free = {place: change_name(self.changes[place][1]) for place in sorted(self.gone)}
        put: dict[int, tuple[str, Tree]] = {}
        after: list[tuple[str, Tree]] = []
        for change in own:
            place = next((place for place, name in free.items() if name == change_name(change[1])), None)
            if place is None:
                after.append(change)
            else:
                put[place] = change
                del free[place]
        kept = (put.get(place) if place in self.gone else each for place, each in enumerate(self.changes))
        return (*(each for each in kept if each is not None), *after)


def change_name(change: Tree) -> str:
    """Return the name of a change, "" where it has none."""
    found = find_value(change, "change")
    return found.value if found is not None and isinstance(found.value, str) else ""


def leave_out(found: Left, layer: Layer, problems: list[Problem]) -> Left:
    """Return what was inherited without what a file leaves out; what can't be is added to ``problems``."""
    own = layer.tree()
    tree, gone = found.tree, frozenset[int]()
    for name in layer.leaves_out():
        places = find_changes(name, found.changes)
        if len(places) > 1 and name != CHANGES:
            problems.append(_several(name, places, found.changes, layer))
        elif places:
            gone |= set(places)
        elif value_at(found.tree, name) is not None and name.partition(".")[0] not in _NEVER:
            tree = _without(tree, tuple(name.split(".")), own)
        else:
            problems.append(_not_inherited(name, found, layer))
    return Left(tree, found.changes, gone)


def find_changes(name: str, changes: Changes) -> tuple[int, ...]:
    """Return the places of the changes that a name speaks of: all of that name, or those of that number or word."""
    if name == CHANGES:
        return tuple(range(len(changes)))
    called, *words = name.split() or [""]
    named = [place for place, (_, change) in enumerate(changes) if change_name(change) == called]
    if len(words) == 1 and words[0].isdecimal():
        return tuple(named[int(words[0]) - 1 : int(words[0])]) if int(words[0]) else ()
    return tuple(place for place in named if set(words) <= _words_of(changes[place][1]))


def _words_of(change: Tree) -> set[str]:
    values = (value.value for value in change.values() if isinstance(value, TicketValue))
    return {word for value in values if isinstance(value, str) for word in value.split()}


def names_of_changes(changes: Changes) -> tuple[str, ...]:
    """Return the name by which each change is left out: with its number where several have one name."""
    names = [change_name(change) for _, change in changes]
    return tuple(
        f"{name} {names[:place].count(name) + 1}" if names.count(name) > 1 else name for place, name in enumerate(names)
    )


def names_of_tables(tree: Tree) -> Iterator[str]:
    """Yield the names by which tables, blocks and single keys at the top are left out."""
    for key, value in tree.items():
        if isinstance(value, TicketValue):
            yield from () if key in _NEVER else (key,)
        else:
            yield from () if key == "blocks" else (key,)
            yield from _names_within(value, key)


def _names_within(table: Tree, name: str) -> Iterator[str]:
    for key, value in table.items():
        if not isinstance(value, TicketValue):
            yield f"{name}.{key}"
            yield from _names_within(value, f"{name}.{key}")


def _names_of_keys(tree: Tree, *path: str) -> Iterator[str]:
    for key, value in tree.items():
        yield ".".join((*path, key))
        if not isinstance(value, TicketValue):
            yield from _names_of_keys(value, *path, key)


def value_at(tree: Tree, name: str) -> TicketValue | Tree | None:
    """Return the table or value of that path ("cloth.stripe"), None if there is none."""
    found: TicketValue | Tree | None = tree
    for key in name.split("."):
        found = found.get(key) if isinstance(found, Mapping) else None
    return found


def _without(tree: Tree, path: tuple[str, ...], own: Tree | TicketValue | None) -> Tree:
    """A tree without what lies at a path; a table that the file gives again is emptied, so that it keeps its place."""
    key, *rest = path
    again = own.get(key) if isinstance(own, Mapping) else None
    inner = tree.get(key)
    if rest and isinstance(inner, Mapping):
        return {**tree, key: _without(inner, tuple(rest), again)}
    if isinstance(again, Mapping) and isinstance(inner, Mapping):
        return {**tree, key: {}}
    return {each: value for each, value in tree.items() if each != key}


def _several(name: str, places: tuple[int, ...], changes: Changes, layer: Layer) -> Problem:
    numbered = names_of_changes(changes)
    told = ", ".join(f'"{numbered[place]}" ({changes[place][0]})' for place in places)
    return Problem(
        layer.where(LEAVE_OUT), f"{show_read(name)} names {len(places)} inherited changes", told, "say which"
    )


def _not_inherited(name: str, found: Left, layer: Layer) -> Problem:
    names = (*names_of_changes(found.changes), *names_of_tables(found.tree))
    everything = {*names, *_names_of_keys(found.tree)} - set(_NEVER)
    mend = _mend(name, layer)
    whole = tuple(sorted(each for each in everything if name and each.endswith(f".{name}")))
    close = () if mend else whole or close_matches(name, everything)
    mend = mend if mend or close else "it leaves out only what comes from the design or ticket this one builds on"
    return Problem(layer.where(LEAVE_OUT), f"{show_read(name)} isn't inherited", ", ".join(names), mend, close[:3])


def _mend(name: str, layer: Layer) -> str:
    if name in _NEVER:
        return f"write {name} in this ticket as you want it"
    own_names = {change_name(change) for _, change in layer.changes()}
    if name in own_names or value_at(layer.tree(), name) is not None:
        return "it stands in this ticket itself: take it out there"
    return ""
