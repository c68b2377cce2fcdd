"""The first and the last of the work, in words: stays, hems and vents; and what is needed for it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from drafting.garment import (
    Applied,
    Deed,
    Face,
    Fate,
    Garment,
    Instruction,
    Role,
    Run,
    Telling,
    Use,
    balance_marks,
    does,
    hanging_pieces,
    instruct,
)
from drafting.garment.darts import darts_of
from drafting.garment.deeds import TURNED_NEATENED, TURNED_UP, Handling
from drafting.garment.features import DroppingEdge, StayCut
from drafting.garment.named_marks import CORNER, OPENING_END, V_POINT, name_marks
from drafting.saying import without_faces, without_sides
from drafting.sides import sideless
from drafting.trade import trade_table
from drafting.units import Unit, show_length
from drafting.work.fastening import button_count, find_hooked
from drafting.work.taping import find_tapes
from drafting.work.telling import and_, blaming, is_knit

TAPE_BY = trade_table({"cm": 100.0, "mm": 100.0, "in": 101.6}, "mm", "common practice", "10 cm, 4 in")
"""To the next so much the length of tape to buy is rounded up."""

_HEMS = {Role.HEM: "lower edge", Role.WRIST: "sleeves", Role.NECKLINE: "neckline", Role.ARMHOLE: "armholes"}
"""What an edge that is turned is called, by what it is."""


Depths = Mapping[str, float]
"""How deep each hem is turned (mm), by its opening."""


def _depth_words(garment: Garment, hem: Iterable[Use], depths: Depths, unit: Unit) -> str:
    """How deep edges are turned, where that is known."""
    lines = (garment.line(use) for use in hem)
    found = (depths.get(line.opening or line.name, 0.0) for line in lines)
    return and_(tuple(dict.fromkeys(show_length(depth, unit) for depth in found if depth)))


def _turn_in(garment: Garment, hem: Iterable[Use], depths: Depths, unit: Unit) -> Deed:
    """How a hem is turned, and how deep where that is known."""
    deep = _depth_words(garment, hem, depths, unit)
    return does(f"Turn {deep or 'it'} to the wrong side along the fold line, and press.", TURNED_UP)


def stay_stitch_words(garment: Garment) -> Iterator[Instruction]:
    """Tell which edges of a woven are stitched as they are, before anything else is sewn."""
    stitched = () if is_knit(garment) else tuple(_stay_stitching(garment))
    if stitched:
        yield Instruction("Stay-stitching", stitched, handled=(Handling.STAY_STITCHED,))


def find_stay_stitched(garment: Garment) -> Run:
    """Return the edges of a woven that are cut on a curve and wait: neck, armholes without sleeves, round waist."""
    held = {(use.piece, use.line) for seam in garment.seams if not seam.kind.by_edge for use in seam.uses()}
    lines = ((piece, line) for piece in garment.pieces if piece.face for line in piece.ring)
    return tuple(
        Use(piece.name, line.name)
        for piece, line in lines
        if (line.role in (Role.NECKLINE, Role.ARMHOLE) and (piece.name, line.name) not in held)
        or (line.role is Role.WAIST and piece.of_kind(DroppingEdge))
    )


def _stay_stitching(garment: Garment) -> Iterator[str]:
    """Tell of those edges."""
    roles = {garment.line(use).role for use in find_stay_stitched(garment)}
    curved = {"neckline": Role.NECKLINE in roles, "armholes": Role.ARMHOLE in roles}
    if any(curved.values()):
        what = " and the ".join(name for name, there in curved.items() if there)
        yield f"Stay-stitch the {what} of each piece in its allowance, near the stitching line, from the shoulder down."
    if Role.WAIST in roles:
        yield ("Stay-stitch the skirt's waist in its allowance, near the stitching line, from the sides to the centre.")


def hem_words(
    garment: Garment, hem: Sequence[Use], depths: Depths, unit: Unit, when: str = ""
) -> Iterator[tuple[Instruction, Run]]:
    """Tell how edges are turned up as hems; vents, whose edges are turned first, in a step of their own.

    ``depths`` are told where they are known. Each step comes with the edges that it is about.
    """
    vents: dict[str, list[Use]] = {}
    edges: list[Use] = []
    for use in hem:
        line = garment.line(use)
        if line.role is Role.SIDE or (line.role is Role.CENTRE and line.face is Face.BACK):
            vents.setdefault(line.side.value if line.role is Role.SIDE else "", []).append(use)
        else:
            edges.append(use)
    knit = is_knit(garment)
    parted = {*_openings_beside(garment, (use for uses in vents.values() for use in uses))}
    pressed = tuple(use for use in edges if garment.line(use).opening in parted)
    up = _depth_words(garment, pressed, depths, unit)
    drops = any(garment.piece(use.piece).of_kind(DroppingEdge) for use in hem)
    hung = (_HANG,) if drops and pressed else ()
    if sides := tuple(sorted(filter(None, vents))):
        turned = tuple(use for side in sides for use in vents[side])
        words = _vent_words("the vent's edges", knit, _depth_words(garment, turned, depths, unit), up, unit)
        yield instruct(f"Vents, {and_(sides)}", *hung, *words), turned
    if "" in vents:
        turned = tuple(vents[""])
        words = _vent_words("both edges", knit, _depth_words(garment, turned, depths, unit), up, unit)
        yield instruct("Slit at the centre back", *hung, *words), turned
    for turned in (pressed, tuple(use for use in edges if use not in pressed)):
        if turned:
            turn = _PRESSED if turned is pressed else _turn_in(garment, turned, depths, unit)
            deep = _depth_words(garment, turned, depths, unit)
            names = tuple(dict.fromkeys(_hem_name(garment, use) for use in turned))
            yield (
                instruct(
                    f"Hem of the {and_(names)}{when}",
                    *(_hang_first(garment, turned, deep) if drops and turned is not pressed else ()),
                    *_turn_up(knit, turn),
                ),
                turned,
            )


def _openings_beside(garment: Garment, vents: Iterable[Use]) -> Iterator[str]:
    """The openings that vents run down to, whose hem is pressed up with them."""
    for use in vents:
        piece = garment.piece(use.piece)
        yield from (line.opening for line in (piece.before(use.line), piece.after(use.line)) if line.role is Role.HEM)


_PRESSED = does("The edge is neatened and pressed up already, with the vents.", TURNED_NEATENED, TURNED_UP)
"""Of a hem beside vents."""

_HANG = "Let the garment hang for a day, then level its edge."

MITRE_TRIMMED = trade_table({"cm": 6.0, "mm": 6.0, "in": 6.35}, "mm", "common practice", "0.6 cm, 1/4 in")
"""To which the allowance of a mitre is trimmed."""


def _hang_first(garment: Garment, hem: Sequence[Use], deep: str) -> Iterator[str]:
    """What is done with edges that drop before they are turned; those that are turned with them keep their line."""
    drops = {_hem_name(garment, use): False for use in hem}
    drops |= {_hem_name(garment, use): True for use in hem if garment.piece(use.piece).of_kind(DroppingEdge)}
    falling, others = (tuple(name for name, falls in drops.items() if falls is which) for which in (True, False))
    if falling:
        yield f"Let the garment hang for a day, then level its {and_(falling)}."
        yield "Someone else marks it on the wearer, or on a form, as high above the floor all round."
        above = deep and f", {deep} above that"
        yield f"Mark the fold line there anew{above}: the one on the paper no longer holds there."
        yield f"On the {and_(others)} it does." if others else ""


def _turn_up(knit: bool, turn: Deed) -> Iterator[str | Deed]:
    """How an edge is turned up and sewn; a vent's is neatened and pressed up already."""
    if TURNED_NEATENED not in turn.effects and not knit:
        yield does("Neaten the edge.", TURNED_NEATENED)
    yield turn
    yield "Sew it from the right side, along the raw edge beneath." if knit else "Sew it by blind stitch or by hand."


