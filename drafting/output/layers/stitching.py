"""Where a line of stitching begins and ends: at the raw edges that it crosses, or at the very point where it stops."""

from __future__ import annotations

import math

import numpy as np

from drafting.garment import Garment, Line, Seam, Use
from drafting.geometry import are_inside
from drafting.output.layers.shut import shut_pieces
from drafting.output.layers.view import Points
from drafting.trade import TradeValue

CROSSES = TradeValue(math.radians(25.0), "rad", "from memory")
"""Of turn outwards at the end of an edge, from which a seam along it runs on to the raw edge of the next."""

FARTHEST, LOOKED_AT = 60.0, 241
"""Beyond the end of an edge as far as the raw edge of the next is looked for (mm), and places on the way there."""


def crosses_next(garment: Garment, use: Use, at_end: bool) -> bool:
    """Return whether the edge beyond the end, or the start, of a use turns off there: a seam is sewn on across it.

    It doesn't where both go on in one line, as above a zip or at the point of a V, nor in a hollow corner.
    """
    piece, shut = garment.piece(use.piece), garment.find_once(shut_pieces)[use.piece]
    line = piece.line(use.line)
    before, after = (line, piece.after(use.line)) if at_end != use.against else (piece.before(use.line), line)
    one, two = shut.course(before), shut.course(after)
    (a, b), (c, d) = (one[-1] - one[-2]).tolist(), (two[1] - two[0]).tolist()
    return math.atan2(a * d - b * c, a * c + b * d) > CROSSES


def runs_across(garment: Garment, seam: Seam, use: Use, at_end: bool) -> bool:
    """Return whether a seam is sewn on across the edge beyond the end, or the start, of a use.

    What is turned in, as a facing, stops at the stitching line of an edge that is closed by a zip: it is folded there.
    Beside buttons it is sewn on over the stand, as far as its fold.
    """
    beyond = find_beyond(garment, use, at_end)
    closed = any(
        (other.piece, other.line) == (use.piece, beyond.name)
        for each in garment.seams
        if each.kind.closes and not each.kind.lapped
        for other in each.uses()
    )
    return crosses_next(garment, use, at_end) and not (closed and seam.kind.lay.turned)


def ends_at_stand(garment: Garment, use: Use, at_end: bool) -> bool:
    """Return whether the edge beyond the end, or the start, of a use is that of a stand for buttons."""
    beyond = find_beyond(garment, use, at_end)
    lapped = (seam for seam in garment.seams if seam.kind.lapped)
    return any((each.piece, each.line) == (use.piece, beyond.name) for seam in lapped for each in seam.uses())


def find_beyond(garment: Garment, use: Use, at_end: bool) -> Line:
    """Return the line of a piece's ring beyond the end, or the start, of a use."""
    piece = garment.piece(use.piece)
    return (piece.after if at_end != use.against else piece.before)(use.line)


def run_out(course: Points, ring: Points, first: bool, last: bool) -> Points:
    """Return a course run straight on from its start, from its end or both, as far as the outline that it lies in."""
    start, end = (_go_on(course[:2][::-1], ring) if first else None, _go_on(course[-2:], ring) if last else None)
    out = [each for each in (start, course, end) if each is not None and len(each)]
    return np.concatenate(out)


def _go_on(stretch: Points, ring: Points) -> Points:
    """The point beyond the end of a straight stretch where it leaves an outline; none, if it does at that end."""
    way = stretch[1] - stretch[0]
    along = stretch[1] + way / np.hypot(*way) * np.linspace(0.0, FARTHEST, LOOKED_AT)[:, None]
    beyond = ~are_inside(along[1:], ring)
    at = int(np.argmax(beyond)) if beyond.any() else 0
    return np.asarray(along[[at] if at else []])
