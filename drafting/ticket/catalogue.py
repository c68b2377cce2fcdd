"""What there is to draft: blocks, changes and designs, found through entry points, and tickets beside the ticket.

Nothing here knows a block by name. Any installed distribution adds to the catalogue by entry points in the groups
``blockwright.blocks`` and ``blockwright.changes`` (each a ``Step``), ``blockwright.checks`` (each a ``Check``),
``blockwright.designs`` and ``blockwright.demos`` (each a package whose folder holds tickets, one a file).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field
from importlib import import_module
from pathlib import Path
from traceback import walk_tb
from typing import TypeVar

from drafting.errors import InputError, Problem, close_matches
from drafting.garment import SeamKind
from drafting.garment.step import Stage, Step
from drafting.mending import Advice
from drafting.proof import Check
from drafting.record import dataclass
from drafting.text import printable, show_read
from drafting.ticket.installed import Offer, offers
from drafting.ticket.keys import unite_kinds
from drafting.ticket.misspelt import refuse_misspelt

Loader = Callable[[], object]
Named = TypeVar("Named", Step[object], Check)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Blocks, changes and designs by name; a step is loaded when it is first asked for."""

    blocks: Mapping[str, Loader] = field(default_factory=dict)
    changes: Mapping[str, Loader] = field(default_factory=dict)
    checks: Mapping[str, Loader] = field(default_factory=dict)
    designs: Mapping[str, Path] = field(default_factory=dict)
    demos: Mapping[str, Path] = field(default_factory=dict)

    def block(self, name: str, where: str) -> Step[object]:
        """Return the block of that name; InputError, with close matches, if there is none."""
        return _find("block", self.blocks, name, where)

    def change(self, name: str, where: str) -> Step[object]:
        """Return the change of that name; InputError, with close matches, if there is none."""
        return _find("change", self.changes, name, where)

    def fits_body(self, name: str) -> bool:
        """Return whether the change of that name is one of fit; False where there is none."""
        return name in self.changes and self.change(name, "changes").stage is Stage.FIT

    def kinds(self) -> tuple[SeamKind, ...]:
        """Return the kinds of seam that the blocks and changes bring, each once; all of them are loaded."""
        steps = [self.block(name, "blocks") for name in self.blocks]
        steps += [self.change(name, "changes") for name in self.changes]
        return unite_kinds(kind for step in steps for kind in step.kinds)

    def find_mends(self, situation: str) -> tuple[Advice, ...]:
        """Return what changes, then blocks, say of a situation that they mend, by name; all of them are loaded."""
        changes = [self.change(name, "changes") for name in sorted(self.changes)]
        blocks = [self.block(name, "blocks") for name in sorted(self.blocks)]
        steps = (*changes, *blocks)
        return tuple(Advice(step.name, mend) for step in steps for mend in step.mends if mend.situation == situation)

    def all_checks(self) -> tuple[Check, ...]:
        """Return the checks that installed packages add to every proof, by name; InputError if one can't be loaded."""
        return tuple(_load(Check, "check", name, self.checks[name]) for name in sorted(self.checks))

    def design(self, name: str, where: str) -> Path:
        """Return the file of the design of that name; InputError, with close matches, if there is none."""
        if name in self.designs:
            return self.designs[name]
        raise _unknown_name("design", self.designs, name, where)


def find_catalogue() -> Catalogue:
    """Return what the installed distributions offer; InputError where two offer one name."""
    found: dict[str, list[Offer]] = {}
    for offer in sorted(offers(), key=lambda offer: offer.name):
        found.setdefault(offer.group.partition(".")[2], []).append(offer)
    return Catalogue(
        blocks=_by_name("block", found.get("blocks", [])),
        changes=_by_name("change", found.get("changes", [])),
        checks=_by_name("check", found.get("checks", [])),
        designs=_files(found.get("designs", [])),
        demos=_files(found.get("demos", [])),
    )


