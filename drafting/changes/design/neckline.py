"""Another neckline: its shape and depth on front and back, and how far it is opened along the shoulders.

Depths are taken at the centre from the neck base, widths along the shoulder from the side neck point, as in the knit
bodice; both follow from the half width of the close neck that the bodice found for the neck base girth.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from drafting.cloth import Kind
from drafting.errors import CannotDraft, GeometryError
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    Line,
    LineLength,
    Role,
    Side,
    Stage,
    change,
    option,
    shift_aim,
    side_option,
    sides_of,
)
from drafting.garment.ruled import NECKLINE_DROP
from drafting.garment.told import Ruled
from drafting.geometry import Path, Point
from drafting.mending import Mend, mend_wavering
from drafting.record import dataclass
from drafting.redraw.halves import Half, find_half, refuse_narrow_strap, shoulder_of
from drafting.redraw.neckline_lines import (
    USUAL_NECKLINES,
    centre_of,
    has_neckline,
    lean_kept,
    lower_centre,
    open_by_rule,
    put_neckline,
    refuse_ends,
    refuse_shape,
    shape_now,
    with_neckline,
)
from drafting.redraw.over_darts import NECK, work_over_darts
from drafting.redraw.shapes import (
    SHORTEST_SHOULDER,
    TIGHTEST,
    Neckline,
    lean_wanted,
    like_half,
    neck_points,
    neckline_parts,
    share_lean,
)
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

TIGHTEST_WOVEN = TradeValue(10.5, "mm", "common practice")
"""Of radius at least of a neckline in woven cloth: a facing's seam has an allowance of 1 cm."""

_SHAPES = ("", "round", "scoop", "v", "square", "boat")


@dataclass(frozen=True, slots=True)
class NecklineOptions:
    """Options of the change of neckline."""

    front: str = option(
        "Shape of the front neckline; empty keeps the one there is.",
        "choice",
        "",
        choices=_SHAPES,
        shapes=Role.NECKLINE,
    )
    back: str = option(
        "Shape of the back neckline; empty keeps the one there is.", "choice", "", choices=_SHAPES, shapes=Role.NECKLINE
    )
    front_depth: float | None = option(
        "How far the front neckline lies below the neck base; by rule what is usual for a new shape.",
        "length", None, low=-20.0, high=250.0, shapes=Role.NECKLINE,
    )  # fmt: skip
    back_depth: float | None = option(
        "How far the back neckline lies below the neck base; by rule what is usual for a new shape.",
        "length", None, low=-5.0, high=250.0, shapes=Role.NECKLINE,
    )  # fmt: skip
    widen: float | None = option(
        "How far along the shoulder the neckline is opened; by rule what is usual for a new shape.",
        "length", None, low=0.0, high=120.0,
    )  # fmt: skip
    side: str = side_option("Which shoulder is opened so far; shapes and depths are changed on both sides.")

    def shape(self, face: Face) -> str:
        """The shape asked for on a face, or an empty text."""
        return self.front if face is Face.FRONT else self.back

    def drop(self, face: Face) -> float | None:
        """The depth asked for on a face or usual for the shape asked for, or None to keep it."""
        given = self.front_depth if face is Face.FRONT else self.back_depth
        usual = USUAL_NECKLINES.get(self.shape(face))
        if given is not None or usual is None:
            return given
        return usual.front_depth if face is Face.FRONT else usual.back_depth

    def lowered(self, face: Face, drop: float) -> NecklineOptions:
        """The same with a depth for a face."""
        return replace(self, front_depth=drop) if face is Face.FRONT else replace(self, back_depth=drop)

    def opens(self, side: Side) -> bool:
        """Whether an opening along a shoulder is asked for, or goes with the shape that is."""
        return side in sides_of(self.side) and (self.widen is not None or bool(self.front or self.back))


@dataclass(frozen=True, slots=True)
class WantedNeckline:
    """What is asked of one half (mm).

    ``base`` is the height (y) of the neck base at the centre, from which depths are taken, ``wider`` how far the
    shoulder's neck end moves out, ``tightest`` the least radius that can be sewn; ``asked`` whether the face is asked
    for, or only goes with its shoulders; ``lean`` by how much (rad) it leaves the shoulder other than square.
    """

    options: NecklineOptions
    base: float
    wider: float
    tightest: float
    asked: bool
    lean: float = 0.0

    @property
    def drawn(self) -> bool:
        """Whether the half is drawn again for its own sake."""
        return self.asked or self.wider != 0.0


