"""The tables of the proof: one row for each seam section, join, measure and opening that was checked."""

from __future__ import annotations

from drafting.record import dataclass
from drafting.saying import Words


@dataclass(frozen=True, slots=True)
class SeamRow:
    """One section of a seam: ``section`` counts from 1; 0 is the seam as a whole (where it has several sections).

    ``lengths`` (mm) and ``asked`` (the ease stated, mm) are given per ply; ``off`` is the largest difference (mm)
    of a ply's ease from what is asked.
    """

    seam: str
    title: Words
    section: int
    lengths: tuple[float, ...]
    asked: tuple[float, ...]
    off: float

    @property
    def place(self) -> str:
        """The seam, and the section where there are several."""
        return f"{self.seam}, section {self.section}" if self.section else self.seam

    @property
    def ease(self) -> tuple[float, ...]:
        """What each ply is longer than ply 0 (mm)."""
        return tuple(length - self.lengths[0] for length in self.lengths)


@dataclass(frozen=True, slots=True)
class JoinRow:
    """A place where an edge runs on from one line to the next across a seam.

    ``before`` and ``after`` are "piece.line"; ``angle`` (radians) is how far the edge turns once the pieces are laid
    together, positive where it turns into the pieces. ``across`` names the seams between, none at a centre.
    """

    before: str
    after: str
    across: tuple[str, ...]
    angle: float

    @property
    def place(self) -> str:
        """Both lines."""
        return f"{self.before} to {self.after}"


@dataclass(frozen=True, slots=True)
class EaseRow:
    """A measure of the finished garment: body, the ease asked for, and what was got on the pieces (mm).

    A ``girth`` goes round the body, so that the cloth's stretch may help. ``ruled`` is what a rule gave beyond what was
    asked, for the sake of another measure (mm); less than 0: took.
    """

    measure: str
    title: Words
    body: float
    asked: float
    finished: float
    girth: bool = False
    ruled: float = 0.0

    @property
    def got(self) -> float:
        """The ease found on the pieces (mm)."""
        return self.finished - self.body

    @property
    def off(self) -> float:
        """What was got beyond what was asked, and a rule gave (mm)."""
        return self.got - self.asked - self.ruled


@dataclass(frozen=True, slots=True)
class OpeningRow:
    """An opening, or a seam round it, and what must pass: relaxed length, stretch (a share), what it passes (mm).

    ``must_pass`` is 0 where nothing has to. ``opened`` is what of its length the edges of a closure are. ``pulled`` is
    that it is a waist, which no closure opens: the garment is pulled on through it.
    """

    opening: str
    edge: str
    length: float
    stretch: float
    reach: float
    passing: str
    must_pass: float
    opened: float = 0.0
    pulled: bool = False

    @property
    def spare(self) -> float:
        """What it has beyond what must pass (mm); less than 0 where that can't."""
        return self.reach - self.must_pass
