"""Closure: a centre back or a side seam left open over a length, for a zip or for buttons, so that the body can pass.

The edges of the opening bound the neck, the waist or a placket of its own, and are each sewn to the zip: a seam of
one layer, of the kind "closure". How long it must be follows from what has to pass: at its lower end the garment,
stretched, must go over the hips. Buttons and their buttonholes are marked along the edges (``buttons``).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Closure,
    ClosureEnd,
    Face,
    Fact,
    Garment,
    Piece,
    Role,
    Run,
    Seam,
    Section,
    Side,
    Stage,
    change,
    choice_option,
    option,
)
from drafting.garment.carry import with_features
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.buttons import Buttons, mark_buttons
from drafting.redraw.centre import with_centre_back
from drafting.redraw.closing import BUTTONED, ZIPPED, stand_of
from drafting.redraw.heights import level_height, skirt_pieces
from drafting.redraw.opening import Chain, SeamStretch, open_edges, seams_at
from drafting.saying import mm, say
from drafting.sides import side_or_word
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import STYLE

CLOSED_BELOW_UNDERARM = TradeValue(50.0, "mm", "from memory")
"""Of side seam left sewn between a side closure and the armhole."""

EASED_ONTO_ZIP = TradeValue(0.03, "share", "from memory")
"""Of an edge that may be eased onto a zip or a placket."""

SHORTEST_CLOSURE = TradeValue(60.0, "mm", "from memory")
"""Of closure at least: a shorter one opens nothing worth opening."""

CLOSURE_SPARE = TradeValue(10.0, "mm", "from memory")
"""By which a closure is longer than what just passes; it is then rounded up to whole centimetres."""

CLOSES: Mapping[str, str] = MappingProxyType({"zip": "zip", "buttons": "opening"})
"""What ends at the mark of a closure's end, by its kind."""

WHOLE_LENGTH = TradeValue(10.0, "mm", "from memory")
"""To which the length of a closure is rounded up."""

SKIRT_OPENING = TradeValue(0.85, "share", "common practice")
"""Of the height from waist to hip that a skirt opens over at least: zips of 18 to 20 cm."""


@dataclass(frozen=True, slots=True)
class ClosureOptions:
    """Options of the closure."""

    place: str = choice_option(
        "Where the garment opens.", "back", ("back", "left", "right"),
        ((
            "front", "the front can't be opened: neither its edges' stands nor their facing is drafted. Open the back "
            "or a side; a knit that is pulled on needs no opening",
        ),),
    )  # fmt: skip
    kind: str = option("What closes it.", "choice", "zip", choices=("zip", "buttons"))
    length: float | None = option(
        "How far it is open below the waist (without a waist seam: below the neck); by rule until the hips pass, at "
        "about hip level, or to the lower edge of a bodice that doesn't pass over the bust.",
        "length",
        None,
        low=SHORTEST_CLOSURE,
        high=700.0,
    )
    button: float = option("Diameter of a button.", "length", 12.0, low=6.0, high=40.0)
    apart: float = option(
        "About how far apart the buttons are; a little more or less, so that one lies at the bust.",
        "length", 80.0, low=25.0, high=150.0,
    )  # fmt: skip
    over: str = option(
        "Which edge lies on top and has the buttonholes; usual is right over left for women and left over right for "
        "men, and at a side front over back.",
        "choice", "usual", choices=("usual", "left", "right", "front", "back"),
    )  # fmt: skip
    buttonholes: str = option(
        "Whether buttonholes lie across the edge or along it.", "choice", "across", choices=("across", "along")
    )


