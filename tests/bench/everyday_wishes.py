"""What a maker asks of a design on an ordinary day: changes with the values that one writes, and what they may alter.

A wish also says what a garment must have for it: on a design that has nothing of the kind it makes no sense, and to
refuse it is right. Lengths are mm, shares are 0..1.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from random import Random
from typing import Any

from drafting.garment import Garment, Role, hanging_pieces
from drafting.garment.darts import darts_of
from tests.laws.strategies import Made

Values = Mapping[str, Any]
"""Options by name; a tuple holds the values of which one is drawn."""


@dataclass(frozen=True)
class Wish:
    """One thing that is asked: its changes with their values, what it needs, and which figures it may alter.

    A figure is altered rightly where its name or title holds one of the words of ``alters``.
    """

    kind: str
    changes: tuple[tuple[str, Values], ...]
    needs: tuple[str, ...] = ()
    alters: tuple[str, ...] = ()

    def draw(self, random: Random) -> tuple[Made, ...]:
        """The changes with one of each value."""
        return tuple(
            (name, {key: random.choice(value) if isinstance(value, tuple) else value for key, value in options.items()})
            for name, options in self.changes
        )


def _has_dart(name: str) -> Callable[[Garment], bool]:
    return lambda garment: any(dart.words.startswith(name) for piece in garment.pieces for dart in darts_of(piece))


def _has_role(role: Role) -> Callable[[Garment], bool]:
    return lambda garment: any(line.role is role for piece in garment.pieces for line in piece.ring)


NEEDS: Mapping[str, Callable[[Garment], bool]] = {
    "sleeves": _has_role(Role.CAP),
    "an armhole without a sleeve": lambda garment: not _has_role(Role.CAP)(garment),
    "a place for a closure": lambda garment: not garment.closures,
    "a bust dart": _has_dart("bust"),
    "a shoulder dart": _has_dart("shoulder"),
    "a waist dart": _has_dart("waist"),
    "a hem of its own": lambda garment: any(
        line.role is Role.HEM and line.fate.value == "hemmed"
        for piece in garment.pieces
        if piece.name not in hanging_pieces(garment)
        for line in piece.ring
    ),
    "side seams without vents": lambda garment: not any(fact.name.startswith("vent_") for fact in garment.facts),
    "an edge that no layer hangs over": lambda garment: not hanging_pieces(garment),
}
"""What a wish may need, and whether a garment has it: a wish that lacks it makes no sense there."""

UNDOES: Mapping[str, tuple[str, ...]] = {
    "sleeveless": ("sleeves",),
    "one sleeve": ("sleeves",),
    "closure": ("a place for a closure",),
}
"""What isn't there any more once a wish is granted, by its kind."""

NECK = ("neck", "centre front", "closure")
ARMHOLE = ("armhole", "across", "scye", "cap", "sleeve", "shoulder", "underarm")
LENGTHS = ("hem", "closure", "skirt")
FIT = ("back neck", "centre front", "side neck", "bust", "across", "dart", "level", "over bust")
SLEEVE = ("sleeve", "cap", "elbow", "wrist")
DARTS = ("dart",)
BUST = (*FIT, *ARMHOLE, *DARTS)
SIDES = ("both", "both", "left", "right")
"""Of a change to one side or both: mostly both."""


def _wishes() -> Iterator[Wish]:
    yield from _lengths()
    yield from _necks()
    yield from _shoulders()
    yield from _sleeves()
    yield from _hems()
    yield from _lines()
    yield from _darts()
    yield from _fitting()


def _one(kind: str, change: str, needs: tuple[str, ...] = (), alters: tuple[str, ...] = (), /, **values: Any) -> Wish:
    return Wish(kind, ((change, values),), needs, alters)


def _lengths() -> Iterator[Wish]:
    yield _one("longer", "lengthen", (), LENGTHS, by=(30.0, 50.0, 100.0))
    yield _one("shorter", "lengthen", (), LENGTHS, by=(-20.0, -40.0))
    yield _one("cropped", "lengthen", (), LENGTHS, by=(-80.0, -120.0))
    yield _one("to a length", "lengthen", (), LENGTHS, to=(600.0, 680.0, 950.0))
    yield _one("longer above", "lengthen", (), (*LENGTHS, *FIT), by=(15.0, 30.0), at="line")


