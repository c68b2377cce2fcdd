"""The garment worn as a model to be turned: one binary file of glTF 2.0 (ISO/IEC 12113), in metres, y up."""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping, Sequence
from typing import Any, Final

import numpy as np

from drafting.cloth import Cloth
from drafting.seal import SEAL_ROOM
from drafting.worn.dressing import Worn
from drafting.worn.form import make_form
from drafting.worn.picture import mean_normals
from drafting.worn.scenes import FORM, colour_cloth, thin_form
from drafting.worn.shape import METRE, Floats, Whole

_FLOAT, _INDEX = 5126, 5125
"""How glTF calls floats of 32 bits, and whole numbers of 32 bits."""
_POINTS, _CORNERS = 34962, 34963
"""What a part of the data is for: points, or the corners of triangles."""
_EVEN: Final = 4
"""Each chunk is filled up to a multiple of so many bytes."""


def write_glb(worn: Worn, cloths: Mapping[str, Cloth]) -> bytes:
    """Return the dress form and the garment on it as a binary glTF file, with room for its seal."""
    form = make_form(worn)
    shapes = (
        ("form", thin_form(form), form.faces, np.tile(FORM, (len(form.points), 1))),
        ("garment", worn.points, worn.mesh.triangles, colour_cloth(worn, cloths)),
    )
    data = bytearray()
    views: list[dict[str, Any]] = []
    accessors: list[dict[str, Any]] = []
    meshes = [
        _add_mesh(name, points, corners, hues, (data, views, accessors)) for name, points, corners, hues in shapes
    ]
    document = {
        "asset": {"version": "2.0", "generator": SEAL_ROOM},
        "scene": 0,
        "scenes": [{"nodes": list(range(len(meshes)))}],
        "nodes": [{"name": mesh["name"], "mesh": i} for i, mesh in enumerate(meshes)],
        "meshes": meshes,
        "materials": [{"pbrMetallicRoughness": {"metallicFactor": 0, "roughnessFactor": 1}, "doubleSided": True}],
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{"byteLength": len(data)}],
    }
    text = json.dumps(document, separators=(",", ":")).encode()
    chunks = [(b"JSON", text + b" " * (-len(text) % _EVEN)), (b"BIN\x00", bytes(data))]
    size = 12 + sum(8 + len(held) for _, held in chunks)
    head = b"glTF" + struct.pack("<II", 2, size)
    return head + b"".join(struct.pack("<I", len(held)) + kind + held for kind, held in chunks)


def _add_mesh(
    name: str,
    points: Floats,
    corners: Whole,
    hues: Floats,
    kept: tuple[bytearray, list[dict[str, Any]], list[dict[str, Any]]],
) -> dict[str, Any]:
    """Add a mesh's numbers to the data, and return how it is made of them."""
    places = points / METRE
    bounds = {"min": places.min(axis=0).round(6).tolist(), "max": places.max(axis=0).round(6).tolist()}
    normals = mean_normals(points, corners)
    primitive = {
        "attributes": {
            "POSITION": _add_numbers(places.round(6), "VEC3", kept, bounds),
            "NORMAL": _add_numbers(normals, "VEC3", kept, {}),
            "COLOR_0": _add_numbers(hues, "VEC3", kept, {}),
        },
        "indices": _add_numbers(corners.ravel(), "SCALAR", kept, {}),
        "material": 0,
    }
    return {"name": name, "primitives": [primitive]}


def _add_numbers(
    numbers: Floats | Whole,
    kind: str,
    kept: tuple[bytearray, list[dict[str, Any]], list[dict[str, Any]]],
    more: Mapping[str, Sequence[float]],
) -> int:
    """Add numbers to the data, and return the number that they go by there."""
    data, views, accessors = kept
    whole = kind == "SCALAR"
    held = numbers.astype("<u4" if whole else "<f4").tobytes()
    views.append(
        {"buffer": 0, "byteOffset": len(data), "byteLength": len(held), "target": _CORNERS if whole else _POINTS}
    )
    component = _INDEX if whole else _FLOAT
    accessors.append(
        {"bufferView": len(views) - 1, "componentType": component, "count": len(numbers), "type": kind, **more}
    )
    data += held
    return len(accessors) - 1
