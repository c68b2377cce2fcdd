"""How far from the edges each step sews, and where a cut edge doesn't lie level with the one that it is laid on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from drafting.finishing import CutPiece
from drafting.garment import Garment, Role, Seam, Use, balance_marks
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.units import Unit, show_length
from drafting.work.sewing import WorkStep
from drafting.work.telling import and_

SEEN_APART = TradeValue(2.0, "mm", "from memory")
"""Between two cut edges from which a maker would think that one was cut wrong."""

Widths = Mapping[tuple[str, str], tuple[str, float]]
"""By piece and line: the letter on the paper, and the allowance (mm)."""


def tell_widths(garment: Garment, steps: Sequence[WorkStep], cut: Sequence[CutPiece], unit: Unit) -> Mapping[int, str]:
    """Return what each step is told of its edges, by its number; the usual width at 0.

    That is how far from the edges it sews, where that isn't as usual, and which edges aren't level.
    """
    widths = {(piece.stands_for[0], edge.line): (piece.code, edge.allowance) for piece in cut for edge in piece.outline}
    out = _tell_sewn(steps, widths, unit)
    for step in steps:
        uneven = (words for seam in step.seams for words in _tell_uneven(garment, seam, widths, unit))
        said = " ".join(dict.fromkeys((out.get(step.number, ""), *uneven))).strip()
        if said:
            out[step.number] = said
    return out


def _tell_sewn(steps: Sequence[WorkStep], widths: Widths, unit: Unit) -> dict[int, str]:
    """How far from the edges each step sews, by its number, where that isn't as usual; the usual at 0."""
    found = {step.number: _find_widths(step.seams, widths) for step in steps}
    found = {number: of for number, of in found.items() if of}
    if not found:
        return {}
    usual, _ = Counter(width for of in found.values() for width in of).most_common(1)[0]
    folded = {step.number for step in steps if any(seam.kind.closes for seam in step.seams)}
    others = {number: of for number, of in found.items() if set(of) != {usual}}
    alike = "" if others else "every seam"
    at = f"{show_length(usual, unit, sixteenths=True)} from its cut edge"
    out = {0: f"Sew {alike or 'each seam'} {at}{'' if alike else ', unless its step says another width'}."}
    for number, of in others.items():
        shown = {width: show_length(width, unit, sixteenths=True) for width in of}
        each = (f"{shown[width]} on {and_(tuple(codes))}" for width, codes in of.items())
        alone = next(iter(shown.values()))
        width = alone if len(of) == 1 else and_(tuple(each))
        out[number] = f"Fold: {width} from the edge." if number in folded else f"Seam allowance: {width}."
    return out


def _find_widths(seams: Sequence[Seam], widths: Widths) -> dict[float, dict[str, None]]:
    """How far from the edges some seams are sewn (mm), and of which pieces, by their letters.

    A binding is sewn on as far from the edge as its own allowance is, for the edge that it binds has none.
    """
    out: dict[float, dict[str, None]] = {}
    sewn = (seam for seam in seams if not seam.kind.lapped)  # the edge of a stand is folded, not sewn there
    for use in (use for seam in sewn for use in (seam.plies[-1] if seam.binds else seam.uses())):
        code, width = widths.get((use.piece, use.line), ("", 0.0))
        if width:
            out.setdefault(width, {})[code] = None
    return out


def _tell_uneven(garment: Garment, seam: Seam, widths: Widths, unit: Unit) -> Iterator[str]:
    """Where the cut edges beside an opening aren't level: beyond a seam's end, and at a facing's end."""
    zipped = {
        (use.piece, use.line)
        for each in garment.seams
        if each.kind.closes and not each.kind.lapped
        for use in each.uses()
    }
    if seam.kind.closes:
        return
    for tips in _list_tips(seam):
        beyond = [(use, _line_beyond(garment, use)) for use in tips]
        allowed = [(*widths.get(line, ("", 0.0)), line in zipped) for _, line in beyond]
        (code, wide, opened), *others = allowed
        if not (opened and wide):
            continue
        for other, narrow, same in others:
            if seam.kind.by_edge and seam.kind.lay.inside and narrow and not same and wide - narrow > SEEN_APART:
                by = show_length(wide - narrow, unit, sixteenths=True)
                yield f"The end of {other} lies {by} short of the raw edge of {code}: it is cut so."
        own, width = widths.get((tips[0].piece, tips[0].line), ("", 0.0))
        if garment.line(tips[0]).role is Role.CENTRE and width and wide - width > SEEN_APART:
            number = _number_at_end(garment, seam, tips[0])
            by = show_length(wide - width, unit, sixteenths=True)
            yield f"Beyond {f'notch {number}' if number else 'its end'} the edge of {own} stands {by} farther out."


def _list_tips(seam: Seam) -> Iterator[tuple[Use, ...]]:
    """The uses at both ends of a seam's plies, each in the direction that leads out of it there."""
    yield tuple(run[0].reversed for run in seam.sections[0].plies if run)
    yield tuple(run[-1] for run in seam.sections[-1].plies if run)


def _line_beyond(garment: Garment, use: Use) -> tuple[str, str]:
    """The piece and the line that follow a use."""
    piece = garment.piece(use.piece)
    return piece.name, (piece.before if use.against else piece.after)(use.line).name


def _number_at_end(garment: Garment, seam: Seam, use: Use) -> int:
    """The number of the notch at a use's end, 0 where there is none."""
    end = 0.0 if use.against else garment.line(use).path.length
    near = TOLERANCE.sewn_length
    return next(
        (
            mark.number
            for mark in garment.find_once(balance_marks)
            for at, s in mark.at
            if mark.seam == seam.name and (at.piece, at.line) == (use.piece, use.line) and abs(s - end) <= near
        ),
        0,
    )
