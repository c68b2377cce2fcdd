"""How bands and bindings are told: what finishes an edge as a strip of its own (common practice)."""

from __future__ import annotations

from collections.abc import Mapping

from drafting.garment import Face, Garment, Group, Role, Run, Seam, Telling, Told
from drafting.garment.places import gathered_length
from drafting.work.telling import capital, goes_round, stitch_words, tell_first, told_length

_FORM = "band"
"""A band joined to a ring: the first is told in full, the others by it."""

_WRAP = "wrap it over the edge to the wrong side, raw edge turned under, and stitch it down in the seam's groove"

_EDGES: Mapping[Role, str] = {
    Role.NECKLINE: "neckline",
    Role.ARMHOLE: "armhole",
    Role.WRIST: "sleeve",
    Role.HEM: "garment",
    Role.WAIST: "waist",
}


def is_ring(group: Group) -> bool:
    """Whether the ends of a band are joined."""
    return any(not seam.kind.mitred for seam in group.ready)


def tell_band(told: Telling, group: Group) -> Told:
    """Tell a folded band: made ready, folded, quartered, stretched onto its edge."""
    seam = group.seams[0]
    edge = edge_of(told.garment, seam)
    title, by = capital(group.title) + stitch_words(told, seam), _stretch(told, seam)
    at = f"its join at {join_place(told.garment, seam.plies[0])}"
    form = _FORM if is_ring(group) else ""
    first = tell_first(told, form, group)
    if first:
        return Told((f"{title}: make and sew it as the {first}, {at}; stretch it{by}.",), form)
    ends = "join the ends; " if is_ring(group) else ""
    where = f"divide band and {edge} in four (the notches), {at}" if is_ring(group) else "match the notches"
    last = "" if is_ring(group) else " Turn the ends in beside the opening."
    steps = (
        f"{title}: {ends}fold it lengthwise, wrong sides together. {_gather_up(told, seam)}{capital(where)}; sew the "
        f"band's raw edges to the right side, band on top, stretching the band{by}, never the {edge}. Press the seam "
        f"away from the band.{last}",
    )
    return Told(steps, form)


def _stretch(told: Telling, seam: Seam) -> str:
    """By how much a band is stretched on (or eased): in all, once its edge is gathered."""
    ease = seam.ease[-1] + gathered_length(told.garment, seam.plies[0])
    shown = told_length(told, ease)
    return f" ({'easing' if ease > 0.0 else 'by'} {shown} altogether)" if shown else ""


def _gather_up(told: Telling, seam: Seam) -> str:
    """A gathered edge is drawn up first."""
    shown = told_length(told, gathered_length(told.garment, seam.plies[0]))
    return f"Gather the {edge_of(told.garment, seam)} by {shown}. " if shown else ""


def tell_mitred_band(told: Telling, group: Group) -> Told:
    """Tell a band on an edge with corners: a mitre sits on each, and the edge is clipped there to open round it."""
    seam = group.seams[0]
    title = capital(group.title) + stitch_words(told, seam)
    by = _stretch(told, seam)
    ease = f", stretching it{by} along its curves only" if by else ""
    count = sum(one.kind.mitred for one in group.ready)
    each, corner = ("the mitre", "the point") if count == 1 else ("each mitre", "each corner")
    edge = edge_of(told.garment, seam)
    ends = "" if goes_round(told, seam.plies[0]) else " Turn its ends in beside the opening."
    onto = "the point" if count == 1 else "its corner"
    return Told((
        f"{title}: sew {each} from stitching line over the fold to stitching line, snip it at the fold; fold the band "
        f"lengthwise, wrong sides together; stay-stitch {corner} of the {edge} and clip into it; sew it on, "
        f"{each} on {onto}, turning there, needle down{ease}; press the seam away from it.{ends}",
    ))  # fmt: skip


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


def tell_binding(told: Telling, group: Group) -> Told:
    """Tell a binding: sewn on right sides together, wrapped over the edge, stitched down."""
    seam = group.seams[0]
    ends = "" if is_ring(group) else "; its ends stay open, to be caught in a seam"
    return Told((
        f"{_begin_binding(told, group)}{_gather_up(told, seam)}sew it on, right sides together, stretching the binding"
        f"{_stretch(told, seam)}, never the {edge_of(told.garment, seam)}; {_WRAP}{ends}.",
    ))  # fmt: skip


def tell_cornered_binding(told: Telling, group: Group) -> Told:
    """Tell a binding on an edge with corners: one strip, folded to a mitre at each."""
    seam = group.seams[0]
    by = _stretch(told, seam)
    ease = f", stretching it{by} along its curves only" if by else ""
    return Told((
        f"{_begin_binding(told, group)}stay-stitch each corner of the {edge_of(told.garment, seam)} and clip into it, "
        f"just short of the stitching line; sew it on, right sides together, opening each corner out straight{ease}; "
        f"{_WRAP}; fold a mitre at each corner and stitch it.",
    ))  # fmt: skip


def _begin_binding(told: Telling, group: Group) -> str:
    seam = group.seams[0]
    join = f"join the ends, the join at {join_place(told.garment, seam.plies[0])}; " if is_ring(group) else ""
    return f"{capital(group.title)}{stitch_words(told, seam)}: {join}"
