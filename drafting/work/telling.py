"""What tellers of seams ask of a garment at work: its cloth's stitch, what is eased in, how it is pressed, titles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Final

from drafting.errors import DraftingError
from drafting.garment import (
    OVERLOCK,
    Deed,
    Garment,
    Group,
    Role,
    Run,
    Seam,
    Telling,
    Use,
    balance_marks,
    does,
    same_corner,
    usual_stitch,
)
from drafting.garment.deeds import NEATENED, Handling
from drafting.garment.easing import find_eased
from drafting.garment.places import gathered_length
from drafting.saying import list_sides, reword, shorten
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.units import show_length

WORTH_TELLING = TradeValue(1.5, "mm", "from memory")
"""Of ease that is told: less is lost in any seam."""

BY_MILLIMETRES = TradeValue(9.5, "mm", "from memory")
"""Of ease below which it is told in whole millimetres where the maker's unit is the centimetre: none is sewn finer."""

GATHERED_FROM = TradeValue(0.12, "share", "from memory")
"""By which a ply is longer from which it is gathered or pleated, not eased."""

MOST_EASED_CAP = TradeValue(44.45, "mm", "from memory", "1 3/4 in, the most that is eased into an armhole")
"""Of a cap's length that is eased in: more is gathered."""

_STITCHES: Mapping[str, str] = {"301": "by lockstitch (301)", "514": "by overlock (514) or zigzag (304)"}


def is_knit(garment: Garment) -> bool:
    """Whether the garment is sewn as knits are."""
    return garment.find_once(usual_stitch) == OVERLOCK


def is_centre(garment: Garment, seam: Seam) -> bool:
    """Tell whether a seam joins two pieces along the centre of the front or the back."""
    return not seam.kind.closes and all(garment.line(use).role is Role.CENTRE for use in seam.uses())


@contextmanager
def blaming(seam: Seam) -> Iterator[None]:
    """Name the kind of a seam, whose package is at fault, in whatever its own functions raise."""
    try:
        yield
    except Exception as error:  # a fault of the kind's own, which is told with its name
        fault = RuntimeError(str(error)) if isinstance(error, DraftingError) else error
        fault.add_note(f'the seam "{seam.name}" of the kind "{seam.kind.name}" as it is told')
        if fault is error:
            raise
        raise fault from error


def told_length(told: Telling, millimetres: float) -> str:
    """Show a length in the maker's unit; an empty text for what isn't worth telling or rounds to nothing."""
    size = abs(millimetres)
    fine = told.unit == "cm" and size < BY_MILLIMETRES
    shown = show_length(round(size), "mm") if fine else show_length(size, told.unit)
    return "" if size < WORTH_TELLING or not any(c in "123456789" for c in shown) else shown


def tell_ease(told: Telling, seam: Seam, what: str = "") -> str:
    """Tell what a seam takes up by ease or gathers: ", easing 4 mm of the back in"; empty if nothing.

    What isn't a cap's, whose crown takes most, is eased in over the whole seam; a front's side at the bust.
    """
    words = tell_taken_up(told, seam, what)
    at_bust = _tell_eased_at(told.garment, seam) if words and not what else ""
    if at_bust:
        return f"{words} {at_bust}"
    whole = words and not what and len(seam.sections) == 1 and not is_gathered(told.garment, seam)
    return f"{words}, evenly from end to end" if whole else words


def _tell_eased_at(garment: Garment, seam: Seam) -> str:
    """Between what a side is eased in at the bust: "between notches 5 and 6, at the bust"; "" if it is nowhere so."""
    found = ((number, find_eased(garment, seam, number)) for number in range(len(seam.sections)))
    number, eased = next(((number, each) for number, each in found if each), (0, None))
    if eased is None or is_gathered(garment, seam):
        return ""
    run = seam.sections[number].plies[eased.ply]
    below, above = (eased.start, eased.end) if eased.rises else (eased.end, eased.start)
    low, top = (_mark_at(garment, seam, run, s) for s in (below, above))
    if low and top:
        return f"between notches {low} and {top}, at the bust"
    return (
        f"between {f'notch {low}' if low else 'the lower end'} and {f'notch {top}' if top else 'the underarm'}, at "
        "the bust"
    )


def _mark_at(garment: Garment, seam: Seam, run: Run, s: float) -> int:
    """The number of the notch that stands so far along a run of one line (mm), 0 where none does."""
    (use,) = run
    at = garment.line(use).path.length - s if use.against else s
    for mark in garment.find_once(balance_marks):
        for each, where in mark.at:
            same = mark.seam == seam.name and (each.piece, each.line) == (use.piece, use.line)
            if same and abs(where - at) <= TOLERANCE.sewn_length:
                return mark.number
    return 0


def tell_taken_up(told: Telling, seam: Seam, what: str = "") -> str:
    """Tell what a seam, or a stretch of one, takes up, not over how much of it: ", easing 4 mm of the back in"."""
    ply = max(range(1, len(seam.ease)), key=lambda i: abs(seam.ease[i]), default=0)
    ease = seam.ease[ply]
    shown = told_length(told, ease)
    if not shown:
        return ""
    longer, shorter = (ply, 0) if ease > 0.0 else (0, ply)
    runs = seam.plies
    much = is_gathered(told.garment, seam)
    of = what or _short_name(told, runs[longer][0], runs[shorter][0])
    return f", {'gathering' if much else 'easing'} {shown} of the {of} in"


