"""Openings: what must pass through each, at the stretch there is: the head, the hands, the bust and the hips.

An opening reaches its relaxed length x (1 + stretch). Every edge round it has to pass: the seam at which it is
finished, layer by layer, and the outer edge of its band, each with the stretch of its own cloth. What
counts is the stretch round the body of the cloth as the piece lies on it. What is taped, or sewn to what is, stays as
long as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from drafting.cloth import Fit, Kind, hand_passage
from drafting.garment import Brief, Garment, Opening, Piece, Role, Run, Seam, Side, Use, glue, same_corner
from drafting.garment.places import gathered_length
from drafting.mending import Situation, situation
from drafting.proof.checks.closures import check_closures, closures, opens_waist, quote_places, stretch_least
from drafting.proof.checks.waists import check_waists, waist_rows, wanted_spare
from drafting.proof.finding import Finding, Severity
from drafting.proof.rows import OpeningRow
from drafting.record import dataclass
from drafting.saying import Name, Saying, Words, about, say, show_share, tape
from drafting.sides import sideless
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

GROWS_LOWERED = TradeValue(1.2, "times", "derived", "measured on round and V necklines, 1.1 to 1.4")
"""The mm that its front is lowered by, that a neckline or the band on it grows."""

GROWS_LOWERED_POINT = TradeValue(0.9, "times", "derived", "measured, 0.6 to 1.4")
"""The mm that its front is lowered by, that the fold of a mitred band grows: a deeper point is sharper, its mitre takes
more."""


BAND_SEAM, BAND_AT_SEAM = "its band's seam", "its band at the seam"
"""What is measured where an opening's band is sewn on: the edge beneath, and the band itself."""


@dataclass(frozen=True, slots=True)
class _Passing:
    """What has to pass an opening: its girth (mm), and the girth below which it can't even be forced."""

    words: str
    girth: float
    least: float


def opening_rows(garment: Garment, brief: Brief, openings: Iterable[Opening]) -> tuple[OpeningRow, ...]:
    """Return a row for the edge of each opening, each layer of its seam, and the waist of what is pulled on."""
    rows: list[OpeningRow] = []
    for opening in openings:
        if opening.hangs:
            continue
        passing = _passing(opening.name, garment, brief)
        made = [_row(opening, edge, run, garment, brief, passing) for edge, run in _edges(garment, opening)]
        rows += _distinct(made)
    return (*rows, *waist_rows(garment, brief))


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
                yield _name_ply(garment, seam, run), run


def _name_ply(garment: Garment, seam: Seam, run: Run) -> str:
    """Name a layer of the seam that an opening is finished by: a band's, or what the band is sewn to, by the band."""
    banded = any(garment.line(use).role is Role.BAND for use in seam.uses())
    if banded:
        return BAND_AT_SEAM if garment.line(run[0]).role is Role.BAND else BAND_SEAM
    return ", ".join(dict.fromkeys((str(seam.title or seam.name), _layer(garment, run))))


def _layer(garment: Garment, run: Run) -> str:
    """Name a layer by its piece, or, where it passes over several, by what its lines are."""
    if len({use.piece for use in run}) > 1:
        return garment.line(run[0]).role.value
    piece = garment.piece(run[0].piece)
    return str(piece.title or piece.name).lower()


def _row(opening: Opening, edge: str, run: Run, garment: Garment, brief: Brief, passing: _Passing | None) -> OpeningRow:
    length, reach = 0.0, 0.0
    for use in dict.fromkeys(Use(use.piece, use.line) for use in run):
        piece = garment.piece(use.piece)
        taped = _taped_share(piece, use.line)
        part = garment.line(use).path.length - taped * gathered_length(garment, [use])  # a tape holds gathers drawn up
        length += part
        stretched = part * (1.0 + stretch_least(piece, brief) * (1.0 - taped))
        holds = _find_holds(garment, use) if opening.run is run else _find_stiffened(garment, use)
        reach += min([stretched, *(part * times for times in holds)])
    stretch = reach / length - 1.0 if length else 0.0
    words, girth = (passing.words, passing.girth) if passing else ("", 0.0)
    return OpeningRow(opening.name, edge, length, stretch, reach, words, girth, _opened_length(garment, run))


def _opened_length(garment: Garment, run: Run) -> float:
    """What of a run the edges of closures are (mm)."""
    held = {(use.piece, use.line) for seam in closures(garment) for use in seam.uses()}
    return math.fsum(garment.line(use).path.length for use in run if (use.piece, use.line) in held)


def _taped_share(piece: Piece, line: str) -> float:
    """The share of a line that is taped, or lies on interfacing, so that it doesn't stretch."""
    if piece.interfaced:
        return 1.0
    stays = (zone for zone in piece.zones if zone.line == line and zone.taped)
    return min(1.0, sum(zone.end - zone.start for zone in stays))


