"""Draw the flat: the pieces of a face with darts and seams shut, sleeves beneath, bands and hanging layers on top."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from drafting.body import Body
from drafting.flat.bands import draw_bands
from drafting.flat.closing import Gap, close_gaps, find_gaps
from drafting.flat.figure import draw_figure
from drafting.flat.marks import draw_gathers, draw_marks, draw_zips
from drafting.flat.shapes import FlatKind, FlatShape, FlatView, Points, join_points, sample_path
from drafting.flat.skirts import Hung, hang_skirts
from drafting.flat.sleeves import hang_sleeve
from drafting.garment import Face, Garment, Line, Piece, Role, Side, Use, hanging_pieces
from drafting.record import dataclass

TUCKED = 4.0
"""By which the neck that is turned away is drawn lower (mm), so that its ends lie behind the shoulders in front."""

BODY_BELOW = 160.0
"""By which the body is drawn below the garment (mm)."""

_SEAMS = {Role.STYLE, Role.CENTRE, Role.WAIST}


@dataclass(frozen=True, slots=True, eq=False)
class FaceLay:
    """How the pieces of a face lie in the flat: what is sewn shut, and how skirts hang."""

    gaps: tuple[Gap, ...]
    skirts: Mapping[str, Hung]

    def lay(self, piece: str, points: Points) -> Points:
        """Return points of a piece as they lie in the flat."""
        below = piece in self.skirts
        shut = close_gaps(points, (gap for gap in self.gaps if (gap.piece in self.skirts) is below))
        return self.skirts[piece](shut) if piece in self.skirts else shut


def draw_flat(garment: Garment, body: Body, hems: Mapping[str, float]) -> tuple[FlatView, FlatView]:
    """Return the garment on a body from in front and from behind; ``hems`` are its hems' depths (mm) by opening."""
    lays = {face: _lay_face(garment, face) for face in (Face.FRONT, Face.BACK)}
    views = (_view(garment, face, lays, hems) for face in lays)
    front, back = (
        FlatView(view.face, (*draw_figure(body, view.bounds[1] - BODY_BELOW), *view.shapes)) for view in views
    )
    return front, back


def _view(garment: Garment, face: Face, lays: Mapping[Face, FaceLay], hems: Mapping[str, float]) -> FlatView:
    hanging = hanging_pieces(garment)
    pieces = [piece for piece in garment.pieces if piece.face is face]
    base = [piece for piece in pieces if piece.name not in hanging]
    names = frozenset(piece.name for piece in base)
    lay, away = lays[face], Face.BACK if face is Face.FRONT else Face.FRONT

    def lies(use: Use, points: Points) -> Points:
        return lay.lay(use.piece, points)

    shapes = (
        *_inside(garment, away, lays[away]),
        *_sleeves(garment, base, lay, hems),
        *(shape for piece in base for shape in _piece(piece, lay)),
        *draw_gathers(garment, names, lies),
        *draw_marks(garment, base, hems, lies),
        *draw_zips(garment, face, lies),
        *draw_bands(garment, names, lies),
        *(shape for piece in pieces if piece.name in hanging for shape in _piece(piece, lay)),
        *draw_marks(garment, [piece for piece in pieces if piece.name in hanging], hems, lies),
    )
    return FlatView(face, shapes)


def _lay_face(garment: Garment, face: Face) -> FaceLay:
    gaps = find_gaps(garment, face)
    return FaceLay(gaps, hang_skirts(garment, face, gaps))


def _inside(garment: Garment, face: Face, lay: FaceLay) -> Iterator[FlatShape]:
    """The neck of the face that is turned away, where it stands above that in front."""
    hanging = hanging_pieces(garment)
    base = [piece for piece in garment.pieces if piece.face is face and piece.name not in hanging]

    def lies(use: Use, points: Points) -> Points:
        return lay.lay(use.piece, points) * (-1.0, 1.0) - (0.0, TUCKED)

    for piece in base:
        for line in piece.lines(role=Role.NECKLINE):
            yield FlatShape(FlatKind.EDGE, lies(Use(piece.name, line.name), sample_path(line.path)))
    yield from draw_bands(garment, frozenset(piece.name for piece in base), lies, frozenset({Role.NECKLINE}))


def _sleeves(garment: Garment, base: Sequence[Piece], lay: FaceLay, hems: Mapping[str, float]) -> Iterator[FlatShape]:
    for side in (Side.LEFT, Side.RIGHT):
        lines = [(piece, line) for piece in base for line in piece.lines(role=Role.ARMHOLE) if line.side is side]
        if lines:
            armhole = join_points([lay.lay(piece.name, sample_path(line.path)) for piece, line in lines])
            yield from hang_sleeve(garment, side, armhole, hems)


def _piece(piece: Piece, lay: FaceLay) -> Iterator[FlatShape]:
    courses = [(line, lay.lay(piece.name, sample_path(line.path))) for line in piece.ring]
    yield FlatShape(FlatKind.CLOTH, join_points([course for _, course in courses]))
    for line, course in courses:
        yield FlatShape(_kind(line), course)
    for slit in piece.slits:
        for line in slit:
            yield FlatShape(FlatKind.DART, lay.lay(piece.name, sample_path(line.path)))


def _kind(line: Line) -> FlatKind:
    if line.role is Role.DART:
        return FlatKind.DART
    return FlatKind.SEAM if line.role in _SEAMS else FlatKind.EDGE
