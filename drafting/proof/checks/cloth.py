"""Cloth: whether it serves the design; refused with the figure that fails. And what its kind asks of the cutting.

A block states what its design needs (`ClothNeeds`); a garment needs what each of its parts does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from drafting.cloth import Cloth, Kind, Refusal, Stripe, find_refusals, lies_crosswise
from drafting.cloth.cloth import UNFELT_STRETCH
from drafting.finishing.growth import cloth_as_cut, grown_apart
from drafting.garment import Brief, Face, Garment, Piece, Role
from drafting.garment.features import BustPoint
from drafting.garment.laying import cloth_as_laid, tell_sleeve_stripes
from drafting.garment.meetings import Meeting, list_meetings
from drafting.garment.model import INTERFACING, MAIN_CLOTH, STAY
from drafting.proof.checks.washing import GROWN_APART, find_grown_apart, note_wash
from drafting.proof.finding import UNSUITED, Finding, Severity
from drafting.saying import Words, list_sayings, say, show_share, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

STABLE_KNIT = TradeValue(0.15, "share", "from memory", "a ponte or a sweatshirt's jersey, which are sewn as wovens are")
"""By which a knit may stretch round the body and be sewn by a pattern for cloth that doesn't give."""


def check_cloth(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge the cloths of front and back against what the design needs; a design that states no need is served by any.

    Of each cloth it is noted what is to be minded before and while it is cut (common practice).
    """
    used = {name for piece in garment.pieces for name in (piece.cloth, *piece.again)}
    worn = {piece.cloth for piece in garment.pieces if piece.face is not Face.NONE}
    cloths = {MAIN_CLOTH: brief.cloth, **{name: cloth for name, cloth in brief.cloths.items() if name in used}}
    refused = (
        _finding(_place(name), refusal)
        for name, cloth in cloths.items()
        if name in worn or name == MAIN_CLOTH
        for refusal in _refuse_ways(cloth, name, garment)
    )
    notes = (note for name, cloth in cloths.items() for note in _notes(name, cloth, garment, cloths))
    stiffer = _find_stiffer(garment, brief)
    return (
        *refused,
        *notes,
        *stiffer,
        *_find_giving(garment, brief),
        *_find_undrawn(garment, brief),
        *find_grown_apart(garment, cloths),
    )


def _find_giving(garment: Garment, brief: Brief) -> Iterator[Finding]:
    """A knit for what is shaped by darts and eased for cloth that doesn't give: it stands off by all of that ease."""
    gives = brief.cloth.stretch_round
    shaped = any(piece.of_kind(BustPoint) for piece in garment.pieces)
    if brief.cloth.kind is Kind.KNIT and shaped and garment.needs.stretch <= 0.0 and gives > STABLE_KNIT:
        told = say(
            "the design is drafted for cloth that doesn't give, and {name} stretches {share}: it will stand off the "
            "body, and its sleeves will be wide",
            name=brief.cloth.name,
            share=show_share(gives),
        )
        mend = "take a design that is drafted for knits, or a cloth that hardly stretches"
        yield Finding(UNSUITED, Severity.WARNING, _place(MAIN_CLOTH), gives, STABLE_KNIT, told, mend, "share")


def _find_undrawn(garment: Garment, brief: Brief) -> Iterator[Finding]:
    """Interfacing and stays said to be cut unwashed: no pattern is drawn larger for their wash."""
    drawn = {piece.cloth for piece in garment.pieces}
    for name, why in (
        (INTERFACING, "it is as large as the piece that it is put on"),
        (STAY, "its strips are drawn by ruler"),
    ):
        cloth = brief.cloths.get(name)
        if cloth is not None and cloth.cut_unwashed and name not in drawn:
            words = f"{cloth.name}: cut_unwashed has no pattern to be drawn larger: {why}"
            mend = "leave it out, and wash or steam that cloth before it is cut"
            yield Finding("cloth.unwashed", Severity.WARNING, _place(name), None, None, words, mend)


def _find_stiffer(garment: Garment, brief: Brief) -> Iterator[Finding]:
    """Cloths that pieces are cut from once more, and that hold the stretch back which these are drafted by."""
    for name in dict.fromkeys(name for piece in garment.pieces for name in piece.again if name != INTERFACING):
        cloth = brief.cloth_named(name)
        over = [piece for piece in garment.pieces if name in piece.again and piece.face is not Face.NONE]
        gives = max((brief.cloth_named(piece.cloth).stretch_round for piece in over), default=0.0)
        least = gives - UNFELT_STRETCH
        if cloth.stretch_round < least:
            told = say(
                "{name} stretches {share} round the body; what is cut from it once more is drafted for {more}",
                name=name,
                share=show_share(cloth.stretch_round),
                more=show_share(gives),
            )
            mend = "take a cloth for it that gives as much, or hang it loose from the neck and cut it wider"
            yield Finding(
                "cloth.again", Severity.WARNING, _place(name), cloth.stretch_round, least, told, mend, "share"
            )


def _refuse_ways(cloth: Cloth, name: str, garment: Garment) -> Iterator[Refusal]:
    """Why a cloth can't serve as it lies round the body in front or back: each way by itself, the first of a kind."""
    worn = [piece for piece in garment.pieces if piece.face is not Face.NONE and piece.cloth == name]
    ways = [cloth_as_laid(cloth, (piece,)) for piece in worn] or [cloth]
    found = [each for way in dict.fromkeys(ways) for each in find_refusals(way, garment.needs)]
    yield from {each.figure: each for each in reversed(found)}.values()


def _place(name: str) -> str:
    return "cloth" if name == MAIN_CLOTH else f"cloths.{name}"


def _finding(place: str, refusal: Refusal) -> Finding:
    return Finding(
        f"cloth.{refusal.figure}",
        Severity.ERROR,
        place,
        refusal.value,
        refusal.limit,
        refusal.sentence,
        refusal.remedy,
        "share",
    )


WIDE_REPEAT = TradeValue(400.0, "mm", "from memory")
"""Of a stripe's repeat from which it may have been written in another unit."""

CUTTING = "cloth.cutting"
"""The code of a note on how a cloth is to be cut."""


def _tell_cut_again(name: str, garment: Garment, alike: bool) -> Iterator[Finding]:
    """What is cut from a cloth once more, and how it is sewn (common practice: mounted, or made up by itself).

    ``alike``: it is as large as what it is laid on, until it is washed.
    """
    again = [piece.title for piece in garment.pieces if name in piece.again]
    if again and name != INTERFACING:
        mounted = "Lay each on the wrong side of its piece, baste round within the allowance, and sew both as one; or "
        loose = (
            "make up a loose lining of them" if alike else "Make up a loose lining of them: it agrees after the wash"
        )
        words = say(
            "{name}, cut once more: {titles}. {how}",
            name=name,
            titles=list_sayings(again, "; "),
            how=f"{mounted * alike}{loose}",
        )
        yield Finding(CUTTING, Severity.NOTE, _place(name), None, None, words, "", "")


def _notes(name: str, cloth: Cloth, garment: Garment, cloths: Mapping[str, Cloth]) -> Iterator[Finding]:
    place, pieces = _place(name), [piece for piece in garment.pieces if piece.cloth == name]
    over = (cloths[piece.cloth] for piece in garment.pieces if name in piece.again and piece.cloth in cloths)
    alike = all(grown_apart(each.growth, cloth.growth) <= GROWN_APART for each in over)
    yield from _tell_cut_again(name, garment, alike)
    yield from note_wash(place, cloth_as_cut(name, cloth), CUTTING)
    if lies_crosswise(cloth) and any(piece.laid and not _is_askew(piece) and piece.laid.angle for piece in pieces):
        along, across = show_share(cloth.stretch_along), show_share(cloth.stretch_across)
        words = f"{cloth.name} stretches {along} along it and {across} across: its pieces lie crosswise"
        yield Finding(CUTTING, Severity.NOTE, place, None, None, words, "", "")
    if cloth.kind is Kind.WOVEN and any(piece.laid and _is_askew(piece) for piece in garment.pieces):
        words = "on the bias it drops: let the garment hang for a day, then level its hem"
        yield Finding(CUTTING, Severity.NOTE, place, None, None, f"{cloth.name}, {words}", "", "")
    if cloth.nap:
        words = "nap: lay all pieces one way up, the tops to the same end of the cloth"
        yield Finding(CUTTING, Severity.NOTE, place, None, None, f"{cloth.name}, {words}", "", "")
    if cloth.nap and cloth.shades is False:
        told = f"{cloth.name}: shades = false is said of a cloth with a nap, whose pieces lie one way all the same"
        mend = "leave out nap, if it looks the same upside down"
        yield Finding("cloth.nap", Severity.WARNING, place, None, None, told, mend)
    if cloth.stripe is not None and cloth.stripe.repeat > WIDE_REPEAT:
        wide = say("{name}: a stripe every {repeat} is a wide one", name=cloth.name, repeat=tape(cloth.stripe.repeat))
        mend = "measure from one line to the next of its like, and write the unit with it"
        yield Finding("cloth.stripe", Severity.WARNING, place, cloth.stripe.repeat, float(WIDE_REPEAT), wide, mend)
    if cloth.sides_alike:
        words = "both sides alike: choose a right side, and chalk a cross on the wrong side of every piece"
        yield Finding(CUTTING, Severity.NOTE, place, None, None, f"{cloth.name}, {words}", "", "")
    for stripe in cloth.stripe.plain if cloth.stripe is not None else ():
        stripes = say("{name}, {how}", name=cloth.name, how=list_sayings(_stripes(stripe, pieces, garment), "; "))
        yield Finding(CUTTING, Severity.NOTE, place, stripe.repeat, None, stripes)


def _is_askew(piece: Piece) -> bool:
    return min(abs(piece.grain.x), abs(piece.grain.y)) > TOLERANCE.joint


def _stripes_along(pieces: Sequence[Piece], apart: bool) -> Iterator[Words]:
    """How stripes along the cloth are laid: down the centre of what is upright; what is turned lies by the plan."""
    upright = [piece for piece in pieces if not (piece.laid and piece.laid.angle)]
    faces = [str(face) for face in (Face.FRONT, Face.BACK) if any(piece.face is face for piece in upright)]
    sleeves = any(piece.lines(role=Role.CAP) for piece in upright)
    if faces:
        by_grain = ", and sleeves by their grain line" if sleeves and not apart else ""
        yield f"lay the centre of the {' and '.join(faces)} on the middle of a stripe{by_grain}"
    elif sleeves:
        yield "lay sleeves by their grain line on the middle of a stripe"
    if len(upright) < len(pieces):
        yield "lay what is turned on the cloth against the stripe as the cutting plan shows"


def _stripes_across(stripe: Stripe, pieces: Sequence[Piece], garment: Garment) -> Iterator[Words]:
    """How stripes across the cloth are laid: whether they meet at the sides and at the front notch of a sleeve.

    That goes by their course along the stitching lines of what is seen, as in the cutting plan.
    """
    meetings = [each for each in list_meetings(garment, [piece.name for piece in pieces], stripe) if not each.covered]
    sides = [each for each in meetings if any(garment.line(use).role is Role.SIDE for use in each.seam.uses())]
    if sides and all(each.askew for each in sides):
        yield "front and back lie differently on the cloth, so their stripes don't meet at the side seams"
    else:
        where = "at the side seams" if any(piece.lines(role=Role.SIDE) for piece in pieces) else "at the seams"
        yield f"lay the pieces so that stripes meet {where}, matched on the stitching line and counted from the hem"
        apart = list(dict.fromkeys(each.seam.title for each in sides if each.askew))
        if apart:
            yield say("they run differently in the two pieces at: {seams}", seams=list_sayings(apart, "; "))
    caps = [each for each in meetings if each.seam.kind.at_notch and Face.FRONT in _faces(each, garment)]
    if caps and not any(each.askew for each in caps):
        yield "let the cap's front notch lie on the same stripe as the armhole's"


def _faces(meeting: Meeting, garment: Garment) -> set[Face]:
    return {garment.piece(name).face for name in meeting.names}


def _stripes(stripe: Stripe, pieces: Sequence[Piece], garment: Garment) -> Iterator[Words]:
    """How a stripe is matched on the seams that pieces of a cloth have (common practice)."""
    apart = tell_sleeve_stripes(pieces, stripe)
    yield say("stripe {repeat} {way}", repeat=tape(stripe.repeat), way=stripe.direction)
    if stripe.direction == "across":
        yield from _stripes_across(stripe, pieces, garment)
    else:
        yield from _stripes_along(pieces, bool(apart))
    if apart:
        yield apart
    if stripe.uneven:
        yield "the order of colours differs: lay all pieces one way up, and none turned over"
