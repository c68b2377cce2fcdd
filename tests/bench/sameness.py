"""Whether the same tickets make the same bytes everywhere: ``python -m tests.bench.sameness [BODIES [PYTHON ...]]``.

The choir, and each design of the catalogue for so many surveyed bodies, are made and laid in a process for each setting
that this machine can take: the kernels of the linear algebra library, numpy's own instructions, those of the C
library's functions, seeds of hashes, places, times and locales. Every file is compared, byte by byte, with those of
this process's own Python as it stands. Further arguments are other Pythons with the project installed.
"""

from __future__ import annotations

import ctypes
import hashlib
import json
import math
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).parents[2]
ONE_AT_A_TIME = "--make"
MOST = 8
CORES = ("Prescott", "Nehalem", "Sandybridge", "Haswell", "Zen", "SkylakeX", "Sapphirerapids")
V4 = "AVX512F AVX512CD AVX512_SKX X86_V4 AVX512_CLX AVX512_CNL AVX512_ICL AVX512_SPR"
V3 = f"{V4} AVX2 FMA3 X86_V3"
GLIBC = ("-AVX2", "-FMA", "-AVX2,-FMA,-FMA4,-AVX512F", "-AVX,-AVX2,-FMA,-FMA4,-AVX512F,-SSE4_1")


@dataclass(frozen=True)
class Setting:
    """A process's surroundings, by a name that says which."""

    name: str
    there: Mapping[str, str] = field(default_factory=dict)
    python: str = sys.executable


def settings(others: list[str]) -> Iterator[Setting]:
    """The surroundings to be compared; the first is what others are compared with."""
    yield Setting("as it stands")
    yield from (Setting(f"OpenBLAS for {core}", {"OPENBLAS_CORETYPE": core}) for core in CORES)
    yield Setting("numpy without AVX-512", {"NPY_DISABLE_CPU_FEATURES": V4})
    yield Setting("numpy without AVX2 and FMA", {"NPY_DISABLE_CPU_FEATURES": V3})
    yield from (Setting(f"glibc with {less}", {"GLIBC_TUNABLES": f"glibc.cpu.hwcaps={less}"}) for less in GLIBC)
    yield Setting("oldest of all", {
        "OPENBLAS_CORETYPE": "Prescott", "NPY_DISABLE_CPU_FEATURES": V3,
        "GLIBC_TUNABLES": f"glibc.cpu.hwcaps={GLIBC[-1]}",
    })  # fmt: skip
    yield Setting("two threads", {"OPENBLAS_NUM_THREADS": "2"})
    yield from (Setting(f"hashes from {seed}", {"PYTHONHASHSEED": seed}) for seed in ("1", "4711"))
    yield Setting("elsewhere", {
        "TZ": "Pacific/Auckland", "LC_ALL": "tr_TR.UTF-8", "SOURCE_DATE_EPOCH": "1", "HOME": "/",
        "RL_invariant": "0", "RL_pageCompression": "0", "RL_pdfVersion": "1",
    })  # fmt: skip
    yield from (Setting(f"Python {python}", python=python) for python in others)


def write_tickets(folder: Path, bodies: int) -> None:
    """Write the choir's tickets and those of every design for some surveyed bodies, spaced over the surveys."""
    from output_examples.remake import KNITS, WOVEN, WOVENS
    from tests.body.people import GROUPS, people

    examples = ROOT / "output_examples"
    soprano = (examples / "soprano.toml").read_text(encoding="utf-8")
    cloths = soprano[soprano.index("[cloth]") :]
    for ticket in (examples / "soprano.toml", *(examples / "choir").glob("*.toml")):
        (folder / ticket.name).write_bytes(ticket.read_bytes())
    groups = [group for group in GROUPS if group.startswith("bodies_")]
    for number in range(bodies):
        group = groups[number % len(groups)]
        body = people(group)[(number * 97 + 31) % len(people(group))]
        keys = "".join(f"{name} = {told(name, value)}\n" for name, value in body.items())
        for design in (*KNITS, *WOVENS):
            rules = "women" if group.endswith("_women") else "men"
            wearer = f'[wearer]\nname = "{group}"\nrules = "{rules}"\n[wearer.body]\n{keys}'
            text = f'builds_on = "{design}"\nunit = "mm"\n{wearer}{WOVEN if design in WOVENS else cloths}'
            (folder / f"{design}-{number}.toml").write_text(text, encoding="utf-8")


