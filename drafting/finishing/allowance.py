"""What each net edge is given beyond its stitch line, and the parallel cut line that follows from it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from drafting.errors import GeometryError
from drafting.finishing.parallels import Parallels
from drafting.finishing.plan import FinishPlan
from drafting.garment import Face, Fate, Garment, Line, Role, Seam, SeamKind, Side, balance_marks
from drafting.garment.lines import DartName
from drafting.garment.places import binding_width
from drafting.geometry import Path
from drafting.record import dataclass
from drafting.saying import Name, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work import rank

HEM_FIRST = -1
"""A hem counts as sewn before any seam: its end always follows the edge it is folded onto."""

NEVER = 1 << 30
"""An edge that is left as cut, or isn't sewn, counts as sewn after every seam."""

ON_FOLD = "on-fold"
"""The name of the edge of a half that is laid on a fold of the cloth."""

HEM_FULLNESS = TradeValue(0.12, "share", "from memory")
"""By which a hem's raw edge may be longer than the place it is turned onto: fullness is eased in, up to this."""

ROUND_FULLNESS = TradeValue(0.04, "share", "common practice", "hems of full circles 1 to 1.5 cm, of flared skirts 2")
"""By which the raw edge of a hem that is round from end to end may be longer: all of it has to be eased in."""

NARROW_HEM = TradeValue(6.0, "mm", "common practice")
"""Of hem at least: the narrowest that is turned by machine."""

SLIGHT_HOLLOW = TradeValue(0.02, "share", "from memory")
"""By which a hem's raw edge may be shorter over its whole length in any cloth: a slight rise, as to a hip that sits
higher, is pressed out along the hem, though the hem is hollow where the rise begins or ends."""

HEM_STEP = TradeValue(40.0, "mm", "from memory")
"""Of a hem over which its bend is judged."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A balance mark on an edge: ``s`` mm along it in ring direction, one or two notches, its seam, its number."""

    s: float
    count: int
    seam: str
    number: int = 0


@dataclass(frozen=True, slots=True)
class NetEdge:
    """A net line, or a part of one, with what finishing is to do with it.

    ``order`` is when it is sewn (lower is earlier); ``span`` is the part of the garment's line, as shares of its
    length; ``inner`` marks the hidden half of a folded piece, which runs against its line; ``axis`` the edge of
    a half that is laid on the fold; ``dart`` says of a dart's leg to which it belongs; ``fold`` is how far (mm) from
    the line the allowance is folded back onto itself, 0 where it isn't.
    """

    name: str
    line: str
    path: Path
    fate: Fate = Fate.SEWN
    kind: SeamKind | None = None
    order: int = NEVER
    allowance: float = 0.0
    ticks: tuple[Tick, ...] = ()
    span: tuple[float, float] = (0.0, 1.0)
    side: Side = Side.NONE
    face: Face = Face.NONE
    inner: bool = False
    axis: bool = False
    dart: DartName | None = None
    fold: float = 0.0

    @property
    def stitched(self) -> bool:
        """Whether a stitch line is drawn apart from the cut line."""
        return self.fate is Fate.SEWN and self.allowance > 0.0

    def part(self, s0: float, s1: float) -> NetEdge:
        """Return the part from ``s0`` to ``s1`` mm, with the marks that stand on it."""
        total = self.path.length
        first, size = self.span[0], self.span[1] - self.span[0]
        span = (first + size * s0 / total, first + size * s1 / total)
        near = TOLERANCE.offset  # a mark at the end of a part, as on the fold of half a band, stays with it
        ticks = tuple(replace(tick, s=tick.s - s0) for tick in self.ticks if s0 - near <= tick.s <= s1 + near)
        return replace(self, path=self.path.between(s0, s1), span=span, ticks=ticks)


