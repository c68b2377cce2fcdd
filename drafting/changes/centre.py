"""Centre: a seam down the centre of the front or the back, or a fold there."""

from __future__ import annotations

from dataclasses import replace

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import Brief, Change, Face, Fact, Garment, Piece, Role, Side, Stage, option
from drafting.garment.parting import Cut, part
from drafting.garment.places import Place
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE

NAME = "centre"


@dataclass(frozen=True, slots=True)
class CentreOptions:
    """Options of the centre."""

    kind: str = option("What lies at the centre.", "choice", "seam", choices=("seam", "fold"))
    face: str = option("Which pieces it concerns.", "choice", "back", choices=("both", "front", "back"))


def apply(garment: Garment, brief: Brief, o: CentreOptions) -> Garment:
    """Part the pieces that lie across the centre, or have them cut on the fold."""
    for face in (Face.FRONT, Face.BACK):
        if o.face in ("both", face):
            found = [piece for piece in garment.pieces if piece.face is face and _crosses(piece)]
            if not found:
                raise CannotDraft(
                    NAME, "face", f"no piece of the {face} lies across the centre", help="it has its seam there already"
                )
            for piece in found:
                garment = _seam(garment, piece) if o.kind == "seam" else _fold(garment, piece)
            garment = garment.with_(facts=[_fact(face, o.kind)])
    return garment


def parted_at_centre(garment: Garment, piece: Piece) -> Garment:
    """Return the garment with a seam down the centre of one piece."""
    return _seam(garment, piece).with_(facts=[_fact(piece.face, "seam")])


def with_centre_back(garment: Garment, brief: Brief) -> Garment:
    """Return the garment with a seam at the centre back: only pieces that lie across it are parted."""
    if any(piece.face is Face.BACK and _crosses(piece) for piece in garment.pieces):
        return apply(garment, brief, CentreOptions(kind="seam", face="back"))
    return garment


def _fact(face: Face, kind: str) -> Fact:
    told = f"a {kind} at the centre {face}"
    return Fact(f"centre_{face}_{kind}", 1.0, "flag", "choice", told)


def _crosses(piece: Piece) -> bool:
    x0, _, x1, _ = piece.outline.bounds
    return x0 < -TOLERANCE.sewn_length and x1 > TOLERANCE.sewn_length


def _seam(garment: Garment, piece: Piece) -> Garment:
    """Part a piece at the centre, from its lower edge up."""
    low, high = _ends(piece)
    path = Path.straight(*(piece.line(place.line).path.at(place.s) for place in (low, high)))
    name, title = piece.name, piece.title.lower()
    # Seen from the right side, what lies left of an upward line is the wearer's right on a front.
    on_left = Side.RIGHT if piece.face is Face.FRONT else Side.LEFT
    left, right = ((f"{name}-{side}", f"{side} {title}".capitalize()) for side in (on_left, on_left.other))
    cut = Cut(low, high, path, "centre", left, right, Role.CENTRE)
    try:
        return part(garment, name, cut, _seam_title(piece))
    except DraftingError as error:
        raise CannotDraft(NAME, name, str(error), help="leave the seam out") from None


def _seam_title(piece: Piece) -> str:
    """What the seam is called: centre back, centre back of the skirt, and so of any piece that has a further name."""
    title = " ".join(word for word in piece.title.lower().split() if word != piece.face)
    return f"centre {piece.face}" + (f" of the {title}" if title else "")


def _ends(piece: Piece) -> tuple[Place, Place]:
    """Where the centre line meets a piece's lower and upper edge; at a joint, the line that starts there."""
    x0, y0, x1, y1 = piece.outline.bounds
    reach = max(x1 - x0, y1 - y0)
    upright = Path.straight(Point(0.0, y0 - reach), Point(0.0, y1 + reach))
    found = sorted(
        (crossing.point.y, line.name, crossing.t) for line in piece.ring for crossing in upright.crossings(line.path)
    )
    heights: list[tuple[float, Place]] = []
    for y, line, s in found:
        at_end = s > piece.line(line).path.length - TOLERANCE.joint
        place = Place(piece.after(line).name, 0.0) if at_end else Place(line, 0.0 if s < TOLERANCE.joint else s)
        if not heights or y - heights[-1][0] > TOLERANCE.sewn_length:
            heights.append((y, place))
    if len(heights) != 2:
        raise CannotDraft(
            NAME,
            piece.name,
            f"the centre line meets the edges of the {piece.title.lower()} {len(heights)} times, not twice",
            help="part the piece elsewhere",
        )
    return heights[0][1], heights[1][1]


def _fold(garment: Garment, piece: Piece) -> Garment:
    """Have a piece cut on the fold: only one whose halves are mirror images can be."""
    flipped = [line.path.mirrored().reversed() for line in piece.ring]
    for line in piece.ring:
        if not any(line.path.same_as(path, TOLERANCE.joint) for path in flipped):
            raise CannotDraft(
                NAME,
                line.name,
                f"the halves of the {piece.title.lower()} differ, so it can't be cut on the fold",
                help="ask for a seam at the centre, or let it be cut once, single layer",
            )
    note = f"Centre {piece.face}: on the fold"
    return garment.with_(pieces=[replace(piece, notes=tuple(dict.fromkeys((*piece.notes, note))))])


CENTRE = Change(
    name="centre",
    sentence="A seam, or a fold, at the centre of the front or the back.",
    options=CentreOptions,
    stage=Stage.STYLE,
    apply=apply,
)
"""The change, for the entry point ``centre``."""
