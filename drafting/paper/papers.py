"""Papers by name or size, and how a pattern is to be printed on them."""

from __future__ import annotations

import math
import re
from enum import StrEnum
from typing import Final

from drafting.errors import InputError, Problem, close_matches
from drafting.record import dataclass
from drafting.saying import Words, mm, say, show_share, span
from drafting.text import show_read
from drafting.units import Unit, parse_length

STRIP: Final = 6.2
"""Depth of the strip outside the live area that holds rulers and the page's place (mm)."""

GRID: Final = 25.4 / 50
"""Live areas are whole multiples of this (mm), so that tiles meet on whole dots at 50, 100, 150.

300 or 600 an inch.
"""

SMALLEST_LIVE: Final = 60.0
LARGEST_PAPER: Final = 5_080.0
"""mm: the 14,400 points that a side of a PDF page may have (PDF 1.7, annex C). There is a larger unit for larger pages
(UserUnit), but readers and copy shops' machines that don't know it print a half or a quarter of the size."""


class Orientation(StrEnum):
    """How the paper is held; EITHER leaves the choice to the layout."""

    PORTRAIT = "portrait"
    LANDSCAPE = "landscape"
    EITHER = "either"


class Join(StrEnum):
    """How two pages meet: edge to edge, or one lying over the other."""

    BUTT = "butt"
    OVERLAP = "overlap"


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet that a printer takes.

    ``width`` and ``height`` in mm, held upright (width <= height for the named ones).
    """

    name: str
    width: float
    height: float


PAPERS: Final[tuple[Paper, ...]] = (
    Paper("A4", 210.0, 297.0),  # ISO 216
    Paper("A3", 297.0, 420.0),  # ISO 216
    Paper("US Letter", 215.9, 279.4),  # ANSI/ASME Y14.1, 8 1/2 x 11 in
    Paper("US Legal", 215.9, 355.6),  # 8 1/2 x 14 in, common practice
    Paper("US Tabloid", 279.4, 431.8),  # ANSI/ASME Y14.1 size B, 11 x 17 in
)


def paper_named(text: str, default_unit: Unit = "mm", *, where: str = "paper") -> Paper:
    """Return a paper by name ("A4", "letter") or by size ("60 x 90 cm", "24 in x 36 in").

    InputError if it is neither; the sizes are taken as width by height.
    """
    key = _key(text)
    for paper in PAPERS:
        if key in (_key(paper.name), _key(paper.name).removeprefix("us")):
            return paper
    sides = re.split(r"\s*[x×X*]\s*|\s+by\s+", text.strip()) if len(text) <= 60 else []
    if len(sides) == 2 and all(re.search(r"[0-9]", side) for side in sides):
        return _by_size(sides[0], sides[1], default_unit, where)
    wide = (
        "wide paper of a copy shop is named by copy_shop, or --copy-shop" if re.match(r"\s*(a[01]\b|\d)", key) else ""
    )
    raise InputError(
        [
            Problem(
                where,
                show_read(text),
                ", ".join(paper.name for paper in PAPERS) + ' or a size such as "60 x 90 cm"',
                wide,
                close=close_matches(text, [paper.name for paper in PAPERS]),
            )
        ]
    )


def _key(text: str) -> str:
    return re.sub(r"[\s_-]+", "", text[:60]).lower()


def _by_size(first: str, second: str, default_unit: Unit, where: str) -> Paper:
    unit = re.search(r"([a-zA-Z\"″]+)\s*$", second)
    if unit and not re.search(r"[a-zA-Z\"″]\s*$", first):
        first = f"{first} {unit.group(1)}"
    width, height = (parse_length(side, default_unit, where=where) for side in (first, second))
    if max(width, height) > LARGEST_PAPER:
        size = say("{size}", size=span(mm(width, None), mm(height, None), " x "))
        allowed = say("at most {most} a side, the longest page that a PDF file holds", most=mm(LARGEST_PAPER, None))
        mend = "name a shorter piece of the roll: what doesn't fit on one goes on to the next, with joining marks"
        raise InputError([Problem(where, size, allowed, mend)])
    return Paper(f"{width:g} x {height:g} mm", width, height)


@dataclass(frozen=True, slots=True)
class PaperPlan:
    """How the pattern is printed.

    ``margin`` is what the printer can't reach at each edge (mm): a quarter of an inch on common home printers (common
    practice). Outside the live area and inside the margin lies a strip (STRIP deep) for the page's place and rulers;
    with margin 6.5 and strip 6.2 the live area keeps half an inch from every edge. ``overlap`` is the width by which
    pages overlap where ``join`` is OVERLAP. ``correct_x`` and ``correct_y`` enlarge (or shrink) what is printed,
    across and up the page as it is held, for a printer that is off: 99 mm measured on the 100 mm square
    asks for 100/99. ``gap`` is the space kept between pieces.
    """

    paper: Paper = PAPERS[0]
    orientation: Orientation = Orientation.EITHER
    margin: float = 6.5
    join: Join = Join.BUTT
    overlap: float = 10.0
    correct_x: float = 1.0
    correct_y: float = 1.0
    gap: float = 4.0

    def __post_init__(self) -> None:
        problems = list(_problems(self))
        if problems:
            raise InputError(problems)

    @property
    def lapped(self) -> float:
        """The width by which one page lies over the next (mm); 0 for butt joins."""
        return self.overlap if self.join is Join.OVERLAP else 0.0

    @property
    def scale(self) -> tuple[float, float]:
        """What the printer's correction multiplies lengths by, across and up the page."""
        return self.correct_x, self.correct_y

    @property
    def correction(self) -> str:
        """What the print says where it is corrected: "corrected for a printer that prints 98 % across".

        "" where it isn't. The share is what the printer made of a length: 98 % where 100 mm measured 98.
        """
        sides = zip(("across", "along"), self.scale, strict=True)
        off = [f"{show_share(1.0 / factor)} {way}" for way, factor in sides if factor != 1.0]
        return f"corrected for a printer that prints {', '.join(off)}" if off else ""

    def tell(self) -> str:
        """Return what pages are of and how they are joined: pages told otherwise can't be joined to these."""
        wide, high = self.page
        joined = f"lying {self.lapped:g} mm over each other" if self.lapped else "edge to edge"
        return f"{self.paper.name}, {wide:g} x {high:g} mm, margin {self.margin:g} mm, {joined}"

    @property
    def inset(self) -> float:
        """How far the live area keeps from the left and upper edges of the page.

        Margin and strip, a whole multiple of GRID (mm).
        """
        return math.ceil((self.margin + STRIP) / GRID - 0.001) * GRID

    @property
    def landscape(self) -> bool:
        """Whether the long side lies across.

        Pieces may be turned by quarter turns, so EITHER takes the paper as it is named.
        """
        wide = self.paper.width > self.paper.height
        return self.orientation is Orientation.LANDSCAPE or (self.orientation is Orientation.EITHER and wide)

    @property
    def page(self) -> tuple[float, float]:
        """The width and height of the page as it is held (mm)."""
        short, long = sorted((self.paper.width, self.paper.height))
        return (long, short) if self.landscape else (short, long)

    @property
    def live(self) -> tuple[float, float]:
        """The width and height of pattern that one page carries (mm of pattern.

        Before the printer's correction).
        """
        frame = 2 * self.inset + self.lapped
        sides = zip(self.page, self.scale, strict=True)
        width, height = ((side - frame) / factor for side, factor in sides)
        return _whole_dots(width), _whole_dots(height)


