"""From a ticket's file to its layers: the design or ticket it builds on first, then what it states itself.

A ticket may come from someone else. So it builds only on the catalogue's designs, on files in its own folder and below,
and on those in folders that whoever gives the command allows; where a path leads elsewhere, by a link too, nothing is
read.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from pathlib import Path

from drafting.errors import InputError, Problem
from drafting.text import show_read
from drafting.ticket.catalogue import Catalogue
from drafting.ticket.reading import read_toml
from drafting.ticket.shape import check_shape
from drafting.ticket.tree import Layer
from drafting.units import Unit, parse_unit

MOST_LAYERS = 12
"""How many tickets may build on each other."""


def read_layers(path: Path, catalogue: Catalogue, folders: Iterable[Path] = ()) -> tuple[Layer, ...]:
    """Return the layers of a ticket, the first the one that all others build on; InputError if one can't be read.

    ``folders`` are those that it may build on besides its own.
    """
    folders = tuple(folders)
    chain: list[tuple[Path, Mapping[str, object]]] = []
    seen: list[Path] = []
    following: Path | None = path
    where = ""
    while following is not None:
        _refuse_circle(following, seen, where)
        tables = read_toml(following)
        check_shape(tables, following.name)
        chain.append((following, tables))
        where = f"{following.name}: builds_on"
        following = _builds_on(following, tables, catalogue, folders)
    return _with_units(chain[::-1], catalogue)


def _builds_on(
    path: Path, tables: Mapping[str, object], catalogue: Catalogue, folders: tuple[Path, ...]
) -> Path | None:
    """Find what a ticket builds on: a file, named with its ending, a design, or a ticket beside it by its stem."""
    name = tables.get("builds_on") or None
    if not isinstance(name, str):
        return None
    where = f"{path.name}: builds_on"
    if name.endswith(".toml"):
        file = path.parent / name
        _refuse_outside(path, name, where, folders)
        if not _is_file(file):
            raise InputError(
                [Problem(where, f"there is no file {show_read(name)}", "", f"looked for it beside {path.name}")]
            )
        return file
    beside = path.parent / f"{name}.toml"
    if name not in catalogue.designs and "/" not in name and "\\" not in name and _is_file(beside):
        _refuse_outside(path, beside.name, where, folders)
        return beside
    return catalogue.design(name, where)


def _refuse_outside(ticket: Path, name: str, where: str, folders: tuple[Path, ...]) -> None:
    """InputError where a file, links followed, lies neither in the ticket's folder or below it nor in one allowed."""
    allowed = f"a file in the folder of {ticket.name} or below it, or a design's name"
    if "://" in name or name.replace("\\", "/").startswith("//"):
        mend = f"copy it beside {ticket.name}, and name it without its way"
        raise InputError([Problem(where, f"{show_read(name)} is a place on the network", allowed, mend)])
    file = Path(os.path.realpath(ticket.parent / name))
    if not any(file.is_relative_to(os.path.realpath(folder)) for folder in (ticket.parent, *folders)):
        read = f"{show_read(name)} lies outside the folder of {ticket.name}"
        mend = f"copy it beside {ticket.name}, or allow its folder in the command: --from FOLDER"
        raise InputError([Problem(where, read, allowed, mend)])


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name no file can have
        return False


def _refuse_circle(path: Path, seen: list[Path], where: str) -> None:
    """Note a file as read; InputError if it was read before, or the chain is senselessly long."""
    real = Path(os.path.realpath(path))
    if real in seen:
        way = " → ".join(file.name for file in (*seen, real))
        raise InputError(
            [Problem(where, f"tickets build on each other in a circle: {way}", "", "take one of them out")]
        )
    if len(seen) >= MOST_LAYERS:
        raise InputError(
            [Problem(where, "too many tickets build on each other", f"{MOST_LAYERS} at most", "join some")]
        )
    seen.append(real)


def _with_units(chain: list[tuple[Path, Mapping[str, object]]], catalogue: Catalogue) -> tuple[Layer, ...]:
    """Give each file its unit: its own, or else that of what it builds on, or else centimetres.

    A design of the catalogue is no file of the maker's: it is called after the ticket that builds on it.
    """
    unit: Unit = "cm"
    layers: list[Layer] = []
    designs = set(catalogue.designs.values())
    asks = next((path.name for path, _ in chain if path not in designs), "")
    for path, tables in chain:
        if "unit" in tables:
            unit = parse_unit(tables["unit"], where=f"{path.name}: unit")
        inherited = path in designs and path != chain[-1][0]
        name = f"{asks}, in its design {path.stem}" if inherited and asks else path.name
        layers.append(Layer(name, tables, unit, path in designs))
    return tuple(layers)
