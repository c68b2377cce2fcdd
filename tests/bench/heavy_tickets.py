"""Tickets that ask for as much as a ticket may, drawn by a seed."""

from __future__ import annotations

import math
import random
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

from drafting.errors import InputError
from drafting.garment import Garment
from drafting.garment.step import OptionInfo, options_of
from drafting.ticket import Job, find_catalogue, read_job
from drafting.ticket.keys import CLOTH_KEYS, PAPER_KEYS, STRIPE_KEYS

CATALOGUE = find_catalogue()
BODY = {
    "stature": 1660.0,
    "bust_girth": 920.0,
    "waist_girth": 740.0,
    "hip_girth": 980.0,
    "back_neck_point_to_waist": 405.0,
}
WOVEN = ("fitted-bodice", "princess-top", "sheath-dress", "waist-seam-dress")
COMMANDS = (["make", "heavy.toml", "--anyway"], ["make", "heavy.toml"], ["prove", "heavy.toml"], ["lay", "heavy.toml"])
FITTING = ["prove", "heavy.toml", "--fitting", "--out", "heavy.pdf"]
COUNTS = (0, 1, 2, 4, 8, 20, 60, 120, 200)
"""How many changes are drawn; those that can be drafted are kept, so many at most:"""
MOST_ASKED = 50
BLOCKS = (0, 0, 1, 2, 4, 8)
FILE = "heavy.toml"
TITLES = ("Top", "W" * 200, "\u05d0\u05d1" * 90, "\u0639\u0631\u0628\u064a " * 30)
PLACES = ("shoulder 0.5", "neckline 0.6", "armhole 0.3", "side 0.2", "side 0.5", "hem 0.5", "side waist")
INWARDS = 1e-4


@dataclass(frozen=True)
class HeavyTicket:
    """A ticket's text, the command that reads it, and a word or two on what is heavy about it."""

    seed: int
    text: str
    command: list[str]
    words: str


def draw_ticket(seed: int) -> HeavyTicket:
    """Return the ticket of a seed; the same seed always draws the same."""
    chance = random.Random(seed)
    design = chance.choice(sorted(CATALOGUE.designs))
    large = chance.choice((0.78, 1.0, 1.0, 1.2, 1.35))
    count = chance.choice(COUNTS)
    command = chance.choice((*COMMANDS, COMMANDS[0], COMMANDS[3], FITTING))
    lines = [f'title = "{chance.choice(TITLES)}"', f'builds_on = "{design}"', 'unit = "mm"']
    lines += [f'fit = "{chance.choice(("close", "semi-fitted", "relaxed"))}"']
    lines += ["[wearer]", 'name = "Soprano"', "[wearer.body]"]
    lines += [f"{name} = {value * large}" for name, value in BODY.items()]
    lines += _cloth(chance, design)
    lines += [] if design in WOVEN else _trim(chance)
    lines += ["[paper]", *_paper(chance), "[seams]", *_seams(chance)]
    asked = [list(_block(chance, name)) for name in chance.sample(sorted(CATALOGUE.blocks), chance.choice(BLOCKS))]
    alike = chance.random() < 0.3
    names = [chance.choice(sorted(CATALOGUE.changes))] if alike else sorted(CATALOGUE.changes)
    asked += [list(_change(chance, chance.choice(names))) for _ in range(count)]
    taken = _sift(lines, asked, refused=chance.choice((0, 0, 0, 1)))
    words = f"{design} x {large}, {len(taken)} more{f' ({names[0]})' if alike and count else ''}, {command[0]}"
    return HeavyTicket(seed, _text(lines, taken), list(command), words)


def _text(lines: list[str], asked: list[list[str]]) -> str:
    return "\n".join([*lines, *(line for each in asked for line in each)]) + "\n"


def _sift(lines: list[str], asked: list[list[str]], refused: int) -> list[list[str]]:
    """Of blocks and changes, those that can be drafted one after another, and at the end so many that can't."""
    job = _read_all(lines, asked)
    if job is None:
        return asked[:MOST_ASKED]
    garment, taken, places = Garment(), list[list[str]](), dict(zip(_places(asked), asked, strict=True))
    for planned in job.steps:
        try:
            garment = planned.step.apply(garment, job.brief, planned.options)
        except Exception:  # whatever is raised: what a ticket makes of it is seen when its command is run
            refused -= 1
            if refused < 0:
                continue
        if planned.place in places and len(taken) < MOST_ASKED:
            taken.append(places[planned.place])
    return [each for each in asked if each in taken]  # blocks stand before changes