def _find_holds(garment: Garment, use: Use) -> Iterator[float]:
    """How many times its length a line can be, by each layer sewn to it that is taped all along.

    What a binding wraps holds its fold too. A stay of clear elastic gives, a strip of the selvedge or fusible tape
    doesn't: the least is reckoned.
    """
    for seam in garment.seams:
        if (
            seam.binds
            and garment.line(use).role is Role.EDGE
            and any(each.piece == use.piece for each in seam.plies[-1])
        ):
            bound = [run for section in seam.sections for run in section.plies[:-1] if run]
            pieces = dict.fromkeys(each.piece for each in seam.plies[-1])
            folds = [line.path.length for name in pieces for line in garment.piece(name).lines(role=Role.EDGE)]
            if all(_is_taped(garment, run) for run in bound):
                yield math.fsum(garment.run_length(run) for run in bound) / math.fsum(folds)
        for section in seam.sections:
            for run in section.plies:
                if any((each.piece, each.line) == (use.piece, use.line) for each in run):
                    others = (ply for ply in section.plies if ply and ply is not run and _is_taped(garment, ply))
                    yield from (garment.run_length(ply) / garment.run_length(run) for ply in others)


def _find_stiffened(garment: Garment, use: Use) -> Iterator[float]:
    """How many times its length a line can be, by each interfaced layer sewn to it."""
    for seam in garment.seams:
        for section in seam.sections:
            for run in section.plies:
                if any((each.piece, each.line) == (use.piece, use.line) for each in run):
                    others = (ply for ply in section.plies if ply and ply is not run)
                    stiff = (ply for ply in others if all(garment.piece(each.piece).interfaced for each in ply))
                    yield from (garment.run_length(ply) / garment.run_length(run) for ply in stiff)


def _is_taped(garment: Garment, run: Run) -> bool:
    """Whether a run is taped from end to end."""
    return all(_taped_share(garment.piece(use.piece), use.line) >= 1.0 - TOLERANCE.arc_length for use in run)


def _passing(name: str, garment: Garment, brief: Brief) -> _Passing | None:
    """What must pass an opening of that name ("neck", "wrist-left", "armhole-right", "hem")."""
    body, kind = brief.body, sideless(name)
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
    """Whether the garment is stepped into or put on as a coat is: its hem then lets nothing pass.

    So is a skirt, a dress with a zip, and what is open from its neck right down.
    """
    parted = any(opening.joined for opening in glue(garment).openings)
    return "waist" in garment.openings or parted or opens_waist(garment)


def _hem(garment: Garment, brief: Brief) -> _Passing:
    """A top is drawn over the bust; one that covers the hip must reach round it too."""
    bust, hip = brief.body["bust_girth"], brief.body["hip_girth"]
    covers = any(level.name == "hip" for piece in garment.pieces for level in piece.levels)
    return (
        _Passing("the hips", hip, hip)
        if covers and hip > bust
        else _Passing(f"the {brief.body.called.get('bust', 'bust')}", bust, bust)
    )


def check_openings(garment: Garment, brief: Brief, rows: Iterable[OpeningRow]) -> tuple[Finding, ...]:
    """Judge the rows: each edge, stretched, passes what must pass it; and the armholes go round the arms."""
    waists = waist_rows(garment, brief)
    found = (_judge(row, garment, brief) for row in rows if row not in waists)
    return (
        *(finding for finding in found if finding),
        *check_waists(garment, brief, waists),
        *_armholes(garment, brief),
        *check_closures(garment, brief),
    )


def _judge(row: OpeningRow, garment: Garment, brief: Brief) -> Finding | None:
    if row.must_pass <= 0.0:
        return None
    if row.reach >= row.must_pass - TOLERANCE.sewn_length:
        return _judge_spare(row, garment, brief)
    passing = _passing(row.opening, garment, brief)
    woven, closed = brief.cloth.kind is Kind.WOVEN, _closed_at(row, garment)
    forced = passing is not None and row.reach >= passing.least - TOLERANCE.sewn_length
    return Finding(
        "openings.pass",
        Severity.WARNING if forced else Severity.ERROR,
        f"{row.opening}, {row.edge}",
        row.reach,
        row.must_pass,
        say(
            "the {opening:placed} ({edge}) measures {length}; stretched by {stretch} it reaches {reach}, "
            "and {passing}, {must_pass}, must pass",
            opening=Name(row.opening),
            edge=row.edge,
            length=tape(row.length),
            stretch=show_share(row.stretch),
            reach=tape(row.reach),
            passing=row.passing,
            must_pass=tape(row.must_pass),
        ),
        _remedy_woven(row, garment) if woven else _remedy(row, garment),
        wanted=_find_situation(row, closed) if woven else None,
    )


