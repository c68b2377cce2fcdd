"""A picture of a step on paper or screen: cloth as areas, right side light and wrong side toned, and lines over it.

What is drawn is cut off at the frame by the page that shows it; nothing here is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.geometry import are_inside
from drafting.output.layers import ClothLayer, NotchShown, StepView
from drafting.output.layers.view import Points
from drafting.output.pictures.flat import thin_courses
from drafting.output.pictures.lettering import PicturePlaces, name_layers, name_notches, sample_courses
from drafting.output.pictures.shapes import ClothArea, Course, Inked, Lettering, StepPicture
from drafting.output.pictures.told import tell_caption, tell_picture
from drafting.record import dataclass

FAN: Final = 2.2
"""By which each layer stands back from the one below it (mm of paper)."""

LIGHT, TONED, STRIP_LIGHT, TAPE, STIFF = 1.0, 0.8, 0.94, 0.45, 0.65
"""Greys (1 is white) of a right side, a wrong side, the right side of a strip, a tape, and interfacing."""

ROUND_ABOUT: Final = 0.45
"""Of a seam's own extent that is shown to each side of it."""

BESIDE_EDGES: Final = 0.2
"""Of it, where edges are shown side by side: what is looked at are these and the lines between."""

BESIDE_WHOLE: Final = 45.0
"""Of what lies beneath whole pieces that is shown to each side of them (mm)."""

RIM, WHOLE_RIM = 14.0, 30.0
"""Beyond all layers that is shown at most: more where pieces are seen whole, for the upper are fanned aside (mm)."""

LEAST_ROUND: Final = 70.0
"""Of a piece that is shown to each side of a seam at least (mm)."""

CLOSE_ROUND: Final = 26.0
"""Of a piece that is shown round a point that is enlarged (mm)."""

BLANK: Final = 5.0
"""Of such a picture that is left blank beyond all pieces at most (mm)."""

NARROWEST: Final = 24.0
"""Of a picture (mm of paper): the name of a notch finds room beside the edge."""

CLIP: Final = 0.8
"""Of the pen that draws a clip into an allowance (mm)."""

THIN, FOLDED, CENTRED = 0.2, (2.4, 0.7, 0.4, 0.7), (4.0, 1.0)
"""Of the pen that draws folds and centre lines (mm), and the dashes of either: a fold's are parted by dots."""

FITTING: Final = 0.4
"""Of the pen that draws hooks, buttons and buttonholes (mm)."""

ARROW: Final = 0.6
"""Of the pen that draws an arrow (mm)."""

HEAD: Final = 2.6
"""Length of an arrow's head (mm of paper)."""

STROKE, OVER_EDGE = 0.35, 1.5
"""Of the pen that draws a notch, and how far its stroke goes beyond the edge to either side (mm)."""

STROKES_APART: Final = 1.1
"""Between the two strokes of a notch (mm)."""

NEAR_SHARE: Final = 0.25
"""Of the way from a notch to the next, at most, that its strokes are apart."""

STOP: Final = 0.9
"""Half the width of the ring about a point at which stitching begins, stops or turns (mm)."""

EDGE: Final = 0.25
"""Of the pen that draws an edge (mm)."""


@dataclass(frozen=True, slots=True, eq=False)
class FramedView:
    """A view, and of what it shows the lower left corner and the extent: no more than the surroundings of its focus."""

    view: StepView
    low: Points
    across: Points

    def find_scale(self, wide: float, high: float) -> float:
        """Return how large (paper by cloth) it can be in a room (mm of paper)."""
        return float(min(wide / self.across[0], high / self.across[1]))

    def leave_blank(self, wide: float, high: float) -> StepPicture:
        """Return its picture in a room without anything in it: how large it is there."""
        width, height = (self.across * self.find_scale(wide, high)).tolist()
        top = self.low + self.across
        seen = tuple(
            layer
            for layer in self.view.layers
            if (layer.points.max(axis=0) > self.low).all() and (layer.points.min(axis=0) < top).all()
        )
        shown = replace(self.view, layers=seen)
        said = tell_caption(shown, self.low, self.across), tell_picture(shown)
        return StepPicture(self.view.title, max(width, NARROWEST), height, (), *said)


