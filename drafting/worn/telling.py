"""What a drape says, as lines for a maker, and as a document that is kept beside its picture."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256
from typing import Any, Final

from drafting.body import Body
from drafting.body.measurement import speak_measurement
from drafting.cloth import Cloth
from drafting.garment import Garment
from drafting.proof.words.fitting_folds import Fold
from drafting.saying import Words, mm, render, say, show_share
from drafting.seal import SEAL_ROOM
from drafting.units import Unit
from drafting.worn.answers import answer_folds
from drafting.worn.doubtful import WITHIN_FORM, find_doubtful, measure_within
from drafting.worn.dressing import Worn
from drafting.worn.fastenings import say_place, tell_closed
from drafting.worn.figures import LIES_OFF, MEAN_OFF, WELL_BEYOND, LevelWorn, WornFigures
from drafting.worn.fitting import Taken
from drafting.worn.gaping import GAPE_OFF
from drafting.worn.hanging import tell_hanging, tell_heights
from drafting.worn.pressing import PRESS_OFF, PRESSED_AS_HARD
from drafting.worn.sleeves import FOREARM, SleevePart
from drafting.worn.soundness import find_voids

WAY: Final = 25
"""Counted up when garments hang otherwise than before, so that none is kept that was draped in an older way."""
NAME_LENGTH: Final = 16

_NECK_DOUBTED: Final = "the form's neck isn't the wearer's, so the map is hatched beside it"

Document = Mapping[str, Any]


def name_drape(garment: Garment, body: Body, cloths: Mapping[str, Cloth]) -> str:
    """Return a name that garments share only if they hang alike: by their pieces, seams, cloths and wearer."""
    pieces = [(p.name, p.cloth, p.grain, [line.path.segments.round(3).tolist() for line in p.all_lines])
              for p in garment.pieces]  # fmt: skip
    seams = [[section.plies for section in seam.sections] for seam in garment.seams]
    content = (WAY, pieces, seams, sorted(body.values.items()), body.rules, sorted(map(repr, cloths.items())))
    return sha256(repr(content).encode()).hexdigest()[:NAME_LENGTH]


def worn_document(worn: Worn, figures: WornFigures, unit: Unit, drape: str, folds: Sequence[Fold] = ()) -> Document:
    """Return all that is told of a drape of a name; where something voids it, that and no figure.

    ``folds`` are what the fitting sheet of its garment looks for.
    """
    voids = [render(words, unit) for words in find_voids(worn)]
    missed = [render(_say_missed(each), unit) for each in worn.fitted.missed]
    if not voids and find_doubtful(worn).any():
        missed.append(_NECK_DOUBTED)
    if not voids and (deep := float(measure_within(worn).max())) > WITHIN_FORM:
        missed.append(render(say("the form gives way to the cloth by up to {deep}, beside an armhole mostly",
                                 deep=mm(deep)), unit))  # fmt: skip
    levels = [] if voids else [_level_row(figures, level, unit) for level in figures.levels]
    levels += [] if voids else [_sleeve_row(part) for part in figures.sleeves]
    closed = tell_closed(worn.mesh.garment)
    lengths = [] if voids else [render(words, unit) for words in (*closed, *tell_lengths(figures, folds))]
    answers = [] if voids else [render(words, unit) for words in answer_folds(figures, folds)]
    told = {"voids": voids, "missed": missed, "levels": levels, "lengths": lengths, "answers": answers}
    return {"made": SEAL_ROOM, "drape": drape, **told}


def _say_missed(taken: Taken) -> Words:
    off, name = mm(abs(taken.off)), speak_measurement(taken.name)
    if taken.name.endswith("girth"):
        return say("the body in the picture is {off} {way} at the {name} than the wearer",
                   off=off, way="narrower" if taken.off < 0 else "wider", name=name)  # fmt: skip
    if taken.name.endswith("height"):
        return say("the body in the picture has its {level} {off} {way} than the wearer", off=off,
                   level=name.removesuffix(" height"), way="lower" if taken.off < 0 else "higher")  # fmt: skip
    return say("the body in the picture is {off} {way} in {name} than the wearer",
               off=off, way="shorter" if taken.off < 0 else "longer", name=name)  # fmt: skip


def tell_lengths(figures: WornFigures, folds: Sequence[Fold] = ()) -> Iterator[Words]:
    """Yield what figures say beside the table of levels; ``folds`` are what the fitting sheet looks for."""
    yield from tell_hanging(figures, folds)
    yield from _tell_gapes(figures)
    yield from tell_heights(figures, folds)
    yield from _tell_beyond(figures)
    yield from _tell_pressure(figures)
    yield from _tell_untold(figures)


def _tell_beyond(figures: WornFigures) -> Iterator[Words]:
    """Yield where cloth is stretched by more than it has, and whether that is beyond what it may be off by."""
    both: tuple[LevelWorn | SleevePart, ...] = (*figures.levels, *figures.sleeves)
    for each in both:
        where, most, has = figures.speak(each.name), show_share(each.highest), show_share(each.has)
        if each.highest > each.has + MEAN_OFF:
            yield say("At the {where} it is stretched by {most} where it is most, and its cloth has {has}: it is too "
                      "tight there. Give it ease there.", where=where, most=most, has=has)  # fmt: skip
        elif each.highest > each.has:
            yield say("At the {where} it is stretched by {most} where it is most, and its cloth has {has}: that is "
                      "within what it may be off by, so look there first on a toile.",
                      where=where, most=most, has=has)  # fmt: skip


def _tell_untold(figures: WornFigures) -> Iterator[Words]:
    """Yield what isn't told of this garment, and why."""
    if figures.levels and "bust" not in {level.name for level in figures.levels}:
        yield say("Nothing is told of the {bust}: no line of this garment goes all round there.",
                  bust=figures.speak("bust"))  # fmt: skip
    if figures.places.back is not None:
        yield "Nothing is told of the width across the back: the form doesn't follow it."
    if any(each.name == FOREARM for each in figures.sleeves):
        yield say("How long sleeves are isn't told: the form's arm has the straight arm's length, and sleeves are "
                  "drafted for the bent one's.")  # fmt: skip
    if figures.levels and 0.0 < figures.levels[0].has < MEAN_OFF:
        yield say("Its cloth has {has} of stretch, less than a stretch may be wrong by: its map shows only what is "
                  "beyond that for sure, in black.", has=show_share(figures.levels[0].has))  # fmt: skip


