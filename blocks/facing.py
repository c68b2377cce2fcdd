"""Facings: a strip shaped like the edge of an opening, sewn to it right sides together and turned to the inside.

Each piece round the opening gets its own facing: the edge itself and its parallel ``width`` mm inside the piece, drawn
from the facing's right side, which is the mirror image of the garment's. The facings are joined where the garment's
pieces are; at a closure their ends are left open, to be turned in beside it.
"""

from __future__ import annotations

import itertools
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from blocks.facing_in_one import FACED_IN_ONE, face_in_one
from blocks.facing_telling import tell_facing
from blocks.strips import refuse_missing
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import (
    LOCKSTITCH,
    Brief,
    Fact,
    Fate,
    Garment,
    Line,
    Opening,
    Piece,
    Role,
    Run,
    Seam,
    SeamKind,
    Section,
    Stage,
    Use,
    block,
    is_free,
    openings,
    option,
    same_corner,
)
from drafting.garment.darts import Dart, darts_of
from drafting.garment.deeds import TURNED_IN
from drafting.garment.model import INTERFACING
from drafting.geometry import Affine, Path, turn
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.mouths import folding
from drafting.redraw.onto import sew_edges
from drafting.saying import Name, cm, say, specify
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import ENDS

FACING_WIDTH = TradeValue(50.0, "mm", "common practice")
"""Finished width of a facing: 5 to 7 cm."""

NARROWEST_FACING = TradeValue(25.0, "mm", "common practice")
"""Least width of a facing: a narrower one would roll out."""


FACED: Final = SeamKind("facing", "the seam of a facing", tell_facing, stitch=LOCKSTITCH, by_edge=True, beside=True,
               lay=TURNED_IN, stiffened="facings", always_stiffened=True)  # fmt: skip
"""A facing sewn to its edge by lockstitch, which is understitched (common practice)."""


ARMHOLES = ("armhole-left", "armhole-right")
"""The openings of both armholes."""

FACED_OPENINGS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {"both": ("neck", *ARMHOLES), "neck": ("neck",), "armholes": ARMHOLES, "hem": ("hem",)}
)
"""Which openings each choice faces."""

NARROWED_BY = TradeValue(5.0, "mm", "from memory")
"""By which a facing is drawn narrower at a time, where its edge bends too tightly."""


@dataclass(frozen=True, slots=True)
class FacingOptions:
    """Options of the facings."""

    opening: str = option(
        'Which openings are faced: by rule, "open", the neck and in one with it what armholes have no sleeve; both in '
        "one, or one by itself; or a hem that curves too much to be turned up.",
        "choice", "open", choices=("open", "both", "neck", "armholes", "hem"),
    )  # fmt: skip
    width: float | None = option(
        say(
            "Width of the facings, of one for both how far it reaches below the underarm; by rule {usual}.",
            usual=cm(5),
        ),
        "length",
        None,
        low=20.0,
        high=120.0,
    )


