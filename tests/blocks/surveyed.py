"""People of the surveys, a knit top drafted for each, and what is measured on its pieces."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from blocks.bodice import draft_knit_bodice
from blocks.bodice_half import open_neck
from drafting.body import Body, make_body
from drafting.cloth import Fit
from drafting.errors import DraftingError
from drafting.garment import Brief, Face, Garment, Measure, Role, Side, Use
from drafting.geometry import Path, bends_back, bumps, kinks, turn
from drafting.proof import prove
from tests.body.people import GROUPS, people, thinned
from tests.garments import JERSEY, RIB, TOP, build

WOMEN, TABLE, MEN, LATER = (
    "bodies_1988_women",
    "size_table_women_derived",
    "bodies_1988_men",
    "bodies_2012_women",
)
BOTH = (Side.LEFT, Side.RIGHT)
FACES = ("front", "back")

SAMPLES = (
    (WOMEN, Fit.SEMI, thinned(3)),
    (TABLE, Fit.SEMI, 1),
    (WOMEN, Fit.CLOSE, 16),
    (WOMEN, Fit.RELAXED, 16),
    (TABLE, Fit.CLOSE, 3),
    (TABLE, Fit.RELAXED, 3),
    (MEN, Fit.SEMI, thinned(16)),
    (MEN, Fit.CLOSE, thinned(24)),
    (MEN, Fit.RELAXED, 24),
    (LATER, Fit.SEMI, 16),
)
"""Which people, in which fit, and every how manieth of them."""

FAIR = 2
"""Of every so many people one has the fairness of the lines measured; the proof looks at everybody's."""


@dataclass(frozen=True, slots=True)
class Made:
    """A person's top: what the proof found, or why it was refused, and measures taken on the pieces (mm, rad)."""

    who: str
    fit: Fit
    body: Body
    refused: str
    errors: tuple[str, ...]
    warnings: tuple[str, ...]
    asked: Mapping[Measure, float]
    got: Mapping[str, float]


def person(group: str, row: int) -> Body:
    """The body of one row of a file, numbered from 1 as below its heading."""
    return make_body(f"{group}, row {row}", people(group)[row - 1], rules=GROUPS[group])


@cache
def made(group: str, fit: Fit, every: int) -> tuple[Made, ...]:
    """A full top for every so manieth person of a file."""
    count = len(people(group))
    rows = range(1, count + 1, every)
    return tuple(_made(person(group, row), fit, fairness=i % FAIR == 0) for i, row in enumerate(rows))


def everyone() -> Iterator[Made]:
    """All samples, one after another."""
    for group, fit, every in SAMPLES:
        yield from made(group, fit, every)


def drafted() -> list[Made]:
    """Those of all samples that weren't refused."""
    return [each for each in everyone() if not each.refused]


def _made(body: Body, fit: Fit, *, fairness: bool) -> Made:
    brief = Brief(body, JERSEY, fit, {"rib": RIB})
    try:
        garment = build(brief, TOP)
    except DraftingError as error:
        return Made(body.name, fit, body, str(error), (), (), {}, {})
    proof = prove(garment, brief)
    found = {grave: tuple(f.code for f in proof.findings if f.severity == grave) for grave in ("error", "warning")}
    asked = {aim.measure: aim.body + aim.ease for aim in garment.aims}
    got = measures(garment, body)
    got["lowered"] = next((fact.value for fact in garment.facts if fact.name == "front_lower"), 0.0)
    got.update(_fairness(garment) if fairness else ())
    return Made(body.name, fit, body, "", found["error"], found["warning"], asked, got)


def measures(garment: Garment, body: Body) -> dict[str, float]:
    """Measure the pieces with nothing but their lines: no level, no fact, no aim is read."""
    out: dict[str, float] = {}
    bust = _bust_height(garment, body)
    underarm = min(_line(garment, face, "armhole-left").bounds[1] for face in FACES)
    waist = -body["back_neck_point_to_waist"]
    front, back = (_line(garment, face, "side-left").bounds[1] for face in ("front", "back"))
    out["front-lower"] = back - front
    hem = [_line(garment, "front", f"hem-{side}") for side in BOTH]
    out["dropped-longer"] = sum(line.length - abs(line.end.x - line.start.x) for line in hem)
    for name, y in (
        ("bust", min(bust, underarm - 10.0)),
        ("waist", waist),
        ("hip", waist - body["waist_to_hip"]),
    ):
        lower = 0.0 if name == "bust" else out["front-lower"]
        front, back = _between(garment, "front", "side", y - lower), _between(garment, "back", "side", y)
        out[name], out[f"{name}-broader"] = front + back, front - back
    height = _line(garment, "back", "armhole-left")
    middle = (height.bounds[1] + height.bounds[3]) / 2.0
    out["across-back"] = _between(garment, "back", "armhole", middle)
    for face in FACES:
        shoulder = _line(garment, face, "shoulder-left")
        out[f"shoulder-{face}"] = shoulder.length
        way = shoulder.end - shoulder.start
        out[f"slope-{face}"] = math.atan2(abs(way.y), abs(way.x))
        out[f"side-{face}"] = _line(garment, face, "side-left").length
    out["scye-depth"] = -underarm
    out.update(_arms(garment, body))
    out.update(_angles(garment))
    return out


