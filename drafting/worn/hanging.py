"""How a garment hangs, in sentences: its hem, where its levels lie, and what of its length is folded up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.proof.words.fitting_folds import HOLLOW_BACK, Fold
from drafting.saying import Words, mm, say
from drafting.trade import TradeValue
from drafting.worn.figures import LIES_OFF, MEAN_OFF, WELL_BEYOND, LevelWorn, WornFigures
from drafting.worn.folding import FOLDS_OFF

FAR_WIDER = TradeValue(0.10, "share", "from memory")
"""A garment wider than the hip by so much of its own girth slides over it and can't catch there."""
_FULLER: Final = "toile-bust-fuller"
_LONG: Final = "toile-waist-low"
_SURELY: Final = WELL_BEYOND * LIES_OFF
_FOLDED: Final = WELL_BEYOND * FOLDS_OFF


def tell_hanging(figures: WornFigures, folds: Sequence[Fold] = ()) -> Iterator[Words]:
    """Yield how the hem hangs; and what is well beyond what it may be off by, each with what to do about it."""
    yield say(
        "The hem hangs {front} above the floor in front and {back} behind. That, and where levels lie, may be off by "
        "{off}: differences under twice that say nothing.",
        front=mm(figures.hem_front), back=mm(figures.hem_back), off=mm(LIES_OFF),
    )  # fmt: skip
    yield from _tell_hem(figures, folds)
    yield from _tell_folded(figures, folds)


def _tell_hem(figures: WornFigures, folds: Sequence[Fold]) -> Iterator[Words]:
    """Yield which side of the hem is drawn up, beyond how it is cut; or that it is cut so."""
    by, hangs = mm(abs(figures.front_rises)), figures.hem_front - figures.hem_back
    if figures.front_rises > _SURELY:
        yield say("The hem rises {by} in front beside the back, though it isn't cut so: a full bust, or a belly, takes "
                  "up the front's length.{answer}", by=by, answer=_answer_bust(folds))  # fmt: skip
    elif figures.front_rises < -_SURELY and figures.folded_back > _FOLDED:
        yield say("The hem rises {by} behind beside the front, though it isn't cut so: the folds above the seat take "
                  "up the back's length.", by=by)  # fmt: skip
    elif figures.front_rises < -_SURELY:
        yield say("The hem rises {by} behind beside the front, though it isn't cut so: a full seat, or a round back, "
                  "takes up the back's length. See on a first toile which, and level the hem there.",
                  by=by)  # fmt: skip
    elif abs(hangs) > _SURELY:
        yield say("It is cut {cut} higher {place}.", cut=mm(abs(figures.cut)),
                  place="in front" if figures.cut > 0.0 else "behind")  # fmt: skip


def _tell_folded(figures: WornFigures, folds: Sequence[Fold]) -> Iterator[Words]:
    """Yield how much length lies in folds across between bust and hip, where, and what answers it."""
    front, back = mm(figures.folded_front), mm(figures.folded_back)
    if min(figures.folded_front, figures.folded_back) > _FOLDED:
        yield say(
            "Between bust and hip {front} of the front's length lies in folds across, and {back} of the back's: it "
            "catches at the hip, or the body is shorter there than it is drafted for. If a first toile folds there "
            "too, more ease at the hip first.{after}",
            front=front, back=back, after=_answer(folds, _LONG, "If it still does"),
        )  # fmt: skip
    elif figures.folded_back > _FOLDED:
        yield say(
            "Between bust and hip {back} of the back's length lies in folds across, above the seat; none of the "
            "front's does: {cause}. On a flatter back there is less of it. If a first toile folds there too, smooth it "
            "down; what rides up again wants more ease at the seat.{after}",
            back=back, after=_answer(folds, HOLLOW_BACK, "What lies loose there"),
            cause="the back is hollow there" if _is_far_wider(figures)
            else "it catches above the seat, or the back is hollow there",
        )  # fmt: skip
    elif figures.folded_front > _FOLDED:
        yield say(
            "Between bust and hip {front} of the front's length lies in folds across; none of the back's does: the "
            "front is longer there than the body. See on a first toile whether it folds there too.",
            front=front,
        )  # fmt: skip