def _whole_dots(length: float) -> float:
    return int(length / GRID + 0.001) * GRID


def _range_words(value: float, low: float, high: float, is_length: bool) -> tuple[Words, Words]:
    """What was read, and what is allowed: lengths (mm), or how many times."""
    if not is_length:
        return f"{value:g} times", f"{low:g} to {high:g} times"
    read = say("{value}", value=mm(value, None))
    return read, say("{range}", range=span(mm(low, None), mm(high, None)))


def _problems(plan: PaperPlan) -> list[Problem]:
    ranges = (
        ("margin", plan.margin, 0.0, 50.0, True),
        ("overlap", plan.overlap, 3.0, 40.0, True),
        ("correct_x", plan.correct_x, 0.9, 1.1, False),
        ("correct_y", plan.correct_y, 0.9, 1.1, False),
        ("gap", plan.gap, 1.0, 50.0, True),
    )
    problems = [
        Problem(f"paper.{name}", *_range_words(value, low, high, is_length))
        for name, value, low, high, is_length in ranges
        if not low <= value <= high
    ]
    sides = (plan.paper.width, plan.paper.height)
    least = SMALLEST_LIVE + 2 * (plan.margin + STRIP) + plan.lapped
    if not problems and min(sides) < least:
        size = say("{size}", size=span(mm(sides[0], None), mm(sides[1], None), " x "))
        allowed = say(
            "at least {least} each way, so that {live} of pattern fit between the margins",
            least=mm(least, None),
            live=mm(SMALLEST_LIVE, None),
        )
        problems.append(Problem("paper.size", size, allowed, "choose a larger paper or a smaller margin"))
    return problems
