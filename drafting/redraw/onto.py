"""Joining what is drafted onto an opening to the garment that is there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from drafting.garment import Fate, Garment, Piece, Seam, Section, Side, Use
from drafting.redraw.sleeves import add_underarm_title
from drafting.saying import say
from drafting.work.kinds import SIDE


def sew_edges(garment: Garment, uses: Iterable[Use], fate: Fate = Fate.SEWN) -> tuple[Piece, ...]:
    """Return the pieces whose edges become sewn (or bound), with those edges saying so."""
    wanted: dict[str, set[str]] = {}
    for use in uses:
        wanted.setdefault(use.piece, set()).add(use.line)
    return tuple(
        replace(piece, ring=tuple(replace(ln, fate=fate) if ln.name in wanted[piece.name] else ln for ln in piece.ring))
        for piece in garment.pieces
        if piece.name in wanted
    )  # fmt: skip


def rename_opening(garment: Garment, old: str, new: tuple[str, ...]) -> tuple[str, ...]:
    """Return the garment's openings with one replaced."""
    out: list[str] = []
    for name in garment.openings:
        out.extend(new if name == old else (name,))
    return tuple(out)


def without_underarm_gap(garment: Garment, front: Use, back: Use, sleeve: Piece, seam: Seam, side: Side) -> Garment:
    """Add a sleeve and its armhole seam, and let the side seam run on along the sleeve's underarm in one go.

    ``front`` and ``back`` are the armhole's lines that meet at the underarm. The side seam is the one that joins the
    lines beside them there.
    """
    uses = [use for run in seam.plies[:1] for use in run]
    grown = _side_seam_at(garment, front, back)
    along = side is Side.RIGHT
    under = Section(
        ((Use(sleeve.name, "underarm-front", along),), (Use(sleeve.name, "underarm-back", not along),)),
        (0.0, 0.0),
    )
    if grown is not None and grown.plies[0][-1].piece == front.piece:
        run_on = replace(grown, title=add_underarm_title(grown.title), sections=(*grown.sections, under))
    elif grown is not None:
        flipped = Section((under.plies[1], under.plies[0]), (0.0, 0.0))
        run_on = replace(grown, title=add_underarm_title(grown.title), sections=(*grown.sections, flipped))
    else:
        run_on = Seam(f"underarm-{side}", SIDE, say("{side} underarm", side=side), (under,))
    return garment.without(seams=[run_on.name]).with_(
        pieces=(*sew_edges(garment, uses), sleeve),
        seams=(seam, run_on),
        openings=rename_opening(garment, f"armhole-{side}", (f"wrist-{side}",)),
    )


def _side_seam_at(garment: Garment, front: Use, back: Use) -> Seam | None:
    """The two-ply seam that ends at the underarm between the front's and the back's armhole lines."""
    one = garment.piece(front.piece)
    two = garment.piece(back.piece)
    beside = {(one.name, one.before(front.line).name), (one.name, one.after(front.line).name)}
    beside_back = {(two.name, two.before(back.line).name), (two.name, two.after(back.line).name)}
    for seam in garment.seams:
        last = [run[-1] for run in seam.plies]
        ends = {(use.piece, use.line) for use in last}
        if ends & beside and ends & beside_back and seam.kind == SIDE:
            return seam
    return None
