"""Names: every seam speaks of pieces and lines that there are, each name standing once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from drafting.errors import close_matches
from drafting.garment import Brief, Garment, Piece, Seam
from drafting.proof.finding import Finding, Severity


def check_names(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge the names; where one can't be followed, nothing else about the garment can be proved."""
    lines = {piece.name: {line.name for line in piece.all_lines} for piece in garment.pieces}
    twice = (finding for piece in garment.pieces for finding in _find_doubles(piece))
    return (*twice, *(finding for seam in garment.seams for finding in _seam(seam, lines)))


def _error(place: str, says: str, mend: str) -> Finding:
    return Finding("names.unknown", Severity.ERROR, place, None, None, says, mend, "")


def _find_doubles(piece: Piece) -> Iterator[Finding]:
    for name, count in Counter(line.name for line in piece.all_lines).items():
        if count > 1:
            says = f"{piece.name} has {count} lines named {name!r}"
            yield Finding("names.twice", Severity.ERROR, f"{piece.name}.{name}", count, 1, says, "name each once", "")


def _seam(seam: Seam, lines: dict[str, set[str]]) -> Iterator[Finding]:
    plies = {len(section.plies) for section in seam.sections} | {len(section.ease) for section in seam.sections}
    if len(plies) != 1 or min(plies) < 1 or not all(section.plies[0] for section in seam.sections):
        yield _error(seam.name, "its sections don't all have the same plies, each with its ease", "state each ply")
    for use in dict.fromkeys(seam.uses()):
        if use.piece not in lines:
            close = ", ".join(close_matches(use.piece, lines)) or ", ".join(lines)
            yield _error(seam.name, f"it sews {use.piece!r}, a piece that isn't there", f"there are: {close}")
        elif use.line not in lines[use.piece]:
            close = ", ".join(close_matches(use.line, lines[use.piece])) or ", ".join(sorted(lines[use.piece]))
            yield _error(seam.name, f"{use.piece} has no line {use.line!r}", f"it has: {close}")
