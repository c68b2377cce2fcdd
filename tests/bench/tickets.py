"""Generated tickets, asked for one after another: each is proven, not proven or refused, in words that a maker reads.

    python -m tests.bench.tickets 1000              # the tickets 0 to 999, two at a time
    python -m tests.bench.tickets 1000 50000        # as many from 50000 on: a range can be taken up where another ended
    python -m tests.bench.tickets 1000 0 FOLDER     # each kind of finding is written there too, made small

A ticket is made of its number alone, so that one that was found can be made again.
"""

from __future__ import annotations

import re
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from drafting.garment.step import OptionInfo, Step, options_of
from drafting.ticket.keys import CLOTH_KEYS, FIT, PAPER_KEYS, STRIPE_KEYS, seam_keys
from tests.bench.asked import Answer, ask
from tests.body.people import GROUPS, people
from tests.laws.jobs import WEARER, catalogue
from tests.laws.strategies import TEXTS, WOVENS

Table = dict[str, Any]
Maker = Callable[[Random], str]

# Text that was once a ticket

_ODD = "\"'=[]{}#.,:;\\\t \n“”‘é½%-_0Aa\u2028\x00\u202e😀"
_SWAPS = (
    ("true", "True"),
    ("false", "no"),
    (".", ","),
    ('"', ""),
    ('"', "“"),
    ('"', "'"),
    (" =", ":"),
    ("=", "= ="),
    ("]", ""),
    ("[", "[["),
    ("cm", "inches"),
    (" %", ""),
    ("-", "_"),
    ("_", " "),
)


@cache
def _texts() -> tuple[str, ...]:
    """The text of every real ticket: those of the demos, and each design for an invented soprano."""
    found = [file.read_text(encoding="utf-8") for _, file in sorted(catalogue().demos.items())]
    return (*found, *(f'builds_on = "{name}"\nunit = "cm"\n{WEARER}' for name in sorted(catalogue().designs)))


def _mutate_text(random: Random) -> str:
    lines = random.choice(_texts()).splitlines()
    for _ in range(random.randint(1, 3)):
        random.choice(_MUTATIONS)(lines, random)
    return "\n".join(lines) + random.choice(("\n", ""))


def _insert(lines: list[str], random: Random) -> None:
    i = random.randrange(len(lines))
    at = random.randint(0, len(lines[i]))
    lines[i] = lines[i][:at] + random.choice(_ODD) + lines[i][at:]


def _delete(lines: list[str], random: Random) -> None:
    i = random.randrange(len(lines))
    at = random.randint(0, len(lines[i]))
    lines[i] = lines[i][:at] + lines[i][at + random.randint(1, 4) :]


def _swap(lines: list[str], random: Random) -> None:
    old, new = random.choice(_SWAPS)
    there = [i for i, line in enumerate(lines) if old in line]
    if there:
        i = random.choice(there)
        lines[i] = lines[i].replace(old, new, 1)


def _double(lines: list[str], random: Random) -> None:
    lines.insert(random.randint(0, len(lines)), random.choice(lines))


def _lose(lines: list[str], random: Random) -> None:
    if len(lines) > 1:
        lines.pop(random.randrange(len(lines)))


def _cut_off(lines: list[str], random: Random) -> None:
    del lines[random.randint(1, len(lines)) :]


def _exchange_values(lines: list[str], random: Random) -> None:
    there = [i for i, line in enumerate(lines) if " = " in line]
    if len(there) > 1:
        i, j = random.sample(there, 2)
        (a, x), (b, y) = (lines[k].split(" = ", 1) for k in (i, j))
        lines[i], lines[j] = f"{a} = {y}", f"{b} = {x}"


