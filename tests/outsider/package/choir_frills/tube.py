"""A tube that stands up from the neck of a concert top: one layer, its upper edge an opening of its own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Fate,
    Garment,
    Group,
    Line,
    Piece,
    Role,
    Seam,
    SeamKind,
    Section,
    Stage,
    Telling,
    Told,
    Use,
    block,
    openings,
    option,
    tell_step,
)
from drafting.garment.opening_kinds import OpeningKind, Passing, Tight
from drafting.geometry import Path, Point
from drafting.redraw.onto import sew_edges
from drafting.saying import Words, about, say
from drafting.work.kinds import ENDS

NAME = "neck-tube"


def tell_tube(told: Telling, group: Group) -> Told:
    """Tell how a tube is sewn on."""
    return tell_step("Neck tube", "Join its ends to a ring.", "Sew it to the neck edge, right sides together.")


def pass_head(garment: Garment, brief: Brief) -> Passing:
    """The head goes through."""
    head = brief.body["head_girth"]
    return Passing("the head", head, head)


def widen_tube(tight: Tight) -> Words:
    """It is drafted longer."""
    return say("make the tube about {short} longer round", short=about(tight.short))


TUBE: Final = SeamKind("neck-tube", "the seam of a neck tube", tell_tube, label="neck tube", turn=5)
"""A tube on the neck edge."""

TUBE_EDGE: Final = OpeningKind("tube", pass_head, widen_tube, edge="upper edge of the tube")
"""What the wearer comes through then."""


@dataclass(frozen=True, slots=True)
class TubeOptions:
    """Options of the tube."""

    height: float = option("How high it stands.", "length", 40.0, low=15.0, high=120.0)
    shorter: float = option("By how much it is shorter than the neck.", "ratio", 0.1, low=0.0, high=0.8)


def draft_plain_tube(garment: Garment, brief: Brief, o: TubeOptions) -> Garment:
    """Draft the tube as one strip, and sew it to the neck; CannotDraft where there is no open neck."""
    neck = next((each for each in openings(garment) if each.name == "neck"), None)
    if neck is None:
        raise CannotDraft("neck", "there is no open neck to sew a tube to", help="leave it out", leave_out=True)
    around = garment.run_length(neck.run)
    length = around * (1.0 - o.shorter)
    made = garment.with_(
        pieces=(*sew_edges(garment, neck.run), _strip(length, o.height)),
        seams=tuple(_seams(neck.run, length - around)),
    )
    return replace(made, openings=tuple("tube" if each == "neck" else each for each in garment.openings))


draft_tube = block(NAME, "A tube that stands up from the neck.", Stage.EDGE, kinds=(TUBE, ENDS, TUBE_EDGE))(
    draft_plain_tube
)


def _seams(run: tuple[Use, ...], ease: float) -> Iterator[Seam]:
    ends = Section(((Use(NAME, "end-a", True),), (Use(NAME, "end-b"),)), (0.0, 0.0))
    yield Seam(f"{NAME}-end", ENDS, "ends of the tube", (ends,))
    yield Seam(NAME, TUBE, "neck tube", (Section((run, (Use(NAME, "low", True),)), (0.0, ease)),))


def _strip(length: float, high: float) -> Piece:
    corners = [Point(0.0, 0.0), Point(length, 0.0), Point(length, high), Point(0.0, high)]
    top, right, low, left = (Path.straight(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True))
    ring = (
        Line("top", top, Role.HEM, fate=Fate.HEMMED, opening="tube"),
        Line("end-a", right, Role.END),
        Line("low", low, Role.STYLE),
        Line("end-b", left, Role.END),
    )
    return Piece(NAME, "Neck tube", ring)
