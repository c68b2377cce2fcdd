"""The waistband: a straight folded strip on the waist of a skirt, with an underlap where a closure opens it.

The net band is the half that is seen, its upper edge a fold; finishing adds the inner half. In a woven its grain runs
along it, so that it doesn't grow (common practice); in a knit across it, so that its stretch goes round.
"""

from __future__ import annotations

from typing import Final

from blocks.band_options import width_option
from blocks.strips import find_opening
from drafting.cloth import Kind
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Drill,
    Fact,
    Fate,
    Garment,
    Group,
    Line,
    Opening,
    Piece,
    PointFeature,
    Role,
    Run,
    Seam,
    SeamKind,
    Section,
    Stage,
    Telling,
    Told,
    Use,
    block,
    does,
    option,
    stitch_for,
    tell_step,
)
from drafting.garment.deeds import ENCLOSED, ENDS_ENCLOSED, STRIP_FOLDED, Handling
from drafting.garment.model import INTERFACING
from drafting.garment.places import gathered_length
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.redraw.onto import sew_edges
from drafting.saying import mm, say
from drafting.sides import speak_name
from drafting.trade import TradeValue
from drafting.units import show_length
from drafting.work.banding import is_ring
from drafting.work.kinds import ENDS
from drafting.work.telling import is_knit, tell_ease

MOST_WAIST_EASED = TradeValue(0.06, "share", "from memory")
"""Of a waist that can be eased onto its band at most."""


def _tell(told: Telling, group: Group) -> Told:
    """Tell a waistband: one edge sewn on, the ends turned, the other edge sewn down inside."""
    seam = group.seams[0]
    band_piece = told.garment.piece(seam.plies[-1][0].piece)
    lap = any(line.name == "underlap" for line in band_piece.ring)
    ring = is_ring(group)
    # The underlap lies before the band's edge begins: against the ring, where the run ends.
    edge = f"the edge of the {speak_name(seam.plies[0][-1].piece)}"
    over = f", the underlap standing beyond {edge}, from the notch on" if lap else ""
    return tell_step(
        "Waistband",
        "" if is_knit(told.garment) else "Fuse interfacing to its wrong side.",
        does("Sew its ends right sides together, so that it is a ring.", Handling.RING_MADE) if ring else "",
        "Press one long edge under, along its stitching line.",
        f"Pin the other long edge to the waist, right sides together, notches matched{over}.",
        f"Sew it on{tell_ease(told, seam, 'skirt')}.",
        ""
        if ring
        else does("Fold the band right sides together, sew across its ends, and turn it out.", ENDS_ENCLOSED),
        does("Fold the band over the seam and sew the pressed edge down inside.", ENCLOSED, STRIP_FOLDED),
        *_tell_closing(band_piece),
    )


def _tell_closing(band: Piece) -> tuple[str, ...]:
    """How a band with an underlap is closed."""
    if not _is_buttoned(band):
        return ()
    return "Work the buttonhole, a pin across its end to stop the blade.", "Sew the button on, or a hook and bar."


def _is_buttoned(band: Piece) -> bool:
    return any(mark.name == BAND_MARK for mark in band.drills)


def _button_to_buy(told: Telling, seam: Seam) -> tuple[str, ...]:
    band = told.garment.piece(seam.plies[-1][0].piece)
    if not _is_buttoned(band):
        return ()
    return (f"a button of {show_length(BAND_BUTTON, told.unit)} (or a hook and bar) for the waistband",)


BAND_MARK: Final = "band-button"
"""The mark of a waistband's button."""

BAND_BUTTON = TradeValue(15.0, "mm", "from memory", "15 to 18 mm on a band of 3 cm")
"""Across a waistband's button."""

HOLE_LONGER = TradeValue(3.0, "mm", "common practice")
"""That a buttonhole is longer than its button is wide, and begins beyond where the button comes to lie."""


BANDED_WAIST: Final = SeamKind(
    "waistband",
    "the seam of a waistband",
    _tell,
    turn=10,
    by_edge=True,
    beside=True,
    stiffened="waistband",
    needs=_button_to_buy,
)
"""A waistband on a skirt."""


@dataclass(frozen=True, slots=True)
class WaistbandOptions:
    """Options of the waistband."""

    width: float = width_option("band", 30.0, 15.0, 80.0)
    eased: float = option(
        "How much of the skirt's waist is eased onto the band, right round.",
        "length",
        0.0,
        low=0.0,
        high=40.0,
    )
    underlap: float = option(
        "How far the band runs on beyond a closure, to be buttoned.", "length", 30.0, low=0.0, high=80.0
    )


