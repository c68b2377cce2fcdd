"""Stripes that meet at the seams: how far each part is moved against the stripe, and where they meet in the end.

Stripes are matched on the stitching line, not on the cut edge, from the hem up: at side seams, at centre and panel
seams, and from the sleeve to the front armhole, which comes before the back one (handbooks of garment making; an eased
cap can't be matched all the way round). What is sewn onto a face comes last, and is met at its opening. Shoulder seams,
bands and cuffs are not matched (common practice).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from drafting.cloth import Stripe
from drafting.garment import Face, Garment, Role, Seam
from drafting.garment.laying import way_of_stripes
from drafting.garment.meetings import LAST, Meeting, is_turned, list_meetings
from drafting.geometry import Point
from drafting.lay.parts import Part
from drafting.record import dataclass
from drafting.saying import Words, say


@dataclass(frozen=True, slots=True)
class Match:
    """How the stripes of two parts meet at a seam.

    ``off`` is how far they miss each other (mm) at the point that they are matched by, told by ``at`` ("" is the lower
    end, as is usual); ``most`` is how
    far they do anywhere along the seam, at the most half a repeat. ``near`` is how far below and above a notch they
    keep within ``NEARLY`` of each other (mm), None of a seam that isn't matched at one. ``owner`` is whose garment the
    seam is of, where several are laid together.
    """

    seam: str
    title: Words
    at: str
    off: float
    most: float
    near: tuple[float, float] | None = None
    owner: str = ""


@dataclass(frozen=True, slots=True)
class StripesPlaced:
    """How far each net piece is moved against the stripe (mm, below one repeat), and how the stripes meet so.

    ``askew`` are seams, where on them, and what they are called, at which they can't, for they run differently in the
    two pieces; ``left`` are layers that nothing brings together at a seam of which others meet. What shows nowhere is
    left out.
    """

    moved: Mapping[str, float]
    matches: tuple[Match, ...] = ()
    askew: tuple[tuple[Seam, str, Words], ...] = ()
    left: tuple[Words, ...] = ()


def place_against_stripe(garment: Garment, parts: Sequence[Part], stripe: Stripe) -> StripesPlaced:
    """Return how far each net piece is moved against the stripe, and how the stripes meet.

    A piece is moved along the way that the stripes follow each other on it, up its grain or across it: a point at y up
    the grain lies on the stripe at y + shift. A stripe across the cloth is met seam by seam. One along it runs down the
    centre of front, back and sleeves, and is met where a seam lies across it; on pieces that the maker turned it is met
    seam by seam too. Where the stripes of two pieces run at different angles to their seam they can't meet, and the
    seam brings nothing together; a turned piece without another has a stripe on its own centre. Parts whose grain
    doesn't run up and down the wearer, unless the maker turned them so, aren't matched, and have no shift.
    """
    tied = {part.name for part in parts if part.tied}
    turned = {name for name in tied if is_turned(garment.piece(name))}
    every = list_meetings(garment, tied, stripe)
    meetings = [each for each in every if not each.askew]
    centred = tied - turned if stripe.direction == "along" else set()
    if centred:
        meetings = [
            each for each in meetings if each.rank == LAST or turned & {*each.names} or _crosses_stripe(garment, each)
        ]
    placed = {name: _centre_stripe(garment, name, stripe) if name in centred | turned else 0.0 for name in sorted(tied)}
    moved = _bring_together(placed, centred, [each for each in meetings if each.rank != LAST], stripe.repeat)
    for each in meetings:
        if each.rank == LAST:
            piece = each.names[1]
            moved[piece] = each.sign * each.miss({**moved, piece: 0.0}) % stripe.repeat
    shown = [each for each in every if not each.covered]
    askew = dict.fromkeys((each.seam, each.at, _name_layers(garment, each)) for each in shown if each.askew)
    told = {each.seam.name for each in shown if each.askew or any(each is one for one in meetings)}
    apart = [each for each in shown if not each.askew and not any(each is one for one in meetings)]
    left = dict.fromkeys(_name_layers(garment, each) for each in apart if each.seam.name in told)
    matches = (
        replace(_judge_meeting(each, moved, stripe.repeat), title=_name_layers(garment, each))
        for each in shown
        if not each.askew and any(each is one for one in meetings)
    )
    return StripesPlaced(moved, tuple(matches), tuple(askew), tuple(left))


def _name_layers(garment: Garment, each: Meeting) -> Words:
    """A seam by its title; where something hangs in it by the two layers that are seen, too."""
    if not each.seam.hangs:
        return each.seam.title
    one, two = (garment.piece(name).title for name in each.names)
    return say("{seam}: {one} and {two}", seam=each.seam.title, one=one, two=two)


def _bring_together(
    placed: Mapping[str, float], centred: set[str], meetings: Sequence[Meeting], repeat: float
) -> dict[str, float]:
    """Move pieces seam by seam, the first seams first; a seam between pieces that hang together already must follow.

    Those that are ``centred`` stay where they are placed. What hangs together moves as one: where stripes follow each
    other the other way in a piece, it moves the other way.
    """
    group = {name: centred if name in centred else {name} for name in placed}
    moved, signs = dict(placed), dict.fromkeys(placed, 1.0)
    for each in meetings:
        one, two = each.names
        if group[one] is group[two]:
            continue
        by = each.sign * each.miss(moved)
        if group[two] is centred:
            one, two, by = two, one, -each.miss(moved)
        sign, turned = signs[two], each.sign * signs[one] * signs[two]
        for name in group[two]:
            moved[name] += by * signs[name] * sign
            signs[name] *= turned
        group[one] |= group[two]
        for name in group[two]:
            group[name] = group[one]
    return {name: shift % repeat for name, shift in moved.items()}


def _judge_meeting(each: Meeting, moved: Mapping[str, float], repeat: float) -> Match:
    one, two = each.names
    off = [_miss_of_repeat(a + moved[one] - b - each.sign * moved[two], repeat) for a, b in each.places]
    return Match(each.seam.name, each.seam.title, each.at, off[0], max(off), each.near)


def _miss_of_repeat(value: float, repeat: float) -> float:
    """How far a value lies from a whole number of repeats."""
    rest = value % repeat
    return min(rest, repeat - rest)


def _crosses_stripe(garment: Garment, each: Meeting) -> bool:
    """Whether a seam of front or back with itself lies across stripes that run down the centre."""
    one, two = (garment.piece(name).face for name in each.names)
    return each.level and one is two is not Face.NONE


def _centre_stripe(garment: Garment, name: str, stripe: Stripe) -> float:
    """The shift (mm) by which a stripe lies on a piece's centre: the wearer's, or the top of a sleeve's cap."""
    caps = garment.piece(name).lines(role=Role.CAP)
    ends = [point for line in caps for point in (line.path.start, line.path.end)]
    middle = max(ends, key=lambda point: point.y) if ends else Point(0.0, 0.0)
    return -middle.dot(way_of_stripes(garment.piece(name).grain, stripe)) % stripe.repeat
