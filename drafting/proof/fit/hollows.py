"""The shape of armholes: how hollow a knit's front is beside its back, and how high any front is narrowest.

Of a woven the front is told as it lies once its shoulder is in one line; one that a dart or gathers turn isn't.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafting.cloth import ease_for
from drafting.garment import Brief, Face, Garment, Role, Side, hanging_pieces
from drafting.garment.armholes import hollow_of, take_armhole, turn_of_shoulder
from drafting.garment.departures import sum_departures
from drafting.garment.features import BustPoint
from drafting.geometry import Path, Point
from drafting.proof.finding import Severity
from drafting.proof.fit.retake import Retake
from drafting.proof.fit.row import FitRow
from drafting.record import dataclass
from drafting.redraw.shapes import FLOOR_RISES, rise_of_floor
from drafting.saying import Words, say, show_share
from drafting.trade import TradeValue, trade_row

FLATTER = TradeValue(2.0, "mm", "from memory", "the front is the hollower: the arm comes forward")
"""By which a front's armhole may be less hollow than the back's, unsaid: drawn alike, they are told alike."""

SET_IN = TradeValue(10.0, "mm", "from memory", "an armhole comes in by 1 to 2 cm from the shoulder's end")
"""By which half of a body's across front, with its fit's ease, lies in from the shoulder's end at least, for its
armhole to be narrowest at that height: beside a broader chest it falls from the shoulder."""

NARROWEST_HEIGHT = trade_row((0.35, 0.60), "share", "common practice", "0.40 to 0.55")
"""Of its height at which a front's armhole is narrowest: lower, it hooks round the underarm; higher, it is a slant."""


FALLS_TO = TradeValue(0.70, "share", "from memory", "higher, its upper part has no hollow left")
"""Of its height at which a front's armhole that falls from the shoulder is narrowest at most."""

FLOOR_STEEP = TradeValue(6.0, "mm", "from memory", "pointed beside the side seam, over a round cap")
"""By which a woven's armhole rises over the first 2 cm beside its side seam, from which it is warned of."""


HOOKED = trade_row((2.0, 4.0), "mm", "from memory", "lowest at the side or a little before it")
"""By which a woven's armhole may dip below its end at the side, in a note beyond the first, warned beyond the second:
square to a side seam that leans, it hooks up to that."""


@dataclass(frozen=True, slots=True)
class ArmholeShape:
    """How far an armhole lies in from its chord at most (mm), and at what share of its height it is narrowest.

    ``shoulder`` is how far (mm) from the centre the shoulder ends.
    """

    hollow: float
    narrowest: float
    shoulder: float


