"""Levels of the garment against the body's: the bust below the side neck, waist and hip below the back neck point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.garment import Brief, Face, Garment, Role, Side, hanging_pieces, level_heights
from drafting.garment.armholes import BELOW_ARMPIT
from drafting.garment.darts import darts_of
from drafting.garment.departures import sum_departures
from drafting.garment.features import Gathers
from drafting.garment.over_bust import bust_by_length
from drafting.garment.ruled import FRONT_DROPPED, FRONT_EASED, SCYE_DEPTH, list_ruled, sum_ruled
from drafting.garment.shoulders import find_neck_base
from drafting.geometry import Path, Point
from drafting.mending import situation
from drafting.proof.finding import Finding, Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import Words, list_sayings, say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEVEL_OFF = TradeValue(10.0, "mm", "common practice")
"""By which a level of the garment may miss the body's: what two tapings of one length differ by."""

UNDER_ARM = TradeValue(15.0, "mm", "from memory", "a girth is taken close under the arms")
"""Below the underarm at most, that the bust's level lies where the bust points lie higher."""

FAR_MOVED = TradeValue(50.0, "mm", "from memory")
"""By which a change may move a level without a warning: farther than the waist of one and the same person is sought."""

ELSEWHERE: Final = situation("level-off")
"""A waist or hip that lies elsewhere than the body's."""


def level_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The bust, and the waist and the hip on each face."""
    yield from _bust(garment, brief)
    yield from _girth_levels(garment, brief)


def _girth_levels(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The waist and the hip below the back neck point.

    A level that is bent, as paper is that is slashed and spread, counts where it lies nearest to the body's; a waist
    that is a seam counts at centre and side alike, where it lies farthest off. On a front that is eased over the bust,
    or dropped at the centre, they lie lower on the paper, by what the bust takes up once it is worn.
    """
    waist = brief.body["back_neck_point_to_waist"]
    below = {"waist": waist, "hip": waist + brief.body["waist_to_hip"]}
    eased, dropped = (sum_ruled(garment, figure) for figure in (FRONT_EASED, FRONT_DROPPED))
    for (name, face), span in level_heights(garment).items():
        if name in below:
            low, high = span
            if face is Face.FRONT:
                low, high = min(low + eased + dropped, high + eased), high + eased
            by = sum_departures(garment, name, face.value)
            asked = below[name] + by
            nearest, farthest = min(max(-high, asked), -low), max((-high, -low), key=lambda at: abs(at - asked))
            lies = farthest if name == "waist" and _has_waist_seam(garment, face) else nearest
            title = say("{face} {level} below the back neck point", level=name, face=face)
            row = FitRow("level", f"{name} of the {face}", title, below[name], lies, by, -LEVEL_OFF, LEVEL_OFF)
            remedy = "leave out the change that moved it"
            yield replace(row, offence=_tell_off(row), remedy=remedy, wanted=ELSEWHERE, chief=True)


def _has_waist_seam(garment: Garment, face: Face) -> bool:
    """Whether a face is cut through at the waist, and no piece of it lies spread there: no dart open, no gathers."""
    pieces = [piece for piece in garment.pieces if piece.face is face]
    spread = any(piece.of_kind(Gathers) or any(not d.inside for d in darts_of(piece)) for piece in pieces)
    return not spread and sum(bool(piece.lines(role=Role.WAIST)) for piece in pieces) > 1


def _tell_off(row: FitRow) -> Words:
    says = "the {level} lies {off} {way} than the body's, and nothing in the ticket means it to"
    return say(says, level=row.place, off=tape(abs(row.off)), way="lower" if row.off > 0.0 else "higher")


def tell_moved_levels(garment: Garment, brief: Brief) -> Iterator[Finding]:
    """Tell of levels that changes moved: those that moved together once, by the first of them."""
    told: dict[float, list[FitRow]] = {}
    for row in _girth_levels(garment, brief):
        if row.meant:
            told.setdefault(round(row.meant, 1), []).append(row)
    for moved in told.values():
        first = moved[0]
        severity = Severity.WARNING if abs(first.meant) > FAR_MOVED else Severity.NOTE
        says = _moved_words([row.place for row in moved], first.meant)
        yield Finding("fit.level_moved", severity, first.place, first.meant, FAR_MOVED, says, wanted=ELSEWHERE)


