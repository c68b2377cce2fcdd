"""A facing in one: neck and armholes of a garment without sleeves finished together, front and back each by one piece.

It reaches from shoulder to shoulder and down past the underarm, where the side seams take it in: narrow facings of neck
and armhole side by side would roll out (common practice). Its pieces are no part of the garment's surface: a second
layer, within it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from blocks.facing_outline import FacedEdge, FacedTop, draw_lower_edge, find_tops, run_of, side_seam
from blocks.facing_words import tell_facing_in_one
from drafting.garment import (
    LOCKSTITCH,
    Face,
    Fact,
    Fate,
    Garment,
    Line,
    Opening,
    Piece,
    Role,
    Run,
    Seam,
    SeamKind,
    Section,
    Side,
    Use,
    hanging_pieces,
)
from drafting.garment.deeds import TURNED_IN
from drafting.garment.model import INTERFACING
from drafting.redraw.onto import sew_edges
from drafting.saying import Name, say
from drafting.work.kinds import ENDS

FACED_IN_ONE: Final = SeamKind("facing", "the seam of a facing", tell_facing_in_one, stitch=LOCKSTITCH, by_edge=True,
                      within=True, lay=TURNED_IN, stiffened="facings", always_stiffened=True)  # fmt: skip
"""A facing in one sewn to the neck or an armhole; what closes the back is put in once it is turned in."""


def face_in_one(garment: Garment, faced: Sequence[Opening], width: float) -> Garment | None:
    """Face neck and armholes in one; None where front and back can't each have one piece, as under an overlay."""
    tops = None if hanging_pieces(garment) else find_tops(garment, width)
    if tops is None:
        return None
    parts = {opening.name: _part_run(garment, tops, opening) for opening in faced}
    if not all(part and all(i >= 0 for i, _ in part) for part in parts.values()):
        return None
    names = _name_tops(tops)
    ends = _sew_shoulders(tops, names)
    sides = _sew_sides(garment, tops, names)
    if ends is None or sides is None:
        return None
    seams = [_sew_on(opening, parts[opening.name], tops, names) for opening in faced]
    pieces = [_draw_piece(garment, top, name, width) for top, name in zip(tops, names, strict=True)]
    uses = [use for part in parts.values() for _, run in part for use in run]
    return garment.with_(
        pieces=(*sew_edges(garment, uses), *pieces),
        seams=(*ends, *seams, *sides),
        facts=[Fact("facing_width", width, "mm", "choice", "below the underarm; more at the centre")],
    )


def _part_run(garment: Garment, tops: Sequence[FacedTop], opening: Opening) -> tuple[tuple[int, Run], ...]:
    """The part of an opening that each facing is sewn to, in order, from the closure or the underarm on."""
    closed = {(use.piece, use.line) for seam in garment.seams if seam.kind.closes for use in seam.uses()}
    run = [use for use in opening.run if (use.piece, use.line) not in closed]
    if not run:
        return ()
    role = garment.line(run[0]).role
    starts = {(top.of(role)[0].use.piece, top.of(role)[0].use.line) for top in tops if top.of(role)}
    ends = {(top.first[0].line.role, top.top[0].use) for top in tops}
    first = next(
        (i for i, use in enumerate(run) if any(use == edge for _, edge in ends)),
        next((i for i, use in enumerate(run) if (use.piece, use.line) in starts), 0),
    )
    return run_of(garment, tops, role, (*run[first:], *run[:first]))


def _name_tops(tops: Sequence[FacedTop]) -> list[str]:
    """A name for each facing: by its face, and by its side where a face has two."""
    faces = [top.top[0].line.face for top in tops]
    sides = [_side_of(top) for top in tops]
    return [
        f"facing-{face}" if faces.count(face) == 1 else f"facing-{face}-{side}"
        for face, side in zip(faces, sides, strict=True)
    ]


def _side_of(top: FacedTop) -> Side:
    """The side of a facing that reaches one side seam alone; none of a whole one."""
    found = {edge.line.side for edge in (*top.first, *top.last) if edge.line.role is Role.SIDE}
    return found.pop() if len(found) == 1 else Side.NONE


def _line_name(edge: FacedEdge) -> str:
    return f"facing-{edge.use.piece}-{edge.use.line}"


def _draw_piece(garment: Garment, top: FacedTop, name: str, width: float) -> Piece:
    """The facing drawn from its right side: the mirror image of the garment's."""
    closed = {edge.line.name for edge in (*top.first, *top.last) if edge.line.role is Role.CENTRE}
    lines = [_draw_line(edge, edge.line.name in closed) for edge in reversed(top.edges)]
    lower = draw_lower_edge(top, width).mirrored().reversed()
    ring = (*lines, Line("edge", lower, Role.EDGE, fate=Fate.RAW))
    face, side = top.top[0].line.face, _side_of(top)
    apart = side and name.endswith(side)
    title = (
        say("{side:capital} {face} facing", side=side, face=face) if apart else say("{face:capital} facing", face=face)
    )
    faced = garment.piece(top.top[0].use.piece)
    notes = ("Cut in interfacing too.",)
    return Piece(name, title, ring, grain=faced.grain, notes=notes, again=(INTERFACING,), laid=faced.laid)


