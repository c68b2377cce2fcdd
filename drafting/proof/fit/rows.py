"""The table of fit: what is held against the body, in the order in which it is told."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from drafting.garment import Brief, Garment
from drafting.garment.laying import cloth_as_laid
from drafting.garment.places import find_worn
from drafting.proof.fit.armhole_bands import armhole_band_rows
from drafting.proof.fit.armholes import armhole_rows
from drafting.proof.fit.closures import closure_rows
from drafting.proof.fit.dart_mouths import mouth_rows
from drafting.proof.fit.darts import dart_rows
from drafting.proof.fit.flares import flare_rows
from drafting.proof.fit.hems import hem_rows
from drafting.proof.fit.hollows import hollow_rows
from drafting.proof.fit.layers import layer_rows
from drafting.proof.fit.lengths import length_rows
from drafting.proof.fit.levels import level_rows
from drafting.proof.fit.meeting import meeting_rows
from drafting.proof.fit.neck import neck_rows
from drafting.proof.fit.panels import panel_rows
from drafting.proof.fit.row import BOUND_MET, FitRow
from drafting.proof.fit.scooped import scooped_rows
from drafting.proof.fit.shoulders import shoulder_rows
from drafting.proof.fit.side_place import side_place_rows
from drafting.proof.fit.sides import side_rows
from drafting.proof.fit.skirts import skirt_rows
from drafting.proof.fit.slants import slant_rows
from drafting.proof.fit.sleeves import sleeve_rows
from drafting.proof.fit.style_ends import style_end_rows
from drafting.proof.fit.tips import tip_rows
from drafting.proof.fit.underarm import place_rows, underarm_rows
from drafting.proof.fit.waist_darts import waist_dart_rows
from drafting.proof.fit.widths import width_rows
from drafting.saying import Words, without_faces, without_sides

OWN = (
    ("Levels", level_rows),
    ("Lengths", length_rows),
    ("Widths", width_rows),
    ("Widths", underarm_rows),
    ("Widths", place_rows),
    ("Widths", hem_rows),
    ("Shoulders", shoulder_rows),
    ("Shoulders", layer_rows),
    ("Armholes", armhole_rows),
    ("Armholes", armhole_band_rows),
    ("Armholes", hollow_rows),
    ("Armholes", tip_rows),
    ("Neck", neck_rows),
    ("Neck", scooped_rows),
    ("Sleeves", sleeve_rows),
    ("Darts", dart_rows),
    ("Darts", waist_dart_rows),
    ("Darts", meeting_rows),
    ("Darts", mouth_rows),
    ("Side seams", side_rows),
    ("Side seams", side_place_rows),
    ("Side seams", slant_rows),
    ("Side seams", flare_rows),
    ("Panel seams", panel_rows),
    ("Seams of the design", style_end_rows),
    ("Skirt", skirt_rows),
    ("Closures", closure_rows),
)
"""What takes the figures of any garment, each of one thing, and the heading under which they are told."""


def fit_rows(garment: Garment, brief: Brief) -> tuple[FitRow, ...]:
    """Return the engine's own rows of a garment; its cloth is judged as it lies round the body."""
    worn = replace(brief, cloth=cloth_as_laid(brief.cloth, find_worn(garment)))
    return tuple(replace(row, about=about) for about, take in OWN for row in take(garment, worn))


def by_heading(rows: Sequence[FitRow]) -> tuple[FitRow, ...]:
    """Return rows of one heading together, headings in the order in which they come first."""
    headings = list(dict.fromkeys(row.about for row in rows))
    return tuple(sorted(rows, key=lambda row: headings.index(row.about)))


def fold_rows(rows: Iterable[FitRow]) -> Iterator[tuple[Words, FitRow]]:
    """Yield what each row is called, and the row: left and right, or front and back, once where they are alike."""
    alike: dict[tuple[str, Words], list[FitRow]] = {}
    for row in rows:
        alike.setdefault((row.name, without_faces(without_sides(row.title))), []).append(row)
    for (_, title), found in alike.items():
        if len(found) > 1 and all(_same_figures(row, found[0]) for row in found):
            yield title, found[0]
        else:
            yield from ((row.title, row) for row in found)


def _same_figures(one: FitRow, two: FitRow) -> bool:
    pairs, near = zip(_figures_of(one), _figures_of(two), strict=True), BOUND_MET[one.measure]
    return all(a is b or (a is not None and b is not None and abs(a - b) <= near) for a, b in pairs)


def _figures_of(row: FitRow) -> tuple[float | None, ...]:
    return (row.body, row.garment, row.meant, row.least, row.most)
