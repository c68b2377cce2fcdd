"""A bust dart in the side of a knit's front: cloth over a full bust that neither stretch nor ease brings there.

The front as it is drafted without darts, from which it starts, stays as it is above the dart: shoulder, armhole and
bust width. What changes, on each half, drawn on +x:

    point              rule                                                                  source
    bust point         half the bust point width out, where side neck point to bust point    as measured
                       ends
    upper mouth        on the side seam, level with the bust line, 5 cm below the underarm   from memory
                       at least
    below the bust     lower by what the front is short over the bust; the whole front is    as measured
                       then raised by it, as its waist is to lie level with the back's
    lower mouth        as far from the bust point as the upper, so that the legs are alike   common practice
    side below it      as long as it was, so that the front, its dart sewn, is as long as    the side is one line
                       the back; it runs on from the upper side once the dart is folded
    point              20 to 50 mm short of the bust point, by what the dart takes in        from memory
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from blocks.arm import BUST_BELOW_UNDERARM
from drafting.body import Body
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import Adjust, Face, Fact, Garment, Level, Piece, Role, Side
from drafting.garment.carry import Redrawing, carry_features, follow_edges, only
from drafting.garment.darts import dart_of, intake
from drafting.garment.over_bust import bust_by_length, way_over_bust
from drafting.garment.ruled import BUST_DART
from drafting.garment.told import Ruled
from drafting.geometry import Path, Point, hook, root
from drafting.record import dataclass
from drafting.redraw.dart_points import set_back_for
from drafting.redraw.fit_half import Shift, darts_in, leg_paths, move_joints
from drafting.redraw.fit_inner import move_inner
from drafting.redraw.halves import Half, find_half
from drafting.redraw.heights import draw_across, keep_aims, move_down
from drafting.redraw.mouths import bow_edges
from drafting.redraw.nil_darts import with_marked_bust, with_nil_dart
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_KNIT_DART = TradeValue(10.0, "mm", "common practice", "less is eased in or stretches")
"""That a front is short over the bust at least, for a dart to be sewn."""

MOST_LONGER = TradeValue(57.0, "mm", "from memory", "one dart takes in up to about 6 cm")
"""By which a front is made longer over the bust at most: the dart takes in a little more or less."""

MORE_TAKEN = TradeValue(1.5, "times", "derived", "by drawing")
"""What the dart takes in at most, of what the front is longer: the side's way over it is longer or shorter besides."""

MOST_TURNED = TradeValue(5.0, "times", "derived", "by drawing")
"""By how much more the side below the dart may turn above its chord than below it, as one fair line."""

MOST_BOWED = TradeValue(math.radians(20.0), "rad", "from memory", "a corner of up to 30 degrees is trued")
"""That the sides above and below the dart are bowed by in all to run on in each other; beyond, the lower turns more."""

FARTHEST_DART_END = TradeValue(0.5, "share", "from memory")
"""Of the way from the bust point to the side at which the dart ends at most."""


BOTH = (Side.LEFT, Side.RIGHT)
"""In the order of a front's halves: the left lies on +x."""


def short_over_bust(body: Body, side_neck: Point) -> float:
    """Return by how much (mm) a front whose side neck point lies there is shorter over the bust than the body's."""
    bust = bust_by_length(body, side_neck)
    if bust is None:
        return 0.0
    own = way_over_bust(side_neck, bust, -body["back_neck_point_to_waist"])
    return body["side_neck_point_to_waist_over_bust"] - own


def open_bust_darts(garment: Garment, body: Body, side_neck: Point) -> Garment:
    """Return the knit body with a bust dart in each side of its front, which is as long over the bust as the body.

    A body whose front is hardly longer than the cloth gets none. CannotDraft where a side has no room for it.
    """
    bust, short = bust_by_length(body, side_neck), min(short_over_bust(body, side_neck), MOST_LONGER)
    if bust is None or short < LEAST_KNIT_DART:
        return garment.with_(
            facts=[
                Fact("bust_dart", 0.0, "mm", "body", "none: the front is long enough over the bust", Ruled(BUST_DART))
            ]
        )
    garment = with_marked_bust(garment, body)
    for side in BOTH:
        garment = with_nil_dart(garment, find_half(garment, side, Face.FRONT), most=math.inf)
    plans = [_plan(find_half(garment, side, Face.FRONT), bust, short) for side in BOTH]
    before = piece = plans[0].half.piece
    for plan in plans:
        piece = _draw(replace(plan.half, piece=piece), plan)
    piece = move_down(_move_inside(before, piece, plans), -short)
    facts = [fact for plan in plans for fact in _facts(piece, plan)]
    made = _raise_bust_level(garment.with_(pieces=[piece], facts=facts), short)
    base = garment.neck_base
    return replace(keep_aims(garment, made), neck_base=base and replace(base, front=base.front + short))


def _raise_bust_level(garment: Garment, by: float) -> Garment:
    """The garment with the back's bust line higher by ``by`` (mm), as the front's is, but below the underarm."""
    back = find_half(garment, Side.LEFT, Face.BACK)
    under = back.path(Role.ARMHOLE).start.y - BUST_BELOW_UNDERARM

    def raise_line(path: Path) -> Path:
        y = path.start.y
        return draw_across(back.piece, max(min(y + by, under), y), path.start.x, path.end.x)

    return garment.with_(pieces=[carry_features(back.piece, Redrawing(raise_line), only(Level, called=("bust",)))])


