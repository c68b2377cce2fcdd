"""Start here: makes an environment of its own, installs Blockwright into it, and makes the demo or runs the tests.

    python3 run.py demo    the demo's pattern, an alto's top with a diagonal overlay, into the folder blockwright-out
    python3 run.py wear    installs what draping needs, and shows the demo's top worn, in the folder blockwright-worn
    python3 run.py test    every check: ruff, mypy and pytest

Any further words are handed on ("python3 run.py demo --paper 'US Letter'", "python3 run.py test tests/ticket").
"""

from __future__ import annotations

import hashlib
import importlib.util
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent
ENVIRONMENT = ROOT / ".venv"
OLDEST = (3, 11)


def main() -> int:
    """Do what the first word says, and return an exit status."""
    jobs = {"demo": demo, "wear": wear, "test": test}
    if len(sys.argv) < 2 or sys.argv[1] not in jobs:
        if sys.argv[1:] and not sys.argv[1].startswith("-"):
            print(f"run.py has no job “{sys.argv[1][:60]}”; it has {', '.join(jobs)}.\n", file=sys.stderr)
        print(__doc__)
        return 0 if sys.argv[1:2] in (["-h"], ["--help"]) else 2
    if sys.version_info < OLDEST:
        found = ".".join(map(str, sys.version_info[:3]))
        print(f"Blockwright needs Python {OLDEST[0]}.{OLDEST[1]} or newer; this is {found}. Run it with a newer one.")
        return 2
    try:
        return jobs[sys.argv[1]](sys.argv[2:])
    except KeyboardInterrupt:
        return 130
    except subprocess.CalledProcessError as error:
        print(
            f"\nStopped: a step of the installation failed with status {error.returncode}; what it said stands above."
        )
        return 1


def demo(more: list[str]) -> int:
    """Make the demo's pattern into ./blockwright-out."""
    install(extra="")
    return subprocess.call([python(), "-m", "drafting", "make", "--demo", *into("blockwright-out", more), *more])


def wear(more: list[str]) -> int:
    """Drape a ticket, the demo's if none is named. Its packages are large, so nothing else installs them."""
    install(extra="worn")
    asked = ["--demo"] if not more or more[0].startswith("-") else []
    return subprocess.call(
        [python(), "-m", "drafting", "wear", *asked, *(into("blockwright-worn", more) if asked else []), *more]
    )


def into(folder: str, more: list[str]) -> list[str]:
    """The words that name a folder, unless another is named already."""
    named = any(word == "--out" or word.startswith("--out=") for word in more)
    return [] if named else ["--out", folder]


def test(more: list[str]) -> int:
    """Run every check, tell which failed, and return 0 if none did. Pytest comes last: its count ends the output."""
    install(extra="test")
    shared = ["-n", "2", "--dist", "loadfile"]  # tests of a file share what they drafted, so one process takes them all
    checks = [
        ["ruff", "check", "."],
        ["ruff", "format", "--check", "."],
        ["mypy", "--strict"],
        ["pytest", *shared, *more],
    ]
    failed = []
    for check in checks:
        print(f"\n$ {' '.join(check)}", flush=True)
        if subprocess.call([python(), "-m", *check], cwd=ROOT):
            failed.append(" ".join(check))
    print("\nAll checks passed." if not failed else "\nFailed: " + "; ".join(failed))
    return 1 if failed else 0


def install(extra: str) -> None:
    """Make the environment and install the package into it, unless that was done for this very pyproject.toml."""
    stamp = ENVIRONMENT / f"installed-{extra or 'plain'}"
    wanted = hashlib.sha256((ROOT / "pyproject.toml").read_bytes()).hexdigest()
    if Path(python()).exists() and stamp.exists() and stamp.read_text() == wanted:
        return
    if not Path(python()).exists():
        make_environment()
    print("Installing Blockwright and what it needs into .venv (once; this takes a minute) ...", flush=True)
    what = f"{ROOT}[{extra}]" if extra else str(ROOT)
    subprocess.check_call(
        [python(), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--editable", what]
    )
    stamp.write_text(wanted)


def make_environment() -> None:
    """Make .venv; a plain sentence if this Python lacks the parts for it."""
    if not (importlib.util.find_spec("ensurepip") and importlib.util.find_spec("venv")):
        print("This Python can't make environments. On Debian and Ubuntu: sudo apt install python3-venv")
        raise SystemExit(2)
    import venv

    print("Making an environment in .venv ...", flush=True)
    venv.create(ENVIRONMENT, with_pip=True, clear=ENVIRONMENT.exists())


def python() -> str:
    """Return the environment's own Python."""
    return str(ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python"))


if __name__ == "__main__":
    raise SystemExit(main())