def _moved_words(places: Sequence[str], by: float) -> Words:
    says = "the {places} {lie} {off} {way} than the body's, as a change means; ease is measured where {they} {lie} now"
    lie, they = ("lies", "it") if len(places) == 1 else ("lie", "they")
    all_places = list_sayings(places, last=" and the ", between=", the ")
    return say(says, places=all_places, lie=lie, they=they, off=tape(abs(by)), way="lower" if by > 0.0 else "higher")


def _bust(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The bust's level in front, from the side neck point as it is measured; and in the back, level with the front's.

    Where the underarm lies below the bust points, as of a loose top, the girth is taken close under the arms: where the
    body's own rules would have the underarm, however high a change or a band puts it.
    """
    ruled = (fact.value for fact in list_ruled(garment, SCYE_DEPTH))
    deepest = -max([brief.body["scye_depth_length"] + max(BELOW_ARMPIT.values()), *ruled])
    fronts, backs = (_levels(garment, face) for face in (Face.FRONT, Face.BACK))
    body, called = brief.body["side_neck_point_to_bust_point"], brief.body.called.get("bust", "bust")
    for side in (Side.LEFT, Side.RIGHT):
        meant = sum_departures(garment, "bust", f"front-{side}")
        neck = find_neck_base(garment, side)
        bust = None if neck is None else bust_by_length(brief.body, neck)
        if neck is None or bust is None or not fronts:
            continue
        x = bust.x if side is Side.LEFT else -bust.x  # seen from outside: a back's left lies the other way
        front, back = _height_at(fronts, x), _height_at(backs, -x) if backs else 0.0
        under = _underarm(garment, side)
        high = max(bust.y - min(under, deepest) + UNDER_ARM, 0.0) if under is not None else 0.0
        low = high if front < bust.y else 0.0
        title = say("{side} front, side neck point to the {bust}'s level", side=side, bust=called)
        yield _bust_row(f"front-{side}", title, body, neck.distance(Point(bust.x, front)), meant, low)
        if backs:
            title = say("{side} back, back neck point down to the {bust}'s level", side=side, bust=called)
            low = high if back < front - TOLERANCE.joint else 0.0
            yield _bust_row(f"back-{side}", title, -front, -back, -meant, low)


def _bust_row(place: str, title: Words, body: float, garment: float, meant: float, lower: float) -> FitRow:
    """A row of the bust's level, which may lie ``lower`` (mm) for the underarm, and as changes mean it to."""
    return FitRow(
        "bust_level",
        f"bust of the {place}",
        title,
        body,
        garment,
        least=min(meant, 0.0) - LEVEL_OFF,
        most=max(meant, 0.0) + lower + LEVEL_OFF,
        remedy="leave out the change that moved it",
    )


def _levels(garment: Garment, face: Face) -> list[Path]:
    """The bust's levels on the trunk of a face."""
    hanging = hanging_pieces(garment)
    trunk = (piece for piece in garment.pieces if piece.face is face and piece.name not in hanging)
    return [level.path for piece in trunk for level in piece.levels if level.name == "bust"]


def _height_at(levels: list[Path], x: float) -> float:
    """The height (y) of the level over x, or at its end nearest to there."""
    found = [end for path in levels for end in (path.start, path.end)]
    for path in levels:
        _, low, _, high = path.bounds
        upright = Path.straight(Point(x, low - LEVEL_OFF), Point(x, high + LEVEL_OFF))
        found += [path.at(crossing.s) for crossing in path.crossings(upright)]
    return min(found, key=lambda p: abs(p.x - x)).y


def _underarm(garment: Garment, side: Side) -> float | None:
    """The height (y) of the back's underarm on a side, which no bust dart turns."""
    holes = (
        line.path
        for piece in garment.pieces
        if piece.face is Face.BACK
        for line in piece.lines(role=Role.ARMHOLE, side=side)
    )
    return min((path.bounds[1] for path in holes), default=None)
