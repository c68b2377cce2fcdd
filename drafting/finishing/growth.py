"""The pieces as they are drawn for cloth that is cut before it is washed: larger by what the wash takes.

Drafted, proven and sewn is the garment as it is worn, washed; only what is cut from such a cloth is drawn otherwise,
its allowances with it, along its grain and across it. What is cut once more from a cloth that shrinks otherwise, as a
lining, has a print of its own; but what stiffens a piece is put on it before the wash, and is as large as that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import count

from drafting.cloth import Cloth
from drafting.finishing.cutpiece import CutPiece
from drafting.finishing.labels import name_cloth, note_again
from drafting.garment import Brief
from drafting.garment.model import INTERFACING, MAIN_CLOTH
from drafting.geometry import Affine, Point
from drafting.text import letters_of
from drafting.tolerance import TOLERANCE


def grow_pieces(cut: Sequence[CutPiece], brief: Brief) -> tuple[CutPiece, ...]:
    """Return the pieces as they are drawn; the very same where their cloths are washed before they are cut."""
    cloths = {MAIN_CLOTH: brief.cloth, **brief.cloths}
    return tuple(
        _grow(piece, *cloths[piece.cloth].growth) if piece.cloth in cloths else piece
        for piece in list_prints(cut, brief)
    )


def list_prints(cut: Sequence[CutPiece], brief: Brief) -> tuple[CutPiece, ...]:
    """Return the pieces with a print of its own, after the others, for each that is cut once more in another size."""
    apart = _letter_apart(cut, brief)
    if not apart:
        return tuple(cut)
    kept = (
        _tell_apart(piece, {kind: apart[name, kind] for name, kind in apart if name == piece.name}) for piece in cut
    )
    again = (_print_again(piece, kind, apart[piece.name, kind]) for piece, kind in _find_apart(cut, brief))
    return (*kept, *again)


def letter_again(cut: Sequence[CutPiece], brief: Brief) -> Mapping[tuple[str, str], str]:
    """Return the letter of the print that each piece is cut once more by, for its name and that cloth's."""
    own = {(piece.name, kind): piece.code for piece in cut for kind in piece.again}
    return {**own, **_letter_apart(cut, brief)}


def cloth_as_cut(kind: str, cloth: Cloth) -> Cloth:
    """Return a cloth as it is cut: no pattern is drawn for the wash of interfacing, which is put on before that."""
    return replace(cloth, cut_unwashed=False) if kind == INTERFACING and cloth.cut_unwashed else cloth


def grown_apart(one: tuple[float, float], two: tuple[float, float]) -> float:
    """Return by what share, at the most, what is cut larger for the wash of two cloths differs."""
    return max(abs(a - b) for a, b in zip(one, two, strict=True))


def _find_apart(cut: Sequence[CutPiece], brief: Brief) -> Iterator[tuple[CutPiece, str]]:
    """The pieces that a print of their own is needed for, and the cloth that they are cut from once more by it."""
    for piece in cut:
        for kind in (kind for kind in piece.again if kind != INTERFACING):
            growths = (brief.cloth_named(name).growth for name in (piece.cloth, kind))
            if grown_apart(*growths) > TOLERANCE.joint:
                yield piece, kind


def _letter_apart(cut: Sequence[CutPiece], brief: Brief) -> dict[tuple[str, str], str]:
    """The letters of those prints: the piece's own with the cloth's first, or else the next that no print has."""
    found: dict[tuple[str, str], str] = {}
    taken = {piece.code for piece in cut}
    for piece, kind in _find_apart(cut, brief):
        first = kind[:1].upper()
        code = f"{piece.code}{first}"
        if not (first.isascii() and first.isalpha()) or code in taken:
            code = next(letters for letters in map(letters_of, count()) if letters not in taken)
        taken.add(code)
        found[piece.name, kind] = code
    return found


def _tell_apart(piece: CutPiece, codes: Mapping[str, str]) -> CutPiece:
    """A piece whose label says by which other prints it is cut once more."""
    told = {note_again(kind): f"In {name_cloth(kind)} cut it by {code}." for kind, code in codes.items()}
    labels = tuple(told.get(label, label) for label in piece.labels)
    return replace(piece, labels=labels, again=tuple(kind for kind in piece.again if kind not in codes))


def _print_again(piece: CutPiece, kind: str, code: str) -> CutPiece:
    """The print that a piece is cut once more by; it stands for no net piece, for that is sewn by the first."""
    gone = {note_again(cloth) for cloth in piece.again}
    labels = (name_cloth(kind) if label == name_cloth(piece.cloth) else label for label in piece.labels)
    return replace(
        piece,
        name=f"{piece.name} in {kind}",
        title=f"{piece.title} in {name_cloth(kind)}",
        code=code,
        cloth=kind,
        labels=tuple(label for label in labels if label not in gone),
        again=(),
        stands_for=(),
    )


def _grow(piece: CutPiece, across: float, along: float) -> CutPiece:
    """A piece so many times as large across its grain and along it."""
    return piece if across == along == 1.0 else piece.mapped(grain_map(piece.grain, across, along))


def grain_map(grain: Point, across: float, along: float) -> Affine:
    """Return what makes a piece so many times as large across its grain and along it."""
    up = math.pi / 2.0 - math.atan2(grain.y, grain.x)
    return Affine.turn(up).then(Affine(xx=across, yy=along)).then(Affine.turn(-up))