@dataclass(frozen=True, slots=True)
class Faced:
    """What one piece round the opening gives its facing: its lines in ring order, and the facing's name."""

    piece: Piece
    uses: Run
    name: str

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines of the edge, as they lie with the darts in it sewn shut; those nearest to the centre stay."""
        lines = [self.piece.line(use.line) for use in self.uses]
        darts = [_dart_between(self.piece, one.name, two.name) for one, two in itertools.pairwise(lines)]
        if not any(darts):
            return tuple(lines)
        held = min(range(len(lines)), key=lambda i: min(abs(lines[i].path.start.x), abs(lines[i].path.end.x)))
        lies = [Affine() for _ in lines]
        for i in range(held + 1, len(lines)):
            lies[i] = _fold_over(darts[i - 1], True).then(lies[i - 1])
        for i in range(held - 1, -1, -1):
            lies[i] = _fold_over(darts[i], False).then(lies[i + 1])
        return tuple(replace(ln, path=ln.path.transformed(lie)) for ln, lie in zip(lines, lies, strict=True))

    @property
    def edge(self) -> Path:
        """The edge to be faced, as it lies with the darts in it sewn shut."""
        return Path.join(*(line.path for line in self.lines))


def _fold_over(dart: Dart | None, after: bool) -> Affine:
    """The turn that lays the edge after a dart onto the one before it, or the other way round."""
    if dart is None:
        return Affine()
    a, b = dart.mouth_a - dart.point, dart.mouth_b - dart.point
    return folding(dart) if after else Affine.turn(turn(a, b), dart.point)


def _dart_between(piece: Piece, before: str, after: str) -> Dart | None:
    """The dart that parts two lines; None where they follow each other, or where something else lies between."""
    first = piece.after(before)
    if first.role is not Role.DART:
        return None
    return next((dart for dart in darts_of(piece) if dart.called == first.dart), None)


def group_by_piece(garment: Garment, opening: Opening) -> tuple[tuple[Faced, ...], bool]:
    """Group an opening's edge by piece, the edges of a closure left out; and tell whether it goes all round.

    A dart in the edge is sewn before the facing is, so the edge runs on over it.
    """
    taken = {(use.piece, use.line) for seam in garment.seams for use in seam.uses()}
    run = [use for use in opening.run if (use.piece, use.line) not in taken]
    gap = _find_gap(garment, opening.run)
    whole = len(run) == len(opening.run) and gap is None
    start = run.index(gap) if gap in run else _start(garment, opening.run, taken, run)
    groups: list[list[Use]] = []
    for use in run[start:] + run[:start]:
        if groups and groups[-1][-1].piece == use.piece and _runs_on(garment, groups[-1][-1], use):
            groups[-1].append(use)
        else:
            groups.append([use])
    return tuple(_face_piece(garment, opening, tuple(group)) for group in groups), whole


def _find_gap(garment: Garment, run: Run) -> Use | None:
    """The first use of an edge that is open from end to end, as a hem is where a closure runs down to it."""
    meets = same_corner(garment)
    return next((use for before, use in zip((run[-1], *run), run, strict=False) if not meets(before, use)), None)


def _start(garment: Garment, run: Run, taken: set[tuple[str, str]], free: list[Use]) -> int:
    """Where the first group starts: after the closure, else where the edge passes to another piece."""
    for before, use in zip((run[-1], *run), run, strict=False):
        if use in free and (before.piece, before.line) in taken:
            return free.index(use)
    return next((i for i, use in enumerate(free) if not _runs_on(garment, free[i - 1], use)), 0)


def _runs_on(garment: Garment, one: Use, two: Use) -> bool:
    if one.piece != two.piece:
        return False
    piece = garment.piece(one.piece)
    dart = _dart_between(piece, one.line, two.line)
    last = one.line if dart is None else dart.lines[-1].name
    return piece.after(last).name == two.line


def _face_piece(garment: Garment, opening: Opening, uses: Run) -> Faced:
    piece = garment.piece(uses[0].piece)
    return Faced(piece, uses, f"{opening.name}-facing-{piece.name}")


def facing_piece(faced: Faced, opening: str, width: float) -> Piece:
    """Draw the facing of one piece from its right side: the mirror image of the strip inside the garment's edge."""
    edge = faced.edge
    try:
        inner = _inner_edge(edge, width)
    except GeometryError as error:
        raise CannotDraft(
            "width",
            say(
                "the edge of the {title:lower} bends too tightly for this width: {error}",
                title=faced.piece.title,
                error=error.words,
            ),
            help="make the facing narrower",
        ) from None
    inner = inner.mirrored()
    sewn_on = [
        Line(
            f"facing-{line.name}", line.path.mirrored().reversed(), line.role, line.side, line.face,
            ancestry=tuple(f"facing-{name}" for name in line.ancestry),
        )
        for line in reversed(faced.lines)
    ]  # fmt: skip
    ends = (sewn_on[-1].path.end, inner.start), (inner.end, sewn_on[0].path.start)
    edges = inner.cut_at([s for s, _ in inner.corners()])
    outer = Line("edge", inner, Role.EDGE, fate=Fate.RAW, opening=opening)
    ring = (
        *sewn_on,
        Line("end-a", Path.straight(*ends[0]), Role.END),
        *([outer] if len(edges) == 1 else [outer.part(i, path) for i, path in enumerate(edges)]),
        Line("end-b", Path.straight(*ends[1]), Role.END),
    )
    title = specify(
        say("{opening:spoken,capital} facing", opening=Name(opening)), say("{title:lower}", title=faced.piece.title)
    )
    return Piece(
        faced.name,
        title,
        ring,
        grain=faced.piece.grain,
        notes=("Cut in interfacing too.",),
        again=(INTERFACING,),
        laid=faced.piece.laid,
    )


