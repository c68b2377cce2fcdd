"""What a maker buys and tests before anything is cut, as sections of a booklet: cloth, stays, stretch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from drafting.cloth import Cloth, Kind, lies_crosswise
from drafting.finishing import CutPiece
from drafting.finishing.labels import name_cloth
from drafting.garment import Brief, Garment
from drafting.garment.features import StayCut
from drafting.garment.model import MAIN_CLOTH
from drafting.lay.buying import ClothToBuy
from drafting.lay.stays import list_stay_strips
from drafting.lay.washing import tell_washing
from drafting.lay.words import show_bought
from drafting.output.booklet.small import draw_stretch_bar
from drafting.output.pictures.shapes import StepPicture
from drafting.proof import Proof, list_against_body, list_finished, list_lengths
from drafting.record import dataclass
from drafting.trade import TradeValue, trade_table
from drafting.units import Unit, show_length
from drafting.work.taping import find_tapes, name_tapes

HELD_FOLD: Final = trade_table({"cm": 100.0, "mm": 100.0, "in": 101.6}, "mm", "common practice", "10 cm, 4 in")
"""How much of a fold is held against the bar, in the round length of the maker's ruler."""

LONGEST_BAR: Final = TradeValue(165.0, "mm", "derived", "by drawing: what an upright page of Letter holds")
"""A cloth that stretches to more than this is tested by half the length."""

TOLD_APART: Final = TradeValue(0.05, "share", "from memory")
"""Of stretch from which it is tested at all."""


WITHIN: Final = (
    "Each figure is taken on the pieces and held against this body's, within the usual limits. What lies "
    "beyond one is told under “Before you cut”, or in a note."
)
"""What the table of figures against the body is."""