def _judge_spare(row: OpeningRow, garment: Garment, brief: Brief) -> Finding | None:
    """Tell of an opening that passes with next to nothing to spare; a hem that is worn on the hips needs none."""
    if _kind(row) == "hem":
        return None
    spare = wanted_spare(row.must_pass)
    if row.reach >= row.must_pass + spare - TOLERANCE.sewn_length:
        return None
    ample = replace(row, must_pass=row.must_pass + spare)
    return Finding(
        "openings.spare",
        Severity.NOTE,
        f"{row.opening}, {row.edge}",
        row.reach,
        ample.must_pass,
        say(
            "the {opening:placed} ({edge}) opens to {reach}, and {passing}, {must_pass}, must pass: it passes with "
            "next to nothing to spare",
            opening=Name(row.opening),
            edge=row.edge,
            reach=tape(row.reach),
            passing=row.passing,
            must_pass=tape(row.must_pass),
        ),
        _advise_room(ample, garment, brief),
    )


def _advise_room(row: OpeningRow, garment: Garment, brief: Brief) -> Words:
    if brief.cloth.kind is Kind.WOVEN:
        return _remedy_woven(row, garment)
    return _remedy(row, garment)


_CLOSED_AT = {"neck": ("back",), "waist": ("back", "left", "right"), "hem": ("left", "right")}
"""Where a closure lets more through an opening: one down the back opens a neck or a waist, one at a side a hem."""


def _closed_at(row: OpeningRow, garment: Garment) -> list[str]:
    """The places at which a closure lets more through an opening already."""
    places = {closure.place for closure in garment.closures}
    return [place for place in _CLOSED_AT.get(_kind(row), ()) if place in places]


def _kind(row: OpeningRow) -> str:
    return sideless(row.opening)


def _remedy_woven(row: OpeningRow, garment: Garment) -> Words:
    """A woven gives nothing worth counting: what doesn't pass needs a closure, or more cloth."""
    short = row.must_pass / (1.0 + row.stretch) - row.length
    if _kind(row) == "wrist":
        return _widen_wrist(row, garment, short)
    if _kind(row) == "armhole":
        return say("lower the armhole by about {short}", short=about(short / 2.0))
    return (
        say("add about {short} at the hem", short=about(short))
        if _kind(row) == "hem" and not _closed_at(row, garment)
        else ""
    )


def _widen_wrist(row: OpeningRow, garment: Garment, short: float) -> Saying:
    """Where a sleeve ends in a cuff or a band, that is made wider; else its own lower edge is."""
    lines = (line for piece in garment.pieces for line in piece.lines(role=Role.EDGE))
    if any(line.opening == row.opening for line in lines):
        return say("make the cuff about {short} wider at the wrist", short=about(short))
    return say("make the sleeve about {short} wider at its lower edge, by its lower_edge_ease", short=about(short))


def _find_situation(row: OpeningRow, closed: Sequence[str]) -> Situation | None:
    """What stands in the way of a woven: an opening that no closure makes larger, or not by enough."""
    if _kind(row) in ("wrist", "armhole"):
        return None
    if closed:
        return situation("closure-short-at", "let more of the seam open", place=closed[0])
    places = quote_places(_CLOSED_AT.get(_kind(row), ("back",)))
    return situation("opening-tight", "make the opening larger", places=places)


def _remedy(row: OpeningRow, garment: Garment) -> Words:
    short = row.must_pass / (1.0 + row.stretch) - row.length
    wanted = f"{math.ceil(round((row.must_pass / row.length - 1.0) * 20.0, 6)) * 5} %" if row.length else "more"
    cloth = "a band cloth" if row.edge == "outer edge" else "a cloth"
    kind = _kind(row)
    if kind == "neck":
        pointed = row.edge == "outer edge" and any(seam.kind.mitred for seam in garment.seams)
        lower = about(short / (GROWS_LOWERED_POINT if pointed else GROWS_LOWERED))
        return say(
            "lower the front neckline by about {lower}, or use {cloth} with {wanted} stretch",
            lower=lower,
            cloth=cloth,
            wanted=wanted,
        )
    if kind == "wrist":
        return say(
            "{wider}, or use {cloth} with {wanted} stretch",
            wider=_widen_wrist(row, garment, short),
            cloth=cloth,
            wanted=wanted,
        )
    if kind == "armhole":
        return say(
            "lower the armhole by about {short}, or use {cloth} with {wanted} stretch",
            short=about(short / 2.0),
            cloth=cloth,
            wanted=wanted,
        )
    return say(
        "add about {short} at the hem, draw it in less, or use {cloth} with {wanted} stretch",
        short=about(short),
        cloth=cloth,
        wanted=wanted,
    )


def _armholes(garment: Garment, brief: Brief) -> Iterator[Finding]:
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
                say(
                    "the {side} armhole measures {length}, less than the armscye girth of {girth}: it will cut in",
                    side=side,
                    length=tape(length),
                    girth=tape(girth),
                ),
                say("lower the armhole by about {girth}", girth=about((girth - length) / 2.0)),
            )