def _necks() -> Iterator[Wish]:
    for shape in ("round", "scoop", "v", "square", "boat"):
        yield _one("another neckline", "neckline", (), NECK, front=shape)
    yield _one("another neckline", "neckline", (), NECK, front="v", front_depth=(90.0, 120.0), back=("round", "v"))
    yield _one("wider neck", "neckline", (), NECK, widen=(20.0, 40.0))
    yield _one("deeper neck", "neckline", (), NECK, front_depth=(60.0, 90.0, 120.0))
    yield _one("deeper back neck", "neckline", (), NECK, back_depth=(40.0, 80.0))
    yield _one("neck open on one side", "neckline", (), NECK, widen=50.0, side=("left", "right"))


def _shoulders() -> Iterator[Wish]:
    yield _one("narrower shoulder", "shoulder", (), ARMHOLE, narrow=(10.0, 20.0), side=SIDES)
    yield _one("wider shoulder", "shoulder", (), ARMHOLE, narrow=-10.0, side=SIDES)
    yield _one("higher underarm", "underarm", (), ARMHOLE, by=-10.0, side=SIDES)
    yield _one("lower underarm", "underarm", (), ARMHOLE, by=(10.0, 20.0, 30.0), side=SIDES)
    yield _one("armhole cut in", "cut-in-armhole", (), ARMHOLE, by=(5.0, 10.0), side=SIDES)


def _sleeves() -> Iterator[Wish]:
    sleeved = ("sleeves",)
    for name in ("short", "elbow", "bracelet", "long"):
        yield _one("sleeve by name", "sleeve-length", sleeved, SLEEVE, to=name)
    yield _one("longer sleeve", "sleeve-length", sleeved, SLEEVE, by=(20.0, 40.0), side=SIDES)
    yield _one("shorter sleeve", "sleeve-length", sleeved, SLEEVE, by=(-20.0, -50.0))
    yield _one("puffed cap", "sleeve-fullness", sleeved, SLEEVE, cap=(30.0, 60.0))
    yield _one("flared sleeve", "sleeve-fullness", sleeved, SLEEVE, hem=(40.0, 80.0), side=SIDES)
    yield _one("tapered sleeve", "sleeve-fullness", sleeved, SLEEVE, hem=(-15.0, -30.0))
    yield _one("wider sleeve", "sleeve-fullness", sleeved, SLEEVE, width=(15.0, 30.0))
    yield _one("sleeveless", "sleeveless", sleeved, (*ARMHOLE, *SLEEVE))
    yield _one("one sleeve", "sleeveless", sleeved, (*ARMHOLE, *SLEEVE), side=("left", "right"))
    yield _one("full upper arm", "full-upper-arm", sleeved, SLEEVE, by=(10.0, 20.0, 30.0))


def _hems() -> Iterator[Wish]:
    own, plain = ("a hem of its own",), ("a hem of its own", "side seams without vents")
    yield _one("flare", "flare", (), LENGTHS, by=(60.0, 100.0, 200.0, 400.0))
    yield _one("flare from the waist", "flare", (), LENGTHS, by=(100.0, 300.0), pivot="waist")
    yield _one("flare on one side", "flare", (), LENGTHS, by=100.0, side=("left", "right"))
    yield _one("curved hem", "hem", own, LENGTHS, shape="curved", rise=(30.0, 50.0, 80.0))
    yield _one("longer at the back", "hem", own, LENGTHS, longer_at_back=(30.0, 60.0))
    yield _one("higher on one side", "hem", own, LENGTHS, higher=("left", "right"), by=(40.0, 80.0))
    yield _one("vents", "vents", plain, ("closure",), height=(50.0, 80.0, 120.0), side=("both", "both", "left", "back"))
    yield _one(
        "closure",
        "closure",
        ("a place for a closure", "an edge that no layer hangs over"),
        ("closure",),
        place=("back", "left"),
        kind=("zip", "zip", "buttons"),
    )


