"""What an earlier draft has in common with this one: pieces that may still be used, their letters and notches' numbers.

A piece that was printed as E stays E, and its notch 7 stays 7, so that old and new papers agree on one table. Whether a
piece may still be used is found by comparing where each point lies, not by a hash of rounded figures: however coarse
the rounding, some figure lies on its edge, where the last digit of a sum would have a piece printed again that hasn't
changed.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace
from itertools import chain, count

from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.text import letters_of
from drafting.tolerance import TOLERANCE

_HANDLE = 10
"""mm: how long a direction is drawn, so that it is compared as a point is."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """One thing drawn on a piece, and where: x and y of each of its points in turn (mm), and of a curve's handles."""

    what: str
    at: tuple[float, ...]

    def lies_on(self, other: Drawn) -> bool:
        """Tell whether it is the same thing, and no point of it lies further from its like than TOLERANCE.printed."""
        if self.what != other.what or len(self.at) != len(other.at):
            return False
        return all(abs(a - b) <= TOLERANCE.printed for a, b in zip(self.at, other.at, strict=True))


@dataclass(frozen=True, slots=True)
class Printed:
    """A piece as it was printed: all that is cut and sewn by and said of it, but for its letter and the draft's mark.

    ``asked`` says that its draft's ``changed.pdf`` asked for it: whether it was printed then, nobody has told.
    ``numbers`` are those of its notches, in the piece's order; no piece is printed again for them.
    """

    code: str
    name: str
    title: str
    said: str
    drawn: tuple[Drawn, ...]
    asked: bool = False
    numbers: tuple[int, ...] = ()

    def serves_for(self, other: Printed) -> bool:
        """Tell whether this print may be used for another draft's piece: all is told alike and lies where it lay."""
        if (self.name, self.title, self.said) != (other.name, other.title, other.said):
            return False
        pairs = zip(self.drawn, other.drawn, strict=False)
        return len(self.drawn) == len(other.drawn) and all(one.lies_on(two) for one, two in pairs)


@dataclass(frozen=True, slots=True)
class EarlierDraft:
    """An earlier draft: its pieces by name, as they were printed, its mark, and the paper that it was printed on.

    ``flat`` gives, of each face by its name, the courses of the garment's edges as its flat shows them: x and y (mm).
    ``unprinted`` names the pieces that it asked for in vain: their prints serve for nothing.
    """

    prints: Mapping[str, Printed] = field(default_factory=dict)
    mark: str = ""
    paper: str = ""
    flat: Mapping[str, Sequence[Sequence[float]]] = field(default_factory=dict)
    unprinted: frozenset[str] = frozenset()

    @property
    def codes(self) -> dict[str, str]:
        """The letter of each piece by its name."""
        return {name: printed.code for name, printed in self.prints.items()}

    def serves_for(self, printed: Printed) -> bool:
        """Tell whether its print of a piece may be used for another draft's."""
        name = printed.name
        return name in self.prints and name not in self.unprinted and self.prints[name].serves_for(printed)


UNCUT = ("grain", "stretch", "level", "adjust", "side")
"""Kinds of marks that nothing is cut, marked or sewn by: a piece isn't printed again for them. Which way the grain runs
is told apart."""


def record_print(piece: CutPiece, scale: tuple[float, float] = (1.0, 1.0)) -> Printed:
    """Return a piece as it is printed now, on a printer that ``scale`` corrects, across and up the page."""
    printer = "" if scale == (1.0, 1.0) else f", for a printer corrected by {scale[0]:.5f} x {scale[1]:.5f}"
    said = f"{piece.how}; {piece.quantity}, {piece.mirrored} mirrored, {piece.cloth}{printer}"
    numbers = tuple(notch.number for notch in piece.notches)
    return Printed(piece.code, piece.name, piece.title, said, tuple(_drawn_on(piece)), numbers=numbers)


def renumber_notches(printed: Printed, piece: CutPiece) -> tuple[tuple[int, int], ...]:
    """Return the numbers of notches on an earlier print that are others now, each with the new one."""
    pairs = zip(printed.numbers, (notch.number for notch in piece.notches), strict=False)
    return tuple(sorted({(old, new) for old, new in pairs if old != new and old}))


