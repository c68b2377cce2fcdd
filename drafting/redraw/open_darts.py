"""Darts within a piece that a raised hem has passed: they run open to it, as a waist dart runs open to a waist seam.

Above its widest place a dart keeps its two upper legs alone; below it each leg bends there. Where only its lower point
comes too near to the hem, it ends a little sooner instead (common practice).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Garment, Line, Piece, Role, Section, Slit
from drafting.garment.carry import drop_features
from drafting.garment.darts import LEGS, Dart, dart_of, darts_of
from drafting.geometry import Path, Point, is_inside
from drafting.redraw.heights import move_start
from drafting.redraw.mouths import fold_of, true_folded
from drafting.redraw.parting import with_split
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_OPEN_DART = TradeValue(25.0, "mm", "from memory")
"""Of length at least of a dart that runs open to a hem: a shorter one is left out."""


def open_at_hems(garment: Garment, because: tuple[str, ...]) -> Garment:
    """Return the garment with every dart within a piece that its hem cuts off run open to it; one cut away is gone.

    CannotDraft, naming the options ``because``, where a hem meets one leg of a dart and not the other.
    """
    for piece in garment.pieces:
        for dart in darts_of(piece):
            if dart.inside and piece.lines(role=Role.HEM):
                garment = _open_dart(garment, garment.piece(piece.name), dart, because)
    return garment


def _open_dart(garment: Garment, piece: Piece, dart: Dart, because: tuple[str, ...]) -> Garment:
    upper_a, lower_a, lower_b, upper_b = (leg[0] for leg in dart.legs)
    first = _leg_to_hem(piece, (lower_b, upper_b))
    last = _leg_to_hem(piece, tuple(line.along(line.path.reversed()) for line in (lower_a, upper_a)))
    if not first and not last and is_inside(dart.point, piece.outline.flatten()):
        return garment
    lengths = [math.fsum(line.path.length for line in leg) for leg in (first, last)]
    if max(lengths) < LEAST_OPEN_DART:
        return garment.without(seams=(dart.seam,)).with_(pieces=[_without_slit(piece, dart)])
    if len(first) != len(last):
        raise CannotDraft(
            because,
            say("the hem of the {title:lower} would cut off one leg of a dart within it", title=piece.title),
            help="raise it by more or by less",
        )
    return _run_out(garment, piece, dart, first, last)


def _leg_to_hem(piece: Piece, leg: Sequence[Line]) -> tuple[Line, ...]:
    """What of a leg, told from its lower point up, lies above the hem, from there on; nothing where it misses it."""
    for i, line in reversed(list(enumerate(leg))):
        met = [cross.s for hem in piece.lines(role=Role.HEM) for cross in line.path.crossings(hem.path)]
        if met:
            return (line.along(line.path.between(max(met), line.path.length)), *leg[i + 1 :])
    return ()


def _run_out(garment: Garment, piece: Piece, dart: Dart, first: tuple[Line, ...], last: tuple[Line, ...]) -> Garment:
    """The garment with the legs of a dart, told from the hem up, let into the hem in its place."""
    garment = _part_hem(garment, piece.name, [first[0].path.start, last[0].path.start])
    legs = _even_legs(first, last)
    lines = (*_name_leg(dart, 0, legs[0]), *_name_leg(dart, 1, [ln.along(ln.path.reversed()) for ln in legs[1][::-1]]))
    bare = _without_slit(garment.piece(piece.name), dart)
    ring = _let_in(bare, (first[0].path.start, last[0].path.start), lines)
    opened = replace(bare, ring=ring)
    made = dart_of(opened, dart.name)
    opened = true_folded(opened, made, fold_of(made))
    return _with_seam(garment.with_(pieces=[opened]), dart, {line.name for line in lines})


def _without_slit(piece: Piece, dart: Dart) -> Piece:
    return drop_features(piece, lambda each: isinstance(each, Slit) and each.lines[0].dart == dart.called)


def _part_hem(garment: Garment, name: str, at: Sequence[Point]) -> Garment:
    for point in at:
        hem = min(garment.piece(name).lines(role=Role.HEM), key=lambda line: line.path.nearest(point)[1])
        garment = with_split(garment, name, hem.name, hem.path.nearest(point)[0])
    return garment


def _even_legs(first: Sequence[Line], last: Sequence[Line]) -> tuple[list[Line], list[Line]]:
    """Both legs with their lowest parts as long as they were in the mean: each ends on its own line."""
    mean = (first[0].path.length + last[0].path.length) / 2.0

    def end_on_hem(line: Line) -> Line:
        top, down = line.path.end, -line.path.tangent(0.0)
        return line.along(Path.straight(top + down * mean, top))

    return [end_on_hem(first[0]), *first[1:]], [end_on_hem(last[0]), *last[1:]]


def _name_leg(dart: Dart, which: int, leg: Sequence[Line]) -> list[Line]:
    """The parts of a leg at the edge, each of which answers to the leg's name."""
    return [replace(line, ancestry=(f"{dart.seam}-{LEGS[which]}",)) for line in leg]


def _let_in(piece: Piece, mouth: tuple[Point, Point], lines: Sequence[Line]) -> tuple[Line, ...]:
    """The ring with the hem between the ends of a mouth given up for the legs, its ends drawn to theirs."""
    ring: list[Line] = []
    for line in piece.ring:
        start, end = line.path.start, line.path.end
        if line.role is Role.HEM and start.near(mouth[0], TOLERANCE.joint) and end.near(mouth[1], TOLERANCE.joint):
            ring += lines
        elif line.role is Role.HEM and end.near(mouth[0], TOLERANCE.joint):
            moved = move_start(line.path.reversed(), lines[0].path.start - end)
            ring.append(line.along(moved.reversed()))
        elif line.role is Role.HEM and start.near(mouth[1], TOLERANCE.joint):
            ring.append(line.along(move_start(line.path, lines[-1].path.end - start)))
        else:
            ring.append(line)
    return tuple(ring)


def _with_seam(garment: Garment, dart: Dart, left: set[str]) -> Garment:
    """The garment with a dart's seam less what the hem cut off, told from the mouth up."""
    seam = garment.seam(dart.seam)
    kept: list[Section] = []
    for section in seam.sections:
        if all(use.line in left for run in section.plies for use in run):
            kept.append(section)
    return garment.with_(seams=[replace(seam, sections=tuple(kept))])