def _vent_words(edges: str, knit: bool, deep: str, up: str, unit: Unit) -> Iterator[str | Deed]:
    """How the edges beside a slit are turned, their corners mitred, before the hem is sewn."""
    if not knit:
        yield does(f"Neaten the hem edge, and {edges} if they aren't neatened yet.", TURNED_NEATENED)
    yield does(f"Turn {edges} in along the fold lines{deep and f', {deep}'}, and press.", TURNED_UP)
    yield f"Press the hem up along its fold line too{up and f', {up}'}."
    yield "Mitre each corner, before either is stitched: open both folds out again."
    yield does("Fold the corner slantwise, right sides together, the two creases on each other.", Handling.MITRED)
    yield "Sew from the point where the creases cross to the raw edges, square to the slanting fold."
    yield f"Trim that to {show_length(MITRE_TRIMMED[unit], unit)}, turn the corner out, and press."
    stitch = "with the hem's stitch" if knit else "by lockstitch"
    yield f"From the right side stitch round the opening {stitch}."
    yield "Begin at the lower edge, go up, across above the slit and down to the lower edge again."
    yield "Secure both ends."


def applied_hem_words(garment: Garment, hem: Sequence[Use], depths: Depths, unit: Unit) -> Iterator[Instruction]:
    """Tell how the hems of applied pieces are turned and stitched, before these are sewn on (common practice)."""
    titles = dict.fromkeys(str(without_sides(garment.piece(use.piece).title)).lower() for use in hem)
    neaten = () if is_knit(garment) else (does("Neaten the edge.", TURNED_NEATENED),)
    turn = _turn_in(garment, hem, depths, unit)
    for title in titles:
        yield instruct(f"Hem of the {title}, before it is sewn on", *neaten, turn, "Stitch it.")


