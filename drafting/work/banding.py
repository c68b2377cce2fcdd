"""How bands and bindings are told: what finishes an edge as a strip of its own (common practice)."""

from __future__ import annotations

from collections.abc import Mapping

from drafting.garment import (
    Deed,
    Face,
    Garment,
    Group,
    Role,
    Run,
    Seam,
    Telling,
    Told,
    balance_marks,
    does,
    tell_step,
)
from drafting.garment.balance import find_even
from drafting.garment.deeds import BOUND, ENDS_CAUGHT, ENDS_ENCLOSED, STRIP_FOLDED, Handling
from drafting.garment.named_marks import name_marks
from drafting.garment.places import binding_width, gathered_length
from drafting.sides import Side
from drafting.tolerance import TOLERANCE
from drafting.units import show_length
from drafting.work.meeting import mark_numbers
from drafting.work.telling import (
    WORTH_TELLING,
    capital,
    clip_words,
    goes_round,
    plain_machine_words,
    stitch_words,
    told_length,
)

_FOLD = does("Fold the band lengthwise, wrong sides together, and press.", STRIP_FOLDED)
"""How a band is made double."""

_JOIN = does(
    "Sew the band's ends right sides together, so that it is a ring, and press that seam open.", Handling.RING_MADE
)
"""How it goes right round."""

_JOIN_BOTH = does(
    "Sew the ends of its two strips right sides together, so that they are a ring, and press those seams open.",
    Handling.RING_MADE,
)
"""How a band of two strips goes right round."""

_WRAP = (
    does("Wrap the binding over the edge to the wrong side.", BOUND),
    does("Turn its other long edge under, so that the fold lies just over the stitching.", STRIP_FOLDED),
    "Stitch it down from the right side, in the seam's groove.",
)
"""How a binding that is sewn on is finished."""

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
    ring, both = is_ring(group), len(group.ready) > len(group.seams)
    at = "its joins at the side seams" if both else f"its join at {join_place(told.garment, seam.plies[0])}"
    pin = f"Pin both its raw edges to the right side of the {edge}"
    return tell_step(
        title,
        (_JOIN_BOTH if both else _JOIN) if ring else "",
        _FOLD,
        *_gather_up(told, seam),
        *(_quarter(told, group, edge) if ring else ()),
        f"{pin}, {at}, notch on notch." if ring else f"{pin}, notch on notch.",
        _centre_words(told.garment, seam) if ring else "",
        f"Sew with the band on top, stretching the band{by} and never the {edge}.",
        "Press the seam away from the band.",
        "" if ring else does("Turn the ends in beside the opening.", ENDS_ENCLOSED),
    )


def _quarter(told: Telling, group: Group, edge: str) -> tuple[str, ...]:
    """How a ring and its edge are divided: at their notches, or from the one there is."""
    if len(mark_numbers(told.garment, group.seams[0])) > 1:
        return (f"Divide the band and the {edge} in four, at the notches.",)
    marks = (mark for mark in told.garment.find_once(balance_marks) if mark.seam == group.seams[0].name)
    at_seam = next((f" (the {name})" for mark in marks for _, name in mark.meets if name), "")
    halved = f"halve each stretch between notch{at_seam} and join, and mark its middle"
    return f"Divide the band and the {edge} in four: {halved}.", *_front_stretch(told, group, edge)


def _front_stretch(told: Telling, group: Group, edge: str) -> tuple[str, ...]:
    """Which stretch of a ring with one notch is the front's; nothing where both are alike, or where sides differ.

    A folded ring is the same turned over, so of two bands cut alike either goes on either side.
    """
    faces = [[_face_length(told.garment, seam, face) for face in (Face.FRONT, Face.BACK)] for seam in group.seams]
    (front, back), *others = faces
    alike = all(abs(a - b) <= TOLERANCE.sewn_length for each in others for a, b in zip(each, faces[0], strict=True))
    if not alike or min(front, back) <= 0.0 or abs(front - back) <= WORTH_TELLING:
        return ()
    either = (f"Both bands are the same: either goes on either {edge}.",) if others else ()
    longer = "longer" if front > back else "shorter"
    flat = told_length(told, front - back)
    by = f" (by {flat}, measured flat)" if flat else ""
    return f"The {longer} stretch of the band{by} is the front's.", *either


def _face_length(garment: Garment, seam: Seam, face: Face) -> float:
    """How much of a band (mm) lies on the front, or on the back."""
    return sum(
        garment.run_length(section.plies[-1])
        * sum(garment.path(use).length for use in section.plies[0] if garment.line(use).face is face)
        / garment.run_length(section.plies[0])
        for section in seam.sections
    )


def _stretch(told: Telling, seam: Seam) -> str:
    """By how much a band is stretched on (or eased): in all, once its edge is gathered."""
    ease = seam.ease[-1] + gathered_length(told.garment, seam.plies[0])
    shown = told_length(told, ease)
    return f" ({'easing' if ease > 0.0 else 'by'} {shown} altogether)" if shown else ""


def _gather_up(told: Telling, seam: Seam) -> tuple[str, ...]:
    """A gathered edge is drawn up first."""
    shown = told_length(told, gathered_length(told.garment, seam.plies[0]))
    if not shown:
        return ()
    edge = edge_of(told.garment, seam)
    return (
        f"Sew two rows of long stitches along the {edge}, in the allowance, where the piece's note says.",
        f"Draw up their threads until it is {shown} shorter, and spread the fullness evenly.",
    )


