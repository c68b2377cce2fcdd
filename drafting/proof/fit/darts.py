"""The darts against the body: what each takes in, where its point ends, and its mouth in the side.

    figure                                  usual                            source
    intake of one dart at the bust          up to about 6 cm; beyond, two    from memory
    its point from the bust point           2 to 3 cm; fuller, 4 to 5        from memory
    its mouth below the underarm            5 to 8 cm, lower for a low bust  from memory
    how it rises from there to its point    level, or rising                 from memory
    intake of one dart of a skirt           2.5 to 3.5 cm; beyond, one more  common practice

A dart at the bust that opens elsewhere than in the side may take in as much more as it is longer: it opens wider at the
same angle. One low in the side (a French dart) may open where it does.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

from drafting.cloth import Kind
from drafting.garment import Brief, Face, Garment, Piece, Role, Seam, Side
from drafting.garment.darts import Dart, angle, darts_of, intake, mouth_edges
from drafting.garment.departures import sum_departures
from drafting.garment.features import Gathers
from drafting.garment.ruled import BUST_DART, FRONT_EASED, list_ruled, sum_ruled
from drafting.garment.surface import hanging_pieces
from drafting.mending import situation
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.proof.lengths import take_over_bust
from drafting.redraw.dart_points import (
    MOST_IN_BUST_DART,
    MOUTH_BELOW_UNDERARM,
    dart_for_cup,
    points_at_bust,
    set_back_for,
)
from drafting.redraw.heights import is_skirt
from drafting.saying import Words, say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_table
from drafting.work.kinds import STYLE

POINT_OFF = TradeValue(15.0, "mm", "from memory", "2 to 3 cm, fuller intakes 4 to 5")
"""By which a dart's point may end nearer to the bust point or farther from it than its intake asks."""

MOST_IN_SKIRT_DART = TradeValue(36.0, "mm", "common practice", "2.5 to 3.5 cm, and what a tape misses")
"""That a dart at a skirt's waist takes in at most, unwarned."""

MOST_ON_MAN = TradeValue(25.0, "mm", "from memory", "a man's front is cut without a dart, or eased by as much")
"""That a bust dart in the side of a man's front takes in at most, unsaid."""

FRENCH_FROM = TradeValue(0.5, "share", "from memory")
"""Of the side, from the underarm down, from which on a dart from there is a French dart."""


def dart_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The figures of each dart, of those at the bust held against what the trade lets be; and a front that has none."""
    for piece in garment.pieces:
        for dart in darts_of(piece) if piece.face else ():
            if points_at_bust(piece, dart):
                yield from _at_bust(piece, dart, sum_departures(garment, "armhole_depth", dart.side.value))
                if brief.body.rules == "men" and _opens_in_side(piece, dart):
                    yield _on_man(piece, dart)
            else:
                yield from _plain(piece, dart)
    yield from _judge_undarted(garment, brief)
    yield from _for_cup(garment, brief)


def _place(piece: Piece, dart: Dart) -> str:
    return f"{piece.name}.{dart.seam}"


def _plain(piece: Piece, dart: Dart) -> Iterator[FitRow]:
    """What a skirt's dart takes in; others are drawn by what the body asks, and nothing holds them."""
    if is_skirt(piece) and not dart.inside:
        mend = "share it between two darts: a deep one pokes out at its point"
        yield hold_intake("dart_intake", _place(piece, dart), dart, MOST_IN_SKIRT_DART, mend)


def hold_intake(name: str, place: str, dart: Dart, most: float, mend: Words) -> FitRow:
    """Return the row of what a dart takes in, ``most`` mm at most."""
    taken = intake(dart)
    return FitRow(
        name,
        place,
        say("{title}, what it takes in", title=dart.title),
        taken,
        taken,
        most=most - taken,
        of_body=False,
        severity=Severity.WARNING,
        remedy=mend,
    )


