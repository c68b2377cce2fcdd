"""Where facings lie on what they are sewn to, and how they are seen from inside once they are turned in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

import numpy as np

from drafting.garment import Garment, Section
from drafting.geometry import Affine
from drafting.output.layers.outlines import clip_half
from drafting.output.layers.ply import WorkDone
from drafting.output.layers.unfold import Laid, fit_points, outline_of, sample_shares, unfold_run
from drafting.output.layers.view import ClothLayer, Points
from drafting.work.meeting import Letters

ZIP_CLEAR = 9.0
"""From the teeth of a zip to the end of a facing, as drawn (mm)."""

HELD_BACK = 30.0
"""From the teeth of a zip to the fold of a facing's end that is held out of the way, as drawn (mm)."""

SHARES = np.linspace(0.0, 1.0, 15)
"""Of an edge at which its facing is laid on it."""


def lay_facings(garment: Garment, sections: Iterable[Section], laid: Laid) -> Mapping[str, Affine]:
    """Return where facings lie on what they are sewn to, wrong side up, each as near to all its edges as it can."""
    met: dict[str, list[tuple[Points, Points]]] = {}
    flat: dict[str, Laid] = {}
    for section in sections:
        base, facing = section.plies[0], section.plies[-1]
        own = flat.setdefault(facing[0].piece, unfold_run(garment, facing))
        points = sample_shares(garment, facing, own, SHARES) * (-1.0, 1.0)
        met.setdefault(facing[0].piece, []).append((points, sample_shares(garment, base, laid, SHARES)))
    found: dict[str, Affine] = {}
    for name, pairs in met.items():
        lies, _ = fit_points(*(np.concatenate(each) for each in zip(*pairs, strict=True)))
        found |= {each: at.then(Affine.mirror()).then(lies) for each, at in flat[name].items()}
    return found


def face_inside(
    garment: Garment, laid: Laid, letters: Letters, done: WorkDone, teeth: Points, near: float
) -> Iterator[ClothLayer]:
    """Yield the facings of pieces as they are seen from inside, turned in, right side up.

    ``laid`` is where the pieces lie, right side up; ends of facings are folded under beside the teeth of a zip, whose
    course, seen from inside, is ``teeth``. Facings lie on those edges that come as ``near`` to its top (mm).
    """
    for letter, points, away in _lay_inside(garment, laid, letters, done, teeth, near):
        yield ClothLayer(clip_half(points, teeth[0] + away * ZIP_CLEAR, -away), letter)


def hold_back(
    garment: Garment, laid: Laid, letters: Letters, done: WorkDone, teeth: Points, near: float
) -> Iterator[ClothLayer]:
    """Yield such facings, without letters, their ends free and folded back over themselves, away from a zip's teeth."""
    for _, points, away in _lay_inside(garment, laid, letters, done, teeth, near):
        at = teeth[0] + away * HELD_BACK
        end = clip_half(points, at, away)
        off = ((end - at) * away).sum(axis=1)
        yield ClothLayer(clip_half(points, at, -away), "")
        yield ClothLayer(end - 2.0 * off[:, None] * away, "", wrong=True)


def _lay_inside(
    garment: Garment, laid: Laid, letters: Letters, done: WorkDone, teeth: Points, near: float
) -> Iterator[tuple[str, Points, Points]]:
    """Facings as ``face_inside`` has them, whole: letter, outline, and the unit vector to them across the teeth."""
    sections = [each for each in _list_faced(garment, laid, done) if _measure_way(garment, each, laid, teeth[0]) < near]
    x, y = teeth[1] - teeth[0]
    beside = np.array([-y, x]) / np.hypot(x, y)
    beyond = frozenset(_find_beyond(garment, laid)) if near == np.inf else frozenset()
    for name, lies in lay_facings(garment, sections, laid).items():
        if name in beyond:
            continue  # it would stand out where its other pieces aren't drawn
        points = outline_of(garment, name, lies) * (-1.0, 1.0)
        away = beside * np.sign(((points.mean(axis=0) - teeth[0]) * beside).sum())
        yield letters.get(name, ""), points, away


def _list_faced(garment: Garment, laid: Laid, done: WorkDone) -> Iterator[Section]:
    """The sections of facings that are sewn to certain pieces."""
    for section in (section for seam in garment.seams if seam.kind.lay.inside for section in seam.sections):
        if all((use.piece, use.line) in done.edges and use.piece in laid for use in section.plies[0]):
            yield section


def _find_beyond(garment: Garment, laid: Laid) -> Iterator[str]:
    """The facings that are sewn to other pieces too."""
    for section in (section for seam in garment.seams if seam.kind.lay.inside for section in seam.sections):
        if not all(use.piece in laid for use in section.plies[0]):
            yield from (use.piece for use in section.plies[-1])


def _measure_way(garment: Garment, section: Section, laid: Laid, to: Points) -> float:
    """How far the edge of a facing is from a point, seen from inside (mm)."""
    course = sample_shares(garment, section.plies[0], laid, SHARES) * (-1.0, 1.0)
    return float(np.hypot(*(course - to).T).min())
