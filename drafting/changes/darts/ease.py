"""A dart closed into its edge: what it took in becomes gathers, or ease of the seam that the edge is sewn in."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Fact,
    Garment,
    Level,
    Line,
    LineLength,
    Piece,
    Stage,
    change,
    option,
    shift_aim,
    side_option,
)
from drafting.garment.carry import Redrawing, carry_features, follow_edges, join_features, only, with_features
from drafting.garment.darts import Dart, intake, mouth_edges
from drafting.garment.departures import declare_departures
from drafting.garment.features import Gathers
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.dart_work import change_each_dart, heal_line, put_piece
from drafting.redraw.fullness import with_note
from drafting.redraw.mouths import near_end
from drafting.redraw.spreading import level_growth
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

AT_MOUTH = TradeValue(2.0, "mm", "from memory")
"""From a dart's mouth within which a level that ends there lies in the edge."""

EASED_STRAY = TradeValue(1.0, "mm", "from memory")
"""By which an edge that is drawn anew where a dart was may stray from where it was."""
EASED_STRAY_SHARE = TradeValue(0.1, "share", "from memory")
"""Of the dart's intake by which that edge may stray."""

MOST_DART_EASED = TradeValue(15.0, "mm", "from memory")
"""Of a dart that can be eased in without gathers: woven cloth shrinks in that much."""
MOST_DART_EASED_SHARE = TradeValue(0.1, "share", "from memory")
"""Of an edge that can be eased in without gathers where a dart was."""


@dataclass(frozen=True, slots=True)
class DartToGathersOptions:
    """Options of the change to gathers."""

    dart: str = option('Which dart, by its name without a side: "bust", "waist-front".', "text", "bust")
    side: str = side_option("Which side's dart.")


@dataclass(frozen=True, slots=True)
class DartToEaseOptions:
    """Options of the change to ease."""

    dart: str = option('Which dart, by its name without a side: "shoulder", "elbow".', "text", "shoulder")
    side: str = side_option("Which side's dart.")


@change(
    "dart-to-gathers",
    "A dart closed into its edge: what it took in is gathered there.",
    Stage.WORK,
)
def gather_dart(garment: Garment, brief: Brief, o: DartToGathersOptions) -> Garment:
    """Close the dart on each side asked for into its edge, to be gathered."""
    gathered = change_each_dart(garment, o.dart, o.side, lambda g, one: _close_in(g, one, "gathered"))
    # fullness at the neckline lies open on the paper, and turns the shoulder beyond it
    return declare_departures(garment, gathered, ("shoulder_slope",))


@change(
    "dart-to-ease",
    "A small dart closed into its edge: what it took in is eased in along the seam.",
    Stage.WORK,
)
def ease_dart(garment: Garment, brief: Brief, o: DartToEaseOptions) -> Garment:
    """Close the dart on each side asked for into its edge, to be eased in."""
    return change_each_dart(garment, o.dart, o.side, _ease_dart)


def _ease_dart(garment: Garment, one: Dart) -> Garment:
    edges = mouth_edges(garment.piece(one.piece), one)
    most = min(MOST_DART_EASED, MOST_DART_EASED_SHARE * sum(line.path.length for line in edges))
    if intake(one) > most:
        raise CannotDraft(
            "dart",
            say(
                "the {title} takes in {intake}; {most} can be eased in there",
                title=one.title,
                intake=mm(intake(one), 1),
                most=mm(most, 1),
            ),
            short_by=intake(one) - most,
            help="split it first, or turn it to gathers",
        )
    return _close_in(garment, one, "eased in")


def _close_in(garment: Garment, one: Dart, what: str) -> Garment:
    old = garment.piece(one.piece)
    before, after = mouth_edges(old, one)
    first, last = bridge_mouth(before, after)
    new = _without_dart(old, one, first, last)
    grown = first.path.length + last.path.length - before.path.length - after.path.length
    if what == "gathered":
        drawn = before.path.length + after.path.length
        new = with_note(
            new,
            say(
                "gather the {role} to {drawn}, evenly where the {words} dart was",
                role=before.role,
                drawn=mm(drawn),
                words=one.words,
            ),
        )
        new = with_features(new, [Gathers(first.name, grown)])
    name = before.ancestry[-1] if before.ancestry else before.name
    was = _seam_length(garment, old, before)
    garment = put_piece(garment, new, gone=(one.seam,))
    garment = shift_aim(garment, LineLength(name), _seam_length(garment, new, first) - was)
    for measure, by in level_growth(old, new).items():
        garment = shift_aim(garment, measure, by)
    facts = [
        Fact(
            f"{one.seam}_{what.split()[0]}",
            grown,
            "mm",
            "choice",
            say("the {title} is {what} instead", title=one.title, what=what),
        )
    ]
    if before.opening:
        facts.append(
            Fact(
                f"gathered {name} {before.face}",
                grown,
                "mm",
                "choice",
                say("the {title} is {what}", title=one.title, what=what),
            )
        )
    return heal_line(garment.with_(facts=facts), old.name, before.name, after.name)


