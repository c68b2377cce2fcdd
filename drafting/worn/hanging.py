"""How a garment hangs, in sentences: its hem, where its levels lie, and what of its length is folded up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.proof.words.fitting_folds import HOLLOW_BACK, Fold
from drafting.saying import Words, mm, say
from drafting.trade import TradeValue
from drafting.worn.figures import LIES_OFF, MEAN_OFF, WELL_BEYOND, LevelWorn, WornFigures

FAR_WIDER = TradeValue(0.10, "share", "from memory")
"""A garment wider than the hip by so much of its own girth slides over it and can't catch there."""
_FULLER: Final = "toile-bust-fuller"
_LONG: Final = "toile-waist-low"
_SURELY: Final = WELL_BEYOND * LIES_OFF


def tell_hanging(figures: WornFigures, folds: Sequence[Fold] = ()) -> Iterator[Words]:
    """Yield how the hem hangs; and what is well beyond what it may be off by, each with what to do about it."""
    yield say(
        "The hem hangs {front} above the floor in front and {back} behind; that, and where levels lie, may be off by "
        "{off}; up to twice that nothing is concluded.",
        front=mm(figures.hem_front), back=mm(figures.hem_back), off=mm(LIES_OFF),
    )  # fmt: skip
    yield from _tell_hem(figures, folds)
    if figures.folded > _SURELY:
        yield from _tell_folded(figures, folds)


def _tell_hem(figures: WornFigures, folds: Sequence[Fold]) -> Iterator[Words]:
    """Yield which side of the hem is drawn up, beyond how it is cut."""
    by = mm(abs(figures.front_rises))
    if figures.front_rises > _SURELY:
        yield say("The hem rises {by} in front beside the back, though it isn't cut so: a full bust, or a belly, takes "
                  "up the front's length.{answer}", by=by, answer=_answer_bust(folds))  # fmt: skip
    elif figures.front_rises < -_SURELY:
        yield say("The hem rises {by} behind beside the front, though it isn't cut so: above the seat the back lies in "
                  "folds, for the form's back is hollow, or a round back takes up its length. See on a first toile "
                  "which, and level the hem there.", by=by)  # fmt: skip


def _tell_folded(figures: WornFigures, folds: Sequence[Fold]) -> Iterator[Words]:
    """Yield how much length is taken up between bust and hip, and by what: a hip that is far too wide can't hold it."""
    hip = next(level for level in figures.levels if level.name == "hip")
    length = mm(figures.folded)
    if hip.by_girth < -FAR_WIDER:
        yield say(
            "Between bust and hip {length} of the cloth's length is taken up. It can't catch at the hip, where it is "
            "far wider than the body: the way over a full bust takes it up, or it lies in folds.{answer}",
            length=length, answer=_answer_bust(folds),
        )  # fmt: skip
    elif hip.by_girth < 0.0:
        yield say(
            "Between bust and hip {length} of the cloth's length is folded up, though it is loose at the hip: the body "
            "is shorter there than it is drafted for. The form's back is hollow; above a flatter one it is a quarter "
            "less.{all_round}{behind}",
            length=length, all_round=_answer(folds, _LONG, "If a toile folds there all round, too"),
            behind=_answer(folds, HOLLOW_BACK, "If only its back does"),
        )  # fmt: skip
    else:
        yield say(
            "Between bust and hip {length} of the cloth's length is folded up: it catches at the hip, or the body is "
            "shorter there than it is drafted for. The form's back is hollow; above a flatter one it is a quarter "
            "less. If a toile folds there too, more ease at the hip first.{after}",
            length=length, after=_answer(folds, _LONG, "If it still does"),
        )  # fmt: skip


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
    """Yield of each level that lies well beyond what it may be off by what that is; not of a hip that is folded up."""
    hangs_low = max((level.height for level in figures.levels), default=0.0) < -LIES_OFF
    for level in figures.levels:
        told = level.name == "hip" and figures.folded > _SURELY
        low = level.height < 0.0 and not hangs_low  # a knit's bust alone: drafted as far down as a tape over the bust
        if not told and not low and abs(level.height) > _SURELY:
            yield _say_height(level, figures.speak(level.name), folds, folded=figures.folded > _SURELY)


def _say_height(level: LevelWorn, name: str, folds: Sequence[Fold], *, folded: bool) -> Words:
    by = mm(abs(level.height))
    if level.height < 0.0:
        return say("The garment's {level} lies {by} below the body's: it hangs lower than it was drafted. See on a "
                   "first toile where its shoulders and its neck lie.", level=name, by=by)  # fmt: skip
    if level.mean >= MEAN_OFF:
        return say("The garment's {level} lies {by} above the body's: it is stretched there and held, so that it "
                   "can't slide down. More ease lets it.", level=name, by=by)  # fmt: skip
    if level.name == "waist" and not folded:
        return say(
            "The garment's {level} lies {by} above the body's: its cloth is loose there and rides up. Does a first "
            "toile so too, look whether it is too narrow farther down, and give that more ease.{all_round}{behind}",
            level=name, by=by, all_round=_answer(folds, _LONG, "If it lies in folds all round"),
            behind=_answer(folds, HOLLOW_BACK, "If only its back does"),
        )  # fmt: skip
    return say("The garment's {level} lies {by} above the body's: its cloth is loose there, rides up and lies in "
               "folds. Smooth it down on a first toile; what rides up again is held farther down.",
               level=name, by=by)  # fmt: skip