def free_run(garment: Garment, opening: Opening) -> tuple[Run, bool]:
    """Return the waist's lines from the closure right round to it, and whether there is none, so that it is a ring."""
    taken = {(use.piece, use.line) for seam in garment.seams for use in seam.uses()}
    run = opening.run
    held = [(use.piece, use.line) in taken for use in run]
    if not any(held):
        return _from_side(garment, run), True
    start = next(i for i in range(len(run)) if held[i - 1] and not held[i])
    turned = run[start:] + run[:start]
    return tuple(use for use in turned if (use.piece, use.line) not in taken), False


def _from_side(garment: Garment, run: Run) -> Run:
    """Let a ring start where it passes from piece to piece: the band is joined at a side seam."""
    return next((run[i:] + run[:i] for i in range(len(run)) if run[i - 1].piece != run[i].piece), run)


def band_piece(brief: Brief, o: WaistbandOptions, length: float, lap: float) -> Piece:
    """Draw the seen half: the sewn edge below from x = 0, the underlap before it, the fold above."""
    a, b, c, d, e = (
        Point(-lap, 0.0),
        Point(0.0, 0.0),
        Point(length, 0.0),
        Point(length, o.width),
        Point(-lap, o.width),
    )
    opened = "waist" if lap else ""
    lines = (
        Line("underlap", Path.straight(a, b), Role.EDGE, opening="waist"),
        Line("band", Path.straight(b, c), Role.WAIST),
        Line("end-a", Path.straight(c, d), Role.END, opening=opened),
        Line("edge", Path.straight(d, e), Role.EDGE, fate=Fate.FOLDED, opening="waist"),
        Line("end-b", Path.straight(e, a), Role.END, opening=opened),
    )
    woven = brief.cloth.kind is Kind.WOVEN
    grain = Point(1.0, 0.0) if woven else Point(0.0, 1.0)
    marks = _mark_button(length, lap, o.width)
    return Piece(
        "waistband", "Waistband", lines if lap else lines[1:], grain=grain, features=marks,
        notes=("Cut in interfacing too.",) if woven else (), again=(INTERFACING,) if woven else (),
    )  # fmt: skip


def _mark_button(length: float, lap: float, width: float) -> tuple[PointFeature, ...]:
    """The button in the middle of the underlap, and its buttonhole where the other end lies over that."""
    if min(lap, width) < BAND_BUTTON + 2.0 * HOLE_LONGER:
        return ()
    middle = width / 2.0
    outer = Point(length - lap / 2.0 + HOLE_LONGER, middle)
    inner = Point(outer.x - BAND_BUTTON - HOLE_LONGER, middle)
    ends = Drill("band-buttonhole-outer", outer), Drill("band-buttonhole-inner", inner)
    return (Drill(BAND_MARK, Point(-lap / 2.0, middle)), *ends)


@block("waistband", "A straight folded band on the waist of a skirt.", Stage.EDGE, kinds=(BANDED_WAIST, ENDS))
def draft_waistband(garment: Garment, brief: Brief, o: WaistbandOptions) -> Garment:
    """Draft the waistband onto the waist that is there."""
    opening = find_opening(garment, "waist")
    run, ring = free_run(garment, opening)
    around = garment.run_length(run)
    if o.eased > MOST_WAIST_EASED * around:
        raise CannotDraft(
            "eased", say("{eased} can't be eased onto a waist of {around}", eased=mm(o.eased), around=mm(around)),
            short_by=o.eased - MOST_WAIST_EASED * around, help="ease in less, or take deeper darts",
        )  # fmt: skip
    gathered = gathered_length(garment, run)
    length = around - gathered - o.eased
    lap = 0.0 if ring else max(o.underlap, 1.0)
    piece = band_piece(brief, o, length, lap)
    on = Section((run, (Use("waistband", "band", True),)), (0.0, -o.eased - gathered))
    stitch = stitch_for(brief.cloth)
    seams = [Seam("waistband", BANDED_WAIST, "waistband", (on,), stitch=stitch)]
    if ring:
        ends = ((Use("waistband", "end-a"),), (Use("waistband", "end-b", True),))
        seams.insert(0, Seam("waistband-end", ENDS, "ends of the waistband", (Section(ends, (0.0, 0.0)),), stitch))
    return garment.with_(
        pieces=(*sew_edges(garment, run), piece),
        seams=seams,
        facts=[
            Fact("waistband_length", length, "mm", "solve", "the skirt's waist less what is eased in"),
            Fact("waistband_width", o.width, "mm", "choice"),
        ],
    )
