"""The garment worn as a model to be turned: one binary file of glTF 2.0 (ISO/IEC 12113), in metres, y up."""

from __future__ import annotations

import json
import math
import struct
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Final

import numpy as np

from drafting.cloth import Cloth
from drafting.garment.laying import Striped
from drafting.record import dataclass
from drafting.seal import SEAL_ROOM
from drafting.worn.dressing import Worn
from drafting.worn.form import make_form
from drafting.worn.letters import TALL, measure_words, write_words
from drafting.worn.picture import PAPER, find_colour, mean_normals, write_png
from drafting.worn.scenes import FORM, VOID, colour_cloth, count_repeats, thin_form
from drafting.worn.shape import METRE, Floats, Whole

_FLOAT, _INDEX = 5126, 5125
"""How glTF calls floats of 32 bits, and whole numbers of 32 bits."""
_POINTS, _CORNERS = 34962, 34963
"""What a part of the data is for: points, or the corners of triangles."""
_EVEN: Final = 4
"""Each chunk is filled up to a multiple of so many bytes."""
_GAMMA: Final = 2.2
"""Colours of points are linear in light, those of pictures are its roots by this."""
_SWATCH: Final = 32
"""Dots of the picture of one repeat of a stripe each way."""
_PLAIN_CLOTH: Final = 0.5
"""Between two stripes, in repeats."""
_SIGN_TALL: Final = 120.0
"""mm that the sign on a void drape is tall."""
_SIGN_OFF: Final = 60.0
"""mm before the garment, and behind it, that the sign stands."""
_INKED: Final = 128
"""Darker dots of a word are its letters."""
_DARK: Final = (0.05, 0.05, 0.05)


@dataclass(frozen=True, slots=True, eq=False)
class _ModelPart:
    """A mesh of the model: its points (mm), triangles, the colour of each point, and its stripes.

    ``repeats``, shape (n, 2), says how many repeats of stripes each point lies along its piece; ``swatch`` is the
    colour of the striped cloth.
    """

    name: str
    points: Floats
    corners: Whole
    hues: Floats
    repeats: Floats | None = None
    swatch: tuple[float, ...] = ()


class _ModelData:
    """What is gathered of the file: its numbers and pictures, and what says where each lies."""

    def __init__(self) -> None:
        self.data = bytearray()
        self.views: list[dict[str, Any]] = []
        self.accessors: list[dict[str, Any]] = []
        self.materials: list[dict[str, Any]] = [_make_material()]
        self.images: list[dict[str, Any]] = []


def write_glb(
    worn: Worn, cloths: Mapping[str, Cloth], striped: Striped = MappingProxyType({}), *, void: bool = False
) -> bytes:
    """Return the dress form and the garment on it as a binary glTF file, with room for its seal.

    Stripes lie as ``striped`` tells; a ``void`` drape has that in its names and ``extras``, and as a sign before it.
    """
    form = make_form(worn)
    shapes = [
        _ModelPart("form", thin_form(form), form.faces, np.tile(FORM, (len(form.points), 1))),
        *_part_garment(worn, cloths, striped, " (VOID)" * void),
        *([_write_sign(worn)] if void else []),
    ]
    held = _ModelData()
    meshes = [_add_mesh(each, held) for each in shapes]
    document = {
        "asset": {"version": "2.0", "generator": SEAL_ROOM},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(meshes)))} | ({"name": "VOID", "extras": {"void": True}} if void else {})],
        "nodes": [{"name": mesh["name"], "mesh": i} for i, mesh in enumerate(meshes)],
        "meshes": meshes,
        "materials": held.materials,
        "accessors": held.accessors,
        "bufferViews": held.views,
        "buffers": [{"byteLength": len(held.data)}],
    }
    if held.images:
        document |= {
            "images": held.images,
            "samplers": [{}],
            "textures": [{"source": i, "sampler": 0} for i in range(len(held.images))],
        }
    text = json.dumps(document, separators=(",", ":")).encode()
    chunks = [(b"JSON", text + b" " * (-len(text) % _EVEN)), (b"BIN\x00", bytes(held.data))]
    size = 12 + sum(8 + len(part) for _, part in chunks)
    head = b"glTF" + struct.pack("<II", 2, size)
    return head + b"".join(struct.pack("<I", len(part)) + kind + part for kind, part in chunks)


def _part_garment(worn: Worn, cloths: Mapping[str, Cloth], striped: Striped, mark: str) -> Iterator[_ModelPart]:
    """Yield the garment in one where it is plain; else the plain pieces, and what is striped by its cloth."""
    hues, corners = colour_cloth(worn, cloths), worn.mesh.triangles
    repeats = count_repeats(worn, striped)
    of = np.concatenate([np.full(len(each.flat), each.piece.cloth) for each in worn.mesh.pieces])
    with_stripe = np.asarray(~np.isnan(repeats).all(axis=1))
    plain = corners[~with_stripe[corners].any(axis=1)]
    if len(plain):
        yield _keep_used(_ModelPart(f"garment{mark}", worn.points, plain, hues))
    for name in np.unique(of[with_stripe]).tolist():
        there = corners[np.logical_and(with_stripe, np.isin(of, [name]))[corners].all(axis=1)]
        swatch = tuple(hues[there[0, 0]].tolist())
        lies = np.where(np.isnan(repeats), _PLAIN_CLOTH, repeats)
        yield _keep_used(
            _ModelPart(f"garment, striped {name}{mark}", worn.points, there, np.ones_like(hues), lies, swatch)
        )