def _other_figure(lines: list[str], random: Random) -> None:
    there = [i for i, line in enumerate(lines) if re.search(r"= .*\d", line)]
    if there:
        i = random.choice(there)
        figure = random.choice(("0", "-1", "1e9", "nan", "inf", "0x10", "1_000", "36 1/2", "9" * 30, "0.0000001", "+5"))
        lines[i] = re.sub(r"\d+(\.\d+)?", figure, lines[i], count=1)


_MUTATIONS = (_insert, _delete, _swap, _double, _lose, _cut_off, _exchange_values, _other_figure)

# Tickets of what there is


def _figure(info: OptionInfo, random: Random) -> object:
    """A value for an option: at an end of its range, near its default, or anywhere."""
    if info.unit == "choice":
        return random.choice(info.choices)
    if info.unit == "flag":
        return random.random() < 0.5
    if info.unit == "text":
        return random.choice((str(info.default or ""), *TEXTS.get(info.name, ("panel", "A4", "bust"))))
    low, high = (0.0 if info.low is None else info.low), (100.0 if info.high is None else info.high)
    value = random.choice((low, high, random.uniform(low, high), low + 0.2 * random.random() * (high - low)))
    if info.unit == "count":
        return round(value)
    unit = {"length": "mm", "ratio": "%", "angle": "deg"}[info.unit]
    scale = {"length": 1.0, "ratio": 100.0, "angle": 57.29577951308232}[info.unit]
    # Rounded inwards, so that an end is still within its range.
    text = f"{value * scale:.1f}"
    return f"{float(text) + (0.1 if value == low else -0.1 if value == high else 0.0):.1f} {unit}"


def _some_options(infos: tuple[OptionInfo, ...], random: Random, share: float) -> Table:
    return {info.name: _figure(info, random) for info in infos if random.random() < share}


@cache
def _steps(kind: str) -> tuple[Step[object], ...]:
    names = sorted(catalogue().blocks if kind == "block" else catalogue().changes)
    return tuple(catalogue().block(name, "") if kind == "block" else catalogue().change(name, "") for name in names)


def _asked_step(kind: str, random: Random) -> Table:
    step = random.choice(_steps(kind))
    return {kind: step.name, **_some_options(options_of(step.options), random, random.choice((0.2, 0.5, 1.0)))}


def _someone(random: Random) -> tuple[str, Table]:
    """A surveyed body: whose rules, and some of its measurements."""
    group = random.choice(sorted(GROUPS))
    body = random.choice(people(group))
    needed = ("stature", "bust_girth", "waist_girth", "hip_girth", "back_neck_point_to_waist")
    share = random.choice((0.0, 0.5, 1.0))
    kept = [name for name in body if name in needed or random.random() < share]
    return GROUPS[group], {name: _measured(name, body[name]) for name in kept}


def _measured(name: str, value: float) -> object:
    unit = _measure_units().get(name, "mm")
    return f"{value * 57.29577951308232:.1f} deg" if unit == "rad" else value if unit == "kg" else round(value / 10, 1)


@cache
def _measure_units() -> dict[str, str]:
    from drafting.body import measurements

    return {name: each.unit for name, each in measurements().items()}


def _plan(random: Random) -> Table:
    """A ticket as tables: a design, or a few blocks; a body; cloths; changes; now and then the rest."""
    design = random.choice(sorted(catalogue().designs))
    rules, body = _someone(random)
    woven = design in WOVENS if random.random() < 0.9 else design not in WOVENS
    stretch = random.choice((0, 4, 10)) if woven else random.choice((15, 30, 60, 100))
    plan: Table = {
        "builds_on": design,
        "unit": "cm",
        "fit": random.choice(FIT.choices),
        "wearer": {"rules": rules, "body": body},
        "cloth": {"kind": "woven" if woven else "knit", "stretch_across": f"{stretch} %", "elastane": True},
        "blocks": {},
    }
    if random.random() < 0.1:
        del plan["builds_on"]
    if random.random() < 0.4 or "builds_on" not in plan:
        count = random.randint(1, 2 if "builds_on" in plan else 4)
        plan["blocks"] = {f"extra-{i}": _asked_step("block", random) for i in range(count)}
    plan["changes"] = [_asked_step("change", random) for _ in range(random.choice((0, 1, 1, 2, 3)))]
    if random.random() < 0.15:
        plan["paper"] = _some_options(PAPER_KEYS, random, 0.4)
        plan["seams"] = _some_options(seam_keys(catalogue().kinds()), random, 0.1)
        rib = {"stretch_across": "50 %", "cut": ["neck-band"], **_some_options(CLOTH_KEYS, random, 0.3)}
        plan["cloths"] = {"rib": rib}
        plan["cloth"] = {**plan["cloth"], "stripe": _some_options(STRIPE_KEYS, random, 0.7)}
    return plan


