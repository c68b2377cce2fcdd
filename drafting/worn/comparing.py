"""What differs between two garments on one body, in figures: before a change, and after it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.saying import Words, mm, render, say, show_share
from drafting.sides import Side
from drafting.trade import TradeValue
from drafting.units import Unit
from drafting.worn.figures import MEAN_OFF, LevelWorn, WornFigures
from drafting.worn.places import HEMS_DIFFER, SHOULDERS_DIFFER, TUBE_OFF, Places

DIFFERS = TradeValue(0.01, "share", "derived", "half the step and half the mesh change an average by under 0.01")
"""By so much may the difference of two average stretches on one body be wrong: the body's own error is in both."""
MOST_DIFFERS = TradeValue(0.04, "share", "derived", "a draft that is hardly another changes a waist's by 0.038")
"""By so much may the difference of two greatest stretches of a level be wrong."""
LIES_APART = TradeValue(5.0, "mm", "derived", "a tee drafted 10 cm longer hung 9.9 cm longer")
"""By so much may the difference of two heights on one body be wrong."""

HEAD_OF_BOTH: Final = ("level", "stretched before", "after", "differs", "lies")


def compare_rows(before: WornFigures, after: WornFigures, unit: Unit) -> Iterator[Sequence[str]]:
    """Yield the cells of each level that both have: its mean stretch before and after, and what differs."""
    later = {level.name: level for level in after.levels}
    for level in before.levels:
        if level.name not in later:
            continue
        other = later[level.name]
        yield (
            before.speak(level.name).capitalize(),
            show_share(max(level.mean, 0.0)),
            show_share(max(other.mean, 0.0)),
            _say_strain(other.mean - level.mean),
            _say_height(other.height - level.height, unit),
        )


def _say_strain(more: float) -> str:
    if abs(more) <= DIFFERS:
        return "alike"
    return f"{show_share(abs(more))} {'more' if more > 0.0 else 'less'}"


def _say_height(up: float, unit: Unit) -> str:
    if abs(up) <= LIES_APART:
        return "alike"
    return render(say("{by} {way}", by=mm(abs(up)), way="higher" if up > 0.0 else "lower"), unit)


def _differs(then: LevelWorn, now: LevelWorn) -> bool:
    """Tell whether anything of a level is beyond what its difference may be wrong by."""
    return (
        abs(now.mean - then.mean) > DIFFERS
        or abs(now.highest - then.highest) > MOST_DIFFERS
        or abs(now.height - then.height) > LIES_APART
    )


def tell_changes(before: WornFigures, after: WornFigures) -> Iterator[Words]:
    """Yield what the change did, in sentences: only what is beyond what it may be off by; that nothing is, if so."""
    told = False
    levels = {level.name: level for level in after.levels}
    for then in before.levels:
        now = levels.get(then.name, then)
        if abs(now.highest - then.highest) > MOST_DIFFERS:
            told = True
            yield say("Where it is stretched most at the {level}, it is by {before} before and {after} after.",
                      level=before.speak(then.name), before=show_share(max(then.highest, 0.0)),
                      after=show_share(max(now.highest, 0.0)))  # fmt: skip
    for place, up in (("in front", after.hem_front - before.hem_front), ("behind", after.hem_back - before.hem_back)):
        if abs(up) > LIES_APART:
            told = True
            yield say("The hem hangs {by} {way} {place}.", by=mm(abs(up)),
                      way="higher" if up > 0.0 else "lower", place=place)  # fmt: skip
    tilts = [abs(each.hem_front - each.hem_back) for each in (before, after)]
    if abs(tilts[1] - tilts[0]) > LIES_APART:
        told = True
        yield say("The hem is {less} level: front and back differ by {before} before and {after} after.",
                  less="less" if tilts[1] > tilts[0] else "more", before=mm(tilts[0]), after=mm(tilts[1]))  # fmt: skip
    for face, more in (
        ("front", after.folded_front - before.folded_front),
        ("back", after.folded_back - before.folded_back),
    ):
        if abs(more) > LIES_APART:
            told = True
            yield say("Between bust and hip {by} {way} of the {face}'s length lies in folds across.", by=mm(abs(more)),
                      way="more" if more > 0.0 else "less", face=face)  # fmt: skip
    for words in _tell_places(before.places, after.places):
        told = True
        yield words
    told |= any(abs(levels.get(then.name, then).mean - then.mean) > DIFFERS for then in before.levels)
    if not told:
        yield say("By these figures the change makes no difference; look at the folds in the picture.")
    if not any(_differs(then, levels[then.name]) for then in before.levels if then.name in levels):
        yield say("At its levels all is alike. Where the picture shows no difference either, ask for more of the "
                  "change, or for another that the fitting sheet names.")  # fmt: skip
    yield say("A drape's stretch may be wrong by {mean} of the length as cut, but two on one body err alike: what "
              "differs is sure to {strain}, where it is stretched most to {most}, a height to {height}. Judge folds by "
              "eye.",
              mean=show_share(MEAN_OFF), strain=show_share(DIFFERS),
              most=show_share(MOST_DIFFERS), height=mm(LIES_APART))  # fmt: skip


def _tell_places(before: Places, after: Places) -> Iterator[Words]:
    """Yield what differs at single places, as far as both have them: only what is beyond what it may be off by."""
    strains = [(say("round the {side} upper arm", side=side), arm.mean, after.arms[side].mean)
               for side, arm in before.arms.items() if side in after.arms]  # fmt: skip
    if before.back is not None and after.back is not None:
        strains.append((say("between the armholes at the back, beyond the bust,"), before.back.mean, after.back.mean))
    for where, *both in strains:
        then, now = (max(each, 0.0) for each in both)
        if abs(now - then) > TUBE_OFF:
            yield say("The cloth {where} is stretched by {before} before and {after} after.", where=where,
                      before=show_share(then), after=show_share(now))  # fmt: skip
    ends, hems = (
        [abs(each[Side.LEFT] - each[Side.RIGHT]) for each in pair if len(each) > 1]
        for pair in ((before.shoulders, after.shoulders), (before.hems, after.hems))
    )
    if len(ends) > 1 and abs(ends[1] - ends[0]) > SHOULDERS_DIFFER:
        yield say("One shoulder's end stands farther off the body than the other: by {before} before and {after} "
                  "after.", before=mm(ends[0]), after=mm(ends[1]))  # fmt: skip
    if len(hems) > 1 and abs(hems[1] - hems[0]) > HEMS_DIFFER:
        yield say("The hem hangs higher on one side than on the other: by {before} before and {after} after.",
                  before=mm(hems[0]), after=mm(hems[1]))  # fmt: skip
