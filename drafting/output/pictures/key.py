"""The key to the pictures of the steps: each tone, line and sign that they use, drawn as it is there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

import numpy as np

from drafting.output.layers import NotchShown, StepView
from drafting.output.layers.fastening import RING_POINTS
from drafting.output.layers.view import ClothLayer, Points
from drafting.output.pictures.shapes import StepPicture
from drafting.output.pictures.step import draw_view
from drafting.record import dataclass

WIDE, HIGH = 11.0, 4.4
"""Of a sample (mm of paper)."""

EDGE_AT: Final = 1.6
"""Above the lower edge of a sample, where it shows the edge of a piece (mm)."""

_FITTED: Final = 0.9
"""Half the width of a button in its sample (mm)."""


@dataclass(frozen=True, slots=True, eq=False)
class KeyEntry:
    """A sample of what is drawn, and what it means."""

    sample: StepPicture
    words: str


def list_key(views: Iterable[StepView]) -> tuple[KeyEntry, ...]:
    """Return the key to some pictures: of all that they use."""
    views = tuple(views)
    used = dict.fromkeys(name for view in views for name in _list_used(view))
    return tuple(KeyEntry(_sample(view), words) for name, view, words in _list_entries() if name in used)


def _list_used(view: StepView) -> Iterator[str]:
    """The names of what a picture uses."""
    yield from (_name_tone(layer) for layer in view.layers)
    rings = {len(each) == RING_POINTS for each in view.fittings}
    lists = {
        "edge": view.layers,
        "stitched": view.stitched,
        "stops": view.stops,
        "notches": [notch for notch in view.notches if notch.count],
        "snips": [notch for notch in view.notches if notch.count > 1],
        "clips": view.clips,
        "joins": view.joins,
        "folds": view.folds,
        "centres": view.centres,
        "arrows": view.arrows,
        "hidden": view.hidden,
        "buttons": rings == {True},
        "hooks": False in rings,
        "holes": view.holes,
        "cut": view.cut,
    }
    yield from (name for name, drawn in lists.items() if drawn)


def _name_tone(layer: ClothLayer) -> str:
    if layer.hatched or layer.stiff:
        return "stiff" if layer.stiff else "zip" if layer.zipped else "stay"
    return "wrong" if layer.wrong else "strip" if layer.strip else "right"


def _list_entries() -> Iterator[tuple[str, StepView, str]]:
    """What there is to be explained: its name, a sample, and what it means."""
    low, top, left, right = 0.6, HIGH - 0.6, 0.6, WIDE - 0.6
    box = np.array([(left, low), (right, low), (right, top), (left, top)])
    across = np.array([(left, HIGH / 2.0), (right, HIGH / 2.0)])
    ground = ClothLayer(np.array([(-1.0, -1.0), (WIDE + 1.0, -1.0), (WIDE + 1.0, HIGH + 1.0), (-1.0, HIGH + 1.0)]), "")
    beneath = ClothLayer(np.array([(-1.0, -1.0), (WIDE + 1.0, -1.0), (WIDE + 1.0, EDGE_AT), (-1.0, EDGE_AT)]), "")
    middle = across.mean(axis=0, keepdims=True)
    yield "right", StepView("", (ClothLayer(box, ""),)), "right side of the cloth"
    yield "wrong", StepView("", (ClothLayer(box, "", wrong=True),)), "wrong side of the cloth"
    yield (
        "strip",
        StepView("", (ClothLayer(box, "", strip=True),)),
        "right side of a band, a binding, a turned hem or the edges of a seam",
    )
    taped, stiff = (StepView("", (ClothLayer(box, "", hatched=not stiff, stiff=stiff),)) for stiff in (False, True))
    yield "stay", taped, "stay tape"
    yield "zip", taped, "the tape of a zip"
    yield "stiff", stiff, "interfacing"
    yield "cut", StepView("", (_cut_through(across),)), "cloth cut through, seen from its edge"
    yield "edge", StepView("", (ground,), seams=(across,)), "edge of cloth; within a piece a seam or dart that is sewn"
    yield "stitched", StepView("", (ground,), (across,)), "what you sew in this step, from raw edge to raw edge"
    yield (
        "stops",
        StepView("", (ground,), (np.stack([middle[0], across[1]]),), stops=(middle,)),
        ("there the stitching begins, stops or turns exactly"),
    )
    once, twice = (NotchShown(WIDE / 2.0 - 1.5, EDGE_AT, (0.0, 1.0), 7, count) for count in (1, 2))
    notched = StepView("", (beneath,), notches=(once,))
    yield "notches", notched, "notch with its number, over all layers that meet there"
    yield "snips", replace(notched, notches=(twice,)), "double notch: two snips"
    clip = np.array([(WIDE / 2.0, 0.2), (WIDE / 2.0, EDGE_AT)])
    yield "clips", StepView("", (beneath,), clips=(clip,)), "clip with the scissors, from the raw edge"
    yield "joins", StepView("", (ground,), joins=(across,)), "edges that are sewn to each other"
    yield "folds", StepView("", (ground,), folds=(across,)), "fold"
    yield "centres", StepView("", (ground,), centres=(across,)), "line on which two edges lie, buttoned"
    yield "arrows", StepView("", (ground,), arrows=(across - ((0.0, 0.0), (1.2, 0.0)),)), "the way that cloth is moved"
    yield "hidden", StepView("", (ground,), hidden=(across,)), "lies beneath other cloth"
    turns = np.linspace(0.0, 2.0 * np.pi, 13)
    button = middle + _FITTED * np.stack([np.cos(turns), np.sin(turns)], axis=1)
    yield "buttons", StepView("", (ground,), fittings=(button,)), "button"
    yield "holes", StepView("", (ground,), holes=(across * HOLE + middle * (1.0 - HOLE),)), "buttonhole"
    yield "hooks", StepView("", (ground,), fittings=tuple(middle + each for each in _bow())), "hook and eye"


HOLE: Final = 0.5
"""Of the width of a sample, that a buttonhole is long."""

_CUT_THICK: Final = 0.5
"""Half the thickness of a layer that is cut through, in its sample (mm)."""


def _cut_through(across: Points) -> ClothLayer:
    """A layer of cloth cut through."""
    up = np.array([(0.0, _CUT_THICK)])
    return ClothLayer(np.concatenate([across - up, (across + up)[::-1]]), "")


def _bow() -> Iterator[Points]:
    """The bows of a hook and its eye, about (0, 0)."""
    turns = np.linspace(-np.pi / 2.0, np.pi / 2.0, 9)
    bow = np.stack([np.cos(turns), np.sin(turns)], axis=1) * _FITTED
    yield np.concatenate([[(-2.0 * _FITTED, -_FITTED)], bow, [(-2.0 * _FITTED, _FITTED)]])
    yield np.concatenate([[(2.5 * _FITTED, _FITTED)], -bow * (1.0, 0.6) + (_FITTED, 0.0), [(2.5 * _FITTED, -_FITTED)]])


def _sample(view: StepView) -> StepPicture:
    return StepPicture("", WIDE, HIGH, tuple(draw_view(view, np.zeros(2), 1.0, (WIDE, HIGH))))
