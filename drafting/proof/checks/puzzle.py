"""The puzzle test: glued along its seams, the garment is one surface with just the openings that are meant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from drafting.garment import Brief, Fate, Garment, Surface
from drafting.mending import situation
from drafting.proof.finding import Finding, Severity
from drafting.redraw.heights import is_skirt
from drafting.saying import Name, Words, say


def check_puzzle(garment: Garment, brief: Brief, surface: Surface) -> tuple[Finding, ...]:
    """Judge the surface: in one part, right side to right side, each edge sewn once, no handle, the openings meant.

    A surface that goes together without a handle has corners - edges + faces = 2 - openings (Euler's count).
    """
    return (*_parts(garment, surface), *_find_unsewn(garment), *_count(surface), *_openings(garment, surface))


def check_twice(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge that no line is sewn twice; where one is, the pieces can't be glued, and there is no surface to judge."""
    uses = Counter((use.piece, use.line) for seam in garment.seams for use in seam.uses())
    names = (f"{piece}.{line}" for (piece, line), count in uses.items() if count > 1)
    return tuple(
        _error("twice", name, None, 1, _tell(name, "is sewn more than once"), "part the line, or leave out a seam")
        for name in names
    )


def _tell(name: str, what: str) -> Words:
    return say("the {name:placed} {what}", name=Name(name), what=what)


def _error(code: str, place: str, value: float | None, limit: float | None, says: Words, mend: str) -> Finding:
    return Finding(f"puzzle.{code}", Severity.ERROR, place, value, limit, says, mend, "")


def _parts(garment: Garment, surface: Surface) -> Iterator[Finding]:
    for name in surface.loose:
        found = _error(
            "apart",
            name,
            surface.components,
            1,
            _tell(name, "isn't joined to the rest of the garment"),
            "leave it out",
        )
        joined = "let the design have the seam that joins it"
        hangs = any(piece.name == name and is_skirt(piece) for piece in garment.pieces)
        yield replace(found, wanted=situation("skirt-apart" if hangs else "piece-apart", joined))
    for name in surface.strays:
        yield _error(
            "turned",
            name,
            None,
            None,
            _tell(name, "joins one piece's right side to the other's wrong side, or end to start"),
            "let the seam's plies run the same way: one with its piece's outline, the other against it",
        )


def _find_unsewn(garment: Garment) -> Iterator[Finding]:
    """Find lines that are to be sewn, bound no opening, and stand in no seam: the ends of a band left open, say."""
    sewn = {(use.piece, use.line) for seam in garment.seams for use in seam.uses()}
    for piece in garment.pieces:
        for line in piece.all_lines:
            if line.fate is Fate.SEWN and not line.opening and (piece.name, line.name) not in sewn:
                place = f"{piece.name}.{line.name}"
                yield _error("unsewn", place, 0, 1, _tell(place, "is to be sewn, but no seam takes it"), "add its seam")


def _count(surface: Surface) -> Iterator[Finding]:
    open_edges = sum(not (opening.hangs or opening.joined) for opening in surface.openings)
    if surface.components == 1 and not surface.twice and surface.euler != 2 - open_edges:
        yield _error(
            "count",
            "garment",
            surface.euler,
            2 - open_edges,
            f"joined along its seams, this is no garment with {open_edges} openings",
            "look for a seam that joins edges across the garment, or a piece sewn in twisted",
        )


def _openings(garment: Garment, surface: Surface) -> Iterator[Finding]:
    found = Counter(opening.name for opening in surface.openings if not opening.hangs)
    meant = Counter(garment.openings)
    hanging = Counter(opening.name for opening in surface.openings if opening.hangs)
    for name in (meant - found - hanging).elements():
        yield _error(
            "missing",
            name,
            0,
            1,
            say("the {name:placed} is to be open, and is sewn shut", name=Name(name)),
            "leave its edges unsewn",
        )
    for name in (found - meant).elements():
        yield _error(
            "unmeant",
            name,
            1,
            0,
            say("the {name:placed} is left open, and isn't meant to be", name=Name(name)),
            "let the design have what is sewn to it, or leave out what has it",
        )