def _at_bust(piece: Piece, dart: Dart, sunk: float) -> Iterator[FitRow]:
    place, taken = _place(piece, dart), _taken_at_side(piece, dart)
    asked = set_back_for(intake(dart))
    longer = intake(dart) / taken if taken > 0.0 else 1.0
    if not opens_at_waist(piece, dart):
        mend = "share it between two darts, or turn part of it into another"
        row = hold_intake("dart_intake", place, dart, longer * MOST_IN_BUST_DART, mend)
        yield replace(row, wanted=situation("bust-dart-full", dart=dart.stem))
    yield FitRow(
        "dart_point",
        place,
        say("{title}, its point from the bust point", title=dart.title),
        asked,
        dart.set_back,
        least=-POINT_OFF,
        most=POINT_OFF,
        of_body=False,
        severity=Severity.NOTE,
        remedy="let the point end by rule: leave out set_back",
    )
    yield from _mouth(piece, dart, place, sunk)


def opens_at_waist(piece: Piece, dart: Dart) -> bool:
    """Whether a dart takes the waist in: within its piece, or open in the lower edge below its own point."""
    return dart.inside or all(line.role in (Role.WAIST, Role.HEM) for line in mouth_edges(piece, dart))


def _on_man(piece: Piece, dart: Dart) -> FitRow:
    """What a man's dart in the side takes in: he hardly expects one, and a seam more often takes it up."""
    mend = (
        "it takes in the length that the front needs over a full chest or belly; {again}, or spare the dart by a panel "
        "seam or a seam of a yoke that takes it up, or turn it to the armhole"
    )
    row = hold_intake("dart_on_man", _place(piece, dart), dart, MOST_ON_MAN, "")
    again = Retake(("side_neck_point_to_waist_over_bust",), mend)
    return replace(row, title=say("{title} on a man's front", title=dart.title), severity=Severity.NOTE, remedy=again)


def _taken_at_side(piece: Piece, dart: Dart) -> float:
    """What a dart about the bust point takes in where the bust line meets the side: at most what it takes in itself."""
    ends = (end for level in piece.levels if level.name == "bust" for end in (level.path.start, level.path.end))
    outer = [dart.apex.distance(end) for end in ends if (end.x > 0.0) == (dart.apex.x > 0.0)]
    if _opens_in_side(piece, dart) or not outer:
        return intake(dart)
    return min(intake(dart), 2.0 * max(outer) * math.sin(angle(dart) / 2.0))


def _opens_in_side(piece: Piece, dart: Dart) -> bool:
    return not dart.inside and all(line.role is Role.SIDE for line in mouth_edges(piece, dart))


MOUTH_OFF = TradeValue(10.0, "mm", "from memory", "4 cm and less: the allowances of dart and armhole meet")
"""By which a bust dart may open nearer to the underarm than is usual, and is only noted."""


FALLS = TradeValue(math.radians(3.0), "rad", "from memory", "level, or rising to its point")
"""By which a bust dart from the side may fall to its point, unwarned."""


def _mouth(piece: Piece, dart: Dart, place: str, sunk: float) -> Iterator[FitRow]:
    """How far down the side the dart opens, along it from the underarm; other darts above it are folded shut.

    One that an underarm has come nearer to by what changes lowered it (``sunk``, mm) stays where it is: less is noted
    only where the allowances meet. One that would fall to its point if it opened higher may open so low.
    """
    if not _opens_in_side(piece, dart):
        return
    ways = [_side_from(piece, dart, step) for step in (1, -1)]
    above = next((length for length, end in ways if end is Role.ARMHOLE), None)
    if above is None or above > FRENCH_FROM * math.fsum(length for length, _ in ways):
        return
    least = MOUTH_BELOW_UNDERARM[0] - MOUTH_OFF - TOLERANCE.sewn_length
    rise = dart.point.y - dart.middle.y
    would_fall = rise < above - MOUTH_BELOW_UNDERARM[1]
    yield FitRow(
        "dart_mouth",
        place,
        say("{title}, its mouth below the underarm", title=dart.title),
        MOUTH_BELOW_UNDERARM[0],
        above,
        least=-min(max(sunk, 0.0), MOUTH_OFF),
        most=None if would_fall else MOUTH_BELOW_UNDERARM[1] - MOUTH_BELOW_UNDERARM[0],
        of_body=False,
        severity=Severity.WARNING if above < least else Severity.NOTE,
        remedy="look at it on the toile: near the underarm it meets the armhole's turn, far below it shows",
    )
    yield FitRow(
        "bust_dart_pitch",
        place,
        say("{title}, how it rises to its point", title=dart.title),
        0.0,
        math.atan2(rise, abs(dart.middle.x - dart.point.x)),
        least=-FALLS,
        of_body=False,
        measure="rad",
        severity=Severity.WARNING,
        remedy="it points down to the bust: let it open lower in the side, by bust_dart_drop or by moving it",
    )


