"""Words that nothing said to a maker ever holds: those of the engine and of its arithmetic."""

from __future__ import annotations

import re
from functools import cache

from drafting.body import measurements
from drafting.garment.step import options_of
from drafting.ticket import find_catalogue
from drafting.ticket.cloths import CUT_AGAIN
from drafting.ticket.keys import CLOTH_KEYS, FIT, PAPER_KEYS, STRIPE_KEYS, seam_keys
from drafting.ticket.shape import TICKET, WEARER

ENGINE_WORDS = (
    # what the program is written in
    r"None|True|False|NaN|nan|inf|float|int|str|dict|tuple|repr|bool|NoneType|dataclass|pydantic|tomllib",
    r"dictionary|dictionaries|attribute|argument|module|object|instance|exception|traceback|index|iterable|assertion",
    r"[A-Za-z]*(?:Error|Exception|Warning)|[\w/]+\.py|string|boolean|integer|null|declare|syntax",
    # its arithmetic
    r"division|divide|by zero|change of sign|no solution|function|isn't a number|finite|infinite|domain|overflow",
    r"coordinates?|vectors?|arrays?|matrix|converge\w*|iterations?|radians?|NumPy|in \d+ calls",
    # its model
    r"facts?|garment holds|lineage|the path|paths?|segments?|polylines?|rings?|loops?|run of|role|plies of",
    r"has no line|the ring|arc length|choose alike|token|internal",
)
"""Words and groups of words, each a part of a regular expression that stands between the borders of words."""

ODD_FIGURES = (
    r"\d[eE][-+]?\d",  # 1e-05
    r"\d\.\d{4,}",
    r"\(-?\d[\d.]*, -?\d[\d.]*\)",  # a point
    r"[\[(]'|'[\])]|\('",  # a list of names as the language writes it
    r"(?<![\w’])'[^' ]*'(?!\w)",  # a name in its quotes
    r"[{}]",  # a template that wasn't filled in
    r"\bdart-(?!to-)\w+-\w+|\b(?:waist|hem|side|armhole|shoulder|neckline|cap|underarm|centre|panel)-(?:left|right)\b",
    r"\b\w+-[ab]\b|/[ab]\b",  # a leg of a dart, a part of a line
)
"""What figures and names never look like in a sentence, each a regular expression."""

_WORDS = re.compile("|".join(rf"\b(?:{each})\b" for each in ENGINE_WORDS) + "|" + "|".join(ODD_FIGURES))
_SNAKE = re.compile(r"\b[a-zA-Z]\w*_\w+\b")
_READ = re.compile(r"“[^”]*”")


def engine_words(text: str) -> tuple[str, ...]:
    """Return what a sentence holds that no maker should meet; what was read of a ticket (“…”) isn't looked at."""
    said = _READ.sub("“”", text)
    keys = _known_keys()
    return (
        *(found.group(0) for found in _WORDS.finditer(said)),
        *(word for word in _SNAKE.findall(said) if word not in keys and word != "BLOCKWRIGHT_TRACE"),
    )


@cache
def _known_keys() -> frozenset[str]:
    """Every key that a ticket may have."""
    catalogue = find_catalogue()
    steps = [catalogue.block(name, "") for name in catalogue.blocks]
    steps += [catalogue.change(name, "") for name in catalogue.changes]
    infos = [*CLOTH_KEYS, *PAPER_KEYS, *STRIPE_KEYS, *seam_keys(catalogue.kinds()), FIT]
    infos += [info for step in steps for info in options_of(step.options)]
    return frozenset({CUT_AGAIN, *TICKET, *WEARER, *measurements(), *(info.name for info in infos)})
