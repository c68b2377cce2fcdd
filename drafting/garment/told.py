"""What is told of the numbers a garment was drafted to: facts with their sources, solves, what changes meant."""

from __future__ import annotations

from drafting.record import dataclass
from drafting.saying import Words


@dataclass(frozen=True, slots=True)
class Ruled:
    """What a fact's value is of, for later steps: a figure of the garment, and a side, a face or a name; "" is all."""

    figure: str
    place: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """A number and where it came from: ``source`` is "body", "ease", "cloth", "choice", "rule" or "solve".

    Its name is what people read; a later step finds it by what it is ``ruled`` of (``garment.ruled``), or not at all.
    """

    name: str
    value: float
    unit: str
    source: str
    sentence: Words = ""
    ruled: Ruled | None = None


@dataclass(frozen=True, slots=True)
class Solve:
    """What a solve was asked, what it reached and what is left (mm)."""

    name: str
    target: float
    reached: float
    iterations: int

    @property
    def residual(self) -> float:
        """What is left between the target and what was reached."""
        return self.reached - self.target


@dataclass(frozen=True, slots=True)
class Departure:
    """By how much (mm, rad) a change means a figure to be more than the body's: which figure, and where it is taken."""

    figure: str
    place: str
    by: float
