"""What there is to draft: blocks, changes and designs, found through entry points, and tickets beside the ticket.

Nothing here knows a block by name. Any installed distribution adds to the catalogue by entry points in the groups
``blockwright.blocks`` and ``blockwright.changes`` (each a ``Step``), ``blockwright.designs`` and
``blockwright.demos`` (each a package whose folder holds tickets, one a file).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from drafting.errors import InputError, Problem, close_matches
from drafting.garment.step import Step
from drafting.text import shown

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

Loader = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Blocks, changes and designs by name; a step is loaded when it is first asked for."""

    blocks: Mapping[str, Loader] = field(default_factory=dict)
    changes: Mapping[str, Loader] = field(default_factory=dict)
    designs: Mapping[str, Path] = field(default_factory=dict)
    demos: Mapping[str, Path] = field(default_factory=dict)

    def block(self, name: str, where: str) -> Step[object]:
        """Return the block of that name; InputError, with close matches, if there is none."""
        return _step("block", self.blocks, name, where)

    def change(self, name: str, where: str) -> Step[object]:
        """Return the change of that name; InputError, with close matches, if there is none."""
        return _step("change", self.changes, name, where)

    def design(self, name: str, where: str) -> Path:
        """Return the file of the design of that name; InputError, with close matches, if there is none."""
        if name in self.designs:
            return self.designs[name]
        raise _unknown("design", self.designs, name, where)


def find_catalogue() -> Catalogue:
    """Return what the installed distributions offer."""
    from importlib.metadata import entry_points

    found = entry_points()
    return Catalogue(
        blocks=_loaders(found.select(group="blockwright.blocks")),
        changes=_loaders(found.select(group="blockwright.changes")),
        designs=_files(found.select(group="blockwright.designs")),
        demos=_files(found.select(group="blockwright.demos")),
    )


def _loaders(points: Iterable[EntryPoint]) -> Mapping[str, Loader]:
    return {point.name: point.load for point in _by_name(points)}


def _files(points: Iterable[EntryPoint]) -> Mapping[str, Path]:
    files: dict[str, Path] = {}
    for point in _by_name(points):
        for file in sorted(_folder(point.value).glob("*.toml")):
            files.setdefault(file.stem, file)
    return files


def _by_name(points: Iterable[EntryPoint]) -> list[EntryPoint]:
    return sorted({point.name: point for point in points}.values(), key=lambda point: point.name)


def _folder(package: str) -> Path:
    from importlib.resources import files

    try:
        return Path(str(files(package)))
    except ImportError as error:
        raise _broken("designs", package, error) from None


def _step(kind: str, loaders: Mapping[str, Loader], name: str, where: str) -> Step[object]:
    if name not in loaders:
        raise _unknown(kind, loaders, name, where)
    try:
        step = loaders[name]()
    except (ImportError, AttributeError) as error:
        raise _broken(kind, name, error) from None
    if not isinstance(step, Step):
        raise _broken(kind, name, TypeError("it is no Step"))
    return step


def _unknown(kind: str, known: Iterable[str], name: str, where: str) -> InputError:
    names = tuple(sorted(known))
    mend = "" if names else "none is installed: is the package installed whole?"
    close = close_matches(name, names)
    return InputError([Problem(where, f"there is no {kind} {shown(name)}", ", ".join(names), mend, close)])


def _broken(kind: str, name: str, error: Exception) -> InputError:
    read = f"the {kind} {shown(name)} can't be loaded: {shown(str(error))}"
    return InputError([Problem("what is installed", read, "", "install the distribution it comes from again")])
