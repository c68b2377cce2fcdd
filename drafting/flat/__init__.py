"""The flat: the finished garment as it is seen from in front and from behind, drawn from its own pieces."""

from drafting.flat.before import Outlines, lay_over, outline_views, without_earlier
from drafting.flat.draw import draw_flat
from drafting.flat.marking import find_lines, find_piece, find_seam, mark_flat
from drafting.flat.shapes import FlatKind, FlatShape, FlatView

__all__ = [
    "FlatKind",
    "FlatShape",
    "FlatView",
    "Outlines",
    "draw_flat",
    "find_lines",
    "find_piece",
    "find_seam",
    "lay_over",
    "mark_flat",
    "outline_views",
    "without_earlier",
]
