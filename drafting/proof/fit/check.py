"""What doesn't fit: a figure of the garment that misses the body's by more than the trade lets it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from drafting.garment import Brief, Garment
from drafting.mending import situation
from drafting.proof.finding import Finding, Severity
from drafting.proof.fit.row import FitRow, figure_words
from drafting.proof.fit.rows import fold_rows
from drafting.saying import Words, list_sayings, say, tape
from drafting.sides import sideless
from drafting.trade import TradeValue

LEVEL_OFF: Final = situation("level-off")
"""A waist or hip that lies elsewhere than the body's."""

FAR_MOVED = TradeValue(50.0, "mm", "from memory")
"""By which a change may move a level without a warning: farther than the waist of one and the same person is sought."""


def check_fit(garment: Garment, brief: Brief, rows: Iterable[FitRow]) -> tuple[Finding, ...]:
    """Judge the rows: each that passes its bound is told, and where a change means a level to lie elsewhere."""
    found = tuple(rows)
    return (*_tell_off(row for row in found if row.beyond), *_tell_moved(found))


def _tell_off(rows: Iterable[FitRow]) -> Iterator[Finding]:
    """Of rows beyond their bounds: left and right, or front and back, once where figures and mend are alike."""
    alike: dict[object, list[FitRow]] = {}
    for row in rows:
        alike.setdefault((row.name, row.remedy, row.wanted, row.place if row.name == "level" else ""), []).append(row)
    for group in alike.values():
        for title, row in fold_rows(group):
            yield _off(row if title == row.title else replace(row, title=title, place=sideless(row.place)))


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
    told: dict[float, list[FitRow]] = {}
    for row in rows:
        if row.name == "level" and row.meant:
            told.setdefault(round(row.meant, 1), []).append(row)
    for moved in told.values():
        first = moved[0]
        severity = Severity.WARNING if abs(first.meant) > FAR_MOVED else Severity.NOTE
        says = _moved_words([row.place for row in moved], first.meant)
        yield Finding("fit.level_moved", severity, first.place, first.meant, FAR_MOVED, says, wanted=LEVEL_OFF)


def _moved_words(places: Sequence[str], by: float) -> Words:
    says = "the {places} {lie} {off} {way} than the body's, as a change means; ease is measured where {they} {lie} now"
    lie, they = ("lies", "it") if len(places) == 1 else ("lie", "they")
    all_places = list_sayings(places, last=" and the ", between=", the ")
    return say(says, places=all_places, lie=lie, they=they, off=tape(abs(by)), way="lower" if by > 0.0 else "higher")


def _level_words(row: FitRow, by: float, why: str) -> Words:
    way = "lower" if by > 0.0 else "higher"
    says = "the {level} lies {off} {way} than the body's, {why}"
    return say(says, level=row.place, off=tape(abs(by)), way=way, why=why)
