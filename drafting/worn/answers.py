"""What a fitter says of a drape: where its figures show what the fitting sheet looks for, and what answers it there."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from drafting.proof.words.fitting_folds import Fold
from drafting.saying import Words, mm, say, show_share
from drafting.worn.figures import LIES_OFF, MEAN_OFF, WELL_BEYOND, WornFigures
from drafting.worn.places import DRAWN, DrawnCloth, Places

Row = tuple[str, str]
"""A row of the fitting sheet: where it looks, and the situation that a change mends, "" where none does."""

_FULLER: Final[Row] = "Bust", "toile-bust-fuller"
_THICKER: Final[Row] = "Upper arm", "toile-arm-fuller"
_LOWER: Final[Row] = "One shoulder", "toile-shoulder-lower"
_HIGHER: Final[Row] = "Hem", "toile-hip-higher"
WARNED_OF: Final[Mapping[str, str]] = MappingProxyType({"fit.bust_undarted": _FULLER[1]})
"""Findings of the proof by their codes, and the situation that each warns of."""
_TIGHT: Final[Mapping[str, Row]] = MappingProxyType({"waist": ("Waist", ""), "hip": ("Hip", "")})
_GAPES: Final[Mapping[str, Row]] = MappingProxyType(
    {"neck": ("Front neckline", "toile-neckline-gapes"), "armhole": ("Front armhole", "toile-bust-fuller")}
)


def answer_folds(figures: WornFigures, folds: Sequence[Fold]) -> Iterator[Words]:
    """Yield what a sound drape shows of the folds that its garment's fitting sheet looks for, and what answers each.

    Only what is well beyond what the figures may be off by, and where the cloth is drawn hard; where the proof warns of
    it, too, without what that may be off by.
    """
    warned = {(fold.where, fold.situation) for fold in folds if fold.warned}
    for (where, situation), shown in _show_folds(figures, warned):
        for fold in folds:
            if (fold.where, fold.situation) == (where, situation):
                answer = f"{fold.answer}, {fold.written}" if fold.written else fold.answer
                yield say(
                    "{where}: {shown}. It may mean that {means}. A drape shows no fine folds; the sign of it on a "
                    "first toile: {seen}. What helps: {answer}.",
                    where=where, shown=shown, seen=fold.seen, means=fold.means, answer=answer,
                )  # fmt: skip


def _show_folds(figures: WornFigures, warned: Collection[Row]) -> Iterator[tuple[Row, Words]]:
    """Yield the rows of the fitting sheet that figures speak for, with these figures."""
    yield from _show_levels(figures, fuller=_FULLER in warned)
    yield from _show_places(figures.places)
    for edge in figures.edges:
        if edge.off > WELL_BEYOND * LIES_OFF:
            yield _GAPES[edge.name], say("its edge stands off the body by {off}", off=mm(edge.off))


def _show_levels(figures: WornFigures, *, fuller: bool) -> Iterator[tuple[Row, Words]]:
    for level in figures.levels:
        more = level.highest - max(level.mean, 0.0)
        drawn = level.highest - (0.0 if fuller else MEAN_OFF) > DRAWN * level.has
        if level.name == "bust" and drawn and more > WELL_BEYOND * MEAN_OFF:
            yield _FULLER, say(
                "the cloth is stretched most {place}, by {most} of the {has} that it has, and by {mean} on average "
                "round that level",
                place=level.place or "in one place", most=show_share(level.highest), has=show_share(level.has),
                mean=show_share(max(level.mean, 0.0)),
            )  # fmt: skip
        if level.name in _TIGHT and DrawnCloth(min(level.mean, level.by_girth), level.has).is_hard:
            yield _TIGHT[level.name], say("all round, {drawn}", drawn=_say_drawn(DrawnCloth(level.mean, level.has)))


def _show_places(places: Places) -> Iterator[tuple[Row, Words]]:
    hard = {side: arm for side, arm in places.arms.items() if arm.is_hard}
    if hard:
        most = max(hard.values(), key=lambda arm: arm.mean)
        which = "both sleeves" if len(hard) > 1 else say("the {side} sleeve", side=next(iter(hard)))
        yield _THICKER, say("round the thickest of it, in {which}, {drawn}", which=which, drawn=_say_drawn(most))
    lower, higher = places.lower_shoulder, places.higher_hem
    if lower is not None:
        yield _LOWER, say(
            "the end of the {side} shoulder stands {by} farther off the body than the other one's",
            side=lower, by=mm(places.shoulders[lower] - places.shoulders[lower.other]),
        )  # fmt: skip
    if higher is not None:
        yield _HIGHER, say(
            "it hangs {by} higher on the {side} side, though it isn't cut so",
            by=mm(places.hems[higher] - places.hems[higher.other]), side=higher,
        )  # fmt: skip


def _say_drawn(drawn: DrawnCloth) -> Words:
    return say(
        "the cloth is stretched by {mean} on average, of the {has} that it has",
        mean=show_share(drawn.mean), has=show_share(drawn.has),
    )  # fmt: skip
