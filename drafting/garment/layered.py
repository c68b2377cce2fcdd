"""The layers of a seam that lie beside each other, and which of them are seen."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from drafting.garment.seam import Run


def pair_layers(plies: Sequence[Run], hangs: Sequence[int]) -> Iterator[tuple[int, int, bool]]:
    """Yield which two layers of a seam lie beside each other, by their numbers, and whether one of them is covered.

    What ``hangs`` in the seam lies on the layers told first, each on its own, and shows in their place: of three layers
    of which the last hangs on the first, the second and the last are seen.

    >>> list(pair_layers(((), ()), ())), list(pair_layers((("a",), ("b",), ("c",)), (2,)))
    ([(0, 1, False)], [(0, 1, True), (0, 2, True), (1, 2, False)])
    """
    covered = {at for at, layer in enumerate(hangs) if plies[layer]}
    yield from ((0, two, bool({0, two} & covered)) for two in range(1, len(plies)))
    if hangs:
        seen = (at for at in range(1, len(plies)) if plies[at])
        yield from ((one, two, bool({one, two} & covered)) for one, two in itertools.combinations(seen, 2))
