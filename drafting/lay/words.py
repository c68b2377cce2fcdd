"""What is said of a lay: how much to buy, how to lay the cloth and the parts, and where stripes meet."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

from drafting.cloth import Cloth, Kind
from drafting.finishing.labels import name_cloth
from drafting.garment.model import INTERFACING
from drafting.lay.matched import LaidStripe
from drafting.lay.parts import Part
from drafting.lay.places import LaidPlace, find_places
from drafting.lay.spread import ClothSpread, Lay, Layers
from drafting.lay.stays import tell_stay_strips
from drafting.lay.stripe_words import show_on_cloth, tell_stripes
from drafting.lay.washing import tell_loss
from drafting.lay.widths import WIDTH_TOLD_IN, least_width
from drafting.mending import Advisor, add_mends, advise_nothing, situation
from drafting.proof.checks.cutting import LAID_OFF
from drafting.record import dataclass
from drafting.trade import TradeValue
from drafting.units import Unit, show_length, show_share

LAYING = (
    "Lay the cloth in a single layer, right side up, the selvedges straight, smooth but never stretched. Lay the "
    "pattern printed side up unless the plan says otherwise, each grain arrow along the selvedges."
)
"""How a cloth is laid in a single layer."""

FOLDING = (
    "Fold the cloth lengthwise, right sides together, selvedge on selvedge, smooth but never stretched; the fold lies "
    "to your left. Lay halves with their fold line on the fold; cut all through both layers."
)
"""How a cloth is laid folded."""

OPENING_OUT = (
    "When all that is folded is cut, open the rest of the cloth out, right side up, and lay it as a single layer."
)
"""How the rest of a folded cloth is laid."""


@dataclass(frozen=True, slots=True)
class LayWords:
    """What is said of a lay: its heading, what to buy, what its drawing shows as well, and further paragraphs."""

    heading: str
    buy: str
    drawn: tuple[str, ...]
    lines: tuple[str, ...]


def describe_spreads(lay: Lay, unit: Unit, advisor: Advisor = advise_nothing) -> tuple[LayWords, ...]:
    """Return what is said of each spread of a lay, lengths in the maker's unit.

    ``advisor`` knows what parts a piece too wide. What is bought is told of the first.
    """
    return tuple(
        LayWords(
            _head(lay, spread, unit),
            _tell_buy(lay, spread, unit),
            tuple(_tell_drawn(spread, unit)),
            tuple(_lines(lay, spread, unit, advisor)),
        )
        for spread in lay.spreads
    )


def _head(lay: Lay, spread: ClothSpread, unit: Unit) -> str:
    lies = ", folded lengthwise" if spread.folded else ", the rest opened out" if spread.begins else ""
    wide = lay.cloth.tell(f"{show_length(lay.cloth.width, unit)} wide")
    return f"{_begin(name_cloth(lay.kind))}: {wide}{lies}"


def _tell_buy(lay: Lay, spread: ClothSpread, unit: Unit) -> str:
    if not spread.laid:
        return "Nothing can be laid"
    if spread.begins:
        return "Bought with what lies folded"
    laid = " for what is laid; not all of it is" * bool(lay.too_wide)
    return f"{'Buy' if lay.cloth.length is None else 'Takes'} {show_cloth_length(lay.buy, unit)}{laid}"


def tell_together(lays: Sequence[Lay], unit: Unit) -> str:
    """Return what garments laid together take, what that spares, by what, and what would be bought singly."""
    needs, alone, ends, buy, singly = (
        math.fsum(row)
        for row in zip(*((lay.needs, lay.alone, lay.ends, lay.buy, lay.singly) for lay in lays), strict=True)
    )
    told = f"Together the garments take {show_length(needs, unit)}{' of all cloths' * (len(lays) > 1)}"
    spared, closer = _show_spared(abs(alone - needs), unit), _show_spared(alone - needs - ends, unit)
    if not spared:
        return f"{told}, as much as laid one by one."
    if needs > alone:
        return f"{told}, about {spared} more than laid one by one: lay them one by one."
    nearer = f"{closer} because they lie closer, the rest " if closer else "all "
    by = f" ({nearer}because ends are squared only once)" if ends else ""
    bought = f"Buy {show_cloth_length(buy, unit)} for all; one by one it would be {show_cloth_length(singly, unit)}."
    return f"{told}, about {spared} less than laid one by one{by}. {bought}"


def _show_spared(length: float, unit: Unit) -> str:
    """A length of cloth that is spared, in whole cm or in; "" where that is none."""
    steps = round(length / WIDTH_TOLD_IN[unit])
    return f"{steps} {'in' if unit == 'in' else 'cm'}" if steps > 0 else ""


WELL_LAID = TradeValue(0.8, "share", "from memory")
"""Of the cloth that pieces of clothing cover: a longer search seldom finds a lay that covers more."""


def tell_longer(lays: Sequence[Lay]) -> tuple[str, ...]:
    """Return which cloths a longer search may find a shorter lay of, none where they are covered well or nearly bare.

    Of a cloth with one or two parts there is little to search.
    """
    named = [
        name_cloth(lay.kind)
        for lay in lays
        if len(lay.laid) > FEW_PARTS and any(spread.laid and spread.used < WELL_LAID for spread in lay.spreads)
    ]
    told = ", ".join(dict.fromkeys(named))
    return (f"To save cloth, search longer for a shorter lay of the {told}: --time 10.",) if named else ()


FEW_PARTS = 2
"""Of which the lay is soon found."""


def tell_laying(spread: ClothSpread) -> str:
    """Return how the cloth and the pattern are laid."""
    return FOLDING if spread.folded else f"{OPENING_OUT} {LAYING}" if spread.begins else LAYING


def tell_each_laying(lays: Sequence[Lay]) -> tuple[str, ...]:
    """Return how each cloth is laid, once for all that are laid alike, named where they aren't."""
    ways: dict[str, list[str]] = {}
    for spread, kind in ((spread, lay.kind) for lay in lays for spread in lay.spreads):
        ways.setdefault(tell_laying(spread), []).append(name_cloth(kind))
    if len(ways) == 1:
        return tuple(ways)
    return tuple(f"{_begin(' and '.join(dict.fromkeys(names)))}: {_lower(way)}" for way, names in ways.items())


