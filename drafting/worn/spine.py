"""The form's back between nape and waist, as round or as flat as the wearer's.

How much longer a tape is that follows the back than the waist lies below the nape tells how far it stands off the
straight line between them. As it is made, and with its neck moved ahead, the mesh's back is rounder than most people's.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from drafting.body import Body
from drafting.trade import TradeValue, trade_row
from drafting.worn.landmarks import NAPE, SHOULDER_POINT, SPINE
from drafting.worn.neck import ease_between
from drafting.worn.shape import Floats

ROUNDER = trade_row((0.0, 2.0), "times", "derived", "tried on the surveys' bodies")
"""So many times its own distance the back stands off the straight line from nape to waist, at least and at most."""
GOES_WITH_BACK = TradeValue(130.0, "mm", "derived", "half the depth of a chest")
"""Ahead of the spine, up to where the body goes with it."""
BACK_ENDS = trade_row((0.5, 0.9), "share", "derived", "what the arms hang from stays as it is")
"""Of the way out to the shoulder point, where the body begins to go with its back less, and where it doesn't."""
_HALVINGS: Final = 30


def bend_back(points: Floats, body: Body) -> Floats:
    """Return the body with its waist as far below the nape as the wearer's, and its back as long there."""
    nape = points[NAPE]
    waist = float(nape[1]) - (body["back_neck_point_height"] - body["waist_height"])
    spine = points[list(SPINE)]
    heights = np.linspace(waist, float(nape[1]), 2 * len(SPINE))
    run = np.interp(heights, spine[::-1, 1], spine[::-1, 2])
    straight = np.interp(heights, heights[[0, -1]], run[[0, -1]])
    share = _find_share(heights, straight, run - straight, body["back_neck_point_to_waist"])
    off = (share - 1.0) * np.interp(points[:, 1], heights, run - straight, left=0.0, right=0.0)
    ahead = points[:, 2] - np.interp(points[:, 1], heights, run)
    far = np.abs(points[:, 0]) / float(points[SHOULDER_POINT, 0])
    aside = (far - BACK_ENDS[0]) / (BACK_ENDS[1] - BACK_ENDS[0])
    out = points.copy()
    out[:, 2] += off * ease_between(1.0 - ahead / GOES_WITH_BACK) * ease_between(1.0 - aside)
    return out


def _find_share(heights: Floats, straight: Floats, off: Floats, asked: float) -> float:
    """How many times its distance from the straight line the back has to have, to be as long as it is asked for."""
    least, most = (float(share) for share in ROUNDER)
    for _ in range(_HALVINGS):
        share = (least + most) / 2.0
        long = float(np.hypot(np.diff(heights), np.diff(straight + share * off)).sum())
        least, most = (share, most) if long < asked else (least, share)
    return (least + most) / 2.0
