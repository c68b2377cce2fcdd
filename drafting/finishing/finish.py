"""From the net garment to pieces ready to cut."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field, replace

from drafting.errors import GeometryError
from drafting.finishing.allowance import NetEdge, cut_lines, hem_depths, hollow_hem, net_edges, reduced_hems
from drafting.finishing.corners import Corner, find_corner
from drafting.finishing.cutpiece import CutEdge, CutPiece, Mark
from drafting.finishing.darts import (
    NO_FOLDS,
    Bridged,
    DartFold,
    bridge_mouths,
    dart_marks,
    dart_notches,
    dart_words,
    halves_a_dart,
    holes,
    mouth_corners,
    roof,
)
from drafting.finishing.folds import Unfolded, cannot_fold, unfold_ring
from drafting.finishing.labels import how_to_cut, labels, side_marks
from drafting.finishing.marks import button_words, buttonhole_marks, marks, mitre_numbers, mitre_words, placement_points
from drafting.finishing.notches import join_notches, notches
from drafting.finishing.parallels import Parallels
from drafting.finishing.plan import FinishPlan
from drafting.finishing.symmetry import Axis, axis_of, halve_ring, image_of, is_on_side
from drafting.finishing.trim import trim_line
from drafting.garment import Garment, Piece, PointFeature, Slit
from drafting.garment.adjusting import agree_adjusts
from drafting.garment.carry import drop_features
from drafting.garment.closure import HoleEnd
from drafting.garment.places import stay_reach
from drafting.geometry import Path
from drafting.record import dataclass
from drafting.saying import Name, Words, render, say, without_sides
from drafting.sides import sideless
from drafting.text import letters_of


@dataclass(slots=True)
class _Print:
    """Pieces that one print serves: the first, those cut the same way up, and those cut turned over."""

    piece: Piece
    edges: tuple[NetEdge, ...]
    axis: Axis | None
    names: list[str] = field(default_factory=list)
    mirrored: int = 0


@dataclass(frozen=True, slots=True)
class _DrawnPrint:
    """What is drawn of a print: its net edges, halved where it lies on a fold, and the ring that they make."""

    group: _Print
    axis: Axis | None
    shown: Unfolded
    ring: Bridged


@dataclass(frozen=True, slots=True)
class _Work:
    """What all pieces of one finish share."""

    plan: FinishPlan
    depths: Mapping[str, float]
    parallels: Parallels
    garment: Garment


def finish(garment: Garment, plan: FinishPlan) -> tuple[CutPiece, ...]:
    """Return the cut pieces of a garment, in its pieces' order; each may stand for several net pieces.

    A piece that mirrors onto itself is printed as a half on the fold if the plan asks for that; two that mirror onto
    each other are printed once, and so are pieces that are the same.
    """
    work = _Work(plan, hem_depths(garment, plan), Parallels(), garment)
    every = [_draw_print(group, plan) for group in _prints(work)]
    work.parallels.prepare(line for drawn in every for line in _offset_lines(drawn))
    return tuple(_cut_piece(drawn, letters_of(i), work) for i, drawn in enumerate(every))


def _draw_print(group: _Print, plan: FinishPlan) -> _DrawnPrint:
    axis = _fold_axis(group, plan)
    shown = unfold_ring(halve_ring(group.edges, axis) if axis else group.edges, plan)
    return _DrawnPrint(group, axis, shown, bridge_mouths(shown.edges, group.piece))


def _offset_lines(drawn: _DrawnPrint) -> Iterator[tuple[Path, float]]:
    """The lines of which a parallel will be drawn, and how far off: every edge, and those that a zone lies along."""
    for edge in drawn.ring.edges:
        yield edge.path, edge.allowance
    for zone in drawn.group.piece.zones:
        for edge in drawn.shown.edges:
            if edge.line == zone.line and not edge.inner:
                inside, outside = stay_reach(zone, edge.allowance if edge.stitched else 0.0)
                yield from ((edge.path, off) for off in (outside, -inside))


def _prints(work: _Work) -> Sequence[_Print]:
    """The garment's pieces, gathered so that what is the same is printed once.

    They have the lengthen/shorten lines as they are drawn; all else is asked of the garment as it was drafted, which
    the proof asks too.
    """
    rings = net_edges(work.garment, work.plan, work.depths)
    agreed, _ = work.garment.find_once(agree_adjusts)
    groups: dict[tuple[str, str, int], list[_Print]] = {}
    prints: list[_Print] = []
    for piece in agreed.pieces:
        edges = rings[piece.name]
        like = groups.setdefault((sideless(piece.name), piece.cloth, len(edges)), [])
        if not any(_joins(group, piece, edges) for group in like):
            group = _Print(piece, edges, axis_of(piece, edges), [piece.name])
            like.append(group)
            prints.append(group)
    return prints


def _share_title(names: Iterable[str], garment: Garment) -> Words:
    """What all of a print are called: "Left sleeve" and "Right sleeve" are both "Sleeve".

    Where their titles don't say the side as a value, it is their name without the side.
    """
    first, *others = (without_sides(garment.piece(name).title) for name in names)
    shared = Name(sideless(next(iter(names)))) if any(other != first for other in others) else first
    return say("{title:capital}", title=shared)


def _joins(group: _Print, piece: Piece, edges: tuple[NetEdge, ...]) -> bool:
    """Whether a piece is the same as a group's first, or its mirror image; if so it is counted in."""
    direct = image_of(group.piece, group.edges, piece, edges, flipped=False)
    if direct is None and image_of(group.piece, group.edges, piece, edges, flipped=True) is None:
        return False
    group.names.append(piece.name)
    group.mirrored += direct is None
    return True


