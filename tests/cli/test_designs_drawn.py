"""Each design of the catalogue can be had as a picture."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from tests.cli.running import run


def test_a_design_is_drawn_into_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """As an SVG file of its name, seen from in front; drawn again over its own file, but over no other's."""
    ran = run(capsys, "list", "designs", "knit-top", "--flats", str(tmp_path / "flats"))
    file = tmp_path / "flats" / "knit-top.svg"
    root = ET.fromstring(file.read_text(encoding="utf-8"))
    assert [each.get("class") for each in root.iter("{http://www.w3.org/2000/svg}g")] == ["flat front"]
    assert "knit-top.svg" in ran.out
    assert run(capsys, "list", "designs", "knit-top", "--flats", str(tmp_path / "flats")).status == 0
    file.write_text("mine", encoding="utf-8")
    assert run(capsys, "list", "designs", "knit-top", "--flats", str(tmp_path / "flats")).status == 2
    assert file.read_text(encoding="utf-8") == "mine"
