"""Lines with meaning: what a line is, where it lies on the wearer, and what becomes of it."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum

from drafting.geometry import Path
from drafting.record import dataclass
from drafting.sides import Face, Side
from drafting.text import letters_of


class Role(StrEnum):
    """What a line is, in the trade's words."""

    NECKLINE = "neckline"
    SHOULDER = "shoulder"
    ARMHOLE = "armhole"
    SIDE = "side"
    WAIST = "waist"
    HEM = "hem"
    CENTRE = "centre"
    CAP = "cap"
    UNDERARM = "underarm"
    WRIST = "wrist"
    BAND = "band"  # the edge of a band, cuff or binding that is sewn to an opening
    EDGE = "edge"  # the outer, finished edge of a band, cuff or binding
    END = "end"  # the short ends of a band, sewn to each other
    STYLE = "style"  # a seam or edge that the design draws across the body
    DART = "dart"  # one leg of a dart
    LAID = "laid"  # an edge of a piece that lies on another's face, sewn down there


class Fate(StrEnum):
    """What an edge becomes."""

    SEWN = "sewn"
    HEMMED = "hemmed"  # turned to the wrong side along the line
    BOUND = "bound"  # sewn to a binding that wraps it (the edge itself has no allowance)
    FOLDED = "folded"  # the line is a fold; the inner half is added by finishing
    RAW = "raw"  # left as cut


@dataclass(frozen=True, slots=True)
class DartName:
    """What a dart is called, as each of its legs carries it: ``name`` in its piece, ``stem`` without a side."""

    name: str
    stem: str


def part_name(line: str, which: int | str) -> str:
    """Return what a part of a line is called: by a word, or by a letter for its number from 0.

    >>> part_name("side-left", "vent"), part_name("waist-left", 1)
    ('side-left/vent', 'waist-left/b')
    """
    return f"{line}/{which if isinstance(which, str) else letters_of(which).lower()}"


@dataclass(frozen=True, slots=True)
class Line:
    """A path with meaning. ``name`` is unique in its piece; ``ancestry`` holds older names it still answers to.

    ``opening`` names the opening the line bounds while it is unsewn ("neck", "armhole-left", "wrist-right",
    "hem"); empty for lines that are always sewn. ``turned`` is how deep (mm) it is turned if it is hemmed; None
    where it is as deep as the other hems. ``dart`` says of a dart's leg which dart it belongs to.
    """

    name: str
    path: Path
    role: Role
    side: Side = Side.NONE
    face: Face = Face.NONE
    fate: Fate = Fate.SEWN
    opening: str = ""
    ancestry: tuple[str, ...] = ()
    turned: float | None = None
    dart: DartName | None = None

    def answers_to(self, name: str) -> bool:
        """Tell whether this is the line of that name, or a part of it."""
        return name == self.name or name in self.ancestry

    def part(self, which: int | str, path: Path) -> Line:
        """Return a part of this line, by a word or its number from 0, that still answers to this line's name."""
        return replace(self, name=part_name(self.name, which), path=path, ancestry=(*self.ancestry, self.name))

    def along(self, path: Path) -> Line:
        """Return this line along another path; the very same where that is its own."""
        return self if path is self.path else replace(self, path=path)