@change(
    "closure",
    "Opens the centre back or a side seam for a zip or buttons, as far as the body needs to pass.",
    Stage.OPENING,
    kinds=(ZIPPED, BUTTONED, STYLE),
    mends=(
        Mend("opening-tight", 'add the change that opens it: change = "{change}", place = {places}'),
        Mend(
            "closure-short",
            'make the closure longer: give the change "{change}" a greater length, or none, to leave it to rule',
        ),
        Mend(
            "closure-short-at",
            'make the closure longer: give the change "{change}" at place = "{place}" a greater length, or none, to '
            "leave it to rule",
        ),
    ),
)
def open_closure(garment: Garment, brief: Brief, o: ClosureOptions) -> Garment:
    """Part the centre back if need be, and open the seam."""
    if any(closure.place == o.place for closure in garment.closures):
        raise CannotDraft(
            "place",
            say("there is a closure at the {place} already", place=o.place),
            help="a place has one closure: leave one of the two out",
        )
    garment = with_centre_back(garment) if o.place == "back" else garment
    upper, lower = seams_at(garment, o.place)
    if lower is None and upper is None:
        raise CannotDraft(
            "place", say("there is no seam at the {place} to be opened", place=o.place), help="choose another place"
        )
    through = lower is None and upper is not None and _runs_through(garment, brief, o, upper.end)
    depth = upper.end if through and upper is not None else _depth(garment, brief, o, upper, lower)
    opening = _opening_name(upper, lower, o.place)
    stretches = _stretches(garment, o, upper, lower, depth, through)
    _refuse_gathered(garment, stretches, o.place)
    garment, opened = open_edges(garment, stretches, opening)
    passes = None if lower is None else girth_below_waist(garment, depth)
    row = Buttons(o.button, o.apart, o.buttonholes == "across")
    edges = _closing(garment, opened, o, row)
    closure = Closure(_place(o), (edges[0].name, edges[1].name), passes)
    garment = garment.with_(seams=edges, facts=_facts(garment, o, opened, passes))
    if o.kind == "buttons":
        garment = mark_buttons(garment, *_lap_edges(garment, brief, o, opened), row)
        closure = replace(closure, button=row.diameter, hole=row.hole)
    garment = _mark_end(garment, opened, o.kind)
    own = () if opening in ("neck", "waist", "hem") else (opening,)
    return garment.with_(closures=(closure,), openings=(*garment.openings, *own))


def _mark_end(garment: Garment, opened: tuple[Run, Run], kind: str) -> Garment:
    """The garment with the lower end of the opening marked on both edges, where a seam runs on below it."""
    for run in opened:
        last = run[-1]
        at, piece = garment.path(last).end, garment.piece(last.piece)
        beyond = (piece.before if last.against else piece.after)(last.line)
        if beyond.role is garment.line(last).role:
            garment = garment.with_(pieces=[with_features(piece, (ClosureEnd(f"{CLOSES[kind]}-end", at),))])
    return garment


def _place(o: ClosureOptions) -> Side | Face:
    return Face.BACK if o.place == "back" else Side(o.place)


def _depth(garment: Garment, brief: Brief, o: ClosureOptions, upper: Chain | None, lower: Chain | None) -> float:
    """How far the closure reaches below the waist, or below the neck of a bodice alone (mm)."""
    if o.length is not None:
        return o.length
    if lower is None:
        assert upper is not None
        whole = upper.end - CLOSED_BELOW_UNDERARM
        return min(whole, _to_hip(garment, upper)) if o.place == "back" else whole
    stretch = brief.cloth.stretch_round
    need = brief.body["hip_girth"] / (1.0 + stretch)
    step, limit = 5.0, math.floor(lower.end - CLOSED_BELOW_UNDERARM)
    depth = max(
        (need - girth_below_waist(garment, 0.0)) / 2.0, brief.body["waist_to_hip"] * SKIRT_OPENING - CLOSURE_SPARE, 0.0
    )
    while depth < limit and girth_below_waist(garment, depth) < need:
        depth += step
    above = 0.0 if upper is None else upper.end - (0.0 if o.place == "back" else CLOSED_BELOW_UNDERARM)
    return min(_round_up(above + depth + CLOSURE_SPARE) - above, limit)


def _round_up(length: float) -> float:
    """A length in whole centimetres, as zips are sold."""
    return math.ceil(length / WHOLE_LENGTH - TOLERANCE.joint) * WHOLE_LENGTH