def _well_formed(random: Random) -> str:
    return write_ticket(_plan(random))


def _one_measured_wrong(random: Random) -> str:
    plan = _plan(random)
    body = plan["wearer"]["body"]
    for _ in range(random.choice((1, 1, 2))):
        name = random.choice([name for name, value in body.items() if isinstance(value, float)])
        body[name] = round(body[name] * (1.0 + random.choice((-1, 1)) * random.uniform(0.1, 0.5)), 1)
    plan["changes"] = plan["changes"] if random.random() < 0.3 else []
    return write_ticket(plan)


def _of_wrong_type(random: Random) -> str:
    plan = _plan(random)
    table, key = random.choice(list(_places(plan)))
    table[key] = random.choice(_WRONG)
    return write_ticket(plan)


_WRONG: tuple[object, ...] = (
    True, 0, -5, 1.5, "", "wide", "96", "5 parsecs", "1/0 in", [], [1, 2], {}, {"a": 1}, "nan",
    1e300, "é" * 70, "-3 cm",
    "12,5 cm", "200 %", "4 deg", "both", "shoulder 2", "shoulder -1", "hem 0", "1000000 cm",
)  # fmt: skip


def _misspelt(random: Random) -> str:
    plan = _plan(random)
    table, key = random.choice(list(_places(plan)))
    word = str(table[key]) if isinstance(table[key], str) and random.random() < 0.4 else key
    at = random.randrange(len(word) + 1)
    other = random.choice(
        (word[:at] + word[at + 1 :], word[:at] + "x" + word[at:], word.upper(), word[::-1], word + "s")
    )
    if word == key:
        table[other or "x"] = table.pop(key)
    else:
        table[key] = other
    return write_ticket(plan)


def _places(table: Table) -> Iterator[tuple[Table, str]]:
    for key, value in table.items():
        yield table, key
        for inner in value if isinstance(value, list) else [value]:
            if isinstance(inner, dict):
                yield from _places(inner)


def write_ticket(plan: Table) -> str:
    """Return the tables as TOML."""
    tables = {key: value for key, value in plan.items() if isinstance(value, dict)}
    lists = {key: value for key, value in plan.items() if isinstance(value, list) and _holds_tables(value)}
    plain = [f"{_key(key)} = {_toml(value)}" for key, value in plan.items() if key not in tables and key not in lists]
    lines = [*plain]
    for key, table in tables.items():
        lines += _write_table((key,), table)
    for key, each in ((key, each) for key, inner in lists.items() for each in inner):
        lines += [f"[[{_key(key)}]]", *(f"{_key(name)} = {_toml(value)}" for name, value in each.items())]
    return "\n".join(lines) + "\n"


def _holds_tables(value: list[object]) -> bool:
    return bool(value) and all(isinstance(each, dict) for each in value)


def _write_table(path: tuple[str, ...], table: Table) -> Iterator[str]:
    inner = {key: value for key, value in table.items() if isinstance(value, dict)}
    yield f"[{'.'.join(map(_key, path))}]"
    yield from (f"{_key(key)} = {_toml(value)}" for key, value in table.items() if key not in inner)
    for key, value in inner.items():
        yield from _write_table((*path, key), value)


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else f'"{key}"'


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_key(key)} = {_toml(inner)}" for key, inner in value.items()) + "}"
    return f'"{value}"' if isinstance(value, str) else repr(value)


