"""What finishes an edge, in words: folded bands, bindings, facings, waistbands (common practice)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from drafting.garment import Face, Garment, Role, Run, Seam
from drafting.garment.gathered import gathered
from drafting.work.wording import Group, capital, interfaced

if TYPE_CHECKING:
    from drafting.work.sewing_words import Telling

_EDGES: Mapping[Role, str] = {
    Role.NECKLINE: "neckline",
    Role.ARMHOLE: "armhole",
    Role.WRIST: "sleeve",
    Role.HEM: "garment",
    Role.WAIST: "waist",
}


def form(told: Telling, group: Group) -> str:
    """Return what kind of finish a group is, so that the next of its kind can be told by the first; else empty."""
    seam = group.seams[0]
    if seam.kind == "facing":
        return "facing"
    if seam.kind in ("neck", "band", "cuff", "hem-band") and not _corners(told, seam) and _ring(group):
        return "band"
    return ""


def _corners(told: Telling, seam: Seam) -> bool:
    return seam.name in told.cornered


def _ring(group: Group) -> bool:
    """Whether the ends of a band are joined."""
    return any(seam.kind == "end" for seam in group.ready)


def band(told: Telling, group: Group) -> tuple[str, ...]:
    """Tell a folded band: made ready, folded, quartered, stretched onto its edge."""
    seam = group.seams[0]
    edge = edge_of(told.garment, seam)
    title, by = capital(group.title) + told.stitch(seam), _stretch(told, seam)
    if _corners(told, seam):
        return (f"{title}: {_mitred(told, group)}",)
    at = f"its join at {join_place(told.garment, seam.plies[0])}"
    first = told.full.get(form(told, group), "")
    if first:
        return (f"{title}: make and sew it as the {first.lower()}, {at}; stretch it{by}.",)
    ends = "join the ends; " if _ring(group) else ""
    where = f"divide band and {edge} in four (the notches), {at}" if _ring(group) else "match the notches"
    last = "" if _ring(group) else " Turn the ends in beside the opening."
    return (
        f"{title}: {ends}fold it lengthwise, wrong sides together. {_drawn_up(told, seam)}{capital(where)}; sew the "
        f"band's raw edges to the right side, band on top, stretching the band{by}, never the {edge}. Press the seam "
        f"away from the band.{last}",
    )


def _stretch(told: Telling, seam: Seam) -> str:
    """By how much a band is stretched on (or eased): in all."""
    ease = seam.ease[-1]
    shown = told.length(ease)
    return f" ({'easing' if ease > 0.0 else 'by'} {shown} altogether)" if shown else ""


def _drawn_up(told: Telling, seam: Seam) -> str:
    """A gathered edge is drawn up first."""
    shown = told.length(gathered(told.garment, seam.plies[0]))
    return f"Gather the {edge_of(told.garment, seam)} by {shown}. " if shown else ""


def _mitred(told: Telling, group: Group) -> str:
    """A band on an edge with corners: a mitre sits on each, and the edge is clipped there to open round it."""
    seam = group.seams[0]
    by = _stretch(told, seam)
    ease = f", stretching it{by} along its curves only" if by else ""
    count = sum(one.kind == "mitre" for one in group.ready)
    each, corner = ("the mitre", "the point") if count == 1 else ("each mitre", "each corner")
    edge = edge_of(told.garment, seam)
    ends = "" if told.closed(seam.plies[0]) else " Turn its ends in beside the opening."
    onto = "the point" if count == 1 else "its corner"
    return (
        f"sew {each} from stitch line over the fold to stitch line, snip it at the fold; fold the band lengthwise, "
        f"wrong sides together; stay-stitch {corner} of the {edge} and clip into it; sew it on, "
        f"{each} on {onto}, turning there, needle down{ease}; press the seam away from it.{ends}"
    )


def edge_of(garment: Garment, seam: Seam) -> str:
    """Return what the edge of a seam is called that a finish is sewn to."""
    return _EDGES.get(garment.line(seam.plies[0][0]).role, "edge")


def join_place(garment: Garment, run: Run) -> str:
    """Return where a band's ends meet, from what its edge is there."""
    first, last = garment.line(run[0]), garment.line(run[-1])
    faces = {first.face, last.face}
    if faces == {Face.BACK}:
        return "the centre back"
    if faces == {Face.FRONT}:
        return "the centre front"
    if first.role in (Role.WRIST, Role.ARMHOLE):
        return "the underarm seam"
    return "a side seam" if first.role is not Role.NECKLINE else "a shoulder seam"


def binding(told: Telling, group: Group) -> tuple[str, ...]:
    """Tell a binding: sewn on right sides together, wrapped over the edge, stitched down."""
    seam = group.seams[0]
    by, edge = _stretch(told, seam), edge_of(told.garment, seam)
    title = capital(group.title) + told.stitch(seam)
    join = f"join the ends, the join at {join_place(told.garment, seam.plies[0])}; " if _ring(group) else ""
    wrap = "wrap it over the edge to the wrong side, raw edge turned under, and stitch it down in the seam's groove"
    if _corners(told, seam):
        ease = f", stretching it{by} along its curves only" if by else ""
        return (
            f"{title}: {join}stay-stitch each corner of the {edge} and clip into it, just short of the stitch line; "
            f"sew it on, right sides together, opening each corner out straight{ease}; {wrap}; fold a mitre at each "
            "corner and stitch it.",
        )
    ends = "" if _ring(group) else "; its ends stay open, to be caught in a seam"
    return (
        f"{title}: {join}{_drawn_up(told, seam)}sew it on, right sides together, stretching the binding{by}, never "
        f"the {edge}; {wrap}{ends}.",
    )


def facing(told: Telling, group: Group) -> tuple[str, ...]:
    """Tell a facing: made ready, sewn on, clipped, understitched, caught down; a later one by the first."""
    seam = group.seams[0]
    title = capital(group.title)
    first = told.full.get(form(told, group), "")
    ends = "" if told.closed(seam.plies[0]) else " Turn its ends under beside the opening and sew them down by hand."
    if first:
        return (f"{title}: make, sew, clip and understitch it as the {first.lower()}, seams matched.{ends}",)
    fuse = "fuse interfacing to its wrong side; " if interfaced(told.garment) else ""
    join = "join its short ends and press them open; " if group.ready else ""
    return (
        f"{title}, made ready: {fuse}{join}neaten its outer edge.",
        f"{title}, sewn on: right sides together, seams matched; trim the allowance, clip the curve; press the "
        "allowance onto the facing and understitch it there. Turn the facing in; catch it to the seam allowances."
        f"{ends}",
    )


def waistband(told: Telling, group: Group) -> tuple[str, ...]:
    """Tell a waistband: one edge sewn on, the ends turned, the other edge sewn down inside."""
    seam = group.seams[0]
    band_piece = told.garment.piece(seam.plies[-1][0].piece)
    lap = any(line.name == "underlap" for line in band_piece.ring)
    fuse = "" if told.knit else "fuse interfacing to it; "
    join = "join the ends; " if _ring(group) else ""
    over = ", the underlap standing beyond one edge" if lap else ""
    ends = "" if _ring(group) else "; fold it right sides together, sew across the ends, turn it out"
    return (
        f"Waistband: {fuse}{join}press one long edge under; sew the other to the waist, right sides together, notches "
        f"matched{over}{told.eased(seam, 'skirt')}{ends}; sew the pressed edge down inside, over the seam.",
    )