def _hem_name(garment: Garment, use: Use) -> str:
    """What an edge is called: a layer's by the layer that hangs there, another's by what the edge round it is."""
    if use.piece in hanging_pieces(garment):
        return str(without_faces(without_sides(garment.piece(use.piece).title))).lower()
    line = garment.line(use)
    kind = next((kind for kind in garment.opening_kinds if kind.name == sideless(line.opening)), None)
    if kind is not None and kind.edge:
        return kind.edge
    around = (other for piece in garment.pieces for other in piece.ring if other.opening == line.opening)
    roles = (line.role, *(other.role for other in around if line.opening))
    return next((_HEMS[role] for role in roles if role in _HEMS), line.role.value)


def before_words(garment: Garment, unit: Unit) -> Iterator[str]:
    """Tell the stitches, and what holds for every step."""
    if is_knit(garment):
        yield (
            "Seams: four-thread overlock (ISO 4915: 514), or on a plain machine narrow zigzag (304) or stretch stitch. "
            "Hems: coverstitch (406), twin needle or zigzag. Try needle and stitch on a scrap, stretched."
        )
    else:
        yield (
            "Seams: lockstitch (ISO 4915: 301), edges neatened by overlock (504) or zigzag (304) before another seam "
            "crosses them. Hems: blind stitch (103) or by hand. Press each seam as it is sewn."
        )
    if marked := tuple(what for what, there in _list_marked(garment) if there):
        yield f"Before the paper comes off, mark on the cloth's wrong side {and_(marked)}."
    yield (
        "Right sides together and notches matched, unless said. Left and right are the wearer's. Pull each pin "
        "out before the needle comes to it."
    )


def _list_marked(garment: Garment) -> Iterator[tuple[str, bool]]:
    """What is marked on the cloth, and whether the garment has it."""
    lines = [line for piece in garment.pieces for line in piece.ring]
    yield "the legs and points of darts", any(darts_of(piece) for piece in garment.pieces)
    yield "fold lines", any(line.fate in (Fate.HEMMED, Fate.FOLDED) for line in lines)
    yield from ((words, True) for words in _list_points(garment))
    yield "the corners of pockets", any(piece.of_kind(Applied) for piece in garment.pieces)
    yield from ((what, button_count(garment) > 0) for what in ("buttons", "buttonholes"))


def _list_points(garment: Garment) -> Iterator[str]:
    """The points that are clipped into, by their notches, each a dot on the stitching line."""
    named = name_marks(garment)
    marks = {mark.number: mark for mark in garment.find_once(balance_marks) if mark.number in named}
    for name in (V_POINT, CORNER):
        found = sorted(number for number in marks if named[number] == name)
        if found:
            of = f"{name}{'s' * (len(found) > 1)}"
            notches = f"notch{'es' * (len(found) > 1)} {and_(tuple(map(str, found)))}"
            two = any(marks[number].count > 1 for number in found)
            midway = ", midway between the snips of a double notch" * two
            yield f"the {of} ({notches}: a dot on the stitching line{midway})"
    ends = sorted(number for number in marks if named[number] == OPENING_END)
    if ends:
        yield f"the opening's end (point{'s' * (len(ends) > 1)} {and_(tuple(map(str, ends)))}: never snip there)"


def list_needs(garment: Garment, unit: Unit) -> tuple[str, ...]:
    """Return what is needed besides cloth: thread, needle, zips, buttons, interfacing, tape."""
    return tuple(_list_needs(Telling(garment, unit)))


def _list_needs(told: Telling) -> Iterator[str]:
    garment, knit = told.garment, is_knit(told.garment)
    yield "thread"
    yield "a stretch or ballpoint needle" if knit else "a needle to suit the cloth"
    for seam in garment.seams:
        if seam.kind.needs is not None:
            with blaming(seam):
                yield from tuple(seam.kind.needs(told, seam))
    if count := button_count(garment):
        size = next(closure.button for closure in reversed(garment.closures) if closure.button)
        yield f"{count} button{'s' * (count > 1)} of {show_length(size, told.unit)}"
    if hooked := find_hooked(garment):
        yield "a hook and eye" if len(hooked) == 1 else f"{len(hooked)} hooks and eyes"
    stiffened = dict.fromkeys(_list_stiffened(garment))
    if stiffened:
        yield f"interfacing ({and_(tuple(stiffened))})"
    stays = sum(length for _, zone, *_, length in find_tapes(garment) if zone.cut is StayCut.TAPE)
    if stays:
        step = TAPE_BY[told.unit]
        length = show_length(math.ceil(stays / step) * step, told.unit).replace(".0 ", " ")
        yield f"{length} of {'stay tape or clear elastic' if knit else 'tape'}"


def _list_stiffened(garment: Garment) -> Iterator[str]:
    """What is interfaced, as the kinds of the seams say."""
    for seam in garment.seams:
        if seam.kind.stiffened and (seam.kind.always_stiffened or not is_knit(garment)):
            yield seam.kind.stiffened
