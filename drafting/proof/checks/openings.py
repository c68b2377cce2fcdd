"""Openings: what must pass through each, at the stretch there is: the head, the hands, the bust and the hips.

An opening reaches its relaxed length x (1 + stretch). Every edge round it has to pass: the seam at which it is
finished, layer by layer, and the outer edge of its band, each with the stretch of its own cloth. What
counts is the stretch round the body of the cloth as the piece lies on it. What is taped, or sewn to what is, stays as
long as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from drafting.cloth import Fit, Kind
from drafting.garment import Brief, Garment, Opening, Piece, Role, Run, Seam, Side, Use, same_corner
from drafting.garment.opening_kinds import OpeningKind, Passing, Tight
from drafting.garment.places import gathered_length
from drafting.mending import Situation, situation
from drafting.proof.checks.closures import check_closures, closures, quote_places, stretch_least
from drafting.proof.checks.passing import OUTER_EDGE, ToldPassing, advise_room, judge_passing, kind_of
from drafting.proof.checks.waists import check_waists, waist_rows
from drafting.proof.finding import Finding, Severity
from drafting.proof.rows import OpeningRow
from drafting.saying import Name, Words, about, say, tape
from drafting.tolerance import TOLERANCE

BAND_SEAM, BAND_AT_SEAM = "its band's seam", "its band at the seam"
"""What is measured where an opening's band is sewn on: the edge beneath, and the band itself."""


def opening_rows(garment: Garment, brief: Brief, openings: Iterable[Opening]) -> tuple[OpeningRow, ...]:
    """Return a row for the edge of each opening, each layer of its seam, and the waist of what is pulled on."""
    rows: list[OpeningRow] = []
    for opening in openings:
        if opening.hangs:
            continue
        kind = kind_of(garment, opening.name)
        passing = None if kind is None else kind.passes(garment, brief)
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
    yield OUTER_EDGE if banded else "edge", opening.run
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


def _row(opening: Opening, edge: str, run: Run, garment: Garment, brief: Brief, passing: Passing | None) -> OpeningRow:
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


def check_openings(garment: Garment, brief: Brief, rows: Iterable[OpeningRow]) -> tuple[Finding, ...]:
    """Judge the rows: each edge, stretched, passes what must pass it; and the armholes go round the arms."""
    rows = tuple(rows)
    found = (_judge(row, garment, brief) for row in rows if not row.pulled)
    return (
        *(finding for finding in found if finding),
        *check_waists(garment, brief, (row for row in rows if row.pulled)),
        *_tell_unknown(garment, rows),
        *_armholes(garment, brief),
        *check_closures(garment, brief),
    )


def _judge(row: OpeningRow, garment: Garment, brief: Brief) -> Finding | None:
    kind = kind_of(garment, row.opening)
    passing = None if kind is None else kind.passes(garment, brief)
    if kind is None or passing is None:
        return None
    woven = brief.cloth.kind is Kind.WOVEN

    def advise(spare: float) -> Words:
        ample = replace(row, must_pass=row.must_pass + spare)
        short = ample.must_pass / (1.0 + row.stretch) - row.length
        return advise_room(ample, Tight(garment, row.opening, row.edge, short, woven), kind)

    return judge_passing(
        row,
        ToldPassing(
            f"{row.opening}, {row.edge}",
            say("{opening:placed} ({edge})", opening=Name(row.opening), edge=row.edge),
            passing.least,
            advise,
            wanted=_find_situation(kind, garment) if woven else None,
            spare=kind.spare,
        ),
    )


def _find_situation(kind: OpeningKind, garment: Garment) -> Situation | None:
    """What stands in the way of a woven: an opening that no closure makes larger, or not by enough."""
    if not kind.closed_at:
        return None
    places = {closure.place for closure in garment.closures}
    closed = [place for place in kind.closed_at if place in places]
    if closed:
        return situation("closure-short-at", "let more of the seam open", place=closed[0])
    return situation("opening-tight", "make the opening larger", places=quote_places(kind.closed_at))


def _tell_unknown(garment: Garment, rows: Iterable[OpeningRow]) -> Iterator[Finding]:
    """Warn of openings of which nothing says what must pass: a block brings that, with its own."""
    least: dict[str, OpeningRow] = {}
    for row in sorted(rows, key=lambda each: each.reach):
        if kind_of(garment, row.opening) is None:
            least.setdefault(row.opening, row)
    for row in least.values():
        yield Finding(
            "openings.unknown",
            Severity.WARNING,
            row.opening,
            row.reach,
            None,
            say(
                "the {opening:placed} opens to {reach}, and nothing says what must pass it: whether it can be put on "
                "isn't proven",
                opening=Name(row.opening),
                reach=tape(row.reach),
            ),
            "measure whether what must pass does, before you cut; who wrote its block can let it say so",
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