def neck_width(garment: Garment) -> float:
    """Return the half width of the close neck (mm); CannotDraft where no block has found one."""
    if garment.neck_base is not None:
        return garment.neck_base.half_width
    if not any(piece.lines(role=Role.NECKLINE) for piece in garment.pieces):
        raise CannotDraft(
            "", "there is no bodice, so no neck base to draw it from", help="let the design have a bodice"
        )
    raise CannotDraft("neck_base_girth", "the garment doesn't say where the neck base lies")


def _opening(garment: Garment, brief: Brief, o: NecklineOptions, side: Side, width: float) -> tuple[float, float]:
    """How far (mm) a shoulder is to be opened from the side neck point, and by how much its neck end moves for that.

    It moves on front and back alike, which is told on the back: there the side neck point lies over the back neck point
    by the rule of the neck base on every block.
    """
    found: list[float] = []

    def look(flat: Garment) -> Garment:
        outer, neck = shoulder_of(find_half(flat, side, Face.BACK))
        now = (neck - neck_points(width, Face.BACK)[0]).dot((outer - neck).unit)
        half = find_half(flat, side, Face.FRONT if o.front else Face.BACK)
        there = shape_now(lines, half) if (lines := half.lines(Role.NECKLINE)) else ""
        asked = open_by_rule(o.front or o.back, there, now, brief.body.rules) if o.widen is None else o.widen
        found.extend((asked, asked - now))
        return flat

    work_over_darts(garment, (side,), Face.BACK, NECK, look)
    asked, by = found
    return asked, by if abs(by) > TOLERANCE.joint else 0.0


def _ends(half: Half, wanted: WantedNeckline, follows: bool) -> tuple[Point, Point]:
    """Return the shoulder point and the centre point that the half's neckline is to have.

    A centre for which no depth is told stays, or ``follows`` its shoulder point down.
    """
    outer, neck = shoulder_of(half)
    drop, wider = wanted.options.drop(half.face), wanted.wider
    if wider:
        along = (outer - neck).unit
        neck = neck + along * wider
        remains = (outer - neck).dot(along)
        if remains < SHORTEST_SHOULDER:
            raise CannotDraft(
                f"shoulder-{half.side}",
                say(
                    "a neckline opened {wider} more leaves {remains} of the {side} shoulder",
                    wider=mm(wider),
                    remains=mm(max(remains, 0.0)),
                    side=half.side,
                ),
                short_by=SHORTEST_SHOULDER - remains,
                help=say("leave {shortest_shoulder} at least", shortest_shoulder=mm(SHORTEST_SHOULDER)),
            )
    now = half.on_plus_x(half.lines(Role.NECKLINE)[-1].path).end
    if follows:
        now = now + Point(0.0, neck.y - shoulder_of(half)[1].y)
    return neck, now if drop is None else Point(0.0, wanted.base - drop)


def _draw_parts(
    half: Half, lines: Sequence[Line], shape: str, ends: tuple[Point, Point], slope: float
) -> tuple[tuple[str, Path], ...]:
    if shape:
        return neckline_parts(Neckline(shape, *ends), slope)
    try:
        return (("", like_half(half.on_plus_x(lines[0].path), *ends, slope).path),)
    except GeometryError:
        raise CannotDraft(
            lines[0].name,
            say("the {side} {face} neckline has no plain shape that could be kept", side=half.side, face=half.face),
            help=say("say which shape the {face} is to have", face=half.face),
        ) from None


def redraw_neckline(half: Half, wanted: WantedNeckline) -> Half:
    """Return the half with its neckline, and its shoulder's neck end, as wanted.

    Where only the opening is asked for, and that leaves the neckline too shallow, it goes down with its shoulder point.
    """
    if not half.lines(Role.NECKLINE):
        raise CannotDraft(
            f"neckline-{half.side}", say("the {side} {face} has no neckline", side=half.side, face=half.face)
        )
    try:
        return _redraw_half(half, wanted, False)
    except CannotDraft:
        o = wanted.options
        if o.shape(half.face) or o.drop(half.face) is not None or wanted.wider < 0.0:
            raise
    return _redraw_half(half, wanted, True)


