"""What is said of a striped cloth that is laid: how its stripes run on the parts, and where they meet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from drafting.garment.laying import STRIPES_ALIKE
from drafting.garment.meetings import NEARLY
from drafting.lay.matched import LaidStripe
from drafting.lay.parts import Part
from drafting.lay.spread import Lay
from drafting.lay.stripes import Match
from drafting.saying import list_sayings
from drafting.sides import Face
from drafting.trade import TradeValue
from drafting.units import Unit, show_length

EIGHTH = TradeValue(3.175, "mm", "common practice", "1/8 in")
"""The finest length that is told in inches beside a cloth."""

STRIPES_MEET = TradeValue(1.0, "mm", "from memory")
"""By which stripes that meet may miss each other, as far as cloth can be laid."""


def show_on_cloth(length: float, unit: Unit) -> str:
    """Return a length as cloth is laid by: to the millimetre, so that lengths beside each other read alike.

    >>> show_on_cloth(6.0, "cm"), show_on_cloth(38.0, "cm"), show_on_cloth(5.4, "mm"), show_on_cloth(12.7, "in")
    ('0.6 cm', '3.8 cm', '5 mm', '1/2 in')
    """
    whole = round(length) + 0.0
    return f"{whole / 10.0:.1f} cm" if unit == "cm" else show_length(whole if unit == "mm" else length, unit)


def tell_stripes(lay: Lay, unit: Unit) -> Iterator[str]:
    """Yield how a striped cloth is laid, and where its stripes meet."""
    asked = lay.cloth.stripe
    assert asked is not None
    if not lay.is_tied:
        yield f"Stripes every {show_length(asked.repeat, unit)} are not brought together here."
    for each in (each for each in lay.stripes if each.shifts):
        yield _tell_stripe(lay, each, unit)
        yield from _tell_matches(each, unit)


def _tell_stripe(lay: Lay, laid: LaidStripe, unit: Unit) -> str:
    """How the cloth is laid for a stripe."""
    asked = () if lay.cloth.stripe is None else lay.cloth.stripe.plain
    washed = all(stripe.repeat != laid.stripe.repeat for stripe in asked if stripe.direction == laid.stripe.direction)
    every = show_length(laid.stripe.repeat, unit) + (" after the wash" if washed else "")
    if laid.is_across:
        return (
            f"Stripes across, every {every}: the grey lines are one edge of a stripe, the same everywhere. Begin the "
            f"cloth so that the first lies {_tell_first(laid.first, unit)}; a repeat is bought for that."
        )
    runs = str(list_sayings(list(_tell_runs(lay, laid)), last=", and "))
    one = f"one, the same everywhere, {runs}" if runs else "all pieces lie by one"
    return (
        f"Stripes along the cloth, every {every}: {one}. Slide the whole plan sideways until its grey lines lie on "
        "the middle of your stripes; there is room for it."
    )


def _tell_matches(laid: LaidStripe, unit: Unit) -> Iterator[str]:
    """Where a stripe meets at the seams, and where it doesn't."""
    apart = {_seam(match) for match in laid.matches if match.off > STRIPES_MEET}
    named = [(_seam(match, match.owner if _seam(match) in apart else ""), match) for match in laid.matches]
    missing: dict[str, float] = {}
    for name, match in named:
        if match.off > STRIPES_MEET:
            missing[name] = max(match.off, missing.get(name, 0.0))
    meeting: dict[str, list[Match]] = {}
    for name, match in named:
        if name not in missing:
            meeting.setdefault(name, []).append(match)
    if meeting:
        yield f"They meet at: {'; '.join(f'{name}{_tell_beyond(met, unit)}' for name, met in meeting.items())}."
    if missing:
        off = (f"{seam} by {_show_miss(most, unit)}" for seam, most in missing.items())
        yield f"They can't meet as well at: {'; '.join(off)}."
    for told in dict.fromkeys(map(str, laid.apart)):
        yield f"{told[:1].upper()}{told[1:]}."
    if laid.unmatched:
        yield f"As is usual, they aren't brought together at: {'; '.join(dict.fromkeys(map(str, laid.unmatched)))}."


def _show_miss(most: float, unit: Unit) -> str:
    """By how much stripes miss each other: never nothing, where they are said to miss."""
    shown = show_on_cloth(most, unit)
    return f"less than {show_length(EIGHTH, unit)}" if shown == show_on_cloth(0.0, unit) else shown


def _tell_runs(lay: Lay, laid: LaidStripe) -> Iterator[str]:
    """How a stripe along the cloth runs on front, back and sleeves: by the angle of their grain to their height.

    Where it doesn't run alike on all pieces of the front or the back, these are named one by one.
    """
    ways: dict[str, list[Part]] = {"runs down the centre of": [], "slants over": [], "runs round": []}
    for part in (each.part for each in lay.laid if each.part.key in laid.shifts):
        grain = part.piece.grain
        askew = math.atan2(abs(grain.x), abs(grain.y))
        slants = "slants over" if askew < math.pi / 2.0 - STRIPES_ALIKE else "runs round"
        ways["runs down the centre of" if part.upright else slants].append(part)
    found = [{part.face for part in parts} for parts in ways.values()]
    mixed = {face for face in Face if sum(face in faces for faces in found) > 1}
    for how, parts in ways.items():
        alone = {face: str(face) for face in (Face.FRONT, Face.BACK) if face not in mixed}
        faced = sorted((part for part in parts if part.face), key=lambda part: part.face is Face.BACK)
        named = list(dict.fromkeys(alone.get(part.face, _begin_small(part.piece.title)) for part in faced))
        named += ["sleeves"] if any(part.sleeve for part in parts) else []
        if named:
            yield f"{how} the {list_sayings(named, last=' and ')}"


def _begin_small(title: str) -> str:
    return f"{title[:1].lower()}{title[1:]}"


def _tell_first(first: float, unit: Unit) -> str:
    told = show_on_cloth(first, unit)
    return "on the cut end" if told == show_on_cloth(0.0, unit) else f"{told} from the cut end"


def _tell_beyond(matches: Sequence[Match], unit: Unit) -> str:
    """How far stripes that meet at one place of a seam miss each other along it."""
    most = max(match.most for match in matches)
    reaches = [match.near for match in matches if match.near is not None]
    if most <= STRIPES_MEET or not reaches:
        return "" if most <= STRIPES_MEET else f", then up to {_show_miss(most, unit)} apart"
    low, high = (show_on_cloth(min(each), unit) for each in zip(*reaches, strict=True))
    return (
        f" (no more than {show_on_cloth(NEARLY, unit)} apart from {low} below it to {high} above, elsewhere up to "
        f"{show_on_cloth(most, unit)})"
    )


def _seam(match: Match, owner: str = "") -> str:
    """The seam, where on it, and whose garment's it is, where not all meet alike there."""
    return ", ".join(filter(None, (str(match.title), match.at, owner)))
