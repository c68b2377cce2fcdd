"""Edges that are taped, worked or folded shut: each piece alone, its wrong side up."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from drafting.garment import Applied, Garment, Run, Seam, Use, find_faces, find_piece_laid
from drafting.garment.places import stay_reach
from drafting.geometry import Affine
from drafting.output.layers.ply import raw_edges, raw_outline
from drafting.output.layers.unfold import (
    courses_of,
    fit_points,
    join_courses,
    move_aside,
    move_laid,
    outline_of,
    sample_shares,
    unfold_run,
)
from drafting.output.layers.view import ClothLayer, Points, StepView
from drafting.work.meeting import Letters
from drafting.work.seam_words import is_level_dart

IN_ALLOWANCE, BESIDE = 2.5, 14.0
"""From the stitching line out to the stitching that stays an edge, and in to the arrow that tells its way (mm)."""


SHORT_OF_DART, ALONG_LEG = 8.0, 60
"""From the end of such an arrow to the next dart at least (mm); places along its legs at which that is asked."""

PRESSED_FROM, PRESSED_BY = 18.0, 45.0
"""From the middle of a dart to the arrow that tells which way it is pressed, and that arrow's length (mm)."""

TURNS_UP = 0.3
"""Of an edge's height up to which its end may turn up again beyond its lowest point."""