def tell_mitred_band(told: Telling, group: Group) -> Told:
    """Tell a band on an edge with corners: a mitre sits on each, and the edge is clipped there to open round it."""
    seam = group.seams[0]
    title = capital(group.title) + stitch_words(told, seam)
    by = _stretch(told, seam)
    ease = f", stretching it{by} along its curves only" if by else ""
    count = sum(one.kind.mitred for one in group.ready)
    each, corner = ("the mitre", "the V") if count == 1 else ("each mitre", "each corner")
    edge = edge_of(told.garment, seam)
    round_it = goes_round(told, seam.plies[0])
    ends = "" if round_it else does("Turn its ends in beside the opening.", ENDS_ENCLOSED)
    onto = "the V" if count == 1 else "its corner"
    return tell_step(
        title,
        plain_machine_words(told, f"{each} and {corner}"),
        does(
            f"Sew {each} of the band from stitching line over the fold to stitching line.",
            Handling.RING_MADE,
        ),
        "Snip its allowance at the fold, from the raw edge to a thread from the stitching, and press it open.",
        _FOLD,
        f"Stay-stitch {corner} of the {edge} in the allowance, a thread beside the stitching line.",
        clip_words(told, f"{edge}'s allowance, not the band's,", corner),
        f"Pin the band's raw edges to the right side of the {edge}, {each} on {onto}.",
        f"{'Sew one side of it on, up to' if count == 1 else 'Sew it on side by side, as far as'} {corner}{ease}.",
        *_PAST_MITRE,
        "Press the seam away from the band.",
        ends,
    )


_PAST_MITRE = (
    "While you do so, keep the band's next side, which the mitre holds, lifted out of the way.",
    "With the needle down there lift the foot, open the clip, lay the next side's raw edges level, and sew on.",
)
"""How a band is sewn on round a corner at which its mitre is closed (common practice)."""


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


def _centre_words(garment: Garment, seam: Seam) -> str:
    """By what the centre of a whole piece is known to which a band's join comes: it has a notch that joins no other."""
    run, place, named = seam.plies[0], join_place(garment, seam.plies[0]), name_marks(garment)
    sides = {garment.line(run[0]).side, garment.line(run[-1]).side}
    numbered = any(named.get(number, "") in place for number in mark_numbers(garment, seam) if number in named)
    if run[0].piece != run[-1].piece or sides != {Side.LEFT, Side.RIGHT} or numbered:
        return ""
    garments = place.replace("the ", "The garment's ", 1)
    even = run[0].piece in garment.find_once(find_even)  # only such a piece can be cut on a fold
    return f"{garments} is the notch without a number{', or the fold where its piece was cut on one' * even}."


def tell_binding(told: Telling, group: Group) -> Told:
    """Tell a binding: sewn on right sides together, wrapped over the edge, stitched down."""
    seam = group.seams[0]
    edge = edge_of(told.garment, seam)
    ends = "" if is_ring(group) else does(f"Leave its ends open: {_catching(told, seam)}.", ENDS_CAUGHT)
    return tell_step(
        _binding_title(told, group),
        _join_binding(told, group),
        *_gather_up(told, seam),
        _pin_on(edge),
        "" if is_ring(group) else f"Let its ends come level with the raw edges that cross the {edge} there.",
        f"Sew it on {_off_edge(told, seam)}, stretching the binding{_stretch(told, seam)} and never the {edge}.",
        *_WRAP,
        ends,
    )


def _pin_on(edge: str) -> str:
    """How a binding is laid on the edge that it binds."""
    onto = f"the right side of the {edge}, right sides together"
    return f"Pin the binding to {onto}, one of its long edges level with that edge."


def _catching(told: Telling, seam: Seam) -> str:
    """Which step catches the open ends of a binding: that of the seam which comes after it and takes them in."""
    edged = {use.piece for use in seam.plies[0]}
    later = [
        told.numbers[name]
        for name, before in told.before.items()
        if seam.name in before and name in told.numbers
        and edged & {use.piece for use in told.garment.seam(name).uses()}
    ]  # fmt: skip
    return f"step {min(later)} catches them" if later else "a later seam catches them"


def tell_cornered_binding(told: Telling, group: Group) -> Told:
    """Tell a binding on an edge with corners: one strip, folded to a mitre at each."""
    seam = group.seams[0]
    by = _stretch(told, seam)
    ease = f", stretching it{by} along its curves only" if by else ""
    edge = edge_of(told.garment, seam)
    return tell_step(
        _binding_title(told, group),
        _join_binding(told, group),
        f"Stay-stitch each corner of the {edge} in the allowance, just beside the stitching line.",
        clip_words(told, f"{edge}'s allowance", "each corner"),
        _pin_on(edge),
        f"Sew it on {_off_edge(told, seam)}, opening each corner out straight{ease}.",
        *_WRAP,
        "Fold a mitre at each corner and stitch it.",
    )


def _off_edge(told: Telling, seam: Seam) -> str:
    """How far from the bound edge a binding is sewn: the edge is the finished one, so as far as it is wide."""
    width = binding_width(told.garment.piece(seam.plies[-1][0].piece))
    return f"{show_length(width, told.unit, sixteenths=True)} from the {edge_of(told.garment, seam)}'s edge"


def _binding_title(told: Telling, group: Group) -> str:
    return f"{capital(group.title)}{stitch_words(told, group.seams[0])}"


def _join_binding(told: Telling, group: Group) -> str | Deed:
    if not is_ring(group):
        return ""
    place = join_place(told.garment, group.seams[0].plies[0])
    return does(f"Sew the binding's ends right sides together; this join comes to {place}.", Handling.RING_MADE)
