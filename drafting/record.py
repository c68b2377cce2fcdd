"""The standard library's ``dataclass`` for frozen, slotted records, made in a tenth of the time.

The engine is made of some three hundred small frozen records. The standard decorator compiles six methods for each and
makes each class twice, which takes a sixth of a whole run (``tests.bench`` measures it); here the few patterns of
``__init__`` are compiled, and the rest is shared. What is made is a dataclass in every other way (fields, replace,
asdict, pickling), and to a type checker it is the standard one. Tracebacks and debuggers show the lines of a pattern,
which ``linecache`` knows. A field with ``init=False`` is made by its ``default_factory``, and isn't pickled.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass
else:
    import dataclasses
    import linecache
    from dataclasses import MISSING
    from functools import cache
    from operator import attrgetter

    def dataclass(cls=None, /, *, frozen=False, slots=False, eq=True):
        """Make a class a dataclass; records that aren't both frozen and slotted are left to the standard library."""

        def make(cls):
            if frozen and slots:
                return _record(cls, eq)
            return dataclasses.dataclass(frozen=frozen, slots=slots, eq=eq)(cls)

        return make if cls is None else make(cls)

    @dataclasses.dataclass(frozen=True, slots=True)
    class Sample:
        """A record of the standard library's own making, whose inner notes ours carry too."""

        field: None

    def _record(cls, eq):
        own = dict(cls.__dict__)
        inherited = {name: field for base in cls.__mro__[:0:-1] for name, field in _fields_of(base).items()}
        fields = inherited | {
            name: _name_field(name, kind, own.get(name, MISSING))
            for name, kind in cls.__annotations__.items()
            if not str(kind).startswith("ClassVar")
        }
        given = tuple(name for name, field in fields.items() if field.init)
        methods = _methods(fields.values(), given, eq)
        space = methods | {name: value for name, value in own.items() if name not in fields and name not in _MADE_ANEW}
        space["__slots__"] = tuple(name for name in fields if name not in inherited)
        made = type(cls)(cls.__name__, cls.__bases__, space)
        made.__qualname__ = cls.__qualname__
        if "__init__" not in own:
            made.__init__ = _init(made, tuple(fields.values()))
        made.__dataclass_fields__ = fields
        return made

    _MADE_ANEW = ("__dict__", "__weakref__")

    def _fields_of(base):
        return base.__dict__.get("__dataclass_fields__", {})

    def _name_field(name, kind, default):
        """Return what the standard library notes of one field."""
        found = default if isinstance(default, dataclasses.Field) else dataclasses.field(default=default)
        if found.default.__class__.__hash__ is None:
            raise ValueError(f"mutable default {type(found.default)} for field {name} is not allowed")
        found.name, found.type, found._field_type = name, kind, _PLAIN
        return found

    _PLAIN = dataclasses.fields(Sample)[0]._field_type

    def _methods(fields, given, eq):
        """Return what all records have but ``__init__``, which needs the class made."""
        methods = {
            "__match_args__": given,
            "__dataclass_params__": Sample.__dataclass_params__,
            "__repr__": _repr(tuple(field.name for field in fields if field.repr)),
            "__setattr__": _refuse_set,
            "__delattr__": _refuse_delete,
            "__getstate__": _state(given),
            "__setstate__": _set_state(given),
        }
        if eq:
            key = _key(tuple(field.name for field in fields if field.compare))
            hashed = _key(tuple(f.name for f in fields if (f.compare if f.hash is None else f.hash)))
            methods |= {"__eq__": _equal(key), "__hash__": lambda self: hash(hashed(self))}
        return methods

    def _init(made, fields):
        kinds = tuple("given" if f.default_factory is MISSING else "made" if f.init else "kept" for f in fields)
        ways = [getattr(made, field.name).__set__ for field in fields]  # a slot's own way in is quicker than setattr
        factories = [field.default_factory for field in fields if field.default_factory is not MISSING]
        init = _pattern(kinds, hasattr(made, "__post_init__"))(*ways, *factories)
        asked = [field for field in fields if field.init]
        plain = [f.name for f in asked if f.default is MISSING and f.default_factory is MISSING]
        if plain != [field.name for field in asked[: len(plain)]]:
            raise TypeError(f"{made.__qualname__}: a field without a default follows one that has one")
        init.__code__ = init.__code__.replace(co_varnames=("self", *(field.name for field in asked)))
        init.__defaults__ = tuple(field.default for field in asked[len(plain) :])
        init.__qualname__ = f"{made.__qualname__}.__init__"
        init.__annotations__ = {field.name: field.type for field in asked} | {"return": None}
        return init

    @cache
    def _pattern(kinds, checked):
        """Return what makes an ``__init__`` for fields of these kinds; compiling is slow, and few patterns recur."""
        asked = [f"a{i}" for i, kind in enumerate(kinds) if kind != "kept"]
        known = [f"set{i}" for i in range(len(kinds))] + [f"make{i}" for i, kind in enumerate(kinds) if kind != "given"]
        values = {"given": "a{0}", "made": "make{0}() if a{0} is MISSING else a{0}", "kept": "make{0}()"}
        body = [f"  set{i}(self, {values[kind].format(i)})" for i, kind in enumerate(kinds)]
        body += ["  self.__post_init__()"] if checked else []
        text = f"def make({', '.join(known)}):\n def __init__({', '.join(['self', *asked])}):\n" + "\n".join(
            body or ["  pass"]
        )
        return _run(f"{text}\n return __init__", f"<record of {len(kinds)} fields: {' '.join(kinds)}, {checked}>")[
            "make"
        ]

    def _run(text, name):
        """Return what a text defines; where it is run, its lines can be looked up under ``name``."""
        linecache.cache[name] = (len(text), None, text.splitlines(keepends=True), name)
        space = {"MISSING": MISSING}
        exec(compile(text, name, "exec"), space)
        return space

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