def _seam_length(garment: Garment, piece: Piece, line: Line) -> float:
    """How long the seam is in which a line lies: as the shortest of its layers, to which the others are drawn up.

    0 where it lies in none.
    """
    for seam in garment.seams:
        if any((use.piece, use.line) == (piece.name, line.name) for use in seam.uses()):
            lengths = ([garment.run_length(run) for run in section.plies if run] for section in seam.sections)
            return sum(min(each) for each in lengths)
    return 0.0


def bridge_mouth(before: Line, after: Line) -> tuple[Line, Line]:
    """Return the two edges at a mouth drawn on to meet in one fair curve, with the dart's cloth left in the edge.

    It is drawn anew as far as its next joints, as a side seam's waist, or where that strays much, next to the mouth.
    """
    stray = EASED_STRAY + EASED_STRAY_SHARE * before.path.end.distance(after.path.start)
    drawn = [_bridge(before.path, after.path, share) for share in (1.0, 0.7)]
    near = (made for made in drawn if _stray_of(made[0], before.path, after.path) <= stray)
    path, join = next(near, drawn[0])  # where neither is near, a fair edge is worth more than a near one
    one, two = path.split(join)
    return replace(before, path=one), replace(after, path=two)


def _bridge(before: Path, after: Path, share: float) -> tuple[Path, float]:
    """The edge with a share of either part drawn anew, and where along it the parts meet."""
    cut = share * near_end(before).length, share * near_end(after.reversed()).length
    start, end = before.at(before.length - cut[0]), after.at(cut[1])
    reach = start.distance(end) / 3.0
    out, on = before.tangent(before.length - cut[0]), after.tangent(cut[1])
    bridge = Path.cubic(start, start + out * reach, end - on * reach, end)
    kept = before.length - cut[0]
    parts = [before.between(0.0, kept)] if kept > TOLERANCE.joint else []
    parts.append(bridge)
    parts += [after.between(cut[1], after.length)] if after.length - cut[1] > TOLERANCE.joint else []
    return Path.join(*parts), max(kept, 0.0) + bridge.length * cut[0] / sum(cut)


def _stray_of(path: Path, before: Path, after: Path) -> float:
    """How far (mm) the old edges stray from a new one, half-way along each and farther from the mouth."""
    places = [before.at(before.length * s) for s in (0.25, 0.5)] + [after.at(after.length * s) for s in (0.5, 0.75)]
    return max(path.nearest(place)[1] for place in places)


def _without_dart(old: Piece, one: Dart, first: Line, last: Line) -> Piece:
    new = {first.name: first, last.name: last}
    ring = tuple(new.get(line.name, line) for line in old.ring if line.dart != one.called)
    paths = (one.lines[0].path, one.lines[-1].path)
    mouth, edge = (one.mouth_a, one.mouth_b), Path.join(first.path, last.path)
    over = join_features(old, partial(_bridge_levels, legs=paths), only(Level))
    over = carry_features(over, Redrawing(lambda path: _lay_on_edge(path, mouth, edge)), only(Level))
    return follow_edges(over, replace(over, ring=ring))


def _lay_on_edge(path: Path, mouth: tuple[Point, Point], edge: Path) -> Path:
    """A level with its end at the mouth of a dart that is gone laid on the edge that is drawn over there."""
    for _ in range(2):
        path = path.reversed()
        if any(path.end.near(at, AT_MOUTH) for at in mouth):
            segments = path.segments.copy()
            segments[-1, 2:] += tuple(edge.at(edge.nearest(path.end)[0]) - path.end)
            path = Path.of(segments)
    return path


def _bridge_levels(one: Path, two: Path, legs: tuple[Path, Path]) -> Path | None:
    """Levels that ended at the two legs drawn on to each other over the cloth that was the dart.

    A level that ends at the mouth lies in the edge, which is drawn up to the length it had: it stays as it is.
    """
    for a, b in ((one, two), (two, one)):
        ends = a.end, b.start
        held = (
            all(leg.nearest(end)[1] <= TOLERANCE.arc_length for leg, end in zip(each, ends, strict=True))
            for each in (legs, legs[::-1])
        )
        if any(held) and not _at_mouth(ends, *legs):
            return Path.join(a, Path.straight(*ends), b)
    return None


def _at_mouth(ends: tuple[Point, Point], leg_a: Path, leg_b: Path) -> bool:
    return any(end.near(mouth, AT_MOUTH) for end in ends for mouth in (leg_a.start, leg_b.end))
