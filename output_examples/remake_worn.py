"""Make the pictures of garments worn: python output_examples/remake_worn.py [DESIGN ...], with draping's extra."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import numpy as np
from remake import BODY, HERE, KNITS, WOVEN, WOVENS

from drafting.garment.model import MAIN_CLOTH
from drafting.job import draft_job
from drafting.ticket import find_catalogue, read_job
from drafting.worn import dress_body
from drafting.worn.form import make_form
from drafting.worn.picture import write_png
from drafting.worn.scenes import colour_cloth, paint_row
from drafting.worn.soundness import find_voids

SMALL = 340
"""Dots to a metre of height."""


def main(designs: list[str]) -> int:
    """Drape each design on the soprano of the examples and keep its four views; status 1 if a drape is void."""
    soprano = (HERE / "soprano.toml").read_text(encoding="utf-8")
    cloths = soprano[soprano.index("[cloth]") : soprano.index("[paper]")].replace('"cuffs"', '"shaped-cuff"')
    (HERE / "worn").mkdir(exist_ok=True)
    void = False
    with tempfile.TemporaryDirectory() as folder:
        for design in designs or (*KNITS, *WOVENS):
            ticket = Path(folder) / f"{design}.toml"
            text = f'builds_on = "{design}"\nunit = "cm"\n{BODY}'
            ticket.write_text(text + (WOVEN if design in WOVENS else cloths), encoding="utf-8")
            job = read_job(ticket, find_catalogue())
            named = {MAIN_CLOTH: job.brief.cloth, **job.brief.cloths}
            worn = dress_body(draft_job(job), job.brief.body, named)
            if find_voids(worn):
                print(f"{design}: void", flush=True)
                void = True
                continue
            plain = np.full(len(worn.points), -1.0)
            dots = paint_row(worn, make_form(worn), colour_cloth(worn, named), plain, SMALL)
            (HERE / "worn" / f"{design}.png").write_bytes(write_png(dots))
    return 1 if void else 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
