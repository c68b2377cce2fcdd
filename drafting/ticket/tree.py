"""What a ticket says, with where it says it: layers of files merged into one tree of told values.

A ticket may build on another, and that one on a design. Each value keeps the file and key it was read from and the
unit its file gives plain numbers, so that a figure of a design in inches stays one under a ticket in centimetres.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Union

from drafting.record import dataclass
from drafting.units import Unit


@dataclass(frozen=True, slots=True)
class TicketValue:
    """One value as it was read, where it stands ("alto.toml: cloth.width") and the unit of plain numbers there.

    ``file`` is the name of the file it stands in; ``is_design`` says that it is one of the catalogue's.
    """

    value: object
    where: str
    unit: Unit = "cm"
    file: str = ""
    is_design: bool = False


Tree = Mapping[str, Union[TicketValue, "Tree"]]
"""Tables of told values."""


class TicketTable(dict[str, Union[TicketValue, "Tree"]]):
    """A table that knows where it stands, empty or not: "alto.toml: paper.size", and in which file."""

    __slots__ = ("file", "where")

    def __init__(self, values: Tree, where: str, file: str = "") -> None:
        super().__init__(values)
        self.where = where
        self.file = file


LEAVE_OUT = "leave_out"
"""The key of what a ticket leaves out of what it inherits."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One file's tables; ``unit`` is what plain numbers in it are in; ``file`` its name in messages.

    ``is_design`` says that it is one of the catalogue's.
    """

    file: str
    tables: Mapping[str, object]
    unit: Unit
    is_design: bool = False

    def where(self, *path: str) -> str:
        """Return the place of a key, as it is named in messages."""
        return f"{self.file}: {'.'.join(path)}" if path else self.file

    def tree(self) -> Tree:
        """Return the file's tables, without its changes and what it leaves out, as told values."""
        return self._tell({key: value for key, value in self.tables.items() if key not in ("changes", LEAVE_OUT)})

    def leaves_out(self) -> tuple[str, ...]:
        """Return the names of what the file leaves out of what it inherits."""
        names = self.tables.get(LEAVE_OUT, [])
        assert isinstance(names, list)
        return tuple(names)

    def changes(self) -> tuple[tuple[str, Tree], ...]:
        """Return the file's changes in order, each with its place."""
        found = self.tables.get("changes", [])
        assert isinstance(found, list)
        places = [f"changes[{place}]" for place in range(1, len(found) + 1)]
        return tuple((self.where(place), self._tell(table, place)) for place, table in zip(places, found, strict=True))

    def _tell(self, table: Mapping[str, object], *path: str) -> Tree:
        told: Tree = {
            key: self._tell(value, *path, key)
            if isinstance(value, dict)
            else TicketValue(value, self.where(*path, key), self.unit, self.file, self.is_design)
            for key, value in table.items()
        }
        return TicketTable(told, self.where(*path), self.file)


Changes = tuple[tuple[str, Tree], ...]
"""Changes in order, each with its place."""


def find_value(tree: Tree, key: str) -> TicketValue | None:
    """Return a value of a table, or None if it isn't told."""
    found = tree.get(key)
    return found if isinstance(found, TicketValue) else None


def find_table(tree: Tree, key: str) -> Tree:
    """Return a table within a table; empty if it isn't told."""
    found = tree.get(key)
    return {} if found is None or isinstance(found, TicketValue) else found


def said_in(tree: Tree, *path: str) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Return the path and the place of each value that a ticket says, and not a design of the catalogue."""
    found: list[tuple[tuple[str, ...], str]] = []
    for key, value in tree.items():
        if not isinstance(value, TicketValue):
            found += said_in(value, *path, key)
        elif not value.is_design:
            found.append(((*path, key), value.where))
    return tuple(found)


def strip_places(tree: Tree) -> dict[str, object]:
    """Return the tree without places, as plain tables."""
    return {key: value.value if isinstance(value, TicketValue) else strip_places(value) for key, value in tree.items()}


def table_place(tree: Tree) -> str:
    """Return where a table stands; "ticket" for one that stands nowhere."""
    return tree.where if isinstance(tree, TicketTable) else "ticket"


def lay_over(base: Tree, new: Tree, *path: str) -> Tree:
    """Return a table with another laid over it, deeply.

    A block that is replaced by another takes none of the options that were meant for the first.
    """
    result = TicketTable(base, table_place(new), new.file if isinstance(new, TicketTable) else "")
    for key, value in new.items():
        old = base.get(key)
        if (
            isinstance(value, TicketValue)
            or old is None
            or isinstance(old, TicketValue)
            or _another_block(old, value, path)
        ):
            result[key] = value
        else:
            result[key] = lay_over(old, value, *path, key)
    return result


def _another_block(old: Tree, new: Tree, path: tuple[str, ...]) -> bool:
    before, after = find_value(old, "block"), find_value(new, "block")
    return path == ("blocks",) and after is not None and (before is None or before.value != after.value)
