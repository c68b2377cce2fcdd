"""What doesn't fit: a figure of the garment that misses the body's by more than the trade lets it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from drafting.garment import Brief, Garment
from drafting.mending import situation
from drafting.proof.finding import Finding, Severity
from drafting.proof.fit.row import FitRow, figure_words
from drafting.saying import Words, say, tape
from drafting.trade import TradeValue

LEVEL_OFF: Final = situation("level-off")
"""A waist or hip that lies elsewhere than the body's."""

FAR_MOVED = TradeValue(50.0, "mm", "from memory")
"""By which a change may move a level without a warning: farther than the waist of one and the same person is sought."""


def check_fit(garment: Garment, brief: Brief, rows: Iterable[FitRow]) -> tuple[Finding, ...]:
    """Judge the rows: each that passes its bound is told, and where a change means a level to lie elsewhere."""
    found = tuple(rows)
    return (*(_off(row) for row in found if row.beyond), *_tell_moved(found))


def _off(row: FitRow) -> Finding:
    if row.name == "level":
        return _level_off(row)
    low, high = row.bounds
    passed, says = (low, "at least") if row.beyond < 0.0 else (high, "at most")
    words = say(
        "{title}: {garment}, where {says} {passed} is wanted",
        title=row.title,
        garment=figure_words(row.garment, row.measure, passed),
        says=says,
        passed=figure_words(passed or 0.0, row.measure, row.garment),
    )
    return Finding(
        f"fit.{row.name}", row.severity, row.place, row.garment, passed, words, row.remedy, row.measure, "", row.wanted
    )


def _level_off(row: FitRow) -> Finding:
    limit = row.least if row.beyond < 0.0 else row.most
    says = _level_words(row, row.off, "and nothing in the ticket means it to")
    remedy = "leave out the change that moved it"
    return Finding("fit.level", row.severity, row.place, row.off, limit, says, remedy, wanted=LEVEL_OFF)


def _tell_moved(rows: Iterable[FitRow]) -> Iterator[Finding]:
    """Of levels that changes moved: those that moved together are told once, by the first of them."""
    told: dict[float, FitRow] = {}
    for row in rows:
        if row.name == "level" and row.meant:
            told.setdefault(round(row.meant, 1), row)
    for row in told.values():
        severity = Severity.WARNING if abs(row.meant) > FAR_MOVED else Severity.NOTE
        says = _level_words(row, row.meant, "as a change means it to; its ease is measured where it lies now")
        yield Finding("fit.level_moved", severity, row.place, row.meant, FAR_MOVED, says, wanted=LEVEL_OFF)


def _level_words(row: FitRow, by: float, why: str) -> Words:
    way = "lower" if by > 0.0 else "higher"
    says = "the {level} lies {off} {way} than the body's, {why}"
    return say(says, level=row.place, off=tape(abs(by)), way=way, why=why)