def _is_far_wider(figures: WornFigures) -> bool:
    """Whether the garment slides over the hip and can't catch there."""
    return any(level.name == "hip" and level.by_girth < -FAR_WIDER for level in figures.levels)


def _answer_bust(folds: Sequence[Fold]) -> Words:
    """What answers a bust that is fuller than was drafted for."""
    return _answer(folds, _FULLER, "If a first toile shows it too, what answers a full bust")


def _answer(folds: Sequence[Fold], situation: str, where: str) -> Words:
    """What answers a fold, as the fitting sheet has it, said of ``where`` it shows; "" where it has nothing."""
    for fold in folds:
        if fold.situation == situation:
            answer = f"{fold.answer}, {fold.written}" if fold.written else fold.answer
            return say(" {where}: {answer}.", where=where, answer=answer)
    return ""


def tell_heights(figures: WornFigures, folds: Sequence[Fold] = ()) -> Iterator[Words]:
    """Yield which levels lie well beyond what they may be off by, and what that is; not of a hip above folds."""
    folded = max(figures.folded_front, figures.folded_back) > _FOLDED
    hangs_low = max((level.height for level in figures.levels), default=0.0) < -LIES_OFF
    off: dict[str, list[LevelWorn]] = {}
    for level in figures.levels:
        told = level.unsure or (level.name == "hip" and folded)
        low = level.height < 0.0 and not hangs_low  # a knit's bust alone: drafted as far down as a tape over the bust
        if not told and not low and abs(level.height) > _SURELY:
            off.setdefault(_sort_height(level, folded=folded), []).append(level)
    if {"rides", "loose"} <= set(off):  # what is said of one holds for both
        off["rides"] += off.pop("loose")
    for kind, levels in off.items():
        names = say(" and ".join(figures.speak(level.name) for level in levels))
        yield _say_heights(kind, names, [abs(level.height) for level in levels], folds)


def _sort_height(level: LevelWorn, *, folded: bool) -> str:
    """What it is that a level lies elsewhere."""
    if level.height < 0.0:
        return "low"
    if level.mean >= MEAN_OFF:
        return "held"
    return "rides" if level.name == "waist" and not folded else "loose"


def _say_heights(kind: str, names: Words, off: Sequence[float], folds: Sequence[Fold]) -> Words:
    """Say of levels of a kind how far they lie off, at most, and what to do."""
    lies, by = ("lies" if len(off) == 1 else "lie"), mm(max(off))
    up = "" if len(off) == 1 else "up to "
    if kind == "low":
        return say("The garment's {names} {lies} {up}{by} below the body's: it hangs lower than it was drafted. See on "
                   "a first toile where its shoulders and its neck lie.",
                   names=names, lies=lies, up=up, by=by)  # fmt: skip
    if kind == "held":
        return say("The garment's {names} {lies} {up}{by} above the body's: it is stretched there and held, so that it "
                   "can't slide down. More ease lets it.", names=names, lies=lies, up=up, by=by)  # fmt: skip
    if kind == "rides":
        return say(
            "The garment's {names} {lies} {up}{by} above the body's: its cloth is loose there and rides up. Does a "
            "first toile so too, look whether it is too narrow farther down, and give that more ease."
            "{all_round}{behind}",
            names=names, lies=lies, up=up, by=by, all_round=_answer(folds, _LONG, "If it lies in folds all round"),
            behind=_answer(folds, HOLLOW_BACK, "If only its back does"),
        )  # fmt: skip
    return say("The garment's {names} {lies} {up}{by} above the body's: its cloth is loose there and rides up. Smooth "
               "it down on a first toile; what rides up again is held farther down.",
               names=names, lies=lies, up=up, by=by)  # fmt: skip