def _inner_edge(edge: Path, width: float) -> Path:
    """The parallel of a faced edge; GeometryError where a fold takes an end of it, which is to meet the next facing."""
    inner = edge.offset(-width)
    for end, other in ((edge.start, inner.start), (edge.end, inner.end)):
        if abs(end.distance(other) - width) > TOLERANCE.offset:
            raise GeometryError("its end would be cut off")
    return inner


def face(garment: Garment, opening: Opening, width: float) -> Garment:
    """Draft the facings of an opening, join them to each other and sew them on."""
    parts, whole = group_by_piece(garment, opening)
    names = [part.name for part in parts]
    if len(set(names)) != len(names):
        raise CannotDraft(
            opening.name,
            say("other edges interrupt the {name:placed}", name=Name(opening.name)),
            help="leave out what parts it, or bind it",
            leave_out=True,
        )
    if not parts:
        raise CannotDraft(
            opening.name,
            say("all of the {name:placed} is the edges of what closes it", name=Name(opening.name)),
            help="sew the skirt to the bodice first (waist-seam), or leave out this block",
            leave_out=True,
        )
    pieces = [facing_piece(part, opening.name, width) for part in parts]
    joined = list(itertools.pairwise(parts)) + ([(parts[-1], parts[0])] if whole and len(parts) > 1 else [])
    ends = [_end(opening.name, i, one.name, two.name) for i, (one, two) in enumerate(joined, 1)]
    if whole and len(parts) == 1:
        ends = [_end(opening.name, 1, names[0], names[0])]
    if not whole:
        pieces = _open_ends(pieces, opening.name)
    sections = tuple(
        Section((part.uses, tuple(Use(part.name, f"facing-{use.line}", True) for use in part.uses)), (0.0, 0.0))
        for part in parts
    )
    title = say("{opening:spoken} facing", opening=Name(opening.name))
    seam = Seam(f"{opening.name}-facing", FACED, title, sections)
    uses = [use for part in parts for use in part.uses]
    return garment.with_(
        pieces=(*sew_edges(garment, uses), *pieces),
        seams=(*ends, seam),
        facts=[Fact(f"{opening.name}_facing_width", width, "mm", "choice", "parallel to the edge")],
    )


def _end(opening: str, number: int, one: str, two: str) -> Seam:
    """Join the end of one facing to the start of the next, from the sewn edge inwards."""
    plies = ((Use(one, "end-b", True),), (Use(two, "end-a"),))
    title = say("ends of the {opening:spoken} facing", opening=Name(opening))
    return Seam(f"{opening}-facing-end-{number}", ENDS, title, (Section(plies, (0.0, 0.0)),), stitch="301")


def _open_ends(pieces: list[Piece], opening: str) -> list[Piece]:
    """Leave the first start and the last end open: they are turned in beside the closure."""

    def freed(piece: Piece, name: str) -> Piece:
        ring = tuple(replace(ln, opening=opening) if ln.name == name else ln for ln in piece.ring)
        return replace(piece, ring=ring)

    out = [freed(pieces[0], "end-a"), *pieces[1:]]
    out[-1] = freed(out[-1], "end-b")
    return out