def _draw_line(edge: FacedEdge, opened: bool) -> Line:
    """A line of the facing: what is sewn to neck or armhole is like it, shoulders and sides are ends."""
    line, path = edge.line, edge.path.mirrored().reversed()
    if line.role not in (Role.NECKLINE, Role.ARMHOLE):
        return Line(_line_name(edge), path, Role.END, opening="neck" if opened else "")
    ancestry = tuple(f"facing-{edge.use.piece}-{name}" for name in line.ancestry)
    return Line(_line_name(edge), path, line.role, line.side, line.face, ancestry=ancestry)


def _uses_on(name: str, edges: Iterable[FacedEdge]) -> Run:
    """Lines of a facing, in the direction of the garment's ring."""
    return tuple(Use(name, _line_name(edge), True) for edge in edges)


def _sew_on(opening: Opening, parts: Sequence[tuple[int, Run]], tops: Sequence[FacedTop], names: Sequence[str]) -> Seam:
    """The seam that sews the facings to an opening's edge."""
    plies = [(run, tuple(Use(names[i], f"facing-{use.piece}-{use.line}", True) for use in run)) for i, run in parts]
    if opening.name != "neck" and tops[parts[0][0]].top[0].line.face is Face.BACK:
        plies = [(_turn_back(one), _turn_back(two)) for one, two in reversed(plies)]  # armholes run front to back
    sections = tuple(Section(each, (0.0, 0.0)) for each in plies)
    return Seam(
        f"{opening.name}-facing", FACED_IN_ONE, say("{opening:spoken} facing", opening=Name(opening.name)), sections
    )


def _turn_back(run: Run) -> Run:
    return tuple(use.reversed for use in reversed(run))


def _sew_shoulders(tops: Sequence[FacedTop], names: Sequence[str]) -> list[Seam] | None:
    """The seams that join the facings at the shoulders; None where a front's and a back's don't answer each other."""
    found: dict[Side, list[_Shoulder]] = {}
    for top, name in zip(tops, names, strict=True):
        for side in (Side.LEFT, Side.RIGHT):
            edges = [edge for edge in top.of(Role.SHOULDER) if edge.line.side is side]
            if edges:
                long = math.fsum(edge.path.length for edge in edges)
                found.setdefault(side, []).append((edges[0].line.face, _uses_on(name, edges), long))
    if any({face for face, _, _ in runs} != {Face.FRONT, Face.BACK} or len(runs) != 2 for runs in found.values()):
        return None
    return [_sew_shoulder(side, *sorted(runs, key=lambda run: run[0] is Face.BACK)) for side, runs in found.items()]


_Shoulder = tuple[Face, Run, float]


def _sew_shoulder(side: Side, front: _Shoulder, back: _Shoulder) -> Seam:
    """One of them: front and back as long as the garment's own, as much eased in."""
    title = say("{side} shoulder of the facing", side=side)
    plies = front[1], _turn_back(back[1])
    return Seam(f"facing-shoulder-{side}", ENDS, title, (Section(plies, (0.0, back[2] - front[2])),), LOCKSTITCH)


def _sew_sides(garment: Garment, tops: Sequence[FacedTop], names: Sequence[str]) -> list[Seam] | None:
    """The side seams, run on along the facings; None where there is none between two of them."""
    ends: dict[Side, list[tuple[FacedEdge, Run]]] = {}
    for top, name in zip(tops, names, strict=True):
        for edges, down in ((top.first, False), (top.last, True)):
            if edges and edges[0].line.role is Role.SIDE:
                run = _uses_on(name, edges)
                run = run if down else _turn_back(run)
                ends.setdefault(edges[0].line.side, []).append((edges[0 if down else -1], run))
    out = []
    for side, both in ends.items():
        seam = side_seam(garment, both[0][0], both[1][0]) if len(both) == 2 and side else None
        if seam is None:
            return None
        out.append(_run_on(seam, both))
    return out


def _run_on(seam: Seam, both: Sequence[tuple[FacedEdge, Run]]) -> Seam:
    """A side seam that goes on from the underarm along the ends of the facing."""
    runs = {edge.use.piece: run for edge, run in both}
    plies = tuple(runs[ply[-1].piece] for ply in seam.plies)
    return replace(seam, sections=(*seam.sections, Section(plies, (0.0, 0.0))))
