"""Fingerprints of cut pieces: whether a piece printed from an earlier draft may still be used."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256

from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Path, Point

PLACES = 2
"""Decimals of a millimetre that are told apart: less than the width of the printed line."""


def fingerprint(piece: CutPiece) -> str:
    """Return a short hash of all that is cut, marked and said of a piece, but for its code and the draft's mark.

    Two drafts' pieces of one name and fingerprint may be used for one another.
    """
    return sha256("\n".join(_describe_piece(piece)).encode("utf-8")).hexdigest()[:16]


def _describe_piece(piece: CutPiece) -> Iterator[str]:
    yield f"{piece.name} {piece.title} {piece.how} {piece.quantity} {piece.mirrored} {piece.on_fold} {piece.cloth}"
    yield _point(piece.grain)
    for edge in piece.outline:
        yield f"cut {edge.name} {_path(edge.path)}"
    for mark in piece.marks:
        yield f"{mark.kind} {mark.name} {_path(mark.path)}"
    for notch in piece.notches:
        yield f"notch {notch.seam} {notch.count} {_point(notch.at)} {_point(notch.inward)}"
    for name, at in piece.drills:
        yield f"drill {name} {_point(at)}"


def _point(point: Point) -> str:
    return f"{point.x:.{PLACES}f},{point.y:.{PLACES}f}".replace("-0.00", "0.00")


def _path(path: Path) -> str:
    return " ".join(f"{v:.{PLACES}f}" for v in path.segments.ravel()).replace("-0.00", "0.00")