def _runs_through(garment: Garment, brief: Brief, o: ClosureOptions, whole: float) -> bool:
    """Whether a back is open to its very edge: where its whole length is asked for, to half a centimetre, or by rule.

    By rule it is one above the hip that no bust passes, as the waist of a woven: its hem or, a little above that, its
    waist.
    """
    if o.place == "back" and o.length is not None:
        return abs(o.length - whole) <= WHOLE_LENGTH / 2.0
    if o.place != "back" or any(level.name == "hip" for piece in garment.pieces for level in piece.levels):
        return False
    hem = math.fsum(
        line.path.length for piece in garment.pieces if piece.face for line in piece.ring if line.opening == "hem"
    )
    stretch = brief.cloth.stretch_round
    return 0.0 < min(hem, _waist_level(garment) or hem) * (1.0 + stretch) < brief.body["bust_girth"]


def _waist_level(garment: Garment) -> float:
    """The girth (mm) of a bodice at its waist's level, 0 where it doesn't reach there."""
    levels = (level for piece in garment.pieces if piece.face for level in piece.levels if level.name == "waist")
    return math.fsum(level.path.length for level in levels)


def _to_hip(garment: Garment, upper: Chain) -> float:
    """How far below the neck a closure ends that the hips pass: about at hip level, in whole centimetres."""
    hip = level_height((piece for piece in garment.pieces if piece.face is Face.BACK), "hip")
    first = garment.seam(upper.parts[0].seam).sections[upper.parts[0].section]
    top = max(garment.line(use).path.bounds[3] for use in first.plies[0])
    return upper.end if hip is None else _round_up(top - hip)


YOKE_STEP = TradeValue(5.0, "mm", "derived", "a skirt widens by less than a tape shows over it")
"""Down a skirt with a yoke, between two heights at which it is measured."""


def girth_below_waist(garment: Garment, depth: float) -> float:
    """Return the girth (mm) of the skirt at a depth below its waist, darts closed.

    A skirt whose hip level is straight is measured across at that height; one whose levels are arcs widens evenly.
    """
    pieces = skirt_pieces(garment)
    hips = [level.path for piece in pieces for level in piece.levels if level.name == "hip"]
    if not hips:
        raise CannotDraft("hip_girth", "the skirt shows no hip level", help="state the closure's length")
    waist = math.fsum(line.path.length for piece in pieces for line in piece.lines("waist"))
    if not all(path.is_straight for path in hips):
        fall = min(path.nearest(line.path.at(0.0))[1] for path in hips for p in pieces for line in p.lines("waist"))
        hip = math.fsum(path.length for path in hips)
        return waist + (hip - waist) * depth / fall
    top = max(line.path.bounds[1] for piece in pieces for line in piece.lines("waist"))
    height = top - depth
    hip = math.fsum(path.length for path in hips)
    if height <= hips[0].start.y:
        return hip
    if all(piece.lines(role=Role.HEM) for piece in pieces):
        return max(waist, math.fsum(width_at(piece, height) for piece in pieces))
    # A yoke that has taken darts up is turned on the paper, and its seam lies at no one height: beside it too little
    # cloth is met, or some of it twice, and the skirt is as wide as it was above, at most as at the hip.
    heights = [top - step * YOKE_STEP for step in range(int(depth / YOKE_STEP) + 1)]
    return min(max(waist, *(math.fsum(width_at(piece, y) for piece in pieces) for y in (*heights, height))), hip)


def width_at(piece: Piece, y: float) -> float:
    """Return how much cloth of a piece lies at a height, between its edges and outside its darts (mm)."""
    clear = y + 2.0 * TOLERANCE.joint  # where the closure ends, two lines do: each would be met at its end
    found = sorted(line.path.at(s).x for line in piece.ring for s in line.path.cross_level(clear))
    return math.fsum(b - a for a, b in zip(found[::2], found[1::2], strict=False))


def _opening_name(upper: Chain | None, lower: Chain | None, place: str) -> str:
    if upper is None:
        return "waist"
    if place == "back":
        return "neck"
    return f"placket-{place}" if lower else "hem"