@dataclass(frozen=True, slots=True)
class _OpenedHalf:
    """What becomes of one half: all below ``mouth`` goes down by ``drop`` (mm), the dart turns by ``turn`` (rad)."""

    half: Half
    bust: Point
    drop: float
    mouth: Point
    lower: Point
    side: Path
    """The side seam from the hem up to the lower mouth."""
    above: Path
    """The side seam from the upper mouth to the underarm."""

    def shift(self, p: Point) -> Point:
        """By how much a point goes down."""
        return Point(0.0, -self.drop if p.y < self.mouth.y - TOLERANCE.joint else 0.0)


def _plan(half: Half, bust: Point, drop: float) -> _OpenedHalf:
    """Find the dart whose front is ``drop`` (mm) longer over the bust, its side no longer than it was."""
    above, below = half.on_plus_x(half.below_armhole().path), half.on_plus_x(half.lines(Role.SIDE)[0].path)
    waist = half.level("waist")
    at = below.cross_level(half.outer_end(waist).y) if waist is not None else ()
    rest, low = below.split(at[0]) if at else (None, below)
    side = _SideBelow(bust, above, low, drop)

    def over(turn: float) -> float:
        one, two = side.opened(turn)
        return one.length + two.length - low.length - above.length

    try:
        turn, _ = root(over, 0.0, side.widest, within=TOLERANCE.same_point)
    except GeometryError:
        raise CannotDraft(
            "bust_dart",
            say("the {side} side of the front has no room for a bust dart of {drop}", side=half.side, drop=mm(drop)),
            help="leave the dart out, or measure side_neck_point_to_bust_point and bust_point_width again",
        ) from None
    one, two = side.opened(turn)
    whole = one if rest is None else Path.join(rest.moved(Point(0.0, -drop)), one)
    return _OpenedHalf(half, bust, drop, two.start, one.end, whole, two)


@dataclass(frozen=True, slots=True)
class _SideBelow:
    """A side seam on +x with a dart to be opened in it, between ``low``, from the waist up, and ``above``."""

    bust: Point
    above: Path
    low: Path
    drop: float

    @property
    def widest(self) -> float:
        """The turn (rad) of a dart that takes in far more than it need."""
        return 2.0 * math.asin(min(MORE_TAKEN * self.drop / 2.0 / self.bust.distance(self.above.start), 1.0))

    def opened(self, turn: float) -> tuple[Path, Path]:
        """Return both with the dart turned open by so much (rad): they run on in each other once it is folded.

        What the side below leans out by there is what its way from the waist lets it; both are bowed by the rest.
        """
        upper = self.above.start
        lower = self.bust + (upper - self.bust).turned(-turn)
        point = point_between(self.bust, lower, upper)
        folded = math.acos(min(1.0, (lower - point).unit.dot((upper - point).unit)))
        start, way, leave = self.low.start - Point(0.0, self.drop), self.above.tangent(0.0), self.low.tangent(0.0)
        chord = _lean_out(lower - start)
        lean = max(chord + MOST_TURNED * max(chord - _lean_out(leave), 0.0), 0.0)
        by = max(min(folded, lean - _lean_out(way)), folded - MOST_BOWED)
        return bow_edges(hook(start, leave, lower, way.turned(-by)), self.above, -folded)


def _lean_out(way: Point) -> float:
    """By how much (rad) a way up leans outwards, on +x."""
    return math.atan2(way.x, way.y)


def point_between(bust: Point, lower: Point, upper: Point) -> Point:
    """Return where a dart with that mouth ends: short of the bust point, by what it takes in."""
    middle = lower.to(upper, 0.5)
    back = min(set_back_for(lower.distance(upper)), FARTHEST_DART_END * middle.distance(bust))
    return bust + (middle - bust).unit * back


def _draw(half: Half, plan: _OpenedHalf) -> Piece:
    """The front with one half opened."""
    (dart,), point = darts_in(half), point_between(plan.bust, plan.lower, plan.mouth)
    below, above = half.lines(Role.SIDE)
    paths = {below.name: plan.side, above.name: plan.above, **leg_paths(dart, plan.lower, point, plan.mouth)}
    for line in half.lines(Role.HEM):
        paths[line.name] = move_joints(half.on_plus_x(line.path), plan.shift)
    return half.with_paths(paths).piece


def _move_inside(before: Piece, piece: Piece, plans: Sequence[_OpenedHalf]) -> Piece:
    """The front with what lies below the darts moved down with it, and lines there cut anew on its sides."""
    shifts: dict[bool, Shift] = {plan.half.flipped: plan.shift for plan in plans}
    below = min(plan.mouth.y for plan in plans) - TOLERANCE.joint
    piece = move_inner(piece, shifts, below, lambda v: v.path.start.y < below)
    ruled = Redrawing(lambda path: draw_across(piece, path.start.y, path.start.x, path.end.x))
    return follow_edges(before, carry_features(piece, ruled, only(Adjust)))


def _facts(piece: Piece, plan: _OpenedHalf) -> Iterator[Fact]:
    taken = intake(dart_of(piece, f"bust-{plan.half.side}"))
    told, side = "so that the front is as long as the body over the bust", plan.half.side
    yield Fact(f"bust_dart_{side}", taken, "mm", "solve", told, Ruled(BUST_DART, side))