def _redraw_half(half: Half, wanted: WantedNeckline, follows: bool) -> Half:
    o, lines = wanted.options, half.lines(Role.NECKLINE)
    ends = _ends(half, wanted, follows)
    outer, neck = shoulder_of(half)
    down = outer - neck
    refuse_ends(half, ends, wanted.base)
    shape = o.shape(half.face) or shape_now(lines, half)
    parts = _draw_parts(half, lines, shape, ends, wanted.lean - down.angle)
    refuse_shape(half, shape, parts, wanted.tightest)
    if not ends[0].near(neck):
        half = half.with_paths({half.line(Role.SHOULDER).name: Path.straight(outer, ends[0])})
    new = with_neckline(half, lines, parts)
    refuse_narrow_strap(new)
    return new


@change(
    "neckline",
    "Another neckline: round, scoop, V, square or boat, its depth and how far it is opened.",
    Stage.SHAPE,
    mends=(
        Mend("toile-neckline-gapes", "front_depth = what it was, less how far the edge should rise"),
        *mend_wavering(Role.NECKLINE),
    ),
)
def shape_neckline(garment: Garment, brief: Brief, o: NecklineOptions) -> Garment:
    """Draw the necklines again, and let the shoulders' neck ends follow."""
    if o == NecklineOptions(side=o.side):
        raise CannotDraft(("front", "back"), "it asks for nothing", help="give a shape, a depth or an opening")
    width = neck_width(garment)
    wider = dict.fromkeys((Side.LEFT, Side.RIGHT), 0.0)
    for side in filter(o.opens, wider):
        opened, wider[side] = _opening(garment, brief, o, side, width)
        garment = _tell_shoulder(garment, side, opened, wider[side])
    wanted = {face: _plan_halves(garment, brief, o, face, wider) for face in (Face.FRONT, Face.BACK)}
    for face, leans in _leans(garment, wanted).items():
        each = {side: replace(one, lean=_lean_of(garment, leans, side, face)) for side, one in wanted[face].items()}
        sides = [side for side, one in each.items() if one.drawn or side in leans]
        if sides:
            work = partial(_draw_face, face=face, wanted=each, sides=sides, base=_base(garment, face))
            garment = work_over_darts(garment, sides if each[sides[0]].asked else tuple(each), face, NECK, work)
    return garment.with_(facts=_facts(o))


def _leans(
    garment: Garment, wanted: Mapping[Face, Mapping[Side, WantedNeckline]]
) -> Mapping[Face, Mapping[Side, float]]:
    """By how much (rad) each neckline that is drawn turns from square to its shoulder, so that front and back run on.

    A deep one turns out and the other face's in, which is drawn again for it; so it is for a new shape, that what was
    there before it leaves nothing behind. Else what is drawn runs on in what is kept.
    """
    leans: dict[Face, dict[Side, float]] = {face: {} for face in wanted}
    for side in (Side.LEFT, Side.RIGHT):
        drawn = [face for face, each in wanted.items() if each[side].drawn]
        if not drawn or not all(has_neckline(garment, side, face) for face in wanted):
            continue
        out = share_lean(*(_lean_wanted(garment, each[side], side, face) for face, each in wanted.items()))
        by = {Face.FRONT: -out, Face.BACK: out}
        if len(drawn) == 1 and not wanted[drawn[0]][side].options.shape(drawn[0]):
            kept = lean_kept(garment, side, Face.BACK if drawn[0] is Face.FRONT else Face.FRONT)
            if kept - by[drawn[0]] <= TOLERANCE.tangent:
                by = {drawn[0]: kept}
        for face, lean in by.items():
            leans[face][side] = lean
    return leans


