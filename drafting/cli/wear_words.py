"""What ``wear`` says beside what a drape tells: that a garment isn't proven, that cloth has no colour told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from drafting.text import printable

if TYPE_CHECKING:
    from drafting.cloth import Cloth
    from drafting.job import Result
    from drafting.proof.words.fitting_folds import Fold
    from drafting.units import Unit


def tell_unproven(result: Result, ticket: Path) -> Iterator[str]:
    """Yield that a garment isn't proven, with the first of what stands against it; nothing of one that is."""
    from drafting.proof import Severity
    from drafting.saying import render

    errors = result.proof.of(Severity.ERROR)
    if result.proof.passed or not errors:
        return
    first, others = errors[0], len(errors) - 1
    where = f"{first.where}: " if first.where else ""
    more = f" (and {others} more)" if others else ""
    said = render(first.sentence, result.job.unit).rstrip(".")
    yield f"NOT PROVEN: {where}{said}{more}. See: blockwright prove {printable(str(ticket))}"


def tell_doubts(result: Result, ticket: Path) -> Iterator[str]:
    """Yield, in one sentence, of what the proof warns that a fit depends on; nothing of one that isn't proven."""
    from drafting.proof import Severity
    from drafting.proof.finding import OF_FIT
    from drafting.saying import render

    warned = (each for each in result.proof.of(Severity.WARNING) if each.code.startswith(OF_FIT))
    told = "; ".join(render(each.sentence, result.job.unit).rstrip(".") for each in warned)
    if told and result.proof.passed:
        yield f"Look first where the proof warns: {told}. See: blockwright prove {printable(str(ticket))}"


def tell_grey(result: Result, cloths: Mapping[str, Cloth]) -> Iterator[str]:
    """Yield how a ticket tells the colour of cloths that are drawn grey because it tells none."""
    from drafting.cloth.colour import TINTS

    used = {piece.cloth for piece in result.garment.pieces}
    for name, cloth in cloths.items():
        if name in used and cloth.tint is None:
            table = "[cloth]" if name == "main" else f"[cloths.{name}]"
            named = [word for word in cloth.name.lower().split() if word in TINTS]
            said = f'colour = "{named[0]}"' if named else "colour"
            yield f"The {printable(cloth.name)} is drawn grey, for its colour isn't told: write {said} in {table}."


def ask_for_more(folds: Iterable[Fold], asked: Mapping[str, float], unit: Unit) -> tuple[Fold, ...]:
    """Return folds whose answer a ticket has asked for already, by some mm for each change, as asking for more."""
    return tuple(_ask_for_more(fold, asked, unit) for fold in folds)


def _ask_for_more(fold: Fold, asked: Mapping[str, float], unit: Unit) -> Fold:
    from drafting.saying import mm, render, say

    for change in fold.changes:
        if by := asked.get(change, 0.0):
            now = render(say("by more than the {by} that the ticket has now", by=mm(by)), unit)
            return replace(fold, answer=f"{fold.answer} {now} (see blockwright list changes {change})")
    return fold
