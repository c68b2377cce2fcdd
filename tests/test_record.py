"""Records are what the standard library's dataclasses are, in all but the time they take to make."""

from __future__ import annotations

import copy
import dataclasses
import pickle
import traceback
from collections.abc import Callable
from dataclasses import field
from typing import Any, Generic, TypeVar

import pytest

from drafting.record import dataclass

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Ours(Generic[T]):
    """A record with every kind of field."""

    a: float
    b: T
    _a: int = 1
    c: tuple[int, ...] = (1, 2)
    d: list[int] = field(default_factory=list)
    e: int = field(default=3, compare=False, repr=False)


@dataclasses.dataclass(frozen=True, slots=True)
class Theirs(Generic[T]):
    """The same, made by the standard library."""

    a: float
    b: T
    _a: int = 1
    c: tuple[int, ...] = (1, 2)
    d: list[int] = field(default_factory=list)
    e: int = field(default=3, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Checked:
    """A record that looks at what it is given, and sets one of its fields."""

    x: float
    twice: float = 0.0

    def __post_init__(self) -> None:
        if self.x < 0:
            raise ValueError("negative")
        object.__setattr__(self, "twice", 2 * self.x)


@dataclass(frozen=True, slots=True)
class Longer(Checked):
    """A record that adds to another."""

    y: str = "y"


@dataclass(frozen=True, slots=True, eq=False)
class Alone:
    """A record that equals itself alone."""

    x: float


ARGUMENTS: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    ((1.0, "b"), {}),
    ((1.0,), {"b": "b", "e": 7}),
    ((2.0, None, 5, (), [1], 9), {}),
]


@pytest.mark.parametrize(("given", "named"), ARGUMENTS)
def test_fields_defaults_and_words_are_the_same(given: tuple[Any, ...], named: dict[str, Any]) -> None:
    """What is asked of either gives the same answer."""
    ours, theirs = Ours(*given, **named), Theirs(*given, **named)
    assert dataclasses.asdict(ours) == dataclasses.asdict(theirs)
    assert repr(ours) == repr(theirs).replace("Theirs", "Ours")
    assert [f.name for f in dataclasses.fields(ours)] == [f.name for f in dataclasses.fields(theirs)]
    assert dataclasses.replace(ours, a=8.0) == Ours(8.0, *dataclasses.astuple(ours)[1:])
    assert Ours.__match_args__ == Theirs.__match_args__
    assert Ours.__slots__ == Theirs.__slots__
    assert not hasattr(ours, "__dict__")


def test_equal_is_what_has_equal_fields_of_one_class() -> None:
    """As many hashes as different records; other classes are never equal."""
    assert Checked(1.0) == Checked(1.0) != Checked(2.0)
    assert len({Checked(1.0), Checked(1.0), Checked(2.0), Longer(1.0)}) == 3
    assert Ours(1.0, "b", e=1) == Ours(1.0, "b", e=2)
    assert Alone(1.0) != Alone(1.0)
    with pytest.raises(TypeError, match="unhashable"):
        hash(Ours(1.0, "b"))


def test_records_are_frozen() -> None:
    """No field is set or deleted, and no other added."""
    record = Checked(1.0)
    changes: list[Callable[[], None]] = [
        lambda: setattr(record, "x", 2.0),
        lambda: setattr(record, "z", 2.0),
        lambda: delattr(record, "x"),
    ]
    for change in changes:
        with pytest.raises(dataclasses.FrozenInstanceError):
            change()
    assert record.x == 1.0


def test_default_lists_are_not_shared() -> None:
    """Each record has its own."""
    one, other = Ours(1.0, ""), Ours(1.0, "")
    one.d.append(1)
    assert other.d == []


def test_what_a_record_refuses_is_refused() -> None:
    """``__post_init__`` runs, in records that add to it too."""
    assert Longer(2.0, y="z").twice == 4.0
    with pytest.raises(ValueError, match="negative"):
        Longer(-1.0)
    with pytest.raises(TypeError):
        Checked()


def test_records_can_be_copied_and_stored() -> None:
    """Frozen though they are."""
    record = Longer(2.0, y="z")
    assert copy.deepcopy(record) == copy.copy(record) == pickle.loads(pickle.dumps(record)) == record


def test_other_dataclasses_are_the_standard_ones() -> None:
    """What isn't both frozen and slotted may be changed."""

    @dataclass(slots=True)
    class Loose:
        x: int

    loose = Loose(1)
    loose.x = 2
    assert loose == Loose(2)


def test_tracebacks_show_the_code_of_records() -> None:
    """What is compiled has lines, as code in a file has."""
    with pytest.raises(ValueError, match="negative") as refusal:
        Checked(-1.0)
    assert "self.__post_init__()" in "".join(traceback.format_exception(refusal.value))
