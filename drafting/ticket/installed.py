"""Entry points of what is installed, read from the files beside the packages.

The entry points specification of Python packaging says where they stand: ``entry_points.txt`` in each
distribution's ``.dist-info`` or ``.egg-info`` folder. Reading them here takes a tenth of the time that loading the
standard library's reader takes; where distributions come from elsewhere than folders, that reader is used.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

from drafting.record import dataclass

_GROUPS = "blockwright."
KINDS = ("blocks", "changes", "checks", "designs", "demos")
_VALUE = re.compile(r"([\w.]+)(?:\s*:\s*([\w.]+))?\s*(?:\[[^]]*\])?")


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that a distribution offers by an entry point: its group and name, where it stands, and whose it is."""

    group: str
    name: str
    value: str
    distribution: str = ""

    def __str__(self) -> str:
        """Return where it stands, and whose it is."""
        return f"{self.value} (of {self.distribution})" if self.distribution else self.value

    @property
    def module(self) -> str:
        """The module that it stands in, or is."""
        found = _VALUE.fullmatch(self.value.strip())
        if found is None:
            raise ImportError(f"{self.value} names no module")
        return found[1]

    def __call__(self) -> object:
        """Import it; ImportError or AttributeError if it isn't there, whatever its module raises if that is faulty."""
        module = self.module
        found: object = import_module(module)
        for name in self.value.partition(":")[2].partition("[")[0].strip().split("."):
            found = getattr(found, name) if name else found
        return found


def offers() -> list[Offer]:
    """Return all entry points of Blockwright's groups, each distribution once: the first of its name on the path."""
    if _in_folders_only():
        return [offer for whose, text in _texts() for offer in _read_offers(text, whose)]
    return [offer for kind in KINDS for offer in _by_the_standard_reader(f"{_GROUPS}{kind}")]


def _by_the_standard_reader(group: str) -> Iterator[Offer]:
    from importlib.metadata import entry_points

    for point in entry_points(group=group):
        yield Offer(point.group, point.name, point.value, point.dist.name if point.dist else "")


def _in_folders_only() -> bool:
    finders = (finder for finder in sys.meta_path if hasattr(finder, "find_distributions"))
    known = all(getattr(finder, "__name__", "") == "PathFinder" for finder in finders)
    return known and not any(os.path.isfile(place) and not place.endswith(".pth") for place in sys.path)


def _texts() -> Iterator[tuple[str, str]]:
    """Yield the name of each distribution, and the text of its entry points."""
    seen: set[str] = set()
    for place in sys.path:
        try:
            folders = sorted(name for name in os.listdir(place or ".") if name.endswith((".dist-info", ".egg-info")))
        except OSError:
            continue
        for folder in folders:
            name = re.sub(r"[-_.]+", "-", folder.rpartition(".")[0].partition("-")[0]).lower()
            if name not in seen:
                seen.add(name)
                yield name, _read_text(Path(place or ".", folder, "entry_points.txt"))


def _read_text(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return ""


def _read_offers(text: str, whose: str) -> Iterator[Offer]:
    group = ""
    for line in map(str.strip, text.splitlines()):
        if line.startswith("["):
            group = line.strip("[]").strip()
        elif group.startswith(_GROUPS) and "=" in line and not line.startswith(("#", ";")):
            name, _, value = line.partition("=")
            yield Offer(group, name.strip(), value.strip(), whose)