def _tell_gapes(figures: WornFigures) -> Iterator[Words]:
    """Yield of each closure where between two buttons it stands open most, where that is well beyond doubt."""
    gaping = [each for each in figures.gapes if each.is_open]
    for place in dict.fromkeys(each.place for each in gaping):
        most = max((each for each in gaping if each.place == place), key=lambda each: each.wide)
        yield say(
            "Between buttons {one} and {two} from the top, nearest to the {level}, the edges of the {place} are "
            "drawn {wide} apart, which may be off by {off}: it gapes. More ease at the {level} lets them lie; "
            "where that is wanted close, set the buttons nearer to each other, one level with the {level}.",
            one=str(most.button), two=str(most.button + 1), level=most.level, place=say_place(most.place),
            wide=mm(most.wide), off=mm(GAPE_OFF),
        )  # fmt: skip


def _tell_pressure(figures: WornFigures) -> Iterator[Words]:
    """Yield how hard neck and armholes press; and what is pressed as by a support stocking, well beyond doubt."""
    pressed = (*figures.levels_pressed, *figures.edges)
    places = [(f"the {each.name}", each.mean) for each in pressed if not each.doubtful]
    edges = places[len(figures.levels) :]
    told = " and ".join(f"{hard:.1f} kPa at {place}" for place, hard in edges if hard >= _LEAST_TOLD)
    light = " and ".join(place for place, hard in edges if hard < _LEAST_TOLD)
    if light:
        yield say("It hardly presses at {places}.", places=light)
    if told:
        yield say(
            "It presses with {told} on average; a sock's top or the lightest support stocking presses with {stocking}. "
            "Each of these may be wrong by half: how hard the cloth pulls is estimated, not measured.",
            told=told, stocking=f"{PRESSED_AS_HARD:.0f} kPa",
        )  # fmt: skip
    for each in figures.edges:
        if each.off > WELL_BEYOND * LIES_OFF:
            yield say(
                "The {edge} stands off the body by {off}, which may be off by {by}: it gapes.",
                edge=each.name, off=mm(each.off), by=mm(LIES_OFF),
            )  # fmt: skip
    for place, hard in places:
        if hard > PRESSED_AS_HARD * (1.0 + PRESS_OFF):
            yield say("It presses at {place} as a support stocking does: give it ease there.", place=place)


