"""What a ticket takes over from what it builds on: layers laid over each other, what is left out, whose the body is.

A table is laid over the inherited one, key by key; changes follow the inherited ones. Two things are not left to that.
What a ticket doesn't want it leaves out by name. And a body is one person's: it is taken whole from one file, and
merged only where the ticket says that it is the same person, since a body of two people's figures fits neither. With
the body go the changes that fitted it; a fit change of a design, which has no wearer, is the design's.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from drafting.errors import Problem
from drafting.record import dataclass
from drafting.ticket.leaving import Left, change_name, leave_out, names_of_changes
from drafting.ticket.tree import Changes, Layer, TicketValue, Tree, find_table, find_value, lay_over

SAME_PERSON = "same_person"


@dataclass(frozen=True, slots=True)
class Inherited:
    """All layers in one: tables, and changes in order; and what became of the bodies.

    ``strangers`` are the files whose wearer is another person, so that nothing of theirs was taken; ``outdated`` the
    measurements that gave way to what was measured anew, each with its file. ``fitted`` are the changes stated where
    there was a wearer, ``left_behind`` those of fit that stayed with theirs, each with its file. ``below`` is what the
    last layer found there, before it left anything out by name; gone from it is what stays with another body.
    ``called`` is the last name that the body had, whether or not a later layer left it out.
    """

    tree: Tree
    changes: Changes = ()
    strangers: tuple[str, ...] = ()
    outdated: tuple[tuple[str, str], ...] = ()
    fitted: Changes = ()
    left_behind: tuple[tuple[str, str], ...] = ()
    below: Left = Left({})
    called: TicketValue | None = None

    def leaving(self) -> tuple[tuple[str, str], ...]:
        """Return where each inherited change stands, with the name by which the last layer may leave it out."""
        places = (place for place, _ in self.below.changes)
        return tuple(zip(places, names_of_changes(self.below.changes), strict=True))


def inherit(layers: Iterable[Layer], fits_body: Callable[[str], bool], problems: list[Problem]) -> Inherited:
    """Return what all layers say together, the later over the earlier; what can't be is added to ``problems``.

    ``fits_body`` tells whether the change of a name is one of fit.
    """
    found = Inherited({})
    for layer in layers:
        found = _add_layer(found, layer, fits_body, problems)
    return found


def _add_layer(found: Inherited, layer: Layer, fits_body: Callable[[str], bool], problems: list[Problem]) -> Inherited:
    left = leave_out(Left(found.tree, found.changes), layer, problems)
    own = layer.tree()
    before = find_table(left.tree, "wearer")
    wearer = find_table(own, "wearer")
    person = _take_wearer(before, wearer, layer, found.called, problems)
    leaves = not person.same or (_states(find_table(found.tree, "wearer")) and not _states(before))
    behind = _find_fitted(found, fits_body) if leaves else frozenset[int]()
    tree = lay_over(left.tree, {key: value for key, value in own.items() if key != "wearer"})
    strangers = found.strangers if person.same else (*found.strangers, *files_of(before))
    outdated = tuple(each for each in found.outdated if person.same) + person.outdated
    tree = {**tree, "wearer": person.tree} if person.tree else tree
    called = _name(wearer) or (found.called if person.same else None)
    return Inherited(
        tree,
        replace(left, gone=left.gone | behind).with_changes(layer.changes()),
        tuple(dict.fromkeys(strangers)),
        outdated,
        (*found.fitted, *(layer.changes() if _states(person.tree) else ())),
        (*found.left_behind, *_tell_changes(found.changes, behind - left.gone)),
        Left(found.tree, found.changes, behind),
        called,
    )


def _find_fitted(found: Inherited, fits_body: Callable[[str], bool]) -> frozenset[int]:
    """The places of the fit changes that were stated for a wearer."""
    stated = ((place, change) for place, change in enumerate(found.changes) if change in found.fitted)
    return frozenset(place for place, (_, change) in stated if fits_body(change_name(change)))


def _tell_changes(changes: Changes, places: Iterable[int]) -> Iterator[tuple[str, str]]:
    """Each change at a place by its name, with its number where several have it, and its file."""
    names = names_of_changes(changes)
    for place in sorted(places):
        named = find_value(changes[place][1], "change")
        yield names[place], named.file if named is not None else ""


@dataclass(frozen=True, slots=True)
class _Person:
    """The wearer's tables after a layer; ``same`` where they are of the one before, if there was one."""

    tree: Tree
    same: bool = True
    outdated: tuple[tuple[str, str], ...] = ()


def _take_wearer(before: Tree, own: Tree, layer: Layer, called: TicketValue | None, problems: list[Problem]) -> _Person:
    """Whose body it is: the one before, as it was or measured in part anew, or another's, of whom all is said here."""
    same = find_value(own, SAME_PERSON)
    stated = {key: value for key, value in _without_flag(own).items() if not _is_empty(value)}
    if same is not None and same.value is True:
        problems.extend(_doubt_person(before, stated, layer, same, called))
        outdated = _find_outdated(before, stated)
        body = {key: value for key, value in find_table(before, "body").items() if key not in dict(outdated)}
        kept = {**before, "body": body} if outdated else before
        return _Person(lay_over(kept, stated), True, tuple((each, file) for each, file in outdated.items()))
    if not stated or not _states(before):
        return _Person(before if _states(before) else _without_flag(own))
    return _Person(_without_flag(own), False)


def _without_flag(own: Tree) -> Tree:
    return {key: value for key, value in own.items() if key != SAME_PERSON}


def _is_empty(value: TicketValue | Tree) -> bool:
    return value.value == "" if isinstance(value, TicketValue) else not value


def _states(wearer: Tree) -> bool:
    return any(not _is_empty(value) for value in wearer.values())


def _doubt_person(
    before: Tree, own: Tree, layer: Layer, same: TicketValue, called: TicketValue | None
) -> Iterator[Problem]:
    """The same person as whom? By another name, or with no one before, it can't be told."""
    if not _states(before):
        read = "true, but nothing that this ticket builds on has a wearer"
        yield Problem(same.where, read, "", f"take {SAME_PERSON} out")
        return
    now = _name(own)
    if called is not None and now is not None and _fold(called) != _fold(now):
        file = called.file
        yield Problem(
            layer.where("wearer.name"),
            f"{now.value}, but {file} is for {called.value}, and {SAME_PERSON} = true stands beside it",
            "",
            f"if it is the same person, take the name out here, or alter it in {file}; if it is someone else, take "
            f"{SAME_PERSON} out and give all the measurements",
        )


def _name(wearer: Tree) -> TicketValue | None:
    found = find_value(wearer, "name")
    return found if found is not None and isinstance(found.value, str) and found.value.strip() else None


def _fold(name: TicketValue) -> str:
    return " ".join(str(name.value).split()).casefold()


def _find_outdated(before: Tree, own: Tree) -> Mapping[str, str]:
    """Sides measured apart before, where the measurement of both was taken anew: each with its file."""
    from drafting.body import measured_apart

    old, new = find_table(before, "body"), find_table(own, "body")
    gone = (side for both, sides in measured_apart().items() if both in new for side in sides if side not in new)
    return {side: found.file for side in gone if (found := find_value(old, side)) is not None}


def files_of(tree: Tree) -> tuple[str, ...]:
    """Return the files that the values of a table stand in, each once, in order."""
    own = (value.file for value in tree.values() if isinstance(value, TicketValue))
    deep = (file for value in tree.values() if not isinstance(value, TicketValue) for file in files_of(value))
    return tuple(dict.fromkeys((*own, *deep)))
