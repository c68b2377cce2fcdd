"""The whole of make, stopped at any moment: the folder holds all of the old pattern, all of the new one, or none."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

import pytest

from tests.cli.running import DEMO, run_alone, started

PATTERN = ("pattern.pdf", "sheet.pdf", "pattern.svg", "proof.json")


def held(folder: Path) -> dict[str, bytes]:
    """Return the pattern's files in a folder."""
    return {name: (folder / name).read_bytes() for name in PATTERN if (folder / name).exists()}


@pytest.mark.skipif(os.name == "nt", reason="signals are another matter there")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_make_is_all_or_nothing(tmp_path: Path, number: int) -> None:
    """Over an older pattern, at moments spread over the run."""
    (tmp_path / "alto.toml").write_text(DEMO, encoding="utf-8")
    assert run_alone("make", "alto.toml", "--out", "old", cwd=tmp_path).status == 0
    (tmp_path / "alto.toml").write_text(DEMO.replace("bust_girth = 92", "bust_girth = 93"), encoding="utf-8")
    start = time.perf_counter()
    assert run_alone("make", "alto.toml", "--out", "new", cwd=tmp_path).status == 0
    whole = time.perf_counter() - start
    old, new = held(tmp_path / "old"), held(tmp_path / "new")
    assert len(old) == len(new) == 4
    assert old["pattern.pdf"] != new["pattern.pdf"]
    for share in (0.6, 0.85, 0.95):
        with started("-m", "drafting", "make", "alto.toml", "--out", "old", cwd=tmp_path) as process:
            time.sleep(whole * share)
            process.send_signal(number)
            _, said = process.communicate(timeout=30)
        assert b"Traceback" not in said
        assert process.returncode in (0, 130, 143, -number)
        now = held(tmp_path / "old")
        assert number == signal.SIGKILL or now in (old, new)
        assert all(data in (old[name], new[name]) for name, data in now.items())
