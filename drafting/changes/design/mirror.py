"""Mirror: the whole garment turned over, so that what was on the wearer's left is on the right."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import TypeVar

from drafting.garment import (
    Adjust,
    Aim,
    Brief,
    Drill,
    Fact,
    Garment,
    Level,
    Line,
    Piece,
    Run,
    Seam,
    Section,
    Solve,
    Stage,
    Use,
    Zone,
    change,
)
from drafting.geometry import Path, Point
from drafting.record import dataclass

T = TypeVar("T")

_SIDE = r"(?<![A-Za-z])(left|right|Left|Right)(?![A-Za-z])"
_NAME = re.compile(_SIDE)
_CLOTH = (
    r" sides? (?:up|out|in|down|together|facing|of the (?:cloth|fabric|knit))| sides(?![A-Za-z])| angle"
    r"| (?:out|open|unsewn|free|raw|alone|off|undone|unstitched)(?![A-Za-z])"
)
"""What follows the word where it isn't a side of the wearer: the cloth's right side, right angles, what is left out."""
_PROSE = re.compile(
    r"(?<!\bis )(?<!\bare )(?<!\bbe )(?<!\bwas )(?<!\bwere )(?<!\bbeen )(?<!\bmm )(?<!seen from the )"
    + _SIDE
    + f"(?!{_CLOTH})"
)
_LEG = re.compile(r"(dart-.*-)([ab])")
_OTHER = {"left": "right", "right": "left", "Left": "Right", "Right": "Left"}


@dataclass(frozen=True, slots=True)
class MirrorOptions:
    """The change has no options."""


@change("mirror", "The whole garment mirrored to the wearer's other side.", Stage.WHOLE)
def mirror_garment(garment: Garment, brief: Brief, o: MirrorOptions) -> Garment:
    """Return the garment mirrored; mirrored twice it is itself."""
    return mirrored(garment)


def swapped(name: str) -> str:
    """Return a name with left and right exchanged.

    >>> swapped("cap_height_left"), swapped("hem-right/a"), swapped("bright")
    ('cap_height_right', 'hem-left/a', 'bright')
    """
    return _NAME.sub(lambda found: _OTHER[found[1]], name)


def swapped_line(name: str) -> str:
    """Return a line's name with left and right exchanged, and a dart's legs, which follow each other the other way.

    >>> swapped_line("dart-bust-left-a"), swapped_line("side-left/a")
    ('dart-bust-right-b', 'side-right/a')
    """
    leg = _LEG.fullmatch(name)
    return swapped(name) if leg is None else swapped(leg[1]) + ("b" if leg[2] == "a" else "a")


def swapped_prose(text: str) -> str:
    """Return a sentence with the wearer's left and right exchanged, and no other left or right.

    >>> swapped_prose("Right side up: the left shoulder; a seam is left open")
    'Right side up: the right shoulder; a seam is left open'
    """
    return _PROSE.sub(lambda found: _OTHER[found[1]], text)


def mirrored(garment: Garment) -> Garment:
    """Return the mirror image of a whole garment, every left a right."""
    names = garment.openings
    return Garment(
        pieces=_placed(garment.pieces, tuple(_piece(piece) for piece in garment.pieces)),
        seams=_placed(garment.seams, tuple(_seam(seam) for seam in garment.seams)),
        openings=_placed(names, tuple(map(swapped, names))),
        facts=_placed(garment.facts, tuple(_fact(fact) for fact in garment.facts)),
        solves=_placed(garment.solves, tuple(_solve(solve) for solve in garment.solves)),
        aims=tuple(_aim(aim) for aim in garment.aims),
        notes=tuple(map(swapped_prose, garment.notes)),
    )


def _slots(old: Sequence[str], new: Sequence[str]) -> tuple[int, ...]:
    """Return each new name's place: where the old one of that name stood, so that a pair keeps left and right in order.

    Where names stand more than once, each keeps its place.
    """
    at = {name: i for i, name in enumerate(old)}
    if len(at) < len(old):
        return tuple(range(len(old)))
    return tuple(at.get(name, i) for i, name in enumerate(new))


def _placed(old: Sequence[T], new: Sequence[T]) -> tuple[T, ...]:
    slots = _slots([_name(item) for item in old], [_name(item) for item in new])
    return tuple(item for _, item in sorted(zip(slots, new, strict=True), key=lambda pair: pair[0]))


def _name(item: object) -> str:
    return item if isinstance(item, str) else str(getattr(item, "line" if isinstance(item, Zone) else "name"))


# pieces


def _path(path: Path) -> Path:
    return path.mirrored().reversed()


def _piece(piece: Piece) -> Piece:
    levels = tuple(_level(level) for level in piece.levels)
    adjusts = tuple(Adjust(swapped(a.name), _path(a.path)) for a in piece.adjusts)
    drills = tuple(Drill(swapped(d.name), Point(0.0 - d.at.x, d.at.y)) for d in piece.drills)
    zones = tuple(_zone(zone) for zone in piece.zones)
    return replace(
        piece,
        name=swapped(piece.name),
        title=swapped_prose(piece.title),
        ring=tuple(_line(line) for line in reversed(piece.ring)),
        slits=tuple(tuple(_line(line) for line in reversed(slit)) for slit in piece.slits),
        side=piece.side.other,
        grain=Point(0.0 - piece.grain.x, piece.grain.y),
        levels=_placed(piece.levels, levels),
        adjusts=_placed(piece.adjusts, adjusts),
        drills=_placed(piece.drills, drills),
        zones=_placed(piece.zones, zones),
        notes=tuple(map(swapped_prose, piece.notes)),
    )


def _line(line: Line) -> Line:
    return replace(
        line,
        name=swapped_line(line.name),
        path=_path(line.path),
        side=line.side.other,
        opening=swapped(line.opening),
        ancestry=tuple(map(swapped_line, line.ancestry)),
    )


def _level(level: Level) -> Level:
    return replace(level, name=swapped(level.name), path=_path(level.path), side=level.side.other)


def _zone(zone: Zone) -> Zone:
    """A zone's shares are taken along its line, which now runs the other way."""
    return replace(
        zone,
        line=swapped(zone.line),
        reason=swapped_prose(zone.reason),
        start=1.0 - zone.end,
        end=1.0 - zone.start,
    )


# seams and what is told


def _run(run: Run) -> Run:
    """A run goes the same way over the mirrored lines, which themselves run the other way."""
    return tuple(Use(swapped(use.piece), swapped_line(use.line), not use.against) for use in run)


def _seam(seam: Seam) -> Seam:
    sections = tuple(Section(tuple(_run(run) for run in s.plies), s.ease) for s in seam.sections)
    return replace(seam, name=swapped(seam.name), title=swapped_prose(seam.title), sections=sections)


def _fact(fact: Fact) -> Fact:
    return replace(fact, name=swapped(fact.name), sentence=swapped_prose(fact.sentence))


def _solve(solve: Solve) -> Solve:
    return replace(solve, name=swapped(solve.name))


def _aim(aim: Aim) -> Aim:
    return replace(aim, measure=swapped(aim.measure), title=swapped_prose(aim.title), side=aim.side.other)
