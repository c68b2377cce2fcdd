"""Make the outputs in this folder again: python output_examples/remake.py, with the environment's own Python."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
OVERLAYS = ("diagonal-overlay-top", "diagonal-overlay-tank", "diagonal-overlay-dress")
KNITS = ("basic-tee", "knit-top", "tank-top", *OVERLAYS, "half-circle-dress")
WOVENS = ("fitted-bodice", "waist-seam-dress", "sheath-dress", "princess-top")
WOVEN = '[cloth]\nname = "cotton sateen"\nkind = "woven"\nstretch_across = "2 %"\nwidth = "140 cm"\n'
BODY = """[wearer]
name = "Soprano"
averages = "women"
[wearer.body]
stature = 166
bust_girth = 92
waist_girth = 74
hip_girth = 98
back_neck_point_to_waist = 40.5
"""


def make(ticket: Path, out: Path) -> None:
    """Run the command on a ticket."""
    subprocess.check_call(
        [sys.executable, "-m", "drafting", "make", str(ticket), "--out", str(out)], stdout=subprocess.DEVNULL
    )


def plan(ticket: Path, out: Path) -> None:
    """Run the command that plans the cutting."""
    subprocess.check_call(
        [sys.executable, "-m", "drafting", "lay", str(ticket), "--out", str(out)], stdout=subprocess.DEVNULL
    )


def main() -> None:
    """Make the demo's files and a plain top's; of each singer's top and each design the pattern drawn, and the flat."""
    soprano = (HERE / "soprano.toml").read_text(encoding="utf-8")
    cloths = soprano[soprano.index("[cloth]") : soprano.index("[paper]")].replace('"cuffs"', '"shaped-cuff"')
    (HERE / "designs").mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder)
        for ticket in (HERE / "choir" / "alto.toml", HERE / "soprano.toml"):
            make(ticket, HERE / ticket.stem)
            plan(ticket, HERE / ticket.stem / "cutting.pdf")
        for ticket in sorted((HERE / "choir").glob("*.toml")):
            make(ticket, out / ticket.stem)
            shutil.copy(out / ticket.stem / "pattern.svg", ticket.with_suffix(".svg"))
            shutil.copy(out / ticket.stem / "flat.svg", ticket.with_name(f"{ticket.stem}-flat.svg"))
        for design in (*KNITS, *WOVENS):
            ticket = out / f"{design}.toml"
            text = f'title = "{design}"\nbuilds_on = "{design}"\nunit = "cm"\n{BODY}'
            ticket.write_text(text + (WOVEN if design in WOVENS else cloths), encoding="utf-8")
            make(ticket, out / design)
            shutil.copy(out / design / "pattern.svg", HERE / "designs" / f"{design}.svg")
            shutil.copy(out / design / "flat.svg", HERE / "designs" / f"{design}-flat.svg")


if __name__ == "__main__":
    main()
