"""Parts on a strip of cloth that may overlap for a while and are pushed apart: a search that goes on from a lay.

The strip is shortened step by step. On the shorter one parts overlap; each that does is put where, of all places on the
grid, it overlaps the others least, and what keeps overlapping counts for more from round to round until nothing does.
Published as guided local search for nesting: Egeblad, Nielsen and Odgaard, Fast neighborhood search for two- and
three-dimensional nesting problems (European Journal of Operational Research 183, 2007); the weights after Voudouris
and Tsang, Guided local search (same journal 113, 1999); the shortening, and parts exchanged where it sticks, after
Umetani and others, Solving the irregular strip packing problem via guided local search for overlap minimization
(International Transactions in Operational Research 16, 2009).

All is counted in cells and whole weights, with dice of a fixed seed: as many moves give the same lay on every machine.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from drafting.lay.pack import ClothStrip, PartPlace, Way, least_rows
from drafting.record import dataclass

Counts = npt.NDArray[np.int32]

GoOn = Callable[[int], bool]
"""Told how many parts were moved so far; says whether to go on."""

DICE = 1
"""The seed."""

LIGHT = 16
"""What an overlap of two parts weighs at first, a cell of it."""

HEAVY = 4000
"""What it may weigh: beyond it all weights are made smaller, so that sums of them don't grow out of their numbers."""

ROUNDS = 40
"""In which parts are pushed apart on one strip, before it is begun anew with some of them exchanged."""

STEP = 100
"""The strip is shortened by one of so many of its rows, by half of that each time that this fails: one row at least."""

FAILURES = 300
"""In a row, each after other parts were exchanged, after which the lay is left as it is."""


@dataclass(frozen=True, slots=True)
class PushedLay:
    """Where each part lies now, none for want of a shorter lay, and by how many rows the stripes lie lower with them.

    ``moves``: how many parts were moved to find it, and in vain since.
    """

    spots: tuple[PartPlace, ...]
    lower: int
    moves: int


