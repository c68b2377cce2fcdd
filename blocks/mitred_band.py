"""Bands on an edge with corners: mitred strips from corner to corner, or one strip that is folded to a mitre.

A V has one corner, so that the two ends of one strip meet in a mitre at the centre; a square neckline has two on each
face. Each mitre halves its corner: the fold runs ``width * tan(turn / 2)`` short of the sewn line, and both layers
of the folded band are mitred alike (common practice). A binding is one strip; its mitre is folded as it is sewn.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from blocks.band_edge import stretches, turning
from drafting.cloth import BandRule, Cloth, band_length, greatest_reduction
from drafting.errors import CannotDraft
from drafting.garment import Fate, Garment, Line, Piece, Role, Run, Seam, Section, Side, Use, Zone
from drafting.garment.carry import with_features
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import Name, Words, mm, say, specify
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import MITRE

SHORTEST_FOLD = TradeValue(12.0, "mm", "from memory")
"""Of fold that a strip has between its mitres at least: two mitres nearer than this can't be sewn."""

STAY_STITCHED = TradeValue(8.0, "mm", "from memory")
"""Of width of the strip along a corner that is stay-stitched."""

STAYED = TradeValue(25.0, "mm", "common practice")
"""To either side of a corner that are stay-stitched before it is clipped into."""


@dataclass(frozen=True, slots=True)
class Cornered:
    """An edge with corners: its opening, its run, the corner (rad) before each use, and its length once gathered."""

    opening: str
    run: Run
    at: tuple[float, ...]
    closed: bool
    drawn_in: float

    def begun_at_corner(self) -> Cornered:
        """The same edge, its run turned to start at a corner."""
        i = next(i for i, turned in enumerate(self.at) if turned > 0.0)
        return replace(self, run=self.run[i:] + self.run[:i], at=self.at[i:] + self.at[:i])


@dataclass(frozen=True, slots=True)
class BandStretch:
    """A stretch of the edge and how long the band is along it (mm); ``turn`` is the corner (rad) it starts from."""

    run: Run
    edge: float
    length: float
    turn: float

    @property
    def ease(self) -> float:
        """What the band is longer than the edge (less than 0: it is stretched on)."""
        return self.length - self.edge


@dataclass(frozen=True, slots=True)
class BandStrip:
    """One piece of band: its stretches in the run's order, and the corners (rad) its two ends are mitred for."""

    name: str
    title: Words
    stretches: tuple[BandStretch, ...]
    first: float = 0.0
    last: float = 0.0
    side: Side = Side.NONE

    @property
    def length(self) -> float:
        """The length of the sewn line (mm)."""
        return math.fsum(part.length for part in self.stretches)


def lengths_along(
    garment: Garment, edge: Cornered, width: float, stuff: Cloth, given: float | None
) -> tuple[tuple[BandStretch, ...], BandRule]:
    """Return the stretches of an edge with the band's length along each, and the rule over all.

    Along each stretch the band lies flat: as long as the edge where that is straight, shorter as it curves. A share
    that is asked for is taken in along the curves alone, if their stretch allows.
    """
    run, at, drawn_in = edge.run, edge.at, edge.drawn_in
    runs = stretches(garment, run, at)
    whole = [garment.run_length(part) for part in runs]
    edges = [length * drawn_in / math.fsum(whole) for length in whole]
    thetas = [turning(garment, part) for part in runs]
    lengths = [
        band_length(of, theta, width, stuff.working_stretch, recovery=stuff.recovery, kind="mitred").length
        for of, theta in zip(edges, thetas, strict=True)
    ]
    if given is not None:
        lengths = _split_length(edges, thetas, given, greatest_reduction(stuff.working_stretch))
    starts = dict(zip(run, at, strict=True))
    found = tuple(
        BandStretch(part, of, length, starts[part[0]])
        for part, of, length in zip(runs, whole, lengths, strict=True)
    )  # fmt: skip
    rule = band_length(
        drawn_in, math.fsum(thetas), width, stuff.working_stretch, recovery=stuff.recovery, kind="mitred",
        given=math.fsum(lengths) / drawn_in,
    )  # fmt: skip
    why = "from corner to corner and seam to seam as long as lies flat: drawn in along curves, not along straight runs"
    return found, replace(rule, reasons=rule.reasons if given is not None else (why,))


