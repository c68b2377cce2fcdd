"""What keeps an opening shut, in words: buttons, the strip behind a zip, hook and eye."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from drafting.garment import Face, Fate, Garment, Instruction, Role, Run, Seam, Section, Use, same_corner
from drafting.garment.closure import buttonholes, buttons
from drafting.garment.deeds import Handling
from drafting.garment.named_marks import OPENING_END, name_marks
from drafting.sides import Side
from drafting.trade import trade_table
from drafting.units import Unit, show_length
from drafting.work.meeting import mark_numbers
from drafting.work.telling import and_


def buttons_words(garment: Garment, unit: Unit) -> Iterator[Instruction]:
    """The last step where there are buttons (common practice: after all else, hems too)."""
    holed = [str(piece.title).lower() for piece in garment.pieces if buttonholes(piece.drills)]
    under = [str(piece.title).lower() for piece in garment.pieces if buttons(piece.drills)]
    count = button_count(garment)
    if not (holed and under):
        return
    buttoned = next(closure for closure in reversed(garment.closures) if closure.button)
    length, wide = show_length(buttoned.hole, unit), show_length(buttoned.button, unit)
    many, line = count > 1, name_centre_line(buttoned.place)
    lower = any(seam_runs_on(garment, garment.seam(name).plies[0]) for name in buttoned.seams)
    ending = next((number for number, name in name_marks(garment).items() if name == OPENING_END), None)
    held = (
        "Stitch across the lapped lower ends, through all layers, close above where the opening ends"
        f"{f', point {ending}' if ending else ''}."
    )
    yield Instruction(
        "Buttons",
        (
            f"Work {f'the {count} buttonholes' if many else 'the buttonhole'}, {length} long, where the thread marks "
            f"{'them' if many else 'it'}, in the {and_(holed)}, which {'lies' if len(holed) == 1 else 'lie'} on top: "
            "through both layers of its stand.",
            "A pin across the end of each keeps the blade from slipping past it.",
            f"Lap the edges, the {line} line of one on that of the other{match_notches(garment, buttoned.seams)}.",
            f"Sew the {f'{count} buttons' if many else 'button'}, {wide}, to the {and_(under)}, where the thread marks "
            f"{'them' if many else 'it'}.",
            *((held,) if lower else ()),
        ),
        handled=(Handling.BUTTONED,),
    )


def name_centre_line(place: Side | Face) -> str:
    """Return what the line is called on which the edges of an opening lie shut: "centre back", "left side"."""
    return f"{place} side" if isinstance(place, Side) else f"centre {place}"


def match_notches(garment: Garment, seams: Iterable[str]) -> str:
    """Return which notches of an opening's edges meet: ", notch 5 level with notch 5"; one can't lie on the other."""
    numbers = sorted({number for name in seams for number in mark_numbers(garment, garment.seam(name))})
    return "".join(f", notch {number} level with notch {number}" for number in numbers)


ZIP_STRIP = trade_table({"cm": 60.0, "mm": 60.0, "in": 63.5}, "mm", "common practice", "6 cm, 2 1/2 in, folded in two")
"""How wide the strip behind a zip is cut."""

ZIP_STRIP_LONGER = trade_table({"cm": 20.0, "mm": 20.0, "in": 19.05}, "mm", "common practice", "2 cm, 3/4 in")
"""By how much it is longer than the zip: what its ends take up."""


def strip_words(garment: Garment, unit: Unit) -> Iterator[Instruction]:
    """Tell of the strip that keeps a zip off the skin (common practice)."""
    edges = {seam.name: seam for seam in garment.seams if seam.kind.closes and not seam.kind.lapped}
    for closure in garment.closures:
        if closure.seams[0] in edges:
            opening = garment.line(edges[closure.seams[0]].plies[0][0]).opening
            long = garment.run_length(edges[closure.seams[0]].plies[0]) + ZIP_STRIP_LONGER[unit]
            yield Instruction(
                "Zip guard",
                (
                    "Leave it out where the zip doesn't touch bare skin.",
                    f"From what is left of the cloth cut a strip {show_length(ZIP_STRIP[unit], unit)} wide and "
                    f"{show_length(long, unit)} long.",
                    "Fold it lengthwise, right sides together, and stitch across both ends.",
                    "Turn it right side out, press it, and neaten its long raw edges as one.",
                    "Lay it on the wrong side, over the back of the closed zip, its neatened edge on the outer edge of "
                    "one tape.",
                    *_tell_top(garment, opening),
                    "Sew it to that tape and the allowance beneath alone: nothing shows outside, and the zip opens.",
                ),
                handled=(Handling.STRIP_BEHIND,),
            )


def _tell_top(garment: Garment, opening: str) -> Iterator[str]:
    """Where the upper end of a strip lies: hook and eye, sewn on before, are left free above it."""
    hooked, faced = opening in find_hooked(garment), opening in find_faced(garment)
    if hooked or faced:
        over = "Its upper end lies over the facing's end, its" if faced else "Its"
        yield f"{over} top just below {'hook and eye' if hooked else f'the {opening} edge'}."


def find_faced(garment: Garment) -> frozenset[str]:
    """Return the openings whose edges are faced."""
    faced = (seam for seam in garment.seams if seam.kind.by_edge and seam.kind.lay.inside)
    return frozenset(garment.line(use).opening for seam in faced for use in seam.plies[0])


def hook_words(garment: Garment) -> Iterator[Instruction]:
    """Tell of the hook and eye above each zip that ends at an edge which nothing else holds shut (common practice)."""
    for edge in find_hooked(garment):
        yield Instruction(
            "Hook and eye",
            (
                f"Sew the hook inside the {edge} edge on one side of the zip, above it, and the eye on the other.",
                "Shut, they hold the edges against each other.",
                "They lie on the facing's folded ends: stitch through the facing alone, so that nothing shows outside."
                if edge in find_faced(garment)
                else "Stitch through the inner layer alone: nothing shows outside.",
            ),
            handled=(Handling.HOOKED,),
        )


def find_hooked(garment: Garment) -> tuple[str, ...]:
    """Return the openings that a zip ends at, where what finishes the edge has no fastening of its own."""
    fastened = {
        garment.line(use).opening
        for seam in garment.seams
        if seam.kind.by_edge and seam.kind.needs is not None
        for use in seam.uses()
    }
    zipped = (seam.plies[0][0] for seam in garment.seams if seam.kind.closes and not seam.kind.lapped)
    tops = dict.fromkeys(garment.line(use).opening for use in zipped)
    return tuple(edge for edge in ("neck", "waist") if edge in tops and edge not in fastened)


def button_count(garment: Garment) -> int:
    """Return how many buttons the garment has."""
    return len({name for piece in garment.pieces for name in buttons(piece.drills)})


def find_opening_beyond(garment: Garment, use: Use, at_end: bool) -> Seam | None:
    """The edge of an opening that goes on from the end of a use, or from its start; None if there is none."""
    piece = garment.piece(use.piece)
    beyond = (piece.after if at_end != use.against else piece.before)(use.line)
    closing = (seam for seam in garment.seams if seam.kind.closes)
    return next((s for s in closing if any((u.piece, u.line) == (piece.name, beyond.name) for u in s.uses())), None)


def part_at_openings(garment: Garment, seam: Seam) -> tuple[Seam, ...]:
    """Return a seam that an opening crosses as what is sewn on either side of that; else the seam alone.

    One that goes round stays in one, wherever it begins.
    """
    parts: list[list[Section]] = []
    for section in seam.sections:
        crossed = parts and find_opening_beyond(garment, section.plies[0][0], at_end=False)
        if parts and not crossed:
            parts[-1].append(section)
        else:
            parts.append([section])
    if len(parts) < 2 or same_corner(garment)(seam.plies[0][-1], seam.plies[0][0]):
        return (seam,)
    return tuple(replace(seam, sections=tuple(part)) for part in parts)


def seam_runs_on(garment: Garment, run: Run) -> bool:
    """Whether a seam is sewn on beyond the end of a run, along the same edge, over darts in it."""
    last = run[-1]
    piece = garment.piece(last.piece)
    on = piece.before if last.against else piece.after
    beyond = on(last.line)
    while beyond.role is Role.DART:
        beyond = on(beyond.name)
    return beyond.role is garment.line(last).role and beyond.fate is Fate.SEWN