def _side_from(piece: Piece, dart: Dart, step: int) -> tuple[float, Role]:
    """How much of the side there is from a dart's mouth on, in ring order or against it, and what follows on it."""
    ring, names = piece.ring, [line.name for line in piece.ring]
    at, length = names.index(dart.lines[-1 if step > 0 else 0].name) + step, 0.0
    while ring[at % len(ring)].role in (Role.SIDE, Role.DART):
        line = ring[at % len(ring)]
        length += line.path.length if line.role is Role.SIDE else 0.0
        at += step
    return length, ring[at % len(ring)].role


# a front without darts

SHORT_FOR_DART = TradeValue(10.0, "mm", "common practice", "less is eased in or stretches")
"""That a knit's front is shorter over the bust than the body at least, for a dart to be sewn."""

FOLDS = "{again}; without a dart folds may run to the bust points: look on the toile whether they show"
FOLDS_IN_WOVEN = (
    "{again}, or make the bust fuller by a fit change, which gives the front its dart; without one folds may run to "
    "the bust points"
)
FOLDS_AT_SEAM = (
    "the seam over the front takes nothing in, and without a dart folds run to the bust points: {again}, or take a "
    "design with bust darts"
)
"""What to do about a full bust on a front without darts; one that a seam parts has no room for them."""

FULL_WITHOUT_DART = trade_table({Kind.WOVEN: 120.0, Kind.KNIT: 180.0}, "mm", "from memory", "12 cm; a knit stretches")
"""By which a bust may be more than the under bust on a front without a dart or a seam over the bust, unwarned."""

SMALL_FOR_CUP, MISSED_BY_TAPE = (
    TradeValue(0.5, "share", "from memory", "folds run to the bust points from half of it on"),
    TradeValue(15.0, "mm", "common practice", "two tapings differ by 1 cm, and a cup by as much"),
)
"""Of what a cup asks of a bust dart that it takes in at least, and by how much less it may be all the same."""


