"""What closes an opening: the edges of a zip and of a row of buttons, how each is sewn, and what it needs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from drafting.garment import (
    LOCKSTITCH,
    Garment,
    Group,
    Instruction,
    Run,
    Seam,
    SeamKind,
    Side,
    Telling,
    Told,
    does,
    instruct,
    tell_step,
)
from drafting.garment.deeds import ENDS_ENCLOSED, NEATENED, Handling
from drafting.garment.named_marks import OPENING_END, name_marks
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue, trade_row, trade_table
from drafting.units import show_length
from drafting.work.fastening import match_notches, name_centre_line, seam_runs_on
from drafting.work.meeting import mark_numbers
from drafting.work.telling import and_


def _place_words(told: Telling, group: Group) -> tuple[str, str]:
    """Where a closure is, and how long it is, in words."""
    seam = group.seams[0]
    place = next(closure.place for closure in told.garment.closures if seam.name in closure.seams)
    where = f"in the {place} side seam" if isinstance(place, Side) else f"at the centre {place}"
    return where, show_length(told.garment.run_length(seam.plies[0]), told.unit)


def _tell_zip(told: Telling, group: Group) -> Told:
    """Tell how a zip is put in, and what then becomes of the ends of a facing that was turned in before."""
    if not _has_facing(told, group):
        return _put_zip_in(told, group, "")
    sewn = "Sew them to the zip's tapes by hand."
    return replace(_put_zip_in(told, group, _FACING_AWAY), after=(_finish_facing(told, sewn),))


def _has_facing(told: Telling, group: Group) -> bool:
    """Whether a facing that is turned in already ends at what is closed."""
    top = told.garment.line(group.seams[0].plies[0][0]).opening
    return top == "neck" and any(seam.kind.within for seam in told.garment.seams)


CLEAR_OF_OPENING = trade_table({"cm": 10.0, "mm": 10.0, "in": 9.525}, "mm", "common practice", "1 cm, 3/8 in")
"""From the edge of an opening that the fold of a facing's end lies: the zip runs free of it."""


def _finish_facing(told: Telling, sewn: str) -> Instruction:
    return instruct(
        "Facing's ends",
        f"Turn them under, so that each fold lies {show_length(CLEAR_OF_OPENING[told.unit], told.unit)} from the "
        "opening's edge.",
        does(sewn, ENDS_ENCLOSED),
    )


def _put_zip_in(told: Telling, group: Group, away: str) -> Told:
    """Tell how a zip is put in (common practice)."""
    where, length = _place_words(told, group)
    top = told.garment.line(group.seams[0].plies[0][0]).opening
    at_edge = top in ("neck", "waist")
    at = f"its top stop just below the {top}'s stitching line" if at_edge else "its ends at the opening's ends"
    spare = show_length(ZIP_SPARE[told.unit], told.unit)
    beside = f"{show_length(BESIDE_ZIP[told.unit], told.unit)} from the fold"
    if _ends_open(told, group.seams[0]):
        return tell_step(
            f"Open-ended zip {where}, {length} long, from the {top} right down to the lower edge",
            away,
            does("Neaten both edges.", NEATENED),
            _PRESS_UNDER,
            f"{_LAY_ZIP}, {at} and its foot just above where the lower edge is turned.",
            *_fold_tapes(told, group, top),
            "Part the zip.",
            f"Stitch each half from below up, {beside}, with a zip foot.",
        )
    return tell_step(
        f"Zip {where}, {length} long",
        away,
        does(_NEATEN_TOO, NEATENED),
        f"{_PRESS_UNDER[:-1]}, in line with the seam beyond.",
        f"If the zip is too long, sew over its teeth on the spot where it is to end, and cut it off {spare} below.",
        f"{_LAY_ZIP}, {at}.",
        *_fold_tapes(told, group, top),
        f"Pin or tack it, so that the folds meet over its teeth{_level_notches(told, group)}.",
        f"From the right side stitch both sides, from below up, {beside}, with a zip foot.",
        f"Stitch across the zip at {'its lower end' if at_edge else 'both ends'} too, from line to line.",
    )


def _level_notches(told: Telling, group: Group) -> str:
    """Which notches of the edges come level beside a zip: ", notch 8 level with notch 8"."""
    seams = [seam.name for seam in group.seams if seam.kind.closes]
    return match_notches(told.garment, seams)


_FACING_AWAY: Final = "Hold the facing's ends out of the way."
_NEATEN_TOO: Final = "Neaten the opening's edges, as far as they are still raw."
_PRESS_UNDER: Final = "Press them under along the stitching lines."
"""How the edges beside a zip are made ready."""

_LAY_ZIP = "Lay the zip face down on the wrong side, its teeth along the folds"
"""How a zip lies behind its edges, with where its ends are to follow."""


