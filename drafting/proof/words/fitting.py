"""The fitting sheet: the garment's own measures beside the body's, and what to look at on the first toile.

The measures are taken on the pieces; the table of folds stands in ``fitting_folds``.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafting.columns import show_ease
from drafting.garment import Brief, Face, Garment, Role, Side
from drafting.garment.darts import darts_of
from drafting.mending import Advisor, advise_nothing
from drafting.proof.checks.ease import ease_rows
from drafting.proof.lengths import take_lengths
from drafting.proof.words.fitting_folds import FOLDS, HOLLOW_BACK, Fold, fitting_steps
from drafting.proof.words.lines import columns, fold_line
from drafting.record import dataclass
from drafting.units import Unit, show_length

AMOUNT_HEADING = "How much to alter"

LARGER = (
    "The paper is larger than the measures here, by what the wash takes of the cloth: sew the toile of that cloth, and "
    "wash it before it is fitted; or make a pattern without cut_unwashed for a toile of another."
)
"""What comes first where the cloth is cut unwashed."""


@dataclass(frozen=True, slots=True)
class FittingMeasure:
    """A measure of the body and of the garment (mm); ``body`` is None where the body has no such measure."""

    title: str
    body: float | None
    garment: float

    @property
    def ease(self) -> float | None:
        """What the garment has more than the body."""
        return None if self.body is None else self.garment - self.body


@dataclass(frozen=True, slots=True)
class FittingSheet:
    """The measures, what to look at, and how to go about it; ``example`` is a change for the example of a ticket."""

    measures: tuple[FittingMeasure, ...]
    folds: tuple[Fold, ...]
    steps: tuple[str, ...]
    example: str = ""


def fitting_sheet(garment: Garment, brief: Brief, advisor: Advisor = advise_nothing) -> FittingSheet:
    """Return the measures of the garment beside the body's, and the folds to look for on the parts that it has."""
    parts = parts_of(garment)
    wanted = (fold for fold in FOLDS if {fold.part, fold.needs or fold.part} <= parts and fold.without not in parts)
    folds = tuple(fold.answered(advisor) for fold in wanted)
    example = next((advice.change for advice in advisor(HOLLOW_BACK)), "")
    steps = fitting_steps(darts=any(map(darts_of, garment.pieces)), closure=bool(garment.closures))
    if brief.cloth.growth != (1.0, 1.0):
        steps = (LARGER, *steps)
    return FittingSheet(tuple(_measures(garment, brief)), folds, steps, example)


def parts_of(garment: Garment) -> frozenset[str]:
    """Return which parts of the table a garment has, and darts: a skirt alone has no shoulder."""
    roles = {line.role for piece in garment.pieces for line in piece.ring}
    darted = [piece for piece in garment.pieces if darts_of(piece)]
    levels = {level.name for piece in garment.pieces for level in piece.levels}
    found = {
        "neck": Role.NECKLINE in roles,
        "shoulder": Role.SHOULDER in roles,
        "bust": "bust" in levels,
        "back": Role.ARMHOLE in roles,
        "armhole": Role.ARMHOLE in roles,
        "waist": "waist" in levels or Role.WAIST in roles,
        "hip": "hip" in levels or any(line.answers_to("waist") for piece in garment.pieces for line in piece.ring),
        "skirt": any(line.answers_to("waist") for piece in garment.pieces for line in piece.ring),
        "sleeve": Role.CAP in roles,
        "bust dart": any(level.name == "bust" for piece in darted for level in piece.levels),
        "skirt dart": any(line.answers_to("waist") for piece in darted for line in piece.ring),
    }
    return frozenset(part for part, there in found.items() if there)


def _measures(garment: Garment, brief: Brief) -> Iterator[FittingMeasure]:
    for row in ease_rows(garment):
        if not math.isnan(row.finished):
            yield FittingMeasure(str(row.title), row.body, row.finished)
    yield from (FittingMeasure(each.title, each.body, each.garment) for each in take_lengths(garment, brief))
    yield from _armholes(garment, brief)
    yield from _lower_shoulder(garment, brief)
    yield from _tell_passage(garment, brief)


def _armholes(garment: Garment, brief: Brief) -> Iterator[FittingMeasure]:
    lines = [line for piece in garment.pieces if piece.face for line in piece.lines(role=Role.ARMHOLE)]
    for side in (Side.LEFT, Side.RIGHT):
        length = math.fsum(line.path.length for line in lines if line.side is side)
        if length:
            yield FittingMeasure(f"armhole, {side}", brief.body["armscye_girth"], length)