def _read_all(lines: list[str], asked: list[list[str]]) -> Job | None:
    """The job of all that is asked, however much; what can't be read is taken out of the list."""
    with TemporaryDirectory() as folder, patch("drafting.ticket.compose.MOST_STEPS", 1000):
        file = Path(folder) / FILE
        for _ in range(3):
            file.write_text(_text(lines, asked), encoding="utf-8")
            try:
                return read_job(file, CATALOGUE)
            except InputError as error:
                odd = {problem.where for problem in error.problems}
                asked[:] = [each for place, each in zip(_places(asked), asked, strict=True) if not _named(place, odd)]
    return None


def _places(asked: list[list[str]]) -> Iterator[str]:
    """Where each stands in the ticket, as it is named in messages."""
    number = 0
    for each in asked:
        if each[0] == "[[changes]]":
            number += 1
            yield f"{FILE}: changes[{number}]"
        else:
            yield f"{FILE}: {each[0][1:-1]}"


def _named(place: str, places: set[str]) -> bool:
    return any(each == place or each.startswith(f"{place}.") for each in places)


def _cloth(chance: random.Random, design: str) -> Iterator[str]:
    yield "[cloth]"
    if design in WOVEN:
        yield 'kind = "woven"'
    else:
        yield f"stretch_across = {chance.choice((0.3, 0.6, 1.0, 3.0))}"
        yield f"stretch_along = {chance.choice((0.0, 0.3, 3.0))}"
        yield "elastane = true"
    yield from _keys(chance, CLOTH_KEYS, ("width", "nap", "shrink_across", "shrink_along", "sides_alike"), 0.4)
    if chance.random() < 0.6:
        yield "[cloth.stripe]"
        repeat = chance.choice((1.0, 4.0, 10.0, 40.0, 100.0, 300.0, 640.0, 2000.0))
        yield f"repeat = {repeat}"
        yield from _keys(chance, STRIPE_KEYS, ("direction", "uneven"), 0.5)


def _trim(chance: random.Random) -> Iterator[str]:
    yield "[cloths.rib]"
    yield 'cut = ["neck-band", "shaped-cuff", "hem-band"]'
    yield f"stretch_across = {chance.choice((0.4, 0.8, 1.0))}"
    yield from _keys(chance, CLOTH_KEYS, ("width", "nap"), 0.3)


def _paper(chance: random.Random) -> Iterator[str]:
    size = chance.choice(("A4", "A4", "US Letter", "90 x 90", "73 x 73", "73 x 73", "5000 x 5000", "73 x 5000"))
    yield f'size = "{size}"'
    if size.startswith("73"):
        yield "margin = 0"
        yield from _keys(chance, PAPER_KEYS, ("gap",), 0.3)
    else:
        yield from _keys(chance, PAPER_KEYS, ("orientation", "square_10cm_across", "square_4in_along", "gap"), 0.3)


def _seams(chance: random.Random) -> Iterator[str]:
    if chance.random() < 0.4:
        yield f"all = {chance.choice((0, 3, 60))}"
    if chance.random() < 0.4:
        yield f"hem_depth = {chance.choice((0, 10, 150))}"
    if chance.random() < 0.4:
        yield f"on_fold = {chance.choice(('true', 'false'))}"


def _block(chance: random.Random, name: str) -> Iterator[str]:
    yield f"[blocks.{name}-heavy]"
    yield f'block = "{name}"'
    yield from _keys(chance, options_of(CATALOGUE.block(name, name).options), None, 0.4)


def _change(chance: random.Random, name: str) -> Iterator[str]:
    yield "[[changes]]"
    yield f'change = "{name}"'
    yield from _keys(chance, options_of(CATALOGUE.change(name, name).options), None, chance.choice((0.1, 0.5, 0.9)))


def _keys(
    chance: random.Random, infos: Iterable[OptionInfo], names: tuple[str, ...] | None, share: float
) -> Iterator[str]:
    for info in infos:
        if (names is None or info.name in names) and chance.random() < share:
            yield f"{info.name} = {_value(chance, info)}"


def _value(chance: random.Random, info: OptionInfo) -> str:
    if info.unit == "choice":
        return f'"{chance.choice([choice for choice in info.choices if choice])}"'
    if info.unit == "flag":
        return chance.choice(("true", "false"))
    if info.unit == "text":
        return f'"{chance.choice(PLACES)}"'
    low, high = info.low or 0.0, info.high if info.high is not None else 1000.0
    if info.unit == "count":
        return str(int(chance.choice((low, high, (low + high) / 2))))
    inside = (high - low) * INWARDS
    near = min(max(0.0, low), high)
    small = near + (high - near) * chance.random() ** 6  # small figures, of which many go together
    value = chance.choice((low + inside, high - inside, small, small, small))
    return f'"{math.degrees(value):.4f} deg"' if info.unit == "angle" else f"{value:.4f}"
