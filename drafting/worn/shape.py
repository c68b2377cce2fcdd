"""A woman's or a man's shape: a mesh whose vertices move with a few parameters, thin to full and short to tall.

The mesh and its targets are in the public domain (CC0); ``data/README.md`` says where they come from.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from importlib import resources
from typing import Any, Final, TypeAlias

import numpy as np
import numpy.typing as npt

from drafting.body.survey import Rules
from drafting.record import dataclass

Floats: TypeAlias = npt.NDArray[np.float64]
Whole: TypeAlias = npt.NDArray[np.int64]

METRE: Final = 1000.0
"""mm: the mesh is in metres."""

MACROS: Final = ("muscle", "weight", "height", "cup")
"""The parameters that shape all of the body, each from 0 to 1; their middle is ordinary. Men have no cup."""

_FIRMNESS: Final = 0.5
_LEFT_LEG, _LAST_LEG, _SEAT_PART = 2, 40, 41
"""The part that a left thigh begins with, the last of both legs and feet, the one between them."""
_LEGS_IN: Final = 0.17
"""rad by which each leg is turned in, so that it hangs upright."""
_HIP_BEND: Final = 160.0
"""mm round the hip joint within which the skin follows a leg."""
_UNSHAPED: Final = 16
"""Columns of the products that the macro targets are weighted by."""


@dataclass(frozen=True, slots=True, eq=False)
class BodyShape:
    """The mesh (mm, y up, z to the front) and its targets.

    ``base`` are the vertices unmoved, ``faces`` its triangles, ``part`` the number of the part of the body that each
    vertex belongs to. ``targets`` times ``scales`` are how the vertices move by each target; the first of them are
    weighted by ``products`` of the macros, the others are ``local``, in pairs: more of it, less of it.
    """

    base: Floats
    faces: Whole
    part: Whole
    targets: npt.NDArray[np.int16]
    scales: Floats
    products: Whole
    local: tuple[str, ...]

    def only(self, kept: Whole) -> BodyShape:
        """Return the shape of some vertices alone, without faces."""
        none = np.zeros((0, 3), dtype=np.int64)
        return BodyShape(
            self.base[kept], none, self.part[kept], self.targets[:, kept], self.scales, self.products, self.local
        )

    def form(self, parameters: Mapping[str, float]) -> Floats:
        """Return the vertices for parameters by name; one that isn't given is at its middle."""
        out = self.base.copy()
        for weight, target, scale in zip(self._weigh(parameters), self.targets, self.scales, strict=True):
            if weight:
                out += (weight * scale) * target
        return out

    def _weigh(self, parameters: Mapping[str, float]) -> Floats:
        """The weight of each target."""
        macro = _macro_columns(*(parameters.get(name, 0.5) for name in MACROS))
        weights = np.zeros(len(self.targets))
        weights[: len(self.products)] = np.where(self.products == 1, macro, 1.0).prod(axis=1)
        for i, name in enumerate(self.local):
            value = parameters.get(name, 0.0)
            weights[len(self.products) + 2 * i + (value < 0.0)] = abs(value)
        return weights


def _macro_columns(muscle: float, weight: float, height: float, cup: float) -> Floats:
    """What the products multiply: little, middling and much of each."""
    out = np.zeros(_UNSHAPED)
    out[0:3], out[3:6] = _thirds(muscle), _thirds(weight)
    out[6:8] = _thirds(height)[[0, 2]]
    out[10:13], out[13:16] = _thirds(cup), _thirds(_FIRMNESS)
    return out


def _thirds(value: float) -> Floats:
    return np.array([max(0.0, 1.0 - 2.0 * value), 1.0 - abs(1.0 - 2.0 * value), max(0.0, 2.0 * value - 1.0)])


def close_legs(points: Floats, part: Whole) -> Floats:
    """Return the body with its legs together, as it is taped: the mesh stands with its feet apart."""
    out = points.copy()
    for sign, first in ((1.0, _LEFT_LEG), (-1.0, _LEFT_LEG + 20)):
        pelvis = points[part == first]
        joint = (pelvis.min(axis=0) + pelvis.max(axis=0)) / 2.0
        legs = (points[:, 1] < joint[1] + _HIP_BEND / 2) & (sign * points[:, 0] > 0.0)
        legs &= (part <= _LAST_LEG) | ((part > 40) & (part < 43)) | (part == _SEAT_PART)
        off = points[legs] - joint
        down = np.clip((_HIP_BEND / 2 - off[:, 1]) / _HIP_BEND, 0.0, 1.0)
        outward = np.clip(np.abs(points[legs, 0]) / (0.5 * abs(joint[0])), 0.0, 1.0)
        angle = sign * _LEGS_IN * down * down * (3.0 - 2.0 * down) * outward
        c, s = np.cos(angle), np.sin(angle)
        out[legs, 0] = joint[0] + c * off[:, 0] + s * off[:, 1]
        out[legs, 1] = joint[1] - s * off[:, 0] + c * off[:, 1]
    return out


@functools.cache
def load_shape(rules: Rules) -> BodyShape:
    """Read the mesh and its targets from the package's data: men share with women all but what shapes the whole."""
    held = _read_data("body_shape.npz")
    targets, scales, products = held["q"], held["s"].ravel(), held["PM"]
    if rules == "men":
        own = _read_data("body_shape_men.npz")
        targets = np.concatenate([own["q"], targets[len(products) :]])
        scales = np.concatenate([own["s"], scales[len(products) :]])
        products = own["PM"]
    return BodyShape(
        _upright(held["T"].astype(np.float64)) * METRE,
        held["F"].astype(np.int64),
        held["dom"].astype(np.int64),
        np.ascontiguousarray(_upright(targets)),
        scales.astype(np.float64) * METRE,
        products.astype(np.int64),
        tuple(map(str, held["LOC"])),
    )


def _read_data(name: str) -> Mapping[str, Any]:
    with resources.files("drafting.worn").joinpath("data", name).open("rb") as file:
        return dict(np.load(file))


def _upright(points: Any) -> Any:
    """Turn the mesh's axes, z up and y to the back, into ours."""
    return np.stack([points[..., 0], points[..., 2], -points[..., 1]], axis=-1)
