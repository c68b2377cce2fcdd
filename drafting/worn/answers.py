"""What a fitter says of a drape: where its figures show what the fitting sheet looks for, and what answers it there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from drafting.proof.words.fitting_folds import Fold
from drafting.saying import Words, say, show_share
from drafting.trade import TradeValue
from drafting.worn.figures import MEAN_OFF, WELL_BEYOND, WornFigures

DRAWN = TradeValue(0.5, "share", "from memory")
"""Of the stretch that its cloth has, and more, a knit gives where it is drawn into folds."""
_FULLER = "Bust", "toile-bust-fuller"
"""A row of the fitting sheet: where it looks, and the situation that a change mends."""


def answer_folds(figures: WornFigures, folds: Sequence[Fold]) -> Iterator[Words]:
    """Yield what a sound drape shows of the folds that its garment's fitting sheet looks for, and what answers each.

    Only what is well beyond what the figures may be off by, and where the cloth is drawn hard.
    """
    for (where, situation), shown in _show_folds(figures):
        for fold in folds:
            if (fold.where, fold.situation) == (where, situation):
                answer = f"{fold.answer}, {fold.written}" if fold.written else fold.answer
                yield say(
                    "{where}: {shown}. It may mean that {means}; a drape shows no fine folds, so look on a first toile "
                    "whether {seen}. What answers it: {answer}.",
                    where=where, shown=shown, seen=fold.seen, means=fold.means, answer=answer,
                )  # fmt: skip


def _show_folds(figures: WornFigures) -> Iterator[tuple[tuple[str, str], Words]]:
    """Yield the rows of the fitting sheet that figures speak for, with these figures."""
    for level in figures.levels:
        more = level.highest - max(level.mean, 0.0)
        drawn = level.highest - MEAN_OFF > DRAWN * level.has
        if level.name == "bust" and drawn and more > WELL_BEYOND * MEAN_OFF:
            yield _FULLER, say(
                "the cloth is stretched most {place}, by {most}, and by {mean} on average round that level",
                place=level.place or "in one place", most=show_share(level.highest),
                mean=show_share(max(level.mean, 0.0)),
            )  # fmt: skip
