"""How an overlay is sewn: over its neck, along the diagonal, into the side (common practice)."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from drafting.garment import Group, Role, SeamKind, Telling, Told, does, tell_step
from drafting.garment.deeds import ENCLOSED, NEATENED, TURNED_OUT
from drafting.trade import TradeValue
from drafting.units import show_length
from drafting.work.kinds import SIDE, STYLE
from drafting.work.meeting import mark_numbers
from drafting.work.seam_words import side_title
from drafting.work.telling import and_, clip_words, tell_pressing, title_of

_UPSIDE_DOWN: Final = (
    "Turn the shoulder piece upside down, its neck towards the hem, and lay it on top, right side down."
)
"""How the piece above a diagonal is laid on those below."""

_PINNED_AGAIN: Final = "Pin the free overlays up again, so that no seam that follows catches them."
"""What is done after the last seam that takes them in."""


def _tell_caught(told: Telling, group: Group) -> Told:
    """Tell the side seam that takes in the overlay's edges: which layer lies on which."""
    return tell_step(
        side_title(told, group),
        "Unpin the overlays, and lay each on its own main piece, both right side up, edges level.",
        "Lay the back on the front, right sides together.",
        "Sew all layers, and past the overlay's hem the main pieces alone.",
        tell_pressing(told, group.seams[0].kind.press),
    )


def _tell_neck(told: Telling, group: Group) -> Told:
    """Tell how the covered neck is bagged out: no edge of it is left raw, none is stitched through from above."""
    return tell_step(
        title_of(told, group),
        "Lay the main pieces wrong side up, and on them the overlays wrong side up too, neck edges level.",
        f"Sew the neck edge from V point to V point{_v_points(told)}.",
        "Secure the stitching at both ends, exactly there.",
        "Trim the allowances to half their width, and clip their curves.",
        clip_words(told, "allowances of main piece and overlay", f"each V point{_v_points(told)}"),
        "Press the allowances onto the main piece and understitch them there, as far towards the points as you reach.",
        does(
            "Turn the overlays over the edge onto the right side of the main pieces, so that both lie right side up.",
            ENCLOSED,
        ),
        "Press the edge.",
        f"Pin the free overlays up, out of the way of the seams that follow{_until_caught(told)}.",
    )


def _v_points(told: Telling) -> str:
    """The notches at the V points: those that the covered neck and the diagonal have in common."""
    seams = (told.garment.seam(name) for name in ("covered-neck", "diagonal"))
    neck, diagonal = (set(mark_numbers(told.garment, seam)) for seam in seams)
    return f" (notches {and_(tuple(map(str, sorted(neck & diagonal))))})" if neck & diagonal else ""


def _until_caught(told: Telling) -> str:
    """Until which step the overlays hang free."""
    caught = [
        told.numbers[seam.name] for seam in told.garment.seams if len(seam.hangs) > 1 and seam.name in told.numbers
    ]
    return f", until step {min(caught)} catches them" if caught else ""


def _tell_diagonal(told: Telling, group: Group) -> Told:
    """Tell the seam of the diagonal, which takes three layers."""
    return tell_step(
        title_of(told, group),
        "Lowest lies the main piece, right side up, and on it the overlay, right side up.",
        _UPSIDE_DOWN,
        "The side seams meet, and the bound neck edge of the shoulder pieces ends exactly at the V points.",
        f"Sew from one V point, where the neck's stitching ends, over the side seam to the other{_v_points(told)}.",
        "Beyond the V points the neck of main piece and overlay is finished already: keep it out of this seam.",
        does("Neaten the three edges as one, and press them down.", NEATENED),
        _PINNED_AGAIN,
    )


def _tell_round(told: Telling, group: Group) -> Told:
    """Tell the seam in the round, which takes three layers along the diagonal."""
    return tell_step(
        title_of(told, group),
        "Lowest lies the main piece, right side up, and on it the overlay, right side up.",
        _UPSIDE_DOWN,
        "Round the covered neck lie the main piece and the overlay alone.",
        "Sew all of it in one go.",
        clip_words(told, "allowances of main piece and overlay", "each V point"),
        "Press the diagonal down.",
        does("Neaten the covered neck's two edges as one, turn them in.", NEATENED),
        f"From the right side topstitch them down, {show_length(NECK_STITCHED, told.unit)} from the edge.",
        _PINNED_AGAIN,
    )


NECK_STITCHED = TradeValue(6.0, "mm", "common practice", "1/4 in")
"""From its edge that a neck is topstitched."""

CAUGHT_SIDE: Final = replace(SIDE, tell=_tell_caught)
"""A side seam that takes in the overlay's edges."""

COVERED_NECK: Final = SeamKind(
    "covered-neck",
    "the neck edge that an overlay covers",
    _tell_neck,
    label="covered neck",
    by_edge=True,
    lay=TURNED_OUT,
)
"""The neck of main piece and overlay, sewn to each other and turned."""

ON_THE_DIAGONAL: Final = replace(STYLE, tell=_tell_diagonal)
"""The seam of the diagonal, of three layers."""

IN_THE_ROUND: Final = replace(STYLE, tell=_tell_round, topstitched=((Role.NECKLINE, NECK_STITCHED),))
"""The seam of the diagonal and the covered neck, all layers in one."""
