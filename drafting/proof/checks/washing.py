"""What the wash takes of cloths that are washed before they are cut, and of those that larger prints are drawn for."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

from drafting.cloth import Cloth
from drafting.finishing.growth import grain_map, grown_apart
from drafting.finishing.labels import name_cloth
from drafting.garment import Garment, Piece, Run
from drafting.garment.model import INTERFACING, MAIN_CLOTH
from drafting.proof.finding import Finding, Severity
from drafting.saying import Words, list_sayings, say, show_share
from drafting.trade import TradeValue

GROWN_APART = TradeValue(0.01, "share", "from memory", "a centimetre in a metre is eased in unseen")
"""By which edges that are sewn to each other may be cut longer the one than the other, for the wash to even out."""

AFTER_WASH = "zips, stays and tapes don't shrink: ease the cloth onto them; after the wash both are as long"
"""What is said of what doesn't shrink with the cloth."""


def note_wash(place: str, cloth: Cloth, code: str) -> Iterator[Finding]:
    """Yield whether a cloth is washed before it is cut, and what the pattern is drawn for; a note's ``code``."""
    ways = (("length", cloth.shrink_along), ("width", cloth.shrink_across))
    lost = [f"shrinkage of {show_share(share)} in {way}" for way, share in ways if share > 0.0]
    gained = [f"growth of {show_share(-share)} in {way}" for way, share in ways if share < 0.0]
    most = max(cloth.shrink_along, cloth.shrink_across, key=abs)
    drawn_for = " and ".join(lost + gained)
    if cloth.cut_unwashed and not drawn_for:
        words = f"{cloth.name}: cut_unwashed is said, but not what the wash takes: the pattern is no larger for it"
        mend = "write shrink_across and shrink_along, by a square that was measured, washed and measured again"
        yield Finding("cloth.unwashed", Severity.WARNING, place, None, None, words, mend, "share")
    elif cloth.cut_unwashed:
        told = f"the pattern is drawn for {drawn_for}, allowances too; {AFTER_WASH}"
        words = f"{cloth.name}: cut it unwashed, and sew on the printed stitching line; {told}"
        yield Finding(code, Severity.NOTE, place, most, 0.0, words, "", "share")
    elif drawn_for:
        words = f"{cloth.name}: wash and dry the cloth first; this draft makes no allowance for {drawn_for}"
        mend = "cut it only after it was washed and dried as the garment will be"
        yield Finding("cloth.shrink", Severity.WARNING, place, most, 0.0, words, mend, "share")


def find_grown_apart(garment: Garment, cloths: Mapping[str, Cloth]) -> Iterator[Finding]:
    """Yield where what is cut larger for the wash, or is turned on such a cloth, doesn't meet as it is sewn."""
    if any(cloth.cut_unwashed for cloth in cloths.values()):
        yield from _find_unlike_cloths(garment, cloths)
        yield from _find_turned(garment, cloths)
        yield from _find_unlike_layers(garment, cloths)


def _find_unlike_cloths(garment: Garment, cloths: Mapping[str, Cloth]) -> Iterator[Finding]:
    """Seams of cloths of which one is cut larger for the wash than the other."""
    seams: dict[tuple[str, str], list[Words]] = {}
    for seam in garment.seams:
        of = sorted({garment.piece(use.piece).cloth for use in seam.uses()} & {*cloths})
        for pair in itertools.combinations(of, 2):
            if grown_apart(*(cloths[name].growth for name in pair)) > GROWN_APART:
                seams.setdefault(pair, []).append(seam.title)
    for pair, titles in seams.items():
        one, two = (cloths[name] for name in pair)
        most = grown_apart(one.growth, two.growth)
        told = say(
            "{cut}: as they are sewn, edges differ by up to {most} at {seams}",
            cut=_tell_cut(*pair, cloths),
            most=show_share(most),
            seams=list_sayings(titles, "; "),
        )
        mend = "wash both before they are cut, and say cut_unwashed of neither; or of both, if they shrink alike"
        yield Finding("cloth.grown_apart", Severity.WARNING, _place(pair[0]), most, GROWN_APART, told, mend, "share")


