"""Blocks, changes and designs that draft nothing: what tickets are read against in these tests."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from drafting.garment import Block, Brief, Change, Garment, Stage, option
from drafting.ticket import Catalogue
from tests.kinds import kind

WHOLE = """
title = "Test top"
[wearer]
name = "Alto"
[wearer.body]
stature = 168
bust_girth = 96
waist_girth = 80
hip_girth = 102
back_neck_point_to_waist = 41
[cloth]
stretch_across = "30 %"
[blocks.body]
block = "stub-body"
"""
"""A ticket with all that is needed and no more."""


@dataclass(frozen=True, slots=True)
class BodyOptions:
    """Options of the stub of a body, one of each kind."""

    drop: float = option("How deep the neck is.", "length", 30.0, low=0.0, high=200.0)
    shift: float = option("Which way the seam is moved.", "length", 0.0, low=-50.0, high=50.0)
    flare: float = option("How wide it grows.", "ratio", 0.0, low=0.0, high=0.5)
    slope: float = option("How the shoulder falls.", "angle", 0.3, low=0.1, high=0.6)
    tucks: int = option("How many tucks there are.", "count", 0, low=0, high=9)
    neck: str = option("The neck's shape.", "choice", "round", choices=("round", "vee"))
    lined: bool = option("Whether it is lined.", "flag", False)
    underarm_drop: float | None = option("How low the armhole lies; by rule.", "length", None, low=0.0, high=80.0)


@dataclass(frozen=True, slots=True)
class EdgeOptions:
    """Options of the stub of an edge."""

    depth: float = option("How deep it is.", "length", 40.0, low=10.0, high=100.0)

    def __post_init__(self) -> None:
        if self.depth == 77.0:
            raise ValueError("77 is refused")


def _nothing(garment: Garment, brief: Brief, options: object) -> Garment:
    return garment


BODY = Block(
    "stub-body",
    "A body that is none.",
    BodyOptions,
    Stage.BODY,
    _nothing,
    ("bust_girth", "wrist_girth"),
    (kind("side"), kind("neck")),
)
SLEEVE = Block("stub-sleeve", "A sleeve that is none.", EdgeOptions, Stage.SLEEVE, _nothing)
EDGE = Block("stub-edge", "An edge that is none.", EdgeOptions, Stage.EDGE, _nothing)
LENGTHEN = Change("stub-lengthen", "Makes nothing longer.", EdgeOptions, Stage.SHAPE, _nothing)
MIRROR = Change("stub-mirror", "Mirrors nothing.", EdgeOptions, Stage.WHOLE, _nothing)


def catalogue(**designs: Path) -> Catalogue:
    """Return a catalogue of the stubs and the designs given."""
    return Catalogue(
        blocks={"stub-body": lambda: BODY, "stub-sleeve": lambda: SLEEVE, "stub-edge": lambda: EDGE},
        changes={"stub-lengthen": lambda: LENGTHEN, "stub-mirror": lambda: MIRROR},
        designs={name.replace("_", "-"): file for name, file in designs.items()},
    )
