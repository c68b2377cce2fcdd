"""The fitting sheet: the garment's own measures beside the body's, and what to look at on the first toile.

The table of folds is common practice in fitting, in plain trade words: where to look, what is seen there, what it
means on this body, and which fit change answers it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from drafting.garment import Brief, Garment, Role, Side
from drafting.proof.ease import ease_rows
from drafting.record import dataclass
from drafting.units import Unit, show_length


@dataclass(frozen=True, slots=True)
class Fold:
    """One thing to look for on a toile: where, on what part, what is seen, what it means, and which change answers."""

    part: str
    where: str
    seen: str
    means: str
    answer: str


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
    """The measures, what to look at, and how to go about it."""

    measures: tuple[FittingMeasure, ...]
    folds: tuple[Fold, ...]
    steps: tuple[str, ...]


STEPS = (
    "Cut the toile in a cheap cloth of like weight and stretch; mark centres, waist, hip and bust levels on it.",
    "Sew it with long stitches, darts first; leave the closure open and pin it on the wearer. Keep pins out of the "
    "mouth.",
    "Wear what will be worn beneath. Stand easy, look ahead; then sit, reach forwards and lift both arms.",
    "Look from the front, the side and the back. Mend what is highest first: neck and shoulders, then bust and back, "
    "then waist and hip.",
    "A fold points to where there is too little or too much: drawn tight it wants cloth, loose it has too much.",
    "Measure again what a fold speaks of, change the measurement or ask for the fit change, and draft anew.",
)
"""How to fit a first toile (common practice)."""

FOLDS: tuple[Fold, ...] = (
    Fold("neck", "Front neckline", "stands away from the chest", "more length there than the body has, or a hollow "
         "chest", "raise the neckline, or turn the spare into the bust dart"),
    Fold("neck", "Neck all round", "cuts in, or pulls small folds round it", "the neck base is larger than drafted",
         "measure the neck base again"),
    Fold("shoulder", "Shoulder end", "folds slant from the neck down to the armhole", "the shoulders slope more than "
         "drafted", "sloping shoulders"),
    Fold("shoulder", "Below the neck, front and back", "a fold lies across, and it pulls at the shoulder ends",
         "the shoulders are squarer than drafted", "square shoulders"),
    Fold("shoulder", "Shoulder seam", "lies behind the top of the shoulder, and folds run from it to the front armhole",
         "the shoulders lie forward", "forward shoulder"),
    Fold("shoulder", "One shoulder", "folds slant to the armhole on one side only", "one shoulder is lower than the "
         "other", "one shoulder lower: measure left and right apart"),
    Fold("bust", "Bust", "folds run from the bust points to the sides, and the front rises at its lower edge",
         "the bust is fuller than the dart allows for", "full bust"),
    Fold("bust", "Bust", "cloth hangs loose over the bust, or a dart's end stands out", "the bust is smaller than "
         "the dart allows for", "small bust"),
    Fold("bust", "Bust dart", "points above, below or past the bust point", "the bust point lies elsewhere",
         "measure the bust point again, or turn the dart"),
    Fold("armhole", "Front armhole", "gapes", "spare length over the bust that the dart hasn't taken", "full bust, or "
         "turn the spare into the dart"),
    Fold("armhole", "Underarm", "cuts in when the arm hangs", "the armhole is too high", "lower the underarm"),
    Fold("back", "Across the back", "folds drawn tight between the armholes, worst reaching forwards",
         "the back is broader than drafted", "broad back"),
    Fold("back", "Across the back", "a loose upright fold beside each armhole", "the back is narrower than drafted",
         "narrow back"),
    Fold("waist", "Back waist", "a loose fold lies across, just above the waist", "the back is hollow there: more "
         "length than it needs", "sway back"),
    Fold("waist", "Waist", "cloth bunches above it, the waist line sits below the body's waist", "the back and front "
         "are longer than the body", "short waist"),
    Fold("waist", "Waist", "the waist line rides above the body's waist, and pulls when the arms are lifted",
         "the back and front are shorter than the body", "long waist"),
    Fold("waist", "Waist", "folds drawn tight round it", "the waist is larger than drafted, or wants more ease",
         "measure the waist again, or give it more ease"),
    Fold("skirt", "Hip", "tight folds lie across, and the skirt rides up", "the hip is larger than drafted",
         "measure the hip again, or give it more ease"),
    Fold("skirt", "Hem", "hangs higher on one side, with folds running up to that hip", "one hip stands higher",
         "high hip on one side"),
    Fold("skirt", "Below the back waist", "a loose fold lies across", "the back dips at the waist", "sway back"),
    Fold("skirt", "Side seam", "swings forwards at the hem", "the belly lifts the front", "measure the front's length "
         "to the floor, and lengthen the front waist"),
    Fold("skirt", "Side seam", "swings backwards at the hem", "the seat lifts the back", "measure the back's length "
         "to the floor, and lengthen the back waist"),
    Fold("skirt", "Dart ends", "a bubble stands at the point", "the dart is too deep or too long for the curve",
         "share it between two darts, or shorten it"),
    Fold("sleeve", "Upper arm", "tight folds lie across", "the arm is fuller than drafted", "full upper arm"),
    Fold("sleeve", "Cap", "folds slant from its top to the front or the back of the armhole", "the arm hangs farther "
         "forwards or back than the sleeve", "turn the sleeve in the armhole"),
    Fold("sleeve", "Elbow", "folds gather, and the wrist rides up when it bends", "too little length or room at the "
         "elbow", "lengthen the sleeve above the elbow"),
)  # fmt: skip
"""What to look for on a first toile (common practice), from the neck down."""


def fitting_sheet(garment: Garment, brief: Brief) -> FittingSheet:
    """Return the measures of the garment beside the body's, and the folds to look for on the parts that it has."""
    parts = parts_of(garment)
    folds = tuple(fold for fold in FOLDS if fold.part in parts)
    return FittingSheet(tuple(_measures(garment, brief)), folds, STEPS)