def _split_length(edges: Sequence[float], thetas: Sequence[float], share: float, most: float) -> list[float]:
    """The band's lengths for a share of the whole: the curves take in the rest, or, where they can't, all alike."""
    less = (1.0 - share) * math.fsum(edges)
    curve = math.fsum(thetas)
    taken = [less * theta / curve if curve > TOLERANCE.tangent else math.inf for theta in thetas]
    if any(by > most * edge for by, edge in zip(taken, edges, strict=True)):
        return [share * edge for edge in edges]
    return [edge - by for edge, by in zip(edges, taken, strict=True)]


def strips(garment: Garment, parts: Sequence[BandStretch], name: str, title: Words) -> tuple[BandStrip, ...]:
    """Part a band at its corners, and name each strip by what it lies along; one alone keeps the band's name."""
    groups: list[list[BandStretch]] = []
    for part in parts:
        if not groups or part.turn > 0.0:
            groups.append([])
        groups[-1].append(part)
    places = _places(garment, groups)
    ends = [*(group[0].turn for group in groups[1:]), groups[0][0].turn]
    return tuple(
        BandStrip(
            f"{name}-{place}" if place else name,
            specify(title, _say_place(place)) if place else title,
            tuple(group),
            group[0].turn,
            end,
            _side_of(garment, group),
        )
        for group, place, end in zip(groups, places, ends, strict=True)
    )


def _places(garment: Garment, groups: Sequence[Sequence[BandStretch]]) -> list[str]:
    """What each strip lies along: a side, or the face that it runs right across; numbers where two would be alike."""
    if len(groups) == 1:
        return [""]
    found = [_place([garment.line(use) for part in group for use in part.run]) for group in groups]
    return [
        place if place and found.count(place) == 1 else f"{place} {number}".strip().replace(" ", "-")
        for number, place in enumerate(found, 1)
    ]


def _side_of(garment: Garment, group: Sequence[BandStretch]) -> Side:
    sides = {garment.line(use).side for part in group for use in part.run}
    return sides.pop() if len(sides) == 1 else Side.NONE


def _place(lines: Sequence[Line]) -> str:
    """The one side that lines lie on, or the face on which they pass from side to side."""
    sides = {line.side for line in lines}
    if len(sides) == 1:
        return str(sides.pop())
    return next((str(a.face) for a, b in pairwise(lines) if a.face is b.face and a.side is not b.side), "")


def _say_place(place: str) -> Side | Name:
    return Side(place) if place in (Side.LEFT, Side.RIGHT) else Name(place)


def draw_strip(strip: BandStrip, opening: str, width: float, *, ring: bool) -> Piece:
    """Draw the seen half of a mitred strip: sewn below, folded above, an end that isn't mitred left square.

    The run starts at the right, at "end-a". A plain end bounds the opening, since it is turned in beside a closure;
    but those of a ``ring`` are sewn to each other.
    """
    inset_a, inset_b = (width * math.tan(turn / 2.0) for turn in (strip.first, strip.last))
    length = strip.length
    if length - inset_a - inset_b < SHORTEST_FOLD:
        raise CannotDraft(
            "width",
            say(
                "between two mitres a band {width} high has no room on {is_length} ({title:lower})",
                width=mm(width),
                is_length=mm(length),
                title=strip.title,
            ),
            short_by=SHORTEST_FOLD - (length - inset_a - inset_b),
            help="make the band narrower or the neckline wider",
        )
    a, b = Point(0.0, 0.0), Point(length, 0.0)
    c, d = Point(length - inset_a, width), Point(inset_b, width)
    lines = (
        *_sewn_line(strip),
        Line("end-a", Path.straight(b, c), Role.END, opening="" if strip.first or ring else opening),
        Line("edge", Path.straight(c, d), Role.EDGE, fate=Fate.FOLDED, opening=opening),
        Line("end-b", Path.straight(d, a), Role.END, opening="" if strip.last or ring else opening),
    )
    return Piece(strip.name, strip.title, lines, side=strip.side)


