"""The body behind a flat, laid flat as the garment is: half its girths wide, its levels where they are taken."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from drafting.body import Body
from drafting.flat.shapes import FlatKind, FlatShape, Points, sample_path
from drafting.geometry import Path, Point
from drafting.trade import TradeValue

ARM_HANGS = TradeValue(math.radians(16.0), "rad", "from memory")
"""The angle from upright at which the arms are drawn."""
HEAD_LONG = TradeValue(0.13, "share", "from memory")
"""Length of a head, as a share of the stature."""
NECK_SIXTH = TradeValue(1.0 / 6.0, "share", "published", 'Baldt, Clothing for Women (1916), "To Draft Shirt"')
"""Of the neck's girth that half its width is, where the shoulder begins."""
JAW_AT = TradeValue(0.8, "share", "derived", "by drawing")
"""Of a head's length, from its top, that the neck begins at behind the jaw."""
THIGHS, KNEES = TradeValue(0.92, "share", "from memory"), TradeValue(0.72, "share", "from memory")
"""Of the hip's width that both thighs and both knees together are."""


def draw_figure(body: Body, low: float) -> Iterator[FlatShape]:
    """Yield the outline of a body down to a height (mm, less than 0 below the nape): head, neck, trunk, arms, legs."""
    yield FlatShape(FlatKind.BODY, _draw_head(body))
    flank = _draw_flank(body)
    for way in (-1.0, 1.0):
        for course in (_draw_neck(body), flank[flank[:, 1] >= low], _draw_arm(body)):
            yield FlatShape(FlatKind.BODY, course * (way, 1.0))


def _find_neck(body: Body) -> Points:
    return np.array(
        [body["neck_base_girth"] * NECK_SIXTH, body["side_neck_point_height"] - body["back_neck_point_height"]]
    )


def _find_shoulder(body: Body) -> Points:
    slope, long = body["shoulder_slope"], body["shoulder_length"]
    return np.asarray(_find_neck(body) + long * np.array([math.cos(slope), -math.sin(slope)]))


def _draw_head(body: Body) -> Points:
    wide, high = body["head_girth"] / math.tau, body["stature"] * HEAD_LONG / 2.0
    middle = body["stature"] - body["back_neck_point_height"] - high
    turns = np.linspace(0.0, math.tau, 49)
    return np.stack([wide * np.sin(turns), middle + high * np.cos(turns)], axis=1)


def _draw_neck(body: Body) -> Points:
    """From beside the chin down the neck to the shoulder's end."""
    foot, end = _find_neck(body), _find_shoulder(body)
    head = body["stature"] * HEAD_LONG
    top = np.array([foot[0] * 0.8, body["stature"] - body["back_neck_point_height"] - head * JAW_AT])
    return np.array([top, (top + foot) / 2.0 - (foot[0] * 0.06, 0.0), foot, end])


def _draw_flank(body: Body) -> Points:
    """From the underarm down: half of each girth to both sides, at its level."""
    waist, nape = body["back_neck_point_to_waist"], body["back_neck_point_height"]
    hip, knee, armpit = waist + body["waist_to_hip"], nape - body["knee_height"], body["scye_depth_length"]
    quarter = body["hip_girth"] / 4.0
    rows = (
        (body["bust_girth"] / 4.0, armpit), (body["waist_girth"] / 4.0, waist), (quarter, hip),
        (quarter * THIGHS, (hip + knee) / 2.0), (quarter * KNEES, knee), (quarter * KNEES, nape),
    )  # fmt: skip
    return np.concatenate([_ease_between(one, two) for one, two in pairwise(rows)])


def _ease_between(one: tuple[float, float], two: tuple[float, float]) -> Points:
    """From one half width and depth to another, upright at both."""
    share = np.linspace(0.0, 1.0, 17)
    eased = share * share * (3.0 - 2.0 * share)
    return np.stack([one[0] + (two[0] - one[0]) * eased, -(one[1] + (two[1] - one[1]) * share)], axis=1)


def _draw_arm(body: Body) -> Points:
    """From the shoulder's end round the wrist to the armpit."""
    down = np.array([math.sin(ARM_HANGS), -math.cos(ARM_HANGS)])
    inwards = np.array([-math.cos(ARM_HANGS), -math.sin(ARM_HANGS)])
    end, armpit = _find_shoulder(body), np.array([body["bust_girth"] / 4.0, -body["scye_depth_length"]])
    wrist = end + down * body["straight_arm_length"]
    inner = wrist + inwards * body["wrist_girth"] / 2.0
    muscle = end + down * body["straight_arm_length"] * 0.25 - inwards * body["upper_arm_girth"] * 0.1
    outer = Path.cubic(*(Point(float(x), float(y)) for x, y in (end, muscle, wrist - down * 150.0, wrist)))
    return np.concatenate([sample_path(outer), [inner, armpit]])
