"""What a drawing is made of: strokes, fills and texts, each of a kind that decides how it looks.

Every kind can be told from the others without colour. Lengths are millimetres of the sheet, sizes of letters
are points.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from types import MappingProxyType
from typing import Final

import numpy as np
import numpy.typing as npt

from drafting.geometry import Affine
from drafting.geometry.cells import quarter_turn
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

Floats = npt.NDArray[np.float64]

POINT: Final = 25.4 / 72
"""Millimetres in a point."""


@dataclass(frozen=True, slots=True)
class Style:
    """How one kind of line looks: width (mm), grey (0 black, 1 white) and dashes (mm on, mm off, .

    None for solid).
    """

    kind: str
    width: float
    grey: float = 0.0
    dash: tuple[float, ...] = ()


STYLES: Final[Mapping[str, Style]] = MappingProxyType(
    {
        style.kind: style
        for style in (
            Style("cut", 0.5),
            Style("fold-edge", 0.4, dash=(9.0, 1.5, 1.0, 1.5)),
            Style("stitch", 0.28, 0.15, dash=(4.0, 2.0)),
            Style("fold", 0.28, 0.15, dash=(9.0, 1.5, 1.0, 1.5)),
            Style("level", 0.22, 0.2, dash=(0.5, 1.5)),
            Style("adjust", 0.25),
            Style("line", 0.28, 0.1, dash=(2.0, 1.5)),
            Style("grain", 0.22),
            Style("stretch", 0.3),
            Style("on-fold", 0.22),
            Style("zone", 0.18, 0.35),
            Style("hatch", 0.13, 0.55),
            Style("notch", 0.25),
            Style("drill", 0.25),
            Style("buttonhole", 0.35),
            Style("placement", 0.28, 0.1, dash=(2.0, 1.5)),
            Style("leader", 0.15, 0.3),
            Style("glyph", 0.0),
        )
    }
)


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """Lines of one kind: ``segments`` are cubics, shape (n, 4, 2).

    Where one does not start at the last one's end the pen is lifted.
    """

    style: Style
    segments: Floats
    name: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Fill:
    """A filled shape of one kind.

    ``rings`` are cubics, shape (n, 4, 2), with the pen lifted between rings.
    """

    style: Style
    rings: Floats
    name: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text: its left end on the base line at (x, y), letters of ``size`` points.

    Turned by ``angle`` radians.
    """

    text: str
    x: float
    y: float
    size: float
    angle: float = 0.0
    kind: str = "label"


@dataclass(frozen=True, slots=True, eq=False)
class PieceInk:
    """Everything drawn for one piece."""

    name: str
    title: str
    strokes: tuple[Stroke, ...]
    fills: tuple[Fill, ...]
    texts: tuple[Text, ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """The bounds of all its lines (xmin, ymin, xmax, ymax)."""
        boxes = np.concatenate([bounds_of(s.segments) for s in self.strokes])
        (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
        return x0, y0, x1, y1

    def placed(self, affine: Affine) -> PieceInk:
        """Return the ink moved and turned (never mirrored) by a map."""
        angle = math.atan2(affine.yx, affine.xx)
        x, y = affine.apply_all(np.array([(t.x, t.y) for t in self.texts]).reshape(-1, 2)).T
        return PieceInk(
            self.name,
            self.title,
            tuple(replace(s, segments=affine.apply_all(s.segments)) for s in self.strokes),
            tuple(replace(f, rings=affine.apply_all(f.rings)) for f in self.fills),
            tuple(replace(t, x=float(x[i]), y=float(y[i]), angle=t.angle + angle) for i, t in enumerate(self.texts)),
        )


def lines(*points: Sequence[tuple[float, float]]) -> Floats:
    """Return straight cubics through each row of points, shape (n, 4, 2).

    One row after the other, pen lifted between.
    """
    cubics = [_straight_cubic(a, b) for row in points for a, b in pairwise(row)]
    return np.array(cubics, dtype=np.float64).reshape(-1, 4, 2)


def _straight_cubic(a: tuple[float, float], b: tuple[float, float]) -> list[tuple[float, float]]:
    """Return the control points of a straight cubic, its handles at the thirds."""
    x, y = (b[0] - a[0]) / 3, (b[1] - a[1]) / 3
    return [a, (a[0] + x, a[1] + y), (b[0] - x, b[1] - y), b]


def circle(x: float, y: float, radius: float) -> Floats:
    """Return a circle as four cubics, shape (4, 4, 2); true to 0.03 % of the radius."""
    k = 0.5522847498 * radius
    r = radius
    quarter = np.array([(r, 0), (r, k), (k, r), (0, r)], dtype=np.float64)
    ring: Floats = np.stack([quarter_turn(quarter, turn) for turn in range(4)]) + np.array((x, y))
    return ring


def bounds_of(segments: Floats) -> Floats:
    """Return (xmin, ymin, xmax, ymax) of each cubic's control points, shape (n, 4)."""
    return np.concatenate([segments.min(axis=1), segments.max(axis=1)], axis=1)


def straight_ones(segments: Floats) -> npt.NDArray[np.bool_]:
    """Tell which cubics are straight lines run through once (handles on the chord, in order)."""
    chord = segments[:, 3] - segments[:, 0]
    square = np.maximum((chord**2).sum(axis=1), TOLERANCE.same_point**2)
    handles = segments[:, 1:3] - segments[:, :1]
    along = (handles * chord[:, None]).sum(axis=2) / square[:, None]
    off = np.abs(handles[..., 0] * chord[:, None, 1] - handles[..., 1] * chord[:, None, 0]) / np.sqrt(square)[:, None]
    low, high = along.min(axis=1), along.max(axis=1)
    near = TOLERANCE.same_point
    flat: npt.NDArray[np.bool_] = (off.max(axis=1) < TOLERANCE.arc_length / 10) & (low > -near) & (high < 1 + near)
    return flat


def sample_strokes(strokes: Iterable[Floats], step: float) -> Floats:
    """Return points along cubics no further apart than about ``step`` mm, shape (m, 2)."""
    segments = np.concatenate([s.reshape(-1, 4, 2) for s in strokes])
    legs = np.hypot(*np.moveaxis(np.diff(segments, axis=1), 2, 0)).sum(axis=1)
    counts = np.maximum(np.ceil(legs / step - TOLERANCE.same_point).astype(np.intp), 1) + 1
    which = np.repeat(np.arange(len(segments)), counts)
    t = (np.arange(len(which)) - (np.cumsum(counts) - counts)[which]) / (counts - 1)[which]
    p, a, b, q = (segments[:, i] for i in range(4))
    coefficients = np.concatenate([p, 3 * (a - p), 3 * (p - 2 * a + b), q - p + 3 * (a - b)], axis=1).T
    x0, y0, x1, y1, x2, y2, x3, y3 = np.repeat(coefficients, counts, axis=1)
    points: Floats = np.stack([x0 + t * (x1 + t * (x2 + t * x3)), y0 + t * (y1 + t * (y2 + t * y3))], axis=1)
    return points
