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
from drafting.garment.darts import darts_of
from drafting.garment.lines import DartName
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import Words, mirrored
from drafting.sides import swapped

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class MirrorOptions:
    """The change has no options."""


@change("mirror", "The whole garment mirrored to the wearer's other side.", Stage.WHOLE)
def mirror_garment(garment: Garment, brief: Brief, o: MirrorOptions) -> Garment:
    """Return the garment mirrored; mirrored twice it is itself."""
    return mirror_whole(garment)


def mirror_whole(garment: Garment) -> Garment:
    """Return the mirror image of a whole garment, every left a right."""
    names = garment.openings
    lines = {piece.name: _line_names(piece) for piece in garment.pieces}
    return Garment(
        pieces=_placed(garment.pieces, tuple(_piece(piece, lines[piece.name]) for piece in garment.pieces)),
        seams=_placed(garment.seams, tuple(_seam(seam, lines) for seam in garment.seams)),
        openings=_placed(names, tuple(map(swapped, names))),
        facts=_placed(garment.facts, tuple(_fact(fact) for fact in garment.facts)),
        solves=_placed(garment.solves, tuple(_solve(solve) for solve in garment.solves)),
        aims=tuple(_aim(aim) for aim in garment.aims),
        notes=tuple(map(mirrored, garment.notes)),
    )


def _placed(old: Sequence[T], new: Sequence[T]) -> tuple[T, ...]:
    return carry.keep_order([_name(item) for item in old], [(_name(item), item) for item in new])


def _name(item: object) -> str:
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
        return self.names.get(name) or swapped(name)

    def line(self, line: Line) -> Line:
        return _line(line, self.names)

    def words(self, words: Words) -> Words:
        return mirrored(words)


def _line_names(piece: Piece) -> Mapping[str, str]:
    """What each line is called once mirrored; a dart's legs, which follow each other the other way, change names."""
    names = {line.name: swapped(line.name) for line in piece.all_lines}
    for dart in darts_of(piece):
        legs = [line.name for line in dart.lines]
        names |= {leg: swapped(other) for leg, other in zip(legs, reversed(legs), strict=True)}
    return names


def _piece(piece: Piece, names: Mapping[str, str]) -> Piece:
    return replace(
        carry.mirror_piece(piece, _OtherSide(names)),
        name=swapped(piece.name),
        title=mirrored(piece.title),
        side=piece.side.other,
        grain=Point(0.0 - piece.grain.x, piece.grain.y),
        notes=tuple(map(mirrored, piece.notes)),
    )


def _line(line: Line, names: Mapping[str, str]) -> Line:
    return replace(
        line,
        name=names[line.name],
        path=line.path.mirrored().reversed(),
        side=line.side.other,
        opening=swapped(line.opening),
        ancestry=tuple(map(swapped, line.ancestry)),
        dart=line.dart and DartName(swapped(line.dart.name), line.dart.stem),
    )


# seams and what is told


def _run(run: Run, lines: Mapping[str, Mapping[str, str]]) -> Run:
    """A run goes the same way over the mirrored lines, which themselves run the other way."""
    return tuple(Use(swapped(use.piece), lines[use.piece][use.line], not use.against) for use in run)


def _seam(seam: Seam, lines: Mapping[str, Mapping[str, str]]) -> Seam:
    sections = tuple(Section(tuple(_run(run, lines) for run in s.plies), s.ease) for s in seam.sections)
    return replace(seam, name=swapped(seam.name), title=mirrored(seam.title), sections=sections)


def _fact(fact: Fact) -> Fact:
    return replace(fact, name=swapped(fact.name), sentence=mirrored(fact.sentence))


def _solve(solve: Solve) -> Solve:
    return replace(solve, name=swapped(solve.name))


def _aim(aim: Aim) -> Aim:
    return replace(aim, measure=swapped(aim.measure), title=mirrored(aim.title), side=aim.side.other)
