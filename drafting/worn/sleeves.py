"""What a drape says of sleeves: how far their cloth is stretched at cap, upper arm and forearm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

import numpy as np

from drafting.cloth import Cloth
from drafting.record import dataclass
from drafting.trade import trade_row
from drafting.worn.dressing import Worn
from drafting.worn.mesh import PieceMesh
from drafting.worn.places import BELOW_UNDERARM
from drafting.worn.pressing import press_at
from drafting.worn.shape import Floats, Whole

DOWN_FOREARM = trade_row((0.6, 0.75, 0.9), "share", "from memory")
"""Of a long sleeve's length below its upper arm line, where it goes round the forearm."""
FOREARM: Final = "forearm"
_LONG: Final = 250.0
"""mm below its upper arm line from which a sleeve reaches down the forearm."""


@dataclass(frozen=True, slots=True)
class SleevePart:
    """A part of the sleeves, of the two the one that is stretched more: mean strain across, 95th percentile (shares).

    ``has`` is the stretch that its cloth has, ``presses`` how hard it presses there (kPa).
    """

    name: str
    mean: float
    highest: float
    has: float
    presses: float


def take_sleeves(worn: Worn, smooth: Floats, cloths: Mapping[str, Cloth], quantile: float) -> Iterator[SleevePart]:
    """Yield the parts of a garment's sleeves; ``smooth`` is the strain of each triangle, smoothed."""
    parts: dict[str, list[SleevePart]] = {}
    before = 0
    for each in worn.mesh.pieces:
        lines = [level for level in each.piece.levels if level.name.startswith("upper-arm")]
        if each.piece in worn.laid.sleeves and lines and each.piece.name not in worn.laid.layers:
            has = cloths.get(each.piece.cloth, cloths["main"]).stretch_across
            for name, found in _find_parts(each, lines[0].path.bounds[1]):
                crossed = before + found
                presses = press_at(worn, worn.mesh.triangles[crossed].ravel())
                mean, most = float(smooth[crossed].mean()), float(np.quantile(smooth[crossed], quantile))
                parts.setdefault(name, []).append(SleevePart(name, mean, most, has, presses))
        before += len(each.triangles)
    for found_of in parts.values():
        yield max(found_of, key=lambda part: part.mean)


def _find_parts(each: PieceMesh, underarm: float) -> Iterator[tuple[str, Whole]]:
    """Yield of a sleeve the triangles of its cap, and those across it at its upper arm and down its forearm."""
    heights = each.flat[each.triangles][:, :, 1]
    yield "sleeve cap", np.nonzero((heights > underarm).all(axis=1))[0]
    length = underarm - float(heights.min())
    levels = [("upper arm", float(by)) for by in BELOW_UNDERARM]
    if length > _LONG:
        levels += [(FOREARM, float(share) * length) for share in DOWN_FOREARM]
    for name, by in levels:
        above = heights > underarm - by
        found = np.nonzero(above.any(axis=1) & ~above.all(axis=1))[0]
        if len(found):
            yield name, found
