"""How far short of the bust point a dart ends: the more it takes in, the farther off, as a full dart ends in a point.

Half of its intake and 15 mm, within 20 to 50 mm: an ordinary dart of 20 to 30 mm ends 25 to 30 mm from the bust point,
a full one of 60 mm 45 mm (from memory: 2 to 3 cm, fuller intakes 4 to 5 cm).
"""

from __future__ import annotations

from collections.abc import Sequence

from drafting.body import Body
from drafting.garment import BustPoint, Piece
from drafting.garment.darts import Dart, intake
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

SET_BACKS = trade_row((20.0, 50.0), "mm", "from memory", "2 to 3 cm, fuller intakes 4 to 5")
"""Short of the bust point at which a dart ends by rule, at least and at most."""

SET_BACK_FIRST, SET_BACK_SHARE = (
    TradeValue(15.0, "mm", "derived", "2 to 3 cm for 20 to 30 mm, 4 to 5 for 50 to 70"),
    TradeValue(0.5, "share", "derived", "2 to 3 cm for 20 to 30 mm, 4 to 5 for 50 to 70"),
)
"""Short of the bust point at which a dart ends by rule: the first, and so much of its intake."""

MOST_IN_BUST_DART = TradeValue(60.0, "mm", "from memory", "about 6 cm; beyond, two darts")
"""That one dart at the bust takes in at most."""

SHOULDER_DART_PLACE = TradeValue(0.45, "share", "from memory")
"""Of the shoulder, from the neck, at which its dart lies."""

MOUTH_BELOW_UNDERARM = trade_row((50.0, 80.0), "mm", "from memory", "5 to 8 cm")
"""Below the underarm, along the side, at which a bust dart opens."""

CUP_FROM, DART_OF_CUP = (
    TradeValue(85.0, "mm", "from memory", "1.5 to 2 cm for a bust 12 cm beyond the under bust, 4.5 to 6 for 19"),
    TradeValue(0.5, "share", "from memory", "1.5 to 2 cm for a bust 12 cm beyond the under bust, 4.5 to 6 for 19"),
)
"""By how much a bust is more than the under bust where it first wants a dart, and what that takes in of the rest."""

FRONT_OF_SKIRT_DARTS = trade_row((1.0 / 3.0, 0.4), "share", "common practice", "the back takes out 1.5 to 2 times it")
"""Of what the waist darts of half a skirt take out that the front's do."""

FRONT_OF_WAIST_DARTS = trade_row((0.25, 0.55), "share", "from memory", "the back takes more, but under a full bust")
"""Of what the waist darts of half a bodice take in that the front's do, at least and at most, but over a belly."""

SHAPED_FRONT = trade_row((15.0, 25.0), "mm", "from memory", "1.5 to 2.5 cm")
"""Of intake at least in the waist dart of a flat front, and up to which it takes in what would else give the back a
second dart."""

LEAST_DART = TradeValue(10.0, "mm", "common practice", "less than 1 cm is eased in, or another dart takes it")
"""Of intake at least of a dart that is drawn by rule."""

SHARED_BY_TWO = TradeValue(21.0, "mm", "common practice", "1 cm each, and what the waist between them takes")
"""Of intake in one waist dart of a back, from which two can share it."""

BELLY = trade_row((0.82, 0.90), "share", "from memory", "of women's and men's waists to hips")
"""Of the hip that a waist is, from which on a belly leaves a front's waist darts less to take out, and all."""


BELLY_AT_NAVEL = trade_row((0.88, 0.95), "share", "from memory", "of women's and men's girths over the navel to hips")
"""The same of the hip that the girth over the navel is."""

SIDE_MOST = TradeValue(45.0, "mm", "from memory")
"""That a side seam takes out between waist and hip at most, on each face: more stands off the hip bone."""


def flat_at_waist(body: Body) -> float:
    """Return how flat a front is at its waist: 1, or less over a belly, down to 0."""
    return _flatness(body, "waist_girth", BELLY)


def flat_below_waist(body: Body) -> float:
    """Return how flat a front is at its waist and below, where a belly hangs low: 1, or less, down to 0."""
    return min(flat_at_waist(body), _flatness(body, "waist_girth_navel", BELLY_AT_NAVEL))


def _flatness(body: Body, girth: str, row: Sequence[float]) -> float:
    low, high = row
    return min(max((high - body[girth] / body["hip_girth"]) / (high - low), 0.0), 1.0)


def dart_for_cup(body: Body) -> float:
    """Return what a bust dart in the side takes in (mm) for a woman's bust beside her under bust; a man's has none."""
    cup = body["bust_girth"] - body["under_bust_girth"]
    return max(DART_OF_CUP * (cup - CUP_FROM), 0.0) if body.rules == "women" else 0.0


def set_back_for(taken: float, asked: float | None = None) -> float:
    """Return how far (mm) short of the bust point a dart ends that takes in ``taken`` mm, or what was asked for."""
    return asked if asked is not None else min(max(SET_BACK_FIRST + SET_BACK_SHARE * taken, SET_BACKS[0]), SET_BACKS[1])


def regrade_set_back(back: float, before: float, after: float) -> float:
    """Return how far short a dart ends once it takes in ``after`` mm instead of ``before``.

    One drawn by rule is drawn so again; one that was asked to end nearer or farther off does so by as much.
    """
    return max(back + set_back_for(after) - set_back_for(before), 0.0)


def points_at_bust(piece: Piece, dart: Dart) -> bool:
    """Whether a dart turns about a marked bust point of its piece."""
    return any(mark.at.near(dart.apex, TOLERANCE.joint) for mark in piece.of_kind(BustPoint))


def grade_set_back(piece: Piece, dart: Dart, after: float) -> float:
    """Return how far short a dart of a piece ends once it takes in ``after`` mm: as far as before off a bust point."""
    return regrade_set_back(dart.set_back, intake(dart), after) if points_at_bust(piece, dart) else dart.set_back
