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
from drafting.saying import mm, render, say, show_share
from drafting.seal import SEAL_ROOM
from drafting.units import Unit
from drafting.worn.dressing import Worn
from drafting.worn.figures import MEAN_OFF, LevelWorn, WornFigures
from drafting.worn.soundness import find_voids

WAY: Final = 2
"""Counted up when garments hang otherwise than before, so that none is kept that was draped in an older way."""
NAME_LENGTH: Final = 16

Document = Mapping[str, Any]

_TITLES: Final = {"bust": "Bust", "waist": "Waist", "hip": "Hip"}


def name_drape(garment: Garment, body: Body, cloths: Mapping[str, Cloth]) -> str:
    """Return a name that garments share only if they hang alike: by their pieces, seams, cloths and wearer."""
    pieces = [(p.name, p.cloth, p.grain, [line.path.segments.round(3).tolist() for line in p.all_lines])
              for p in garment.pieces]  # fmt: skip
    seams = [[section.plies for section in seam.sections] for seam in garment.seams]
    content = (WAY, pieces, seams, sorted(body.values.items()), body.rules, sorted(map(repr, cloths.items())))
    return sha256(repr(content).encode()).hexdigest()[:NAME_LENGTH]


def worn_document(worn: Worn, figures: WornFigures, unit: Unit, drape: str) -> Document:
    """Return all that is told of a drape of a name; where something voids it, that and no figure."""
    voids = [render(words, unit) for words in find_voids(worn)]
    missed = [
        render(
            say("the body in the picture is {off} {way} at the {name} than the wearer", off=mm(abs(each.off)),
                way="narrower" if each.off < 0 else "wider", name=speak_measurement(each.name)),
            unit,
        )
        for each in worn.fitted.missed
    ]  # fmt: skip
    levels = [] if voids else [_level_row(level) for level in figures.levels]
    return {"made": SEAL_ROOM, "drape": drape, "voids": voids, "missed": missed, "levels": levels}


def _level_row(level: LevelWorn) -> list[str]:
    """The cells of a level's row, each as it is said."""
    return [
        _TITLES[level.name],
        show_share(max(level.mean, 0.0)),
        show_share(max(level.highest, 0.0)),
        show_share(level.has),
        "slack" if level.by_girth < 0.0 else show_share(level.by_girth),
    ]


HEAD: Final = ("level", "stretched", "most", "cloth has", "by girths")


def tell_worn(document: Document) -> Iterator[str]:
    """Yield what stands in a document beside its table of levels, in sentences."""
    for words in document["voids"]:
        yield f"This drape is void: {words}. Nothing is concluded from it."
    yield from (f"{words[0].upper()}{words[1:]}: nothing is concluded there." for words in document["missed"])
    if document["levels"]:
        yield (
            f"A stretch may be off by {show_share(MEAN_OFF)} of the cloth's length. In worn.png, above: as it looks; "
            "below: how much of its stretch the cloth gives, the darker the more, black where it is more than it has."
        )


def level_rows(document: Document) -> Sequence[Sequence[str]]:
    """Return the rows of a document's table of levels."""
    rows: Sequence[Sequence[str]] = document["levels"]
    return rows


def write_document(document: Document) -> bytes:
    """Return a document as a file, with room for its seal."""
    return (json.dumps(document, indent=2, ensure_ascii=False) + "\n").encode()
