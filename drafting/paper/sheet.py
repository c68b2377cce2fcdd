"""Where pieces lie on the sheet, and how the sheet is cut into tiles."""

from __future__ import annotations

from collections.abc import Sequence

from drafting.finishing.cutpiece import CutPiece
from drafting.geometry import Affine
from drafting.paper.papers import PaperPlan
from drafting.record import dataclass
from drafting.text import letters_of

_QUARTERS = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))


@dataclass(frozen=True, slots=True)
class Placement:
    """One piece on the sheet: turned by ``turn`` quarter turns anticlockwise about its origin, then moved (mm).

    Never mirrored.
    """

    piece: int
    turn: int
    dx: float
    dy: float

    @property
    def affine(self) -> Affine:
        """The map from the piece's own frame to the sheet; exact for quarter turns."""
        c, s = _QUARTERS[self.turn % 4]
        return Affine(c, -s, self.dx, s, c, self.dy)


@dataclass(frozen=True, slots=True)
class Sheet:
    """The sheet of paper that all pieces lie on.

    Origin at its lower left corner, x to the right, y up (mm).
    """

    width: float
    height: float
    placements: tuple[Placement, ...]


@dataclass(frozen=True, slots=True)
class Tile:
    """One printed page's place in the grid.

    ``row`` counts from the top, ``col`` from the left, both from 0.
    """

    row: int
    col: int

    @property
    def name(self) -> str:
        """The place as printed: "B3" for the second row and the third column.

        >>> Tile(1, 2).name
        'B3'
        """
        return f"{letters_of(self.row)}{self.col + 1}"


@dataclass(frozen=True, slots=True)
class Tiling:
    """A grid of ``rows`` x ``cols`` tiles, each ``width`` x ``height`` mm of pattern.

    ``tiles`` are those that carry something; ``joined`` are the pairs that are joined, None where all neighbours are.
    """

    rows: int
    cols: int
    width: float
    height: float
    tiles: tuple[Tile, ...]
    joined: tuple[tuple[Tile, Tile], ...] | None = None

    def box(self, tile: Tile) -> tuple[float, float, float, float]:
        """Return (xmin, ymin, xmax, ymax) of a tile on the sheet (mm)."""
        x, y = tile.col * self.width, (self.rows - 1 - tile.row) * self.height
        return x, y, x + self.width, y + self.height

    def joins(self) -> tuple[tuple[Tile, Tile], ...]:
        """Return every pair of printed tiles that share an edge and are joined, left before right, upper before lower.

        In reading order.
        """
        if self.joined is not None:
            return self.joined
        printed = set(self.tiles)
        pairs = []
        for tile in self.tiles:
            for other in (Tile(tile.row, tile.col + 1), Tile(tile.row + 1, tile.col)):
                if other in printed:
                    pairs.append((tile, other))
        return tuple(pairs)


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """Everything that output needs to print.

    The pieces, the paper asked for, where each piece lies, and the tiles.
    """

    pieces: tuple[CutPiece, ...]
    paper: PaperPlan
    sheet: Sheet
    tiling: Tiling

    @property
    def pages(self) -> int:
        """How many tiles are printed (the start page not counted)."""
        return len(self.tiling.tiles)

    @property
    def thrift(self) -> float:
        """Tiles printed, over the area of the cut pieces in tiles: 1 would be paper without waste."""
        area = sum(piece.area for piece in self.pieces)
        return self.pages * self.tiling.width * self.tiling.height / area if area > 0 else 0.0

    def placed_pieces(self) -> Sequence[tuple[CutPiece, Placement]]:
        """Return each piece with its placement, in the pieces' order."""
        return [(self.pieces[p.piece], p) for p in self.sheet.placements]
