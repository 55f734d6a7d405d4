#!/usr/bin/env python3
"""What can be done in this checkout. Needs nothing but Python 3.11 or newer; sets up what it needs in .venv by itself.

python3 tasks.py app      open the job book in a browser, with a sample job in it
python3 tasks.py demo     plan a demo chimney: papers and drawings into out/demo, a summary on the screen
python3 tasks.py test     style, types, import contracts, advisories and every test (what CI runs)
python3 tasks.py quick    the tests alone, no set-up of system packages
python3 tasks.py format   put the code into the house's format
python3 tasks.py bench    every benchmark into docs/bench (takes a while)
python3 tasks.py docs     make again what is made: schema, validation page, pictures
python3 tasks.py lock     pin the dependencies again
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

from tests.server import browser, postgres

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")


def run(*command: object, env: dict[str, str] | None = None) -> None:
    """Run a command in the checkout; stop with its code when it fails."""
    done = subprocess.run([str(c) for c in command], cwd=ROOT, env={**os.environ, **(env or {})}, check=False)
    if done.returncode:
        raise SystemExit(done.returncode)


def set_up(lock: str) -> None:
    """Make .venv hold just what ``lock`` pins, and the package itself; a stamp saves doing it twice."""
    if sys.version_info < (3, 11):  # noqa: UP036 (an older Python runs this file)
        raise SystemExit("Crownwright needs Python 3.11 or newer; this is " + sys.version.split()[0])
    wanted = hashlib.sha256((ROOT / lock).read_bytes() + (ROOT / "pyproject.toml").read_bytes()).hexdigest()
    stamp = VENV / f"stamp-{lock}"
    if stamp.exists() and stamp.read_text() == wanted:
        return
    print(f"Setting up .venv from {lock} (once) ...", flush=True)
    if not PYTHON.exists():
        venv.create(VENV, with_pip=True)
    pip = (PYTHON, "-m", "pip", "--disable-pip-version-check", "--quiet", "install")
    run(*pip, "--require-hashes", "-r", lock)
    run(*pip, "--no-deps", "-e", ".")
    stamp.write_text(wanted)


def demo() -> None:
    """Plan the demo chimney."""
    set_up("requirements.lock")
    run(PYTHON, "-m", "crownwright", "demo", "--into", "out/demo")


def app() -> None:
    """Open the book in a browser; it lies in out/, apart from any real one."""
    set_up("requirements.lock")
    (ROOT / "out").mkdir(exist_ok=True)
    run(PYTHON, "-m", "crownwright", "app", "--book", "out/jobs.book")


def quick() -> None:
    """Run the tests."""
    set_up("requirements-dev.lock")
    run(PYTHON, "-m", "pytest", "-n", "2")


def test() -> None:
    """Check style, types, import contracts and the pinned dependencies, then run every test."""
    set_up("requirements-dev.lock")
    run(BIN / "ruff", "check", ".")
    run(BIN / "ruff", "format", "--check", ".")
    run(BIN / "mypy")
    run(BIN / "lint-imports")
    run(PYTHON, "-m", "tests.audit", "requirements.lock", "requirements-dev.lock")
    with postgres() as server:
        run(PYTHON, "-m", "pytest", "-n", "2", env={**server, **browser()})


def format_code() -> None:
    """Put the code into the house's format."""
    set_up("requirements-dev.lock")
    run(BIN / "ruff", "check", "--fix", ".")
    run(BIN / "ruff", "format", ".")


def bench() -> None:
    """Run every benchmark and write its table."""
    set_up("requirements-dev.lock")
    for script in sorted((ROOT / "bench").glob("*.py")):
        if script.name != "__init__.py":
            run(PYTHON, "-m", f"bench.{script.stem}", "--write")


def docs() -> None:
    """Make again what is made from the code and the tests."""
    set_up("requirements-dev.lock")
    for script in sorted((ROOT / "docs").glob("make_*.py")):
        run(PYTHON, script)


def lock() -> None:
    """Pin the dependencies again (no host address in the files)."""
    set_up("requirements-dev.lock")
    for extra, name in (((), "requirements.lock"), (("--all-extras",), "requirements-dev.lock")):
        run(BIN / "uv", "pip", "compile", "pyproject.toml", *extra, "--universal", "--generate-hashes", "--no-header",
            "--no-annotate", "--no-emit-index-url", "-q", "-o", name)  # fmt: skip


TASKS = {
    "app": app,
    "demo": demo,
    "test": test,
    "quick": quick,
    "format": format_code,
    "bench": bench,
    "docs": docs,
    "lock": lock,
}


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1] not in TASKS:
        print(__doc__)
        raise SystemExit(0 if sys.argv[1:] in ([], ["--help"]) else 2)
    TASKS[sys.argv[1]]()
