"""The tolerances of the engine, each named by its role."""

from __future__ import annotations

from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How near is near enough; every value is absolute, in millimetres unless its name says radians.

    One value with named roles, passed or read as ``TOLERANCE``; no bare small number stands elsewhere.
    """

    same_point: float = 1e-6
    """Two points this near are one point; solves stop here."""
    arc_length: float = 1e-3
    """Error allowed in a measured length."""
    crossing: float = 1e-6
    """How exactly two lines are made to meet."""
    offset: float = 0.02
    """How far a parallel line may stray from the true parallel."""
    flatten: float = 0.05
    """Sagitta allowed where a curve is drawn or tested as chords."""
    off_edge: float = 1e-7
    """Added before a figure is rounded to be written: round figures often lie just where rounding turns over, and the
    last figure of a sum, which differs from one processor to another, would decide how they are written."""
    printed: float = 0.05
    """A point moved by no more than this lies where it was printed: a dot of a printer at 600 to the inch is 0.042."""
    sewn_length: float = 0.5
    """Two plies of a seam that differ by less than this from their stated ease agree."""
    joint: float = 1e-4
    """Lines of a ring must meet end to end within this."""
    tangent: float = 1e-3
    """Radians; a turn below this at a joint is no corner."""
    smooth_join: float = 0.087
    """Radians (5 degrees); how far a sewn edge may turn where it crosses a seam."""
    arc: float = 0.5235987755982988
    """Radians (30 degrees); a circle is drawn in arcs no wider: within 0.01 mm of it at a radius of 2 m."""


TOLERANCE = Tolerance()
"""The one set of tolerances the engine uses; a frozen value, not a setting."""