def keep_numbers(prints: Sequence[Printed], own: Iterable[int], earlier: EarlierDraft) -> Mapping[int, int]:
    """Return what a draft's notches are called, by their ``own`` numbers, so that earlier prints go on saying the same.

    A piece that serves keeps its numbers before one that is printed again. A notch that is new takes its own number, or
    the next, that no earlier print has. Where two notches of earlier prints are one now, it keeps the first's number.
    """
    called: dict[int, int] = {}
    taken = {number for printed in earlier.prints.values() for number in printed.numbers}
    for printed in sorted(prints, key=lambda each: not earlier.serves_for(each)):
        if printed.name in earlier.prints:
            for old, new in _pair_numbers(earlier.prints[printed.name], printed):
                if new not in called and old not in called.values():
                    called[new] = old
    for number in sorted(set(own) - called.keys()):
        called[number] = next(free for free in chain([number], count(1)) if free not in taken)
        taken.add(called[number])
    return called


def call_notches(piece: CutPiece, called: Mapping[int, int]) -> CutPiece:
    """Return a piece whose notches have other numbers, by those that they have; others keep theirs."""
    notches = (replace(notch, number=called.get(notch.number, notch.number)) for notch in piece.notches)
    return replace(piece, notches=tuple(notches))


def _pair_numbers(old: Printed, new: Printed) -> Iterator[tuple[int, int]]:
    """Yield the numbers of notches that two prints of a piece share: those of a seam that has as many in both."""
    before, after = (_number_seams(printed) for printed in (old, new))
    for what, numbers in before.items():
        if len(numbers) == len(after.get(what, ())):
            yield from (pair for pair in zip(numbers, after[what], strict=True) if all(pair))


def _number_seams(printed: Printed) -> dict[str, list[int]]:
    """Return the numbers of a print's notches by what they mark."""
    whats = (drawn.what for drawn in printed.drawn if drawn.what.startswith(_NOTCH))
    found: dict[str, list[int]] = {}
    for what, number in zip(whats, printed.numbers, strict=False):
        found.setdefault(what, []).append(number)
    return found


_NOTCH = "notch "


def _drawn_on(piece: CutPiece) -> Iterator[Drawn]:
    yield Drawn("grain", _points(piece.grain * _HANDLE))
    for edge in piece.outline:
        yield _path(f"cut {edge.name}", edge.path)
    for mark in piece.marks:
        if mark.kind in UNCUT:
            continue
        yield _path(f"{mark.kind} {mark.name}", mark.path)
    for notch in piece.notches:
        yield Drawn(f"{_NOTCH}{notch.seam} {notch.count}", _points(notch.at, notch.at + notch.inward * _HANDLE))
    for name, at in piece.drills:
        yield Drawn(f"drill {name}", _points(at))


def _path(what: str, path: Path) -> Drawn:
    return Drawn(what, tuple(path.segments.ravel().tolist()))


def _points(*points: Point) -> tuple[float, ...]:
    return tuple(figure for point in points for figure in (point.x, point.y))


_CODE = re.compile(r"[A-Z]{1,3}")


def keep_codes(cut: Sequence[CutPiece], earlier: Mapping[str, str]) -> tuple[CutPiece, ...]:
    """Return the pieces with the codes that pieces of their names had in an earlier draft.

    ``earlier`` gives codes by name. A piece that is new takes the next letters that no earlier piece had, so that no
    letter ever stands for two pieces on one table. What isn't a code, or stands there twice, counts for nothing.
    """
    known: dict[str, str] = {}
    taken: set[str] = set()
    for name, code in earlier.items():
        if _CODE.fullmatch(code) and code not in taken:
            known[name] = code
            taken.add(code)
    free = (letters for letters in map(letters_of, count()) if letters not in taken)
    return tuple(replace(piece, code=known[piece.name] if piece.name in known else next(free)) for piece in cut)