def _find_turned(garment: Garment, cloths: Mapping[str, Cloth]) -> Iterator[Finding]:
    """Seams of one cloth whose edges run unlike on it, so that the wash takes unlike shares: of pieces turned on it."""
    found: dict[str, dict[Words, float]] = {}
    for seam in garment.seams:
        kinds = {garment.piece(use.piece).cloth for use in seam.uses()}
        if len(kinds) == 1 and (kind := next(iter(kinds))) in cloths:
            most = max((_spread_of(garment, section.plies, cloths[kind]) for section in seam.sections), default=0.0)
            if most > GROWN_APART:
                found.setdefault(kind, {})[seam.title] = most
    for kind, seams in found.items():
        told = say(
            "{name} is cut unwashed: these edges differ on the paper, and agree after the wash: {seams}. Ease the "
            "longer in between the notches",
            name=cloths[kind].name,
            seams=list_sayings(
                [say("{seam} by {share}", seam=seam, share=show_share(by)) for seam, by in seams.items()], "; "
            ),
        )
        most = max(seams.values())
        yield Finding("cloth.grown_unlike", Severity.NOTE, _place(kind), most, GROWN_APART, told, "", "share")


def _spread_of(garment: Garment, plies: Sequence[Run], cloth: Cloth) -> float:
    """By what share of itself the longest and the shortest of some layers of a seam are unlike grown."""
    times = [_times_drawn(garment, run, cloth) for run in plies if run]
    return max(times) - min(times) if times else 0.0


def _times_drawn(garment: Garment, run: Run, cloth: Cloth) -> float:
    drawn = sum(
        garment.line(use).path.transformed(grain_map(garment.piece(use.piece).grain, *cloth.growth)).length
        for use in run
    )
    return drawn / garment.run_length(run)


def _find_unlike_layers(garment: Garment, cloths: Mapping[str, Cloth]) -> Iterator[Finding]:
    """What is cut once more from a cloth that shrinks otherwise than the one that it lies beneath."""
    layers: dict[tuple[str, str], list[Piece]] = {}
    for piece in garment.pieces:
        for kind in piece.again:
            layers.setdefault((piece.cloth, kind), []).append(piece)
    for (own, kind), pieces in layers.items():
        plain = (1.0, 1.0)
        over, beneath = (cloths[name].growth if name in cloths else plain for name in (own, kind))
        beneath = plain if kind == INTERFACING else beneath
        most = grown_apart(over, beneath)
        if most > GROWN_APART:
            yield _tell_unlike_layers(own, kind, cloths, pieces, most)


def _tell_unlike_layers(
    own: str, kind: str, cloths: Mapping[str, Cloth], pieces: Sequence[Piece], most: float
) -> Finding:
    titles = list_sayings([piece.title for piece in pieces], "; ")
    if kind == INTERFACING:
        told = say(
            "the {name} is cut unwashed, and interfacing is put on it: {titles}. It is cut as large as the paper, and "
            "where it doesn't shrink with the cloth, by {most}, it bubbles",
            name=name_cloth(own),
            titles=titles,
            most=show_share(most),
        )
    else:
        told = say(
            "{cut}: each has its own paper for {titles}. They agree after the wash; as they are sewn, edges differ by "
            "up to {most}",
            cut=_tell_cut(own, kind, cloths),
            titles=titles,
            most=show_share(most),
        )
    mend = "wash both before they are cut, and say cut_unwashed of neither"
    return Finding("cloth.grown_apart", Severity.WARNING, _place(kind), most, GROWN_APART, told, mend, "share")


def _tell_cut(one: str, two: str, cloths: Mapping[str, Cloth]) -> str:
    """How two cloths are cut: the one as it is bought, the other washed, or both as they are bought."""
    unwashed = [name for name in (one, two) if name in cloths and cloths[name].growth != (1.0, 1.0)]
    if len(unwashed) > 1:
        return f"the {name_cloth(one)} and the {name_cloth(two)} are cut unwashed, and shrink unlike"
    bought, washed = (one, two) if unwashed == [one] else (two, one)
    return f"the {name_cloth(bought)} is cut unwashed, the {name_cloth(washed)} washed"


def _place(name: str) -> str:
    return "cloth" if name == MAIN_CLOTH else f"cloths.{name}"
