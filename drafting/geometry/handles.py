"""Cubics with given ends and end directions: how long their handles are to be, by least squares.

Two fits stand on this, for they don't know the same. ``parallels`` follows a curve whose direction is known
everywhere: what counts is how far a place of the cubic lies square to it, and the curve's own place is found again.
``fitting.fit_cubic`` has nothing but samples: what counts is the whole way from each to its place on the cubic, which
is found again. Of 1,104 cubics that lie within 0.012 mm of their parallel (22 jobs of ``tests.bench.snapshot``), 451
do if they are fitted to 33 samples of it in six rounds, and 774 in sixty.

Nor are their handles held alike (``held``). Along a parallel that is all but straight they are free to slide, and
that they stay where they are keeps it fair: held a thousandth as firmly, 282 cut outlines of 284 move, by 0.6 mm at
most, and edges waver. Where samples were held so firmly, handles that they do hold would stop short by 1e-4 mm.
Points of the plane are complex numbers, multiplied by ``multiply``, ``along`` and ``across``: numpy's own product of
two complex numbers, and its size of one, are rounded more often on one processor than on another.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from drafting.geometry.measure import Array
from drafting.record import dataclass

Plane = npt.NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class Ends:
    """Where m cubics start and end, and the directions (of length 1) in which they leave and arrive, each (m,)."""

    start: Plane
    leaves: Plane
    end: Plane
    arrives: Plane

    def spread(self, u: Array) -> tuple[Plane, Plane, Plane]:
        """The cubics without handles at some parameters (n,), and what 1 mm of the first and the last handle adds."""
        v = 1.0 - u
        one, two = 3.0 * u * v * v, 3.0 * u * u * v
        bare = self.start[:, None] * (v * v * v + one) + self.end[:, None] * (two + u * u * u)
        return bare, self.leaves[:, None] * one, self.arrives[:, None] * -two

    def control(self, first: Array, last: Array) -> Plane:
        """The control points (m, 4) with handles of some lengths."""
        handles = self.start + first * self.leaves, self.end - last * self.arrives
        return np.stack((self.start, *handles, self.end), axis=1)


def lengthen_handles(lead: Array | Plane, trail: Array | Plane, gap: Array | Plane, held: float) -> tuple[Array, Array]:
    """By how much longer (mm) two handles bring the gaps (m, n) nearest to nothing, by least squares.

    1 mm of each closes them by ``lead`` and ``trail``; ``held`` is how firmly they stay where gaps don't move them.
    """
    aa, bb, ab = _add_up(lead, lead) + held, _add_up(trail, trail) + held, _add_up(lead, trail)
    a, b = _add_up(lead, gap), _add_up(trail, gap)
    square = aa * bb - ab * ab
    return (bb * a - ab * b) / square, (aa * b - ab * a) / square


def _add_up(p: Array | Plane, q: Array | Plane) -> Array:
    total: Array = along(p, q).sum(axis=1)
    return total


def along(p: Array | Plane, q: Array | Plane) -> Array:
    """How far q goes along p, times the length of p."""
    found: Array = p.real * q.real + p.imag * q.imag
    return found


def across(p: Plane, q: Plane) -> Array:
    """How far q goes to the left of p, times the length of p."""
    found: Array = p.real * q.imag - p.imag * q.real
    return found


def size_of(p: Plane) -> Array:
    """The length of each."""
    found: Array = np.sqrt(along(p, p))
    return found


def multiply(p: Plane, q: Plane) -> Plane:
    """The products: p turned and drawn out by q."""
    found = np.empty(np.broadcast_shapes(p.shape, q.shape), dtype=np.complex128)
    found.real = p.real * q.real - p.imag * q.imag
    found.imag = p.real * q.imag + p.imag * q.real
    return found
