"""A bust dart that takes in nothing yet: a bust slashed and spread on a front without a dart makes it one."""

from __future__ import annotations

from dataclasses import replace

from drafting.body import Body
from drafting.errors import CannotDraft
from drafting.garment import BustPoint, Face, Garment, Line, Side
from drafting.garment.carry import with_features
from drafting.garment.darts import dart_name, darts_of, draw_dart
from drafting.garment.over_bust import bust_by_length
from drafting.garment.shoulders import find_neck_base
from drafting.geometry import Point
from drafting.redraw.dart_points import MOUTH_BELOW_UNDERARM, set_back_for
from drafting.redraw.halves import Half, find_half
from drafting.redraw.parting import with_split
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.work.kinds import sew_dart


def can_take_dart(half: Half) -> bool:
    """Tell whether a half shows the bust point that a dart from its side would run to."""
    return any((mark.at.x < 0.0) is half.flipped for mark in half.piece.of_kind(BustPoint))


def with_marked_bust(garment: Garment, body: Body) -> Garment:
    """Return the garment with the body's bust points marked on its front, where its side neck points tell them."""
    for side in (Side.LEFT, Side.RIGHT):
        half, neck = find_half(garment, side, Face.FRONT), find_neck_base(garment, side)
        bust = bust_by_length(body, neck) if neck is not None else None
        if bust is not None:
            mark = BustPoint(f"bust-point-{side}", Point(-bust.x, bust.y) if half.flipped else bust)
            garment = garment.with_(pieces=[with_features(half.piece, (mark,))])
    return garment


def with_nil_dart(garment: Garment, half: Half, most: float = MOUTH_BELOW_UNDERARM[1]) -> Garment:
    """Return the garment with a dart from a half's side seam towards its bust point, its legs on each other.

    It opens level with the bust point, but as far below the underarm as bust darts do: ``most`` mm at most. CannotDraft
    where the side seam has no room for it.
    """
    piece, side = half.piece, half.side
    mark = next(mark.at for mark in piece.of_kind(BustPoint) if (mark.at.x < 0.0) is half.flipped)
    line = half.below_armhole()
    upper = line.path if half.flipped else line.path.reversed()
    level = upper.cross_level(mark.y)
    below = min(max(level[0] if level else MOUTH_BELOW_UNDERARM[0], MOUTH_BELOW_UNDERARM[0]), most)
    if below > upper.length - TOLERANCE.sewn_length:
        raise CannotDraft(line.name, say("the {side} side seam has no room for a bust dart", side=side))
    split = with_split(garment, piece.name, line.name, below if half.flipped else upper.length - below)
    at, name = upper.at(below), dart_name("bust", side)
    drawn = draw_dart(name, at, _point(mark, at), at, side, Face.FRONT)
    return _insert(split, piece.name, line.name, drawn.lines, name.name)


def _point(mark: Point, at: Point) -> Point:
    return mark + (at - mark).unit * set_back_for(0.0)


def _insert(garment: Garment, name: str, line: str, legs: tuple[Line, ...], dart: str) -> Garment:
    """The garment with a dart's legs between the two parts of a line, and its seam."""
    piece = garment.piece(name)
    first = next(i for i, each in enumerate(piece.ring) if line in each.ancestry)
    piece = replace(piece, ring=(*piece.ring[: first + 1], *legs, *piece.ring[first + 1 :]))
    made = next(one for one in darts_of(piece) if one.name == dart)
    return garment.with_(pieces=[piece], seams=[sew_dart(made)])