def _lower_shoulder(garment: Garment, brief: Brief) -> Iterator[FittingMeasure]:
    """By how much one shoulder's end lies lower than the other's, where the slopes were measured apart.

    Of the body: the difference of the falls over its shoulder length; of the garment: mean of front and back.
    """
    left, right = (brief.body[f"shoulder_slope_{side}"] for side in (Side.LEFT, Side.RIGHT))
    fall = brief.body["shoulder_length"] * (math.sin(left) - math.sin(right))
    drops = [drop for face in (Face.FRONT, Face.BACK) if (drop := _drop(garment, face)) is not None]
    if left == right or not drops:
        return
    sign, lower, upper = (1.0, "left", "right") if left > right else (-1.0, "right", "left")
    drawn = math.fsum(drops) / len(drops)
    yield FittingMeasure(f"{lower} shoulder's end below the {upper} one's", sign * fall, sign * drawn)


def _drop(garment: Garment, face: Face) -> float | None:
    """By how much the left shoulder's end lies below the right one's on a face (mm); None where a shoulder is gone."""
    lines = [line for piece in garment.pieces for line in piece.lines(role=Role.SHOULDER) if line.face is face]
    low = {
        side: min((line.path.bounds[1] for line in lines if line.answers_to(f"shoulder-{side}")), default=None)
        for side in (Side.LEFT, Side.RIGHT)
    }
    left, right = low[Side.LEFT], low[Side.RIGHT]
    return None if left is None or right is None else right - left


def _tell_passage(garment: Garment, brief: Brief) -> Iterator[FittingMeasure]:
    """What the closure was reckoned to let pass, right round at its end."""
    found = [closure.passes for closure in garment.closures if closure.passes is not None]
    if found:
        yield FittingMeasure("round the closure's end", brief.body["hip_girth"], found[-1])


def fitting_lines(
    sheet: FittingSheet, unit: Unit = "cm", *, heading: str = "", width: int | None = None
) -> tuple[str, ...]:
    """Return the sheet as lines of plain text under a heading, no line longer than ``width`` characters."""
    parts = (_measure_lines(sheet, unit, width), _step_lines(sheet), _amount_lines(sheet, unit), _fold_lines(sheet))
    lines = [*((heading, "") if heading else ()), *(line for part in parts for line in part)]
    return tuple(folded for line in lines for folded in fold_line(line, width))


def _measure_lines(sheet: FittingSheet, unit: Unit, width: int | None) -> Iterator[str]:
    rows = []
    for m in sheet.measures:
        body = "-" if m.body is None else show_length(m.body, unit)
        ease = "-" if m.body is None else show_ease(m.body, m.garment, unit)
        rows.append((m.title, body, show_length(m.garment, unit), ease, "........"))
    yield from columns(("Measure", "body", "garment", "ease", "on the toile"), rows, width)


def _step_lines(sheet: FittingSheet) -> Iterator[str]:
    yield ""
    yield "Fitting the first toile"
    yield from (f"  {number}. {step}" for number, step in enumerate(sheet.steps, 1))


def _amount_lines(sheet: FittingSheet, unit: Unit) -> Iterator[str]:
    yield ""
    yield AMOUNT_HEADING
    yield from (f"  {words}" for words in amounts(unit, sheet.example))


def amounts(unit: Unit, example: str) -> Iterator[str]:
    """Yield how what is pinned or let out on a toile becomes the figure that a change takes (common practice)."""
    deep, out = {"in": ("1/2 in", "1 in"), "mm": ("10 mm", "20 mm")}.get(unit, ("1 cm", "2 cm"))
    yield f"A loose fold: pinch it until it lies flat, and pin it. Pinched {deep} deep = {out} taken out."
    yield (
        "A tight place: mark it, take the toile off, and slit it there on the table. Put it on "
        "again, let it open until it lies flat, and measure the gap: that is let in."
    )
    yield "A shoulder: unpick its outer end, lay it flat, and measure how far the end moves."
    yield (
        f"For bust and back write half of what you measured across the whole: {out} is by = {_quote(deep)}. For one "
        "side alone write all of it."
    )
    if example:
        yield f'In the ticket: [[changes]], then change = "{example}" and by = {_quote(out)}, each on a line.'


def _quote(length: str) -> str:
    return f'"{length}"'


def _fold_lines(sheet: FittingSheet) -> Iterator[str]:
    yield ""
    yield "Where to look"
    for part in dict.fromkeys(fold.part for fold in sheet.folds):
        yield f"  {part.capitalize()}"
        yield from _of_part(fold for fold in sheet.folds if fold.part == part)


def _of_part(folds: Iterable[Fold]) -> Iterator[str]:
    for each in folds:
        written = f" ({each.written})" if each.written else ""
        yield f"    {each.where}: {each.seen}"
        yield f"      It means: {each.means}. Answer: {each.answer}{written}."
        if each.amount:
            yield f"      How much: {each.amount}."