def frame_view(view: StepView) -> FramedView:
    """Return a view with what of it is shown."""
    low, top = _frame_of(view)
    return FramedView(view, low, top - low)


def set_picture(framed: FramedView, wide: float, high: float) -> StepPicture:
    """Return a view drawn as large as a room lets it be (mm of paper)."""
    scale, blank = framed.find_scale(wide, high), framed.leave_blank(wide, high)
    low = framed.low - np.array([(blank.width / scale - framed.across[0]) / 2.0, 0.0])
    return replace(blank, drawn=tuple(draw_view(framed.view, low, scale, (blank.width, blank.height))))


def _frame_of(view: StepView) -> tuple[Points, Points]:
    """The lower left and the upper right corner of what is shown."""
    every = np.concatenate([*(layer.points for layer in view.layers), *view.arrows])
    focus = every if view.focus is None else view.focus
    low, top = focus.min(axis=0), focus.max(axis=0)
    if view.close:
        return _leave_out_blank(view, low - CLOSE_ROUND, top + CLOSE_ROUND)
    beside = max(LEAST_ROUND, (BESIDE_EDGES if view.joins or view.folds else ROUND_ABOUT) * float((top - low).max()))
    margin = BESIDE_WHOLE if view.whole else beside
    beyond = WHOLE_RIM if view.whole else RIM
    return np.maximum(low - margin, every.min(axis=0) - beyond), np.minimum(top + margin, every.max(axis=0) + beyond)


def _leave_out_blank(view: StepView, low: Points, top: Points) -> tuple[Points, Points]:
    """A frame cut down to the edges that are seen in it, where all beyond them is blank."""
    rings = [np.concatenate([layer.points, layer.points[:1]]) for layer in view.layers]
    edges = sample_courses(rings)
    seen = edges[((edges >= low) & (edges <= top)).all(axis=1)]
    corners = np.array([low, top, (low[0], top[1]), (top[0], low[1])])
    filled = np.zeros(len(corners), dtype=bool)
    for ring in rings:
        filled |= are_inside(corners, ring)
    if not len(seen) or filled.all():
        return low, top
    least, most = seen.min(axis=0) - BLANK, seen.max(axis=0) + BLANK
    below, above, left, right = (bool(filled[list(pair)].any()) for pair in ((0, 3), (1, 2), (0, 2), (1, 3)))
    return (
        np.where((left, below), low, np.maximum(low, least)),
        np.where((right, above), top, np.minimum(top, most)),
    )