def net_edges(garment: Garment, plan: FinishPlan, depths: Mapping[str, float]) -> Mapping[str, tuple[NetEdge, ...]]:
    """Return each piece's ring as net edges, by the piece's name; ``depths`` gives each hem's depth (mm)."""
    ranks, sewn, ticks = rank(garment), _seams_by_line(garment), _ticks_by_line(garment)

    def edge(piece: str, line: Line) -> NetEdge:
        seam = min(sewn.get((piece, line.name), ()), key=lambda s: ranks[s.name], default=None)
        allowance, order = _allowance_and_rank(line, seam, ranks, plan, depths)
        if seam is not None and seam.binds and line.role is Role.BAND and seam.kind.name not in plan.allowances:
            # A binding is sewn on its width below the edge that it wraps, and lies level with it.
            allowance = binding_width(garment.piece(piece))
        return NetEdge(
            name=line.name,
            line=line.name,
            path=line.path,
            fate=line.fate,
            kind=seam.kind if seam else None,
            order=order,
            allowance=allowance,
            ticks=tuple(sorted(ticks.get((piece, line.name), ()), key=lambda tick: tick.s)),
            side=line.side,
            face=line.face,
            dart=line.dart,
            # One that is narrower than was meant is folded in half.
            fold=min(seam.fold, allowance / 2.0) if seam else 0.0,
        )

    return {piece.name: _share_marks([edge(piece.name, line) for line in piece.ring]) for piece in garment.pieces}


def _share_marks(edges: list[NetEdge]) -> tuple[NetEdge, ...]:
    """Give a mark that stands where a seam passes from one edge to the next to both of them."""
    out = list(edges)
    for i, edge in enumerate(edges):
        j = (i + 1) % len(edges)
        if edge.kind and edge.order == edges[j].order:
            ends = [t for t in edge.ticks if abs(t.s - edge.path.length) <= TOLERANCE.offset]
            starts = [t for t in edges[j].ticks if t.s <= TOLERANCE.offset]
            out[i] = _add_ticks(out[i], [replace(t, s=edge.path.length) for t in starts])
            out[j] = _add_ticks(out[j], [replace(t, s=0.0) for t in ends])
    return tuple(out)


def _add_ticks(edge: NetEdge, more: list[Tick]) -> NetEdge:
    """Return an edge with marks added where it has none yet."""
    new = [tick for tick in more if all(abs(tick.s - old.s) > TOLERANCE.offset for old in edge.ticks)]
    return replace(edge, ticks=tuple(sorted((*edge.ticks, *new), key=lambda t: t.s))) if new else edge


def _allowance_and_rank(
    line: Line, seam: Seam | None, ranks: Mapping[str, int], plan: FinishPlan, depths: Mapping[str, float]
) -> tuple[float, int]:
    """The allowance of a line and its place in the order of sewing."""
    if line.fate is Fate.HEMMED:
        return depths[_hem_name(line)], HEM_FIRST
    order = ranks[seam.name] if seam else NEVER
    if line.fate is Fate.SEWN:
        return plan.allowance_of(*((seam.kind, seam.allowance) if seam else (None,))), order
    return 0.0, NEVER if line.fate is Fate.RAW else order


def _seams_by_line(garment: Garment) -> Mapping[tuple[str, str], list[Seam]]:
    found: dict[tuple[str, str], list[Seam]] = {}
    for seam in garment.seams:
        for use in seam.uses():
            found.setdefault((use.piece, use.line), []).append(seam)
    return found


def _ticks_by_line(garment: Garment) -> Mapping[tuple[str, str], list[Tick]]:
    found: dict[tuple[str, str], list[Tick]] = {}
    for mark in garment.find_once(balance_marks):
        for use, s in mark.at:
            found.setdefault((use.piece, use.line), []).append(Tick(s, mark.count, mark.seam, mark.number))
    return found


# cut lines


def cut_lines(edges: Sequence[NetEdge], parallels: Parallels) -> list[Path]:
    """Return each edge's cut line before its corners are made: the parallel ``allowance`` mm outside the stitch line.

    GeometryError, naming the edge, if a curve bends too tightly to have a parallel there.
    """
    return [_cut_line(edge, parallels) for edge in edges]


def _cut_line(edge: NetEdge, parallels: Parallels) -> Path:
    try:
        return parallels.of(edge.path, edge.allowance)
    except GeometryError as error:
        raise GeometryError(
            say(
                "the {edge:placed} bends too tightly, or is too short, for an allowance of {allowance}",
                edge=Name(edge.name),
                allowance=mm(edge.allowance, None),
            )
        ) from error


# hems


def hem_depths(garment: Garment, plan: FinishPlan) -> Mapping[str, float]:
    """Return the depth (mm) of each hem, by the opening it finishes; all of one opening is turned equally deep.

    A hem that bends with radius R has a raw edge longer (or, where it is hollow, shorter) than its place by about
    2 x depth / R, so a curved hem is made narrower, as flared and circular hems are (common practice). Fullness is
    eased in; what is short must be stretched, which a woven hardly can: a hollow hem is made narrower still, but for
    a hollow that is slight over the hem's whole length.
    """
    depths: dict[str, float] = {}
    for line in hem_lines(garment):
        depth = _hem_depth(line, plan)
        name = _hem_name(line)
        depths[name] = min(depth, depths.get(name, depth))
    return depths


