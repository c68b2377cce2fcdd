"""What meets in a step, by the letters on the paper and the numbers of its notches: "B front to C back, notches 4"."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from drafting.garment import Garment, Seam, balance_marks
from drafting.garment.named_marks import OPENING_END, name_marks
from drafting.saying import list_sides, without_sides
from drafting.sides import Side
from drafting.work.telling import and_

Letters = Mapping[str, str]
"""The letter on the paper, by the name of each net piece."""


def meeting_words(garment: Garment, seams: Iterable[Seam], letters: Letters) -> tuple[str, ...]:
    """Return what meets in each of some seams, one line for those that are told alike; nothing without letters."""
    if not letters:
        return ()
    said: dict[tuple[frozenset[str], str], list[Seam]] = {}
    for seam in seams:
        said.setdefault((frozenset(_name_layers(garment, seam, letters)), _say_notches(garment, seam)), []).append(seam)
    told = ((_join_layers(_name_layers(garment, of[0], letters)) + marks, of) for (_, marks), of in said.items())
    return tuple(words if len(said) == 1 else f"{_sides(of)}{words}" for words, of in told)


def pieces_words(garment: Garment, names: Iterable[str], letters: Letters) -> tuple[str, ...]:
    """Return the pieces that a step works on, without a seam: "B front and C back"."""
    return (and_(tuple(_name_pieces(garment, names, letters))),) if letters else ()


def _name_layers(garment: Garment, seam: Seam, letters: Letters) -> tuple[str, ...]:
    """The layers of a seam, each once, by their pieces."""
    plies = (and_(tuple(_name_pieces(garment, (use.piece for use in run), letters))) for run in seam.plies if run)
    return tuple(dict.fromkeys(plies))


def _join_layers(layers: tuple[str, ...]) -> str:
    return " to ".join(layers) if len(layers) < 3 else f"{and_(layers)} in one"


def _say_notches(garment: Garment, seam: Seam) -> str:
    """Its notches, then the points that are marked, not snipped: ", notch 3 (waist), point 4 (opening end)"."""
    named, said = name_marks(garment), ""
    for what, more, marked in (("notch", "es", False), ("point", "s", True)):
        numbers = [n for n in mark_numbers(garment, seam) if (named.get(n, "") == OPENING_END) is marked]
        if numbers:
            told = tuple(_name_mark(garment, seam, number) for number in numbers)
            said += f", {what}{more * (len(numbers) > 1)} {and_(told)}"
    return said


def _name_mark(garment: Garment, seam: Seam, number: int) -> str:
    """A notch by its number, and by what it meets where that is no notch: "2 (to the dart)"."""
    marks = (mark for mark in garment.find_once(balance_marks) if (mark.seam, mark.number) == (seam.name, number))
    there = tuple(dict.fromkeys(what for mark in marks for _, what in mark.meets))
    called = name_marks(garment).get(number, "")
    added = ", ".join(filter(None, (called, f"to the {and_(there)}" if there else "")))
    return f"{number} ({added})" if added else str(number)


def _name_pieces(garment: Garment, names: Iterable[str], letters: Letters) -> Iterator[str]:
    """Each piece once, by its letter and what it is."""
    titles = {letters.get(name, ""): str(without_sides(garment.piece(name).title)).lower() for name in names}
    return (f"{letter} {title}".strip() for letter, title in titles.items())


def _sides(seams: Iterable[Seam]) -> str:
    found = {side for seam in seams for side in list_sides(seam.title)}
    sides = tuple(str(side) for side in (Side.LEFT, Side.RIGHT) if side in found)
    return f"{and_(sides).capitalize()}: " if sides else ""


def mark_numbers(garment: Garment, seam: Seam) -> tuple[int, ...]:
    """Return the numbers of a seam's notches, each once, rising."""
    marks = garment.find_once(balance_marks)
    return tuple(sorted({mark.number for mark in marks if mark.seam == seam.name}))
