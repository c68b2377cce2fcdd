"""Make the pictures of garments worn: python output_examples/remake_worn.py [NAME ...], with draping's extra."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from remake import BODY, HERE, KNITS, WOVEN, WOVENS

from drafting.garment.model import MAIN_CLOTH
from drafting.job import draft_job, finish_job
from drafting.lay import place_stripes
from drafting.ticket import find_catalogue, read_job
from drafting.worn import dress_body
from drafting.worn.form import make_form
from drafting.worn.picture import write_png
from drafting.worn.scenes import Draped, paint_beside, paint_looks
from drafting.worn.soundness import find_voids

SMALL, SMALLER = 340, 280
"""Dots to a metre of height; of what is striped fewer, for it packs less well."""
STRIPE = 'stripe = { repeat = "3 cm", direction = "across" }\n'
BOTH = ("mezzo.toml", "mezzo-full-bust.toml")
"""One wearer's tickets in the folder of these pictures, before a change of fit and after it."""
BLUE = 'colour = "blue"\n'
STRIPED = ("diagonal-overlay-top", "diagonal-overlay-tank")


def list_tickets() -> Iterator[tuple[str, str]]:
    """Yield a name and a ticket for each design on the soprano of the examples; of two also striped and mirrored."""
    soprano = (HERE / "soprano.toml").read_text(encoding="utf-8")
    cloths = soprano[soprano.index("[cloth]") : soprano.index("[paper]")].replace('"cuffs"', '"shaped-cuff"')
    for design in (*KNITS, *WOVENS):
        cloth = WOVEN if design in WOVENS else cloths
        yield design, _tint(f'builds_on = "{design}"\nunit = "cm"\n{BODY}{cloth}')
    striped = cloths.replace("[cloth]\n", f"[cloth]\n{STRIPE}")
    for design in STRIPED:
        text = _tint(f'builds_on = "{design}"\nunit = "cm"\n{BODY}{striped}')
        yield f"{design}-striped", text
        yield f"{design}-striped-mirrored", text + '[[changes]]\nchange = "mirror"\n'


def _tint(ticket: str) -> str:
    """The ticket with a colour for its cloths; without one they are drawn grey."""
    return ticket.replace("[cloth]\n", f"[cloth]\n{BLUE}").replace("[cloths.rib]\n", f"[cloths.rib]\n{BLUE}")


def drape(ticket: Path) -> tuple[Draped, str]:
    """Drape the garment of a ticket; with what voids it, nothing if nothing does."""
    job = read_job(ticket, find_catalogue())
    garment = draft_job(job)
    cloths = {MAIN_CLOTH: job.brief.cloth, **job.brief.cloths}
    worn = dress_body(garment, job.brief.body, cloths)
    striped = place_stripes(garment, finish_job(job, garment)[0], job.brief) if job.brief.cloth.stripe else {}
    return Draped(worn, cloths, striped), "; ".join(str(words) for words in find_voids(worn))


def show_both() -> bool:
    """Keep one picture of a garment before a change and after it; tell whether a drape is void."""
    drapes = {}
    for name, ticket in zip(("before", "after"), BOTH, strict=True):
        drapes[name], void = drape(HERE / "worn" / ticket)
        if void:
            print(f"{ticket}: void, {void}", flush=True)
            return True
    (HERE / "worn" / "before-and-after.png").write_bytes(write_png(paint_beside(drapes, SMALL)))
    return False


def main(names: list[str]) -> int:
    """Drape each garment and keep its four views; status 1 if a drape is void."""
    (HERE / "worn").mkdir(exist_ok=True)
    void = False
    with tempfile.TemporaryDirectory() as folder:
        for name, text in list_tickets():
            if names and name not in names:
                continue
            ticket = Path(folder) / f"{name}.toml"
            ticket.write_text(text, encoding="utf-8")
            draped, told = drape(ticket)
            if told:
                print(f"{name}: void, {told}", flush=True)
                void = True
                continue
            worn, cloths, striped = draped.worn, draped.cloths, draped.striped
            dots = paint_looks(worn, make_form(worn), cloths, striped, SMALLER if striped else SMALL)
            (HERE / "worn" / f"{name}.png").write_bytes(write_png(dots))
    if not names or "before-and-after" in names:
        void |= show_both()
    return 1 if void else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
