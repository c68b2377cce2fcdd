"""The cutting plan as data, for other programs: for each cloth, every part's place and outline, in mm."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from drafting.lay.places import LaidPlace, find_flaws, find_places
from drafting.lay.spread import ClothSpread, Lay, Layers
from drafting.output.pictures.drawing import PrintInfo
from drafting.seal import SEAL_ROOM

STEP = 3
"""Of decimals to which lengths are told: a thousandth of a millimetre."""


def lay_json(lays: Sequence[Lay], info: PrintInfo) -> str:
    """Return the plan as a JSON text.

    x runs from the left selvedge, or the fold, to the right, y from the cut end on, right side up; an outline is a
    closed polygon.
    """
    document = {
        "made": SEAL_ROOM,
        "title": info.title,
        "wearer": info.wearer,
        "draft_mark": info.mark,
        "unit": "mm",
        "cloths": [_tell_cloth(lay) for lay in lays],
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def _tell_cloth(lay: Lay) -> dict[str, Any]:
    return {
        "cloth": lay.kind,
        "name": lay.cloth.name,
        "there_is": lay.cloth.length and round(lay.cloth.length, STEP),
        "length": round(lay.length, STEP),
        "buy": round(lay.buy, STEP),
        "stripes": [
            {
                "repeat": round(each.stripe.repeat, STEP),
                "direction": each.stripe.direction,
                "first": round(each.first, STEP),
            }
            for each in lay.stripes
        ],
        "spreads": [_tell_spread(spread, lay) for spread in lay.spreads],
        "too_wide": [part.piece.code for part in lay.too_wide],
    }


def _tell_spread(spread: ClothSpread, lay: Lay) -> dict[str, Any]:
    return {
        "width": round(spread.wide, STEP),
        "folded": spread.folded,
        "begins": round(spread.begins, STEP),
        "selvedge": round(spread.edge, STEP),
        "length": round(spread.length, STEP),
        "share_covered": round(spread.used, STEP),
        "flaws": [
            {"name": flaw.name, "left": x0, "end": y0, "width": x1 - x0, "length": y1 - y0}
            for flaw, (x0, y0, x1, y1) in zip(spread.flaws, find_flaws(spread), strict=True)
        ],
        "pieces": [_tell_place(place, spread.left) for place in find_places(spread, lay.across)],
    }


def _tell_place(place: LaidPlace, left: float) -> dict[str, Any]:
    part = place.laid.part
    return {
        "letter": part.piece.code,
        "garment": part.owner,
        "piece": part.name,
        "printed_side_down": part.over,
        "upside_down": place.laid.turned,
        "layers": 1 if place.laid.layers is Layers.SINGLE else 2,
        "on_fold": place.laid.layers is Layers.ON_FOLD,
        "from_selvedge": round(place.selvedge, STEP),
        "from_cut_end": round(place.end, STEP),
        "stripe_above_lowest": None if place.stripe is None else round(place.stripe, STEP),
        "outline": [[round(x + left, STEP), round(y, STEP)] for x, y in place.laid.ring.tolist()],
    }
