"""One half of a front or back, turned to +x as blocks draw it, so that a change draws both sides by one recipe."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from drafting.errors import CannotDraft
from drafting.garment import Face, Garment, Level, Line, PathFeature, Piece, Role, Side, Width, measure_of, shift_aim
from drafting.garment.carry import exchange_feature
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.shapes import DEEPEST_CUT, SHORTEST_SHOULDER, ArmholeCurve, ArmholeFrame, draw_as_framed, has_floor
from drafting.saying import mm, say
from drafting.trade import TradeValue

LEAST_CHANGED_SCYE = TradeValue(8.0, "mm", "derived", "by drawing")
"""From the shoulder's end out to the side seam: a change that leaves less leaves no armhole to draw."""

SCYE_GIVES = TradeValue(40.0, "mm", "derived", "by drawing")
"""By which a change may bring a shoulder's end nearer to the side than that, or farther over it: a dropped shoulder
hangs over the side, and a close body with wide shoulders is drafted so."""


@dataclass(frozen=True, slots=True)
class Half:
    """The half of a piece on one side of the wearer; ``flipped`` if it lies on -x."""

    piece: Piece
    side: Side
    face: Face
    flipped: bool

    def on_plus_x(self, path: Path) -> Path:
        """Return a ring path of this half as on +x, or a +x path as it stands in the ring."""
        return path.mirrored().reversed() if self.flipped else path

    def lines(self, role: Role) -> tuple[Line, ...]:
        """Return this half's lines of a role, in the order of the +x half (they follow each other in the ring)."""
        found = self.piece.lines(role=role, side=self.side, face=self.face)
        return tuple(reversed(found)) if self.flipped else found

    def line(self, role: Role) -> Line:
        """Return this half's only line of a role; CannotDraft if it has none, or has it in parts."""
        found = self.lines(role)
        if len(found) == 1:
            return found[0]
        state = f"in {len(found)} lengths" if found else "gone"
        raise CannotDraft(
            f"{role}-{self.side}",
            say("the {side} {face} {role} is {state}", side=self.side, face=self.face, role=role, state=state),
            help="make this change before the one that did that",
        )

    def path(self, role: Role) -> Path:
        """Return the path of this half's only line of a role, as on +x."""
        return self.on_plus_x(self.line(role).path)

    def below_armhole(self) -> Line:
        """Return the line that ends at the underarm; CannotDraft if it is no side seam."""
        name = self.line(Role.ARMHOLE).name
        line = self.piece.after(name) if self.flipped else self.piece.before(name)
        if line.role is Role.SIDE:
            return line
        raise CannotDraft(
            line.name, say("the {side} {face} armhole doesn't start at a side seam", side=self.side, face=self.face)
        )

    def level(self, name: str) -> Level | None:
        """The level of that name on this half, which may be one over both; None if the piece has none."""
        found = [level for level in self.piece.levels if level.name == name]
        return max(found, key=lambda level: self.outer_end(level).x, default=None)

    def outer_end(self, level: PathFeature) -> Point:
        """The end of a level that lies farther out on this half, as on +x."""
        ends = level.path.start, level.path.end
        return max((Point(-p.x, p.y) if self.flipped else p for p in ends), key=lambda p: p.x)

    @property
    def across(self) -> Level:
        """The level at which the width between the armholes is taken; CannotDraft if the piece has none."""
        level = self.level(f"across-{self.face}")
        if level is None:
            told = f"the {self.face} shows no level at which to draw its armhole"
            raise CannotDraft(f"across-{self.face}", told)
        return level

    @property
    def half_across(self) -> Point:
        """The half's end of the across level, as on +x."""
        return self.outer_end(self.across)

    def with_paths(self, paths: Mapping[str, Path]) -> Half:
        """Return the half with the paths of named lines replaced by others, given as on +x."""
        ring = tuple(
            replace(ln, path=self.on_plus_x(paths[ln.name])) if ln.name in paths else ln for ln in self.piece.ring
        )
        return replace(self, piece=replace(self.piece, ring=ring))

    def with_across(self, x: float, full: float | None = None) -> Half:
        """Return the half with this half's end of the across level at ``x`` (mm from the centre).

        ``full`` is how round its armhole is drawn, as the level tells it.
        """
        old = self.across
        left, right = sorted((old.path.start, old.path.end), key=lambda p: p.x)
        ends = (Point(-x, left.y), right) if self.flipped else (left, Point(x, right.y))
        if full == old.full or not left.x < 0.0 < right.x:
            return self._exchange(old, replace(old, path=Path.straight(*ends), full=full))
        # What holds of this half holds of it alone: the level is two from here on, which add up.
        centre = Point(0.0, left.y + (right.y - left.y) * left.x / (left.x - right.x))
        own = (ends[0], centre) if self.flipped else (centre, ends[1])
        other = (centre, right) if self.flipped else (left, centre)
        return self._exchange(
            old, replace(old, path=Path.straight(*own), full=full), replace(old, path=Path.straight(*other))
        )

    def _exchange(self, old: Level, *new: Level) -> Half:
        return replace(self, piece=exchange_feature(self.piece, old, *new))


