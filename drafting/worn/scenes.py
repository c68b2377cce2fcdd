"""What is painted of a drape: the body with the garment in its colour, and a map of how far its cloth is stretched."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from drafting.cloth import Cloth
from drafting.worn.cloth import FULL_PULL, stiffness_of
from drafting.worn.dressing import Worn
from drafting.worn.figures import take_strains
from drafting.worn.landmarks import HEAD
from drafting.worn.picture import PAPER, Dots, Scene, mean_normals, paint_views
from drafting.worn.pose import PosedBody
from drafting.worn.shape import Floats
from drafting.worn.soundness import edges_of

SKIN: Final = (0.86, 0.82, 0.78)
_PLAIN: Final = (0.45, 0.56, 0.78)
"""What cloth of no stated colour is painted in."""
_DEEPER: Final = 0.8
"""Tints are for drawings on paper: on a lit body they are painted so much deeper."""
SCALE: Final = (
    (1.00, 0.97, 0.80),
    (0.98, 0.80, 0.42),
    (0.86, 0.52, 0.33),
    (0.55, 0.27, 0.38),
    (0.20, 0.10, 0.30),
)
"""Colours from no stretch to all there is, each darker than the one before, so that they are told apart in grey."""
_SKIN_IN: Final = 2.5
"""mm that the skin is drawn in where it is painted."""
_TALL: Final = 640
"""Dots from top to bottom of a row of views."""
_ROOM: Final = 90.0
"""mm above the neck and below the hem that are shown."""
_WIDE: Final = 640.0
"""mm that each view shows from side to side."""
_BAR: Final = 18
"""Dots high is the scale beneath the map."""


def paint_worn(worn: Worn, cloths: Mapping[str, Cloth]) -> Dots:
    """Return the picture: a row of views as the garment looks, a row as it is stretched, and the scale to that.

    The scale goes from no stretch, at the left, to all that the cloth has.
    """
    points = worn.points
    low, high = float(points[:, 1].min()) - 2.0 * _ROOM, float(worn.posed.nape[1]) + 1.5 * _ROOM
    tall = round(_TALL * (high - low) / 1000.0)
    rows = [
        paint_views(_set_scene(worn, colours), low, high, _WIDE, tall)
        for colours in (colour_cloth(worn, cloths), _colour_strain(worn, cloths))
    ]
    return np.concatenate([*rows, _paint_scale(rows[0].shape[1])])


def _set_scene(worn: Worn, colours: Floats) -> Scene:
    body, mesh = worn.posed, worn.mesh
    count = len(body.points)
    points = np.concatenate([draw_in_body(body), worn.points])
    triangles = np.concatenate([body.faces, mesh.triangles + count])
    return Scene(
        points, triangles, np.concatenate([np.tile(SKIN, (count, 1)), colours]), edges_of(mesh.triangles) + count
    )


def draw_in_body(body: PosedBody) -> Floats:
    """Return the body a little thinner, so that cloth that lies on it hides it though its triangles are flat."""
    thinner = body.points - _SKIN_IN * mean_normals(body.points, body.faces)
    return np.where((body.part < HEAD)[:, None], thinner, body.points)


def colour_cloth(worn: Worn, cloths: Mapping[str, Cloth]) -> Floats:
    """Return the colour of each point: its cloth's."""
    out = []
    for each in worn.mesh.pieces:
        tint = cloths.get(each.piece.cloth, cloths["main"]).tint
        colour = _PLAIN if tint is None else tuple(_DEEPER * int(tint[i : i + 2], 16) / PAPER for i in (0, 2, 4))
        out.append(np.tile(colour, (len(each.flat), 1)))
    return np.concatenate(out)


def _colour_strain(worn: Worn, cloths: Mapping[str, Cloth]) -> Floats:
    """Each point by how much of its stretch the cloth round it gives, across or along, whichever is more."""
    triangles = worn.mesh.triangles
    used = np.maximum(*(taken / has for taken, has in zip(take_strains(worn), _share_has(worn, cloths), strict=True)))
    total, number = np.zeros(len(worn.points)), np.zeros(len(worn.points))
    for i in range(3):
        np.add.at(total, triangles[:, i], used)
        np.add.at(number, triangles[:, i], 1.0)
    return colour_shares(total / np.maximum(number, 1.0))


def _share_has(worn: Worn, cloths: Mapping[str, Cloth]) -> tuple[Floats, Floats]:
    """For each triangle the stretch that its cloth has across and along: of a stiff cloth, what a hand's pull gives."""
    out = []
    for each in worn.mesh.pieces:
        cloth = cloths.get(each.piece.cloth, cloths["main"])
        across, along, _ = stiffness_of(cloth)
        stretch = cloth.stretch_across or FULL_PULL / across, cloth.stretch_along or FULL_PULL / along
        out.append(np.tile(stretch, (len(each.triangles), 1)))
    whole = np.concatenate(out)
    return whole[:, 0], whole[:, 1]


def colour_shares(shares: Floats) -> Floats:
    """Return colours for shares from 0 to 1."""
    at = np.linspace(0.0, 1.0, len(SCALE))
    held = np.clip(shares, 0.0, 1.0)
    return np.stack([np.interp(held, at, [colour[k] for colour in SCALE]) for k in range(3)], axis=1)


def _paint_scale(wide: int) -> Dots:
    """A bar of the colours, with a tick at each quarter."""
    bar = np.full((2 * _BAR, wide, 3), PAPER, dtype=np.uint8)
    left, right = wide // 4, 3 * wide // 4
    bar[_BAR // 2 : -_BAR // 2, left:right] = np.round(PAPER * colour_shares(np.linspace(0.0, 1.0, right - left)))
    for i in range(5):
        at = left + (right - left - 1) * i // 4
        bar[_BAR // 4 : -_BAR // 4, at] = 0
    return bar
