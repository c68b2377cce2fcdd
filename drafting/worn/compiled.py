"""Loops over numbers, compiled to machine code the first time they are called; compiled once, they are kept on disk."""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from types import FunctionType
from typing import Any, ParamSpec, TypeVar, cast

P = ParamSpec("P")
R = TypeVar("R")


@functools.cache
def compile_loop(loop: Callable[P, R], *parts: Callable[..., Any]) -> Callable[P, R]:
    """Return a loop compiled; it is given arrays and numbers alone. ``parts`` are the functions that it calls.

    Each of these may call those that stand before it.
    """
    import numba

    assert isinstance(loop, FunctionType)
    known = dict(loop.__globals__)
    for i, part in enumerate(parts):
        known[part.__name__] = compile_loop(part, *parts[:i])
    bare = FunctionType(loop.__code__, known, loop.__name__, loop.__defaults__, loop.__closure__)
    bare.__module__, bare.__qualname__ = loop.__module__, f"{loop.__qualname__}_{_name_source(loop)}"
    try:
        return cast(Callable[P, R], numba.njit(cache=True)(bare))
    except RuntimeError:  # there is no folder to keep it in
        return cast(Callable[P, R], numba.njit(bare))


def _name_source(loop: FunctionType) -> str:
    """A name for the source that a loop stands in: what was compiled from an older one is never taken for it."""
    return sha256(Path(inspect.getfile(loop)).read_bytes()).hexdigest()[:8]