def _say_height(height: float, unit: Unit) -> str:
    """Where a level lies against the body's own."""
    if abs(height) <= LIES_OFF:
        return "at the body's"
    return render(say("{by} {way}", by=mm(abs(height)), way="higher" if height > 0.0 else "lower"), unit)


def _level_row(figures: WornFigures, level: LevelWorn, unit: Unit) -> list[str]:
    """The cells of a level's row, each as it is said."""
    return [
        figures.speak(level.name).capitalize(),
        show_share(max(level.mean, 0.0)),
        show_share(max(level.highest, 0.0)),
        show_share(level.has),
        "loose" if level.by_girth < 0.0 else show_share(level.by_girth),
        _say_pressure(level.presses),
        _NONE if level.unsure else _say_height(level.height, unit),
    ]


def _sleeve_row(part: SleevePart) -> list[str]:
    """The cells of a row of a part of the sleeves; no level of the body lies there."""
    mean, most, has = (show_share(max(share, 0.0)) for share in (part.mean, part.highest, part.has))
    return [part.name.capitalize(), mean, most, has, _NONE, _say_pressure(part.presses), _NONE]


def _say_pressure(presses: float) -> str:
    return f"{presses:.1f} kPa" if presses >= _LEAST_TOLD else _NONE


_NONE: Final = "-"
_LEAST_TOLD: Final = 0.05
"""kPa that are told: less is none when it is rounded."""
_EXAMPLE: Final = 0.10
"""A stretch as an example."""


VOID_HELP: Final = (
    "That is the drape's failing, and nothing against the pattern. What may help: measure again what the proof doubts; "
    "else judge the fit by a first toile."
)
"""What to do about a void drape."""
HEAD: Final = ("level", "stretched", "at most", "cloth has", "by girth", "presses", "lies")


def tell_worn(document: Document) -> Iterator[str]:
    """Yield what stands in a document beside its table of levels, in sentences."""
    for words in document["voids"]:
        yield f"This drape is void: {words}. Don't judge the fit by it."
    if document["voids"]:
        yield VOID_HELP
    if document["levels"]:
        yield from _explain_table()
    yield from (
        f"{words[0].upper()}{words[1:]}: don't judge the fit there by this picture." for words in document["missed"]
    )
    yield from document["lengths"]
    yield from document["answers"]
    if document["levels"] and not document["answers"]:
        yield NOTHING_NAMED


NOTHING_NAMED: Final = (
    "The drape alone calls for no change of fit; a toile still may. Next, sew a first toile and look for what the "
    "fitting sheet lists: a drape shows no fine folds."
)
"""What to do after a sound drape that names no change."""


def _explain_table() -> Iterator[str]:
    """Yield what the words of the table mean, and the greys of the map."""
    less, more = (show_share(round(_EXAMPLE + by, 2)) for by in (-MEAN_OFF, MEAN_OFF))
    ten, twice, half = (show_share(_EXAMPLE * times) for times in (1.0, 2.0, 5.0))
    off = show_share(MEAN_OFF)
    yield (
        f"stretched: how much longer the cloth is across than it was cut, on average round that level; it may be wrong "
        f"by {off} of the length as cut, so that {ten} may be {less} or {more}"
    )
    yield "at most: the same in its tightest spot, up to 3 cm above or below"
    yield "cloth has: how far it can be stretched; by girth: what its girth and the body's alone would make it"
    yield "lies: where its level is beside the body's"
    yield (
        f"In worn.png, above: as it looks; below, in greys: how much of the stretch that it has across the cloth "
        f"gives, so that {ten} of a cloth that has {twice} is {half} there; black is more than it has, by more than "
        f"those {off}."
    )


def level_rows(document: Document) -> Sequence[Sequence[str]]:
    """Return the rows of a document's table of levels."""
    rows: Sequence[Sequence[str]] = document["levels"]
    return rows


def write_document(document: Document) -> bytes:
    """Return a document as a file, with room for its seal."""
    return (json.dumps(document, indent=2, ensure_ascii=False) + "\n").encode()