def push_apart(
    ways: Sequence[Sequence[Way]], strip: ClothStrip, start: Sequence[PartPlace], below: float, go_on: GoOn
) -> PushedLay:
    """Return a lay shorter than ``below`` (mm), the shortest found before ``go_on`` said no; no spots if there is none.

    Each part lies in one of its ways, on the strip, on no cell that is taken, and where the stripe that ties it allows.
    It starts from places that may overlap. Stripes across may lie lower in the end, whichever the strip is cut off at.
    """
    heap = _Heap(ways, strip, start, go_on)
    rows, least = int(below / strip.cell[1]) + 1, least_rows(ways, strip)
    best: tuple[PartPlace, ...] = ()
    kept, step, failed = heap.keep(), max(1, rows // STEP), 0
    while rows - step >= least and failed < FAILURES and not heap.stopped:
        if heap.shorten(rows - step, low=failed % 2 == 1) and heap.separate():
            kept, failed = heap.keep(), 0
            best = kept.places
            rows = max(place.row + place.way.rows for place in best)
            continue
        failed, step = failed + 1, max(1, step // 2)
        heap.restore(kept)
        heap.exchange(failed)
    return PushedLay(best, kept.lower, heap.moves)


@dataclass(frozen=True, slots=True)
class _Kept:
    """Places, and by how many rows the stripes lie lower with them."""

    places: tuple[PartPlace, ...]
    lower: int


@dataclass(frozen=True, slots=True)
class _WayCells:
    """The cells of a way, 1 where it lies, and its left (-1) and right (1) edges: sign, column, first row, row beyond.

    What lies on a way is what lies left of its right edges, less what lies left of its left ones: an edge that runs
    straight up over many rows is one.
    """

    cells: Counts
    edges: tuple[tuple[int, int, int, int], ...]


def _shape_of(way: Way, columns: int) -> _WayCells:
    cells = np.zeros((way.rows, way.columns), np.int32)
    ends: list[tuple[int, int, int]] = []
    for offset, size in way.runs:
        row, column = divmod(offset, columns)
        cells[row, column : column + size] = 1
        ends += [(-1, column, row), (1, column + size, row)]
    edges: list[tuple[int, int, int, int]] = []
    for sign, column, row in sorted(ends):
        if edges and edges[-1][:2] == (sign, column) and edges[-1][3] == row:
            edges[-1] = (*edges[-1][:3], row + 1)
        else:
            edges.append((sign, column, row, row + 1))
    return _WayCells(cells, tuple(edges))


class _Heap:
    """Parts on a strip, some of them on others: where they lie, what each pair's overlap weighs, how many were moved.

    What is taken on the strip counts as a part more, the last, that can't be moved.
    """

    def __init__(
        self, ways: Sequence[Sequence[Way]], strip: ClothStrip, start: Sequence[PartPlace], go_on: GoOn
    ) -> None:
        self.ways, self.strip, self.places = ways, strip, list(start)
        self.rows, self.lower, self.moves, self.stopped = 0, 0, 0, False
        self._go_on, self._dice = go_on, random.Random(DICE)
        self._shapes = {id(each): _shape_of(each, strip.columns) for some in ways for each in some}
        self._taken = _unpack_rows(strip)
        self._sizes = [each[0].bits.bit_count() for each in ways]
        self._weights = np.full((len(ways), len(ways) + 1), LIGHT, np.int64)

    def keep(self) -> _Kept:
        """Return where all lies."""
        return _Kept(tuple(self.places), self.lower)

    def restore(self, kept: _Kept) -> None:
        """Lay all where it lay."""
        self.places, self.lower = list(kept.places), kept.lower

    def shorten(self, rows: int, low: bool) -> bool:
        """Make the strip so many rows long, cut off above or below; False where a part has no place on it."""
        now = max(place.row + place.way.rows for place in self.places)
        down = max(0, now - rows) if low else 0
        self.rows, self.lower = rows, self.lower + down
        self._weights[:] = LIGHT
        moved = [self._nearest(each.way, each.column, each.row - down) for each in self.places]
        found = [each for each in moved if each is not None]
        self.places = found if len(found) == len(moved) else self.places
        return len(found) == len(moved)

    def separate(self) -> bool:
        """Push the parts apart; tell whether none overlaps another, or lies on what is taken."""
        for _ in range(ROUNDS):
            lapping = self._measure_overlaps()
            if not lapping.any():
                return True
            self._weigh(lapping)
            order = [int(at) for at in np.flatnonzero(lapping.any(axis=1))]
            self._dice.shuffle(order)
            for at in order:
                if not self._overlaps_of(at, range(len(self.places))).any():
                    continue
                self.places[at] = self._best_place(at) or self.places[at]
                self.moves += 1
                self.stopped = self.stopped or not self._go_on(self.moves)
                if self.stopped:
                    return False
        return False

    def _weigh(self, lapping: npt.NDArray[np.int64]) -> None:
        """Let every overlap weigh more, by a fifth up to twice for the largest, and what is none a little less."""
        weights = self._weights
        more = weights * (3 + 13 * lapping // lapping.max()) // 16 + 1
        weights += np.where(lapping > 0, more, -(weights // 20))
        while weights.max() > HEAVY:
            weights[:] = np.maximum(weights * 3 // 4, 1)

    def exchange(self, times: int) -> None:
        """Exchange two parts, larger ones rather, as near as they may lie to each other's places: more often later."""
        count = len(self.places)
        for _ in range(min(count // 2, 1 + times // 10)):
            one, two = (self._dice.choices(range(count), self._sizes)[0] for _ in range(2))
            a, b = self.places[one], self.places[two]
            for at, way, to in ((one, a.way, b), (two, b.way, a)):
                middle = (2 * to.column + to.way.columns - way.columns, 2 * to.row + to.way.rows - way.rows)
                self.places[at] = self._nearest(way, middle[0] // 2, middle[1] // 2) or self.places[at]

    def _phase(self, way: Way) -> tuple[tuple[int, int], tuple[int, int]]:
        """The first column and row that a way's corner may lie on, and how far it is from each to the next."""
        (x, y), (across, along) = way.phase, self.strip.period
        columns = (0, 1) if x is None else (x, across)
        return columns, (0, 1) if y is None else ((y - self.lower) % along, along)

    def _nearest(self, way: Way, column: int, row: int) -> PartPlace | None:
        """The place nearest to one at which a way may lie on the strip, whatever lies there."""
        found = []
        limits = (self.strip.columns - way.columns, self.rows - way.rows)
        for at, most, (first, step) in zip((column, row), limits, self._phase(way), strict=True):
            if first > most:
                return None
            found.append(first + step * min(max(0, round((at - first) / step)), (most - first) // step))
        return PartPlace(way, found[0], found[1])

    def _measure_overlaps(self) -> npt.NDArray[np.int64]:
        """How many cells of each part lie on each other and on what is taken, shape (n, n + 1)."""
        count = len(self.places)
        found = np.zeros((count, count + 1), np.int64)
        for at in range(count):
            found[at] = self._overlaps_of(at, range(at))
            found[:at, at] = found[at, :at]
        return found

    def _overlaps_of(self, at: int, others: range) -> npt.NDArray[np.int64]:
        """How many cells of a part lie on some others and on what is taken."""
        found, place = np.zeros(len(self.places) + 1, np.int64), self.places[at]
        own, top, right = self._cells(at), place.row + place.way.rows, place.column + place.way.columns
        for other in others:
            to = self.places[other]
            low, high = max(place.row, to.row), min(top, to.row + to.way.rows)
            left, end = max(place.column, to.column), min(right, to.column + to.way.columns)
            if other != at and low < high and left < end:
                mine = own[low - place.row : high - place.row, left - place.column : end - place.column]
                theirs = self._cells(other)[low - to.row : high - to.row, left - to.column : end - to.column]
                found[other] = np.count_nonzero(mine & theirs)
        taken = self._taken[place.row : top, place.column : right]
        found[-1] = np.count_nonzero(own[: len(taken)] & taken) if len(taken) else 0
        return found

    def _cells(self, at: int) -> Counts:
        return self._shapes[id(self.places[at].way)].cells

    def _best_place(self, at: int) -> PartPlace | None:
        """Where, of all places that it may lie at, what a part overlaps weighs least; None if it has no place."""
        heap = np.zeros((self.rows + 1, self.strip.columns + 1), np.int32)
        weights, on = self._weights[at], heap[1:, 1:]
        for other, to in enumerate(self.places):
            if other != at:
                there = on[to.row : to.row + to.way.rows, to.column : to.column + to.way.columns]
                there += self._cells(other) * np.int32(weights[other])
        taken = self._taken[: self.rows]
        on[: len(taken)] += taken * np.int32(weights[-1])
        lefts = np.cumsum(heap, axis=1, dtype=np.int32)
        sums, best = np.cumsum(lefts, axis=0, dtype=np.int32), None
        for way in self.ways[at]:
            found = self._cheapest(way, lefts[1:], sums)
            if found is not None and (best is None or found[0] < best[0]):
                best = found
        return best and best[1]

    def _cheapest(self, way: Way, lefts: Counts, sums: Counts) -> tuple[int, PartPlace] | None:
        """What the cheapest place of a way costs, and where it is.

        ``lefts`` is what lies left of a column in each row, ``sums`` what does in all rows below.
        """
        (x, across), (y, along) = self._phase(way)
        high, wide = self.rows - way.rows + 1, self.strip.columns - way.columns + 1
        if y >= high or x >= wide:
            return None
        cost = np.zeros((len(range(y, high, along)), len(range(x, wide, across))), np.int32)
        for sign, column, low, beyond in self._shapes[id(way)].edges:
            columns = slice(column + x, column + wide, across)
            if beyond - low == 1:
                part = lefts[low + y : low + high : along, columns]
            else:
                part = sums[beyond + y : beyond + high : along, columns] - sums[low + y : low + high : along, columns]
            np.add(cost, part, out=cost) if sign > 0 else np.subtract(cost, part, out=cost)
        row, column = divmod(int(cost.argmin()), cost.shape[1])
        return int(cost[row, column]), PartPlace(way, x + column * across, y + row * along)


def _unpack_rows(strip: ClothStrip) -> Counts:
    """The cells that are taken on a strip, row by row, as far up as there are any."""
    rows = -(-strip.taken.bit_length() // strip.columns)
    bits = np.frombuffer(strip.taken.to_bytes(-(-rows * strip.columns // 8), "little"), np.uint8)
    whole = np.unpackbits(bits, count=rows * strip.columns, bitorder="little")
    return whole.reshape(rows, strip.columns).astype(np.int32)
