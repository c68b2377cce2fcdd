"""Ease: each measure the garment is to have, taken on the pieces, against the body, the ease asked and the stretch."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafting.cloth import Cloth, greatest_reduction
from drafting.cloth.ease import SENSIBLE_SHARE
from drafting.garment import (
    Aim,
    Brief,
    Garment,
    Girth,
    Level,
    LineLength,
    Measure,
    Piece,
    Side,
    hanging_pieces,
    measure_of,
)
from drafting.garment.laying import cloth_as_laid
from drafting.garment.model import MAIN_CLOTH
from drafting.garment.ruled import CUT_OFF, list_ruled
from drafting.proof.checks.levels import LEAST_GATHERED
from drafting.proof.finding import Finding, Severity
from drafting.proof.rows import EaseRow
from drafting.saying import say, show_share, tape
from drafting.tolerance import TOLERANCE


def measure_garment(garment: Garment, measure: Measure, side: Side = Side.NONE) -> float | None:
    """Return a measure of the finished garment (mm), taken on its pieces, or None if no piece shows it.

    Levels are those of one ``side`` where it is given. A layer that hangs is left out of girths.
    """
    if isinstance(measure, LineLength):
        found = list(_lines(garment, measure.name))
    else:
        hanging = hanging_pieces(garment) if isinstance(measure, Girth) else frozenset()
        pieces = [piece for piece in garment.pieces if piece.name not in hanging]
        found = [length for piece in pieces for length in _levels(piece, measure, side)]
    return math.fsum(found) if found else None


def _lines(garment: Garment, name: str) -> Iterable[float]:
    """Yield the length of each line that answers to a name, but for those sewn to another of them.

    A seam is as long as the shortest of its plies where the others are gathered to it; what is eased in stays ease.
    """
    found = {(p.name, line.name): line.path.length for p in garment.pieces for line in p.lines(name)}
    for seam in garment.seams:
        for section in seam.sections:
            plies = [i for i, run in enumerate(section.plies) if any((u.piece, u.line) in found for u in run)]
            if not plies:
                continue
            shortest = min(plies, key=lambda i: section.ease[i])
            for use in (use for i in plies if i != shortest for use in section.plies[i]):
                found.pop((use.piece, use.line), None)
            less = section.ease[shortest] - min(section.ease)
            if less > LEAST_GATHERED:
                drawn = next((u.piece, u.line) for u in section.plies[shortest] if (u.piece, u.line) in found)
                found[drawn] -= less
    return found.values()


def _levels(piece: Piece, measure: Measure, side: Side) -> Iterable[float]:
    for level in piece.levels:
        of = level.side or piece.side
        if measure_of(level) == measure and (side is Side.NONE or of is side):
            yield level.path.length


def ease_rows(garment: Garment) -> tuple[EaseRow, ...]:
    """Return a row for each aim of the garment; what can't be taken on the pieces is NaN."""
    rows = []
    for aim in latest_aims(garment.aims):
        finished = measure_garment(garment, aim.measure, aim.side)
        reached = math.nan if finished is None else finished
        girth, asked = isinstance(aim.measure, Girth), aim.ease - aim.ruled
        rows.append(EaseRow(_label(aim), aim.title, aim.body, asked, reached, girth, aim.ruled))
    return tuple(rows)


def latest_aims(aims: Iterable[Aim]) -> tuple[Aim, ...]:
    """Return the aims, where a later one of the same measure and side takes the place of an earlier one."""
    return tuple({(aim.measure, aim.side): aim for aim in aims}.values())


def _label(aim: Aim) -> str:
    return f"{aim.measure} {aim.side}" if aim.side else str(aim.measure)


def check_ease(garment: Garment, brief: Brief, rows: Iterable[EaseRow], parts: int = 1) -> tuple[Finding, ...]:
    """Judge the rows: the pieces hold what was asked, and the cloth can give what the body needs beyond them.

    ``parts`` is in how many parts the garment is when its seams are sewn: one, if it is sound.
    """
    judged = (finding for row in rows for finding in _judge(row, _cloth_round(garment, brief, row.measure), parts))
    return (*judged, *_note_cut_off(garment))


def _note_cut_off(garment: Garment) -> Iterator[Finding]:
    for fact in list_ruled(garment, CUT_OFF):
        place = fact.ruled.place if fact.ruled else ""
        yield Finding("ease.cut_off", Severity.NOTE, place, fact.value, None, fact.sentence)


def _cloth_round(garment: Garment, brief: Brief, measure: str) -> Cloth:
    """The main cloth as it lies in the pieces that a girth goes round."""
    turned = [piece for piece in garment.pieces if piece.laid and piece.cloth == MAIN_CLOTH]
    if not turned:
        return brief.cloth
    shown = [piece for piece in garment.pieces if any(_shows(measure, level) for level in piece.levels)]
    return cloth_as_laid(brief.cloth, shown)


def _shows(measure: str, level: Level) -> bool:
    return measure.startswith(str(measure_of(level)))


def _judge(row: EaseRow, cloth: Cloth, parts: int) -> Iterable[Finding]:
    if math.isnan(row.finished):
        yield Finding(
            "ease.missing",
            Severity.ERROR,
            row.measure,
            None,
            None,
            f"no piece shows {row.title or row.measure}, so its ease can't be proved",
            "draw that level or line on the pieces, or leave the measure out of the design",
        )
        return
    if abs(row.off) > TOLERANCE.sewn_length:
        yield _ease_error(row, parts)
    if row.girth:
        yield from _judge_stretch(row, cloth)


def _ease_error(row: EaseRow, parts: int) -> Finding:
    return Finding(
        "ease.asked",
        Severity.ERROR,
        row.measure,
        row.got,
        row.asked + row.ruled,
        say(
            "{value} measures {finished} on the pieces: {got} of ease where {asked} is asked",
            value=row.title or row.measure,
            finished=tape(row.finished),
            got=tape(row.got),
            asked=tape(row.asked + row.ruled),
        ),
        "what isn't joined to the rest of the garment is counted too: put that right first"
        if parts > 1
        else "a change has altered this measure: ask for the ease that is meant, or change the pieces elsewhere",
    )


def _judge_stretch(row: EaseRow, cloth: Cloth) -> Iterable[Finding]:
    """Judge negative ease: finished x (1 + s) >= body, so that the reduction is at most s/(1+s), by arithmetic."""
    if row.body <= 0.0 or row.got >= -TOLERANCE.sewn_length:
        return
    stretch = cloth.stretch_round
    reduction, most = -row.got / row.body, greatest_reduction(stretch)
    if reduction <= most * SENSIBLE_SHARE:
        return
    fails = reduction > most
    limit = most if fails else most * SENSIBLE_SHARE
    wanted = reduction / (1.0 - reduction) if fails else 2.0 * reduction / max(1.0 - 2.0 * reduction, 0.1)
    can = "can't reach round the body" if fails else "will be pulled tight"
    yield Finding(
        "ease.stretch",
        Severity.ERROR if fails else Severity.WARNING,
        row.measure,
        reduction,
        limit,
        f"{row.title or row.measure} is {show_share(reduction)} less than the body's; a cloth that stretches "
        f"{show_share(stretch)} allows {show_share(limit)}, so it {can}",
        say(
            "add {reduction} of ease, or use a cloth with {whole} stretch or more",
            reduction=tape((reduction - limit) * row.body),
            whole=_round_stretch(wanted),
        ),
        "share",
    )


def _round_stretch(share: float) -> str:
    """A share of stretch, rounded up to five per cent."""
    return f"{math.ceil(round(share * 20.0, 6)) * 5} %"