def _fold_tapes(told: Telling, group: Group, top: str) -> Iterator[str]:
    """What becomes of the upper ends of a zip's tapes (common practice): nothing of them is to show at the edge."""
    if top not in ("neck", "waist"):
        return
    later = find_finished_after(told.garment, group.seams[0].plies[0])
    if later and not later.kind.lay.inside:
        yield "Let the upper ends of its tapes run up into the allowance: what finishes the edge takes them in."
        return
    covered = ": the facing covers them" if later or _has_facing(told, group) else ""
    yield f"Fold the upper ends of its tapes back, away from the teeth, just below the {top} edge{covered}."


def _ends_open(told: Telling, seam: Seam) -> bool:
    """Whether an opened edge runs down to the lower edge, with no seam below it."""
    last = seam.plies[0][-1]
    piece = told.garment.piece(last.piece)
    beyond = (piece.before if last.against else piece.after)(last.line)
    return beyond.opening == "hem" and told.garment.line(last).opening == "neck"


def _tell_buttons(told: Telling, group: Group) -> Told:
    """Tell how the stands of a buttoned opening are made (common practice).

    Where a facing is sewn to the edge above them afterwards, the upper ends are left to that; a band takes them in.
    """
    where, length = _place_words(told, group)
    garment, run = told.garment, group.seams[0].plies[0]
    after = (_finish_facing(told, "Sew them to the stands by hand."),) if _has_facing(told, group) else ()
    edge = find_finished_after(garment, run)
    above = seam_runs_on(garment, tuple(use.reversed for use in reversed(run)))
    stands = tell_step(
        f"Opening {where}, {length}",
        "Open the pressed allowance of the seam below out flat." if seam_runs_on(garment, run) else "",
        "From interfacing cut two strips: as long as the stands, and as wide as from the fold line to the long edge.",
        "Fuse one there to the wrong side of each stand.",
        does(f"Neaten the long edge of each stand{_name_ends(garment, run, above)}.", NEATENED),
        f"Mark the {_line_words(told, group)} through to the right side with thread: folded, the stands hide them.",
        does("Fold each stand right sides together along its fold line.", Handling.STAND_MADE),
        "" if edge or above else "Stitch its upper end.",
        *_tell_lower_end(garment, run, above),
        "Turn what is stitched out, so that no edge is raw there.",
        "Fold the stand onto its wrong side, and press.",
        *(_BELOW_STAND if seam_runs_on(garment, run) and not above else ()),
        _SECURED.get(edge.kind.lay.inside if edge else None, ""),
    )
    return replace(stands, after=after)


_BELOW_STAND: Final = (
    "Fold the rest of its lower end in, from the seam to the long edge, level with what is turned.",
    "Press the seam below open again.",
)
"""What becomes of a stand's lower end beyond the stitching across it, and of the seam that goes on below."""


def _line_words(told: Telling, group: Group) -> str:
    """What is marked along a stand for the step that buttons it: its line, buttons and holes, notches at its edge."""
    place = next(each.place for each in told.garment.closures if group.seams[0].name in each.seams)
    named = name_marks(told.garment)
    numbers = sorted({n for seam in group.seams for n in mark_numbers(told.garment, seam)})
    notches = tuple(f"notch {n}" for n in numbers if named.get(n, "") != OPENING_END)
    return and_((f"{name_centre_line(place)} line", "buttons", "buttonholes", *notches))


_SECURED: Final[Mapping[bool | None, str]] = MappingProxyType(
    {
        None: "Stitch it down along its neatened edge.",
        True: "Leave its upper end open: it is sewn with the facing.",
        False: "Tack its layers together at the upper edge, which takes them in.",
    }
)
"""How a stand is held, by whether a facing is sewn to its upper end later, or a band, or neither (None)."""


def _name_ends(garment: Garment, run: Run, above: bool) -> str:
    """Which short edges of stands are neatened with the long ones: those beside a seam that runs on."""
    if above:
        return ", and the short edges across its ends"
    return ", and the short edge across its lower end" if seam_runs_on(garment, run) else ""


def _tell_lower_end(garment: Garment, run: Run, above: bool) -> Iterator[str]:
    """Tell how the lower ends of stands are closed, and the upper ones in the middle of a seam."""
    if above:
        yield (
            "Stitch across both its ends, level with the points where the opening ends, from the fold to the seam: "
            "each is cut an allowance beyond its point."
        )
        yield "Clip each allowance slantwise, through both layers, from its corner at the fold to the last stitch."
    elif seam_runs_on(garment, run):
        yield (
            "Stitch across its lower end, level with the point where the opening ends, from the fold to the seam: it "
            "is cut an allowance below that point."
        )
        yield "Clip the allowance slantwise, through both layers, from the lower corner at the fold to the last stitch."
    else:
        yield "Stitch across its lower end, along the hem's fold line."