def _for_cup(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """What the bust darts of a woven front take in, against what a woman's cup asks: the length over the bust says it.

    A front that is told to have none isn't told of it twice.
    """
    taken = [fact.value for fact in list_ruled(garment, BUST_DART)]
    asked, body = dart_for_cup(brief.body), brief.body
    if not taken or garment.needs.stretch > 0.0:
        return
    undarted = max(taken) == 0.0 and body["bust_girth"] - body["under_bust_girth"] > FULL_WITHOUT_DART[Kind.WOVEN]
    yield FitRow(
        "bust_dart_for_cup",
        "front",
        "bust dart, beyond what bust and under bust ask for",
        asked,
        max(taken),
        least=None if undarted else -max(MISSED_BY_TAPE, (1.0 - SMALL_FOR_CUP) * asked),
        severity=Severity.WARNING,
        remedy=Retake(_AROUND_DART, SMALL_DART),
        offence=say(
            "the bust darts take in {taken}, where a bust that is so much more than the under bust asks for about "
            "{asked} each",
            taken=tape(max(taken)),
            asked=tape(asked),
        ),
    )


_AROUND_DART = (
    "back_neck_point_to_waist",
    "side_neck_point_to_waist_over_bust",
    "under_bust_girth",
    "bust_girth",
)
"""The two lengths whose difference is the dart, and the two girths that say how much it should be."""

SMALL_DART = (
    "{again}: the dart takes in what the front is longer over the bust than the back, and such a bust wants more of "
    "it; if they are right, look on the toile whether folds run to the bust points, and make the bust fuller by "
    "a fit change"
)
"""What to do about a bust dart that is small beside the bust."""


def _judge_undarted(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The bust against the under bust, where the front has nothing that shapes it."""
    body, most = brief.body, FULL_WITHOUT_DART[brief.cloth.kind]
    fuller = body["bust_girth"] - body["under_bust_girth"]
    hanging = hanging_pieces(garment)
    fronts = [
        piece
        for piece in garment.pieces
        if piece.face is Face.FRONT and piece.name not in hanging and any(v.name == "bust" for v in piece.levels)
    ]
    if not fronts or any(_is_shaped(garment, piece) for piece in fronts):
        return
    parted = any(line.role is Role.STYLE for piece in fronts for line in piece.ring)
    folds = FOLDS if brief.cloth.kind is Kind.KNIT else FOLDS_IN_WOVEN
    yield FitRow(
        "bust_undarted",
        fronts[0].name,
        "bust beyond the under bust, with no dart in the front",
        fuller,
        fuller,
        most=most - fuller,
        severity=Severity.WARNING,
        remedy=Retake(_lengths_for_dart(brief), FOLDS_AT_SEAM if parted else folds),
        wanted=situation("front-short", "take a design with bust darts")
        if _has_length_for_dart(garment, brief) and not parted
        else None,
    )


def _lengths_for_dart(brief: Brief) -> tuple[str, ...]:
    """What is measured again for a full bust without a dart: in a woven the length that gives the dart, too."""
    woven = brief.cloth.kind is Kind.WOVEN
    over = ("side_neck_point_to_waist_over_bust", "back_neck_point_to_waist") if woven else ()
    return (*over, "bust_girth", "under_bust_girth")


def _has_length_for_dart(garment: Garment, brief: Brief) -> bool:
    """Whether the body is longer over the bust than a knit's front as it is cut, by what a dart takes in."""
    if brief.cloth.kind is not Kind.KNIT:
        return False
    eased = sum_ruled(garment, FRONT_EASED)
    own = brief.body["side_neck_point_to_waist_over_bust"]
    taken = [take_over_bust(garment, brief, side) for side in (Side.LEFT, Side.RIGHT)]
    return all(each is not None and own - (each - eased) > SHORT_FOR_DART for each in taken)


def _is_shaped(garment: Garment, piece: Piece) -> bool:
    """Whether a dart, the gathers that one became, or a seam of the design shapes a front over the bust.

    A dart from the waist to the bust point does; one that lies within the front takes in the waist alone.
    """
    gathered = any(piece.line(each.line).role is not Role.HEM for each in piece.of_kind(Gathers))
    styled = any(_takes_in(garment, seam) for seam in garment.seams if any(u.piece == piece.name for u in seam.uses()))
    return gathered or styled or any(points_at_bust(piece, dart) and not dart.inside for dart in darts_of(piece))


def _takes_in(garment: Garment, seam: Seam) -> bool:
    """Whether a seam of the design takes anything in on the front: its edges there don't lie on each other."""
    hanging = hanging_pieces(garment)
    uses = {(u.piece, u.line): garment.line(u) for u in seam.uses() if u.piece not in hanging}
    paths = [line.path for line in uses.values() if line.face is Face.FRONT]
    return seam.kind == STYLE and any(
        other.nearest(path.at(path.length * share))[1] > TOLERANCE.sewn_length
        for path, other in permutations(paths, 2)
        for share in (0.0, 0.5, 1.0)
    )
