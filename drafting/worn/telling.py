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
from drafting.worn.doubtful import find_doubtful
from drafting.worn.dressing import Worn
from drafting.worn.fastenings import say_place, tell_closed
from drafting.worn.figures import LIES_OFF, MEAN_OFF, WELL_BEYOND, LevelWorn, WornFigures
from drafting.worn.fitting import Taken
from drafting.worn.gaping import GAPE_OFF
from drafting.worn.pressing import PRESS_OFF, PRESSED_AS_HARD
from drafting.worn.soundness import find_voids

WAY: Final = 16
"""Counted up when garments hang otherwise than before, so that none is kept that was draped in an older way."""
NAME_LENGTH: Final = 16

_NECK_DOUBTED: Final = "the form's neck isn't the wearer's, so the map is hatched beside it"

Document = Mapping[str, Any]

_TITLES: Final = {"bust": "Bust", "waist": "Waist", "hip": "Hip"}


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
    levels = [] if voids else [_level_row(level, unit) for level in figures.levels]
    closed = tell_closed(worn.mesh.garment)
    lengths = [] if voids else [render(words, unit) for words in (*closed, *_tell_lengths(figures))]
    answers = [] if voids else [render(words, unit) for words in answer_folds(figures, folds)]
    told = {"voids": voids, "missed": missed, "levels": levels, "lengths": lengths, "answers": answers}
    return {"made": SEAL_ROOM, "drape": drape, **told}


def _say_missed(taken: Taken) -> Words:
    off, name = mm(abs(taken.off)), speak_measurement(taken.name)
    if taken.name.endswith("girth"):
        return say("the body in the picture is {off} {way} at the {name} than the wearer",
                   off=off, way="narrower" if taken.off < 0 else "wider", name=name)  # fmt: skip
    return say("the body in the picture is {off} {way} in {name} than the wearer",
               off=off, way="shorter" if taken.off < 0 else "longer", name=name)  # fmt: skip


def _tell_lengths(figures: WornFigures) -> Iterator[Words]:
    """Yield how the hem hangs; and that length is folded up, where that is well beyond what it may be off."""
    yield say(
        "The hem hangs {front} above the floor in front and {back} behind; that, and where levels lie, may be off by "
        "{off}; up to twice that nothing is concluded.",
        front=mm(figures.hem_front), back=mm(figures.hem_back), off=mm(LIES_OFF),
    )  # fmt: skip
    if figures.folded > WELL_BEYOND * LIES_OFF:
        yield say(
            "Between bust and hip {length} of the cloth's length is folded up: it catches at the hip, or the body is "
            "shorter there than it is drafted for. The form's back is hollow; above a flatter one it is a quarter "
            "less.",
            length=mm(figures.folded),
        )
    yield from _tell_gapes(figures)
    yield from _tell_heights(figures)
    yield from _tell_pressure(figures)


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


def _tell_heights(figures: WornFigures) -> Iterator[Words]:
    """Yield of each level that lies well beyond what it may be off by what that is; not of a hip that is folded up."""
    hangs_low = max((level.height for level in figures.levels), default=0.0) < -LIES_OFF
    for level in figures.levels:
        by, told = mm(abs(level.height)), level.name == "hip" and figures.folded > WELL_BEYOND * LIES_OFF
        if told or abs(level.height) <= WELL_BEYOND * LIES_OFF:
            continue
        if level.height < 0.0:
            if not hangs_low:
                continue  # a knit's bust level alone: it is drafted as far down as a tape goes over the bust
            yield say("The garment's {level} lies {by} below the body's: it hangs lower than it was drafted. See on a "
                      "first toile where its shoulders and its neck lie.", level=level.name, by=by)  # fmt: skip
        elif level.mean < MEAN_OFF:
            yield say("The garment's {level} lies {by} above the body's: its cloth is loose there, rides up and lies "
                      "in folds. That is no fault of the draft.", level=level.name, by=by)  # fmt: skip
        else:
            yield say("The garment's {level} lies {by} above the body's: it is stretched there and held, so that it "
                      "can't slide down. More ease lets it.", level=level.name, by=by)  # fmt: skip


def _tell_pressure(figures: WornFigures) -> Iterator[Words]:
    """Yield how hard neck and armholes press; and what is pressed as by a support stocking, well beyond doubt."""
    pressed = (*figures.levels_pressed, *figures.edges)
    places = [(f"the {each.name}", each.mean) for each in pressed if not each.doubtful]
    told = ", ".join(f"{hard:.1f} kPa at {place}" for place, hard in places[len(figures.levels) :])
    if told:
        yield say(
            "It presses with {told} on average; a sock's top or the lightest support stocking presses with {stocking}. "
            "Each of these may be wrong by half, for nobody measured how hard the cloth pulls.",
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


def _level_row(level: LevelWorn, unit: Unit) -> list[str]:
    """The cells of a level's row, each as it is said."""
    return [
        _TITLES[level.name],
        show_share(max(level.mean, 0.0)),
        show_share(max(level.highest, 0.0)),
        show_share(level.has),
        "loose" if level.by_girth < 0.0 else show_share(level.by_girth),
        f"{level.presses:.1f} kPa",
        _say_height(level.height, unit),
    ]


_EXAMPLE: Final = 0.10
"""A stretch as an example."""


VOID_HELP: Final = (
    "That is the drape's failing, and nothing against the pattern. What may help: measure again what the proof doubts; "
    "else judge the fit by a first toile."
)
"""What to do about a void drape."""
HEAD: Final = ("level", "stretched", "at most", "cloth has", "evenly", "presses", "lies")


def tell_worn(document: Document) -> Iterator[str]:
    """Yield what stands in a document beside its table of levels, in sentences."""
    for words in document["voids"]:
        yield f"This drape is void: {words}. Don't judge the fit by it."
    if document["voids"]:
        yield VOID_HELP
    yield from (
        f"{words[0].upper()}{words[1:]}: don't judge the fit there by this picture." for words in document["missed"]
    )
    yield from document["lengths"]
    yield from document["answers"]
    if document["levels"]:
        less, more = (show_share(round(_EXAMPLE + by, 2)) for by in (-MEAN_OFF, MEAN_OFF))
        ten, twice, half = (show_share(_EXAMPLE * times) for times in (1.0, 2.0, 5.0))
        yield (
            f"Stretched: how much longer the cloth is across than it was cut, on average round that level; at most: so "
            f"in its most stretched twentieth; cloth has: how far it can be stretched; evenly: what its girth and the "
            f"body's alone would make it. A stretch may be wrong by {show_share(MEAN_OFF)} of the length as cut: "
            f"{ten} may be {less} or {more}."
        )
        yield (
            f"In worn.png, above: as it looks; below, in greys: how much of the stretch that it has the cloth gives, "
            f"so that {ten} of a cloth that has {twice} is {half} there; black "
            "is more than it has."
        )


def level_rows(document: Document) -> Sequence[Sequence[str]]:
    """Return the rows of a document's table of levels."""
    rows: Sequence[Sequence[str]] = document["levels"]
    return rows


def write_document(document: Document) -> bytes:
    """Return a document as a file, with room for its seal."""
    return (json.dumps(document, indent=2, ensure_ascii=False) + "\n").encode()
