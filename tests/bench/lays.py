"""How good the lays are: ``python -m tests.bench.lays SECONDS [FOLDER]``.

Of designs of the catalogue: our own lay, at once and after so many seconds, the general library's after as many, and in
stripes of 6 cm, at once and after as many, over our own at once without. Of a folder, every public benchmark set in it,
in the common JSON form: ``strip_height``, and ``items`` of a ``demand``, ``allowed_orientations`` (degrees) and a
``shape`` whose ``data`` is a polygon. What is published of a set may stand in it as ``best_density`` (a share). Ours
lays quarter turns only; sets that allow others are left out.
"""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt

from drafting.cloth import Stripe
from drafting.geometry import signed_area
from drafting.geometry.cells import quarter_turn
from drafting.lay.longer import shorten_lays
from drafting.lay.pack import FREE, ClothStrip, Effort, pack_shortest, top_of, way
from drafting.lay.shorter import PushTime, push_lay
from tests.lay.laying import lays, made

DESIGNS = ("knit-top", "basic-tee", "diagonal-overlay-top", "princess-top", "sheath-dress")
REPEAT = 60.0
COLUMNS = 230
TRIES = 4000
EFFORT = 2_000_000_000


@dataclass(frozen=True)
class BenchmarkSet:
    """Polygons to lay on a strip, each in some quarter turns; the strip's width; the best density known."""

    name: str
    width: float
    polygons: tuple[npt.NDArray[np.float64], ...]
    turns: tuple[tuple[int, ...], ...]
    best: float | None = None

    @property
    def area(self) -> float:
        """What all polygons cover."""
        return math.fsum(abs(signed_area(each)) for each in self.polygons)


def read_set(file: Path) -> BenchmarkSet | None:
    """Return a set; None where it allows turns that ours doesn't make. Its strip runs to the right, ours upwards."""
    told = json.loads(file.read_text(encoding="utf-8"))
    polygons, turns = [], []
    for item in told["items"]:
        degrees = item.get("allowed_orientations")
        if degrees is None or any(each % 90.0 for each in degrees):
            return None
        ring = np.array([(y, x) for x, y in item["shape"]["data"]], dtype=np.float64)
        ring = ring if (ring[0] == ring[-1]).all() else np.concatenate([ring, ring[:1]])
        ring = ring if signed_area(ring) > 0.0 else ring[::-1]
        for _ in range(item["demand"]):
            polygons.append(ring)
            turns.append(tuple(sorted({-int(each // 90.0) % 4 for each in degrees})))
    return BenchmarkSet(file.stem, float(told["strip_height"]), tuple(polygons), tuple(turns), told.get("best_density"))


def lay_set(asked: BenchmarkSet, columns: int = COLUMNS, tries: int = TRIES) -> float:
    """Return the density that our own search reaches on a set, nothing left between its polygons."""
    cell = asked.width / columns
    strip = ClothStrip(columns, (cell, cell))
    ways = [
        [way(quarter_turn(ring, turn), strip, 0.0, FREE, turn > 0) for turn in turns]
        for ring, turns in zip(asked.polygons, asked.turns, strict=True)
    ]
    spots = pack_shortest(ways, strip, tries, Effort(EFFORT))
    return asked.area / (asked.width * top_of(spots, strip))


def compare_garments(seconds: int) -> Iterator[str]:
    """Yield for each design how long its main lay is, ours and the library's, and how much stripes add.

    Ours is told as it is found at once, and after so many seconds of our own search. Stripes keep all parts the same
    way up: what that alone costs is told, so that what is left is the stripes' own.
    """
    for design in DESIGNS:
        what = made(design)
        (ours, *_) = lays(what)
        (theirs,) = shorten_lays([ours], seconds, "cm")
        same_way = replace(what, brief=replace(what.brief, cloth=replace(what.brief.cloth, shades=True)))
        (upright, *_), (striped, *_) = lays(same_way), lays(what, Stripe(REPEAT))
        longer, pushed = (push_lay(each, "cm", PushTime(seconds, lambda _: True)) for each in (ours, striped))
        yield (
            f"{design}: ours {ours.length:.0f} mm, after {seconds} s {longer.length:.0f} mm, the library's "
            f"{theirs.length:.0f} mm ({ours.length / theirs.length:.3f}, {longer.length / theirs.length:.3f}); in "
            f"stripes of 6 cm {striped.length:.0f} mm, after {seconds} s {pushed.length:.0f} mm, use "
            f"{ours.length / striped.length:.3f}, {ours.length / pushed.length:.3f} of ours without; without, but all "
            f"the same way up, {upright.length:.0f} mm: {upright.length / pushed.length:.3f} of that"
        )


def main(seconds: int, folder: Path | None) -> int:
    """Print the figures."""
    for line in compare_garments(seconds):
        print(line)
    for file in sorted(folder.glob("*.json")) if folder else ():
        asked = read_set(file)
        if asked is None:
            print(f"{file.stem}: left out, it allows turns other than quarters")
            continue
        density = lay_set(asked)
        best = f", {density / asked.best:.3f} of the best known" if asked.best else ""
        print(f"{asked.name}: {len(asked.polygons)} polygons, density {density:.3f}{best}")
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), Path(sys.argv[2]) if len(sys.argv) > 2 else None))
