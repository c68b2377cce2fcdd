"""How an overlay is sewn: over its neck, along the diagonal, into the side (common practice)."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from drafting.garment import (
    Deed,
    Face,
    Fate,
    Group,
    Role,
    Run,
    Seam,
    SeamKind,
    Side,
    Telling,
    Told,
    balance_marks,
    does,
    tell_step,
)
from drafting.garment.deeds import ENCLOSED, NEATENED, TURNED_OUT, Handling
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.units import show_length
from drafting.work.kinds import SIDE, STYLE
from drafting.work.meeting import mark_numbers
from drafting.work.seam_words import side_title
from drafting.work.telling import and_, clip_words, plain_machine_words, tell_pressing, tell_taken_up, title_of

_PINNED_AGAIN: Final = (
    "Pin the free overlays up again, so that no seam that follows catches them.",
    "Take these pins out at the end.",
)
"""What is done after the last seam that takes them in."""


def _lay_shoulder(told: Telling, group: Group) -> tuple[str | Deed, ...]:
    """How the joined shoulder pieces are put onto the body for the diagonal: by then both have their side seams."""
    side = next(told.garment.piece(use.piece).side for run in group.seams[0].plies[1:2] for use in run)
    return (
        "Turn the garment right side out, each overlay lying on its main piece, right side up.",
        "Turn the joined shoulder pieces wrong side out and upside down, their neck towards the hem.",
        does(
            f"Slip them round its {side} side, so that their right side lies on the overlays.",
            Handling.SLIPPED_ROUND,
        ),
    )


def _tell_caught(told: Telling, group: Group) -> Told:
    """Tell the side seam that takes in the overlay's edges: which layer lies on which, and where one is eased in."""
    seam = group.seams[0]
    hung = [replace(seam, sections=(each,)) for each in seam.sections if all(each.plies[i] for i in seam.hangs)]
    bare = [replace(seam, sections=(each,)) for each in seam.sections if not all(each.plies[i] for i in seam.hangs)]
    caught, alone = ("".join(tell_taken_up(told, each) for each in parts) for parts in (hung, bare))
    return tell_step(
        side_title(told, group),
        f"Lay each overlay, unpinned, on its own main piece{_letters_laid(told, group.seams[0])}, both right side up, "
        "edges level.",
        "Lay the back on the front, right sides together.",
        f"Sew all layers{caught}, and past the overlay's hem{_hem_notch(told, group)} the main pieces alone{alone}.",
        tell_pressing(told, group.seams[0].kind.press),
    )


def _hem_notch(told: Telling, group: Group) -> str:
    """The notch at which the overlay's edge ends: there the stretch of the main pieces alone meets the other."""
    seam = group.seams[0]
    last = seam.sections[0].plies[0][-1]
    end = 0.0 if last.against else told.garment.line(last).path.length
    at = (
        mark.number
        for mark in told.garment.find_once(balance_marks)
        for use, s in mark.at
        if (mark.seam, use.piece, use.line) == (seam.name, last.piece, last.line)
        if abs(s - end) <= TOLERANCE.sewn_length
    )
    number = next(at, None)
    return f" (notch {number})" if number else ""


def _tell_neck(told: Telling, group: Group) -> Told:
    """Tell how the covered neck is bagged out: no edge of it is left raw, none is stitched through from above."""
    main, over = (_letters_of(told, run) for run in group.seams[0].plies[:2])
    return tell_step(
        title_of(told, group),
        f"Lay the main pieces{main} wrong side up, and on them the overlays{over} wrong side up too, neck edges level.",
        "The overlay's shoulder seam lies on the shoulder seam of the main pieces.",
        plain_machine_words(told, "this seam"),
        f"Sew the neck edge from V point to V point{_v_points(told)}.",
        _goes_on(told),
        "Secure the stitching at both ends, exactly there.",
        "Trim the allowances to half their width between the V points only, and clip their curves.",
        clip_words(told, "allowances of main piece and overlay", f"each V point{_v_points(told)}"),
        "Press the allowances onto the right side of the main pieces.",
        "Understitch them there, as far towards the points as you reach: through main piece and allowances, close "
        "beside the seam.",
        does(
            "Turn the overlays over the edge onto the right side of the main pieces, so that both lie right side up.",
            ENCLOSED,
        ),
        "Press the edge.",
        "Pin the free overlays up, out of the way of the seams that follow.",
        _unpin_words(told),
    )


