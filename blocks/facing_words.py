"""How a facing in one is told: made ready, sewn to neck and armholes, turned in (common practice).

With the back open all along, neck and armholes are sewn as it lies, and each back is then pulled through its shoulder.
Otherwise the neck is sewn and turned first, and each armhole with the rest of the garment rolled up out of the way. For
both the sides are open still: they are sewn afterwards, garment and facing in one go.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from blocks.band_edge import corner
from drafting.garment import Deed, Group, Role, Seam, Telling, Told, does, instruct, same_corner
from drafting.garment.deeds import ENCLOSED, STRIP_NEATENED, Handling
from drafting.trade import TradeValue
from drafting.units import show_length
from drafting.work.telling import capital, clip_words, goes_round

STITCHED_SMALL = TradeValue(25.0, "mm", "common practice")
"""How far small stitches go to either side of a corner that is clipped into, so that it doesn't fray."""

OUT_OF_REACH = TradeValue(40.0, "mm", "from memory")
"""From a shoulder that a turned facing can't be understitched any more."""

_PINNED = "right sides together, shoulder seams matched."
_GRADE = "Trim the allowances in steps, the facing's the narrower, and clip the curves."
_PRESS = "Press, the seam a little to the inside."

UNDERSTITCHING = "through facing and allowances, close beside the seam"
"""What understitching is."""

_TURNED_AT_NECK = (
    f"Press the allowances onto the facing, and understitch it there: {UNDERSTITCHING}.",
    does("Turn the facing in, and press.", ENCLOSED),
)
"""How a facing is turned in at the neck alone."""

_UNROLLED = (
    does("Pull the roll out at the side edges.", ENCLOSED),
    _PRESS,
    f"Understitch the facing at the armhole as far as the machine reaches, from each side edge up: {UNDERSTITCHING}.",
)
"""How a facing is turned in at an armhole, and understitched."""


def tell_facing_in_one(told: Telling, group: Group) -> Told:
    """Tell the neck, with what makes the facing ready, or the armholes, with how it is turned in."""
    seam = group.seams[0]
    pulled = is_pulled_through(told)
    title = capital(group.title)
    if told.garment.line(seam.plies[0][0]).role is Role.NECKLINE:
        ready = instruct("Facing, made ready", *_ready_words())
        left = _leave_closed(told, seam)
        neck = instruct(title, "Pin the facing to the neck, " + _PINNED, *turn_points(told, seam), *left, _GRADE)
        return Told((ready, neck), after=() if pulled else (instruct(f"{title}, turned in", *_TURNED_AT_NECK),))
    turned = instruct("Facing turned in", *(_pull_words(told) if pulled else _UNROLLED))
    return Told((instruct(title, *_armhole_words(pulled)),), after=(turned,))


def _leave_closed(told: Telling, seam: Seam) -> Iterator[str]:
    """Where the neck's stitching begins and ends at an opened centre: what is folded there later stays free."""
    meets, tips = same_corner(told.garment), (seam.plies[0][0].reversed, seam.plies[0][-1])
    for closure in told.garment.closures:
        run = told.garment.seam(closure.seams[0]).plies[0]
        if any(meets(tip, run[0]) or meets(tip, run[-1].reversed) for tip in tips):
            name = closure.seams[0]
            step = f"step {told.numbers[name]}" if name in told.numbers else "a later step"
            yield f"Begin and end at the stitching lines of the centre {closure.place}, not at the raw edges."
            yield f"What lies beyond them stays free: it is folded under in {step}, which says how wide."


def is_pulled_through(told: Telling) -> bool:
    """Whether the centre is open while the facing is turned, so that each half passes through its shoulder."""
    necks = (seam for seam in told.garment.seams if seam.kind.within)
    return any(
        told.garment.line(seam.plies[0][0]).role is Role.NECKLINE and not goes_round(told, seam.plies[0])
        for seam in necks
    )


def _ready_words() -> Iterator[str | Deed]:
    yield "Fuse interfacing to the wrong side of each of its pieces."
    yield "Sew the front facing to the back at the shoulders, right sides together."
    yield "Press these seams open, and trim them narrow."
    yield "Leave its sides open."
    yield does("Neaten its lower edges.", STRIP_NEATENED)


def _armhole_words(pulled: bool) -> Iterator[str | Deed]:
    """How it is sewn to an armhole: as it lies, or with the garment rolled up between the two."""
    if pulled:
        yield "Pin the facing to the armhole, " + _PINNED
    else:
        yield "Lay the garment flat, its right side up and its facing beneath."
        yield does(
            "Roll it up from its other side as far as this shoulder, until the roll lies clear of this armhole.",
            Handling.ROLLED_UP,
        )
        yield "Bring the facing round the roll onto the armhole, and pin it, " + _PINNED
    yield "Sew from one side edge over the shoulder to the other."
    yield _GRADE


def _pull_words(told: Telling) -> Iterator[str | Deed]:
    """How a facing is turned in by way of the shoulders, and understitched."""
    far = show_length(OUT_OF_REACH, told.unit)
    yield "Reach in between the front and its facing, up to the shoulder."
    yield does(
        "Pull the back and its facing down through there, and out at the lower edge.", ENCLOSED, Handling.PULLED_THROUGH
    )
    yield "Do the other side alike."
    yield _PRESS
    yield f"Understitch the facing as far as the machine reaches: {UNDERSTITCHING}."
    yield f"Work from the centre back, and from each underarm up, to about {far} from the shoulders."


def turn_points(told: Telling, seam: Seam) -> tuple[str, ...]:
    """Tell what is done at the point of a V or the corners of a square neck, which lie flat only once clipped into."""
    runs = [section.plies[0] for section in seam.sections]
    points = sum(corner(told.garment, *pair) > 0.0 for run in runs for pair in itertools.pairwise(run))
    if not points:
        return ("Sew it on.",)
    where, there = ("the point", "there") if points == 1 else ("each corner", "at each")
    small = show_length(STITCHED_SMALL, told.unit)
    return (
        f"Sew it on, with small stitches for {small} to either side of {where}, turning {there} with the needle down.",
        clip_words(told, "allowances of the garment and of the facing", where),
    )