def hollow_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The shape of each armhole: of a garment that is drafted to stretch front beside back, of others the front."""
    stretches = garment.needs.stretch > 0.0
    for side in (Side.LEFT, Side.RIGHT):
        by = 0.0
        if not stretches:
            taken = take_armhole(garment, side)
            if taken is None or not taken.lies_flat:
                continue
            by = turn_of_shoulder(garment, side)
            yield from _floors(garment, side)
        front, back = take_shape(garment, Face.FRONT, side, by), take_shape(garment, Face.BACK, side)
        if front is not None and back is not None:
            narrowed = sum_departures(garment, "shoulder_length", side.value) < 0.0
            moved = sum_departures(garment, "armhole_hollow", side.value)
            across = brief.body["across_front_width"] + ease_for(brief.fit, brief.cloth, brief.body).across_back
            falls = across / 2.0 > front.shoulder - SET_IN
            rows = _shape(side, front, back, moved, narrowed=narrowed, falls=falls, stretches=stretches)
            yield from rows if stretches else (row for row in rows if row.name == "armhole_narrowest")


def _floors(garment: Garment, side: Side) -> Iterator[FitRow]:
    """How level each armhole of a shaped woven is beside its side seam, by what it has risen after 2 cm of it."""
    if not any(piece.of_kind(BustPoint) for piece in garment.pieces):
        return
    hanging = hanging_pieces(garment)
    for piece in garment.pieces:
        lines = [] if piece.name in hanging or piece.face is Face.NONE else piece.lines(role=Role.ARMHOLE, side=side)
        for line in lines:
            beside = piece.before(line.name), piece.after(line.name)
            if any(each.role is Role.SIDE for each in beside):
                path = line.path if beside[0].role is Role.SIDE else line.path.reversed()
                rises = rise_of_floor(path)
                yield FitRow(
                    "armhole_floor",
                    f"armhole-{side}",
                    say("{side} {face} armhole, how far it rises in its first 2 cm", side=side, face=piece.face),
                    0.0,
                    rises,
                    most=FLOOR_RISES,
                    severity=Severity.WARNING if rises > FLOOR_STEEP else Severity.NOTE,
                    remedy=Retake(("across_back_width", "shoulder_length")),
                    of_body=False,
                )
                if piece.face is Face.BACK:
                    yield _tell_hook(path, side)


def _tell_hook(path: Path, side: Side) -> FitRow:
    """By how much a back's armhole dips below its end at the side: a front's lies turned by its dart."""
    dips, (noted, warned) = path.start.y - path.bounds[1], HOOKED
    return FitRow(
        "armhole_hooked",
        f"armhole-{side}",
        say("{side} back armhole, how far it dips below the underarm", side=side),
        0.0,
        dips,
        most=noted,
        severity=Severity.WARNING if dips > warned else Severity.NOTE,
        remedy="lay front and back together at the side seam, and redraw the last 3 cm of the armhole as one line "
        "without a dip",
        of_body=False,
    )


def _shape(
    side: Side, front: ArmholeShape, back: ArmholeShape, moved: float, *, narrowed: bool, falls: bool, stretches: bool
) -> Iterator[FitRow]:
    remedy: Words | Retake = Retake(("across_front_width", "across_back_width"), "{again}, or choose a looser fit")
    if narrowed:
        remedy = "narrow the shoulder less, or choose a looser fit"
    yield FitRow(
        "armhole_hollow",
        f"armhole-{side}",
        say("{side} armhole, front more hollow than back", side=side),
        0.0,
        front.hollow - back.hollow,
        moved,
        least=-FLATTER,
        severity=Severity.NOTE,
        remedy=remedy,
        of_body=False,
    )
    # A shoulder that is narrowed takes the narrowest place up with it; a seam that is moved only its share.
    low, high = NARROWEST_HEIGHT
    least, most = (None, None) if narrowed or moved else (low, high)
    yield FitRow(
        "armhole_narrowest",
        f"armhole-{side}",
        say("{side} armhole, how far up its front is narrowest", side=side),
        0.0,
        front.narrowest,
        least=least,
        most=(None if stretches else FALLS_TO) if falls and most is not None else most,
        measure="share",
        offence=say(
            "the {side} front armhole is hollowest {share} of the way up; {low} to {high} is usual",
            side=side,
            share=show_share(front.narrowest),
            low=show_share(low),
            high=show_share(high),
        ),
        severity=Severity.NOTE,
        remedy=remedy,
        of_body=False,
    )


def take_shape(garment: Garment, face: Face, side: Side, by: float = 0.0) -> ArmholeShape | None:
    """Return the shape of a face's armhole, turned ``by`` (rad); None where it has none or is on several pieces."""
    hanging = hanging_pieces(garment)
    pieces = [piece for piece in garment.pieces if piece.face is face and piece.name not in hanging]
    found = [
        [line.path.turned(by) for line in lines]
        for lines in (piece.lines(role=Role.ARMHOLE, side=side, face=face) for piece in pieces)
        if lines
    ]
    return _take_from(found[0]) if len(found) == 1 else None


def _take_from(paths: Sequence[Path]) -> ArmholeShape:
    """The shape of an armhole whose lines lie on one piece."""
    points = [Point(abs(float(x)), float(y)) for path in paths for x, y in path.flatten()]
    low, high = min(points, key=lambda each: each.y), max(points, key=lambda each: each.y)
    narrowest = min(points, key=lambda each: each.x)
    return ArmholeShape(hollow_of(*paths), (narrowest.y - low.y) / (high.y - low.y), high.x)