def _sewn_line(strip: BandStrip) -> tuple[Line, ...]:
    """The sewn line, from left to right, in a part for each stretch."""
    whole = Line("band", Path.straight(Point(0.0, 0.0), Point(strip.length, 0.0)), Role.BAND, fate=Fate.SEWN)
    if len(strip.stretches) == 1:
        return (whole,)
    out, x = [], 0.0
    for number, part in reversed([*enumerate(strip.stretches, 1)]):
        path = Path.straight(Point(x, 0.0), Point(x + part.length, 0.0))
        out.append(whole.part(str(number), path))
        x += part.length
    return tuple(out)


def band_lines(strip: BandStrip) -> tuple[str, ...]:
    """The names of the sewn line's parts, in the run's order."""
    count = len(strip.stretches)
    return ("band",) if count == 1 else tuple(f"band/{number}" for number in range(1, count + 1))


def on_edge(found: Iterable[BandStrip]) -> tuple[Section, ...]:
    """The sections in which strips are set on their edge, a stretch each."""
    return tuple(
        Section((part.run, (Use(strip.name, line, True),)), (0.0, part.ease))
        for strip in found
        for part, line in zip(strip.stretches, band_lines(strip), strict=True)
    )


def mitres(found: Sequence[BandStrip], name: str, title: Words) -> tuple[Seam, ...]:
    """The seams at the corners: each joins the end of one strip to the start of the next, from sewn line to fold."""
    corners = [(one, two) for one, two in zip(found, (*found[1:], found[0]), strict=True) if one.last > 0.0]
    out = []
    for number, (one, two) in enumerate(corners, 1):
        ends = ((Use(two.name, "end-a"),), (Use(one.name, "end-b", True),))
        which = f" {number}" if len(corners) > 1 else ""
        out.append(
            Seam(
                f"{name}-mitre-{number}",
                MITRE,
                say("mitre{which} of the {title}", which=which, title=title),
                (Section(ends, (0.0, 0.0)),),
            )
        )
    return tuple(out)


def with_stays(pieces: Iterable[Piece], parts: Sequence[BandStretch]) -> tuple[Piece, ...]:
    """Return pieces with a stay at each corner where the edge has none yet: it is stay-stitched, then clipped into."""
    wanted: dict[str, list[tuple[str, bool]]] = {}
    for one, two in zip((parts[-1], *parts), parts, strict=False):
        if two.turn > 0.0:
            for use, at_end in ((one.run[-1], True), (two.run[0], False)):
                wanted.setdefault(use.piece, []).append((use.line, at_end))
    return tuple(_add_stays(piece, wanted.get(piece.name, [])) for piece in pieces)


def _add_stays(piece: Piece, corners: Sequence[tuple[str, bool]]) -> Piece:
    """A piece with the stays it lacks at the ends (or starts) of lines, each ``STAYED`` mm long."""
    held = {(zone.line, at_end) for zone in piece.zones for at_end in (False, True) if _reaches_end(zone, at_end)}
    new = []
    for line, at_end in corners:
        share = min(1.0, STAYED / piece.line(line).path.length)
        span = (1.0 - share, 1.0) if at_end else (0.0, share)
        if (line, at_end) not in held:
            why = say("stay-stitch the corner before it is clipped into", short="stay-stitch")
            new.append(Zone(line, STAY_STITCHED, why, *span, taped=False))
    return with_features(piece, new)


def _reaches_end(zone: Zone, at_end: bool) -> bool:
    """Whether a stay runs to the end (or from the start) of its line."""
    return zone.end == 1.0 if at_end else zone.start == 0.0
