"""What an earlier draft has in common with this one: pieces that may still be used, their letters and notches' numbers.

A piece that was printed as E stays E, and its notch 7 stays 7, so that old and new papers agree on one table. Whether a
piece may still be used is found by comparing where each point lies, not by a hash of rounded figures: however coarse
the rounding, some figure lies on its edge, where the last digit of a sum would have a piece printed again that hasn't
changed.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace

import numpy as np

from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Affine, Array, Path, Point
from drafting.record import dataclass
from drafting.sides import sideless
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
    ``numbers`` are those of its notches, in the piece's order; no piece is printed again for them. ``told`` are those
    of other pieces' notches that its label names: it is printed again for these.
    ``cloth`` is the one that it is cut from, and the printer's correction.
    """

    code: str
    name: str
    title: str
    said: str
    drawn: tuple[Drawn, ...]
    asked: bool = False
    numbers: tuple[int, ...] = ()
    told: tuple[int, ...] = ()
    cloth: str = ""

    def serves_for(self, other: Printed) -> bool:
        """Tell whether this print may be used for another draft's piece: all is told alike and lies where it lay."""
        if (self.name, self.title, self.said) != (other.name, other.title, other.said):
            return False
        pairs = zip(self.drawn, other.drawn, strict=False)
        return len(self.drawn) == len(other.drawn) and all(one.lies_on(two) for one, two in pairs)


@dataclass(frozen=True, slots=True)
class Serving:
    """An earlier print that is as a piece is now, and ``numbers``, those that its notches bear, in the piece's order.

    ``one_of_pair``: it was cut as a pair, of which the piece is one; ``over``: that which was cut turned over.
    """

    printed: Printed
    numbers: tuple[int, ...]
    one_of_pair: bool = False
    over: bool = False


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

    def find_print(self, printed: Printed) -> Serving | None:
        """Return its print that is as another draft's is, whatever notches the label names; None if there is none.

        Of a pair that is one no more its one print may serve for either piece.
        """
        old = self.prints.get(printed.name)
        if old is not None:
            fits = old.name not in self.unprinted and old.serves_for(printed)
            return Serving(old, old.numbers) if fits else None
        old = self.prints.get(sideless(printed.name))
        if old is None or old.name in self.unprinted or old.cloth != printed.cloth:
            return None
        for over in (False, True):
            numbers = _lay_on(old, printed, over)
            if numbers is not None:
                return Serving(old, numbers, True, over)
        return None

    def serves_for(self, printed: Printed) -> bool:
        """Tell whether a print of its may be used for another draft's, and names no other notch than that."""
        found = self.find_print(printed)
        return found is not None and found.printed.told == printed.told


UNCUT = ("grain", "stretch", "level", "adjust", "side")
"""Kinds of marks that nothing is cut, marked or sewn by: a piece isn't printed again for them. Which way the grain runs
is told apart."""


def record_print(piece: CutPiece, scale: tuple[float, float] = (1.0, 1.0)) -> Printed:
    """Return a piece as it is printed now, on a printer that ``scale`` corrects, across and up the page."""
    printer = "" if scale == (1.0, 1.0) else f", for a printer corrected by {scale[0]:.5f} x {scale[1]:.5f}"
    said = f"{piece.how}; {piece.quantity}, {piece.mirrored} mirrored, {piece.cloth}{printer}"
    numbers = tuple(notch.number for notch in piece.notches)
    drawn = tuple(_drawn_on(piece))
    cloth = f"{piece.cloth}{printer}"
    return Printed(piece.code, piece.name, piece.title, said, drawn, numbers=numbers, told=piece.tells, cloth=cloth)


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
    found = [(earlier.find_print(printed), printed) for printed in prints]
    for serving, printed in sorted(found, key=lambda each: each[0] is None):
        for old, new in _pair_with(serving, printed, earlier):
            if old and new and new not in called and old not in called.values():
                called[new] = old
    for number in sorted(set(own) - called.keys()):
        called[number] = next(free for free in itertools.chain([number], itertools.count(1)) if free not in taken)
        taken.add(called[number])
    return called


def call_notches(piece: CutPiece, called: Mapping[int, int]) -> CutPiece:
    """Return a piece whose notches have other numbers, by those that they have; others keep theirs."""
    notches = (replace(notch, number=called.get(notch.number, notch.number)) for notch in piece.notches)
    return replace(piece, notches=tuple(notches))


def _pair_with(serving: Serving | None, printed: Printed, earlier: EarlierDraft) -> Iterator[tuple[int, int]]:
    """Yield the numbers of notches on an earlier print of a piece, or named there, each with the one it has now."""
    if serving is not None:
        yield from zip(serving.numbers, printed.numbers, strict=False)
        yield from zip(serving.printed.told, printed.told, strict=False)
    elif printed.name in earlier.prints:
        yield from _pair_numbers(earlier.prints[printed.name], printed)


