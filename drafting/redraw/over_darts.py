"""Work on an edge over the darts in it: each is folded shut and opened elsewhere, and turned back when all is done.

A line that a dart parts is then one again, so that a change draws it by one recipe with a dart or without. The dart
keeps its apex, its angle there and its legs' equality, for both ways are turns about its apex (common practice: close
the dart, draw the edge, open the dart).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import Face, Garment, Piece, Role, Run, Side
from drafting.garment.darts import Dart, darts_of, mouth_edges
from drafting.garment.places import lines_along, spot
from drafting.geometry import Point
from drafting.record import dataclass
from drafting.redraw.dart_work import find_darts, turn_dart
from drafting.redraw.mouths import true_about
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row

FROM_END = TradeValue(15.0, "mm", "from memory")
"""Of edge that are left between a dart's mouth and the end of its edge: less can't be sewn."""

NECK, ARM = (Role.SHOULDER, Role.NECKLINE), (Role.SHOULDER, Role.ARMHOLE)
"""The edges that are drawn again when a neckline is, and when an armhole is."""

PARKED = trade_row((0.3, 0.5, 0.7), "share", "from memory")
"""Of another edge at which a dart is put out of the way of a change, tried in turn."""
_AWAY: Mapping[Face, Sequence[Role]] = MappingProxyType(
    {
        Face.FRONT: (Role.ARMHOLE, Role.SIDE, Role.NECKLINE, Role.WAIST, Role.HEM),
        Face.BACK: (Role.ARMHOLE, Role.NECKLINE, Role.SIDE, Role.WAIST, Role.HEM),
    }
)
"""Where a dart is turned to meanwhile, the first that serves: blocks draw armholes with a bust dart in the side and the
back shoulder's dart open."""


@dataclass(frozen=True, slots=True)
class Aside:
    """A dart that was turned away: its name and side, the edge that it lay in, where there, and its set back."""

    dart: str
    side: Side
    role: Role
    at: Point
    share: float
    set_back: float


def work_over_darts(
    garment: Garment,
    sides: Sequence[Side],
    face: Face,
    edges: Sequence[Role],
    work: Callable[[Garment], Garment],
    kept: Sequence[Role] = (),
) -> Garment:
    """Return the garment with something done to edges of a face as they lie with the darts in them folded shut.

    No dart is turned to the edges ``kept``, which the work needs whole. CannotDraft where a dart can't be turned away,
    or back to an edge that has become too short for it.
    """
    was, aside = garment, list[Aside]()
    for side in sides:
        for name in [dart.name for _, dart, _ in _darts(garment, side, face, edges)]:
            garment, one = _turn_away(garment, side, face, name, edges, (*edges, *kept))
            aside.append(one)
    garment = work(garment)
    for one in reversed(aside):
        garment = _turn_back(garment, face, one)
    return _as_they_were(was, garment) if aside else garment


def _as_they_were(was: Garment, garment: Garment) -> Garment:
    """Give lines that are the same curves again their old paths: a dart that lay in one has left a joint in it."""

    def same(piece: Piece) -> Piece:
        old = {line.name: line.path for line in was.piece(piece.name).ring} if was.has_piece(piece.name) else {}
        ring = tuple(
            replace(ln, path=old[ln.name]) if ln.name in old and ln.path.same_as(old[ln.name]) else ln
            for ln in piece.ring
        )
        return replace(piece, ring=ring)

    return garment.with_(pieces=[same(piece) for piece in garment.pieces if piece.ring])


def _darts(garment: Garment, side: Side, face: Face, edges: Sequence[Role]) -> Iterator[tuple[Piece, Dart, Role]]:
    """The darts whose mouths lie in these edges of a half."""
    for piece in garment.pieces:
        if piece.face is not face:
            continue
        for dart in darts_of(piece):
            if dart.inside:
                continue
            beside = mouth_edges(piece, dart)
            if beside[0].role is beside[1].role and beside[0].role in edges and beside[0].side is side:
                yield piece, dart, beside[0].role


def _find_dart(garment: Garment, name: str) -> Dart:
    return find_darts(garment, name, "both")[0]


def _turn_away(
    garment: Garment, side: Side, face: Face, name: str, edges: Sequence[Role], kept: Sequence[Role]
) -> tuple[Garment, Aside]:
    """Turn a dart to the first edge of its piece that a straight way leads to and that stays as it is."""
    one = _find_dart(garment, name)
    role = next(role for _, dart, role in _darts(garment, side, face, edges) if dart.name == name)
    share = _share(garment, one, role, side, face)
    for word in _AWAY[face]:
        run = _run_of_piece(garment, one.piece, word, side, face)
        for there in PARKED if run and word not in kept else ():
            try:
                made = turn_dart(garment, one, spot(garment, run, there).place)
            except DraftingError:
                continue
            at = spot(made, _run_of_piece(made, one.piece, role, side, face), share).point(made)
            return made, Aside(name, side, role, at, share, one.set_back)
    raise CannotDraft(
        name, say("the {title} can't be folded shut to draw its edge again", title=one.title),
        help="make this change before the dart is turned there",
    )  # fmt: skip


def _run_of_piece(garment: Garment, piece: str, role: Role, side: Side, face: Face) -> Run:
    return tuple(use for use in lines_along(garment, role, side, face) if use.piece == piece)


def _share(garment: Garment, one: Dart, role: Role, side: Side, face: Face) -> float:
    """The share of its edge at which a dart's mouth lies, the edge as it is with the dart folded shut."""
    flat = true_about(garment.piece(one.piece), one, one.apex)
    before, after = mouth_edges(flat, one)
    run = _run_of_piece(garment, flat.name, role, side, face)
    names = [use.line for use in run]
    first = min(names.index(before.name), names.index(after.name))
    lengths = [flat.line(name).path.length for name in names]
    return sum(lengths[: first + 1]) / sum(lengths)


def _turn_back(garment: Garment, face: Face, aside: Aside) -> Garment:
    """Turn a dart back to where its mouth lay; where the edge doesn't run there any more, to the same share of it."""
    one = _find_dart(garment, aside.dart)
    run = _run_of_piece(garment, one.piece, aside.role, aside.side, face)
    length, so_far = garment.run_length(run), 0.0
    want = aside.share * length
    for use in run:
        path = garment.path(use)
        s, off = path.nearest(aside.at)
        if off <= TOLERANCE.joint:
            want = so_far + s
        so_far += path.length
    if length < 2.0 * FROM_END:
        raise CannotDraft(
            aside.dart,
            say(
                "{is_length} of the {side} {role} are too short for the {title}",
                is_length=mm(length),
                side=aside.side,
                role=aside.role,
                title=one.title,
            ),
            short_by=2.0 * FROM_END - length,
            help="turn the dart elsewhere before",
        )
    if not FROM_END <= want <= length - FROM_END:
        want = length / 2.0
    try:
        return turn_dart(garment, one, spot(garment, run, want / length).place, aside.set_back)
    except DraftingError as error:
        raise CannotDraft(
            aside.dart,
            say(
                "the {title} can't be opened again in the {role}: {error}",
                title=one.title,
                role=aside.role,
                error=error.words,
            ),
            help="turn the dart elsewhere before",
        ) from None
