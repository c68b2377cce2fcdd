"""Pictures of a garment worn, as if drawn: flat tones by how the light falls, and a line of ink round all that ends."""

from __future__ import annotations

import math
import struct
import zlib
from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.record import dataclass
from drafting.seal import SEAL_ROOM
from drafting.worn.compiled import compile_loop
from drafting.worn.shape import Floats, Whole

Dots = npt.NDArray[np.uint8]

PAPER: Final = 255
_FINER: Final = 2
"""Dots are painted so many times finer each way, and averaged."""
_LIGHT: Final = (0.25, 0.45, 0.86)
LIT: Final = (0.30, 0.52, 0.74)
"""How much light falls on what is drawn in the second, the third and the lightest tone; on less, in the darkest."""
TONES: Final = (0.66, 0.80, 0.91, 1.0)
"""Of its colour each tone keeps, from the darkest."""
STRIPE_HALF: Final = 0.15
"""Of a stripe's repeat its line is wide to either side."""
PALE: Final = 0.55
"""Cloth that is lighter than this on average has darker stripes, other cloth lighter ones."""
FADED: Final = 0.35
"""Of what it lacks to white a light stripe keeps, and a dark stripe of its colour twice as much."""
_INK_STEP: Final = 14.0
"""mm that one dot lies before the next, where a line of ink is drawn between them."""
_FAR: Final = 100_000.0
_INK: Final = 46.0
VIEWS: Final = (0.0, -90.0, 180.0, -40.0)
"""Degrees that the body is turned: seen from in front, from its right, from behind, from three quarters."""


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Triangles with a colour (0 to 1) at each point, and dark lines between points; mm.

    A point whose ``band`` is 0 or more is painted flat, in the colour of ``flats`` that has its whole number. ``rows``,
    shape (n, 2), says how many repeats of a stripe a point lies along its piece, for up to two stripes: what lies at a
    whole number is on one; NaN where there is none.
    What is ``behind`` (mm) is painted as if it lay so much farther away. ``turns`` are the degrees that it is
    turned by in each of its views.
    """

    points: Floats
    triangles: Whole
    colours: Floats
    band: Floats
    rows: Floats
    flats: Floats
    behind: Floats
    lines: Whole
    turns: tuple[float, ...] = VIEWS


def paint_views(scene: Scene, low: float, high: float, wide: float, tall: int) -> Dots:
    """Return the views side by side, of what stands between two heights (mm), each ``wide`` mm wide; ``tall`` dots."""
    return np.concatenate(
        [_paint_view(scene, math.radians(turn), low, high, wide, tall) for turn in scene.turns], axis=1
    )


@dataclass(frozen=True, slots=True, eq=False)
class SeenView:
    """A scene as it is seen from one side: its points (mm; across, height, towards the eye), and what is painted.

    ``depth`` is how near to the eye what is painted lies at each dot (mm), ``dots`` its colour; a dot is so many mm by
    ``scale``, ``high`` the height of the uppermost.
    """

    seen: Floats
    dots: Floats
    depth: Floats
    scale: float
    high: float

    def depth_at(self, across: Floats, height: Floats) -> Floats:
        """How near lies what is painted at some places (mm)."""
        rows, columns = self.depth.shape
        i = np.clip(np.round(columns / 2.0 + across * self.scale), 0, columns - 1).astype(np.int64)
        j = np.clip(np.round((self.high - height) * self.scale), 0, rows - 1).astype(np.int64)
        out: Floats = self.depth[j, i]
        return out


def look_at(scene: Scene, turn: float, window: tuple[float, float, float], tall: int) -> SeenView:
    """Return a scene turned by an angle (rad), within a window: its lower and upper height, and how wide it is (mm)."""
    low, high, wide = window
    scale = tall * _FINER / (high - low)
    c, s = math.cos(turn), math.sin(turn)
    x, y, z = scene.points.T
    seen = np.stack([c * x - s * z, y, s * x + c * z], axis=1)
    light = _light_points(seen, scene.triangles)
    columns, rows = round(wide * scale / _FINER) * _FINER, tall * _FINER
    placed = np.stack([columns / 2.0 + seen[:, 0] * scale, (high - y) * scale, seen[:, 2] - scene.behind], axis=1)
    dots = np.full((rows, columns, 3), float(PAPER))
    depth = np.full((rows, columns), -_FAR)
    marks = np.concatenate([scene.band[:, None], scene.rows], axis=1)
    paint = compile_loop(paint_triangles, find_tone, find_colour)
    paint(placed, scene.triangles, scene.colours, light, marks, scene.flats, dots, depth)
    compile_loop(draw_lines)(placed, scene.lines, dots, depth)
    return SeenView(seen, dots, depth, scale, high)


def _paint_view(scene: Scene, turn: float, low: float, high: float, wide: float, tall: int) -> Dots:
    view = look_at(scene, turn, (low, high, wide), tall)
    dots, (rows, columns) = view.dots, view.depth.shape
    _draw_outlines(dots, view.depth)
    fine = dots.reshape(rows // _FINER, _FINER, columns // _FINER, _FINER, 3)
    return np.asarray(np.round(fine.mean(axis=(1, 3))), dtype=np.uint8)


def _draw_outlines(dots: Floats, depth: Floats) -> None:
    """Ink the dots at which one thing ends before another, or before nothing; in place."""
    ink = np.zeros(depth.shape, dtype=np.bool_)
    down, across = (np.abs(np.diff(depth, axis=k)) > _INK_STEP for k in (0, 1))
    ink[:-1] |= down
    ink[1:] |= down
    ink[:, :-1] |= across
    ink[:, 1:] |= across
    dots[ink] = _INK


def _light_points(seen: Floats, triangles: Whole) -> Floats:
    """How much light falls on each point, by the direction that it faces: from 0 to 1."""
    facing: Floats = (mean_normals(seen, triangles) * np.array(_LIGHT)).sum(axis=1)
    return np.clip(facing, 0.0, 1.0)


def mean_normals(points: Floats, triangles: Whole) -> Floats:
    """Return for each point the mean direction (a unit vector) that the triangles round it face."""
    a, b, c = (points[triangles[:, i]] for i in range(3))
    normal = np.cross(b - a, c - a)
    total = np.zeros_like(points)
    for i in range(3):
        np.add.at(total, triangles[:, i], normal)
    out: Floats = total / np.maximum(np.sqrt((total**2).sum(axis=1)), np.finfo(float).tiny)[:, None]
    return out


def find_tone(lit: float) -> float:
    """Return how much of its colour is drawn where so much light falls."""
    tone = TONES[0]
    for k in range(len(LIT)):
        if lit > LIT[k]:
            tone = TONES[k + 1]
    return tone


def find_colour(own: float, mean: float, one: float, two: float) -> float:
    """Return a part of a cloth's colour, whose mean part is told, so many repeats along its two stripes."""
    if not (abs(one - np.floor(one + 0.5)) < STRIPE_HALF or abs(two - np.floor(two + 0.5)) < STRIPE_HALF):
        return own
    return 2.0 * FADED * own if mean > PALE else 1.0 - FADED * (1.0 - own)