def _lean_of(garment: Garment, leans: Mapping[Side, float], side: Side, face: Face) -> float:
    """By how much (rad) a half leaves its shoulder other than square; one that only follows runs on as it did."""
    other = Face.BACK if face is Face.FRONT else Face.FRONT
    if side in leans or not has_neckline(garment, side, other):
        return leans.get(side, 0.0)
    return lean_kept(garment, side, other)


def _lean_wanted(garment: Garment, wanted: WantedNeckline, side: Side, face: Face) -> float:
    """By how much (rad) a neckline as wanted, or as it is, should turn out from square to its shoulder."""
    found: list[float] = []

    def look(flat: Garment) -> Garment:
        half = find_half(flat, side, face)
        outer, neck = shoulder_of(half)
        shape = wanted.options.shape(face) or shape_now(half.lines(Role.NECKLINE), half)
        found.append(lean_wanted(Neckline(shape, *_ends(half, wanted, False)), -(outer - neck).angle))
        return flat

    work_over_darts(garment, (side,), face, NECK, look)
    return found[0]


def _plan_halves(
    garment: Garment, brief: Brief, o: NecklineOptions, face: Face, wider: Mapping[Side, float]
) -> dict[Side, WantedNeckline]:
    asked, tightest = o.drop(face) is not None or o.shape(face) != "", _least_radius(brief)
    return {side: WantedNeckline(o, _base(garment, face), by, tightest, asked) for side, by in wider.items()}


def _draw_face(
    garment: Garment, face: Face, wanted: Mapping[Side, WantedNeckline], sides: Sequence[Side], base: float
) -> Garment:
    """The garment with the halves of a face that are asked for drawn again, its darts folded shut.

    Where the neckline of one side has followed its shoulder down, the other goes with it.
    """
    made = _all(garment, sides, face, [wanted[side] for side in sides])
    low = None if wanted[sides[0]].asked else lower_centre(made, face)
    if low is None:
        return made
    lowered = {side: replace(each, options=each.options.lowered(face, base - low)) for side, each in wanted.items()}
    return _all(garment, tuple(lowered), face, tuple(lowered.values()))


def _least_radius(brief: Brief) -> float:
    return TIGHTEST if brief.cloth.kind is Kind.KNIT else TIGHTEST_WOVEN


def _all(garment: Garment, sides: Sequence[Side], face: Face, wanted: Sequence[WantedNeckline]) -> Garment:
    for side, each in zip(sides, wanted, strict=True):
        garment = _put_and_note(garment, find_half(garment, side, face), each)
    return garment


def _put_and_note(garment: Garment, half: Half, wanted: WantedNeckline) -> Garment:
    side, face = half.side, half.face
    new = redraw_neckline(half, wanted)
    lower = centre_of(half) - centre_of(new)
    garment = put_neckline(garment, half, new)
    if wanted.asked or lower <= TOLERANCE.joint:
        return garment
    told = say(
        "the {side} {face} neckline, kept as deep as it was below its shoulder point",
        side=side,
        face=face,
    )
    return garment.with_(facts=(Fact(f"neckline_lowered_{face}_{side}", lower, "mm", "rule", told),))


def _base(garment: Garment, face: Face) -> float:
    """The height (y, mm) of the neck base at the centre; CannotDraft where no block has found one."""
    neck_width(garment)
    assert garment.neck_base is not None
    return garment.neck_base.centre(face)


def _tell_shoulder(garment: Garment, side: Side, opened: float, wider: float) -> Garment:
    """Let the aim for a shoulder follow what is asked of it, and tell how far it is opened."""
    garment = shift_aim(garment, LineLength(f"shoulder-{side}"), -wider)
    told = say("the {side} shoulder is opened so far from the side neck point", side=side)
    return garment.with_(facts=(Fact(f"neckline_opened_{side}", opened, "mm", "choice", told),))


def _facts(o: NecklineOptions) -> tuple[Fact, ...]:
    drops = ((face, o.shape(face), o.drop(face)) for face in (Face.FRONT, Face.BACK))
    return tuple(
        Fact(f"neckline_drop_{face}", drop, "mm", "choice", f"{shape or 'kept'} neckline, below the neck base", told)
        for face, shape, drop in drops
        if drop is not None
        for told in [Ruled(NECKLINE_DROP, face.value)]
    )
