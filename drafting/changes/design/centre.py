"""Centre: a seam down the centre of the front or the back, or a fold there."""

from __future__ import annotations

from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Brief, Garment, Piece, Stage, change, face_option, faces_of, option
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.centre import centre_fact, lies_across, with_centre_seam
from drafting.saying import say
from drafting.tolerance import TOLERANCE
from drafting.work.kinds import STYLE


@dataclass(frozen=True, slots=True)
class CentreOptions:
    """Options of the centre."""

    kind: str = option("What lies at the centre.", "choice", "seam", choices=("seam", "fold"))
    on: str = face_option("Whether the front, the back or both get it.", "back")


@change(
    "centre",
    "A seam, or a fold, at the centre of the front or the back.",
    Stage.STYLE,
    kinds=(STYLE,),
    mends=(Mend("piece-too-wide", 'part it down its middle: change = "{change}", on = "{face}"'),),
)
def seam_centre(garment: Garment, brief: Brief, o: CentreOptions) -> Garment:
    """Part the pieces that lie across the centre, or have them cut on the fold."""
    for face in faces_of(o.on):
        found = [piece for piece in garment.pieces if piece.face is face and lies_across(piece)]
        if not found:
            raise CannotDraft(
                "on",
                say("no piece of the {face} lies across the centre", face=face),
                help="it has its seam there already",
            )
        for piece in found:
            garment = with_centre_seam(garment, piece) if o.kind == "seam" else _fold(garment, piece)
        garment = garment.with_(facts=[centre_fact(face, o.kind)])
    return garment


def _fold(garment: Garment, piece: Piece) -> Garment:
    """Have a piece cut on the fold: only one whose halves are mirror images can be."""
    flipped = [line.path.mirrored().reversed() for line in piece.ring]
    for line in piece.ring:
        if not any(line.path.same_as(path, TOLERANCE.joint) for path in flipped):
            raise CannotDraft(
                line.name,
                say("the halves of the {title:lower} differ, so it can't be cut on the fold", title=piece.title),
                help="ask for a seam at the centre, or let it be cut once, single layer",
            )
    note = say("Centre {face}: on the fold", face=piece.face)
    return garment.with_(pieces=[replace(piece, notes=tuple(dict.fromkeys((*piece.notes, note))))])
