"""What the terminal says of the pages is what the file holds."""

from __future__ import annotations

import re
from pathlib import Path

import pypdfium2
import pytest

from tests.cli.running import PLAIN, run


def test_the_pages_told_are_the_pages_of_the_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Start pages are counted as they are, not as one."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "alto.toml").write_text(PLAIN, encoding="utf-8")
    out = run(capsys, "make", "alto.toml", "--out", "made").out
    found = re.search(r"Pages: (\d+) on A4: (the start page|\d+ start pages) and (\d+) of pattern", out)
    assert found is not None
    file = pypdfium2.PdfDocument(tmp_path / "made" / "pattern.pdf")
    labels = [file.get_page_label(i) for i in range(len(file))]
    starts = sum(label.startswith("Start") for label in labels)
    assert int(found[1]) == len(labels)
    assert found[2] == ("the start page" if starts == 1 else f"{starts} start pages")
    assert int(found[3]) == len(labels) - starts
