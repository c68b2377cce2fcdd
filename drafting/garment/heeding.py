"""Which options a step asks for as it is taken: one that it never asks for had no effect.

A step's options are handed to it as a record that notes what is read of it. Its class is made from theirs, with the
same fields and methods, so that the step sees no difference.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Hashable
from functools import cache
from typing import Any


def watch_options(options: Any) -> Any:
    """Return the same options, which note what is read of them from now on; for ``read_of``."""
    kind: type = type(options)
    watched: Any = object.__new__(_watching(kind))
    for field in dataclasses.fields(kind):
        object.__setattr__(watched, field.name, getattr(options, field.name))
    object.__setattr__(watched, "_noted", set())
    object.__setattr__(watched, "_idle", False)
    return watched


def mark_idle(options: Any) -> None:
    """Note that the step did nothing, where its options are watched."""
    if hasattr(options, "_idle"):
        object.__setattr__(options, "_idle", True)


def was_idle(options: Any) -> bool:
    """Return whether the step did nothing; False where its options aren't watched."""
    return bool(getattr(options, "_idle", False))


def read_of(options: Any) -> frozenset[str]:
    """Return the options that were read, of those that are watched; all of them of any other."""
    noted = getattr(options, "_noted", None)
    return frozenset(field.name for field in dataclasses.fields(options)) if noted is None else frozenset(noted)


@cache
def _watching(kind: Hashable) -> Any:
    """A class like ``kind``, a dataclass, whose records note what is read of them."""
    assert isinstance(kind, type)
    names = frozenset(field.name for field in dataclasses.fields(kind))

    def note(self: Any, name: str) -> Any:
        if name == "__class__":  # what is made of it by ``dataclasses.replace`` is one of theirs, and all of it is read
            return kind
        if name in names:
            object.__getattribute__(self, "_noted").add(name)
        return object.__getattribute__(self, name)

    own = {
        "__slots__": ("_noted", "_idle"),
        "__getattribute__": note,
        "__eq__": object.__eq__,  # what is kept for options that are alike would be found without a look at these
        "__hash__": object.__hash__,
        "__doc__": kind.__doc__,
    }
    return type(kind.__name__, (kind,), own)