@dataclass(frozen=True, slots=True)
class CellTable:
    """Rows of cells below their heads; ``shares`` are the columns' parts of the width.

    A row of a single cell is the name of what the rows below it tell of.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class BookletSection:
    """A heading, paragraphs, and a table below them. ``wide``: it runs across the page; ``listed``: it is a list.

    ``true_size`` is a picture that means something only where it is as large as on the paper; ``drawn`` is one that
    is shown below the words on a screen, whatever its size, and on paper where it costs no further page.
    """

    heading: str
    words: tuple[str, ...] = ()
    table: CellTable | None = None
    wide: bool = False
    listed: bool = False
    true_size: StepPicture | None = None
    drawn: StepPicture | None = None


def tell_cloth(cloths: Sequence[ClothToBuy], unit: Unit, lay: StepPicture | None = None) -> BookletSection:
    """Return how much of each cloth is bought, in the width it has and in those of a shop; ``lay``: how it lies."""
    rows = tuple(row for each in cloths for row in _cloth_rows(each, unit))
    washing = tell_washing((each.kind, each.cloth) for each in cloths)
    words = (
        f"These lengths include squaring the ends and shrinkage. {washing}",
        "For the cutting plan run: blockwright lay, with the same ticket. The cloth's own width stands first. In other "
        "widths buy at most:",
    )
    return BookletSection("Cloth to buy", words, CellTable(("width", "buy"), rows, (0.5, 0.5)), drawn=lay)


def _cloth_rows(each: ClothToBuy, unit: Unit) -> Iterator[tuple[str, ...]]:
    """The cloth's name, its own width, then a shop's widths, those together in which as much is bought."""
    (own, length), *others = each.lengths
    called = name_cloth(each.kind)
    yield (f"{called[:1].upper()}{called[1:]}: {each.cloth.tell('')}".rstrip(", :"),)
    yield _show_width(own, unit), show_bought(length, unit)
    for bought, widths in groupby(others, lambda pair: show_bought(pair[1], unit)):
        shown = [_show_width(width, unit) for width, _ in widths]
        yield shown[0] if len(shown) == 1 else f"{shown[0].rsplit(' ', 1)[0]} to {shown[-1]}", bought


def _show_width(width: float, unit: Unit) -> str:
    return show_length(width, unit).replace(".0 ", " ")


def tell_measures(proof: Proof, unit: Unit) -> tuple[BookletSection, ...]:
    """Return the finished measures and the figures held against the body, as tables."""
    lengths = ((title, "-", "-", told) for title, told in list_lengths(proof, unit))
    finished, body = (*list_finished(proof, unit), *lengths), list_against_body(proof, unit)
    shares = (0.46, 0.14, 0.14, 0.26)
    tables = (
        ("Finished measures", (), CellTable(("", "body", "ease", "finished"), finished, shares)),
        ("Against the body", (WITHIN,), CellTable(("", "body", "garment", "limits"), body, shares)),
    )
    return tuple(BookletSection(heading, words, table, wide=True) for heading, words, table in tables if table.rows)


def tell_stays(garment: Garment, cut: Sequence[CutPiece], unit: Unit) -> Iterator[BookletSection]:
    """Yield the stays by edge, where there are any; those that are cut as strips by the letters of the plan."""
    found = list(find_tapes(garment))
    bias = {StayCut.BIAS: ", on the bias"}
    told = name_tapes([(*each[:3], f"{each[3]}{bias.get(each[1].cut, '')}", each[4]) for each in found], unit)
    rows = tuple((f"{title[:1].upper()}{title[1:]}, {edge}", length) for title, edge, length, _ in told)
    if rows:
        words: tuple[str, ...] = ("Cut each as long as here, not as the cloth's edge, which may have stretched.",)
        as_strips = found[0][1].cut is not StayCut.TAPE
        if as_strips:
            wide = show_length(found[0][1].width, unit)
            words = (f"Cut strips {wide} wide of the stay cloth as the cutting plan shows them.", *words)
            strips = [part.piece for part in list_stay_strips(garment, cut)]
            lettered = tuple((strip.code, strip.title, _tell_long(strip, unit)) for strip in strips)
            table = CellTable(("letter", "strip", "as long as"), lettered, (0.16, 0.56, 0.28))
        else:
            table = CellTable(("edge", "each as long as"), rows, (0.7, 0.3))
        yield BookletSection("Stay strips" if as_strips else "Stay tape", words, table)


def _tell_long(strip: CutPiece, unit: Unit) -> str:
    """How long a strip is."""
    return show_length(max(edge.path.length for edge in strip.outline), unit)


ALONG: Final = ", folded along its length,"


def tell_stretch(brief: Brief, cut: set[str], unit: Unit) -> Iterator[BookletSection]:
    """Yield how each knit that is ``cut`` is held against a bar before it is cut, with the bar in true size."""
    named = {MAIN_CLOTH: brief.cloth, **brief.cloths}
    cloths = [cloth for name, cloth in named.items() if name in cut and _is_tested(cloth)]
    cloths = list(dict.fromkeys(cloths))
    if not cloths:
        return
    held = [_fold_length(cloth, unit) for cloth in cloths]
    along = all(map(lies_crosswise, cloths))
    way = "along its length, well away from the selvedges" if along else "across its width, well away from the cut end"
    ends = [long * (1.0 + _find_stretch(cloth)) for cloth, long in zip(cloths, held, strict=True)]
    must = [
        f"{_show_width(long, unit)} of {_name(cloth)}{ALONG * (lies_crosswise(cloth) and not along)} must "
        f"stretch to {show_length(end, unit)} at least."
        for cloth, long, end in zip(cloths, held, ends, strict=True)
    ]
    words = (
        f"Fold the cloth {way}, and make two marks on the fold, as far apart as is said below. Hold one mark fast and "
        "pull the other gently along, stopping before the fold rolls.",
        *must,
        "Let go: it must come back. A cloth that stretches less makes the garment too tight: measure it, and make the "
        "pattern anew with its own figures.",
    )
    bar = draw_stretch_bar(
        [
            (_name(cloth), long, _show_width(long, unit), end, show_length(end, unit))
            for cloth, long, end in zip(cloths, held, ends, strict=True)
        ]
    )
    yield BookletSection("Test the stretch before you cut", words, wide=True, true_size=bar)


def _is_tested(cloth: Cloth) -> bool:
    return cloth.kind is Kind.KNIT and _find_stretch(cloth) >= TOLD_APART


def _find_stretch(cloth: Cloth) -> float:
    """How far it stretches the way that lies round the body."""
    return cloth.stretch_along if lies_crosswise(cloth) else cloth.stretch_across


def _fold_length(cloth: Cloth, unit: Unit) -> float:
    whole = HELD_FOLD[unit]
    return whole if whole * (1.0 + _find_stretch(cloth)) <= LONGEST_BAR else whole / 2.0


def _name(cloth: Cloth) -> str:
    return cloth.tell("").rstrip(", ") or "the cloth"
