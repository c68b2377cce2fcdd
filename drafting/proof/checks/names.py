"""Names: every seam speaks of pieces and lines that there are, each name standing once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from drafting.errors import close_matches
from drafting.garment import Brief, Garment, Piece, Seam
from drafting.proof.finding import Finding, Severity
from drafting.saying import Name, Words, list_sayings, say


def check_names(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge the names; where one can't be followed, nothing else about the garment can be proved."""
    lines = {piece.name: {line.name for line in piece.all_lines} for piece in garment.pieces}
    twice = (finding for piece in garment.pieces for finding in _find_doubles(piece))
    return (*twice, *(finding for seam in garment.seams for finding in _seam(seam, lines)))


def _error(place: str, says: Words, mend: Words) -> Finding:
    return Finding("names.unknown", Severity.ERROR, place, None, None, says, mend, "")


def _find_doubles(piece: Piece) -> Iterator[Finding]:
    for name, count in Counter(line.name for line in piece.all_lines).items():
        if count > 1:
            says = say(
                "the {piece:placed} has {count} edges called {line:placed}",
                piece=Name(piece.name),
                count=count,
                line=Name(name),
            )
            yield Finding("names.twice", Severity.ERROR, f"{piece.name}.{name}", count, 1, says, "name each once", "")


def _seam(seam: Seam, lines: dict[str, set[str]]) -> Iterator[Finding]:
    plies = {len(section.plies) for section in seam.sections} | {len(section.ease) for section in seam.sections}
    if len(plies) != 1 or min(plies) < 1 or not all(section.plies[0] for section in seam.sections):
        yield _error(seam.name, "its sections don't all have the same plies, each with its ease", "state each ply")
    for use in dict.fromkeys(seam.uses()):
        if use.piece not in lines:
            says = say("it sews the {piece:placed}, which isn't there", piece=Name(use.piece))
            yield _error(seam.name, says, _tell_near(use.piece, lines))
        elif use.line not in lines[use.piece]:
            says = say("it sews an edge that isn't there, the {line:placed}", line=Name(use.line))
            yield _error(seam.name, says, _tell_near(use.line, lines[use.piece]))


def _tell_near(name: str, known: Iterable[str]) -> Words:
    near = close_matches(name, known) or sorted(known)
    return say("there are: {near}", near=list_sayings([say("{each:placed}", each=Name(each)) for each in near]))
