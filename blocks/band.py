"""Bands: a folded strip drafted onto whatever opening is there, short enough to lie flat on its curve.

The net band is the half that is seen, ``width`` high, its outer edge a fold; finishing adds the inner half. Its grain
runs across the strip, so that the cloth's greater stretch runs along it. On an edge with corners, as a V or a square
neckline has, it is cut in strips that are mitred there.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Final

from blocks.band_edge import corners, turning
from blocks.band_in_two import draw_two_strips, needs_two, part_by_face
from blocks.band_options import (
    WIDEST_ARM_BAND,
    ArmholeBandOptions,
    BindingOptions,
    HemBandOptions,
    NeckBandOptions,
)
from blocks.mitred_band import BandStrip, Cornered, draw_strip, lengths_along, mitres, on_edge, strips, with_stays
from blocks.stays import bind_edges, stay_neck
from blocks.strips import BINDING, BandSpec, band_facts, band_seams, draw_straight_strip, find_opening
from drafting.cloth import NARROWEST_BAND, Cloth, Fit, band_length
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Fate,
    Garment,
    Opening,
    Piece,
    Role,
    Run,
    Seam,
    SeamKind,
    Side,
    Stage,
    Use,
    block,
    sides_of,
)
from drafting.garment.places import gathered_length
from drafting.redraw.onto import rename_opening, sew_edges
from drafting.saying import Name, mm, say, specify
from drafting.tolerance import TOLERANCE
from drafting.trade import trade_table
from drafting.work.banding import tell_band, tell_cornered_binding, tell_mitred_band
from drafting.work.kinds import BAND, ENDS, MITRE

AROUND_ARM = trade_table(
    {Fit.CLOSE: 1.00, Fit.SEMI: 1.03, Fit.RELAXED: 1.03}, "share", "from memory", "1.03 to 1.1: a shorter one cuts in"
)
"""Of the armscye girth, how long an armhole's band is at rest at least, where its curve lets it; that of a close top is
as much tighter as its bust."""

NECK: Final = SeamKind("neck", "the seam of a neck band", tell_band, label="neck", turn=5, by_edge=True)
HEM_BAND_SEAM: Final = SeamKind(
    "hem-band", "the seam of a hem band", tell_band, label="hem band", turn=12, takes_up="hem"
)


def starting_at(garment: Garment, run: Run, at: Callable[[Use, Use], bool]) -> Run:
    """Return the closed run turned so that it starts at the first joint (use before, use after) that ``at`` accepts."""
    for i, use in enumerate(run):
        if at(run[i - 1], use):
            return run[i:] + run[:i]
    return run


def start_of(garment: Garment, opening: Opening) -> Run:
    """Turn an opening's run to where its band is joined: centre back of a neck or hem, else the underarm."""

    def centre_back(a: Use, b: Use) -> bool:
        """Within the back, or from one half back to the other where a seam parts them."""
        backs = garment.line(a).face is Face.BACK is garment.line(b).face
        return backs and max(abs(garment.path(a).end.x), abs(garment.path(b).start.x)) < TOLERANCE.joint

    def underarm(a: Use, b: Use) -> bool:
        first = Face.FRONT if garment.line(b).side is Side.LEFT else Face.BACK
        return garment.line(b).face is first and garment.line(a).face is not first

    choose = centre_back if opening.name in ("neck", "hem") else underarm
    return starting_at(garment, opening.run, choose)


def beside_closure(garment: Garment, opening: Opening) -> Run | None:
    """Return an opening's run from one edge of its closure round to the other; None where nothing closes it.

    CannotDraft where two closures part it: a band is one strip.
    """
    closed = {(use.piece, use.line) for seam in garment.seams if seam.kind.closes for use in seam.uses()}
    is_closed = [(use.piece, use.line) in closed for use in opening.run]
    starts = [i for i, own in enumerate(is_closed) if not own and is_closed[i - 1]]
    if len(starts) > 1:
        raise CannotDraft("closure", "two closures part the edge", help="finish it with facings")
    if not starts:
        return None
    turned = opening.run[starts[0] :] + opening.run[: starts[0]]
    return turned[: is_closed.count(False)]


