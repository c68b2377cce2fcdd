"""The trade values of what is installed: found in the modules of the engine, and of what blocks and changes offer."""

from __future__ import annotations

import ast
import pkgutil
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import fields, is_dataclass
from importlib import import_module
from importlib.util import find_spec
from itertools import pairwise
from types import ModuleType

import drafting
from drafting.record import dataclass
from drafting.text import show_read
from drafting.ticket.installed import Offer, offers
from drafting.trade import TradeValue

_OFFERED = ("blocks", "changes")


@dataclass(frozen=True, slots=True)
class Declared:
    """One declaration: its name, its meaning, and its values by what each is for ("" where there is only one)."""

    name: str
    meaning: str
    figures: tuple[tuple[str, TradeValue], ...]


@dataclass(frozen=True, slots=True)
class DeclaringModule:
    """A module that declares trade values: what it offers (each a kind and a name), its sentence, its values.

    ``sentence`` is the first of its docstring, or says why it can't be loaded.
    """

    module: str
    offers: tuple[tuple[str, str], ...]
    sentence: str
    values: tuple[Declared, ...]


def find_values() -> tuple[DeclaringModule, ...]:
    """Return what every module declares: first those with blocks and their packages, then changes, then the engine."""
    offered: dict[str, list[tuple[str, str]]] = {}
    steps = [offer for offer in offers() if offer.group.partition(".")[2] in _OFFERED]
    for offer in sorted(steps, key=lambda offer: (offer.group, offer.name)):
        offered.setdefault(offer.module, []).append((offer.group.partition(".")[2].removesuffix("s"), offer.name))
    names = sorted({*_modules_beside(steps), *_modules_in(drafting)}, key=lambda name: _rank(name, offered))
    return tuple(place for name in names if (place := _place(name, offered)) is not None)


def _rank(module: str, offered: Mapping[str, list[tuple[str, str]]]) -> tuple[int, str]:
    kinds = {kind for kind, _ in offered.get(module, ())}
    engine = module.partition(".")[0] == drafting.__name__
    return (1 if "change" in kinds else 2 if engine else 0), module


def _modules_beside(steps: list[Offer]) -> Iterator[str]:
    """Yield the modules of the packages that steps stand in, from the top package down."""
    for top in dict.fromkeys(offer.module.partition(".")[0] for offer in steps):
        with suppress(Exception):  # told where its step is asked for
            yield from _modules_in(import_module(top))
    yield from (offer.module for offer in steps)


def _modules_in(top: ModuleType) -> Iterator[str]:
    yield top.__name__
    for found in pkgutil.walk_packages(getattr(top, "__path__", ()), f"{top.__name__}.", onerror=lambda name: None):
        if "drafting.trade" in _source(found.name):  # so that nothing else need be imported
            yield found.name


def _source(module: str) -> str:
    """Return a module's text, "" where there is none to read."""
    spec = find_spec(module)
    read = getattr(spec.loader if spec is not None else None, "get_source", None)
    return (read(module) or "") if callable(read) else ""


def _place(module: str, offered: Mapping[str, list[tuple[str, str]]]) -> DeclaringModule | None:
    told = tuple(offered.get(module, ()))
    try:
        found, source = import_module(module), _source(module)
    except Exception as error:  # a fault of that module's own
        return DeclaringModule(module, told, f"It can't be loaded: {show_read(str(error))}", ())
    values = tuple(
        Declared(name, meaning, figures)
        for name, meaning in _read_assigned(source)
        if (figures := tuple(_figures(getattr(found, name, None))))
    )
    sentence = (found.__doc__ or "").strip().partition("\n")[0]
    return DeclaringModule(module, told, sentence, values) if values else None


def _read_assigned(source: str) -> Iterator[tuple[str, str]]:
    """Yield the names that a module assigns itself, each with the docstring beneath it."""
    for each, after in pairwise([*ast.parse(source).body, None]):
        if isinstance(each, (ast.Assign, ast.AnnAssign)):
            target = each.target if isinstance(each, ast.AnnAssign) else each.targets[0]
            beneath = after.value if isinstance(after, ast.Expr) else None
            told = beneath.value if isinstance(beneath, ast.Constant) and isinstance(beneath.value, str) else ""
            if isinstance(target, ast.Name):
                yield target.id, " ".join(told.split())


def _figures(each: object, key: str = "") -> Iterator[tuple[str, TradeValue]]:
    """Yield the trade values that are, or stand in, what a module holds by a name."""
    if isinstance(each, TradeValue):
        yield key, each
    elif isinstance(each, tuple):
        for inner in each:
            yield from _figures(inner, key)
    else:
        for name, inner in _parts(each):
            yield from _figures(inner, f"{key}: {_word(name)}".removeprefix(": "))


def _word(name: object) -> str:
    return " over ".join(map(str, name)) if isinstance(name, tuple) else str(getattr(name, "value", name))


def _parts(each: object) -> Iterator[tuple[object, object]]:
    """Yield what a table or a record holds, by its names."""
    if isinstance(each, Mapping):
        yield from each.items()
    elif is_dataclass(each) and not isinstance(each, type):
        yield from ((field.name, getattr(each, field.name)) for field in fields(each))