def _lines() -> Iterator[Wish]:
    faces = ("both", "front", "back")
    for at in ("armhole 0.4", "armhole 0.5", "armhole 0.7"):
        yield _one("yoke", "style-line", start=at, end=at, on=faces, name="yoke")
    for at in ("side 0.3", "side 0.5"):
        yield _one("line across", "style-line", start=at, end=at, on=faces)
    yield _one("line aslant", "style-line", start=("side 0.2", "armhole 0.7"), end=("side 0.4", "side 0.6"), on=faces)
    yield _one("diagonal line", "style-line", start=("shoulder 0.5", "armhole 0.4"), end="side 0.4", on=faces)
    yield _one("line from the neck", "style-line", start="neckline 0.5", end="side 0.6", on="front")
    raglan = {"start": ("neckline 0.3", "neckline 0.6"), "end": "armhole 0.7", "start_side": "both"}
    yield Wish("lines from the neck", (("style-line", {**raglan, "end_side": "same", "on": faces}),))
    tops, hems = ("shoulder 0.5", "armhole 0.5"), ("hem 0.5", "hem 0.6")
    panels: Values = {"start": tops, "end": hems, "start_side": "both", "end_side": "same", "name": "panel"}
    yield Wish("panels", (("style-line", {**panels, "on": faces}),))
    yield _one("centre seam", "centre", (), (), on=("back", "front"))
    bare, gathered = ("an edge that no layer hangs over",), (*NECK, *LENGTHS, "across", "bust point")
    neck: Values = {"at": "neckline", "by": (40.0, 80.0), "on": faces[:2]}
    yield Wish("gathered neck", (("gathers", neck),), bare, gathered)
    fall = ("gathers", {"at": "yoke", "by": (40.0, 80.0), "way": ("through", "away")})
    for at in ("armhole 0.4", "armhole 0.6"):
        yoke = ("style-line", {"start": at, "end": at, "on": "front", "name": "yoke"})
        yield Wish("gathers below a yoke", (yoke, fall), (), (*LENGTHS, "across", "armhole", "bust point", "scye"))


def _darts() -> Iterator[Wish]:
    bust, places = ("a bust dart",), ("shoulder 0.5", "neckline 0.5", "armhole 0.4", "side 0.3", "waist 0.5")
    yield _one("dart moved", "move-dart", bust, (*BUST, *LENGTHS), to=places)
    yield _one("dart split", "split-dart", bust, (*BUST, *LENGTHS), to=("shoulder 0.5", "armhole 0.5", "neckline 0.5"))
    yield _one("dart gathered", "dart-to-gathers", bust, BUST)
    yield _one("shoulder dart eased", "dart-to-ease", ("a shoulder dart",), BUST)
    moved = ("move-dart", {"to": ("shoulder 0.5", "armhole 0.5")})
    seam = ("dart-to-seam", {"to": ("waist-front", "hem 0.5")})
    yield Wish("panel seam from the bust", (moved, seam), bust, BUST)


def _fitting() -> Iterator[Wish]:
    yield _one("full bust", "full-bust", (), BUST, by=(10.0, 20.0, 30.0))
    yield _one("small bust", "small-bust", ("a bust dart",), BUST, by=(6.0, 10.0))
    yield _one("broad back", "broad-back", (), BUST, by=(5.0, 10.0))
    yield _one("narrow back", "narrow-back", (), BUST, by=(4.0, 8.0))
    yield _one("forward shoulder", "forward-shoulder", (), (*ARMHOLE, *NECK, *FIT), by=(8.0, 12.0))
    yield _one("one low shoulder", "low-shoulder", (), (*ARMHOLE, *FIT), by=(8.0, 12.0), side=("left", "right"))
    yield _one("sloping shoulders", "sloping-shoulder", (), (*ARMHOLE, *FIT), by=(8.0, 12.0))
    yield _one("square shoulders", "square-shoulder", (), (*ARMHOLE, *FIT), by=(8.0, 12.0))
    yield _one("sway back", "sway-back", (), (*FIT, *LENGTHS), by=(10.0, 20.0))
    yield _one("high hip", "high-hip", (), (*FIT, *LENGTHS), by=(10.0, 15.0), side=("left", "right"))
    yield _one("long waist", "long-waist", (), (*FIT, *LENGTHS), by=(10.0, 20.0))
    yield _one("short waist", "short-waist", (), (*FIT, *LENGTHS), by=(10.0, 20.0))


WISHES = tuple(_wishes())
"""All of them; each is drawn as often as another."""
