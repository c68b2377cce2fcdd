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

from drafting.errors import InputError, Problem, close_matches
from drafting.garment import SeamKind
from drafting.garment.step import Step
from drafting.mending import Advice
from drafting.proof import Check
from drafting.record import dataclass
from drafting.text import show_read
from drafting.ticket.installed import Offer, offers

Loader = Callable[[], object]


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
        return _step("block", self.blocks, name, where)

    def change(self, name: str, where: str) -> Step[object]:
        """Return the change of that name; InputError, with close matches, if there is none."""
        return _step("change", self.changes, name, where)

    def kinds(self) -> tuple[SeamKind, ...]:
        """Return the kinds of seam that the blocks and changes bring, each once; all of them are loaded."""
        steps = [self.block(name, "blocks") for name in self.blocks]
        steps += [self.change(name, "changes") for name in self.changes]
        return tuple(dict.fromkeys(kind for step in steps for kind in step.kinds))

    def find_mends(self, situation: str) -> tuple[Advice, ...]:
        """Return what the changes say of a situation that they mend, by name; all of them are loaded."""
        changes = [self.change(name, "changes") for name in sorted(self.changes)]
        return tuple(Advice(step.name, mend) for step in changes for mend in step.mends if mend.situation == situation)

    def all_checks(self) -> tuple[Check, ...]:
        """Return the checks that installed packages add to every proof, by name; InputError if one can't be loaded."""
        return tuple(_load_check(name, self.checks[name]) for name in sorted(self.checks))

    def design(self, name: str, where: str) -> Path:
        """Return the file of the design of that name; InputError, with close matches, if there is none."""
        if name in self.designs:
            return self.designs[name]
        raise _unknown_name("design", self.designs, name, where)


def find_catalogue() -> Catalogue:
    """Return what the installed distributions offer."""
    found: dict[str, dict[str, Offer]] = {}
    for offer in sorted(offers(), key=lambda offer: offer.name):
        found.setdefault(offer.group.partition(".")[2], {})[offer.name] = offer
    return Catalogue(
        blocks={name: offer.load for name, offer in found.get("blocks", {}).items()},
        changes={name: offer.load for name, offer in found.get("changes", {}).items()},
        checks={name: offer.load for name, offer in found.get("checks", {}).items()},
        designs=_files(found.get("designs", {})),
        demos=_files(found.get("demos", {})),
    )


def _files(found: Mapping[str, Offer]) -> Mapping[str, Path]:
    files: dict[str, Path] = {}
    for offer in found.values():
        for file in sorted(_folder(offer).glob("*.toml")):
            files.setdefault(file.stem, file)
    return files


def _folder(offer: Offer) -> Path:
    try:
        package = import_module(offer.module)
        return Path(next(iter(package.__path__)))
    except (ImportError, AttributeError, StopIteration) as error:
        raise _cannot_load("designs", offer.value, error) from None


def _step(kind: str, loaders: Mapping[str, Loader], name: str, where: str) -> Step[object]:
    if name not in loaders:
        raise _unknown_name(kind, loaders, name, where)
    try:
        step = loaders[name]()
    except (ImportError, AttributeError) as error:
        raise _cannot_load(kind, name, error) from None
    if not isinstance(step, Step):
        raise _cannot_load(kind, name, TypeError("it is no Step"))
    return step


def _load_check(name: str, loader: Loader) -> Check:
    try:
        check = loader()
    except (ImportError, AttributeError) as error:
        raise _cannot_load("check", name, error) from None
    if not isinstance(check, Check):
        raise _cannot_load("check", name, TypeError("it is no Check"))
    return check


def _unknown_name(kind: str, known: Iterable[str], name: str, where: str) -> InputError:
    names = tuple(sorted(known))
    mend = "" if names else "none is installed: is the package installed whole?"
    close = close_matches(name, names)
    return InputError([Problem(where, f"there is no {kind} {show_read(name)}", ", ".join(names), mend, close)])


def _cannot_load(kind: str, name: str, error: Exception) -> InputError:
    read = f"the {kind} {show_read(name)} can't be loaded: {show_read(str(error))}"
    return InputError([Problem("what is installed", read, "", "install the distribution it comes from again")])