MAKERS: tuple[tuple[str, Maker, int], ...] = (
    ("mutated text", _mutate_text, 40),
    ("well formed", _well_formed, 25),
    ("one measured wrong", _one_measured_wrong, 15),
    ("of a wrong type", _of_wrong_type, 10),
    ("misspelt", _misspelt, 10),
)
"""The kinds of tickets, how each is made, and its share in a hundred."""


def make_ticket(number: int) -> tuple[str, str]:
    """Return the kind and the text of the ticket of that number."""
    random = Random(number)
    ((kind, make),) = random.choices([each[:2] for each in MAKERS], [share for *_, share in MAKERS])
    return kind, make(random)


# Looking


def signature(answer: Answer) -> str:
    """What kind of finding it is: its first fault without its figures and names."""
    first = answer.wrong[0] if answer.wrong else ""
    return re.sub(r"\d+|“[^”]*”(?=:)|^[^:]*\.toml[^:]*: [^:]*", "…", first)[:90]


def make_small(text: str, answer: Answer) -> str:
    """Return the ticket with every line taken out that the finding stays without."""
    kind, lines = signature(answer), text.splitlines()
    i = len(lines) - 1
    while i >= 0:
        left = lines[:i] + lines[i + 1 :]
        if signature(ask("\n".join(left), proved=answer.status == 1)) == kind:
            lines = left
        i -= 1
    return "\n".join(lines) + "\n"


PROVED = 4
"""Of so many tickets one is proved; the others are drafted only."""


def look(number: int) -> tuple[int, str, Answer]:
    """Ask for one ticket."""
    kind, text = make_ticket(number)
    return number, kind, ask(text, proved=number % PROVED == 0)


def main(words: list[str]) -> int:
    """Ask for a range of tickets, tell each kind of finding once, and count; status 1 where anything was found."""
    count, first = int(words[0]), int(words[1]) if len(words) > 1 else 0
    folder = Path(words[2]) if len(words) > 2 else None
    asked, found, shown = Counter[tuple[str, int]](), Counter[str](), set[str]()
    began, slowest = time.monotonic(), 0.0
    with ProcessPoolExecutor(2) as pool:
        for done, (number, kind, answer) in enumerate(pool.map(look, range(first, first + count), chunksize=25), 1):
            asked[kind, answer.status] += 1
            slowest = max(slowest, answer.seconds)
            if answer.wrong:
                told = signature(answer)
                found[told] += 1
                if told not in shown:
                    shown.add(told)
                    _show(number, kind, answer, folder)
            if done % 1000 == 0:
                print(f"… {first + done}: {sum(found.values())} found, {time.monotonic() - began:.0f} s", flush=True)
    print(f"{count} tickets from {first} in {time.monotonic() - began:.0f} s, the slowest {slowest:.1f} s")
    for kind, *_ in MAKERS:
        print(f"  {kind}: " + ", ".join(f"status {s}: {n}" for (k, s), n in sorted(asked.items()) if k == kind))
    for told, n in found.most_common():
        print(f"  {n} x {told}")
    return 1 if found else 0


def _show(number: int, kind: str, answer: Answer, folder: Path | None) -> None:
    said = "\n    ".join(answer.said.splitlines()[:8])
    print(f"ticket {number} ({kind}), status {answer.status}: {'; '.join(answer.wrong[:4])}\n    {said}", flush=True)
    if folder is not None:
        folder.mkdir(parents=True, exist_ok=True)
        small = make_small(make_ticket(number)[1], answer)
        (folder / f"ticket-{number}.toml").write_text(
            f"# {answer.wrong[0]}\n{small}", encoding="utf-8", errors="replace"
        )


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
