"""What a picture of a step is drawn with: areas of cloth, lines, words, in mm of paper."""

from __future__ import annotations

from drafting.output.layers.view import Points
from drafting.record import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class ClothArea:
    """An area of cloth: its outline and its grey."""

    points: Points
    grey: float


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """A drawn line: its pen's width (mm), grey and dashes (mm)."""

    points: Points
    width: float
    grey: float = 0.0
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Lettering:
    """Words about a point, of a size in points."""

    words: str
    x: float
    y: float
    size: float


Inked = ClothArea | Course | Lettering
"""Whatever is drawn."""


@dataclass(frozen=True, slots=True, eq=False)
class StepPicture:
    """What is drawn, in order, in a frame from (0, 0) to ``width`` and ``height`` (mm of paper).

    On a screen ``caption`` stands for ``title``, and ``told`` is read aloud: what lies on what.
    """

    title: str
    width: float
    height: float
    drawn: tuple[Inked, ...]
    caption: str = ""
    told: str = ""
