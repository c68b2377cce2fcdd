"""The notches of a seam where its plies lie: what meets, by its number, and the places that have a name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafting.garment import Garment, Line, Seam, Use, balance_marks
from drafting.garment.balance import share_on_run
from drafting.garment.named_marks import CORNER, OPENING_END, V_POINT, VENT, ZIP_END, name_marks
from drafting.geometry import Affine, Point
from drafting.output.layers.ply import PliesDrawn, PlyLaid
from drafting.output.layers.shut import shut_pieces
from drafting.output.layers.unfold import sample_shares
from drafting.output.layers.view import NotchShown
from drafting.tolerance import TOLERANCE

SHOWN = (V_POINT, CORNER, ZIP_END, OPENING_END, VENT)
"""Names of places that a picture says beside their notches."""

NOTCH_NEAR = 3.0
"""To either side of a notch as far as an edge is taken to run straight (mm)."""

ONE_STROKE = 50.0
"""Between the notches of two plies that meet, across and up, at most, if one stroke runs over both (mm)."""


def join_strokes(notches: Sequence[NotchShown]) -> Iterator[NotchShown]:
    """Yield the notches of plies that lie on each other: what meets in one place is one stroke over all of them."""
    for number in dict.fromkeys(notch.number for notch in notches):
        alike = [notch for notch in notches if notch.number == number]
        low, top = min(alike, key=lambda each: each.shift), max(alike, key=lambda each: each.shift)
        together = all(abs(each.x - low.x) + abs(each.y - low.y) <= ONE_STROKE for each in alike)
        if together and low.shift < top.shift:
            yield replace(low, name=max(each.name for each in alike), upto=(top.x, top.y, top.shift))
        else:
            yield from alike


def show_notches(garment: Garment, seam: Seam, ply: PlyLaid, shift: int) -> Iterator[NotchShown]:
    """Yield the notches of a seam on a ply where it lies."""
    for mark in garment.find_once(balance_marks):
        if mark.seam != seam.name:
            continue
        for use, s in mark.at:
            if use in ply.run or use.reversed in ply.run:
                at, out = _notch_at(garment, use, s, ply.laid[use.piece])
                name = name_marks(garment).get(mark.number, "")
                shown = name if name in SHOWN else ""
                count = 0 if shown == OPENING_END else mark.count
                yield NotchShown(at.x, at.y, (out.x, out.y), mark.number, count, shift, shown)


def strip_notches(garment: Garment, drawn: PliesDrawn, ply: PlyLaid, shift: int) -> Iterator[NotchShown]:
    """Yield the notches of a strip, where they lie on the lowest ply: they meet what has no notch there, as a seam."""
    base = drawn.plies[0]
    for mark in garment.find_once(balance_marks):
        for use, s in mark.at if mark.seam == drawn.seam.name else ():
            for section in drawn.seam.sections:
                run = next((run for run in section.plies[1:] if {use, use.reversed} & set(run)), None)
                if run and section.plies[0]:
                    share = share_on_run(garment, run, use, s)
                    near = NOTCH_NEAR / garment.run_length(section.plies[0])
                    shares = (max(share - near, 0.0), share, min(share + near, 1.0))
                    one, at, two = sample_shares(garment, section.plies[0], base.laid, shares).tolist()
                    way = Point(two[0] - one[0], two[1] - one[1]).unit
                    out = way.right if drawn.find_inward(section.plies[0][0]) > 0.0 else way.left
                    yield NotchShown(at[0], at[1], (out.x, out.y), mark.number, mark.count, shift)


def _notch_at(garment: Garment, use: Use, s: float, lies: Affine) -> tuple[Point, Point]:
    """Where a notch lies, and the unit vector out of its piece there."""
    line, shut = garment.line(use), garment.find_once(shut_pieces)[use.piece]
    near = min(2.0, line.path.length / 4.0)
    at = lies.apply(shut.at(line, s))
    one, two = (lies.apply(shut.at(line, min(max(s + d, 0.0), line.path.length))) for d in (-near, near))
    way = (two - one).unit
    out = way.left if lies.flips else way.right
    other = beyond_end(garment, use, s)
    if other is not None:  # at a corner a notch lies between its two edges
        corner, far = (lies.apply(shut.at(other[0], t)) for t in other[1:])
        aside = far - corner if other[1] == 0.0 else corner - far
        out = (out + (aside.unit.left if lies.flips else aside.unit.right)).unit
    return at, out


def beyond_end(garment: Garment, use: Use, s: float, alike: bool = True) -> tuple[Line, float, float] | None:
    """Return the line beyond the end where a place lies, its corner and a length near that; ``alike``: of one role."""
    piece, line = garment.piece(use.piece), garment.line(use)
    near = TOLERANCE.sewn_length
    after, before = piece.after(line.name), piece.before(line.name)
    if s >= line.path.length - near and (after.role is line.role or not alike):
        return after, 0.0, min(2.0, after.path.length / 4.0)
    if s <= near and (before.role is line.role or not alike):
        return before, before.path.length, before.path.length - min(2.0, before.path.length / 4.0)
    return None