def _cut_piece(drawn: _DrawnPrint, code: str, work: _Work) -> CutPiece:
    plan, group, axis, shown, ring = work.plan, drawn.group, drawn.axis, drawn.shown, drawn.ring
    piece, merged = group.piece, len(group.names) > 1
    outline, corners = _draw_outline(piece, ring, work.parallels)
    sides = side_marks(piece, ring.edges) if group.axis is None and not merged else ()
    if piece.slits and axis is not None:
        piece = drop_features(piece, lambda f: isinstance(f, Slit) and not is_on_side(f.lines[0].path.start, axis))
    reduced = reduced_hems(piece.ring, work.depths, plan)
    both = merged or axis is not None
    return CutPiece(
        name=_shared_name(piece.name, merged),
        title=render(_share_title(group.names, work.garment) if merged else piece.title, plan.unit),
        code=code,
        outline=outline,
        marks=(
            *_name_marks(marks(piece, shown, outline, work.parallels, stretches=piece.cloth not in plan.still), both),
            *dart_marks(piece, ring, outline),
            *sides,
            *buttonhole_marks(piece),
        ),
        notches=(
            *join_notches(work.garment, notches(ring.edges, corners), group.names, both),
            *dart_notches(ring, corners),
        ),
        drills=(
            *((_shared_name(d.name, both), d.at) for d in piece.of_kind(PointFeature) if _is_marked(d, axis)),
            *((_shared_name(name, both), at) for name, at in holes(ring, piece)),
            *((name, at) for name, at in placement_points(piece) if axis is None or is_on_side(at, axis)),
        ),
        quantity=len(group.names),
        mirrored=group.mirrored,
        on_fold=axis is not None,
        how=_how_to_cut(group, axis),
        labels=labels(
            replace(piece, notes=_list_notes(piece, ring, work)),
            ring.edges,
            plan,
            symmetric=group.axis is not None,
            merged=merged,
            reduced_hem=reduced[0] if reduced else None,
            hollow=bool(reduced) and hollow_hem(piece.ring, plan),
            fold_lost=cannot_fold(group.edges),
        ),
        cloth=piece.cloth,
        grain=piece.grain,
        stands_for=tuple(group.names),
        again=piece.again,
        tells=mitre_numbers(work.garment, piece.name),
    )


def _list_notes(piece: Piece, ring: Bridged, work: _Work) -> tuple[Words, ...]:
    """What is told on a print of its darts, its buttons and its mitres, before what its blocks and changes say."""
    unit = work.plan.unit
    return (
        *dart_words(piece, ring, unit),
        *button_words(piece, unit),
        *mitre_words(work.garment, piece.name),
        *piece.notes,
    )


def _how_to_cut(group: _Print, axis: Axis | None) -> str:
    crosswise = axis is not None and axis.crosswise
    return how_to_cut(len(group.names), group.mirrored, axis is not None, crosswise, group.axis is not None)


def _is_marked(point: PointFeature, axis: Axis | None) -> bool:
    return not isinstance(point, HoleEnd) and (axis is None or is_on_side(point.at, axis))


def _shared_name(name: str, both: bool) -> str:
    return (sideless(name) or name) if both else name


def _name_marks(marks: Iterable[Mark], both: bool) -> Iterator[Mark]:
    """The marks of a print; one that serves both sides names no side's level."""
    return (replace(m, name=_shared_name(m.name, both)) if m.kind == "level" else m for m in marks)


def _fold_axis(group: _Print, plan: FinishPlan) -> Axis | None:
    """The axis on which a piece is printed as a half; none where that would halve a dart."""
    if group.axis is None or not plan.on_fold or halves_a_dart(halve_ring(group.edges, group.axis)):
        return None
    return group.axis


def _draw_outline(piece: Piece, ring: Bridged, parallels: Parallels) -> tuple[tuple[CutEdge, ...], tuple[Corner, ...]]:
    try:
        return cut_outline(ring.edges, parallels, ring.folds)
    except GeometryError as error:
        raise GeometryError(say("{title}: {error}", title=piece.title, error=error.words)) from error


def cut_outline(
    edges: Sequence[NetEdge], parallels: Parallels, folds: Mapping[int, DartFold] = NO_FOLDS
) -> tuple[tuple[CutEdge, ...], tuple[Corner, ...]]:
    """Return the cut outline of a ring of net edges, edge by edge, and the corner after each edge.

    ``folds`` gives, by their places, the edges that bridge the mouths of darts.
    """
    cuts = cut_lines(edges, parallels)
    n = len(edges)
    for i, fold in folds.items():
        cuts[i] = roof(fold, cuts[i - 1], cuts[(i + 1) % n])
    corners = tuple(_corner(edges, cuts, i, folds) for i in range(n))
    outline: list[CutEdge] = []
    for i, edge in enumerate(edges):
        start, end, between = corners[i - 1].after, corners[i].before, corners[i].between
        if start.hit or end.hit or not start.point.near(end.point):
            straight = edge.path.is_straight and i not in folds
            outline.append(CutEdge(edge.name, trim_line(cuts[i], start, end, straight), edge.line, edge.allowance))
        if between is not None:
            outline.append(CutEdge(f"{edge.name}|{edges[(i + 1) % n].name}", between))
    return tuple(outline), corners


def _corner(edges: Sequence[NetEdge], cuts: Sequence[Path], i: int, folds: Mapping[int, DartFold]) -> Corner:
    """The corner after edge i."""
    j = (i + 1) % len(edges)
    if i in folds:
        return mouth_corners(folds[i], cuts[i - 1], cuts[j])[1]
    if j in folds:
        return mouth_corners(folds[j], cuts[i], cuts[(j + 1) % len(edges)])[0]
    return find_corner(edges[i], edges[j], cuts[i], cuts[j])
