"""A pattern is the same to the last figure whichever kernels numpy and its linear algebra take for a processor."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

SCRIPT = """
import hashlib, sys
from drafting.job import draft_job, finish_job
from tests.garments import brief
from tests.laws.jobs import job_of, with_changes

digest = hashlib.sha256()
job = with_changes(job_of(sys.argv[1]), [], brief("alto"))
garment = draft_job(job)
cut, _ = finish_job(job, garment)
paths = [line.path for piece in garment.pieces for line in piece.all_lines]
paths += [each.path for piece in cut for each in (*piece.outline, *piece.marks)]
for path in paths:
    digest.update(path.segments.tobytes())
print(digest.hexdigest())
"""

NEWER = "X86_V3 X86_V4 AVX512_ICL AVX512_SPR"
"""What numpy 2 may find of newer instructions on this kind of processor; a name that it doesn't know it passes over."""


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "knit-top"])
def test_kernels_make_no_difference(design: str) -> None:
    """Drawn under the kernels of an old processor, a newer one, and this one, and in numpy's plainest code: alike."""
    drawn = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT, design],
            env={**os.environ, "OPENBLAS_CORETYPE": kernels, "NPY_DISABLE_CPU_FEATURES": less},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for kernels, less in (("Nehalem", NEWER), ("Haswell", ""), ("", ""))
    }
    assert len(drawn) == 1


def test_no_setting_of_the_environment_shows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither a date for builds, even one that is none, nor what someone set for other programs that write PDF."""
    from reportlab import rl_config

    from drafting.output.pdf.document import Document

    def written() -> bytes:
        document = Document("A top", "A pattern")
        with document.page((210.0, 297.0), "1", "Page 1"):
            document.text("Front", 10.0, 10.0, 12.0)
        return document.bytes()

    plain = written()
    for epoch in ("86400", "yesterday"):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
        for name, value in (("pdfComments", 1), ("documentLang", "de"), ("invariant", 0)):
            monkeypatch.setattr(rl_config, name, value)
        assert written() == plain
        assert os.environ["SOURCE_DATE_EPOCH"] == epoch
