"""Stays as parts of a cloth of their own: strips as wide as the stay and as long as its edge on the paper."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from drafting.finishing.cutpiece import CutEdge, CutPiece, letters_on_paper
from drafting.garment import Face, Garment, Zone
from drafting.garment.features import StayCut
from drafting.garment.model import STAY
from drafting.geometry import Affine, Path, Point
from drafting.geometry.cells import ring_points
from drafting.lay.parts import Part
from drafting.units import Unit, show_length
from drafting.work.taping import list_tapes


def list_stay_strips(garment: Garment, cut: Sequence[CutPiece], owner: str = "") -> Iterator[Part]:
    """Yield the strips that stays are cut as, none where they are tapes: by their pieces' letters, several numbered."""
    tapes = list(list_tapes(garment))
    roles = Counter((piece.name, piece.line(zone.line).role) for piece, zone, _ in tapes)
    letters = letters_on_paper(cut)
    of_piece = Counter(letters.get(piece.name, "") for piece, _, _ in tapes)
    done = Counter[str]()
    for number, (piece, zone, length) in enumerate(tapes, start=1):
        if zone.cut is not StayCut.TAPE:
            line = piece.line(zone.line)
            side = str(line.side) if roles[piece.name, line.role] > 1 else ""
            edge = " ".join(filter(None, (str(piece.title).lower(), side, line.role.value)))
            letter = letters.get(piece.name, "")
            done[letter] += 1
            code = f"{letter}{done[letter]}" if of_piece[letter] > 1 else letter
            yield _cut_strip(_name_strip(number, code, edge, zone), zone, length, owner)


def _name_strip(number: int, code: str, edge: str, zone: Zone) -> CutPiece:
    """The strip of a stay, of no outline yet."""
    title = f"Stay, {edge}{', on the bias' * (zone.cut is StayCut.BIAS)}"
    return CutPiece(
        f"stay-{number}", title, code, (), (), (), (), 1, 0, on_fold=False, how="cut 1", labels=(), cloth=STAY,
        grain=Point(0.0, 1.0), stands_for=(),
    )  # fmt: skip


def _cut_strip(strip: CutPiece, zone: Zone, length: float, owner: str) -> Part:
    """The part, its length along the cloth or on the true bias."""
    wide = zone.width / 2.0
    low, high = Point(-wide, 0.0), Point(wide, length)
    corners = [low, Point(wide, 0.0), high, Point(-wide, length)]
    sides = [Path.polyline(pair) for pair in zip(corners, [*corners[1:], low], strict=True)]
    turn = Affine.turn(math.pi / 4.0 if zone.cut is StayCut.BIAS else 0.0)
    edges = tuple(CutEdge(f"side-{k}", side.transformed(turn)) for k, side in enumerate(sides))
    ring = ring_points([edge.path.segments for edge in edges])
    ring[-1] = ring[0]
    return Part(
        replace(strip, outline=edges), strip.name, over=False, upright=True, tied=False, face=Face.NONE, ring=ring,
        owner=owner,
    )  # fmt: skip


def tell_stay_strips(parts: Sequence[Part], unit: Unit) -> Iterator[str]:
    """Yield how strips are drawn on their cloth, for which there is no pattern, with the length of each."""
    strips = {part.title: sorted(edge.path.length for edge in part.piece.outline) for part in parts if _is_stay(part)}
    if strips:
        wide = show_length(next(iter(strips.values()))[0], unit)
        told = "; ".join(f"{title} {show_length(sides[-1], unit)}" for title, sides in strips.items())
        yield f"Strips have no pattern: draw them by ruler, {wide} wide, those on the bias at 45 degrees: {told}."


def _is_stay(part: Part) -> bool:
    return part.piece.cloth == STAY and not part.piece.stands_for
