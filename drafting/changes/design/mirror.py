"""Mirror: the whole garment turned over, so that what was on the wearer's left is on the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from drafting.garment import (
    Aim,
    Brief,
    Fact,
    Garment,
    Line,
    Piece,
    Run,
    Seam,
    Section,
    Solve,
    Stage,
    Use,
    carry,
    change,
)
from drafting.garment.aims import mirror_measure
from drafting.garment.darts import darts_of
from drafting.garment.lines import DartName
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import Words, mirror_words
from drafting.sides import swap_sides

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class MirrorOptions:
    """The change has no options."""


@change(
    "mirror",
    "The whole design mirrored to the wearer's other side; it fits the body as before.",
    Stage.WHOLE,
    turns=True,
)
def mirror_garment(garment: Garment, brief: Brief, o: MirrorOptions) -> Garment:
    """Return the garment mirrored; mirrored twice it is itself."""
    return mirror_whole(garment)


def mirror_whole(garment: Garment) -> Garment:
    """Return the mirror image of a whole garment, every left a right."""
    names = garment.openings
    lines = {piece.name: _line_names(piece) for piece in garment.pieces}
    return replace(
        garment,
        pieces=_sort_by_name(
            garment.pieces, tuple(_mirror_piece(piece, lines[piece.name]) for piece in garment.pieces)
        ),
        seams=_sort_by_name(garment.seams, tuple(_mirror_seam(seam, lines) for seam in garment.seams)),
        openings=_sort_by_name(names, tuple(map(swap_sides, names))),
        facts=_sort_by_name(garment.facts, tuple(_mirror_fact(fact) for fact in garment.facts)),
        solves=_sort_by_name(garment.solves, tuple(_mirror_solve(solve) for solve in garment.solves)),
        aims=tuple(_mirror_aim(aim) for aim in garment.aims),
        departures=tuple(replace(each, place=swap_sides(each.place)) for each in garment.departures),
        notes=tuple(map(mirror_words, garment.notes)),
        closures=tuple(closure.mirrored for closure in garment.closures),
        bared=frozenset(side.other for side in garment.bared),
        banded=tuple((side.other, width) for side, width in garment.banded),
    )


def _sort_by_name(old: Sequence[T], new: Sequence[T]) -> tuple[T, ...]:
    return carry.keep_order([_mirror_name(item) for item in old], [(_mirror_name(item), item) for item in new])


def _mirror_name(item: object) -> str:
    return item if isinstance(item, str) else str(getattr(item, "name", ""))


# pieces


@dataclass(frozen=True, slots=True)
class _OtherSide:
    """The image of what lies in a piece, on the wearer's other side; ``names`` says what each line is called there."""

    names: Mapping[str, str]

    def point(self, at: Point) -> Point:
        return Point(0.0 - at.x, at.y)

    def path(self, path: Path) -> Path:
        return path.mirrored().reversed()

    def name(self, name: str) -> str:
        return self.names.get(name) or swap_sides(name)

    def line(self, line: Line) -> Line:
        return _mirror_line(line, self.names)

    def words(self, words: Words) -> Words:
        return mirror_words(words)


def _line_names(piece: Piece) -> Mapping[str, str]:
    """What each line is called once mirrored; a dart's legs, which follow each other the other way, change names."""
    names = {line.name: swap_sides(line.name) for line in piece.all_lines}
    for dart in darts_of(piece):
        legs = [line.name for line in dart.lines]
        names |= {leg: swap_sides(other) for leg, other in zip(legs, reversed(legs), strict=True)}
    return names


def _mirror_piece(piece: Piece, names: Mapping[str, str]) -> Piece:
    return replace(
        carry.mirror_piece(piece, _OtherSide(names)),
        name=swap_sides(piece.name),
        title=mirror_words(piece.title),
        side=piece.side.other,
        grain=Point(0.0 - piece.grain.x, piece.grain.y),
        laid=piece.laid and piece.laid.mirrored,
        notes=tuple(map(mirror_words, piece.notes)),
    )


def _mirror_line(line: Line, names: Mapping[str, str]) -> Line:
    return replace(
        line,
        name=names[line.name],
        path=line.path.mirrored().reversed(),
        side=line.side.other,
        opening=swap_sides(line.opening),
        ancestry=tuple(map(swap_sides, line.ancestry)),
        dart=line.dart and DartName(swap_sides(line.dart.name), line.dart.stem),
    )


# seams and what is told


def _mirror_run(run: Run, lines: Mapping[str, Mapping[str, str]]) -> Run:
    """A run goes the same way over the mirrored lines, which themselves run the other way."""
    return tuple(Use(swap_sides(use.piece), lines[use.piece][use.line], not use.against) for use in run)


def _mirror_seam(seam: Seam, lines: Mapping[str, Mapping[str, str]]) -> Seam:
    sections = tuple(Section(tuple(_mirror_run(run, lines) for run in s.plies), s.ease) for s in seam.sections)
    title, pair = mirror_words(seam.title), mirror_words(seam.pair)
    return replace(seam, name=swap_sides(seam.name), title=title, sections=sections, pair=pair)


def _mirror_fact(fact: Fact) -> Fact:
    ruled = fact.ruled and replace(fact.ruled, place=swap_sides(fact.ruled.place))
    return replace(fact, name=swap_sides(fact.name), sentence=mirror_words(fact.sentence), ruled=ruled)


def _mirror_solve(solve: Solve) -> Solve:
    return replace(solve, name=swap_sides(solve.name))


def _mirror_aim(aim: Aim) -> Aim:
    return replace(aim, measure=mirror_measure(aim.measure), title=mirror_words(aim.title), side=aim.side.other)