@block(
    "facing",
    "Facings shaped like the neck and the armholes, or like the hem, sewn to them and turned inside.",
    Stage.EDGE,
    kinds=(FACED, FACED_IN_ONE, ENDS),
    mends=(
        Mend("hem-curved", 'face it: block = "{change}", opening = "hem" under [blocks.hem-facing]'),
        Mend(
            "armhole-curved",
            'face it: opening = "both" where block = "{change}" faces the neck, else "armholes" in one of its own; or '
            "bind it on the bias",
        ),
    ),
)
def draft_facings(garment: Garment, brief: Brief, o: FacingOptions) -> Garment:
    """Face the neck, the armholes, or both; or the hem."""
    there = {opening.name: opening for opening in openings(garment) if is_free(garment, opening)}
    names = FACED_OPENINGS[o.opening] if o.opening != "open" else _list_open(garment, there)
    _refuse_vents(garment, there, names)
    for name in names:
        if name not in there:
            missing = refuse_missing(garment, name, "face")
            if o.opening == "both" and name != "neck" and "neck" in there:
                help = 'write opening = "neck" for it: the neck alone is faced then'
                raise CannotDraft("opening", missing.reason, help=help)
            raise missing
    if names == FACED_OPENINGS["both"]:
        whole = face_in_one(garment, [there[name] for name in names], o.width or FACING_WIDTH)
        if whole is not None:
            return whole
    if o.opening == "hem" and o.width is None:
        return face_as_wide_as_bends_allow(garment, there["hem"])
    width = o.width if o.width is not None else width_by_rule(garment, len(names) > 1)
    for name in names:
        garment = face(garment, there[name], width)
    return garment


def _list_open(garment: Garment, there: Collection[str]) -> tuple[str, ...]:
    """The neck, and the armholes that are open but for a band that a later step sews on."""
    banded = {f"armhole-{side}" for side, _ in garment.banded}
    return ("neck", *(name for name in ARMHOLES if name in there and name not in banded))


def face_as_wide_as_bends_allow(garment: Garment, opening: Opening) -> Garment:
    """Face an opening 5 cm wide, or less where its edge bends too tightly, down to the least width of a facing.

    CannotDraft where it bends too tightly for that.
    """
    edges = [part.edge for part in group_by_piece(garment, opening)[0]]
    width = float(FACING_WIDTH)
    while not all(_ends_square(edge, width) for edge in edges):
        width -= NARROWED_BY
        if width < NARROWEST_FACING:
            reason = say("the {name:placed} bends too tightly to be faced", name=Name(opening.name))
            help = "leave its facing out, and turn a narrow hem; or let the garment end where its sides are straighter"
            raise CannotDraft("opening", reason, help=help, leave_out=True)
    return face(garment, opening, width)


def _ends_square(edge: Path, width: float) -> bool:
    """Whether the parallel of an edge runs on in the facings beside it."""
    try:
        inner = _inner_edge(edge, width)
    except GeometryError:
        return False
    turns = (turn(edge.tangent(s), inner.tangent(t)) for s, t in ((0.0, 0.0), (edge.length, inner.length)))
    return all(abs(by) < TOLERANCE.smooth_join / 2.0 for by in turns)


def _refuse_vents(garment: Garment, there: Mapping[str, Opening], names: Sequence[str]) -> None:
    """Refuse a hem whose edges turn up into vents: a facing would have to turn into each."""
    uses = (use for name in names if name == "hem" and name in there for use in there[name].run)
    if any(garment.line(use).role is not Role.HEM for use in uses):
        help = "leave out the vents or the facing"
        raise CannotDraft("opening", "a facing of the hem can't go round a vent", help=help, leave_out=True)


def width_by_rule(garment: Garment, both: bool) -> float:
    """Return 5 cm, or, where neck and armhole are both faced, what leaves them side by side on the shoulder."""
    shoulders = [ln.path.length for p in garment.pieces if p.face for ln in p.lines(role=Role.SHOULDER)]
    room = (min(shoulders) - TOLERANCE.sewn_length) / 2.0 if both and shoulders else FACING_WIDTH
    return max(NARROWEST_FACING, min(FACING_WIDTH, room))
