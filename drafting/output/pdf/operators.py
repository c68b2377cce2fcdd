"""PDF operators for lines and shapes (ISO 32000-1, 8.5), as text; lengths in mm unless told otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from drafting.output.pdf.ink import Floats, straight_ones
from drafting.tolerance import TOLERANCE

PER_MM: Final = 72 / 25.4
"""Points in a mm."""
METRIC: Final = f"{PER_MM:.9g} 0 0 {PER_MM:.9g} 0 0 cm"
"""The operator that turns points into mm."""


def num(number: float, digits: int = 4) -> str:
    """Return a number as PDF wants it, without idle zeros."""
    shown = f"{number + TOLERANCE.off_edge:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown


def rectangle(x0: float, y0: float, x1: float, y1: float) -> str:
    """Return the operators that trace a rectangle."""
    return f"{num(x0)} {num(y0)} {num(x1 - x0)} {num(y1 - y0)} re"


def line(x0: float, y0: float, x1: float, y1: float) -> str:
    """Return the operators that trace a straight line."""
    return f"{num(x0)} {num(y0)} m {num(x1)} {num(y1)} l"


def fill_ink(tint: str | None, grey: float) -> str:
    """Return the operator that takes a colour (hexadecimal) to fill with, or where there is none a grey (1: white)."""
    return f"{num(grey)} g" if tint is None else f"{' '.join(num(part / 255) for part in bytes.fromhex(tint))} rg"


def pen(stroke: float, grey: float = 0.0, dash: Sequence[float] = (), round_: bool = False) -> str:
    """Return the operators that take a pen of ``stroke`` mm."""
    return f"{num(stroke)} w {grey:.3g} G {int(round_)} J {int(round_)} j [{' '.join(map(num, dash))}] 0 d"


def ring_ops(rings: Floats, digits: int = 3) -> str:
    """Return the operators that trace cubics, shape (n, 4, 2).

    The pen lifted where one does not start at the last one's end.
    """
    out: list[str] = []
    at: tuple[float, float] | None = None
    for (p, a, b, q), flat in zip((rings + TOLERANCE.off_edge).tolist(), straight_ones(rings).tolist(), strict=True):
        if at is None or abs(at[0] - p[0]) + abs(at[1] - p[1]) > TOLERANCE.same_point:
            out.append(f"{p[0]:.{digits}f} {p[1]:.{digits}f} m")
        out.append(_segment(a, b, q, flat, digits))
        at = (q[0], q[1])
    return " ".join(out)


def _segment(a: list[float], b: list[float], q: list[float], flat: bool, digits: int) -> str:
    if flat:
        return f"{q[0]:.{digits}f} {q[1]:.{digits}f} l"
    d = digits
    return f"{a[0]:.{d}f} {a[1]:.{d}f} {b[0]:.{d}f} {b[1]:.{d}f} {q[0]:.{d}f} {q[1]:.{d}f} c"
