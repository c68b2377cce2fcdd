"""Parallels of net lines, each shape made once: what lies elsewhere, or is mirrored left to right, is carried over."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import field

import numpy as np
import numpy.typing as npt

from drafting.geometry import Path
from drafting.record import dataclass

Segments = npt.NDArray[np.float64]

MIRROR = (-1.0, 1.0)
"""What turns a curve over, left to right."""

DIGITS = 6
"""Curves that agree to this many figures after the point (mm) are one shape."""


@dataclass(frozen=True, slots=True)
class Parallels:
    """The parallels made so far in one finish; it lives no longer than that."""

    made: dict[tuple[float, bytes], Segments] = field(default_factory=dict)

    def prepare(self, asked: Iterable[tuple[Path, float]]) -> None:
        """Make many parallels at once, which is sooner done; what bends too tightly is left for ``of`` to speak of."""
        wanted: dict[tuple[float, bytes], Path] = {}
        for path, d in asked:
            if d == 0.0 or path.is_straight:
                continue
            key, image = (d, _shape_key(path.segments)), (d, _shape_key(_mirror_segments(path.segments)))
            if key not in self.made and image not in self.made and image not in wanted:
                wanted[key] = path
        for key, cut in zip(wanted, Path.offsets([(path, d) for (d, _), path in wanted.items()]), strict=True):
            if isinstance(cut, Path):
                self.made[key] = cut.segments

    def of(self, path: Path, d: float) -> Path:
        """Return the parallel of a path at ``d`` mm to the right; GeometryError where a curve bends too tightly."""
        if d == 0.0 or path.is_straight:
            return path.offset(d)
        key = (d, _shape_key(path.segments))
        known = self.made.get(key)
        if known is None:
            image = self.made.get((d, _shape_key(_mirror_segments(path.segments))))
            known = _mirror_segments(image) if image is not None else None
        if known is None:
            cut = path.offset(d)
            self.made[key] = cut.segments
            return cut
        start = path.start + path.tangent(0.0).right * d
        return Path.of(known - known[0, 0] + np.array((start.x, start.y)))


def _mirror_segments(segments: Segments) -> Segments:
    """The mirror image, run the other way, so that its right stays its right."""
    turned: Segments = segments[::-1, ::-1] * MIRROR
    return turned


def _shape_key(segments: Segments) -> bytes:
    """What two curves have in common that are the same but for where they lie."""
    rounded: Segments = np.round(segments - segments[0, 0], DIGITS) + 0.0  # no minus nought
    return rounded.tobytes()