def _v_points(told: Telling) -> str:
    """The notches at the V points: those that the covered neck and the diagonal have in common."""
    seams = (told.garment.seam(name) for name in ("covered-neck", "diagonal"))
    neck, diagonal = (set(mark_numbers(told.garment, seam)) for seam in seams)
    return f" (notches {and_(tuple(map(str, sorted(neck & diagonal))))})" if neck & diagonal else ""


def _goes_on(told: Telling) -> str:
    """What the seam is that goes on from the V points: the steps before it name it."""
    number = told.numbers.get("diagonal")
    side = next(told.garment.piece(use.piece).side for use in told.garment.seam("diagonal").plies[1])
    under = f" under the {side} arm" if side is not Side.NONE else ""
    return f"From one of them to the other the diagonal seam, step {number}, will run{under}." if number else ""


def _letters_of(told: Telling, run: Run) -> str:
    """The letters on the paper of the pieces of a run: " (B and C)"."""
    letters = sorted({told.letters[use.piece] for use in run if use.piece in told.letters})
    return f" ({and_(tuple(letters))})" if letters else ""


def _letters_laid(told: Telling, seam: Seam) -> str:
    """Which overlay is laid on which main piece, by their letters: " (E on B, F on C)"."""
    main, over = dict[Face, str](), dict[Face, str]()
    for i, run in enumerate(seam.plies):
        for use in (use for use in run if use.piece in told.letters):
            (over if i in seam.hangs else main)[told.garment.line(use).face] = told.letters[use.piece]
    laid = ", ".join(f"{letter} on {main[face]}" for face, letter in over.items() if face in main)
    return f" ({laid})" if laid else ""


def _unpin_words(told: Telling) -> str:
    """For which steps the overlays are unpinned: their hem, turned before a seam catches its ends, and that seam."""
    seams = [seam for seam in told.garment.seams if len(seam.hangs) > 1 and seam.name in told.numbers]
    if not seams:
        return ""
    hung = (told.garment.piece(use.piece) for seam in seams for i in seam.hangs for use in seam.plies[i])
    hem = "their hem and for " if any(line.fate is Fate.HEMMED for piece in hung for line in piece.ring) else ""
    return f"Unpin them for {hem}step {min(told.numbers[seam.name] for seam in seams)}."


def _tell_diagonal(told: Telling, group: Group) -> Told:
    """Tell the seam of the diagonal, which takes three layers."""
    return tell_step(
        title_of(told, group),
        *_lay_shoulder(told, group),
        "Pin from the side seams, which meet, out to the V points: there the bound neck edge ends exactly.",
        plain_machine_words(told, "this seam"),
        f"Sew from one V point, where the neck's stitching ends, over the side seam to the other{_v_points(told)}.",
        "Beyond the V points the neck of main piece and overlay is finished already: keep it out of this seam.",
        does("Neaten the three edges as one, and press them towards the hem, off the shoulder pieces.", NEATENED),
        *_PINNED_AGAIN,
    )


def _tell_round(told: Telling, group: Group) -> Told:
    """Tell the seam in the round, which takes three layers along the diagonal."""
    return tell_step(
        title_of(told, group),
        *_lay_shoulder(told, group),
        "Pin from the side seams, which meet, out to the V points.",
        "Round the covered neck lie the main piece and the overlay alone.",
        "Sew all of it in one go.",
        clip_words(told, "allowances of main piece and overlay", "each V point"),
        "Press the diagonal down.",
        does("Neaten the covered neck's two edges as one, turn them in.", NEATENED),
        f"From the right side topstitch them down, {show_length(NECK_STITCHED, told.unit)} from the edge.",
        *_PINNED_AGAIN,
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
