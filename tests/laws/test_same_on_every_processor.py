"""A pattern is the same to the last figure whichever kernels the linear algebra library chooses for its processor."""

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


@pytest.mark.parametrize("design", ["diagonal-overlay-top", "knit-top"])
def test_kernels_make_no_difference(design: str) -> None:
    """Drawn under the kernels of an old processor, a newer one, and this one: every coordinate is the same."""
    drawn = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT, design],
            env={**os.environ, "OPENBLAS_CORETYPE": kernels},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for kernels in ("Nehalem", "Haswell", "")
    }
    assert len(drawn) == 1
