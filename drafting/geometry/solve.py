"""The solvers for one unknown, each within a bracket: with slopes, without, and where only yes or no is known."""

from __future__ import annotations

from collections.abc import Callable

from drafting.errors import NoAnswer
from drafting.tolerance import TOLERANCE

LIMIT = 100
_FINEST = TOLERANCE.same_point * TOLERANCE.same_point


def root(f: Callable[[float], float], low: float, high: float, *, within: float) -> tuple[float, int]:
    """Return an x in [low, high] where ``f`` changes sign, to ``within`` in x, and the calls of ``f`` made.

    Inverse quadratic steps where they are safe and halving where not (Chandrupatla 1997, "A new hybrid
    quadratic/bisection algorithm for finding the zero of a nonlinear function without using derivatives").
    A GeometryError if ``f`` has the same sign at both ends, isn't a number, or 100 calls don't suffice.

    >>> x, calls = root(lambda x: x * x - 2.0, 0.0, 2.0, within=0.000001)
    >>> round(x, 6)
    1.414214
    """
    b, a = low, high
    fb, fa = f(b), f(a)
    if fb == 0.0 or fa == 0.0:
        return (b, 2) if fb == 0.0 else (a, 2)
    if not fa * fb < 0.0:
        raise NoAnswer(f"no change of sign between {low:.6g} ({fb:.6g}) and {high:.6g} ({fa:.6g})")
    c, fc = a, fa
    share = 0.5
    for calls in range(3, LIMIT + 1):
        x = a + share * (b - a)
        fx = f(x)
        if fx * fa > 0.0:
            c, fc = a, fa
        elif fx * fb > 0.0 or fx == 0.0:
            c, fc, b, fb = b, fb, a, fa
        else:
            raise NoAnswer(f"the function isn't a number at {x:.6g}")
        a, fa = x, fx
        best = a if abs(fa) < abs(fb) else b
        reach = within / abs(b - a) if b != a else 1.0
        if fx == 0.0 or reach >= 0.5:
            return best, calls
        share = min(1.0 - reach, max(reach, _next_share(a, b, c, fa, fb, fc)))
    raise NoAnswer(f"no solution to {within:.3g} between {low:.6g} and {high:.6g} in {LIMIT} calls")


def _next_share(a: float, b: float, c: float, fa: float, fb: float, fc: float) -> float:
    """Return where to look next between a (0) and b (1): an inverse quadratic step, or the middle."""
    xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
    if phi * phi < xi and (1.0 - phi) * (1.0 - phi) < 1.0 - xi:
        return fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
    return 0.5


def newton(
    f: Callable[[float], tuple[float, float]],
    low: float,
    high: float,
    *,
    rising: bool = True,
    start: float | None = None,
    enough: float = 0.0,
) -> float:
    """Return an x in [low, high] where ``f`` changes sign; ``f`` gives value and slope.

    Newton's steps from ``start`` (the middle), and halving where one would leave what is left of the bracket, until
    the value is no more than ``enough`` or x is found to its last figures. ``rising``: the value is less than 0 at
    ``low`` and more at ``high``; else the other way round. Where it keeps its sign, x is the end where it is nearer 0.

    >>> round(newton(lambda x: (x * x - 2.0, 2.0 * x), 0.0, 2.0), 6)
    1.414214
    """
    x = 0.5 * (low + high) if start is None else start
    for _ in range(LIMIT):
        value, slope = f(x)
        if abs(value) <= enough:
            return x
        if (value > 0.0) == rising:
            high = x
        else:
            low = x
        step = x - value / slope if slope != 0.0 else low
        if not low < step < high:
            step = 0.5 * (low + high)
        if abs(step - x) <= _FINEST:
            return step
        x = step
    return x


def halve(holds: Callable[[float], bool], inner: float, outer: float, *, within: float = _FINEST) -> float:
    """Return the last x on the way from ``inner``, where a condition holds, to ``outer``, where it doesn't.

    To ``within`` in x, on the side where it holds.

    >>> round(halve(lambda x: x * x < 2.0, 0.0, 2.0), 6)
    1.414214
    """
    while abs(outer - inner) > within:
        middle = 0.5 * (inner + outer)
        inner, outer = (middle, outer) if holds(middle) else (inner, middle)
    return inner