def find_half(garment: Garment, side: Side, face: Face) -> Half:
    """Find the half front or back of that side; CannotDraft if there is none, or it is in several pieces."""
    found = [p for p in garment.pieces if p.lines(role=Role.SHOULDER, side=side, face=face)]
    if len(found) != 1:
        state = "in several pieces" if found else "missing"
        raise CannotDraft(
            f"shoulder-{side}", say("the {side} shoulder of the {face} is {state}", side=side, face=face, state=state)
        )
    path = found[0].lines(role=Role.SHOULDER, side=side, face=face)[0].path
    return Half(found[0], side, face, flipped=path.start.x + path.end.x < 0.0)


def shoulder_of(half: Half) -> tuple[Point, Point]:
    """Return the shoulder's outer end and its neck end, as on +x; CannotDraft if it isn't straight."""
    path = half.path(Role.SHOULDER)
    if path.is_straight:
        return path.start, path.end
    raise CannotDraft(f"shoulder-{half.side}", say("the {side} shoulder isn't straight", side=half.side))


def armhole_frame(half: Half) -> ArmholeFrame:
    """Read the points between which this half's armhole is drawn."""
    path, across = half.path(Role.ARMHOLE), half.half_across
    outer, neck = shoulder_of(half)
    down = outer - neck
    frame = ArmholeFrame(path.start, outer, across.x, 0.0, -down.angle, path.tangent(0.0), full=half.across.full)
    frame = replace(frame, floored=has_floor(path))
    return frame.at_level(across.y)


def with_armhole(half: Half, frame: ArmholeFrame, drawn_as: ArmholeCurve | None = None) -> Half:
    """Draw the armhole again in a frame, or as drawn there, and move this half's end of the across level with it.

    CannotDraft where the side seam leaves it no room, or where it comes too near the neckline.
    """
    room, before = frame.underarm.x - frame.shoulder.x, _room(half)
    if room < min(LEAST_CHANGED_SCYE, before - SCYE_GIVES):
        raise CannotDraft(
            f"armhole-{half.side}",
            say(
                "the {side} shoulder of the {face} reaches so near the side seam that no armhole is left",
                side=half.side,
                face=half.face,
            ),
            short_by=LEAST_CHANGED_SCYE - room,
            help="narrow the shoulder, or leave the underarm higher",
        )
    curve = drawn_as or draw_as_framed(frame, DEEPEST_CUT)
    drawn = half.with_paths({half.line(Role.ARMHOLE).name: curve.path})
    refuse_narrow_strap(drawn)
    return drawn.with_across(curve.x_at_level(frame.level), frame.full)


def _room(half: Half) -> float:
    """How far the armhole's ends lie apart sideways (mm), before a change draws it again."""
    path = half.path(Role.ARMHOLE)
    return path.start.x - path.end.x


def refuse_narrow_strap(half: Half) -> None:
    """Raise CannotDraft where neckline and armhole of a half come nearer than the shortest shoulder."""
    arms, lines = half.lines(Role.ARMHOLE), half.lines(Role.NECKLINE)
    if not lines or not arms:
        return
    arm, neck = (np.concatenate([line.path.flatten() for line in each]) for each in (arms, lines))
    gap = float(np.sqrt(((arm[:, None] - neck[None]) ** 2).sum(axis=2).min()))
    if gap < SHORTEST_SHOULDER:
        raise CannotDraft(
            f"neckline-{half.side}, armhole-{half.side}",
            say(
                "only {gap} remain between the {side} {face} neckline and armhole",
                gap=mm(gap),
                side=half.side,
                face=half.face,
            ),
            short_by=SHORTEST_SHOULDER - gap,
            help=say("leave {shortest_shoulder} at least", shortest_shoulder=mm(SHORTEST_SHOULDER)),
        )


ACROSS_BACK = Width("across-back")
"""From armhole to armhole across the back."""


def put_back(garment: Garment, halves: Sequence[Half]) -> Garment:
    """Return the garment with the pieces of changed halves, and the aim for the across back moved with them."""
    for half in halves:
        before = garment.piece(half.piece.name)
        garment = garment.with_(pieces=(half.piece,))
        if half.face is Face.BACK:
            wider = _across_back(half.piece) - _across_back(before)
            garment = shift_aim(garment, ACROSS_BACK, wider) if wider else garment
    return garment


def _across_back(piece: Piece) -> float:
    return sum(level.path.length for level in piece.levels if measure_of(level) == ACROSS_BACK)
