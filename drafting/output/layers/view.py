"""What a picture of a step is made of: layers of cloth from below up, lines of stitching, notches."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from drafting.record import dataclass

Points = NDArray[np.float64]
"""Points in mm, shape (n, 2)."""


@dataclass(frozen=True, slots=True, eq=False)
class ClothLayer:
    """A piece of cloth as it lies, its closed outline in ``points``.

    ``wrong`` where its wrong side is up; ``letter`` is that of the paper; ``shift`` is how many steps it is fanned away
    from the seam; ``strip`` marks what lies along an edge: a band, a turned hem, a stay. ``hatched`` is a tape, a stay
    or ``zipped`` the tape of a zip; ``stiff`` is interfacing; ``bound`` is the letter of the piece whose edge it binds.
    """

    points: Points
    letter: str
    wrong: bool = False
    shift: int = 0
    strip: bool = False
    hatched: bool = False
    zipped: bool = False
    stiff: bool = False
    bound: str = ""


@dataclass(frozen=True, slots=True)
class NotchShown:
    """A notch where it lies: its place, the unit vector out of the piece there, its number, one snip or two.

    ``name`` is what the place is called where the picture says so: "V point"; ``upto``, where layers are fanned, the
    place and the shift of the uppermost of those that meet there: one stroke runs over them all. Without a snip it is
    a line or a fold that is named there.
    """

    x: float
    y: float
    out: tuple[float, float]
    number: int
    count: int
    shift: int = 0
    name: str = ""
    upto: tuple[float, float, int] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class StepView:
    """One picture: layers from below up, courses of stitching, and lines between what meets.

    ``fan`` is the unit vector by which layers are shifted against each other; ``focus`` are the points that the picture
    is about, so that no more is shown than their surroundings; ``title`` says what it shows.
    ``stops`` are the points, each of shape (1, 2), at which stitching begins, stops or turns exactly;
    ``clips`` are cuts into the allowance, ``fittings`` outlines of hooks and buttons, ``holes`` buttonholes;
    ``folds`` are fold lines, ``centres`` lines of two edges that lie on each other once they are shut, ``seams`` seams
    within a strip that are sewn already, as a mitre is;
    ``arrows`` the ways that cloth is moved, ``hidden`` those beneath other cloth;
    ``close``: only what is right beside the focus is shown, enlarged; ``whole``: all of its pieces are, for which
    it needs more room than others; ``about`` is the seam or edge that it is about, where that is told;
    ``laid``: its plies lie as they are sewn; ``cut``: cloth is seen cut through.
    """

    title: str
    layers: tuple[ClothLayer, ...]
    stitched: tuple[Points, ...] = ()
    joins: tuple[Points, ...] = ()
    notches: tuple[NotchShown, ...] = ()
    fan: tuple[float, float] = (0.0, 0.0)
    focus: Points | None = None
    stops: tuple[Points, ...] = ()
    clips: tuple[Points, ...] = ()
    fittings: tuple[Points, ...] = ()
    holes: tuple[Points, ...] = ()
    folds: tuple[Points, ...] = ()
    centres: tuple[Points, ...] = ()
    seams: tuple[Points, ...] = ()
    arrows: tuple[Points, ...] = ()
    hidden: tuple[Points, ...] = ()
    close: bool = False
    whole: bool = False
    about: str = ""
    laid: bool = False
    cut: bool = False
