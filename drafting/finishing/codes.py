"""The letters of an earlier draft, kept: a piece that was printed as E stays E, so that old and new papers agree."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import count

from drafting.finishing.cutpiece import CutPiece
from drafting.text import letters_of

_CODE = re.compile(r"[A-Z]{1,3}")


def keep_codes(cut: Sequence[CutPiece], earlier: Mapping[str, str]) -> tuple[CutPiece, ...]:
    """Return the pieces with the codes that pieces of their names had in an earlier draft.

    ``earlier`` gives codes by name. A piece that is new takes the next letters that no earlier piece had, so that no
    letter ever stands for two pieces on one table. What isn't a code, or stands there twice, counts for nothing.
    """
    known: dict[str, str] = {}
    for name, code in earlier.items():
        if _CODE.fullmatch(code) and code not in known.values():
            known[name] = code
    taken = set(known.values())
    free = (letters for letters in map(letters_of, count()) if letters not in taken)
    return tuple(replace(piece, code=known[piece.name] if piece.name in known else next(free)) for piece in cut)