def _bust_height(garment: Garment, body: Body) -> float:
    """The bust points' height, as far from the side neck as measured; the neckline is opened by 25 mm from there."""
    shoulder = _line(garment, "front", "shoulder-left")
    inner, outer = sorted((shoulder.start, shoulder.end), key=lambda end: end.x)
    neck, out = inner + (inner - outer).unit * open_neck(body), body["bust_point_width"] / 2.0
    return neck.y - math.sqrt(body["side_neck_point_to_bust_point"] ** 2 - (out - neck.x) ** 2)


def _line(garment: Garment, piece: str, name: str) -> Path:
    return garment.piece(piece).line(name).path


def _between(garment: Garment, face: str, word: str, y: float) -> float:
    """The width of a piece between its two lines of one kind at a height."""
    ends = [path.at(path.cross_level(y)[0]).x for path in (_line(garment, face, f"{word}-{side}") for side in BOTH)]
    return max(ends) - min(ends)


def _arm_room(armhole: Path) -> float:
    """From an armhole's narrowest place across to the side, on either half."""
    return max(abs(armhole.bounds[0]), abs(armhole.bounds[2])) - min(abs(armhole.bounds[0]), abs(armhole.bounds[2]))


def _radius_at_underarm(armhole: Path) -> float:
    """How gently an armhole bends where it meets the side seam."""
    low = 0.0 if armhole.start.y < armhole.end.y else armhole.length
    return 1.0 / max(abs(armhole.curvature(low)), 1e-9)


def _arms(garment: Garment, body: Body) -> Iterator[tuple[str, float]]:
    for side in BOTH:
        arm = sum(_line(garment, face, f"armhole-{side}").length for face in FACES)
        sleeve = f"sleeve-{side}"
        caps = sum(_line(garment, sleeve, f"cap-{face}").length for face in FACES)
        under = [_line(garment, sleeve, f"underarm-{face}").length for face in FACES]
        height = _line(garment, sleeve, "cap-front").bounds
        yield f"armhole-{side}", arm
        front, back = (_line(garment, face, f"armhole-{side}") for face in FACES)
        yield f"back-longer-{side}", back.length - front.length
        yield f"underarm-radius-{side}", min(_radius_at_underarm(path) for path in (front, back))
        yield f"arm-room-{side}", _arm_room(front) + _arm_room(back) - body["upper_arm_girth"] / math.pi
        yield f"cap-ease-{side}", caps - arm
        yield f"underarm-{side}", under[0] - under[1]
        yield f"cap-height-{side}", height[3] - height[1]


def _angles(garment: Garment) -> Iterator[tuple[str, float]]:
    """How far (rad) the corners that must be right angles are off; at the neck, of front and back together."""
    right = math.pi / 2.0
    centre = shoulder = side = 0.0
    neck: dict[str, float] = {}
    for face in FACES:
        piece = garment.piece(face)
        for line in piece.ring:
            following = piece.after(line.name)
            angle = abs(turn(line.path.tangent(line.path.length), following.path.tangent(0.0)))
            pair = {line.role, following.role}
            if pair == {Role.NECKLINE}:
                centre = max(centre, angle)
            elif pair == {Role.ARMHOLE, Role.SHOULDER}:
                shoulder = max(shoulder, abs(angle - right))
            elif pair == {Role.ARMHOLE, Role.SIDE}:
                side = max(side, abs(angle - right))
            elif pair == {Role.NECKLINE, Role.SHOULDER}:
                neck[line.side] = neck.get(line.side, 0.0) + angle - right
    yield from {
        "neck-centre": centre,
        "arm-shoulder": shoulder,
        "arm-side": side,
        "neck-shoulder": max(map(abs, neck.values())),
    }.items()


def _fairness(garment: Garment) -> Iterator[tuple[str, float]]:
    """The most kinks, changes of side and bumps of any line of a role; one half, the other is its mirror image."""
    for role, pieces in (
        (Role.ARMHOLE, FACES),
        (Role.NECKLINE, FACES),
        (Role.CAP, ("sleeve-left",)),
        (Role.SIDE, FACES),
    ):
        paths = [ln.path for name in pieces for ln in garment.piece(name).lines(role=role, side=Side.LEFT)]
        yield f"kinks-{role}", float(max(len(kinks(path)) for path in paths))
        yield f"bends-{role}", float(max(bends_back(path) for path in paths))
        yield f"bumps-{role}", float(max(bumps(path) for path in paths))


def close_neck(body: Body, fit: Fit) -> float:
    """The neck seam (mm) of the bodice with its neckline at the neck base, front and back."""
    options = {"front_depth": 0.0, "back_depth": 0.0, "neck_widen": 0.0}
    garment = build(Brief(body, JERSEY, fit, {"rib": RIB}), [(draft_knit_bodice, options)])
    return garment.run_length(tuple(Use(face, f"neckline-{side}") for face in FACES for side in BOTH))


def shown(title: str, values: Mapping[str, object]) -> None:
    """Print figures in one line, for a run with ``-s``."""
    print(f"{title}: " + ", ".join(f"{name} {value}" for name, value in values.items()))


__all__ = ["BOTH", "Face", "Made", "close_neck", "drafted", "everyone", "made", "person", "shown"]