def attach(
    garment: Garment,
    brief: Brief,
    opening: Opening,
    spec: BandSpec,
    width: float,
    ratio: float | None,
) -> Garment:
    """Draft a band onto an opening and sew it on."""
    part = beside_closure(garment, opening)
    run = part or start_of(garment, opening)
    _refuse_vents(garment, run)
    around = garment.run_length(run)
    drawn_in = around - gathered_length(garment, run)  # a gathered edge is as long as its band only once it is drawn in
    stuff = brief.own_cloth
    theta = turning(garment, run)
    if theta * width > 0.5 * drawn_in:
        raise CannotDraft(
            "width",
            say(
                "on so curved an edge of {around} (the {name:placed}) a band {width} high has no length left",
                around=mm(around),
                name=Name(opening.name),
                width=mm(width),
            ),
            short_by=theta * width - 0.5 * drawn_in,
            help="make the band narrower or the opening larger",
        )
    if any(at := corners(garment, run, closed=part is None)):
        edge = Cornered(opening.name, run, at, part is None, drawn_in)
        return attach_cornered(garment, edge, spec, width, ratio, stuff)
    rule = band_length(
        drawn_in, theta, width, stuff.working_stretch, recovery=stuff.recovery, kind=spec.rule, given=ratio,
        around=spec.around,
    )  # fmt: skip
    halves = part_by_face(garment, run) if part is None and not spec.binds and drawn_in == around else None
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...]
    if halves is not None and needs_two(stuff, rule.length):
        pieces, seams = draw_two_strips(garment, spec, opening.name, halves, rule.length / around, width)
    else:
        pieces = (draw_straight_strip(spec, opening.name, rule.length, width, closed=part is None),)
        joined, set_on = band_seams(spec, run, around, rule.length)
        seams = (joined, set_on) if part is None else (set_on,)
    return garment.with_(
        pieces=(*_ready_edges(garment, run, spec, width), *pieces),
        seams=seams,
        facts=band_facts(spec.name, rule, width, theta),
        openings=rename_opening(garment, opening.name, (opening.name,)),
    )


def _refuse_vents(garment: Garment, run: Run) -> None:
    lines = [garment.line(use) for use in run]
    if any(line.role is Role.SIDE or (line.role is Role.CENTRE and line.fate is Fate.HEMMED) for line in lines):
        raise CannotDraft(
            "vents",
            "a band can't go round a vent",
            help="leave out the vents or the band",
            leave_out=True,
        )


def _ready_edges(garment: Garment, run: Run, spec: BandSpec, width: float) -> tuple[Piece, ...]:
    """The pieces of a run, whose edge a strip finishes."""
    return bind_edges(garment, run, width) if spec.binds else sew_edges(garment, run)


def attach_cornered(
    garment: Garment, edge: Cornered, spec: BandSpec, width: float, ratio: float | None, stuff: Cloth
) -> Garment:
    """Draft a band onto an opening that has corners: mitred strips, or one strip of binding that is folded there."""
    edge = edge if spec.binds or not edge.closed else edge.begun_at_corner()
    parts, rule = lengths_along(garment, edge, width, stuff, ratio)
    found = (BandStrip(spec.name, spec.title, parts),) if spec.binds else strips(garment, parts, spec.name, spec.title)
    ring = edge.closed and spec.binds
    ends, _ = band_seams(spec, edge.run, rule.length, rule.length)
    kind = replace(spec.kind, tell=tell_cornered_binding if spec.binds else tell_mitred_band)
    on = Seam(spec.name, kind, spec.title.lower(), on_edge(found), binds=spec.binds)
    joined = () if spec.binds else mitres(found, spec.name, spec.title.lower())
    turned = math.fsum(edge.at)
    told = f"{sum(turn > 0.0 for turn in edge.at)} corners of its edge, {'folded' if spec.binds else 'sewn'} to mitres"
    return garment.with_(
        pieces=(
            *with_stays(_ready_edges(garment, edge.run, spec, width), parts),
            *(draw_strip(strip, edge.opening, width, ring=ring) for strip in found),
        ),
        seams=(*((ends,) if ring else joined), on),
        facts=(
            *band_facts(spec.name, rule, width, turning(garment, edge.run)),
            Fact(f"{spec.name}_corners", turned, "rad", "rule", told),
        ),
        openings=rename_opening(garment, edge.opening, (edge.opening,)),
    )


