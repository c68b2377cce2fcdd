"""The table of fit: each figure of the garment against the body, with what a change means it to differ by, and limits.

The limits are the trade's, not what the drafts happen to give. Each figure is taken on the pieces.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafting.garment import Brief, Garment, Side, level_heights
from drafting.garment.armholes import ArmholeTaken, take_armhole
from drafting.garment.departures import sum_departures
from drafting.record import dataclass
from drafting.saying import Words, say
from drafting.trade import TradeValue

LEVEL_OFF = TradeValue(10.0, "mm", "common practice")
"""By which a level of the garment may miss the body's: what two tapings of one length differ by."""

ARM_QUARTER, ARM_REST = (
    TradeValue(0.25, "share", "published", "US patent 4,899,448, claim 1"),
    TradeValue(40.0, "mm", "published", "US patent 4,899,448, claim 1"),
)
"""Width of an armhole: a quarter of the arm's girth, and so much beyond."""


@dataclass(frozen=True, slots=True)
class FitRow:
    """One figure (mm): what the body asks for, what the garment has, and what changes mean it to differ by.

    ``least`` and ``most`` bound what it may differ by beyond that; None where there is no bound. ``place`` is a piece,
    a side or a face.
    """

    name: str
    place: str
    title: Words
    body: float
    garment: float
    meant: float = 0.0
    least: float | None = None
    most: float | None = None

    @property
    def off(self) -> float:
        """What the garment has beyond what the body asks and changes mean."""
        return self.garment - self.body - self.meant

    @property
    def bounds(self) -> tuple[float | None, float | None]:
        """The least and the most that it may be off by."""
        return self.least, self.most

    @property
    def beyond(self) -> float:
        """By how much a bound is passed: less than 0 below the least, more than 0 above the most, 0 within."""
        if self.least is not None and self.off < self.least:
            return self.off - self.least
        return self.off - self.most if self.most is not None and self.off > self.most else 0.0


def fit_rows(garment: Garment, brief: Brief) -> tuple[FitRow, ...]:
    """Return the rows of a garment: its levels below the nape, then each armhole's length, depth and width."""
    return (*_levels(garment, brief), *_armholes(garment, brief))


def _levels(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """The waist and the hip on each face, below the nape; of one that is bent, the height nearest to the body's."""
    waist = brief.body["back_neck_point_to_waist"]
    below = {"waist": waist, "hip": waist + brief.body["waist_to_hip"]}
    for (name, face), (low, high) in level_heights(garment).items():
        if name in below:
            by = sum_departures(garment, name, face.value)
            nearest = min(max(below[name] + by, -high), -low)
            title = say("{level} of the {face}, below the nape", level=name, face=face.value)
            yield FitRow("level", f"{name} of the {face.value}", title, below[name], nearest, by, -LEVEL_OFF, LEVEL_OFF)


def _armholes(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    for side in (Side.LEFT, Side.RIGHT):
        taken = take_armhole(garment, side)
        if taken is not None:
            yield from _armhole(taken, side, brief)


def _armhole(taken: ArmholeTaken, side: Side, brief: Brief) -> Iterator[FitRow]:
    body, place = brief.body, f"armhole-{side}"
    arm = body["upper_arm_girth"]
    width = arm * ARM_QUARTER + ARM_REST
    title = say("{side} armhole, width", side=side)
    yield FitRow("armhole.width", place, title, width, taken.width)
    yield FitRow(
        "armhole.depth",
        place,
        say("{side} armhole, depth from the nape", side=side),
        body["scye_depth_length"],
        taken.depth,
    )
    yield FitRow("armhole.length", place, say("{side} armhole, length", side=side), body["armscye_girth"], taken.length)