def told(name: str, value: float) -> str:
    """A measurement as a ticket tells it: mm, degrees or kilograms."""
    from drafting.body import measurements

    unit = measurements()[name].unit
    return {"mm": repr(value), "rad": f'"{math.degrees(value)!r} deg"'}.get(unit, f'"{value!r} kg"')


def make_all(tickets: Path) -> None:
    """Make and lay every ticket of a folder in this process; print which kernels ran, and the digest of each file."""
    import contextlib
    import io

    from drafting.cli import main

    digests = {}
    with tempfile.TemporaryDirectory() as folder:
        for ticket in sorted(tickets.glob("*.toml")):
            out, said = Path(folder) / ticket.stem, io.StringIO()
            with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
                main(["make", str(ticket), "--out", str(out), "--anyway"])
                main(["lay", str(ticket), "--out", str(out / "cutting.pdf")])
                main(["prove", str(ticket), "--fitting"])
            words = said.getvalue().replace(folder, "").encode()
            digests[f"{ticket.stem}: what is said"] = hashlib.sha256(words).hexdigest()
            for file in sorted(out.glob("*")):
                digests[f"{ticket.stem}: {file.name}"] = hashlib.sha256(file.read_bytes()).hexdigest()
    print(json.dumps([kernels(), digests]))


def kernels() -> str:
    """What this process reckons with, asked of the libraries themselves, so that a setting that did nothing is seen."""
    import numpy

    found = sorted((Path(numpy.__file__).parents[1] / "numpy.libs").glob("libscipy_openblas*"))
    core = "unknown"
    if found:
        ask = ctypes.CDLL(str(found[0])).scipy_openblas_get_corename64_
        ask.restype = ctypes.c_char_p
        core = ask().decode()
    from numpy._core._multiarray_umath import __cpu_features__ as features  # numpy tells it nowhere else

    best = next((name for name in ("X86_V4", "X86_V3", "AVX2", "SSE42") if features.get(name)), "none")
    return f"Python {sys.version.split()[0]}, numpy {numpy.__version__}, OpenBLAS {core}, SIMD {best}"


def made(setting: Setting, tickets: Path) -> tuple[str, dict[str, str]]:
    """What a process in this setting reckoned with and made; each in a folder of its own."""
    there = {**os.environ, "PYTHONPATH": str(ROOT), **setting.there}
    with tempfile.TemporaryDirectory() as cwd:
        done = subprocess.run(
            [setting.python, "-m", "tests.bench.sameness", ONE_AT_A_TIME, str(tickets)],
            cwd=cwd, env=there, capture_output=True, text=True, check=True,
        )  # fmt: skip
    ran, digests = json.loads(done.stdout)
    return ran, digests


def main(words: list[str]) -> int:
    """Do what the words say; status 1 if anything differs."""
    if words[:1] == [ONE_AT_A_TIME]:
        make_all(Path(words[1]))
        return 0
    bodies, differing = int(words[0]) if words else 2, 0
    with tempfile.TemporaryDirectory() as folder:
        write_tickets(Path(folder), bodies)
        chosen = list(settings(words[1:]))
        with ThreadPoolExecutor(2) as pool:
            results = pool.map(lambda each: made(each, Path(folder)), chosen)
            _, first = ("", {})
            for setting, (ran, digests) in zip(chosen, results, strict=True):
                first = first or digests
                other = sorted(name for name in {*first, *digests} if first.get(name) != digests.get(name))
                differing += len(other)
                more = f" and {len(other) - MOST} more" if len(other) > MOST else ""
                found = f"{', '.join(other[:MOST]) or 'none'}{more}"
                print(f"{setting.name} ({ran}): {len(digests)} files, differing: {found}", flush=True)
    return 1 if differing else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
