"""What an earlier draft has in common with this one: pieces that may still be used, and the letters they had.

A piece that was printed as E stays E, so that old and new papers agree on one table.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from hashlib import sha256
from itertools import count

from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Path, Point
from drafting.text import letters_of

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


_CODE = re.compile(r"[A-Z]{1,3}")


def keep_codes(cut: Sequence[CutPiece], earlier: Mapping[str, str]) -> tuple[CutPiece, ...]:
    """Return the pieces with the codes that pieces of their names had in an earlier draft.

    ``earlier`` gives codes by name. A piece that is new takes the next letters that no earlier piece had, so that no
    letter ever stands for two pieces on one table. What isn't a code, or stands there twice, counts for nothing.
    """
    known: dict[str, str] = {}
    taken: set[str] = set()
    for name, code in earlier.items():
        if _CODE.fullmatch(code) and code not in taken:
            known[name] = code
            taken.add(code)
    free = (letters for letters in map(letters_of, count()) if letters not in taken)
    return tuple(replace(piece, code=known[piece.name] if piece.name in known else next(free)) for piece in cut)