def draw_stays(garment: Garment, letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece that is taped, wrong side up, its raw edges shown, its stays hatched."""
    taped = [piece.name for piece in garment.pieces if any(zone.taped for zone in piece.zones)]
    for name in _one_each(garment, taped, letters):
        lies, raw = Affine.mirror(), raw_edges(garment, name, frozenset())
        strips = []
        for zone in garment.piece(name).zones:
            if zone.taped:
                path = garment.piece(name).line(zone.line).path
                part = path.between(zone.start * path.length, zone.end * path.length)
                course = lies.apply_all(part.flatten())
                inside, outside = stay_reach(zone, raw[zone.line])
                strip = np.concatenate([move_aside(course, outside), move_aside(course, -inside)[::-1]])
                strips.append(ClothLayer(strip, "", hatched=True, strip=True))
        points = raw_outline(garment, name, lies, raw)
        piece = ClothLayer(points, letters.get(name, ""), wrong=True)
        yield StepView("Stays, wrong side up", (piece, *strips), focus=points)


def draw_stay_stitching(garment: Garment, edges: Run, letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece with edges that are stitched by themselves, right side up, and which way."""
    runs: dict[str, list[Use]] = {}
    for use in edges:
        runs.setdefault(use.piece, []).append(use)
    for name in _one_each(garment, runs, letters):
        lies, raw = Affine(), raw_edges(garment, name, frozenset())
        points = raw_outline(garment, name, lies, raw)
        courses = join_courses(list(courses_of(garment, tuple(runs[name]), {name: lies})))
        stitched = tuple(move_aside(course, -IN_ALLOWANCE) for course in courses)
        arrows = tuple(_run_down(move_aside(course, BESIDE)) for course in courses for course in _part_lowest(course))
        piece = ClothLayer(points, letters.get(name, ""))
        yield StepView(
            "Right side up: which way to stitch", (piece,), stitched, arrows=arrows, focus=np.concatenate(stitched)
        )


def _part_lowest(course: Points) -> Iterator[Points]:
    """A course parted at its lowest point, each part running down; one that hardly does is left out."""
    low = int(course[:, 1].argmin())
    for part in (course[: low + 1], course[low:][::-1]):
        if part[0, 1] - part[-1, 1] > TURNS_UP * np.ptp(course[:, 1]):
            yield part


def _run_down(course: Points) -> Points:
    """The upper middle of a course, as long as an arrow needs."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(course, axis=0).T))])
    at = np.linspace(0.2, 0.6, 9) * along[-1]
    return np.stack([np.interp(at, along, course[:, k]) for k in (0, 1)], axis=1)


def draw_darts(garment: Garment, seams: Iterable[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece whose darts are sewn, wrong side up, their legs emphasised and what meets."""
    runs: dict[str, list[Seam]] = {}
    for seam in seams:
        runs.setdefault(seam.plies[0][0].piece, []).append(seam)
    for name in _one_each(garment, runs, letters):
        lies = Affine.mirror()
        legs, joins, arrows = [], [], []
        sewn = {seam.name: [*_open_courses(garment, seam.plies[0] + seam.plies[1], lies)] for seam in runs[name]}
        for seam in runs[name]:
            one, two = (list(_open_courses(garment, run, lies)) for run in seam.plies[:2])
            legs += [*one, *two]
            others = [leg for other, each in sewn.items() if other != seam.name for leg in each]
            arrows.append(_press_to(garment, seam, np.concatenate([*one, *two]).mean(axis=0), others))
            joins += [np.stack([a[i], b[j]]) for a, b in zip(one, two, strict=True) for i, j in _spread(a, b)]
        ring = np.concatenate([line.path.flatten()[:-1] for line in garment.piece(name).ring])
        piece = ClothLayer(lies.apply_all(ring), letters.get(name, ""), wrong=True)
        yield StepView(DARTS_SHOWN, (piece,), tuple(legs), tuple(joins), arrows=tuple(arrows), focus=piece.points)


DARTS_SHOWN = "Legs, and the way to press"
"""What a picture of a piece with darts shows."""


def _press_to(garment: Garment, seam: Seam, middle: Points, others: Sequence[Points]) -> Points:
    """An arrow beside a dart, from its middle: down, or towards the centre, which is the body's.

    It ends short of the legs of other darts, so that it begins on its own dart where there is little room beside that.
    """
    inwards = (-1.0 if middle[0] > 0.0 else 1.0, 0.0)
    way = np.array((0.0, -1.0) if is_level_dart(garment, seam) else inwards)
    (x, y), end = way.tolist(), PRESSED_FROM + PRESSED_BY
    for leg in others:
        off = np.linspace(leg[0], leg[-1], ALONG_LEG) - middle
        ahead, aside = off[:, 0] * x + off[:, 1] * y, off[:, 0] * y - off[:, 1] * x
        in_way = (np.abs(aside) < SHORT_OF_DART) & (ahead > 0.0)
        end = min([end, *(ahead[in_way] - SHORT_OF_DART).tolist()])
    return np.stack([middle + way * (end - PRESSED_BY), middle + way * end])


def _open_courses(garment: Garment, run: Run, lies: Affine) -> Iterator[Points]:
    """The courses of a run as its piece was cut, its darts open."""
    for use in run:
        points = lies.apply_all(garment.line(use).path.flatten())
        yield points[::-1] if use.against else points


def _spread(a: Points, b: Points) -> Iterator[tuple[int, int]]:
    """Places along two legs that meet: a few, evenly spread."""
    for share in (0.0, 0.35, 0.7):
        yield round(share * (len(a) - 1)), round(share * (len(b) - 1))


def _one_each(garment: Garment, names: Iterable[str], letters: Letters) -> Iterator[str]:
    """One piece for each letter: the other of a pair is its mirror image."""
    seen: dict[str, str] = {}
    for name in dict.fromkeys(names):
        seen.setdefault(letters.get(name, name), name)
    yield from seen.values()


def draw_applied(garment: Garment, seam: Seam, letters: Letters) -> Iterator[StepView]:
    """Yield a picture of what is sewn down on the face of a piece, as a pocket is: both lie right side up."""
    name = find_piece_laid(garment, seam)
    for face in find_faces(garment).get(name, ())[:1]:
        place = next(each.path for each in garment.piece(face).of_kind(Applied) if each.name == name)
        run, shares = seam.plies[0], np.linspace(0.0, 1.0, 9)
        own = sample_shares(garment, run, {name: Affine()}, shares)
        at = place.points(shares * place.length)
        lies = min((fit_points(own, points) for points in (at, at[::-1])), key=lambda fit: fit[1])[0]
        stitched = tuple(courses_of(garment, run, {name: lies}))
        under = ClothLayer(outline_of(garment, face, Affine()), letters.get(face, ""))
        laid = ClothLayer(outline_of(garment, name, lies), letters.get(name, ""))
        yield StepView("Right side up, on its marks", (under, laid), stitched, focus=laid.points)


def draw_edges(garment: Garment, seams: Iterable[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece, wrong side up, whose edge is worked by itself, as beside a zip."""
    runs: dict[str, list[Use]] = {}
    for seam in seams:
        for use in seam.uses():
            runs.setdefault(use.piece, []).append(use)
    for name in _one_each(garment, runs, letters):
        lies = Affine.mirror()
        stitched = tuple(courses_of(garment, tuple(runs[name]), {name: lies}))
        piece = ClothLayer(outline_of(garment, name, lies), letters.get(name, ""), wrong=True)
        yield StepView("The edge that is worked", (piece,), stitched, focus=np.concatenate(stitched))


SEWN = "When it is sewn"
"""What a picture shows of a seam that is done."""


def draw_made_ready(garment: Garment, ready: Iterable[Seam], letters: Letters) -> Iterator[StepView]:
    """Yield what is sewn on next, wrong side up: its pieces as they are joined, or each alone."""
    for seam in ready:
        run = seam.plies[-1]
        laid = move_laid(unfold_run(garment, run), Affine.mirror())
        ends = [use for each in garment.seams if each.kind.readies for use in each.plies[0] if use.piece in laid]
        if len(laid) < 2 or not ends:
            yield from draw_alone(garment, (use.piece for use in run), letters)
            continue
        layers = tuple(
            ClothLayer(outline_of(garment, n, lies), letters.get(n, ""), wrong=True) for n, lies in laid.items()
        )
        stitched = tuple(course for use in ends for course in courses_of(garment, (use,), laid))
        focus = np.concatenate([layer.points for layer in layers])
        yield StepView("Joined, wrong side up", layers, stitched, focus=focus)
        return


def draw_alone(garment: Garment, names: Iterable[str], letters: Letters) -> Iterator[StepView]:
    """Yield a picture of each piece alone, wrong side up."""
    for name in _one_each(garment, names, letters):
        points = outline_of(garment, name, Affine.mirror())
        yield StepView("Wrong side up", (ClothLayer(points, letters.get(name, ""), wrong=True),), focus=points)