def draw_view(view: StepView, low: Points, scale: float, room: tuple[float, float]) -> Iterator[Inked]:
    """Yield what a view is drawn with, from its lower left corner and so large (paper by cloth), in a room (mm)."""
    fan = np.array(view.fan) * FAN

    def place(points: Points, shift: int = 0) -> Points:
        return (points - low) * scale + fan * shift

    outlines = thin_courses([place(layer.points, layer.shift) for layer in view.layers])
    for layer, points in zip(view.layers, outlines, strict=True):
        yield ClothArea(points, _grey(layer))
    top = max((layer.shift for layer in view.layers), default=0)
    joins = [Course(place(course, top), 0.15, 0.3, (0.6, 0.9)) for course in view.joins]
    joins += [Course(place(course, top), THIN, 0.0, FOLDED) for course in view.folds]
    joins += [Course(place(course, top), THIN, 0.0, CENTRED) for course in view.centres]
    joins += [Course(place(course, top), EDGE) for course in view.seams]
    yield from joins
    notches = [(notch, place(np.array([(notch.x, notch.y)]), notch.shift)[0]) for notch in view.notches]
    strokes = [Course(course, 0.55, 0.0, (1.8, 0.9)) for course in thin_courses([place(c, top) for c in view.stitched])]
    strokes += [Course(np.concatenate([place(c[:1], top), place(c[1:])]), CLIP) for c in view.clips]  # in all layers
    strokes += [Course(place(fitting, top), FITTING) for fitting in (*view.fittings, *view.holes)]
    arrows = [place(arrow, top) for arrow in view.arrows]
    strokes += [Course(arrow, ARROW) for arrow in arrows]
    strokes += [Course(place(way, top), ARROW, 0.0, (0.6, 1.0)) for way in view.hidden]
    ends = [place(np.array([n.upto[:2]]), n.upto[2])[0] if n.upto else at for n, at in notches]
    strokes += [
        tick
        for (notch, at), end in zip(notches, ends, strict=True)
        for tick in _ticks(notch, at, end, _find_apart(notch, at, notches))
    ]
    yield from strokes
    rings = [_ring(place(stop, top)) for stop in view.stops]
    yield from rings
    yield from (_head(arrow) for arrow in arrows)
    edges = sample_courses([np.concatenate([points, points[:1]]) for points in outlines])
    inked = [*(stroke.points for stroke in strokes), *(ring.points for ring in rings)]
    inked += [place(course, top) for course in (*view.folds, *view.centres)]
    reaches = [_stroke_of(notch, at, end) for (notch, at), end in zip(notches, ends, strict=True)]
    named = [(notch, reach) for (notch, _), reach in zip(notches, reaches, strict=True)]
    found = tuple(name_notches(named, PicturePlaces(room, sample_courses(inked), edges)))
    yield from found
    inked += [each.points for each in (*joins, *found) if isinstance(each, Course)]
    words = [each for each in found if isinstance(each, Lettering)]
    yield from name_layers(view.layers, outlines, PicturePlaces(room, sample_courses(inked), edges), words)


def _ring(at: Points) -> ClothArea:
    """A ring about a point."""
    around = np.linspace(0.0, 2.0 * np.pi, 17)[:-1]
    return ClothArea(at + STOP * np.stack([np.cos(around), np.sin(around)], axis=1), LIGHT)


def _head(arrow: Points) -> ClothArea:
    """The head of an arrow, at the end of its course."""
    way = arrow[-1] - arrow[-2]
    way = way / np.hypot(*way) * HEAD
    aside = np.array([-way[1], way[0]]) * 0.35
    return ClothArea(
        np.stack([arrow[-1] + way * 0.4, arrow[-1] - way * 0.6 + aside, arrow[-1] - way * 0.6 - aside]), 0.0
    )


def _grey(layer: ClothLayer) -> float:
    if layer.hatched or layer.stiff:
        return TAPE if layer.hatched else STIFF
    return TONED if layer.wrong else STRIP_LIGHT if layer.strip else LIGHT


def _find_apart(notch: NotchShown, at: Points, notches: Sequence[tuple[NotchShown, Points]]) -> float:
    """How far apart the strokes of a notch are (mm): less where another is so near that they would run together."""
    others = (float(np.hypot(*(other - at))) for each, other in notches if each.number != notch.number)
    return min([STROKES_APART, *(off * NEAR_SHARE for off in others)])


def _ticks(notch: NotchShown, at: Points, end: Points, apart: float) -> Iterator[Course]:
    """A notch as one short line across the edge, or two; across those of all layers, from the lowest to another."""
    stroke, along = _stroke_of(notch, at, end), np.array([-notch.out[1], notch.out[0]])
    for i in range(notch.count):
        yield Course(stroke + along * (i - (notch.count - 1) / 2.0) * apart, STROKE)


def _stroke_of(notch: NotchShown, at: Points, end: Points) -> Points:
    """The line of a notch over its layers, from its outer end."""
    out = np.array(notch.out) * OVER_EDGE
    return np.stack([at + out, end - out])
