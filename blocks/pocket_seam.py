"""How a patch pocket is sewn on: its edges pressed under, laid on its marks, stitched (common practice)."""

from __future__ import annotations

from typing import Final

from drafting.garment import (
    Group,
    Piece,
    SeamKind,
    Telling,
    Told,
    does,
    find_faces,
    instruct,
    tell_step,
)
from drafting.garment.deeds import ENCLOSED
from drafting.saying import without_sides
from drafting.work.telling import and_, capital, is_knit, tell_first


def _tell(told: Telling, group: Group) -> Told:
    """Tell a patch pocket: its edges pressed under, its place, its edges and corners stitched (common practice)."""
    seam = group.seams[0]
    title = capital(group.title)
    pocket = told.garment.piece(seam.plies[0][0].piece)
    form = f"patch pocket, {_corner_form(pocket)}"
    first = tell_first(told, form, group)
    if first:
        again = does(f"Press it, lay it on and stitch it down as the {first}.", ENCLOSED)
        return tell_step(title, again, form=form)
    stitch = "a narrow zigzag (304) or stretch stitch" if is_knit(told.garment) else "edgestitch (301)"
    faces = (told.garment.piece(name).title for name in find_faces(told.garment)[pocket.name])
    face = and_(tuple(dict.fromkeys(str(without_sides(title)).lower() for title in faces)))
    sewn = (
        f"Lay it on its marks on the {face}, right side up, the opening's corners on the two points, and tack it.",
        does(f"Sew the sides and the lower edge down, close to the fold, by {stitch}.", ENCLOSED),
        _corners(pocket),
        "Secure the opening's two corners by a small triangle or bar.",
    )
    return Told((instruct(f"{title}, made ready", *_press_edges(pocket)), instruct(f"{title}, sewn on", *sewn)), form)


def _corner_form(pocket: Piece) -> str:
    """Which way a pocket's lower corners are pressed: pockets of one form are told by the first."""
    corners = pocket.lines("corner")
    return "square" if not corners else "slanting" if corners[0].path.is_straight else "curved"


def _corners(pocket: Piece) -> str:
    """How the corners are sewn round: curved ones as the edge runs."""
    curved = _corner_form(pocket) == "curved"
    return "" if curved else "At each corner turn the cloth with the needle down."


def _press_edges(pocket: Piece) -> tuple[str, ...]:
    """What is done at the lower corners, by their shape, and how the edges are pressed under."""
    corners, edges = pocket.lines("corner"), "Press the edges under along the stitching lines."
    if not corners:
        return "Fold each lower corner in, slantwise over the point.", "Trim what would lie double.", edges
    if corners[0].path.is_straight:
        return (
            "Along the stitching lines, press the slanting corners under.",
            "Press the sides and the lower edge under, over them.",
        )
    return (
        "Sew a row of long stitches in the allowance round each curved corner.",
        "Lay a card template on the stitching lines and draw the curve up over it.",
        edges,
    )


PATCH: Final = SeamKind(
    "patch", "the edges of a patch pocket", _tell, label="edges pressed under", turn=3, notched=False
)
"""A pocket's edges, pressed under and stitched onto the front, before shoulders and sides close it."""
