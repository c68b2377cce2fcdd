"""Openings: what must pass through each, at the stretch there is: the head, the hands, the bust and the hips.

An opening reaches its relaxed length x (1 + stretch). Every edge round it has to pass: the seam at which it is
finished, layer by layer, and the outer edge of its band, each with the stretch of its own cloth. Pieces are turned so
that the direction that stretches more goes round, so the greater stretch of the cloth counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafting.cloth import Cloth, Fit, hand_passage
from drafting.garment import Brief, Garment, Opening, Role, Run, Side, Use, same_corner
from drafting.proof.closures import check_closures, opens_waist, stretch_of
from drafting.proof.finding import Finding, Severity, about
from drafting.proof.rows import OpeningRow
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE
from drafting.units import Unit, show_length, show_share

GROWS_LOWERED = 1.2
"""mm by which a neckline, or the band on it, grows for each mm that its front is lowered (measured on round and V
necklines: 1.1 to 1.4)."""


@dataclass(frozen=True, slots=True)
class _Passing:
    """What has to pass an opening: its girth (mm), and the girth below which it can't even be forced."""

    words: str
    girth: float
    least: float


def opening_rows(garment: Garment, brief: Brief, openings: Iterable[Opening]) -> tuple[OpeningRow, ...]:
    """Return a row for the edge of each opening, and for each layer of the seam that finishes it."""
    rows: list[OpeningRow] = []
    for opening in openings:
        if opening.hangs:
            continue
        passing = _passing(opening.name, garment, brief)
        made = [_row(opening.name, edge, run, garment, brief, passing) for edge, run in _edges(garment, opening)]
        rows += _distinct(made)
    return tuple(rows)


def _distinct(rows: Iterable[OpeningRow]) -> Iterator[OpeningRow]:
    """Leave out an edge that is as long and stretches as much as one before it: a band's two edges, say."""
    seen: list[OpeningRow] = []
    for row in rows:
        near = (abs(row.length - one.length) + abs(row.reach - one.reach) for one in seen)
        if min(near, default=TOLERANCE.sewn_length) >= TOLERANCE.sewn_length:
            seen.append(row)
            yield row


def _edges(garment: Garment, opening: Opening) -> Iterator[tuple[str, Run]]:
    banded = all(garment.line(use).role is Role.EDGE for use in opening.run)
    yield "outer edge" if banded else "edge", opening.run
    meets = same_corner(garment)
    for seam in garment.seams:
        if any(garment.line(use).opening == opening.name for use in seam.uses()):
            # An edge that doesn't go all the way round holds nothing back.
            for run in (run for run in seam.plies if run and meets(run[-1], run[0])):
                yield f"{seam.title or seam.name}, {_layer(garment, run)}", run


def _layer(garment: Garment, run: Run) -> str:
    """Name a layer by its piece, or, where it passes over several, by what its lines are."""
    if len({use.piece for use in run}) > 1:
        return garment.line(run[0]).role.value
    piece = garment.piece(run[0].piece)
    return (piece.title or piece.name).lower()


def _row(opening: str, edge: str, run: Run, garment: Garment, brief: Brief, passing: _Passing | None) -> OpeningRow:
    length, reach = 0.0, 0.0
    for use in dict.fromkeys(Use(use.piece, use.line) for use in run):
        part = garment.line(use).path.length
        length += part
        reach += part * (1.0 + stretch_of(_cloth(garment.piece(use.piece).cloth, brief)))
    stretch = reach / length - 1.0 if length else 0.0
    words, girth = (passing.words, passing.girth) if passing else ("", 0.0)
    return OpeningRow(opening, edge, length, stretch, reach, words, girth)


def _cloth(name: str, brief: Brief) -> Cloth:
    return brief.trim if name == "trim" else brief.cloth


def _passing(name: str, garment: Garment, brief: Brief) -> _Passing | None:
    """What must pass an opening of that name ("neck", "wrist-left", "armhole-right", "hem")."""
    body, kind = brief.body, name.partition("-")[0]
    if kind == "neck":
        return _Passing("the head", body["head_girth"], body["head_girth"])
    if kind == "wrist":
        return _Passing("the hand with its thumb", hand_passage(body["hand_girth"]), body["hand_girth"])
    if kind == "armhole":
        return _Passing("the arm", body["armscye_girth"], body["armscye_girth"])
    if kind == "waist":
        return _Passing("the hips", body["hip_girth"], body["hip_girth"])
    if kind == "hem" and not _stepped_into(garment):
        return _hem(garment, brief)
    return None