def _by_name(kind: str, found: Iterable[Offer]) -> Mapping[str, Offer]:
    named: dict[str, Offer] = {}
    for offer in found:
        first = named.setdefault(offer.name, offer)
        if first.value != offer.value:
            raise _two_of_one_name(kind, offer.name, first, offer)
    return named


def _files(found: Iterable[Offer]) -> Mapping[str, Path]:
    files: dict[str, tuple[Path, Offer]] = {}
    for offer in found:
        for file in sorted(_folder(offer).glob("*.toml")):
            first, by = files.setdefault(file.stem, (file, offer))
            if first != file:
                raise _two_of_one_name("design", file.stem, by, offer)
    return {name: file for name, (file, _) in files.items()}


def _folder(offer: Offer) -> Path:
    try:
        package = import_module(offer.module)
        return Path(next(iter(package.__path__)))
    except Exception as error:  # whatever a package raises is its own fault, and told as that
        raise _cannot_load("folder of designs", offer.name, offer, error) from error


def _find(kind: str, loaders: Mapping[str, Loader], name: str, where: str) -> Step[object]:
    if name not in loaders:
        raise _unknown_name(kind, loaders, name, where)
    return _load(Step, kind, name, loaders[name])


def _load(made: type[Named], kind: str, name: str, loader: Loader) -> Named:
    """Load what an entry point names; InputError, which says whose fault it is, where it is none, or another."""
    try:
        found = loader()
    except Exception as error:  # whatever a package raises is its own fault, and told as that
        raise _cannot_load(kind, name, loader, error) from error
    if not isinstance(found, made):
        raise _cannot_load(kind, name, loader, TypeError(f"it is no {made.__name__}"))
    if found.name != name:
        wrong = ValueError(f"its entry point is called {show_read(name)}, it calls itself {show_read(found.name)}")
        raise _cannot_load(kind, name, loader, wrong)
    if isinstance(found, Step):
        try:
            refuse_misspelt(found)
        except ValueError as error:
            raise _cannot_load(kind, name, loader, error) from error
    return found


def _unknown_name(kind: str, known: Iterable[str], name: str, where: str) -> InputError:
    names = tuple(sorted(known))
    mend = "" if names else "none is installed: is the package installed whole?"
    close = close_matches(name, names)
    return InputError([Problem(where, f"there is no {kind} {show_read(name)}", ", ".join(names), mend, close)])


def _two_of_one_name(kind: str, name: str, one: Offer, other: Offer) -> InputError:
    read = f"there are two {kind}s {show_read(name)}: {one} and {other}"
    mend = "take one of the two packages away, or have its maker give it another name"
    return InputError([Problem("what is installed", read, "", mend)])


def _cannot_load(kind: str, name: str, loader: Loader, error: Exception) -> InputError:
    """The fault of an entry point: what failed, and who can mend it."""
    at = f" from {loader}" if isinstance(loader, Offer) else ""
    why = str(error) if isinstance(error, (ImportError, TypeError, ValueError)) else f"{type(error).__name__}: {error}"
    read = f"the {kind} {show_read(name)} can't be loaded{at}: {printable(why)}"
    mend = "its maker must put it right; until then, take its package away"
    if isinstance(loader, Offer) and _is_absent(loader, error):
        mend = "if its package was changed since it was installed, install that again; else its maker must put it right"
    return InputError([Problem("what is installed", read, "", mend)])


def _is_absent(offer: Offer, error: Exception) -> bool:
    """Whether an entry point names what isn't there, rather than a module that fails."""
    if isinstance(error, ModuleNotFoundError):
        return f"{offer.module}.".startswith(f"{error.name}.")
    return isinstance(error, AttributeError) and not _fails_within(error)


def _fails_within(error: Exception) -> bool:
    """Whether an error was raised deeper than where the catalogue loads."""
    return any(frame.f_code.co_name == "<module>" for frame, _ in walk_tb(error.__traceback__))
