"""The whole of make, stopped at any moment: the folder holds all of the old pattern, all of the new one, or none."""

from __future__ import annotations

import os
import shutil
import signal
import time
from pathlib import Path

import pytest

from drafting.folder import settle_folder
from tests.cli.running import PLAIN, run_alone, started

PATTERN = ("pattern.pdf", "sheet.pdf", "pattern.svg", "flat.svg", "booklet.pdf", "booklet.html", "proof.json")


def held(folder: Path) -> dict[str, bytes]:
    """Return the pattern's files in a folder."""
    return {name: (folder / name).read_bytes() for name in PATTERN if (folder / name).exists()}


@pytest.fixture(scope="module")
def drafts(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, float]:
    """A folder with a ticket, its first version's pattern in "old" and its own in "new"; and how long that took."""
    folder = tmp_path_factory.mktemp("drafts")
    (folder / "alto.toml").write_text(PLAIN, encoding="utf-8")
    assert run_alone("make", "alto.toml", "--out", "old", cwd=folder).status == 0
    (folder / "alto.toml").write_text(PLAIN.replace("bust_girth = 92", "bust_girth = 93"), encoding="utf-8")
    start = time.perf_counter()
    assert run_alone("make", "alto.toml", "--out", "new", cwd=folder).status == 0
    return folder, time.perf_counter() - start


@pytest.mark.skipif(os.name == "nt", reason="signals are another matter there")
@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP", "SIGKILL"])
def test_make_is_all_or_nothing(tmp_path: Path, drafts: tuple[Path, float], name: str) -> None:
    """Over an older pattern, at moments of the run; nothing hidden is left once the next command has come."""
    number, (folder, whole) = getattr(signal, name), drafts
    old, new = held(folder / "old"), held(folder / "new")
    assert len(old) == len(new) == len(PATTERN)
    assert old["pattern.pdf"] != new["pattern.pdf"]
    for share in (0.75, 0.95):
        shutil.copytree(folder / "old", tmp_path / f"{share}")
        words = ("-m", "drafting", "make", "alto.toml", "--out", str(tmp_path / f"{share}"))
        with started(*words, cwd=folder) as process:
            time.sleep(whole * share)
            process.send_signal(number)
            _, said = process.communicate(timeout=30)
        assert b"Traceback" not in said
        assert process.returncode in (0, 128 + number, -number)
        settle_folder(tmp_path / f"{share}", lambda _: None)
        assert held(tmp_path / f"{share}") in (old, new)
        assert {path.name for path in (tmp_path / f"{share}").iterdir()} == set(PATTERN)
