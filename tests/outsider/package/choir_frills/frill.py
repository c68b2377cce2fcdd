"""A gathered frill on the hem of a concert top: a block with a seam of its own kind, a change, and a check."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Fact,
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
    change,
    openings,
    option,
    tell_step,
)
from drafting.geometry import Path, Point
from drafting.mending import Mend, situation
from drafting.proof import Evidence, Finding, FitRow, Severity, check, fit_figures
from drafting.redraw.onto import sew_edges
from drafting.saying import mm, say, show_share
from drafting.trade import TradeValue
from drafting.units import show_length
from drafting.work.kinds import ENDS

NAME, FULLNESS = "frill", "frill_fullness"

MOST_FULLNESS = TradeValue(1.0, "share", "from memory")
"""Of its edge's length by which a frill may be longer: a fuller one stands off the hem in jersey."""


MOST_ROUND = TradeValue(2.0, "times", "from memory")
"""Of the hip girth at most, round the lower edge of a frill: of more the wearer steps on it."""


def tell_frill(told: Telling, group: Group) -> Told:
    """Tell how a frill is gathered and sewn on."""
    seam = group.seams[0]
    around = show_length(told.garment.run_length(seam.plies[0]), told.unit)
    ends = "Join the ends of the frill to a ring"
    return tell_step(
        "Frill",
        f"{ends}.",
        f"Gather its upper edge to {around}.",
        "Sew it to the lower edge of the body, right sides together.",
    )


FRILL: Final = SeamKind("frill", "the seam of a frill", tell_frill, label="frill", turn=12)
"""A gathered frill on the lower edge, sewn on when all else is done."""


@dataclass(frozen=True, slots=True)
class FrillOptions:
    """Options of the frill."""

    depth: float = option("Finished depth of the frill.", "length", 60.0, low=20.0, high=300.0)
    fullness: float = option(
        "By how much the frill is longer than the edge it is gathered onto.", "ratio", 0.5, low=0.1, high=2.0
    )


@block(NAME, "A gathered frill on the lower edge of the body.", Stage.EDGE, kinds=(FRILL, ENDS))
def draft_frill(garment: Garment, brief: Brief, o: FrillOptions) -> Garment:
    """Draft the frill as one strip, and gather it onto the hem; CannotDraft where there is no open hem."""
    hem = next((opening for opening in openings(garment) if opening.name == "hem"), None)
    if hem is None:
        raise CannotDraft("hem", "there is no open hem to sew a frill to", help="leave the frill out", leave_out=True)
    around = garment.run_length(hem.run)
    return garment.with_(
        pieces=(*sew_edges(garment, hem.run), _strip(around * (1.0 + o.fullness), o.depth)),
        seams=_seams(hem.run, around * o.fullness),
        facts=(Fact(FULLNESS, o.fullness, "share", "choice", "how much longer the frill is than its edge"),),
    )


def _strip(length: float, depth: float) -> Piece:
    corners = [Point(0.0, 0.0), Point(length, 0.0), Point(length, depth), Point(0.0, depth)]
    below, right, above, left = (Path.straight(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True))
    ring = (
        Line("hem", below, Role.HEM, fate=Fate.HEMMED, opening="hem"),
        Line("end-a", right, Role.END),
        Line("gathered", above, Role.STYLE),
        Line("end-b", left, Role.END),
    )
    return Piece(NAME, "Frill", ring)


def _seams(run: tuple[Use, ...], ease: float) -> tuple[Seam, Seam]:
    ends = Section(((Use(NAME, "end-a", True),), (Use(NAME, "end-b"),)), (0.0, 0.0))
    on = Section((run, (Use(NAME, "gathered", True),)), (0.0, ease))
    return Seam(f"{NAME}-end", ENDS, "ends of the frill", (ends,)), Seam(NAME, FRILL, "frill", (on,))


@dataclass(frozen=True, slots=True)
class CalmOptions:
    """Options of the calmer frill."""

    fullness: float = option("The fullness that the frill then has.", "ratio", 0.5, low=0.1, high=1.0)


@change(
    "calm-frill", "A frill with less fullness.", Stage.EDGE_SHAPE,
    mends=(Mend("frill-full", 'add the change "{change}", fullness {most} or less'),),
)  # fmt: skip
def calm_frill(garment: Garment, brief: Brief, o: CalmOptions) -> Garment:
    """Draw the frill again with less fullness; CannotDraft where there is none."""
    if not garment.has_piece(NAME):
        raise CannotDraft("", "there is no frill", help="draft one first, or leave this change out")
    seam = garment.seam(NAME)
    around = garment.run_length(seam.plies[0])
    depth = garment.piece(NAME).line("end-a").path.length
    (on,) = seam.sections
    return garment.with_(
        pieces=(_strip(around * (1.0 + o.fullness), depth),),
        seams=(replace(seam, sections=(replace(on, ease=(0.0, around * o.fullness)),)),),
        facts=(Fact(FULLNESS, o.fullness, "share", "choice", "less fullness than the block gave it"),),
    )


@check(NAME, "A frill isn't so full that it stands off the hem.")
def check_frill(evidence: Evidence) -> Iterator[Finding]:
    """Warn of a frill that is fuller than jersey falls."""
    garment = evidence.garment
    if not garment.has_piece(NAME):
        return
    full = garment.fact(FULLNESS)
    if full > MOST_FULLNESS:
        length = garment.piece(NAME).line("gathered").path.length
        yield Finding(
            "frill.full", Severity.WARNING, NAME, full, MOST_FULLNESS,
            say("the frill is {length} long before it is gathered, and will stand off the hem", length=mm(length)),
            "gather it less", "share", wanted=situation("frill-full", most=show_share(MOST_FULLNESS)),
        )  # fmt: skip


@fit_figures("frill-round", "Frill", "A frill is not so wide round its lower edge that it is in the way.")
def take_frill(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The frill's lower edge beside the hip; its least is left to the stride."""
    if garment.has_piece(NAME):
        hip, round_edge = brief.body["hip_girth"], garment.piece(NAME).line("hem").path.length
        yield FitRow(
            "frill_round", NAME, "frill, round its lower edge", hip, round_edge, most=hip * (MOST_ROUND - 1.0),
            severity=Severity.WARNING, remedy="gather it less",
        )  # fmt: skip