def compare_folded(lays: Sequence[Lay], others: Sequence[Lay], unit: Unit, *, asked: bool) -> tuple[str, ...]:
    """Return, of each cloth but interfacing, what it takes in a single layer and folded; ``asked``: it lies folded.

    Nothing is said where that is the same, unless it was asked for.
    """
    return tuple(_compare_folded(lays, others, unit, asked))


def _compare_folded(lays: Sequence[Lay], others: Sequence[Lay], unit: Unit, asked: bool) -> Iterator[str]:
    for kind in dict.fromkeys(lay.kind for lay in lays if lay.kind != INTERFACING):
        called = _begin(name_cloth(kind))
        here, there = (math.fsum(lay.buy for lay in some if lay.kind == kind) for some in (lays, others))
        if any(lay.cloth.stripe for lay in lays if lay.kind == kind):
            if asked:
                yield f"{called} is striped: it lies in a single layer, where its stripes can be matched."
            continue
        single, folded = (there, here) if asked else (here, there)
        if asked or single != folded:
            told = f"{show_cloth_length(single, unit)} in a single layer, {show_cloth_length(folded, unit)} folded"
            yield f"{called}: {told}{' (--folded)' * (folded < single and not asked)}."


def _begin(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _lower(words: str) -> str:
    return f"{words[:1].lower()}{words[1:]}"


def tell_across(spread: ClothSpread, unit: Unit) -> str:
    """Return how wide the cloth lies, as it is written across it."""
    ends = "the fold to the selvedges" if spread.folded else "selvedge to selvedge"
    return f"{show_length(spread.wide, unit)} from {ends}"


def show_cloth_length(length: float, unit: Unit) -> str:
    """Return a length of cloth as it is asked for in a shop.

    >>> show_cloth_length(1300.0, "cm"), show_cloth_length(1257.3, "in")
    ('1.3 m', '1 3/8 yd')
    """
    if unit != "in":
        return f"{length / 1000.0:.1f} m"
    eighths = round(length / 114.3)
    whole, rest = divmod(eighths, 8)
    words = [str(whole)] if whole or not rest else []
    return " ".join([*words, *([str(Fraction(rest, 8))] if rest else []), "yd"])


def show_bought(length: float | None, unit: Unit) -> str:
    """Return how much is bought of a cloth in some width: None where a piece is too wide for it."""
    return "too narrow" if length is None else show_cloth_length(length, unit)


def show_place(place: LaidPlace, unit: Unit) -> tuple[str, ...]:
    """Return where a part lies, as it is written into it on the plan."""
    side = "left" if place.laid.layers is Layers.SINGLE else "fold"
    words = (f"{side} {show_on_cloth(place.selvedge, unit)}", f"end {show_on_cloth(place.end, unit)}")
    if place.stripe is None:
        return words
    # a whole repeat above is on one, too
    whole = show_on_cloth(place.stripe, unit) == show_on_cloth(place.repeat, unit)
    return (*words, f"stripe {show_on_cloth(0.0 if whole else place.stripe, unit)}")


def _tell_places(spread: ClothSpread, across: LaidStripe | None) -> str:
    stripe = across and any(place.stripe is not None for place in find_places(spread, across))
    more = '; "stripe" is how far above that lowest point a grey line runs' if stripe else ""
    side = '"fold" is from the fold to its leftmost point'
    side = side if spread.folded else '"left" is from the left selvedge to its leftmost point'
    end = "where the folded part ends" if spread.begins else "the cut end"
    return f'Each piece says where it lies: {side}, "end" from {end} to its lowest{more}.'


def _tell_drawn(spread: ClothSpread, unit: Unit) -> Iterator[str]:
    """How far the pieces reach, and which patterns lie printed side down."""
    if spread.laid:
        yield (
            f"The pieces lie on {show_length(spread.length, unit)} of its length and cover {show_share(spread.used)} "
            "of that; a little is added for squaring the ends."
        )
    over = [_name_of(each.part) for each in spread.laid if each.part.over]
    if over:
        yield f"Printed side down{', for the other of a pair' * (not spread.folded)}: {'; '.join(over)}."


def _lines(lay: Lay, spread: ClothSpread, unit: Unit, advisor: Advisor) -> Iterator[str]:
    if lay.spared > 0.0 and not lay.alone:
        told = show_cloth_length(lay.buy + lay.spared, unit)
        yield f"The booklet says {told}: the longer search found this shorter lay."
    if not spread.begins:
        yield from _tell_whole(lay, unit)
    yield from _tell_flaws(spread, lay.cloth)
    yield from _tell_opened(spread)
    yield _way_up(lay)
    if spread.laid:
        yield _tell_places(spread, lay.across)
    if spread is lay.spreads[-1]:
        yield from (_too_wide(part, lay, unit, advisor) for part in lay.too_wide)
    if lay.cloth.stripe and lay.laid:
        yield from tell_stripes(lay, unit)


def _tell_whole(lay: Lay, unit: Unit) -> Iterator[str]:
    """What is said of a cloth but once."""
    yield from tell_stay_strips([each.part for each in lay.laid], unit)
    if lay.stopped:
        yield "The search was stopped: this is the best lay found by then, and a shorter one may be there."
    yield from _tell_there(lay, unit)
    yield from tell_loss(lay, unit)


def _tell_opened(spread: ClothSpread) -> Iterator[str]:
    """Which patterns of halves are drawn opened out."""
    opened = (each for each in spread.laid if each.part.piece.on_fold and each.layers is not Layers.ON_FOLD)
    folded = list(dict.fromkeys(_name_of(each.part) for each in opened))
    if folded:
        yield f"Drawn opened out: trace the half, and turn it over at its fold line for the other: {'; '.join(folded)}."


def _tell_there(lay: Lay, unit: Unit) -> Iterator[str]:
    """Whether what there is of a cloth is enough, and what of it is left free."""
    there = lay.cloth.length
    if there is not None and lay.laid and not lay.too_wide:
        how = f"{show_length(lay.short, unit)} too little" if lay.short else "enough"
        yield f"There is {show_length(there, unit)} of it: that is {how}."
        if lay.short:
            yield f"What may help: {'; '.join(_tell_shorter(lay))}."


def _tell_shorter(lay: Lay) -> Iterator[str]:
    """What may lay a garment on less cloth."""
    if lay.cloth.kind is Kind.KNIT and lay.cloth.shades is None and not lay.cloth.nap and not lay.cloth.stripe:
        yield "shades = false, if it looks the same upside down"
    yield "a longer search (--time)"
    yield 'facings, bands and cuffs of another cloth (cut = ["..."] under its table)'
    yield "a shorter garment or sleeve"


def _tell_flaws(spread: ClothSpread, cloth: Cloth) -> Iterator[str]:
    """Which flaws the pieces lie round, and which lie beyond them all."""
    as_is = "unwashed" if cloth.cut_unwashed else "washed"
    far = [flaw.name for flaw in spread.flaws if flaw.end >= spread.length]
    near = [flaw.name for flaw in spread.flaws if flaw.name not in far]
    if near:
        named = ", ".join(near)
        yield f"No piece lies on its flaws ({named}), crossed out in the plan; measure them on the {as_is} cloth."
    if far:
        yield f"Farther from the cut end than any piece: {', '.join(far)}."


SAME_WAY = "the same way up, as the arrows in the drawing show"
"""How pieces lie of cloth with a direction: grain arrows on the pattern have two heads."""


def _way_up(lay: Lay) -> str:
    """Whether parts lie one way, and why (handbooks of garment making: knits shade, as naps do)."""
    if not lay.one_way:
        return "Pieces may lie upside down, where that saves cloth; not on cloth that shades or has a one-way print."
    if lay.kind == INTERFACING:
        return f"All pieces lie {SAME_WAY}, for its give runs one way. Lay it with its glue side up."
    knits = lay.cloth.kind is Kind.KNIT and lay.cloth.shades is None
    if lay.cloth.stripe is not None and not (lay.cloth.nap or knits or lay.cloth.shades):
        return f"All pieces lie {SAME_WAY}, so that its stripes run on alike in each."
    cloth = "cloth with a nap" if lay.cloth.nap else "a knit" if knits else "this cloth"
    return f"All pieces lie {SAME_WAY}: upside down, {cloth} may look lighter or darker."


def _name_of(part: Part) -> str:
    return f"{part.piece.code} {part.title}"


def _too_wide(part: Part, lay: Lay, unit: Unit, advisor: Advisor) -> str:
    tied = ", but nowhere so that its stripes meet the others'" * bool(lay.is_tied and part.width < lay.width)
    least = show_length(least_width(part.width, lay.cloth, unit), unit)
    mends = [f"take a cloth at least {least} wide" if part.width + LAID_OFF > lay.width else "take a wider cloth"]
    if part.piece.is_strip:
        mends.append("join it of two lengths")
    elif part.face and not part.hangs:  # no seam that a change draws parts a sleeve, or a layer that hangs
        wanted = situation("piece-too-wide", "part it by a seam", face=part.face)
        mends.append(str(add_mends("", wanted, advisor)))
    does = ", or ".join(mends)
    if part.hangs and not part.piece.is_strip:
        does = f"this piece can't be parted: {does}"
    return (
        f"Not laid: {_name_of(part)} is {show_length(part.width, unit)} wide, and {show_length(lay.width, unit)} "
        f"can be used{tied}. {does[0].upper()}{does[1:]}."
    )