def _stretches(
    garment: Garment, o: ClosureOptions, upper: Chain | None, lower: Chain | None, depth: float, through: bool
) -> tuple[SeamStretch, ...]:
    """What is opened of each seam, the upper one first. Seams run upwards, from hem to waist and to neck or arm."""
    out: list[SeamStretch] = []
    if upper is not None:
        back = o.place == "back"
        if lower is None and back and not through:
            _refuse_hem(depth, upper.end, "back")
        low = upper.end - depth if lower is None and back else 0.0
        high = upper.end if back else upper.end - CLOSED_BELOW_UNDERARM
        if high - low < SHORTEST_CLOSURE - TOLERANCE.sewn_length:
            raise CannotDraft(
                "place",
                say("the seam at the {place} is {end} long, too short to be opened", place=o.place, end=mm(upper.end)),
                short_by=SHORTEST_CLOSURE - (high - low),
                help="choose another place",
            )
        out += upper.between(low, high)
    if lower is not None:
        _refuse_hem(depth, lower.end, "skirt")
        out += lower.between(lower.end - depth, lower.end)
    return tuple(out)


def _refuse_gathered(garment: Garment, stretches: tuple[SeamStretch, ...], place: str) -> None:
    """Raise CannotDraft for a seam of which one layer is gathered onto the other: there the edges wouldn't meet."""
    for edges in stretches:
        section = garment.seam(edges.seam).sections[edges.section]
        length = garment.run_length(section.plies[0])
        ease = max(abs(each) for each in section.ease) * (edges.end - edges.start) / length
        over = ease - EASED_ONTO_ZIP * (edges.end - edges.start)
        if over > 0.0:
            raise CannotDraft(
                "place",
                say(
                    "{ease} of one edge of the seam at the {place} are gathered onto the other",
                    ease=mm(ease),
                    place=place,
                ),
                short_by=over,
                help="open another seam, or gather the dart elsewhere",
            )


def _refuse_hem(depth: float, length: float, what: str) -> None:
    """Raise CannotDraft for a closure that would part the garment down to its hem."""
    if depth > length - TOLERANCE.sewn_length:
        raise CannotDraft(
            "length", say("a closure of {depth} runs down to the hem of the {what}", depth=mm(depth), what=what),
            short_by=depth - length, help=say("make it shorter, or the {what} longer", what=what),
        )  # fmt: skip


def _closing(garment: Garment, opened: tuple[Run, Run], o: ClosureOptions, row: Buttons) -> tuple[Seam, ...]:
    """The seams that sew each edge to its half of the zip, or turn it for buttons."""
    stand, whole = stand_of(row.diameter, row.inward) if o.kind == "buttons" else (0.0, None)
    return tuple(
        Seam(
            f"closure-{o.place}-{'ab'[i]}",
            ZIPPED if o.kind == "zip" else BUTTONED,
            say(
                "{kind} at the {place}, {edge} edge", kind=o.kind, place=side_or_word(o.place), edge=_edge(garment, run)
            ),
            (Section((run,), (0.0,)),),
            allowance=whole,
            fold=stand,
        )
        for i, run in enumerate(opened)
    )


def _lap_edges(garment: Garment, brief: Brief, o: ClosureOptions, opened: tuple[Run, Run]) -> tuple[Run, Run]:
    """The edge that lies on top, and the one below (common practice, or as asked)."""
    words = [_edge(garment, run) for run in opened]
    usual = "front" if o.place != "back" else "left" if brief.body.rules == "men" else "right"
    top = usual if o.over == "usual" else o.over
    if top not in words:
        raise CannotDraft(
            "over",
            say(
                "the closure at the {place} has a {words} and a {words_2} edge, and no {top} one",
                place=o.place,
                words=words[0],
                words_2=words[1],
                top=top,
            ),
            help=say("let over be {words}, {words_2} or usual", words=words[0], words_2=words[1]),
        )
    return opened if words[0] == top else (opened[1], opened[0])


def _edge(garment: Garment, run: Run) -> Face | Side:
    piece, line = garment.piece(run[0].piece), garment.line(run[0])
    return line.face if line.role is Role.SIDE else piece.side


def _facts(garment: Garment, o: ClosureOptions, opened: tuple[Run, Run], passes: float | None) -> tuple[Fact, ...]:
    what = say("the {kind} at the {place}", kind=o.kind, place=side_or_word(o.place))
    found = [Fact("closure_length", garment.run_length(opened[0]), "mm", "choice", what)]
    if passes is not None:
        told = "girth of the skirt where the closure ends; the hips must pass it"
        found.append(Fact("closure_passes", passes, "mm", "solve", told))
    return tuple(found)
