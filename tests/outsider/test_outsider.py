"""A package of somebody else's brings a block with a seam kind of its own, a change and a check, and all serve it."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pypdfium2 as pdfium
import pytest

TICKET = """
title = "Frilled top"
builds_on = "basic-tee"
unit = "cm"

[wearer]
name = "Alto"
averages = "women"
[wearer.body]
stature = 172
bust_girth = 104
waist_girth = 88
hip_girth = 110
back_neck_point_to_waist = 42

[cloth]
stretch_across = "30 %"
elastane = true

[blocks.frill]
block = "frill"
fullness = "150 %"

[seams]
frill = "1.3 cm"
"""

CALMED = '\n[[changes]]\nchange = "calm-frill"\n'


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The package, copied out of the tree and installed into an empty folder."""
    folder = tmp_path_factory.mktemp("elsewhere")
    shutil.copytree(Path(__file__).with_name("package"), folder / "package")
    asked = ["install", "--quiet", "--no-index", "--no-deps", "--no-build-isolation", "--target", str(folder / "site")]
    subprocess.run([sys.executable, "-m", "pip", *asked, str(folder / "package")], check=True, cwd=folder)
    return folder


def run(site: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Blockwright with the package beside it, in a folder of its own."""
    paths = os.pathsep.join(filter(None, (str(site / "site"), os.environ.get("PYTHONPATH", ""))))
    return subprocess.run(
        [sys.executable, "-m", "drafting", *words], cwd=site, env={**os.environ, "PYTHONPATH": paths}, text=True,
        capture_output=True, check=False,
    )  # fmt: skip


def ticket(site: Path, name: str, text: str) -> str:
    """Write a ticket and return its name."""
    (site / name).write_text(text, encoding="utf-8")
    return name


def test_it_is_listed(site: Path) -> None:
    """The block with its options, the change, the check, and the allowance of its seam."""
    assert "gathered frill" in run(site, "list", "blocks").stdout
    assert "fullness" in run(site, "list", "blocks", "frill").stdout
    assert "calm-frill" in run(site, "list", "changes").stdout
    checks = " ".join(run(site, "list", "checks").stdout.split())
    assert "stands off the hem" in checks
    assert "round its lower edge" in checks
    assert "frill" in run(site, "list", "seams").stdout
    assert "stands off the hem in jersey" in " ".join(run(site, "list", "values", "frill").stdout.split())


def test_it_is_drafted_proved_printed_and_told_in_its_turn(site: Path) -> None:
    """Its allowance is the ticket's; it is sewn when the sides are; what its check finds is advised against by name."""
    made = run(site, "make", ticket(site, "frilled.toml", TICKET), "--out", "frilled")
    assert made.returncode == 0, made.stdout + made.stderr
    proof = json.loads((site / "frilled" / "proof.json").read_text(encoding="utf-8"))
    order = [step["seam"] for step in proof["order"]]
    assert order.index("frill") > max(order.index("side-left"), order.index("side-right"))
    assert order.index("frill") > order.index("frill-end")
    (found,) = (each for each in proof["findings"] if each["code"] == "frill.full")
    assert found["severity"] == "warning"
    assert 'add the change "calm-frill", fullness 100 % or less' in found["remedy"]
    assert any(piece["name"] == "frill" for piece in proof["pieces"])
    assert [row["figure"] for row in proof["fit"] if row["about"] == "Frill"] == ["frill_round"]
    assert "fit.frill_round" in {each["code"] for each in proof["findings"]}
    assert (site / "frilled" / "pattern.pdf").stat().st_size > 10_000
    assert "1.3 cm" in (site / "frilled" / "pattern.svg").read_text(encoding="utf-8")


def test_its_change_mends_what_its_check_found(site: Path) -> None:
    """Calmed, the frill is within what the check and the table of fit allow; its row is told among the engine's."""
    made = run(site, "make", ticket(site, "calmed.toml", TICKET + CALMED), "--out", "calmed")
    assert made.returncode == 0, made.stdout + made.stderr
    proof = json.loads((site / "calmed" / "proof.json").read_text(encoding="utf-8"))
    assert not [each for each in proof["findings"] if "frill" in each["code"]]
    assert "frill, round its lower" in run(site, "prove", "calmed.toml").stdout


def test_its_steps_are_told(site: Path) -> None:
    """In its own words in the booklet, after the sides and before the hem that it brings is turned."""
    made = run(site, "make", ticket(site, "told.toml", TICKET), "--out", "told")
    assert made.returncode == 0, made.stdout + made.stderr
    pages = pdfium.PdfDocument(site / "told" / "booklet.pdf")
    told = " ".join(" ".join(page.get_textpage().get_text_range() for page in pages).split())
    sides, frill, hem = (told.index(words) for words in ("Side and underarm", "Gather its upper edge", "Hem of"))
    assert sides < frill < hem


def test_a_misspelt_key_of_its_seam_is_told(site: Path) -> None:
    """The close match is the package's own kind."""
    bad = run(site, "prove", ticket(site, "bad.toml", TICKET.replace('frill = "1.3', 'fril = "1.3')))
    assert bad.returncode == 2
    assert "frill" in bad.stderr + bad.stdout
