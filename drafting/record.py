"""The standard library's ``dataclass`` for frozen, slotted records, made in a third of the time.

The engine is made of some two hundred small frozen records. The standard decorator compiles six methods for each, which
took a sixth of a whole run; here only ``__init__`` is compiled, and the other five are shared. What is made is a
dataclass in every other way (fields, replace, asdict, pickling), and to a type checker it is the standard one.
A field with ``init=False`` is made by its ``default_factory``, and isn't pickled.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass
else:
    import dataclasses
    from operator import attrgetter

    def dataclass(cls=None, /, *, frozen=False, slots=False, eq=True):
        """Make a class a dataclass; records that aren't both frozen and slotted are left to the standard library."""

        def make(cls):
            if frozen and slots:
                return _record(cls, eq)
            return dataclasses.dataclass(frozen=frozen, slots=slots, eq=eq)(cls)

        return make if cls is None else make(cls)

    def _record(cls, eq):
        own = set(cls.__dict__)
        made = dataclasses.dataclass(init=False, repr=False, eq=False, slots=True)(cls)
        fields = dataclasses.fields(made)
        names = tuple(field.name for field in fields if field.init)
        methods = {
            "__init__": _init(made, fields),
            "__repr__": _repr(tuple(field.name for field in fields if field.repr)),
            "__setattr__": _refuse_set,
            "__delattr__": _refuse_delete,
            "__getstate__": _state(names),
            "__setstate__": _set_state(names),
        }
        if eq:
            key = _key(tuple(field.name for field in fields if field.compare))
            methods |= {"__eq__": _equal(key), "__hash__": lambda self: hash(key(self))}
        for name, method in methods.items():
            if name not in own:
                setattr(made, name, method)
        return made

    def _init(made, fields):
        known = {"_unset": dataclasses.MISSING}
        head, body = ["self"], []
        for field in fields:
            name, value = field.name, field.name
            known[f"set__{name}"] = getattr(made, name).__set__  # the slot's own way in: twice as quick as by its name
            if field.default is not dataclasses.MISSING:
                known[f"default__{name}"] = field.default
                value_given = f"{name}=default__{name}"
            elif field.default_factory is not dataclasses.MISSING:
                known[f"default__{name}"] = field.default_factory
                value_given, value = f"{name}=_unset", f"default__{name}() if {name} is _unset else {name}"
            else:
                value_given = name
            if field.init:
                head.append(value_given)
            else:
                value = f"default__{name}()"
            body.append(f"  set__{name}(self, {value})")
        if hasattr(made, "__post_init__"):
            body.append("  self.__post_init__()")
        # the defaults come in as arguments, so that no field's name can hide them
        text = f"def make({', '.join(known)}):\n def __init__({', '.join(head)}):\n" + "\n".join(body or ["  pass"])
        space = {}
        exec(f"{text}\n return __init__", {}, space)
        init = space["make"](**known)
        init.__qualname__ = f"{made.__qualname__}.__init__"
        init.__annotations__ = {field.name: field.type for field in fields} | {"return": None}
        return init

    def _key(names):
        """Return what fetches the values that make records equal, as a tuple."""
        if len(names) > 1:
            return attrgetter(*names)
        return lambda self: tuple(getattr(self, name) for name in names)

    def _equal(key):
        def __eq__(self, other):
            return key(self) == key(other) if other.__class__ is self.__class__ else NotImplemented

        return __eq__

    def _repr(names):
        def __repr__(self):
            return f"{type(self).__qualname__}({', '.join(f'{name}={getattr(self, name)!r}' for name in names)})"

        return __repr__

    def _refuse_set(self, name, value):
        raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")

    def _refuse_delete(self, name):
        raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")

    def _state(names):
        return lambda self: [getattr(self, name) for name in names]

    def _set_state(names):
        def __setstate__(self, state):
            self.__init__(**dict(zip(names, state, strict=True)))

        return __setstate__


__all__ = ["dataclass"]