def parts_of(garment: Garment) -> frozenset[str]:
    """Return which parts of the table a garment has: a skirt alone has no shoulder."""
    roles = {line.role for piece in garment.pieces for line in piece.ring}
    levels = {level.name for piece in garment.pieces for level in piece.levels}
    found = {
        "neck": Role.NECKLINE in roles,
        "shoulder": Role.SHOULDER in roles,
        "bust": "bust" in levels,
        "back": Role.ARMHOLE in roles,
        "armhole": Role.ARMHOLE in roles,
        "waist": "waist" in levels or Role.WAIST in roles,
        "skirt": any(line.answers_to("waist") for piece in garment.pieces for line in piece.ring),
        "sleeve": Role.CAP in roles,
    }
    return frozenset(part for part, there in found.items() if there)


def _measures(garment: Garment, brief: Brief) -> Iterator[FittingMeasure]:
    for row in ease_rows(garment):
        if not math.isnan(row.finished):
            yield FittingMeasure(row.title, row.body, row.finished)
    yield from _armholes(garment, brief)
    yield from _told(garment, brief)


def _armholes(garment: Garment, brief: Brief) -> Iterator[FittingMeasure]:
    lines = [line for piece in garment.pieces if piece.face for line in piece.lines(role=Role.ARMHOLE)]
    for side in (Side.LEFT, Side.RIGHT):
        length = math.fsum(line.path.length for line in lines if line.side is side)
        if length:
            yield FittingMeasure(f"armhole, {side}", brief.body["armscye_girth"], length)


_TOLD = (
    ("neck_base_seam", "close neck seam", "neck_base_girth"),
    ("skirt_length", "skirt, waist to hem", ""),
    ("hem_girth", "hem of the skirt", ""),
    ("closure_length", "closure", ""),
    ("closure_passes", "round the closure's end", "hip_girth"),
)
"""Facts that a fitter wants to see: name, words, and the measurement they stand beside."""


def _told(garment: Garment, brief: Brief) -> Iterator[FittingMeasure]:
    facts = {fact.name: fact.value for fact in garment.facts}
    for name, title, measurement in _TOLD:
        if name in facts:
            yield FittingMeasure(title, brief.body[measurement] if measurement else None, facts[name])


def fitting_lines(sheet: FittingSheet, unit: Unit = "cm") -> tuple[str, ...]:
    """Return the sheet as lines of plain text."""
    return tuple(
        line for part in (_measure_lines(sheet, unit), _step_lines(sheet), _fold_lines(sheet)) for line in part
    )


def _measure_lines(sheet: FittingSheet, unit: Unit) -> Iterator[str]:
    rows = [("Measure", "body", "garment", "ease", "on the toile")]
    for m in sheet.measures:
        body = "-" if m.body is None else show_length(m.body, unit)
        ease = "-" if m.ease is None else show_length(m.ease, unit)
        rows.append((m.title, body, show_length(m.garment, unit), ease, "........"))
    widths = [max(len(row[i]) for row in rows) for i in range(5)]
    for row in rows:
        yield "  ".join(c.ljust(w) if i == 0 else c.rjust(w) for i, (c, w) in enumerate(zip(row, widths, strict=True)))


def _step_lines(sheet: FittingSheet) -> Iterator[str]:
    yield ""
    yield "Fitting the first toile"
    yield from (f"  {number}. {step}" for number, step in enumerate(sheet.steps, 1))


def _fold_lines(sheet: FittingSheet) -> Iterator[str]:
    yield ""
    yield "Where to look"
    for part in dict.fromkeys(fold.part for fold in sheet.folds):
        yield f"  {part.capitalize()}"
        yield from _of_part(fold for fold in sheet.folds if fold.part == part)


def _of_part(folds: Iterable[Fold]) -> Iterator[str]:
    for fold in folds:
        yield f"    {fold.where}: {fold.seen}"
        yield f"      It means: {fold.means}. Answer: {fold.answer}."
