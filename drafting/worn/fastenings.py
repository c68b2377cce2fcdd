"""A closure as it looks closed: buttons on the cloth, the lap's edge beside them; and how much cloth lies there."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

import numpy as np

from drafting.garment import Closure, Garment, Run
from drafting.garment.closure import ButtonMark
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.saying import Words, mm, say
from drafting.sides import Face, Side
from drafting.worn.dressing import Worn
from drafting.worn.mesh import find_within
from drafting.worn.picture import mean_normals
from drafting.worn.shape import Floats, Whole

_ROUND: Final = 16
"""Corners of a button."""
_PROUD: Final = 4.0
"""mm that buttons and the lap's edge lie before the cloth, so that its triangles don't hide them."""
_STEP: Final = 6.0
"""mm from point to point along the lap's edge."""


@dataclass(frozen=True, slots=True, eq=False)
class Fastenings:
    """Buttons as discs: points (mm) and triangles; ``lines`` are pairs of points that are drawn in ink."""

    points: Floats
    triangles: Whole
    lines: Whole


def find_fastenings(worn: Worn) -> Fastenings:
    """Return the buttons of all closures, and where the edge that lies on top ends, as they lie on the drape."""
    points: list[Floats] = [np.zeros((0, 3))]
    triangles: list[Whole] = [np.zeros((0, 3), dtype=np.int64)]
    lines: list[Whole] = [np.zeros((0, 2), dtype=np.int64)]
    normals = mean_normals(worn.points, worn.mesh.triangles)
    count = 0
    for closure in worn.mesh.garment.closures:
        under = find_under(worn.mesh.garment, closure)
        if under is None:
            continue
        for use in under:
            for at, normal in zip(*_lift(worn, normals, use.piece, buttons_of(worn.mesh.garment, use.piece)),
                                  strict=True):  # fmt: skip
                disc, corners = _draw_button(at, normal, closure.button / 2.0)
                points.append(disc)
                triangles.append(corners + count)
                rim = count + 1 + np.arange(_ROUND)
                lines.append(np.stack([rim, np.roll(rim, -1)], axis=1))
                count += len(disc)
        for piece, lap in _lap_edges(worn.mesh.garment, closure, under):
            edge, _ = _lift(worn, normals, piece, lap)
            points.append(edge)
            lines.append(np.array(list(pairwise(range(count, count + len(edge)))), dtype=np.int64).reshape(-1, 2))
            count += len(edge)
    return Fastenings(np.concatenate(points), np.concatenate(triangles), np.concatenate(lines))


def lapped_edges(worn: Worn) -> Whole:
    """Return the points of the mesh, by number, that lie where a closure's edges lap, so that no edge is seen there."""
    garment, out = worn.mesh.garment, [np.zeros(0, dtype=np.int64)]
    for closure in garment.closures:
        for name in closure.seams if closure.button else ():
            for use in garment.seam(name).plies[0]:
                each, start = worn.mesh.find_piece(use.piece)
                out.append(start + each.places[use.line][1])
    return np.unique(np.concatenate(out))


def tell_closed(garment: Garment) -> Iterator[Words]:
    """Yield of each closure that it is draped closed, and what closes it."""
    for closure in garment.closures:
        where = say("the {place}", place=say_place(closure.place))
        under = find_under(garment, closure)
        if under is None:
            yield say("It is draped with its zip at {where} closed.", where=where)
            continue
        count = sum(len(buttons_of(garment, name)) for name in dict.fromkeys(use.piece for use in under))
        stand = garment.seam(closure.seams[0]).fold
        yield say("It is draped buttoned at {where}: {count} {buttons}; the edge on top reaches {stand} past the line "
                  "that they stand on.", where=where, count=count, buttons="buttons" if count > 1 else "button",
                  stand=mm(stand))  # fmt: skip


def say_place(place: Side | Face) -> Words:
    """Return where a closure is, in words."""
    return say("{side} side", side=place) if isinstance(place, Side) else say("centre {face}", face=place)


def find_under(garment: Garment, closure: Closure) -> Run | None:
    """Return the edge of a closure that its buttons stand on; None where it has none."""
    runs = [garment.seam(name).plies[0] for name in closure.seams] if closure.button else []
    return next((run for run in runs if any(buttons_of(garment, use.piece) for use in run)), None)


def buttons_of(garment: Garment, piece: str) -> list[Point]:
    """Return where the buttons of a piece stand."""
    return [each.at for each in garment.piece(piece).features if isinstance(each, ButtonMark)]


def _lap_edges(garment: Garment, closure: Closure, under: Run) -> Iterator[tuple[str, list[Point]]]:
    """Yield for each line of the edge below the piece, and the points on it where the edge on top ends."""
    stand = garment.seam(closure.seams[0]).fold
    for number, use in enumerate(under):
        path = garment.piece(use.piece).line(use.line).path
        count = max(1, round(path.length / _STEP))
        shares = [path.length * i / count for i in range(count + 1)]
        shares = shares[::-1] if use.against else shares
        points = [path.at(s) + path.tangent(s).left * stand for s in shares]
        last = number == len(under) - 1
        yield use.piece, [*points, *([path.at(shares[-1])] if last else [])]


def _lift(worn: Worn, normals: Floats, name: str, flat: list[Point]) -> tuple[Floats, Floats]:
    """Where points of a piece lie on the drape, a little before the cloth, and the directions that it faces there."""
    each, start = worn.mesh.find_piece(name)
    if not flat:
        return np.zeros((0, 3)), np.zeros((0, 3))
    corners, shares = find_within(each, np.array([[p.x, p.y] for p in flat]))
    at = (worn.points[start + corners] * shares[:, :, None]).sum(axis=1)
    normal = (normals[start + corners] * shares[:, :, None]).sum(axis=1)
    normal /= np.sqrt((normal**2).sum(axis=1))[:, None]
    return at + _PROUD * normal, normal


def _draw_button(at: Floats, normal: Floats, radius: float) -> tuple[Floats, Whole]:
    """A disc on the cloth: its middle, then its rim; and its triangles."""
    across = np.cross(np.array([0.0, 1.0, 0.0]), normal)
    across /= max(float(np.sqrt((across**2).sum())), np.finfo(float).tiny)
    up = np.cross(normal, across)
    angle = np.linspace(0.0, 2.0 * np.pi, _ROUND, endpoint=False)[:, None]
    rim = at + radius * (np.cos(angle) * across + np.sin(angle) * up)
    corners = 1 + np.arange(_ROUND)
    return np.concatenate([at[None, :], rim]), np.stack(
        [np.zeros(_ROUND, dtype=np.int64), corners, np.roll(corners, -1)], axis=1
    )