def _keep_used(shape: _ModelPart) -> _ModelPart:
    """The mesh without the points that none of its triangles has."""
    used, corners = np.unique(shape.corners, return_inverse=True)
    repeats = None if shape.repeats is None else shape.repeats[used]
    return replace(
        shape, points=shape.points[used], corners=corners.reshape(shape.corners.shape), hues=shape.hues[used],
        repeats=repeats,
    )  # fmt: skip


def _write_sign(worn: Worn) -> _ModelPart:
    """The word VOID in flat squares, before the garment and behind it, to be read from either side."""
    dots = np.full((TALL, measure_words(VOID), 3), PAPER, dtype=np.uint8)
    write_words(dots, VOID, 0, 0)
    rows, columns = np.nonzero(dots[:, :, 0] < _INKED)
    step = _SIGN_TALL / TALL
    square = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, -1.0], [0.0, -1.0]])
    flat = step * (np.stack([columns - dots.shape[1] / 2.0, -rows], axis=1)[:, None] + square).reshape(-1, 2)
    middle = float(worn.points[:, 1].mean())
    front, back = float(worn.points[:, 2].max()) + _SIGN_OFF, float(worn.points[:, 2].min()) - _SIGN_OFF
    sides = [np.stack([way * flat[:, 0], middle + flat[:, 1], np.full(len(flat), z)], axis=1)
             for way, z in ((1.0, front), (-1.0, back))]  # fmt: skip
    four = np.arange(0, 2 * len(flat), len(square))[:, None]
    corners = np.concatenate([four + np.array([0, 2, 1]), four + np.array([0, 3, 2])])
    points = np.concatenate(sides)
    return _ModelPart(VOID, points, corners, np.tile(_DARK, (len(points), 1)))


def _make_material(texture: int | None = None) -> dict[str, Any]:
    painted = {} if texture is None else {"baseColorTexture": {"index": texture}}
    return {"pbrMetallicRoughness": {"metallicFactor": 0, "roughnessFactor": 1, **painted}, "doubleSided": True}


def _add_swatch(colour: Sequence[float], held: _ModelData) -> int:
    """Add the picture of one repeat of stripes, and return the number of the material that is painted with it."""
    at = (np.arange(_SWATCH) + _PLAIN_CLOTH) / _SWATCH
    mean = math.fsum(colour) / len(colour)
    dots = np.array([[[find_colour(own, mean, one, two) for own in colour] for one in at] for two in at])
    picture = write_png(np.asarray(np.round(PAPER * dots), dtype=np.uint8), room="")
    held.views.append({"buffer": 0, "byteOffset": len(held.data), "byteLength": len(picture)})
    held.data.extend(picture + bytes(-len(picture) % _EVEN))
    held.images.append({"bufferView": len(held.views) - 1, "mimeType": "image/png"})
    held.materials.append(_make_material(len(held.images) - 1))
    return len(held.materials) - 1


def _add_mesh(shape: _ModelPart, held: _ModelData) -> dict[str, Any]:
    """Add a mesh's numbers to the data, and return how it is made of them."""
    places = shape.points / METRE
    bounds = {"min": places.min(axis=0).round(6).tolist(), "max": places.max(axis=0).round(6).tolist()}
    normals = mean_normals(shape.points, shape.corners)
    normals[(normals == 0.0).all(axis=1)] = 0.0, 1.0, 0.0
    attributes = {
        "POSITION": _add_numbers(places.round(6), "VEC3", held, bounds),
        "NORMAL": _add_numbers(normals, "VEC3", held, {}),
        "COLOR_0": _add_numbers(shape.hues**_GAMMA, "VEC3", held, {}),
    }
    material = 0
    if shape.repeats is not None:
        attributes["TEXCOORD_0"] = _add_numbers(shape.repeats, "VEC2", held, {})
        material = _add_swatch(shape.swatch, held)
    indices = _add_numbers(shape.corners.ravel(), "SCALAR", held, {})
    return {
        "name": shape.name, "primitives": [{"attributes": attributes, "indices": indices, "material": material}],
    }  # fmt: skip


def _add_numbers(numbers: Floats | Whole, kind: str, held: _ModelData, more: Mapping[str, Sequence[float]]) -> int:
    """Add numbers to the data, and return the number that they go by there."""
    whole = kind == "SCALAR"
    written = numbers.astype("<u4" if whole else "<f4").tobytes()
    held.views.append(
        {
            "buffer": 0, "byteOffset": len(held.data), "byteLength": len(written),
            "target": _CORNERS if whole else _POINTS,
        }
    )  # fmt: skip
    component = _INDEX if whole else _FLOAT
    held.accessors.append(
        {"bufferView": len(held.views) - 1, "componentType": component, "count": len(numbers), "type": kind, **more}
    )
    held.data.extend(written)
    return len(held.accessors) - 1