def find_stands(garment: Garment, facing: Seam) -> tuple[Seam, ...]:
    """Return the buttoned edges whose upper ends are sewn with a facing."""
    lapped = (seam for seam in garment.seams if seam.kind.lapped)
    return tuple(seam for seam in lapped if find_finished_after(garment, seam.plies[0]) is facing)


def find_finished_after(garment: Garment, run: Run) -> Seam | None:
    """Return what finishes the edge that a closure's run begins at, once that is made: a facing or a band."""
    first = run[0]
    piece = garment.piece(first.piece)
    above = (piece.after if first.against else piece.before)(first.line)
    held = (seam for seam in garment.seams if seam.kind.beside and not seam.kind.within)
    return next((s for s in held if any((u.piece, u.line) == (piece.name, above.name) for u in s.uses())), None)


def _zip_to_buy(told: Telling, seam: Seam) -> tuple[str, ...]:
    """A zip, once for its two edges."""
    if not any(seam.name == closure.seams[0] for closure in told.garment.closures):
        return ()
    length = told.garment.run_length(seam.plies[0])
    lengths = SOLD_IN if told.unit == "in" else SOLD_CM
    sold = next((each for each in lengths if each >= length - TOLERANCE.sewn_length), length)
    open_ended = "open-ended " * _ends_open(told, seam)
    called = f"a{'n' * bool(open_ended)} {open_ended}zip {show_length(sold, told.unit).replace('.0 ', ' ')} long"
    if sold <= length + TOLERANCE.sewn_length:
        return (f"{called}, or a longer one, cut down",)
    return (f"{called}, cut down{' at its top' * bool(open_ended)} to {show_length(length, told.unit)}",)


SOLD_CM: Final = trade_row(
    (100.0, 120.0, 150.0, 180.0, 200.0, 220.0, 250.0, *(50.0 * i for i in range(6, 17))), "mm", "common practice"
)
"""In which lengths zips are sold where they are sold in centimetres: 10 to 80 cm."""

SOLD_IN: Final = trade_row(
    (25.4 * inches for inches in (4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 36)),
    "mm", "common practice",
)  # fmt: skip
"""In which lengths zips are sold where they are sold in inches: 4 to 36 in."""

ZIP_SPARE: Final = trade_table({"cm": 20.0, "mm": 20.0, "in": 19.05}, "mm", "common practice", "2 cm, 3/4 in")
"""Of a zip that is cut down, left below where its teeth are sewn over."""

ZIP_ALLOWANCE = TradeValue(20.0, "mm", "common practice", "2 cm, 3/4 in, as at a centre back")
"""Allowance of an edge left open for a zip, where nothing else is asked."""

BESIDE_ZIP: Final = trade_table(
    {"cm": 6.0, "mm": 6.0, "in": 6.35}, "mm", "common practice", "1/4 in; 0.5 to 0.7 cm: the foot passes the teeth"
)
"""How far from the fold an edge is stitched to its half of a zip."""

NARROWEST_STAND = TradeValue(15.0, "mm", "common practice", "the button's diameter, 1.5 cm at least")
"""From the line that buttons stand on to the folded edge, at least: else it is as wide as a button."""

PAST_HOLES = TradeValue(10.0, "mm", "common practice")
"""By which what is turned back of a stand, and its interfacing, reach past the inner ends of the buttonholes."""

BUTTON_STAND = TradeValue(52.0, "mm", "common practice", "1.5 cm, and 3.7 cm turned back, for buttons of 1.2 cm")
"""Allowance of an edge left open for buttons, where no button is known."""


def stand_of(button: float, inward: float) -> tuple[float, float]:
    """Return how wide the stand for a button is, and its whole allowance with what is turned back (mm).

    ``inward`` is how far inside the line that the button stands on a buttonhole reaches (mm).
    """
    stand = max(button, NARROWEST_STAND)
    return stand, 2.0 * stand + inward + PAST_HOLES


ZIPPED: Final = SeamKind(
    "closure", "the edges of a zip's opening", _tell_zip, label="the zip's edges", allowance=ZIP_ALLOWANCE,
    stitch=LOCKSTITCH, turn=3, closes=True, together=True, needs=_zip_to_buy,
)  # fmt: skip
"""An edge sewn to its half of a zip."""

BUTTONED: Final = SeamKind(
    "button-closure", "the edges of a buttoned opening", _tell_buttons, label="button stand", allowance=BUTTON_STAND,
    stitch=LOCKSTITCH, turn=3, closes=True, lapped=True, together=True, stiffened="the opening's edges",
    always_stiffened=True,
)  # fmt: skip
"""An edge turned for buttons."""