def _stepped_into(garment: Garment) -> bool:
    """Whether the garment is stepped into, as a skirt or a dress with a zip is: its hem then lets nothing pass."""
    return "waist" in garment.openings or opens_waist(garment)


def _hem(garment: Garment, brief: Brief) -> _Passing:
    """A top is drawn over the bust; one that covers the hip must reach round it too."""
    bust, hip = brief.body["bust_girth"], brief.body["hip_girth"]
    covers = any(level.name == "hip" for piece in garment.pieces for level in piece.levels)
    return _Passing("the hips", hip, hip) if covers and hip > bust else _Passing("the bust", bust, bust)


def check_openings(
    garment: Garment, brief: Brief, rows: Iterable[OpeningRow], unit: Unit = "cm"
) -> tuple[Finding, ...]:
    """Judge the rows: each edge, stretched, passes what must pass it; and the armholes go round the arms."""
    found = (_judge(row, garment, brief, unit) for row in rows)
    return (
        *(finding for finding in found if finding),
        *_armholes(garment, brief, unit),
        *check_closures(garment, brief, unit),
    )


def _judge(row: OpeningRow, garment: Garment, brief: Brief, unit: Unit) -> Finding | None:
    if row.must_pass <= 0.0 or row.reach >= row.must_pass - TOLERANCE.sewn_length:
        return None
    passing = _passing(row.opening, garment, brief)
    forced = passing is not None and row.reach >= passing.least - TOLERANCE.sewn_length
    return Finding(
        "openings.pass",
        Severity.WARNING if forced else Severity.ERROR,
        f"{row.opening}, {row.edge}",
        row.reach,
        row.must_pass,
        f"the {row.opening} ({row.edge}) measures {show_length(row.length, unit)}; stretched by "
        f"{show_share(row.stretch)} it reaches {show_length(row.reach, unit)}, and {row.passing}, "
        f"{show_length(row.must_pass, unit)}, must pass",
        _remedy(row, unit),
    )


def _remedy(row: OpeningRow, unit: Unit) -> str:
    short = row.must_pass / (1.0 + row.stretch) - row.length
    wanted = f"{math.ceil(round((row.must_pass / row.length - 1.0) * 20.0, 6)) * 5} %" if row.length else "more"
    cloth = "a band cloth" if row.edge == "outer edge" else "a cloth"
    kind = row.opening.partition("-")[0]
    if kind == "neck":
        lower = about(short / GROWS_LOWERED, unit)
        return f"lower the front neckline by about {lower}, or use {cloth} with {wanted} stretch"
    if kind == "wrist":
        return f"make the cuff about {about(short, unit)} wider at the wrist, or use {cloth} with {wanted} stretch"
    if kind == "armhole":
        return f"lower the armhole by about {about(short / 2.0, unit)}, or use {cloth} with {wanted} stretch"
    return f"add about {about(short, unit)} at the hem, draw it in less, or use {cloth} with {wanted} stretch"


def _armholes(garment: Garment, brief: Brief, unit: Unit) -> Iterator[Finding]:
    """The armhole of a garment that isn't close is never less than the arm's own, taken over the shoulder."""
    if brief.fit is Fit.CLOSE:
        return
    girth = brief.body["armscye_girth"]
    lines = [line for piece in garment.pieces if piece.face for line in piece.lines(role=Role.ARMHOLE)]
    for side in (Side.LEFT, Side.RIGHT):
        length = math.fsum(line.path.length for line in lines if line.side is side)
        if 0.0 < length < girth - TOLERANCE.sewn_length:
            yield Finding(
                "openings.armhole",
                Severity.WARNING,
                f"armhole-{side}",
                length,
                girth,
                f"the {side} armhole measures {show_length(length, unit)}, less than the armscye girth of "
                f"{show_length(girth, unit)}: it will cut in",
                f"lower the armhole by about {about((girth - length) / 2.0, unit)}",
            )
