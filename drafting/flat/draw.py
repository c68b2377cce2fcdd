"""Draw the flat: the pieces of a face with darts and seams shut, sleeves beneath, bands and hanging layers on top."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from drafting.body import Body
from drafting.cloth.colour import Tint
from drafting.flat.bands import draw_bands
from drafting.flat.figure import draw_figure
from drafting.flat.inside import draw_inside
from drafting.flat.laying import FaceLay, lay_face
from drafting.flat.marks import draw_gathers, draw_marks, draw_pocket_cloth, draw_topstitching, draw_zips
from drafting.flat.shapes import FlatKind, FlatShape, FlatView, join_points
from drafting.flat.sleeves import ShownArmhole, find_sleeve, hang_sleeve
from drafting.flat.stripes import draw_stripes
from drafting.garment import Face, Garment, Line, Piece, Role, Side, Use
from drafting.garment.laying import Striped
from drafting.trade import TradeValue

BODY_BELOW = TradeValue(160.0, "mm", "derived", "by drawing")
"""By which the body is drawn below the garment."""

_SEAMS = {Role.STYLE, Role.CENTRE, Role.WAIST}


def draw_flat(
    garment: Garment,
    body: Body,
    hems: Mapping[str, float],
    striped: Striped = MappingProxyType({}),
    tints: Mapping[str, Tint] = MappingProxyType({}),
) -> tuple[FlatView, FlatView]:
    """Return the garment on a body from in front and from behind; ``hems`` are its hems' depths (mm) by opening.

    ``striped`` tells how stripes lie on its pieces, where its cloth has any, ``tints`` the colours of its cloths.
    Each shape says of which piece it is the area, and which lines of pieces lie along it: ``drafting.flat.marking``
    points out pieces and seams by that.
    """
    front, back = (lay_face(garment, face, striped) for face in (Face.FRONT, Face.BACK))
    views = _view(garment, front, back, body, hems), _view(garment, back, front, body, hems)
    return (_tint(views[0], garment, tints), _tint(views[1], garment, tints)) if tints else views


def _tint(view: FlatView, garment: Garment, tints: Mapping[str, Tint]) -> FlatView:
    """A view with every area in the colour of its cloth."""
    of = {piece.name: tints[piece.cloth] for piece in garment.pieces if piece.cloth in tints}
    return FlatView(view.face, tuple(replace(each, tint=of.get(each.piece)) for each in view.shapes))


def _view(garment: Garment, lay: FaceLay, behind: FaceLay, body: Body, hems: Mapping[str, float]) -> FlatView:
    view = FlatView(
        lay.face,
        (
            *draw_inside(garment, lay, behind),
            *_sleeves(garment, lay, hems),
            *_layer(garment, lay, lay.base, hems),
            *draw_zips(garment, lay.names, lay.lies),
            *draw_bands(garment, lay.names, lay.lies, striped=lay.striped),
            *_layer(garment, lay, lay.hung, hems),
        ),
    )
    return FlatView(lay.face, (*draw_figure(body, view.bounds[1] - BODY_BELOW), *view.shapes))


def _layer(garment: Garment, lay: FaceLay, pieces: Sequence[Piece], hems: Mapping[str, float]) -> Iterator[FlatShape]:
    """Pieces side by side: their cloth, their lines, and what lies on them."""
    for piece in pieces:
        yield FlatShape(FlatKind.CLOTH, join_points([lay.course(piece, line) for line in piece.ring]), piece.name)
        met, hiding = draw_pocket_cloth(piece, lay.lies, lay.striped)
        yield from (*met, *draw_stripes(piece, lay.striped, lay.lies), *hiding)
    for piece in pieces:
        yield from _lines(garment, piece, lay)
    names = frozenset(piece.name for piece in pieces)
    yield from draw_gathers(garment, names, lay.lies)
    yield from draw_topstitching(garment, names, lay.lies)
    yield from draw_marks(garment, pieces, hems, lay.lies)


def _lines(garment: Garment, piece: Piece, lay: FaceLay) -> Iterator[FlatShape]:
    for line in piece.all_lines:
        use = Use(piece.name, line.name)
        beneath = (piece.name, line.name) in lay.beneath
        yield FlatShape(_kind(garment, line, beneath), lay.course(piece, line), uses=(use,))


def _kind(garment: Garment, line: Line, beneath: bool) -> FlatKind:
    if beneath:
        return FlatKind.HIDDEN
    if line.role is Role.DART:
        return FlatKind.DART
    set_in = line.role is Role.ARMHOLE and find_sleeve(garment, line.side) is not None
    return FlatKind.SEAM if set_in or line.role in _SEAMS else FlatKind.EDGE


def _sleeves(garment: Garment, lay: FaceLay, hems: Mapping[str, float]) -> Iterator[FlatShape]:
    for side in (Side.LEFT, Side.RIGHT):
        lines = [(piece, line) for piece in lay.base for line in piece.lines(role=Role.ARMHOLE) if line.side is side]
        if lines:
            armhole = ShownArmhole.along([lay.course(piece, line) for piece, line in lines])
            yield from hang_sleeve(garment, side, lay, armhole, hems)
