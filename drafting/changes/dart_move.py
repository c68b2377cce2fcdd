"""Turning a dart to another place on the outline: the same suppression about the same point, from another edge."""

from __future__ import annotations

from drafting.changes.centre import parted_at_centre
from drafting.changes.dart_work import Found, corner_place, each, find, healed, place_for, put, read_place
from drafting.changes.heights import level_total
from drafting.errors import CannotDraft
from drafting.garment import Brief, Change, Fact, Garment, Role, Stage, option, shift_aim
from drafting.garment.darts import dart_of, intake
from drafting.garment.mouths import mouth_edges
from drafting.garment.places import Place
from drafting.garment.swing import open_at, untrued
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

NAME = "move-dart"


MOST_BENT = 4.0
"""mm by which truing the mouths of a dart may change a girth, on both sides of a side seam (from memory)."""


@dataclass(frozen=True, slots=True)
class MoveDartOptions:
    """Options of the change."""

    dart: str = option('Which dart, by its name without a side: "bust", "waist-front", "shoulder".', "text", "bust")
    to: str = option(
        'Where to: a line and a share of it, as "shoulder 0.5", "side 0.3", "neckline 0.5", "armhole 0.4", "waist 0.5" '
        'or "centre 0.4"; measured from the neck, the shoulder (neckline, armhole), the underarm (side) or the centre. '
        "A dart at the centre needs a seam there, which is then made.",
        "text",
        "shoulder 0.5",
    )
    set_back: float | None = option(
        "How far the point stops short of the marked point; by default as far as before.",
        "length", None, low=0.0, high=80.0,
    )  # fmt: skip
    side: str = option("Which side's dart is moved.", "choice", "both", choices=("both", "left", "right"))


def apply(garment: Garment, brief: Brief, o: MoveDartOptions) -> Garment:
    """Turn the dart on each side asked for."""
    return each(garment, NAME, o.dart, o.side, lambda g, one: _moved(g, one, o))


def _moved(garment: Garment, one: Found, o: MoveDartOptions) -> Garment:
    garment, one = with_centre(garment, NAME, one, o.to)
    before = garment
    garment = turned(garment, one, place_for(garment, NAME, one, o.to), o.set_back)
    garment = levels_kept(before, garment, NAME, one)
    dart = dart_of(garment.piece(one.piece.name), one.dart.name)
    says = f"the {one.title} turned to {o.to}: what it takes in at its mouth there"
    return garment.with_(facts=(Fact(f"{dart.seam}_intake", intake(dart), "mm", "choice", says),))


def with_centre(garment: Garment, step: str, one: Found, told: str) -> tuple[Garment, Found]:
    """Return the garment with a seam at the centre of a dart's piece where a place on the centre is told."""
    if read_place(step, told)[0] != Role.CENTRE or not one.piece.face or one.piece.lines(role=Role.CENTRE):
        return garment, one
    garment = parted_at_centre(garment, one.piece)
    return garment, find(garment, step, one.dart.name, "both")[0]


def levels_kept(before: Garment, after: Garment, step: str, one: Found) -> Garment:
    """Let the aims follow where truing a dart's mouth bent an edge at a level by a little; refuse where by more."""
    for measure in dict.fromkeys(aim.measure for aim in after.aims):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) > MOST_BENT:
            level = measure.removeprefix("girth:").replace("-", " ")
            raise CannotDraft(
                step, "to", f"the mouth of the {one.title} would lie so near the {level} line that truing its edge "
                f"changes the {level} by {abs(by):.0f} mm", short_by=abs(by) - MOST_BENT,
                help="turn it to a place farther from there",
            )  # fmt: skip
        if abs(by) > TOLERANCE.same_point:
            after = shift_aim(after, measure, by)
    return after


def turned(garment: Garment, one: Found, place: Place, set_back: float | None = None) -> Garment:
    """Return the garment with a dart turned to a place of its piece; the line it leaves is whole again."""
    flat, place = untrued(one.piece, one.dart, place)
    garment, corner = corner_place(put(garment, flat), flat.name, place)
    old = garment.piece(flat.name)
    before, after = mouth_edges(old, one.dart)
    garment = put(garment, open_at(old, one.dart.name, corner, set_back))
    return healed(garment, old.name, before.name, after.name)


MOVE_DART = Change(
    name=NAME,
    sentence="A dart turned to another place on the outline, its point and its suppression kept.",
    options=MoveDartOptions,
    stage=Stage.SHAPE,
    apply=apply,
)
"""The change, for the entry point ``move-dart``."""