def hem_lines(garment: Garment) -> Iterator[Line]:
    """Every line that is turned up as a hem."""
    return (line for piece in garment.pieces for line in piece.ring if line.fate is Fate.HEMMED)


def reduced_hems(lines: Iterable[Line], depths: Mapping[str, float], plan: FinishPlan) -> tuple[float, ...]:
    """Return the depths, of the hems among these lines, that are less than the plan asks for."""
    given = {(depths[_hem_name(line)], _depth_asked(line, plan)) for line in lines if line.fate is Fate.HEMMED}
    return tuple(sorted(depth for depth, asked in given if depth < asked))


def _depth_asked(line: Line, plan: FinishPlan) -> float:
    return plan.hem_depth if line.turned is None else line.turned


def _hem_name(line: Line) -> str:
    return line.opening or line.name


def hollow_hem(lines: Iterable[Line], plan: FinishPlan) -> bool:
    """Tell whether it is a hollow among these lines, its raw edge too short, that makes a hem narrower."""
    bends = [_bends(line.path) for line in lines if line.fate is Fate.HEMMED]
    return min((b.deepest_short(plan) for b in bends), default=math.inf) < min(
        (b.deepest_full() for b in bends), default=math.inf
    )


def narrowed_hems(garment: Garment, plan: FinishPlan) -> Mapping[str, tuple[float, float]]:
    """Return each hem that is turned less deep than asked, by its opening: its depth and what was asked (mm)."""
    depths = hem_depths(garment, plan)
    asked = {_hem_name(line): _depth_asked(line, plan) for line in hem_lines(garment)}
    return {name: (depth, asked[name]) for name, depth in depths.items() if depth < asked[name]}


def _hem_depth(line: Line, plan: FinishPlan) -> float:
    """How deep a line is turned as a hem (mm); one that is narrower than asked is a whole number of steps."""
    bends, asked = _bends(line.path), _depth_asked(line, plan)
    most = min(bends.deepest_full(), bends.deepest_short(plan))
    if asked <= most:
        return asked
    step = 25.4 / 16.0 if plan.unit == "in" else 1.0
    return min(asked, max(NARROW_HEM, math.floor(most / step + TOLERANCE.arc_length) * step))


@dataclass(frozen=True, slots=True)
class _HemBends:
    """How a hem bends (1/mm): the greatest bends out and hollow, and those over its whole length.

    ``shared`` is the hollow shared out over it, ``round`` how much it bends out from end to end.
    """

    full: float = 0.0
    short: float = 0.0
    shared: float = 0.0
    round: float = 0.0

    def deepest_full(self) -> float:
        """The depth (mm) up to which its fullness is eased in."""
        return min(_depth_within(HEM_FULLNESS, self.full), _depth_within(ROUND_FULLNESS, self.round))

    def deepest_short(self, plan: FinishPlan) -> float:
        """The depth (mm) up to which the cloth gives what its raw edge is short of, there or along the hem."""
        pressed = min(_depth_within(SLIGHT_HOLLOW, self.shared), _depth_within(HEM_FULLNESS, self.short))
        return max(_depth_within(plan.hem_shortage, self.short), pressed)


def _depth_within(share: float, bend: float) -> float:
    """The depth (mm) at which a raw edge that bends so differs from its place by a share."""
    return share / 2.0 / bend if bend > 0.0 else math.inf


def _bends(path: Path) -> _HemBends:
    """How a hem bends, taken over some length so that a fair end doesn't count."""
    if path.is_straight:
        return _HemBends()
    count = max(2, round(path.length / HEM_STEP) + 1)
    directions = path.tangents(np.linspace(0.0, path.length, count))
    cross = directions[:-1, 0] * directions[1:, 1] - directions[:-1, 1] * directions[1:, 0]
    turns = np.arcsin(np.clip(cross, -1.0, 1.0)) * ((count - 1) / path.length)
    hollow = np.maximum(0.0, -turns)
    # A hem that is trued at a dart's mouth or square to its side bends at its ends alone: it isn't round.
    between = min(turns.mean(), turns[1:-1].mean() if len(turns) > 2 else turns.min())
    return _HemBends(max(0.0, float(turns.max())), float(hollow.max()), float(hollow.mean()), max(0.0, float(between)))