def _pair_numbers(old: Printed, new: Printed) -> Iterator[tuple[int, int]]:
    """Yield the numbers of notches that two prints of a piece share: those of a seam that has as many in both.

    Of other seams, as of a piece that was half of itself on the fold, those that stand where they stood.
    """
    before, after = (_number_seams(printed) for printed in (old, new))
    for what, numbers in before.items():
        if len(numbers) == len(after.get(what, ())):
            yield from zip(numbers, after[what], strict=True)
    for one, two in itertools.product(*(_list_notches(printed) for printed in (old, new))):
        if one[0].lies_on(two[0]):
            yield one[1], two[1]


def _number_seams(printed: Printed) -> dict[str, list[int]]:
    """Return the numbers of a print's notches by what they mark."""
    found: dict[str, list[int]] = {}
    for drawn, number in _list_notches(printed):
        found.setdefault(drawn.what, []).append(number)
    return found


def _list_notches(printed: Printed) -> list[tuple[Drawn, int]]:
    notches = (drawn for drawn in printed.drawn if drawn.what.startswith(_NOTCH))
    return list(zip(notches, printed.numbers, strict=False))


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


# one of a pair


def _lay_on(old: Printed, new: Printed, over: bool) -> tuple[int, ...] | None:
    """Return the numbers of a print's notches in the order of another's, on which it lies, turned ``over`` or not.

    None if it doesn't lie there. What lines are called, how they are parted and which way they run counts for nothing.
    """
    before, after = (_by_kind(printed) for printed in (old, new))
    if before.keys() != after.keys():
        return None
    map_ = _carry(old, new, over)
    kinds = (kind for kind in after if kind != "grain")
    if any(_order_alike(map_.apply_all(before[kind]), after[kind]) is None for kind in kinds):
        return None
    one, two = (np.array([each.at for each, _ in _list_notches(printed)]).reshape(-1, 2, 2) for printed in (old, new))
    order = _order_alike(map_.apply_all(one), two)
    return None if order is None else tuple(old.numbers[i] for i in order)


def _by_kind(printed: Printed) -> dict[str, Array]:
    """All that is drawn by its kind, shape (n, points, 2): lines cubic by cubic, a notch with its count."""
    found: dict[str, list[Array]] = {}
    for drawn in printed.drawn:
        kind, _, rest = drawn.what.partition(" ")
        kind = f"{kind} {rest.rpartition(' ')[2]}" if drawn.what.startswith(_NOTCH) else kind
        points = np.array(drawn.at).reshape(-1, 2)
        found.setdefault(kind, []).append(points.reshape(-1, 4 if len(points) % 4 == 0 else len(points), 2))
    return {kind: np.concatenate(parts) for kind, parts in found.items()}


def _carry(old: Printed, new: Printed, over: bool) -> Affine:
    """The map that takes a print's grain to another's, and its outline to the place of the other's."""
    map_ = Affine.mirror() if over else Affine()
    grain, wanted = (Point(*printed.drawn[0].at) for printed in (old, new))
    if not map_.apply(grain).near(wanted, TOLERANCE.printed):
        map_ = map_.then(Affine.turn(wanted.angle - map_.apply(grain).angle))
    one, two = (np.concatenate([*_by_kind(printed)["cut"]]) for printed in (old, new))
    x, y = (two.min(axis=0) - map_.apply_all(one).min(axis=0)).tolist()
    return map_.then(Affine.move(Point(x, y)))


def _order_alike(one: Array, two: Array) -> list[int] | None:
    """The places in one list of lines of those on which each of another lies, either way round; None if any lies off.

    Both have shape (n, points, 2).
    """
    if one.shape != two.shape:
        return None
    free, order = list(range(len(one))), []
    for line in two:
        off = [min(float(np.abs(one[i] - each).max()) for each in (line, line[::-1])) for i in free]
        nearest = min(range(len(off)), key=off.__getitem__)
        if off[nearest] > TOLERANCE.printed:
            return None
        order.append(free.pop(nearest))
    return order


_CODE = re.compile(r"[A-Z]{1,3}")


def keep_letters(prints: Iterable[Printed], earlier: EarlierDraft) -> Mapping[str, str]:
    """Return the letters of an earlier draft by the names that its pieces have now.

    The print of a pair, of which one piece is as it was, goes on standing for that.
    """
    called: dict[str, str] = {}
    for printed in prints:
        serving = earlier.find_print(printed)
        if serving is not None:
            called.setdefault(serving.printed.name, printed.name)
    return {called.get(name, name): code for name, code in earlier.codes.items()}


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
    free = (letters for letters in map(letters_of, itertools.count()) if letters not in taken)
    return tuple(replace(piece, code=known[piece.name] if piece.name in known else next(free)) for piece in cut)