def is_gathered(garment: Garment, seam: Seam) -> bool:
    """Whether a ply of a seam is gathered into it, not eased: where it says so, or is much longer; a cap soonest."""
    ply = max(range(1, len(seam.ease)), key=lambda i: abs(seam.ease[i]), default=0)
    ease, runs = seam.ease[ply], seam.plies
    if not ease:
        return False
    longer, shorter = (ply, 0) if ease > 0.0 else (0, ply)
    if gathered_length(garment, runs[longer]) > 0.0:
        return True
    cap = all(garment.line(use).role is Role.CAP for use in runs[longer])
    most = GATHERED_FROM * garment.run_length(runs[shorter])
    return abs(ease) > (min(most, MOST_EASED_CAP) if cap else most)


def gather_words(told: Telling, seam: Seam, what: str) -> tuple[str, ...]:
    """Tell how an edge is drawn up before it is pinned, if it is gathered into a seam (common practice)."""
    if not is_gathered(told.garment, seam):
        return ()
    return (
        f"Sew two rows of long stitches {what}, in the allowance, where the note on the piece tells to gather.",
        "Draw up their threads until the edge is as long as the other, and spread the fullness evenly.",
    )


def _short_name(told: Telling, use: Use, other: Use) -> str:
    """Name a piece shortly beside another: by its face where they differ in that."""
    one, two = told.garment.line(use).face, told.garment.line(other).face
    return str(one) if one and one is not two else str(shorten(told.garment.piece(use.piece).title)).lower()


def goes_round(told: Telling, run: Run) -> bool:
    """Whether a run goes right round."""
    return same_corner(told.garment)(run[-1], run[0])


TO_THE_BACK: Final = "towards the back"
"""How most seams of a knit are pressed: to which side, as a kind says it."""


def tell_pressing(told: Telling, knit: str) -> str | Deed:
    """Tell how a plain seam is pressed: open, its edges neatened first, or in a knit to the side its kind says."""
    if not is_knit(told.garment):
        return does("Neaten each edge, then press it open.", NEATENED, Handling.PRESSED_OPEN)
    return does(f"Press it {knit}.", *((Handling.PRESSED_BACK,) if knit == TO_THE_BACK else ()))


def neaten_as_one(told: Telling) -> str | Deed:
    """Tell that the edges of a seam are neatened as one; in a knit its stitch has done so already."""
    return "" if is_knit(told.garment) else does("Neaten its edges as one.", NEATENED)


def sew_words(told: Telling, seam: Seam, what: str = "") -> str:
    """Tell that a seam is sewn, and what it takes up."""
    return f"Sew the seam{tell_ease(told, seam, what)}."


def stitch_words(told: Telling, seam: Seam) -> str:
    """Tell the stitch where it is neither the garment's usual one nor that of its kind."""
    if seam.stitch in (told.garment.find_once(usual_stitch), seam.kind.stitch):
        return ""
    return f", {_STITCHES.get(seam.stitch, f'by stitch {seam.stitch} of ISO 4915')}"


CLIP_SHORT_OF = TradeValue(1.0, "mm", "common practice")
"""From the stitching that a clip ends: a thread; farther off the corner puckers, nearer it frays out."""


def clip_words(told: Telling, layers: str, where: str) -> str:
    """Tell which layers' allowances are clipped, into which place, and how far."""
    short = THREAD_IN_INCHES if told.unit == "in" else show_length(CLIP_SHORT_OF, "mm")
    return f"Clip the {layers} straight into {where}, to a thread ({short}) from the stitching."


THREAD_IN_INCHES: Final = "less than 1/16 in"
"""What that is on a tape in inches, which has no finer mark."""


def plain_machine_words(told: Telling, what: str) -> str:
    """Tell that an overlock can't sew what turns or stops at a point; nothing of a woven, which it doesn't sew."""
    return f"Take a plain machine for {what}, narrow zigzag (304): an overlock can't stop at a point." * is_knit(
        told.garment
    )


def title_of(told: Telling, group: Group, spoken: Mapping[str, str] | None = None) -> str:
    """Return a step's title, and the stitch if that is another; ``spoken`` says templates of titles otherwise."""
    return capital(str(reword(group.said, spoken or {}))) + stitch_words(told, group.seams[0])


def tell_first(told: Telling, form: str, group: Group) -> str:
    """Name what was told in full of a group's form: "neck band", "left one" beside its like; "" if nothing was."""
    first = told.full.get(form)
    if first is None:
        return ""
    sides, short = list_sides(first), str(shorten(first)).lower()
    alike = len(sides) == 1 and short == str(shorten(group.said)).lower()
    return f"{sides[0]} one" if alike else short


def is_zipped(told: Telling) -> bool:
    """Whether what closes the garment lies edge to edge, as a zip does."""
    return any(seam.kind.closes and not seam.kind.lapped for seam in told.garment.seams)


def meets_closure(told: Telling, seam: Seam) -> bool:
    """Whether a seam runs on where a closure ends."""
    closing = (use for one in told.garment.seams if one.kind.closes for use in one.uses())
    parted = {told.garment.line(use).ancestry[-1:] for use in closing}
    return any(line.ancestry and line.ancestry[-1:] in parted for line in map(told.garment.line, seam.uses()))


def and_(words: Sequence[str]) -> str:
    """Return words as a list.

    >>> and_(["bust", "waist", "elbow"])
    'bust, waist and elbow'
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def capital(words: str) -> str:
    """Return words with a capital at their start."""
    return words[:1].upper() + words[1:]