def paint_triangles(
    placed: Floats,
    triangles: Whole,
    colours: Floats,
    light: Floats,
    marks: Floats,
    flats: Floats,
    dots: Floats,
    depth: Floats,
) -> None:
    """Paint each triangle where nothing nearer is painted already; in place.

    ``marks`` has of each point its band, and how many repeats it lies along two stripes.
    """
    rows, columns = depth.shape
    last = flats.shape[0] - 1
    for t in range(triangles.shape[0]):
        a, b, c = triangles[t, 0], triangles[t, 1], triangles[t, 2]
        ax, ay, bx, by, cx, cy = placed[a, 0], placed[a, 1], placed[b, 0], placed[b, 1], placed[c, 0], placed[c, 1]
        double = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
        if double == 0.0:
            continue
        mean = (colours[a, 0] + colours[a, 1] + colours[a, 2]) / 3.0
        for j in range(max(0, int(min(ay, by, cy))), min(rows - 1, int(max(ay, by, cy)) + 1) + 1):
            for i in range(max(0, int(min(ax, bx, cx))), min(columns - 1, int(max(ax, bx, cx)) + 1) + 1):
                u = ((i - ax) * (cy - ay) - (j - ay) * (cx - ax)) / double
                v = ((bx - ax) * (j - ay) - (by - ay) * (i - ax)) / double
                if u < 0.0 or v < 0.0 or u + v > 1.0:
                    continue
                o = 1.0 - u - v
                z = o * placed[a, 2] + u * placed[b, 2] + v * placed[c, 2]
                if z <= depth[j, i]:
                    continue
                depth[j, i] = z
                tone = find_tone(o * light[a] + u * light[b] + v * light[c])
                number = (
                    marks[a, 0] + u * (marks[b, 0] - marks[a, 0]) + v * (marks[c, 0] - marks[a, 0])
                )  # whole stays whole
                one = o * marks[a, 1] + u * marks[b, 1] + v * marks[c, 1]
                two = o * marks[a, 2] + u * marks[b, 2] + v * marks[c, 2]
                for k in range(3):
                    own = o * colours[a, k] + u * colours[b, k] + v * colours[c, k]
                    own = tone * find_colour(own, mean, one, two)
                    dots[j, i, k] = 255.0 * (own if number < 0.0 else flats[min(int(number), last), k])


def draw_lines(placed: Floats, lines: Whole, dots: Floats, depth: Floats) -> None:
    """Darken the dots along lines, where nothing lies before them; in place."""
    rows, columns = depth.shape
    for n in range(lines.shape[0]):
        a, b = lines[n, 0], lines[n, 1]
        count = int(max(abs(placed[b, 0] - placed[a, 0]), abs(placed[b, 1] - placed[a, 1]))) + 1
        for m in range(count):
            share = m / count
            i = int(placed[a, 0] + share * (placed[b, 0] - placed[a, 0]) + 0.5)
            j = int(placed[a, 1] + share * (placed[b, 1] - placed[a, 1]) + 0.5)
            if i < 0 or j < 0 or i >= columns or j >= rows:
                continue
            if placed[a, 2] + share * (placed[b, 2] - placed[a, 2]) > depth[j, i] - 5.0:
                for k in range(3):
                    dots[j, i, k] = _INK


def write_png(dots: Dots, room: str = SEAL_ROOM) -> bytes:
    """Return dots as a PNG file (ISO/IEC 15948), with room for its seal; one within another file has none."""
    tall, wide, _ = dots.shape
    rows = b"".join(b"\x00" + row.tobytes() for row in dots)
    head = struct.pack(">IIBBBBB", wide, tall, 8, 2, 0, 0, 0)
    parts: Sequence[tuple[bytes, bytes]] = (
        (b"IHDR", head),
        *([(b"tEXt", b"Comment\x00" + room.encode())] if room else []),
        (b"IDAT", zlib.compress(rows, 9)),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data)) for kind, data in parts
    )
