"""Where a piece's edges must lie, reckoned from the wearer and from what each edge is sewn to: no line's side is read.

The wearer faces forward (F), up is U, and the wearer's left is L = U x F (facing north, up x north is west, which is
at one's left). Cloth is seen from outside, against the outward direction N of the place where it is worn; what lies at
the viewer's right is then (-N) x U. For a front N is F, for a back -F, for a left sleeve L, for a right sleeve -L.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

import numpy as np

from drafting.finishing import CutEdge, CutPiece
from drafting.garment import Garment

UP = np.array((0.0, 1.0, 0.0))
FORWARD = np.array((0.0, 0.0, 1.0))
LEFT = np.cross(UP, FORWARD)
PLACES = {"front": FORWARD, "back": -FORWARD, "sleeve-left": LEFT, "sleeve-right": -LEFT}

CLEAR = 4.0
"""mm by which one edge must lie beyond another to say which way round a piece is."""

OUTWARDS = {"neck": 0.0, "shoulder": 1.0, "armhole": 2.0, "side": 2.0, "over-arm": 2.0, "underarm": 2.0}
"""How far from the centre a seam lies, by how its name begins."""

HEIGHTS = {"shoulder": 3.0, "over-arm": 3.0, "neck": 3.0, "armhole": 2.0, "hem": 0.0, "cuff": 0.0, "wrist": 0.0}


def words(name: str) -> list[str]:
    """The words of a name or a label."""
    return re.findall(r"[A-Za-z]+", name)


def outward(piece: str) -> np.ndarray | None:
    """The direction in which the cloth of a piece of that name faces; None where the name doesn't tell."""
    named = set(words(piece))
    if "sleeve" in named:
        return PLACES["sleeve-left"] if "left" in named else PLACES["sleeve-right"]
    if "cuff" in named or "band" in named or "binding" in named:
        return None
    return next((PLACES[face] for face in ("front", "back") if face in named), None)


def landmarks(garment: Garment, covered: str = "") -> Mapping[tuple[str, str], np.ndarray]:
    """Where each sewn edge, and each hem, lies on the wearer, roughly: (left, up, forward); nan where it isn't known.

    ``covered`` is the side whose shoulder an overlay covers: its edge over the arm lies there.
    """
    found: dict[tuple[str, str], np.ndarray] = {}
    for seam in garment.seams:
        for section in seam.sections:
            pieces = [{use.piece for use in run} for run in section.plies]
            for run, others in zip(section.plies, _others(pieces), strict=True):
                for use in run:
                    found[use.piece, use.line] = _place(seam.name, use.piece, others, covered)
    for piece in garment.pieces:
        for line in piece.ring:
            if line.opening and (piece.name, line.name) not in found:
                found[piece.name, line.name] = _place(line.opening, piece.name, set(), covered)
    return found


def _others(pieces: list[set[str]]) -> Iterator[set[str]]:
    for i in range(len(pieces)):
        yield set().union(*(each for k, each in enumerate(pieces) if k != i))


def _place(name: str, piece: str, others: set[str], covered: str) -> np.ndarray:
    start = next((key for key in (*OUTWARDS, *HEIGHTS) if name.startswith(key)), "")
    side = covered if start == "over-arm" else next((w for w in words(name) if w in ("left", "right")), "")
    sign = {"left": 1.0, "right": -1.0, "": 0.0}[side]
    across = OUTWARDS.get(start, np.nan) * sign if side or start == "neck" else np.nan
    ahead = np.nan
    if "sleeve" in piece and not any("sleeve" in other for other in others):
        faces = {face for face in ("front", "back") for other in others if face in words(other)}
        ahead = {"front": 1.0, "back": -1.0}.get(faces.pop(), np.nan) if len(faces) == 1 else np.nan
    return np.array((across, HEIGHTS.get(start, np.nan), ahead))


def wrong_way(cut: CutPiece, piece: str, where: Mapping[tuple[str, str], np.ndarray]) -> str | None:
    """Why a cut piece isn't the shape of ``piece`` seen from its right side; "" if it is; None if nothing tells.

    An edge that must lie more to the viewer's right, or higher, than another by where both are worn has to do so on
    the cloth, and the outline has to run anticlockwise.
    """
    normal = outward(piece)
    if normal is None:
        return None
    if cut.area <= 0.0:
        return "the outline runs clockwise"
    right = np.cross(-normal, UP)
    axes = np.array((LEFT, UP, FORWARD))
    edges = [(e, where[piece, e.line]) for e in cut.outline if (piece, e.line) in where]
    told = False
    for k, direction in ((0, axes @ right), (1, np.array((0.0, 1.0, 0.0)))):
        known = [(e, _along(at, direction)) for e, at in edges]
        known = [(e, v) for e, v in known if not np.isnan(v)]
        low, high = min((v for _, v in known), default=0.0), max((v for _, v in known), default=0.0)
        if high == low:
            continue
        told = told or k == 0
        gap = _mean([e for e, v in known if v == high], k) - _mean([e for e, v in known if v == low], k)
        if gap < CLEAR:
            return f"{piece}: its {'left and right' if k == 0 else 'top and bottom'} lie {gap:.0f} mm the wrong way"
    return "" if told else None


def _along(at: np.ndarray, direction: np.ndarray) -> float:
    used = np.abs(direction) > 0.5
    return float((at[used] * direction[used]).sum())


def _mean(edges: list[CutEdge], k: int) -> float:
    weights = [edge.path.length for edge in edges]
    return float(np.average([tuple(edge.path.at(edge.path.length / 2.0))[k] for edge in edges], weights=weights))
