"""The designs of the catalogue as pictures: each drafted for one invented wearer and seen from in front."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from drafting.cli.terminal import Progress, print_note
from drafting.cli.work import LIST
from drafting.text import printable

if TYPE_CHECKING:
    from drafting.ticket import Catalogue

WIDE, HIGH = 60.0, 80.0
"""The room for a design's picture (mm)."""

_WEARER: Final = """
unit = "cm"
[wearer]
averages = "women"
[wearer.body]
stature = 166
bust_girth = 92
waist_girth = 74
hip_girth = 98
back_neck_point_to_waist = 40.5
"""
_JERSEY: Final = """
[cloth]
kind = "knit"
stretch_across = "30 %"
stretch_along = "15 %"
recovery = "95 %"
elastane = true
"""


def write_flats(catalogue: Catalogue, names: Sequence[str], folder: Path) -> tuple[str, ...]:
    """Write a picture of each design named into a folder, as an SVG file of its name; return the files' names.

    A design that can't be drafted for the wearer of the pictures is told of, and has none.
    """
    from drafting.folder import write_files

    progress = Progress()
    progress("drawing the designs")
    try:
        files = dict(_draw_designs(catalogue, names))
    finally:
        progress.clear()
    write_files(folder, files, print_note, LIST)
    return tuple(files)


def _draw_designs(catalogue: Catalogue, names: Sequence[str]) -> Iterator[tuple[str, bytes]]:
    from drafting.errors import DraftingError

    with tempfile.TemporaryDirectory() as place:
        for name in names:
            try:
                yield f"{name}.svg", _draw_design(catalogue, name, Path(place) / "ticket.toml")
            except DraftingError as error:
                print_note(f"no picture of {printable(name)}: {printable(str(error))}")


def _draw_design(catalogue: Catalogue, name: str, ticket: Path) -> bytes:
    from drafting.finishing.allowance import hem_depths
    from drafting.flat import draw_flat
    from drafting.job import draft_job
    from drafting.output import PrintInfo, flat_svg
    from drafting.seal import seal_file
    from drafting.ticket import read_job
    from drafting.ticket.reading import read_toml

    cloth = "" if "cloth" in read_toml(catalogue.design(name, "")) else _JERSEY
    ticket.write_text(f'builds_on = "{name}"{_WEARER}{cloth}', encoding="utf-8")
    job = read_job(ticket, catalogue)
    garment = draft_job(job)
    front, _ = draw_flat(garment, job.brief.body, hem_depths(garment, job.finish))
    drawn = flat_svg(PrintInfo(job.title, "", "", flat=(front,)), WIDE, HIGH)
    return seal_file(drawn.encode(), LIST, job.mark)
