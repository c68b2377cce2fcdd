"""Stays that are tapes: along which edges, how long each is cut, and how it is put on, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from drafting.garment import Fate, Garment, Instruction, Piece, Side, Use, Zone
from drafting.garment.features import Gathers, StayCut
from drafting.garment.named_marks import SHARP
from drafting.garment.places import OVER_STITCHING, gathered_length
from drafting.geometry import turn
from drafting.units import Unit, show_length
from drafting.work.telling import and_, is_knit


def find_tapes(garment: Garment) -> Iterator[tuple[str, Zone, Side, str, float]]:
    """Yield each stay that is a tape: the piece's title, its first zone, the edge's side and its role, its length (mm).

    Along an edge that is gathered it is as long as what is gathered. A corner that is stay-stitched is told with the
    band that is clipped in there.
    """
    for piece, zone, length in list_tapes(garment):
        line = piece.line(zone.line)
        yield str(piece.title).lower(), zone, line.side, line.role.value, length


def list_tapes(garment: Garment) -> Iterator[tuple[Piece, Zone, float]]:
    """Yield each stay that is a tape, or is cut as a strip: its piece, its first zone and its length (mm).

    Of zones that go on in each other it is cut as the most bent one asks.
    """
    for piece in garment.pieces:
        for zones in _join_tapes(piece):
            lengths = (
                (piece.line(zone.line).path.length - gathered_length(garment, [Use(piece.name, zone.line)]))
                * (zone.end - zone.start)
                for zone in zones
            )
            bias = next((zone.cut for zone in zones if zone.cut is StayCut.BIAS), zones[0].cut)
            yield piece, replace(zones[0], cut=bias), sum(lengths)


def name_tapes(found: Iterable[tuple[str, Zone, Side, str, float]], unit: Unit) -> Iterator[tuple[str, str, str, int]]:
    """Yield the title of a piece, an edge of it that is taped, how long its stay is cut, and how many there are.

    Alike on both sides they are named once; else each is told with its side.
    """
    edges: dict[tuple[str, str], list[tuple[Side, str]]] = {}
    for title, _, side, role, length in found:
        edges.setdefault((title, role), []).append((side, show_length(length, unit)))
    for (title, role), cut in edges.items():
        if len({length for _, length in cut}) == 1:
            yield title, role, cut[0][1], len(cut)
        else:
            yield from ((title, f"{side} {role}".strip(), length, 1) for side, length in cut)


def _join_tapes(piece: Piece) -> Sequence[Sequence[Zone]]:
    """The stays of a piece that are tapes; those that go on from one edge to the next, as at a centre, are one."""
    place = {line.name: i for i, line in enumerate(piece.ring)}
    runs: list[list[Zone]] = []
    for zone in sorted((zone for zone in piece.zones if zone.taped), key=lambda zone: (place[zone.line], zone.start)):
        if runs and _goes_on(piece, runs[-1][-1], zone):
            runs[-1].append(zone)
        else:
            runs.append([zone])
    if len(runs) > 1 and _goes_on(piece, runs[-1][-1], runs[0][0]):
        runs[0][:0] = runs.pop()
    return runs


def _goes_on(piece: Piece, one: Zone, two: Zone) -> bool:
    """Whether a stay goes on in another, over no corner."""
    line, beyond = piece.line(one.line), piece.after(one.line)
    meet = (one.end, two.start) == (1.0, 0.0) and beyond.name == two.line and beyond.role is line.role
    return meet and abs(turn(line.path.tangent(line.path.length), beyond.path.tangent(0.0))) < SHARP


def tape_words(garment: Garment, unit: Unit) -> Iterator[Instruction]:
    """Tell what is taped so that it doesn't grow: the edges that are hatched on the paper."""
    edges: dict[str, list[str]] = {}
    gathered: dict[str, float] = {}
    drawn_up = {(str(p.title).lower(), each.line) for p in garment.pieces for each in p.of_kind(Gathers)}
    flat = []
    for tape in find_tapes(garment):
        title, zone, _, role, length = tape
        if (title, zone.line) in drawn_up:
            gathered[f"{title} ({role})"] = gathered.get(f"{title} ({role})", 0.0) + length
        else:
            flat.append(tape)
    for title, edge, cut, count in name_tapes(flat, unit):
        edges.setdefault(title, []).append(f"{edge} {cut}{' each' if count > 1 else ''}")
    if edges or gathered:
        what = "clear elastic, a strip of the selvedge or fusible tape" if is_knit(garment) else "tape"
        strips = dict.fromkeys(zone.cut for _, zone, _ in list_tapes(garment))
        if StayCut.TAPE not in strips:
            bent = ", those on the bias shaped with the iron to the curves they lie along"
            what = f"the strips of stay cloth{bent * (StayCut.BIAS in strips)}"
        yield Instruction(
            "Stay tape",
            (
                f"Use {what}.",
                "Sew or fuse it along the edges that are hatched on the paper, so that they can't grow.",
                *_lay_tapes(garment, unit),
                *(f"{title.capitalize()}: {', '.join(told)}." for title, told in edges.items()),
                *(
                    f"{name.capitalize()}: only once it is gathered, cut {show_length(length, unit)} long."
                    for name, length in gathered.items()
                ),
            ),
        )


def _lay_tapes(garment: Garment, unit: Unit) -> Iterator[str]:
    """How a tape lies: across the stitching of a seam, level with an edge that has no allowance."""
    taped = [(piece, zone) for piece in garment.pieces for zone in piece.zones if zone.taped]
    bare = dict[tuple[str, float], dict[str, None]]()
    for piece, zone, line in ((piece, zone, piece.line(zone.line)) for piece, zone in taped):
        if line.fate is not Fate.SEWN:
            wide = zone.width if line.fate is Fate.BOUND else 0.0
            bare.setdefault((line.role.value, wide), {})[str(piece.title).lower()] = None
    if any(piece.line(zone.line).fate is Fate.SEWN for piece, zone in taped):
        over = show_length(OVER_STITCHING, unit)
        yield f"At a seam lay it over the stitching line, {over} of it inside the garment."
    for (role, wide), titles in bare.items():
        yield f"The {role} of {and_(tuple(titles))} has no allowance: lay it level with the edge there."
        if wide:
            narrow = show_length(wide, unit, sixteenths=True)
            yield f"Cut a wider tape down to {narrow} there: the binding hides no more."
    if any(not zone.taped for piece in garment.pieces for zone in piece.zones):
        yield "Corners are hatched too: those are only stay-stitched, when their band is sewn on."
