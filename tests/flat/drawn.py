"""Flats of jobs, each drawn once."""

from __future__ import annotations

from functools import cache

import numpy as np
import shapely

from drafting.finishing.allowance import hem_depths
from drafting.flat import FlatKind, FlatView, draw_flat
from drafting.flat.laying import lay_face
from drafting.garment import Face, Garment, Use
from drafting.job import draft_job
from drafting.ticket import Job
from tests.laws.jobs import job_of


@cache
def flats_of(design: str) -> tuple[Garment, tuple[FlatView, FlatView]]:
    """The garment of a design, and its flats."""
    return flats(job_of(design))


def flats(job: Job) -> tuple[Garment, tuple[FlatView, FlatView]]:
    """The garment of a job, and its flats."""
    garment = draft_job(job)
    return garment, draw_flat(garment, job.brief.body, hem_depths(garment, job.finish))


def width_at(view: FlatView, height: float) -> float:
    """How wide the trunk is at a height: what the cloth covers there in one stretch about the centre."""
    areas = [
        shapely.Polygon(s.points).buffer(0.5) for s in view.shapes if s.kind is FlatKind.CLOTH and len(s.points) > 2
    ]
    row = shapely.LineString([(-2000.0, height), (2000.0, height)]).intersection(shapely.union_all(areas))
    spans = [part.bounds for part in getattr(row, "geoms", [row])]
    left, _, right, _ = next(span for span in spans if span[0] < 0.0 < span[2])
    return right - left - 1.0


def shown_girth(garment: Garment, level: str) -> float:
    """How far front and back go round along a level, as it lies in the flat: one that turns up goes along its turn."""
    whole = 0.0
    for lay in (lay_face(garment, face) for face in (Face.FRONT, Face.BACK)):
        for piece in lay.base:
            for path in (each.path for each in piece.levels if each.name == level):
                points = lay.lies(Use(piece.name, piece.ring[0].name), path.points(np.linspace(0.0, path.length, 60)))
                whole += float(np.hypot(*np.diff(points, axis=0).T).sum())
    return whole