@block("neck-band", "A folded band on the neckline.", Stage.EDGE, kinds=(NECK, ENDS, MITRE))
def draft_neck_band(garment: Garment, brief: Brief, o: NeckBandOptions) -> Garment:
    """Draft the neck band, joined at centre back, or in mitres at the corners of the neckline."""
    spec = BandSpec("neck-band", "Neck band", NECK, "neck")
    opening = find_opening(garment, "neck")
    garment = stay_neck(garment, brief, opening.run)
    return attach(garment, brief, opening, spec, o.width, o.ratio)


@block("neck-binding", "A narrow binding that wraps the neckline's edge.", Stage.EDGE, kinds=(BINDING, ENDS))
def draft_neck_binding(garment: Garment, brief: Brief, o: BindingOptions) -> Garment:
    """Draft the neck binding, joined at centre back, corners folded; the neckline itself is cut without allowance."""
    spec = BandSpec("neck-binding", "Neck binding", BINDING, "neck", binds=True)
    opening = find_opening(garment, "neck")
    garment = stay_neck(garment, brief, opening.run)
    return attach(garment, brief, opening, spec, o.width, o.ratio)


@block(
    "hem-band",
    "A folded band that draws the hem in.",
    Stage.EDGE,
    kinds=(HEM_BAND_SEAM, ENDS, MITRE),
)
def draft_hem_band(garment: Garment, brief: Brief, o: HemBandOptions) -> Garment:
    """Draft the hem band, joined at centre back."""
    spec = BandSpec("hem-band", "Hem band", HEM_BAND_SEAM, "hem", below=True)
    return attach(garment, brief, find_opening(garment, "hem"), spec, o.width, o.ratio)


@block("armhole-band", "A folded band on a sleeveless armhole.", Stage.EDGE, kinds=(BAND, ENDS, MITRE))
def draft_armhole_bands(garment: Garment, brief: Brief, o: ArmholeBandOptions) -> Garment:
    """Draft a band onto each armhole asked for, joined at the underarm."""
    found = {side: find_opening(garment, f"armhole-{side}") for side in sides_of(o.arm)}  # before either has its band
    for side, opening in found.items():
        title, around = specify("Armhole band", side), AROUND_ARM[brief.fit] * brief.body["armscye_girth"]
        spec = BandSpec(f"armhole-band-{side}", title, BAND, "armhole", around=around)
        width = _by_the_curve(garment, brief, opening, o) if o.width is None else o.width
        garment = attach(garment, brief, opening, spec, width, o.ratio)
        piece = garment.piece(spec.name)
        garment = garment.with_(pieces=(replace(piece, side=side),))
    return garment


def _by_the_curve(garment: Garment, brief: Brief, opening: Opening, o: ArmholeBandOptions) -> float:
    """The greatest height (mm, whole) at which an armhole's band, as short as its cloth allows, still lies flat.

    2 in is common practice on a nearly straight edge; the tighter the curve, the narrower the band must be (derived).
    """
    run, stuff = start_of(garment, opening), brief.own_cloth
    around = garment.run_length(run) - gathered_length(garment, run)
    theta = turning(garment, run)
    rule = band_length(
        around, theta, WIDEST_ARM_BAND, stuff.working_stretch, recovery=stuff.recovery, kind="armhole", given=o.ratio
    )
    return max(
        NARROWEST_BAND,
        min(
            WIDEST_ARM_BAND,
            float(math.floor(rule.widest_flat + TOLERANCE.sewn_length))
            if math.isfinite(rule.widest_flat)
            else WIDEST_ARM_BAND,
        ),
    )
