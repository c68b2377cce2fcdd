"""A neckline's lines in their piece: put in place of the old ones, the centre seam, zones and seams following."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Garment, Line, Role, Use, substitute
from drafting.garment.carry import hand_on
from drafting.garment.features import Heir
from drafting.geometry import Path, Point
from drafting.redraw.halves import Half
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LEAST_SEAM = TradeValue(80.0, "mm", "common practice")
"""Of seam that remain above a vent, so that it holds the garment together."""


def with_neckline(half: Half, old: Sequence[Line], parts: Sequence[tuple[str, Path]]) -> Half:
    """Return the half with its neckline lines replaced by others, drawn on +x from the shoulder to the centre."""
    root = old[0] if not old[0].ancestry else replace(old[0], name=old[0].ancestry[0], ancestry=())
    made = [
        root.part(name, half.turned(path)) if name else replace(root, path=half.turned(path)) for name, path in parts
    ]
    in_ring = made[::-1] if half.flipped else made
    gone = {line.name for line in old}
    ring: list[Line] = []
    put = False
    for line in half.piece.ring:
        if line.name not in gone:
            ring.append(line)
        elif not put:
            ring.extend(in_ring)
            put = True
    ring = _centre_trimmed(half, ring, old, made)
    heirs = tuple(Heir(line.name) for line in made)
    piece = hand_on(replace(half.piece, ring=tuple(ring)), dict.fromkeys(gone, heirs))
    return replace(half, piece=piece)


def _centre_trimmed(half: Half, ring: list[Line], old: Sequence[Line], made: Sequence[Line]) -> list[Line]:
    """The ring, its centre seam ending where the new neckline does: a half that was parted at the centre has one."""
    was, now = (half.turned(lines[-1].path).end for lines in (old, made))
    return [
        replace(line, path=half.turned(_trimmed(half, half.turned(line.path), was, now)))
        if line.role is Role.CENTRE and not was.near(now, TOLERANCE.joint)
        else line
        for line in ring
    ]


def _trimmed(half: Half, path: Path, was: Point, now: Point) -> Path:
    """A centre seam, as on +x, that ended at a neckline's centre, run to where that is now."""
    if path.start.near(was, TOLERANCE.joint):  # on +x it runs down from the neckline
        left = now.y - path.end.y
        if path.is_straight and left >= LEAST_SEAM:
            return Path.straight(now, path.end)
        raise CannotDraft(
            f"{half.face}_drop", say("the {face} neckline would leave too little of the centre seam", face=half.face),
            short_by=max(LEAST_SEAM - left, 0.0), help="raise the neckline, or draw it before the seam",
        )  # fmt: skip
    return path


def put_neckline(garment: Garment, old: Half, new: Half) -> Garment:
    """Put a changed half back; a seam that holds the old lines holds the new ones."""
    if new is old:
        return garment
    before, after = old.piece.lines(role=Role.NECKLINE), new.piece.lines(role=Role.NECKLINE)
    names, left = [ln.name for ln in after], [ln.name for ln in before]
    gone, come = [n for n in left if n not in names], [n for n in names if n not in left]
    garment = garment.with_(pieces=(new.piece,))
    if not gone:
        return garment
    piece = new.piece.name
    uses: dict[tuple[str, str], tuple[Use, ...]] = {(piece, name): () for name in gone}
    uses[piece, gone[0]] = tuple(Use(piece, name) for name in come)
    return replace(garment, seams=substitute(garment.seams, uses))
