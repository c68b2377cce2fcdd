"""A longer search for a lay: by a general library for laying shapes on a strip, or by our own.

The library, where it is installed, takes parts that may lie anywhere: not those that a stripe ties. What either finds
depends on the machine and on the time it is given, so it is asked for in so many words; the lay that is found without
is always the same.
"""

from __future__ import annotations

import contextlib
import importlib.util
import math
import multiprocessing
import queue
import signal
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

import numpy as np

from drafting.geometry.cells import Floats
from drafting.lay.plan import need_cloth, to_buy
from drafting.lay.search import GAP, Told
from drafting.lay.shorter import LOOK, PushTime, push_lay
from drafting.lay.spread import LaidPart, Lay
from drafting.trade import TradeValue
from drafting.units import Unit

LIBRARY = "spyrrow"
"""The package that searches."""

SEED = 1
"""Of the search's dice."""

NOISE = TradeValue(0.1, "mm", "derived", "0.06 was seen")
"""By which the library may miss what is asked: so far it keeps from the edges beyond that."""


def shorten_lays(lays: Sequence[Lay], seconds: int, unit: Unit, told: Told = lambda _: True) -> tuple[Lay, ...]:
    """Return the lays, each as short as is found in its share of ``seconds``, or as it was if that isn't shorter.

    The library takes whole seconds: where there are more lays than these, the longest are searched. ``told`` ends the
    search; then the best found so far counts.
    """
    chosen = sorted((lay for lay in lays if len(lay.laid) > 1), key=lambda lay: -lay.length)[:seconds]
    share = seconds // max(1, len(chosen))
    return tuple(
        _search_longer(lay, share, unit, told) if any(lay is each for each in chosen) and told(0.0) else lay
        for lay in lays
    )


def _search_longer(lay: Lay, seconds: int, unit: Unit, told: Told) -> Lay:
    """One lay, by the library if it can search it, else by our own."""
    if importlib.util.find_spec(LIBRARY) is not None and suits_library(lay):
        return _shorten(lay, seconds, unit, told)
    return push_lay(lay, unit, PushTime(seconds, told))


def suits_library(lay: Lay) -> bool:
    """Tell whether the library can search a lay: it knows parts that lie anywhere, and no more."""
    folded = any(spread.folded for spread in lay.spreads)
    return not (lay.is_tied or folded or lay.cloth.flaws or lay.cloth.cut_unwashed)


def _shorten(lay: Lay, seconds: int, unit: Unit, told: Told) -> Lay:
    """One lay, shortened if that can be."""
    spots = _search(lay, seconds, told)
    if not spots:
        return lay
    laid = tuple(
        LaidPart(each.part, turned, _put(each, turned, at)) for each, (turned, at) in zip(lay.laid, spots, strict=True)
    )
    low = min(float(each.ring[:, 1].min()) for each in laid)
    laid = tuple(replace(each, ring=each.ring - (0.0, low)) for each in laid)
    length = max(float(each.ring[:, 1].max()) for each in laid)
    if length >= lay.length or not _fits(laid, lay.width):
        return lay
    (spread,) = lay.spreads
    needs, buy = need_cloth(length, lay.cloth), to_buy(length, lay.cloth, unit)
    return replace(
        lay,
        spreads=(replace(spread, laid=laid, length=length),),
        needs=needs,
        buy=buy,
        spared=lay.buy + lay.spared - buy,
    )


_Spots = list[tuple[bool, tuple[float, float]]]
"""For each part: whether it lies upside down, and how far it is moved then (x, y)."""


def _search(lay: Lay, seconds: int, told: Told) -> _Spots:
    """The best that the library finds, empty if it finds nothing.

    It searches in a process of its own, which is ended with the search: a thread of it would hold up the end of ours.
    """
    rings = [each.part.ring[:-1].tolist() for each in lay.laid]
    turns = [0.0] if lay.one_way else [0.0, math.degrees(math.pi)]
    apart = multiprocessing.get_context("spawn")
    answers: multiprocessing.Queue[_Answer] = apart.Queue()
    working = apart.Process(target=solve_apart, args=(rings, turns, float(lay.width), seconds, answers), daemon=True)
    with _deaf_to_interrupts():
        working.start()
    began, best = time.monotonic(), _Answer(math.inf, [], False)
    try:
        while not best.last and working.is_alive():
            best = _take_best(best, answers, float(LOOK))
            if not told(min(1.0, (time.monotonic() - began) / seconds)):
                break
        else:  # what it put there last, as it ended
            best = _take_best(best, answers, float(LOOK))
    finally:
        working.terminate()
        working.join()
    return best.spots


def _take_best(best: _Answer, answers: multiprocessing.Queue[_Answer], wait: float) -> _Answer:
    """The best of an answer and of all that are there, the first waited for as long (s)."""
    with contextlib.suppress(queue.Empty):
        while not best.last:
            best = min(best, answers.get(timeout=wait), key=lambda each: (not each.last, each.width))
            wait = 0.0
    return best


@contextlib.contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """What is begun meanwhile takes no Ctrl-C: whoever began the search ends it."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


class _Answer(NamedTuple):
    """What the library found by some moment: the strip's length (mm), where the parts lie, and whether it is done."""

    width: float
    spots: _Spots
    last: bool


def solve_apart(
    rings: Sequence[Sequence[tuple[float, float]]],
    turns: Sequence[float],
    width: float,
    seconds: int,
    answers: multiprocessing.Queue[_Answer],
) -> None:
    """Search in a process of its own, and put on the queue all that is found.

    The library's strip runs to the right and is as high as ours is wide: x and y are exchanged on the way and back.
    """
    import spyrrow

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever began the search ends it
    items = [spyrrow.Item(str(n), [(y, x) for x, y in ring], 1, list(turns)) for n, ring in enumerate(rings)]
    strip = spyrrow.StripPackingInstance("lay", width + 2.0 * (GAP - NOISE), items)
    asked = spyrrow.StripPackingConfig(
        total_computation_time=seconds, min_items_separation=float(GAP), seed=SEED, num_workers=1
    )
    found, done = spyrrow.ProgressQueue(), []
    working = threading.Thread(target=lambda: done.append(strip.solve(asked, found)), daemon=True)
    working.start()
    while working.is_alive():
        working.join(float(LOOK))
        parent = multiprocessing.parent_process()
        if parent is not None and not parent.is_alive():
            return  # nobody waits for an answer any more
        for _, solution in found.drain():
            answers.put(_Answer(float(solution.width), _spots(solution, len(items)), last=False))
    for solution in done:
        answers.put(_Answer(float(solution.width), _spots(solution, len(items)), last=True))


def _spots(solution: Any, count: int) -> _Spots:
    spots = {
        int(item.id): (math.cos(math.radians(item.rotation)) < 0.0, item.translation) for item in solution.placed_items
    }
    return [(turned, (at[1] - GAP + NOISE, at[0])) for turned, at in (spots[i] for i in range(count))]


def _put(each: LaidPart, turned: bool, at: tuple[float, float]) -> Floats:
    ring = np.asarray(each.part.ring)
    return np.asarray((-ring if turned else ring) + at)


def _fits(laid: Sequence[LaidPart], width: float) -> bool:
    """Whether all lie on the cloth."""
    lefts, rights = zip(*((float(each.ring[:, 0].min()), float(each.ring[:, 0].max())) for each in laid), strict=True)
    return bool(min(lefts) >= 0.0 and max(rights) <= width)
