"""The strip a band or cuff is: what names it, how it is drawn and sewn on, and the opening that it is put on."""

from __future__ import annotations

from typing import Final

from drafting.cloth import BandRule
from drafting.cloth.band import BandKind
from drafting.errors import CannotDraft
from drafting.garment import (
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
    Use,
    is_free,
    openings,
)
from drafting.garment.ruled import BAND_SHARE, BAND_WIDTH
from drafting.garment.told import Ruled
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import Name, Words, say, shorten
from drafting.sides import swap_sides
from drafting.work.banding import tell_binding
from drafting.work.kinds import ENDS

BINDING: Final = SeamKind("binding", "the seam of a binding", tell_binding, by_edge=True)


@dataclass(frozen=True, slots=True)
class BandSpec:
    """How a band is drawn: its piece's name and title, the seam's kind, whether it lies below its edge or binds it.

    ``around`` is what it goes round (mm) without being stretched, where its curve lets it; 0 where it may be stretched.
    """

    name: str
    title: Words
    kind: SeamKind
    rule: BandKind
    below: bool = False
    binds: bool = False
    around: float = 0.0


def find_opening(garment: Garment, name: str) -> Opening:
    """Return the opening of that name; CannotDraft if there is none to put a band on, or it is finished already."""
    free = {opening.name: opening for opening in reversed(openings(garment)) if is_free(garment, opening)}
    if name in free:
        return free[name]
    mate = free.get(swap_sides(name))
    if mate is not None:
        other = garment.line(mate.run[0]).side
        raise CannotDraft(
            "arm",
            say("there is no open {name:placed} to put it on", name=Name(name)),
            help=say('put it on the other alone (arm = "{other}"), or leave one of the finishes here out', other=other),
            leave_out=True,
        )
    raise refuse_missing(garment, name, "put it on")


def refuse_missing(garment: Garment, name: str, use: str) -> CannotDraft:
    """Return the refusal of what is to be sewn to an opening that isn't there, or is finished already.

    ``use`` says what would be done with it: "put it on".
    """
    there = next((opening for opening in openings(garment) if opening.name == name), None)
    if there is None or is_free(garment, there):
        reason = say("there is no open {name:placed} to {use}", name=Name(name), use=use)
        return CannotDraft("", reason, help="leave it out, or add what it is sewn to before it", leave_out=True)
    edged = [use for use in there.run if garment.line(use).role is Role.EDGE]
    inside = [
        two
        for seam in garment.seams
        if seam.kind.within
        for one, two in zip(*seam.plies, strict=False)
        if one in there.run
    ]
    by = garment.piece((edged or inside)[0].piece).title
    reason = say("the {name:placed} has its {by:lower} already", name=Name(name), by=shorten(by))
    return CannotDraft("", reason, help="leave one of the two out", leave_out=True)


def draw_straight_strip(spec: BandSpec, opening: str, length: float, width: float, closed: bool = True) -> Piece:
    """Draw the seen half of a band: a rectangle whose "band" line is sewn on and whose "edge" line is a fold.

    The ends of one that isn't ``closed`` to a ring bound the opening: they are turned in beside its closure.
    """
    a, b, c, d = Point(0.0, 0.0), Point(length, 0.0), Point(length, width), Point(0.0, width)
    low, right, top, left = (Path.straight(p, q) for p, q in ((a, b), (b, c), (c, d), (d, a)))
    sewn_on, edge = (top, low) if spec.below else (low, top)
    band = Line("band", sewn_on, Role.BAND, fate=Fate.SEWN)
    fold = Line("edge", edge, Role.EDGE, fate=Fate.FOLDED, opening=opening)
    first, second = (fold, band) if spec.below else (band, fold)
    at = "" if closed else opening
    ring = (first, Line("end-a", right, Role.END, opening=at), second, Line("end-b", left, Role.END, opening=at))
    return Piece(spec.name, spec.title, ring)


def band_seams(spec: BandSpec, run: Run, opening_length: float, length: float) -> tuple[Seam, Seam]:
    """The seam that joins the band's ends, and the seam that sets the band on the opening."""
    # Both ends run from the sewn edge to the fold.
    ends = ((Use(spec.name, "end-a", spec.below),), (Use(spec.name, "end-b", not spec.below),))
    on = Section((run, (Use(spec.name, "band", True),)), (0.0, length - opening_length))
    return (
        Seam(
            f"{spec.name}-end", ENDS, say("ends of the {title:lower}", title=spec.title), (Section(ends, (0.0, 0.0)),)
        ),
        Seam(spec.name, spec.kind, spec.title.lower(), (on,), binds=spec.binds),
    )


def band_facts(name: str, rule: BandRule, width: float, theta: float) -> tuple[Fact, ...]:
    """What the proof and the maker are told of a band."""
    return (
        Fact(f"{name}_ratio", rule.ratio, "share", "solve", "; ".join(rule.reasons), Ruled(BAND_SHARE, name)),
        Fact(f"{name}_width", width, "mm", "choice", ruled=Ruled(BAND_WIDTH, name)),
        Fact(f"{name}_turning", theta, "rad", "rule", "how much its edge curves towards it"),
    )
